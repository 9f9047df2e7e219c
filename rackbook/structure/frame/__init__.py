"""The rack as a frame in space: unit load cases solved once, superposed over all combinations."""

from .arrays import Actions, Base, Clips, Reactions, Splices
from .job import frame
from .members import FrameMember
from .result import Frame
from .sheet import sheets
from .shown import FromFrame, made_of, of_frame, shown
from .tables import extremes, reactions_csv

__all__ = [
    "Actions", "Base", "Clips", "Frame", "FrameMember", "FromFrame", "Reactions", "Splices", "extremes", "frame",
    "made_of", "of_frame", "reactions_csv", "sheets", "shown",
]  # fmt: skip

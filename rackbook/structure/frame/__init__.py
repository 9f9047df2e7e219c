"""The rack as a frame in space: unit load cases solved once, superposed over all combinations."""

from .arrays import Actions, Base, Clips, Reactions, Splices
from .job import frame
from .members import FrameMember
from .result import Frame
from .sheet import sheets
from .shown import of_frame, shown
from .tables import extremes, reactions_csv

__all__ = [
    "Actions", "Base", "Clips", "Frame", "FrameMember", "Reactions", "Splices", "extremes", "frame", "of_frame",
    "reactions_csv", "sheets", "shown",
]  # fmt: skip

"""The rack as a frame in space: unit load cases solved once, superposed over all combinations."""

from .job import frame
from .members import FrameMember
from .result import Actions, Base, Clips, Frame, Reactions, Splices

__all__ = ["Actions", "Base", "Clips", "Frame", "FrameMember", "Reactions", "Splices", "frame"]

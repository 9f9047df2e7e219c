"""Drawings from the same model as the calculations."""

from .catalog import DRAWINGS, Drawing, drawing_of
from .elevation import elevation

__all__ = ["DRAWINGS", "Drawing", "drawing_of", "elevation"]

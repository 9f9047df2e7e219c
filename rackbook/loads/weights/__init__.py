"""Weights: every part with its weight, center and source; total, center of gravity, and the weight the shop measured."""

from .rack import Weights, weights
from .sheet import sheets
from .steel import coating_weight, member_weight, plate_area, plate_weight, zinc_unit_weight
from .takeoff import Part
from .total import canopy_area, cg_coordinate, difference, effective_weight, snow_share, total

__all__ = [
    "Part", "Weights", "canopy_area", "cg_coordinate", "coating_weight", "difference", "effective_weight", "member_weight",
    "plate_area", "plate_weight", "sheets", "snow_share", "total", "weights", "zinc_unit_weight",
]  # fmt: skip

"""Loads on the rack: weights, wind, snow, ice, seismic."""

from . import ice, seismic, snow, weights, wind
from .acting import Acting, acting

__all__ = ["Acting", "acting", "ice", "seismic", "snow", "weights", "wind"]

"""Loads on the rack: weights, wind, snow, ice, seismic."""

from . import ice, seismic, snow, weights, wind

__all__ = ["ice", "seismic", "snow", "weights", "wind"]

"""Loads on the rack: weights, wind, seismic."""

from . import seismic, weights, wind

__all__ = ["seismic", "weights", "wind"]

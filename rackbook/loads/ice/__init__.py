"""Atmospheric ice and wind on ice: ASCE/SEI 7-16 and 7-22, Chapter 10."""

from .accretion import BarIce, Thickness, bar_ice, plate_ice, thickness
from .rack import Ice, ice
from .sheet import sheets
from .wind import iced, wind_on_ice

__all__ = ["BarIce", "Ice", "Thickness", "bar_ice", "ice", "iced", "plate_ice", "sheets", "thickness", "wind_on_ice"]

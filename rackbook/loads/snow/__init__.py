"""Snow on the canopy: ASCE/SEI 7-16 and 7-22, Chapter 7."""

from .flat import FlatRoof, exposure_factor, flat_roof, thermal_factor
from .rack import Snow, snow
from .sheet import sheets

__all__ = ["FlatRoof", "Snow", "exposure_factor", "flat_roof", "sheets", "snow", "thermal_factor"]

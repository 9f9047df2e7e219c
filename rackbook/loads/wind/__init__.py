"""Wind loads on other structures: ASCE/SEI 7-16 and 7-22, Chapters 26 and 29."""

from .coefficients import OpenFrame, open_coefficient, open_frame
from .force import Force, design_force
from .pressure import Topography, directionality, exposure_coefficient, ground_elevation, topography, velocity_pressure
from .rack import Direction, Wind, wind
from .sheet import sheets
from .solid import Cabinet, SolidSign, cabinet, solid_sign

__all__ = [
    "Cabinet", "Direction", "Force", "OpenFrame", "SolidSign", "Topography", "Wind", "cabinet", "design_force",
    "directionality", "exposure_coefficient", "ground_elevation", "open_coefficient", "open_frame", "sheets", "solid_sign",
    "topography", "velocity_pressure", "wind",
]  # fmt: skip

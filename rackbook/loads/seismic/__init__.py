"""Seismic loads by ASCE/SEI 7-22 and 7-16: ground motion, category, base shear, distribution, equipment forces."""

from .base_shear import BaseShear, base_shear
from .category import design_category, importance
from .component import ComponentForce, amplification, component_force_716, component_force_722, ductility
from .effects import Direction, horizontal_effect, orthogonal, overstrength_effect, vertical_effect
from .ground import Ground, mapped_motion, spectral_motion
from .items import Item, Items
from .period import period, stiffness_for
from .rack import Lateral, Seismic, seismic
from .sheet import sheets
from .system import System, Systems, redundancy, system, systems

__all__ = [
    "BaseShear", "ComponentForce", "Direction", "Ground", "Item", "Items", "Lateral", "Seismic", "System", "Systems",
    "amplification", "base_shear", "component_force_716", "component_force_722", "design_category", "ductility",
    "horizontal_effect", "importance", "mapped_motion", "orthogonal", "overstrength_effect", "period", "redundancy",
    "seismic", "sheets", "spectral_motion", "stiffness_for", "system", "systems",
    "vertical_effect",
]  # fmt: skip

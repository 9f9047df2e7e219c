"""Base plates by AISC Design Guide 1 and anchor rods by ACI 318-19, chapter 17."""

from .actions import Shear, Tension, shear, tension
from .bearing import Bearing, bearing
from .breakout import Breakout, breakout
from .interaction import Interaction, interaction
from .plan import Plan, plan
from .plate import Concentric, concentric
from .pullout import Blowout, Pullout, blowout, hooked, pullout
from .rack import Anchorage, anchorage
from .reinforcement import development_of, ties_in_shear
from .rods import Rod, rod
from .shear import Pryout, ShearBreakout, pryout, shear_breakout
from .sheet import sheets
from .upright import bars_in_tension

__all__ = [
    "Anchorage", "Bearing", "Blowout", "Breakout", "Concentric", "Interaction", "Plan", "Pryout", "Pullout", "Rod", "Shear",
    "ShearBreakout", "Tension", "anchorage", "bars_in_tension", "bearing", "blowout", "breakout", "concentric",
    "development_of", "hooked", "interaction", "plan", "pryout", "pullout", "rod", "shear", "shear_breakout", "sheets",
    "tension", "ties_in_shear",
]  # fmt: skip

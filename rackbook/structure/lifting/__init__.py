"""Lifting: slings, lugs and the rack's own steel as it hangs; transport on the truck, and standing before it is anchored."""

from .hung import Steel, Strengths
from .legs import Leg, Lift, lift
from .lug import LugStrength, hole_above_foot, lug_strength
from .modules import Hanging, hanging
from .picked import Lugs, Pull, lugs
from .rack import CAUTIONS, Lifting, lifting
from .sheet import sheets
from .slings import TwoLegs, four_legs, two_legs
from .transport import Envelope, Transport, envelope, transport

__all__ = [
    "CAUTIONS", "Envelope", "Hanging", "Leg", "Lift", "Lifting", "LugStrength", "Lugs", "Pull", "Steel", "Strengths",
    "Transport", "TwoLegs", "envelope", "four_legs", "hanging", "hole_above_foot", "lift", "lifting", "lug_strength", "lugs",
    "sheets", "transport", "two_legs",
]  # fmt: skip

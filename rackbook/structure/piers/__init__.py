"""Foundations: drilled piers as embedded poles, spread footings, and the concrete of both."""

from .actions import pier_actions
from .embedment import constrained_depth, couple_depth, nonconstrained_depth
from .interaction import state, strength
from .pressure import bearing
from .rack import Piers, piers
from .sheet import sheets
from .soil import ground

__all__ = [
    "Piers", "bearing", "constrained_depth", "couple_depth", "ground", "nonconstrained_depth", "pier_actions", "piers",
    "sheets", "state", "strength",
]  # fmt: skip

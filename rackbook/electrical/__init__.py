"""Conductors and raceways of the rack's circuits, NFPA 70 editions 2023 and 2020."""

from .circuits import Conductor, Conductors, conductors
from .conduits import Raceway, Raceways, raceways
from .sheet import sheets

__all__ = ["Conductor", "Conductors", "Raceway", "Raceways", "conductors", "raceways", "sheets"]

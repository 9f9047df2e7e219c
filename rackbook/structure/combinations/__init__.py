"""Load combinations of ASCE/SEI 7-16 and 7-22 over the unit load cases of a rack."""

from .job import Combinations, combinations_for
from .rows import Row, combined, row, rows
from .sets import CombinationSet, combinations
from .sheet import sheets

__all__ = ["CombinationSet", "Combinations", "Row", "combinations", "combinations_for", "combined", "row", "rows", "sheets"]

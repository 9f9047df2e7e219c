"""The one idea: a number is never alone. Values, formulas, checks, choices and the sheets derived from them."""

from .check import Check, check
from .choice import governing, largest, pick, smallest
from .errors import DomainError, InputError, LookupFailed, RackbookError, SheetError, SolveError, UnitError
from .formula import FORMULAS, Formula, formula
from .graph import in_order, recompute, touched
from .sheet import Grid, Heading, Picture, Remark, Sheet
from .value import Source, Step, Value, assume, given, word

__all__ = [
    "FORMULAS",
    "Check",
    "DomainError",
    "Formula",
    "Grid",
    "Heading",
    "InputError",
    "LookupFailed",
    "Picture",
    "RackbookError",
    "Remark",
    "Sheet",
    "SheetError",
    "SolveError",
    "Source",
    "Step",
    "UnitError",
    "Value",
    "assume",
    "check",
    "formula",
    "given",
    "governing",
    "in_order",
    "largest",
    "pick",
    "recompute",
    "smallest",
    "touched",
    "word",
]

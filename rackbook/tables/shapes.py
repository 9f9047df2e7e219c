"""Steel shapes by designation, whichever table holds them."""

from __future__ import annotations

from ..trace import LookupFailed
from ..trace.errors import nearest
from .read import table
from .table import Table

#: Tables of shapes; the first key of each is the designation.
SHAPES = ("hss", "channels", "angles", "wide_flanges", "pipes", "strut")


def section(designation: str) -> Table:
    """Return the table that holds a shape: ``section("HSS4X4X1/4").cell("HSS4X4X1/4", "weight")``.

    Raises:
        LookupFailed: No table holds it; the nearest designation is named.

    """
    for name in SHAPES:
        if table(name).has(designation):
            return table(name)
    known = [row[t.keys[0]] for t in map(table, SHAPES) for row in t.rows]
    raise LookupFailed(
        f"There is no shape '{designation}'.{nearest(designation, known)} Shapes are written as in the AISC Manual "
        f"(HSS4X4X1/4, C6X8.2, L3X3X1/4, W6X15, Pipe3STD) or as a row of the table strut; tables: {', '.join(SHAPES)}."
    )

"""Equal conductors in a raceway: the counts of Informative Annex C, from Chapter 9 Tables 1, 4 and 5 with Note 7."""

from __future__ import annotations

import functools

from ..trace import Source, Value, formula, given
from ..trace.maths import ceil, pi
from .raceway import conductor_area, fill_limit, raceway_cell, trade_sizes

NOTE_7 = Source(
    "clause", "NFPA 70", "2023", "Chapter 9 Table 1 Note 7: a decimal of 0.8 or more counts as one (same in 2020)", "read"
)


@formula(NOTE_7, A_f="in**2", q="", n_max="")
def equal_conductors(p_max, ID, A):
    """Return how many equal conductors a raceway holds, from its unrounded inside area."""
    A_f = p_max * pi / 4 * ID**2
    q = A_f / A
    n_max = -ceil(-q - 0.2)
    return n_max


def counts_equal(size: object, insulation: object, kind: object, nipple: bool = False) -> dict[str, Value]:
    """Return, for every trade size, how many equal conductors it holds: one row of Informative Annex C."""
    return {trade: count_equal(size, insulation, kind, trade, nipple) for trade in trade_sizes(str(kind))}


def count_equal(size: object, insulation: object, kind: object, trade_size: object, nipple: bool = False) -> Value:
    """Return how many equal conductors a raceway holds, with Note 7; reproduces Informative Annex C.

    Where the 40 percent of three and more gives fewer than three, the 31 percent of two and the 53 percent of one hold.
    """
    A, ID = conductor_area(size, insulation), raceway_cell(kind, trade_size, "ID")
    if nipple:
        return equal_conductors(p_max=fill_limit(_count(3), True), ID=ID, A=A)
    n = equal_conductors(p_max=fill_limit(_count(3)), ID=ID, A=A)
    for fewer in (2, 1):
        if n.magnitude <= fewer:
            n = equal_conductors(p_max=fill_limit(_count(fewer)), ID=ID, A=A)
            if n.magnitude > fewer:
                n = _count(fewer).named("n_max")
    return n


@functools.cache
def _count(n: int) -> Value:
    return given(n, "", Source("derivation", f"{n} conductors" + (" and more" if n == 3 else "")), "n")

"""Bars and ties of the piers: area, distance, cover, spacing, development; what does not depend on the load."""

from __future__ import annotations

from typing import Any

from rackbook.tables import table
from rackbook.trace import Check, Source, Value, assume, check, given

from ..concrete import aci, cage_radius
from .concrete import (
    COVER,
    bar_below,
    development_large,
    development_small,
    least_clear,
    least_steel,
    least_tie,
    most_steel,
    round_clear,
    square_clear,
    tie_spacing,
)
from .section import Section, gross

BAR = "A615 Gr 60"
GIVE_TIES = "Give piers.ties."


def bar_count(bars: Any) -> Value:
    """Return the count of the bars."""
    return given(int(bars.count), "", Source("input", "rack.yaml", "", "piers.bars.count"), "n")


def tie_diameter(piers: Any) -> Value:
    """Return the diameter of the ties, assumed where none are given."""
    if piers.ties is None:
        return assume(0.5, "in", "no ties are given: #4 taken for the place of the bars", "d_t")
    return table("rebar").cell(str(piers.ties.size), "d_b", "d_t")


def bar_checks(piers: Any, of: Section, A_st: Value) -> list[Check]:
    """Return the checks of bars, cover and ties that do not depend on the load."""
    rebar = table("rebar")
    d_b = rebar.cell(str(piers.bars.size), "d_b", "d_b")
    A_g = gross(of.shape, piers.diameter)
    whole = cage_radius(b=piers.diameter, c_c=piers.cover, d_t=tie_diameter(piers), d_b=d_b)
    clear = (round_clear if of.shape == "round" else square_clear)(R_s=whole, n=of.n, d_b=d_b)
    more, fewer = "More or larger bars.", "Fewer or smaller bars, or wider piers."
    checks = [
        check("Least area of bars in the piers", least_steel(A_g=A_g), A_st, aci("10.6.1.1 and 10.3.1.2"), remedy=more),
        check("Largest area of bars in the piers", A_st, most_steel(A_g=A_g), aci("10.6.1.1"), remedy=fewer),
        check("Clear distance of bars in the piers", least_clear(d_b=d_b), clear, aci("25.2.3"), remedy=fewer),
        check(
            "Concrete cover of the piers", COVER, piers.cover, aci("20.5.1.3.1"), remedy="Give piers.cover of 3 in. or more."
        ),
    ]
    if piers.ties is None:
        d_t = tie_diameter(piers)
        limit = tie_spacing(d_b=d_b, d_t=d_t, b=piers.diameter)
        return [*checks, check("Ties of the piers, spacing", limit, None, aci("25.7.2.1"), remedy=GIVE_TIES)]
    d_t = rebar.cell(str(piers.ties.size), "d_b", "d_t")
    least = least_tie(d_b, *(rebar.cell(size, "d_b", "d_b") for size in ("#3", "#4", "#10")))
    limit = tie_spacing(d_b=d_b, d_t=d_t, b=piers.diameter)
    return [
        *checks,
        check("Size of ties in the piers", least, d_t, aci("25.7.2.2"), remedy=f"Ties of {least.text()} or more."),
        check("Spacing of ties in the piers", piers.ties.spacing, limit, aci("25.7.2.1"), remedy="Closer ties."),
    ]


def development_check(piers: Any, D: Value, of: Section, z_M: Value) -> Check:
    """Return the length of the bars below the section of largest moment, at depth ``z_M``, against their development."""
    d_b = table("rebar").cell(str(piers.bars.size), "d_b", "d_b")
    small = d_b.m_as("in") <= 0.75
    l_d = (development_small if small else development_large)(f_y=of.f_y, f_c_prime=of.f_c_prime, d_b=d_b)
    l_a = bar_below(D=D, z_M=z_M, c_min=COVER)
    remedy = "Smaller bars, or deeper piers."
    return check("Bars of the piers below the largest moment", l_d, l_a, aci("25.4.2.3"), remedy=remedy)

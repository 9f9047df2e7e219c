"""Bars and ties of the piers: area, distance, cover, spacing, development; what does not depend on the load."""

from __future__ import annotations

from typing import Any

from rackbook.tables import table
from rackbook.trace import Check, Source, Value, assume, check, formula, given, pick
from rackbook.trace.maths import ceil, max

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
TOP = "Ties around the anchors within 5 in. of the pier's top"
TOP_REACH = given(5, "in", aci("10.7.6.1.5"), "h_top")
TOP_LARGE = given(2, "", aci("10.7.6.1.5: No. 4 or larger"), "n_top_min")
TOP_SMALL = given(3, "", aci("10.7.6.1.5: No. 3"), "n_top_min")
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
        check("Minimum area of bars in the piers", least_steel(A_g=A_g), A_st, aci("10.6.1.1 and 10.3.1.2"), remedy=more),
        check("Maximum area of bars in the piers", A_st, most_steel(A_g=A_g), aci("10.6.1.1"), remedy=fewer),
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


@formula(Source("derivation", "first tie at the cover, the others at their spacing"), n_top="")
def ties_at_top(h_top, c_c, d_t, s_t):
    """Return how many ties lie within 5 in. of the top of a pier."""
    n_top = max(0, ceil((h_top - c_c - d_t / 2) / s_t))
    return n_top


def top_ties(piers: Any) -> Value:
    """Return how many ties lie within 5 in. of a pier's top: as the job says, or by their spacing."""
    if piers.ties.top is not None:
        return given(int(piers.ties.top), "", Source("input", "rack.yaml", "", "piers.ties.top"), "n_top")
    return ties_at_top(h_top=TOP_REACH, c_c=piers.cover, d_t=tie_diameter(piers), s_t=piers.ties.spacing)


def top_ties_check(piers: Any) -> Check:
    """Return the ties around the anchors at the top of a pier: two No. 4 or three No. 3 at least; open without ties."""
    source, remedy = aci("10.7.6.1.5"), "Give piers.ties.top: two of #4 or larger, or three of #3."
    if piers.ties is None:
        return check(TOP, TOP_LARGE, None, source, remedy=GIVE_TIES)
    small = str(piers.ties.size) == "#3"
    least = pick(
        "n_top_min", {"#3": TOP_SMALL, "#4 or larger": TOP_LARGE}, "#3" if small else "#4 or larger", because="size of the ties"
    )
    provided = top_ties(piers)
    return check(TOP, least, provided if provided.magnitude > 0 else None, source, remedy=remedy)


def development_check(piers: Any, D: Value, of: Section, z_M: Value) -> Check:
    """Return the length of the bars below the section of largest moment, at depth ``z_M``, against their development.

    By Table 25.4.2.3; the anchorage counts the shorter length of 25.4.2.4, which knows cover and spacing.
    """
    d_b = table("rebar").cell(str(piers.bars.size), "d_b", "d_b")
    small = d_b.m_as("in") <= 0.75
    l_d = (development_small if small else development_large)(f_y=of.f_y, f_c_prime=of.f_c_prime, d_b=d_b)
    l_a = bar_below(D=D, z_M=z_M, c_min=COVER)
    remedy = "Smaller bars, or deeper piers."
    return check("Bars of the piers below the largest moment", l_d, l_a, aci("25.4.2.3"), remedy=remedy)

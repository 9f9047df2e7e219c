"""Tension and shear together, from the largest share used of each."""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import Value, formula, given, pick
from rackbook.trace.maths import sqrt

from ..concrete import aci

#: Below this share of one action the other is counted whole (17.8.1 and 17.8.2).
SMALL = 0.2
MOST = given(1.2, "", aci("17.8.3"), "r_max")
WHOLE = given(1.0, "", aci("17.8.1 and 17.8.2"), "r_max")
LINES, POWER = "trilinear interaction of 17.8", "powers of 5/3, R17.8"


@formula(aci("17.8.3"), r_NV="")
def interaction_sum(r_N, r_V):
    """Return the sum of the utilizations in tension and shear."""
    r_NV = r_N + r_V
    return r_NV


@formula(aci("R17.8"), r_53="")
def interaction_power(r_N, r_V):
    """Return the interaction of tension and shear with powers of 5/3."""
    r_53 = r_N ** (5 / 3) + r_V ** (5 / 3)
    return r_53


@formula(aci("17.8.1 to 17.8.3"), r_NV="")
def share_of_limit(r, r_max):
    """Return the utilization of the limit."""
    r_NV = r / r_max
    return r_NV


@formula(aci("17.7.2.1(d): shear at a corner checked for each edge; both at once by the root of the squares"), r_V="")
def both_edges(r_x, r_y):
    """Return the utilization of breakout under shear toward two edges."""
    r_V = sqrt(r_x**2 + r_y**2)
    return r_V


@dataclass(frozen=True, eq=False)
class Interaction:
    """Tension with shear.

    Attributes:
        r: What is judged: the sum of the shares, or the larger one where the other is 0.2 or less (or it alone uses more).
        r_max: Its limit, 1.2 or 1.0.
        used: r over its limit, trilinear; the powers of 5/3 beside it.
        power: The powers of 5/3, limit 1.0.

    """

    r: Value
    r_max: Value
    used: Value
    power: Value


def interaction(r_N: Value, r_V: Value) -> Interaction:
    """Return the interaction of the largest shares used in tension and in shear."""
    power = interaction_power(r_N=r_N, r_V=r_V)
    by = {"r_N": r_N, "r_V": r_V}
    more, less = ("r_N", "r_V") if r_N.magnitude >= r_V.magnitude else ("r_V", "r_N")
    both = interaction_sum(r_N=r_N, r_V=r_V)
    small = by[less].magnitude <= SMALL
    if small or both.magnitude / MOST.magnitude < by[more].magnitude:
        words = {"r_N": "tension alone", "r_V": "shear alone"}
        because = f"{less} is {SMALL} or less" if small else f"{more} alone governs"
        r, r_max = pick("r", {words[n]: by[n] for n in by}, words[more], because, by), WHOLE
    else:
        r, r_max = both, MOST
    used = pick(
        "r_NV", {LINES: share_of_limit(r=r, r_max=r_max), POWER: power}, LINES, "the rule itself; the powers are permitted"
    )
    return Interaction(r, r_max, used, power)

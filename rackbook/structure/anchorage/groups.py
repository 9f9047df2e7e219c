"""Strengths of the rods that one combination pulls together: few patterns, each worked once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.trace import Value, formula, given
from rackbook.trace.columns import entry

from ..concrete import cage_radius
from .breakout import NO_ECCENTRICITY, NO_SPACING, ONE, Breakout, breakout
from .clauses import derived
from .plan import Whole, gaps
from .pullout import Blowout, blowout
from .reinforcement import Development, bar_places, development_of, tie_diameter
from .upright import BarsInTension, bars_in_tension


@formula(derived("edge on the positive side of the rods pulled"), c_1="in")
def edge_ahead(c, s, x):
    """Return the distance of the foremost pulled rods from the edge ahead of them."""
    c_1 = c + s / 2 - x
    return c_1


@formula(derived("edge on the negative side of the rods pulled"), c_2="in")
def edge_behind(c, s, x):
    """Return the distance of the hindmost pulled rods from the edge behind them."""
    c_2 = c + s / 2 + x
    return c_2


@formula(derived("rods pulled, from the hindmost to the foremost"), s="in")
def extent(x_1, x_2):
    """Return the distance between the outer rods that are pulled."""
    s = x_1 - x_2
    return s


@formula(derived("pier above and below grade"), h_a="in")
def pier_height(d, e):
    """Return the height of the concrete along the rods."""
    h_a = d + e
    return h_a


@dataclass(frozen=True, eq=False)
class Concrete:
    """The concrete around the rods: strength, embedment, height, cover, bearing area, and the vertical bars where given."""

    f_c_prime: Value
    h_ef: Value
    h_a: Value
    c_c: Value
    A_brg: Value
    bars: Development | None
    bars_at: tuple[np.ndarray, np.ndarray]
    whole: bool


def concrete(job: Any, of: Whole, A_brg: Value, whole: bool) -> Concrete:
    """Return the concrete of a job's piers; bars must be developed ``whole`` in categories C and above."""
    piers = job.piers
    depth = piers.footing.depth if piers.footing is not None else piers.embedment
    h_a = pier_height(d=depth, e=piers.projection)
    bars, at = None, (np.zeros(0), np.zeros(0))
    if piers.bars is not None:
        bars = development_of(piers.bars, piers.ties, piers.concrete, piers.cover, of.D, of.pier_shape)
        r_b = cage_radius(b=of.D, c_c=piers.cover, d_t=tie_diameter(piers.ties), d_b=bars.d_b)
        at = bar_places(of.pier_shape, r_b.m_as("in"), int(piers.bars.count))
    return Concrete(piers.concrete, job.anchors.embedment, h_a, piers.cover, A_brg, bars, at, whole)


@dataclass(frozen=True, eq=False)
class Group:
    """The rods of one pattern.

    Attributes:
        pulled: Which rods of the plan.
        breakout: Their breakout, with the tension at their middle.
        bars: The bars that hold each of them instead, in the order of the plan; empty where none are given.

    """

    pulled: np.ndarray
    breakout: Breakout
    bars: tuple[BarsInTension, ...]

    @property
    def words(self) -> str:
        """The rods in words."""
        n, all_ = int(self.pulled.sum()), len(self.pulled)
        return f"all {n} rods" if n == all_ else f"{n} of {all_} rods"


@dataclass(frozen=True, eq=False)
class Span:
    """The pulled rods along one direction: edges ahead and behind, distance of the outer rods, gaps between rods."""

    c_1: Value
    c_2: Value
    s: Value
    g: Value


def span(pulled: np.ndarray, x: Value, s: Value, c: Value, marks: tuple[str, ...]) -> Span:
    """Return the pulled rods along one direction.

    Args:
        pulled: Which rods are pulled.
        x: Places of the rods in that direction, column.
        s: Distance between the outer rods of the plan.
        c: Distance of those from the edge.
        marks: Marks of the rods.

    """
    places = x.m_as("in")
    first = int(np.argmax(np.where(pulled, places, -np.inf)))
    last = int(np.argmin(np.where(pulled, places, np.inf)))
    half = s.m_as("in") / 2
    ahead = c if np.isclose(places[first], half) else edge_ahead(c=c, s=s, x=entry(x, first, marks[first]))
    behind = c if np.isclose(places[last], -half) else edge_behind(c=c, s=s, x=entry(x, last, marks[last]))
    between = gaps(places[pulled])
    if between == 0:
        return Span(ahead, behind, NO_SPACING, ONE)
    whole = ahead is c and behind is c
    apart = s if whole else extent(x_1=entry(x, first, marks[first]), x_2=entry(x, last, marks[last]))
    return Span(ahead, behind, apart, given(float(between), "", derived("gaps between the rods pulled"), "g"))


def group(pulled: np.ndarray, of: Whole, within: Concrete, e_x: Value = NO_ECCENTRICITY, e_y: Value = NO_ECCENTRICITY) -> Group:
    """Return the strengths of the pulled rods.

    Args:
        pulled: Which rods of the plan; one at least.
        of: Plan of the base.
        within: The concrete.
        e_x: Distance of the resultant from the rods' middle along x; none where it acts there.
        e_y: The same along y.

    """
    rods = of.rods
    along = span(pulled, rods.x, rods.s_x, rods.c_x, rods.marks)
    across = span(pulled, rods.y, rods.s_y, rods.c_y, rods.marks)
    x, y = rods.x.m_as("in"), rods.y.m_as("in")
    at = {(round(a, 6), round(b, 6)) for a, b in zip(x[pulled], y[pulled], strict=True)}
    outer = {(round(a, 6), round(b, 6)) for a in (min(x[pulled]), max(x[pulled])) for b in (min(y[pulled]), max(y[pulled]))}
    made = breakout(
        within.f_c_prime, within.h_ef, along.c_1, along.c_2, across.c_1, across.c_2,
        given(float(pulled.sum()), "", derived("rods pulled"), "n"), along.s, across.s, along.g, across.g, e_x, e_y,
        angle=along.s is not NO_SPACING and across.s is not NO_SPACING and not outer <= at,
    )  # fmt: skip
    bars: tuple[BarsInTension, ...] = ()
    if within.bars is not None:
        bars = bars_in_tension(
            within.bars, within.h_ef, within.h_a, within.c_c, within.bars_at, (x[pulled], y[pulled]), within.whole
        )
    return Group(pulled, made, bars)


def blowouts(of: Whole, within: Concrete) -> tuple[Blowout, Blowout]:
    """Return the side-face blowout of the side row (along x) and of the front or back row (along y)."""
    return (
        blowout(within.f_c_prime, within.A_brg, within.h_ef, of.rods.c_x, of.rods.c_y, of.rods.s_y),
        blowout(within.f_c_prime, within.A_brg, within.h_ef, of.rods.c_y, of.rods.c_x, of.rods.s_x),
    )

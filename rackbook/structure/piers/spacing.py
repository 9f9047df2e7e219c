"""How far the piers and footings of a rack stand from each other."""

from __future__ import annotations

import itertools
import math
from typing import Any

from rackbook.trace import Check, Source, Value, check, formula, given
from rackbook.trace.maths import abs, sqrt

from .size import Pier
from .soil import ibc

_GEOMETRY = Source("derivation", "geometry: bodies of concrete do not overlap")
#: Piers nearer than so many widths along the load share their lateral soil.
GROUP = given(8.0, "", ibc("1810.2.5: group effect on lateral behavior"), "n_b")
_GROUPED = ibc("1810.2.5")
GIVE_GROUP = (
    "Give site.soil.group: the share of the lateral resistance that a pier in the line keeps, by the report or the engineer's "
    "judgment (1 where none is lost); or set the piers further apart."
)
WHOLE = given(1.0, "", Source("derivation", "no pier stands nearer than 8 widths along this direction"), "k_g")


@formula(_GROUPED, s_g="ft")
def group_reach(n_b, b):
    """Return the pier spacing along the load at which there is no lateral group effect."""
    s_g = n_b * b
    return s_g


@formula(_GEOMETRY, s_p="ft")
def distance(x_1, x_2, y_1, y_2):
    """Return the base spacing."""
    s_p = sqrt((x_2 - x_1) ** 2 + (y_2 - y_1) ** 2)
    return s_p


@formula(_GEOMETRY, s_p="ft")
def step(x_1, x_2):
    """Return the base spacing along one axis."""
    s_p = abs(x_2 - x_1)
    return s_p


def group_shares(bases: Any, pier: Pier, share: Value | None) -> tuple[Value, Value, list[Check]]:
    """Return the share of lateral resistance that counts along x and along y, and a check for each group effect.

    Along an axis on which two piers in line stand nearer than 8 widths the job's share counts; where it gives none, the
    check is open and the resistance counts whole.

    Args:
        bases: Bases of the frame.
        pier: The piers.
        share: ``site.soil.group`` of the job.

    """
    found, checks = [], []
    for axis, way, rest in (("x", "along the rack", "y"), ("y", "across the rack", "x")):
        near = _in_line(bases, axis, rest)
        s_g = group_reach(n_b=GROUP, b=pier.size)
        if near is None or near.m_as("ft") >= s_g.m_as("ft"):
            found.append(WHOLE)
        else:
            found.append(share if share is not None else WHOLE)
        if near is not None and share is None:
            enough = near.m_as("ft") >= s_g.m_as("ft")
            name = f"Pier spacing {way}, lateral group effect" if enough else f"Lateral group effect {way}, {near.text()} apart"
            checks.append(check(name, s_g, near if enough else None, _GROUPED, remedy=GIVE_GROUP))
    return found[0], found[1], checks


def _in_line(bases: Any, axis: str, rest: str) -> Value | None:
    """Return the least spacing of two piers in a line along an axis; None where none is."""
    steps = [
        step(x_1=getattr(one, axis), x_2=getattr(other, axis))
        for one, other in itertools.combinations(bases, 2)
        if math.isclose(getattr(one, rest).m_as("ft"), getattr(other, rest).m_as("ft"), abs_tol=1e-6)
    ]
    return min(steps, key=lambda s: float(s.m_as("ft")), default=None)


def spacing_check(bases: Any, pier: Pier, footing: Any) -> Check | None:
    """Return whether the nearest two bodies overlap.

    Args:
        bases: Bases of the frame.
        pier: The piers.
        footing: The footing under each, or None.

    """
    pairs = list(itertools.combinations(bases, 2))
    if not pairs:
        return None
    near = min(pairs, key=lambda pair: math.hypot(*_apart(pair)))
    what = "piers" if footing is None else "footings"
    remedy = f"Smaller {what}, or one body of concrete under both, which is not considered here."
    if footing is None and pier.shape == "round":
        one, other = near
        s_p = distance(x_1=one.x, x_2=other.x, y_1=one.y, y_2=other.y)
        return check(_name(what, near), pier.size, s_p, _GEOMETRY, remedy=remedy)
    sides = (pier.size, pier.size) if footing is None else (footing.length, footing.width)
    near = min(pairs, key=lambda pair: max(a / s.m_as("ft") for a, s in zip(_apart(pair), sides, strict=True)))
    shares = [a / s.m_as("ft") for a, s in zip(_apart(near), sides, strict=True)]
    axis = shares.index(max(shares))
    one, other = near
    s_p = step(x_1=one.x, x_2=other.x) if axis == 0 else step(x_1=one.y, x_2=other.y)
    return check(_name(what, near), sides[axis], s_p, _GEOMETRY, remedy=remedy)


def _name(what: str, pair: Any) -> str:
    return f"Spacing of the {what} ({pair[0].label} and {pair[1].label})"


def _apart(pair: Any) -> tuple[float, float]:
    one, other = pair

    def along(name: str) -> float:
        ends: list[Value] = [getattr(base, name) for base in (one, other)]
        return math.fabs(ends[1].m_as("ft") - ends[0].m_as("ft"))

    return along("x"), along("y")

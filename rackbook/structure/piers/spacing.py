"""How far the piers and footings of a rack stand from each other."""

from __future__ import annotations

import itertools
import math
from typing import Any

from rackbook.trace import Check, Source, Value, check, formula
from rackbook.trace.maths import abs, sqrt

from .size import Pier

_GEOMETRY = Source("derivation", "geometry: bodies of concrete do not overlap")
#: Piers nearer than so many widths weaken the soil for each other: common practice.
GROUP = 3.0
TOO_NEAR = (
    "Piers stand nearer to each other than three widths: they lean on the same soil, which is not considered here; common "
    "practice reduces the lateral pressure of such groups, and a report says how far."
)


@formula(_GEOMETRY, s_p="ft")
def distance(x_1, x_2, y_1, y_2):
    """Return the distance of two bases."""
    s_p = sqrt((x_2 - x_1) ** 2 + (y_2 - y_1) ** 2)
    return s_p


@formula(_GEOMETRY, s_p="ft")
def step(x_1, x_2):
    """Return the distance of two bases along one axis."""
    s_p = abs(x_2 - x_1)
    return s_p


def spacing_check(bases: Any, pier: Pier, footing: Any) -> tuple[Check | None, bool]:
    """Return whether the nearest two bodies overlap, and whether two piers stand within three widths.

    Args:
        bases: Bases of the frame.
        pier: The piers.
        footing: The footing under each, or None.

    """
    pairs = list(itertools.combinations(bases, 2))
    if not pairs:
        return None, False
    near = min(pairs, key=lambda pair: math.hypot(*_apart(pair)))
    close = footing is None and math.hypot(*_apart(near)) < GROUP * pier.size.m_as("ft")
    what = "piers" if footing is None else "footings"
    remedy = f"Smaller {what}, or one body of concrete under both, which is not considered here."
    if footing is None and pier.shape == "round":
        one, other = near
        s_p = distance(x_1=one.x, x_2=other.x, y_1=one.y, y_2=other.y)
        return check(_name(what, near), pier.size, s_p, _GEOMETRY, remedy=remedy), close
    sides = (pier.size, pier.size) if footing is None else (footing.length, footing.width)
    near = min(pairs, key=lambda pair: max(a / s.m_as("ft") for a, s in zip(_apart(pair), sides, strict=True)))
    shares = [a / s.m_as("ft") for a, s in zip(_apart(near), sides, strict=True)]
    axis = shares.index(max(shares))
    one, other = near
    s_p = step(x_1=one.x, x_2=other.x) if axis == 0 else step(x_1=one.y, x_2=other.y)
    return check(_name(what, near), sides[axis], s_p, _GEOMETRY, remedy=remedy), close


def _name(what: str, pair: Any) -> str:
    return f"Distance of the {what} ({pair[0].label} and {pair[1].label})"


def _apart(pair: Any) -> tuple[float, float]:
    one, other = pair

    def along(name: str) -> float:
        ends: list[Value] = [getattr(base, name) for base in (one, other)]
        return math.fabs(ends[1].m_as("ft") - ends[0].m_as("ft"))

    return along("x"), along("y")

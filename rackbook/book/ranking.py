"""Which checks say how hard the rack works: strength, stability, embedment, serviceability; not a size against its limit."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rackbook.trace import Check
from rackbook.trace.units import unit

SHOWN = 20
#: What a force, a couple, a stress, a line load is measured in, and what has no unit: a sum of ratios.
_LOADS = tuple(unit(u).dimension for u in ("lbf", "lbf*ft", "psi", "lbf/ft", ""))
#: Symbols of lengths that a calculation of strength or soil asks for; every other length is a rule of detailing.
_ASKED = ("t_req", "d_req", "l_d")
#: Pure numbers that bound a method or a proportion, and are no ratio of what acts to what withstands it.
_BOUNDS = ("B_1", "B_2", "lamb")


def is_strength(check: Check) -> bool:
    """Return whether a check compares what acts with what withstands it, and not a movement or a size with its limit.

    A demand in a unit of force, moment, stress or line load, or a plain ratio, is one; so are a thickness or a depth that
    strength or soil asks for and a length of development. Amperes, percentages, areas, angles and all other lengths are not,
    nor is a minimum that something must have (a symbol ending in ``min``), nor a limit out of a table of sizes and weights.
    """
    of, symbol = check.demand.measure, check.demand.symbol
    if of.name in ("pct", "%", "deg") or check.source.kind == "table" or symbol.endswith("min") or symbol.startswith(_BOUNDS):
        return False
    return of.dimension in _LOADS or symbol.startswith(_ASKED)


def is_movement(check: Check) -> bool:
    """Return whether a check holds a deflection or a drift against its limit."""
    return check.capacity is not None and check.capacity.symbol.startswith("Delta")


def largest(checks: Sequence[tuple[str, Check]]) -> list[tuple[str, Check]]:
    """Return the checks of strength, stability, embedment and serviceability with the largest utilizations, largest first."""
    found = [(sheet, c) for sheet, c in checks if c.ratio is not None and (is_strength(c) or is_movement(c))]
    return sorted(found, key=lambda item: -float(np.max(item[1].ratio.magnitude)) / item[1].limit)[:SHOWN]  # type: ignore[union-attr]

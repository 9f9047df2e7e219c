"""Which checks say how hard the rack works: strength, stability, embedment, serviceability; not a size against its limit."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rackbook.trace import Check
from rackbook.trace.units import Unit, unit

SHOWN = 20
#: What a force, a couple, a stress, a line load is measured in, and what has no unit: a sum of ratios.
_LOADS = tuple(unit(u).dimension for u in ("lbf", "lbf*ft", "psi", "lbf/ft", ""))
#: Symbols of lengths that a calculation of strength, soil or stiffness asks for; every other length is a rule of detailing.
_ASKED = ("t_req", "d_req", "l_d")


def of_strength(check: Check) -> bool:
    """Say whether a check compares what acts with what withstands it, and not a size with its limit.

    A demand in a unit of force, moment, stress or line load, or a plain ratio, is one; so are a thickness or a depth that
    strength or soil asks for, a deflection against its limit (a ``Delta``), and a length of development. Amperes,
    percentages, areas, angles and all other lengths are not, nor is a minimum that something must have (a symbol ending in
    ``min``), nor a limit out of a table of sizes and weights.
    """
    of: Unit = check.demand.measure
    if of.name in ("pct", "%", "deg") or check.source.kind == "table" or check.demand.symbol.endswith("min"):
        return False
    deflects = check.capacity is not None and check.capacity.symbol.startswith("Delta")
    return of.dimension in _LOADS or deflects or check.demand.symbol.startswith(_ASKED)


def largest(checks: Sequence[tuple[str, Check]]) -> list[tuple[str, Check]]:
    """Return the checks of strength, stability, embedment and serviceability with the largest utilizations, largest first."""
    found = [(sheet, c) for sheet, c in checks if c.ratio is not None and of_strength(c)]
    return sorted(found, key=lambda item: -float(np.max(item[1].ratio.magnitude)) / item[1].limit)[:SHOWN]  # type: ignore[union-attr]

"""A limit state of a connection, and the factors of those outside the table of resistance factors."""

from __future__ import annotations

import functools
from dataclasses import dataclass

from rackbook.trace import Source, Value
from rackbook.trace.check import Check, check, utilization

from ..steel import clause, stated


def manual(locator: str, how: str = "memory") -> Source:
    """Return a place in the AISC Steel Construction Manual."""
    return Source("clause", "AISC Steel Construction Manual", "", locator, how)


#: Limit states outside the table of resistance factors.
PJP_TENSION = stated(0.80, 1.88, clause("Table J2.5, partial-joint-penetration groove weld, tension across it", "read"))
WALL = stated(1.00, 1.50, clause("Tables K3.2 and K4.2, plastification of the chord wall"))
ROUND_WALL = stated(0.90, 1.67, clause("Table K2.1, plastification of a round HSS"))


@dataclass(frozen=True, eq=False)
class State:
    """One limit state of a connection: what acts, what is available, and what to change where it does not suffice.

    Demand and capacity are numbers, or arrays with one entry for each combination and place.
    """

    name: str
    demand: Value
    capacity: Value
    source: Source
    remedy: str

    @functools.cached_property
    def ratio(self) -> Value:
        """Return demand over capacity."""
        return utilization(D=self.demand, C=self.capacity)

    def check(self, where: str) -> Check:
        """Return the check of one place, named with it."""
        return check(f"{self.name}, {where}", self.demand, self.capacity, self.source, remedy=self.remedy)

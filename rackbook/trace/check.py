"""A check: demand against capacity, with clause, ratio and a word."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .formula import formula
from .value import Source, Value

#: The words a check can end in. OPEN is for what cannot be judged yet; it is never a pass.
OK, NOT_OK, OPEN = "OK", "NOT OK", "OPEN"
#: Ratios this close above the limit are rounding noise of the arithmetic, not of the design.
SLACK = 1e-9


@formula(Source("derivation", "demand over capacity"), ratio="")
def utilization(D, C):
    """Return the utilization of a capacity by a demand."""
    ratio = D / C
    return ratio


@dataclass(frozen=True, eq=False)
class Check:
    """One requirement of a clause, judged.

    Args:
        name: What is checked.
        demand: What acts.
        capacity: What is there; None where it is not known yet (the check is then open).
        source: The clause that makes the requirement.
        limit: The ratio not to be exceeded.
        remedy: What to do where it fails or is open.

    """

    name: str
    demand: Value
    capacity: Value | None
    source: Source
    limit: float = 1.0
    remedy: str = ""
    ratio: Value | None = None

    @property
    def passes(self) -> bool:
        """Whether the requirement is met, in every case of an array; without a capacity above zero nothing passes."""
        if self.ratio is None or self.capacity is None or not np.all(self.capacity.magnitude > 0):
            return False
        return bool(np.all(self.ratio.magnitude <= self.limit * (1 + SLACK)))

    @property
    def told(self) -> tuple[str, str, str, str]:
        """Demand, capacity, ratio and limit as texts, for every table of checks."""
        capacity = self.capacity.text() if self.capacity is not None else "not known yet"
        ratio = self.ratio.text() if self.ratio is not None else "–"
        return self.demand.text(), capacity, ratio, f"{self.limit:g}"

    @property
    def word(self) -> str:
        """``OK``, ``NOT OK`` or ``OPEN``."""
        if self.ratio is None:
            return OPEN
        return OK if self.passes else NOT_OK

    def __str__(self) -> str:
        if self.capacity is None or self.ratio is None:
            return f"{self.name}: {self.demand.text()} against what is not known yet: {OPEN}  [{self.source}]"
        judged = f"{self.demand.text()} / {self.capacity.text()} = {self.ratio.text()} (limit {self.limit:g}): {self.word}"
        return f"{self.name}: {judged}  [{self.source}]"


def check(name: str, demand: Value, capacity: Value | None, source: Source, limit: float = 1.0, remedy: str = "") -> Check:
    """Judge a demand against a capacity of the same dimension.

    Raises:
        UnitError: The dimensions differ.
        DomainError: The capacity is zero.

    """
    ratio = utilization(D=demand, C=capacity) if capacity is not None else None
    return Check(name, demand, capacity, source, limit, remedy, ratio)

"""Reactions of all bases under all combinations of a set in one row each, and single rows as traced values."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from rackbook.trace import Value

COMPONENTS = ("P", "V_x", "V_y", "M_x", "M_y", "T")


@dataclass(frozen=True, eq=False)
class At:
    """One base under one combination: labels, and the six reactions as traced values."""

    base: str
    combination: str
    kind: str
    P: Value
    V_x: Value
    V_y: Value
    M_x: Value
    M_y: Value
    T: Value

    @property
    def words(self) -> str:
        """Base and combination in words."""
        return f"{self.base}, {self.combination}"


@dataclass(frozen=True, eq=False)
class Reacted:
    """Reactions of one set; rows run over combinations and, within each, over bases.

    Attributes:
        frame: The frame.
        set_name: The set.
        over: Set whose combinations with earthquake follow those of the first; none if left out.

    """

    frame: Any
    set_name: str
    over: str = ""

    @cached_property
    def _rows(self) -> tuple[tuple[str, int], ...]:
        """Set and number of every combination."""
        kinds = self.frame.sets[self.over].kinds if self.over else ()
        return (
            *((self.set_name, k) for k in range(len(self.frame.sets[self.set_name].labels))),
            *((self.over, k) for k, kind in enumerate(kinds) if kind == "seismic"),
        )

    @cached_property
    def _arrays(self) -> dict[str, np.ndarray]:
        sets = {name: self.frame.reactions(name) for name in dict.fromkeys(name for name, _ in self._rows)}
        keep = {name: [k for of, k in self._rows if of == name] for name in sets}
        return {
            c: np.concatenate([np.asarray(getattr(of, c), float)[keep[name]] for name, of in sets.items()]).ravel()
            for c in COMPONENTS
        }

    P = property(lambda self: self._arrays["P"])
    V_x = property(lambda self: self._arrays["V_x"])
    V_y = property(lambda self: self._arrays["V_y"])
    M_x = property(lambda self: self._arrays["M_x"])
    M_y = property(lambda self: self._arrays["M_y"])
    T = property(lambda self: self._arrays["T"])

    @cached_property
    def bases(self) -> tuple[str, ...]:
        """Labels of the bases."""
        return tuple(base.label for base in self.frame.bases)

    @cached_property
    def seismic(self) -> np.ndarray:
        """Which rows are of a combination with earthquake."""
        kinds = np.array([self.frame.sets[name].kinds[k] == "seismic" for name, k in self._rows])
        return np.repeat(kinds, len(self.bases))

    def at(self, row: int) -> At:
        """Return one row as traced values."""
        n, b = divmod(int(row), len(self.bases))
        name, k = self._rows[n]
        of = self.frame.sets[name]
        values = (self.frame.reaction(name, component, b, k) for component in COMPONENTS)
        return At(self.bases[b], of.labels[k], of.kinds[k], *values)

    def row_by_base(self, numbers: np.ndarray) -> np.ndarray:
        """Return for every base the row in which a number is largest."""
        of_base = numbers.reshape(-1, len(self.bases))
        return of_base.argmax(axis=0) * len(self.bases) + np.arange(len(self.bases))

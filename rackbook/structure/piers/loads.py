"""Reactions of the frame on its bases: all combinations as arrays, and one of them traced."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from rackbook.trace import Value
from rackbook.trace.columns import entry

from .embedment import grouped_force, grouped_moment, resultant_force, resultant_moment

#: Systems whose foundations take the seismic load with overstrength (ASCE/SEI 7, 12.2.5.2).
CANTILEVER_COLUMNS = ("special_cantilever_column", "ordinary_cantilever_column")


@dataclass(frozen=True, eq=False)
class Loads:
    """Reactions at the underside of the base plates, of all combinations of one or two sets, on every base.

    Arrays have a row a combination and a column a base; forces in kip (P down), moments in kip*in.

    Attributes:
        frame: The frame.
        rows: Set and number of every combination.
        labels: Its words.
        kinds: gravity, wind, ice or seismic.
        c_D: Its factor of dead load, the vertical earthquake in it.
        P, V_x, V_y, M_x, M_y, T: Reactions.

    """

    frame: Any
    rows: tuple[tuple[str, int], ...]
    labels: tuple[str, ...]
    kinds: tuple[str, ...]
    c_D: np.ndarray
    P: np.ndarray
    V_x: np.ndarray
    V_y: np.ndarray
    M_x: np.ndarray
    M_y: np.ndarray
    T: np.ndarray

    @cached_property
    def V(self) -> np.ndarray:
        """Shears of both axes together [kip]."""
        return np.hypot(self.V_x, self.V_y)

    @cached_property
    def M(self) -> np.ndarray:
        """Moments of both axes together [kip*in]."""
        return np.hypot(self.M_x, self.M_y)

    def value(self, component: str, row: int, base: int) -> Value:
        """Return one reaction, traced to the unit load cases."""
        name, combination = self.rows[row]
        return self.frame.reaction(name, component, base, combination)

    def resultants(self, row: int, base: int) -> tuple[Value, Value]:
        """Return shear and moment of both axes together, traced."""
        V_x, V_y, M_x, M_y = (self.value(c, row, base) for c in ("V_x", "V_y", "M_x", "M_y"))
        return resultant_force(V_x=V_x, V_y=V_y), resultant_moment(M_x=M_x, M_y=M_y)

    def grouped(self, row: int, base: int, k_x: Value, k_y: Value) -> tuple[Value, Value]:
        """Return the same with each direction divided by its share of the lateral resistance, traced."""
        if k_x.magnitude == k_y.magnitude == 1:
            return self.resultants(row, base)
        V_x, V_y, M_x, M_y = (self.value(c, row, base) for c in ("V_x", "V_y", "M_x", "M_y"))
        return grouped_force(V_x=V_x, k_x=k_x, V_y=V_y, k_y=k_y), grouped_moment(M_x=M_x, k_y=k_y, M_y=M_y, k_x=k_x)

    def factor(self, row: int) -> Value:
        """Return a combination's factor of dead load, traced."""
        name, combination = self.rows[row]
        of = self.frame.sets[name]
        return entry(of.value(combination), of.cases.index("D"), "D").named("c_D")


def loads(frame: Any, level: str, overstrength: bool = False) -> Loads:
    """Return the reactions of a level of load, with the seismic combinations of overstrength beside where asked for.

    Args:
        frame: The frame.
        level: ``"strength"`` or ``"allowable"``.
        overstrength: Whether the foundation takes the overstrength load too.

    """
    names = [level, f"{level}_overstrength"] if overstrength and f"{level}_overstrength" in frame.sets else [level]
    rows: list[tuple[str, int]] = []
    labels: list[str] = []
    kinds: list[str] = []
    factors, found = [], []
    for name in names:
        of = frame.sets[name]
        keep = [k for k in range(len(of.labels)) if name == level or of.kinds[k] == "seismic"]
        rows += [(name, k) for k in keep]
        labels += [of.labels[k] for k in keep]
        kinds += [of.kinds[k] for k in keep]
        factors.append(np.asarray(of.factors)[keep, of.cases.index("D")])
        reactions = frame.reactions(name)
        found.append([np.asarray(getattr(reactions, c))[keep] for c in ("P", "V_x", "V_y", "M_x", "M_y", "T")])
    arrays = [np.concatenate(parts) for parts in zip(*found, strict=True)]
    return Loads(frame, tuple(rows), tuple(labels), tuple(kinds), np.concatenate(factors), *arrays)


def needs_overstrength(seismic: Any) -> bool:
    """Return whether the system of a seismic result asks for overstrength in its foundations."""
    return seismic is not None and str(seismic.system.row.magnitude) in CANTILEVER_COLUMNS

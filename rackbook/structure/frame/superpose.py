"""Factors times unit cases: the formulas of one number, and entries of the arrays of results."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from rackbook.loads.geometry import read
from rackbook.trace import Source, Step, Value, formula
from rackbook.trace.maths import sum

_SUM = Source("derivation", "superposition: factor times unit case, summed over all cases")
_SECOND = ("clause", "AISC 360", "16 and 22")
_BY_CASE = Source(*_SECOND, "Appendix 8, Eq. A-8-2, lateral cases of each direction by its own B_2", "memory")
_BOWED = Source(*_SECOND, "Appendix 8, Eq. A-8-1, all of M amplified for the sway and for the bow", "memory")
_SWAYED = Source(*_SECOND, "Appendix 8, Eq. A-8-1, all of M amplified for the sway", "memory")


@formula(_SUM, F="kip")
def force(c, Y):
    """Return a force of a combination from those of the unit cases."""
    F = sum(c * Y)
    return F


@formula(_SUM, M="kip*in")
def moment(c, Y):
    """Return a moment of a combination from those of the unit cases."""
    M = sum(c * Y)
    return M


@formula(_SUM, Delta="in")
def displacement(c, Y):
    """Return a displacement of a combination from those of the unit cases."""
    Delta = sum(c * Y)
    return Delta


@formula(_BY_CASE, F_r="kip")
def force_second(F_g, F_a, F_t, B_2a, B_2t):
    """Return a force of a combination: gravity cases, and lateral cases along and across the rack amplified."""
    F_r = F_g + B_2a * F_a + B_2t * F_t
    return F_r


@formula(_BY_CASE, M_r="kip*in")
def moment_second(M_g, M_a, M_t, B_2a, B_2t):
    """Return a moment of a combination: gravity cases, and lateral cases along and across the rack amplified."""
    M_r = M_g + B_2a * M_a + B_2t * M_t
    return M_r


@formula(_BOWED, M_r="kip*in")
def amplified_moment(B_1, B_2, M):
    """Return the second-order moment in a member."""
    M_r = B_1 * B_2 * M
    return M_r


@formula(_SWAYED, M_r="kip*in")
def swayed_moment(B_2, M):
    """Return the second-order moment at a base."""
    M_r = B_2 * M
    return M_r


@dataclass(frozen=True, eq=False, slots=True)
class Take:
    """The operation that takes one number, or that of every unit case, out of an array of results."""

    name: str
    place: tuple[int, ...]

    @property
    def source(self) -> Source:
        """What is taken."""
        return Source("derivation", f"frame analysis, {self.name}")

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Take it out of other results."""
        of = given["results"]
        found = of.magnitude[self.place]
        return Value(found if np.ndim(found) else float(found), of.measure, Step(self, given))


def take(results: Value, place: tuple[int, ...], words: str, symbol: str) -> Value:
    """Return one number (or the row of all unit cases) of an array of results, told in words."""
    return Take(words, place).evaluate({"results": results}).named(symbol)


def imbalance(results: Mapping[str, Value], case: int) -> Value:
    """Return the largest difference between the sums of loads and of reactions of a unit case, of six [kip, kip in]."""
    names = [f"{of} {kind}" for of in ("load", "ground") for kind in ("forces", "moments")]
    given = {name.replace(" ", "_"): results[name] for name in names}
    source = Source("derivation", "statics: loads and reactions in balance")
    return read("loads against reactions", source, "", functools.partial(_left_over, case), given, "residual")


def _left_over(case: int, **sums: np.ndarray) -> float:
    pairs = ((sums["load_forces"], sums["ground_forces"]), (sums["load_moments"], sums["ground_moments"]))
    return float(max(np.abs(a[:, case] - b[:, case]).max() for a, b in pairs))

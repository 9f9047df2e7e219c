"""The combinations as the standard prints them: one row a combination, one factor a load."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rackbook.loads.words import plain_word
from rackbook.tables import table
from rackbook.trace import DomainError, LookupFailed, Source, Value
from rackbook.trace.columns import column

from .factors import combined_effect

#: Loads of the table's columns, in the order they are read. E_v acts through D; R does not stay on a canopy that drains.
LOADS = ("D", "D_i", "E_v", "E_h", "E_mh", "W", "W_i", "L", "L_r", "S", "R")
ROOF = ("L_r", "S")
EDITIONS = ("7-16", "7-22")
SEISMIC, ICE, WIND, GRAVITY = "seismic", "ice", "wind", "gravity"
#: A row says more than the others only if one load of each group acts; without it the row lies between other rows
#: and the unloaded frame, and no check whose allowed region is convex can be governed by it.
NEEDS = {
    "2.3.1-2": (("L",),),
    "2.3.1-3": (ROOF,),
    "2.3.4-1": (("L",),),
    "2.4.1-2": (("L",),),
    "2.4.1-3": (ROOF,),
    "2.4.1-4": (("L",), ROOF),
    "2.4.1-6": (("L", *ROOF),),
    "2.4.3-1": (("L",),),
    "2.4.5-9": (("L", *ROOF),),
    "7-22 2.4.5-9": (("L",),),  # its 0.1 S alone is less than what 0.7 S of 2.4.1-3 covers
}


@dataclass(frozen=True)
class Row:
    """One combination as printed.

    Attributes:
        edition: ``"7-16"`` or ``"7-22"``.
        key: Key of its row in the table, such as ``"2.3.1-3 with W"``.
        factors: Factor on each load that is in it.
        kind: ``gravity``, ``wind``, ``ice`` or ``seismic``.

    """

    edition: str
    key: str
    factors: dict[str, Value]
    kind: str

    @property
    def clause(self) -> str:
        """The clause and number: ``"2.3.1-3"``."""
        return self.key.split(" with ")[0]

    @property
    def printed(self) -> str:
        """The row as one reads it: ``"1.2 D + 1.0 W + 1.0 L + (0.5 L_r or 0.3 S or 0.5 R)"``."""
        roof = {n: v for n, v in self.factors.items() if n in (*ROOF, "R")}
        said = "".join(signed(v.magnitude, n) for n, v in self.factors.items() if n not in roof)
        if len(roof) == 1:
            said += "".join(signed(v.magnitude, n) for n, v in roof.items())
        elif roof:
            said += f" + ({' or '.join(f'{written(v.magnitude)} {n}' for n, v in roof.items())})"
        return said.removeprefix(" + ")

    @property
    def needs(self) -> tuple[tuple[str, ...], ...]:
        """Groups of loads of which one must act for the row to say more than others."""
        return NEEDS.get(f"{self.edition} {self.clause}", NEEDS.get(self.clause, ()))

    @property
    def source(self) -> Source:
        """The clause, with the label of its least certain factor."""
        hows = {v.source.how for v in self.factors.values()}
        how = "memory" if "memory" in hows else "derived" if "derived" in hows else "read"
        return Source("clause", "ASCE/SEI 7", self.edition[2:], self.clause, how)


def written(number: float) -> str:
    """Return a factor with one decimal at least and two where needed: ``1.0``, ``0.75``, ``1.42``."""
    text = f"{number:.3f}".rstrip("0")
    return text + "0" if text.endswith(".") else text


def signed(number: float, name: str) -> str:
    """Return a term of a sum: `` + 1.2 D``."""
    return f" {'-' if number < 0 else '+'} {written(abs(number))} {name}"


@functools.cache
def rows(edition: str, method: str) -> tuple[Row, ...]:
    """Return the rows of an edition and a method (``LRFD``, ``ASD``, or either with `` overstrength``), in order.

    Raises:
        DomainError: The edition is another one.

    """
    if edition not in EDITIONS:
        raise DomainError(f"'{edition}' is not an edition loads are combined by; allowed: {', '.join(EDITIONS)}.")
    of = table("load_combinations")
    found = []
    for line in of.rows:
        if line["edition"] == edition and line["method"] == method:
            key = line["clause"]
            factors = {n: of.cell((edition, method, key), n, f"gamma_{n}") for n in LOADS if line[n]}
            found.append(Row(edition, key, factors, _kind(factors)))
    return tuple(found)


def row(edition: Any, method: str, key: str) -> Row:
    """Return one row of the standard by its key, such as ``2.3.1-4`` or ``2.3.1-3 with W``.

    Raises:
        DomainError: The edition is another one.
        LookupFailed: There is no such row.

    """
    named = plain_word(edition).removeprefix("ASCE/SEI ")
    found = {r.key: r for r in rows(named, method)}
    if key not in found:
        raise LookupFailed(f"ASCE/SEI {named}, {method}, has no combination '{key}'. Rows: {', '.join(found) or 'none'}.")
    return found[key]


def combined(edition: Any, method: str, key: str, effects: Mapping[str, Value]) -> Value:
    """Return the effect of one combination as printed.

    Args:
        edition: ASCE/SEI 7-16 or 7-22.
        method: ``LRFD`` or ``ASD``, or either with `` overstrength``.
        key: Key of the row.
        effects: Force of each load that acts, by its name in the row (``D``, ``S``, ``E_v``), with its sign.

    Raises:
        LookupFailed: There is no such row, or a load is not in it.

    """
    of = row(edition, method, key)
    if stray := [n for n in effects if n not in of.factors]:
        raise LookupFailed(f"{stray[0]} is not in combination {key}: {of.printed}.")
    gamma = column("gamma", {n: of.factors[n] for n in effects}, "")
    return combined_effect(gamma=gamma, F=column("F", effects, "lbf"))


def rows_of_set(edition: str, method: str, overstrength: bool) -> tuple[Row, ...]:
    """Return the rows of a whole set; with overstrength, its seismic rows take the place of the ordinary ones."""
    basic = rows(edition, method)
    if not overstrength:
        return basic
    return (*(r for r in basic if r.kind != SEISMIC), *rows(edition, f"{method} overstrength"))


def _kind(factors: dict[str, Value]) -> str:
    loads = set(factors)
    if loads & {"E_h", "E_mh"}:
        return SEISMIC
    if loads & {"D_i", "W_i"}:
        return ICE
    return WIND if "W" in loads else GRAVITY

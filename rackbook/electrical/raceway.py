"""Raceway fill: areas of mixed conductors, the limit by their number, trade sizes, equal conductors, jamming."""

from __future__ import annotations

import functools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..tables import table
from ..trace import LookupFailed, Source, Value, formula, given, pick
from ..trace.errors import nearest
from .sizes import key, size_value

TABLE_1 = Source("clause", "NFPA 70", "2023", "Chapter 9 Table 1 (same in 2020)", "read")
JAM = Source("clause", "NFPA 70", "2023", "Chapter 9 Table 1 Informational Note 2 (same in 2020)", "read")
NIPPLE_LENGTH = 24  # in., Note 4
#: Ratio of inside diameter to conductor diameter between which three conductors may jam.
JAM_ZONE = (2.8, 3.2)


@formula(TABLE_1, A_n="in**2")
def conductors_area(n, A):
    """Return the area of n equal conductors."""
    A_n = n * A
    return A_n


@formula(TABLE_1, A_c="in**2")
def with_conductors(A_0, n, A):
    """Return the area of the conductors so far and of n more."""
    A_c = A_0 + n * A
    return A_c


@formula(TABLE_1, p_f="pct")
def fill_percent(A_c, A_100):
    """Return the fill: conductor area over inside area."""
    p_f = A_c / A_100
    return p_f


@formula(JAM, j="")
def jam_ratio(ID, d):
    """Return the ratio of the inside diameter of a raceway to the diameter of one conductor."""
    j = ID / d
    return j


@dataclass(frozen=True, eq=False)
class Fill:
    """Fill of one raceway.

    Attributes:
        n: Conductors counted, grounds included.
        A_c: Their area; A_100: inside area; A_max: area allowed.
        p_f, p_max: Fill and limit [%].
        trade_size: Word.
        j: Jam ratio where three conductors are the largest, else None; jam: "jam zone", "outside" or "".

    """

    n: Value
    A_c: Value
    A_100: Value
    A_max: Value
    p_f: Value
    p_max: Value
    trade_size: Value
    j: Value | None
    jam: str


@functools.cache
def family(insulation: str) -> str:
    """Return the family of Table 5 whose dimensions a conductor type has.

    Raises:
        LookupFailed: The type is unknown, or Table 5 has no dimensions for it here.

    """
    of = table("insulation")
    if not of.has(insulation, "family"):
        known = ", ".join(r["type"] for r in of.rows if r["family"])
        raise LookupFailed(
            f"Type {insulation} has no dimensions in Table 5 here.{nearest(insulation, known.split(', '))} Types: {known}."
        )
    return str(of.cell(insulation, "family").magnitude)


def conductor_area(
    size: object, insulation: object, symbol: str = "A", column: str = "A", by: dict[str, Value] | None = None
) -> Value:
    """Return area (or, column "d", diameter) of one insulated conductor, Chapter 9 Table 5; ``by`` also decided on it.

    Raises:
        LookupFailed: Table 5 does not hold that size in that type.

    """
    name, of = key(size), table("conductor_dimensions")
    group = family(str(insulation))
    try:
        return of.cell((group, name), column, symbol, by={"size": size_value(size), **(by or {})})
    except LookupFailed:
        has = ", ".join(r["size"] for r in of.rows if r["family"] == group)
        raise LookupFailed(f"Table 5 holds no {name} of type {insulation}. Sizes: {has}. Choose one of these.") from None


def fill_limit(n: Value, nipple: bool = False) -> Value:
    """Return the largest fill for a number of conductors: 53, 31 or 40 percent; 60 in a nipple [%]."""
    return table("raceway_fill").step(n, "fill", "p_max", at=("nipple" if nipple else "run",))


@functools.cache
def trade_sizes(kind: str) -> tuple[str, ...]:
    """Return the trade sizes of a kind of raceway, smallest first.

    Raises:
        LookupFailed: There is no such kind.

    """
    rows = table("raceway").rows
    found = tuple(r["trade_size"] for r in rows if r["kind"] == kind)
    if not found:
        kinds = tuple(dict.fromkeys(r["kind"] for r in rows))
        raise LookupFailed(f"'{kind}' is not a raceway of Table 4 here.{nearest(kind, kinds)} Kinds: {', '.join(kinds)}.")
    return found


def raceway_cell(kind: object, trade_size: object, column: str, symbol: str = "") -> Value:
    """Return a cell of Chapter 9 Table 4.

    Raises:
        LookupFailed: The raceway is not made in that trade size.

    """
    name = _trade(trade_size)
    if name not in trade_sizes(str(kind)):
        raise LookupFailed(
            f"{kind} is not made in trade size {name}. Trade sizes of Table 4: {', '.join(trade_sizes(str(kind)))}. "
            "Choose one of these."
        )
    by = {"trade_size": trade_size} if isinstance(trade_size, Value) and trade_size.is_word else None
    return table("raceway").cell((str(kind), name), column, symbol or column, by=by)


def _trade(trade_size: object) -> str:
    if isinstance(trade_size, Value):
        return str(trade_size.magnitude) if trade_size.is_word else f"{trade_size.magnitude:g}"
    return str(trade_size)


@functools.cache
def _allowed(kind: str, column: str) -> np.ndarray:
    return np.array([table("raceway").cell((kind, t), column).magnitude for t in trade_sizes(kind)], float)


@functools.cache
def _listed_trade(kind: str, trade_size: str) -> Value:
    return Value(
        trade_size,
        "",
        Source("table", "NFPA 70", "2023", f"Chapter 9 Table 4, {kind}, trade sizes in their order", "read"),
        "trade_size",
    )


def smallest_raceway(kind: object, A_c: Value, p_max: Value) -> Value:
    """Return the smallest trade size whose printed area at ``p_max`` holds ``A_c``, proved against the next smaller.

    Raises:
        LookupFailed: The largest one is too small.

    """
    name, column = str(kind), f"A_{p_max.m_as('pct'):.0f}"
    names, allowed, wanted = trade_sizes(name), _allowed(name, column), A_c.m_as("in**2")
    first = 1 if names[0] == "3/8" else 0  # 3/8 is for special uses only, 350.20(A)
    at = max(int(np.searchsorted(allowed, wanted * (1 - 1e-12))), first)
    if at >= len(names):
        raise LookupFailed(
            f"{name} ends at trade size {names[-1]}, which allows {allowed[-1]:g} in.²; {wanted:.4g} in.² are needed. "
            "Use parallel sets or more raceways."
        )
    chosen = names[at]
    if at == first:
        return pick("trade", {chosen: _listed_trade(name, chosen)}, chosen, "the smallest made", {"A_c": A_c})
    below = names[at - 1]
    return pick(
        "trade",
        {below: _listed_trade(name, below), chosen: _listed_trade(name, chosen)},
        chosen,
        f"{below} allows {allowed[at - 1]:.4g} in.², {chosen} allows {allowed[at]:.4g} in.²",
        {"A_c": A_c, "p_max": p_max},
    )


def fill(
    parts: Sequence[tuple[Value, Value, Value | None]], kind: object, trade_size: object = None, nipple: bool = False
) -> Fill:
    """Return the fill of a raceway.

    Args:
        parts: For each kind of conductor: how many, area of one, diameter of one (None leaves out the jam ratio);
            equipment grounds are conductors like any other (Note 3).
        kind: EMT, IMC, RMC, PVC40, PVC80 or LFMC.
        trade_size: None chooses the smallest.
        nipple: Whether the raceway is at most 24 in. long (Note 4).

    Raises:
        LookupFailed: The raceway is unknown, or none is large enough.

    """
    if not parts:
        raise LookupFailed("A raceway without conductors has no fill. Give at least one.")
    n_first, A_first, _ = parts[0]
    A_c = conductors_area(n=n_first, A=A_first)
    for n, A, _ in parts[1:]:
        A_c = with_conductors(A_0=A_c, n=n, A=A)
    count = (
        n_first
        if len(parts) == 1
        else given(
            sum(n.magnitude for n, _, _ in parts),
            "",
            Source("derivation", "all conductors of the raceway, grounds included"),
            "n",
        )
    )
    p_max = fill_limit(count, nipple)
    size = smallest_raceway(kind, A_c, p_max) if trade_size is None else trade_size
    A_100 = raceway_cell(kind, size, "A_100")
    A_max = raceway_cell(kind, size, f"A_{p_max.magnitude:.0f}", "A_max")
    j, jam = None, ""
    biggest = max(parts, key=lambda part: part[1].magnitude)
    if biggest[2] is not None and biggest[0].magnitude == 3:
        j = jam_ratio(ID=raceway_cell(kind, size, "ID"), d=biggest[2])
        jam = "jam zone" if JAM_ZONE[0] <= j.magnitude <= JAM_ZONE[1] else "outside"
    return Fill(count, A_c, A_100, A_max, fill_percent(A_c=A_c, A_100=A_100), p_max, _word(kind, size), j, jam)


def _word(kind: object, size: object) -> Value:
    return size if isinstance(size, Value) and size.is_word else _listed_trade(str(kind), _trade(size))


def fill_of(
    conductors: Sequence[tuple[Value, object, object]], kind: object, trade_size: object = None, nipple: bool = False
) -> Fill:
    """Return the fill of a raceway by conductors as the tables name them.

    Args:
        conductors: How many, size, type; largest first is not needed.
        kind: EMT, IMC, RMC, PVC40, PVC80 or LFMC.
        trade_size: None chooses the smallest.
        nipple: Whether the raceway is at most 24 in. long (Note 4).

    Raises:
        LookupFailed: A table does not hold what is asked, or no raceway is large enough.

    """
    parts = [(n, conductor_area(s, t), conductor_area(s, t, "d", "d")) for n, s, t in conductors]
    return fill(parts, kind, trade_size, nipple)

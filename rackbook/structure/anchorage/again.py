"""Lines that a sheet, or one before it, has shown for other numbers: their results in one row."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from rackbook.trace import Formula, Grid, Step, Value
from rackbook.trace.graph import in_order


def again(title: str, of: Value, like: Iterable[Value], known: Iterable[Value] = ()) -> list[Value | Grid]:
    """Return what a value rests on by formulas that other values rest on too, as one row that the sheet then quotes.

    What these lines need and the others do not show stands before the row. Where two different results have one symbol, a row
    would not tell them apart: then there is none, and the sheet derives the value in full.

    Args:
        title: What the row lists.
        of: The value.
        like: What is shown in full already.
        known: What the sheet has from a table, so that nothing behind it is looked at.

    """
    before = [v for v in in_order(like) if _made(v)]
    formulas, lines = {_formula(v) for v in before}, set(map(_line, before))
    listed = {id(v.root) for v in in_order(known)}
    behind = [v for v in in_order([of]) if _made(v) and id(v.root) not in listed]
    made = [v for v in {id(v.root): v for v in behind}.values() if _line(v) not in lines]
    row = [v for v in made if _formula(v) in formulas and not np.ndim(v.magnitude)]
    by = {v.symbol: v for v in row}
    if not row or any(v.text() != by[v.symbol].text() for v in row):
        return []
    needed, quoted = {id(v.root) for v in in_order(row)}, {id(v) for v in row}
    new = [v for v in made if id(v.root) in needed and id(v) not in quoted]
    heads = tuple(f"{name} [{v.unit}]" for name, v in by.items())
    return [*new, Grid(title, heads, (tuple(by.values()),), quoted=tuple(row))]


def _made(value: Value) -> bool:
    return isinstance(value.origin, Step) and isinstance(value.origin.operation, Formula)


def _line(value: Value) -> tuple[object, ...]:
    """Return a formula with its numbers: what a sheet shows once."""
    assert isinstance(value.origin, Step)
    return _formula(value), *((name, v.text()) for name, v in value.origin.given.items())


def _formula(value: Value) -> int:
    assert isinstance(value.origin, Step)
    return id(value.origin.operation)

"""What numbers of one combination are made of, as a table: factors times unit cases, amplifiers, second order."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rackbook.trace import Check, DomainError, Grid, Step, Value
from rackbook.trace.columns import entry
from rackbook.trace.grids import TIMES
from rackbook.trace.sheet import set_out

from ..combinations.sets import Combination
from .superpose import amplified_moment, force, force_second, moment, moment_second, swayed_moment

SUM, LAST = "Sum of c times case", "Second order"
#: Rows of the amplifiers in their order: what each one multiplies.
ALONG, ACROSS, SWAY, BOW = "B_2 on cases along", "B_2 on cases across", "B_2 on the sum", "B_1 on the sum"
#: Below this share of the largest number of its unit a number is rounding of the solution, and printed as 0.
ROUNDING = 1e-9
_LATERAL = {"a": ("B_2a", ALONG), "t": ("B_2t", ACROSS)}


@dataclass(frozen=True, eq=False)
class Made:
    """One number of a combination taken apart: factors, unit cases, sum, amplifiers by their row, the number itself."""

    c: Value
    Y: Value
    first: Value
    amplifiers: Mapping[str, Value]
    last: Value


def shown(title: str, values: Mapping[str, Value]) -> Grid:
    """Return the table that works out numbers of one combination from the unit cases; the sheet then quotes them from it.

    Every row is a unit case whose factor is not 0, with the factor and the case's own number of each component; then come
    their sum, the amplifiers of second order where they apply, and the number itself.

    Args:
        title: What the table lists.
        values: Actions, reactions, or forces of clips or splices as the frame hands them out, by the name of their column.
            A value from elsewhere has its number in the last row alone.

    Raises:
        DomainError: The numbers are of different combinations.

    """
    made = {n: taken_apart(v) for n, v in values.items()}
    of_frame = [m for m in made.values() if m is not None]
    if not of_frame:
        return Grid(title, _heads(values)[2:], (tuple(values.values()),))
    c = of_frame[0].c
    if any(m.c.root is not c.root for m in of_frame):
        raise DomainError(f"{title}: the numbers are not of one combination; make a table for each.")
    scale = {v.unit: 0.0 for v in values.values()}
    for m in of_frame:
        scale[m.last.unit] = max(scale[m.last.unit], float(np.abs(m.Y.magnitude).max()), abs(m.last.magnitude))

    def cell(v: Value) -> Value | str:
        return "0" if abs(v.magnitude) < ROUNDING * scale.get(v.unit, 0.0) else v

    cases = _combination(c).cases
    rows: list[tuple[Value | str, ...]] = []
    for n, case in enumerate(cases):
        if c.magnitude[n]:
            unit = [cell(entry(m.Y, n, case)) if m is not None else "–" for m in made.values()]
            rows.append((case, entry(c, n, case), *unit))
    rows.append((SUM, "", *(cell(m.first) if m is not None else "–" for m in made.values())))
    for row in (ALONG, ACROSS, SWAY, BOW):
        if any(row in m.amplifiers for m in of_frame):
            by = [m.amplifiers.get(row) if m is not None else None for m in made.values()]
            rows.append((row, "", *(f"{TIMES}{B.text()}" if B is not None else "–" for B in by)))
    rows.append((LAST, "", *(cell(v) for v in values.values())))
    return Grid(
        title, _heads(values), tuple(rows), quoted=tuple(v for v, m in zip(values.values(), made.values(), strict=True) if m)
    )


def made_of(title: str, *values: Value, but: Container[int] = ()) -> list[Grid]:
    """Return the tables that work out all numbers of the frame some values rest on, one for each place and combination.

    Args:
        title: What the tables list; the place is added, and the combination where there is more than one table.
        values: What rests on numbers of the frame; the columns go by their symbols.
        but: Identities of the roots of numbers that a table lists already.

    """
    of: dict[tuple[str, int], dict[str, Value]] = {}
    combinations: dict[int, str] = {}
    for value in of_frame(*values):
        made = taken_apart(value)
        if made is not None and id(value.root) not in but:
            combinations[id(made.c.root)] = _combination(made.c).name
            of.setdefault((_place(made.Y), id(made.c.root)), {})[value.symbol] = value
    many = len(of) > 1
    return [
        shown(f"{title} {where}, {combinations[by]}" if many else f"{title} {where}", columns)
        for (where, by), columns in of.items()
    ]


class FromFrame:
    """What the numbers of the frame on one sheet are made of: each of them in one table, above where it is first needed."""

    def __init__(self, *tables: Grid) -> None:
        self._listed = {id(v.root) for grid in tables for v in grid.quoted}

    def behind(self, title: str, *values: Value | None) -> list[Grid | Value]:
        """Return the tables some values need and the sheet has not, and those of the values that no table lists."""
        told = [v for v in values if v is not None]
        grids = made_of(title, *told, but=self._listed)
        self._listed |= {id(v.root) for grid in grids for v in grid.quoted}
        return [*grids, *(v for v in told if id(v.root) not in self._listed)]

    def judged(self, title: str, checks: Sequence[Check]) -> list[Grid | Check]:
        """Return checks of one run below the tables that those of them need which the sheet derives."""
        values = [v for c in set_out(checks) for v in (c.demand, c.capacity)]
        return [*(p for p in self.behind(title, *values) if isinstance(p, Grid)), *checks]


def taken_apart(value: Value) -> Made | None:
    """Return what a number of the frame is made of; None for a value that is no superposition of unit cases."""
    given = value.origin.given if isinstance(value.origin, Step) else {}
    operation = value.origin.operation if isinstance(value.origin, Step) else None
    if operation in (force, moment):
        return Made(given["c"], given["Y"], value, {}, value)
    if operation in (force_second, moment_second):
        letter, plain = ("F", force) if operation is force_second else ("M", moment)
        parts = {n: _given(given[f"{letter}_{n}"]) for n in "gat"}
        c, Y = _given(parts["g"]["c"])["c"], parts["g"]["Y"]
        by = {row: given[B] for n, (B, row) in _LATERAL.items() if np.any(parts[n]["c"].magnitude)}
        return Made(c, Y, plain(c=c, Y=Y), by, value)
    if operation in (amplified_moment, swayed_moment):
        of = _given(given["M"])
        rows = {"B_2": SWAY, "B_1": BOW}
        return Made(of["c"], of["Y"], given["M"], {rows[n]: v for n, v in given.items() if n in rows}, value)
    return None


def of_frame(*values: Value) -> tuple[Value, ...]:
    """Return the numbers of the frame some values rest on, each once, in the order they enter."""
    found: dict[int, Value] = {}
    seen: set[int] = set()
    stack = list(values)[::-1]
    while stack:
        value = stack.pop()
        if id(value) in seen or not isinstance(value.origin, Step):
            continue
        seen.add(id(value))
        if taken_apart(value) is not None:
            found.setdefault(id(value.root), value)
        else:
            stack.extend(reversed(value.origin.given.values()))
    return tuple(found.values())


def _given(value: Value) -> dict[str, Value]:
    assert isinstance(value.origin, Step)
    return value.origin.given


def _combination(c: Value) -> Combination:
    """Return the combination a vector of factors belongs to: its name, and the unit cases it runs over."""
    assert isinstance(c.origin, Step)
    assert isinstance(c.origin.operation, Combination)
    return c.origin.operation


def _place(Y: Value) -> str:
    """Return where the frame has the numbers of the unit cases from: ``at post 2``, ``of rail 3 at post 2``."""
    assert isinstance(Y.origin, Step)
    said = Y.origin.operation.name.removesuffix(", unit cases").removeprefix("reaction ")
    return said.partition(" ")[2]  # without the component


def _heads(values: Mapping[str, Value]) -> tuple[str, ...]:
    return ("Case", "c []", *(f"{n} [{v.unit}]" for n, v in values.items()))

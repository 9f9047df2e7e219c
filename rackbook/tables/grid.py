"""Where a number falls among the rows of a table: bands, next rows, and between rows; one number or a sweep."""

from __future__ import annotations

import bisect
from typing import TYPE_CHECKING, Any

import numpy as np

from ..trace import LookupFailed
from .cells import listed

if TYPE_CHECKING:
    from .table import Table

INFINITY = float("inf")


def row_words(table: Table, row: int, symbol: str = "x") -> str:
    """Return a row in words: its keys, or its band (and how it is printed, where a column says so)."""
    text = dict(zip(table.names, table.text[row], strict=True))
    keys = [text[key] for key in table.keys if key not in ("edition", "from", "to")]
    if table.head.band:
        below, above = ("<=" if closed else "<" for closed in table.head.band)
        start = f"{text['from']} {below} " if text["from"] else ""
        end = f" {above} {text['to']}" if text["to"] else ""
        of = table.units[table.place["from"]].written
        printed = text.get("printed") or text.get("printed_C")
        keys.append(f"{start}{symbol}{end}{of and ' ' + of}" + (f" (printed {printed})" if printed else ""))
    return f"row {', '.join(keys)}" if keys else ""


def bands(table: Table, group: list[int], x: Any, symbol: str) -> Any:
    """Return the row whose band holds ``x``, or an array of rows for an array."""
    if table.head.whole and np.any(x != np.round(x)):
        raise LookupFailed(f"{table.name} counts whole numbers; {symbol} = {_first(x, x != np.round(x)):g} is not one.")
    if isinstance(x, np.ndarray):
        found: Any = np.full(x.shape, -1)
        for row in reversed(group):
            found[_holds(table, group, row, x)] = row
        missing = found < 0
    else:
        found = next((row for row in group if _holds(table, group, row, x)), -1)
        missing = found < 0
    if not np.any(missing):
        return found
    of = table.units[table.place["from"]].written
    raise LookupFailed(
        f"{table.name} ({table.head.title}, {table.head.locator}) has no band for {symbol} = "
        f"{_first(x, missing):g}{of and ' ' + of}. Bands: "
        f"{listed(row_words(table, row, symbol).removeprefix('row ') for row in group)}. "
        "The standard gives nothing outside them; change the input, or justify a value of your own."
    )


def _holds(table: Table, group: list[int], row: int, x: Any) -> Any:
    assert table.head.band is not None
    holds_low, holds_high = table.head.band
    low, high = table.cells[row][table.place["from"]], table.cells[row][table.place["to"]]
    low = -INFINITY if low is None else low
    high = INFINITY if high is None else high
    above = x >= low if holds_low or (table.head.first_closed and row == group[0]) else x > low
    below = x <= high if holds_high or (table.head.last_closed and row == group[-1]) else x < high
    return above & below


def next_row(table: Table, group: list[int], x: Any, symbol: str, *, up: bool) -> Any:
    """Return the row of the nearest key not below (or not above) ``x``, or an array of rows for an array."""
    place = len(table.keys) - 1
    axes, rows, _ = _grid(table, group, place)
    (keys,) = axes
    if isinstance(x, np.ndarray):
        at: Any = np.searchsorted(keys, x, side="left" if up else "right") - (not up)
    else:
        at = bisect.bisect_left(keys, x) if up else bisect.bisect_right(keys, x) - 1
    outside = (at < 0) | (at >= len(keys))
    if not np.any(outside):
        return rows[at] if isinstance(x, np.ndarray) else int(rows[at])
    raise LookupFailed(
        f"{table.name} ({table.head.title}, {table.head.locator}) {'ends' if up else 'begins'} at {table.columns[place]} "
        f"{keys[-1 if up else 0]:g}; {symbol} = {_first(x, outside):g} is {'above' if up else 'below'} it. "
        f"Rows: {listed(f'{key:g}' for key in keys)}."
    )


def between(table: Table, group: list[int], numbers: list[Any], column: int) -> tuple[Any, list[int], str]:
    """Return the number between rows, the rows it rests on, and where it lies in words.

    Args:
        table: The table.
        group: The rows under the exact keys.
        numbers: One or two numbers or arrays, one for each of the last keys.
        column: Index of the column.

    """
    axes, rows, values = _grid(table, group, column)
    first = len(table.keys) - len(numbers)
    placed = [_place(table, table.keys[first + n], axis, x) for n, (axis, x) in enumerate(zip(axes, numbers, strict=True))]
    result: Any = 0.0
    used: dict[int, None] = {}
    for corner in range(2 ** len(numbers)):
        steps = [corner >> n & 1 for n in range(len(numbers))]
        weight: Any = 1.0
        for (_, share, _), step in zip(placed, steps, strict=True):
            weight = weight * (share if step else 1.0 - share)
        at = tuple(low + step for (low, _, _), step in zip(placed, steps, strict=True))
        if isinstance(weight, np.ndarray):
            touched = np.unique(np.broadcast_to(rows[at], weight.shape)[weight != 0]).tolist()
            result = result + np.where(weight, weight * np.nan_to_num(values[at]), 0.0)
        elif weight:
            touched = [int(rows[at])]
            result = result + weight * values[at]
        else:
            continue
        for row in touched:
            _number(table, row, column)
        used.update(dict.fromkeys(touched))
    if isinstance(result, np.ndarray):
        return result, list(used), "between rows, by case"
    return float(result), list(used), ", ".join(said for _, _, said in placed)


def _grid(table: Table, group: list[int], column: int) -> tuple[list[Any], Any, Any]:
    """Return the rising axes of a group, its row numbers and one column's numbers on them; made once."""
    made = table.grids.get((group[0], column))
    if made is None:
        first = len(table.keys) - table.free
        axes: list[Any] = [sorted({table.cells[row][first + n] for row in group}) for n in range(table.free)]  # type: ignore[type-var]
        rows = np.full([len(axis) for axis in axes], -1)
        values = np.full(rows.shape, np.nan)
        for row in group:
            at = tuple(axis.index(table.cells[row][first + n]) for n, axis in enumerate(axes))
            found = table.cells[row][column]
            rows[at], values[at] = row, np.nan if found is None or isinstance(found, str) else found
        made = table.grids[group[0], column] = axes, rows, values
    return made


def _number(table: Table, row: int, column: int) -> None:
    found = table.printed(row, column)
    if isinstance(found, str):
        raise LookupFailed(
            f"{table.name}, {row_words(table, row)}, column {table.columns[column]}, prints '{found}' and no number: "
            "nothing can be interpolated there."
        )


def _place(table: Table, key: str, axis: Any, x: Any) -> tuple[Any, Any, str]:
    """Return the place of the row below ``x`` on one axis, the share of the next row, and both in words."""
    said = ""
    for outside, side, end in ((x < axis[0], "below", axis[0]), (x > axis[-1], "above", axis[-1])):
        if not np.any(outside):
            continue
        if (key, side) not in table.head.beyond:
            raise LookupFailed(
                f"{table.name} ({table.head.title}, {table.head.locator}) is printed for {key} from {axis[0]:g} to "
                f"{axis[-1]:g}; {key} = {_first(x, outside):g} is {side} it. Nothing is read past the end rows; change "
                "the input, or justify a value of your own."
            )
        said = f"{side} the end row {end:g} of {key}, end value used: {table.head.beyond_because}"
    if isinstance(x, np.ndarray):
        inside = np.clip(x, axis[0], axis[-1])
        low = np.clip(np.searchsorted(axis, inside, side="right") - 1, 0, len(axis) - 2)
        start, end = np.asarray(axis)[low], np.asarray(axis)[low + 1]
        return low, (inside - start) / (end - start), said
    inside = min(max(x, axis[0]), axis[-1])
    place = min(bisect.bisect_right(axis, inside) - 1, len(axis) - 2)
    share = (inside - axis[place]) / (axis[place + 1] - axis[place])
    if share in (0.0, 1.0):
        return place, share, said or f"row {inside:g} of {key}"
    return place, share, said or f"between rows {axis[place]:g} and {axis[place + 1]:g} of {key}"


def _first(x: Any, where: Any) -> float:
    """Return the first number of ``x`` for which ``where`` is true."""
    return float(np.ravel(x)[np.argmax(np.ravel(where))])

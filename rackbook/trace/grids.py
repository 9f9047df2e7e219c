"""Tables of a sheet as markdown: grids, checks, further uses of a line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .check import Check
from .errors import SheetError, UnitError
from .figures import figures, set_figures
from .formula import Formula
from .prose import head
from .setting import symbol
from .text import said, spaced
from .units import unit
from .value import Value

#: A computed number less than this share of the largest one of its column is rounding noise, and printed as 0.
NOISE = 1e-6
#: Starts a cell that is a factor on the numbers of its column, and so stands among them.
TIMES = "× "


@dataclass(frozen=True)
class Grid:
    """A table of Values: heads carry the units, every cell is converted to its head's unit.

    Args:
        title: What the table lists.
        heads: Column heads such as ``"F [lbf]"``.
        rows: Values or words, one sequence a row.
        quoted: Values that what follows on the sheet takes from this table, and does not derive.

    """

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Value | str, ...], ...]
    quoted: tuple[Value, ...] = ()


def uses_table(formula: Formula, values: list[Value]) -> str:
    """Return the further uses of a formula as a table: its arguments and results, one use a row."""
    first = values[0].origin.given  # type: ignore[union-attr]
    columns = [n for n in formula.arguments if not first[n].is_word]
    # one unit a column; where a use has another dimension, as in a ratio of whatever to its like, each cell has its own
    of = {n: first[n].unit if _alike([v.origin.given[n] for v in values]) else None for n in columns}  # type: ignore[union-attr]
    heads = [f"${symbol(n)}$" + (f" [{unit(of[n]).written}]" if of[n] else "") for n in columns]
    heads.append(f"${symbol(formula.result)}$" + (f" [{formula.unit.written}]" if formula.unit.name else ""))
    rows = []
    for v in values:
        given = v.origin.given  # type: ignore[union-attr]
        cells = [_in_unit(given[n], of[n]) for n in columns]
        rows.append((*cells, set_figures(figures(v.m_as(formula.unit.name), computed=not v.as_given))))
    return f"The same line for {len(values)} more:\n\n" + table_text(heads, rows, "r" * len(heads))


def _alike(values: list[Value]) -> bool:
    """Return whether values have one dimension."""
    return len({v.measure.dimension for v in values}) == 1


def _in_unit(value: Value, of: str | None) -> str:
    """Return a cell in the unit of its column, or with its own."""
    return said(value.text()) if of is None else set_figures(figures(value.m_as(of), computed=not value.as_given))


def checks_table(checks: list[Check]) -> str:
    """Return checks as a markdown table: demand, capacity, ratio, limit, clause, word."""
    rows = []
    for c in checks:
        clause = "; ".join(filter(None, (str(c.source), c.remedy if c.word != "OK" else "")))
        rows.append((*map(said, (c.name, *c.told, clause)), f"**{c.word}**"))
    return table_text(("Check", "Demand", "Capacity", "Ratio", "Limit", "Clause", "Result"), rows, "wrrrrwl")


def grid_table(grid: Grid) -> str:
    """Return a grid as markdown, its title above.

    Raises:
        UnitError: A cell's dimension is not that of its head.
        SheetError: A row has more or fewer cells than there are heads.

    """
    units = [h[h.rfind("[") + 1 : -1] if h.endswith("]") else None for h in grid.heads]
    for row in grid.rows:
        if len(row) != len(grid.heads):
            raise SheetError(f"Table '{grid.title}': a row has {len(row)} cells under {len(grid.heads)} heads.")
    columns, sides = [], ""
    for n, of in enumerate(units):
        cells = [row[n] for row in grid.rows]
        try:
            columns.append(_column(cells, of))
        except UnitError as e:
            raise UnitError(f"Table '{grid.title}', column '{grid.heads[n]}': {e}") from None
        sides += "r" if all(_among_numbers(c) for c in cells) else "w"
    heads = [_head(h, u) for h, u in zip(grid.heads, units, strict=True)]
    return f"**{said(grid.title)}**\n\n" + table_text(heads, list(zip(*columns, strict=True)), sides)


def _head(text: str, of: str | None) -> str:
    if of is None:
        return head(text)
    return head(text[: text.rfind("[")]) + (f" {said(f'[{unit(of).written}]')}" if of else "")


def _among_numbers(cell: Value | str) -> bool:
    if isinstance(cell, Value) and not cell.is_word:
        return True
    words = str(cell.magnitude) if isinstance(cell, Value) else cell
    return words in ("", "–", "0") or words.startswith(TIMES)


def _column(cells: Sequence[Value | str], of: str | None) -> list[str]:
    """Return the cells under one head; what is rounding noise beside the largest number of the column is 0.

    Raises:
        UnitError: A cell's dimension is not that of its head.

    """
    counts = all(map(_whole, cells))
    numbers = [c.m_as(of) if of is not None else c.magnitude for c in cells if isinstance(c, Value) and not c.is_word]
    least = NOISE * max((float(np.max(np.abs(x))) for x in numbers), default=0.0)
    out = []
    for cell in cells:
        if not isinstance(cell, Value) or cell.is_word:
            out.append(said(cell if isinstance(cell, str) else spaced(cell.magnitude)))
        elif of is None and not counts:
            out.append(said(cell.text()))
        else:
            number = cell.m_as(of) if of is not None else cell.magnitude
            small = cell.computed and np.all(np.abs(number) < least)
            out.append("0" if small else set_figures(figures(number, computed=not cell.as_given and not counts)))
    return out


def _whole(cell: Value | str) -> bool:
    """Return whether a cell is a whole number without unit; a column of such cells is one of counts."""
    return isinstance(cell, Value) and not cell.is_word and not cell.unit and float(cell.magnitude).is_integer()


def table_text(heads: Sequence[str], rows: Sequence[Sequence[str]], columns: str) -> str:
    """Return a markdown pipe table.

    Args:
        heads: Heads, already markdown.
        rows: Cells, already markdown.
        columns: A letter a column: ``l`` left, ``r`` right, ``w`` left and wide (wraps).

    """
    longest = [max([len(str(h)), *(len(str(r[n])) for r in rows)], default=3) for n, h in enumerate(heads)]
    # the dashes carry the columns' shares of the width where the print has to wrap
    shares = [max(4, min(n, 40 if c == "w" else 16)) for n, c in zip(longest, columns, strict=True)]
    rule = ["-" * (s - 1) + (":" if c == "r" else "-") for s, c in zip(shares, columns, strict=True)]
    lines = ["| " + " | ".join(heads) + " |", "|" + "|".join(rule) + "|"]
    return "\n".join([*lines, *("| " + " | ".join(str(c) for c in row) + " |" for row in rows)])


def svg_address(svg: str) -> str:
    """Return an SVG drawing as a data address, so that a sheet is one text."""
    import base64

    return "data:image/svg+xml;base64," + base64.b64encode(svg.encode()).decode()

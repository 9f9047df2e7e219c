"""Tables of a sheet as markdown: grids, checks, further uses of a line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .check import Check
from .errors import SheetError, UnitError
from .figures import figures
from .formula import Formula
from .setting import symbol
from .text import plain
from .units import unit
from .value import Value

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
        rows.append((*cells, figures(v.m_as(formula.unit.name), computed=True)))
    return f"The same line for {len(values)} more:\n\n" + table_text(heads, rows, "r" * len(heads))


def _alike(values: list[Value]) -> bool:
    """Return whether values have one dimension."""
    return len({v.measure.dimension for v in values}) == 1


def _in_unit(value: Value, of: str | None) -> str:
    """Return a cell in the unit of its column, or with its own."""
    return plain(value.text()) if of is None else figures(value.m_as(of), computed=not value.as_given)


def checks_table(checks: list[Check]) -> str:
    """Return checks as a markdown table: demand, capacity, ratio, limit, clause, word."""
    rows = []
    for c in checks:
        clause = "; ".join(filter(None, (str(c.source), c.remedy if c.word != "OK" else "")))
        rows.append((*map(plain, (c.name, *c.told, clause)), f"**{c.word}**"))
    return table_text(("Check", "Demand", "Capacity", "Ratio", "Limit", "Clause", "Result"), rows, "wrrrrwl")


def grid_table(grid: Grid) -> str:
    """Return a grid as markdown, its title above.

    Raises:
        UnitError: A cell's dimension is not that of its head.
        SheetError: A row has more or fewer cells than there are heads.

    """
    units = [h[h.rfind("[") + 1 : -1] if h.endswith("]") else None for h in grid.heads]
    rows, numeric = [], [True] * len(grid.heads)
    counts = {n for n in range(len(grid.heads)) if all(_whole(row[n]) for row in grid.rows if len(row) == len(grid.heads))}
    for row in grid.rows:
        if len(row) != len(grid.heads):
            raise SheetError(f"Table '{grid.title}': a row has {len(row)} cells under {len(grid.heads)} heads.")
        cells = []
        for n, cell in enumerate(row):
            if not isinstance(cell, Value) or cell.is_word:
                said = str(cell if isinstance(cell, str) else cell.magnitude)
                numeric[n] = numeric[n] and (said in ("", "–", "0") or said.startswith(TIMES))
                cells.append(plain(cell.magnitude if isinstance(cell, Value) else cell))
                continue
            try:
                of = units[n]
                if of is None and n in counts:
                    cells.append(figures(cell.magnitude, computed=False))
                    continue
                cells.append(figures(cell.m_as(of), computed=not cell.as_given) if of is not None else plain(cell.text()))
            except UnitError as e:
                raise UnitError(f"Table '{grid.title}', column '{grid.heads[n]}': {e}") from None
        rows.append(cells)
    heads = [
        plain(h if u is None else f"{h[: h.rfind('[')]}[{unit(u).written}]" if u else h[: h.rfind("[")])
        for h, u in zip(grid.heads, units, strict=True)
    ]
    return f"**{plain(grid.title)}**\n\n" + table_text(heads, rows, "".join("r" if x else "w" for x in numeric))


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

"""Long tables of few columns, printed as blocks side by side."""

from __future__ import annotations

from collections.abc import Sequence

from rackbook.trace import Grid, Value

Row = Sequence[Value | str]


def side_by_side(title: str, heads: tuple[str, ...], rows: Sequence[Row], blocks: int = 2) -> Grid:
    """Return a table whose rows run down one block of columns, then down the next; few rows stay in one block."""
    if len(rows) < 2 * blocks:
        return Grid(title, heads, tuple(tuple(r) for r in rows))
    deep = -(-len(rows) // blocks)
    used = -(-len(rows) // deep)
    empty: Row = ("",) * len(heads)
    lines = tuple(
        tuple(cell for b in range(used) for cell in (rows[n + b * deep] if n + b * deep < len(rows) else empty))
        for n in range(deep)
    )
    return Grid(title, heads * used, lines)

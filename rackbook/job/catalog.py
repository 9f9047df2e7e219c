"""The names a job may use, as the published tables list them: shapes, systems, conductor types and sizes."""

from __future__ import annotations

import difflib
import functools
from collections.abc import Iterable, Iterator

from rackbook.tables import table
from rackbook.trace import InputError

from .text import Text, shown

_SHAPES = {
    "post": ("hss", "pipes", "wide_flanges"),
    "rail": ("channels", "angles", "strut", "hss"),
    "brace": ("angles", "hss", "pipes", "channels", "strut"),
}


@functools.cache
def names(of: str, column: str, edition: str = "") -> tuple[str, ...]:
    """Return the distinct texts in a column of a table, in its order; with an edition, only those of its rows."""
    rows = (row for row in table(of).rows if not edition or row["edition"] == edition)
    return tuple(dict.fromkeys(str(row[column]) for row in rows))


@functools.cache
def shapes(use: str) -> tuple[str, ...]:
    """Return the section names a post, rail or brace may be of."""
    return tuple(name for of in _SHAPES[use] for name in names(of, "section" if of == "strut" else "shape"))


def bar_sizes() -> tuple[str, ...]:
    """Return the sizes reinforcing bars are made in."""
    return tuple(f"#{n}" for n in (*range(3, 12), 14, 18))


@functools.cache
def trade_sizes(kind: str) -> tuple[str, ...]:
    """Return the trade sizes a kind of raceway is made in."""
    return tuple(str(row["trade_size"]) for row in table("raceway").rows if row["kind"] == kind)


def near(word: str, allowed: Iterable[str], most: int = 4) -> list[str]:
    """Return the closest allowed spellings, best first.

    >>> near("hss4x4x1/4", ["HSS4X4X1/4", "HSS6X6X1/4", "C6X8.2"], most=1)
    ['HSS4X4X1/4']
    """
    folded = {name.casefold(): name for name in allowed}
    return [folded[name] for name in difflib.get_close_matches(word[:60].casefold(), folded, most, 0.5)]


def listed(word: Text | None, allowed: tuple[str, ...], what: str) -> Iterator[InputError]:
    """Yield a problem when a word is not among the allowed ones, naming the nearest; none when nothing is listed."""
    if word is not None and allowed and word not in allowed:
        close = near(word, allowed)
        few = "Allowed" if len(allowed) <= 20 else "Nearest" if close else "For example"
        some = allowed if len(allowed) <= 20 else close or allowed[:4]
        yield word.place.problem(
            f"{shown(word, 60)} is not {what} in the tables. {few}: {', '.join(some)}. Write one exactly so."
        )

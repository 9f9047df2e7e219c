"""The engineer's own sheet: own lines in full, results of the program quoted with the sheet that derives them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import ClassVar

from rackbook.book import Book
from rackbook.trace import Sheet, Source, Step, Value
from rackbook.trace.sheet import Part

from .told import find

#: What an own sheet is made by: the look-up of values by path in, the parts of the sheet out.
Own = Callable[[Callable[[str], Value]], Iterable[Part]]


@dataclass(frozen=True, eq=False)
class Quotation:
    """The operation that reads a result off the sheet of its topic."""

    source: Source
    of: Value
    name: ClassVar[str] = "quoted"

    def evaluate(self, _: dict[str, Value]) -> Value:
        """Read the same result again."""
        return self.of


def own_sheet(book: Book, function: Own, title: str, purpose: str = "") -> Sheet:
    """Return the sheet of the engineer's own lines.

    A result that is looked up stands on it as a quoted number: an engineer checks a result, and does not derive it again.
    What is reached another way is quoted where a sheet prints it.

    Raises:
        LookupFailed: The book has no value of a path that is looked up.

    """
    found = function(lambda path: quoted(book, path))
    parts = (found,) if isinstance(found, Part) else tuple(found)
    return Sheet(function.__name__, title, purpose, parts, book.derived_on, book.job.display.units == "US+SI")


def quoted(book: Book, path: str) -> Value:
    """Return an input as it is, and a result as a number read off the sheet that has it.

    Raises:
        LookupFailed: The book has no such value.

    """
    value = find(book, path)
    if not value.computed:
        return value
    title = _sheet_of(book, value)
    source = Source("table", f"{title} sheet" if title else f"result {path}")
    return Value(value.magnitude, value.measure, Step(Quotation(source, value), {}), value.symbol)


def _sheet_of(book: Book, value: Value) -> str:
    """Return the title of the sheet that prints a value, as a line or in a check, or else of the first one that rests on it."""
    if title := book.derived_on.get(id(value.root)):
        return title
    for title, c in book.checks:
        if any(v is not None and v.root is value.root for v in (c.demand, c.capacity)):
            return title
    return next((s.title for s in book.sheets if any(v.root is value.root for v in s.values())), "")

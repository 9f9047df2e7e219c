"""What a notebook tells in words: values by their path, checks, traces, what rests on an input, advice."""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.book import Book
from rackbook.trace import LookupFailed, Value
from rackbook.trace.errors import nearest
from rackbook.trace.grids import checks_table, table_text
from rackbook.trace.text import plain


@dataclass(frozen=True)
class Said:
    """A few lines of advice that show themselves in a cell."""

    text: str

    def _repr_markdown_(self) -> str:
        return "\n\n".join(plain(line) for line in self.text.splitlines())


def find(book: Book, path: str) -> Value:
    """Return the result or input of a path.

    Raises:
        LookupFailed: There is none; the nearest is named.

    """
    for known in (book.values, book.inputs):
        if path in known:
            return known[path]
    raise LookupFailed(f"The book has no value '{path}'.{nearest(path, (*book.values, *book.inputs))}")


def checks_text(book: Book, keys: tuple[str, ...] = ()) -> str:
    """Return the checks as markdown, the count of each result first."""
    sheets = [book.sheet(key) for key in keys] if keys else list(book.sheets)
    titles = [sheet.title for sheet in sheets]
    found = [(title, c) for title, c in book.checks if title in titles]
    words = [c.word for _, c in found]
    counted = ", ".join(f"{words.count(word)} {word}" for word in dict.fromkeys(("OK", "NOT OK", *words)))
    blocks = ["## Checks", f"{len(found)} checks: {counted}."]
    for title in titles:
        own = [c for of, c in found if of == title]
        if own:
            blocks += [f"### {plain(title)}", checks_table(own)]
    return "\n\n".join(blocks) + "\n"


def trace_text(path: str, value: Value) -> str:
    """Return the trace of a value as markdown."""
    return f"## Where {plain(path)} comes from\n\n```text\n{value.trace().replace('```', chr(39) * 3)}\n```\n"


def touches_text(book: Book, path: str) -> str:
    """Return what rests on an input, with its present values, as markdown."""
    touched = book.touches(path)
    now = book.inputs[path].text()
    head = f"## What rests on {plain(path)}\n\nNow {plain(now)}; {len(touched)} results follow it."
    rows = [(plain(p), plain(_brief(book.values[p]))) for p in touched]
    return f"{head}\n\n{table_text(('Result', 'Now'), rows, 'wl')}\n" if rows else head + "\n"


def _brief(value: Value) -> str:
    text = value.text()
    return text if len(text) <= 60 else text[:57] + "..."

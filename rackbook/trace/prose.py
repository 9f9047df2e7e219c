"""A sheet's own sentences: symbols in them are set as symbols, and a table's place is said as one reads it aloud."""

from __future__ import annotations

import functools
import re
from typing import Any, NamedTuple

from .formula import FORMULAS
from .setting import symbol
from .source import MARK
from .text import said
from .value import Source, Step, Value

#: Greek letters that stand spelled in sentences; other such words (delta, beta) have meanings of their own.
_SPELLED = ("rho", "epsilon", "phi", "Omega")
_TOKEN = re.compile(rf"(?<![\w$\\.])([A-Za-z]+(?:_[A-Za-z0-9]+)+|{'|'.join(_SPELLED)})(?!\w)('(?!\w))?")
_GREEK = "alpha|beta|gamma|delta|Delta|epsilon|eta|theta|kappa|rho|sigma|phi|psi|Omega"
_SYMBOL = re.compile(rf"[A-Za-z]|(?:[A-Za-z]{{1,2}}|{_GREEK})_\w+|{_GREEK}")


@functools.cache
def _known(count: int) -> frozenset[str]:
    """Return the symbols of the library's formulas; ``count`` tells a grown library from the one remembered."""
    return frozenset(n for f in FORMULAS.values() for n in (*f.arguments, *(line.target for line in f.lines)))


def prose(text: object) -> str:
    """Return markdown of a sentence; the symbols of formulas in it (``S_DS``, ``f_c'``) are set as symbols."""
    words = str(text)
    known = _known(len(FORMULAS)) | (text.symbols if isinstance(text, Place) else frozenset())
    out, end = "", 0
    for m in _TOKEN.finditer(words):
        name, primed = m[1], f"{m[1]}_prime"
        stop = m.end(1)
        if m[2] and primed in known:
            name, stop = primed, m.end()
        if name in known or name in _SPELLED:
            out += _piece(words[end : m.start()]) + f"${symbol(name)}$"
            end = stop
    return (out + _piece(words[end:])).strip().replace(f" {MARK}", f"\u00a0{MARK}")


def _piece(text: str) -> str:
    """Return part of a sentence with the spaces at its ends."""
    return " " * text[:1].isspace() + said(text) + " " * text[1:][-1:].isspace()


def head(text: str) -> str:
    r"""Return the name in a column's head; what is a symbol, or symbols with a slash between them, is set as such.

    >>> head("w_x"), head("d_req/D"), head("P max"), head("Part")
    ('$w_{x}$', '$d_{req}$\\/$D$', '$P_{max}$', 'Part')
    """
    name = text.strip()
    if re.fullmatch(r"[A-Za-z] (max|min)", name):
        name = name.replace(" ", "_")
    parts = re.split(r"([/ ])", name)
    if not all(_SYMBOL.fullmatch(part) for part in parts[::2]):
        return said(name)
    return "".join(f"${symbol(p)}$" if n % 2 == 0 else p.replace("/", "\\/") for n, p in enumerate(parts))


class Place(NamedTuple):
    """Where a number stands: for a cell its table and row, its column unless the symbol names it, and a mark."""

    row: str
    column: str = ""
    mark: str = ""
    read: bool = False

    @property
    def symbols(self) -> frozenset[str]:
        """What a table calls by symbols that no formula has."""
        return frozenset(re.findall(r"\b[A-Za-z]_\w+", str(self))) if self.read else frozenset()

    def __str__(self) -> str:
        return " ".join(filter(None, (", ".join(filter(None, (self.row, self.column))), self.mark)))


def place(value: Value) -> Place:
    """Return where the cell stands that a value was read from; of any other value its source."""
    source, operation = value.source, value.origin.operation if isinstance(value.origin, Step) else None
    if not hasattr(operation, "where"):
        return Place(str(source).removesuffix(source.mark).rstrip().removeprefix("input: "), "", source.mark)
    read: Any = operation
    column = read.column.partition(" [")[0]
    table = Source("table", source.title, source.edition, read.clause)
    row = ", ".join(filter(None, (table.citation, _row(read))))
    named = "" if column in (value.symbol, *read.table.keys) else f"column {_words(column)}"
    return Place(row, named, source.mark, True)


def _row(read: Any) -> str:
    """Return the row as its keys: a short key with its name (exposure C, size 4), a band between its ends."""
    where = re.sub(r" \(printed [^)]*\)", "", read.where)
    if not where.startswith("row ") or " of " in where:
        return _words(where)
    parts = where.removeprefix("row ").split(", ")
    names = [n for n in read.arguments if n not in ("edition", "from", "to")]
    if len(parts) > 1 and parts[0] in parts[-1].split():  # the band names what it is a band of
        parts, names = parts[1:], names[1:]
    if len(names) != len(parts):
        return _words(", ".join(parts))
    return ", ".join(_words(_key(name, part)) for name, part in zip(names, parts, strict=True))


def _key(name: str, key: str) -> str:
    """Return a key as one reads it: with its name where it says little alone."""
    if name == "hp":
        return f"{key} hp"
    return f"{name} {key}" if "<" not in key and (len(key) < 4 or key[0].isdigit()) else key


def _words(text: str) -> str:
    """Return a table's own names as words; symbols stay for ``prose``."""
    text = re.sub(r"([A-Za-z])_over_([A-Za-z])", r"\1/\2", text.replace("<=", "≤").replace("#", "No. "))
    text = re.sub(r"\b(cu|al)_(\d+)C\b", lambda m: f"{ {'cu': 'copper', 'al': 'aluminum'}[m[1]] }, {m[2]} °C", text)
    return re.sub(r"\b[A-Za-z0-9]{2,}(?:_[A-Za-z0-9]+)+", lambda m: m[0].replace("_", " "), text)

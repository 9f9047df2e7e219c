"""The head of a table file: lines ``# field: text`` above the columns, and columns written ``name [unit]``."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass, field
from pathlib import Path

from ..trace import LookupFailed

FIELDS = ("source", "edition", "how", "keys", "band", "between", "beyond", "cross-checked", "note")
HOWS = ("read", "derived", "memory")
#: How a table says which of its two ends a band holds.
BANDS = {"from <= x < to": (True, False), "from < x <= to": (False, True), "from <= x <= to": (True, True)}
_COLUMN = re.compile(r"^(?P<name>.*?)(?: \[(?P<unit>[^\]]+)\])?$")


@dataclass(frozen=True)
class Head:
    """What a table says of itself.

    Attributes:
        title: Standard or document.
        locator: Table, figure or clause in it.
        edition: Edition as the trade writes it, empty where a key column ``edition`` says it row by row.
        how: ``read``, ``derived``, ``memory`` or ``per row``.
        keys: Names of the key columns, first key first.
        band: Whether a band holds its lower and its upper end; None for a table without bands.
        whole: Bands of whole numbers only.
        last_closed, first_closed: The last (first) band also holds its outer end.
        between: The last keys, between whose rows the standard lets one interpolate.
        beyond: Keys and sides (``"above"``, ``"below"``) on which the end value is used past the printed rows.
        beyond_because: The reason the end value may be used.
        checked: How the numbers were cross-checked by arithmetic.
        notes: Remarks, and disagreements between sources.

    """

    title: str
    locator: str
    edition: str
    how: str
    keys: tuple[str, ...]
    checked: str
    band: tuple[bool, bool] | None = None
    whole: bool = False
    first_closed: bool = False
    last_closed: bool = False
    between: tuple[str, ...] = ()
    beyond: frozenset[tuple[str, str]] = frozenset()
    beyond_because: str = ""
    notes: tuple[str, ...] = field(default=())


def split_column(head: str) -> tuple[str, str]:
    """Return name and unit of a column head: ``"cu_75C [A]"`` gives ``("cu_75C", "A")``."""
    match = _COLUMN.match(head.strip())
    assert match is not None  # the pattern takes every text
    return match["name"], match["unit"] or ""


def read_file(path: Path) -> tuple[Head, list[str], list[list[str]]]:
    """Return the head, the column heads and the rows (as text) of a table file.

    Raises:
        LookupFailed: The head lacks a field or has one that is not known, or a row is of another length.

    """
    fields: dict[str, list[str]] = {}
    with path.open(encoding="utf-8", newline="") as file:
        lines = file.read().splitlines()
    body = next((i for i, line in enumerate(lines) if not line.startswith("#")), len(lines))
    for number, line in enumerate(lines[:body], 1):
        name, _, text = line[1:].partition(":")
        if name.strip() not in FIELDS:
            raise LookupFailed(f"{path.name}:{number}: '{name.strip()}' is not a field of a table's head.")
        fields.setdefault(name.strip(), []).append(text.strip())
    columns, *rows = csv.reader(lines[body:])
    for number, row in enumerate(rows, body + 2):
        if len(row) != len(columns):
            raise LookupFailed(f"{path.name}:{number}: {len(row)} cells under {len(columns)} columns.")
    return _head(path.name, fields), columns, rows


def _head(file: str, fields: dict[str, list[str]]) -> Head:
    for need in ("source", "how", "keys", "cross-checked"):
        if need not in fields:
            raise LookupFailed(f"{file}: the head lacks '# {need}:'.")
    how = fields["how"][0]
    if how not in (*HOWS, "per row"):
        raise LookupFailed(f"{file}: '# how: {how}' must be read, derived, memory or per row.")
    title, _, locator = fields["source"][0].partition(", ")
    rule = fields.get("band", [""])[0]
    band = next((ends for text, ends in BANDS.items() if rule.startswith(text)), None)
    if rule and band is None:
        raise LookupFailed(f"{file}: '# band: {rule}' must begin with one of: {'; '.join(BANDS)}.")
    sides, _, because = fields.get("beyond", [""])[0].partition(" | ")
    beyond = frozenset((key, side) for key, _, side in (part.strip().partition(" ") for part in sides.split(";")) if key)
    keys, free = _names(fields["keys"][0]), _names(fields.get("between", [""])[0])
    if free != keys[len(keys) - len(free) :]:
        raise LookupFailed(f"{file}: '# between:' must name the last of the keys {', '.join(keys)}.")
    return Head(
        title=title,
        locator=locator,
        edition=fields.get("edition", [""])[0].removeprefix(f"{title.split()[-1]}-"),
        how=how,
        keys=keys,
        checked=fields["cross-checked"][0],
        band=band,
        whole="whole numbers" in rule,
        first_closed="first row" in rule,
        last_closed="last row" in rule,
        between=free,
        beyond=beyond,
        beyond_because=because,
        notes=tuple(fields.get("note", ())),
    )


def _names(text: str) -> tuple[str, ...]:
    return tuple(name.strip() for name in text.split(",") if name.strip())

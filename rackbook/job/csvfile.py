"""Read a schedule (equipment.csv, circuits.csv) into cells that know their line, row and place in the text."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from rackbook.trace import InputError

from .text import Place, Text, shown

#: One cell with what ends it: quoted (quotes doubled inside) or plain, then a comma, a line end or the end.
_CELL = re.compile(r'(?:"([^"]*(?:""[^"]*)*)"|([^,"\r\n]*))(,|\r\n|\n|\r|\Z)')
_BREAK = re.compile("\r\n|\n|\r")
#: Far above any rack; a table that is longer or wider is another table.
MOST_ROWS, MOST_CELLS = 1000, 60
_HEAD = re.compile(r"\s*([A-Za-z_][A-Za-z0-9_]{0,39})\s*(?:\[([^\[\]]*)\])?\s*")


@dataclass(frozen=True)
class Cell:
    """One cell: the text in it, its line, and the span of the file it fills (quotes included)."""

    text: str
    line: int
    start: int
    end: int


@dataclass(frozen=True)
class Schedule:
    """A schedule as written: heads by column name (each with the unit in its brackets) and rows of cells."""

    file: str
    heads: dict[str, Text]
    rows: list[dict[str, Text]]
    problems: list[InputError] = field(default_factory=list)


def cells(file: str, text: str) -> list[list[Cell]]:
    """Return the rows of cells of a comma-separated text (RFC 4180); blank lines give no row.

    Raises:
        InputError: A quote stands where none may stand or is never closed; or the table is far too long.

    """
    rows: list[list[Cell]] = []
    row: list[Cell] = []
    at, line = 0, 1
    while at < len(text) or row:
        found = _CELL.match(text, at)
        if not found:
            raise InputError(
                "the quotes of a cell do not close, or stand inside it. A cell with a comma or a quote is written"
                ' "in quotes", a quote in it as "".',
                file=file,
                line=line,
            )
        quoted, plain, stop = found.groups()
        value = plain if quoted is None else quoted.replace('""', '"')
        row.append(Cell(value, line, at, found.end() - len(stop)))
        line += len(_BREAK.findall(quoted or "")) + (stop not in (",", ""))
        at = found.end()
        if len(row) > MOST_CELLS or len(rows) > MOST_ROWS:
            raise InputError(
                f"the table goes on too long. Allowed: {MOST_ROWS} rows, {MOST_CELLS} cells a row.", file=file, line=line
            )
        if stop != ",":
            if any(cell.text.strip() for cell in row):
                rows.append(row)
            row = []
    return rows


def read_schedule(file: str, text: str, key: str = "tag") -> Schedule:
    """Return a schedule; what is wrong with heads or with the shape of rows is listed in its ``problems``.

    Cells are stripped of blanks around them. ``field`` of a cell's place is ``row 5 (T-1), weight [lbf]``: rows are
    counted under the head.

    """
    rows = cells(file, text)
    if not rows:
        raise InputError("the file is empty. It needs a row of heads and a row for each item.", file=file, line=1)
    problems: list[InputError] = []
    names = _heads(file, rows[0], problems)
    heads = {head[0]: head[1] for head in names if head}
    out = []
    for number, row in enumerate(rows[1:], start=1):
        tag = next((c.text.strip() for c, head in zip(row, names, strict=False) if head and head[0] == key), "")
        label = f"row {number} ({shown(tag, 24)[1:-1]})" if tag else f"row {number}"
        place = Place(file, label, row[0].line)
        if len(row) != len(names):
            problems.append(
                place.problem(
                    f"{len(row)} cells under {len(names)} heads. Each row has as many cells as the first line; leave"
                    " a cell blank rather than out, and put a text with a comma in quotes."
                )
            )
            continue
        entry: dict[str, Text] = {}
        for head, cell in zip(names, row, strict=False):
            value = cell.text.strip(" \u00a0")
            if head is None:
                if value:
                    problems.append(place.problem(f"the cell {shown(value)} stands under no head. Name its column."))
                continue
            where = Place(file, f"{label}, {head[1]}", cell.line, cell.start, cell.end)
            entry[head[0]] = Text(value, where, head[1].unit or "")
        out.append(entry)
    return Schedule(file, heads, out, problems)


def _heads(file: str, row: list[Cell], problems: list[InputError]) -> list[tuple[str, Text] | None]:
    """Return name and head for each column; None for a column whose head is blank or unusable."""
    names: list[tuple[str, Text] | None] = []
    seen: set[str] = set()
    for number, cell in enumerate(row, start=1):
        place = Place(file, f"head {number}", cell.line, cell.start, cell.end)
        if not cell.text.strip():
            names.append(None)
            continue
        found = _HEAD.fullmatch(cell.text)
        if not found:
            problems.append(place.problem(f"{shown(cell.text)} is not a head. Write `name` or `name [unit]`."))
            names.append(None)
        elif found[1] in seen:
            problems.append(place.problem(f"the column {found[1]} stands twice. Keep one of them."))
            names.append(None)
        else:
            seen.add(found[1])
            unit = (found[2] or "").strip()
            written = f"{found[1]} [{unit}]" if found[2] is not None else found[1]
            names.append((found[1], Text(written, place, unit)))
    return names

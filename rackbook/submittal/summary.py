"""Plain tables of the front and back matter, and the check summary: sheet by sheet, a line a check."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence

from ..trace.text import said

_WORDING = (
    (re.compile(r" \([a-z][^()]*\)$"), ""),  # a note behind the clause; the sheet has it
    (re.compile(r"^(\w+\.(?:csv|yaml)), .*, line (\d+)$"), r"\1, line \2"),
    (re.compile(r"\bInformational Note\b"), "Inf. Note"),
)


def grid(heads: Sequence[str], rows: Iterable[Sequence[object]], sides: str = "", *, code: Sequence[int] = ()) -> str:
    """Return a pipe table of plain texts; ``sides`` holds one letter a column (l, r, c)."""
    sides = sides.ljust(len(heads), "l")
    rule = {"l": ":---", "r": "---:", "c": ":--:"}
    lines = ["| " + " | ".join(said(h) for h in heads) + " |", "|" + "|".join(rule[s] for s in sides[: len(heads)]) + "|"]
    for row in rows:
        cells = [f"`{cell}`" if n in code else said(cell) for n, cell in enumerate(row)]
        lines.append("| " + " | ".join(_judged(cell) for cell in cells) + " |")
    return "\n".join(lines)


def _judged(cell: str) -> str:
    """Set a failing word in bold, so that it shows in black and white."""
    return f"**{cell}**" if cell in ("NOT OK", "OPEN", "FAIL") else cell


def ranked(checks: Sequence[Sequence[str]]) -> str:
    """Return checks of any sheets as one table, in the order they come."""
    heads = ("Check", "Sheet", "Demand", "Capacity", "Ratio", "Clause", "Result")
    rows = ((told(row[1]), row[0], row[2], row[3], _of_limit(row), _number(str(row[6])), row[7]) for row in checks)
    return grid(heads, rows, "llrrrll")


def _number(clause: str) -> str:
    """Return a clause without the words behind its last number."""
    publication, *parts = clause.split(", ")
    while parts and not re.search(r"\d", parts[-1]):
        parts.pop()
    return _short(", ".join((publication, *parts)), "")


def _of_limit(row: Sequence[str]) -> str:
    return row[4] if row[5] == "1" else f"{row[4]} (limit {row[5]})"


def told(name: str) -> str:
    """Return the name of a check with the label of its load combination, which the sheet spells out.

    >>> told("Weld of the rail, rail 1 at post 2 (2.3.6-6: 1.42 D + 1.3 Q along)"), told("Drift, top of post 2, D + 0.6 W")
    ('Weld of the rail, rail 1 at post 2 (2.3.6-6)', 'Drift, top of post 2, D + 0.6 W')
    """
    return re.sub(r"\((\d[\d.]*-\d+\w?): [^()]*\)$", r"(\1)", name)


#: A sheet of at least so many checks, all named by the thing they are of, is told with a line a thing.
_MANY = 12


def summary(checks: Sequence[Sequence[str]]) -> list[str]:
    """Return the checks as markdown blocks: a title and a table a sheet, the publication cited most said once.

    A long sheet whose checks are all named ``thing: what`` has one line for each thing, its governing check; what is not OK
    keeps a line of its own.

    Args:
        checks: Rows (sheet, name, demand, capacity, ratio, limit, clause, word).

    """
    blocks = []
    for sheet in dict.fromkeys(row[0] for row in checks):
        rows: list[Sequence[str]] = [(told(row[1]), *row[2:]) for row in checks if row[0] == sheet]
        heads, sides = ["Check", "Demand", "Capacity", "Ratio", "Limit", "Clause", "Result"], "lrrrrll"
        publication, uses = Counter(str(row[5]).partition(", ")[0] for row in rows).most_common(1)[0]
        cited = uses > 1 and any(str(row[5]).startswith(f"{publication}, ") for row in rows)
        notes = [f"clauses of {publication} where no other is named"] if cited else []
        if len(rows) >= _MANY and all(": " in row[0] for row in rows) and len({_thing(row) for row in rows}) < len(rows):
            notes.append(f"of {len(rows)} checks the governing one of each item, and every one that is not OK")
            rows = _governing(rows)
        cells = [[*row[:5], _short(str(row[5]), publication if cited else ""), row[6]] for row in rows]
        if all(row[4] == "1" for row in cells):
            heads, cells, sides = [h for h in heads if h != "Limit"], [[*row[:4], *row[5:]] for row in cells], "lrrrll"
        blocks.append(f"**{said(': '.join((sheet, *notes[:1])) + ''.join(f'; {note}' for note in notes[1:]))}**")
        blocks.append(grid(heads, cells, sides))
    return blocks


def _thing(row: Sequence[str]) -> str:
    return row[0].partition(": ")[0]


def _governing(rows: Sequence[Sequence[str]]) -> list[Sequence[str]]:
    """Return of each thing the row with the largest ratio, and every row that is not OK."""
    out: list[Sequence[str]] = []
    for thing in dict.fromkeys(map(_thing, rows)):
        of = [row for row in rows if _thing(row) == thing]
        most = max((row for row in of if row[6] == "OK"), key=lambda row: float(row[3].replace(",", "")), default=None)
        name, kept = f" (largest of {len(of)} checks)" if len(of) > 1 else "", [row for row in of if row[6] != "OK"]
        out += [(most[0] + name, *most[1:])] if most else []
        out += kept
    return out


def _short(clause: str, publication: str) -> str:
    """Return a clause as short as it can be looked up by."""
    clause = clause.removeprefix(f"{publication}, ") if publication else clause
    for pattern, shorter in _WORDING:
        clause = pattern.sub(shorter, clause)
    return clause

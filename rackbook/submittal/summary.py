"""Plain tables of the front and back matter, and the check summary: sheet by sheet, a line a check."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence

from ..trace.text import plain

_WORDING = (
    (re.compile(r" \([a-z][^()]*\)$"), ""),  # a note behind the clause; the sheet has it
    (re.compile(r"^(\w+\.(?:csv|yaml)), .*, line (\d+)$"), r"\1, line \2"),
    (re.compile(r"\bInformational Note\b"), "Inf. Note"),
)


def grid(heads: Sequence[str], rows: Iterable[Sequence[object]], sides: str = "", *, code: Sequence[int] = ()) -> str:
    """Return a pipe table of plain texts; ``sides`` holds one letter a column (l, r, c)."""
    sides = sides.ljust(len(heads), "l")
    rule = {"l": ":---", "r": "---:", "c": ":--:"}
    lines = ["| " + " | ".join(plain(h) for h in heads) + " |", "|" + "|".join(rule[s] for s in sides[: len(heads)]) + "|"]
    for row in rows:
        cells = [f"`{cell}`" if n in code else plain(cell) for n, cell in enumerate(row)]
        lines.append("| " + " | ".join(_judged(cell) for cell in cells) + " |")
    return "\n".join(lines)


def _judged(cell: str) -> str:
    """Set a failing word in bold, so that it shows in black and white."""
    return f"**{cell}**" if cell in ("NOT OK", "OPEN", "FAIL") else cell


def summary(checks: Sequence[Sequence[str]]) -> list[str]:
    """Return the checks as markdown blocks: a heading and a table a sheet, the publication cited most said once.

    Args:
        checks: Rows (sheet, name, demand, capacity, ratio, limit, clause, word).

    """
    blocks = []
    for sheet in dict.fromkeys(row[0] for row in checks):
        rows = [row[1:] for row in checks if row[0] == sheet]
        heads = ["Check", "Demand", "Capacity", "Ratio", "Limit", "Clause", "Result"]
        publication, uses = Counter(str(row[5]).partition(", ")[0] for row in rows).most_common(1)[0]
        said = uses > 1 and any(str(row[5]).startswith(f"{publication}, ") for row in rows)
        cells = [[*row[:5], _short(str(row[5]), publication if said else ""), row[6]] for row in rows]
        sides = "lrrrrll"
        if all(row[4] == "1" for row in cells):
            heads, cells, sides = [h for h in heads if h != "Limit"], [[*row[:4], *row[5:]] for row in cells], "lrrrll"
        blocks.append(f"## {plain(sheet)}")
        if said:
            blocks.append(plain(f"Clauses of {publication} where no other publication is named."))
        blocks.append(grid(heads, cells, sides))
    return blocks


def _short(clause: str, publication: str) -> str:
    """Return a clause as short as it can be looked up by."""
    clause = clause.removeprefix(f"{publication}, ") if publication else clause
    for pattern, shorter in _WORDING:
        clause = pattern.sub(shorter, clause)
    return clause

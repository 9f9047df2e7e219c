"""The system the engineer takes the rack for: its row, its coefficients, its height limit, and the redundancy factor."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.tables import table
from rackbook.trace import Check, Source, Value, check, given, pick, word

from ..words import as_word, plain_word

#: What is printed beside a limit the table marks with an exception.
FOOTNOTE = "footnotes of the table permit exceptions: read them in the adopted edition"
REMEDY = "choose a row of the table that is permitted at this height and category, and state the reason anew"
ONE = given(1.0, "", Source("clause", "ASCE/SEI 7", "16 and 22", "12.3.4.1", "memory"), "rho")
MORE = given(1.3, "", Source("clause", "ASCE/SEI 7", "16 and 22", "12.3.4.2", "memory"), "rho")


@dataclass(frozen=True)
class System:
    """One row of the system tables, as chosen.

    Attributes:
        row, title, table: Key, name and table of the row; words.
        R, Omega_0, C_d: Response modification, overstrength, deflection amplification.
        limit: What the table says of the height in this category: NL, NP, or a number of feet; None in category A.
        check: The height against the limit; None where there is no limit.
        reason: The engineer's reason for the row.
        remark: The table's footnotes in words, or empty.

    """

    row: Value
    title: str
    table: str
    R: Value
    Omega_0: Value
    C_d: Value
    limit: Value | None
    check: Check | None
    reason: str
    remark: str


def system(edition: str, row: Any, category: Any, height: Value, reason: str = "") -> System:
    """Return a row of the system tables with its height limit checked.

    A height beyond the limit, or a system not permitted, is a failing check, not an error.

    Args:
        edition: ``"7-16"`` or ``"7-22"``.
        row: Key of the table ``seismic_systems``.
        category: Seismic design category, A to F.
        height: Height of the structure above its base.
        reason: Why this row was chosen.

    Raises:
        LookupFailed: The table has no such row for the edition.

    """
    t, name, letter = table("seismic_systems"), plain_word(row), plain_word(category)
    key = (edition, name)
    own = as_word(row, "system")

    def cell(column: str) -> Value:
        return t.cell((edition, own), column, column)

    clause = cell("clause").magnitude
    remark = cell("remark").magnitude if t.has(key, "remark") else ""
    limit = (
        None if letter == "A" else t.cell((edition, own), f"limit_{letter}", "h_limit", by={"SDC": as_word(category, "SDC")})
    )
    judged = None if limit is None else _height(limit, height, letter, clause, remark)
    return System(own, cell("title").magnitude, clause, cell("R"), cell("Omega_0"), cell("C_d"), limit, judged, reason, remark)


def _height(limit: Value, height: Value, letter: str, clause: str, remark: str) -> Check | None:
    """Return the height against what the table prints; None where it prints NL."""
    source = Source("clause", "ASCE/SEI 7", limit.source.edition, clause, "memory")
    remedy = "; ".join(filter(None, (REMEDY, FOOTNOTE if "footnote" in remark else "")))
    if not limit.is_word:
        return check(f"Height of the system in category {letter}", height, limit, source, remedy=remedy)
    if limit.magnitude != "NP":
        return None
    nothing = Value(0.0, "ft", limit.origin, "h_limit")
    beyond = Value(float("inf"), "", limit.origin, "ratio")
    return Check(f"System permitted in category {letter} (NP)", height, nothing, source, 1.0, remedy, beyond)


def redundancy(table: str, category: Any) -> Value:
    """Return the redundancy factor rho.

    1.0 for structures not similar to buildings (Table 15.4-2) and in categories A to C; otherwise 1.3, the
    conditions under which 1.0 is allowed not being examined.

    Args:
        table: Table of the system, ``"Table 15.4-2"`` or another.
        category: Seismic design category, A to F.

    """
    letter = plain_word(category)
    by = {"SDC": as_word(category, "SDC"), "table": word(table, Source("derivation", "table of the system"), "table")}
    if table == "Table 15.4-2":
        chosen, because = "12.3.4.1", "nonbuilding structure not similar to buildings"
    elif letter in "ABC":
        chosen, because = "12.3.4.1", f"seismic design category {letter}"
    else:
        chosen, because = "12.3.4.2", "categories D to F; the conditions for 1.0 are not examined"
    return pick("rho", {"12.3.4.1": ONE, "12.3.4.2": MORE}, chosen, because, by)

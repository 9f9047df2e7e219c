"""The system the engineer takes the rack for: its row, its coefficients, its height limit, and the redundancy factor."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.tables import table
from rackbook.trace import Check, Source, Value, check, formula, given, largest, pick, word

from ..words import as_word, plain_word

#: Table of nonbuilding structures not similar to buildings, and its row for a single row of posts across the rack.
OWN, ACROSS = "Table 15.4-2", "self_supporting"
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
        detailing: What the table asks of the steel.

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
    detailing: str = ""

    @property
    def similar(self) -> str:
        """Whether the table counts the system as similar to buildings, in words."""
        return "not similar to buildings" if self.table == OWN else "similar to buildings"


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
    return System(
        own, cell("title").magnitude, clause, cell("R"), cell("Omega_0"), cell("C_d"), limit, judged, reason, remark,
        cell("detailing").magnitude,
    )  # fmt: skip


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


@formula(Source("clause", "ASCE/SEI 7", "16 and 22", "12.2.2 and 12.4.3.1, on Q_E of the smaller R", "derived"), Omega_0="")
def overstrength_on(Omega_t, R, R_t):
    """Return the overstrength of the system across on a horizontal effect worked out with another R."""
    Omega_0 = Omega_t * R / R_t
    return Omega_0


@formula(Source("clause", "ASCE/SEI 7", "16 and 22", "12.2.2 and 12.8.6, on forces of the smaller R", "derived"), C_d="")
def deflection_on(C_dt, R, R_t):
    """Return the deflection amplification of the system across on displacements worked out with another R."""
    C_d = C_dt * R / R_t
    return C_d


@dataclass(frozen=True)
class Systems:
    """The systems of the two directions, and the factors used with them.

    Attributes:
        along: The row the engineer chose.
        across: The row across the rack where it is another one; None where the chosen row serves both.
        R_across: R used across: the smaller of both.
        Omega_0: Overstrength factor used in both directions, the larger on the horizontal effect as worked out.
        C_d_across: Deflection amplification across, the larger on the displacements as worked out.

    """

    along: System
    across: System | None
    R_across: Value
    Omega_0: Value
    C_d_across: Value

    @property
    def floor_table(self) -> str:
        """The table whose least base shear is used: that of structures not similar to buildings where one direction is."""
        return self.along.table if self.across is None else self.across.table


def systems(edition: str, row: Any, category: Any, height: Value, reason: str = "", single: bool = False) -> Systems:
    """Return the systems of both directions.

    A frame system of Table 15.4-1 holds along the rack. A single row of posts has no frame across it: there the rack is
    a self-supporting structure not similar to buildings, and of both rows the more severe factors are used across.

    Args:
        edition: ``"7-16"`` or ``"7-22"``.
        row: Key of the table ``seismic_systems``.
        category: Seismic design category, A to F.
        height: Height of the structure above its base.
        reason: Why this row was chosen.
        single: Whether the posts stand in a single row.

    Raises:
        LookupFailed: The table has no such row for the edition.

    """
    along = system(edition, row, category, height, reason)
    if not single or along.table != "Table 15.4-1":
        return Systems(along, None, along.R, along.Omega_0, along.C_d)
    across = system(edition, ACROSS, category, height)
    R = along.R if along.R.magnitude <= across.R.magnitude else across.R
    Omega_t = overstrength_on(Omega_t=across.Omega_0, R=R, R_t=across.R)
    C_dt = deflection_on(C_dt=across.C_d, R=R, R_t=across.R)
    return Systems(
        along, across, R,
        largest("Omega_0", {"system along": along.Omega_0, "system across": Omega_t}),
        largest("C_d", {"system along": along.C_d, "system across": C_dt}),
    )  # fmt: skip


def redundancy(table: str, category: Any) -> Value:
    """Return the redundancy factor rho.

    1.0 for structures not similar to buildings (Table 15.4-2) and in categories A to C; otherwise 1.3, without
    examining whether 12.3.4.2 allows 1.0.

    Args:
        table: Table of the system, ``"Table 15.4-2"`` or another.
        category: Seismic design category, A to F.

    """
    letter = plain_word(category)
    by = {"SDC": as_word(category, "SDC"), "table": word(table, Source("derivation", "table of the system"), "table")}
    if table == OWN:
        chosen, because = "12.3.4.1", "nonbuilding structure not similar to buildings"
    elif letter in "ABC":
        chosen, because = "12.3.4.1", f"seismic design category {letter}"
    else:
        chosen, because = "12.3.4.2", "categories D to F: 1.3, without examining 12.3.4.2 for 1.0"
    return pick("rho", {"12.3.4.1": ONE, "12.3.4.2": MORE}, chosen, because, by)

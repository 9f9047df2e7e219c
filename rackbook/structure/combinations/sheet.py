"""The sheet of load combinations: unit cases, every row of the standard with what it expands to, factors in full."""

from __future__ import annotations

import re
from collections.abc import Iterator

import numpy as np

from rackbook.trace import Grid, Heading, Remark, Sheet, Source, Value, given
from rackbook.trace.sheet import Part

from .job import Combinations
from .rows import ROOF, SEISMIC, Row
from .sets import CombinationSet

TITLE = "Load combinations"
PURPOSE = "Lists the unit load cases, and how they are combined by the standard."
#: What the unit cases are, by the pattern of their names.
CASES = {
    r"D": "all weights at their own centers of gravity",
    r"L \d{1,2}": "a person with tools, at the middle of that bay on the top front rail",
    r"L \d{3,}": "the same person on a rail at a post: L 502 is on rail 5 at post line 2",
    r"L_r": "roof live load on the canopy",
    r"S": "snow on the canopy",
    r"D_i": "ice on every part",
    r"W (front|back|left|right)": "wind on that face or end, on every part",
    r"W twist": "torsion of a solid face, with the wind on the front or the back",
    r"W_i (front|back|left|right)": "wind on the ice-covered rack, on that face or end",
    r"W_i twist": "torsion of a solid face with its ice",
    r"Q (along|across)": "horizontal seismic effect Q_E of that direction, at every mass",
    r"Q twist": "accidental torsion",
    r"N (along|across)": "0.002 D as lateral load: notional loads",
}
USED = (
    "Each unit case is solved once; a combination is the sum of unit cases times factors. E_v = 0.2 S_DS D is in the factor on "
    "D; E_h is rho Q_E. With overstrength the rows with E_mh replace those with E_h. Rows of 2.3.4 and 2.4.3 have the number "
    "of the change they make."
)
LARGER_RHO = "Omega_0 = {Omega_0} is less than rho = {rho}: the combinations with rho govern and are used as E_mh."
E_MH = "E_mh is Omega_0 Q_E."
CONFIRM = "Factors {which}are from memory: confirm against the adopted edition."
EXPANDED = (
    "Wind acts on each face and end separately, torsion of a solid face both ways. Seismic directions act in pairs (100 % and "
    "30 %), each in both senses, accidental torsion both ways in full. L acts at one place at a time; combinations are also "
    "run without L or S. Notional loads act along or across, both ways, with all gravity loads, in combinations of gravity "
    "alone: AISC 360, C2.2b(d), permits it while B_2 is at most 1.5 with unreduced stiffness, which the frame sheet checks. "
    "Left out is what lies between combinations that are listed. L keeps the factor 1.0 where 0.5 is permitted."
)
NOT_INCLUDED = (
    "Not included: fluid, earth, flood and tornado loads, temperature and settlement; confirm that none applies. Rain drains "
    "off a canopy."
)
DAGGER = "†"
_COUNTED = Source("derivation", "combinations counted")


def sheets(result: Combinations) -> list[Sheet]:
    """Return the sheet of the load combinations."""
    parts: tuple[Part, ...] = (
        Heading("Unit load cases"),
        _cases(result),
        Heading("Combinations"),
        Remark(f"By ASCE/SEI {result.edition}, Chapter 2. {USED} {_overstrength(result)}"),
        Remark(CONFIRM.format(which="" if _all_memory(result) else f"of the rows marked {DAGGER} ")),
        *(_rows(result, method) for method in ("strength", "allowable")),
        Remark(EXPANDED),
        Remark(NOT_INCLUDED),
        *result.checks,
        Heading("Factors that are worked out"),
        *_in_full(result),
    )
    return [Sheet("combinations", TITLE, PURPOSE, parts)]


def _overstrength(r: Combinations) -> str:
    """Return what E_mh is, in words: Omega_0 or rho, whichever is larger."""
    site = r.sets["strength"].site
    if site.rho is None or r.Omega_0 is None or r.Omega_0.magnitude >= site.rho.magnitude:
        return E_MH
    return LARGER_RHO.format(Omega_0=r.Omega_0.text(), rho=site.rho.text())


def _all_memory(r: Combinations) -> bool:
    return all(row.source.how == "memory" for of in r.sets.values() for row in of.rows)


def _cases(r: Combinations) -> Grid:
    rows: list[tuple[Value | str, ...]] = []
    for pattern, words in CASES.items():
        found = [c for c in r.cases if re.fullmatch(pattern, c)]
        if found:
            same = found[0].split()[0]
            names = f"{found[0]} to {found[-1]}" if pattern.startswith("L ") and len(found) > 1 else ", ".join(found)
            rows.append((names, words, r.vertical.get(same, "") if same in ("D", "L", "L_r", "S", "D_i") else ""))
    return Grid("Unit load cases", ("Case", "What it is", "Down [lbf]"), tuple(rows))


def _rows(r: Combinations, name: str) -> Grid:
    basic, over = r.sets[name], r.sets[f"{name}_overstrength"]
    mark = "" if _all_memory(r) else f" {DAGGER}"
    shown = [*_counted(basic, r, mark), *(line for line in _counted(over, r, mark) if line[2] == SEISMIC)]
    title = f"{'Strength' if name == 'strength' else 'Allowable stress'} combinations ({basic.method})"
    size = f"{len(basic)} with E_h" + (f", {len(over)} with E_mh in its place" if len(over) else "")
    return Grid(f"{title}: {size}", ("Clause", "Combination", "Kind", "Number"), tuple(shown))


def _counted(of: CombinationSet, r: Combinations, mark: str) -> Iterator[tuple[Value | str, ...]]:
    for n, row in enumerate(of.rows):
        number: Value | str = given(float(of.count(n)), "", _COUNTED, "n") if of.count(n) else why_none(row, r.cases)
        yield row.clause + (mark if row.source.how == "memory" else ""), row.printed, row.kind, number


def why_none(row: Row, cases: tuple[str, ...]) -> str:
    """Return why a row of the standard expands to nothing on this rack."""
    lacks = [
        words
        for words, loads, first in (
            ("ice", {"D_i", "W_i"}, ("D_i", "W_i")),
            ("wind", {"W"}, ("W",)),
            ("earthquake", {"E_h", "E_mh"}, ("Q",)),
        )
        if loads & set(row.factors) and not any(c.split()[0] in first for c in cases)
    ]
    for group in row.needs:
        if not any(c.split()[0] in group for c in cases):
            lacks.append("roof load" if set(group) <= set(ROOF) else "live load" if group == ("L",) else "live or roof load")
    return f"no {', no '.join(lacks)}"


def _in_full(r: Combinations) -> Iterator[Part]:
    """Yield the factors of every seismic row as a table, and one factor of each kind in full."""
    rows = [row for name, of in r.sets.items() for row in _seismic(of, name.endswith("overstrength"))]
    if rows:
        yield Grid("Factors of the seismic rows", ("Clause", "With", "On D []", "On Q, 100 % []", "On Q, 30 % []"), tuple(rows))
    for name in ("strength", "strength_overstrength"):
        of = r.sets[name]
        if name == "strength" or not np.array_equal(of.factors, r.sets["strength"].factors):
            k = next((k for k, kind in enumerate(of.kinds) if kind == SEISMIC), None)
            shown = ("D", "Q along") if name == "strength" else ("Q along",)
            if k is not None:
                yield from (of.factor(k, t.case) for t in of.variants[k] if t.case in shown)
    of = r.sets["strength"]
    for k, terms in enumerate(of.variants):
        loads = {t.load: t.case for t in terms}
        if "N" in loads and "L" in loads:
            yield Remark(f"Notional loads, in combination {of.labels[k]}:")
            yield of.factor(k, loads["N"])
            return


def _seismic(of: CombinationSet, over: bool) -> Iterator[tuple[Value | str, ...]]:
    """Yield clause and factors of the first combination of each seismic row."""
    for n, row in enumerate(of.rows):
        if row.kind == SEISMIC and of.count(n):
            k = of.row.index(n)
            cases = {t.case for t in of.variants[k]}
            both = [of.factor(k, case) if case in cases else "–" for case in ("Q along", "Q across")]
            yield row.clause, "E_mh" if over else "E_h", of.factor(k, "D"), *both

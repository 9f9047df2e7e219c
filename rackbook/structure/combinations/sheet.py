"""The sheet of load combinations: unit cases, every row of the standard with what it expands to, factors in full."""

from __future__ import annotations

import re
from collections.abc import Iterator

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
    r"L \d+": "a person with tools, in the middle of that bay on the top front rail, one bay at a time",
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
    "A unit case is worked once; a combination is a sum of unit cases times factors. E_v = 0.2 S_DS D is in the factor on D, "
    "E_h and E_mh are Q_E times rho or Omega_0. A set with overstrength is whole: its other rows are those of the set without, "
    "and where rho is above Omega_0 it stands in its place. Rows of 2.3.4 and 2.4.3 have the number of the change they make to "
    "the others. Rows marked to confirm are from memory: confirm them against the adopted edition."
)
EXPANDED = (
    "Wind acts on each face and end by itself; with a solid face its torsion acts either way. Seismic directions act in the "
    "pairs of the seismic sheet, in either sense each, with the accidental torsion either way and in full. L stands in one bay "
    "at a time. Companions that may relieve (L, S) are also left out, in all ways. Notional loads act along or across, either "
    "way, and follow all gravity loads of their combination; they are in combinations of gravity loads only, as AISC 360, "
    "C2.2b(d), permits while the second-order sway is at most 1.7 times the first-order one."
)
LEFT_OUT = (
    "Not listed one by one, as they lie between combinations that are, or between one and the unloaded rack: a face's wind "
    "without its torsion where torsion acts either way; gravity loads without notional loads (kept for D alone); a row without "
    "the load it is written for. Strength under combined actions is not used more in between than at the worse of the ends; of "
    "those listed, none but D alone lies between others. "
    "Fluids, earth, floods, and loads of temperature and settlement are no loads of a rack; rain does not stay on a canopy "
    "that drains."
)
FACTOR_ON_L = "The factor on L with wind, snow or earthquake is kept at 1.0, where 0.5 is permitted for L_o of 100 psf or less."
SAID = {"memory": "to confirm", "derived": "derived", "read": "read"}
_COUNTED = Source("derivation", "combinations counted")


def sheets(result: Combinations) -> list[Sheet]:
    """Return the sheet of the load combinations."""
    parts: tuple[Part, ...] = (
        Heading("Unit load cases"),
        _cases(result),
        Heading("Combinations"),
        Remark(f"By ASCE/SEI {result.edition}, Chapter 2. {USED}"),
        *(_rows(result, method) for method in ("strength", "allowable")),
        Remark(EXPANDED),
        Remark(LEFT_OUT),
        Remark(FACTOR_ON_L),
        *(Remark(note) for note in result.notes),
        *result.checks,
        Heading("Factors that are worked out"),
        *_in_full(result),
    )
    return [Sheet("combinations", TITLE, PURPOSE, parts)]


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
    shown = [*_counted(basic, r), *(line for line in _counted(over, r) if line[2] == SEISMIC)]
    title = f"{'Strength' if name == 'strength' else 'Allowable stress'} combinations ({basic.method}): {len(basic)} in the set"
    return Grid(title, ("Clause", "Combination", "Kind", "Number", "Text"), tuple(shown))


def _counted(of: CombinationSet, r: Combinations) -> Iterator[tuple[Value | str, ...]]:
    for n, row in enumerate(of.rows):
        number: Value | str = given(float(of.count(n)), "", _COUNTED, "n") if of.count(n) else why_none(row, r.cases)
        yield row.clause, row.printed, row.kind, number, SAID[row.source.how]


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
    """Yield one factor of each kind that is more than the printed number."""
    yield from _seismic(r.sets["strength"], ("D", "Q along", "Q across"), ("D",))
    yield from _seismic(r.sets["strength_overstrength"], ("Q along",), ())
    of = r.sets["strength"]
    for k, terms in enumerate(of.variants):
        loads = {t.load: t.case for t in terms}
        if "N" in loads and "L" in loads:
            yield Remark(f"Notional loads, in combination {of.labels[k]}:")
            yield of.factor(k, loads["N"])
            return


def _seismic(of: CombinationSet, *shown: tuple[str, ...]) -> Iterator[Value]:
    """Yield the factors on some cases of the first combination of each seismic row, in order."""
    firsts = [of.row.index(n) for n, row in enumerate(of.rows) if row.kind == SEISMIC and of.count(n)]
    for k, cases in zip(firsts, shown, strict=False):
        yield from (of.factor(k, t.case) for t in of.variants[k] if t.case in cases)

"""Numbers of a combination as a table of factors times unit cases: the rows come to what the frame hands out."""

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from framed import BOTH, SEATED, framed, of, rack

from rackbook.structure.frame import made_of, shown
from rackbook.structure.frame.combined import ACROSS, ALONG
from rackbook.structure.frame.shown import LAST, SUM
from rackbook.trace import DomainError, Sheet, Source, formula

FORCES = ("P", "V_x", "V_y", "M_x", "M_y", "T")


@pytest.fixture(scope="module")
def frame():
    return framed(rack(*SEATED, rails=BOTH, splices=(3,)))


def numbers(grid):
    """Rows of a table as floats by the row's name; factors without their sign of times."""

    def number(cell):
        if not isinstance(cell, str):
            return float(cell.magnitude)
        return float(cell.removeprefix("× ").replace(",", "")) if cell not in ("", "–") else None

    return {row[0]: [number(cell) for cell in row[1:]] for row in grid.rows}


def handed_out(frame, kind, k):
    if kind == "reaction":
        return {n: frame.reaction("strength", n, 1, k) for n in FORCES}
    if kind == "action":
        station = frame.members[1].stations[0]
        return {n: frame.action("strength", n, 1, k, station) for n in FORCES}
    if kind == "splice":
        return {n: frame.splice("strength", n, 0, k) for n in FORCES}
    return {n: frame.clip("strength", n, 0, k) for n in ("F_x", "F_y", "F_z", "M_x", "M_y", "M_z")}


@pytest.mark.parametrize("kind", ["reaction", "action", "splice", "clip"])
@pytest.mark.parametrize("words", ["1.4 D", "W front", "Q along", "N across"])
def test_the_rows_come_to_the_number(frame, kind, words):
    k = next(n for n, label in enumerate(frame.sets["strength"].labels) if words in label)
    values = handed_out(frame, kind, k)
    grid = shown("Forces", values)
    rows = numbers(grid)
    cases = {n: row for n, row in rows.items() if n in frame.cases}
    assert list(cases) == [n for n, c in zip(frame.cases, frame.sets["strength"].factors[k], strict=True) if c]
    of_case = {n: np.array([row[0] * y for y in row[1:]]) for n, row in cases.items()}
    assert rows[SUM][1:] == pytest.approx(sum(of_case.values()), rel=1e-6, abs=1e-6)
    part = {n: sum((v for c, v in of_case.items() if c in group), np.zeros(6)) for n, group in (("a", ALONG), ("t", ACROSS))}
    found = sum(of_case.values())
    for row, lateral in (("B_2 on cases along", part["a"]), ("B_2 on cases across", part["t"])):
        B = np.array([b or 1.0 for b in rows.get(row, [None] * 7)[1:]])
        found = found + (B - 1) * lateral
    for row in ("B_2 on the sum", "B_1 on the sum"):
        found = found * np.array([b or 1.0 for b in rows.get(row, [None] * 7)[1:]])
    largest = max(abs(v.magnitude) for v in values.values())
    # amplifiers are printed with four figures
    assert rows[LAST][1:] == pytest.approx(found, rel=2e-3, abs=2e-3 * largest)
    assert rows[LAST][1:] == pytest.approx([v.magnitude for v in values.values()], rel=1e-9, abs=1e-7 * largest)
    assert grid.quoted == tuple(values.values())


def test_the_same_number_is_asked_for_again_and_is_the_same_value(frame):
    for kind in ("reaction", "action", "splice", "clip"):
        first, again = handed_out(frame, kind, 3), handed_out(frame, kind, 3)
        assert all(first[n] is again[n] for n in first)
        assert all(first[n].root is not other.root for n, other in handed_out(frame, kind, 4).items())


def test_numbers_of_two_combinations_are_refused(frame):
    with pytest.raises(DomainError, match="one combination"):
        shown("Forces", {"P": frame.reaction("strength", "P", 0, 0), "V_x": frame.reaction("strength", "V_x", 0, 1)})


def test_a_number_from_elsewhere_has_its_last_row_alone(frame):
    grid = shown("Forces", {"P": frame.reaction("strength", "P", 0, 0), "V": of(3, "kip")})
    assert [row[-1] for row in grid.rows[:-1]] == ["–"] * (len(grid.rows) - 1)
    assert grid.rows[-1][-1].magnitude == 3
    assert [v.symbol for v in grid.quoted] == ["P"]
    bare = shown("Forces", {"V": of(3, "kip")})
    assert (bare.heads, len(bare.rows), bare.quoted) == (("V [kip]",), 1, ())


@formula(Source("derivation", "twice"), P_2="kip")
def twice(P):
    """Return twice a force."""
    P_2 = 2 * P
    return P_2


def test_a_sheet_quotes_from_the_table_what_it_would_derive_without_it(frame):
    P = frame.reaction("strength", "P", 0, 0)
    bare = Sheet("s", "S", "", (twice(P=P),)).markdown()
    quoted = Sheet("s", "S", "", (shown("Reactions of one base", {"P": P}), twice(P=P))).markdown()
    assert "superposition" in bare
    assert "superposition" not in quoted
    assert r"table above\: Reactions of one base" in quoted


def test_what_a_pinned_end_leaves_over_in_the_solution_is_printed_as_nothing(frame):
    values = handed_out(frame, "clip", 0)
    last = dict(zip(values, shown("Forces", values).rows[-1][2:], strict=True))
    moments = max(abs(values[n].magnitude) for n in ("M_x", "M_y", "M_z"))
    assert abs(values["M_y"].magnitude) < 1e-12 * moments  # the rail turns on its clip in the plane of the rack
    assert last["M_y"] == "0"
    assert last["M_x"] is values["M_x"]


def test_what_some_values_rest_on_is_listed_by_place_and_combination(frame):
    first, again = (twice(P=frame.reaction("strength", "P", base, k)) for base, k in ((0, 0), (1, 0)))
    third = twice(P=frame.clip("strength", "F_z", 0, 1))
    (one,) = made_of("Reactions", first)
    assert one.title == f"Reactions at {frame.bases[0].label}"
    assert {g.title for g in made_of("Forces", first, again, third)} == {
        f"Forces at {frame.bases[0].label}, {frame.sets['strength'].labels[0]}",
        f"Forces at {frame.bases[1].label}, {frame.sets['strength'].labels[0]}",
        f"Forces of {frame.clips('strength').labels[0]}, {frame.sets['strength'].labels[1]}",
    }
    listed = {id(v.root) for v in one.quoted}
    assert made_of("Reactions", first, but=listed) == []
    assert made_of("Reactions", of(3, "kip")) == []

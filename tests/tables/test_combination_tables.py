"""The tables of load combinations, snow and ice against one another, and against texts that were read."""

import itertools

import numpy as np
import pytest

from rackbook.tables import table

LOADS = ("D", "L", "L_r", "S", "R", "W", "E_v", "E_h", "E_mh", "D_i", "W_i")
EDITIONS = ("7-16", "7-22")


def combinations():
    """Return the factors of every row: edition, method, clause to load to factor."""
    rows = table("load_combinations").rows
    return {
        (r["edition"], r["method"], r["clause"]): {n: float(r[n]) for n in LOADS if r[n]} for r in rows
    }  # fmt: skip


ROWS = combinations()
#: Rows of 7-10, which were read, and the rows of 7-16 that took their place.
SAME = {
    "2.3.2-1": "2.3.1-1", "2.3.2-2": "2.3.1-2", "2.3.2-3 with L": "2.3.1-3 with L", "2.3.2-3 with W": "2.3.1-3 with W",
    "2.3.2-4": "2.3.1-4", "2.3.2-5": "2.3.6-6", "2.3.2-6": "2.3.1-5", "2.3.2-7": "2.3.6-7",
    "2.4.1-1": "2.4.1-1", "2.4.1-2": "2.4.1-2", "2.4.1-3": "2.4.1-3", "2.4.1-4": "2.4.1-4", "2.4.1-5 with W": "2.4.1-5",
    "2.4.1-5 with E": "2.4.5-8", "2.4.1-6a": "2.4.1-6", "2.4.1-6b": "2.4.5-9", "2.4.1-7": "2.4.1-7", "2.4.1-8": "2.4.5-10",
}  # fmt: skip


def test_every_row_of_the_read_edition_stands_in_the_next():
    read = {(m, c): f for (e, m, c), f in ROWS.items() if e == "7-10"}
    assert {c for _, c in read} == set(SAME)
    for (method, clause), factors in read.items():
        assert ROWS["7-16", method, SAME[clause]] == factors, clause
    ordinary = {c for e, m, c in ROWS if e == "7-16" and m in ("LRFD", "ASD")}
    assert {c for c in ordinary if not c.startswith(("2.3.4", "2.4.3"))} == set(SAME.values())


@pytest.mark.parametrize("edition", EDITIONS)
def test_both_editions_have_the_same_rows_but_for_snow(edition):
    assert {(m, c) for e, m, c in ROWS if e == edition} == {(m, c) for e, m, c in ROWS if e == "7-16"}
    for (e, method, clause), factors in ROWS.items():
        if e == "7-22":
            before = ROWS["7-16", method, clause]
            assert {n: x for n, x in factors.items() if n != "S"} == {n: x for n, x in before.items() if n != "S"}
            assert ("S" in factors) == ("S" in before)


def test_snow_of_the_later_edition_is_at_strength_level():
    """What was 1.6 S is 1.0 S: companions fall alike, to the steps the standard prints; allowable stress takes 0.7."""
    for (e, method, clause), factors in ROWS.items():
        if e != "7-22" or "S" not in factors:
            continue
        was, now = ROWS["7-16", method, clause]["S"], factors["S"]
        if clause == "2.4.5-9":
            assert (was, now) == (0.75, 0.1)
        elif method.startswith("LRFD"):
            assert now == pytest.approx(was / 1.6, abs=0.026), clause
        else:
            assert now == pytest.approx(0.7 * was), clause


@pytest.mark.parametrize("edition", EDITIONS)
def test_overstrength_stands_in_place_of_the_horizontal_effect(edition):
    for method, clauses in (("LRFD", ("2.3.6-6", "2.3.6-7")), ("ASD", ("2.4.5-8", "2.4.5-9", "2.4.5-10"))):
        assert {c for e, m, c in ROWS if e == edition and m == f"{method} overstrength"} == set(clauses)
        for clause in clauses:
            plain, over = ROWS[edition, method, clause], ROWS[edition, f"{method} overstrength", clause]
            assert plain["E_h"] == over["E_mh"]
            assert {n: x for n, x in plain.items() if n != "E_h"} == {n: x for n, x in over.items() if n != "E_mh"}


@pytest.mark.parametrize(("key", "factors"), ROWS.items(), ids=lambda k: " ".join(k) if isinstance(k, tuple) else "")
def test_arithmetic_of_a_row(key, factors):
    method = key[1]
    assert factors["D"] in ({1.4, 1.2, 0.9} if method.startswith("LRFD") else {1.0, 0.6})
    least = factors["D"] < 1
    quake = factors.get("E_h", factors.get("E_mh"))
    if quake:
        assert factors["E_v"] == (-quake if least else quake)  # both of E are factored alike, E_v up where D is least
        assert quake in ({1.0} if method.startswith("LRFD") else {0.7, 0.525})
    if "W" in factors:
        assert factors["W"] in ({1.0, 0.5} if method.startswith("LRFD") else {0.6, 0.45})
    if least:
        assert not {"L", "L_r", "S", "R"} & set(factors)  # nothing that may be absent holds down
    if "W_i" in factors:
        assert factors["W_i"] == factors["D_i"]
    # three quarters of wind or earthquake where two others act with it
    if len(factors) > 3 and method.startswith("ASD"):
        assert factors.get("W", quake) in {0.45, 0.525, None}
    assert not ({"W", "W_i", "E_h", "E_mh"} & set(factors)) or len({"W", "W_i", "E_h", "E_mh"} & set(factors)) == 1


def test_allowable_stress_is_strength_over_its_load_factor():
    """Wind and earthquake at 0.6 and 0.7, ice at 0.7 of strength level; most row of each kind against most row."""
    for edition, (load, share) in itertools.product(EDITIONS, (("W", 0.6), ("E_h", 0.7), ("D_i", 0.7), ("W_i", 0.7))):
        most = {
            method: max(f.get(load, 0) for (e, m, _), f in ROWS.items() if (e, m) == (edition, method))
            for method in ("LRFD", "ASD")
        }
        assert most["ASD"] == share * most["LRFD"]


def test_importance_factors():
    rows = table("snow_ice_importance").rows
    for edition in ("7-10", "7-16"):
        for name in ("I_s", "I_i", "I_w"):
            found = [float(r[name]) for r in rows if r["edition"] == edition]
            assert found == sorted(found)
            assert len(found) == 4
    before, after = ([r for r in rows if r["edition"] == e] for e in ("7-10", "7-16"))
    assert [r["I_s"] for r in before] == [r["I_s"] for r in after]
    changed = [a["risk_category"] for a, b in zip(after, before, strict=True) if a["I_i"] != b["I_i"]]
    assert changed == ["III"]
    assert {r["I_w"] for r in rows} == {"1.00"}


ROOFS = ("fully exposed", "partially exposed", "sheltered")


def test_snow_exposure_rises_with_shelter_and_roughness():
    grid = np.array([
        [table("snow_exposure").cell((r, roof), "C_e").magnitude for roof in ROOFS] for r in "BCD"
    ])  # fmt: skip
    assert np.all(np.diff(grid, axis=1) > 0)
    assert np.all(np.diff(grid, axis=0) <= 0)


def test_snow_thermal_and_minimum():
    of = table("snow_thermal")
    order = ("heated", "just above freezing", "unheated or open air", "freezer")
    found = [of.cell(("7-16", c), "C_t").magnitude for c in order]
    assert found == sorted(found)
    assert found[0] == 1.0
    assert of.cell(("7-16", order[2]), "C_t").magnitude == of.cell(("7-22", order[2]), "C_t").magnitude
    assert np.diff(table("snow_minimum").array("p_m_max")).tolist() == [5, 5, 5]

"""Load combinations: rows by hand, nothing left out that could govern, mirrors, traces, the sheet."""

import itertools
import re
from types import SimpleNamespace as Plain

import numpy as np
import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from rackbook.cases import cases as published
from rackbook.cases import run
from rackbook.structure.combinations import combinations, combinations_for, combined, row, rows, sheets
from rackbook.structure.combinations.rows import rows_of_set
from rackbook.structure.combinations.sets import SETS
from rackbook.trace import DomainError, Grid, LookupFailed, Source, Value, given, recompute

HAND = Source("input", "worked by hand")
WINDS = ("W front", "W back", "W left", "W right")
QUAKES = ("Q along", "Q across")
NOTIONAL = ("N along", "N across")


def of(number, unit="", symbol=""):
    return given(number, unit, HAND, symbol)


def names(bays=2, twist=True, snow=True, ice=True, roof=False):
    """Unit cases of a rack."""
    found = ["D", *(f"L {n}" for n in range(1, bays + 1)), *WINDS, *QUAKES, *NOTIONAL]
    found += ["W twist", "Q twist"] if twist else []
    found += ["S"] if snow else []
    found += ["L_r"] if roof else []
    found += ["D_i", *(w.replace("W", "W_i") for w in WINDS)] if ice else []
    return tuple(found)


VERTICAL = {"D": of(5000, "lbf"), "L": of(250, "lbf"), "S": of(1500, "lbf"), "L_r": of(1200, "lbf"), "D_i": of(2000, "lbf")}


def made(cases, edition="7-16", S_DS=1.0, rho=1.3, Omega_0=2.0, category="D"):
    return combinations(edition, cases, of(S_DS), of(rho), of(Omega_0), category, VERTICAL)


@pytest.mark.parametrize("case", [c for c in published() if c.file == "asce_7_combinations.yaml"], ids=lambda c: c.id)
def test_published_case(case):
    for outcome in run(case):
        assert outcome.agrees, f"{outcome.name}: expected {outcome.expected}, found {outcome.found}"


def factors(of_set, label):
    """Return the factors of one combination by case, zeros left out."""
    k = next(k for k, text in enumerate(of_set.labels) if text.startswith(label))
    return {c: x for c, x in zip(of_set.cases, of_set.factors[k].tolist(), strict=True) if x}


def test_factors_by_hand():
    found = made(names(1))
    wind = factors(found["strength"], "2.3.1-4: 1.2 D + 1.0 W front + 1.0 W twist + 1.0 L 1 + 0.5 S")
    assert wind == {"D": 1.2, "L 1": 1.0, "W front": 1.0, "W twist": 1.0, "S": 0.5}
    quake = factors(found["strength"], "2.3.6-7: 0.7 D - 0.39 Q along + 1.3 Q across - 1.3 Q twist")
    assert quake == pytest.approx({"D": 0.9 - 0.2, "Q along": -0.3 * 1.3, "Q across": 1.3, "Q twist": -1.3})
    over = factors(
        found["allowable_overstrength"], "2.4.5-9: 1.105 D + 1.05 Q along + 0.315 Q across + 1.05 Q twist + 0.75 L 1"
    )
    assert over == pytest.approx({
        "D": 1 + 0.525 * 0.2, "Q along": 0.525 * 2, "Q across": 0.525 * 2 * 0.3, "Q twist": 0.525 * 2, "L 1": 0.75,
    })  # fmt: skip
    ice = factors(found["allowable"], "2.4.3-2: 1.0 D + 0.7 D_i + 0.7 W_i left + 1.0 S")
    assert ice == {"D": 1.0, "D_i": 0.7, "W_i left": 0.7, "S": 1.0}
    gravity = factors(found["strength"], "2.3.4-1: 1.2 D + 0.2 D_i - 1.51 N across + 1.6 L 1 + 0.5 S")
    follows = (1.2 * 5000 + 0.2 * 2000 + 1.6 * 250 + 0.5 * 1500) / 5000
    assert gravity == pytest.approx({"D": 1.2, "D_i": 0.2, "L 1": 1.6, "S": 0.5, "N across": -follows})


def test_overstrength_changes_seismic_rows_only_and_never_below_redundancy():
    for Omega_0 in (1.0, 2.5):
        found = made(names(2), Omega_0=Omega_0)
        for name in ("strength", "allowable"):
            plain, over = found[name], found[f"{name}_overstrength"]
            assert len(plain) == len(over)
            quake = [n for n, c in enumerate(plain.cases) if c.startswith("Q ")]
            rest = [n for n in range(len(plain.cases)) if n not in quake]
            assert np.array_equal(plain.factors[:, rest], over.factors[:, rest])
            assert over.factors[:, quake] == pytest.approx(plain.factors[:, quake] / 1.3 * max(Omega_0, 1.3))


def full(row_, cases, ways, site):
    """Yield every combination a row could be read as: each load there or not, each sense, notional loads or none."""
    gamma = {n: v.magnitude for n, v in row_.factors.items()}
    options = [[{"D": gamma["D"] + 0.2 * gamma.get("E_v", 0.0) * site["S_DS"]}]]
    if "D_i" in gamma:  # ice comes with its wind: neither acts alone where a row has both
        options.append([{"D_i": gamma["D_i"]}] if "W_i" in gamma else [{}, {"D_i": gamma["D_i"]}])
    if "L" in gamma:
        options.append([{}, *({c: gamma["L"]} for c in cases if c.startswith("L "))])
    if roof := [c for c in ("L_r", "S") if c in gamma and c in cases]:
        options.append([{}, *({c: gamma[c]} for c in roof)])
    for load in ("W", "W_i"):
        if load in gamma:
            found = [] if load == "W_i" else [{}]
            for face in WINDS:
                case = face.replace("W", load)
                turns = (0, 1, -1) if "W twist" in cases and load == "W" and face in ("W front", "W back") else (0,)
                found += [{case: gamma[load]} | ({"W twist": t * gamma[load]} if t else {}) for t in turns]
            options.append(found)
    for load, by in (("E_h", "rho"), ("E_mh", "Omega_0")):
        if load in gamma:
            x = gamma[load] * site[by]
            options.append([
                {"Q along": a * p * x, "Q across": b * q * x} | ({"Q twist": t * x} if "Q twist" in cases else {})
                for (p, q), a, b, t in itertools.product(ways, (1, -1), (1, -1), (0, 1, -1))
            ])  # fmt: skip
    if not {"W", "W_i", "E_h", "E_mh"} & set(gamma):
        options.append([{}, *({c: s} for c in NOTIONAL if c in cases for s in (1, -1))])
    for parts in itertools.product(*options):
        one = {k: v for part in parts for k, v in part.items()}
        down = sum(x * VERTICAL[c.split()[0]].magnitude for c, x in one.items() if c.split()[0] in VERTICAL)
        yield {c: x * down / 5000 if c in NOTIONAL else x for c, x in one.items()}


@pytest.mark.parametrize("edition", ["7-16", "7-22"])
@pytest.mark.parametrize(("name", "category"), [*((n, "D") for n in SETS), ("strength", "B"), ("allowable", "B")])
def test_what_is_left_out_lies_between_what_is_kept_and_the_unloaded_rack(edition, name, category):
    cases = names(1, roof=True)
    found = made(cases, edition, category=category)[name]
    method, over = SETS[name]
    site = {"S_DS": 1.0, "rho": 1.3, "Omega_0": 2.0}
    ways = [(1, 0), (0, 1)] if category == "B" else [(1, 0.3), (0.3, 1)]
    kept = {tuple(np.round(f, 9)) for f in found.factors}
    column = {c: n for n, c in enumerate(cases)}
    asked = set()
    for row_ in rows_of_set(edition, method, over):
        for one in full(row_, cases, ways, site):
            vector = np.zeros(len(cases))
            for c, x in one.items():
                vector[column[c]] = x
            asked.add(tuple(np.round(vector, 9)))
    assert kept <= asked  # nothing is listed that the standard does not ask for
    left = asked - kept
    assert left
    matrix = np.vstack([found.factors.T, np.ones(len(found))])
    for vector in left:
        # weights of the kept combinations, their sum at most 1: the rest is the unloaded rack
        solved = linprog(
            np.zeros(len(found)), A_eq=matrix[:-1], b_eq=np.array(vector), A_ub=matrix[-1:], b_ub=[1 + 1e-9], method="highs"
        )
        assert solved.status == 0, {c: float(x) for c, x in zip(cases, vector, strict=True) if x}


@pytest.mark.parametrize("name", ["strength", "allowable"])
@pytest.mark.parametrize("edition", ["7-16", "7-22"])
def test_no_combination_lies_between_others(edition, name):
    """Every row that is kept is a corner: no shorter list would do."""
    found = made(names(1, roof=True), edition)[name]
    matrix = np.vstack([found.factors.T, np.ones(len(found))])
    spare = []
    for k, vector in enumerate(found.factors):
        others = np.delete(matrix, k, axis=1)
        solved = linprog(
            np.zeros(len(found) - 1), A_eq=others[:-1], b_eq=vector, A_ub=others[-1:], b_ub=[1 + 1e-9], method="highs"
        )
        if solved.status == 0:
            spare.append(found.labels[k])
    # D alone lies between its two notional loads; it is kept for the reader and for deflections
    assert spare == [found.labels[0]]
    assert np.count_nonzero(found.factors[0]) == 1


def mirrored(of_set, swap, turned):
    """Return the combinations with cases swapped and some senses turned, as a set of rows."""
    place = [of_set.cases.index(swap.get(c, c)) for c in of_set.cases]
    sign = np.array([-1.0 if c in turned else 1.0 for c in of_set.cases])
    return {tuple(np.round(f, 9)) for f in of_set.factors[:, place] * sign}


FRONT = {"W front": "W back", "W back": "W front", "W_i front": "W_i back", "W_i back": "W_i front"}
LEFT = {"W left": "W right", "W right": "W left", "W_i left": "W_i right", "W_i right": "W_i left"}


@settings(max_examples=15, deadline=None)
@drawn(
    bays=st.integers(1, 4),
    twist=st.booleans(),
    snow=st.booleans(),
    ice=st.booleans(),
    roof=st.booleans(),
    edition=st.sampled_from(["7-16", "7-22"]),
    category=st.sampled_from("ABCDEF"),
    S_DS=st.floats(0.05, 2.5),
    rho=st.sampled_from([1.0, 1.3]),
    Omega_0=st.floats(1.0, 3.0),
)
def test_any_rack(bays, twist, snow, ice, roof, edition, category, S_DS, rho, Omega_0):
    cases = names(bays, twist, snow, ice, roof)
    found = made(cases, edition, S_DS, rho, Omega_0, category)
    assert list(found) == list(SETS)
    for name, of_set in found.items():
        kept = {tuple(np.round(f, 9)) for f in of_set.factors}
        # each once, under a label and a clause of its own set
        assert len(kept) == len(of_set) == len(set(of_set.labels)) == len(of_set.clauses) == len(of_set.kinds)
        assert of_set.factors.shape == (len(of_set), len(cases))
        # D alone is there, and D in every row, never pulled up
        alone = np.abs(of_set.factors) @ np.array([c != "D" for c in cases]) == 0
        assert of_set.factors[alone, 0].tolist() == [1.4 if name.startswith("strength") else 1.0]
        assert np.all(of_set.factors[:, 0] > 0) or S_DS > 0.6 / 0.2
        # every clause whose loads exist is there
        method, over = SETS[name]
        there = {"D", "L", "W", "E_v", "E_h", "E_mh", "R"} | {n for n, on in (("S", snow), ("L_r", roof)) if on}
        there |= {"D_i", "W_i"} if ice else set()
        for row_ in rows_of_set(edition, method, over):
            asked = all(set(g) & there for g in row_.needs) and not {"D_i", "W_i"} & set(row_.factors) - there
            assert (row_.clause in of_set.clauses) == asked or row_.clause == "2.3.1-3", row_.key
        # front and back, left and right are each other's mirror
        across = {"Q across", "N across", "W twist", "Q twist"}
        assert mirrored(of_set, FRONT, across) == kept
        places = {f"L {n}": f"L {bays + 1 - n}" for n in range(1, bays + 1)}
        assert mirrored(of_set, LEFT | places, {"Q along", "N along", "W twist", "Q twist"}) == kept
        # one face at a time, one place of L, never wind with earthquake
        for group in (WINDS, [w.replace("W", "W_i") for w in WINDS], [f"L {n}" for n in range(1, bays + 1)], ["S", "L_r"]):
            acting = [n for n, c in enumerate(cases) if c in group]
            assert np.all((of_set.factors[:, acting] != 0).sum(axis=1) <= 1)
        lateral = [[n for n, c in enumerate(cases) if c.split()[0] == load] for load in ("W", "W_i", "Q", "N")]
        assert np.all(sum((of_set.factors[:, at] != 0).any(axis=1).astype(int) for at in lateral) <= 1)


@pytest.mark.parametrize(("category", "pairs"), [("B", {(1.0, 0.0), (0.0, 1.0)}), ("C", {(1.0, 0.3), (0.3, 1.0)})])
def test_directions(category, pairs):
    found = made(names(1), rho=1.0, category=category)["strength"]
    quake = [k for k, kind in enumerate(found.kinds) if kind == "seismic"]
    at = [found.cases.index(c) for c in QUAKES]
    assert {tuple(np.round(np.abs(found.factors[k, at]), 9)) for k in quake} == pairs


@pytest.mark.parametrize("name", SETS)
def test_every_factor_has_its_trace(name):
    of_set = made(names(1), "7-22")[name]
    for k in range(len(of_set)):
        c = of_set.value(k)
        assert c.magnitude == pytest.approx(of_set.factors[k], abs=1e-12)
        assert c.symbol == "c"
        assert c.source.locator == of_set.clauses[k]
        assert c.source.how in ("read", "memory")
        assert set(c.origin.given) == {case for case, x in zip(of_set.cases, of_set.factors[k], strict=True) if x}


def test_a_factor_is_worked_again():
    S_DS, rho = of(1.0, "", "S_DS"), of(1.0, "", "rho")
    found = combinations("7-16", ("D", "Q along", "Q across"), S_DS, rho, of(2.0), "D")["strength"]
    k = found.labels.index("2.3.6-6: 1.4 D + 1.0 Q along + 0.3 Q across")
    again = recompute(found.value(k), {S_DS: of(2.0), rho: of(1.3)})
    assert again.magnitude == pytest.approx([1.6, 1.3, 0.39])
    assert S_DS in found.value(k).inputs()
    with pytest.raises(DomainError, match="not in combination"):
        found.factor(k, "L 1")


def test_labels_read_back():
    found = made(names(2, roof=True), S_DS=0.77, rho=1.3, Omega_0=2.25)
    for of_set in found.values():
        for text, factor in zip(of_set.labels, of_set.factors, strict=True):
            terms = re.findall(r"([+-]) ([\d.]+) (\D+?(?: \d+)?)(?= [+-] |$)", "+ " + text.partition(": ")[2])
            back = {case: float(number) * (-1 if sign == "-" else 1) for sign, number, case in terms}
            assert back == pytest.approx({c: x for c, x in zip(of_set.cases, factor, strict=True) if x}, abs=5.1e-4), text


def test_ten_bays_stay_a_list_one_can_work_with():
    plain = made(names(10, snow=False, ice=False))
    assert {len(s) for s in plain.values()} == {49 + 26 * 10}
    assert all(len(s) < 900 for s in made(names(10)).values())


def test_refusals():
    with pytest.raises(DomainError, match="no unit load case"):
        made(("D", "W north"))
    with pytest.raises(DomainError, match="each once"):
        made(("D", "D"))
    with pytest.raises(DomainError, match="need S_DS"):
        combinations("7-16", ("D", "Q along"), None, of(1.0), of(2.0))
    with pytest.raises(DomainError, match="vertical load of 'L 1'"):
        combinations("7-16", ("D", "L 1", "N along"), vertical={"D": of(100, "lbf")})
    with pytest.raises(DomainError, match="not an edition"):
        rows("7-05", "LRFD")
    with pytest.raises(LookupFailed, match="has no combination"):
        row("7-16", "LRFD", "2.3.1-9")
    with pytest.raises(LookupFailed, match="is not in combination"):
        combined("7-16", "ASD", "2.4.1-1", {"W": of(1, "kip")})


def job(canopy=None, maintenance=250):
    return Plain(frame=Plain(canopy=canopy), allowances=Plain(maintenance=of(maintenance, "lbf", "P")))


def seismic(edition="7-16", risk="II"):
    risk_category = Value(risk, "", HAND, "risk_category")
    category = Value("D", "", HAND, "SDC")
    return Plain(
        edition=edition, ground=Plain(S_DS=of(1.0)), rho=of(1.3), Omega_0=of(2.0), category=category,
        risk_category=risk_category,
    )  # fmt: skip


WEIGHTS = Plain(W=of(5000, "lbf", "W"))
CANOPY = Plain(length=of(10, "ft", "L_c"), width=of(5, "ft", "W_c"))


def test_job():
    cases = names(2, ice=False)
    found = combinations_for(job(), seismic(), cases, WEIGHTS, {"S": VERTICAL["S"]})
    direct = made(cases)
    for name, of_set in found.sets.items():
        assert np.array_equal(of_set.factors, direct[name].factors)
    assert found.checks == ()
    assert found.vertical["D"] is WEIGHTS.W
    (tornado,) = combinations_for(job(), seismic("7-22", "III"), ("D",), WEIGHTS).checks
    assert (tornado.word, "32.1.1" in tornado.source.locator) == ("OPEN", True)
    assert combinations_for(job(), seismic("7-22", "II"), ("D",), WEIGHTS).checks == ()


@pytest.mark.parametrize(
    ("edition", "S", "word"),
    [
        ("7-16", 1000, "OK"),
        ("7-16", 999, "OPEN"),
        ("7-22", 1667, "OK"),
        ("7-22", 1666, "OPEN"),
        ("7-16", None, "OPEN"),
    ],
)
def test_roof_live_load_is_covered_by_snow_or_open(edition, S, word):
    # 20 psf on 50 ft2 is 1000 lbf; 0.5 L_r against 0.3 S in the later edition
    vertical = {"S": of(S, "lbf")} if S else {}
    (found,) = combinations_for(job(CANOPY), seismic(edition), ("D", "S") if S else ("D",), WEIGHTS, vertical).checks
    assert found.word == word
    assert found.demand.m_as("lbf") == pytest.approx(1000 if edition == "7-16" else 1000 / 0.6)
    assert not combinations_for(job(CANOPY), seismic(edition), ("D", "L_r"), WEIGHTS).checks


def test_sheet_counts_every_combination():
    found = combinations_for(job(), seismic(), names(2, ice=False), WEIGHTS, {"S": VERTICAL["S"]})
    (sheet,) = sheets(found)
    grids = [p for p in sheet.parts if isinstance(p, Grid)]
    mixed = any(r.source.how != "memory" for of_set in found.sets.values() for r in of_set.rows)
    *tables, factors = grids[1:]
    quakes = {row.clause for of_set in found.sets.values() for row in of_set.rows if row.kind == "seismic"}
    assert {line[0] for line in factors.rows} == quakes
    assert all(line[3].magnitude == pytest.approx(line[4].magnitude / 0.3) for line in factors.rows)
    for grid, name in zip(tables, ("strength", "allowable"), strict=True):
        basic, over = found.sets[name], found.sets[f"{name}_overstrength"]
        numbers = [line[3] for line in grid.rows]
        quake = sum(kind == "seismic" for kind in over.kinds)
        assert sum(v.magnitude for v in numbers if isinstance(v, Value)) == len(basic) + quake
        assert {v for v in numbers if isinstance(v, str)} == {"no ice"}
        assert {line[0].removesuffix(" †") for line in grid.rows} == {r.clause for r in basic.rows}
        marked = {line[0].removesuffix(" †") for line in grid.rows if line[0].endswith("†")}
        assert marked == ({r.clause for r in (*basic.rows, *over.rows) if r.source.how == "memory"} if mixed else set())
    text = sheet.markdown()
    assert "0\\.002 D" in text
    assert "c_{D} = \\gamma_{D} + 0.2 \\cdot \\gamma_{v} \\cdot S_{DS}" in text

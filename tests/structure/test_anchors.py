"""Anchor rods: what must hold whatever the numbers, single bases against arrays, whole racks, and what is refused."""

import math
import shutil
import sys
from pathlib import Path
from types import SimpleNamespace as Plain

import numpy as np
import pytest
from hypothesis import assume, settings
from hypothesis import given as drawn
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parent))
from anchored import anchored, of, typed

from rackbook.job import load
from rackbook.loads.seismic import seismic
from rackbook.loads.weights import weights
from rackbook.loads.wind import wind
from rackbook.shipped import shipped
from rackbook.structure.anchorage import anchorage, breakout, development_of, pryout, shear_breakout, sheets, ties_in_shear
from rackbook.structure.anchorage import worked as w
from rackbook.structure.anchorage.breakout import effective_depth
from rackbook.structure.anchorage.groups import concrete, group
from rackbook.structure.anchorage.interaction import interaction
from rackbook.structure.anchorage.plan import PATTERNS, plan, whole
from rackbook.structure.anchorage.reactions import COMPONENTS, Reacted
from rackbook.structure.anchorage.reinforcement import bar_places
from rackbook.structure.anchorage.rod_design import (
    bent_uses,
    rod_design,
    shear_uses,
    tension_uses,
    together,
)
from rackbook.structure.anchorage.rods import printed_tension, rod
from rackbook.structure.anchorage.strengths import strengths
from rackbook.structure.anchorage.sweep import Rows, rows, shears
from rackbook.structure.anchorage.upright import bar_shares, bars_in_tension
from rackbook.structure.frame import frame
from rackbook.tables import table
from rackbook.trace import DomainError, Grid, InputError, LookupFailed, Value

F_C = of(4000, "psi", "f_c_prime")
FAR = of(100, "in", "c")
TAKEN = (*w.TENSION, *w.SHEAR)


def inch(number):
    return of(number, "in", "x")


def cone(h_ef, edges=(100, 100, 100, 100), n=4, s=(8, 8), **more):
    return breakout(F_C, inch(h_ef), *(inch(c) for c in edges), of(n, "", "n"), inch(s[0]), inch(s[1]), **more)


# --- concrete breakout


@settings(max_examples=120)
@drawn(st.floats(2, 24.9), st.floats(0.01, 5), st.floats(2, 20))
def test_more_embedment_never_lowers_breakout_away_from_edges(h_ef, more, s):
    """Up to 25 in., past which the standard itself falls back to its usual expression."""
    shallow, deep = cone(h_ef, s=(s, s)), cone(min(h_ef + more, 25), s=(s, s))
    assert not deep.narrow
    assert deep.N_cbg.magnitude >= shallow.N_cbg.magnitude * (1 - 1e-9)


@settings(max_examples=120)
@drawn(st.floats(2, 24.9), st.floats(0.01, 5), st.floats(2, 30))
def test_more_embedment_never_lowers_breakout_of_a_rod_near_one_edge(h_ef, more, c):
    shallow, deep = (cone(h, (c, 100, 100, 100), n=1, s=(0, 0)) for h in (h_ef, min(h_ef + more, 25)))
    assert deep.N_cbg.magnitude >= shallow.N_cbg.magnitude * (1 - 1e-9)


@settings(max_examples=120)
@drawn(st.floats(2, 40), st.tuples(*[st.floats(3, 60)] * 4), st.floats(2, 20))
def test_the_depth_that_counts_is_that_of_the_narrow_rule(h_ef, edges, s):
    assume(all(abs(c - 1.5 * h_ef) > 1e-9 for c in edges))
    made = cone(h_ef, edges, s=(s, s))
    near = [c for c in edges if c < 1.5 * h_ef]
    assert made.narrow == (len(near) >= 3)
    wanted = min(h_ef, max(max(near) / 1.5, s / 3)) if made.narrow else h_ef
    assert made.h_ef.m_as("in") == pytest.approx(wanted)


@settings(max_examples=80)
@drawn(st.floats(20, 60), st.floats(3, 12), st.floats(2, 12))
def test_in_a_narrow_pier_depth_does_not_count(h_ef, c, s):
    a, b = cone(h_ef, (c,) * 4, s=(s, s)), cone(2 * h_ef, (c,) * 4, s=(s, s))
    assert a.narrow
    assert b.narrow
    assert b.N_cbg.magnitude == pytest.approx(a.N_cbg.magnitude)
    assert a.A_Nc.m_as("in**2") == pytest.approx((2 * c + s) ** 2)  # the whole pier
    assert a.h_ef.m_as("in") == pytest.approx(max(c / 1.5, s / 3))


@settings(max_examples=80)
@drawn(st.floats(3, 20), st.tuples(*[st.floats(3, 60)] * 4), st.floats(2, 10), st.floats(2, 10))
def test_turned_and_mirrored_groups_are_alike(h_ef, edges, s_1, s_2):
    a = cone(h_ef, edges, s=(s_1, s_2)).N_cbg.magnitude
    c_1, c_2, c_3, c_4 = edges
    assert cone(h_ef, (c_2, c_1, c_3, c_4), s=(s_1, s_2)).N_cbg.magnitude == pytest.approx(a)
    assert cone(h_ef, (c_3, c_4, c_1, c_2), s=(s_2, s_1)).N_cbg.magnitude == pytest.approx(a)


@settings(max_examples=60)
@drawn(st.floats(4, 20), st.floats(0, 4), st.floats(0, 4))
def test_eccentric_tension_never_helps(h_ef, e_1, e_2):
    even, off = cone(h_ef), cone(h_ef, e_1=inch(e_1), e_2=inch(e_2))
    assert off.N_cbg.magnitude <= even.N_cbg.magnitude * (1 + 1e-12)
    assert off.psi_ecN.magnitude == pytest.approx(1 / (1 + e_1 / (1.5 * h_ef)) / (1 + e_2 / (1.5 * h_ef)))


def test_a_group_is_never_stronger_than_its_rods_alone():
    single = cone(8, n=1, s=(0, 0)).N_cbg.magnitude
    for s in (2, 8, 16, 24, 40, 80):
        assert cone(8, s=(s, s)).N_cbg.magnitude <= 4 * single * (1 + 1e-9)
    assert cone(8, s=(24, 24)).N_cbg.magnitude == pytest.approx(4 * single)  # 3 h_ef apart


@pytest.mark.parametrize("count", PATTERNS)
def test_rods_stand_alike_on_all_sides(count):
    of_ = whole(plan(anchored(plate=(18, 18, 1), rods=(count, 12, 10))))
    x, y = of_.rods.x.m_as("in"), of_.rods.y.m_as("in")
    assert len(x) == count == len(set(zip(x, y, strict=True)))
    assert (x.sum(), y.sum()) == (0, 0)
    assert (x.max(), y.max()) == (6, 5)
    assert of_.rods.apart("y").m_as("in") == (5 if count == 8 else 10)
    assert of_.rods.apart("x").m_as("in") == (12 if count == 4 else 6)


def test_a_square_group_of_four_is_alike_on_all_sides():
    job = anchored(rods=(4, 10, 10))
    of_ = whole(plan(job))
    within = concrete(job, of_, of(1.5, "in**2"), False)
    sides = [of_.rods.j == 1, of_.rods.j == -1, of_.rods.i == 1, of_.rods.i == -1]
    strength = [group(side, of_, within).breakout.N_cbg.m_as("kip") for side in sides]
    assert strength == pytest.approx([strength[0]] * 4)
    corners = [group(np.arange(4) == n, of_, within).breakout.N_cbg.m_as("kip") for n in range(4)]
    assert corners == pytest.approx([corners[0]] * 4)
    threes = [group(np.arange(4) != n, of_, within).breakout.N_cbg.m_as("kip") for n in range(4)]
    assert threes == pytest.approx([threes[0]] * 4)
    bars = [[b.n_b.magnitude for b in group(side, of_, within).bars] for side in sides]
    assert bars == [bars[0]] * 4
    assert bars[0][0] == bars[0][1] > 0
    by = strengths(job, of_, False)
    assert by.toward_x.V_cbg.magnitude == pytest.approx(by.toward_y.V_cbg.magnitude)


def test_a_front_row_by_hand():
    """Rods 10 in. apart in a square pier of 24 in.: front row 7 in. from its edge, 17 in. from the back."""
    job = anchored(pier=24, shape="square", bars=None)
    of_ = whole(plan(job))
    row = group(of_.rods.j == 1, of_, concrete(job, of_, of(1.5, "in**2"), False)).breakout
    assert row.h_ef.m_as("in") == pytest.approx(17 / 1.5)  # all four edges within 30 in.
    assert row.A_Nc.m_as("in**2") == pytest.approx(24 * 24)
    h = 17 / 1.5
    N_b = 24 * math.sqrt(4000) * h**1.5 / 1000  # 11.33 in.: still a little above the other expression
    assert N_b > 16 * math.sqrt(4000) * h ** (5 / 3) / 1000
    assert row.N_cbg.m_as("kip") == pytest.approx(576 / (9 * h * h) * (0.7 + 0.3 * 7 / 17) * N_b)


def test_effective_depth_takes_the_spacing_of_neighbors():
    edges = {f"c_{n}": inch(5) for n in range(1, 5)}
    assert effective_depth(inch(20), edges, inch(6)).m_as("in") == pytest.approx(5 / 1.5)
    assert effective_depth(inch(20), edges, inch(15)).m_as("in") == pytest.approx(5)
    assert effective_depth(inch(3), edges, inch(6)).m_as("in") == 3
    three = cone(30, (6, 6, 6, 6), n=8, s=(12, 12), g_1=of(2, ""), g_2=of(2, ""))
    assert three.h_ef.m_as("in") == pytest.approx(4)  # rods 6 in. apart, not 12


# --- shear


@settings(max_examples=60)
@drawn(st.floats(3, 30), st.floats(3, 60), st.floats(3, 60), st.floats(6, 100))
def test_shear_along_an_edge_is_at_least_twice_that_toward_it(c, left, right, h_a):
    made = shear_breakout(F_C, inch(1), inch(20), inch(c), inch(left), inch(right), inch(h_a), of(2, ""), inch(6))
    assert made.V_par.magnitude >= 2 * made.V_cbg.magnitude * (1 - 1e-12)
    other = shear_breakout(F_C, inch(1), inch(20), inch(c), inch(right), inch(left), inch(h_a), of(2, ""), inch(6))
    assert other.V_cbg.magnitude == pytest.approx(made.V_cbg.magnitude)


@settings(max_examples=60)
@drawn(st.floats(3, 20), st.floats(0.1, 10))
def test_a_farther_edge_never_weakens_shear_in_a_deep_member(c, more):
    near, far = (
        shear_breakout(F_C, inch(1), inch(20), inch(x), FAR, FAR, FAR, of(2, ""), inch(6)).V_cbg.magnitude
        for x in (c, c + more)
    )
    assert far >= near


def test_pryout_follows_embedment():
    strength = of(10, "kip", "N_cpg")
    assert pryout(inch(2.49), strength).V_cpg.magnitude == 10
    assert pryout(inch(2.5), strength).V_cpg.magnitude == 20


@settings(max_examples=100)
@drawn(st.floats(0, 1.5), st.floats(0, 1.5), st.floats(0, 0.5))
def test_interaction_grows_with_both_shares(r_N, r_V, more):
    def used(a, b):
        return interaction(of(a, ""), of(b, "")).used.magnitude

    assert used(r_N + more, r_V) >= used(r_N, r_V) - 1e-12
    assert used(r_N, r_V + more) >= used(r_N, r_V) - 1e-12
    assert used(r_N, r_V) == pytest.approx(used(r_V, r_N))
    assert used(r_N, r_V) == pytest.approx(together(np.array([r_N]), np.array([r_V]))[0])


# --- bars


def test_bars_stand_evenly():
    for shape, n in (("round", 8), ("square", 8), ("square", 12)):
        x, y = bar_places(shape, 9.0, n)
        assert (x.sum(), y.sum()) == pytest.approx((0, 0), abs=1e-9)
        reach = np.hypot(x, y) if shape == "round" else np.maximum(np.abs(x), np.abs(y))
        assert reach == pytest.approx(9.0)
        apart = np.hypot(x[:, None] - x, y[:, None] - y) + 99 * np.eye(n)
        assert apart.min(axis=1) == pytest.approx(apart.min())


def bars(size="#6", f_c=4000):
    ties = Plain(size="#4")
    return development_of(Plain(count=8, size=size), ties, of(f_c, "psi"), inch(3), inch(30), "round")


def test_bars_hold_the_rods_that_stand_near():
    """#6 in 4000 psi: l_d = 17.08 in.; a bar 4 in. from the rod needs 17.08 + 3 + 2.67 in. of embedment."""
    of_ = bars()
    l_d = 3 / 40 * 60000 / math.sqrt(4000) * 0.8 / 2.5 * 0.75
    assert of_.l_d.m_as("in") == pytest.approx(l_d)
    one_rod = (np.array([6.0]), np.array([0.0]))
    at = (np.array([10.0, -10.0]), np.array([0.0, 0.0]))

    def held(h_ef, whole_):
        (of_rod,) = bars_in_tension(of_, inch(h_ef), inch(102), inch(3), at, one_rod, whole_)
        return of_rod

    need = l_d + 3 + 4 / 1.5
    assert held(20, False).k_d.magnitude == pytest.approx((20 - 3 - 4 / 1.5) / l_d)
    assert held(need - 0.01, True).phi_N_rg.magnitude == 0
    assert held(need - 0.01, True).h_needed.m_as("in") == pytest.approx(need)
    deep = held(need + 0.01, True)
    assert (deep.n_b.magnitude, deep.g.m_as("in")) == (1, 4)
    assert deep.phi_N_rg.m_as("kip") == pytest.approx(0.75 * 0.44 * 60)
    assert held(34, False).n_b.magnitude == 2  # the far bar lies 16 in. off, within 17 in.
    with pytest.raises(DomainError, match="No rod is in tension"):
        bars_in_tension(of_, inch(20), inch(102), inch(3), at, (np.zeros(0), np.zeros(0)), True)


@settings(max_examples=60)
@drawn(st.floats(8, 40), st.floats(0.1, 10), st.booleans())
def test_deeper_rods_are_never_held_by_less(h_ef, more, whole_):
    of_, at = bars(), bar_places("round", 11.0, 8)
    rods = (np.array([5.0, -5.0]), np.array([5.0, 5.0]))
    a, b = (bars_in_tension(of_, inch(h), inch(120), inch(3), at, rods, whole_) for h in (h_ef, h_ef + more))
    for before, after in zip(a, b, strict=True):
        assert after.N_rg.magnitude >= before.N_rg.magnitude - 1e-9


def test_a_bar_serves_the_rods_nearest_to_it():
    """Two rods 10 in. apart with a bar beside each and one between them."""
    bars_x, rods_x = np.array([-5.0, 0.0, 5.0]), np.array([-5.0, 5.0])
    far = np.hypot(bars_x[:, None] - rods_x, 4.0)
    assert bar_shares(far, 30.0).tolist() == [[1, 0], [0.5, 0.5], [0, 1]]
    assert bar_shares(far, 10.0).tolist() == [[1, 0], [0, 0], [0, 1]]  # the bar between them is 6.4 in. off
    alone = np.hypot(np.array([-5.0, 5.0])[:, None] - np.array([-5.0, 0.0, 5.0]), 4.0)
    shared = bar_shares(alone, 30.0)  # the rod in the middle has no bar of its own: all are shared
    assert shared == pytest.approx(np.full((2, 3), 1 / 3))
    of_ = bars("#7")
    held = bars_in_tension(
        of_, inch(40), inch(120), inch(3), (bars_x, np.full(3, 4.0)), (rods_x, np.zeros(2)), True
    )  # l_d = 24.9 in. at most 26.7 in. above
    assert [b.n_b.magnitude for b in held] == [1.5, 1.5]
    assert held[0].phi_N_rg.m_as("kip") == pytest.approx(0.75 * 1.5 * 0.6 * 60)


def test_a_rod_pulled_little_lends_no_bars():
    """One corner rod pulled hard with another hardly: the first is held by its own bars, whatever the sum is."""
    job = anchored(embedment=of(40, "in", "h_ef"))
    of_ = whole(plan(job))
    by = strengths(job, of_, True)
    swept = Rows(*(np.zeros(2),) * 4, np.array([[20.0, 20.0, 0, 0], [20.0, 0.001, 0, 0]]), np.zeros(2, bool))
    even, uneven = tension_uses(swept, by, np.zeros(2, bool))[w.BARS_N]
    front = by.group(np.array([True, True, False, False])).bars
    assert front[0].n_b.magnitude == front[1].n_b.magnitude
    assert uneven == pytest.approx(even)
    assert even == pytest.approx(20 / (0.75 * front[0].n_b.magnitude * 0.6 * 60))


def test_ties_take_shear_on_both_legs():
    assert ties_in_shear("#4").phi_V_rg.m_as("kip") == pytest.approx(0.75 * 2 * 0.2 * 60)


# --- a rack: arrays against single bases


def random_rows(n=40, seed=3):
    chance = np.random.default_rng(seed)
    size = {"P": (-15, 30), "V_x": (-6, 6), "V_y": (-6, 6), "M_x": (-200, 200), "M_y": (-120, 120), "T": (-20, 20)}
    made = []
    for k in range(n):
        acts = {c: float(chance.uniform(*size[c])) for c in COMPONENTS}
        if k % 5 == 0:
            acts |= {"M_y": 0.0, "V_x": 0.0, "T": 0.0}
        if k % 7 == 0:
            acts["P"] = -40.0
        made.append((f"combination {k}", "seismic" if k % 2 else "wind", 1.0, acts))
    made.append(("sheared off", "wind", 1.0, {"P": 2.0, "M_x": 20.0, "V_x": 400.0}))
    made.append(("nothing", "gravity", 1.0, {}))
    made.append(("stands", "gravity", 1.4, {"P": 8.0}))
    return made


JOBS = {
    "round, four": anchored(),
    "square, six": anchored(rods=(6, 11, 10), shape="square", bars=Plain(count=8, size="#6"), embedment=of(28, "in", "h_ef")),
    "eight": anchored(
        plate=(18, 18, 1.25), rods=(8, 14, 14), pier=48, ties=None, grout=of(1.5, "in", "t_g"),
        washer=Plain(width=of(3, "in", "w_w"), thickness=of(0.5, "in", "t_w")), embedment=of(45, "in", "h_ef"),
    ),
}  # fmt: skip


@pytest.mark.parametrize("severe", [False, True])
@pytest.mark.parametrize("name", JOBS)
def test_every_share_of_the_arrays_is_that_of_the_single_base(reacting, name, severe):
    job = JOBS[name]
    of_ = whole(plan(job))
    by = strengths(job, of_, severe)
    f_d = of(2.5, "ksi", "f_d")
    reacted = Reacted(reacting(1, strength=random_rows()), "strength")
    swept = rows(reacted.P, reacted.M_x, reacted.M_y, of_, 2.5, 0.0)
    sheared = shears(reacted.V_x, reacted.V_y, reacted.T, of_)
    uses = {**tension_uses(swept, by, reacted.seismic & severe), **shear_uses(sheared, by)}
    uses[w.BENT] = bent_uses(swept, sheared, by)
    taken = tuple(n for n in uses if n in TAKEN and n != w.BARS_N)
    r_N, r_V = (np.max([uses[n] for n in names if n in taken], axis=0) for names in (w.TENSION, w.SHEAR))
    uses[w.TOGETHER] = together(r_N, r_V)
    for k in range(len(reacted.P)):
        one = w.work(reacted.at(k), by, f_d, taken)
        for n, share in uses.items():
            if n not in one.checks:
                assert not np.isfinite(share[k]) or n == w.BARS_N, n
                continue
            c = one.checks[n]
            ratio = one.used.used.magnitude if n == w.TOGETHER else c.ratio.magnitude
            assert share[k] == pytest.approx(ratio, abs=1e-9), (k, n)


@pytest.mark.parametrize("name", ["round, four"])
def test_heavier_loads_never_use_less(name):
    """All of a combination grown together, on a square plan."""
    job = JOBS[name]
    of_ = whole(plan(job))
    by = strengths(job, of_, False)
    chance = np.random.default_rng(11)
    P, M_x, M_y, V_x, V_y, T = (chance.uniform(-a, a, 200) for a in (20, 150, 150, 4, 4, 10))
    before = None
    for k in (1.0, 1.2, 1.5, 2.0):
        swept = rows(k * P, k * M_x, k * M_y, of_, 2.5, 0.0)
        now = {**tension_uses(swept, by, np.zeros(200, bool)), **shear_uses(shears(k * V_x, k * V_y, k * T, of_), by)}
        if before is not None:
            for n in now:
                assert np.all((now[n] >= before[n] - 1e-9) | ~np.isfinite(now[n])), n
        before = now


def test_mirrored_and_turned_racks_use_the_same(reacting):
    job, made = JOBS["round, four"], random_rows(20, 5)
    of_ = whole(plan(job))

    def checks(change):
        frame_ = reacting(1, strength=[(a, b, c, change(dict(d))) for a, b, c, d in made])
        return {c.name: c.ratio.magnitude for c in rod_design(job, of_, frame_, False).checks}

    as_is = checks(lambda d: d)
    mirrored = checks(lambda d: {k: (v if k == "P" else -v) for k, v in d.items()})
    swap = {"M_x": "M_y", "M_y": "M_x", "V_x": "V_y", "V_y": "V_x"}
    turned = checks(lambda d: {swap.get(k, k): v for k, v in d.items()})
    assert mirrored == pytest.approx(as_is)
    names = {w.BLOW_X: w.BLOW_Y, w.BLOW_Y: w.BLOW_X}
    assert {names.get(n, n): r for n, r in turned.items()} == pytest.approx(as_is)


PUSHED = ("2.3.6-7: 0.9 D + 1.0 Q across", "seismic", 0.9, {"P": [2.0, 1.0], "M_x": [120.0, -150.0], "V_y": 2.0})
BLOWN = ("2.3.1-5: 0.9 D + 1.0 W front", "wind", 0.9, {"P": 2.0, "M_x": [160.0, 100.0], "V_y": [3.0, 1.0]})


def stood(reacting, *more):
    both = [BLOWN, PUSHED, *more]
    return reacting(strength=both, strength_overstrength=both, allowable=both, allowable_overstrength=both)


def test_the_rods_of_a_rack(reacting):
    result = anchorage(anchored(bars=None, ties=None), stood(reacting))
    assert (result.category.magnitude, result.rods.set_name) == ("A", "strength")
    steel = result.rods.governing[w.STEEL_N]
    assert steel.at.base == "post 1"
    k = min(30 / (14 * math.sqrt(2)), 2)
    q = 0.65 * 0.85 * 4 * k * 14
    T = q * (12 - math.sqrt(144 - 2 * (160 + 2 * 5) / q)) - 2
    assert steel.tension.T_max.m_as("kip") == pytest.approx(T / 2)
    assert [c.name for c in result.checks if c.name == w.BARS_N or c.name == w.TIES_V] == []
    assert result.rods.in_tension.text() == "concrete breakout, 17.6.2"
    assert len(result.rods.by_base) == 2


def test_category_c_and_above_asks_for_overstrength_and_three_quarters(reacting):
    severe = anchorage(anchored(spectral=(1.0, 0.6, 0.4), bars=None), stood(reacting))
    mild = anchorage(anchored(bars=None), stood(reacting))
    assert (severe.category.magnitude, severe.rods.set_name) == ("D", "strength_overstrength")
    hard, easy = severe.rods.governing[w.PULLOUT], mild.rods.governing[w.PULLOUT]
    assert (hard.at.kind, easy.at.kind) == ("seismic", "wind")
    assert hard.checks[w.PULLOUT].capacity.m_as("kip") == pytest.approx(0.75 * easy.checks[w.PULLOUT].capacity.m_as("kip"))
    assert hard.checks[w.STEEL_N].capacity.magnitude == easy.checks[w.STEEL_N].capacity.magnitude
    assert hard.checks[w.PRYOUT].capacity.magnitude == easy.checks[w.PRYOUT].capacity.magnitude
    assert any("overstrength" in note for note in severe.notes)


def test_plates_and_rods_take_overstrength_from_the_earthquake_alone(reacting):
    """Of the set with overstrength only the combinations with earthquake count: a wind of 500 there is none of them."""

    def stand(*forces):
        kinds = ("wind", "seismic", "seismic")
        return [
            (label, kind, 0.9, {"P": 1.0, "M_x": M}) for label, kind, M in zip(("W", "Q", "Q 2"), kinds, forces, strict=True)
        ]

    usual, over = stand(100.0, 60.0, 80.0), stand(500.0, 150.0, 110.0)
    frame_ = reacting(1, strength=usual, strength_overstrength=over, allowable=usual, allowable_overstrength=over)
    f_d = 0.65 * 0.85 * 4 * min(30 / (14 * math.sqrt(2)), 2)
    q = f_d * 14

    def by_hand(M):
        return q * (12 - math.sqrt(144 - 2 * (M + 1 * 5) / q)) - 1

    severe = anchorage(anchored(spectral=(1.0, 0.6, 0.4), bars=None), frame_)
    assert severe.plate.pulled.state.N_g.m_as("kip") == pytest.approx(by_hand(150.0), rel=1e-4)
    assert severe.plate.pressed.at.combination == "Q"
    assert ("Base plate thickness, tension side", "post 1", "Q") in severe.plate.governing
    mild = anchorage(anchored(bars=None), frame_)
    assert mild.plate.pulled.state.N_g.m_as("kip") == pytest.approx(by_hand(100.0), rel=1e-4)


def test_grout_is_twice_as_strong_as_the_concrete_or_open(reacting):
    def grouted(strength):
        return anchorage(anchored(grout=of(1.5, "in", "t_g"), grout_strength=strength), stood(reacting))

    (none,) = (c for c in grouted(None).checks if c.name == "Strength of the grout")
    assert none.word == "OPEN"
    (weak,) = (c for c in grouted(of(6000, "psi", "f_g_prime")).checks if c.name == "Strength of the grout")
    assert (weak.demand.m_as("psi"), weak.word) == (8000, "NOT OK")
    assert not [c for c in anchorage(anchored(), stood(reacting)).checks if c.name == "Strength of the grout"]


def test_rods_are_set_through_holes_of_the_guide(reacting):
    of_ = anchorage(anchored(grout=of(1.5, "in", "t_g")), stood(reacting)).set
    assert (of_.hole.m_as("in"), of_.washer.m_as("in"), of_.t_w.m_as("in")) == (1.8125, 3, 0.375)
    assert of_.l_p.m_as("in") == 4.5  # 1.5 + 1 + 0.375 + 1.5 = 4.375
    assert of_.l_r.m_as("in") == 26  # 4.5 + 20 + 1.5


def test_a_direction_of_shear_below_one_percent_is_a_line(reacting):
    acts = {"P": 5.0, "M_x": 100.0, "V_x": 0.003, "V_y": 3.0}
    one = anchorage(anchored(bars=None, ties=None), reacting(1, strength=[("W", "wind", 0.9, acts)])).rods.together
    assert "along the rack" in one.trifle
    assert one.checks[w.BREAKOUT_V].capacity is not w.ONE
    both = anchorage(
        anchored(bars=None, ties=None), reacting(1, strength=[("W", "wind", 0.9, {**acts, "V_x": 1.0})])
    ).rods.together
    assert both.trifle == ""
    assert both.checks[w.BREAKOUT_V].capacity is w.ONE


def test_bars_take_over_where_the_concrete_is_not_enough(reacting):
    deep = {"embedment": of(34, "in", "h_ef")}
    heavy = ("2.3.1-5: 0.9 D + 1.0 W back", "wind", 0.9, {"P": 1.0, "M_x": 500.0})
    held = anchorage(anchored(spectral=(1.0, 0.6, 0.4), **deep), stood(reacting, heavy)).rods
    assert held.in_tension.text() == "anchor reinforcement, 17.5.2.1(a)"
    assert "concrete alone" in held.in_tension.origin.note["because"]
    assert w.BREAKOUT_N not in held.governing
    assert held.governing[w.BARS_N].checks[w.BARS_N].word == "OK"
    short = anchorage(anchored(spectral=(1.0, 0.6, 0.4)), stood(reacting, heavy)).rods
    assert short.in_tension.text() == "concrete breakout, 17.6.2"
    (check,) = [c for c in short.checks if c.name == w.BREAKOUT_N]
    assert check.word == "NOT OK"
    assert "or deeper (anchors.embedment)" in check.remedy
    light = anchorage(anchored(**deep), reacting(strength=[("1.4 D", "gravity", 1.4, {"P": 2.0, "M_x": 20.0})])).rods
    assert light.in_tension.text() == "concrete breakout, 17.6.2"


def test_what_is_missing_stays_open(reacting):
    frame_ = stood(reacting)
    for job, words in (
        (anchored(rods=None), ["Anchor rods"]),
        (anchored(plate=None), ["Base plate"]),
        (anchored(concrete=None), ["Concrete around the rods"]),
        (anchored(plate=None, rods=None, concrete=None), ["Base plate", "Anchor rods", "Concrete around the rods"]),
    ):
        result = anchorage(job, frame_)
        assert [c.word for c in result.checks] == ["OPEN"] * len(words)
        assert [c.name.partition(" of post")[0] for c in result.checks] == words
        assert all(c.remedy.startswith("Give ") for c in result.checks)
        (sheet,) = sheets(result)
        assert "OPEN" in sheet.markdown()


def test_sheets_show_the_governing_base_and_list_them_all(reacting):
    result = anchorage(anchored(spectral=(1.0, 0.6, 0.4)), stood(reacting))
    plates, rods = sheets(result)
    assert [plates.key, rods.key] == ["base_plates", "anchors"]
    assert {c.name for s in (plates, rods) for c in s.checks} == {c.name for c in result.checks}
    text = rods.markdown()
    assert "Selected" in text
    assert text.count("post 1") >= 1
    assert "N_{cbg}" in text


def test_a_sheet_of_rods_lists_every_limit_state_and_sets_out_those_that_matter(reacting):
    result = anchorage(anchored(spectral=(1.0, 0.6, 0.4)), stood(reacting))
    _, sheet = sheets(result)
    one, held = result.rods.together, (result.rods.held_n, result.rods.held_v)
    (table,) = (p for p in sheet.parts if isinstance(p, Grid) and p.title == "Limit states at this base")
    alternatives = {w.BREAKOUT_N if held[0] else w.BARS_N, w.BREAKOUT_V if held[1] else w.TIES_V} & set(one.checks)
    listed = {row[0].partition(" (not governing")[0]: row[3] for row in table.rows}
    assert listed == {n: one.checks[n].ratio for n in listed}
    assert {n for n in listed if n in alternatives} == alternatives & {w.BREAKOUT_N}
    # every limit state stands in Results, at its own governing base; those that matter are listed here and set out
    assert {c.name for c in sheet.checks} >= set(one.checks) - alternatives
    counted = {n: c.ratio.magnitude for n, c in one.checks.items() if n not in alternatives}
    matter = {n for n, r in counted.items() if r >= max(max(counted.values()) / 2, 0.25)}
    holds = {w.BARS_N if held[0] else w.BREAKOUT_N, w.TIES_V if held[1] else w.BREAKOUT_V}
    largest = {max((n for n in kind if n in counted), key=counted.get) for kind in (w.TENSION, w.SHEAR)}
    assert set(listed) - alternatives == matter | largest | holds | {w.TOGETHER}
    full = {id(p) for p in sheet.parts if isinstance(p, Value)}
    for name in (matter | largest) - {w.TOGETHER}:
        c = one.checks[name]
        assert id(c.demand if c.capacity is w.ONE else c.capacity) in full
    assert id(one.used.r) in full
    # the interaction quotes the shares of the table, not worked once more
    assert "Utilization of a capacity" not in sheet.markdown()


# --- details


def test_rods_stand_inside_the_cage_and_clear_of_the_post(reacting):
    checks = {c.name: c for c in anchorage(anchored(), stood(reacting)).checks}
    assert checks["Spacing of the rods"].demand.m_as("in") == 4
    assert checks["Rods inside the cage"].capacity.m_as("in") == pytest.approx(15 - 3 - 0.5 - 0.875)
    assert checks["Nut beside the post"].capacity.m_as("in") == pytest.approx(2)
    tight = {c.name: c for c in anchorage(anchored(bars=Plain(count=8, size="#18"), rods=(4, 13, 13), cover=inch(4.5),
                                                   plate=(15, 15, 1)), stood(reacting)).checks}  # fmt: skip
    assert tight["Rods inside the cage"].word == "NOT OK"


@pytest.mark.parametrize(
    ("job", "field", "words"),
    [
        (anchored(plate=(20, 20, 1), rods=(4, 17, 17)), "anchors.spacing_x", "too near to the edge"),
        (anchored(plate=(20, 20, 1), rods=(4, 10, 24)), "anchors.spacing_y", "outside the concrete|too near"),
        (anchored(plate=None, rods=(4, 22, 22)), "anchors.spacing_x", "outside the concrete"),
        (anchored(plate=(14, 14, 1), rods=(4, 13.5, 10)), "anchors.spacing_x", "outside the base plate"),
        (anchored(plate=(22, 22, 1)), "frame.base_plate.width", "reaches over the pier"),
        (anchored(plate=(5, 14, 1), rods=(4, 3, 10)), "frame.base_plate.length", "smaller than the post"),
        (anchored(rods=(4, 5, 5)), "anchors.spacing_x", "under the post"),
        (anchored(rods=(8, 10, 6)), "anchors.spacing_y", "under the post"),
        (anchored(post="Pipe6STD", rods=(4, 4.5, 5)), "anchors.spacing_x", "under the post"),
    ],
)
def test_a_rod_where_none_can_be_is_one_located_error(job, field, words):
    with pytest.raises(InputError, match=words) as caught:
        plan(job)
    assert caught.value.file == "rack.yaml"
    assert caught.value.line in (75, 102, 103)
    assert caught.value.field in (field, "frame.base_plate.length")
    assert str(caught.value).count("\n") == 0


def test_the_real_file_is_named_with_its_line(tmp_path):
    folder = tmp_path / "job"
    shutil.copytree(shipped("data", "jobs", "quartz_saddle"), folder)
    path = folder / "rack.yaml"
    text = path.read_text().replace("spacing_x: 10.5 in ", "spacing_x: 21 in ").replace("length: 14 in", "length: 24 in")
    path.write_text(text)
    line = next(n for n, each in enumerate(text.splitlines(), 1) if "spacing_x" in each)
    with pytest.raises(InputError, match="too near to the edge") as caught:
        plan(load(folder))
    assert (caught.value.line, caught.value.field) == (line, "anchors.spacing_x")


def test_a_rod_that_is_not_made_is_refused():
    with pytest.raises(LookupFailed, match=r"Diameters: 1/2, .*1-1/4 in"):
        rod(typed(1.5, "in", "d_a", "anchors.diameter", 100), "F1554 Gr 36")


@pytest.mark.parametrize("row", table("anchor_rods").rows, ids=lambda r: f"{r['grade']} {r['diameter']}")
def test_printed_loads_are_area_times_stress(row):
    made = table("materials")
    A = table("anchor_rods").cell((row["grade"], row["diameter"]), "A_se").m_as("in**2")
    assert pytest.approx(table("bolts").cell(row["diameter"], "A_t").m_as("in**2"), abs=0.0006) == A
    for column, strength in (("N_min", "F_u"), ("N_y", "F_y")):
        if row[column]:
            wanted = A * made.cell(row["grade"], strength).m_as("psi")
            assert float(row[column]) == pytest.approx(wanted, rel=0.01)
    if row["N_max"]:
        assert float(row["N_max"]) > float(row["N_min"])


def test_steel_strength_is_what_the_standard_of_rods_prints():
    for size in (0.5, 0.625, 0.75, 0.875, 1.0):
        for grade in ("F1554 Gr 36", "F1554 Gr 55", "F1554 Gr 105"):
            d = of(size, "in", "d_a")
            assert rod(d, grade).N_sa.m_as("lbf") == pytest.approx(printed_tension(d, grade).m_as("lbf"), rel=0.01)
    assert printed_tension(of(1.25, "in", "d_a"), "F1554 Gr 36") is None


# --- the demo jobs


@pytest.mark.parametrize("name", ["quartz_saddle", "heron_quay"])
def test_demo_jobs_are_worked_whole(name):
    job = load(shipped("data", "jobs", name))
    weight = weights(job)
    quake = seismic(job, weight)
    result = anchorage(job, frame(job, weight, wind(job), quake), quake.category)
    assert len(result.checks) > 12
    assert {c.word for c in result.checks} <= {"OK", "NOT OK"}
    assert len(result.plate.by_base) == len(result.rods.by_base) == len(result.bases)
    alone = anchorage(job, frame(job, weight, wind(job), quake))
    assert alone.category.magnitude == quake.category.magnitude

"""Base plates: equilibrium of every base, the static theorem against a linear program, arrays against single bases."""

import itertools
import math
import re
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st
from scipy.optimize import linprog

sys.path.insert(0, str(Path(__file__).parent))
from anchored import anchored, of

from rackbook.structure.anchorage import bearing, concentric, plan, tension
from rackbook.structure.anchorage.bearing import LARGE, LIFTED, SMALL, bearing_side
from rackbook.structure.anchorage.plan import whole
from rackbook.structure.anchorage.plate import by_method
from rackbook.structure.anchorage.plate_design import bearing_available, plate_design
from rackbook.structure.anchorage.reactions import Reacted
from rackbook.structure.anchorage.strips import cantilevers, strips
from rackbook.structure.anchorage.sweep import rows
from rackbook.trace import DomainError

F_D = of(2.5, "ksi", "f_d")
PLANS = {
    "square": whole(plan(anchored())),
    "oblong": whole(plan(anchored(plate=(16, 12, 1), rods=(4, 12, 9)))),
    "six": whole(plan(anchored(rods=(6, 11, 10)))),
    "eight": whole(plan(anchored(plate=(18, 18, 1), rods=(8, 12, 12), shape="square"))),
}
load, moment = st.floats(-40, 120), st.floats(-300, 300)


def kip(number):
    return of(number, "kip", "P")


def inch(number):
    return of(number, "kip*in", "M")


def forces_of(state, of_):
    """Return what acts on the plate: places and pressures' resultants of both axes, rods; upward positive."""
    N, B = of_.plate.N.m_as("in"), of_.plate.B.m_as("in")
    alpha = state.alpha.magnitude
    found = []
    for share, b, size, wide, axis in ((alpha, state.across, B, N, 1), (1 - alpha, state.along, N, B, 0)):
        if b is None or b.Y is None or share == 0:
            continue
        Y = b.Y.m_as("in")
        up = share * b.f_p.m_as("ksi") * Y * wide
        at = [0.0, 0.0]
        at[axis] = -(size - Y) / 2  # the side away from the pulled rods
        found.append((up, *at))
    rods = zip(state.T.m_as("kip"), of_.rods.x.m_as("in"), of_.rods.y.m_as("in"), strict=True)
    return found + [(-T, x, y) for T, x, y in rods]


@pytest.mark.parametrize("name", PLANS)
@settings(max_examples=60)
@drawn(load, moment, moment)
def test_every_base_is_in_equilibrium(name, P, M_x, M_y):
    plan_ = PLANS[name]
    try:
        state = tension(kip(P), inch(M_x), inch(M_y), plan_, F_D)
    except DomainError:
        return  # too small a plate, said so
    forces = forces_of(state, plan_)
    scale = abs(P) + abs(M_x) + abs(M_y) + 1
    assert sum(f for f, _, _ in forces) == pytest.approx(P, abs=1e-9 * scale)
    assert sum(-f * y for f, _, y in forces) == pytest.approx(abs(M_x), abs=1e-8 * scale)
    assert sum(-f * x for f, x, _ in forces) == pytest.approx(abs(M_y), abs=1e-8 * scale)
    assert state.T.magnitude.min() >= -1e-9 * scale
    alpha = state.alpha.magnitude
    shares = ((alpha, state.across), (1 - alpha, state.along))
    pressed = sum(s * b.f_p.m_as("ksi") for s, b in shares if b is not None and b.f_p is not None)
    if all(b is None or b.regime != "overloaded" for _, b in shares):
        assert pressed <= 2.5 * (1 + 1e-9)


def least_tension(P, M_x, M_y, plan_, f_d, cells=28):
    """Return the least possible largest tension of a rod, by a linear program over a grid of bearing cells."""
    N, B = plan_.plate.N.m_as("in"), plan_.plate.B.m_as("in")
    u, v = ((np.arange(cells) + 0.5) / cells * size - size / 2 for size in (N, B))
    at_x, at_y = (a.ravel() for a in np.meshgrid(u, v))
    x, y = plan_.rods.x.m_as("in"), plan_.rods.y.m_as("in")
    most = f_d * N * B / cells**2
    n, m = len(at_x), len(x)
    statics = np.array(
        [
            np.concatenate([np.ones(n), -np.ones(m), [0]]),
            np.concatenate([-at_y, y, [0]]),
            np.concatenate([-at_x, x, [0]]),
        ]
    )
    below = np.hstack([np.zeros((m, n)), np.eye(m), -np.ones((m, 1))])
    found = linprog(
        np.concatenate([np.zeros(n + m), [1]]), A_ub=below, b_ub=np.zeros(m), A_eq=statics,
        b_eq=[P, abs(M_x), abs(M_y)], bounds=[(0, most)] * n + [(0, None)] * (m + 1), method="highs",
    )  # fmt: skip
    return found.fun if found.success else None


CASES = [(5, 150, 0), (5, 150, 60), (20, 250, 100), (-6, 80, 30), (60, 200, 200), (10, 90, 90), (40, 100, 0), (-8, 15, 10)]


@pytest.mark.parametrize(("P", "M_x", "M_y"), CASES)
@pytest.mark.parametrize("name", PLANS)
def test_no_distribution_of_forces_has_less_tension(name, P, M_x, M_y):
    """The static theorem: what is taken is one balanced state, so its tension is never below the least possible one."""
    plan_ = PLANS[name]
    ours = tension(kip(P), inch(M_x), inch(M_y), plan_, F_D).T_max.m_as("kip")
    least = least_tension(P, M_x, M_y, plan_, 2.5)
    assert least is not None
    assert ours >= least * (1 - 0.02) - 0.05  # a cell of the grid is coarse
    if M_y == 0 and name in ("square", "oblong", "six"):
        assert ours <= least * 1.15 + 0.1  # the program also pulls the rods on the pressed side


@pytest.mark.parametrize("name", PLANS)
def test_arrays_give_what_single_bases_give(name):
    plan_ = PLANS[name]
    chance = np.random.default_rng(7)
    P = np.concatenate([chance.uniform(-40, 120, 60), [0, 0, 900, 990, -5]])
    M_x = np.concatenate([chance.uniform(-300, 300, 60), [0, 50, 10, 900, 0]])
    M_y = np.concatenate([chance.uniform(-300, 300, 40), np.zeros(20), [0, 0, 5, 0, 0]])
    l = cantilevers(plan_)[2]
    swept = rows(P, M_x, M_y, plan_, 2.5, l.m_as("in"))
    seen = set()
    for k in range(len(P)):
        one = tension(kip(P[k]), inch(M_x[k]), inch(M_y[k]), plan_, F_D, at_most=True)
        assert swept.T[k] == pytest.approx(one.T.m_as("kip"), abs=1e-9)
        assert swept.alpha[k] == pytest.approx(one.alpha.magnitude)
        assert np.array_equal(swept.pulled[k], one.pulled)
        sides = [b for b in (one.across, one.along) if b is not None]
        seen |= {b.regime for b in sides} or {"hanging"}
        assert swept.hanging[k] == (not sides)
        moments = [bearing_side(b.f_p, b.Y, l, of(4, "ksi")).m_as("in") ** 2 if b.f_p is not None else 0.0 for b in sides] or [
            0.0,
            0.0,
        ]
        assert swept.M_pl[k] == pytest.approx(swept.alpha[k] * moments[0] + (1 - swept.alpha[k]) * moments[1], abs=1e-9)
    assert {SMALL, LARGE, "overloaded", "hanging"} <= seen


@settings(max_examples=80)
@drawn(load, st.floats(0, 300), st.sampled_from(sorted(PLANS)))
def test_one_moment_alone_is_the_case_of_one_axis(P, M, name):
    plan_ = PLANS[name]
    f = of(plan_.rods.s_y.m_as("in") / 2, "in", "f")
    try:
        alone = bearing(kip(P), inch(M), plan_.plate.B, plan_.plate.N, f, F_D)
    except DomainError:
        with pytest.raises(DomainError, match="too small"):
            tension(kip(P), inch(M), inch(0), plan_, F_D)
        return
    both = tension(kip(P), inch(M), inch(0), plan_, F_D)
    if both.across is None:  # it hangs on all rods
        assert alone.regime in (LIFTED, LARGE)
        return
    assert both.across.regime == alone.regime
    row = both.T.m_as("kip")[plan_.rods.j == 1].sum()
    assert row == pytest.approx(alone.T.m_as("kip") if alone.T is not None else 0.0, abs=1e-9)


@settings(max_examples=80)
@drawn(load, moment, moment)
def test_senses_and_a_quarter_turn_change_nothing(P, M_x, M_y):
    plan_ = PLANS["square"]
    try:
        T = tension(kip(P), inch(M_x), inch(M_y), plan_, F_D).T.magnitude
    except DomainError:
        return
    for a, b in itertools.product((1, -1), repeat=2):
        assert tension(kip(P), inch(a * M_x), inch(b * M_y), plan_, F_D).T.magnitude == pytest.approx(T, abs=1e-9)
    turned = tension(kip(P), inch(M_y), inch(M_x), plan_, F_D).T.magnitude
    assert turned[[0, 2, 1, 3]] == pytest.approx(T, abs=1e-9)


@settings(max_examples=100)
@drawn(load, st.floats(0, 250), st.floats(0, 250), st.floats(1.0, 1.5))
def test_more_moment_never_pulls_less(P, M_x, M_y, more):
    plan_ = PLANS["square"]
    less, bigger = (rows(np.array([P]), np.array([k * M_x]), np.array([k * M_y]), plan_, 2.5, 4.0).T.max() for k in (1.0, more))
    assert bigger >= less - 1e-9


@settings(max_examples=60)
@drawn(st.floats(-30, 60), st.floats(0, 250))
def test_tension_is_continuous_where_regimes_meet(P, M):
    """On four rods no step of the moment makes a step of the tension."""
    plan_ = PLANS["square"]
    steps = M + np.linspace(0, 1e-4, 3)
    T = rows(np.full(3, P), steps, np.zeros(3), plan_, 2.5, 4.0).T.max(axis=1)
    assert np.all(np.diff(T) < 1e-3)


def test_regimes_meet_at_the_critical_eccentricity():
    P, N = 100.0, 14.0
    e = N / 2 - P / (2 * 2.5 * 14)
    f = of(5, "in")
    below, above = (bearing(kip(P), inch(P * (e + d)), of(N, "in"), of(14, "in"), f, F_D) for d in (-1e-7, 1e-7))
    assert (below.regime, above.regime) == (SMALL, LARGE)
    assert below.f_p.m_as("ksi") == pytest.approx(2.5)
    assert above.T.m_as("kip") == pytest.approx(0, abs=1e-4)
    assert below.Y.m_as("in") == pytest.approx(above.Y.m_as("in"), rel=1e-6)


def test_a_plate_that_cannot_balance_its_load_says_so():
    with pytest.raises(DomainError, match=r"too small.*larger plate, set the rods further out"):
        bearing(kip(100), inch(3000), of(14, "in"), of(14, "in"), of(5, "in"), of(2, "ksi"))
    most = bearing(kip(100), inch(3000), of(14, "in"), of(14, "in"), of(5, "in"), of(2, "ksi"), at_most=True)
    assert most.Y.m_as("in") == pytest.approx(12)  # f + N/2: the root's last value
    assert most.M_r.magnitude > most.M_rmax.magnitude


def test_yield_lines_by_the_kind_of_post():
    tube, pipe, wide = (whole(plan(anchored(post=post, rods=(4, 11, 11)))) for post in ("HSS6X6X1/4", "Pipe6STD", "W8X31"))
    assert [v.m_as("in") for v in cantilevers(tube)] == pytest.approx([4.15, 4.15, 4.15])
    assert [v.m_as("in") for v in cantilevers(pipe)[:2]] == pytest.approx([(14 - 0.8 * 6.625) / 2] * 2)
    m, n, l = (v.m_as("in") for v in cantilevers(wide))
    assert (m, n) == pytest.approx(((14 - 0.95 * 8) / 2, (14 - 0.8 * 8) / 2))
    assert l == pytest.approx(max(m, n, math.sqrt(8 * 8) / 4))
    assert [s.name for s in strips(tube)] == ["across the rack", "along the rack"]
    assert strips(tube)[0].x.m_as("in") == pytest.approx(5.5 - 2.85)
    assert strips(tube)[0].b_eff.m_as("in") == pytest.approx(1.5 + 2.65)  # the edge, and 45 degrees


def test_a_tall_tube_has_its_depth_across_the_rack():
    of_ = whole(plan(anchored(post="HSS6X4X1/4", plate=(12, 16, 1), rods=(4, 9, 12))))
    m, n, _ = cantilevers(of_)
    assert m.m_as("in") == pytest.approx((16 - 0.95 * 6) / 2)
    assert n.m_as("in") == pytest.approx((12 - 0.95 * 4) / 2)
    across = tension(kip(2), inch(100), inch(0), of_, F_D)
    along = tension(kip(2), inch(0), inch(100), of_, F_D)
    assert across.T_max.magnitude < along.T_max.magnitude  # rods 12 in. apart across, 9 in. along


def test_rods_between_flanges_bend_the_plate_about_the_web():
    of_ = whole(plan(anchored(post="W8X31", plate=(10, 10, 1), rods=(4, 4, 5))))
    (only,) = strips(of_)
    assert only.name == "between the flanges"
    assert only.x.m_as("in") == pytest.approx(2 - 0.285 / 2)


def test_methods_differ_by_their_factors():
    stress = of(3.4, "ksi")
    assert by_method(stress, "concrete bearing", "LRFD").m_as("ksi") == pytest.approx(2.21)
    assert by_method(stress, "concrete bearing", "ASD").m_as("ksi") == pytest.approx(3.4 / 2.31)
    with pytest.raises(DomainError, match="allowed: LRFD, ASD"):
        by_method(stress, "flexure", "LSD")


def test_confinement_is_capped_and_knows_the_pier():
    small = whole(plan(anchored(post="HSS4X4X1/4", plate=(10, 10, 1), rods=(4, 7, 7))))
    assert bearing_available(of(4000, "psi"), small, "LRFD")[0].magnitude == 2
    square = whole(plan(anchored(shape="square", plate=(20, 16, 1))))
    assert bearing_available(of(4000, "psi"), square, "LRFD")[0].magnitude == pytest.approx(1.5)


def test_concentric_needs_compression():
    size = {n: of(v, "in") for n, v in (("N", 14), ("B", 14), ("d", 6), ("b_f", 6))}
    k = {"k_d": of(0.95, ""), "k_b": of(0.95, "")}
    with pytest.raises(DomainError, match="compression"):
        concentric(kip(-1), **size, **k, f_c_prime=of(4, "ksi"), A_2=of(400, "in**2"), F_y=of(36, "ksi"))


def frame_of(reacting, name="strength", *more):
    light = ("2.3.1-1: 1.4 D", "gravity", 1.4, {"P": [4.0, 5.0]})
    pushed = ("2.3.1-5: 0.9 D + 1.0 W front", "wind", 0.9, {"P": [2.0, 3.0], "M_x": [-150.0, 160.0], "V_y": 3.0})
    biaxial = ("2.3.6-7: 0.9 D + 1.0 Q", "seismic", 0.9, {"P": 1.0, "M_x": [90.0, -60.0], "M_y": 40.0, "V_x": 1.0, "V_y": 2.0})
    return reacting(**{name: [light, pushed, biaxial, *more]})


def test_the_plates_of_a_rack(reacting):
    job = anchored()
    result = plate_design(job, PLANS["square"], Reacted(frame_of(reacting), "strength"))
    assert result.pressed.at.words == "post 2, 2.3.1-5: 0.9 D + 1.0 W front"
    assert result.pulled.at.base == "post 2"
    by_name = {c.name: c for c in result.checks}
    assert set(by_name) == {
        "Base plate length: moment about the rods resisted by bearing",
        "Base plate thickness, bearing side", "Base plate thickness, tension side",
    }  # fmt: skip
    # by hand: one moment, q = 0.65 * 0.85 * 4 * k * 14
    q = 0.65 * 0.85 * 4 * min(30 / (14 * math.sqrt(2)), 2) * 14
    Y = 12 - math.sqrt(144 - 2 * (160 + 3 * 5) / q)
    T = q * Y - 3
    m_pl = q / 14 * Y * (4.15 - Y / 2)
    assert result.pressed.t_req.m_as("in") == pytest.approx(math.sqrt(4 * m_pl / 32.4))
    assert result.pulled.t_req.m_as("in") == pytest.approx(math.sqrt(4 * T / 2 * 2.15 / (2.0 + 2.15) / 32.4))
    assert len(result.by_base) == 2
    assert result.by_base[1].t_bearing is result.pressed.t_req
    assert all(c.word == "OK" for c in result.checks)


def test_a_plate_too_small_is_not_ok_with_what_to_do(reacting):
    far = ("2.3.1-5: 0.9 D + 1.0 W back", "wind", 0.9, {"P": 60.0, "M_x": 3500.0})
    result = plate_design(anchored(), PLANS["square"], Reacted(frame_of(reacting, "strength", far), "strength"))
    (length,) = [c for c in result.checks if "length" in c.name]
    assert length.word == "NOT OK"
    assert re.search("no root.*larger plate", length.remedy)


def test_the_allowable_set_serves_asd(reacting):
    job = anchored(method="ASD")
    result = plate_design(job, PLANS["square"], Reacted(frame_of(reacting, "allowable"), "allowable"))
    assert result.F_d.m_as("ksi") == pytest.approx(36 / 1.67)
    assert result.f_d.m_as("ksi") == pytest.approx(0.85 * 4 * 30 / (14 * math.sqrt(2)) / 2.31)


def test_a_base_that_only_stands_needs_no_rods(reacting):
    frame = reacting(strength=[("2.3.1-1: 1.4 D", "gravity", 1.4, {"P": 5.0})])
    result = plate_design(anchored(), PLANS["square"], Reacted(frame, "strength"))
    assert result.pulled is None
    assert [c.name for c in result.checks] == ["Bearing of the plate on the concrete", "Base plate thickness, bearing side"]
    assert result.pressed.f_p.m_as("ksi") == pytest.approx(5 / 196)

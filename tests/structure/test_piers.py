"""Piers: embedded poles, statics of the shaft, the concrete section by strips, and whole foundations worked by hand."""

import csv
import math
import re
import shutil
from types import SimpleNamespace as Plain

import numpy as np
import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st
from scipy import integrate, optimize, spatial

from rackbook.book import compute
from rackbook.job import load
from rackbook.loads.seismic import seismic
from rackbook.loads.weights import weights
from rackbook.loads.wind import wind
from rackbook.shipped import shipped
from rackbook.structure.frame import frame
from rackbook.structure.piers import (
    constrained_depth,
    couple_depth,
    nonconstrained_depth,
    pier_actions,
    piers,
    sheets,
    state,
    strength,
)
from rackbook.structure.piers.actions import demands
from rackbook.structure.piers.curves import curve
from rackbook.structure.piers.embedment import held_depths, pole_depths
from rackbook.structure.piers.loads import loads
from rackbook.structure.piers.section import Section
from rackbook.trace import DomainError, Source, given, recompute

HAND = Source("derivation", "worked by hand")
force, height, width, pressure = (st.floats(*ends) for ends in ((1, 5e4), (0, 40), (0.5, 8), (50, 2000)))


def v(number, unit="", symbol="x"):
    return given(number, unit, HAND, symbol)


def pole(P, h, b, S):
    return nonconstrained_depth(v(P, "lbf", "P"), v(h, "ft", "h"), v(b, "ft", "b"), v(S, "psf/ft", "S"))


# -- embedment


@drawn(force, height, width, pressure)
@settings(max_examples=50)
def test_smallest_depth_gives_itself_back(P, h, b, S):
    found = pole(P, h, b, S)
    d = found.d.m_as("ft")
    assert d == pytest.approx(found.trial.m_as("ft"), rel=1e-9)
    # any lesser depth asks for more than itself, by the clause as printed
    for less in (0.5 * d, 0.99 * d):
        A = 2.34 * P / (S * min(less, 12) / 3 * b)
        assert 0.5 * A * (1 + math.sqrt(1 + 4.36 * h / A)) > less


@drawn(force, height, width, pressure, st.floats(1.001, 5))
@settings(max_examples=50)
def test_depth_rises_with_load_and_falls_with_soil_and_width(P, h, b, S, more):
    d = pole(P, h, b, S).d.magnitude
    assert pole(P * more, h, b, S).d.magnitude > d
    assert pole(P, h + more, b, S).d.magnitude > d
    assert pole(P, h, b * more, S).d.magnitude < d
    assert pole(P, h, b, S * more).d.magnitude < d
    assert pole(2 * P, h, 2 * b, S).d.magnitude == pytest.approx(d)  # only their ratio counts


@drawn(st.lists(st.tuples(force, height, pressure), min_size=1, max_size=5), width)
@settings(max_examples=40)
def test_arrays_give_what_single_loads_give(loads, b):
    P, h, S = (np.array(x) for x in zip(*loads, strict=True))
    one_by_one = [pole(*load[:2], b, load[2]).d.magnitude for load in loads]
    assert pole_depths(P, P * h, b, S) == pytest.approx(one_by_one, rel=1e-9)
    held = [constrained_depth(v(b, "ft"), v(s, "psf/ft"), v(p * 5, "lbf*ft")).d.magnitude for p, _, s in loads]
    assert held_depths(P * 5, b, S) == pytest.approx(held, rel=1e-9)


def test_no_load_asks_for_no_depth():
    assert pole_depths([0.0, 0.0], [0.0, 10.0], 2.0, [150.0, 150.0])[0] == 0
    assert held_depths([0.0], 2.0, [150.0])[0] == 0


@drawn(force, width, pressure)
@settings(max_examples=40)
def test_a_couple_is_a_small_force_far_up(M, b, S):
    alone = couple_depth(v(M, "lbf*ft"), v(b, "ft"), v(S, "psf/ft")).d.magnitude
    assert pole(1e-4, M / 1e-4, b, S).d.magnitude == pytest.approx(alone, rel=1e-3)


def test_depth_moves_with_its_inputs():
    S = v(150, "psf/ft", "S")
    d = nonconstrained_depth(v(2000, "lbf", "P"), v(6, "ft", "h"), v(2, "ft", "b"), S).d
    assert recompute(d, {S: v(300, "psf/ft", "S")}).magnitude == pytest.approx(pole(2000, 6, 2, 300).d.magnitude)


# -- shaft


@settings(max_examples=40)
@drawn(st.floats(0.05, 50), st.floats(0, 500), st.floats(3, 30))
def test_shaft_is_in_equilibrium(P, M, d):
    K = 12 * (2 * P * d + 3 * M) / d**4
    z_r = d * (3 * P * d + 4 * M) / (2 * (2 * P * d + 3 * M))

    def p(z):
        return K * z * (z_r - z)

    def shear(z):
        return P - integrate.quad(p, 0, z)[0]

    assert shear(d) == pytest.approx(0, abs=1e-6 * (P + M / d))
    assert integrate.quad(lambda z: p(z) * z, 0, d)[0] == pytest.approx(-M, abs=1e-6 * (M + P * d))
    z_0 = optimize.brentq(shear, 0, z_r)
    moment = M + P * z_0 - integrate.quad(lambda z: p(z) * (z_0 - z), 0, z_0)[0]
    of = pier_actions(v(P, "kip"), v(M, "kip*ft"), v(d, "ft"))
    assert of.z_0.m_as("ft") == pytest.approx(z_0, rel=1e-6)
    assert of.M_u.m_as("kip*ft") == pytest.approx(moment, rel=1e-6)
    assert of.V_r.m_as("kip") == pytest.approx(-shear(z_r), rel=1e-6)
    assert of.M_u.m_as("kip*ft") >= M
    assert of.V_u.m_as("kip") >= P * (1 - 1e-12)


# -- section


def section(shape="round", b=24.0, R_s=8.0, n=8, A_b=0.44, f_c=4.0, f_y=60.0):
    return Section(shape, v(b, "in"), v(R_s, "in"), v(n), v(A_b, "in**2"), v(f_c, "ksi"), v(f_y, "ksi"))


def points(of, slices=400):
    """Return the section as small areas of concrete and its bars, in its own axes: the side or the first bar up (y)."""
    b, R_s, n = of.b.magnitude, of.R_s.magnitude, of.count
    s = (np.arange(slices) + 0.5) / slices * b - b / 2
    x, y = (a.ravel() for a in np.meshgrid(s, s))
    if of.shape == "round":
        inside = np.hypot(x, y) <= b / 2
        turn = 2 * np.pi * np.arange(n) / n
        bars = R_s * np.sin(turn), R_s * np.cos(turn)
    else:
        inside = np.ones(x.shape, bool)
        run = np.linspace(-1, 1, n // 4 + 1)
        ring = {(a, side) for a in run for side in (-1, 1)} | {(side, a) for a in run for side in (-1, 1)}
        bars = tuple(R_s * np.array(sorted(ring)).T)
    return (x[inside], y[inside], (b / slices) ** 2), bars


def by_points(of, c, degrees):
    """Return P_n and the whole moment (along the direction, and across it) by adding up small areas."""
    (x, y, dA), (xb, yb) = points(of)
    assert len(xb) == of.count
    angle = math.radians(degrees)
    along, across = x * math.sin(angle) + y * math.cos(angle), x * math.cos(angle) - y * math.sin(angle)
    along_b, across_b = xb * math.sin(angle) + yb * math.cos(angle), xb * math.cos(angle) - yb * math.sin(angle)
    b, f_c, f_y, A_b = of.b.magnitude, of.f_c_prime.magnitude, of.f_y.magnitude, of.A_b.magnitude
    top = b / 2 if of.shape == "round" else b / 2 * (math.sin(angle) + math.cos(angle))
    beta = min(0.85, max(0.65, 0.85 - 0.05 * (f_c - 4)))
    pressed = along > top - beta * c
    stress = np.clip(29_000 * 0.003 * (c - top + along_b) / c, -f_y, f_y) - 0.85 * f_c * (along_b > top - beta * c)
    C, F = 0.85 * f_c * dA * pressed, A_b * stress
    return C.sum() + F.sum(), (C * along).sum() + (F * along_b).sum(), (C * across).sum() + (F * across_b).sum()


@settings(max_examples=25)
@drawn(
    st.sampled_from([("round", 6), ("round", 7), ("round", 12), ("square", 4), ("square", 8), ("square", 16)]),
    st.floats(0.1, 1.8), st.integers(0, 45), st.floats(3, 9),
)  # fmt: skip
def test_state_against_small_areas(kind, depth, degrees, f_c):
    of = section(*kind[:1], n=kind[1], f_c=f_c)
    found = state(of, v(24 * depth, "in", "c"), degrees)
    P, M, _ = by_points(of, 24 * depth, degrees)
    whole = 0.85 * f_c * 24**2
    assert found.P_n.m_as("kip") == pytest.approx(P, abs=0.004 * whole)
    assert found.M_n.m_as("kip*in") == pytest.approx(M, abs=0.004 * whole * 12)


@pytest.mark.parametrize("degrees", [0, 10, 22, 37, 45])
def test_least_moment_of_a_square_holds_in_every_direction(degrees):
    of = section("square", n=12)
    strong = strength(of)
    for c in (4.0, 6.0, 9.0):
        P, along, across = by_points(of, c, degrees)
        nominal = min(np.interp(P, on.P_n, on.M_n) for on in strong.curves)
        assert math.hypot(along, across) >= 0.997 * nominal


@pytest.mark.parametrize("of", [section(), section(n=7), section("square", n=8), section("square", n=12, f_c=6.0)])
def test_nominal_curves_bulge_out(of):
    """Both halves of a nominal curve together are their own convex hull, but for the concrete that single bars displace."""
    for on in strength(of).curves:
        at_once = of.count // 4 + 1 if of.shape == "square" else 2  # bars that enter the stress block together
        assert np.all(np.diff(on.P_n) > -0.85 * of.f_c_prime.magnitude * of.A_b.magnitude * at_once - 1e-3)
        x = np.concatenate([on.M_n, -on.M_n]) / on.M_n.max()
        y = np.concatenate([on.P_n, on.P_n]) / on.P_n.max()
        hull = spatial.ConvexHull(np.column_stack([x, y]))
        inward = -np.max(hull.equations[:, :2] @ np.stack([x, y]) + hull.equations[:, 2:], axis=0)
        assert inward.max() < 0.01


def test_sections_are_symmetric():
    round_, square = section(n=8), section("square", n=12)
    for of, degrees, same in ((round_, 10, (-10, 35, 55, 190)), (square, 20, (20 + 180, 20 - 180))):
        first = curve(of, degrees)
        for other in same:
            assert np.sort(of.heights(other)) == pytest.approx(np.sort(of.heights(degrees)))
        assert np.all(np.isfinite(first.M_n))
    assert np.sort(round_.heights(0)) == pytest.approx(-np.sort(-round_.heights(0))[::-1])
    square_45 = square.heights(45)
    assert np.sort(square_45) == pytest.approx(np.sort(-square_45))


@drawn(st.floats(-150, 900))
@settings(max_examples=30)
def test_arrays_of_moments_are_those_of_single_states(P):
    strong = strength(section())
    array = strong.moments([P, P])
    if array[0] == 0:
        with pytest.raises(DomainError, match="more than the section carries"):
            strong.at(v(P, "kip", "P_u"))
        return
    at = strong.at(v(P, "kip", "P_u"))
    assert at.P_d.m_as("kip") == pytest.approx(P, abs=1e-3)
    exact = at.M_d.m_as("kip*in")
    assert array == pytest.approx(exact, rel=1e-3)  # straight between the points of a curve
    assert 0.65 <= at.phi.magnitude <= 0.90
    assert all(state(section(), at.c, on.direction).P_n.magnitude > -1e3 for on in strong.curves)


def test_more_steel_and_more_concrete_carry_more():
    P = np.linspace(-100, 300, 9)
    weak = strength(section(n=6, A_b=0.44)).moments(P)
    assert np.all(strength(section(n=6, A_b=0.60)).moments(P) > weak)
    assert np.all(strength(section(n=6, A_b=0.44, b=26, R_s=9)).moments(P) > weak)
    assert np.all(strength(section(n=6, A_b=0.44, f_c=5)).moments(P) > weak * 0.999)


def test_bars_that_do_not_fit():
    with pytest.raises(DomainError, match=r"4, 8, 12 \.\.\. bars, not 6"):
        section("square", n=6)
    with pytest.raises(DomainError, match="No bars fit"):
        section(R_s=-1)


# -- whole foundations


def wind_only(**more):
    """Return two combinations: weight alone, and 0.6 of it with wind."""
    return [
        ("2.4.1-1: 1.0 D", "gravity", 1.0, {"P": 2.0, **more.get("still", {})}),
        ("2.4.1-7: 0.6 D + 0.6 W", "wind", 0.6, {"P": 0.5, "V_y": 1.2, "M_x": -60.0, **more.get("blown", {})}),
    ]


def standing_on(reacting, bases=2, strong=1.6, **more):
    allowable = wind_only(**more)
    strength = [(a, k, f, {c: np.multiply(x, strong if c != "P" else 1.0) for c, x in r.items()}) for a, k, f, r in allowable]
    return reacting(bases, allowable=allowable, strength=strength)


def named(result, start):
    return next(c for c in result.checks if c.name.startswith(start))


def test_hand_worked_pier(foundation, reacting):
    of = piers(foundation(earth=foundation.soil(unit_weight=foundation.of(110, "pcf", "gamma_s"))), standing_on(reacting))
    lateral = of.drilled.lateral[0]
    # P = 1.2 kip at the plate, M = 5 kip ft; 6 in. above grade: M_g = 5.6 kip ft
    assert lateral.M_g.m_as("kip*ft") == pytest.approx(5.6)
    d = optimize.brentq(lambda d: d**3 - 7.02 * 1200 / 300 * (d + 1.09 * 5600 / 1200), 0.1, 50)
    assert lateral.d_req.m_as("ft") == pytest.approx(d)
    check = named(of, "Embedment")
    assert check.ratio.magnitude == pytest.approx(d / 8)
    assert check.word == "OK"
    area, W = math.pi, 150 * math.pi * 8.5
    assert named(of, "Bearing").demand.m_as("psf") == pytest.approx((2000 + W - 110 * math.pi * 8) / area)
    assert not [c for c in of.checks if c.name.startswith("Uplift")]
    # strength: 1.6 times; no soil is discounted
    P, M = 1.92, 8.96
    assert named(of, "Axial force and moment").demand.m_as("kip*ft") == pytest.approx(
        pier_actions(v(P, "kip"), v(M, "kip*ft"), v(8, "ft")).M_u.m_as("kip*ft")
    )
    shear = named(of, "Shear")
    # 8 #6 are 0.0078 of the area: a section of 3.52/0.01 in2 is counted on
    b_e = math.sqrt(352 * 4 / math.pi)
    V_c = (2 * math.sqrt(4000) + 500 / (6 * 352)) * b_e * 0.8 * b_e
    V_s = 2 * 0.11 * 60_000 * 0.8 * b_e / 10
    assert shear.capacity.m_as("lbf") == pytest.approx(0.75 * (V_c + V_s), rel=1e-6)
    assert named(of, "Minimum area").demand.m_as("in**2") == pytest.approx(0.005 * math.pi * 144)
    assert named(of, "Clear distance").capacity.m_as("in") == pytest.approx(2 * 8.25 * math.sin(math.pi / 8) - 0.75)
    assert named(of, "Spacing of ties in").capacity.m_as("in") == pytest.approx(12)
    assert of.pier.V_t.m_as("yd**3") == pytest.approx(2 * math.pi * 8.5 / 27)
    assert all(c.word == "OK" for c in of.checks)
    assert any("10.3.1.2" in note for note in of.notes)


def test_reactions_of_the_layout(foundation, reacting):
    of = piers(foundation(earth=foundation.soil()), standing_on(reacting, blown={"P": [-0.7, 0.4], "V_x": 0.5}))
    first = of.layout[0]
    assert first.allowable.P_min.m_as("kip") == -0.7
    assert first.allowable.P_max.m_as("kip") == 2
    assert first.allowable.V_max.m_as("kip") == pytest.approx(math.hypot(0.5, 1.2))
    assert first.strength.M_max.m_as("kip*in") == pytest.approx(96)
    assert first.allowable.combinations[1].startswith("2.4.1-7")
    text = "".join(s.markdown() for s in sheets(of)).replace("\\", "")
    text = text.replace("\u00a0", " ").replace("\u2060", "")
    assert "All piers alike: 2 ft round, 6 in. above and 8 ft below grade, bars 8 #6, ties #3 at 10 in." in text
    assert "| post 2 | 8 | 0 | strength |" in text


@drawn(st.floats(0, 2 * math.pi))
@settings(max_examples=10)
def test_turning_the_axes_changes_nothing(foundation, reacting, angle):
    def results(turn):
        c, s = math.cos(turn), math.sin(turn)
        V, M = np.array([0.3, 1.2]), np.array([-60.0, 15.0])
        V, M = np.array([[c, -s], [s, c]]) @ V, np.array([[c, -s], [s, c]]) @ M
        blown = {"V_x": V[0], "V_y": V[1], "M_x": M[0], "M_y": M[1]}
        of = piers(foundation(earth=foundation.soil()), standing_on(reacting, bases=1, blown=blown))
        return [float(c.ratio.magnitude) for c in of.checks]

    assert results(angle) == pytest.approx(results(0.0), rel=1e-9)


@drawn(st.floats(0, 20), st.floats(1, 3))
@settings(max_examples=10)
def test_weight_never_lowers_the_depth(foundation, reacting, weight, shake):
    """More weight presses more, and shakes more; the depth does not shrink."""

    def depth(P, share):
        blown = {"P": P, "V_y": 1.2 * share, "M_x": -60.0 * share}
        of = piers(foundation(earth=foundation.soil()), standing_on(reacting, bases=1, blown=blown))
        return of.drilled.lateral[0].d_req.magnitude

    assert depth(0.5 + weight, 1.0) == pytest.approx(depth(0.5, 1.0))
    assert depth(0.5 + weight, shake) >= depth(0.5, 1.0) - 1e-9


def test_doubling_is_for_short_loads_on_tabulated_soil(foundation, reacting):
    still = {"V_y": 0.2, "M_x": -10.0}
    frame_ = standing_on(reacting, still=still)
    plain, twice = (piers(foundation(earth=foundation.soil(doubled=d)), frame_) for d in (False, True))
    assert twice.drilled.lateral[0].S.m_as("psf/ft") == 300
    assert named(twice, "Embedment").ratio.magnitude < named(plain, "Embedment").ratio.magnitude
    assert any("1806.3.4" in n and "1/2 in. of motion" in n for n in twice.notes)
    assert not any("1/2 in. of motion" in n for n in plain.notes)
    # weight that pushes sideways for good governs then, at the tabulated value
    heavy = standing_on(reacting, still={"V_y": 1.2, "M_x": -60.0})
    lasting = piers(foundation(earth=foundation.soil(doubled=True)), heavy).drilled.lateral[0]
    assert lasting.combination.startswith("2.4.1-1")
    assert lasting.S.m_as("psf/ft") == 150
    report = Plain(
        title="Report 1", bearing=foundation.of(3000, "psf", "q_a"), lateral=foundation.of(250, "psf/ft", "S"),
        friction=None, cohesion=None, skin=None,
    )  # fmt: skip
    told = piers(foundation(earth=foundation.soil(class_=None, report=report, doubled=True)), frame_)
    assert told.drilled.lateral[0].S.m_as("psf/ft") == 250
    assert any("not followed" in n for n in told.notes)
    held = piers(foundation(earth=foundation.soil(doubled=True, constrained=True)), frame_)
    assert held.drilled.lateral[0].S.m_as("psf/ft") == 150
    assert any("held there" in n for n in held.notes)


def test_a_square_pier_counts_its_diagonal(foundation, reacting):
    of = piers(foundation(earth=foundation.soil(), shape="square"), standing_on(reacting))
    assert of.pier.b.m_as("ft") == pytest.approx(2 * math.sqrt(2))
    assert of.pier.A_p.m_as("ft**2") == 4
    assert named(of, "Embedment").word == "OK"
    assert named(of, "Axial force and moment").word == "OK"
    assert any("crosstie" in n for n in of.notes)


def test_discounted_soil_and_grout_lift_the_load(foundation, reacting):
    earth = foundation.soil(discount=foundation.of(1.5, "ft", "d_0"))
    job = foundation(earth=earth)
    job.anchors = Plain(grout=foundation.of(1.5, "in", "t_g"))
    lateral = piers(job, standing_on(reacting)).drilled.lateral[0]
    assert lateral.M_g.m_as("kip*ft") == pytest.approx(5 + 1.2 * (0.5 + 0.125 + 1.5))
    assert lateral.d_req.m_as("ft") == pytest.approx(lateral.found.d.m_as("ft") + 1.5)


def test_a_shallow_pier_is_told_once(foundation, reacting):
    earth = foundation.soil(frost=foundation.of(60, "in", "d_f"))
    of = piers(foundation(earth=earth, embedment=foundation.of(4, "ft", "d")), standing_on(reacting))
    frost = [c for c in of.checks if "frost" in c.name]
    assert [c.word for c in frost] == ["NOT OK"]
    assert "5.000 ft below grade" in frost[0].remedy
    deep = piers(foundation(earth=earth, embedment=foundation.of(6, "ft", "d")), standing_on(reacting))
    assert named(deep, "Depth of the piers against frost").word == "OK"
    shallow = piers(foundation(earth=foundation.soil(), embedment=foundation.of(0.9, "ft", "d")), standing_on(reacting))
    assert named(shallow, "Depth of the piers against frost").word == "NOT OK"  # 12 in. at least


def test_uplift_is_held_by_weight_and_friction(foundation, reacting):
    pulled = standing_on(reacting, blown={"P": [-6.0, 1.0]})
    bare = named(piers(foundation(earth=foundation.soil()), pulled), "Uplift")
    W = 150 * math.pi * 8.5
    assert bare.demand.m_as("lbf") == 6000
    assert bare.capacity.m_as("lbf") == pytest.approx(0.6 * W)
    assert bare.word == "NOT OK"
    report = Plain(
        title="Report 1", bearing=foundation.of(3000, "psf", "q_a"), lateral=foundation.of(150, "psf/ft", "S"),
        friction=None, cohesion=None, skin=foundation.of(200, "psf", "f_s"),
    )  # fmt: skip
    earth = foundation.soil(class_=None, report=report, discount=foundation.of(1, "ft", "d_0"))
    held = named(piers(foundation(earth=earth), pulled), "Uplift")
    assert held.capacity.m_as("lbf") == pytest.approx(0.6 * W + 200 * 2 * math.pi * 7)
    assert held.word == "OK"


def test_a_pier_held_at_grade(foundation, reacting):
    of = piers(
        foundation(earth=foundation.soil(constrained=True, discount=foundation.of(1, "ft", "d_0"))), standing_on(reacting)
    )
    lateral = of.drilled.lateral[0]
    assert lateral.M_g.m_as("kip*ft") == pytest.approx(5.6)  # at grade, whatever is discounted below
    assert lateral.found.d.m_as("ft") == pytest.approx((4.25 * 5600 / 300) ** (1 / 3))
    held = named(of, "Restraint")
    assert held.word == "OPEN"
    assert held.demand.m_as("kip") == pytest.approx(1.2 + 5.6 / (0.75 * lateral.found.d.m_as("ft")))
    assert named(of, "Axial force and moment").demand.m_as("kip*ft") == pytest.approx(1.6 * 5.6)


def test_what_is_not_given_stays_open(foundation, reacting):
    frame_ = standing_on(reacting)
    bare = piers(foundation(concrete=None, bars=None, ties=None), frame_)
    assert {c.word for c in bare.checks if not c.name.startswith("Spacing of the piers")} == {"OPEN"}
    assert len(bare.checks) == 5
    assert any("no soil" in note for note in bare.notes)
    assert all(s.markdown() for s in sheets(bare))
    untied = piers(foundation(earth=foundation.soil(), ties=None), frame_)
    assert named(untied, "Ties of the piers").word == "OPEN"
    assert (
        named(untied, "Shear").capacity.magnitude
        < named(piers(foundation(earth=foundation.soil()), frame_), "Shear").capacity.magnitude
    )
    for wrong in ({"shape": "square", "bars": Plain(count=6, size="#6")}, {"cover": foundation.of(11.5, "in", "c_c")}):
        of = piers(foundation(earth=foundation.soil(), **wrong), frame_)
        judged = named(of, "Concrete section")
        assert judged.word == "OPEN"
        assert "bars" in judged.remedy.lower()
        assert named(of, "Embedment").word == "OK"


def test_weak_concrete_does_not_pass(foundation, reacting):
    hard = standing_on(reacting, blown={"V_y": 20.0, "M_x": -3000.0, "T": 300.0, "P": -90.0})
    of = piers(foundation(earth=foundation.soil(), bars=Plain(count=4, size="#3"), cover=foundation.of(2, "in", "c_c")), hard)
    words = {c.name.split(" (")[0]: c.word for c in of.checks}
    for name in (
        "Embedment of the piers", "Uplift of the piers", "Axial force alone in the piers", "Shear in the piers",
        "Minimum area of bars in the piers", "Concrete cover of the piers",
    ):  # fmt: skip
        assert words[name] == "NOT OK", name
    assert words["Torsion in the piers"] == "OPEN"  # tension leaves none to be left out
    bent = standing_on(reacting, blown={"V_y": 5.0, "M_x": -800.0, "T": 300.0, "P": 1.0})
    of = piers(foundation(earth=foundation.soil(), bars=Plain(count=6, size="#5")), bent)
    words = {c.name.split(" (")[0]: c.word for c in of.checks}
    assert words["Axial force and moment in the piers"] == words["Torsion in the piers"] == "NOT OK"


def test_cantilever_columns_take_overstrength(foundation, reacting):
    quake = ("2.4.5-8: 1.0 D + 0.7 E", "seismic", 1.1, {"P": 1.0, "V_y": 1.0, "M_x": -50.0})
    more = ("2.4.5-8: 1.0 D + 0.7 Omega E", "seismic", 1.1, {"P": 1.0, "V_y": 2.0, "M_x": -100.0})
    frame_ = reacting(
        1, allowable=[*wind_only(), quake], strength=[*wind_only(), quake],
        allowable_overstrength=[*wind_only(), more], strength_overstrength=[*wind_only(), more],
    )  # fmt: skip

    def governed(row):
        system = Plain(row=v(1), category=None)
        system.row = Plain(magnitude=row)
        of = piers(
            foundation(earth=foundation.soil()),
            frame_,
            Plain(system=system, category=Plain(magnitude="D"), ground=Plain(S_DS=v(1.0))),
        )
        return of, of.drilled.lateral[0]

    plain, lateral = governed("self_supporting")
    assert lateral.P.m_as("kip") == pytest.approx(1.2)
    column, lateral = governed("ordinary_cantilever_column")
    assert lateral.P.m_as("kip") == pytest.approx(2.0)
    assert any("12.2.5.2" in note for note in column.notes)
    assert named(plain, "Tie spacing of the piers, category D").source.locator == "18.7.5.3"


def test_piers_that_stand_in_each_other(foundation, reacting):
    of = foundation.of
    far = piers(foundation(earth=foundation.soil()), standing_on(reacting))
    apart = named(far, "Spacing of the piers (post 1 and post 2)")
    assert apart.demand.m_as("ft") == 2
    assert apart.capacity.m_as("ft") == pytest.approx(8)
    assert apart.word == "OK"
    for shape in ("round", "square"):
        merged = piers(foundation(earth=foundation.soil(), diameter=of(8.5, "ft", "b"), shape=shape), standing_on(reacting))
        assert named(merged, "Spacing of the piers").word == "NOT OK"
    alone = piers(foundation(earth=foundation.soil()), standing_on(reacting, bases=1))
    assert not [c for c in alone.checks if c.name.startswith("Spacing of the piers")]


def shaken_by(letter, S_DS=1.0):
    return Plain(
        system=Plain(row=Plain(magnitude="self_supporting")), category=Plain(magnitude=letter), ground=Plain(S_DS=v(S_DS))
    )


def test_category_d_asks_for_confinement_and_more_steel(foundation, reacting):
    """2 ft piers with 8 #6 and #3 ties at 10 in.: too far apart, too small, too little around the core, too few bars."""
    frame_ = standing_on(reacting)
    of = piers(foundation(earth=foundation.soil()), frame_, shaken_by("D"))
    spaced = named(of, "Tie spacing of the piers, category D")
    # bars 2 x 8.25 sin 22.5 deg = 6.31 in. apart: s_o = 4 + 7.69/3 > 6; 24/4 = 6; 6 x 0.75 = 4.5
    assert spaced.capacity.m_as("in") == pytest.approx(4.5)
    assert spaced.word == "NOT OK"
    assert named(of, "Tie size of the piers, category D").word == "NOT OK"
    ratio = named(of, "Confinement ratio")
    assert ratio.capacity.magnitude == pytest.approx(4 * 0.11 / (10 * 18))
    assert ratio.demand.magnitude == pytest.approx(0.06 * 4 / 60)
    assert named(of, "Vertical bars of the piers").demand.m_as("in**2") == pytest.approx(0.005 * math.pi * 144)
    tied = named(of, "Restraint of single piers")
    assert tied.word == "OPEN"
    assert tied.demand.m_as("kip") == pytest.approx(0.1 * 2.0)
    held = piers(foundation(earth=foundation.soil(restraint=True)), frame_, shaken_by("D"))
    assert not [c for c in held.checks if c.name.startswith("Restraint")]
    assert any("1810.3.13" in note for note in held.notes)
    tight = Plain(size="#4", spacing=foundation.of(4, "in", "s_t"), top=None)
    good = piers(foundation(earth=foundation.soil(restraint=True), ties=tight), frame_, shaken_by("D"))
    assert all(c.word == "OK" for c in good.checks if "category D" in c.name)
    assert not [c for c in piers(foundation(earth=foundation.soil()), frame_, shaken_by("B")).checks if "category" in c.name]
    moderate = piers(foundation(earth=foundation.soil()), frame_, shaken_by("C"))
    assert named(moderate, "Tie spacing of the piers, category C").capacity.m_as("in") == pytest.approx(6)


def test_ties_at_the_top_of_a_pier_with_anchors(foundation, reacting):
    job = foundation(earth=foundation.soil())
    job.anchors = Plain(grout=foundation.of(1, "in", "t_g"))
    found = named(piers(job, standing_on(reacting)), "Ties around the anchors")
    assert (found.demand.magnitude, found.capacity.magnitude, found.word) == (3, 1, "NOT OK")  # #3 at 10 in.
    job.piers.ties = Plain(size="#4", spacing=foundation.of(10, "in", "s_t"), top=2)
    of = piers(job, standing_on(reacting))
    assert named(of, "Ties around the anchors").word == "OK"
    assert of.ties == "#4 at 10 in., 2 of them within 5 in. of the top"
    assert not [c for c in piers(foundation(), standing_on(reacting)).checks if c.name.startswith("Ties around")]


def test_piers_in_line_share_their_soil(foundation, reacting):
    """8 ft apart and 2 ft wide: half the 16 ft from which there is no group effect."""
    blown = {"blown": {"V_x": 1.2, "M_y": -60.0, "V_y": 0.0, "M_x": 0.0}}
    whole = piers(foundation(earth=foundation.soil()), standing_on(reacting, **blown))
    half = piers(foundation(earth=foundation.soil(group=foundation.of(0.5, "", "k_g"))), standing_on(reacting, **blown))
    assert half.drilled.lateral[0].P.m_as("kip") == pytest.approx(2 * whole.drilled.lateral[0].P.m_as("kip"))
    assert half.drilled.lateral[0].M.m_as("kip*in") == pytest.approx(120)
    assert named(half, "Embedment").demand.magnitude > named(whole, "Embedment").demand.magnitude
    across = piers(foundation(earth=foundation.soil(group=foundation.of(0.5, "", "k_g"))), standing_on(reacting))
    assert across.drilled.lateral[0].P.m_as("kip") == pytest.approx(1.2)  # nothing stands behind a single row
    unsaid = named(piers(foundation(earth=foundation.soil(group=None)), standing_on(reacting)), "Lateral group effect")
    assert unsaid.word == "OPEN"
    assert unsaid.demand.m_as("ft") == pytest.approx(16)
    far = foundation(earth=foundation.soil(group=None), diameter=foundation.of(1, "ft", "b"), bars=None, ties=None)
    assert named(piers(far, standing_on(reacting)), "Pier spacing along").word == "OK"


def test_ground_water_is_below_or_buoyant_or_open(foundation, reacting):
    up = {"blown": {"P": -1.0}}
    frame_ = standing_on(reacting, **up)
    dry = piers(foundation(earth=foundation.soil()), frame_)
    assert named(dry, "Ground water").word == "OK"
    assert named(piers(foundation(earth=foundation.soil(water=None)), frame_), "Ground water").word == "OPEN"
    wet = foundation.of(3, "ft", "z_w")
    assert named(piers(foundation(earth=foundation.soil(water=wet)), frame_), "Soil under ground water").word == "OPEN"
    values = {"bearing": v(2000, "psf"), "lateral": v(150, "psf/ft"), "friction": None, "cohesion": None, "skin": None}
    report = Plain(title="R", **values)
    sunk = piers(foundation(earth=foundation.soil(class_=None, report=report, water=wet)), frame_)
    W = 0.15 * math.pi * 8.5 - 0.0624 * math.pi * 5
    assert named(sunk, "Uplift").capacity.m_as("kip") == pytest.approx(0.6 * W)
    assert not [c for c in sunk.checks if "water" in c.name]
    assert any("buoyant" in note for note in sunk.notes)


def test_exposure_asks_for_its_strength(foundation, reacting):
    def asked(**classes):
        base = {"freezing": "F0", "sulfate": "S0", "water": "W0", "corrosion": "C1"}
        return piers(foundation(earth=foundation.soil(), exposure=Plain(**{**base, **classes})), standing_on(reacting))

    frozen = asked(freezing="F2", water="W1")
    check = named(frozen, "Concrete strength for durability")
    assert (check.demand.m_as("psi"), check.word) == (4500, "NOT OK")
    assert frozen.durability.w_cm.magnitude == 0.45
    assert frozen.durability.air.magnitude == 0.06
    assert named(asked(corrosion="C2"), "Concrete strength for").demand.m_as("psi") == 5000
    assert named(asked(), "Concrete strength for").word == "OK"
    bare = piers(foundation(earth=foundation.soil(), exposure=None), standing_on(reacting))
    assert named(bare, "Concrete strength for").word == "OPEN"


# -- the demo jobs


def founded(job):
    w = weights(job)
    shaken = seismic(job, w)
    made = frame(job, w, wind(job), shaken)
    return Plain(of=piers(job, made, shaken), frame=made)


@pytest.fixture(scope="module", params=["quartz_saddle", "heron_quay"])
def demo(request):
    return founded(load(shipped("data", "jobs", request.param)))


def test_demo_is_judged_throughout(demo):
    assert len(demo.of.layout) == 4
    assert demo.of.drilled is not None
    assert demo.of.column is not None
    assert {c.word for c in demo.of.checks} <= {"OK", "NOT OK"}
    assert len(demo.of.checks) >= 13
    for made in sheets(demo.of):
        assert not re.search(r"\b(nan|inf|None)\b", made.markdown())
    shown = {id(c) for made in sheets(demo.of) for c in made.checks}
    assert all(id(c) in shown for c in demo.of.checks)
    assert all(lateral.d_req.m_as("ft") > 1 for lateral in demo.of.drilled.lateral)


def test_traced_reactions_are_those_of_the_arrays(demo):
    for acting, M_d in demo.of.column.by_base:
        again = demo.of.column.strength.at(acting.P_u)
        assert again.M_d.m_as("kip*in") == pytest.approx(M_d.m_as("kip*in"), rel=2e-3)
    worst = max(float(x.d_req.magnitude) for x in demo.of.drilled.lateral)
    assert named(demo.of, "Embedment").demand.magnitude == worst


def test_arrays_of_a_demo_are_its_single_lines(demo):
    """What the sweep over all combinations found for a base is what the traced line of its combination gives."""
    allowable = loads(demo.frame, "allowable")
    e_s = demo.of.drilled.lateral[0].e_s.m_as("ft")
    k = float(demo.of.ground.group.magnitude)  # along the rack the piers stand in one line
    V, M = np.hypot(allowable.V_x / k, allowable.V_y), np.hypot(allowable.M_x, allowable.M_y / k)
    depths = pole_depths(V * 1000, M * 1000 / 12 + V * 1000 * e_s, demo.of.pier.b.m_as("ft"), demo.of.ground.S.m_as("psf/ft"))
    assert [x.found.d.m_as("ft") for x in demo.of.drilled.lateral] == pytest.approx(depths.max(axis=0), rel=1e-9)
    strength_ = loads(demo.frame, "strength")
    acts = demands(demo.of.pier, demo.of.ground, strength_, False)
    for row in (0, len(strength_.rows) // 2, -1):
        acting = acts.one(row % len(strength_.rows), 1)
        assert acting.M_u.m_as("kip*in") == pytest.approx(acts.M_u[row, 1], rel=1e-9)
        assert acting.V_u.m_as("kip") == pytest.approx(acts.V_u[row, 1], rel=1e-9)
        assert acting.P_u.m_as("kip") == pytest.approx(acts.P_u[row, 1], rel=1e-9)


def test_heavier_equipment_never_asks_for_less_depth(tmp_path):
    depths = []
    for share in (1, 2):
        folder = tmp_path / f"heavy_{share}"
        shutil.copytree(shipped("data", "jobs", "quartz_saddle"), folder)
        table = folder / "equipment.csv"
        with table.open(encoding="utf-8", newline="") as file:
            heads, *rows = csv.reader(file)
        at = heads.index("weight [lbf]")
        with table.open("w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows([heads, *([*r[:at], str(share * float(r[at])), *r[at + 1 :]] for r in rows)])
        of = founded(load(folder)).of
        depths.append([float(x.d_req.magnitude) for x in of.drilled.lateral])
    assert np.all(np.array(depths[1]) >= np.array(depths[0]) - 1e-9)
    assert max(depths[1]) > max(depths[0])


# --- through the whole calculation


def test_the_notes_of_category_d_are_on_the_pier_sheets():
    book = compute(load(shipped("data", "jobs", "quartz_saddle")))
    assert book.results["seismic"].category.magnitude == "D"
    text = "".join(book.sheet(key).markdown() for key in ("piers", "pier_concrete")).replace("\\", "")
    assert "Category D: the piers are detailed as drilled deep foundation elements" in text
    assert "closed, ends with seismic hooks" in text
    assert "The overturning moment at the soil is not reduced by 12.13.4" in text
    assert "cantilever column system" not in text
    assert not any(name.endswith("overstrength") for name, _ in loads(book.results["frame"], "allowable").rows)


def test_a_rack_of_cantilever_columns_takes_its_piers_and_feet_with_overstrength(tmp_path, monkeypatch):
    """In category C, where rho is 1 and Omega_0 of 1.25 is the larger, in little wind and without ice."""
    shutil.copytree(shipped("data", "jobs", "quartz_saddle"), tmp_path / "job")
    file = tmp_path / "job" / "rack.yaml"
    text = file.read_text(encoding="utf-8")
    for before, after in (
        (r"system: ordinary_moment_frame_unlimited", "system: ordinary_cantilever_column"),
        (r"spectral: \{S_DS: 1.10, S_D1: 0.62, S_1: 0.48", "spectral: {S_DS: 0.49, S_D1: 0.19, S_1: 0.1"),
        (r"speed: 115 mph", "speed: 60 mph"),
    ):
        text, n = re.subn(before, after, text)
        assert n == 1, before
    file.write_text(text, encoding="utf-8")
    job = load(tmp_path / "job")
    job = job.model_copy(update={"site": job.site.model_copy(update={"ice": None})})
    book = compute(job)
    assert book.results["seismic"].category.magnitude == "C"
    said = "cantilever column system: its foundation takes the seismic load with overstrength"
    assert said in book.sheet("piers").markdown().replace("\\", "")
    # the welds at the post bases meet every row of the set with overstrength, and such a row governs
    feet = book.results["connections"].feet
    assert feet.set_name == "strength_overstrength"
    shaken = [name for name in feet.combinations if " Q " in name]
    assert shaken
    assert all("1.25 Q" in name for name in shaken)
    (weld,) = (c.name for c in feet.checks if c.name.startswith("Weld at the foot"))
    assert "1.25 Q" in weld
    (over,) = (c for c in book.results["piers"].checks if c.name.startswith("Embedment"))
    monkeypatch.setattr("rackbook.structure.piers.loads.CANTILEVER_COLUMNS", ())
    usual = piers(job, book.results["frame"], book.results["seismic"])
    (embedment,) = (c for c in usual.checks if c.name.startswith("Embedment"))
    assert over.demand.magnitude > embedment.demand.magnitude

"""Closed forms of handbooks through the frame's own solution, and beam-columns against the exact theory."""

import math

import numpy as np
import pytest

from rackbook.cases import cases, run
from rackbook.structure.frame.closed import cantilever, portal
from rackbook.structure.frame.second_order import (
    ALPHA,
    R_M,
    amplifier_member,
    amplifier_sway,
    member_strength,
    story_factor,
    story_strength,
)
from rackbook.structure.frame.stiffness import condense, elastic, geometric, uniform
from rackbook.trace import Source, given, recompute

CASES = [c for c in cases() if c.file in ("frames_closed_form.yaml", "aisc_360_stability.yaml", "frame_statics.yaml")]
BY_HAND = Source("input", "worked by hand")
E = 29000.0


def of(number, unit, symbol=""):
    return given(number, unit, BY_HAND, symbol)


@pytest.mark.parametrize("each", CASES, ids=lambda c: c.id)
def test_case(each):
    outcomes = list(run(each))
    assert len(outcomes) == len(each.expect) > 0
    assert [f"{o.name}: {o.found}" for o in outcomes if not o.agrees] == []


def test_the_closed_forms_are_there():
    assert len([c for c in CASES if c.file == "frames_closed_form.yaml"]) >= 8


def test_a_plane_frame_can_be_worked_again():
    P, twice = of(1.5, "kip"), of(3, "kip")
    of_one = cantilever(P, of(10, "ft"), of(28.6, "in**4"))
    assert recompute(of_one.delta, {P: twice}).magnitude == pytest.approx(2 * of_one.delta.magnitude)


def test_a_mechanism_of_plain_numbers_is_refused():
    from rackbook.structure.frame.closed import _plane
    from rackbook.structure.frame.solve import respond
    from rackbook.trace import DomainError

    xyz = np.array([(0, 0, 0), (0, 0, 96.0)])
    model = _plane(xyz, [(0, 1, 0)], (10.0,), {0: False}, E)
    with pytest.raises(DomainError, match="mechanism"):
        respond(model, np.zeros((12, 1)), np.zeros((1, 3, 1)))


@pytest.mark.parametrize("N", [5.0, 15.0, 40.0, 80.0])
def test_amplified_cantilevers_are_not_below_the_exact_theory_by_more_than_the_method_allows(N):
    """Beam-column fixed and free: exact base moment P tan(kL)/k; Appendix 8 with R_M = 0.85 must not be below it by 1 %."""
    P, L, I = 1.5, 120.0, 28.6
    k = math.sqrt(N / (E * I))
    exact = P * math.tan(k * L) / k
    first = cantilever(of(P, "kip"), of(L, "in"), of(I, "in**4"))
    P_e = story_strength(R_M=R_M, H=of(P, "kip"), L=of(L, "in"), Delta_H=first.delta)
    B_2 = amplifier_sway(alpha=ALPHA["LRFD"], P_story=of(N, "kip"), P_e_story=P_e)
    B_1 = amplifier_member(
        C_m=of(1, ""),
        alpha=ALPHA["LRFD"],
        P_r=of(N, "kip"),
        P_e1=member_strength(E=of(E, "ksi"), I=of(I, "in**4"), L=of(L, "in")),
    )
    amplified = B_1.magnitude * B_2.magnitude * first.M.magnitude
    assert 0.99 < amplified / exact < 1.25
    with_second = cantilever(of(P, "kip"), of(L, "in"), of(I, "in**4"), of(N, "kip"))
    assert with_second.M.magnitude == pytest.approx(exact, rel=2e-4)


def test_a_cantilever_buckles_at_its_critical_load():
    P_cr = math.pi**2 * E * 28.6 / (4 * 120**2)
    just_below = cantilever(of(0.001, "kip"), of(120, "in"), of(28.6, "in**4"), of(0.999 * P_cr, "kip"))
    assert just_below.delta.magnitude > 0.3  # a thousandth of P_cr left: a thousand times the first order
    K = story_factor(E=of(E, "ksi"), I=of(28.6, "in**4"), L=of(120, "in"), n=of(1, ""), P_e_story=of(P_cr, "kip"))
    assert K.magnitude == pytest.approx(2.0)


def test_arrays_of_amplifiers_are_those_of_single_calls():
    P = np.array([-3.0, 0.0, 12.0, 500.0])
    many = amplifier_sway(alpha=1.6, P_story=P, P_e_story=200.0)
    single = [amplifier_sway(alpha=of(1.6, ""), P_story=of(p, "kip"), P_e_story=of(200, "kip")).magnitude for p in P]
    assert many == pytest.approx(single)


def test_bending_shear_and_end_moments_of_the_element_are_the_handbooks():
    L, I = 100.0, 20.0
    k = elastic(*(np.array([v]) for v in (5.0, I, 7.0, 1.0, L)), E, 11200.0)[0]
    fixed_fixed = 12 * E * I / L**3
    assert k[1, 1] == pytest.approx(fixed_fixed)
    assert k[2, 2] == pytest.approx(12 * E * 7 / L**3)
    assert k[5, 5] == pytest.approx(4 * E * I / L)
    assert k[5, 11] == pytest.approx(2 * E * I / L)
    assert np.allclose(k, k.T)
    assert np.linalg.matrix_rank(k, tol=1e-6) == 6  # six ways to move as a stiff body
    pinned = np.zeros((1, 12), bool)
    pinned[0, [4, 5, 10, 11]] = True
    held, p = condense(k[None], pinned, uniform(np.array([[[0.0], [-0.1], [0.0]]]), np.array([L])))
    assert np.abs(held[0, 1:3]).max() < 1e-9  # a pinned bar has no lateral stiffness
    assert p[0, [1, 7], 0] == pytest.approx(-0.1 * L / 2)
    assert p[0, [5, 11], 0] == pytest.approx(0)
    one_pin = np.zeros((1, 12), bool)
    one_pin[0, [11]] = True
    _, p = condense(k[None], one_pin, uniform(np.array([[[0.0], [-0.1], [0.0]]]), np.array([L])))
    assert p[0, 5, 0] == pytest.approx(-0.1 * L**2 / 8)  # propped cantilever
    assert p[0, 1, 0] == pytest.approx(-5 / 8 * 0.1 * L)


def test_geometric_stiffness_does_no_work_on_a_stiff_body_that_moves():
    g = geometric(np.array([10.0]), np.array([100.0]))[0]
    for way in (1, 2):
        move = np.zeros(12)
        move[[way, way + 6]] = 1
        assert np.abs(g @ move).max() < 1e-12


def test_a_portal_on_stiff_beam_sways_as_two_fixed_posts():
    h, I = 96.0, 7.8
    stiff = portal(of(I, "in**4"), of(1e7, "in**4"), of(h, "in"), of(144, "in"), "fixed", H=of(2, "kip"))
    assert stiff.sway.magnitude == pytest.approx(2 * h**3 / (24 * E * I), rel=1e-3)
    assert stiff.M_base.magnitude == pytest.approx(2 * h / 4, rel=1e-3)

"""Footings: pressure against sums over small areas, equilibrium, and whole footings worked by hand."""

import math
from types import SimpleNamespace as Plain

import numpy as np
import pytest
from hypothesis import assume, settings
from hypothesis import given as drawn
from hypothesis import strategies as st
from scipy import optimize

from rackbook.structure.piers import bearing, piers, sheets
from rackbook.structure.piers.pressure import factors, planes
from rackbook.trace import DomainError, Source, given

HAND = Source("derivation", "worked by hand")
share = st.floats(0, 0.45)


def v(number, unit="", symbol="x"):
    return given(number, unit, HAND, symbol)


def loaded(N, M_x, M_y, L=6.0, B=6.0):
    return bearing(v(N, "kip", "N"), v(M_x, "kip*ft", "M_x"), v(M_y, "kip*ft", "M_y"), v(L, "ft", "L"), v(B, "ft", "B"))


# -- pressure


@drawn(share, share)
@settings(max_examples=60)
def test_pressure_is_in_equilibrium_with_its_load(u, v_):
    """Force and both moments of the pressure, added up over strips, are those of the load."""
    a, b, c = planes(np.array([u]), np.array([v_]))[0]
    n = 4000
    xi = (np.arange(n) + 0.5) / n
    height = np.maximum(0.0, a - b * xi)
    # across each strip the pressure falls straight to its end or to the footing's edge
    end = np.minimum(1.0, height / c) if c > 0 else np.ones(n)
    force = height * end - c * end**2 / 2
    assert force.mean() == pytest.approx(1, abs=2e-4)
    assert (force * xi).mean() == pytest.approx(0.5 - u, abs=2e-4)
    assert (height * end**2 / 2 - c * end**3 / 3).mean() == pytest.approx(0.5 - v_, abs=2e-4)


@drawn(share, share)
def test_pressure_by_its_triangle_or_pyramid(u, v_):
    q = float(factors(np.array([u]), np.array([v_]))[0])
    if u + v_ <= 1 / 6:
        assert q == pytest.approx(1 + 6 * u + 6 * v_)
    elif u >= 0.25 and v_ >= 0.25:  # the part in contact is a triangle within the footing
        assert q == pytest.approx(6 / (16 * (0.5 - u) * (0.5 - v_)))
    elif v_ == 0:
        assert q == pytest.approx(2 / (3 * (0.5 - u)))
    else:  # no tension: never less than the plane that pulls, never less than either axis alone
        alone = max(float(factors(np.array([x]), np.array([0.0]))[0]) for x in (u, v_))
        assert q >= max(1 + 6 * u + 6 * v_, alone) * (1 - 1e-9)


@drawn(share, share, st.floats(0.001, 0.04))
def test_pressure_rises_with_either_eccentricity(u, v_, more):
    q = factors(np.array([u, u + more, u]), np.array([v_, v_, v_ + more]))
    assert q[0] <= q[1] * (1 + 1e-9)
    assert q[0] <= q[2] * (1 + 1e-9)


@drawn(share, share)
def test_turning_or_mirroring_the_footing_changes_nothing(u, v_):
    N, L, B = 10.0, 8.0, 5.0
    here = loaded(N, N * v_ * B, N * u * L, L, B).q_max.m_as("ksf")
    assert loaded(N, N * u * L, N * v_ * B, B, L).q_max.m_as("ksf") == pytest.approx(here)
    assert loaded(N, -N * v_ * B, N * u * L, L, B).q_max.m_as("ksf") == pytest.approx(here)
    assert here == pytest.approx(float(factors(np.array([u]), np.array([v_]))[0]) * N / (L * B))


def test_arrays_of_pressures_are_those_of_single_loads():
    rng = np.random.default_rng(7)
    u, w = rng.uniform(-0.49, 0.49, (2, 200))
    assert factors(u, w) == pytest.approx([float(factors(np.array([a]), np.array([b]))[0]) for a, b in zip(u, w, strict=True)])
    assert np.all(np.isinf(factors(np.array([0.5, 0.1]), np.array([0.0, 0.7]))))


def test_a_solver_of_equations_finds_the_same_plane():
    u, w = 0.3, 0.12

    def missing(p):
        a, b, c = p
        s = (np.arange(1500) + 0.5) / 1500
        x, y = np.meshgrid(s, s)
        q = np.maximum(0, a - b * x - c * y)
        return [q.mean() - 1, (q * x).mean() - (0.5 - u), (q * y).mean() - (0.5 - w)]

    found = optimize.fsolve(missing, [3.0, 3.0, 1.0])
    assert planes(np.array([u]), np.array([w]))[0] == pytest.approx(found, rel=1e-3)


@pytest.mark.parametrize(
    ("N", "M", "said"), [(-1, 0, "does not press"), (0, 0, "does not press"), (10, 30.1, "off the footing")]
)
def test_what_cannot_stand_is_refused(N, M, said):
    with pytest.raises(DomainError, match=said):
        loaded(N, 0, M)


# -- whole footings


def on_footing(foundation, earth=True, **more):
    """A 6 x 5 x 1.5 ft footing 5 ft deep under a 2 ft pier 6 in. high."""
    of = foundation.of
    size = {"length": (6, "L_f"), "width": (5, "B_f"), "thickness": (1.5, "h_f"), "depth": (5, "D_f")}
    footing = Plain(**{name: of(more.pop(name, number), "ft", symbol) for name, (number, symbol) in size.items()})
    ground = foundation.soil(unit_weight=of(110, "pcf", "gamma_s"), **more.pop("soil", {})) if earth else None
    return foundation(earth=ground, footing=footing, **more)


def pushed(reacting, blown=None, strong=1.0):
    rows = [
        ("2.4.1-1: 1.0 D", "gravity", 1.0, {"P": 2.0}),
        ("2.4.1-7: 0.6 D + 0.6 W", "wind", 0.6, {"P": 0.5, "V_y": 1.2, "M_x": -60.0, **(blown or {})}),
    ]
    factored = [(a, k, f, {c: np.multiply(x, strong if c != "P" else 1.0) for c, x in r.items()}) for a, k, f, r in rows]
    return reacting(2, allowable=rows, strength=factored)


def named(result, start):
    return next(c for c in result.checks if c.name.startswith(start))


def test_hand_worked_footing(foundation, reacting):
    of = piers(on_footing(foundation), pushed(reacting))
    W_f, W_p, W_o = 150 * 45, 150 * math.pi * 4, 110 * (30 - math.pi) * 3.5
    N = 500 + 0.6 * (W_f + W_p + W_o)
    M = 5000 + 1200 * 5.5
    turning = named(of, "Turning over of the footings across")
    assert turning.demand.m_as("lbf*ft") == pytest.approx(M)
    assert turning.capacity.m_as("lbf*ft") == pytest.approx(N * 2.5)
    e = M / N
    wind = 2 * N / (3 * 6 * (2.5 - e)) if e > 5 / 6 else N / 30 * (1 + 6 * e / 5)
    still = (2000 + W_f + W_p + W_o) / 30
    assert named(of, "Bearing").demand.m_as("psf") == pytest.approx(max(wind, still) - 110 * 5)
    side = 150 * 5 * (5**2 - 3.5**2) / 2
    assert named(of, "Sliding").capacity.m_as("lbf") == pytest.approx(0.25 * N + side)
    assert named(of, "Depth of the footings against frost").word == "OK"
    assert named(of, "Depth of the footings to their steel").capacity.m_as("in") == pytest.approx(13.5)
    # the pier is worked at the top of the footing: M = 5 + 1.2 x (0.5 + 3.5)
    assert named(of, "Axial force and moment").demand.m_as("kip*ft") == pytest.approx(5 + 1.2 * 4)
    assert not [c for c in of.checks if c.name.startswith(("Embedment", "Bars of the piers below"))]
    assert of.spread.V_t.m_as("yd**3") == pytest.approx(2 * 45 / 27)
    assert {c.name.split(" (")[0] for c in of.checks if c.word != "OK"} == {
        "Bottom steel of the footings along x",
        "Bottom steel of the footings along y",
    }


def test_slab_by_hand(foundation, reacting):
    of = piers(on_footing(foundation), pushed(reacting, strong=1.2))
    c_1 = math.sqrt(math.pi)  # 2 ft round
    along = next(s for s in of.spread.slab.strips if s.way == "x")
    l = (6 - c_1) / 2
    q = along.q_u.m_as("psf")
    edge = along.standing.N.m_as("lbf") * l / 5
    assert along.m_u.m_as("lbf*ft/ft") == pytest.approx(min(q * l**2 / 2, edge))
    assert along.A_s.m_as("in**2/ft") == pytest.approx(0.0018 * 18 * 12)  # the least governs
    two = named(of, "Two-way")
    d, b_1 = 13.5, 12 * c_1 + 13.5
    J = d * b_1**3 / 6 + b_1 * d**3 / 6 + d * b_1**3 / 2
    M = 12 * (5000 + 1200 * 5.5) * 1.2
    assert two.demand.m_as("psi") == pytest.approx(500 / (4 * b_1 * d) + 0.4 * M * b_1 / 2 / J)
    assert two.capacity.m_as("psi") == pytest.approx(3 * math.sqrt(4000))
    one = named(of, "One-way shear of the footings along x")
    assert one.capacity.m_as("lbf/in") == pytest.approx(0.75 * 8 * (0.0324 / 13.5) ** (1 / 3) * math.sqrt(4000) * 13.5)
    assert one.demand.magnitude < one.capacity.magnitude


@drawn(st.floats(0, 3), st.floats(-100, 100), st.floats(-1, 3))
@settings(max_examples=12)
def test_stronger_push_never_eases_a_footing(foundation, reacting, V, M, P):
    base = {"V_y": V, "M_x": M, "P": P}
    more = {"V_y": 1.2 * V + 0.1, "M_x": 1.2 * M, "P": P}
    ratios = []
    for blown in (base, more):
        of = piers(on_footing(foundation), pushed(reacting, blown))
        ratios.append({c.name.split(" (")[0]: float(c.ratio.magnitude) for c in of.checks if c.ratio is not None})
    assume(set(ratios[0]) == set(ratios[1]))
    for name in ("Turning over of the footings across the rack", "Sliding of the footings", "Two-way shear of the footings"):
        assert ratios[1][name] >= ratios[0][name] - 1e-9


def test_a_footing_that_turns_over_does_not_pass(foundation, reacting):
    of = piers(on_footing(foundation), pushed(reacting, {"M_x": -600.0}))
    assert named(of, "Turning over of the footings across").word == "NOT OK"
    assert named(of, "Bearing").word == "OPEN"
    assert "turns over" in named(of, "Bearing").remedy
    for strip in of.spread.slab.strips:  # the slab is worked for its whole load at the edge
        assert strip.m_u.m_as("lbf*ft/ft") > 0
    lifted = piers(on_footing(foundation), pushed(reacting, {"P": -40.0}))
    assert named(lifted, "Turning over of the footings across").word == "NOT OK"
    assert all(s.markdown() for s in sheets(of))


def test_lifted_footings_get_steel_at_the_top(foundation, reacting):
    still = piers(on_footing(foundation), pushed(reacting, {"M_x": -5.0, "V_y": 0.1}))
    assert still.spread.slab.A_top is None
    lifted = piers(on_footing(foundation), pushed(reacting, {"M_x": -120.0}))
    assert lifted.spread.slab.A_top.m_as("in**2/ft") > 0
    assert lifted.spread.bearing[1].q_min is None
    assert "steel at its top" in "".join(s.markdown() for s in sheets(lifted))


def test_soil_that_slides_on_cohesion_or_on_nothing_known(foundation, reacting):
    clay = piers(on_footing(foundation, soil={"class_": "5"}), pushed(reacting))
    side = 100 * 5 * (5**2 - 3.5**2) / 2
    N = 500 + 0.6 * (150 * 45 + 150 * math.pi * 4 + 110 * (30 - math.pi) * 3.5)
    assert named(clay, "Sliding").capacity.m_as("lbf") == pytest.approx(min(130 * 30, N / 2) + side)
    report = Plain(
        title="Report 1", bearing=foundation.of(3000, "psf", "q_a"), lateral=foundation.of(150, "psf/ft", "S"),
        friction=None, cohesion=None, skin=None,
    )  # fmt: skip
    told = piers(on_footing(foundation, soil={"class_": None, "report": report}), pushed(reacting))
    assert named(told, "Sliding").word == "OPEN"


def test_a_shallow_footing_is_told_once(foundation, reacting):
    earth = {"frost": foundation.of(66, "in", "d_f")}
    of = piers(on_footing(foundation, soil=earth), pushed(reacting))
    assert [c.word for c in of.checks if "frost" in c.name] == ["NOT OK"]


def test_without_soil_or_concrete_a_footing_stays_open(foundation, reacting):
    of = piers(on_footing(foundation, earth=False, concrete=None), pushed(reacting))
    words = {c.name.split(" (")[0]: c.word for c in of.checks}
    assert words["Turning over of the footings across the rack"] == "OK"  # its own weight is known
    for name in ("Bearing under the footings", "Slab of the footings", "Concrete section of the piers"):
        assert words[name] == "OPEN"
    thin = piers(on_footing(foundation, thickness=0.6), pushed(reacting))
    assert named(thin, "Depth of the footings to their steel").word == "NOT OK"


def test_footings_that_meet(foundation, reacting):
    far = named(piers(on_footing(foundation), pushed(reacting)), "Spacing of the footings")
    assert (far.demand.m_as("ft"), far.capacity.m_as("ft"), far.word) == (6, 8, "OK")
    of = piers(on_footing(foundation, length=8.5), pushed(reacting))
    assert named(of, "Spacing of the footings").word == "NOT OK"
    assert id(named(of, "Spacing of the footings")) in {id(c) for s in sheets(of) for c in s.checks}


def test_two_ways_at_once(foundation, reacting):
    """Loads on both axes press the corner more than either alone."""
    one = named(piers(on_footing(foundation), pushed(reacting, {"V_x": 0.0, "M_y": 0.0})), "Bearing").demand.m_as("psf")
    both = named(piers(on_footing(foundation), pushed(reacting, {"V_x": 0.8, "M_y": 40.0})), "Bearing").demand.m_as("psf")
    assert both > one

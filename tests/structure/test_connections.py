"""Connections: bolt groups and weld lines against brute force, limit states as functions of the load, whole racks."""

import itertools
import math
import sys
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace as Plain

import numpy as np
import pytest
from hypothesis import assume, settings
from hypothesis import given as drawn
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parent))
from framed import brace, framed, item, of, rack

from rackbook import loads
from rackbook.job import load
from rackbook.shipped import shipped
from rackbook.structure.connections import (
    Clip,
    Foot,
    Forces,
    RailForces,
    RailWeld,
    Reaction,
    Splice,
    bolt,
    bolt_line,
    clip_states,
    combined,
    connections,
    fillet,
    foot_states,
    group,
    in_plane,
    line_force,
    out_of_plane,
    plate_on_wall,
    rail_weld_states,
    ring,
    sheets,
    slip,
    splice_states,
    tube,
)
from rackbook.structure.connections.joint import bolt_states
from rackbook.structure.connections.sections import FREE_EDGE, plate_steel, post_of, rail_of
from rackbook.structure.connections.web_pull import across, along
from rackbook.structure.connections.welds import filler, length_reduction
from rackbook.structure.frame import frame as frame_of
from rackbook.structure.steel import factors
from rackbook.tables import table
from rackbook.trace import DomainError, Grid, InputError, LookupFailed, Remark, Step, Value, in_order, touched

UNITS = {"F": "kip", "P": "kip", "V": "kip", "M": "kip*in", "T": "kip*in"}
GRADE = "Group 120 (A325) N"
METHODS = ("LRFD", "ASD")
number = st.floats(-20, 20, allow_nan=False)
spacing = st.floats(2, 6)
few = st.integers(1, 5)


def forces(kind, **numbers):
    """Forces of a kind of joint; what is not named is zero."""
    names = list(kind.__dataclass_fields__)
    return kind(**{n: of(numbers.get(n, 0.0), UNITS[n[0]], n) for n in names})


def arrays(kind, **numbers):
    return kind(**{n: of(np.asarray(numbers[n], float), UNITS[n[0]], n) for n in kind.__dataclass_fields__})


def steels():
    materials = table("materials")
    tube_, plain = "A500 Gr C rectangular", "A36"
    return [(materials.cell(m, "F_y", "F_y"), materials.cell(m, "F_u", "F_u")) for m in (tube_, plain)]


POST_STEEL, RAIL_STEEL = steels()
RAIL, POST = rail_of("C6X8.2", *RAIL_STEEL), post_of("HSS6X6X1/4", *POST_STEEL)
U = of(0.4, "", "U")


def clip(method="LRFD", n=2, slip_=True, post=POST, rail=RAIL, **sizes):
    got = {"s": 3, "L_e": 1.25, "t": 0.375, "w": 0.25, "l": 5.5} | sizes
    s, L_e, t, w, l = (of(got[name], "in", name) for name in ("s", "L_e", "t", "w", "l"))
    b = bolt(of(0.625, "in", "d_b"), GRADE)
    return Clip(
        b, of(n, "", "n"), s, L_e, t, w, l, L_e.named("a"), *plate_steel(), filler("E70"), rail, post.wall, slip_, method
    )


def splice(method="LRFD", n_x=2, n_z=2):
    b = bolt(of(0.75, "in", "d_b"), GRADE)
    counts = of(n_x, "", "n_x"), of(n_z, "", "n_z")
    sizes = of(3, "in", "s"), of(3, "in", "g"), of(1.25, "in", "L_e"), of(0.5, "in", "t")
    return Splice(b, *counts, *sizes, *plate_steel(), RAIL, True, method)


def foot(method="LRFD", post=POST):
    F_up = plate_steel()[1]
    return Foot(post.foot, of(0.25, "in", "w"), filler("E70"), post.t_foot, post.F_u, of(1, "in", "t_p"), F_up, True, method)


def rail_weld(method="LRFD"):
    return RailWeld(of(0.25, "in", "w"), filler("E70"), RAIL.d, RAIL.t_b, RAIL.t_toe, RAIL.F_y, RAIL.F_u, POST.face, method)


def ratios(states):
    return {s.name: s.ratio.magnitude for s in states}


#: Each kind of joint: its limit states under forces, the kind of forces, and the names whose sense does not matter.
JOINTS = {
    "clip": (lambda F, method="LRFD": clip_states(clip(method), F, U), Forces, ("F_x", "F_z", "M_x", "M_y", "M_z")),
    "rail weld": (
        lambda F, method="LRFD": rail_weld_states(rail_weld(method), F, U),
        Forces,
        ("F_x", "F_y", "F_z", "M_x", "M_y", "M_z"),
    ),
    "splice": (lambda F, method="LRFD": splice_states(splice(method), F), RailForces, ("V_y", "V_x", "T", "M_x", "M_y")),
    "foot": (lambda F, method="LRFD": foot_states(foot(method), F), Reaction, ("P", "V_x", "V_y", "M_x", "M_y", "T")),
}
six = st.lists(number, min_size=6, max_size=6)
kinds = pytest.mark.parametrize("kind", JOINTS)


def loaded(kind, numbers, method="LRFD"):
    states, of_kind, _ = JOINTS[kind]
    return states(forces(of_kind, **dict(zip(of_kind.__dataclass_fields__, numbers, strict=True))), method)


# --- groups of bolts against every bolt by itself -----------------------------------------------------------------------


def places(n_x, n_z, s_x, s_z):
    """Return the places of all bolts about their middle."""
    x, z = (s * (np.arange(n) - (n - 1) / 2) for n, s in ((n_x, s_x), (n_z, s_z)))
    return np.array(list(itertools.product(x, z)))


def made(n_x, n_z, s_x, s_z, L_e=1.5):
    return group(of(n_x, "", "n_x"), of(n_z, "", "n_z"), of(s_x, "in", "s_x"), of(s_z, "in", "s_z"), of(L_e, "in", "L_e"))


@drawn(few, few, spacing, spacing, number, number, number)
@settings(max_examples=60, deadline=None)
def test_the_worst_bolt_of_all_is_the_one_found(n_x, n_z, s_x, s_z, F_x, F_z, M):
    assume(n_x * n_z > 1)
    at = places(n_x, n_z, s_x, s_z)
    direct, turn = np.array([F_x, F_z]) / len(at), M / (at**2).sum()
    each = direct + turn * np.stack([-at[:, 1], at[:, 0]], axis=1)
    found = in_plane(made(n_x, n_z, s_x, s_z), of(F_x, "kip"), of(F_z, "kip"), of(M, "kip*in"))
    assert found.magnitude == pytest.approx(np.hypot(*each.T).max(), rel=1e-9, abs=1e-9)


@drawn(st.integers(2, 5), st.integers(2, 5), spacing, spacing, number, number, number)
@settings(max_examples=60, deadline=None)
def test_the_most_pulled_bolt_is_the_one_found(n_x, n_z, s_x, s_z, F_y, M_x, M_z):
    at = places(n_x, n_z, s_x, s_z)
    pull = max(F_y, 0) / len(at) + M_x * at[:, 1] / (at[:, 1] ** 2).sum() + M_z * at[:, 0] / (at[:, 0] ** 2).sum()
    found = out_of_plane(made(n_x, n_z, s_x, s_z), of(F_y, "kip"), of(M_x, "kip*in"), of(M_z, "kip*in"))
    assert found.magnitude == pytest.approx(pull.max(), rel=1e-9, abs=1e-9)


@drawn(few, few, spacing, spacing, number, number, number, number)
@settings(max_examples=40, deadline=None)
def test_a_group_turned_by_ninety_degrees_with_its_loads_is_the_same(n_x, n_z, s_x, s_z, F_x, F_z, F_y, M):
    assume(n_x * n_z > 1)
    one, turned = made(n_x, n_z, s_x, s_z), made(n_z, n_x, s_z, s_x)
    x, z, y, m = of(F_x, "kip"), of(F_z, "kip"), of(F_y, "kip"), of(M, "kip*in")
    assert in_plane(one, x, z, m).magnitude == pytest.approx(in_plane(turned, z, x, m).magnitude, rel=1e-12, abs=1e-12)
    upright, lying = out_of_plane(one, y, m, of(1, "kip*in")), out_of_plane(turned, y, of(1, "kip*in"), m)
    assert upright.magnitude == pytest.approx(lying.magnitude, rel=1e-12, abs=1e-12)


@drawn(st.integers(2, 7), few, spacing, spacing, number, number, number)
@settings(max_examples=40, deadline=None)
def test_one_more_bolt_in_every_line_relieves_the_worst_one(n_x, n_z, s_x, s_z, F_x, F_z, M):
    F = of(F_x, "kip"), of(F_z, "kip"), of(M, "kip*in")
    fewer, more = (in_plane(made(n, n_z, s_x, s_z), *F).magnitude for n in (n_x, n_x + 1))
    assert more <= fewer + 1e-12


@drawn(st.integers(1, 8), spacing, st.floats(0.875, 3), st.floats(0.1, 1), st.sampled_from(METHODS))
@settings(max_examples=60, deadline=None)
def test_one_more_bolt_never_lowers_a_line(n, s, L_e, t, method):
    b = bolt(of(0.625, "in", "d_b"), GRADE)
    sizes = of(s, "in", "s"), of(L_e, "in", "L_e"), b.d_b, b.d_h, b.A_b, b.F_nv, of(t, "in", "t"), of(58, "ksi", "F_u"), method
    fewer, more = (bolt_line(of(k, "", "n"), *sizes).R_c.magnitude for k in (n, n + 1))
    assert more > fewer
    least = min(bolt_line(of(1, "", "n"), *sizes).R_n.magnitude, bolt_line(of(2, "", "n"), *sizes).r_inner.magnitude)
    assert more >= 0.5 * (n + 1) * least - 1e-9  # the sum of the bolts' own strengths, not n times the weakest


def test_one_bolt_alone_resists_no_moment():
    one = made(1, 1, 3, 3)
    assert in_plane(one, of(3, "kip"), of(4, "kip"), of(0, "kip*in")).magnitude == pytest.approx(5)
    with pytest.raises(DomainError, match="two bolts"):
        in_plane(one, of(3, "kip"), of(4, "kip"), of(1, "kip*in"))


# --- forms of the clauses that are linear in the load -------------------------------------------------------------------


@drawn(st.floats(0.05, 30), st.floats(0.05, 17.5), st.sampled_from(METHODS))
@settings(max_examples=80, deadline=None)
def test_the_linear_form_of_shear_and_tension_says_what_the_clause_says(r_t, r_v, method):
    b = bolt(of(0.75, "in", "d_b"), GRADE)
    left = combined(b.F_nt, b.F_nv, b.A_b, of(r_v, "kip", "r_v"), method).r_ct.magnitude
    states = ratios(clip_like_bolts(b, r_v, r_t, method))
    u = max(states["Bolts in shear and tension"], states["Bolts in tension"])
    assume(abs(u - 1) > 1e-6)
    assert (u <= 1) == (r_t <= left)


def clip_like_bolts(b, r_v, r_t, method):
    return bolt_states(b, of(r_v, "kip", "r_v"), of(r_t, "kip", "r_t"), of(r_t, "kip", "T"), of(1, "", "n_b"), True, method)


@drawn(st.floats(0.05, 25), st.floats(0.05, 12), st.sampled_from(METHODS))
@settings(max_examples=80, deadline=None)
def test_the_linear_form_of_slip_says_what_the_clause_says(T, r_v, method):
    b = bolt(of(0.75, "in", "d_b"), GRADE)
    left = slip(b.T_b, of(1, "", "n_s"), of(1, "", "n_b"), of(T, "kip", "T"), method).r_c.magnitude
    u = ratios(clip_like_bolts(b, r_v, T, method))["Slip"]
    assume(abs(u - 1) > 1e-6)
    assert (u <= 1) == (r_v <= left)


@kinds
@drawn(six, st.floats(0.1, 10), st.sampled_from(METHODS))
@settings(max_examples=15, deadline=None)
def test_ratios_are_linear_in_the_load(kind, numbers, k, method):
    once, more = (ratios(loaded(kind, [f * x for x in numbers], method)) for f in (1, k))
    for name, u in once.items():
        assert more[name] == pytest.approx(k * u, rel=1e-9, abs=1e-12), name


@kinds
@drawn(six, st.lists(st.booleans(), min_size=6, max_size=6))
@settings(max_examples=15, deadline=None)
def test_mirrored_forces_use_a_joint_as_much(kind, numbers, flipped):
    _, of_kind, free = JOINTS[kind]
    signs = [-1 if f and n in free else 1 for f, n in zip(flipped, of_kind.__dataclass_fields__, strict=True)]
    one, other = ratios(loaded(kind, numbers)), ratios(loaded(kind, [s * x for s, x in zip(signs, numbers, strict=True)]))
    for name, u in one.items():
        assert other[name] == pytest.approx(u, rel=1e-12, abs=1e-12), name


@kinds
def test_arrays_give_what_single_numbers_give(kind):
    states, of_kind, _ = JOINTS[kind]
    rng = np.random.default_rng(7)
    numbers = {n: rng.uniform(-9, 9, (4, 3)) for n in of_kind.__dataclass_fields__}
    together = {s.name: np.broadcast_to(s.ratio.magnitude, (4, 3)) for s in states(arrays(of_kind, **numbers))}
    for k, i in itertools.product(range(4), range(3)):
        alone = ratios(states(forces(of_kind, **{n: v[k, i] for n, v in numbers.items()})))
        assert alone.keys() == together.keys()
        for name, u in alone.items():
            assert together[name][k, i] == pytest.approx(u, rel=1e-12)


@kinds
@drawn(six)
@settings(max_examples=10, deadline=None)
def test_allowable_strength_is_two_thirds_of_design_strength(kind, numbers):
    """Omega = 1.5/phi: the same force uses 1.5 times as much by ASD; slip counts tension 1.5 times besides."""
    design, allowable = (ratios(loaded(kind, numbers, method)) for method in METHODS)
    for name, u in design.items():
        wall = name == "Post's wall: plastification"
        assert allowable[name] == pytest.approx(1.5 * u, rel=0.005 if not wall else 0.002, abs=1e-9), name


def test_every_resistance_and_safety_factor_that_is_used_has_omega_one_and_a_half_over_phi():
    for state in ("bolts tension/shear/combined", "bearing, tearout at holes", "fillet weld", "block shear", "flexure"):
        of_state = factors(state)
        assert of_state.Omega.magnitude == pytest.approx(1.5 / of_state.phi.magnitude, abs=0.006)


# --- welds ----------------------------------------------------------------------------------------------------------------


def around(B, H, r, n=400):
    """Return points along a rectangle with round corners, and the length each stands for."""
    b, h = B / 2 - r, H / 2 - r
    edges, points = [], []
    for x in np.linspace(-b, b, n):
        edges += [(x, H / 2), (x, -H / 2)]
    flat = [(edges, 2 * b / n)]
    sides = [(s * B / 2, y) for y in np.linspace(-h, h, n) for s in (1, -1)]
    corners = [
        (sx * (b + r * math.cos(a)), sy * (h + r * math.sin(a)))
        for a in (np.arange(n) + 0.5) / n * math.pi / 2
        for sx in (1, -1)
        for sy in (1, -1)
    ]
    for where, length in (*flat, (sides, 2 * h / n), (corners, r * math.pi / 2 / n)):
        points += [(x, y, length) for x, y in where]
    return np.array(points).T


@drawn(st.floats(3, 8), st.floats(3, 8), st.floats(0, 1.2), six)
@settings(max_examples=25, deadline=None)
def test_no_point_of_a_weld_carries_more_than_the_largest_force(B, H, r, numbers):
    P, V_x, V_y, M_x, M_y, T = numbers
    assume(max(map(abs, numbers)) > 0.1)
    x, y, length = around(B, H, r)
    L, I_x, I_y = length.sum(), (y**2 * length).sum(), (x**2 * length).sum()
    f_n = P / L + M_x * y / I_x - M_y * x / I_y
    f_x, f_y = V_x / L - T * y / (I_x + I_y), V_y / L + T * x / (I_x + I_y)
    most = np.sqrt(f_n**2 + f_x**2 + f_y**2).max()
    line = tube(of(B, "in", "B"), of(H, "in", "H"), of(r, "in", "r"))
    named = {n: of(v, UNITS[n[0]], n) for n, v in zip(("P", "V_x", "V_y", "M_x", "M_y", "T"), numbers, strict=True)}
    found = line_force(line, **named).f_r.magnitude
    assert line.L_w.magnitude == pytest.approx(L, rel=0.01)
    assert line.I_x.magnitude == pytest.approx(I_x, rel=0.02)
    assert most <= found * 1.02
    single = sum(abs(v) > 0 for v in (P, M_x, M_y)) <= 1 and r == 0
    if single and not any((V_x, V_y, T)):
        assert found == pytest.approx(most, rel=0.02)


@pytest.mark.parametrize("loads_", [{"P": 5.0}, {"M_x": 30.0}, {"M_y": 30.0}, {"T": 20.0}, {"V_x": 4.0}])
def test_a_round_weld_is_a_tube_weld_whose_corners_are_all_of_it(loads_):
    """Under one load alone; the corner of the square around it lies further out in torsion."""
    one = ring(of(6, "in", "D"))
    other = tube(of(6, "in", "B"), of(6, "in", "H"), of(3, "in", "r"))
    named = {n: of(loads_.get(n, 0.0), UNITS[n[0]], n) for n in ("P", "V_x", "V_y", "M_x", "M_y", "T")}
    a, b = (line_force(line, **named).f_r.magnitude for line in (one, other))
    assert b == pytest.approx(a * (math.sqrt(2) if "T" in loads_ else 1), rel=1e-9)


@drawn(st.floats(0.125, 0.5), st.floats(1, 100), st.floats(0, 90))
@settings(max_examples=40, deadline=None)
def test_a_longer_weld_is_never_weaker_and_its_reduction_has_no_steps(w, l, theta):
    strength = [
        fillet(
            of(70, "ksi", "F_EXX"), of(w, "in", "w"), "LRFD", of(theta, "deg", "theta"), of(2, "", "n"), of(x, "in", "l"), True
        )
        for x in (l, 1.01 * l)
    ]
    assert strength[1].R_c.magnitude >= strength[0].R_c.magnitude * (1 - 1e-12)
    assert 1 <= strength[0].k_ds.magnitude <= 1.5
    betas = [length_reduction(of(x * w, "in", "l"), of(w, "in", "w")).magnitude for x in (99.999, 100.001, 299.999, 300.001)]
    assert betas == pytest.approx([1, 1, 0.6, 0.6], abs=1e-4)


# --- the wall of the post -------------------------------------------------------------------------------------------------


@drawn(st.floats(0.2, 1), st.floats(3, 9), st.floats(0, 0.9))
@settings(max_examples=30, deadline=None)
def test_a_longer_plate_uses_the_wall_less_and_a_stressed_post_gives_less(t_p, l_b, u):
    def strength(post, l, u):
        found = plate_on_wall(post.wall, of(t_p, "in", "t_p"), of(l, "in", "l_b"), of(u, "", "U"), "LRFD")
        return np.array([found.R_c.magnitude, found.M_c1.magnitude, found.M_c2.magnitude])

    for post in (POST, post_of("Pipe6STD", *POST_STEEL), post_of("W6X15", *POST_STEEL)):
        assert (strength(post, 1.1 * l_b, u) > strength(post, l_b, u)).all()
        assert (strength(post, l_b, u + 0.05) < strength(post, l_b, u)).all()


@drawn(st.floats(0.2, 4), st.floats(2, 12), st.floats(4, 10), st.floats(0.1, 0.6))
@settings(max_examples=25, deadline=None)
def test_the_plastification_of_the_wall_is_that_of_its_yield_lines(b, l, B, t):
    """Virtual work of a plate pushed through a wall held at both edges, least over the reach a beyond the plate's ends."""
    assume(b < 0.8 * B)
    g, a = (B - b) / 2, np.linspace(0.05, 12, 20_000)
    along = 2 * l / g + 2 * (l + 2 * a) / g  # beside the plate, and at the edges of the wall
    across = 2 * b / a + 2 * B / a  # at the ends of the plate, and at the ends of the mechanism
    diagonal = 4 * (a / g + g / a)
    wall = replace(POST.wall, B=of(B, "in", "B"), t=of(t, "in", "t"))
    found = plate_on_wall(wall, of(b, "in", "t_p"), of(l, "in", "l_b"), of(0, "", "U"), "LRFD").R_n.magnitude
    assert found == pytest.approx(50 * t**2 / 4 * (along + across + diagonal).min(), rel=1e-4)


# --- shapes ---------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("shape", ["C6X8.2", "L6X4X3/8", "HSS6X4X1/4", "C10X15.3"])
@pytest.mark.parametrize("post", ["HSS4X4X1/4", "HSS6X4X3/8", "Pipe4STD", "W6X15"])
def test_every_family_of_rails_and_posts_has_all_limit_states(shape, post):
    rail, of_post = rail_of(shape, *RAIL_STEEL), post_of(post, *POST_STEEL)
    found = clip_states(clip(rail=rail, post=of_post), forces(Forces, F_x=1, F_y=1, F_z=-1, M_x=1, M_y=1, M_z=1), U)
    assert len(found) == len({s.name for s in found}) == (16 if rail.family == "channels" else 15)
    assert all(s.ratio.magnitude > 0 for s in found)
    assert (rail.family in FREE_EDGE) == (shape[0] == "L")


# --- whole racks ----------------------------------------------------------------------------------------------------------


def asked(job, **more):
    """Give a job built by hand its connections."""
    bolt_ = Plain(
        diameter=of(0.625, "in", "d_b"), grade=more.pop("grade", GRADE), installation=more.pop("installation", "snug")
    )
    plate = {"bolts": 2, "spacing": 2, "edge": 1, "thickness": 0.375, "weld": 0.25, "length": 4} | more.pop("clip", {})
    joint = {"bolts": 4, "rows": 2, "spacing": 2, "gage": 2, "edge": 1, "thickness": 0.375} | more.pop("splice", {})
    inches = {"spacing", "edge", "thickness", "weld", "length", "gage"}

    def sized(d):
        return Plain(**{n: of(v, "in", n) if n in inches and v is not None else v for n, v in d.items()})

    job.connections = Plain(
        bolt=bolt_, clip=sized(plate), splice=sized(joint), rail_weld=None, base_weld=of(0.25, "in", "w"), electrode="E70"
    )
    job.frame.base_plate = Plain(thickness=of(0.75, "in", "t"), length=of(12, "in", "N"), width=of(12, "in", "B"))
    for name, value in more.items():
        setattr(job.connections, name, value)
    return job


SEATED = (item("A", 200, 3, 4.5, size=(24, 40, 12)), item("B", 150, 8.5, 4.5, size=(30, 40, 8)))


def worked(job):
    return connections(job, framed(job))


@pytest.fixture(scope="module", params=["quartz_saddle", "heron_quay"])
def demo(request):
    job = load(shipped("data", "jobs", request.param))
    weights, wind = loads.weights.weights(job), loads.wind.wind(job)
    seismic = loads.seismic.seismic(job, weights)
    frame = frame_of(job, weights, wind, seismic, loads.snow.snow(job), loads.ice.ice(job, weights))
    return job, frame, wind, seismic, connections(job, frame, wind, seismic)


def test_every_place_of_the_demo_racks_is_judged(demo):
    _, frame, _, _, found = demo
    set_name = {"LRFD": "strength", "ASD": "allowable"}[found.method]
    crossings = found.clips or found.rail_welds
    assert tuple(w.label for w in crossings.places) == frame.clips(set_name).labels
    assert tuple(w.label for w in found.feet.places) == tuple(b.label for b in frame.bases)
    assert len(frame.splices(set_name).labels) == (len(found.splices.places) if found.splices else 0)
    still = {c.name.partition(":")[0] for c in found.checks if c.word == "OPEN"}
    ends = {f"Brace {n + 1}, {end} end" for n in range(len(frame.analysis.task.layout.braces)) for end in ("lower", "upper")}
    assert still - {"Fastening of WW-1"} == {"Equipment's own metal at its bolts", *ends}


def test_the_governing_place_worked_alone_has_the_largest_ratio_of_all(demo):
    *_, found = demo
    for joints in (found.clips, found.rail_welds, found.splices, found.feet):
        if joints is None:
            continue
        most = max(w.ratio.magnitude for w in joints.places)
        assert max(s.ratio.magnitude for s in joints.states) == pytest.approx(most, rel=1e-9)
        judged = [c for c in joints.checks if "(" in c.name]
        assert max(c.ratio.magnitude for c in judged) == pytest.approx(most, rel=1e-9)
        assert joints.governing in {w.label for w in joints.places if w.ratio.magnitude == pytest.approx(most)}


def test_checks_of_the_demo_racks_rest_on_what_the_job_gives(demo):
    job, _, _, _, found = demo
    results = {c.name: c.ratio for c in found.checks if c.ratio is not None}
    given_ = [job.connections.base_weld, job.site.wind.speed]
    if job.connections.clip is not None:
        given_ += [
            job.connections.bolt.diameter,
            job.connections.clip.thickness,
            job.connections.clip.length,
            job.connections.clip.weld,
        ]
    if job.connections.rail_weld is not None:
        given_.append(job.connections.rail_weld)
    for value in given_:
        assert touched(value, results), value


def test_sheets_are_set_and_every_check_is_on_one(demo):
    *_, found = demo
    made_ = sheets(found)
    assert all(len(sheet.markdown()) > 400 for sheet in made_)
    shown = {id(c) for sheet in made_ for c in sheet.checks}
    assert {id(c) for c in found.checks} == shown
    assert len({sheet.key for sheet in made_}) == len(made_)


def test_a_sheet_sets_out_what_is_used_most_and_lists_every_limit_state(demo):
    *_, found = demo
    by_key = {sheet.key: sheet for sheet in sheets(found)}
    keys = {"clip": "clips", "rail weld": "rail_welds", "splice": "splices", "foot": "feet"}
    for joints in (found.clips, found.rail_welds, found.splices, found.feet):
        if joints is None:
            continue
        sheet = by_key[keys[joints.kind]]
        grids = {p.title: p for p in sheet.parts if isinstance(p, Grid)}
        named = {c.name for c in sheet.checks}
        assert all(any(name.startswith(f"{s.name}, ") for name in named) for s in joints.states)
        full = {id(p) for p in sheet.parts if isinstance(p, Value)}
        most = max(s.ratio.magnitude for s in joints.states)
        for state in joints.states:
            told = {id(state.demand), id(state.capacity)} <= full
            assert told == (state.ratio.magnitude == most), state.name
        # what the forces are made of stands in a table, and is not set again as lines
        worked = {id(v.root) for v in grids["Forces from the frame"].quoted}
        assert {id(v.root) for v in joints.forces.values() if v.computed and v.origin.operation.name != "size"} <= worked
        assert "superposition" not in sheet.markdown()


def test_wind_on_equipment_is_quoted_where_it_is_fastened(demo):
    *_, found = demo
    (sheet,) = (s for s in sheets(found) if s.key == "equipment_fastening")
    text = sheet.markdown().lower()
    assert "sheet wind loads" in text
    assert "force coefficient" not in text
    assert "horizontal seismic force on a component" not in text


def test_the_first_sheet_claims_to_derive_nothing_that_is_set_out_later(demo):
    *_, found = demo
    first, *later = sheets(found)
    claimed = {id(v.root) for v in first.values() if v.computed}
    for joints in (found.clips, found.rail_welds, found.splices, found.feet):
        for state in joints.states if joints is not None else ():
            assert id(state.demand.root) not in claimed
            assert state.capacity.magnitude == 1 or id(state.capacity.root) not in claimed
    assert later


def test_all_equipment_is_fastened_to_the_rails_it_hangs_on(demo):
    job, frame, wind, seismic, found = demo
    items = found.fastening
    left = {c.name.split()[2].rstrip(":") for c in found.checks if c.name.startswith("Fastening of")}
    assert set(items.by_tag) | left == {str(i.tag) for i in job.equipment}
    assert not set(items.by_tag) & left
    hung = {h.tag: {k + 1 for k, _ in h.rails} for h in frame.analysis.hung}
    for tag, f in items.by_tag.items():
        assert f.F_wn.m_as("lbf") == pytest.approx(max(d.fastening[tag].m_as("lbf") for d in (wind.front, wind.back)))
        assert f.F_p is seismic.items.by_tag[tag].F_p
        assert set(f.seat.rails) == hung[tag]
        heights = [job.frame.rails[n - 1].height.m_as("in") for n in (f.seat.rails[0], f.seat.rails[-1])]
        assert f.seat.bolts.c_z.m_as("in") == pytest.approx((heights[1] - heights[0]) / 2)
        assert f.seat.bolts.n_b.magnitude == (4 if len(hung[tag]) > 1 else 2)
    most = max(items.by_tag.values(), key=lambda f: f.ratio.magnitude)
    assert items.governing == most.tag
    assert items.case == most.case
    by_name = {s.name: s for s in items.states}
    assert by_name["Bolts in tension"].demand.magnitude == pytest.approx(most.r_t.magnitude)  # of the case that is named
    assert by_name["Bolts in shear"].demand.magnitude == pytest.approx(most.r_v.magnitude)
    assert max(s.ratio.magnitude for s in items.states) == pytest.approx(most.ratio.magnitude, rel=1e-9)
    assert "Slip" not in by_name


def hand_fastened(job):
    weights, wind = loads.weights.weights(job), loads.wind.wind(job)
    seismic = loads.seismic.seismic(job, weights)
    return connections(job, framed(job), wind, seismic), wind, seismic


def forces_on(tag, wind, seismic):
    """Wind off the rail, wind along, F_p and F_v of an item [kip]."""
    items, along = seismic.items.by_tag[tag], max(d.fastening[tag].m_as("kip") for d in (wind.left, wind.right))
    outward = max(d.fastening[tag].m_as("kip") for d in (wind.front, wind.back))
    return outward, along, items.F_p.m_as("kip"), items.F_v.m_as("kip")


def hand_cases(tag, wind, seismic, W):
    """Down, outward, along of every load case of LRFD."""
    F_wn, F_wa, F_p, F_v = forces_on(tag, wind, seismic)
    down = 1.2 * W
    return [(1.4 * W, 0, 0), (down, F_wn, 0), (down, 0, F_wa), (down + F_v, F_p, 0), (down + F_v, 0, F_p)]


@pytest.mark.parametrize("ends", ["moment", "pinned"])
def test_fastening_by_hand_on_two_rails(ends):
    """200 lbf, 24 by 40 by 12 in. on rails 36 in. apart, in their middle: two bolts 19.2 in. apart on each."""
    found, wind, seismic = hand_fastened(asked(rack(SEATED[0], rail_ends=ends)))
    spacer = {"moment": 0.0, "pinned": 1.58 - 0.184}[ends]  # toes of C4X5.4 before its web
    most_t, most_v = 0.0, 0.0
    for z, y, x in hand_cases("A", wind, seismic, 0.2):
        r_v = math.hypot(x, z) / 4
        most_v = max(most_v, r_v)
        most_t = max(most_t, y / 4 + z * 6 / (2 * 36) + x * 6 / (2 * 19.2) + r_v * spacer / 0.5)
    worst = {s.name: s.demand.m_as("kip") for s, *_ in found.fastening.worst.values()}
    assert worst["Bolts in tension"] == pytest.approx(most_t, rel=1e-6)
    assert worst["Bolts in shear"] == pytest.approx(most_v, rel=1e-6)


def test_an_item_on_one_rail_leans_on_the_rails_edge():
    """C4 rails: lever 0.9 of 2 in.; an item whose center stands above its rail turns about it under an outward force too."""
    small = item("S", 60, 3, 3.1, size=(20, 12, 8))
    found, wind, seismic = hand_fastened(asked(rack(small, rail_ends="moment")))
    seat = found.fastening.by_tag["S"].seat
    assert seat.rails == (1,)
    a_c = 0.9 * min(2.0, 6 - 1.2)
    expected = max(y / 2 + (z * 4 + y * 1.2) / (2 * a_c) + x * 4 / 16 for z, y, x in hand_cases("S", wind, seismic, 0.06))
    (tension,) = [s for s, _, tag in found.fastening.worst.values() if s.name == "Bolts in tension"]
    assert tension.demand.m_as("kip") == pytest.approx(expected, rel=1e-6)


def test_an_item_whose_back_does_not_pass_its_one_rail_is_left_open():
    edge = item("E", 60, 3, 3.5, size=(20, 12, 8))  # its lower edge on the middle of the rail
    found, *_ = hand_fastened(asked(rack(edge, SEATED[1])))
    (still,) = [c for c in found.checks if c.name.startswith("Fastening of E")]
    assert still.word == "OPEN"
    assert "second rail" in still.remedy
    assert set(found.fastening.by_tag) == {"B"}


def test_an_item_without_a_rail_within_its_height_is_left_open():
    between = item("M", 60, 3, 4.5, size=(20, 12, 8))
    found, *_ = hand_fastened(asked(rack(between)))
    assert found.fastening is None
    assert [c.name for c in found.checks if c.name.startswith("Fastening of")] == ["Fastening of M: brackets of its own"]


def test_bolts_of_a_narrow_item_keep_their_spacing():
    narrow = item("N", 4, 3, 3, size=(1.5, 8, 5))  # 1.2 in. apart: less than 8/3 of 1/2 in.
    found, *_ = hand_fastened(asked(rack(narrow)))
    (judged,) = [c for c in found.checks if c.name.startswith("Equipment bolts: minimum spacing")]
    assert judged.word == "NOT OK"
    assert (judged.demand.m_as("in"), judged.capacity.m_as("in")) == pytest.approx((4 / 3, 1.2))


def test_a_splice_behind_the_bolts_of_an_item_is_named():
    """A: center at 3 ft, bolts 9.6 in. to either side; plate of 2 x 1 + 2 in. on each side of the joint, and 0.75 in."""
    for x, word in ((3 - 9.6 / 12, "NOT OK"), (3 - (9.6 + 4.7) / 12, "NOT OK"), (3 - (9.6 + 4.8) / 12, "OK"), (3, "OK")):
        found = worked(asked(rack(*SEATED, splices=(x,))))
        judged = {c.name: c for c in found.checks if "clear of the bolts" in c.name}
        (named,) = [c for name, c in judged.items() if name.endswith("of A")]
        assert named.word == word
        assert named.demand.m_as("in") == pytest.approx(4.75)


def test_ends_of_braces_are_open_with_the_force_in_them():
    braces = (brace(0, 5, 2, 7.5), brace(12, 5, 10, 7.5))
    job = asked(rack(*SEATED, braces=braces, rails=(("front", 3), ("front", 7.5))))
    frame = framed(job)
    still = {c.name: c for c in connections(job, frame).checks if c.name.startswith("Brace")}
    assert len(still) == 4
    P = frame.actions("strength")
    for n, m in enumerate(frame.members):
        if m.part == "brace":
            (low, high) = [c for name, c in still.items() if name.lower().startswith(m.mark)]
            assert low.word == high.word == "OPEN"
            assert low.demand.magnitude == pytest.approx(np.abs(P.P[:, P.member == n]).max())


# --- the rail's web ------------------------------------------------------------------------------------------------------


def strip_collapse(h_w, spots, n=41):
    """Work of the best of many mechanisms of a web hinged at y = +-h_w/2 under unit forces at the spots, over m_p.

    Independent of the formula: a cone of any half angle over the convex hull of the spots, cut off at the hinges; its fans and
    wedges are summed over small sectors by the curvature of the deflected surface.
    """
    best = np.inf
    b = max(y for _, y in spots) - min(y for _, y in spots)
    g = (h_w - b) / 2
    for alpha in np.radians(np.linspace(30, 85, 56)):
        r = g / np.cos(alpha)
        theta = np.linspace(alpha, np.pi - alpha, n)
        fans = 2 * 2 * np.sum(np.diff(theta)) / 2  # hogging and sagging over what the wedges leave, half of them at each bolt
        wedges = 2 * (2 * g * np.tan(alpha)) / g
        flat = 2 * 2 * b / r
        best = min(best, wedges + 2 * fans + flat)
    return best


@pytest.mark.parametrize(("n", "s"), [(1, 3.0), (2, 2.0), (2, 3.0), (3, 1.5)])
def test_the_web_gives_way_by_its_yield_lines(n, s):
    rail = rail_of("MC6X12", *RAIL_STEEL)
    m_p, h_w = 36 * 0.31**2 / 4, 6 - 2 * 0.375
    y = s * (np.arange(n) - (n - 1) / 2)
    together = strip_collapse(h_w, [(0, v) for v in y]) / n
    alone = 4 + 2 * math.pi
    found = across(rail, of(n, "", "n"), of(s, "in", "s"), "LRFD").magnitude
    assert found == pytest.approx(0.9 * m_p * min(alone, together), rel=2e-3)


@drawn(st.floats(0.5, 40))
@settings(max_examples=30, deadline=None)
def test_bolts_far_apart_along_the_web_do_not_help_and_near_ones_share(s_x):
    one, next_ = (along(RAIL, of(x, "in", "s_x"), "LRFD").magnitude for x in (s_x, s_x + 1))
    alone = 0.9 * 36 * 0.2**2 / 4 * (4 + 2 * math.pi)
    assert alone / 2 < one <= next_ <= alone * (1 + 1e-12)


# --- the seam of a clip on a tube ----------------------------------------------------------------------------------------


def test_a_clip_at_the_corner_of_a_thick_tube_has_a_gap_and_the_weaker_weld_counts():
    thick = replace(clip(post=post_of("HSS6X6X1/2", *POST_STEEL)), t=of(0.5, "in", "t"))
    r = 2 * 0.465
    assert thick.gap.m_as("in") == pytest.approx(r - math.sqrt(r**2 - (r - 0.5) ** 2))
    fillet_, groove_ = 0.75 * 0.6 * 70 * 0.707 * 0.25, 0.75 * 0.6 * 70 * 5 / 16 * r
    assert thick.weld_strength().magnitude == pytest.approx(min(fillet_, groove_))
    big = replace(thick, w=of(0.5, "in", "w"))
    assert big.weld_strength().magnitude == pytest.approx(groove_)
    thin = replace(clip(), t=of(0.5, "in", "t"))  # r = 0.466 in. of HSS6X6X1/4: the inner face stands on the flat
    assert thin.gap.magnitude == 0
    assert clip(post=post_of("W6X15", *POST_STEEL)).gap is None


def test_the_toe_of_a_channel_is_what_is_welded():
    """C6X8.2: mean flange 0.343 in., 2 in 12 over half of 1.72 in. less."""
    assert RAIL.t_toe.m_as("in") == pytest.approx(0.343 - 1.72 / 2 / 6)
    weak = {s.name: s for s in rail_weld_states(rail_weld(), forces(Forces, F_z=10.0), U)}
    mean = replace(rail_weld(), t_toe=RAIL.t_b)
    other = {s.name: s for s in rail_weld_states(mean, forces(Forces, F_z=10.0), U)}
    beside = "Rail beside the weld"
    assert weak[beside].ratio.magnitude == pytest.approx(other[beside].ratio.magnitude * 0.343 / RAIL.t_toe.magnitude)
    punched = weak["Post's wall beside the weld: punching"].capacity.magnitude
    assert punched == pytest.approx(0.75 * 0.6 * 62 * 0.233)  # one plane of the wall


@pytest.mark.parametrize(("steel", "shear", "slip_"), [("AISC 360-16", "J3.6", "J3.8"), ("AISC 360-22", "J3.7", "J3.9")])
def test_clauses_are_those_of_the_adopted_edition(steel, shear, slip_):
    job = asked(rack(*SEATED), installation="slip-critical")
    job.codes.steel = steel
    found = worked(job)
    sources = {c.name.split(",")[0]: c.source for c in found.checks}
    assert sources["Bolts in shear"].locator.startswith(f"{shear},")
    assert sources["Slip"].locator.startswith(f"{slip_} and")
    assert {s.edition for s in sources.values() if s.title == "AISC 360"} == {steel[-2:]}
    assert not any("360-16)" in s.locator for s in sources.values())
    (first, *_) = sheets(found)
    group_ = "Group A" if steel.endswith("16") else "Group 120"
    assert any(group_ in part.text for part in first.parts if isinstance(part, Remark))


def test_released_moments_are_zero_and_not_rounding(demo):
    *_, found = demo
    if found.clips is not None:
        assert found.clips.forces["M_y"].magnitude == 0
        assert "10^{-" not in next(s for s in sheets(found) if s.key == "clips").markdown()


def test_a_mirrored_rack_has_mirrored_connections():
    left = worked(asked(rack(*SEATED, splices=(1.25,))))
    right = worked(
        asked(rack(item("A", 200, 9, 4.5, size=(24, 40, 12)), item("B", 150, 3.5, 4.5, size=(30, 40, 8)), splices=(10.75,)))
    )
    for kind, posts in (("clips", 3), ("feet", 3)):
        one, other = ({w.label: w.ratio.magnitude for w in getattr(c, kind).places} for c in (left, right))
        for label, u in one.items():
            head, _, n = label.rpartition(" ")
            assert other[f"{head} {posts + 1 - int(n)}"] == pytest.approx(u, rel=2e-3), label
    one, other = (sorted(w.ratio.magnitude for w in c.splices.places) for c in (left, right))
    assert one == pytest.approx(other, rel=0.01)  # a splice stands at the right end of a piece of rail


def test_a_rack_without_connections_has_open_checks_and_no_results():
    job = rack(*SEATED, splices=(2.0,))
    job.connections = None
    found = connections(job, framed(job), loads.wind.wind(job), loads.seismic.seismic(job, loads.weights.weights(job)))
    assert found.clips is found.splices is found.feet is found.fastening is found.bolt is None
    names = {c.name: c for c in found.checks}
    assert set(names) == {"Rail clips", "Rail splices", "Weld of the posts to their base plates", "Bolts of the equipment"}
    assert all(c.word == "OPEN" and not c.passes and "connections" in c.remedy and c.demand.magnitude > 0 for c in found.checks)
    (sheet,) = sheets(found)
    assert len(sheet.checks) == 4
    assert "stay open" in sheet.markdown()


def test_what_is_left_out_alone_is_open_alone():
    job = asked(rack(*SEATED, splices=(2.0,)))
    job.connections.clip = job.connections.splice = job.connections.base_weld = None
    found = worked(job)
    assert [c.word for c in found.checks] == ["OPEN"] * 3
    job = asked(rack(*SEATED))
    job.frame.base_plate = None
    assert [c.name for c in worked(job).checks if c.word == "OPEN"] == ["Weld of the posts to their base plates"]


def test_rails_fixed_to_the_posts_are_welded_and_the_leg_they_need_is_said():
    job = asked(rack(*SEATED, rail_ends="moment"))
    found = worked(job)
    assert found.clips is None
    (still,) = [c for c in found.checks if c.word == "OPEN"]
    leg = found.rail_welds.leg
    assert leg.text() in still.remedy
    job.connections.rail_weld = of(leg.m_as("in"), "in", "w")
    again = worked(job)
    weld = max((c for c in again.checks if c.name.startswith("Weld of the rail,")), key=lambda c: c.ratio.magnitude)
    assert weld.ratio.magnitude <= 1 + 1e-9
    thin = min(again.rail_welds.what.t_toe.m_as("in"), again.rail_welds.what.wall.t.m_as("in"))
    assert leg.m_as("in") == pytest.approx(
        max(still.demand.magnitude / (0.75 * 0.6 * 70 * 0.707), 0.125 if thin <= 0.25 else 0.1875)
    )
    assert "J1.8" in " ".join(again.notes)


@pytest.mark.parametrize("post", ["W6X15", "Pipe4STD"])
def test_posts_that_are_no_tubes(post):
    pinned = worked(asked(rack(*SEATED, post=post)))
    assert pinned.clips is not None
    assert pinned.feet is not None
    assert all(len(sheet.markdown()) > 400 for sheet in sheets(pinned))
    fixed = worked(asked(rack(*SEATED, post=post, rail_ends="moment")))
    assert fixed.rail_welds is None
    assert any(c.word == "OPEN" and "no tubes" in c.name for c in fixed.checks)


def test_rails_in_the_plane_of_the_posts_may_be_pulled_either_way():
    job = asked(rack(*SEATED, rails=(("center", 3), ("center", 6))))
    frame = framed(job)
    found = connections(job, frame)
    labels = frame.clips("strength").labels
    assert tuple(w.label for w in found.clips.places) == labels
    assert found.clips.forces["F_y"].magnitude >= 0
    pushed = np.array(frame.clips("strength").F_y)
    assert (pushed < 0).any()


def test_rails_between_two_rows_hang_on_ties_and_are_left_open():
    both = (("front", 3), ("front", 6), ("back", 3), ("center", 7.5))
    found = worked(asked(rack(*SEATED, rails=both, depth=2.5, ties=(("C4X5.4", 2), ("C4X5.4", 7.5)))))
    assert [c.name for c in found.checks if c.word == "OPEN"] == ["Rails on ties"]
    assert not any("rail 4" in w.label for w in found.clips.places)


@pytest.mark.parametrize(
    ("more", "named"),
    [
        ({"clip": {"spacing": 6, "length": 8}}, "Clip: bolts within the rail"),
        ({"clip": {"edge": 0.375}}, "Clip: minimum edge distance"),
        ({"clip": {"spacing": 0.7}}, "Clip: minimum spacing"),
        ({"splice": {"gage": 5}}, "Splice: bolts within the rail"),
        ({"splice": {"gage": 0.7}}, "Splice: minimum gage"),
    ],
)
def test_sizes_that_leave_no_steel_are_not_ok_and_nothing_is_worked_on(more, named):
    found = worked(asked(rack(*SEATED, splices=(2.0,)), **more))
    judged = {c.name: c.word for c in found.checks}
    assert judged[named] == "NOT OK"
    assert (found.clips if "clip" in more else found.splices) is None
    assert all(c.ratio is None or c.ratio.magnitude > 0 or c.word == "NOT OK" for c in found.checks)
    assert named in sheets(found)[0].markdown().replace("\\", "")


def test_the_wall_of_a_tubular_rail_is_left_open():
    found = worked(asked(rack(*SEATED, rail="HSS4X4X1/4")))
    (still,) = [c for c in found.checks if c.word == "OPEN"]
    assert "tubular rail" in still.name
    assert still.demand.magnitude == pytest.approx(
        max(c.demand.magnitude for c in found.checks if "Bolts in tension" in c.name)
    )


def test_bolts_of_a_long_splice_count_with_less_than_their_whole_shear():
    """Four bolts 12 in. apart stand 36 in. from first to last; five make a pattern over 38 in."""
    b = splice().bolt
    strengths = []
    for n in (4, 5):
        long = replace(splice(n_x=n), s=of(12, "in", "s"))
        (state,) = [s for s in splice_states(long, forces(RailForces, P=10)) if s.name == "Bolts in shear"]
        strengths.append(state.capacity.magnitude)
    whole = 0.75 * b.F_nv.magnitude * b.A_b.magnitude
    assert strengths == pytest.approx([whole, 0.833 * whole])


def test_one_bolt_in_a_clip_or_splice():
    alone = worked(asked(rack(*SEATED), clip={"bolts": 1, "length": 2.5}))
    assert alone.clips is not None
    assert not any(c.name.startswith("Clip") and "spacing" in c.name for c in alone.checks)
    spliced = worked(asked(rack(*SEATED, splices=(2.0,)), splice={"bolts": 1, "rows": 1, "gage": None}))
    assert spliced.splices is None
    assert [c.name for c in spliced.checks if c.word == "OPEN"] == ["Rail splices with one bolt"]


@pytest.mark.parametrize(
    ("more", "error", "said"),
    [
        ({"grade": "A307", "installation": "slip-critical"}, InputError, "A307"),
        ({"splice": {"bolts": 5, "rows": 2}}, InputError, "equal rows"),
        ({"splice": {"bolts": 4, "rows": 2, "gage": None}}, InputError, "gage"),
        ({"grade": "Grade 8"}, LookupFailed, "Grade 8"),
        ({"bolt": Plain(diameter=of(1.5, "in", "d_b"), grade=GRADE, installation="snug")}, InputError, "1.5 in"),
        ({"electrode": "E7"}, DomainError, "E7"),
    ],
)
def test_what_cannot_be_is_refused(more, error, said):
    with pytest.raises(error, match=said):
        worked(asked(rack(*SEATED, splices=(2.0,)), **more))


def test_feet_of_cantilever_columns_are_checked_with_overstrength():
    job = asked(rack(*SEATED))
    basic = worked(job).feet
    job.site.seismic.system = "ordinary_cantilever_column"
    raised = worked(job)
    assert basic.set_name == "strength"
    assert raised.feet.set_name == "strength_overstrength"
    assert any("12.2.5.2" in note for note in raised.notes)


def test_strut_rails_lie_on_their_side():
    """The depth of strut lies across: what bends it about its axis 1 bends the splice sideways."""
    job = asked(rack(*SEATED, rail="1-5/8x3-1/4", splices=(2.0,)), splice={"bolts": 2, "rows": 1, "gage": None})
    frame = framed(job)
    found = connections(job, frame)
    k, i = found.splices.at
    assert found.splices.forces["M_y"].magnitude == pytest.approx(frame.splices("strength").M_x[k, i], abs=1e-9)
    assert found.splices.forces["V_y"].magnitude == pytest.approx(frame.splices("strength").V_x[k, i], abs=1e-9)


def test_single_numbers_are_traced_to_the_unit_cases(demo):
    *_, found = demo
    for joints in (found.clips, found.rail_welds, found.splices, found.feet):
        if joints is None:
            continue
        for name, value in joints.forces.items():
            if (joints.kind, name) == ("clip", "M_y"):  # released
                assert value.magnitude == 0
                continue
            assert isinstance(value.origin, Step)
            assert any("unit cases" in str(v.source) for v in in_order([value]))


def test_a_thicker_clip_is_never_used_more():
    job = asked(rack(*SEATED))
    frame = framed(job)
    thin, thick = ({}, {})
    for t, to in ((0.375, thin), (0.5, thick)):
        job.connections.clip.thickness = of(t, "in", "t_p")
        to.update({w.label: w.ratio.magnitude for w in connections(job, frame).clips.places})
    assert all(thick[label] <= u + 1e-9 for label, u in thin.items())


ROOM, FLAT = "Splice: plate clear of the post", "Splice: plate within the flat of the rail"


def room(x, ends="pinned", rail="C6X8.2", **splice_):
    found = worked(asked(rack(*SEATED, rail=rail, splices=(x,), rail_ends=ends), splice={"edge": 1.125, **splice_}))
    return {c.name: c for c in found.checks if c.name in (ROOM, FLAT)}


def test_a_splice_keeps_clear_of_post_and_clip():
    """Post of 4 in., clip of 2 in., plate of 2 x 1.125 + 2 in. on each side of the joint: 8.25 in. from the post line."""
    for x, word in (
        (6 + 8.3 / 12, "OK"),
        (6 - 8.3 / 12, "OK"),
        (6 + 8.2 / 12, "NOT OK"),
        (6 - 8.2 / 12, "NOT OK"),
        (6, "NOT OK"),
    ):
        judged = room(x)[ROOM]
        assert judged.demand.m_as("in") == pytest.approx(2 + 2 + 4.25)
        assert judged.word == word
        assert word == "OK" or "Move the joint" in judged.remedy
    assert room(2.0, ends="moment")[ROOM].demand.m_as("in") == pytest.approx(2 + 4.25)  # no clip


def test_the_plate_of_a_splice_fits_the_flat_of_the_rail():
    """C6X8.2 has k = 13/16 in.: a flat of 4.375 in.; the plate is the gage and 2 x 1.125 in. deep."""
    for gage, word in ((2.0, "OK"), (2.1, "OK"), (2.2, "NOT OK")):
        judged = room(2.0, gage=gage)[FLAT]
        assert judged.capacity.m_as("in") == pytest.approx(6 - 2 * 0.8125, abs=0.01)
        assert judged.word == word
    assert FLAT not in room(2.0, rail="L4X4X1/4")

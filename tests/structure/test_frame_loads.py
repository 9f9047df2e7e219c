"""Sections of the frame the right way up, and loads where they belong."""

import sys
from pathlib import Path
from types import SimpleNamespace as Plain

import numpy as np
import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parent))
from framed import BOTH, SEATED, brace, case, framed, item, of, rack

from rackbook import loads
from rackbook.job import load
from rackbook.shipped import shipped
from rackbook.structure.frame.attach import Spread
from rackbook.structure.frame.solve import respond
from rackbook.structure.frame.stiffness import sloping, uniform

E, G = 29000.0, 11200.0


@pytest.fixture(scope="module", params=["heron_quay", "quartz_saddle"])
def demo(request):
    return framed(load(shipped("data", "jobs", request.param)))


@pytest.fixture(scope="module")
def plain():
    return framed(rack(*SEATED, rails=BOTH))


def pushed(f, node, way, size=1.0):
    """Displacements of the nodes (n, 6) under one force at a node."""
    model = f.analysis.solved.built.model
    F = np.zeros((6 * len(model.xyz), 1))
    F[6 * node + way] = size
    u, _ = respond(model, F, np.zeros((len(model.i), 3, 1)))
    return u.reshape(-1, 6)


# --- sections the right way up -------------------------------------------------------------------------------------------


def test_posts_bend_across_the_rack_about_their_strong_axis_and_along_it_about_the_weak_one():
    f = framed(rack(post="W6X15", bays=(6,), rails=(("front", 2),)))
    top, h = f.analysis.solved.built.tops[0], 8 * 12 - 6
    low = 2 * 12 - 6
    assert pushed(f, top, 1)[top, 1] == pytest.approx(h**3 / (3 * E * 29.1), rel=0.02)  # the low rail holds hardly anything
    # along the rack the rail makes both posts move together up to its height; above it the first bends alone
    along = pushed(f, top, 0)[top, 0]
    assert low**3 / (6 * E * 9.32) + (h - low) ** 3 / (3 * E * 9.32) < along < h**3 / (3 * E * 9.32)


@pytest.mark.parametrize(
    ("rail", "down", "sideways"),
    [("C4X5.4", 3.85, 0.312), ("1-5/8x3-1/4", 0.433, 1.098)],  # depth upright; depth across for strut
)
def test_rails_bend_down_and_sideways_about_the_right_axes(rail, down, sideways):
    f = framed(rack(rail=rail, bays=(10,), rails=(("front", 4),), post="HSS6X6X5/8", height=5))
    built = f.analysis.solved.built
    middle, ends = built.node_on(built.rails[0], 0, 60.0), built.crossings[0]
    for way, I in ((2, down), (1, sideways)):
        u = pushed(f, middle, way)[:, way]
        assert u[middle] - np.mean(u[list(ends)]) == pytest.approx(120**3 / (48 * E * I), rel=0.01)


def test_a_rail_welded_to_stiff_posts_deflects_like_a_fixed_beam_and_a_clipped_one_like_a_simple_one():
    stiff = {"bays": (10,), "rails": (("front", 4),), "post": "HSS6X6X5/8", "height": 4.1}
    by = {}
    for ends in ("pinned", "moment"):
        f = framed(rack(rail_ends=ends, **stiff))
        built = f.analysis.solved.built
        middle = built.node_on(built.rails[0], 0, 60.0)
        u = pushed(f, middle, 2)[:, 2]
        by[ends] = u[middle] - np.mean(u[list(built.crossings[0])])
    assert by["pinned"] == pytest.approx(120**3 / (48 * E * 3.85), rel=0.001)
    assert by["moment"] == pytest.approx(120**3 / (192 * E * 3.85), rel=0.25)
    assert by["moment"] > 120**3 / (192 * E * 3.85)  # the post turns a little


def test_rail_torsion_is_held_by_clips_at_both_posts(plain):
    f = framed(rack(bays=(10,), rails=(("front", 4),), post="HSS6X6X5/8", height=4.1))
    built = f.analysis.solved.built
    middle = built.node_on(built.rails[0], 0, 60.0)
    turned = pushed(f, middle, 3)
    ends = turned[list(built.crossings[0]), 3]
    assert turned[middle, 3] - ends.mean() == pytest.approx(60 / (2 * G * 0.0399), rel=0.01)


# --- loads ---------------------------------------------------------------------------------------------------------------


def test_every_load_reaches_the_ground(demo):
    loads_, ground = demo.analysis.solved.balance
    scale = np.abs(loads_).max()
    assert np.abs(loads_ - ground).max() < 1e-8 * scale
    assert demo.analysis.solved.residual.max() < 1e-8 * scale


def test_the_unit_cases_are_the_loads_of_the_sheets():
    job = load(shipped("data", "jobs", "quartz_saddle"))
    weights, wind = loads.weights.weights(job), loads.wind.wind(job)
    seismic, ice = loads.seismic.seismic(job, weights), loads.ice.ice(job, weights)
    f = framed(job)
    total = f.analysis.solved.loads.total
    D = total[:, case(f, "D")]
    W = weights.W.m_as("kip")
    assert D[2] == pytest.approx(-W)
    assert D[4] == pytest.approx(W * weights.x_bar.m_as("in"))  # M_y = -x F_z
    assert D[3] == pytest.approx(-W * weights.y_bar.m_as("in"))  # M_x = y F_z
    for name, axis, sense in (("front", 1, -1), ("back", 1, 1), ("left", 0, 1), ("right", 0, -1)):
        of_case, d = total[:, case(f, f"W {name}")], wind.directions[name]
        assert of_case[axis] == pytest.approx(sense * d.V.m_as("kip"))
        overturning = -of_case[3] if axis else of_case[4]
        assert overturning == pytest.approx(sense * d.M.m_as("kip*in"))
        assert total[axis, case(f, f"W_i {name}")] == pytest.approx(sense * ice.directions[name].V.m_as("kip"))
    for name, axis in (("along", 0), ("across", 1)):
        V = getattr(seismic, name).V.m_as("kip")
        of_case = total[:, case(f, f"Q {name}")]
        assert of_case[axis] == pytest.approx(V)
        assert abs(of_case[4 - axis]) == pytest.approx(getattr(seismic, name).M.m_as("kip*in"))
        assert total[axis, case(f, f"N {name}")] == pytest.approx(0.002 * W)
    assert total[5, case(f, "Q twist")] == pytest.approx(0.05 * 24 * 12 * seismic.across.V.m_as("kip"))
    assert total[2, case(f, "D_i")] == pytest.approx(-ice.D_i.m_as("kip"))
    assert total[2, case(f, "L 2")] == pytest.approx(-0.25)


def test_the_moment_of_q_across_has_the_twist_of_the_weights_own_place():
    job = load(shipped("data", "jobs", "quartz_saddle"))
    weights = loads.weights.weights(job)
    f = framed(job)
    V, M_z = f.analysis.solved.loads.total[[1, 5], case(f, "Q across")]
    assert M_z / V == pytest.approx(weights.x_bar.m_as("in"), rel=0.02)  # k = 1 would give weights, heights change it a little


def test_a_measured_weight_scales_the_dead_load():
    shop = Plain(total=of(2000, "lbf"), x=of(6, "ft"), y=of(1, "in"), z=of(4, "ft"), date="2026-01-01", scale="crane")
    f = framed(rack(*SEATED, rails=BOTH, measured=shop))
    assert f.analysis.solved.loads.total[2, case(f, "D")] == pytest.approx(-2.0)


ANY = st.floats(-50, 50)


@settings(max_examples=60, deadline=None)
@over(
    points=st.lists(st.tuples(ANY, ANY, ANY), min_size=1, max_size=6, unique=True),
    force=st.tuples(ANY, ANY, ANY),
    moment=st.tuples(ANY, ANY, ANY),
)
def test_a_stiff_part_passes_on_all_forces_and_moments_with_the_least_squares(points, force, moment):
    at = np.array(points)
    n = len(at)
    built = Plain(model=Plain(xyz=at))
    spread = Spread(np.arange(n), np.full(n, 1 / n), np.zeros(0, int))
    F = np.zeros((6 * n, 1))
    spread.put(built, np.array(force)[:, None], np.array(moment)[:, None], F, np.zeros((0, 3, 1)))
    forces, couples = F.reshape(n, 2, 3)[:, 0], F.reshape(n, 2, 3)[:, 1]
    scale = 1 + np.abs(at).max() * (1 + np.abs(force).max()) + np.abs(moment).max()
    assert np.abs(forces.sum(axis=0) - force).max() < 1e-9 * scale
    assert np.abs(np.cross(at, forces).sum(axis=0) + couples.sum(axis=0) - moment).max() < 1e-7 * scale
    arm = at - at.mean(axis=0)
    size = np.linalg.eigvalsh(arm.T @ arm)
    if n >= 3 and size[1] > 0.01 * size[2] > 1:  # not near one line: the points alone carry it, with the least sum of squares
        S = np.concatenate([np.concatenate([np.eye(3), skew(a)]) for a in at], axis=1)
        least = np.linalg.lstsq(S, np.concatenate([force, moment]), rcond=None)[0]
        assert np.abs(couples).max() < 1e-7 * scale
        assert np.abs(forces.ravel() - least).max() < 1e-7 * scale


def skew(a):
    x, y, z = a
    return np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])


def test_equipment_hangs_on_the_rails_of_its_face_within_its_height():
    rails = (("front", 2), ("front", 4), ("front", 6), ("back", 4))
    of_items = {
        "spans two": item("A", 100, 3, 5, size=(24, 30, 12)), "between": item("B", 100, 6, 3, size=(20, 6, 6)),
        "below all": item("C", 100, 9, 1.5, size=(20, 6, 6)), "at the end": item("D", 100, 0.2, 4, size=(24, 10, 6)),
        "behind": item("E", 100, 5, 4, "back"),
    }  # fmt: skip
    f = framed(rack(*of_items.values(), rails=rails))
    hung = dict(zip(of_items, f.analysis.hung, strict=True))
    assert {r for r, _ in hung["spans two"].rails} == {1, 2}
    assert sorted({x for _, x in hung["spans two"].rails}) == [24, 48]
    assert {r for r, _ in hung["between"].rails} == {0, 1}
    assert "rail 1 and rail 2" in hung["between"].remark
    assert {r for r, _ in hung["below all"].rails} == {0}
    assert [x for _, x in hung["at the end"].rails] == pytest.approx([0, 14.4])
    assert {r for r, _ in hung["behind"].rails} == {3}
    assert [h.remark for h in f.analysis.hung if h.remark] == list(f.notes)


def test_equipment_without_a_rail_on_its_face_stands_on_the_posts():
    f = framed(rack(item("A", 100, 3, 4, "back"), item("B", 100, 6, 4, "back")))
    assert [h.posts for h in f.analysis.hung] == [(0, 1), (1,)]
    assert all("stands on the posts" in note for note in f.notes)


def test_equipment_tagged_like_a_member_or_an_allowance_keeps_its_own_place():
    tags = ("brace 1", "rail 1", "hardware", "canopy", "all rails")
    items = tuple(item(tag, 100, 1 + 2 * n, 4.5, size=(20, 40, 12)) for n, tag in enumerate(tags))
    job = rack(*items, braces=[brace(0, 3, 3, 6)])
    f = framed(job)
    loads_, ground = f.analysis.solved.balance
    assert np.abs(loads_ - ground).max() < 1e-8 * np.abs(loads_).max()
    weights = loads.weights.weights(job)
    F_z, M_x, M_y = loads_[[2, 3, 4], case(f, "D")]
    assert -F_z == pytest.approx(weights.W.m_as("kip"))
    assert M_x / F_z == pytest.approx(weights.y_bar.m_as("in"), abs=0.05)  # the brace ends on the rail, not in the post plane
    assert -M_y / F_z == pytest.approx(weights.x_bar.m_as("in"), rel=1e-6)


def test_braces_share_their_load_and_carry_force_along_themselves_alone():
    knees = [brace(0, 3, 3, 6), brace(12, 3, 9, 6)]
    f, without = framed(rack(braces=knees)), framed(rack(zinc=100))
    marks = [m.mark for m in f.members]
    at = [f.members[marks.index(f"brace {n}")].stations for n in (1, 2)]
    push = f.analysis.solved.actions[:, :, case(f, "W left")]
    assert np.abs(push[1:, [i for s in at for i in s]]).max() < 1e-9
    P = [push[0, s[0]] for s in at]
    assert P[0] * P[1] < 0  # one pulls, the other pushes
    assert abs(P[0]) == pytest.approx(abs(P[1]), rel=0.05)
    assert f.sways["along"].P_e_story.magnitude > 1.5 * without.sways["along"].P_e_story.magnitude


def test_a_brace_that_holds_the_sway_makes_k_one_along_the_rack():
    crossed = [brace(0, 0.6, 6, 6)]
    f = framed(rack(braces=crossed))
    post = f.members[0]
    assert (post.K_x.magnitude, post.K_y.magnitude) == (2.1, 1.0)
    assert f.members[-1].L.m_as("ft") == pytest.approx(np.hypot(6, 5.4))


def test_a_brace_without_ends_is_weight_on_the_rails():
    loose = Plain(shape="L3X3X1/4", length=of(4, "ft", "L"), row=None, from_=None, to=None)
    f = framed(rack(braces=[loose]))
    assert not [m for m in f.members if m.part == "brace"]
    assert f.notes == ("brace 1: its ends are not given; it is weight on the rails and braces nothing.",)
    assert f.analysis.solved.loads.total[2, case(f, "D")] == pytest.approx(
        -loads.weights.weights(rack(braces=[loose])).W.m_as("kip")
    )


# --- torsion as a load that grows along the rails ------------------------------------------------------------------------


@pytest.mark.parametrize("more", [{}, {"rails": (("center", 3), ("front", 6))}, {"rail_ends": "moment"}])
def test_the_spread_of_torsion_does_not_ask_how_many_nodes_a_rail_has(more):
    """Splices bring nodes and no load: with them all over one end, every result at the same place stays what it was."""
    coarse, fine = (framed(rack(**more, splices=at)) for at in ((), (0.9, 1.2, 1.7, 2.1, 4.4, 4.9, 5.3, 11.2)))
    k, built = case(fine, "Q twist"), fine.analysis.solved.built
    assert len(built.model.xyz) > len(coarse.analysis.solved.built.model.xyz) + 10
    for name in ("loads", "reactions", "joints"):
        of = [getattr(f.analysis.solved, name) for f in (coarse, fine)]
        a, b = (o.total[:, k] if name == "loads" else o[..., k] for o in of)
        assert np.abs(a - b).max() < 1e-7 * np.abs(a).max(), name
    for one, other in zip(*(rails_inside(f, k) for f in (coarse, fine)), strict=True):
        there = {round(x, 6): actions for x, actions in other}
        for x, actions in one:  # shear and moment of the rail about its weak axis, wherever both have a node
            if round(x, 6) in there:
                assert actions == pytest.approx(there[round(x, 6)], rel=1e-6, abs=1e-9)


def rails_inside(f, k):
    """Place along the rail, V_x and M_y at the ends of the elements of every bay of every rail."""
    solved = f.analysis.solved
    at, xyz, i = solved.places, solved.built.model.xyz, solved.built.model.i
    for member in (m for m in f.members if m.part == "rail"):
        stations = np.array(member.stations)
        x = xyz[i[at.element[stations]], 0] + at.s[stations]
        yield [(x[n], solved.actions[[2, 5], s, k]) for n, s in enumerate(stations)]


def test_torsion_on_a_rack_of_like_posts_is_the_linear_load_worked_by_hand():
    """One rail that hardly holds the posts together: simple spans under a load that grows from the middle of 12 ft."""
    f = framed(rack(rails=(("front", 7.9),), post="HSS6X6X5/8", rail="1-5/8x1-5/8", splices=(1.3, 2.2)))
    V_y = f.analysis.solved.reactions[2, :, case(f, "Q twist")]
    T = f.analysis.solved.loads.total[5, case(f, "Q twist")]
    grows = 12 * T / 144**3  # kip/in for each inch from the middle
    left = grows * 72**2 / 3  # its third, the rest on the middle post from both sides, which cancels
    assert V_y == pytest.approx([-left, 0, left], rel=0.02, abs=0.02 * left)


def test_a_growing_load_bends_a_fixed_element_as_the_handbook_says():
    L = 80.0
    p = sloping(np.array([[[0.0], [0.01], [0.0]]]), np.array([L]))
    p += uniform(np.array([[[0.0], [0.01 * L / 2], [0.0]]]), np.array([L]))  # together a triangle from 0 to w
    w = 0.01 * L
    assert p[0, [1, 7], 0] == pytest.approx([3 * w * L / 20, 7 * w * L / 20])
    assert p[0, [5, 11], 0] == pytest.approx([w * L**2 / 30, -w * L**2 / 20])


def test_a_person_is_at_the_middle_of_each_bay_and_on_each_rail_at_each_post(plain):
    solved, built = plain.analysis.solved, plain.analysis.solved.built
    joints = {j.label: n for n, j in enumerate(built.joints)}
    assert solved.loads.total[4, case(plain, "L 1")] == pytest.approx(0.25 * 36)  # the middle of a bay of 6 ft
    lines, rails = len(built.crossings[0]), len(built.rails)
    assert sum(c.startswith("L ") for c in plain.cases) == lines - 1 + lines * rails
    for rail in range(1, rails + 1):
        for line in range(1, lines + 1):
            k = case(plain, f"L {100 * rail + line}")
            assert solved.loads.total[[2, 4], k] == pytest.approx([-0.25, 0.25 * 72 * (line - 1)])
            # the clip there receives nearly all of it, and more than from the middle of a bay
            own = -solved.joints[2, joints[f"rail {rail} at post {line}"], k]
            assert 0.85 * 0.25 < own < 1.001 * 0.25
            beside = [-solved.joints[2, joints[f"rail {rail} at post {line}"], case(plain, f"L {n}")] for n in range(1, lines)]
            assert own > max(beside) + 0.07
            # its post receives nearly all of it too
            assert solved.reactions[0, line - 1, k] > 0.8 * 0.25


def test_the_person_at_a_post_governs_its_clip_where_it_is_the_only_load_that_moves(plain):
    """A superposition by hand: 1.2 D + 1.6 L of the strength set at one clip has its largest F_z with L at its own post."""
    clips, of = plain.clips("strength"), plain.sets["strength"]
    rows = [k for k, c in enumerate(of.clauses) if c == "2.3.1-2"]
    built = plain.analysis.solved.built
    for n, joint in enumerate(built.joints):
        rail, line = (int(part.split()[1]) for part in joint.label.partition(",")[0].split(" at "))
        worst = min(rows, key=lambda k: clips.F_z[k, n])
        assert f"1.6 L {100 * rail + line}" in of.labels[worst]

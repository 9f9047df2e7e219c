"""The frame against the open frame library PyNiteFEA: matrices, whole demo racks, a rack modelled anew, P-Delta."""

import dataclasses
import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
import itertools

from framed import BOTH, SEATED, TWO_ROWS, brace, case, framed, item, rack

from rackbook import loads
from rackbook.job import load
from rackbook.shipped import shipped
from rackbook.structure.frame.library import TURN, difference, library_displacements, library_model, library_reactions
from rackbook.structure.frame.sections import section_of
from rackbook.structure.frame.stiffness import geometric

pytest.importorskip("Pynite")

RACKS = {
    "clips, knee braces, a splice": {"rails": BOTH, "braces": [brace(0, 3, 3, 6), brace(12, 3, 9, 6)], "splices": (4,)},
    "welded wide-flange posts": {"rails": BOTH, "rail_ends": "moment", "post": "W6X15"},
    "two rows on pins": {**TWO_ROWS, "rail_ends": "moment", "base": "pinned"},
    "rail between two rows": {"depth": 2.5, "rails": (("front", 3), ("center", 7.5), ("back", 5)), "ties": (("C4X5.4", 7.5),)},
    "rails in the plane of the posts": {"rails": (("center", 3), ("center", 6))},
    "strut": {"rails": BOTH, "rail": "1-5/8x3-1/4"},
}  # fmt: skip


@pytest.fixture(scope="module", params=["heron_quay", "quartz_saddle", *RACKS])
def frame(request):
    if request.param in RACKS:
        return framed(rack(*SEATED, **RACKS[request.param]))
    return framed(load(shipped("data", "jobs", request.param)))


def whole(turned):
    """A matrix of a member in the axes of the library, as (12, 12) from four (3, 3)."""
    out = np.zeros((12, 12))
    for n in range(4):
        out[3 * n : 3 * n + 3, 3 * n : 3 * n + 3] = turned
    return out


def test_matrices_of_members_are_the_librarys(frame):
    of = frame.analysis.solved.built.model
    model = library_model(frame.analysis.solved, frame.cases, {"none": np.zeros(len(frame.cases))})
    for e in range(0, len(of.i), 3):
        member = model.members[f"m{e}"]
        scale = np.abs(of.condensed[e]).max()
        assert np.abs(member.ke() - of.condensed[e]).max() < 1e-9 * scale
        assert np.abs(member.T() - whole(of.axes[e] @ TURN.T)).max() < 1e-9
        if not of.released[e].any():
            own = geometric(np.array([3.0]), of.lengths[[e]])[0]
            theirs = -member.kg(3.0) if member.kg(3.0)[1, 1] * own[1, 1] < 0 else member.kg(3.0)
            bending = [n for n in range(12) if n % 6 in (1, 2, 4, 5)]
            assert np.abs((theirs - own)[np.ix_(bending, bending)]).max() < 1e-9


def test_the_stiffness_matrix_is_the_librarys(frame):
    from Pynite import Analysis

    of = frame.analysis.solved.built.model
    model = library_model(frame.analysis.solved, frame.cases, {"none": np.zeros(len(frame.cases))})
    Analysis._prepare_model(model)
    theirs = model.Ke("none", check_stability=False).tocsr()
    turn = np.kron(np.eye(2 * len(of.xyz)), TURN)
    own = turn @ of.assembled(of.condensed).toarray() @ turn.T
    scale = np.abs(own).max()
    assert np.abs(own - theirs.toarray()).max() < 1e-9 * scale


def test_whole_racks_answer_like_the_library(frame):
    solved, of = frame.analysis.solved, frame.sets["strength"]
    picked = np.unique(np.linspace(0, len(of.labels) - 1, 4).astype(int))
    model = library_model(solved, frame.cases, {str(k): of.factors[k] for k in picked})
    model.analyze_linear(check_stability=False)
    places = solved.places
    for k in picked:
        c, name = of.factors[k], str(k)
        u = (solved.displacements @ c).reshape(-1, 6)
        assert np.abs(u - library_displacements(model, name)).max() < 1e-7 * np.abs(u).max()
        R = solved.reactions @ c
        assert np.abs(R - library_reactions(model, solved.built.bases, name)).max() < 1e-7 * np.abs(R).max()
        own = solved.actions @ c
        for n in range(0, len(places.s), 7):
            e = places.element[n]
            member = model.members[f"m{e}"]
            x = float(np.clip(places.s[n], 1e-9, solved.built.model.lengths[e] - 1e-9))
            theirs = [
                member.axial(x, name), -member.shear("Fy", x, name), -member.shear("Fz", x, name), -member.torque(x, name),
                -member.moment("Mz", x, name), member.moment("My", x, name),
            ]  # fmt: skip
            assert own[:, n] == pytest.approx(theirs, abs=1e-6 * np.abs(own).max())


def test_the_difference_from_the_library_is_told_in_one_number():
    f = framed(rack(*SEATED, rails=BOTH))
    factors = f.sets["allowable"].factors
    assert difference(f.analysis.solved, f.cases, factors[-1]) < 1e-8
    wrong = dataclasses.replace(f.analysis.solved, reactions=1.01 * f.analysis.solved.reactions)
    assert difference(wrong, f.cases, factors[-1]) == pytest.approx(0.01, rel=0.02)


def test_a_rack_modelled_anew_with_loads_along_its_members_answers_the_same():
    """Posts and rails as members of the library that it cuts itself, loads along them, equipment by least squares."""
    from Pynite import FEModel3D

    items = (item("A", 300, 3, 4.5, size=(24, 40, 14)), item("B", 120, 12, 4.5, "back", (30, 40, 8)))
    job = rack(*items, bays=(7, 8), rails=BOTH, post="W6X15", hardware=0, conduit=0, wire=0)
    job.frame.galvanizing = None
    f = framed(job)
    weights, wind = loads.weights.weights(job), loads.wind.wind(job)
    post, rail = section_of("W6X15"), section_of("C4X5.4")
    model = FEModel3D()
    model.add_material("steel", 29000, 11200, 0.3, 0)
    # the library's y of an upright member points along the rack, so bending across it takes its second inertia
    sections = {"post": (post, post.I_x, post.I_y), "rail": (rail, rail.I_y, rail.I_x)}
    for name, (s, I_y, I_z) in sections.items():
        model.add_section(name, s.A.magnitude, I_y.magnitude, I_z.magnitude, s.J.magnitude)
    model.add_section("link", 100, 1000, 1000, 1000)
    lines, base, top = (0.0, 84.0, 180.0), 6.0, 96.0
    offset = (post.depth.magnitude + rail.width.magnitude) / 2
    rails = {1: (offset, 36.0), 2: (offset, 72.0), 3: (-offset, 36.0), 4: (-offset, 72.0)}
    for n, x in enumerate(lines, 1):
        model.add_node(f"foot {n}", x, base, 0)
        model.add_node(f"top {n}", x, top, 0)
        for z in (36.0, 72.0):
            model.add_node(f"post {n} {z}", x, z, 0)
        model.def_support(f"foot {n}", *[True] * 6)
        model.add_member(f"post {n}", f"foot {n}", f"top {n}", "steel", "post")
    for r, (y, z) in rails.items():
        for n, x in enumerate(lines, 1):
            model.add_node(f"rail {r} {n}", x, z, -y)
            model.add_member(f"link {r} {n}", f"post {n} {z}", f"rail {r} {n}", "steel", "link")
            model.def_releases(f"link {r} {n}", Rxj=True, Ryj=True)
        model.add_member(f"rail {r}", f"rail {r} 1", f"rail {r} 3", "steel", "rail")

    def line_load(member, force, length, case_name):
        for axis, value in zip(("FX", "FY", "FZ"), (force[0], force[2], -force[1]), strict=True):
            if value:
                model.add_member_dist_load(member, axis, value / length, value / length, case=case_name)

    def couple(member, where, moment, case_name):
        for axis, value in zip(("MX", "MY", "MZ"), (moment[0], moment[2], -moment[1]), strict=True):
            if value:
                model.add_member_pt_load(member, axis, value, where, case=case_name)

    def put(label, force, at, case_name):
        force, at = np.array(force), np.array(at)
        if label.startswith("post"):
            n = int(label.split()[1])
            line_load(label, force, top - base, case_name)
            rest = np.cross(at - (lines[n - 1], 0, (top + base) / 2), force)
            nodes = [(lines[n - 1], 0.0, z) for z in (base, 36.0, 72.0, top)]
            share_ = np.array([15, 33, 30, 12]) / 90
            onto_points(label, nodes, np.zeros(3), rest, case_name, share_)
        elif label.startswith("rail"):
            r = int(label.split()[1])
            y, z = rails[r]
            line_load(label, force, lines[-1], case_name)
            rest = np.cross(at - (lines[-1] / 2, y, z), force)
            used = sorted({lines[0], *lines, 42.0, 132.0, *[x for x, on in seats if on == r]})
            tributary = np.diff([used[0], *[(a + b) / 2 for a, b in itertools.pairwise(used)], used[-1]])
            onto_points(label, [(x, y, z) for x in used], np.zeros(3), rest, case_name, tributary / tributary.sum())
        else:
            points = [(x, *rails[r]) for x, r in seats if (r in (1, 2)) == (label == "A")]
            onto_points(
                label, points, force, np.cross(at, force), case_name, np.full(len(points), 1 / len(points)), origin=True
            )

    def onto_points(label, points, force, moment, case_name, share_, origin=False):
        """Least squares, weighted by share, of forces at points; what they cannot carry in couples by share."""
        points = np.array(points, float)
        arms = points if origin else points - share_ @ points
        S = np.concatenate([np.concatenate([np.eye(3), skew(a)]) @ np.eye(3) for a in arms], axis=1)
        root = np.sqrt(np.repeat(share_, 3))
        want = np.concatenate([force, moment])
        found = root * np.linalg.lstsq(S * root, want, rcond=1e-6)[0]
        left = (want - S @ found)[3:]
        for p, f_, s in zip(points, found.reshape(-1, 3), share_, strict=True):
            member, x = on_member(p)
            for axis, value in zip(("FX", "FY", "FZ"), (f_[0], f_[2], -f_[1]), strict=True):
                model.add_member_pt_load(member, axis, float(value), x, case=case_name)
            couple(member, x, s * left, case_name)

    def on_member(p):
        if p[1] == 0:
            return f"post {lines.index(p[0]) + 1}", float(np.clip(p[2] - base, 1e-9, top - base - 1e-9))
        r = next(n for n, (y, z) in rails.items() if (y, z) == (p[1], p[2]))
        return f"rail {r}", float(np.clip(p[0], 1e-9, lines[-1] - 1e-9))

    def skew(a):
        return np.array([[0, -a[2], a[1]], [a[2], 0, -a[0]], [-a[1], a[0], 0]])

    seats = [(x, r) for x in (24.0, 48.0) for r in (1, 2)] + [(x, r) for x in (129.0, 159.0) for r in (3, 4)]
    for p in weights.parts:
        at = p.x.m_as("in"), p.y.m_as("in"), p.z.m_as("in")
        put(p.label, (0, 0, -p.w.m_as("kip")), at, "D")
    for name, (axis, sense) in {"front": (1, -1), "left": (0, 1)}.items():
        d = wind.directions[name]
        for tag, F, u, z in zip(d.tags, d.F.m_as("kip"), d.u.m_as("in"), d.z.m_as("in"), strict=True):
            force, at = [0.0, 0.0, 0.0], [0.0, 0.0, z]
            force[axis], at[1 - axis] = sense * F, u
            put(tag, force, at, f"W {name}")
    factors = {
        "1.2 D + 1.0 W front": {"D": 1.2, "W front": 1.0},
        "0.9 D + 1.0 W left": {"D": 0.9, "W left": 1.0},
        "D": {"D": 1.0},
    }
    for name, by in factors.items():
        model.add_load_combo(name, by)
    model.analyze_linear(check_stability=False)
    R = f.analysis.solved.reactions
    for name, by in factors.items():
        own = sum(factor * R[:, :, case(f, c)] for c, factor in by.items())
        nodes = [model.nodes[f"foot {n}"] for n in (1, 2, 3)]
        theirs = np.array([
            [n.RxnFY[name] for n in nodes], [-n.RxnFX[name] for n in nodes], [n.RxnFZ[name] for n in nodes],
            [-n.RxnMX[name] for n in nodes], [n.RxnMZ[name] for n in nodes], [-n.RxnMY[name] for n in nodes],
        ])  # fmt: skip
        scale = np.abs(own).max()
        assert np.abs(own - theirs).max() < 2e-5 * scale, name
        x = 84.0 + 48.0  # the middle of the second bay on the second rail
        member = next(m for m in f.members if m.mark == "rail 2 bay 2")
        places, solved = f.analysis.solved.places, f.analysis.solved
        station = next(
            s for s in member.stations
            if abs(solved.built.model.xyz[solved.built.model.i[places.element[s]], 0] + places.s[s] - x) < 1e-6
        )  # fmt: skip
        M_x = sum(factor * solved.actions[4, station, case(f, c)] for c, factor in by.items())
        M_y = sum(factor * solved.actions[5, station, case(f, c)] for c, factor in by.items())
        assert -model.members["rail 2"].moment("Mz", x, name) == pytest.approx(M_x, abs=2e-5 * scale)
        assert model.members["rail 2"].moment("My", x, name) == pytest.approx(M_y, abs=2e-5 * scale)


@pytest.mark.parametrize("weight", [2000, 12000])
def test_amplified_moments_hold_against_second_order_analysis_of_the_library(weight):
    """A tall rack with a heavy load in its middle: the amplified base moments must not be below P-Delta's by 2 %."""
    f = framed(
        rack(item("A", weight, 6, 9, size=(60, 40, 12)), rails=(("front", 8), ("front", 10)), height=12, post="HSS5X5X1/4")
    )
    of, r = f.sets["strength"], f.reactions("strength")
    k = next(n for n, label in enumerate(of.labels) if "1.2 D + 1.0 W back" in label)
    model = library_model(f.analysis.solved, f.cases, {"k": of.factors[k]})
    model.analyze_PDelta(check_stability=False)
    exact = library_reactions(model, f.analysis.solved.built.bases, "k")
    B_2 = f.results.amplified("strength").B_2t[k]
    first = of.factors[k] @ f.analysis.solved.reactions[3].T
    assert np.abs(r.M_x[k]).max() == pytest.approx(B_2 * np.abs(first).max())
    assert 0.98 < np.abs(r.M_x[k]).max() / np.abs(exact[3]).max() < 1.1
    if weight > 10000:
        assert B_2 > 1.05

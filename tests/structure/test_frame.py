"""Every kind of rack: balance, symmetry, refusals, and what is handed on."""

import dataclasses
import sys
from pathlib import Path
from types import SimpleNamespace as Plain

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from framed import BOTH, SEATED, TWO_ROWS, brace, case, framed, item, of, rack

from rackbook import loads
from rackbook.job import load
from rackbook.shipped import shipped
from rackbook.structure.frame import Frame, extremes, reactions_csv, sheets
from rackbook.structure.frame.analysis import remedies
from rackbook.structure.frame.cases import Loads
from rackbook.structure.frame.estimate import by_geometric_stiffness, estimates
from rackbook.structure.frame.nodes import build
from rackbook.structure.frame.second_order import SET_OF
from rackbook.structure.frame.solve import ACTIONS, solve
from rackbook.structure.frame.tables import EXTREMES, TIE
from rackbook.trace import DomainError, Value, recompute

E, G = 29000.0, 11200.0


@pytest.fixture(scope="module", params=["heron_quay", "quartz_saddle"])
def demo(request):
    return framed(load(shipped("data", "jobs", request.param)))


@pytest.fixture(scope="module")
def plain():
    return framed(rack(*SEATED, rails=BOTH))


# --- kinds of racks ------------------------------------------------------------------------------------------------------

KINDS = {
    "clips": {"rails": BOTH},
    "welded": {"rails": BOTH, "rail_ends": "moment"},
    "two rows": TWO_ROWS,
    "two rows welded on pins": {**TWO_ROWS, "rail_ends": "moment", "base": "pinned"},
    "rail between the rows": {"depth": 2.5, "rails": (("front", 3), ("center", 7.5), ("back", 5)), "ties": (("C4X5.4", 7.5),)},
    "rails in the plane": {"rails": (("center", 3), ("center", 6))},
    "braces and splices": {"rails": BOTH, "braces": [brace(0, 3, 3, 6), brace(12, 3, 9, 6)], "splices": (4, 9.5)},
    "canopy and snow": {
        "rails": BOTH, "canopy": {"length": (14, "ft"), "width": (4, "ft"), "height": (9, "ft"), "weight": (5, "psf")},
        "snow": Plain(ground=of(40, "psf", "p_g"), C_e=None, C_t=None),
    },
    "ice": {"rails": BOTH, "ice": Plain(thickness=of(0.5, "in", "t"), wind=of(40, "mph", "V_c"))},
    "strut": {"rails": BOTH, "rail": "1-5/8x1-5/8"},
    "no equipment, no services": {"rails": BOTH, "conduit": 0, "wire": 0, "hardware": 0},
}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_rack_stands_in_balance(kind):
    items = () if kind.startswith("no") else SEATED
    job = rack(*items, **KINDS[kind])
    f = framed(job)
    loads_, ground = f.analysis.solved.balance
    assert np.abs(loads_ - ground).max() < 1e-8 * np.abs(loads_).max()
    assert loads_[2, case(f, "D")] == pytest.approx(-loads.weights.weights(job).W.m_as("kip"))
    assert set(f.sets) == {"strength", "strength_overstrength", "allowable", "allowable_overstrength"}
    for sheet in sheets(f):
        assert sheet.markdown()
    for name in f.sets:
        a = f.actions(name)
        assert np.isfinite([getattr(a, c) for c in ACTIONS]).all()
        assert len(f.splices(name).labels) == f.splices(name).P.shape[1]


def test_forces_of_rails_on_posts_are_what_hangs_on_the_rails():
    job = rack(*SEATED, rails=BOTH, hardware=0)
    job.frame.galvanizing = None
    f = framed(job)
    F_z = f.analysis.solved.joints[2, :, case(f, "D")]
    hung = [p.w.m_as("kip") for p in loads.weights.weights(job).parts if not p.label.startswith("post")]
    assert F_z.sum() == pytest.approx(-sum(hung))


def test_forces_on_clips_act_at_the_face_of_the_post():
    """A clipped rail has no moment about y and z at its own middle, so at the face there is force times the way between."""
    f = framed(rack(*SEATED, rails=BOTH, conduit=0, wire=0, hardware=0))  # nothing hangs at the posts themselves
    F_x, F_y, F_z, M_x, M_y, M_z = f.analysis.solved.joints
    labels = [j.label for j in f.analysis.solved.built.joints]
    side = np.array([1.0 if label.startswith(("rail 1", "rail 2")) else -1.0 for label in labels])[:, None]
    b = 1.58 / 2  # from the face to the middle of a C4X5.4
    assert np.abs(M_z + side * b * F_x).max() < 1e-8
    assert np.abs(M_y).max() < 1e-8
    torsion = M_x - side * b * F_z  # what is left is the torsion of the rail
    built, solved = f.analysis.solved.built, f.analysis.solved
    for rail in range(4):
        at_post_1 = next(n for n, label in enumerate(labels) if label == f"rail {rail + 1} at post 1")
        first = next(p for p in built.pieces if p.mark == f"rail {rail + 1} bay 1").elements[0]
        station = int(np.flatnonzero(solved.places.element == first)[0])
        assert np.abs(torsion[at_post_1] - solved.actions[3, station]).max() < 1e-8
    assert np.isfinite(F_y).all()


def test_wind_on_the_front_pushes_front_rails_on_and_pulls_back_rails_off(plain):
    clips = plain.analysis.solved.joints[1, :, case(plain, "W front")]
    labels = [j.label for j in plain.analysis.solved.built.joints]
    front = [n for n, label in enumerate(labels) if label.startswith(("rail 1", "rail 2"))]
    back = [n for n, label in enumerate(labels) if label.startswith(("rail 3", "rail 4"))]
    assert clips[front].sum() < 0
    assert clips[back].sum() > 0


def test_clipped_rails_pass_no_moment_in_the_plane_of_the_rack(plain):
    M_y = plain.analysis.solved.joints[4]
    assert np.abs(M_y).max() < 1e-9
    welded = framed(rack(*SEATED, rails=BOTH, rail_ends="moment"))
    assert np.abs(welded.analysis.solved.joints[4]).max() > 0.1


def test_splices_carry_what_the_rail_carries_there():
    f = framed(rack(*SEATED, rails=BOTH, splices=(4, 9.5)))
    s = f.splices("strength")
    assert s.labels == tuple(f"rail {r} at splice {k}" for r in range(1, 5) for k in (1, 2))
    a, built = f.actions("strength"), f.analysis.solved.built
    for n, station in enumerate(f.analysis.solved.places.splices):
        element = f.analysis.solved.places.element[station]
        assert built.model.xyz[built.model.j[element], 0] == pytest.approx((4, 9.5)[n % 2] * 12)
        assert np.array_equal(s.M_x[:, n], a.M_x[:, station])
        k = int(np.argmax(np.abs(s.M_x[:, n])))
        assert f.splice("strength", "M_x", n, k).magnitude == pytest.approx(s.M_x[k, n])


# --- symmetry ------------------------------------------------------------------------------------------------------------


def mirrored(items, length):
    return tuple(Plain(**{**vars(i), "x": of(length - i.x.m_as("ft"), "ft", "x")}) for i in items)


def swapped(items):
    other = {"front": "back", "back": "front"}
    return tuple(Plain(**{**vars(i), "face": other[i.face]}) for i in items)


BAYS, LENGTH = (5, 7, 6), 18
RAILS = (("front", 3), ("front", 6), ("back", 4), ("back", 7.5))
THERE = {"front": "back", "back": "front"}
SIGNS = {  # P, V_x, V_y, M_x, M_y, T
    "left for right": np.array([1, -1, 1, 1, -1, -1]),
    "front for back": np.array([1, 1, -1, -1, 1, -1]),
    "turned round": np.array([1, -1, -1, -1, -1, 1]),
}
PARTNERS = {
    "left for right": {"W left": "W right", "W right": "W left", "Q along": "Q along", "N along": "N along"},
    "front for back": {"W front": "W back", "W back": "W front"},
    "turned round": {"W left": "W right", "W right": "W left", "W front": "W back", "W back": "W front"},
}
REVERSED = {  # cases that act in a fixed sense of x or y, and those that turn about z
    "left for right": ("Q along", "N along", "Q twist", "W twist"),
    "front for back": ("Q across", "N across", "Q twist", "W twist"),
    "turned round": ("Q along", "N along", "Q across", "N across"),
}


@pytest.mark.parametrize("more", [{}, {"rail_ends": "moment"}, {"depth": 2.5, "ties": (("C4X5.4", 7.8),)}], ids=str)
@pytest.mark.parametrize("way", SIGNS)
def test_a_mirrored_or_turned_rack_has_the_mirrored_reactions(way, more):
    items = (
        item("A", 300, 3, 4.5, size=(24, 40, 14)), item("B", 150, 11, 5, "back", (30, 40, 8)),
        item("C", 90, 15, 4, size=(20, 30, 9)), item("D", 60, 6, 7, "back", (10, 20, 6)),
    )  # fmt: skip
    flip_x, flip_y = way != "front for back", way != "left for right"
    other = mirrored(items, LENGTH) if flip_x else items
    other = swapped(other) if flip_y else other
    rails = tuple((THERE[face], z) for face, z in RAILS) if flip_y else RAILS
    here = framed(rack(*items, bays=BAYS, rails=RAILS, **more))
    there = framed(rack(*other, bays=BAYS[::-1] if flip_x else BAYS, rails=rails, **more))
    rows = 2 if "depth" in more else 1
    count = len(here.bases) // rows
    places = [
        (count - 1 - n if flip_x else n) * rows + (rows - 1 - r if flip_y else r) for n in range(count) for r in range(rows)
    ]
    for name in here.cases:
        if name.startswith("L "):
            number, lines = int(name.split()[1]), len(BAYS) + 1
            if flip_y and number < 100:
                continue  # between posts the maintenance load stands on the front rail
            rail, line = divmod(number, 100)
            if flip_x:
                line = (lines + 1 if rail else lines) - line
            partner = f"L {100 * rail + line}"
        else:
            partner = PARTNERS[way].get(name, name)
        sense = -1 if name in REVERSED[way] else 1
        a = here.analysis.solved.reactions[:, :, case(here, name)]
        b = there.analysis.solved.reactions[:, places, case(there, partner)]
        scale = np.abs(a).max() + 1e-6
        assert np.abs(sense * SIGNS[way][:, None] * b - a).max() < 1e-6 * scale, name


def test_a_symmetric_rack_has_symmetric_reactions_and_rails():
    f = framed(rack(item("A", 100, 3, 4.5), item("B", 100, 9, 4.5), rails=BOTH[:2]))
    r = f.analysis.solved.reactions
    for name in ("D", "W front", "W back"):
        P, V_x, V_y, M_x, M_y, T = r[:, :, case(f, name)]
        for even in (P, V_y, M_x):
            assert even == pytest.approx(even[::-1], abs=1e-8)
        for odd in (V_x, M_y, T):
            assert odd == pytest.approx(-odd[::-1], abs=1e-8)


# --- refusals ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("more", "way", "remedy"),
    [
        ({"base": "pinned"}, "(along|across) the rack at the post tops", "frame.base: fixed"),
        ({"base": "pinned", "rail_ends": "moment"}, "across the rack at the post tops", "frame.base: fixed"),
        (dict(base="pinned", **TWO_ROWS), "along the rack at the post tops", "frame.braces"),
        (
            {"base": "pinned", "rail_ends": "moment", "depth": 2.5, "rails": BOTH},
            "across the rack at the post tops",
            "tie the two rows",
        ),
    ],
)
def test_a_mechanism_is_named_with_its_way_and_what_to_change(more, way, remedy):
    with pytest.raises(DomainError, match=way) as refused:
        framed(rack(*SEATED, **more))
    assert remedy in str(refused.value)
    assert str(refused.value).count("\n") == 0


def test_the_way_along_is_told_from_the_way_across():
    """Rows tied into portals stand across; with clips on pinned feet nothing holds them along."""
    f = framed(rack(*SEATED, **{**TWO_ROWS, "rail_ends": "moment", "base": "pinned"}))
    layout = dataclasses.replace(f.analysis.task.layout, moment=True)
    numbers = {n: v.magnitude for n, v in f.analysis.given.items()}
    built = build(layout, numbers, {})
    released = built.model.released.copy()
    links = [j.element for j in built.joints]
    released[np.ix_(links, [9, 10])] = True  # clips on the rails, ties welded
    clipped = dataclasses.replace(built, model=dataclasses.replace(built.model, released=released))

    along = np.zeros((len(built.model.i), 3, 1))
    none = Loads(np.zeros((built.model.held.size, 1)), along, along, np.zeros((6, 1)))
    with pytest.raises(DomainError, match="along the rack at the post tops") as refused:
        solve(clipped, none, remedies(dataclasses.replace(layout, fixed=False, moment=False)))
    assert "braces" in str(refused.value)


def test_a_rail_between_two_rows_needs_a_tie():
    with pytest.raises(DomainError, match="Rail 2 runs between two rows"):
        framed(rack(depth=2.5, rails=(("front", 3), ("center", 5))))


def test_a_splice_within_an_inch_of_another_node_is_found_once():
    f = framed(rack(*SEATED, rails=BOTH, splices=(3.06,)))  # 0.7 in. from the middle of the bay
    assert f.splices("strength").labels == tuple(f"rail {r} at splice 1" for r in range(1, 5))


def test_a_brace_that_ends_nowhere_is_refused():
    with pytest.raises(DomainError, match=r"Brace 1 ends nowhere: at x = 3 ft, 5 ft up"):
        framed(rack(braces=[brace(0, 3, 3, 5)]))


# --- what is handed on ---------------------------------------------------------------------------------------------------


def test_members_say_what_the_strength_checks_ask(demo):
    marks = [m.mark for m in demo.members]
    assert len(set(marks)) == len(marks)
    assert marks[0] == "post 1"
    posts = [m for m in demo.members if m.part == "post"]
    rails = [m for m in demo.members if m.part == "rail"]
    assert len(rails) == 9 * 3
    assert {m.material for m in posts} == {"A500 Gr C rectangular"}
    assert {m.material for m in rails} == {"A36"}
    stations = [s for m in demo.members for s in m.stations]
    assert stations == list(range(demo.analysis.solved.actions.shape[1]))
    assert (demo.actions("strength").member == np.repeat(range(len(marks)), [len(m.stations) for m in demo.members])).all()
    assert [b.label for b in demo.bases] == [m.mark for m in posts]
    assert isinstance(demo, Frame)


def test_reactions_are_written_out_for_every_base_and_combination(demo):
    text = reactions_csv(demo, "allowable").splitlines()
    assert len(text) == 1 + len(demo.bases) * len(demo.sets["allowable"].labels)
    r = demo.reactions("allowable")
    assert float(text[1].split(",")[-6]) == pytest.approx(r.P[0, 0], abs=5e-5)
    listed = extremes(demo, "allowable")
    for base in range(len(demo.bases)):
        ks = [e.combination for e in listed if e.base == base]
        assert r.P[ks, base].max() == r.P[:, base].max()
        assert r.P[ks, base].min() == r.P[:, base].min()
        for all_of in (r.V_x, r.V_y, r.M_x, r.M_y, r.T):
            assert np.abs(all_of[ks, base]).max() == pytest.approx(np.abs(all_of[:, base]).max(), rel=TIE)
        assert sum(len(e.what.split(", ")) for e in listed if e.base == base) == len(EXTREMES)


def test_estimates_by_hand_stand_beside_the_analysis(demo):

    found = estimates(demo.results)
    assert [b.result for b in found] == ["within"] * 3
    across = [b for b in found if "W front" in b.what]
    assert len(across) == 2
    for b in across:  # one post's own width against posts that help one another
        assert 0.7 < b.analysis.magnitude / b.high.magnitude <= 1
    (along,) = [b for b in found if "W left" in b.what]
    assert (along.low is None) == (not demo.analysis.task.layout.moment)
    far = dataclasses.replace(along, analysis=Value(2 * along.high.magnitude, along.high.unit, along.high.origin))
    assert far.result == "OUTSIDE"


def test_second_order_by_geometric_stiffness_agrees_with_the_amplified_moment(demo):

    name = SET_OF[demo.method]
    r = demo.reactions(name)
    for component in ("M_x", "M_y"):
        of_all = np.abs(getattr(r, component))
        k, base = divmod(int(np.argmax(of_all)), of_all.shape[1])
        exact = by_geometric_stiffness(demo.results, name, component, base, k)
        assert 0.999 < of_all.max() / exact.magnitude < 1.02
        again = recompute(exact, {})
        assert again.magnitude == exact.magnitude

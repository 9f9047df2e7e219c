"""Lifting and transport against independent statics: every arrangement of legs, the hung beam, modules, mirrored racks."""

import csv
import dataclasses
import io
import itertools
import math
import re
from types import SimpleNamespace as Plain

import numpy as np
import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from rackbook.book import compute
from rackbook.job import load
from rackbook.job.problems import FolderError
from rackbook.loads.weights import weights
from rackbook.loads.wind import wind
from rackbook.shipped import shipped
from rackbook.structure.hanging import strengths
from rackbook.structure.lifting import (
    Strengths,
    envelope,
    four_legs,
    hanging,
    lifting,
    lug_strength,
    sheets,
    two_legs,
)
from rackbook.structure.lifting.beam import moments
from rackbook.structure.lifting.slings import angle_factor, pair_share, share, tension
from rackbook.structure.lifting.steel import rail_strength
from rackbook.structure.members.compression import compression
from rackbook.structure.steel import available
from rackbook.tables import section, table
from rackbook.trace import DomainError, Source, Value, given, recompute, touched

HAND = Source("input", "rack.yaml", locator="worked by hand")
STEEL = {"post": "A500 Gr C rectangular", "rail": "A36"}
FRAME = Plain(
    members=tuple(
        Plain(part=p, F_y=table("materials").cell(m, "F_y", "F_y"), F_u=table("materials").cell(m, "F_u", "F_u"))
        for p, m in STEEL.items()
    )
)


def of(number, unit="", symbol=""):
    return given(number, unit, HAND, symbol)


@pytest.fixture
def rack(tmp_path):
    """Return the demo rack with changed texts and, on request, changed lines of its equipment."""
    folders = itertools.count()

    def make(*changes, name="quartz_saddle", row=None):
        folder = tmp_path / str(next(folders))
        folder.mkdir()
        for file in shipped("data", "jobs", name).iterdir():
            text = file.read_text(encoding="utf-8")
            if file.name == "rack.yaml":
                for change in changes:
                    for line, new in change.items():
                        text, found = re.subn(rf"(?m)^{line}.*$", new, text)
                        assert found, line
            if file.name == "equipment.csv" and row is not None:
                lines = list(csv.DictReader(io.StringIO(text)))
                out = io.StringIO()
                writer = csv.DictWriter(out, lines[0].keys(), lineterminator="\n")
                writer.writeheader()
                writer.writerows(kept for line in lines if (kept := row(dict(line))) is not None)
                text = out.getvalue()
            (folder / file.name).write_text(text, encoding="utf-8")
        return load(folder)

    return make


def picked(picks, legs=2, hook="8 ft", carrying="two"):
    """Return the lines that pick the demo rack otherwise."""
    lines = {"picks": f"[{picks}]", "legs": legs, "hook": hook, "carrying": carrying}
    return {f"  {name}:": f"  {name}: {value}" for name, value in lines.items()}


def cut(places):
    """Return the line that splices the demo rack."""
    return {"  # splices:": f"  splices: [{places}]"}


DOUBLE = {"  depth:": "  depth: 3 ft"}


def rail_by_members(shape, F_y, L_b):
    return available(compression(shape, F_y, L_b, L_b).P_n, "compression", "ASD", "P_c")


def result(job, strengths=None, **more):
    return lifting(job, weights(job), FRAME, strengths=strengths or Strengths(rail_compression=rail_by_members), **more)


def checks(found):
    return {c.name: c for c in found.checks}


# --- equilibrium of the hook, solved in space


def unit_vectors(lift):
    """Return the directions from the picks to the hook, one column a leg; in one line the rack hangs turned about it."""
    x_bar, y_bar = lift.of.x_bar.m_as("ft"), 0.0 if lift.in_line else lift.of.y_bar.m_as("ft")
    h = lift.legs[0].L_s.m_as("ft") * math.sin(lift.legs[0].theta.m_as("rad"))
    to = [(x_bar - leg.x.m_as("ft"), y_bar - leg.y.m_as("ft"), h) for leg in lift.legs]
    return np.array([np.array(v) / np.linalg.norm(v) for v in to]).T, h


ARRANGEMENTS = [
    ("8 ft, 16 ft", 2, "two", None),
    ("0 ft, 16 ft", 2, "two", None),
    ("0 ft, 24 ft", 2, "two", None),
    ("8 ft, 16 ft", 4, "all", DOUBLE),
    ("0 ft, 16 ft", 4, "all", DOUBLE),
    ("0 ft, 8 ft, 16 ft, 24 ft", 4, "all", None),
]


@pytest.mark.parametrize(("picks", "legs", "carrying", "depth"), ARRANGEMENTS)
def test_the_hook_is_in_equilibrium(rack, picks, legs, carrying, depth):
    found = result(rack(picked(picks, legs, carrying=carrying), *([depth] if depth else [])))
    (lift,) = found.lifts
    u, h = unit_vectors(lift)
    T = np.array([leg.T.m_as("lbf") for leg in lift.legs])
    W = lift.W_I.m_as("lbf")
    assert h == pytest.approx(8)
    assert u @ T == pytest.approx([0, 0, W], abs=1e-6 * W)
    assert pytest.approx(1.25 * lift.of.W_0.m_as("lbf")) == W
    assert sum(leg.V.m_as("lbf") for leg in lift.legs) == pytest.approx(W)
    if legs == 2:  # then the tensions are the only ones
        assert np.linalg.lstsq(u, np.array([0, 0, W]), rcond=None)[0] == pytest.approx(T)
    # moments of the vertical parts about the hook's plumb line
    assert sum(leg.V.m_as("lbf") * (leg.x.m_as("ft") - lift.of.x_bar.m_as("ft")) for leg in lift.legs) == pytest.approx(
        0, abs=1e-6 * W
    )


@pytest.mark.parametrize(
    ("picks", "depth"), [("8 ft, 16 ft", DOUBLE), ("0 ft, 16 ft", DOUBLE), ("0 ft, 8 ft, 16 ft, 24 ft", None)]
)
def test_a_leg_of_a_rigid_rack_never_gets_more(rack, picks, depth):
    """The largest share of each leg, with all others free to go slack, by linear programming."""
    (lift,) = result(rack(picked(picks, 4, carrying="two"), *([depth] if depth else []))).lifts
    u, _ = unit_vectors(lift)
    W = lift.W_I.m_as("lbf")
    rows = u if not lift.in_line else u[[0, 2]]
    load = np.array([0, 0, W]) if not lift.in_line else np.array([0, W])
    for n, leg in enumerate(lift.legs):
        most = linprog(-np.eye(4)[n], A_eq=rows, b_eq=load, bounds=[(0, None)] * 4)
        assert most.success
        assert -most.fun == pytest.approx(leg.T.m_as("lbf"), rel=1e-6)


@drawn(st.floats(0.05, 0.95), st.floats(0.05, 0.95), st.floats(31, 89))
@settings(max_examples=60, deadline=None)
def test_two_carrying_is_never_less_than_all(s_x, s_y, angle):
    args = of(7000.0, "lbf"), of(s_x), of(s_y), of(angle, "deg")
    some, every = four_legs(*args, "two"), four_legs(*args, "all")
    assert some[0].magnitude >= every[0].magnitude * (1 - 1e-12)
    assert some[1].m_as("lbf") == pytest.approx(some[0].m_as("lbf") / math.sin(math.radians(angle)))


@drawn(st.floats(0.1, 30), st.floats(0.1, 30), st.floats(0.5, 40), st.floats(1, 1.5))
@settings(max_examples=80, deadline=None)
def test_two_legs_for_any_center(a_1, a_2, h, higher):
    W = 5000.0
    low = two_legs(of(W, "lbf"), of(h, "ft"), of(a_1, "ft"), of(a_2, "ft"))
    assert low.V_1.m_as("lbf") + low.V_2.m_as("lbf") == pytest.approx(W)
    assert low.V_1.m_as("lbf") == pytest.approx(W * a_2 / (a_1 + a_2))
    assert low.T_1.m_as("lbf") * math.cos(low.theta_1.m_as("rad")) == pytest.approx(low.H.m_as("lbf"), abs=1e-9 * W)
    assert low.T_2.m_as("lbf") * math.cos(low.theta_2.m_as("rad")) == pytest.approx(low.H.m_as("lbf"), abs=1e-9 * W)
    # a higher hook never pulls harder; a mirrored sling is the same sling
    steep = two_legs(of(W, "lbf"), of(h * higher, "ft"), of(a_1, "ft"), of(a_2, "ft"))
    assert steep.T_1.magnitude <= low.T_1.magnitude * (1 + 1e-9)
    assert steep.H.magnitude <= low.H.magnitude * (1 + 1e-9)
    mirror = two_legs(of(W, "lbf"), of(h, "ft"), of(a_2, "ft"), of(a_1, "ft"))
    assert (mirror.T_1.magnitude, mirror.T_2.magnitude) == pytest.approx((low.T_2.magnitude, low.T_1.magnitude))


def test_arrays_give_what_single_numbers_give():
    theta, V = np.array([30.0, 45.0, 60.0, 90.0]), np.array([1000.0, 2000.0, 3000.0, 4000.0])
    many = tension(V=of(V, "lbf"), theta=of(theta, "deg")).magnitude
    assert many == pytest.approx([tension(V=of(v, "lbf"), theta=of(t, "deg")).magnitude for v, t in zip(V, theta, strict=True)])
    assert angle_factor(theta=of(theta, "deg")).magnitude == pytest.approx(1 / np.sin(np.radians(theta)))
    s = share(c=of(np.array([9.0, 12.0]), "ft"), p=of(8.0, "ft"), o=of(16.0, "ft"))
    assert pair_share(W_I=of(7000.0, "lbf"), s_x=s, n=of(1.0)).magnitude == pytest.approx([6125, 3500])


# --- the hung beam


def by_integration(w, x, lo, hi, picks, state, n=200_001):
    """Return the largest moment of the beam by summing loads over a fine grid, apart from the library's way."""
    ends = np.concatenate([np.where(hi > lo, lo, x), np.where(hi > lo, hi, x), picks])
    s = np.linspace(ends.min() - 1, ends.max() + 1, n)
    q = np.zeros(n)
    step = s[1] - s[0]

    def at(place, force):
        k = (place - s[0]) / step
        i = int(k)
        q[i] += force * (1 - (k - i))
        q[i + 1] += force * (k - i)

    for load_, center, a, b in zip(w, x, lo, hi, strict=True):
        if b > a:
            inside = (s > a) & (s < b)
            q[inside] -= load_ / inside.sum()
        else:
            at(center, -load_)
    for i, j, part in state:
        R = np.linalg.solve([[1, 1], [picks[i], picks[j]]], part * np.array([w.sum(), (w * x).sum()]))
        at(picks[i], R[0])
        at(picks[j], R[1])
    return np.abs(np.cumsum(np.cumsum(q))[:-1] * step).max()


@pytest.mark.parametrize("state", [((0, 3, 1.0),), ((1, 2, 1.0),), ((0, 3, 0.5), (1, 2, 0.5)), ((0, 2, 1.0),)])
def test_the_hung_beam_by_integration(rack, state):
    job = rack()
    (whole,) = hanging(job, weights(job))
    numbers = [getattr(whole, a).magnitude for a in ("w", "x", "lo", "hi")]
    picks = np.array([0.0, 8.0, 16.0, 24.0])
    assert np.abs(moments(*numbers, picks, state)[1]).max() == pytest.approx(by_integration(*numbers, picks, state), rel=2e-3)


def test_an_even_beam_hung_at_its_best_points():
    """Picks at 0.207 L make field and overhang moments equal: w L2 (3 - 2 sqrt 2)/8."""
    L, W = 24.0, 4800.0
    out = (math.sqrt(2) - 1) / 2 * L
    loads = np.array([W]), np.array([L / 2]), np.array([0.0]), np.array([L])
    places, M = moments(*loads, np.array([out, L - out]), ((0, 1, 1.0),))
    assert M.max() == pytest.approx(W * L * (3 - 2 * math.sqrt(2)) / 8)
    assert M.min() == pytest.approx(-M.max())
    assert places[np.argmax(M)] == pytest.approx(L / 2)


def test_moment_of_the_demo_rack_is_shared_by_its_rails(rack):
    job = rack()
    found = result(job)
    (under,) = found.steel
    (lift,) = found.lifts
    numbers = [getattr(lift.of, a).magnitude for a in ("w", "x", "lo", "hi")]
    by_hand = by_integration(*numbers, np.array([8.0, 16.0]), ((0, 1, 1.0),))
    assert under.M.m_as("lbf*ft") == pytest.approx(1.25 * by_hand, rel=2e-3)
    # front and back rails hold up the center of gravity between them, five and four alike
    y_f = 3 + 1.92 / 2
    front = (lift.of.y_bar.m_as("in") + y_f) / (2 * y_f)
    assert under.M_r.m_as("lbf*ft") == pytest.approx(max(front / 5, (1 - front) / 4) * under.M.m_as("lbf*ft"))
    V = max(leg.V.m_as("lbf") for leg in lift.legs)
    assert under.V_c.m_as("lbf") == pytest.approx(max(front / 5, (1 - front) / 4) * V)


# --- what is lifted


def test_modules_together_are_the_rack(rack):
    job = rack(cut("8.3 ft, 16.5 ft"))
    all_ = weights(job)
    parts = hanging(job, all_)
    assert [p.name for p in parts] == ["module 1", "module 2", "module 3"]
    W = np.array([p.W_0.m_as("lbf") for p in parts])
    assert W.sum() == pytest.approx(all_.W.m_as("lbf"))
    for axis, unit in (("x_bar", "ft"), ("y_bar", "in"), ("z_bar", "ft")):
        center = sum(w * getattr(p, axis).m_as(unit) for w, p in zip(W, parts, strict=True)) / W.sum()
        assert center == pytest.approx(getattr(all_, axis).m_as(unit), abs=0.05 if axis != "x_bar" else 0.01)
    for p in parts:
        assert p.a.m_as("ft") <= p.x_bar.m_as("ft") <= p.b.m_as("ft")
        inside = p.w.magnitude > 0
        over = [3 / 12 if p is end else 0.0 for end in (parts[0], parts[-1])]  # rails run to the faces of 6 in. posts
        assert p.lo.magnitude[inside].min() == pytest.approx(p.a.m_as("ft") - over[0])
        assert p.hi.magnitude[inside].max() == pytest.approx(p.b.m_as("ft") + over[1])
    road = result(job.model_copy(update={"lifting": job.lifting.model_copy(update={"picks": ()})})).transport
    assert [t.name for t in road.tipping] == [p.name for p in parts]
    assert road.length.m_as("ft") == pytest.approx(8.3 + 7 / 12)  # and half the base plate of the end post


def test_a_module_by_hand(rack):
    """Right of a splice at 20 ft: a post with its plate, 4 ft of nine rails and of services, items right of 20 ft."""
    job = rack(cut("20.01 ft"))
    all_ = weights(job)
    _, right = hanging(job, all_)
    length = 24 - 20.01
    rails = 9 * (length + 0.25) / 24.5  # to the outer face of the end post, 6 in. wide
    item = {p.label: p.w.m_as("lbf") for p in all_.parts}
    items = sum(p.w.m_as("lbf") for p in all_.parts if p.group == "equipment" and p.x.m_as("ft") > 20.01)
    frame = item["post 4"] + item["base plate 4"] + rails * item["rail 1"]
    every = sum(p.w.m_as("lbf") for p in all_.parts if p.group == "frame")
    area = {p.label: p.area.m_as("ft**2") for p in all_.parts if p.area is not None}
    coated = area["post 4"] + area["base plate 4"] + rails * area["rail 1"]
    zinc = item["zinc"] * coated / sum(area.values())
    services = (item["conduit"] + item["wire"]) * length / 24
    assert right.W_0.m_as("lbf") == pytest.approx(items + frame + services + item["hardware"] * frame / every + zinc)


def test_modules_are_lifted_one_by_one_where_each_has_its_picks(rack):
    found = result(rack(cut("12 ft"), picked("0 ft, 8 ft, 16 ft, 24 ft")))
    assert [lift.of.name for lift in found.lifts] == ["module 1", "module 2"]
    assert all(lift.legs for lift in found.lifts)
    assert {c.name for c in found.checks} >= {"Module 1: Center of gravity below the picks", "Module 2: Post under a pick"}
    # two picks in all: the rack is lifted whole, and its splices carry
    whole = result(rack(cut("12 ft")))
    assert [lift.of.name for lift in whole.lifts] == ["rack"]
    assert checks(whole)["Splice at 12 ft as the rack hangs"].word == "OPEN"
    assert any("lifted whole" in note for note in whole.notes)


def test_a_module_without_picks_stays_open(rack):
    found = result(rack(cut("12 ft"), picked("0 ft, 8 ft, 16 ft")))
    open_ = checks(found)["Pick points of module 2"]
    assert open_.word == "OPEN"
    assert "give 2 pick points from x = 12 ft to 24.00 ft; 1 are given" in open_.remedy
    assert [lift.of.name for lift in found.lifts] == ["module 1"]


def test_a_measured_weight_takes_the_place_of_the_take_off(rack):
    shop = "  measured_weight: {total: 5900 lbf, x: 11.6 ft, y: 2.5 in, z: 4.7 ft, date: 2026-05-20, scale: crane scale}"
    job = rack({"  # measured_weight:": shop})
    (lift,) = result(job).lifts
    assert lift.of.W_0.m_as("lbf") == 5900
    assert lift.of.x_bar.m_as("ft") == 11.6
    assert lift.of.z_bar.m_as("ft") == pytest.approx(5.2)
    assert lift.of.w.magnitude.sum() == pytest.approx(5900)
    T = two_legs(of(1.25 * 5900, "lbf"), of(8.0, "ft"), of(3.6, "ft"), of(4.4, "ft")).T_1
    assert lift.legs[0].T.m_as("lbf") == pytest.approx(T.m_as("lbf"))


def test_a_mirrored_rack_gives_mirrored_legs(rack):
    as_is = result(rack(picked("0 ft, 16 ft")))
    other = result(rack(picked("8 ft, 24 ft"), row=lambda r: {**r, "x [ft]": f"{24 - float(r['x [ft]']):.6f}"}))
    (one,), (mirror,) = as_is.lifts, other.lifts
    for leg, image in zip(one.legs, mirror.legs[::-1], strict=True):
        for a in ("L_s", "theta", "V", "T", "H", "P_y"):
            assert getattr(image, a).magnitude == pytest.approx(getattr(leg, a).magnitude), a
    assert other.steel[0].M.magnitude == pytest.approx(as_is.steel[0].M.magnitude)
    for name, c in checks(as_is).items():
        if c.ratio is not None:
            assert checks(other)[name].ratio.magnitude == pytest.approx(c.ratio.magnitude), name


def test_a_symmetric_rack_shares_evenly(rack):
    job = rack(DOUBLE, picked("8 ft, 16 ft", 4, carrying="all"))
    middle = job.equipment_by_tag["DP-1"].model_copy(update={"x": of(12.0, "ft")})
    job = job.model_copy(update={"equipment": (middle,)})
    (lift,) = result(job).lifts
    front, back = lift.legs[0::2], lift.legs[1::2]
    assert front[0].T.magnitude == pytest.approx(front[1].T.magnitude)
    assert back[0].T.magnitude == pytest.approx(back[1].T.magnitude)
    assert front[0].T.magnitude > back[0].T.magnitude  # the only item is on the front


# --- what does not hang well


def test_a_center_beyond_the_picks_is_not_lifted(rack):
    found = result(rack(picked("0 ft, 8 ft")))
    assert not found.lifts[0].legs
    assert checks(found)["Center of gravity between the picks, along"].word == "NOT OK"
    assert not found.steel
    assert found.lugs is None
    for sheet in sheets(found):
        assert sheet.markdown()


def test_all_of_four_legs_in_one_line_need_two_on_either_side(rack):
    assert result(rack(picked("0 ft, 16 ft, 20 ft, 24 ft", 4, carrying="two"))).lifts[0].legs
    found = result(rack(picked("0 ft, 16 ft, 20 ft, 24 ft", 4, carrying="all")))
    assert not found.lifts[0].legs
    assert checks(found)["Center of gravity between the picks, along"].word == "NOT OK"


def test_picks_below_the_center_are_refused(rack):
    low = {f"    - {{height: {z} ft, face: {f}}}": "" for z in (5.5, 7, 8.5) for f in ("front", "back")}
    high = lambda r: {**r, "z [ft]": "6.2"} if r["tag"] not in ("LT-1", "LT-2") else r  # noqa: E731
    spread = itertools.count()
    row = lambda r: {**high(r), "x [ft]": f"{1 + 1.25 * next(spread)}", "width [in]": "6"}  # noqa: E731
    found = result(rack(low, picked("7 ft, 17 ft"), row=row))
    (lift,) = found.lifts
    assert not lift.on_posts
    assert lift.z_p.m_as("ft") == pytest.approx(4 + 2.5 / 12)
    assert checks(found)["Center of gravity below the picks"].word == "NOT OK"
    assert not lift.legs


@pytest.mark.parametrize(
    ("hook", "word", "title"), [("8 ft", "OK", "Navy"), ("4 ft", "NOT OK", "Navy"), ("2 ft", "NOT OK", "ASME B30.9")]
)
def test_flat_slings_are_refused(rack, hook, word, title):
    lifted = result(rack(picked("8 ft, 16 ft", hook=hook)))
    found, away = checks(lifted)["Minimum sling angle, required / provided"], 16 - lifted.lifts[0].of.x_bar.m_as("ft")
    assert found.word == word
    assert title in str(found.source)
    assert found.capacity.m_as("deg") == pytest.approx(math.degrees(math.atan(float(hook.split()[0]) / away)))


def test_the_rack_hangs_at_the_tilt_of_its_center(rack):
    found = result(rack())
    (lift,) = found.lifts
    all_ = lift.of
    hole = 9 + (1.25 + 2.5) / 12  # cap plate and lug on the post
    assert lift.z_p.m_as("ft") == pytest.approx(hole)
    lean = math.atan(all_.y_bar.m_as("ft") / (hole - all_.z_bar.m_as("ft")))
    assert lift.phi.m_as("rad") == pytest.approx(lean)
    # turned by the tilt about the line of the picks, the center lies below that line
    y, z = all_.y_bar.m_as("ft"), all_.z_bar.m_as("ft") - hole
    assert y * math.cos(lean) + z * math.sin(lean) == pytest.approx(0, abs=1e-12)
    assert lift.phi_0.m_as("rad") == pytest.approx(
        math.atan(abs(all_.x_bar.m_as("ft") - 12) / (8 + hole - all_.z_bar.m_as("ft")))
    )
    heavy = result(rack(row=lambda r: {**r, "weight [lbf]": str(2 * float(r["weight [lbf]"]))} if r["face"] == "front" else r))
    assert checks(heavy)["Tilt across the rack as it hangs"].word == "NOT OK"


def test_two_picks_at_one_place_are_refused(rack):
    with pytest.raises(FolderError, match=r"rack.yaml:\d+: lifting.picks.2: the picks do not go from left to right"):
        rack(picked("8 ft, 8 ft"))
    job = rack()
    twice = job.lifting.model_copy(update={"picks": (job.lifting.picks[0],) * 2})
    with pytest.raises(DomainError, match=r"Two pick points stand at 8 ft \(rack.yaml, lifting.picks.1, line \d+\)"):
        result(job.model_copy(update={"lifting": twice}))


# --- open where the job is silent


def test_without_lifting_all_is_open(rack):
    job = rack().model_copy(update={"lifting": None})
    found = lifting(job, weights(job), FRAME)
    assert [c.word for n, c in checks(found).items() if n in ("Lifting of the finished rack", "Height on the truck")] == [
        "OPEN"
    ] * 2
    assert not found.lifts
    assert [s.key for s in sheets(found)] == ["lifting", "transport"]
    for sheet in sheets(found):
        assert sheet.markdown()


def test_without_lug_and_truck_these_are_open(rack):
    job = rack()
    bare = job.lifting.model_copy(update={"lug": None, "truck": None})
    found = checks(result(job.model_copy(update={"lifting": bare})))
    for name in ("Lug at the pick", "Height on the truck", "Tipping on the truck's deck"):
        assert found[name].word == "OPEN"
        assert "lifting." in found[name].remedy
    assert not [name for name in found if name.startswith("Lug:")]


def test_two_legs_between_two_rows_stay_open(rack):
    found = checks(result(rack(DOUBLE)))
    assert found["Pick between the rows"].word == "OPEN"


def test_strengths_given_take_the_place_of_ours(rack):
    job = rack(cut("12 ft"))
    strong = of(20000.0, "lbf", "P_a")
    mine = Strengths(
        of(9000.0, "lbf*ft", "M_a"),
        lambda shape, F_y, L_b: strong,
        lambda V: of(0.4, "", "u"),
        lambda P, V, M: of(1.1, "", "u"),
    )
    found = result(job, strengths=mine)
    under = found.steel[0]
    assert under.M_a is mine.rail_moment
    assert under.P_a.m_as("lbf") == 20000
    assert checks(found)["Rail joint at a picked post"].word == "OK"
    assert checks(found)["Splice at 12 ft as the rack hangs"].word == "NOT OK"
    assert not [c for c in found.checks if c.word == "OPEN"]


def test_a_splice_between_the_picks_is_compressed_bent_and_sheared(rack):
    (under,) = result(rack(cut("12 ft, 23.2 ft"))).steel
    P, V, M = under.at_splices["at 12 ft"]
    outside = under.at_splices["at 23.2 ft"]
    assert P is under.P_r
    assert outside[0].magnitude == 0
    (whole,) = result(rack()).lifts
    numbers = [getattr(whole.of, a).magnitude for a in ("w", "x", "lo", "hi")]
    w, x, lo, hi = numbers
    right = np.clip((hi - 23.2) / np.where(hi > lo, hi - lo, 1), 0, 1)
    right = np.where(hi > lo, right, x > 23.2)
    hung = 1.25 * np.sum(w * right)  # what hangs right of 23.2 ft, and its moment about there
    arm = np.where(hi > lo, (hi + 23.2) / 2, x) - 23.2
    share = outside[1].m_as("lbf") / hung
    assert outside[2].m_as("lbf*ft") == pytest.approx(share * 1.25 * np.sum(w * right * arm), rel=1e-4)
    assert share == pytest.approx(under.V_c.m_as("lbf") / max(leg.V.m_as("lbf") for leg in whole.legs), rel=1e-4)
    assert M.magnitude > 0
    assert V.magnitude > 0


@pytest.mark.parametrize("name", ["quartz_saddle", "heron_quay"])
def test_joints_and_splices_of_the_demo_jobs_hold_while_they_hang(rack, name):
    """With what the connections know, nothing of the lift stays open."""
    job = rack(name=name)
    known = compute(job).results
    by = strengths(known["connections"])
    found = lifting(job, known["weights"], known["frame"], known["wind"], by)
    assert {c.word for under in found.steel for c in under.checks} == {"OK"}
    V = found.steel[0].V_c
    twice = by.joint(Value(2 * V.magnitude, V.unit, HAND, "V"))
    assert twice.magnitude == pytest.approx(2 * by.joint(V).magnitude)  # an upright force alone counts in proportion
    for sheet in sheets(found):
        assert sheet.markdown()


def test_joints_the_job_does_not_give_stay_open(rack):
    job = rack().model_copy(update={"connections": None})
    known = compute(job).results
    by = strengths(known["connections"])
    found = checks(lifting(job, known["weights"], known["frame"], None, by))
    assert found["Rail joint at a picked post"].word == "OPEN"
    assert "connections.clip" in found["Rail joint at a picked post"].remedy


def test_compression_of_a_rail_is_that_of_the_members(rack):
    (under,) = result(rack()).steel
    F_e = math.pi**2 * 29000 / (96 / 0.536) ** 2  # C6X8.2 about its weak axis between posts 8 ft apart
    assert under.P_a.m_as("kip") == pytest.approx(0.877 * F_e * 2.39 / 1.67, rel=1e-3)
    bare = checks(result(rack(), strengths=Strengths()))
    assert bare["Rails as the rack hangs, compression and bending"].word == "OPEN"


@pytest.mark.parametrize("shape", ["1-5/8x3-1/4", "L3X3X1/4"])
def test_rails_without_a_known_bound_are_open(rack, shape):
    found = checks(result(rack({"  rail:": f"  rail: {shape}"})))
    assert found["Rails as the rack hangs, compression and bending"].word == "OPEN"


# --- strengths


def test_bounds_of_rails_lie_below_the_specification():
    """AISC 360 F2, written down here from the clause, for every channel over a range of bays."""
    F_y, E, G = 36.0, 29000.0, 11200.0
    for row in table("channels").rows:
        c = {n: float(row[n]) for n in ("A", "S_x", "Z_x", "r_y", "I_y", "J", "C_w", "r_ts", "h_o")}
        for L in np.linspace(24, 360, 15):
            # F2: yielding, and lateral-torsional buckling with C_b = 1 and c of a channel
            k = c["h_o"] / 2 * math.sqrt(c["I_y"] / c["C_w"])
            M_p = F_y * c["Z_x"]
            L_p = 1.76 * c["r_y"] * math.sqrt(E / F_y)
            a = c["J"] * k / (c["S_x"] * c["h_o"])
            L_r = 1.95 * c["r_ts"] * E / (0.7 * F_y) * math.sqrt(a + math.sqrt(a**2 + 6.76 * (0.7 * F_y / E) ** 2))
            if L_p >= L:
                M_n = M_p
            elif L_r >= L:
                M_n = min(M_p, M_p - (M_p - 0.7 * F_y * c["S_x"]) * (L - L_p) / (L_r - L_p))
            else:
                slender = (L / c["r_ts"]) ** 2
                M_n = math.pi**2 * E / slender * math.sqrt(1 + 0.078 * a * slender) * c["S_x"]
            mine = rail_strength(F_y=F_y, S_x=c["S_x"], E=E, I_y=c["I_y"], G=G, J=c["J"], L_b=L, Omega_b=1.67)
            assert mine <= M_n / 1.67 * 1.005, (row["shape"], L)


def test_lug_strengths_grow_with_the_plate_and_fall_with_the_hole():
    inches = {"t": 0.5, "w_p": 3.0, "R": 1.5, "D_h": 0.8125, "D_p": 0.75}
    F = {"F_y": of(36.0, "ksi"), "F_u": of(58.0, "ksi")}

    def at(**change):
        return lug_strength(**{n: of(v, "in", n) for n, v in {**inches, **change}.items()}, **F)

    def loads(s):
        return np.array([v.magnitude for v in (s.P_t, s.P_b, s.P_v, s.P_p)])

    assert np.all(loads(at(t=0.75)) > loads(at()))
    assert np.all(loads(at(t=1.0))[1:] == pytest.approx(2 * loads(at())[1:]))
    wide = loads(at(w_p=4.0, R=2.0))
    assert np.all(wide[:3] > loads(at())[:3])
    loose = at(D_h=1.0)
    assert loose.C_r.magnitude == pytest.approx(1 - 0.275 * math.sqrt(1 - 0.75**2))
    assert loads(loose)[1] < loads(at())[1]
    # at 0.90 of the hole the reduction still counts, above it no more
    assert at(D_h=1.0, D_p=0.90).C_r.magnitude == pytest.approx(1 - 0.275 * math.sqrt(1 - 0.81))
    assert at(D_h=1.0, D_p=0.91).C_r.magnitude == 1


def test_shear_planes_against_plane_geometry():
    """Length of a shear plane: from the pin's edge at 55 D_p/D_h degrees, straight on to the round end."""
    for D_h, D_p, R in ((0.8125, 0.75, 1.5), (1.0, 0.875, 1.75), (1.125, 1.0, 2.0)):
        s = lug_strength(
            of(1.0, "in"), of(2 * R, "in"), of(R, "in"), of(D_h, "in"), of(D_p, "in"), of(36.0, "ksi"), of(58.0, "ksi")
        )
        phi = math.radians(55 * D_p / D_h)
        off = D_p / 2 * math.sin(phi)  # distance of the plane from the center line
        # the pin touches the far edge of its hole: its center lies (D_h - D_p)/2 beyond the hole's
        start = (D_h - D_p) / 2 + D_p / 2 * math.cos(phi)
        end = math.sqrt(R**2 - off**2)
        assert s.A_v.m_as("in**2") == pytest.approx(2 * (end - start))


def test_foot_and_weld_of_the_governing_lug(rack):
    found = result(rack())
    pull = found.lugs.worst
    V, H, P, t, w, e = (pull.V.m_as("kip"), pull.H.m_as("kip"), pull.P_y.m_as("kip"), 0.625, 3.5, 2.5)
    # by the corners of the section and the ends of the weld lines
    A, I_x, I_y = t * w, t * w**3 / 12, w * t**3 / 12
    normal = [V / A + s * H * e * w / 2 / I_x + q * P * e * t / 2 / I_y for s in (1, -1) for q in (1, -1)]
    assert pull.f_cr.m_as("ksi") == pytest.approx(math.hypot(max(normal), math.sqrt(3) * math.hypot(H, P) / A))
    ends = np.array([(s * w / 2, q * t / 2) for s in (1, -1) for q in (1, -1)])
    line_I_x, line_I_y = 2 * w**3 / 12, 2 * w * (t / 2) ** 2
    f_n = V / (2 * w) + H * e * ends[:, 0] / line_I_x + P * e * ends[:, 1] / line_I_y
    assert pull.q.m_as("kip/in") == pytest.approx(math.hypot(f_n.max(), math.hypot(H, P) / (2 * w)))
    assert pull.P_y.m_as("lbf") >= 0.05 * pull.T.m_as("lbf")


def test_the_height_of_a_lugs_hole_is_taken_where_it_is_given(rack):
    """Bending at the foot goes with the height; at 1.5 R it is what is assumed without one."""
    tall, usual = (
        result(rack({"  lug:": "  lug: {thickness: 5/8 in, width: 3.5 in, radius: 1.75 in, hole: 1 in, pin: 7/8 in, "
                               f"weld: 5/16 in{more}}}"}))
        for more in (", height: 5.25 in", "")
    )  # fmt: skip
    same = result(rack({"  lug:": "  lug: {thickness: 5/8 in, width: 3.5 in, radius: 1.75 in, hole: 1 in, pin: 7/8 in, "
                                  "weld: 5/16 in, height: 2.625 in}"}))  # fmt: skip
    assert same.lugs.worst.f_cr.magnitude == pytest.approx(usual.lugs.worst.f_cr.magnitude)
    for high, low in zip(tall.lugs.pulls, usual.lugs.pulls, strict=True):
        per_load = [p.f_b.m_as("ksi") / p.P_y.m_as("kip") for p in (high, low)]  # a higher hole also leans less
        assert per_load[0] == pytest.approx(2 * per_load[1])
    with pytest.raises(FolderError, match=r"lifting\.lug\.height: the center of the hole stands 0\.5 in\."):
        rack({"  lug:": "  lug: {thickness: 5/8 in, width: 3.5 in, radius: 1.75 in, hole: 1 in, pin: 7/8 in, weld: 5/16 in, "
                        "height: 0.5 in}"})  # fmt: skip


# --- the seat of the lug


def test_the_seat_of_the_governing_lug(rack):
    """Cap plate, its weld and the wall, by strips worked out here by adding up shear along each."""
    found = result(rack())
    by = checks(found)
    pull = max(found.lugs.pulls, key=lambda p: p.T.magnitude)
    V, H, P = (v.m_as("lbf") for v in (pull.V, pull.H, pull.P_y))
    b, w_p, c, lever = 6 - 0.233, 3.5, 0.625 + 2 * 0.3125, 2.5 + 1.25
    s = np.linspace(-b / 2, b / 2, 200_001)

    def beam(load, couple):
        """Largest moment of a simple beam under an upward load along it and a couple at its middle."""
        W, first = np.trapezoid(load, s), np.trapezoid(load * s, s)
        left = -(W / 2 - first / b) - couple / b
        shear = left + np.concatenate([[0], np.cumsum((load[1:] + load[:-1]) / 2 * np.diff(s))])
        M = np.concatenate([[0], np.cumsum((shear[1:] + shear[:-1]) / 2 * np.diff(s))])
        return np.abs(M + np.where(s > 0, couple, 0)).max()

    narrow = np.where(np.abs(s) < 0.001, 1.0, 0.0)
    across = beam(V * narrow / np.trapezoid(narrow, s), P * lever) / w_p
    along = beam(np.where(np.abs(s) <= w_p / 2, 12 * H * lever * s / w_p**3, 0), 0) / c
    m = math.sqrt(across**2 + along**2 + across * along)
    cap = by["Lug: cap plate of the post, bending both ways"]
    assert cap.demand.m_as("psi") == pytest.approx(6 * m / 1.25**2, rel=1e-3)
    assert cap.capacity.m_as("psi") == pytest.approx(12_000)
    walls = max(V / 2 / w_p + P * lever / b / w_p, H * lever / b / c)
    weld = by["Lug: weld of the cap plate to the post"]
    assert weld.demand.m_as("lbf/in") == pytest.approx(math.hypot(walls, math.hypot(H, P) / 2 / b))
    assert weld.capacity.m_as("lbf/in") == pytest.approx(0.6 * 70_000 / 3.6 * 0.25 / math.sqrt(2))
    wall = by["Lug: wall of the post at that weld"]
    assert wall.ratio.magnitude == pytest.approx(wall.demand.m_as("lbf/in") / (0.6 * 62_000 * 0.233 / 2))


LUG = "  lug: {thickness: 5/8 in, width: 3.5 in, radius: 1.75 in, hole: 1 in, pin: 7/8 in, weld: 5/16 in"


def test_a_thin_cap_plate_fails_and_a_seat_that_is_not_given_is_open(rack):
    thin = checks(result(rack({"  lug:": f"{LUG}, cap: 1/2 in, cap_weld: 1/4 in}}"})))
    assert thin["Lug: cap plate of the post, bending both ways"].word == "NOT OK"
    assert checks(result(rack({"  lug:": LUG + "}"})))["Lug: cap plate of the post"].word == "OPEN"
    assert checks(result(rack({"  post:": "  post: W8X31"})))["Lug: seat on the post"].word == "OPEN"
    assert checks(result(rack(picked("7 ft, 17 ft"))))["Lug: seat on the top rail"].word == "OPEN"
    with pytest.raises(FolderError, match=r"lifting\.lug\.cap: the cap plate has no weld"):
        rack({"  lug:": f"{LUG}, cap: 1 in}}"})


def test_a_pipe_post_carries_its_lug(rack):
    found = checks(result(rack({"  post:": "  post: Pipe6STD"})))
    assert found["Lug: cap plate of the post, bending both ways"].ratio.magnitude > 0


CLEAR = "Lugs and slings clear of other parts, required / provided"


def test_lugs_and_slings_keep_clear_of_the_rest(rack):
    free = checks(result(rack()))[CLEAR]
    assert free.word == "OK"
    assert free.capacity.m_as("in") == pytest.approx(3.25)  # shackle half of 3.5 in. wide: top rails 8.75 ft, seat 9 ft
    tray = checks(result(rack({"  conduit:": "  conduit: 18 plf\n  tray: 4 plf"})))[CLEAR]
    assert tray.word == "OPEN"
    assert tray.remedy.startswith("move tray clear")
    roof = "  canopy: {length: 25 ft, width: 6 ft, height: 10 ft, weight: 5 psf}"
    assert checks(result(rack({"  # canopy:": roof})))[CLEAR].capacity.m_as("in") > 0


# --- road and truck


def test_the_road_and_the_deck(rack):
    job = rack()
    all_ = weights(job)
    found = result(job, wind=wind(job))
    road, under = found.transport, (6 + 1.5) / 12
    top = 9 + (1.25 + 2.5 + 1.75) / 12  # cap plate, hole of the lug, its round end
    assert road.height.m_as("ft") == pytest.approx(top - under)
    assert road.h_t.m_as("in") == pytest.approx(42 + 12 * (top - under))
    assert road.length.m_as("ft") == pytest.approx(24 + 14 / 12)  # base plates stand out past the end posts
    none = result(job.model_copy(update={"lifting": job.lifting.model_copy(update={"lug": None})})).transport
    assert none.height.m_as("ft") == pytest.approx(9 - under)
    (tips,), (alone,) = road.tipping, road.alone
    assert tips.M_o.m_as("lbf*ft") == pytest.approx(0.5 * all_.W.m_as("lbf") * (all_.z_bar.m_as("ft") - under))
    assert tips.M_s.m_as("lbf*ft") == pytest.approx(all_.W.m_as("lbf") * (4 - all_.y_bar.m_as("ft")))
    assert tips.F_d.magnitude == 0
    assert road.W_g.m_as("lbf") == pytest.approx(35000 + all_.W.m_as("lbf"))
    (_, sheet) = sheets(found)
    assert "tractor and trailer without load" in sheet.markdown()
    # at the tipping acceleration and in the tipping gust the moments are equal
    stand = all_.W.m_as("lbf") * (7 / 12 - all_.y_bar.m_as("ft"))
    assert alone.a_0.magnitude * all_.W.m_as("lbf") * road.h_c["rack"].m_as("ft") == pytest.approx(stand)
    M_w = max(np.sum(d.F.m_as("lbf") * (d.z.m_as("ft") - under)) for d in (wind(job).front, wind(job).back))
    assert M_w * (alone.V_0.m_as("mph") / 115) ** 2 == pytest.approx(stand)


def test_a_tall_rack_and_a_narrow_stance_fail(rack):
    tall = checks(result(rack({"  truck:": "  truck: {deck: 62 in, stance: 3 ft}"})))
    assert tall["Height on the truck"].word == "NOT OK"
    assert "lay the rack on its back" in tall["Height on the truck"].remedy
    assert tall["Tipping on the truck's deck"].word == "NOT OK"
    assert "downward" in tall["Tipping on the truck's deck"].remedy
    assert envelope().load_height.m_as("in") == pytest.approx(102)


def test_both_demo_jobs_are_lifted(rack):
    for name in ("quartz_saddle", "heron_quay"):
        job = rack(name=name)
        found = result(job, wind=wind(job))
        words = {c.word for c in found.checks}
        assert "NOT OK" not in words
        for sheet in sheets(found):
            text = sheet.markdown()
            assert "DRAFT" not in text
            assert len(sheet.checks) > 3
        shown = [c for sheet in sheets(found) for c in sheet.checks]
        assert sorted(map(id, shown)) == sorted(map(id, found.checks))  # every check is on a sheet, once


def test_the_graph_reaches_from_tension_to_item(rack):
    job = rack()
    found = result(job)
    item = job.equipment_by_tag["T-1"].weight
    reached = touched(item, {"T": found.lifts[0].T, "M": found.steel[0].M, "f_c": found.lugs.seat[0].ratio})
    assert reached == ["T", "M", "f_c"]
    heavier = recompute(found.lifts[0].W_I, {item: Value(520.0, "lbf", HAND, "w")})
    assert heavier.m_as("lbf") == pytest.approx(found.lifts[0].W_I.m_as("lbf") + 1.25 * 100)
    twice = recompute(found.steel[0].M, {job.lifting.impact: Value(2.5, "", HAND, "I_m")})
    assert twice.magnitude == pytest.approx(2 * found.steel[0].M.magnitude)


def test_results_are_frozen(rack):
    found = result(rack())
    with pytest.raises(dataclasses.FrozenInstanceError):
        found.legs = 3
    assert section("C6X8.2").name == "channels"

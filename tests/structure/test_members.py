"""Strength of steel members: every shape of the tables, properties that must hold, arrays against single rows, whole jobs."""

import dataclasses
import itertools
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from rackbook.job import load
from rackbook.shipped import shipped
from rackbook.structure.members import again, sheets
from rackbook.structure.members.combined import high_axial, low_axial
from rackbook.structure.members.compression import compression
from rackbook.structure.members.flexure import flexure
from rackbook.structure.members.ratios import capacities, ratios
from rackbook.structure.members.section import as_section
from rackbook.structure.members.shear import shear
from rackbook.structure.members.strength import strength
from rackbook.structure.members.torsion import torsion
from rackbook.structure.members.torsional import unsymmetric
from rackbook.structure.members.worked import RATIOS, Row
from rackbook.structure.trial import changed
from rackbook.tables import table
from rackbook.trace import DomainError, Grid, InputError, Source, Value, given, recompute
from rackbook.trace.choice import governing

HERE = Source("input", "test")
#: Yield stress of the usual steel of each family [ksi].
STEEL = {"hss": 50, "pipes": 35, "channels": 36, "angles": 36, "wide_flanges": 50, "strut": 33}
SHAPES = [(name, str(row[table(name).keys[0]])) for name in STEEL for row in table(name).rows]
#: A few of every family, slender and stocky walls among them.
SOME = [
    ("hss", "HSS6X6X1/4"), ("hss", "HSS5X5X1/8"), ("hss", "HSS6X2X1/8"), ("pipes", "Pipe3STD"), ("channels", "C6X8.2"),
    ("channels", "MC10X6.5"), ("angles", "L3X3X1/4"), ("angles", "L6X3-1/2X5/16"), ("wide_flanges", "W6X15"),
    ("wide_flanges", "W8X10"), ("strut", "1-5/8x3-1/4"), ("strut", "1-5/8x3-1/4 double"),
]  # fmt: skip
ACTIONS = ("P", "V_y", "V_x", "T", "M_x", "M_y")
UNIT = {"P": "kip", "V_y": "kip", "V_x": "kip"}


def value(number, unit):
    return given(float(number), unit, HERE)


def whole(family, shape, length=96.0, method="LRFD", edition="22", ends="concentric", K=1.0, C_b=1.0):
    F_y, L, L_c = value(STEEL[family], "ksi"), value(length, "in"), value(K * length, "in")
    return strength(shape, F_y, L_c, L_c, L, L, value(C_b, ""), method, edition, ends)


AVAILABLE = ("P_c", "P_ct", "M_cx", "M_cy", "V_cy", "V_cx", "T_c")


# --- every shape of the tables -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("family", STEEL)
def test_every_shape_of_the_table_runs(family):
    shapes = [shape for name, shape in SHAPES if name == family]
    assert len(shapes) >= 3
    for shape in shapes:
        for length in (18.0, 96.0, 240.0):
            by = {m: whole(family, shape, length, m) for m in ("LRFD", "ASD")}
            for name in AVAILABLE:
                design, allowable = (getattr(s, name).magnitude for s in by.values())
                assert 0 < allowable < design, (shape, name)
                # Omega = 1.5/phi to its two decimals
                assert design / allowable == pytest.approx(1.5, rel=0.003), (shape, name)
            s = by["LRFD"]
            A, F_y = s.section["A"].magnitude, STEEL[family]
            assert s.compression.P_n.magnitude <= F_y * A * (1 + 1e-12)
            assert s.compression.A_e.magnitude <= A
            assert s.flexure_x.M_n.magnitude <= s.flexure_x.M_p.magnitude * (1 + 1e-12)
            if family == "angles":
                assert 0 < whole(family, shape, length, ends="one leg").P_c.magnitude <= 0.9 * F_y * A


@pytest.mark.parametrize(("family", "shape"), SOME)
def test_longer_is_never_stronger(family, shape):
    lengths = (6.0, 24.0, 48.0, 60.0, 84.0, 120.0, 180.0, 300.0)
    for ends in ("concentric", "one leg") if family == "angles" else ("concentric",):
        strengths = [whole(family, shape, length, ends=ends) for length in lengths]
        for name in AVAILABLE:
            numbers = [getattr(s, name).magnitude for s in strengths]
            assert all(b <= a * (1 + 1e-9) for a, b in itertools.pairwise(numbers)), (name, numbers)
        assert strengths[-1].P_c.magnitude < strengths[0].P_c.magnitude


@pytest.mark.parametrize(("family", "shape"), SOME)
def test_a_larger_k_and_a_smaller_c_b_never_help(family, shape):
    assert whole(family, shape, K=2.1).P_c.magnitude < whole(family, shape).P_c.magnitude
    assert whole(family, shape, C_b=1.3).M_cx.magnitude >= whole(family, shape).M_cx.magnitude


def test_square_tubes_have_no_weak_axis():
    for shape in [s for f, s in SHAPES if f == "hss"]:
        H, B = as_section(shape)["H"].magnitude, as_section(shape)["B"].magnitude
        s = whole("hss", shape, 240.0)
        if H == B:
            assert s.M_cx.magnitude == s.M_cy.magnitude
            assert s.V_cy.magnitude == s.V_cx.magnitude
        else:
            assert s.M_cx.magnitude > s.M_cy.magnitude
            assert s.V_cy.magnitude > s.V_cx.magnitude


def test_a_tube_lying_is_the_tube_standing_turned():
    turn = {"H": "B", "B": "H", "I_x": "I_y", "I_y": "I_x", "S_x": "S_y", "S_y": "S_x", "Z_x": "Z_y", "Z_y": "Z_x",
            "r_x": "r_y", "r_y": "r_x"}  # fmt: skip
    for shape in ("HSS6X4X1/8", "HSS6X2X1/4", "HSS5X3X3/16"):
        of, F_y = as_section(shape), value(50, "ksi")
        lying = {"family": "hss"} | {turn.get(n, n): v for n, v in of.properties.items()}
        for edition in ("16", "22"):
            assert (
                flexure(lying, F_y, "x", edition=edition).M_n.magnitude == flexure(of, F_y, "y", edition=edition).M_n.magnitude
            )
        assert shear(lying, F_y, "y").V_n.magnitude == shear(of, F_y, "x").V_n.magnitude
        assert torsion(lying, F_y).T_n.magnitude == torsion(of, F_y).T_n.magnitude
        L_1, L_2 = value(60, "in"), value(130, "in")
        swapped = compression(lying, F_y, L_2, L_1).P_n.magnitude
        assert compression(of, F_y, L_1, L_2).P_n.magnitude == swapped


def test_both_editions_agree_within_the_rounding_of_their_constants():
    differ = 0
    for shape in [s for f, s in SHAPES if f == "hss"]:
        for axis in "xy":
            new, old = (flexure(shape, value(50, "ksi"), axis, edition=e).M_n.magnitude for e in ("22", "16"))
            assert new == pytest.approx(old, rel=0.003), shape
            differ += new != old
    assert 5 < differ < 120


def test_limit_states_of_some_shapes_are_those_one_expects():
    expected = {
        ("HSS4X4X1/4", "x", 120): "yielding (F7-1)",
        ("HSS5X5X1/8", "x", 120): "flange local buckling (F7-3)",
        ("HSS6X4X1/8", "x", 120): "flange local buckling (F7-2)",
        ("W6X15", "x", 24): "flange local buckling (F3-1)",
        ("W8X10", "x", 180): "lateral-torsional buckling (F2-3)",
        ("C6X8.2", "x", 96): "lateral-torsional buckling (F2-2)",
        ("C6X8.2", "y", 96): "yielding (F6-1)",
        ("L4X4X1/4", "w", 72): "lateral-torsional buckling (F10-2, F10-3)",
        ("L3X3X1/2", "z", 72): "yielding (F10-1)",
    }
    families = {shape: family for family, shape in SHAPES}
    for (shape, axis, length), words in expected.items():
        found = flexure(shape, value(STEEL[families[shape]], "ksi"), axis, value(length, "in"))
        assert governing(found.M_n) == words, shape


def test_words_that_are_not_allowed():
    F_y, L = value(36, "ksi"), value(60, "in")
    with pytest.raises(InputError, match="'LSD' is not a design method"):
        whole("hss", "HSS4X4X1/4", method="LSD")
    with pytest.raises(InputError, match="edition of AISC 360"):
        flexure("HSS4X4X1/4", F_y, edition="AISC 360-10")
    with pytest.raises(DomainError, match="principal axes"):
        flexure("L5X3X1/4", F_y, "x", L)


# --- against closed forms and numerical solutions ----------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@drawn(*[st.floats(5, 400)] * 3, *[st.floats(0.1, 0.65)] * 2)
def test_lowest_root_of_the_cubic(F_ex, F_ey, F_ez, x, y):
    """Eq. E4-4 by numpy's roots, for every shear center off the centroid and within the polar radius."""
    r_o = 1.0
    found = float(unsymmetric(F_ex=F_ex, F_ey=F_ey, F_ez=F_ez, x_o=x, y_o=y, r_o=r_o))
    total = F_ex + F_ey + F_ez - F_ey * x**2 - F_ex * y**2
    pairs = F_ex * F_ey + F_ey * F_ez + F_ez * F_ex
    roots = np.roots([1 - x**2 - y**2, -total, pairs, -F_ex * F_ey * F_ez])
    assert found == pytest.approx(min(r.real for r in roots if abs(r.imag) < 1e-3 * abs(r)), rel=1e-5)
    assert found <= min(F_ex, F_ey, F_ez) * (1 + 1e-6)


def bimoments(T, a, h, ends):
    """Solve a^2 phi'' - phi = -T by differences; return a^2 phi', the bimoment, on a grid of spacing h."""
    n = len(T)
    A, b = np.zeros((n, n)), -np.asarray(T, float)
    for i in range(1, n - 1):
        A[i, i - 1 : i + 2] = a**2 / h**2 * np.array([1, -2, 1])
        A[i, i] -= 1
    for i, step in ((0, 1), (n - 1, -1)):
        b[i] = 0.0
        if ends == "held":
            A[i, i] = 1.0
        else:  # free to warp: no rate of change of the twist rate
            A[i, i], A[i, i + step] = 1.0, -1.0
    phi = np.linalg.solve(A, b)
    return a**2 * np.gradient(phi, h), phi


@pytest.mark.parametrize("ends", ["held", "free"])
@pytest.mark.parametrize("seed", range(6))
def test_no_spread_of_the_twisting_gives_a_larger_bimoment_than_the_bound(seed, ends):
    """The largest bimoment is T a, and St. Venant never carries more than T: what the strengths take for granted."""
    draw = np.random.default_rng(seed)
    L, n = 96.0, 481
    a = torsion("C6X8.2", value(36, "ksi")).a.magnitude
    steps = np.sort(draw.uniform(0, L, 4))
    T = draw.uniform(-1, 1, 5)[np.searchsorted(steps, np.linspace(0, L, n))] + np.linspace(*draw.uniform(-1, 1, 2), n)
    B, phi = bimoments(T, a, L / (n - 1), ends)
    assert np.abs(B).max() <= np.abs(T).max() * a * 1.01
    assert np.abs(phi).max() <= np.abs(T).max() * 1.001


def test_the_bound_is_reached_by_even_twisting_between_held_ends():
    a = torsion("C6X8.2", value(36, "ksi")).a.magnitude
    B, _ = bimoments(np.ones(961), a, 96.0 / 960, "held")
    assert np.abs(B).max() == pytest.approx(a * np.tanh(48 / a), rel=0.01)
    assert np.abs(B).max() > 0.99 * a


def test_warping_strength_is_that_of_the_flanges_bent_sideways():
    """A wide flange's bimoment is a pair of flange moments: F_y on each flange's elastic modulus, about."""
    of = as_section("W8X31")
    T = torsion("W8X31", value(50, "ksi"))
    flange = 50 * of["t_f"].magnitude * of["b_f"].magnitude ** 2 / 6 * of["h_o"].magnitude
    assert T.T_nw.magnitude * T.a.magnitude == pytest.approx(flange, rel=0.02)


# --- arrays against single rows ----------------------------------------------------------------------------------------


class Plain:
    """A frame that is nothing but arrays of actions."""

    def __init__(self, strengths, actions):
        self.strengths, self.arrays = strengths, actions

    def action(self, _, component, __, combination, station):
        return value(getattr(self.arrays, component)[combination, station], UNIT.get(component, "kip*in"))


def acting(draw, strengths, stations, combinations, size):
    """Return random actions, each up to ``size`` of its strength."""
    found = {}
    for name, of in zip(ACTIONS, ("P_c", "V_cy", "V_cx", "T_c", "M_cx", "M_cy"), strict=True):
        most = np.repeat([getattr(s, of).magnitude for s in strengths], stations)
        found[name] = size * draw.uniform(-1, 1, (combinations, len(most))) * most
    return SimpleNamespace(**found, member=np.repeat(np.arange(len(strengths)), stations))


@pytest.mark.parametrize("method", ["LRFD", "ASD"])
@pytest.mark.parametrize("size", [0.1, 0.9])
def test_the_arrays_give_what_single_rows_give(method, size):
    strengths = [whole(family, shape, method=method) for family, shape in SOME]
    actions = acting(np.random.default_rng(3), strengths, 3, 5, size)
    found = ratios(actions, capacities(strengths, range(len(strengths)), actions.member))
    frame = Plain(strengths, actions)
    names = {"axial force and bending": "interaction", "shear": "shear", "bending with torsion": "torsion"}
    seen = set()
    for k in range(5):
        for at, n in enumerate(actions.member):
            row = Row(frame, "strength", strengths[n], int(n), k, at, int(found.twist_at[k, at]))
            for kind, name in names.items():
                array = getattr(found, name)[k, at]
                if name == "torsion" and array == 0:
                    continue
                one = RATIOS[kind](row)
                assert one.magnitude == pytest.approx(array, rel=1e-12), (strengths[n].section.name, kind)
                seen.add((strengths[n].section.family, name))
    twisting = {"hss", "pipes"} if size > 0.5 else set()
    assert {f for f, name in seen if name == "torsion"} == twisting | {"channels", "wide_flanges", "strut"}


def test_ratios_grow_in_line_with_the_actions():
    strengths = [whole(family, shape) for family, shape in SOME]
    actions = acting(np.random.default_rng(5), strengths, 4, 6, 0.05)
    twice = SimpleNamespace(**{n: 2 * getattr(actions, n) for n in ACTIONS}, member=actions.member)
    capacity = capacities(strengths, range(len(strengths)), actions.member)
    one, two = ratios(actions, capacity), ratios(twice, capacity)
    assert np.allclose(two.interaction, 2 * one.interaction, rtol=1e-12)  # axial shares stay below 0.2
    assert np.allclose(two.shear, 2 * one.shear, rtol=1e-12)
    opened = ~capacity.closed
    assert np.allclose(two.torsion[:, opened], 2 * one.torsion[:, opened], rtol=1e-12)
    assert one.torsion[:, opened].max() > 0


def test_signs_do_not_matter_but_compression_and_tension_do():
    strengths = [whole("hss", "HSS6X6X1/4", K=2.1)]
    pulled, pushed = ({n: np.zeros((1, 1)) for n in ACTIONS} for _ in range(2))
    for actions, sign in ((pulled, -1.0), (pushed, 1.0)):
        actions["P"][:] = sign * 30.0
        actions["M_x"][:] = sign * 100.0
    member = np.zeros(1, int)
    capacity = capacities(strengths, [0], member)
    push, pull = (ratios(SimpleNamespace(**a, member=member), capacity).interaction[0, 0] for a in (pushed, pulled))
    P_c, P_ct, M_c = (getattr(strengths[0], n).magnitude for n in ("P_c", "P_ct", "M_cx"))
    assert push == pytest.approx(30 / P_c + 8 / 9 * 100 / M_c)
    assert pull == pytest.approx(30 / (2 * P_ct) + 100 / M_c)


def test_where_both_formulas_of_h1_1_meet():
    at = {"P_c": 100.0, "M_rx": 90.0, "M_cx": 100.0, "M_ry": 0.0, "M_cy": 50.0}
    assert high_axial(P_r=20.0, **at) == pytest.approx(low_axial(P_r=20.0, **at))  # on the line R = 1


def test_round_sections_take_resultants():
    s = whole("pipes", "Pipe3STD")
    member = np.zeros(1, int)
    capacity = capacities([s], [0], member)

    def used(**actions):
        arrays = {n: np.full((1, 1), actions.get(n, 0.0)) for n in ACTIONS}
        return ratios(SimpleNamespace(**arrays, member=member), capacity)

    assert used(M_x=30.0, M_y=40.0).interaction == pytest.approx(used(M_x=50.0).interaction)
    assert used(V_y=3.0, V_x=4.0).shear == pytest.approx(used(V_x=5.0).shear)
    assert used(V_y=3.0).torsion == 0


def test_twisting_counts_from_a_fifth_of_the_strength():
    s = whole("hss", "HSS4X4X1/4")
    member = np.zeros(1, int)
    capacity = capacities([s], [0], member)
    for share, counts in ((0.199, False), (0.201, True)):
        arrays = {n: np.zeros((1, 1)) for n in ACTIONS} | {"T": np.full((1, 1), share * s.T_c.magnitude)}
        found = ratios(SimpleNamespace(**arrays, member=member), capacity)
        assert bool(found.torsion[0, 0]) is counts
    assert found.torsion[0, 0] == pytest.approx(0.201**2)


# --- whole jobs --------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module", params=["quartz_saddle", "heron_quay"])
def worked(request):
    job = load(shipped("data", "jobs", request.param))
    return (job, *again(job))


@pytest.fixture(scope="module")
def saddle():
    job = load(shipped("data", "jobs", "quartz_saddle"))
    return (job, *again(job))


def test_every_member_has_what_governs_it(worked):
    job, frame, members = worked
    assert list(members.by_mark) == [m.mark for m in frame.members]
    assert members.method == str(job.codes.method)
    assert set(members.governing) == {m.part for m in frame.members}
    largest = members.arrays.largest
    for n, m in enumerate(members.by_mark.values()):
        stations = list(frame.members[n].stations)
        assert m.utilization.magnitude == pytest.approx(largest[:, stations].max(), rel=1e-9)
        assert members.utilization[m.mark] is m.utilization
        for kind, of in m.checks.items():
            k, at = of.at
            name = {"axial force and bending": "interaction", "shear": "shear"}.get(kind, "torsion")
            assert of.ratio.magnitude == pytest.approx(getattr(members.arrays, name)[k, at], rel=1e-9)
            assert of.combination == frame.sets[members.set_name].labels[k]
            assert at in stations
    for part, m in members.governing.items():
        assert m.utilization.magnitude == max(o.utilization.magnitude for o in members.by_mark.values() if o.part == part)


def test_posts_by_the_bare_arithmetic_of_the_clauses(worked):
    """Square HSS posts with compact walls, from the actions alone."""
    job, frame, members = worked
    method, a = str(job.codes.method), frame.actions(members.set_name)
    post = next(m for m in frame.members if m.part == "post")
    of = as_section(post.shape)
    A, Z, r, H, t = (of[n].magnitude for n in ("A", "Z_x", "r_x", "H", "t_des"))
    assert (H - 3 * t) / t < 1.12 * (29_000 / 50) ** 0.5
    factor = 0.9 if method == "LRFD" else 1 / 1.67
    ratio = post.K_x.magnitude * post.L.m_as("in") / r
    assert post.K_x.magnitude == post.K_y.magnitude
    F_e = np.pi**2 * 29_000 / ratio**2
    F_n = 0.658 ** (50 / F_e) * 50 if 50 / F_e <= 2.25 else 0.877 * F_e
    for n, m in enumerate(frame.members):
        if m.part != "post":
            continue
        at = a.member == n
        P, M = a.P[:, at], np.abs(a.M_x[:, at]) + np.abs(a.M_y[:, at])
        share = np.where(P > 0, P / (factor * F_n * A), -P / (factor * 50 * A))
        bent = M / (factor * 50 * Z)
        by_hand = np.where(share >= 0.2, share + 8 / 9 * bent, share / 2 + bent).max()
        assert members.by_mark[m.mark].checks["axial force and bending"].ratio.magnitude == pytest.approx(by_hand, rel=1e-9)


def test_checks_have_clauses_and_remedies(worked):
    _, _, members = worked
    assert len({c.name for c in members.checks}) == len(members.checks) >= 4
    for c in members.checks:
        assert c.source.locator
        assert c.word in ("OK", "NOT OK", "OPEN")
        assert c.remedy


def test_the_sheet_is_set():
    _, members = again(load(shipped("data", "jobs", "heron_quay")))
    (sheet,) = sheets(members)
    text = sheet.markdown()
    assert set(members.governing) == {"post", "rail", "brace"}
    for m in members.governing.values():
        assert m.utilization.magnitude < 0.25 or f"{m.mark}\\, {m.shape.replace('/', chr(92) + '/')}" in text
    assert sheet.checks == members.checks
    assert text.count("\n| post ") == 4  # every post in the table of all members


@pytest.mark.parametrize("name", ["heron_quay", "quartz_saddle"])
def test_strengths_the_sheet_takes_from_its_table_matter_little(name):
    _, members = again(load(shipped("data", "jobs", name)))
    (sheet,) = sheets(members)
    (listed,) = (p for p in sheet.parts if isinstance(p, Grid) and p.title.startswith("Available strengths"))
    assert listed.quoted or name == "quartz_saddle"
    assert {id(v.root) for v in listed.quoted} <= {id(c.root) for row in listed.rows for c in row if isinstance(c, Value)}
    assert members.strengths[members.governing["post"].case].P_c not in listed.quoted
    for m in members.governing.values():
        endless = {v: given(1e9, v.unit, Source("assumption", "as strong as one likes")) for v in listed.quoted}
        without = recompute(m.governs.ratio, endless).magnitude
        little = m.utilization.magnitude < 0.25
        assert little or without == pytest.approx(m.governs.ratio.magnitude, rel=0.1 * 2)  # two terms at most are small
        actions = [p for p in sheet.parts if isinstance(p, Grid) and p.title == f"Actions in {m.mark}"]
        assert len(actions) == (0 if little else 1)  # what is little used is a row of the tables
        assert all(grid.rows[-1][0] == "Second order" for grid in actions)
    assert "superposition" not in sheet.markdown()


def test_allowable_and_design_strength_of_one_job(saddle):
    """The strengths of ASD are those of LRFD over 1.5; the combinations are others."""
    job, _, design = saddle
    other = "ASD" if design.method == "LRFD" else "LRFD"
    _, allowable = again(changed(job, "codes.method", other))
    assert {design.set_name, allowable.set_name} == {"strength", "allowable"}
    for one, two in zip(design.strengths, allowable.strengths, strict=True):
        for name in AVAILABLE:
            share = getattr(one, name).magnitude / getattr(two, name).magnitude
            assert share == pytest.approx(1.5 if other == "ASD" else 1 / 1.5, rel=0.003)
    assert allowable.method == other


def test_a_mirrored_rack_is_used_alike(saddle):
    """Bays and equipment mirrored along the rack: the most used post and rail are as much used as before."""
    job, _, members = saddle
    length = sum(bay.m_as("ft") for bay in job.frame.bays)
    mirrored = job
    for n, item in enumerate(job.equipment):
        mirrored = changed(mirrored, f"equipment.{item.tag}.x", value(length - item.x.m_as("ft"), "ft"))
        assert mirrored.equipment[n].tag == item.tag
    _, other = again(mirrored)
    for part, m in members.governing.items():
        assert other.governing[part].utilization.magnitude == pytest.approx(m.utilization.magnitude, rel=0.02)


def test_a_heavier_post_is_less_used(saddle):
    job, _, members = saddle
    _, heavier = again(changed(job, "frame.post", "HSS6X6X1/2"))
    assert heavier.governing["post"].utilization.magnitude < members.governing["post"].utilization.magnitude


def test_cantilever_columns_have_a_limit_on_their_axial_force(saddle):
    job, _, members = saddle
    assert not [c for c in members.checks if "cantilever" in c.name]
    _, made = again(changed(job, "site.seismic.system", "ordinary_cantilever_column"))
    (found,) = [c for c in made.checks if "cantilever" in c.name]
    assert found.limit == 0.15
    assert found.source.locator == "12.2.5.2"
    assert found.passes
    assert 0 < found.ratio.magnitude < 0.15


def test_braces_need_their_bolts():
    job = load(shipped("data", "jobs", "heron_quay"))
    _, with_bolts = again(job)
    _, without = again(changed(job, "connections", None))
    found = [next(c for c in m.checks if "net section" in c.name) for m in (with_bolts, without)]
    assert [c.word for c in found] == ["OK", "OPEN"]
    assert "connections.bolt" in found[1].remedy
    slender = next(c for c in with_bolts.checks if "single angle" in c.name)
    assert slender.capacity.magnitude == 200
    assert slender.passes


def test_strut_rails_are_judged(saddle):
    job, *_ = saddle
    _, made = again(changed(changed(job, "frame.rail", "1-5/8x3-1/4"), "frame.materials", None))
    rail = made.governing["rail"]
    assert rail.shape == "1-5/8x3-1/4"
    assert any("Slots reduce the strength" in note for note in made.notes)
    assert rail.utilization.magnitude > 0


def test_members_of_one_kind_share_their_strength(saddle):
    _, frame, members = saddle
    assert len(members.strengths) < len(frame.members) / 3
    assert dataclasses.is_dataclass(members)

"""Seismic loads: a rack worked by hand, bounds that must hold for any input, and what is refused."""

import math
import time
from types import SimpleNamespace as Plain

import numpy as np
import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from rackbook.loads.seismic import (
    amplification,
    base_shear,
    component_force_716,
    component_force_722,
    design_category,
    ductility,
    importance,
    mapped_motion,
    orthogonal,
    period,
    redundancy,
    seismic,
    sheets,
    spectral_motion,
    stiffness_for,
    system,
)
from rackbook.loads.seismic.base_shear import plateau
from rackbook.loads.weights import weights
from rackbook.trace import DomainError, LookupFailed, RackbookError, Source, given, recompute, touched

HAND = Source("derivation", "worked by hand")


def v(number, unit="", symbol="x"):
    return given(number, unit, HAND, symbol)


def both(job):
    w = weights(job)
    return w, seismic(job, w)


def test_hand_worked_rack(rack):
    job = rack(rack.item("A", 300, 3, 5), rack.item("T", 900, 9, 3, kind="transformer"))
    w, s = both(job)
    # category D, I_e = 1; self-supporting: R = 1.25; no period: C_s = 1.0/(1.25/1.0) = 0.8
    W = w.W.m_as("lbf")
    assert s.category.magnitude == "D"
    assert s.along.shear.C_s.magnitude == pytest.approx(0.8)
    assert s.along.V.m_as("lbf") == pytest.approx(0.8 * W)
    assert s.rho.magnitude == 1.0
    # T_S = 0.6 s: k = 0.75 + 0.3
    assert s.along.k.magnitude == pytest.approx(1.05)
    shares = np.array([p.w.m_as("lbf") * p.z.m_as("ft") ** 1.05 for p in w.parts])
    forces = 0.8 * W * shares / shares.sum()
    assert s.along.F_x.magnitude == pytest.approx(forces)
    assert s.along.M.m_as("lbf*ft") == pytest.approx(sum(f * p.z.m_as("ft") for f, p in zip(forces, w.parts, strict=True)))
    assert s.along.h_V.m_as("ft") == pytest.approx(s.along.M.m_as("lbf*ft") / (0.8 * W))
    assert s.E_v.m_as("lbf") == pytest.approx(0.2 * W)
    assert s.across.E_mh.m_as("lbf") == pytest.approx(2 * 0.8 * W)
    assert s.across.M_t.m_as("lbf*ft") == pytest.approx(0.8 * W * (abs(w.e_x.m_as("ft")) + 0.05 * 12))  # 12 ft long
    assert s.along.M_t.m_as("lbf*ft") == pytest.approx(0.8 * W * abs(w.y_bar.m_as("ft")))  # no depth
    # A: a_p 2.5, R_p 6, z/h = 5/8: 0.4 x 2.5 x 300/6 x 2.25 = 112.5; T: a_p 1, R_p 2.5, z/h = 3/8: 252, minimum 270
    assert s.items.by_tag["A"].F_p.m_as("lbf") == pytest.approx(112.5)
    assert s.items.by_tag["T"].F_p.m_as("lbf") == pytest.approx(270)
    assert s.items.by_tag["A"].F_anchor.m_as("lbf") == pytest.approx(225)
    assert s.items.governing == "T"
    assert s.items.in_full.F_p.m_as("lbf") == pytest.approx(270)


def test_heavy_item_is_analyzed_with_the_rack(rack):
    _, s = both(rack(rack.item("A", 100, 3, 5), rack.item("T", 900, 9, 3, kind="transformer")))
    assert s.items.by_tag["T"].share.m_as("pct") > 25
    assert "together" in s.items.by_tag["T"].route
    assert "together" not in s.items.by_tag["A"].route
    assert "At or above it" in "".join(x.markdown() for x in sheets(s)).replace("\\", "")


def test_edition_of_2022_uses_its_own_equipment_force(rack):
    _, s = both(rack(rack.item("A", 300, 3, 4), edition="ASCE/SEI 7-22"))
    # H_f = 1 + 2.5 x 4/8 = 2.25, R_mu = 1.3, C_AR/R_po = 0.7
    assert s.items.by_tag["A"].F_p.m_as("lbf") == pytest.approx(0.4 * 300 * 2.25 / 1.3 * 0.7)
    assert s.items.share_limit.m_as("pct") == 20


def test_given_stiffness_gives_a_period_in_its_direction_only(rack):
    stiff = Plain(along=None, across=v(2.0, "kip/in", "k"))
    w, s = both(rack(rack.item("A", 300, 3, 5), seismic={"stiffness": stiff}))
    assert s.along.shear.T is None
    assert s.across.shear.T.m_as("s") == pytest.approx(2 * math.pi * math.sqrt(w.W.m_as("lbf") / (2000 * 386.0886)), rel=1e-6)
    assert any(note.startswith("No period along the rack is used") for note in s.notes)
    assert not any(note.startswith("No period") and "across the rack" in note for note in s.notes)


def test_given_period_serves_both_directions(rack):
    _, s = both(rack(rack.item("A", 300, 3, 5), seismic={"period": v(0.9, "s", "T")}))
    assert s.along.V is s.across.V
    assert s.along.shear.governs == "Eq. 12.8-3"
    assert s.along.shear.C_s.magnitude == pytest.approx(0.6 / (0.9 * 1.25))


def test_measured_weight_is_what_the_shear_is_worked_with(rack):
    shop = Plain(total=v(2000, "lbf"), x=v(6, "ft"), y=v(1, "in"), z=v(4, "ft"), date="2026-05-20", scale="crane scale")
    _, s = both(rack(rack.item("A", 300, 3, 5), measured=shop))
    assert s.along.V.m_as("lbf") == pytest.approx(1600)
    assert float(np.sum(s.along.F_x.magnitude)) == pytest.approx(1600)


def test_snow_on_the_canopy_adds_its_share(rack):
    canopy = Plain(length=v(12, "ft"), width=v(5, "ft"), height=v(9, "ft"), weight=v(4, "psf"))
    job = rack(canopy=canopy)
    w = weights(job)
    heavy, light = seismic(job, w, snow=v(40, "psf", "p_f")), seismic(job, w, snow=v(25, "psf", "p_f"))
    assert heavy.W.m_as("lbf") == pytest.approx(w.W.m_as("lbf") + 0.2 * 40 * 60)
    assert light.W.m_as("lbf") == pytest.approx(w.W.m_as("lbf"))
    assert any("No snow" in note for note in seismic(job, w).notes)


# --- properties

ACCELERATION = st.floats(0.01, 2.5)


@settings(max_examples=150, deadline=None)
@drawn(
    ACCELERATION, ACCELERATION, st.floats(0, 1.5), st.sampled_from([1.0, 1.25, 2.0, 3.0, 8.0]), st.sampled_from([1.0, 1.5]),
    st.none() | st.floats(0.02, 5), st.sampled_from(["Table 15.4-1", "Table 15.4-2"]),
)  # fmt: skip
def test_base_shear_lies_between_its_bounds(S_DS, S_D1, S_1, R, I_e, T, table):
    found = base_shear(
        v(S_DS), v(S_D1), v(R), v(I_e), v(S_1), v(1000, "lbf"), None if T is None else v(T, "s"), v(8, "s"), table
    )
    C = found.C_s.magnitude
    assert found.V.m_as("lbf") == pytest.approx(1000 * C)
    if found.rigid:
        assert T < 0.06
        assert pytest.approx(0.3 * S_DS * I_e) == C
        return
    floors = [f.magnitude for f in (found.floor, found.near_fault) if f is not None]
    need = [c.magnitude for c in (found.plateau, found.long_period) if c is not None]
    assert max(floors) - 1e-12 <= C
    assert pytest.approx(max(min(need), *floors)) == C
    assert found.floor.magnitude >= (0.03 if table == "Table 15.4-2" else 0.01)
    assert (found.near_fault is not None) == (S_1 >= 0.6)


@settings(max_examples=60, deadline=None)
@drawn(ACCELERATION, ACCELERATION, st.floats(0.06, 5))
def test_an_unknown_period_is_never_below_a_known_one(S_DS, S_D1, T):
    unknown = base_shear(v(S_DS), v(S_D1), v(1.25), v(1.0), v(0.3))
    known = base_shear(v(S_DS), v(S_D1), v(1.25), v(1.0), v(0.3), T=v(T, "s"), T_L=v(8, "s"))
    assert unknown.C_s.magnitude >= known.C_s.magnitude - 1e-12


@settings(max_examples=100, deadline=None)
@drawn(st.floats(0, 2), st.floats(0, 2), st.floats(0, 1), st.floats(0, 1), st.sampled_from(["I", "II", "III", "IV"]))
def test_category_never_falls_with_acceleration_or_risk(S_DS, S_D1, more, S_1, risk):
    def letter(a, b, c, r):
        return design_category(v(a), v(b), r, v(c)).magnitude

    here = letter(S_DS, S_D1, S_1, risk)
    assert letter(S_DS + more, S_D1, S_1, risk) >= here
    assert letter(S_DS, S_D1 + more, S_1, risk) >= here
    assert letter(S_DS, S_D1, S_1 + more, risk) >= here
    assert letter(S_DS, S_D1, S_1, "IV") >= here


@settings(max_examples=100, deadline=None)
@drawn(
    ACCELERATION,
    st.floats(1, 5000),
    st.floats(-2, 20),
    st.sampled_from([1.0, 1.5]),
    st.sampled_from([1.0, 2.5]),
    st.sampled_from([1.5, 2.5, 6.0]),
)
def test_equipment_force_lies_between_its_bounds_in_both_editions(S_DS, W_p, z, I_p, a_p, R_p):
    h = v(9, "ft")
    common = {"I_p": v(I_p), "S_DS": v(S_DS), "W_p": v(W_p, "lbf")}
    one = component_force_716(v(a_p), v(R_p), z=v(z, "ft"), h=h, **common)
    two = component_force_722(v(1.4), v(2.0), H_f=amplification(v(z, "ft"), h), R_mu=ductility(), **common)
    for found in (one, two):
        low, high, F = (x.m_as("lbf") for x in (found.F_p_min, found.F_p_max, found.F_p))
        assert low - 1e-9 <= F <= high + 1e-9
        assert pytest.approx(min(max(found.F_p_calc.m_as("lbf"), low), high)) == F


@settings(max_examples=60, deadline=None)
@drawn(st.floats(0, 30), st.none() | st.floats(0.02, 5))
def test_height_factor_of_2022_stays_within_its_limits(z, T):
    H_f = amplification(v(z, "ft"), v(9, "ft"), None if T is None else v(T, "s")).magnitude
    assert 1.0 <= H_f <= 3.5
    assert ductility(v(1.25), v(1.5), v(2.0)).magnitude == 1.3


ITEMS = st.lists(st.tuples(st.floats(1, 2000), st.floats(0, 12), st.floats(0.5, 7.5)), max_size=6)


@settings(max_examples=30, deadline=None)
@drawn(ITEMS, st.floats(0.1, 2.0), st.none() | st.floats(0.05, 3.0))
def test_distribution_adds_up_to_the_base_shear(rack, drawn_items, S_DS, T):
    job = rack(
        *(rack.item(f"E{n}", w, x, z) for n, (w, x, z) in enumerate(drawn_items)),
        seismic={"spectral": rack.spectral(S_DS), "period": None if T is None else v(T, "s", "T")},
    )
    w, s = both(job)
    for way in (s.along, s.across):
        assert float(np.sum(way.C_vx.magnitude)) == pytest.approx(1)
        assert float(np.sum(way.F_x.magnitude)) == pytest.approx(way.V.m_as("lbf"))
        assert way.M.m_as("lbf*ft") == pytest.approx(way.V.m_as("lbf") * way.h_V.m_as("ft"))
        assert 1 <= way.k.magnitude <= 2
        assert way.h_V.m_as("ft") >= w.z_bar.m_as("ft") - 1e-9  # forces grow with height


def test_array_of_items_equals_each_item_by_itself(rack):
    items = [
        rack.item(f"E{n}", 50 + 40 * n, n, 1 + n, kind=k)
        for n, k in enumerate(["panelboard", "transformer", "lighting", "wireway"])
    ]
    for edition in ("ASCE/SEI 7-16", "ASCE/SEI 7-22"):
        _, all_of_them = both(rack(*items, edition=edition))
        for one in items:
            _, alone = both(rack(one, edition=edition))
            assert alone.items.in_full.F_p.magnitude == pytest.approx(all_of_them.items.by_tag[one.tag].F_p.magnitude)
        assert all_of_them.items.F_p.magnitude == pytest.approx(all_of_them.items.in_full.F_p.magnitude)


def test_a_thousand_items_take_a_moment(rack):
    kinds = ["panelboard", "transformer", "lighting", "wireway", "disconnect"]
    job = rack(*(rack.item(f"E{n}", 20 + n % 90, (n % 120) / 10, 1 + n % 7, kind=kinds[n % 5]) for n in range(1000)))
    best = math.inf
    for _ in range(5):
        start = time.perf_counter()
        _, s = both(job)
        best = min(best, time.perf_counter() - start)
    assert len(s.items.by_tag) == 1000
    assert best < 0.5  # 0.05 s on an idle machine; the bound leaves room for a busy one


def test_formulas_sweep_over_arrays():
    found = plateau(S_DS=v(np.array([0.5, 1.0])), R=v(1.25), I_e=v(1.0))
    assert found.magnitude.tolist() == [0.4, 0.8]


def test_mirroring_the_rack_changes_no_force(rack):
    front, back = (
        rack(rack.item("A", 300, 3, 5)),
        rack(rack.item("A", 300, 3, 5, face="back"), rails=(("back", 3), ("back", 6))),
    )
    (wf, f), (wb, b) = both(front), both(back)
    assert wb.y_bar.magnitude == pytest.approx(-wf.y_bar.magnitude)
    assert b.along.M_t.magnitude == pytest.approx(f.along.M_t.magnitude)
    assert b.along.V.magnitude == pytest.approx(f.along.V.magnitude)


# --- periods


def test_stiffness_and_period_are_inverse():
    T = period(v(2, "kip", "W"), v(5, "kip/in", "k"))
    assert stiffness_for(T, v(2, "kip")).m_as("kip/in") == pytest.approx(5)


# --- systems and categories


def test_a_system_beyond_its_height_fails_and_says_what_to_do():
    found = system("7-16", "self_supporting", "D", v(51, "ft", "h"), "reason")
    assert found.check.word == "NOT OK"
    assert "choose a row" in found.check.remedy


def test_a_system_not_permitted_fails_and_points_to_the_footnotes():
    found = system("7-22", "ordinary_moment_frame", "D", v(9, "ft", "h"))
    assert found.check.word == "NOT OK"
    assert "footnotes" in found.check.remedy
    assert "NP" in str(found.check.name)


def test_category_a_has_no_height_limit():
    assert system("7-16", "ordinary_cantilever_column", "A", v(90, "ft", "h")).check is None


@pytest.mark.parametrize(
    ("table", "category", "rho"),
    [("Table 15.4-2", "F", 1.0), ("Table 15.4-1", "C", 1.0), ("Table 15.4-1", "D", 1.3), ("Table 12.2-1 G", "E", 1.3)],
)
def test_redundancy(table, category, rho):
    assert redundancy(table, category).magnitude == rho


def test_directions_by_category():
    assert [(d.along.magnitude, d.across.magnitude) for d in orthogonal("B")] == [(1, 0), (0, 1)]
    assert [(d.along.magnitude, d.across.magnitude) for d in orthogonal("D")] == [(1, 0.3), (0.3, 1)]


# --- ground motion


def test_class_d_keeps_the_plateau_longer_under_its_exception(rack):
    ground = mapped_motion(v(1.0), v(0.35), "D")
    assert ground.long_factor.magnitude == 1.5
    mapped = Plain(S_S=v(1.0), S_1=v(0.35), site_class="D", measured=True)
    _, s = both(rack(seismic={"spectral": None, "mapped": mapped, "period": v(0.8, "s", "T")}))
    assert s.along.shear.long_period.magnitude == pytest.approx(1.5 * 0.455 / (0.8 * 1.25))
    assert s.along.shear.governs == "Eq. 12.8-2"  # up to 1.5 T_S
    assert any("exception 2" in note for note in s.notes)


def test_class_e_holds_up_to_t_s_only(rack):
    mapped = Plain(S_S=v(0.6), S_1=v(0.3), site_class="E", measured=True)
    ground = mapped_motion(v(0.6), v(0.3), "E")
    assert ground.plateau_only
    _, short = both(rack(seismic={"spectral": None, "mapped": mapped, "period": v(0.3, "s", "T")}))
    assert short.checks[-1].word == "OK"
    _, long = both(rack(seismic={"spectral": None, "mapped": mapped, "period": v(1.9, "s", "T")}))
    assert long.checks[-1].word == "NOT OK"
    with pytest.raises(DomainError, match="exception 3"):
        both(rack(seismic={"spectral": None, "mapped": mapped}))


def test_default_class_never_falls_below_its_floor():
    for S_S in np.linspace(0.05, 2.5, 30):
        found = mapped_motion(v(float(S_S)), v(0.1), "D", measured=False)
        assert found.F_a.magnitude >= 1.2


# --- what is refused, each with one error


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: mapped_motion(v(0.5), v(0.2), "F"), "site response analysis"),
        (lambda: mapped_motion(v(0.5), v(0.2), "D", edition="7-22"), "no site coefficients"),
        (lambda: mapped_motion(v(0.5), v(0.2), "G"), "allowed: A, B, C, D, E, F"),
        (lambda: mapped_motion(v(-0.5, symbol="S_S"), v(0.2), "D"), "S_S = -0.5 is negative"),
        (lambda: spectral_motion(v(1.0), v(-0.1, symbol="S_D1"), v(0.2)), "negative"),
        (lambda: base_shear(v(1.0), v(0.5), v(0, symbol="R"), v(1.0)), "R = 0 must be above zero"),
        (lambda: base_shear(v(1.0), v(0.5), v(1.25), v(1.0), T=v(-0.3, "s", "T"), T_L=v(8, "s")), "T = -0.3 s must be above"),
        (lambda: base_shear(v(1.0), v(0.5), v(1.25), v(1.0), T=v(0.3, "s", "T")), "T_L"),
        (lambda: period(v(2, "kip", "W"), v(-5, "kip/in", "k")), "k = -5 kip/in. must be above zero"),
        (lambda: design_category(v(0.5), v(0.2), "V"), "allowed: I, II, III, IV"),
        (lambda: design_category(v(-0.5), v(0.2), "II"), "no band"),
        (lambda: importance("V"), "risk_category"),
        (lambda: system("7-16", "cantilever", "D", v(9, "ft")), "no row with system"),
        (lambda: amplification(v(3, "ft"), v(0, "ft", "h")), "h = 0 ft must be above zero"),
    ],
)
def test_refused_with_one_error(call, says):
    with pytest.raises(RackbookError) as caught:
        call()
    assert says in str(caught.value)


def test_a_component_row_that_is_not_there(rack):
    with pytest.raises(LookupFailed, match="panelboard"):
        both(rack(rack.item("A", 300, 3, 5, seismic_row="panelbord")))


def test_no_ground_motion_is_refused(rack):
    with pytest.raises(DomainError, match="No ground motion"):
        both(rack(seismic={"spectral": None}))


def test_a_site_without_shaking_still_has_the_least_shear(rack):
    w, s = both(rack(rack.item("A", 300, 3, 5), seismic={"spectral": rack.spectral(0.0, 0.0, 0.0)}))
    assert s.category.magnitude == "A"
    assert s.along.V.m_as("lbf") == pytest.approx(0.03 * w.W.m_as("lbf"))
    assert s.items.by_tag["A"].F_p.magnitude == 0
    assert s.ground.T_S is None
    assert [(d.along.magnitude, d.across.magnitude) for d in s.directions] == [(1, 0), (0, 1)]


def test_a_stiff_rack_is_rigid(rack):
    stiff = Plain(along=v(5000, "kip/in", "k"), across=v(3, "kip/in", "k"))
    w, s = both(rack(rack.item("A", 300, 3, 5), seismic={"stiffness": stiff}))
    assert s.along.shear.rigid
    assert s.along.V.m_as("lbf") == pytest.approx(0.3 * w.W.m_as("lbf"))
    assert not s.across.shear.rigid
    assert "rigid nonbuilding structure" in "".join(x.markdown() for x in sheets(s))


def test_one_input_reaches_every_force_and_may_be_changed(rack):
    job = rack(rack.item("A", 300, 3, 5))
    _, s = both(job)
    leaf = job.site.seismic.spectral.S_DS
    results = {"V": s.along.V, "M": s.across.M, "F_p": s.items.by_tag["A"].F_p, "E_v": s.E_v, "R": s.system.R}
    assert touched(leaf, results) == ["V", "M", "F_p", "E_v"]
    twice = recompute(s.along.V, {leaf: v(2.0)})
    assert twice.magnitude == pytest.approx(2 * s.along.V.magnitude)


# --- sheets


@pytest.mark.parametrize("edition", ["ASCE/SEI 7-16", "ASCE/SEI 7-22"])
def test_sheets_state_reason_assumptions_and_every_item(rack, edition):
    _, s = both(rack(rack.item("A-1", 300, 3, 5), edition=edition))
    text = "\n".join(x.markdown() for x in sheets(s)).replace("\\", "")
    for words in (
        "posts stand alone",
        "Eq. 12.8-2",
        "Eq. 12.8-7 is for buildings",
        "No snow",
        "A-1",
        "Table 15.4-2",
        "recalled, not yet read",
    ):
        assert words in text
    assert ("draft" in text) == (edition == "ASCE/SEI 7-22")


def test_sheet_without_equipment_is_one(rack):
    _, s = both(rack())
    assert len(sheets(s)) == 1
    assert s.items.F_p is None


def test_a_column_listed_in_a_table_is_not_derived_again(rack):
    _, s = both(rack(rack.item("A-1", 300, 3, 5)))
    text = sheets(s)[0].markdown().replace("\\", "")
    assert "Lateral force at each mass" not in text  # its numbers are the table's
    assert "Share of the base shear at each mass" in text
    assert "carried forward" in text


def test_overstrength_below_redundancy_is_said(rack):
    name = "ordinary_moment_frame_unlimited"
    low = both(rack(rack.item("A-1", 300, 3, 5), seismic={"system": name}, depth=2))[1]
    assert (low.Omega_0.magnitude, low.rho.magnitude) == (1, 1.3)
    assert "the combinations with" in sheets(low)[0].markdown().replace("\\", "")
    assert "the combinations with" not in sheets(both(rack())[1])[0].markdown().replace("\\", "")


def test_a_single_row_of_posts_has_no_frame_across_it(rack):
    name = "ordinary_moment_frame_unlimited"
    w, s = both(rack(rack.item("A-1", 300, 3, 5), seismic={"system": name}))
    assert (s.systems.along.R.magnitude, s.systems.across.R.magnitude) == (1, 1.25)
    assert s.across.V.m_as("lbf") == pytest.approx(1.0 * w.W.m_as("lbf"))  # R = 1 both ways, the smaller
    # E_mh is that of R = 1.25 and Omega_0 = 2: 2/1.25 S_DS W
    assert s.across.E_mh.m_as("lbf") == pytest.approx(1.6 * w.W.m_as("lbf"))
    assert s.C_d("along").magnitude == 1
    assert s.C_d("across").magnitude == pytest.approx(2)
    text = sheets(s)[0].markdown().replace("\\", "")
    assert "single row of posts has no frame" in text
    assert "not similar to buildings" in text
    stiff = both(rack(seismic={"system": "intermediate_moment_frame"}))[1]
    assert stiff.along.shear.C_s.magnitude == pytest.approx(1.0 / 4.5)
    assert stiff.across.shear.C_s.magnitude == pytest.approx(1.0 / 1.25)

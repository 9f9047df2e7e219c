"""The tables of ASCE/SEI 7 against their own formulas and against what must rise or fall."""

import math

import numpy as np
import pytest

from rackbook.tables import table

EDITIONS = ("7-16", "7-22")


def k_z(edition, exposure, z):
    """Return K_z by the formula of Table 26.10-1: z not below 15 ft."""
    of = table("wind_exposure")
    K_0, alpha, z_g = (of.cell((edition, exposure), c).magnitude for c in ("K_0", "alpha", "z_g"))
    return K_0 * (max(z, 15) / z_g) ** (2 / alpha)


@pytest.mark.parametrize("edition", EDITIONS)
def test_wind_speed_is_defined_at_33_ft_in_exposure_c(edition):
    assert k_z(edition, "C", 33) == pytest.approx(1, abs=0.003)


@pytest.mark.parametrize("row", table("velocity_exposure_printed").rows, ids=lambda r: f"{r['edition']} {r['z']} ft")
def test_printed_velocity_exposure_follows_the_formula(row):
    for exposure in "BCD":
        assert k_z(row["edition"], exposure, float(row["z"])) == pytest.approx(float(row[exposure]), abs=0.012)


@pytest.mark.parametrize("edition", EDITIONS)
def test_exposures_rank(edition):
    for z in (15, 20, 30, 40):
        assert k_z(edition, "B", z) < k_z(edition, "C", z) < k_z(edition, "D", z)
    for exposure in "BCD":
        assert k_z(edition, exposure, table("wind_exposure").cell((edition, exposure), "z_g").magnitude) > 1.8


def test_ground_elevation_follows_the_formula():
    of = table("ground_elevation_printed")
    assert np.exp(-0.0000362 * of.array("z_e")) == pytest.approx(of.array("K_e"), abs=0.006)


@pytest.mark.parametrize("row", table("topography_printed").rows, ids=lambda r: f"{r['multiplier']} {r['argument']}")
def test_printed_topography_follows_the_parameters(row):
    x = float(row["argument"])
    for feature in ("ridge", "escarpment", "hill"):
        c, gamma, mu = (
            table("wind_topography").cell((feature, "C"), column).magnitude
            for column in ("K_1_coefficient", "gamma", "mu_downwind")
        )
        worked = {"K1": c * x, "K2": max(0, 1 - x / mu), "K3": math.exp(-gamma * x)}[row["multiplier"]]
        assert worked == pytest.approx(float(row[feature]), abs=0.008 if row["multiplier"] == "K3" else 0.00501)


def test_topography_grows_with_open_ground():
    of = table("wind_topography")
    for feature in ("ridge", "escarpment", "hill"):
        c = [of.cell((feature, e), "K_1_coefficient").magnitude for e in "BCD"]
        assert c == sorted(c)
        assert np.diff(c).tolist() == pytest.approx([c[1] - c[0], 0.10])


def test_directionality_is_between_085_and_1():
    assert set(table("wind_directionality").array("K_d").tolist()) <= {0.85, 0.90, 0.95, 1.0}
    for edition in EDITIONS:
        assert table("wind_directionality").cell((edition, "square_cabinet"), "K_d").magnitude == 0.90
        assert table("wind_directionality").cell((edition, "solid_sign"), "K_d").magnitude == 0.85


def test_solid_sign_coefficient_falls_toward_the_ground():
    of = table("force_coefficient_solid")
    s_over_h = sorted({float(r["s_over_h"]) for r in of.rows})
    ratios = sorted({float(r["B_over_s"]) for r in of.rows})
    assert len(of.rows) == len(s_over_h) * len(ratios) == 84
    grid = np.array([[of.cell((s, b), "C_f").magnitude for b in ratios] for s in s_over_h])
    assert np.all(np.diff(grid, axis=0) <= 0)
    assert 1.3 == grid.min() <= grid.max() == 1.95
    assert np.all(np.diff(grid[-1]) <= 0)  # on the ground, longer walls feel less


def test_cabinet_coefficient_rises_with_slenderness():
    of = table("force_coefficient_cabinet")
    for section in dict.fromkeys(of.column("section")):
        c = [of.cell((section, h), "C_f").magnitude for h in (1, 7, 25)]
        assert c == sorted(c)
    square, diagonal = (of.cell((s, 1), "C_f").magnitude for s in ("square", "square_diagonal"))
    assert diagonal < square


def test_open_frame_is_a_step_table():
    of = table("force_coefficient_open")
    assert [of.step(e, "flat_sided").magnitude for e in (0, 0.0999, 0.1, 0.153, 0.29, 0.295, 0.3, 0.7)] == [
        2.0, 2.0, 1.8, 1.8, 1.8, 1.8, 1.6, 1.6,
    ]  # fmt: skip
    assert np.all(np.diff(of.array("flat_sided")) < 0)
    assert np.all(np.diff(of.array("round_large")) > 0)
    assert np.all(of.array("round_small") > of.array("round_large"))


@pytest.mark.parametrize(
    ("name", "key", "column"), [("site_coefficient_fa", "S_S", "F_a"), ("site_coefficient_fv", "S_1", "F_v")]
)
def test_site_coefficients_fall_with_the_acceleration(name, key, column):
    groups = {}
    for row in table(name).rows:
        groups.setdefault((row["edition"], row["site_class"]), []).append((float(row[key]), row[column]))
    for rows in groups.values():
        assert [x for x, _ in rows] == sorted(x for x, _ in rows)
        numbers = [float(v) for _, v in rows if not v.startswith("see")]
        assert numbers == sorted(numbers, reverse=True)
    assert ("7-16", "D") in groups
    assert not [edition for edition, _ in groups if edition.startswith("7-22")]


def test_a_printed_report_of_mapped_accelerations():
    # a hazard report of 2015 to 7-10 prints: site class D and S_S = 0.970 g, F_a = 1.112; S_1 = 0.348 g, F_v = 1.704
    fa, fv = table("site_coefficient_fa"), table("site_coefficient_fv")
    assert fa.interpolate(0.970, "F_a", at=("7-10", "D")).magnitude == pytest.approx(1.112, abs=5e-4)
    assert fv.interpolate(0.348, "F_v", at=("7-10", "D")).magnitude == pytest.approx(1.704, abs=5e-4)
    assert fa.interpolate(0.970, "F_a", at=("7-10", "E")).magnitude == pytest.approx(0.935, abs=1.5e-3)
    assert fv.interpolate(0.348, "F_v", at=("7-10", "E")).magnitude == pytest.approx(2.608, abs=5e-4)


def test_seismic_design_category_never_falls():
    order = "ABCD"
    of = table("seismic_design_category")
    for parameter, tops in (("S_DS", (0.16, 0.167, 0.33, 0.5, 1.2)), ("S_D1", (0.06, 0.067, 0.133, 0.2, 0.6))):
        for category in ("I", "II", "III", "IV"):
            letters = [of.step(x, category, at=(parameter,)).magnitude for x in tops]
            assert letters == sorted(letters, key=order.index)
            assert letters[0] == "A"
            assert letters[-1] == "D"
        for x in tops:
            across = [of.step(x, c, at=(parameter,)).magnitude for c in ("I", "II", "III", "IV")]
            assert across == sorted(across, key=order.index)
    assert of.step(0.167, "II", at=("S_DS",)).magnitude == "B"  # the lower bound belongs to the band
    assert of.step(0.1669, "IV", at=("S_DS",)).magnitude == "A"


def test_seismic_systems():
    of = table("seismic_systems")
    systems = {e: [r["system"] for r in of.rows if r["edition"] == e] for e in EDITIONS}
    assert systems["7-16"] == systems["7-22"]
    for row in of.rows:
        R, overstrength, deflection = (float(row[c]) for c in ("R", "Omega_0", "C_d"))
        assert 1 <= deflection <= R * 2
        assert 1 <= overstrength <= 3
        limits = [row[f"limit_{c}"] for c in "BCDEF"]
        size = [1e9 if v == "NL" else 0 if v == "NP" else float(v) for v in limits]
        assert size == sorted(size, reverse=True)
    same = ("inverted_pendulum", "self_supporting")
    for system in same:
        old, new = (next(r for r in of.rows if (r["edition"], r["system"]) == (e, system)) for e in ("7-05", "7-16"))
        assert [old[c] for c in ("R", "Omega_0", "C_d")] == [new[c] for c in ("R", "Omega_0", "C_d")]
    assert of.cell(("7-22", "self_supporting"), "limit_D").text() == "50 ft"
    assert of.cell(("7-22", "ordinary_cantilever_column"), "limit_D").magnitude == "NP"


def test_importance_and_components():
    assert table("importance_factors").column("I_e") == (1, 1, 1.25, 1.5)
    of = table("components")
    for row in of.rows:
        if row["edition"] == "7-16":
            assert 1 <= float(row["a_p"]) <= 2.5 <= float(row["a_p"]) * 6
            assert of.cell(("7-16", row["component"]), "a_p").source.how == "read"
            assert of.cell(("7-16", row["component"]), "Omega_0").source.how == "memory"
        else:
            assert 1 <= float(row["C_AR_grade"]) <= float(row["C_AR_above"]) <= 2.8
            assert of.cell(("7-22", row["component"]), "R_po").source.how == "memory"
    assert {r["component"] for r in of.rows if r["edition"] == "7-16"} == {
        r["component"] for r in of.rows if r["edition"] == "7-22"
    }

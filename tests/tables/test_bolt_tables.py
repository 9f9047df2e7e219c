"""The tables of bolts and welds against arithmetic and against what must rise."""

import math

import pytest

from rackbook.tables import table
from rackbook.trace import Source, given

SIZES = [row["diameter"] for row in table("bolts").rows]
KINDS = ("standard", "oversize", "short slot", "long slot")


def cell(of, keys, column):
    return table(of).cell(keys, column).magnitude


def size(text):
    whole, _, part = text.rpartition("-") if "/" in text else (text, "", "")
    above, below = part.split("/") if part else (0, 1)
    return float(whole or 0) + int(above) / int(below)


@pytest.mark.parametrize("d", SIZES)
def test_areas_follow_from_diameter_and_threads(d):
    x = size(d)
    assert cell("bolts", d, "A_b") == pytest.approx(math.pi / 4 * x**2, abs=0.0006)
    assert cell("bolts", d, "A_t") == pytest.approx(math.pi / 4 * (x - 0.9743 / cell("bolts", d, "n_t")) ** 2, abs=0.0006)
    across = cell("bolts", d, "F")
    assert across == pytest.approx(1.5 * x + 1 / 8)
    assert cell("bolts", d, "A_brg") == pytest.approx(math.sqrt(3) / 2 * across**2 - math.pi / 4 * x**2, abs=0.0015)


@pytest.mark.parametrize("d", SIZES)
@pytest.mark.parametrize(("column", "F_u"), [("T_b", 120), ("T_b_150", 150)])
def test_pretension_is_seventy_percent_of_the_tensile_strength(d, column, F_u):
    assert cell("bolts", d, column) == pytest.approx(0.70 * F_u * cell("bolts", d, "A_t"), abs=0.6)


def test_sizes_rise_together():
    for column in ("A_b", "A_t", "F", "A_brg", "T_b", "T_b_150", "L_e_min"):
        found = [cell("bolts", d, column) for d in SIZES]
        assert found == sorted(set(found))


@pytest.mark.parametrize("d", SIZES)
def test_the_least_edge_leaves_steel_beside_the_hole(d):
    assert cell("bolts", d, "L_e_min") > cell("bolt_holes", (d, "standard"), "width") / 2 + size(d) / 4


@pytest.mark.parametrize("d", SIZES)
def test_holes_are_wider_than_the_bolt_and_longer_by_kind(d):
    x, width = size(d), [cell("bolt_holes", (d, kind), "width") for kind in KINDS]
    length = [cell("bolt_holes", (d, kind), "length") for kind in KINDS]
    assert width[0] == x + (1 / 16 if x < 1 else 1 / 8)
    assert width[2] == width[3] == width[0]
    assert length[0] == width[0]
    assert length[1] == width[1]
    assert length[0] < length[1] <= length[2] < length[3] == 2.5 * x


@pytest.mark.parametrize(
    ("grade", "F_u", "share"),
    [("Group 120 (A325) N", 120, 0.450), ("Group 120 (A325) X", 120, 0.563), ("Group 150 (A490) N", 150, 0.450),
     ("Group 150 (A490) X", 150, 0.563), ("A307", 60, 0.450)],
)  # fmt: skip
def test_stresses_are_shares_of_the_tensile_strength(grade, F_u, share):
    assert cell("bolt_stress", grade, "F_nt") == pytest.approx(0.75 * F_u, abs=0.51)
    assert cell("bolt_stress", grade, "F_nv") == pytest.approx(share * F_u, abs=0.51)


def test_every_grade_of_bolts_is_known_by_its_family():
    assert {row["fastener"]: row["family"] for row in table("bolt_stress").rows if row["family"] == "common"} == {
        "A307": "common"
    }


def test_strengths_of_the_least_welds():
    for row in table("welds").rows:
        w = size(row["w_min"])
        r_n = 0.60 * 70 * 0.707 * w
        assert float(row["r_n"]) == pytest.approx(r_n, abs=0.0006)
        assert float(row["phi_r_n"]) == pytest.approx(0.75 * r_n, abs=0.0006)
        assert float(row["r_n_Omega"]) == pytest.approx(r_n / 2, abs=0.0006)


def test_the_least_leg_rises_with_the_thickness():
    found = []
    for t in (0.05, 0.25, 0.26, 0.5, 0.51, 0.75, 0.76, 2.0):
        found.append(table("welds").step(given(t, "in", Source("input", "test"), "t"), "w_min").magnitude)
    assert found == [1 / 8, 1 / 8, 3 / 16, 3 / 16, 1 / 4, 1 / 4, 5 / 16, 5 / 16]

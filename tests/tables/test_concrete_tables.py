"""Bars and soil against arithmetic."""

import math

import numpy as np
import pytest

from rackbook.tables import table
from rackbook.trace import LookupFailed

DENSITY = 490 / 144  # lbf/ft per in2


def test_bars_are_round():
    of = table("rebar")
    d_b, A_b = of.array("d_b"), of.array("A_b")
    assert math.pi / 4 * d_b**2 == pytest.approx(A_b, abs=0.00501)  # areas are printed to 0.01 in2


def test_weight_of_bars_is_that_of_their_round():
    of = table("rebar")
    assert math.pi / 4 * of.array("d_b") ** 2 * DENSITY == pytest.approx(of.array("weight"), rel=0.002)


def test_bars_are_named_by_eighths_of_an_inch():
    of = table("rebar")
    names = np.array([int(str(size).removeprefix("#")) for size in of.column("size")])
    assert np.all(np.diff(names) > 0)
    assert of.array("d_b") == pytest.approx(names / 8, rel=0.035)


def test_a_bar_that_is_not_made():
    with pytest.raises(LookupFailed, match=r"no row with size '#12'"):
        table("rebar").cell("#12", "A_b")


def test_soils_weaken_with_their_class():
    of = table("soil")
    vertical, lateral = of.array("vertical"), of.array("lateral")
    assert np.all(np.diff(vertical) < 0)
    assert np.all(np.diff(lateral) < 0)
    assert vertical / lateral == pytest.approx([10, 10, 15, 40 / 3, 15])
    assert of.cell("3", "lateral").m_as("kPa/m") == pytest.approx(31.4, abs=0.05)  # the metric equivalent in print


def test_a_soil_slides_on_friction_or_on_cohesion():
    of = table("soil")
    assert list(np.isnan(of.array("friction"))) == [False] * 4 + [True]
    assert list(np.isnan(of.array("cohesion"))) == [True] * 4 + [False]
    with pytest.raises(LookupFailed, match="prints nothing"):
        of.cell("5", "friction")


def test_exposure_asks_for_strength_by_its_water_ratio():
    of = table("concrete_exposure")
    by_ratio = {0.55: 3500, 0.50: 4000, 0.45: 4500, 0.40: 5000}
    for row in of.column("class"):
        strength = of.cell(row, "f_c_min").m_as("psi")
        assert strength == (by_ratio[float(of.cell(row, "w_cm").magnitude)] if of.has(row, "w_cm") else 2500)


def test_holes_for_anchors_are_larger_than_rods_and_covered_by_washers():
    of = table("anchor_holes")
    rod, hole, washer = (of.array(name) for name in ("diameter", "hole", "washer"))
    assert np.all((hole - rod >= 9 / 16) & (hole - rod <= 1.25))
    assert np.all(washer > hole)
    assert np.all(np.diff(of.array("thickness")) >= 0)

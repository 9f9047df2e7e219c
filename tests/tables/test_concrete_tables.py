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

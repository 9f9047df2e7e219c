"""Sling angles and limits of the road, against arithmetic."""

import numpy as np
import pytest

from rackbook.tables import table


def test_factors_by_angle_are_one_over_the_sine():
    of = table("sling_angle")
    by_formula = 1 / np.sin(np.radians(of.array("angle")))
    assert of.array("factor") == pytest.approx(by_formula, rel=1e-3)
    assert np.all(np.diff(of.array("factor")) > 0)
    assert of.cell("45", "factor").source.how == "read"


def test_limits_of_the_road_agree_with_each_other():
    of = table("transport_limits")

    def cell(item, column="length"):
        return of.cell(item, column)

    assert cell("width").m_as("in") == pytest.approx(102)
    assert cell("width").m_as("m") == pytest.approx(2.6, abs=0.01)
    assert cell("height").m_as("in") - cell("flatbed_deck").m_as("in") == pytest.approx(102)
    assert cell("height").m_as("in") - cell("step_deck").m_as("in") == pytest.approx(120)
    single, tandem = cell("single_axle", "weight").m_as("lbf"), cell("tandem_axle", "weight").m_as("lbf")
    assert single < tandem < 2 * single
    # a five-axle vehicle: steering axle and two tandems reach the gross weight
    assert 12_000 + 2 * tandem == cell("gross", "weight").m_as("lbf")
    assert cell("step_deck").source.mark
    assert not cell("width").source.mark

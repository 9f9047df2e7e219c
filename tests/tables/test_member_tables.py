"""The tables of steel members against arithmetic and against each other."""

import pytest

from rackbook.tables import table


@pytest.mark.parametrize("row", table("resistance_factors").rows, ids=lambda row: row["limit_state"])
def test_safety_factor_is_that_of_the_resistance_factor(row):
    phi = float(row["phi"])
    assert 0.6 <= phi <= 1.0
    if row["Omega"]:
        assert float(row["Omega"]) == round(1.5 / phi, 2)
    else:
        assert row["clause"].startswith("ACI")  # concrete has strength design alone


def coefficient(element, column):
    return table("slenderness_limits").cell(element, column).magnitude


def root(element, column, F_y):
    return coefficient(element, column) * (29_000 / F_y) ** 0.5


@pytest.mark.parametrize(
    ("element", "column", "F_y", "printed"),
    [
        ("HSS walls, compression", "lambda_r", 50, 33.7),
        ("I flange, compression", "lambda_r", 50, 13.5),
        ("I web, compression", "lambda_r", 50, 35.9),
        ("I/C flange, flexure", "lambda_p", 50, 9.15),
        ("I/C flange, flexure", "lambda_r", 50, 24.1),
        ("angle leg, flexure", "lambda_p", 50, 13.0),
        ("angle leg, flexure", "lambda_r", 50, 21.9),
        ("HSS flange, flexure", "lambda_p", 50, 27.0),
        ("HSS flange, flexure", "lambda_r", 50, 33.7),
        ("HSS web, flexure", "lambda_p", 50, 58.3),
    ],
)
def test_limits_as_worked_in_the_design_examples(element, column, F_y, printed):
    assert root(element, column, F_y) == pytest.approx(printed, abs=0.051)


def test_limits_of_round_sections():
    assert coefficient("round HSS/pipe, compression", "lambda_r") * 29_000 / 35 == pytest.approx(91.1, abs=0.051)
    of = table("slenderness_limits")
    for row in of.rows:
        assert not row["lambda_p"] or float(row["lambda_p"]) < float(row["lambda_r"])
        assert row["basis"] in ("sqrt(E/F_y)", "E/F_y")
        assert (row["basis"] == "E/F_y") == row["element"].startswith("round")


def test_effective_width_constants_belong_together():
    of = table("effective_width")
    for c_1, c_2 in zip(of.array("c_1"), of.array("c_2"), strict=True):
        assert (1 - (1 - 4 * c_1) ** 0.5) / (2 * c_1) == pytest.approx(c_2, abs=0.00501)


def test_torsion_of_strut_is_that_of_its_thin_walls():
    of, strut = table("strut_torsion"), table("strut")
    assert of.column("section") == strut.column("section")
    assert of.array("J") == pytest.approx(strut.array("A") * strut.array("t") ** 2 / 3, rel=0.02)

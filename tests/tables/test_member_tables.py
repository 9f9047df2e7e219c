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


def test_strut_has_warping_properties_in_every_row():
    of, strut = table("strut_torsion"), table("strut")
    assert of.column("section") == strut.column("section")
    double = of.column("section").index("1-5/8x3-1/4 double")
    assert of.array("x_o")[double] == of.array("j")[double] == 0
    single, A, r_1, r_2, x_o, C_w, W_no = (
        t.array(name)[0] for t, name in (
            (strut, "A"), (strut, "A"), (strut, "r_1"), (strut, "r_2"), (of, "x_o"), (of, "C_w"), (of, "W_no")
        )
    )  # fmt: skip
    assert single == A
    # about a pole on the outer face of the back: C_w + I_2 e^2 for each of the two halves
    e = x_o - strut.array("e")[0]
    assert 2 * (C_w + A * r_2**2 * e**2) == pytest.approx(of.array("C_w")[double], rel=0.03)
    assert W_no < of.array("W_no")[double] < W_no + e * 1.625 / 2
    assert r_1 < r_2

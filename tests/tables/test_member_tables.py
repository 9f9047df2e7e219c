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

"""Which checks are ranked on the page of results."""

import pytest

from rackbook.book.ranking import SHOWN, is_movement, is_strength, largest
from rackbook.trace import Source, Value, check

CLAUSE = Source("clause", "Code", "1", "1.1", "memory")


def made(demand, capacity, unit, symbol, of="C", source=CLAUSE, limit=1.0):
    return check(symbol, Value(demand, unit, CLAUSE, symbol), Value(capacity, unit, CLAUSE, of), source, limit)


@pytest.mark.parametrize(
    ("unit", "symbol", "of", "ranked"),
    [
        ("kip", "T", "phi_N", True),
        ("kip*in", "M_r", "M_c", True),
        ("psf", "q", "q_a", True),
        ("kip/in", "f_r", "r_cw", True),
        ("", "R", "R_max", True),
        ("ft", "d_req", "d", True),
        ("", "B_2", "B_most", False),
        ("", "lamb_c", "lamb_max", False),
        ("in", "l_d", "l", True),
        ("in", "delta", "delta_max", False),
        ("in", "s_min", "s", False),
        ("psi", "f_c_min", "f_c_prime", False),
        ("", "rho_min", "rho_s", False),
        ("A", "I_load", "I", False),
        ("pct", "p_d", "p", False),
        ("in**2", "A_c", "A", False),
        ("deg", "phi", "phi_max", False),
    ],
)
def test_what_acts_is_ranked_and_a_size_is_not(unit, symbol, of, ranked):
    assert is_strength(made(1.0, 2.0, unit, symbol, of)) is ranked


def test_a_deflection_against_its_limit_is_ranked_and_no_strength():
    of = made(1.0, 2.0, "in", "delta", "Delta_a")
    assert is_movement(of)
    assert not is_strength(of)
    assert largest([("Frame", of)]) == [("Frame", of)]


def test_a_limit_out_of_a_table_is_not_ranked():
    assert not is_strength(made(1.0, 2.0, "lbf", "W_g", source=Source("table", "Limits", "", "", "read")))


def test_the_largest_come_first_each_against_its_own_limit():
    checks = [("A", made(0.9, 1.0, "", "R")), ("B", made(1.5, 1.0, "", "R", limit=2.0)), ("C", made(1.1, 1.0, "kip", "T"))]
    checks += [("D", check("open", Value(1.0, "kip", CLAUSE, "T"), None, CLAUSE))]
    assert [sheet for sheet, _ in largest(checks)] == ["C", "A", "B"]
    assert len(largest(checks * 20)) == SHOWN

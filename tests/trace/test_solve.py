import numpy as np
import pytest
from formulas import (
    HERE,
    force,
    length,
    mixed_functions,
    pieces,
    pressure,
    profile,
    rise,
    root,
    shear,
    v,
    warm_resistance,
    warmed,
    with_share,
)
from hypothesis import given as given_
from hypothesis import settings
from hypothesis import strategies as st

from rackbook.trace import SolveError, UnitError, formula, recompute, word

#: Formula, its arguments, the unit asked for each.
CASES = [
    (pressure, {"c_q": (0.00256, "psf/mph**2"), "K_z": (0.85, ""), "V": (115, "mph")}),
    (length, {"a": (3, "ft"), "b": (20, "in")}),
    (force, {"q": (20, "psf"), "b": (3, "ft"), "h": (4, "in")}),
    (profile, {"K_0": (2.01, ""), "z": (200, "ft"), "z_g": (900, "ft"), "alpha": (9.5, "")}),
    (warmed, {"T_1": (20, "degC"), "dT": (15, "delta_degF")}),
    (warm_resistance, {"R_1": (2, "ohm"), "alpha": (0.004, "1/K"), "T_2": (75, "degC"), "T_1": (20, "degC")}),
    (shear, {"f_c": (4000, "psi"), "b": (12, "in"), "d": (20, "in")}),
    (with_share, {"I": (100, "A"), "p": (25, "pct")}),
    (root, {"A": (9, "ft"), "B": (4, "ft")}),
]


@pytest.mark.parametrize(
    ("f", "unknown"), [(f, n) for f, numbers in CASES for n in numbers], ids=lambda x: getattr(x, "name", x)
)
@settings(max_examples=5, deadline=None)
@given_(data=st.data())
def test_solving_gives_the_input_back(f, unknown, data):
    numbers = next(n for g, n in CASES if g is f)
    given = {n: v(x * data.draw(st.floats(0.9, 1.1)), of) for n, (x, of) in numbers.items()}
    result = f(**given)
    known = {n: x for n, x in given.items() if n != unknown} | {f.result: result}
    found = f.solve(unknown, unit=given[unknown].unit, **known)
    assert found.m_as(given[unknown].unit) == pytest.approx(given[unknown].magnitude, rel=1e-7)
    assert found.symbol == unknown
    assert set(found.origin.given) == set(known)


@formula(HERE, y="")
def parabola(x, c):
    """Return a parabola."""
    y = x**2 - c
    return y


@formula(HERE, y="")
def plateau(x, c):
    """Return a value that stops at a limit."""
    y = min(x, c)
    return y


@formula(HERE, y="ft")
def gap(a, b, c):
    """Return what is left of a length."""
    y = a - b * c
    return y


def test_domain_ends_are_in_the_domain():
    known = {"c": v(0), "y": v(9)}
    assert parabola.solve("x", domain=(3, 5), **known).magnitude == pytest.approx(3)
    assert parabola.solve("x", domain=(1, 3), **known).magnitude == pytest.approx(3)
    assert length.solve("a", unit="ft", domain=(1, 10), b=v(1, "ft"), L=v(12, "ft")).magnitude == pytest.approx(10)
    assert length.solve("a", unit="ft", domain=(10, 1), b=v(1, "ft"), L=v(3, "ft")).magnitude == pytest.approx(1)


def test_several_answers_are_said_and_narrowed():
    known = {"c": v(0), "y": v(9)}
    with pytest.raises(SolveError, match="2 answers"):
        parabola.solve("x", domain=(-10, 10), **known)
    assert parabola.solve("x", domain=(-10, 0), **known).magnitude == pytest.approx(-3)
    assert parabola.solve("x", **known).magnitude == pytest.approx(3)


def test_a_plateau_settles_nothing():
    with pytest.raises(SolveError, match="does not settle x"):
        plateau.solve("x", c=v(5), y=v(5))
    assert plateau.solve("x", c=v(5), y=v(4)).magnitude == pytest.approx(4)


def test_no_answer_is_said():
    with pytest.raises(SolveError, match="no answer"):
        plateau.solve("x", c=v(5), y=v(6))
    with pytest.raises(SolveError, match="no answer"):
        pieces.solve("L", unit="ft", s=v(1, "ft"), n=v(2.5))


def test_a_wanted_zero():
    found = gap.solve("c", a=v(0.3, "ft"), b=v(0.1, "ft"), y=v(0, "ft"))
    assert found.magnitude == pytest.approx(3)
    assert gap.solve("b", unit="in", a=v(0.3, "ft"), c=v(0.7), y=v(0, "ft")).m_as("ft") == pytest.approx(0.3 / 0.7)


def test_an_unknown_in_an_exponent():
    found = profile.solve("alpha", K_0=v(2.01), z=v(100, "ft"), z_g=v(900, "ft"), K=v(1.0))
    assert 2.01 * (100 / 900) ** (2 / found.magnitude) == pytest.approx(1.0)


def test_a_temperature_is_found_as_a_temperature():
    found = warmed.solve("T_1", unit="degF", dT=v(10, "delta_degC"), T_2=v(30, "degC"))
    assert found.magnitude == pytest.approx(68)
    rise_ = warmed.solve("dT", T_1=v(20, "degC"), T_2=v(30, "degC"))
    assert (rise_.magnitude, rise_.unit) == (pytest.approx(10), "delta_degC")
    with pytest.raises(UnitError):
        warmed.solve("dT", unit="degC", T_1=v(20, "degC"), T_2=v(30, "degC"))


def test_an_angle_within_a_domain():
    found = rise.solve("theta", unit="deg", domain=(0, 90), L=v(10, "ft"), h=v(5, "ft"))
    assert found.magnitude == pytest.approx(30)


def test_a_transcendental_line():
    wanted = mixed_functions(a=v(1.0), b=v(2.5))
    found = mixed_functions.solve("b", domain=(1.5, 10), a=v(1.0), y=wanted)
    assert found.magnitude == pytest.approx(2.5)


def test_solving_again_on_other_inputs():
    leaf = v(115, "mph")
    q = pressure(c_q=v(0.00256, "psf/mph**2"), K_z=v(1), V=leaf)
    K = pressure.solve("K_z", c_q=v(0.00256, "psf/mph**2"), V=leaf, q_z=v(20, "psf"))
    assert recompute(K, {leaf: v(230, "mph")}).magnitude == pytest.approx(K.magnitude / 4)
    assert q.inputs()


@pytest.mark.parametrize(
    ("call", "error", "said"),
    [
        (lambda: length.solve("c", a=v(1, "ft")), SolveError, "no argument 'c'"),
        (lambda: length.solve("a", b=v(1, "ft")), SolveError, "needs 'L'"),
        (lambda: length.solve("a", b=v(1, "ft"), L=v(3, "ft"), x=v(1)), SolveError, "takes no 'x'"),
        (lambda: length.solve("a", b=1.0, L=v(3, "ft")), UnitError, "bare number"),
        (lambda: length.solve("a", b=word("x", HERE), L=v(3, "ft")), UnitError, "is the word"),
        (lambda: length.solve("a", unit="ft", b=v(np.ones(2), "ft"), L=v(3, "ft")), SolveError, "array"),
        (lambda: length.solve("a", unit="lbf", b=v(1, "ft"), L=v(3, "ft")), UnitError, "are added"),
        (lambda: length.solve("a", unit="ft", b=v(1, "ft"), L=v(3, "lbf")), UnitError, "cannot be given"),
        (lambda: pressure.solve("V", unit="mph", c_q=v(1, "psf"), K_z=v(1), q_z=v(1, "psf")), UnitError, "declared"),
        (lambda: pressure.solve("c_q", K_z=v(1), V=v(9, "mph"), q_z=v(1, "psf")), SolveError, "in which unit"),
    ],
)
def test_what_cannot_be_solved_is_said(call, error, said):
    with pytest.raises(error, match=said):
        call()

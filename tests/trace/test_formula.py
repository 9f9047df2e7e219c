import copy
import math
import pickle

import numpy as np
import pytest
import sympy
from formulas import (
    HERE,
    empirical_temperature,
    force,
    length,
    mixed_functions,
    odd_power,
    pieces,
    pressure,
    profile,
    rise,
    root,
    shear,
    total,
    v,
    warm_resistance,
    warmed,
    with_share,
)
from hypothesis import given as given_
from hypothesis import strategies as st

from rackbook.trace import DomainError, SheetError, UnitError, Value, formula, word
from rackbook.trace.units import Quantity

positive = st.floats(0.01, 1e4)


def one_of(*names):
    return st.sampled_from(names)


@given_(positive, positive, one_of("ft", "in", "mm", "m"), one_of("ft", "in", "mm", "m"))
def test_sums_in_any_units_agree_with_pint(a, b, u, w):
    expected = (Quantity(a, u) + 2 * Quantity(b, w)).to("ft").m
    assert length(a=v(a, u), b=v(b, w)).magnitude == pytest.approx(expected, rel=1e-12)


@given_(positive, positive, positive, one_of("psf", "psi", "kPa", "ksf"), one_of("ft", "in", "mm"), one_of("ft", "m"))
def test_products_in_any_units_agree_with_pint(q, b, h, u, w, x):
    found = force(q=v(q, u), b=v(b, w), h=v(h, x))
    assert found.magnitude == pytest.approx((Quantity(q, u) * Quantity(b, w) * Quantity(h, x)).to("lbf").m, rel=1e-12)
    # the direct way and the way through base units give the same
    values = list(found.origin.given.values())
    in_base = force.function(*[n.base for n in values]) / force.unit.scale
    assert found.magnitude == pytest.approx(in_base, rel=1e-12)


@given_(st.lists(positive, min_size=1, max_size=6), positive, one_of("mph", "m/s"))
def test_an_array_call_is_its_scalar_calls(speeds, K, u):
    swept = pressure(c_q=v(0.00256, "psf/mph**2"), K_z=v(K), V=v(np.array(speeds), u))
    singly = [pressure(c_q=v(0.00256, "psf/mph**2"), K_z=v(K), V=v(x, u)).magnitude for x in speeds]
    assert swept.magnitude.tolist() == pytest.approx(singly, rel=1e-14)


@given_(st.floats(0.1, 3), st.floats(0.1, 3))
def test_a_sympy_run_is_a_float_run(a, b):
    x, y = sympy.symbols("x y", positive=True)
    body = mixed_functions(a=x, b=y)
    assert float(body.subs({x: a, y: b})) == pytest.approx(mixed_functions(a=a, b=b), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("size", [0, 1, 3, 200_001])
def test_arrays_of_any_length(size):
    numbers = np.linspace(1, 2, size)
    found = length(a=v(numbers, "in"), b=v(1.0, "ft"))  # mixed units: converted in blocks
    assert found.magnitude.shape == (size,)
    assert np.allclose(found.magnitude, numbers / 12 + 2)
    assert total(F=v(numbers, "kip")).magnitude == pytest.approx(numbers.sum() * 1000)


def test_arrays_of_unequal_length_are_refused():
    with pytest.raises(DomainError, match="broadcast"):
        length(a=v(np.ones(2), "ft"), b=v(np.ones(3), "ft"))


def test_an_array_handed_through_is_not_scaled_in_place():
    @formula(HERE, y="in")
    def same(x):
        """Return the same length."""
        y = x
        return y

    x = v(np.array([1.0, 2.0]), "ft")
    assert same(x=x).magnitude.tolist() == [12.0, 24.0]
    assert x.magnitude.tolist() == [1.0, 2.0]


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: length(a=v(1, "ft"), b=v(1, "lbf")), "a length and a force are added"),
        (lambda: pressure(c_q=v(1, "psf"), K_z=v(1), V=v(1, "mph")), "psf is declared"),
        (lambda: profile(K_0=v(1), z=v(1, "ft"), z_g=v(1, "ft"), alpha=v(1, "ft")), "not a fixed number"),
        (lambda: rise(L=v(1, "ft"), theta=v(1, "ft")), r"sin\(\) is taken of a length"),
        (lambda: force(q=v(1, "psf"), b=word("wide", HERE), h=v(1, "ft")), "is the word 'wide'"),
        (lambda: shear(f_c=v(1, "ft"), b=v(1, "in"), d=v(1, "in")), "written in stated units"),
        (lambda: length(a=v(1, "ft"), b=2.0), "'b' is a bare number"),
        (lambda: warmed(T_1=v(20, "degC"), dT=v(5, "degC")), "two temperatures are added"),
        (lambda: warmed(T_1=v(20, "delta_degC"), dT=v(5, "delta_degC")), "mixed up"),
        (lambda: with_share(I=v(20, "degC"), p=v(5, "pct")), "its zero is arbitrary"),
        (
            lambda: warm_resistance(R_1=v(1, "ohm"), alpha=v(0.004, "1/K"), T_2=v(20, "delta_degC"), T_1=v(5, "degC")),
            "taken from",
        ),
    ],
)
def test_wrong_units_are_refused_by_name(call, said):
    with pytest.raises(UnitError, match=said):
        call()


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: length(), "needs 'a'"),
        (lambda: length(v(1, "ft"), v(1, "ft"), v(1, "ft")), "takes 2 arguments, not 3"),
        (lambda: length(v(1, "ft"), a=v(1, "ft")), "given 'a' twice"),
        (lambda: length(a=v(1, "ft"), c=v(1, "ft")), "has no argument 'c'"),
        (lambda: pressure(1.0, 2.0), "needs 'V'"),
    ],
)
def test_wrong_arguments_are_refused_by_name(call, said):
    with pytest.raises(TypeError, match=said):
        call()


@pytest.mark.parametrize(
    "call",
    [
        lambda: pieces(L=v(1, "ft"), s=v(0, "ft")),
        lambda: pieces(L=v(1, "ft"), s=v(np.zeros(2), "ft")),
        lambda: pieces(L=v(np.float64(1), "ft"), s=v(np.float64(0), "ft")),
        lambda: root(A=v(1, "ft"), B=v(2, "ft")),
        lambda: root(A=v(np.array([1.0, 5.0]), "ft"), B=v(2, "ft")),
        lambda: odd_power(x=v(-8)),
        lambda: odd_power(x=v(np.array([-8.0]))),
        lambda: pressure(c_q=v(1e200, "psf/mph**2"), K_z=v(1e200), V=v(1, "mph")),
        lambda: mixed_functions(a=v(-1e4), b=v(1)),
    ],
)
def test_what_cannot_be_worked_out_is_said_with_its_numbers(call):
    with pytest.raises(DomainError, match=r"cannot be worked out.*Given: "):
        call()


def test_a_complex_step_inside_a_function_is_refused():
    @formula(HERE, y="")
    def hidden(x):
        """Return a real number from a complex step."""
        y = abs(x**0.5)
        return y

    with pytest.raises(DomainError, match="not a real number"):
        hidden(x=v(-4))


@pytest.mark.parametrize(
    ("t", "u", "d", "w", "expected"),
    [
        (40, "degC", 17, "delta_degC", 57),
        (104, "degF", 30.6, "delta_degF", 57),
        (40, "degC", 17, "K", 57),
        (50, "degF", 10, "delta_degC", 20),
    ],
)
def test_temperatures(t, u, d, w, expected):
    assert warmed(T_1=v(t, u), dT=v(d, w)).magnitude == pytest.approx(expected)


def test_differences_of_temperatures_scale():
    found = warm_resistance(R_1=v(2, "ohm"), alpha=v(0.004, "1/K"), T_2=v(167, "degF"), T_1=v(25, "degC"))
    assert found.magnitude == pytest.approx(2 * (1 + 0.004 * 50))


@pytest.mark.parametrize(
    "body", ["max(T, 0)", "abs(T)", "-T", "2 * T", "T / 2", "T**2", "0 - T", "max(T, dT)", "exp(T)", "sqrt(T)"]
)
def test_an_arbitrary_zero_is_not_calculated_with(body, tmp_path):
    f = defined(f"y = {body} + 0 * dT", "y='degC'", "T, dT", tmp_path)
    with pytest.raises(UnitError, match=r"temperature"):
        f(T=v(20, "degC"), dT=v(5, "delta_degC"))


def test_stated_units():
    found = shear(f_c=v(27.57902917, "MPa"), b=v(1, "ft"), d=v(20, "in"))
    assert found.magnitude == pytest.approx(2 * math.sqrt(4000) * 12 * 20)
    assert empirical_temperature(T=v(100, "degC")).magnitude == pytest.approx(212)
    assert empirical_temperature(T=v(212, "degF")).magnitude == pytest.approx(212)


def test_angles_and_percent():
    assert rise(L=v(10, "ft"), theta=v(30, "deg")).magnitude == pytest.approx(5)
    assert rise(L=v(10, "ft"), theta=v(math.pi / 6, "rad")).magnitude == pytest.approx(5)
    assert with_share(I=v(10, "A"), p=v(25, "pct")).magnitude == pytest.approx(12.5)


def test_power_with_the_exponent_given():
    found = profile(K_0=v(2.01), z=v(240, "in"), z_g=v(900, "ft"), alpha=v(9.5))
    assert found.magnitude == pytest.approx(2.01 * (90 / 900) ** (2 / 9.5))


@given_(st.permutations(["c_q", "K_z", "V"]))
def test_arguments_are_kept_in_the_order_of_the_formula(order):
    values = {"c_q": v(0.00256, "psf/mph**2"), "K_z": v(1.0), "V": v(100, "mph")}
    assert list(pressure(**{n: values[n] for n in order}).origin.given) == ["c_q", "K_z", "V"]


def test_values_formulas_and_units_are_pickled_by_name():
    found = warmed(T_1=v(20, "degC"), dT=v(5, "delta_degC"))
    assert copy.deepcopy(found) is found
    by_name = pickle.loads(pickle.dumps(word("D", HERE)))
    assert by_name.is_word
    again = pickle.loads(pickle.dumps(Value(3.0, "psf", HERE, "q")))
    assert (again.measure, again.origin) == (v(3, "psf").measure, HERE)


def defined(line, units, arguments, folder, before="", decorate="", last="return y"):
    """Return a formula written to a file, as a user would."""
    path = folder / "user_formula.py"
    path.write_text(
        "from rackbook.trace import Source, formula\n"
        f"{before}\n"
        f"@formula(Source('clause', 'User'), {decorate}{units})\n"
        f"def user({arguments}):\n"
        "    '''Return it.'''\n" + "".join(f"    {x}\n" for x in line.split("\n")) + f"    {last}\n"
    )
    names = {"__name__": f"user_{folder.name}"}
    import linecache

    linecache.clearcache()
    exec(compile(path.read_text(), str(path), "exec"), names)
    return names["user"]


@pytest.mark.parametrize(
    ("line", "arguments", "said"),
    [
        ("y = a if a > b else b", "a, b", "IfExp"),
        ("y = a <= b and b <= a", "a, b", "BoolOp"),
        ("y = (a * b).to('m')", "a, b", "may call only"),
        ("c=a+b\ny = c", "a, b", "has no unit"),
        ("y = a[0] * b", "a, b", "Subscript"),
        ("y = a['x'] * b", "a, b", "Subscript"),
        ("y = not a", "a", "Not"),
        ("y = [x for x in a]", "a", "ListComp"),
        ("y = np.sqrt(a)", "a", "may call only"),
        ("y = math.sqrt(a)", "a", "may call only"),
        ("y = a.f", "a", "Attribute"),
        ("return a\ny = a", "a", "not a plain 'name = expression'"),
        ("y = floor(a)", "a", "may call only"),
        ("y = where(a > b, a, b)", "a, b", "Compare|may call only"),
        ("y = a % b", "a, b", "Mod"),
        ("y = a // b", "a, b", "FloorDiv"),
        ("y: float = a", "a", "not a plain"),
        ("y = z = a", "a", "not a plain"),
        ("y, z = a, a", "a", "not a plain"),
        ("y += a", "a", "not a plain"),
        ("y = a + True", "a", "not a number"),
        ("y = a + 'x'", "a", "not a number"),
        ("y = a + 2j", "a", "not a number"),
        ("y = a + b", "a", "neither an argument nor an earlier line"),
        ("a = 2 * a\ny = a", "a", "second meaning"),
        ("y = max(a, key=b)", "a, b", "keyword"),
        ("y = sqrt(a, b)", "a, b", "takes one quantity"),
        ("y = a", "a, b", "'b' is not used"),
        ("y = a * pi", "a, pi", "name of a function or constant"),
        ("y = a", "a=3", "without defaults"),
        ("y = a", "*a", "plain arguments only"),
        ("if a: y = a", "a", "not a plain"),
        ("for y in a: pass", "a", "not a plain"),
        ("y = (lambda: a)()", "a", "may call only|Lambda"),
        ("y = f'{a}'", "a", "JoinedStr"),
    ],
)
def test_what_would_be_set_wrongly_is_refused_at_definition(line, arguments, said, tmp_path):
    with pytest.raises(SheetError, match=said) as refused:
        defined(line, "y=''", arguments, tmp_path)
    assert "user" in str(refused.value)


@pytest.mark.parametrize(
    ("units", "last", "said"),
    [
        ("y='', z=''", "return y", "'z' is not used"),
        ("y=''", "return a", "must return"),
        ("y=''", "return y + 1", "end the body"),
    ],
)
def test_a_body_ends_in_its_last_line(units, last, said, tmp_path):
    with pytest.raises(SheetError, match=said):
        defined("y = a", units, "a", tmp_path, last=last)


def test_a_stated_unit_of_no_argument_is_refused(tmp_path):
    with pytest.raises(SheetError, match="'b' has a stated unit"):
        defined("y = a", "y=''", "a", tmp_path, decorate="stated={'b': 'ft'}, ")


def test_a_lambda_and_a_text_that_cannot_be_read_are_refused():
    with pytest.raises(SheetError):
        formula(HERE, y="")(lambda a: a)
    with pytest.raises(SheetError, match="cannot be read"):
        exec(
            "@formula(HERE, y='')\ndef f(a):\n    y = a\n    return y",
            {"formula": formula, "HERE": HERE, "__name__": "nowhere"},
        )


def test_only_the_books_own_functions_run(tmp_path):
    f = defined("y = sqrt(a)", "y=''", "a", tmp_path, before="sqrt = lambda x: 42.0")
    assert f(a=v(9)).magnitude == 3.0


def test_a_line_over_several_rows_with_a_note(tmp_path):
    f = defined("y = (a  # 50 % & return\n     + \\\n     b)", "y=''", "a, b", tmp_path)
    assert f(a=v(1), b=v(2)).magnitude == 3.0
    assert f.lines[0].text == "y = a + b"


def test_a_formula_written_in_a_notebook_cell():
    from IPython.core.interactiveshell import InteractiveShell

    shell = InteractiveShell()
    cell = "\n".join(
        (
            "from rackbook.trace import Source, formula, given, Sheet",
            "@formula(Source('input', 'notebook'), d='in')",
            "def gap(a, b):",
            "    '''Return the gap.'''",
            "    d = a {} b",
            "    return d",
            "result = gap(a=given(3, 'in', Source('input', 'tape')), b=given(1, 'in', Source('input', 'tape')))",
            "shown = Sheet('x', 'x', 'x', (result,)).markdown()",
        )
    )
    for sign, expected in (("-", 2.0), ("+", 4.0)):  # a cell run again is read again
        run = shell.run_cell(cell.format(sign))
        run.raise_error()
        assert shell.user_ns["result"].magnitude == expected
        assert f"a {sign} b" in shell.user_ns["shown"]

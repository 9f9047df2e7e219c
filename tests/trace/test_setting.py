"""How lines are set, and broken; see test_set_truthfully for every formula of the book."""

import itertools
import random

import numpy as np
import pytest
from formulas import HERE, empirical_temperature, mixed_functions, pressure, shear, total, v
from hypothesis import given as given_
from hypothesis import settings
from hypothesis import strategies as st
from readback import flat, sides, tokens
from test_formula import defined

from rackbook.trace import Sheet, SheetError
from rackbook.trace.body import CONSTANTS, Line
from rackbook.trace.layout import LINE, equation, rows, width
from rackbook.trace.reader import Reader
from rackbook.trace.setting import set_line, symbol, templates
from rackbook.trace.units import unit


def line_of(text, names="abcde"):
    import ast

    tree = ast.parse(text, mode="eval")
    used = dict.fromkeys(n.id for n in ast.walk(tree) if isinstance(n, ast.Name) and n.id not in CONSTANTS)
    return Line("y", f"y = {text}", compile(text, "test", "eval"), unit(""), tuple(used))


def wild(depth):
    """Return a strategy of expressions as text, brackets where Python needs them and sometimes where not."""
    leaf = st.sampled_from(["a", "b", "c", "d", "2", "0.5", "3", "pi"])
    if not depth:
        return leaf
    part = wild(depth - 1)
    pairs = st.tuples(part, st.sampled_from(["+", "-", "*", "/"]), part).map(lambda t: f"({t[0]}) {t[1]} ({t[2]})")
    bare = st.tuples(leaf, st.sampled_from(["+", "-", "*", "/", "**"]), leaf).map(lambda t: f"{t[0]} {t[1]} {t[2]}")
    calls = st.tuples(st.sampled_from(["sqrt", "exp", "abs", "sin", "ceil"]), part).map(lambda t: f"{t[0]}({t[1]})")
    powers = st.tuples(part, st.sampled_from(["2", "0.5", "(1 / 3)", "-1", "b"])).map(lambda t: f"({t[0]}) ** {t[1]}")
    minus = part.map(lambda t: f"-({t})")
    two = st.tuples(st.sampled_from(["max", "min"]), part, part).map(lambda t: f"{t[0]}({t[1]}, {t[2]})")
    return st.one_of(leaf, pairs, bare, calls, powers, minus, two)


@settings(max_examples=40, deadline=None)
@given_(wild(2))
def test_a_line_is_set_as_it_runs_or_not_at_all(text):
    line = line_of(text)
    try:
        template = set_line("test", line)
    except SheetError:
        return
    numbers = {n: x for n, x in zip("abcd", (1.7, 0.31, 2.9, 1.13), strict=True) if n in line.names}
    try:
        expected = line.run(numbers)
    except (ArithmeticError, ValueError, TypeError):
        return
    if isinstance(expected, complex):
        return
    read = Reader(template.symbols, {symbol(n): x for n, x in numbers.items()}).value()
    assert read == pytest.approx(expected, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    "text",
    ["a / b / c", "a / b * c", "a - (b - c)", "a / (b * c)", "(a / b) / (c / d)", "2 ** -a", "(a ** b) ** c", "a ** b ** c",
     "-a ** 2", "-(a + b)", "-a * b", "- (a - b) / c", "a * -b", "a - -b", "sqrt(a / b) ** 3", "(a + b) ** (1 / 3)",
     "max(a, b, c / d) - min(a, 2 * b)", "ceil(a / b) * c", "log10(a) + log(b)", "pi * a ** 2 / 4", "a * 1.25e-6",
     "a * 0.00256",
     "asin(a) + acos(b) + atan(c)", "exp(-a * b)", "sum(a * b)", "a*b+c", "-ceil(-a - 0.2)", "a * 1e6", "a * 0.1234567891"],
)  # fmt: skip
def test_lines_that_are_set(text):
    template = set_line("test", line_of(text))
    assert template.left == "y"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("log(0 - a)", "could not be proven"),
    ],
)
def test_lines_that_are_refused_at_first_rendering(text, said):
    with pytest.raises(SheetError, match=said):
        set_line("test", line_of(text))


@pytest.mark.parametrize("name", ["lambda_", "_x", "a__"])
def test_underscores_that_would_vanish_are_refused(name, tmp_path):
    with pytest.raises(SheetError, match="outer underscore"):
        defined(f"y = 2 * {name}", "y=''", name, tmp_path)
    with pytest.raises(SheetError, match="outer underscore"):
        defined(f"{name} = 2 * a\ny = {name}", f"y='', {name}=''", "a", tmp_path)


def test_two_names_of_one_symbol_are_refused(monkeypatch):
    monkeypatch.setattr("rackbook.trace.setting.symbol", lambda name: "x" if name in "ab" else name)
    with pytest.raises(SheetError, match="a and b would be set as one symbol"):
        set_line("test", line_of("a * b"))


@pytest.mark.parametrize("wrong", [r"\frac{ a }{ b }", r"b \cdot a + 1", r"a \cdot", r"a \cdot b \cdot b", r"a = b"])
def test_a_line_set_as_something_else_is_refused(wrong, monkeypatch):
    def typeset(source, names):
        if " = 1" in source:
            return rf"$$ \begin{{aligned}} {names[0]} &= 1 \end{{aligned}} $$"
        numbers = wrong.replace("a ", "\ue000 ").replace("b", "\ue001")
        return rf"$$ \begin{{aligned}} y &= {wrong} = {numbers} &= \ue002 \end{{aligned}} $$"

    monkeypatch.setattr("rackbook.trace.setting._typeset", typeset)
    with pytest.raises(SheetError, match="test: "):
        set_line("test", line_of("a * b"))


@pytest.mark.parametrize("name", ["deflection", "undefined", "return_period", "lambda_r", "definition", "emailed"])
def test_names_that_hold_keywords_are_set(name, tmp_path):
    f = defined(f"y = 2 * {name}", "y=''", name, tmp_path)
    assert name.split("_")[0].removeprefix("lambda") in templates(f)[0].symbols.replace("{", "").replace("}", "")


@pytest.mark.parametrize("name", ["x$y", "a b", "50%", "q#1", "a_b c", "\\frac", "x^2", "über maß"])
def test_symbols_that_are_no_names_are_set_as_words(name):
    assert symbol(name).startswith(r"\text{")
    assert symbol(name).count("{") - symbol(name).count(r"\{") == symbol(name).count("}") - symbol(name).count(r"\}")


def test_small_numbers_and_units_with_underscores_in_the_numbers():
    small = pressure(c_q=v(3.2e-6, "psf/mph**2"), K_z=v(1), V=v(1000, "mile_per_hour"))
    text = Sheet("x", "x", "x", (small,)).markdown()
    assert r"3.2 \times 10^{-6}" in text
    assert r"\mathrm{mile\_per\_hour}" in text
    area = pressure(c_q=v(1, "psf/mph**2"), K_z=v(1), V=v(12, "circular_mil**0.5*mph/circular_mil**0.5"))
    assert r"circular\_mil" in Sheet("x", "x", "x", (area,)).markdown()


def test_negative_operands_stand_in_brackets():
    text = Sheet("x", "x", "x", (mixed_functions(a=v(-2), b=v(3)),)).markdown()
    assert r"- \left( -2 \right)" in text


def test_stated_formulas_show_bare_numbers_and_say_the_units():
    text = Sheet("x", "x", "x", (shear(f_c=v(27.579, "MPa"), b=v(1, "ft"), d=v(20, "in")),)).markdown()
    assert r"\sqrt { 4{,}000" in text
    assert "written for" in text
    assert "in psi, " in text.replace("\\", "")
    assert r"\mathrm{lbf}" in text
    assert r"212\.0" in text or r"212.0" in Sheet("x", "x", "x", (empirical_temperature(T=v(100, "degC")),)).markdown()


def test_sums_over_arrays_are_set_as_sums():
    text = Sheet("x", "x", "x", (total(F=v(np.array([1.0, 2.0]), "kip")),)).markdown()
    assert r"\sum \left( F \right)" in text
    assert r"= 1\ \mathrm{kip} + 2\ \mathrm{kip} = 3{,}000\ \mathrm{lbf}" in text


sides_of_any_kind = st.recursive(
    st.sampled_from(
        ["a", r"K_{zt}", r"28.74\ \mathrm{psf}", r"\alpha", r"1.2 \times 10^{-5}", "12{,}345", r"\mathrm{deflection}"]
    ),
    lambda inner: st.one_of(
        st.lists(inner, min_size=2, max_size=6).map(r" \cdot ".join),
        st.lists(inner, min_size=2, max_size=6).map(" + ".join),
        st.tuples(inner, inner).map(lambda t: rf"\frac{{ {t[0]} }}{{ {t[1]} }}"),
        inner.map(lambda t: rf"\left( {t} \right) ^{{ 2 }}"),
        inner.map(lambda t: rf"\sqrt {{ {t} }} - x"),
        inner.map(lambda t: rf"\left( - {t} \right)"),
    ),
    max_leaves=30,
)


@settings(max_examples=150, deadline=None)
@given_(st.lists(sides_of_any_kind, min_size=1, max_size=4), st.floats(4, 80))
def test_breaking_rows_keeps_every_token(parts, line):
    set_out = equation("q_{z}", parts, line)
    assert tokens(flat(set_out)) == tokens(" = ".join(["q_{z}", *parts]))
    assert sides(set_out)[0] == "q_{z}"


@settings(max_examples=150, deadline=None)
@given_(sides_of_any_kind, st.floats(4, 80))
def test_rows_are_broken_only_where_needed(side, room):
    broken = rows(side, room)
    assert tokens(" ".join(broken)) == tokens(side)
    for row in broken:
        assert row.count("{") == row.count("}")
        assert row.count(r"\left") == row.count(r"\right")
    for one, two in itertools.pairwise(broken):
        assert width(f"{one} {two}") > room  # a row is not ended early


def test_a_long_sum_fits_the_line():
    chance = random.Random(3)
    side = " + ".join(rf"{chance.uniform(1, 1e6):,.2f}\ \mathrm{{lbf}}".replace(",", "{,}") for _ in range(40))
    for row in equation("F", [side]).splitlines():
        assert width(row.replace("\\\\", "").replace("&", "")) <= LINE + 1.5


def test_every_refusal_names_the_formula_and_the_line(tmp_path):
    f = defined("x = 2 * a\ny = log(0 - x)", "x='', y=''", "a", tmp_path)
    with pytest.raises(SheetError, match=r"Formula user, line 2: 'y = log\(0 - x\)'"):
        templates(f)
    assert f.source != HERE

import math

import numpy as np
import pytest
from hypothesis import given as given_
from hypothesis import strategies as st

from rackbook.trace import DomainError, Source, UnitError, Value, assume, given, word
from rackbook.trace.figures import figures, figures_latex
from rackbook.trace.setting import unit_latex, value_latex
from rackbook.trace.units import COMMON, SI_BESIDE, WRITTEN, Quantity, convert, unit

HERE = Source("input", "test")
ALIKE = (
    ("ft", "in", "mm", "m", "thou", "kft"),
    ("psf", "ksf", "psi", "kPa"),
    ("lbf", "kip", "N"),
    ("cmil", "kcmil", "mm**2"),
    ("hp", "kW", "W"),
    ("mph", "m/s"),
    ("ohm/kft", "ohm/km"),
    ("", "pct", "%"),
    ("deg", "rad"),
    ("lbm", "kg"),
    ("degC", "degF", "K"),
    ("delta_degC", "delta_degF", "K"),
)


@pytest.mark.parametrize("name", sorted({*COMMON, *SI_BESIDE, *SI_BESIDE.values(), *WRITTEN}))
def test_every_offered_unit_exists(name):
    assert unit(name).scale > 0
    assert unit_latex(unit(name)).count("{") == unit_latex(unit(name)).count("}")


@given_(st.sampled_from(ALIKE).flatmap(lambda a: st.tuples(st.sampled_from(a), st.sampled_from(a))), st.floats(-1e6, 1e6))
def test_conversion_goes_there_and_back_and_agrees_with_pint(pair, x):
    have, want = map(unit, pair)
    there = convert(x, have, want)
    assert convert(there, want, have) == pytest.approx(x, rel=1e-9, abs=1e-6)
    assert there == pytest.approx(Quantity(x, have.pint).to(want.pint).m, rel=1e-9, abs=1e-6)


@pytest.mark.parametrize(
    ("number", "have", "want", "expected"),
    [
        (1, "ft", "in", 12),
        (20, "degC", "degF", 68),
        (-40, "degF", "degC", -40),
        (18, "delta_degF", "delta_degC", 10),
        (1, "kcmil", "cmil", 1000),
        (1, "psi", "psf", 144),
        (1, "hp_motor", "W", 746),
        (1, "thou", "in", 0.001),
        (1, "mil", "um", 25.4),
        (50, "pct", "", 0.5),
        (180, "deg", "", math.pi),
        (1, "lbm", "kg", 0.45359237),
    ],
)
def test_known_conversions(number, have, want, expected):
    assert given(number, have, HERE).m_as(want) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("spelled", "read"), [("ft^2", "ft**2"), ("ft²", "ft**2"), ("°C", "degC"), (" ft ", "ft"), ("µm", "um")]
)
def test_other_spellings_are_one_unit(spelled, read):
    assert unit(spelled) is unit(read)


@pytest.mark.parametrize(
    "name", ["furlongs?", "5 ft", "ft**", "ft;1", "__import__('os')", "-", "2", None, 7, "dB", "dBm", "nowhere"]
)
def test_what_is_no_unit_is_refused(name):
    with pytest.raises(UnitError):
        unit(name)


def test_a_misspelt_unit_is_offered_its_neighbor():
    with pytest.raises(UnitError, match="Did you mean 'kcmil'"):
        unit("kcmill")


@pytest.mark.parametrize(
    ("have", "want"),
    [("lbf", "lbm"), ("ft", "psf"), ("degC", "delta_degC"), ("delta_degF", "degF"), ("", "ft"), ("V", "A"), ("lb", "lbf")],
)
def test_other_dimensions_are_refused(have, want):
    with pytest.raises(UnitError):
        given(1.0, have, HERE, "x").m_as(want)


@pytest.mark.parametrize("number", [True, np.True_, math.nan, np.nan, 1 + 2j, None, [1, 2], {}, 10**400])
def test_what_is_no_number_is_refused(number):
    with pytest.raises(DomainError):
        Value(number, "ft", HERE, "x")


def test_a_number_written_as_text_is_refused_with_a_unit():
    with pytest.raises(UnitError, match="'8' is a word"):
        given("8", "ft", HERE)


@pytest.mark.parametrize("number", [8, np.float64(8), np.float32(8), np.int64(8), np.array(8.0)])
def test_numbers_of_any_kind_become_floats(number):
    assert type(given(number, "ft", HERE).magnitude) is float


def test_arrays_become_floats_that_nobody_changes():
    mine = np.array([1, 2, 3])
    value = given(mine, "ft", HERE)
    mine[0] = 9
    assert value.magnitude.tolist() == [1.0, 2.0, 3.0]
    with pytest.raises(ValueError, match="read-only"):
        value.magnitude[0] = 5
    with pytest.raises(DomainError):
        Value(np.array(["a"]), "ft", HERE)


@pytest.mark.parametrize("origin", [None, "says me", 3])
def test_no_value_without_an_origin(origin):
    with pytest.raises(TypeError, match="Source or a Step"):
        Value(1.0, "ft", origin)


def test_values_are_not_changed_and_not_combined_by_hand():
    v = given(1.0, "ft", HERE, "h")
    for act in (lambda: setattr(v, "magnitude", 2.0), lambda: delattr(v, "magnitude")):
        with pytest.raises(AttributeError):
            act()
    for act in (lambda: v * 2, lambda: 2 + v, lambda: v / v, lambda: -v, lambda: v**2, lambda: np.ones(2) * v):
        with pytest.raises(UnitError, match="in a formula only"):
            act()


def test_words():
    w = word("D", HERE, "site_class")
    assert (w.text(), w.is_word, w.unit, value_latex(w)) == ("D", True, "", r"\text{D}")
    with pytest.raises(UnitError, match="is the word 'D'"):
        w.m_as("ft")


def test_assumptions_say_why():
    assert "assumption: no survey" in assume(5, "ft", "no survey", "h").trace()


@pytest.mark.parametrize(
    ("x", "computed", "as_given"),
    [
        (9.99996, "10.00", "9.99996"),
        (0.00009999, "9.999e-5", "9.999e-5"),
        (1e9, "1.000e9", "1e9"),
        (-0.0, "0", "0"),
        (999999.6, "1,000,000", "1,000,000"),
        (-9.99996, "-10.00", "-9.99996"),
        (28.7379, "28.74", "28.7379"),
        (0.099996, "0.1000", "0.099996"),
        (12345.678, "12,346", "12,345.7"),
        (115.0, "115.0", "115"),
        (5e-324, "4.941e-324", "4.94066e-324"),
        (0.0001, "0.0001000", "0.0001"),
        (math.inf, "∞", "∞"),
        (0.1 + 0.2, "0.3000", "0.3"),
        (1e8, "100,000,000", "100,000,000"),
    ],
)
def test_figures(x, computed, as_given):
    assert figures(x, computed=True) == computed
    assert figures(x, computed=False) == as_given


@given_(st.floats(-1e15, 1e15), st.booleans())
def test_figures_keep_the_number_to_their_last_digit(x, computed):
    text = figures(x, computed=computed)
    digits = 4 if computed else 6
    room = 0.5 * 10.0 ** (math.floor(math.log10(abs(x))) - digits + 1) if x else 0.0
    assert abs(float(text.replace(",", "")) - x) <= room * (1 + 1e-9)
    assert not text.startswith("-0.") or float(text) != 0


def test_figures_of_arrays():
    assert figures(np.array([]), computed=True) == "{}"
    assert figures(np.array([1.0]), computed=False) == "{1}"
    assert figures(np.arange(7.0), computed=False) == "7 values, 0 to 6"
    assert figures(np.full(7, 2.5), computed=False) == "7 values, all 2.5"
    assert figures(np.arange(6.0), computed=False) == "{0; 1; 2; 3; 4; 5}"
    assert figures_latex(np.array([1234.5, 1e-7]), computed=True) == r"\left\{ 1{,}234 ;\ 1.000 \times 10^{-7} \right\}"
    assert figures_latex(-np.arange(7.0), computed=False) == r"\text{7 values, −6 to 0}"


@pytest.mark.parametrize(
    ("of", "text"),
    [
        ("deg", "30°"),
        ("degC", "30 °C"),
        ("pct", "30 %"),
        ("psf", "30 psf"),
        ("lbf*ft", "30 lbf·ft"),
        ("in", "30 in."),
        ("ohm/kft", "30 Ω/kft"),
        ("in**3", "30 in.³"),
        ("kip*in/in", "30 kip·in./in."),
        ("1/in", "30/in."),
    ],
)
def test_written_units(of, text):
    assert given(30, of, HERE).text() == text


def test_si_beside():
    assert given(20, "psf", HERE).text(si=True) == "20 psf (0.9576 kPa)"
    assert given(86, "degF", HERE).text(si=True) == "86 °F (30.00 °C)"


@pytest.mark.parametrize("text", [r"50% & $5 #1_a {x} \y ~^", "a|b", "two\nlines", "`x`", "Ω ≤ µ"])
def test_words_of_any_kind_are_safe_in_latex(text):
    out = value_latex(word(text, HERE))
    bare = out.replace(r"\textbackslash{}", "").replace(r"\textasciicircum{}", "").replace(r"\textasciitilde{}", "")
    bare = bare.replace(r"\textbar{}", "").replace(r"\textquoteleft{}", "")
    assert "\n" not in out
    assert "|" not in bare
    for mark in "%&$#_":
        assert bare.count(mark) == bare.count("\\" + mark)

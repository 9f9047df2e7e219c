"""How numbers, units, symbols and sentences stand on a sheet."""

import numpy as np
import pytest

import rackbook.book  # noqa: F401  the library's symbols
from rackbook.tables import table
from rackbook.trace import Grid, Remark, Sheet, Source, check, formula, given, largest, pick, smallest, word
from rackbook.trace.derive import FOOTNOTE
from rackbook.trace.figures import set_figures
from rackbook.trace.maths import abs, ceil, max, sum
from rackbook.trace.prose import head, prose
from rackbook.trace.setting import symbol
from rackbook.trace.source import LEGEND
from rackbook.trace.text import said

BY_HAND = Source("derivation", "by hand")
RECALLED = Source("clause", "A standard", "22", "4.1", "memory")


def v(number, unit="", symbol="x", source=BY_HAND):
    return given(number, unit, source, symbol)


def sheet(*parts, si=False):
    return Sheet("s", "S", "", parts, si=si).markdown().replace("\xa0", " ").replace("\u2060", "")


@formula(BY_HAND, F="kip")
def combined(c, Y):
    """Return the force of a combination."""
    F = sum(c * Y)
    return F


@formula(BY_HAND, P="kip")
def pressing(c, Y):
    """Return the compression of a combination."""
    P = -sum(c * Y)
    return P


@formula(BY_HAND, x_bar="ft")
def centroid(w, x, x_0):
    """Return the mean place from a line."""
    x_bar = sum(w * (x - x_0)) / sum(w)
    return x_bar


@formula(BY_HAND, F="kip")
def scaled(k, Y):
    """Return scaled forces."""
    F = k * Y
    return F


def array(*numbers, unit="", symbol="x"):
    return v(np.array(numbers, float), unit, symbol)


# ---- the dagger


def test_what_was_recalled_has_a_dagger_and_the_sheet_one_legend():
    text = sheet(v(3, "kip", "F", RECALLED), v(4, "kip", "G", RECALLED))
    assert text.count("4\\.1 †") == 2
    assert text.count(LEGEND) == 1
    assert text.endswith(f"{FOOTNOTE}\n")
    assert "†" not in sheet(v(3, "kip", "F"))


def test_a_dagger_is_not_parted_from_its_citation():
    assert said(str(RECALLED)).endswith("\xa0†")


# ---- arrays


def test_a_sum_of_few_terms_is_written_out_without_its_zeros():
    c, Y = array(0, 0, 0, 1.3, 0, 0, 1, 0, symbol="c"), array(5, 6, 7, 151.1, 8, 9, -2, 3, unit="kip", symbol="Y")
    text = sheet(combined(c=c, Y=Y))
    assert r"= 1.3 \cdot 151.1\ \mathrm{kip} + 1 \cdot \left( -2\ \mathrm{kip} \right) = 194.4" in text
    assert r"= - 1.3 \cdot 151.1\ \mathrm{kip} - 1 \cdot \left( -2\ \mathrm{kip} \right) = -194.4" in sheet(pressing(c=c, Y=Y))


def test_terms_that_are_sums_stand_in_brackets():
    w, x = array(2, 0, 1, symbol="w"), array(1, 2, 3, unit="ft", symbol="x")
    text = sheet(centroid(w=w, x=x, x_0=v(12, "in", "x_0")))
    assert r"2 \cdot \left( 1\ \mathrm{ft} - 12" not in text  # the first one stands on the line itself: no term
    assert r"\frac{ 1 \cdot \left( 3\ \mathrm{ft} - 12\ \text{in.} \right) }{ 2 + 1 }" in text


def test_a_sum_of_many_terms_stands_in_its_symbols():
    many = np.arange(1.0, 20)
    text = sheet(combined(c=array(*many, symbol="c"), Y=array(*many, unit="kip", symbol="Y")))
    assert r"$$F = \sum \left( c \cdot Y \right) = 2{,}470\ \mathrm{kip}$$" in text
    assert "| 19 values\\, 1 to 19 kip |" in text
    assert "ldots" not in text
    assert "…" not in text


def test_a_sum_of_zeros_is_zero():
    zeros = array(*np.zeros(9), symbol="c")
    assert r"\cdot Y \right) = 0\ \mathrm{kip}$$" in sheet(combined(c=zeros, Y=array(*range(9), unit="kip", symbol="Y")))


def test_a_list_of_six_is_whole_and_a_longer_one_says_its_range():
    text = sheet(scaled(k=v(2, symbol="k"), Y=array(1, 1, 1, 4, unit="kip", symbol="Y")))
    assert r"2 \cdot \left\{ 1 ;\ 1 ;\ 1 ;\ 4 \right\}\ \mathrm{kip}" in text
    text = sheet(scaled(k=v(2, symbol="k"), Y=array(*range(7), unit="kip", symbol="Y")))
    assert r"$$F = k \cdot Y = \text{7 values, 0 to 12.00}\ \mathrm{kip}$$" in text


# ---- figures and units


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("-1.988e-5", "−1.988 × 10⁻⁵"),
        ("1.2 D - 1.3 Q twist", "1.2 D − 1.3 Q twist"),
        ("1-1/2 in. P-101, 2.3.6-6, #4-a", "1-1/2 in. P-101, 2.3.6-6, #4-a"),
        ("tag 2e5 and PNL-2e-5", "tag 2e5 and PNL-2e-5"),
    ],
)
def test_figures_in_texts(text, shown):
    assert set_figures(text).replace("\xa0", " ") == shown


def test_numbers_keep_their_units_and_sentences_one_stop():
    assert said("a rod of 3 in.. Then 4 kip*") == "a rod of 3\xa0in\\. Then 4\xa0kip\\*"
    assert said("5 lbf/in. or kip·in./in.") == "5\xa0lbf\\/\u2060in\\. or kip·in\\.\\/\u2060in\\."
    assert said("drawing A/in, 3 A36 bolts") == "drawing A\\/in\\, 3 A36 bolts"


def test_columns_have_true_minus_signs_and_no_noise():
    rows = ((combined(c=v(1), Y=v(n, "kip")),) for n in (-123.4, 4.084e-9, 2e-3))
    text = sheet(Grid("Forces", ("F [kip]",), tuple(rows)))
    assert [line.strip("| ") for line in text.splitlines()[-3:]] == ["−123.4", "0", "0.002000"]
    small = sheet(Grid("Forces", ("F [kip]",), ((combined(c=v(1), Y=v(-2e-5, "kip")),),)))
    assert "−2.000 × 10⁻⁵" in small


def test_si_beside_has_four_figures():
    assert v(1000.3, "in**4").text(si=True) == "1,000.3 in.⁴ (416,400,000 mm⁴)"
    assert r"\left( 416{,}400{,}000\ \mathrm{mm}^{4} \right)" in sheet(v(1000.3, "in**4", "I"), si=True)


@formula(BY_HAND, n_b="")
def bolts(n_x, n_z):
    """Return the number of bolts."""
    n_b = n_x * n_z
    return n_b


@formula(BY_HAND, k="")
def steps(a, b):
    """Return whole steps."""
    k = ceil(a / b)
    return k


@formula(BY_HAND, psi="")
def factor(a, b):
    """Return a factor."""
    psi = a * b
    return psi


def test_counts_are_whole_numbers_and_factors_have_four_figures():
    assert bolts(n_x=v(2), n_z=v(2)).text() == "4"
    assert bolts(n_x=v(2.5), n_z=v(3)).text() == "7.500"
    assert steps(a=v(5), b=v(2)).text() == "3"
    assert factor(a=v(2), b=v(1)).text() == "2.000"


# ---- symbols


@pytest.mark.parametrize(
    ("name", "tex"),
    [
        ("f_c_prime", "f'_{c}"),
        ("e_V_prime", "e'_{V}"),
        ("F_nt_prime", "F'_{nt}"),
        ("phi_N_rg", r"\phi N_{rg}"),
        ("phi_c", r"\phi_{c}"),
        ("P_e_story", "P_{e,story}"),
        ("V_xi", "V_{xi}"),
        ("R_mu", r"R_{\mu}"),
    ],
)
def test_symbols_as_the_standards_print_them(name, tex):
    assert symbol(name) == tex


@formula(BY_HAND, e="in")
def eccentricity(a, b):
    """Return a distance, whatever its sense."""
    e = abs((a - b) / max(a, b) * a)
    return e


def test_absolute_values_stand_between_bars():
    text = sheet(eccentricity(a=v(2, "in"), b=v(3, "in")))
    assert "operatorname" not in text
    assert text.count(r"\left|") == text.count(r"\right|") == 2


def test_symbols_in_sentences_and_heads():
    assert prose("K_zt and f_c' of S_DS (rho); P-101, no_symbol_of_any") == (
        "$K_{zt}$ and $f'_{c}$ of $S_{DS}$ \\($\\rho$\\)\\; P\\-101\\, no\\_symbol\\_of\\_any"
    )
    assert "$K_{zt}$ is 1" in sheet(Remark("K_zt is 1"))
    assert [head(h) for h in ("w_x", "L_c/r", "P max", "c M_xi", "By", "Largest motor", "epsilon")] == [
        "$w_{x}$", r"$L_{c}$\/$r$", "$P_{max}$", "$c$ $M_{xi}$", "By", "Largest motor", r"$\epsilon$",
    ]  # fmt: skip
    text = sheet(Grid("T", ("Part", "w_x [in**2]"), (("a", v(1, "in**2")),)))
    assert "| Part | $w_{x}$ \\[in\\.²\\] |" in text


# ---- look-ups and choices


def test_a_look_up_reads_as_its_place():
    K_0 = table("wind_exposure").cell(("7-22", "C"), "K_0", "K_0")
    text = sheet(K_0)
    assert "Table 26\\.11\\-1\\, exposure C" in text
    assert "row" not in text
    assert "column" not in text


def test_inputs_are_named_by_file_and_line_and_words_without_underscores():
    text = sheet(word("open_frame", Source("input", "rack.yaml", "", "site.use_of, line 3"), "structure"))
    assert r"\text{open frame}" in text
    assert "| rack\\.yaml\\, site\\.use\\_of\\, line 3 |" in text


def test_choices_say_what_governs():
    a, b, same = v(3, "in", "a"), v(2, "in", "b"), v(3, "in", "c")
    assert "*Governs\\: one\\. Not governing\\: two \\(2 in\\.\\)\\.*" in sheet(largest("h", {"one": a, "two": b}))
    equal = sheet(smallest("h", {"one": a, "two": same}))
    assert "*Both equal\\.*" in equal
    assert r"\min" not in equal
    assert "Governs" not in equal
    picked = sheet(pick("h", {"one (a)": a, "two": b}, "one (a)", "it fits"))
    assert "*Selected\\: one \\(a\\)\\; it fits\\. Not selected\\: two \\(2 in\\.\\)\\.*" in picked


def test_a_choice_is_written_as_what_it_chose():
    assert largest("h", {"one": v(8.5, "ft"), "two": v(8, "ft")}).text() == "8.5 ft"


def test_a_checks_table_has_the_marks_of_print():
    text = sheet(check("Pull", v(-5, "kip"), v(8, "kip"), RECALLED))
    assert "| Pull | −5 kip | 8 kip |" in text
    assert "A standard\\-22\\, 4\\.1 †" in text

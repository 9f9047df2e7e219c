"""Reading tables: values and their sources, bands, next sizes, interpolation, refusals, and reading again."""

import pickle
import re

import numpy as np
import pytest
from hypothesis import given as always
from hypothesis import strategies as st

from rackbook.tables import names, table
from rackbook.tables.table import Table
from rackbook.trace import LookupFailed, Source, UnitError, given, recompute, touched, word

INPUT = Source("input", "rack.yaml")


def number(magnitude, unit="", symbol=""):
    return given(magnitude, unit, INPUT, symbol)


# -- exact


def test_a_cell_says_where_it_stands():
    ampacity = table("ampacity").cell("4/0", "cu_75C [A]", "I_tab")
    assert (ampacity.magnitude, ampacity.unit, ampacity.symbol) == (230, "A", "I_tab")
    assert ampacity.trace() == "I_tab = 230 A  [table: NFPA 70-2020 and 2023, Table 310.16, row 4/0, column cu_75C]"
    assert ampacity.source.kind == "table"
    assert ampacity.source.how == "read"


def test_columns_go_by_full_or_bare_name():
    assert table("ampacity").cell("4/0", "cu_75C").magnitude == table("ampacity").cell("4/0", "cu_75C [A]").magnitude


def test_keys_may_be_numbers_words_or_values():
    motors = table("motor_current_three_phase")
    assert motors.cell("7-1/2", "460V").magnitude == 11
    assert motors.cell(7.5, "460V").magnitude == 11
    assert motors.cell("7 1/2", "460V").magnitude == 11
    power = number(10, "hp_motor", "P")
    assert motors.cell(power.m_as("hp_motor"), "460V").magnitude == 14
    assert table("raceway").cell(("emt", 1.25), "ID").magnitude == 1.38
    size = word("4/0", INPUT, "size")
    impedance = table("conductor_impedance").cell((size, "copper", "steel"), "R", "R")
    assert impedance.origin.given == {"size": size}


def test_sizes_are_words_and_not_numbers():
    for keys in ("60", "300"):
        size = table("equipment_ground").cell(keys, "copper")
        assert size.is_word
        assert size.magnitude in ("10", "4")
    assert table("conductor_dimensions").cell(("THHN", "4"), "size").magnitude == "4"
    assert table("raceway").cell(("EMT", "1/2"), "trade_size").magnitude == "1/2"


def test_values_that_decided_are_kept():
    size = word("1/0", INPUT, "size")
    cell = table("ampacity").cell("1/0", "cu_75C", "I_tab", by={"size": size})
    assert cell.inputs() == [size]
    larger = recompute(cell, {size: word("4/0", INPUT, "size")})
    assert larger.magnitude == 230
    assert "row 4/0" in larger.trace()
    assert larger.symbol == "I_tab"


def test_labels_of_single_cells():
    read, remembered = (table("conductor_impedance").cell(("500", "aluminum", "PVC"), c) for c in ("R", "Z_e"))
    assert read.source.how == "read"
    assert remembered.source.mark == "†"
    assert table("raceway").cell(("EMT", "2"), "A_40").source.how == "derived"


def test_a_row_may_name_its_edition_and_clause():
    row = table("termination_temperature").cell("over_100A", "T")
    assert row.source.citation == "NFPA 70-2020 and 2023, 110.14(C)(1)(b), row over_100A, column T"
    cited = table("seismic_systems").cell(("7-22", "self_supporting"), "R").source.citation
    assert cited == "ASCE/SEI 7-22, Table 15.4-2, row self_supporting, column R"


def test_a_table_as_a_whole():
    ampacity = table("ampacity")
    assert ampacity is table("ampacity")
    assert ampacity.source.citation == "NFPA 70-2020 and 2023, Table 310.16"
    assert ampacity.rows[0]["size"] == "18"
    assert ampacity.column("cu_90C")[:2] == (14, 18)
    assert np.isnan(ampacity.array("cu_60C")[0])
    assert ampacity.has("4/0", "cu_75C")
    assert not ampacity.has("18", "cu_75C")
    assert not ampacity.has("13")
    assert pickle.loads(pickle.dumps(ampacity)) is ampacity


@pytest.mark.parametrize("name", names())
def test_every_printed_cell_can_be_read(name):
    of = table(name)
    for row, cells in zip(of.rows, of.cells, strict=True):
        if of.head.band:
            continue
        for column, cell in zip(of.columns, cells, strict=True):
            if cell is not None:
                assert of.cell(tuple(row[k] for k in of.keys), column).magnitude == cell


# -- refusals


@pytest.mark.parametrize(
    ("ask", "message"),
    [
        (lambda: table("ampacty"), "no table 'ampacty'. Did you mean 'ampacity'? Tables: ambient_factors, ampacity,"),
        (lambda: table("../secrets"), "no table '../secrets'"),
        (lambda: table("ampacity").cell("13", "cu_75C"), "ampacity (NFPA 70, Table 310.16) has no row with size '13'."),
        (lambda: table("ampacity").cell("13", "cu_75C"), "Rows: 18, 16, 14, 12"),
        (lambda: table("ampacity").cell("4/0", "cu75C"), "no column 'cu75C'. Did you mean 'cu_75C [A]'? Columns: size"),
        (lambda: table("ampacity").cell("18", "cu_75C"), "prints nothing in row 18, column cu_75C [A]. Printed in that row: "),
        (lambda: table("raceway").cell(("EMT", "5"), "ID"), "no row with trade_size '5' at kind 'EMT'. Rows: 1/2, 3/4, 1,"),
        (lambda: table("raceway").cell(("ETM", "1"), "ID"), "no row with kind 'ETM'. Did you mean 'EMT'? Rows: EMT, RMC"),
        (lambda: table("raceway").cell("EMT", "ID"), "is read by 2 exact keys (kind, trade_size), not 1"),
        (lambda: table("ambient_factors").step(95, "90C"), "has no band for x = 95 °C. Bands: x <= 10 °C (printed 10 or less)"),
        (lambda: table("ambient_factors").step(58, "60C"), "prints nothing in row 55 < x <= 60 °C (printed 56-60)"),
        (lambda: table("ampacity").step(3, "cu_75C"), "has no bands; its keys are size. Use cell()."),
        (lambda: table("count_adjustment").step(3.5, "factor"), "counts whole numbers; x = 3.5 is not one"),
        (lambda: table("count_adjustment").step(0, "factor"), "has no band for x = 0"),
        (lambda: table("force_coefficient_open").step(0.71, "flat_sided"), "has no band for x = 0.71"),
        (lambda: table("ampacity").interpolate(3, "cu_75C"), "is not a table to interpolate in"),
        (lambda: table("count_adjustment").interpolate(3, "factor"), "is not a table to interpolate in"),
        (
            lambda: table("force_coefficient_cabinet").interpolate(30, "C_f", at=("square",)),
            "is printed for h_over_D from 1 to 25; h_over_D = 30 is above it. Nothing is read past the end rows",
        ),
        (lambda: table("site_coefficient_fa").interpolate(0.9, "F_a", at=("7-16", "E")), "prints 'see 11.4.8' and no number"),
        (lambda: table("site_coefficient_fa").interpolate(0.9, "F_a", at=("7-22", "D")), "no row with edition '7-22'"),
        (
            lambda: table("standard_ratings").at_least(6001, "rating", at=("2023", "breaker")),
            "ends at rating [A] 6000; rating = 6001 is above it",
        ),
        (lambda: table("equipment_ground").at_most(10, "copper"), "begins at rating [A] 15; rating = 10 is below it"),
        (lambda: table("equipment_ground").at_least(number(np.array([20.0, 30.0]), "A"), "copper"), "a sweep holds numbers"),
        (lambda: table("equipment_ground").array("copper"), "holds words such as '14'"),
    ],
)
def test_refusals_say_what_there_is(ask, message):
    with pytest.raises(LookupFailed, match=re.escape(message)):
        ask()


def test_a_wrong_dimension_is_refused():
    with pytest.raises(UnitError, match="T_a"):
        table("ambient_factors").step(number(40, "ft", "T_a"), "90C")


# -- bands


def test_ambient_between_printed_degrees_goes_up():
    of = table("ambient_factors")
    for ambient, factor in ((40, 0.91), (40.6, 0.87), (41, 0.87), (45, 0.87), (45.1, 0.82), (-10, 1.15)):
        assert of.step(number(ambient, "degC", "T_a"), "90C").magnitude == factor
    assert of.step(number(105, "degF", "T_a"), "90C").magnitude == 0.87


def test_a_band_says_itself():
    factor = table("ambient_factors").step(number(40.6, "degC", "T_a"), "90C", "F_T")
    assert factor.trace().splitlines() == [
        "F_T = 0.87  [step table: NFPA 70-2020 and 2023, Table 310.15(B)(1)(1), "
        "row 40 < T_a <= 45 °C (printed 41-45), column 90C]",
        "  T_a = 40.6 °C  [input: rack.yaml]",
    ]


def test_a_band_is_found_again():
    ambient = number(40.6, "degC", "T_a")
    factor = table("ambient_factors").step(ambient, "90C", "F_T")
    assert recompute(factor, {ambient: number(47, "degC")}).magnitude == 0.82
    assert touched(ambient, {"electrical.F_T": factor}) == ["electrical.F_T"]


def test_exact_keys_before_a_band():
    S_DS = number(0.5, "", "S_DS")
    category = table("seismic_design_category").step(S_DS, "II", "SDC", at=("S_DS",))
    assert category.is_word
    assert category.text() == "D"
    edition = word("2020", INPUT, "edition")
    adder = table("rooftop_adder").step(number(0.8, "in", "h_r"), "adder", "dT", at=(edition,))
    assert adder.m_as("delta_degC") == 33
    assert set(adder.origin.given) == {"edition", "h_r"}
    assert recompute(adder, {edition: word("2023", INPUT)}).magnitude == 0


def test_bands_of_a_sweep_equal_single_reads():
    of, epsilon = table("force_coefficient_open"), np.linspace(0, 0.7, 29)
    swept = of.step(number(epsilon, "", "epsilon"), "flat_sided").magnitude
    assert swept.tolist() == [of.step(e, "flat_sided").magnitude for e in epsilon.tolist()]
    with pytest.raises(LookupFailed, match=r"no band for x = 0\.8"):
        of.step(number(np.array([0.2, 0.8])), "flat_sided")


# -- next size


def test_next_size_up_and_down():
    ratings = table("standard_ratings")
    for current, rating in ((0.5, 10), (15, 15), (15.01, 20), (101, 110), (6000, 6000)):
        assert ratings.at_least(current, "rating", at=("2023", "breaker")).magnitude == rating
    current = number(101, "A", "I")
    up = ratings.at_least(current, "rating", "OCPD", at=("2023", "breaker"))
    assert up.trace().startswith("OCPD = 110 A  [next row up: NFPA 70-2023, 240.6(A), row breaker, 110, column rating]")
    assert ratings.at_most(current, "rating", at=("2023", "breaker")).magnitude == 100
    assert recompute(up, {current: number(130, "A")}).magnitude == 150
    assert table("equipment_ground").at_least(number(225, "A"), "copper").magnitude == "4"
    assert table("equipment_ground").at_least(number(0.2, "kA"), "copper").magnitude == "6"


def test_next_sizes_of_a_sweep():
    swept = table("standard_ratings").at_least(number(np.array([[1, 16], [99, 5001.0]]), "A"), "rating", at=("2023", "fuse"))
    assert swept.magnitude.tolist() == [[1, 20], [100, 6000]]


# -- between rows


def test_interpolation_says_between_which_rows():
    S_S = number(0.3, "", "S_S")
    F_a = table("site_coefficient_fa").interpolate(S_S, "F_a", "F_a", at=("7-16", "D"))
    assert F_a.magnitude == pytest.approx(1.6 - 0.2 * 0.05 / 0.25)
    assert "interpolation: ASCE/SEI 7-16, Table 11.4-1, between rows 0.25 and 0.5 of S_S, column F_a" in F_a.trace()
    assert "†" in F_a.trace()
    assert recompute(F_a, {S_S: number(0.5)}).magnitude == 1.4


def test_end_values_only_where_the_table_says_so():
    F_a = table("site_coefficient_fa").interpolate(2.5, "F_a", "F_a", at=("7-16", "D"))
    assert F_a.magnitude == 1.0
    assert "above the end row 1.5 of S_S, end value used: the table heads its end columns" in F_a.trace()
    with pytest.raises(LookupFailed, match=r"s_over_h = 1.2 is above it"):
        table("force_coefficient_solid").interpolate((1.2, 2), "C_f")


def test_a_printed_row_is_named_as_such():
    C_f = table("force_coefficient_solid").interpolate((0.5, 2), "C_f")
    assert C_f.magnitude == 1.70
    assert "row 0.5 of s_over_h, row 2 of B_over_s" in C_f.trace()


def test_bilinear_by_hand():
    s_h, B_s = number(0.6, "", "s_h"), number(3, "", "B_s")
    C_f = table("force_coefficient_solid").interpolate((s_h, B_s), "C_f", "C_f")
    assert C_f.magnitude == pytest.approx((1.7 + 1.7 + 1.6 + 1.6) / 4)
    assert "between rows 0.5 and 0.7 of s_over_h, between rows 2 and 4 of B_over_s" in C_f.trace()
    assert set(C_f.origin.given) == {"s_h", "B_s"}
    assert recompute(C_f, {B_s: number(100)}).magnitude == pytest.approx((1.75 + 1.55) / 2)


def test_a_number_beside_a_missing_one_needs_it_only_between():
    fa = table("site_coefficient_fa")
    assert fa.interpolate(0.75, "F_a", at=("7-16", "E")).magnitude == 1.3
    with pytest.raises(LookupFailed, match=r"see 11\.4\.8"):
        fa.interpolate(0.751, "F_a", at=("7-16", "E"))
    with pytest.raises(LookupFailed, match=r"see 11\.4\.8"):
        fa.interpolate(number(np.array([0.3, 0.751])), "F_a", at=("7-16", "E"))


@always(st.floats(0.16, 1), st.floats(0.05, 45))
def test_bilinear_stays_between_its_corners(s_h, B_s):
    of = table("force_coefficient_solid")
    C_f = of.interpolate((s_h, B_s), "C_f").magnitude
    assert 1.3 - 1e-9 <= C_f <= 1.95 + 1e-9
    swept = of.interpolate((number(np.array([s_h, 0.5])), B_s), "C_f").magnitude
    assert swept[0] == pytest.approx(C_f)


def test_a_sweep_of_a_million_is_one_call():
    s_h = np.linspace(0.16, 1, 1_000_000)
    C_f = table("force_coefficient_solid").interpolate((number(s_h), 4), "C_f").magnitude
    assert C_f.shape == s_h.shape
    assert (C_f[0], C_f[-1]) == pytest.approx((1.85, 1.35))


def test_a_table_of_its_own_file(tmp_path):
    path = tmp_path / "own.csv"
    path.write_text("# source: a test\n# how: derived\n# keys: a\n# cross-checked: by eye\na,b [ft]\nx,1\ny,\n")
    own = Table(path)
    assert own.cell("X", "b").text() == "1 ft"
    assert own.cell("x", "b").trace() == "value = 1 ft  [table: a test, row x, column b]"

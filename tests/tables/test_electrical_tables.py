"""The tables of NFPA 70 against arithmetic: areas, resistances, factors and the counts of Annex C."""

import itertools
import math

import numpy as np
import pytest

from rackbook.tables import table

TEMPERATURES = (60, 75, 90)
EMT = ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2")


def magnitude(name, keys, column):
    return table(name).cell(keys, column).magnitude


def rising(values):
    values = [v for v in values if v is not None and not (isinstance(v, float) and math.isnan(v))]
    return all(a < b for a, b in itertools.pairwise(values))


def test_ampacity_rises_with_size_and_temperature():
    of = table("ampacity")
    columns = {(m, t): of.array(f"{m}_{t}C") for m in ("cu", "al") for t in TEMPERATURES}
    assert all(rising(column.tolist()) for column in columns.values())
    for m in ("cu", "al"):
        for low, high in ((60, 75), (75, 90)):
            ratio = columns[m, high] / columns[m, low]
            assert np.nanmin(ratio) >= 1.08
            assert np.nanmax(ratio) <= 1.34
    share = columns["al", 75] / columns["cu", 75]
    assert np.nanmin(share) > 0.74
    assert np.nanmax(share) < 0.96


def test_ambient_factor_is_the_square_root_at_the_top_of_its_band():
    of = table("ambient_factors")
    top = of.array("to")
    for t in TEMPERATURES:
        printed = of.array(f"{t}C")
        inside = ~np.isnan(printed)
        assert np.sqrt((t - top[inside]) / (t - 30)) == pytest.approx(printed[inside], abs=0.005)
    assert np.count_nonzero(~np.isnan(of.array("60C"))) == 10
    fahrenheit = of.rows[6]["printed_F"]
    assert fahrenheit == "96-104"
    assert round(35 * 1.8 + 32) + 1 == 96


def test_count_adjustment_falls():
    percent = table("count_adjustment").array("factor").tolist()
    assert percent == sorted(percent, reverse=True)
    assert percent[0] == 100


def test_small_conductors_protect_at_or_below_the_60_degree_ampacity():
    for row in table("small_conductors").rows:
        if int(row["size"]) > 14 or row["material"] == "copper-clad aluminum":
            continue
        metal = {"copper": "cu", "aluminum": "al"}[row["material"]]
        limit = magnitude("small_conductors", (row["material"], row["size"]), "max_OCPD")
        assert limit <= magnitude("ampacity", row["size"], f"{metal}_60C")


def test_standard_ratings_by_edition_and_device():
    of = table("standard_ratings")
    ratings = {}
    for row in of.rows:
        ratings.setdefault((row["edition"], row["device"]), []).append(float(row["rating"]))
    assert all(rising(r) for r in ratings.values())
    assert set(ratings["2023", "breaker"]) - set(ratings["2020", "breaker"]) == {10}
    assert set(ratings["2020", "fuse"]) - set(ratings["2020", "breaker"]) == {1, 3, 6, 10, 601}
    from_60 = [r for r in ratings["2023", "breaker"] if r >= 60]
    assert max(b / a for a, b in itertools.pairwise(from_60)) < 1.34


def test_conductor_resistivity_is_constant():
    of = table("conductor_properties")
    area, solid = of.array("area"), np.array([s == "solid" for s in of.column("stranding")])
    bounds = {("R_cu", True): (12.55, 12.63), ("R_cu", False): (12.81, 12.94), ("R_al", False): (21.1, 21.27)}
    for (column, is_solid), (low, high) in bounds.items():
        k = (of.array(column) * area / 1000)[solid == is_solid]
        assert low < k.min() <= k.max() < high
    assert np.all(of.array("R_cu_coated") > of.array("R_cu"))


def test_conductor_areas_are_circles_of_their_diameter():
    of = table("conductor_properties")
    assert math.pi / 4 * of.array("d") ** 2 == pytest.approx(of.array("A"), abs=0.0013)
    strands, wire = of.array("strands"), of.array("d_strand")
    many = strands > 1
    assert strands[many] * wire[many] ** 2 * 1e6 == pytest.approx(of.array("area")[many], rel=0.05)


def test_awg_areas_follow_the_geometric_series():
    sizes = ["18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0"]
    gauge = [int(s) if "/" not in s else 1 - int(s[0]) for s in sizes]
    for size, n in zip(sizes, gauge, strict=True):
        cmil = magnitude("conductor_properties", (size, "stranded"), "area")
        assert (5 * 92 ** ((36 - n) / 39)) ** 2 == pytest.approx(cmil, rel=3e-3)


def half_a_unit(text):
    """Return half a unit of the last printed figure."""
    decimals = len(text.partition(".")[2])
    return 0.5 * 10**-decimals


def test_effective_impedance_is_r_cos_plus_x_sin():
    worst = 0.0
    for row in table("conductor_impedance").rows:
        r, x, z = (float(row[c]) for c in ("R", "X_L", "Z_e"))
        worked = 0.85 * r + math.sin(math.acos(0.85)) * x
        room = 0.85 * half_a_unit(row["R"]) + 0.53 * half_a_unit(row["X_L"]) + half_a_unit(row["Z_e"])
        # printed figures may drop a last zero: 0.1 stands for 0.10
        room = max(room, 0.06 * z) if float(row["R"]) >= 0.1 else max(room, 0.075 * z)
        assert worked == pytest.approx(z, abs=room), row
        worst = max(worst, abs(worked - z) / z)
    assert worst < 0.075


def test_impedance_against_direct_current_resistance():
    for row in table("conductor_impedance").rows:
        key = (row["size"], "stranded")
        dc = magnitude("conductor_properties", key, "R_cu" if row["material"] == "copper" else "R_al")
        assert 0.93 < float(row["R"]) / dc < 1.5, row  # skin and proximity effect only add, and only in large sizes
        assert float(row["X_L"]) < 0.074


def test_steel_conduit_has_the_larger_reactance():
    of = table("conductor_impedance")
    for row in of.rows:
        steel = of.cell((row["size"], row["material"], "steel"), "X_L").magnitude
        assert 1.2 < steel / of.cell((row["size"], row["material"], "PVC"), "X_L").magnitude < 1.28


def test_raceway_areas_are_circles_and_their_percentages():
    of = table("raceway")
    circle = math.pi / 4 * of.array("ID") ** 2
    assert circle == pytest.approx(of.array("A_100"), rel=0.0018)
    for percent in (60, 53, 31, 40):
        assert circle * percent / 100 == pytest.approx(of.array(f"A_{percent}"), abs=0.0011)


def test_raceways_grow_with_trade_size_and_thin_walls_are_wider():
    groups = {}
    for row in table("raceway").rows:
        groups.setdefault(row["kind"], {})[row["trade_size"]] = float(row["ID"])
    assert set(groups) == {"EMT", "RMC", "IMC", "PVC40", "PVC80", "LFMC"}
    assert all(rising(list(sizes.values())) for sizes in groups.values())
    for size, inside in groups["PVC80"].items():
        assert inside < groups["PVC40"][size] < groups["RMC"][size] * 1.001
    for size, inside in groups["RMC"].items():
        if size in groups["IMC"]:
            assert inside < groups["IMC"][size]


def test_insulated_conductors_are_circles_and_larger_than_bare():
    of = table("conductor_dimensions")
    assert math.pi / 4 * of.array("d") ** 2 == pytest.approx(of.array("A"), abs=0.00005)
    for row in of.rows:
        assert float(row["A"]) > magnitude("conductor_properties", (row["size"], "stranded"), "A"), row
    for family in ("THHN", "XHHW", "RHW", "RHW covered"):
        assert rising([float(r["A"]) for r in of.rows if r["family"] == family])


def counted(size, trade_size):
    """Return how many THHN of one size Chapter 9 lets into an EMT, by Tables 1, 4, 5 and Note 7."""
    circle = math.pi / 4 * magnitude("raceway", ("EMT", trade_size), "ID") ** 2
    one = magnitude("conductor_dimensions", ("THHN", size), "A")

    def most(n):
        fill = table("raceway_fill").step(n, "fill", at=("run",)).m_as("")
        ratio = circle * fill / one
        return math.floor(ratio) + (ratio - math.floor(ratio) >= 0.8)

    if most(3) >= 3:
        return most(3)
    return 2 if most(2) >= 2 else min(most(1), 1)


@pytest.mark.parametrize("size", [row["size"] for row in table("annex_C1_emt").rows])
def test_annex_c_follows(size):
    for trade_size in EMT:
        column = "n_" + trade_size.replace("/", "_").replace("-", "_")
        assert counted(size, trade_size) == magnitude("annex_C1_emt", size, column)


def test_every_insulation_has_dimensions_and_an_ampacity_column():
    for row in table("insulation").rows:
        assert table("conductor_dimensions").has((row["family"], "12"))
        assert int(row["T_dry"]) in TEMPERATURES
        assert not row["T_wet"] or int(row["T_wet"]) <= int(row["T_dry"])
        assert not row["type"].endswith("-2") or (row["T_dry"], row["T_wet"]) == ("90", "90")


def test_three_phase_motor_currents():
    of = table("motor_current_three_phase")
    hp, base = of.array("hp"), of.array("230V")
    for volts in (200, 208, 460, 575):
        power = of.array(f"{volts}V") * volts
        both = ~np.isnan(power) & ~np.isnan(base) & (hp >= 3)
        assert power[both] == pytest.approx((base * 230)[both], rel=0.06)
    for column in of.columns[1:]:
        assert rising(of.column(column))
    apparent = math.sqrt(3) * 460 * of.array("460V")
    efficiency_and_factor = 746 * hp / apparent
    assert np.all(efficiency_and_factor[hp >= 1] > 0.44)
    assert np.all(efficiency_and_factor < 0.95)


def test_single_phase_motor_currents():
    of = table("motor_current_single_phase")
    base = of.array("115V") * 115
    assert of.array("230V") * 230 == pytest.approx(base, rel=0.005)
    assert of.array("200V") * 200 == pytest.approx(base, rel=0.015)
    assert of.array("208V") * 208 == pytest.approx(base, rel=0.015)
    assert all(rising(of.column(c)) for c in of.columns[1:])


def test_system_voltages_find_a_column_of_the_motor_tables():
    for system, rated in ((120, 115), (208, 208), (240, 230), (480, 460), (600, 575)):
        found = table("motor_voltage").step(system, "rated").magnitude
        assert found == rated
        assert f"{rated}V" in table("motor_current_three_phase").names


@pytest.mark.parametrize("name", ["equipment_ground", "grounding_electrode"])
def test_grounding_conductors_grow(name):
    order = [row["size"] for row in table("conductor_properties").rows]
    for metal in ("copper", "aluminum"):
        places = [order.index(size) for size in table(name).column(metal)]
        assert places == sorted(places)
    copper, aluminum = (list(map(order.index, table(name).column(m))) for m in ("copper", "aluminum"))
    assert all(a > c for a, c in zip(aluminum, copper, strict=True))


def test_grounding_electrode_bands_are_areas_of_sizes():
    cmil = set(table("conductor_properties").array("area").tolist()) | {350e3, 600e3, 1100e3}
    assert {v for v in table("grounding_electrode").column("to") if v} <= cmil


def test_terminations_and_rooftops():
    assert table("termination_temperature").column("T") == (60, 75, 75, 75)
    adder = table("rooftop_adder")
    assert adder.step(0.8, "adder", at=("2020",)).magnitude == 33
    assert adder.step(0.8, "adder", at=("2023",)).magnitude == 0
    kelvin = adder.step(0, "adder", at=("2023",)).magnitude
    assert round(kelvin * 1.8 / 5) * 5 == 60  # the printed Fahrenheit difference
    limits = {row["edition"]: float(row["to"]) * 25.4 for row in adder.rows if row["to"]}
    assert limits == {"2017": pytest.approx(23, abs=1), "2020": pytest.approx(23, abs=1), "2023": pytest.approx(19, abs=0.1)}


def test_working_space_grows_with_voltage_and_condition():
    of = table("working_space")
    depths = [of.array(f"condition_{n}") for n in (1, 2, 3)]
    for shallow, deep in itertools.pairwise(depths):
        assert np.all(shallow <= deep)
    assert all(np.all(np.diff(d) >= 0) for d in depths)
    assert of.step(0, "condition_1").magnitude == 3
    assert of.step(277, "condition_2").magnitude == 3.5


def test_protection_of_motors_and_transformers():
    for row in table("motor_protection").rows:
        assert float(row["dual_element_fuse"]) <= float(row["nontime_delay_fuse"]) <= float(row["instantaneous_trip"])
    method = table("transformer_protection")
    assert method.cell("primary only", "primary_9A_up").magnitude == 125
    assert method.cell("primary and secondary", "secondary_9A_up").magnitude == 125
    assert not method.has("primary only", "secondary_9A_up")

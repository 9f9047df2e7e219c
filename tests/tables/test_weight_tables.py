"""Weights of raceways, conductors and equipment, and zinc, against arithmetic."""

import numpy as np
import pytest

from rackbook.tables import table
from rackbook.trace.units import Quantity


def test_conduit_weights_rise_and_steel_is_heaviest():
    groups = {}
    for row in table("conduit_weights").rows:
        groups.setdefault(row["kind"], {})[row["trade_size"]] = (float(row["weight"]), row["weight_filled"])
    for sizes in groups.values():
        weights = [w for w, _ in sizes.values()]
        assert weights == sorted(weights)
    for size, (light, _) in groups["IMC"].items():
        assert groups["EMT"][size][0] < light < groups["RMC"][size][0]
    for size, (light, _) in groups["RAC"].items():
        assert light < groups["RMC"][size][0] * 0.37


def test_the_allowance_for_conductors_is_the_same_in_emt_and_aluminum():
    of = table("conduit_weights")
    for row in of.rows:
        if row["kind"] != "EMT":
            continue
        other = [of.cell(("RAC", row["trade_size"]), c).magnitude for c in ("weight_filled", "weight")]
        assert float(row["weight_filled"]) - float(row["weight"]) == pytest.approx(other[0] - other[1], abs=0.004)


def test_rigid_steel_by_its_metal():
    # OD and nominal wall of standard steel pipe, 490/144 lbf/ft per in2; a coupling in ten feet and zinc add a few percent
    for size, outside, wall in (("1", 1.315, 0.133), ("2", 2.375, 0.154), ("4", 4.5, 0.237)):
        metal = np.pi * (outside - wall) * wall * 490 / 144
        assert 0.94 < table("conduit_weights").cell(("RMC", size), "weight").magnitude / metal < 1.1


def test_bare_conductors_are_area_times_density():
    of = table("conductor_weights")
    per_kcmil = Quantity(1, "kcmil").m_as("cm**2") * Quantity(1, "kft").m_as("cm") / Quantity(1, "lb").m_as("g")
    assert of.array("area") * per_kcmil * 8.89 == pytest.approx(of.array("bare_cu"), rel=0.006)
    assert of.array("area") * per_kcmil * 2.705 == pytest.approx(of.array("bare_al"), rel=0.02)
    insulated = of.array("insulated_al")
    printed = ~np.isnan(insulated)
    assert np.all(insulated[printed] > of.array("bare_al")[printed])
    for row in of.rows:
        printed_area = table("conductor_properties").cell((row["size"], "stranded"), "area").m_as("kcmil")
        assert float(row["area"]) == pytest.approx(printed_area, rel=1e-3)


def test_coating_grades():
    of = table("coating_grades")
    um, grams = of.array("thickness"), of.array("mass")
    assert 7.067 * um == pytest.approx(grams, abs=3.6)
    assert grams / 305.15 == pytest.approx(of.array("mass_oz"), abs=0.06)
    assert um / 25.4 == pytest.approx(of.array("thickness_mil"), abs=0.06)
    assert np.all(um == of.array("grade"))


def test_galvanizing_does_not_fall_with_thickness():
    of = table("galvanizing")
    grades = set(table("coating_grades").column("grade"))
    groups = {}
    for row in of.rows:
        groups.setdefault(row["category"], []).append(float(row["grade"]))
    for values in groups.values():
        assert values == sorted(values)
        assert set(values) <= grades
    assert of.step(0.233, "grade", at=("pipe and tubing",)).magnitude == 75
    assert of.step(0.25, "grade", at=("structural shapes",)).magnitude == 100


def test_transformers_lose_what_their_efficiency_says():
    of = table("transformer_weights")
    kVA, percent, loss = of.array("kVA"), of.array("efficiency_35"), of.array("loss_35")
    assert 0.35 * kVA * 1000 * (100 / percent - 1) == pytest.approx(loss, abs=0.6)
    for phases in (1, 3):
        rows = [r for r in of.rows if r["phases"] == str(phases) and r["low"]]
        assert [float(r["low"]) for r in rows] == sorted(float(r["low"]) for r in rows)
        assert all(float(r["low"]) <= float(r["high"]) for r in rows)
    assert of.cell((3, 75), "low").source.how == "memory"
    assert of.cell((1, 25), "low").source.how == "read"


def test_wireways_by_their_own_formula():
    for row in table("wireway_weights").rows:
        side = int(row["size"].split("x")[0])
        assert 4 * side * 12 * 0.0747 * 0.2836 * 1.15 == pytest.approx(float(row["weight"]), abs=0.06)


def test_equipment_ranges_are_remembered_and_say_so():
    of = table("equipment_weights")
    assert np.all(of.array("low") < of.array("high"))
    assert of.cell("safety switch 100 A Type 3R", "high").source.mark

"""Every value of the case files against what the book gives, and the case files themselves."""

import collections
import importlib
import pkgutil

import numpy as np
import pytest
from ruamel.yaml import YAML

import rackbook
from rackbook.cases import cases, quantity, run
from rackbook.shipped import shipped
from rackbook.trace import FORMULAS, RackbookError

FILES = sorted(shipped("data", "cases").glob("*.yaml"))
HOWS = {"read", "derived", "memory"}


@pytest.mark.parametrize("case", cases(), ids=lambda case: f"{case.file.removesuffix('.yaml')}: {case.id}")
def test_case(case):
    outcomes = list(run(case))
    assert len(outcomes) == len(case.expect) > 0
    for o in outcomes:
        assert o.agrees, f"{o.name}: expected {o.expected}, found {o.found}, tolerance {case.tolerance}"


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_case_says_what_it_is_and_where_it_is_from(path):
    entries = YAML(typ="safe").load(path.read_text(encoding="utf-8"))
    twice = [id for id, n in collections.Counter(entry["id"] for entry in entries).items() if n > 1]
    assert not twice, f"ids used twice: {twice}"
    for entry in entries:
        source = entry["source"]
        assert str(source.get("title") or "").strip(), f"{entry['id']}: the source has no title"
        assert source.get("how") in HOWS, f"{entry['id']}: how is {source.get('how')!r}"


def test_at_least_150_values_were_read():
    assert sum(len(case.expect) for case in cases() if case.source.how == "read") >= 150


def test_every_formula_is_run_by_a_case():
    for module in pkgutil.walk_packages(rackbook.__path__, "rackbook."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    ran = {f.key for case in cases() for o in run(case) for f in o.formulas}
    assert not sorted(FORMULAS.keys() - ran)


CASE = """
- id: made-up
  topic: weights
  formula: loads.weights.takeoff.{formula}
  source: {{title: made up, how: derived}}
  given: {given}
  expect: {{value: {expect}}}
  tolerance: {tolerance}
"""
SURFACE = "{a: '15, 15, 2.5 ft**2'}"
PLATES = "{e: '6, 12 in', t_g: '0 in', t: '1.5, 0 in'}"


# a case that lets everything pass proves nothing
@pytest.mark.parametrize(
    ("formula", "given", "expect", "tolerance", "agrees"),
    [
        ("coated_surface", SURFACE, "32.5 ft**2", "exact", True),
        ("coated_surface", SURFACE, "32.51 ft**2", "exact", False),
        ("coated_surface", SURFACE, "32 ft**2", "rounding", True),
        ("coated_surface", SURFACE, "31.9 ft**2", "rounding", False),
        ("coated_surface", SURFACE, "3.3e1 ft**2", "rounding", True),
        ("coated_surface", SURFACE, "3.4e1 ft**2", "rounding", False),
        ("coated_surface", SURFACE, "32.5 ft", "exact", False),
        ("coated_surface", SURFACE, "'32.5, 32.5 ft**2'", "exact", False),
        ("coated_surface", SURFACE, "LookupFailed", "exact", False),
        ("plate_height", PLATES, "'6.75, 12 in'", "exact", True),
        ("plate_height", PLATES, "'6.8, 12 in'", "rounding", True),
        ("plate_height", PLATES, "'6.7, 12 in'", "0.1 in", True),
        ("plate_height", PLATES, "'6.75, 12.1 in'", "exact", False),
        ("plate_height", PLATES, "'6.75, 12.1 in'", "0.5 %", False),
        ("plate_height", PLATES, "6.75 in", "1 %", False),
        ("plate_height", PLATES, "'6.75, 12, 12 in'", "exact", False),
    ],
)
def test_the_runner_tells_wrong_values(tmp_path, formula, given, expect, tolerance, agrees):
    text = CASE.format(formula=formula, given=given, expect=expect, tolerance=tolerance)
    (tmp_path / "made_up.yaml").write_text(text, encoding="utf-8")
    (case,) = cases(tmp_path)
    assert [o.agrees for o in run(case)] == [agrees]


def test_an_id_is_used_once_in_all_files(tmp_path):
    text = CASE.format(formula="coated_surface", given=SURFACE, expect="32.5 ft**2", tolerance="exact")
    for name in ("one.yaml", "two.yaml"):
        (tmp_path / name).write_text(text, encoding="utf-8")
    with pytest.raises(RackbookError, match="made-up"):
        cases(tmp_path)


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [
        ("1,200 lbf", 1200.0, "lbf"),
        ("100, 200, 50 lbf", [100.0, 200.0, 50.0], "lbf"),
        ("1,200, -.5 ft", [1200.0, -0.5], "ft"),
        ("3, 3, 2", [3.0, 3.0, 2.0], ""),
        ("25 %", 25.0, "pct"),
    ],
)
def test_quantities_and_arrays(text, number, unit):
    found = quantity(text)
    assert found is not None
    assert np.shape(found[0]) == np.shape(number)
    assert np.array_equal(found[0], number)
    assert found[1] == unit


@pytest.mark.parametrize("text", ["C", "4/0", "flat-sided", "100, 200 apples", "100,, 200 lbf", ""])
def test_words_are_no_quantities(text):
    assert quantity(text) is None

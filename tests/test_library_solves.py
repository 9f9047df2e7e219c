"""Every formula of the library, turned round for two of its inputs, at the numbers of the published cases."""

import zlib

import numpy as np
import pytest

from rackbook.book import named_values
from rackbook.cases import cases, work
from rackbook.trace import FORMULAS, RackbookError, SolveError, in_order


def worked():
    """Return one worked set of scalar inputs for each formula, from what the published cases ran."""
    found = {}
    for case in cases():
        try:
            result = work(case)
        except RackbookError:
            continue
        for value in in_order(v for _, v in named_values(result)):
            key = getattr(getattr(value.origin, "operation", None), "key", None)
            if key in FORMULAS and not any(np.ndim(v.magnitude) for v in value.origin.given.values()):
                found.setdefault(key, value)
    return found


def drawn(key, names, most=2):
    """Return some of the inputs of a formula, the same ones every time."""
    return sorted(names, key=lambda name: zlib.crc32(f"{key} {name}".encode()))[:most]


WORKED = worked()
#: Two inputs a formula, drawn by its name: all of them would take most of the tests' time.
ASKED = [(key, unknown) for key, value in WORKED.items() for unknown in drawn(key, value.origin.given)]


def test_nearly_every_formula_is_asked():
    """What is left out takes whole columns: sums and centers of gravity."""
    left = {key for key in FORMULAS if key not in WORKED}
    columns = {key for key in left if any("sum(" in line.text for line in FORMULAS[key].lines)}
    assert len(left - columns) <= 8, sorted(left - columns)
    assert len(ASKED) > 300


@pytest.mark.parametrize(("key", "unknown"), ASKED, ids=[f"{k} for {u}" for k, u in ASKED])
def test_solved_for_an_input_it_gives_the_result_again(key, unknown):
    formula, value = FORMULAS[key], WORKED[key]
    given = dict(value.origin.given)
    was = given.pop(unknown)
    low, high = sorted((0.5 * was.magnitude, 2.0 * was.magnitude)) if was.magnitude else (-1.0, 1.0)
    try:
        found = formula.solve(unknown, unit=was.unit, domain=(low, high), **given, **{formula.result: value})
    except SolveError as e:
        # a flat stretch (a bound governs), or two inputs with the same result: said, not guessed
        if "does not settle" not in str(e) and "answers" not in str(e):
            raise
        return
    again = formula(**given, **{unknown: found})
    assert again.m_as(value.unit) == pytest.approx(value.magnitude, rel=1e-6, abs=1e-9)

"""Every published case of the topic; the tolerance is the rounding of its source."""

import pytest

from rackbook.cases import cases, run

OURS = [case for case in cases() if case.formula.startswith("electrical.")]


def test_there_are_many():
    assert sum(len(case.expect) for case in OURS) >= 300


@pytest.mark.parametrize("case", OURS, ids=lambda case: case.id)
def test_published_case(case):
    for outcome in run(case):
        assert outcome.agrees, f"{outcome.name}: expected {outcome.expected}, found {outcome.found}"

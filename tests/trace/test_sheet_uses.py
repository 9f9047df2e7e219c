"""A line used often in one part of a sheet: once in full, its other uses as a table, of whatever dimensions they are."""

import pytest

from rackbook.trace import Sheet, Source, check, given, largest

BY_HAND = Source("derivation", "by hand")


def ratios(*units):
    """The largest ratio of demands of 1, 2, 3 ... to capacities of 8, each in a unit of its own."""
    of = [check(f"{n} in {u}", given(n, u, BY_HAND, "D"), given(8, u, BY_HAND, "C"), BY_HAND) for n, u in enumerate(units, 1)]
    return Sheet("s", "S", "", (largest("u", {c.name: c.ratio for c in of}),)).markdown().replace("\\", "")


def cells(text):
    head, _, *rows = text.split("The same line for ")[1].split("\n\n")[1].splitlines()
    return [[c.strip() for c in line.strip("|").split("|")] for line in (head, *rows)]


@pytest.mark.parametrize("units", [("kip", "kip*in", "ksi", "in", "lbf"), ("kip*in", "kip", "kip", "kip", "")])
def test_uses_of_other_dimensions_are_tabulated_each_with_its_unit(units):
    head, *rows = cells(ratios(*units))
    assert head[:2] == ["$D$", "$C$"]  # no unit over a column of several
    assert len(rows) == 4
    for n, (unit, row) in enumerate(zip(units[1:], rows, strict=True), 2):
        written = {"kip*in": " kip·in.", "in": " in.", "": ""}.get(unit, f" {unit}")
        assert [c.replace("\xa0", " ") for c in row] == [f"{n}{written}", f"8{written}", f"{n / 8:.4f}"]


def test_uses_of_one_dimension_have_the_unit_of_the_first_in_the_head():
    head, *rows = cells(ratios("kip", "kip", "lbf", "kip", "kip"))
    assert head[:2] == ["$D$ [kip]", "$C$ [kip]"]
    assert rows[1][:2] == ["0.003", "0.008"]
    assert [row[2] for row in rows] == ["0.2500", "0.3750", "0.5000", "0.6250"]

"""A column is shown once: in the table that lists it, or in the line that takes it."""

from rackbook.trace import Grid, Sheet, Source, formula, given
from rackbook.trace.columns import column, entries
from rackbook.trace.maths import sum

BY_HAND = Source("derivation", "by hand")


@formula(BY_HAND, F="lbf")
def doubled(w):
    """Return twice a weight."""
    F = 2 * w
    return F


@formula(BY_HAND, V="lbf")
def summed(F):
    """Return the sum of forces."""
    V = sum(F)
    return V


def made():
    w = column("w", {t: given(n, "lbf", BY_HAND, "w") for t, n in (("A", 3.0), ("B", 5.0))}, "lbf")
    F = doubled(w=w)
    return F, summed(F=F)


def test_a_column_in_a_table_is_not_derived_below_it():
    F, V = made()
    grid = Grid("Forces", ("Item", "F [lbf]"), tuple(entries(F, ("A", "B")).items()))
    below = Sheet("s", "S", "", (grid, V)).markdown()
    above = Sheet("s", "S", "", (V, grid)).markdown()
    assert "Twice a weight" not in below
    assert "Twice a weight" in above
    assert "Sum of forces" in below
    assert "column of the items" not in below + above


def test_the_entry_of_a_listed_column_is_quoted_but_set_in_full_when_asked_for():
    F, _ = made()
    of = entries(F, ("A", "B"))
    grid = Grid("Forces", ("Item", "F [lbf]"), tuple(of.items()))
    assert "table above: Forces" in Sheet("s", "S", "", (grid, doubled(w=of["B"]))).markdown().replace("\\", "")
    assert "Twice a weight" in Sheet("s", "S", "", (grid, of["B"])).markdown()


def test_the_entry_another_sheet_lists_is_quoted_from_it_and_not_worked_alone():
    F, _ = made()
    of = entries(F, ("A", "B"))
    alone = Sheet("s", "S", "", (doubled(w=of["B"]),)).markdown().replace("\\", "")
    quoted = Sheet("s", "S", "", (doubled(w=of["B"]),), elsewhere={id(of["B"].root): "Forces"}).markdown().replace("\\", "")
    assert alone.count("Twice a weight") == 2
    assert quoted.count("Twice a weight") == 1
    assert "sheet Forces" in quoted

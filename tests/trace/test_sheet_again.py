"""A sheet says a thing once: a line set in full is not set again, and what is taken from a table is not derived."""

from rackbook.tables import table
from rackbook.trace import Grid, Sheet, Source, check, formula, given
from rackbook.trace.sheet import set_out

BY_HAND = Source("derivation", "by hand")


def force(number, symbol="F"):
    return given(number, "lbf", BY_HAND, symbol)


@formula(Source("clause", "A standard", "22", "Eq. 1", "memory"), M="lbf*ft")
def moment(F, a):
    """Return a moment."""
    M = F * a
    return M


@formula(BY_HAND, W="lbf*ft")
def total(M_1, M_2):
    """Return the sum of two moments."""
    W = M_1 + M_2
    return W


ARM = given(2, "ft", BY_HAND, "a")
ONE, TWO, THREE = (moment(F=force(n), a=ARM) for n in (3, 5, 7))


def test_the_second_use_of_a_line_has_its_numbers_and_points_above():
    text = Sheet("s", "S", "", (ONE, TWO)).markdown().replace("\\", "")
    assert text.count("**A moment**") == 2
    assert text.count("A standard-22, Eq. 1") == 1
    assert text.count(r"F cdot a") == 1
    assert text.count("**A moment**, as above") == 1
    assert "= 3 mathrm{lbf} cdot 2 mathrm{ft} = 6.000" in text
    assert "$$M = 5 mathrm{lbf} cdot 2 mathrm{ft} = 10.00" in text


def test_it_is_so_within_one_part_too():
    text = Sheet("s", "S", "", (total(M_1=ONE, M_2=THREE),)).markdown().replace("\\", "")
    assert text.count("**A moment**, as above") == 1
    assert "= 7 mathrm{lbf} cdot 2 mathrm{ft} = 14.00" in text


def test_the_same_line_with_the_same_numbers_is_set_once():
    again = moment(F=force(3), a=ARM)
    text = Sheet("s", "S", "", (ONE, again)).markdown()
    assert text.count("**A moment**") == 1


def test_a_line_quoted_from_another_sheet_is_set_in_full_where_it_comes_first_here():
    text = Sheet("s", "S", "", (total(M_1=ONE, M_2=TWO),), elsewhere={id(ONE.root): "Moments"}).markdown().replace("\\", "")
    assert "sheet Moments" in text
    assert "as above" not in text
    assert "A standard-22, Eq. 1" in text


def test_what_is_taken_from_a_table_is_not_derived_below_it():
    listed = Grid("Both moments", ("M [lbf*ft]",), ((ONE,), (TWO,)))
    taken = Grid("Both moments", ("M [lbf*ft]",), ((ONE,), (TWO,)), quoted=(ONE,))
    W = total(M_1=ONE, M_2=TWO)
    assert "table above" not in Sheet("s", "S", "", (listed, W)).markdown()
    text = Sheet("s", "S", "", (taken, W), elsewhere={id(ONE.root): "Moments"}).markdown().replace("\\", "")
    assert text.count("table above: Both moments") == 1
    assert "sheet Moments" not in text
    assert text.count("**A moment**") == 1  # the other one is derived


def test_factors_in_a_table_stand_among_its_numbers():
    grid = Grid("Moments", ("What", "M [lbf*ft]"), (("sum", ONE), ("B", "× 1.02"), ("M", "–")))
    rule = next(line for line in Sheet("s", "S", "", (grid,)).markdown().splitlines() if line.startswith("|--"))
    assert rule.endswith("-:|")  # to the right, as numbers are


@formula(BY_HAND, n_s="")
def shared(n, m):
    """Return how many conductors share a raceway."""
    n_s = n * m
    return n_s


@formula(BY_HAND, I="A")
def carried(I_1, k_1, I_2):
    """Return what two conductors carry."""
    I = k_1 * I_1 + I_2
    return I


def test_what_is_read_by_no_worked_number_stands_in_one_table_above_the_lines():
    ampacity = table("ampacity")
    one, two = ampacity.cell("4/0", "cu_75C", "I_1"), ampacity.cell("2/0", "cu_75C", "I_2")
    n = shared(n=given(3, "", BY_HAND, "n"), m=given(2, "", BY_HAND, "m"))
    k_1 = table("count_adjustment").step(n, "factor", "k_1")
    text = Sheet("s", "S", "", (carried(I_1=one, k_1=k_1, I_2=two),)).markdown().replace("\\", "")
    assert text.count("| From table |") == 2  # the factor waits for the number of conductors
    assert text.index("I_{1}$ |") < text.index("I_{2}$ |") < text.index("**How many") < text.index("k_{1}$ |")
    assert all(text.count(f"{name}$ | $") == 1 for name in ("I_{1}", "I_{2}", "k_{1}"))


def test_a_tables_cell_has_its_table_on_every_sheet():
    cell = table("resistance_factors").cell("compression", "phi", "phi")
    text = Sheet(
        "s", "S", "", (scaled(phi=cell, M=ONE),), elsewhere={id(cell.root): "First", id(ONE.root): "Moments"}
    ).markdown()
    assert "sheet Moments" in text
    assert "sheet First" not in text
    assert cell.source.citation.partition(", row")[0] in text.replace("\\", "")


@formula(BY_HAND, M_d="lbf*ft")
def scaled(phi, M):
    """Return a scaled moment."""
    M_d = phi * M
    return M_d


def judged(name, share):
    return check(name, moment(F=force(10 * share), a=ARM).named(f"M_{name}"), given(20, "lbf*ft", BY_HAND, "C"), BY_HAND)


def test_of_a_short_run_what_is_used_half_as_much_as_the_first_is_derived():
    runs = {
        (0.2, 0.9, 0.46): {"b", "c"},
        (0.2, 0.9, 0.44): {"b"},
        (0.2, 0.9): {"b"},
        (0.2, 0.15): {"a"},  # both are little
        (0.0, 0.0): {"a", "b"},
        (0.5, 0.6, 0.7, 0.8): {"d"},
    }
    for shares, derived in runs.items():
        checks = [judged(name, share) for name, share in zip("abcd", shares, strict=False)]
        assert {c.name for c in set_out(checks)} == derived
        text = Sheet("s", "S", "", tuple(checks)).markdown()
        assert {n for n in "abcd" if rf"M_{{{n}}} =" in text} == derived
        assert all(f"\n| {c.name} |" in text for c in checks)  # the table has them all
    waiting = check("e", force(3), None, BY_HAND)
    assert waiting in set_out([judged("a", 0.9), waiting])


def test_what_a_sheet_prints_is_what_another_may_quote_from_it():
    W, other = total(M_1=ONE, M_2=TWO), total(M_1=TWO, M_2=THREE)
    low, high = judged("low", 0.1), judged("high", 0.9)
    cell = Grid("Sums", ("W [lbf*ft]",), ((other,),))
    printed = {id(v) for v in Sheet("s", "S", "", (W, cell, low, high), elsewhere={id(TWO.root): "Moments"}).printed()}
    assert {id(W), id(ONE), id(ARM), id(other), id(high.demand)} <= printed
    assert id(TWO) not in printed  # quoted
    assert id(THREE) not in printed  # behind a cell
    assert id(low.demand) not in printed  # tabulated only


@formula(BY_HAND, N="kip")
def pulled(A, F_y, b, t):
    """Return the strength of a section less a strip."""
    N = (A - b * t) * F_y
    return N


def test_cells_of_one_row_stand_together_and_name_their_row_once():
    hss, F_y = table("hss"), table("materials").cell("A36", "F_y", "F_y")
    A, b, t = hss.cell("HSS6X6X1/4", "A", "A"), hss.cell("HSS6X6X1/4", "B", "B"), hss.cell("HSS6X6X1/2", "t_des", "t")
    text = Sheet("s", "S", "", (pulled(A=A, F_y=F_y, b=b, t=t),)).markdown()
    rows = [line.replace("\\", "") for line in text.splitlines() if line.startswith("| $")]
    assert [row.partition("$ |")[0] for row in rows] == ["| $A", "| $B$, $b", "| $F_{y}", "| $t"]
    assert rows[0].endswith("HSS6X6X1/4 |")  # the symbol says which column
    assert rows[1].endswith("| same row |")
    assert rows[2].endswith("grade A36 |") or rows[2].endswith("material A36 |")
    assert rows[3].endswith("HSS6X6X1/2, column $t_{des}$ |")

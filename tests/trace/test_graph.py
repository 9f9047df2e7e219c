"""Choices, checks, the graph of values, and the sheets derived from it."""

import numpy as np
import pytest
from formulas import HERE, force, length, pressure, v
from hypothesis import given as given_
from hypothesis import strategies as st

from rackbook.trace import (
    DomainError,
    Grid,
    Heading,
    Picture,
    Remark,
    Sheet,
    SheetError,
    Source,
    Step,
    UnitError,
    check,
    governing,
    in_order,
    largest,
    pick,
    recompute,
    smallest,
    touched,
    word,
)

numbers = st.floats(0.1, 1e4)


def built(c, K, V, b, h):
    """Return a small graph: pressure, force, and the larger of two forces."""
    q = pressure(c_q=c, K_z=K, V=V)
    one, two = force(q=q, b=b, h=h), force(q=q, b=h, h=h)
    return largest("F_max", {"front": one, "side": two})


@given_(st.tuples(numbers, numbers, numbers, numbers), st.tuples(numbers, numbers, numbers, numbers))
def test_recomputing_is_calling_again(old, new):
    c = v(0.00256, "psf/mph**2")
    leaves = [v(x, u, n) for x, u, n in zip(old, ("", "mph", "ft", "in"), ("K_z", "V", "b", "h"), strict=True)]
    result = built(c, *leaves)
    changed = [v(x, u, n) for x, u, n in zip(new, ("", "m/s", "in", "ft"), ("K_z", "V", "b", "h"), strict=True)]
    again = recompute(result, dict(zip(leaves, changed, strict=True)))
    direct = built(c, *changed)
    assert again.m_as("lbf") == pytest.approx(direct.m_as("lbf"), rel=1e-12)
    assert governing(again) == governing(direct)
    assert (again.symbol, again.unit) == (result.symbol, result.unit)


def test_recomputing_without_a_change_is_the_same_value():
    result = length(a=v(1, "ft"), b=v(2, "ft"))
    assert recompute(result, {}) is result
    assert recompute(result, {v(3, "ft"): v(4, "ft")}) is result


def test_what_rests_on_a_leaf_under_another_name_or_unit_moves_too():
    leaf = v(1.0, "ft", "W")
    result = length(a=leaf.named("B"), b=leaf.to("in")).to("in").named("L_t")
    assert result.magnitude == pytest.approx(36)
    again = recompute(result, {leaf: v(2.0, "ft")})
    assert (again.magnitude, again.unit, again.symbol) == (pytest.approx(72), "in", "L_t")
    other = v(1.0, "ft")
    assert touched(leaf, {"a": result, "b": length(a=other, b=other), "c": leaf.to("m")}) == ["a", "c"]


def test_a_graph_of_ten_thousand_steps():
    leaf = v(1.0, "ft")
    result, nothing = leaf, v(0.0, "ft")
    for _ in range(10_000):
        result = length(a=result, b=nothing)
    assert touched(leaf, {"end": result}) == ["end"]
    assert len(in_order([result])) == 10_002
    assert recompute(result, {leaf: v(2.0, "ft")}).magnitude == 2.0
    assert result.inputs() == [leaf, nothing]


def test_inputs_come_before_what_uses_them():
    result = built(v(0.00256, "psf/mph**2"), v(1), v(100, "mph"), v(1, "ft"), v(2, "ft"))
    place = {id(x): n for n, x in enumerate(in_order([result]))}
    for x in in_order([result]):
        if isinstance(x.origin, Step):
            assert all(place[id(g)] < place[id(x)] for g in x.origin.given.values())


def test_trace_reaches_every_source_once():
    text = built(v(0.00256, "psf/mph**2"), v(1), v(100, "mph"), v(1, "ft"), v(2, "ft")).trace()
    assert text.count("velocity") == 0
    assert text.count("[pressure: Test standard-1, 4.2]") == 1
    assert text.count("shown above") == 1


@given_(st.lists(st.tuples(numbers, st.sampled_from(["ft", "in", "m"])), min_size=1, max_size=6))
def test_largest_and_smallest_over_mixed_units(items):
    candidates = {f"c{n}": v(x, u) for n, (x, u) in enumerate(items)}
    in_feet = {n: c.m_as("ft") for n, c in candidates.items()}
    assert largest("h", candidates).m_as("ft") == pytest.approx(max(in_feet.values()))
    assert smallest("h", candidates).m_as("ft") == pytest.approx(min(in_feet.values()))
    assert in_feet[governing(largest("h", candidates))] == max(in_feet.values())


def test_the_first_of_equals_governs():
    assert governing(largest("h", {"a": v(1, "m"), "b": v(1, "m")})) == "a"


def test_choices_over_arrays_are_made_by_case():
    chosen = largest("h", {"a": v(np.array([1.0, 30.0]), "in"), "b": v(1, "ft")})
    assert chosen.magnitude.tolist() == pytest.approx([12.0, 30.0])
    assert "*The largest governs in each case\\.*" in Sheet("x", "x", "x", (chosen,)).markdown()


@pytest.mark.parametrize(
    "call",
    [
        lambda: largest("h", {}),
        lambda: largest("h", {"a": v(1, "ft"), "b": v(1, "lbf")}),
        lambda: largest("h", {"a": word("D", HERE), "b": v(1)}),
        lambda: largest("T", {"a": v(1, "degC"), "b": v(1, "delta_degC")}),
        lambda: pick("h", {"a": None}, "a", "so"),
        lambda: pick("h", {"a": v(1)}, "b", "so"),
        lambda: pick("h", {"a": v(1)}, "a", "so", by={"a": v(2)}),
    ],
)
def test_choices_that_cannot_be_made(call):
    with pytest.raises(UnitError):
        call()


def test_a_pick_remembers_its_reason_when_worked_again():
    leaf, decided = v(1, "ft"), word("7-22", HERE, "edition")
    chosen = pick("q", {"7-22": leaf, "7-16": None}, "7-22", "the job's edition", by={"edition": decided}, source=HERE)
    again = recompute(chosen, {leaf: v(2, "ft")})
    assert again.magnitude == 2.0
    assert again.origin.note["because"] == "the job's edition"
    assert "the job" in Sheet("x", "x", "x", (again,)).markdown()


@pytest.mark.parametrize(
    "label", ["a|b", "$x$ & 50 %", "<b>", "*x*", "Eq. 1_2", "[x](y)", "ünï ≤ 3", "`", "\\frac{", "two\nlines", "$$"]
)
def test_hostile_labels_stay_words(label):
    text = Sheet(
        "x", label, label, (largest("h", {label: v(2, "ft"), "b": v(1, "ft")}), Heading(label), Remark(label))
    ).markdown()
    assert len([row for row in text.splitlines() if row.startswith("#")]) == 2
    assert text.replace(r"\$", "").count("$$") == 2
    assert "<b>" not in text.replace("\\<", "")


@pytest.mark.parametrize(
    ("demand", "capacity", "word_"),
    [(5, 10, "OK"), (10, 10, "OK"), (10.1, 10, "NOT OK"), (5, -2, "NOT OK"), (-5, 2, "OK"), (-5, -2, "NOT OK"),
     (np.array([1.0, 2.0]), 2, "OK"), (np.array([1.0, 3.0]), 2, "NOT OK"), (1, np.array([2.0, -1.0]), "NOT OK")],
)  # fmt: skip
def test_checks(demand, capacity, word_):
    judged = check("Bending", v(demand, "kip*ft"), v(np.multiply(capacity, 12.0), "kip*inch"), HERE)
    assert judged.word == word_
    assert judged.passes is (word_ == "OK")


def test_a_check_without_a_capacity_is_open_and_does_not_pass():
    judged = check("Bearing", v(1, "psf"), None, HERE, remedy="ask for the report")
    assert (judged.word, judged.passes) == ("OPEN", False)
    assert "ask for the report" in Sheet("x", "x", "x", (judged,)).markdown().replace("\\", "")


def test_checks_that_cannot_be_made():
    with pytest.raises(DomainError):
        check("x", v(1, "ft"), v(0, "ft"), HERE)
    with pytest.raises(UnitError):
        check("x", v(1, "ft"), v(1, "lbf"), HERE)
    with pytest.raises(UnitError):
        check("x", v(60, "degC"), v(75, "degC"), HERE)


@given_(st.integers(1, 6))
def test_a_sheet_shows_every_leaf_with_its_source(uses):
    leaves = [v(n + 1, "ft", f"b_{n}") for n in range(uses)]
    named = [type(x)(x.magnitude, x.measure, Source("datasheet", f"Sheet {n}"), x.symbol) for n, x in enumerate(leaves)]
    q = pressure(c_q=v(0.00256, "psf/mph**2"), K_z=v(1), V=v(100, "mph"))
    forces = {f"item {n}": force(q=q, b=b, h=v(1, "ft")) for n, b in enumerate(named)}
    top = largest("F_max", forces)
    sheet = Sheet("x", "x", "x", (top, check("Force", top, v(1e9, "lbf", "C"), HERE)))
    text = sheet.markdown().replace("\\", "")
    for leaf in top.inputs():
        assert str(leaf.source) in text
    assert all(id(x) in {id(y) for y in sheet.values()} for x in top.inputs())


def test_what_another_sheet_derives_is_quoted():
    q = pressure(c_q=v(0.00256, "psf/mph**2"), K_z=v(1), V=v(100, "mph"))
    text = Sheet("x", "x", "x", (force(q=q, b=v(1, "ft"), h=v(1, "ft")),), elsewhere={id(q): "Wind"}).markdown()
    assert "sheet Wind" in text
    assert "mph" not in text


def test_grids_convert_to_their_heads():
    grid = Grid("Forces", ("Item", "F [lbf]"), (("a", v(1, "kip")), ("b", v(2, "lbf"))))
    assert "1,000" in Sheet("x", "x", "x", (grid,)).markdown()
    with pytest.raises(UnitError, match="column 'F \\[lbf\\]'"):
        Sheet("x", "x", "x", (Grid("Forces", ("F [lbf]",), ((v(1, "ft"),),)),)).markdown()
    with pytest.raises(SheetError, match="2 cells under 1 heads"):
        Sheet("x", "x", "x", (Grid("Forces", ("F [lbf]",), (("a", "b"),)),)).markdown()


def test_pictures_carry_their_words():
    assert "![A rack](data:image/svg+xml;base64," in Sheet("x", "x", "x", (Picture("<svg/>", "A rack"),)).markdown()


def test_sources_say_how_they_were_had():
    assert str(Source("clause", "Code", "2023", "1.1", "memory")) == "Code-2023, 1.1 †"
    assert Source("clause", "Code", "2023", "1.1", "read").mark == ""
    with pytest.raises(ValueError, match="not a kind of source"):
        Source("hearsay", "x")
    with pytest.raises(ValueError, match="does not say how"):
        Source("clause", "x", how="guessed")

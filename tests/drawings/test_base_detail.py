"""Base plate and anchors: true sizes on paper, every part named, and an honest word for what the job does not give."""

import itertools
import math

import numpy as np
import pytest
from racks import FOOT, RACKS, legible, made, rack, scale_of

from rackbook.drawings.base_detail import base_plan, base_section
from rackbook.drawings.foot import Foot, bar_places, rods
from rackbook.structure.anchorage.plan import plan
from rackbook.structure.anchorage.reinforcement import bar_places as calculated
from rackbook.tables import table

#: The foot of a rack does not know how long it is.
FEET = ["", *(name for name in RACKS if name not in ("ten bays", "long and uneven", "double row", "canopy"))]


@pytest.mark.parametrize("draw", [base_plan, base_section])
@pytest.mark.parametrize("name", FEET)
def test_every_foot_is_legible(name, draw):
    seen = legible(draw(rack(name)))
    if name == "no plate":
        assert "no base plate" in seen.said
    else:
        assert scale_of(seen) > 0


def test_plan_is_to_scale():
    plate = {"length": "18 in", "width": "17 in", "thickness": "1 in"}
    seen = legible(base_plan(made({**FOOT, "frame.base_plate": plate})))
    inch = scale_of(seen) / 12
    left, top, wide, high = seen.figure("plate")
    assert (wide, high) == (pytest.approx(18 * inch, abs=1e-3), pytest.approx(17 * inch, abs=1e-3))
    assert seen.figure("pier")[2] == pytest.approx(36 * inch, abs=5e-3)
    assert seen.figure("post")[2] == pytest.approx(6 * inch, abs=1e-3)
    places = []
    for n in range(1, 5):
        rod = seen.figure(f"rod {n}")
        assert rod[2] == pytest.approx(1.25 * inch, abs=2e-3)
        places.append((rod[0] + rod[2] / 2 - left - wide / 2, rod[1] + rod[3] / 2 - top - high / 2))
    half = 12 / 2 * inch
    assert {(round(x / half, 2), round(y / half, 2)) for x, y in places} == {(-1, -1), (1, -1), (1, 1), (-1, 1)}


def test_rods_have_the_numbers_of_the_calculation_the_front_below():
    job = rack("eight rods")
    seen, of = legible(base_plan(job)), plan(job).rods
    left, top, wide, high = seen.figure("plate")
    for mark, x, y in zip(of.marks, of.x.m_as("in"), of.y.m_as("in"), strict=True):
        rod = seen.figure(mark)
        assert math.copysign(1, rod[0] + rod[2] / 2 - left - wide / 2) == math.copysign(1, x) or abs(x) < 1e-9
        assert math.copysign(1, rod[1] + rod[3] / 2 - top - high / 2) == math.copysign(1, y) or abs(y) < 1e-9
    assert {str(n) for n in range(1, 9)} <= set(seen.words)


def test_section_is_to_scale():
    seen = legible(base_section(made(FOOT)))
    inch = scale_of(seen) / 12
    assert seen.figure("plate")[2:] == (pytest.approx(16 * inch, abs=1e-3), pytest.approx(1.25 * inch, abs=1e-3))
    assert seen.figure("grout")[3] == pytest.approx(1.5 * inch, abs=1e-3)
    first, second = seen.figure("rod 1"), seen.figure("rod 2")
    assert second[0] - first[0] == pytest.approx(12 * inch, abs=1e-3)
    assert first[2] == pytest.approx(1.25 * inch, abs=1e-3)


def test_everything_a_shop_needs_is_written():
    plan, section = (legible(draw(made(FOOT))).said for draw in (base_plan, base_section))
    for words in ("4 headed anchor rods", "1-1/4 in. F1554 Gr 105", "post HSS6X6X3/8", "16 in. x 16 in. x 1-1/4 in."):
        assert words in plan
        assert words in section
    edge = 18 - math.hypot(6, 6)
    assert {"12 in.", "16 in.", "3 ft", f"{edge:#.4g} in.", "12 vertical bars #8"} <= set(plan.splitlines())
    assert {"holes 2-1/16 in.", "rods 2 in. from its edges", "ties #4 at 10 in."} <= set(plan.splitlines())
    for words in (
        "grout 1-1/2 in., leveling nuts",
        "10,000 psi minimum",
        "30 in.",
        "2 of them within 5 in. of the top",
        "finished grade",
        "plate washer 3 in. square,",
        "1/2 in. thick, and nut",
        "3/8",
        "E70",
    ):
        assert words in section.splitlines()
    assert "6 in. above grade" in section
    # 1-1/2 grout, 1-1/4 plate, 1/2 washer, 1-1/4 nut, half of it thread: 5.125, up to a quarter inch
    assert {"project 5-1/4 in., 37-1/2 in. long", "12 vertical bars #8", "4-3/4 in."} <= set(section.splitlines())


def test_ties_stand_at_the_top_and_then_at_their_spacing():
    of = Foot(made(FOOT)).ties
    assert of[:2] == [3.25, 4.75]
    assert {round(b - a, 9) for a, b in itertools.pairwise(of[1:])} == {10}
    assert max(of) <= 8 * 12 + 6 - 3
    alone = Foot(made({**FOOT, "piers": {**FOOT["piers"], "ties": {"size": "#4", "spacing": "10 in"}}})).ties
    assert alone[:2] == [3.25, 13.25]
    assert Foot(rack("bare")).ties == []


def test_bars_stand_where_the_calculation_has_them():
    """One toward +x, and round the circle from there."""
    assert bar_places(10, 8.0, True)[0] == pytest.approx((8, 0))
    x, y = (np.sort(v) for v in calculated("round", 8.0, 10))
    drawn = np.array(bar_places(10, 8.0, True))
    assert np.sort(drawn[:, 0]) == pytest.approx(x, abs=1e-9)
    assert np.sort(drawn[:, 1]) == pytest.approx(y, abs=1e-9)


def test_what_is_not_given_is_said():
    plan, section = (legible(draw(rack("bare"))).said for draw in (base_plan, base_section))
    assert "anchors not given in the job" in plan
    assert "concrete strength not given" in plan
    assert "weld not given in the job" in section


@pytest.mark.parametrize("count", [4, 6, 8])
def test_rods_stand_in_balance_within_their_spacing(count):
    found = rods(made({"anchors.count": count, "anchors.spacing_x": "10 in", "anchors.spacing_y": "8 in"}).anchors)
    assert len(set(found)) == count
    assert max(x for x, _ in found) == 5
    assert max(y for _, y in found) == 4
    assert {(-x, -y) for x, y in found} == set(found)


@pytest.mark.parametrize("count", [4, 5, 8, 12])
def test_bars_stand_evenly(count):
    circle = bar_places(count, 10.0, True)
    gaps = [math.dist(a, b) for a, b in itertools.pairwise([*circle, circle[0]])]
    assert all(math.hypot(*p) == pytest.approx(10) for p in circle)
    assert gaps == pytest.approx([2 * 10 * math.sin(math.pi / count)] * count)
    square = bar_places(count, 10.0, False)
    assert len({(round(x, 6), round(y, 6)) for x, y in square}) == count
    assert all(max(abs(x), abs(y)) == pytest.approx(10) for x, y in square)


@pytest.mark.parametrize("post", ["HSS6X6X1/4", "W8X31", "Pipe4STD", "C6X8.2", "L3X3X1/4", "1-5/8x1-5/8"])
def test_a_section_has_about_the_area_of_its_table(post):
    from rackbook.drawings.sections import figure
    from rackbook.tables import section

    rings = figure(post)
    area = sum(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in itertools.pairwise([*ring, ring[0]])) / 2 for ring in rings)
    rough = 0.12 if section(post).name in ("strut", "channels") else 0.04  # lips and sloped flanges are left out
    assert area == pytest.approx(section(post).cell(post, "A").m_as("in**2"), rel=rough)


def test_bar_diameters_are_those_of_the_table():
    assert table("rebar").cell("#7", "d_b").m_as("in") == 0.875

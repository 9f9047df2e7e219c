"""Piers: true sizes on paper, depths and bars written, coordinates of the layout."""

import html

import pytest
from racks import FOOT, RACKS, legible, made, rack, scale_of

from rackbook.drawings.pier_detail import pier_detail, pier_plan


@pytest.mark.parametrize("draw", [pier_detail, pier_plan])
@pytest.mark.parametrize("name", ["", *(name for name in RACKS if not name.endswith(("posts", "rods")))])
def test_every_pier_is_legible(name, draw):
    assert scale_of(legible(draw(rack(name)))) > 0


def test_pier_is_to_scale():
    seen = legible(pier_detail(made(FOOT)))
    foot = scale_of(seen)
    assert seen.figure("pier")[2:] == (pytest.approx(3 * foot, abs=1e-3), pytest.approx(8.5 * foot, abs=1e-3))
    assert seen.figure("post")[2] == pytest.approx(0.5 * foot, abs=1e-3)
    assert "Section A-A, scale 1/2 in. = 1 ft" in seen.words
    assert seen.figure("section")[2] == pytest.approx(3 * 0.5, abs=5e-3)
    bars = [seen.figure(f"bar {n}") for n in range(1, 13)]
    assert all(b[2] == pytest.approx(1 / 12 * 0.5, abs=2e-3) for b in bars)
    # top bar to bottom bar: diameter less twice cover, tie and half a bar
    between = max(b[1] for b in bars) - min(b[1] for b in bars)
    assert between == pytest.approx((36 - 2 * (3 + 0.5 + 1 / 2)) / 12 * 0.5, abs=2e-3)


def test_everything_of_a_pier_is_written():
    said = legible(pier_detail(made(FOOT))).words
    for words in (
        "8 ft",
        "6 in.",
        "3 ft",
        "frost line",
        "48 in. below grade",
        "concrete 5,000 psi",
        "12 vertical bars #8, A615 Gr 60",
    ):
        assert words in said
    assert "2 of them within 5 in. of the top" in said
    assert {"ties #4 at 10 in.", "cover 3 in. to the ties", "not counted: top 1 ft", "30 in. into the concrete"} <= set(said)
    assert "Soil class 4 of IBC Table 1806.2" in "\n".join(said)


def test_what_is_not_given_is_said():
    said = legible(pier_detail(rack("bare"))).said
    assert "The job gives no soil." in said
    assert "bars and ties not given in the job" in said
    assert "concrete strength not given" in said


@pytest.mark.parametrize(("title", "said"), [
    ("W" * 120, "WWWWWWWW"), ("</svg><script>$x^2$ & <b>", "$x^2$ &"), ("中文 report", "Soil by □□ report"),
])  # fmt: skip
def test_a_hostile_report_stays_words(title, said):
    report = {"title": title, "bearing": "3000 psf", "lateral": "250 psf/ft"}
    seen = legible(pier_detail(made({"site.soil": {"report": report, "frost": "0 in"}})))
    assert said in html.unescape(seen.said)
    assert "script" not in {node.tag.rpartition("}")[2] for node in seen.root.iter() if isinstance(node.tag, str)}


def test_a_footing_is_drawn_in_place_of_the_depth():
    seen = legible(pier_detail(rack("square pier on footing")))
    foot = scale_of(seen)
    assert seen.figure("footing")[2:] == (pytest.approx(6 * foot, abs=1e-3), pytest.approx(1.5 * foot, abs=1e-3))
    stands = 5 - 1.5 + rack("square pier on footing").piers.projection.m_as("ft")
    assert seen.figure("pier")[3] == pytest.approx(stands * foot, abs=1e-3)


def test_layout_is_to_scale_with_coordinates():
    seen = legible(pier_plan(rack("long and uneven")))
    foot, places = scale_of(seen), [0, 10, 14.5, 22.25, 34.25, 40.25]
    piers = [seen.figure(f"pier {n}") for n in range(1, 7)]
    assert [(p[0] - piers[0][0]) / foot for p in piers] == pytest.approx(places, abs=0.05)
    wide = rack("long and uneven").piers.diameter.m_as("ft")
    assert all(p[2] == pytest.approx(wide * foot, abs=5e-3) for p in piers)
    assert {f"{x:g} ft" for x in places} <= set(seen.words)
    assert {f"post {n}" for n in range(1, 7)} <= set(seen.words)


def test_layout_of_two_rows():
    seen = legible(pier_plan(rack("double row")))
    back, front = seen.figure("pier 1 back"), seen.figure("pier 1 front")
    assert front[1] - back[1] == pytest.approx(4 * scale_of(seen), abs=1e-3)  # the front is at the foot
    assert {"post 3 front", "post 3 back", "y = +2 ft", "y = -2 ft", "4 ft"} <= set(seen.words)

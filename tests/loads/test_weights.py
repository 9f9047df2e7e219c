"""Weights: a rack worked by hand, statics that must hold for any rack, the shop's weighing, and bad shapes."""

import math
from types import SimpleNamespace as Plain

import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from rackbook.loads.members import members, post_lines
from rackbook.loads.outlines import outline
from rackbook.loads.weights import sheets, weights
from rackbook.loads.weights.steel import weight_per_length
from rackbook.tables import table
from rackbook.trace import LookupFailed, UnitError, recompute, touched
from rackbook.trace.columns import column, entries

# --- by hand: posts 7.4375 ft of 12.21 plf, rails of 5.4 plf to the outer faces of 4 in. posts, plates 108 in3 at 490 pcf
LONG = 12 + 4 / 12
POST, RAIL, PLATE = 12.21 * 7.4375, 5.4 * LONG, 490 * 12 * 12 * 0.75 / 1728
FRAME = 3 * POST + 2 * RAIL + 3 * PLATE


def test_hand_worked_rack(rack):
    found = weights(rack(rack.item("A", 200, 3, 5), rack.item("B", 100, 9, 4, face="back", depth=6)))
    assert found.groups["equipment"].m_as("lbf") == pytest.approx(300)
    assert found.groups["frame"].m_as("lbf") == pytest.approx(FRAME, rel=1e-12)
    assert found.groups["hardware"].m_as("lbf") == pytest.approx(0.10 * FRAME)
    assert found.groups["services"].m_as("lbf") == pytest.approx(15 * 12)
    # zinc: 100 um of 441.18 pcf on posts, rails and plates
    tube = 2 * 8 - (16 - 4 * math.pi) * 0.233 + 2 * (8 - 4 * 0.233) - (8 - 2 * math.pi) * 0.233
    channel = 2 * 4 + 4 * 1.58 - 2 * 0.184
    area = 3 * tube / 12 * 7.4375 + 2 * channel / 12 * LONG + 3 * (2 * 144 + 2 * 24 * 0.75) / 144
    zinc = 441.18 * area * 100e-6 / 0.3048
    assert found.groups["zinc"].m_as("lbf") == pytest.approx(zinc, rel=1e-4)
    whole = 300 + 1.1 * FRAME + zinc + 180
    assert found.W.m_as("lbf") == pytest.approx(whole, rel=1e-5)
    # along: all but the equipment is centered at 6 ft
    assert found.x_bar.m_as("ft") == pytest.approx((200 * 3 + 100 * 9 + (whole - 300) * 6) / whole, rel=1e-6)
    assert found.e_x.m_as("ft") == pytest.approx((200 * -3 + 100 * 3) / whole, rel=1e-6)


def test_hand_worked_places(rack):
    found = weights(rack(rack.item("A", 200, 3, 5), rack.item("B", 100, 9, 4, face="back", depth=6)))
    at = {p.label: p for p in found.parts}
    # front: half a 4 in. post, the 1.58 in. rail, half of 12 in.; back has no rail: the post's face and half of 6 in.
    assert at["A"].y.m_as("in") == pytest.approx(2 + 1.58 + 6)
    assert at["B"].y.m_as("in") == pytest.approx(-(2 + 3))
    assert at["rail 1"].y.m_as("in") == pytest.approx(2 + 0.79)
    assert at["post 1"].z.m_as("ft") == pytest.approx(8 - 7.4375 / 2)
    assert at["base plate 3"].z.m_as("in") == pytest.approx(6.375)
    assert at["conduit"].z.m_as("ft") == pytest.approx(4.5)
    assert at["post 3"].x.m_as("ft") == 12


def test_two_rows_of_posts(rack):
    job = rack(depth=3, rails=(("front", 3), ("back", 3), ("center", 7)))
    posts = [m for m in members(job) if m.part == "post"]
    assert len(posts) == 6
    assert {round(m.y.m_as("in")) for m in posts} == {18, -18}
    rails = {m.mark: m.y.m_as("in") for m in members(job) if m.part == "rail"}
    assert rails == pytest.approx({"rail 1": 18 + 2 + 0.79, "rail 2": -(18 + 2 + 0.79), "rail 3": 0})
    # on the posts to their outer faces, between the rows from post line to post line
    long = {m.mark: m.length.m_as("ft") for m in members(job) if m.part == "rail"}
    assert long == pytest.approx({"rail 1": LONG, "rail 2": LONG, "rail 3": 12})


def test_braces_and_canopy_are_counted(rack):
    brace = Plain(from_=None, shape="L3X3X1/4", length=rack.of(4, "ft", "L"))
    canopy = Plain(length=rack.of(13, "ft"), width=rack.of(5, "ft"), height=rack.of(9, "ft"), weight=rack.of(4, "psf"))
    plain, more = weights(rack()), weights(rack(braces=(brace, brace), canopy=canopy))
    at = {p.label: p for p in more.parts}
    assert at["brace 2"].w.m_as("lbf") == pytest.approx(4.9 * 4)
    assert at["canopy"].w.m_as("lbf") == pytest.approx(13 * 5 * 4)
    assert more.W.magnitude > plain.W.magnitude + 2 * 4.9 * 4 + 260


def test_every_line_names_its_source_down_to_the_schedule(rack):
    found = weights(rack(rack.item("A", 200, 3, 5)))
    assert all(p.source for p in found.parts)
    assert "worked by hand" in found.W.trace()
    assert "AISC Steel Construction Manual" in found.W.trace()


def test_one_weight_touches_the_total_and_can_be_changed(rack):
    job = rack(rack.item("A", 200, 3, 5))
    found = weights(job)
    leaf = job.equipment[0].weight
    assert touched(leaf, {"W": found.W, "z": found.z_bar, "frame": found.groups["frame"]}) == ["W", "z"]
    heavier = recompute(found.W, {leaf: rack.of(250, "lbf")})
    assert heavier.magnitude == pytest.approx(found.W.magnitude + 50)


def measured(rack, total, x=6.0, y=0.5, z=4.0):
    return Plain(
        total=rack.of(total, "lbf"),
        x=rack.of(x, "ft"),
        y=rack.of(y, "in"),
        z=rack.of(z, "ft"),
        date="2026-05-20",
        scale="crane scale",
    )


def test_measured_weight_replaces_the_estimate_and_is_checked(rack):
    items = [rack.item("A", 200, 3, 5)]
    estimate = weights(rack(*items))
    near = measured(
        rack,
        estimate.W.m_as("lbf") * 1.04,
        estimate.x_bar.m_as("ft"),
        estimate.y_bar.m_as("in"),
        estimate.z_bar.m_as("ft") - 0.5,
    )
    found = weights(rack(*items, measured=near))
    assert found.W.m_as("lbf") == pytest.approx(estimate.W.m_as("lbf") * 1.04)
    assert found.estimate.m_as("lbf") == pytest.approx(estimate.W.m_as("lbf"))
    assert found.z_bar.m_as("ft") == pytest.approx(estimate.z_bar.m_as("ft"))  # weighed 0.5 ft above grade
    assert [c.word for c in found.checks] == ["OK"] * 4
    assert "crane scale" in sheets(found)[0].markdown()


def test_measured_weight_far_off_fails_its_check(rack):
    estimate = weights(rack()).W.m_as("lbf")
    found = weights(rack(measured=measured(rack, 1.06 * estimate, x=6.3)))
    assert [c.word for c in found.checks][:2] == ["NOT OK", "NOT OK"]
    assert found.checks[0].ratio.magnitude == pytest.approx(1.2)


ITEMS = st.lists(
    st.tuples(st.floats(1, 2000), st.floats(0, 12), st.floats(0.5, 10), st.sampled_from(["front", "back"]), st.floats(2, 36)),
    max_size=8,
)


@settings(max_examples=40, deadline=None)
@drawn(ITEMS)
def test_total_is_the_sum_and_the_center_lies_inside(rack, drawn_items):
    found = weights(rack(*(rack.item(f"E{n}", w, x, z, f, d) for n, (w, x, z, f, d) in enumerate(drawn_items))))
    assert found.W.m_as("lbf") == pytest.approx(sum(p.w.m_as("lbf") for p in found.parts))
    assert found.W.m_as("lbf") == pytest.approx(sum(g.m_as("lbf") for g in found.groups.values()))
    for bar, axis, unit in ((found.x_bar, "x", "ft"), (found.y_bar, "y", "in"), (found.z_bar, "z", "ft")):
        places = [getattr(p, axis).m_as(unit) for p in found.parts]
        assert min(places) - 1e-9 <= bar.m_as(unit) <= max(places) + 1e-9


@settings(max_examples=30, deadline=None)
@drawn(ITEMS)
def test_a_mirrored_rack_has_its_center_behind_instead_of_in_front(rack, drawn_items):
    other = {"front": "back", "back": "front"}
    there = rack(*(rack.item(f"E{n}", w, x, z, f, d) for n, (w, x, z, f, d) in enumerate(drawn_items)))
    back = rack(
        *(rack.item(f"E{n}", w, x, z, other[f], d) for n, (w, x, z, f, d) in enumerate(drawn_items)),
        rails=(("back", 3), ("back", 6)),
    )
    a, b = weights(there), weights(back)
    assert b.y_bar.m_as("in") == pytest.approx(-a.y_bar.m_as("in"), abs=1e-9)
    for name in ("W", "x_bar", "z_bar", "e_x"):
        assert getattr(b, name).magnitude == pytest.approx(getattr(a, name).magnitude, abs=1e-9)


@settings(max_examples=30, deadline=None)
@drawn(ITEMS, st.floats(1, 5000))
def test_equipment_adds_its_own_weight_and_no_other(rack, drawn_items, more):
    items = [rack.item(f"E{n}", w, x, z, f, d) for n, (w, x, z, f, d) in enumerate(drawn_items)]
    before, after = weights(rack(*items)), weights(rack(*items, rack.item("NEW", more, 4, 4)))
    assert after.W.m_as("lbf") - before.W.m_as("lbf") == pytest.approx(more)


def test_section_weights_agree_with_their_areas():
    steel = table("unit_weights").cell("steel", "weight")
    for name in ("channels", "wide_flanges", "angles"):
        t = table(name)
        for row in t.rows:
            by_area = weight_per_length(gamma_s=steel, A=t.cell(row["shape"], "A")).m_as("lbf/ft")
            near = 0.06 if row["shape"] == "C3X3.5" else 0.025  # the manual's name is 6 % below that row's own area
            assert by_area == pytest.approx(t.cell(row["shape"], "weight").m_as("lbf/ft"), rel=near), row["shape"]


@pytest.mark.parametrize(
    ("shape", "perimeter"),
    [
        ("C6X8.2", 2 * 6 + 4 * 1.92 - 2 * 0.2),
        ("L3X3X1/4", 12),
        ("W6X15", 2 * 5.99 + 4 * 5.99 - 2 * 0.23),
        ("Pipe3STD", math.pi * (3.5 + 3.07)),
    ],
)
def test_perimeters(shape, perimeter):
    assert outline(shape).perimeter.m_as("in") == pytest.approx(perimeter)


def test_an_unknown_shape_is_one_clear_error(rack):
    job = rack()
    job.frame.rail = "C4X5.5"
    with pytest.raises(LookupFailed, match=r"C4X5.5.*C4X5.4"):
        weights(job)


def test_a_tag_like_a_member_keeps_both(rack):
    found = weights(rack(rack.item("post 1", 100, 3, 5)))
    assert len(set(found.labels)) == len(found.parts)
    assert found.W.m_as("lbf") == pytest.approx(sum(p.w.m_as("lbf") for p in found.parts))


def test_an_empty_rack_still_weighs(rack):
    found = weights(rack())
    assert found.items == {}
    assert "There is no equipment" in sheets(found)[0].markdown().replace("\\", "")


def test_columns_convert_and_refuse(rack):
    c = column("w", {"a": rack.of(1, "kip"), "b": rack.of(500, "lbf")}, "lbf")
    assert c.magnitude.tolist() == [1000, 500]
    assert entries(c, ("a", "b"))["b"].m_as("lbf") == 500
    with pytest.raises(UnitError):
        column("w", {"a": rack.of(1, "ft")}, "lbf")


def test_post_lines_follow_the_bays(rack):
    assert [x.m_as("ft") for x in post_lines(rack(bays=(8, 7, 9)))] == [0, 8, 15, 24]


def test_the_sheet_prints_every_part_and_quotes_the_columns(rack):
    text = sheets(weights(rack(rack.item("A-1", 200, 3, 5))))[0].markdown()
    assert r"A\-1" in text
    assert "base plate 3" in text

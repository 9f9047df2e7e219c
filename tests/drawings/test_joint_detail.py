"""Joint of rail and post: true sizes on paper, the way the channel faces, and an honest word where there is nothing to draw."""

import pytest
from racks import legible, made, rack, scale_of

from rackbook.drawings.joint_detail import joint_detail

CLIP = {
    "frame.rail_ends": "pinned",
    "frame.post": "HSS6X6X1/2",
    "connections.clip": {
        "bolts": 2, "spacing": "3 in", "edge": "1-1/4 in", "thickness": "1/2 in", "weld": "5/16 in", "length": "5.5 in",
    },
}  # fmt: skip


@pytest.mark.parametrize("keys", [{}, CLIP, {"connections.rail_weld": None}, {**CLIP, "frame.post": "HSS6X5X3/8"}])
def test_joints_are_legible_and_to_scale(keys):
    seen = legible(joint_detail(made(keys)))
    inch = scale_of(seen) / 12
    assert seen.figure("rail")[3] == pytest.approx(6 * inch, abs=1e-3)
    assert seen.smallest() >= 5.5


def test_a_welded_channel_stands_on_its_toes():
    seen = legible(joint_detail(rack()))
    inch = scale_of(seen) / 12
    assert "toes of the rail face the post" in seen.said
    assert "fillet 3/16 in." in seen.said
    assert "toe 0.20 in." in seen.said
    assert seen.figure("channel")[2] == pytest.approx(1.92 * inch, abs=1e-3)
    flat = 6 - 4 * 0.233
    for n in (1, 2):
        assert seen.figure(f"weld {n}")[2:] == (pytest.approx(flat * inch, abs=1e-3), pytest.approx(3 / 16 * inch, abs=1e-3))


def test_a_clipped_channel_lies_on_its_web_and_the_clip_is_flush_with_the_post():
    seen = legible(joint_detail(made(CLIP)))
    inch = scale_of(seen) / 12
    assert "toes face outward" in seen.said
    assert "gap 0.11 in." in seen.said
    assert "throat 0.29 in." in seen.said
    web, plate, post = (seen.figure(name) for name in ("web", "clip", "post section"))
    assert plate[2:] == (pytest.approx(2.5 * inch, abs=1e-3), pytest.approx(0.5 * inch, abs=1e-3))
    assert plate[1] + plate[3] == pytest.approx(post[1] + post[3], abs=1e-3) == pytest.approx(web[1], abs=1e-3)
    assert plate[0] == pytest.approx(post[0] + post[2], abs=1e-3)
    one, two = (seen.figure(f"bolt {n}") for n in (1, 2))
    assert abs(one[1] - two[1]) == pytest.approx(3 * inch, abs=1e-3)


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ({"frame.post": "Pipe6STD"}, "channels on the faces of rectangular tubes"),
        ({"frame.rail_ends": "pinned"}, "gives no clip"),
    ],
)
def test_what_cannot_be_drawn_says_so(keys, says):
    assert says in legible(joint_detail(made(keys))).said.replace("\n", " ")

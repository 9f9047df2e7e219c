"""The boxes of a rack, and what is seen of them: against a count of unit squares and by hand."""

import itertools

import numpy as np
import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from rackbook.loads.geometry import parts
from rackbook.loads.wind import silhouette
from rackbook.trace import DomainError, LookupFailed, recompute

CORNER = st.tuples(st.integers(0, 9), st.integers(1, 5), st.integers(0, 9), st.integers(1, 5))


def test_boxes_of_a_rack_by_hand(rack):
    found = parts(
        rack(rack.item("A", 200, 3, 5), rack.item("B", 100, 9, 4, face="back", depth=6), rails=(("front", 3), ("back", 3)))
    )
    boxes = dict(zip(found.tags, found.boxes, strict=True))
    half_post, rail = 2 / 12, 1.58 / 12
    assert boxes["A"] == pytest.approx(np.array([[2, 4], [half_post + rail, half_post + rail + 1], [4, 6]]))
    assert boxes["B"] == pytest.approx(np.array([[8, 10], [-half_post - rail - 0.5, -half_post - rail], [3, 5]]))
    assert boxes["post 3"] == pytest.approx(np.array([[12 - half_post, 12 + half_post], [-half_post, half_post], [0.5625, 8]]))
    ends = [-half_post, 12 + half_post]  # to the outer faces of the end posts
    assert boxes["rail 2"] == pytest.approx(np.array([ends, [-half_post - rail, -half_post], [3 - 2 / 12, 3 + 2 / 12]]))
    assert found.rows.tolist() == [0] * len(found.tags)
    assert found.length.m_as("ft") == 12
    assert found.overall.m_as("ft") == pytest.approx(12 + 4 / 12)
    assert found.place("B") == 1
    with pytest.raises(DomainError, match="no part 'Z'"):
        found.place("Z")


def test_two_rows_of_posts_are_two_rows_of_parts(rack):
    found = parts(
        rack(rack.item("A", 200, 3, 5), rack.item("B", 1, 3, 5, face="back"), rails=(("front", 3), ("back", 3)), depth=3)
    )
    rows = dict(zip(found.tags, found.rows.tolist(), strict=True))
    assert rows["A"] == 1
    assert rows["B"] == -1
    assert rows["post 1 front"] == rows["rail 1"] == 1
    assert rows["post 1 back"] == rows["rail 2"] == -1


def test_a_tag_that_is_also_a_mark_stays_apart(rack):
    found = parts(rack(rack.item("rail 1", 200, 3, 5)))
    assert len(set(found.tags)) == len(found.tags)
    assert "rail 1 (frame)" in found.tags


def test_an_unknown_shape_is_refused(rack):
    job = rack(rack.item("A", 200, 3, 5))
    job.frame.rail = "C4X99"
    with pytest.raises(LookupFailed, match="C4X99"):
        parts(job)


def test_a_box_is_read_again_when_an_input_changes(rack):
    job = rack(rack.item("A", 200, 3, 5))
    found = parts(job)
    deeper = recompute(found.y, {job.equipment[0].depth: rack.of(0.5, "m")})
    assert deeper.m_as("ft")[0] == pytest.approx(2 / 12 + 1.58 / 12 + 0.25 / 0.3048)
    assert deeper.m_as("ft")[1:] == pytest.approx(found.y.m_as("ft")[1:])


def counted(boxes, order, window):
    """Own each unit square to the first box of the order that holds it: area and first moments, by counting."""
    n = len(boxes)
    area, first = np.zeros((2, n)), np.zeros((2, n, 2))
    for u, v in itertools.product(range(15), repeat=2):
        for k in order:
            a, w, b, h = boxes[k]
            if a <= u < a + w and b <= v < b + h:
                inside = int(window[0] <= u < window[1] and window[2] <= v < window[3])
                area[inside, k] += 1
                first[inside, k] += u + 0.5, v + 0.5
                break
    return area, first


@settings(deadline=None, max_examples=60)
@drawn(st.lists(CORNER, min_size=1, max_size=9), st.randoms(use_true_random=False), CORNER, st.sampled_from([1, 2, 5, 192]))
def test_what_is_seen_equals_a_count_of_squares(boxes, random, corner, strip):
    order = list(range(len(boxes)))
    random.shuffle(order)
    window = (corner[0], corner[0] + corner[1], corner[2], corner[2] + corner[3])
    low = np.array([(a, b) for a, _, b, _ in boxes], float)
    high = np.array([(a + w, b + h) for a, w, b, h in boxes], float)
    whole, silhouette.STRIP = silhouette.STRIP, strip
    try:
        found = silhouette.seen(low, high, np.array(order), window)
    finally:
        silhouette.STRIP = whole
    area, first = counted(boxes, order, window)
    assert found.area == pytest.approx(area, abs=1e-12)
    some = area > 0
    assert found.u[some] == pytest.approx((first[..., 0] / np.where(some, area, 1))[some])
    assert found.v[some] == pytest.approx((first[..., 1] / np.where(some, area, 1))[some])
    # where nothing is seen the point of action is the box's own center
    assert found.u[~some] == pytest.approx(np.broadcast_to((low + high)[:, 0] / 2, (2, len(boxes)))[~some])


def box(x, y, z):
    return [list(x), list(y), list(z)]


def test_end_faces_leave_out_only_what_touches():
    boxes = np.array([box((0, 2), (0, 1), (3, 6)), box((2, 4), (0, 2), (4, 8)), box((5, 6), (0, 2), (4, 8))], float)
    # from the left the second shows all but the 1 x 2 ft the first covers; the gap of a foot hides nothing
    assert silhouette.end_faces(boxes, -1) == pytest.approx([3, 8 - 2, 8])
    assert silhouette.end_faces(boxes, 1) == pytest.approx([3 - 2, 8, 8])


def test_end_faces_of_thin_parts_hide_nothing():
    boxes = np.array([box((0, 0), (0, 1), (0, 1)), box((0, 2), (0, 1), (0, 1))], float)
    assert silhouette.end_faces(boxes, -1) == pytest.approx([1, 1])

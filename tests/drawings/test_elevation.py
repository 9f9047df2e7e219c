"""Elevations: true sizes, the same bytes for the same job, every tag, and marks that keep clear."""

import re

import numpy as np
import pytest
from racks import FOOT, RACKS, legible, made, rack, scale_of

from rackbook.drawings import elevation
from rackbook.drawings.elevation import View
from rackbook.job import load
from rackbook.loads.geometry import parts
from rackbook.loads.outlines import outline
from rackbook.loads.weights import weights
from rackbook.shipped import shipped

JOBS = ("quartz_saddle", "heron_quay")


@pytest.fixture(scope="module", params=JOBS)
def job(request):
    return load(shipped("data", "jobs", request.param))


@pytest.fixture(scope="module")
def words():
    """Collect every text a drawing writes, and where, by drawing it again on recorded paper."""

    def of(job, face):
        said, boxes = [], []

        class Recorder:
            scale = 0.2

            def real(self, inches):
                return inches / self.scale

            def __getattr__(self, name):
                def record(*args, **how):
                    said.append((name, args))
                    if name == "box":
                        boxes.append(args)

                return record

        View(job, face, parts(job), weights(job)).draw(Recorder())
        return said, boxes

    return of


@pytest.mark.parametrize("face", ["front", "back", "end"])
def test_same_job_same_bytes(job, face):
    one = elevation(job, face)
    assert one == elevation(job, face)
    assert "<dc:date>" not in one
    width = float(re.search(r'width="([\d.]+)pt"', one).group(1))
    assert width == pytest.approx(6.5 * 72)


@pytest.mark.parametrize("face", ["front", "back"])
def test_every_item_of_the_side_has_its_tag_in_its_place(job, words, face):
    said, _ = words(job, face)
    tags = {args[0]: args for name, args in said if name == "tag"}
    assert set(tags) == {str(e.tag) for e in job.equipment if e.face == face}
    length = sum(b.m_as("ft") for b in job.frame.bays)
    for item in (e for e in job.equipment if e.face == face):
        _, u, z, w, h = tags[str(item.tag)]
        x = item.x.m_as("ft")
        assert u + w / 2 == pytest.approx(x if face == "front" else length - x)
        assert z + h / 2 == pytest.approx(item.z.m_as("ft"))
        assert (w, h) == (pytest.approx(item.width.m_as("ft")), pytest.approx(item.height.m_as("ft")))


def test_members_have_the_sizes_of_the_section_tables(job, words):
    _, boxes = words(job, "front")
    post, rail = outline(str(job.frame.post)), outline(str(job.frame.rail))
    wide = [b[2] for b in boxes]
    assert sum(w == pytest.approx(post.width.m_as("ft")) for w in wide) >= len(job.frame.bays) + 1
    length = sum(b.m_as("ft") for b in job.frame.bays) + post.width.m_as("ft")  # to the outer faces of the end posts
    assert any(b[2:4] == (pytest.approx(length), pytest.approx(rail.depth.m_as("ft"))) for b in boxes)


def test_end_is_seen_from_the_left_with_the_front_on_the_right(job, words):
    """Facing the rack's left end one has its front at the right hand; what is nearer the left end is drawn later."""
    said, boxes = words(job, "end")
    of = parts(job)
    drawn = {place: n for n, place in enumerate(_order(of, boxes))}
    front = [e for e in job.equipment if e.face == "front"]
    for item in front:
        u, _, w, _ = boxes[drawn[of.place(str(item.tag))]]
        assert u + w / 2 == pytest.approx(of.y.m_as("ft")[of.place(str(item.tag))])
        assert u + w / 2 > 0  # drawn to the right of the post plane
    ends = {e.tag: of.boxes[of.place(str(e.tag)), 0, 0] for e in front}
    nearest, farthest = min(ends, key=ends.get), max(ends, key=ends.get)
    assert drawn[of.place(str(nearest))] > drawn[of.place(str(farthest))]
    assert "End elevation, seen from the left end" in legible(elevation(job, "end")).words
    words_of = {args[2]: args[0] for name, args in said if name == "text"}
    assert words_of["back"] < 0 < words_of["front"]


def _order(of, boxes):
    """Return the parts in the order their boxes are drawn, by place and size; foundation and plates are no parts."""
    left = list(range(len(of.tags)))
    found = []
    for u, z, w, h in (b[:4] for b in boxes):
        same = [
            n for n in left
            if np.allclose((*of.boxes[n, 1], *of.boxes[n, 2]), (u, u + w, z, z + h), atol=1e-6)
        ]  # fmt: skip
        found.append(max(same, key=lambda n: of.boxes[n, 0, 0]) if same else None)
        if same:
            left.remove(found[-1])
    return found


def test_the_first_items_from_the_left_end_have_their_tags_there(job):
    said = legible(elevation(job, "end")).words
    for face in ("front", "back"):
        first = min((e for e in job.equipment if e.face == face), key=lambda e: e.x.m_as("ft") - e.width.m_as("ft") / 2)
        assert str(first.tag) in said


@pytest.mark.parametrize("face", ["front", "back"])
def test_no_tag_stands_on_another_item(job, face):
    """Every word that is a tag stands on its own box or on none, read from the SVG."""
    seen = legible(elevation(job, face))
    view = View(job, face, parts(job), weights(job))
    per_foot = scale_of(seen)
    post = seen.figure("post 1")
    x_0 = post[0] + post[2] / 2 - view.across(0.0) * per_foot
    grade = post[1] + post[3]  # underside of post 1
    under = float(view.parts.boxes[view.parts.place("post 1"), 2, 0])
    for room in seen.texts:
        mine = [e for e in job.equipment if str(e.tag) == room.words]
        if not mine:
            continue
        for other in (e for e in job.equipment if e.face == face and str(e.tag) != room.words):
            u, w, z, h = view.rectangle(view.parts.boxes[view.parts.place(str(other.tag))])
            left, right = x_0 + u * per_foot, x_0 + (u + w) * per_foot
            bottom, top = grade - (z - under) * per_foot, grade - (z + h - under) * per_foot
            apart = (
                room.right <= left + 0.01 or room.left >= right - 0.01 or room.top >= bottom - 0.01 or room.bottom <= top + 0.01
            )
            assert apart, (room.words, str(other.tag))


def test_center_of_gravity_is_the_weights_own(job, words):
    w = weights(job)
    for face, u in (("front", w.x_bar.m_as("ft")), ("end", w.y_bar.m_as("ft"))):
        (mark,) = [args for name, args in words(job, face)[0] if name == "center"]
        assert mark == (pytest.approx(u), pytest.approx(w.z_bar.m_as("ft")))


@pytest.mark.parametrize("face", ["front", "end"])
@pytest.mark.parametrize("name", ["", *RACKS])
def test_every_rack_is_legible(name, face):
    seen = legible(elevation(rack(name), face))
    assert re.search(r"Scale .* = .*ft", seen.said)


def test_drawn_to_its_scale():
    job = made({**FOOT, "frame.base_plate": {"length": "19 in", "width": "16 in", "thickness": "1 in"}})
    for face, size in (("front", 19), ("end", 16)):
        seen = legible(elevation(job, face))
        assert seen.figure("plate 1")[2] == pytest.approx(size / 12 * scale_of(seen), abs=0.01)
    front = legible(elevation(job, "front"))
    assert front.figure("post 4")[0] - front.figure("post 1")[0] == pytest.approx(24 * scale_of(front), abs=0.01)
    assert front.figure("post 1")[3] == pytest.approx(
        job.frame.height.m_as("ft") * scale_of(front) - (6 + 1.5 + 1) / 12 * scale_of(front), abs=0.01
    )


@pytest.mark.parametrize("mark", ["brace 1", "brace 2", "splice 1", "post 1", "post 4", "rail 5: 8 ft"])
def test_marks_of_the_calculation_stand_on_the_elevation(mark):
    assert mark in legible(elevation(rack(demo="heron_quay"), "front")).words


def test_double_row_shows_its_ties_and_rows():
    said = legible(elevation(rack("double row"), "end")).words
    assert {"tie 1", "tie 2", "front", "back"} <= set(said)
    assert "post 2 front" in legible(elevation(rack("double row"), "front")).words


def test_more_rails_than_can_be_named():
    rails = [{"height": f"{2 + 0.45 * n:.2f} ft", "face": "front"} for n in range(40)]
    job = made({"frame.height": "20 ft", "frame.rails": rails}, items=False)
    said = legible(elevation(job, "front")).words
    assert "one in 3 named" in said
    assert sum(words.startswith("rail ") for words in said) == 14
    legible(elevation(job, "back"))  # no rail at all


@pytest.mark.parametrize("tag", ["</svg><script>", "$x^2$ & <b>", "中文", "\U0001f600", "W" * 40, "a\u0301\u0301"])
def test_a_hostile_tag_stays_words(tag):
    job = rack()
    (first, *others) = job.equipment
    hostile = first.model_copy(update={"tag": type(first.tag)(tag)})
    job = job.model_copy(update={"equipment": (hostile, *others)})
    seen = legible(elevation(job, "front"))
    assert "script" not in {node.tag.rpartition("}")[2] for node in seen.root.iter() if isinstance(node.tag, str)}


def test_every_rail_height_is_dimensioned(job, words):
    for face in ("front", "back"):
        (levels,) = [args[1] for name, args in words(job, face)[0] if name == "levels"]
        assert sorted(levels) == sorted({r.height.m_as("ft") for r in job.frame.rails if r.face == face})

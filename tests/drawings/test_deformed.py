"""The deformed rack: displacements where the solution has them, as many times as large as the drawing says."""

import re

import numpy as np
import pytest
from racks import FRAMES, legible, scale_of, solved

from rackbook.drawings.cases import factors
from rackbook.drawings.deformed import ACROSS, SLOPE, deformed
from rackbook.trace import LookupFailed


def times_of(seen):
    return float(re.search(r"drawn ([\d,]+) times", seen.said.replace("\n", " ")).group(1).replace(",", ""))


@pytest.mark.parametrize("along", [False, True])
@pytest.mark.parametrize("name", FRAMES)
def test_every_frame_is_legible(name, along):
    frame = solved(name).frame
    seen = legible(deformed(frame, along=along))
    drift = frame.drift["along" if along else "across"]
    said = seen.said.replace("\n", " ")
    assert f"Deformed shape: {drift.combination}" in said
    assert drift.value.text() in said
    assert f"at the {drift.where}" in said
    assert {base.label for base in frame.bases} <= set(seen.words) or name == "ten bays"


@pytest.mark.parametrize("case", ["Q along", "Q across", "D", "- 0.5 W left + W front"])
def test_posts_are_drawn_where_they_move_to(case):
    of = solved("double row")
    seen = legible(deformed(of.frame, case))
    scale, times = scale_of(seen), times_of(seen)
    found = of.frame.analysis.solved
    moved = (found.displacements @ factors(case, of.frame.cases)).reshape(-1, 6)
    places = found.built.model.xyz + times * moved[:, :3]
    flat = np.stack([places[:, 0] - places[:, 1] * ACROSS * np.cos(SLOPE),
                     places[:, 2] - places[:, 1] * ACROSS * np.sin(SLOPE)], axis=1) / 12 * scale  # fmt: skip
    first = seen.points(of.frame.bases[0].label)[0]
    for base, nodes in zip(of.frame.bases, found.built.posts, strict=True):
        drawn = seen.points(base.label)
        foot, top = flat[nodes[0]] - flat[found.built.posts[0][0]], flat[nodes[-1]] - flat[found.built.posts[0][0]]
        assert drawn[0] - first == pytest.approx(foot * (1, -1), abs=2e-3)
        assert drawn[-1] - first == pytest.approx(top * (1, -1), abs=2e-3)


def test_the_largest_displacement_is_marked_and_written():
    frame = solved(demo="heron_quay").frame
    seen = legible(deformed(frame, "W twist"))
    moved = (frame.analysis.solved.displacements @ factors("W twist", frame.cases)).reshape(-1, 6)[:, :3]
    (said,) = [w for w in seen.words if re.fullmatch(r"[\d.]+ in\.", w) and "scale" not in w][-1:] or [""]
    largest = float(next(w for w in seen.words if re.fullmatch(r"0?\.?\d+\.?\d* in\.", w)).removesuffix(" in."))
    assert said
    assert largest == pytest.approx(np.linalg.norm(moved, axis=1).max(), rel=5e-4)
    drawn = np.vstack([seen.points(m.mark) for m in frame.members])
    assert np.abs(drawn - np.add(seen.figure("largest")[:2], np.divide(seen.figure("largest")[2:], 2))).sum(axis=1).min() < 5e-3


def test_a_bent_post_is_smooth():
    """The line through a rack's post has no corner: its direction changes little from point to point."""
    frame = solved().frame
    points = legible(deformed(frame, "Q across")).points("post 2")
    steps = np.diff(points, axis=0)
    steps = steps[np.linalg.norm(steps, axis=1) > 1e-6]
    turn = np.abs(np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))))
    assert turn.max() < 0.08
    assert turn.sum() > 0.02


@pytest.mark.parametrize(("words", "said"), [
    ("W frnt", "'W frnt' is none. Did you mean 'W front'?"),
    ("D W front", "no combination of unit cases"),
    ("", ""),
    ("1.2", "no combination"),
    ("0 D", "names no unit case"),
])  # fmt: skip
def test_a_combination_is_read_or_refused(words, said):
    cases = solved().frame.cases
    if words:
        with pytest.raises(LookupFailed, match=re.escape(said)):
            factors(words, cases)
    assert factors("1.2 D + L 2 - 1.0 W front", cases)[[0, 2, cases.index("W front")]].tolist() == [1.2, 1.0, -1.0]

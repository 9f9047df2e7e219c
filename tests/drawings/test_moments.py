"""Moments: on the side that is in tension, as long as the drawing says, peaks written."""

import re

import numpy as np
import pytest
from racks import FRAMES, legible, made, scale_of, solved

from rackbook.drawings.moments import governing, moments, place_of
from rackbook.structure.frame import frame as framed
from rackbook.trace import LookupFailed

PINNED = {"frame.rail_ends": "pinned"}


def ordinates(seen):
    """Return kip in. to an inch of paper, by part."""
    found = re.search(
        r"1 in\. of paper is (?:([\d.,]+) for posts)?(?: and )?(?:([\d.,]+) for rails)?", seen.said.replace("\n", " ")
    )
    return {part: float(n.replace(",", "")) for part, n in zip(("post", "rail"), found.groups(), strict=True) if n}


@pytest.mark.parametrize("way", ["along", "across"])
@pytest.mark.parametrize("name", FRAMES)
def test_every_frame_is_legible(name, way):
    of = solved(name)
    seen = legible(moments(of.frame, way, "strength"))
    chosen = governing(of.frame, way, "strength")
    assert of.frame.sets["strength"].labels[chosen.number] in seen.said.replace("\n", " ")
    assert scale_of(seen) > 0


@pytest.mark.parametrize(("way", "component"), [("along", "M_y"), ("across", "M_x")])
def test_posts_are_drawn_to_the_stated_scale(way, component):
    frame = solved().frame
    number = governing(frame, way, "strength").number
    seen = legible(moments(frame, way, "strength"))
    M = getattr(frame.actions("strength"), component)[number]
    for n, m in enumerate(frame.members):
        if m.part == "post":
            at = list(m.stations)
            line = seen.points(m.mark)[0, 0]  # the foot of the post itself
            reach = seen.figure(m.mark)
            drawn = max(line - reach[0], reach[0] + reach[2] - line)
            assert drawn * ordinates(seen)["post"] == pytest.approx(np.abs(M[at]).max(), rel=0.01, abs=0.5)
            assert any(
                abs(float(w.replace(",", "")) - np.abs(M[at]).max()) < max(0.06, 0.005 * np.abs(M[at]).max())
                for w in seen.words
                if re.fullmatch(r"[\d,.]+", w)
            ), n


@pytest.mark.parametrize(("wind", "side"), [("W front", 1), ("W back", -1)])
def test_wind_puts_the_windward_side_of_a_post_in_tension(wind, side):
    """Wind on the front bends the posts backwards: their front, drawn to the right, is pulled."""
    frame = solved().frame
    labels = frame.sets["strength"].labels
    number = next(n for n, label in enumerate(labels) if re.search(rf"1\.0 {wind}( [+-] 1\.0 W twist)?$", label))
    seen = legible(moments(frame, "across", "strength", number))
    foot, reach = seen.points("post 2")[0, 0], seen.figure("post 2")
    right, left = reach[0] + reach[2] - foot, foot - reach[0]
    assert (right > 3 * left) == (side > 0)
    assert (left > 3 * right) == (side < 0)


def test_weights_pull_the_underside_of_a_rail_between_posts_and_its_top_over_them():
    frame = solved("canopy").frame
    seen = legible(moments(frame, "along", "strength", 0))
    assert frame.sets["strength"].labels[0].endswith("1.4 D")
    reach, line = seen.figure("rail 3 bay 2"), seen.points("rail 3 bay 2")[0, 1]
    assert reach[1] + reach[3] - line > 0.01  # below the rail, in the bay
    assert line - reach[1] > 0.01  # above it, at the posts


def test_the_tension_side_is_the_convex_side():
    """Where a post of the demo bends most, its displaced line bulges to the side the moment is drawn on."""
    of = solved()
    job = made(PINNED)
    frame = framed(job, of.weights, *_loads(job, of))
    labels = frame.sets["strength"].labels
    number = next(n for n, label in enumerate(labels) if re.search(r"1\.0 Q along|1\.3 Q along", label))
    seen = legible(moments(frame, "along", "strength", number))
    c = frame.sets["strength"].factors[number]
    nodes = frame.analysis.solved.built.posts[1]
    u = (frame.analysis.solved.displacements @ c).reshape(-1, 6)[list(nodes), 0]
    foot, reach = seen.points("post 2")[0, 0], seen.figure("post 2")
    drawn_right = reach[0] + reach[2] - foot > foot - reach[0]
    # a post that leans to the right from a fixed foot is pulled on its left
    assert drawn_right == (u[-1] < 0)


def _loads(job, of):
    from rackbook.loads.seismic import seismic
    from rackbook.loads.wind import wind

    return wind(job), seismic(job, of.weights)


def test_a_combination_is_found_by_its_label_or_refused():
    frame = solved().frame
    assert place_of(frame, "strength", "2.3.1-1") == 0
    with pytest.raises(LookupFailed, match="no combination 'nonsense'"):
        place_of(frame, "strength", "nonsense")
    with pytest.raises(LookupFailed, match=r"no set of combinations 'x'\. Sets: strength"):
        place_of(frame, "x", "2.3.1-1")

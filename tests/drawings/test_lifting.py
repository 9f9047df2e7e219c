"""Lifting: hook over the center of gravity, slings at their angles, every leg in words."""

import math

import pytest
from racks import Solved, legible, made, scale_of, solved

from rackbook.drawings.lifting import lifting_diagram

FOUR = {"lifting.picks": ["0 ft", "8 ft", "16 ft", "24 ft"], "lifting.legs": 4}
MODULES = {"lifting.picks": ["0 ft", "8 ft", "16 ft", "24 ft"], "frame.splices": ["12 ft"]}
BESIDE = {"lifting.picks": ["0 ft", "8 ft"]}


def drawn(of):
    return legible(lifting_diagram(of.job, of.lifting))


@pytest.mark.parametrize("of", [
    solved, lambda: solved(demo="heron_quay"), lambda: solved("double row"), lambda: solved("ten bays"),
    lambda: Solved(made(FOUR)), lambda: Solved(made(MODULES)),
])  # fmt: skip
def test_slings_stand_at_their_angles_over_the_center_of_gravity(of):
    of = of()
    seen = drawn(of)
    scale, posts = scale_of(seen), seen.figure("post 1 front" if of.job.frame.depth.magnitude else "post 1")
    left = posts[0] + posts[2] / 2
    for lift in of.lifting.lifts:
        assert lift.legs
        hook_x = left + lift.of.x_bar.m_as("ft") * scale
        for leg in lift.legs:
            x = leg.x.m_as("ft")
            pick, hook = seen.points(f"sling_{lift.of.name.replace(' ', '_')}_{round(x, 6):g}")
            assert pick[0] == pytest.approx(left + x * scale, abs=5e-3)
            assert hook[0] == pytest.approx(hook_x, abs=5e-3)
            assert pick[1] - hook[1] == pytest.approx(of.job.lifting.hook.m_as("ft") * scale, abs=2e-3)
            if of.job.frame.depth.magnitude == 0:  # seen in its true slope
                slope = math.degrees(math.atan2(pick[1] - hook[1], abs(hook[0] - pick[0])))
                assert slope == pytest.approx(leg.theta.m_as("deg"), abs=0.3)
            said = seen.said.replace("\n", " ")
            assert f"{leg.label}: sling {leg.L_s.text()}, {leg.theta.text()}, tension {leg.T.text()}" in said
            assert any(leg.T.text() in word for word in seen.words)


def test_tags_bays_and_height_are_those_of_the_hanging_rack():
    seen = drawn(solved())
    front = {str(item.tag) for item in solved().job.equipment if str(item.face) == "front" and item.width.m_as("in") > 20}
    assert front <= set(seen.words)
    assert seen.words.count("8 ft") == 3  # every bay
    assert "above the underside of the base plates" in seen.said
    assert "above grade" not in seen.said
    assert any(word.endswith("°") for word in seen.words)  # angles stand alone, inside their arcs


def test_modules_have_their_own_hooks():
    seen = drawn(Solved(made(MODULES)))
    assert {"module 1", "module 2"} <= set(seen.words)
    assert sum(name.startswith("sling_") for name in seen.names()) == 4


def test_picks_that_do_not_allow_the_lift_have_no_slings():
    seen = drawn(Solved(made(BESIDE)))
    assert "these picks do not allow the lift" in seen.said
    assert not any(name.startswith("sling_") for name in seen.names())


def test_no_lifting_is_said():
    assert "The job gives no lifting" in drawn(solved("bare")).said

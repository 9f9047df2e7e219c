"""Combinations of the frame: arrays and single numbers, inputs changed, second order."""

import re
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parent))
from framed import BOTH, SEATED, TWO_ROWS, case, framed, item, of, rack

from rackbook.job import load
from rackbook.shipped import shipped
from rackbook.structure.frame import sheets
from rackbook.structure.frame.estimate import by_geometric_stiffness
from rackbook.structure.frame.second_order import SET_OF
from rackbook.structure.frame.solve import ACTIONS, JOINTS, REACTIONS
from rackbook.trace import DomainError, Grid, Remark, recompute, touched

E, G = 29000.0, 11200.0


@pytest.fixture(scope="module", params=["heron_quay", "quartz_saddle"])
def demo(request):
    return framed(load(shipped("data", "jobs", request.param)))


@pytest.fixture(scope="module")
def plain():
    return framed(rack(*SEATED, rails=BOTH))


# --- combinations --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("set_name", ["strength", "allowable_overstrength"])
def test_single_numbers_are_those_of_the_arrays(demo, set_name):
    rng = np.random.default_rng(7)
    a, r, c = demo.actions(set_name), demo.reactions(set_name), demo.clips(set_name)
    for component in ACTIONS:
        of_all = getattr(a, component)
        for k, station in zip(rng.integers(of_all.shape[0], size=4), rng.integers(of_all.shape[1], size=4), strict=True):
            v = demo.action(set_name, component, int(a.member[station]), int(k), int(station))
            assert v.magnitude == pytest.approx(of_all[k, station], rel=1e-9, abs=1e-12)
    for names, of_set, single in ((REACTIONS, r, demo.reaction), (JOINTS, c, demo.clip)):
        for component in names:
            of_all = getattr(of_set, component)
            for k, n in zip(rng.integers(of_all.shape[0], size=4), rng.integers(of_all.shape[1], size=4), strict=True):
                v = single(set_name, component, int(n), int(k))
                assert v.magnitude == pytest.approx(of_all[k, n], rel=1e-9, abs=1e-12)


def test_what_governs_is_the_largest_of_all(demo):
    name = SET_OF[demo.method]
    a = demo.actions(name)
    for part, by in demo.governing.items():
        for component, of_one in by.items():
            if part == "base":
                r = getattr(demo.reactions(name), component.removesuffix("_min"))
                assert of_one.value.magnitude == pytest.approx(r.min() if component == "P_min" else np.abs(r).max() * np.sign(
                    of_one.value.magnitude))  # fmt: skip
            else:
                at = [s for m in demo.members if m.part == part for s in m.stations]
                assert abs(of_one.value.magnitude) == pytest.approx(np.abs(getattr(a, component)[:, at]).max())


def test_the_input_reaches_the_reactions_and_the_drift():
    speed = of(110, "mph", "V")
    f = framed(rack(*SEATED, rails=BOTH, speed=speed))
    named = {f"{part}.{n}": g.value for part, by in f.governing.items() for n, g in by.items()}
    named["drift"] = f.drift["across"].value
    k = next(n for n, label in enumerate(f.sets["strength"].labels) if "W front" in label)
    named["wind"] = f.reaction("strength", "M_x", 0, k)
    assert {"drift", "wind"} <= set(touched(speed, named))


@pytest.mark.parametrize(("component", "wind"), [("M_x", "W front"), ("V_y", "W back"), ("V_x", "W left"), ("M_y", "W right")])
def test_a_reaction_worked_again_on_another_wind_speed_is_that_of_a_new_frame(component, wind):
    slow, fast = of(110, "mph", "V"), of(140, "mph", "V")
    f, anew = (framed(rack(*SEATED, rails=BOTH, speed=v)) for v in (slow, fast))
    k = next(n for n, label in enumerate(f.sets["strength"].labels) if wind in label)
    before = f.reaction("strength", component, 1, k)
    again = recompute(before, {slow: fast})
    assert again.magnitude == pytest.approx(getattr(anew.reactions("strength"), component)[k, 1])
    assert again.magnitude != pytest.approx(before.magnitude, rel=0.01)
    clip = f.clip("strength", "F_y", 0, k)
    assert recompute(clip, {slow: fast}).magnitude == pytest.approx(anew.clips("strength").F_y[k, 0])


def test_a_number_worked_again_on_another_weight_is_that_of_a_new_frame():
    light, heavy = item("A", 200, 3, 4.5), item("A", 500, 3, 4.5)
    f, anew = framed(rack(light)), framed(rack(heavy))
    before = f.action("strength", "M_x", 0, 0, 0)
    again = recompute(before, {light.weight: heavy.weight})
    assert again.magnitude == pytest.approx(anew.actions("strength").M_x[0, 0])


def test_numbers_that_move_nodes_are_refused_when_worked_again():
    there, near = item("A", 200, 3, 4.5), item("A", 200, 5, 4.5)
    f = framed(rack(there))
    moved = {there.x: near.x, there.width: of(23.0, "in"), there.z: of(3.0, "ft")}
    with pytest.raises(DomainError, match="other nodes"):
        recompute(f.action("strength", "M_x", 0, 0, 0), moved)


@settings(max_examples=8, deadline=None)
@over(
    bays=st.lists(st.sampled_from([4, 6, 7.5, 9]), min_size=1, max_size=4),
    heights=st.lists(st.sampled_from([1.5, 3, 4.5, 6, 7.5]), min_size=1, max_size=4, unique=True),
    back=st.booleans(),
    moment=st.booleans(),
    scale=st.floats(0.2, 5),
    spot=st.floats(0.1, 0.9),
)
def test_reactions_balance_the_loads_and_grow_with_them(bays, heights, back, moment, scale, spot):
    rails = tuple(("front", z) for z in heights) + ((("back", heights[0]),) if back else ())
    where = spot * sum(bays)
    ends = "moment" if moment else "pinned"
    f = framed(rack(item("A", 200, where, 4.2), rails=rails, bays=bays, rail_ends=ends))
    loads_, ground = f.analysis.solved.balance
    assert np.abs(loads_ - ground).max() < 1e-8 * np.abs(loads_).max()
    task, numbers = f.analysis.task, {n: v.magnitude for n, v in f.analysis.given.items()}
    scaled = {
        n: v * scale if n in ("w", "W", "P", "Q_along", "Q_across", "M_ta") or n.startswith("F ") else v
        for n, v in numbers.items()
    }
    more = task(**scaled)
    twist = [f.cases.index(c) for c in f.cases if c == "W twist"]
    same = [n for n in range(len(f.cases)) if n not in twist]
    assert more.reactions[:, :, same] == pytest.approx(scale * f.analysis.solved.reactions[:, :, same], rel=1e-9, abs=1e-9)


# --- second order --------------------------------------------------------------------------------------------------------


def test_amplifiers_grow_with_gravity_and_with_asd():
    heavy = item("A", 20000, 6, 4.5, size=(60, 40, 12))
    f = framed(rack(heavy, rails=BOTH, height=14))
    B = {name: f.results.amplified(name) for name in ("strength", "allowable")}
    assert B["strength"].B_2t.max() > 1.1
    k = next(n for n, label in enumerate(f.sets["allowable"].labels) if label.endswith("1.0 D"))
    D = -f.analysis.solved.loads.total[2, case(f, "D")]
    assert B["allowable"].B_2t[k] == pytest.approx(1 / (1 - 1.6 * D / f.sways["across"].P_e_story.magnitude))
    assert B["strength"].B_1x.min() == 1.0


def test_a_rack_that_would_buckle_fails_its_check_and_raises_nothing():
    heavy = item("A", 900000, 6, 4.5, size=(60, 40, 12))
    f = framed(rack(heavy, rails=BOTH, height=20))
    check = f.checks[0]
    assert check.word == "NOT OK"
    assert check.demand.magnitude == pytest.approx(20)


def test_the_sheet_of_a_rack_that_buckles_says_so():
    heavy = item("A", 900000, 6, 4.5, size=(60, 40, 12))
    f = framed(rack(heavy, rails=BOTH, height=20))
    k = int(np.argmax(np.abs(f.reactions("strength").M_x[:, 0])))
    with pytest.raises(DomainError, match="buckles"):
        by_geometric_stiffness(f.results, "strength", "M_x", 0, k)
    text = next(s for s in sheets(f) if s.key == "frame").markdown()
    assert "the frame buckles" in text
    assert "NOT OK" in text


def test_posts_on_pins_have_the_factor_of_the_rack_where_it_is_above_that_of_a_cantilever():
    soft = {**TWO_ROWS, "rail_ends": "moment", "base": "pinned", "post": "HSS6X6X5/8", "ties": (("C3X3.5", 11),)}
    f = framed(rack(*SEATED, **soft, height=12))
    assert f.members[0].K_x.magnitude > 2.1
    assert framed(rack(*SEATED, rails=BOTH)).members[0].K_x.magnitude == 2.1


def test_stiffer_links_change_nothing(demo):
    task, numbers = demo.analysis.task, {n: v.magnitude for n, v in demo.analysis.given.items()}
    stiff = task(**{**numbers, "A_link": 1000.0, "I_link": 10000.0})
    here = demo.analysis.solved
    for of_one, of_other in ((here.actions, stiff.actions), (here.reactions, stiff.reactions), (here.joints, stiff.joints)):
        for a, b in zip(of_one, of_other, strict=True):
            assert np.abs(a - b).max() < 0.01 * max(np.abs(a).max(), 1e-3)


def test_drift_under_earthquake_is_that_of_the_post_tops_amplified():
    f = framed(rack(*SEATED, rails=BOTH))
    solved, R = f.analysis.solved, f.analysis.results["displacements"].magnitude
    tops = solved.built.tops
    for axis, direction in enumerate(("along", "across")):
        shaken = f.shaken[direction]
        force, twist = (R[axis, tops, f.cases.index(f"Q {name}")] for name in (direction, "twist"))
        most = np.abs(force).max() if direction == "along" else np.maximum(np.abs(force + twist), np.abs(force - twist)).max()
        weight = -solved.balance[0, 2, f.cases.index("D")]
        B_2 = 1 / (1 - weight / f.sways[direction].P_e_story.m_as("kip"))
        assert shaken.elastic.m_as("in") == pytest.approx(most * B_2, rel=1e-9)
        assert shaken.value.m_as("in") == pytest.approx(2.5 * most * B_2 / 1.0, rel=1e-9)


def test_every_reaction_on_paper_can_be_added_up_again_from_its_unit_cases(demo):
    """From the cells of the sheet alone: factors in the combination's words, unit cases, amplifiers."""
    sheet = next(s for s in sheets(demo) if s.key == "reactions")
    by_title = {p.title: p for p in sheet.parts if isinstance(p, Grid)}
    unit, named = by_title.pop("Reactions of the unit cases"), by_title.pop("Combinations named above")
    of = {(base, case): dict(zip(unit.heads[2:], row, strict=True)) for base, case, *row in unit.rows}
    said = {number: (words, B_a.magnitude, B_t.magnitude) for number, words, B_a, B_t in named.rows}
    remarks = " ".join(p.text for p in sheet.parts if isinstance(p, Remark))
    raised = re.search(r"with ([0-9.]+) times", remarks)
    checked = 0
    for grid in by_title.values():
        for base, _, number, *row in grid.rows:
            times = 1.0 if number in said else float(raised[1])
            words, B_a, B_t = said[number] if number in said else said[number.replace("O", "")]
            found = re.findall(r"([+-] )?([0-9.]+) ([A-Z][A-Za-z_0-9 ]*?)(?= [+-] |$)", words.split(": ", 1)[1])
            for head, value in zip(grid.heads[3:], row, strict=True):
                total, size = 0.0, 0.0
                for sign, factor, case_ in found:
                    cell = of[base, case_].get(head, "0")
                    one = 0.0 if cell == "0" else cell.m_as(head[head.index("[") + 1 : -1])
                    along = case_.split()[-1] in ("left", "right", "along")
                    across = case_.split()[-1] in ("front", "back", "twist", "across")
                    B = {"P": B_a if along else B_t if across else 1.0, "M_x": B_t, "M_y": B_a}.get(head.split()[0], 1.0)
                    more = times if case_.startswith("Q ") else 1.0
                    total += float(f"{sign.strip()}{factor}") * more * one * B
                    size += more * abs(one * B)
                got = value if isinstance(value, str) else value.m_as(head[head.index("[") + 1 : -1])
                assert float(got) == pytest.approx(total, abs=0.00051 * size + 1e-9)  # factors are printed to a thousandth
                checked += 1
    assert checked > 100

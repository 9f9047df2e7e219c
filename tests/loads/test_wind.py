"""Wind: a rack worked by hand, published cases, what must hold for any rack, and the sheet."""

import math
from types import SimpleNamespace as Plain

import numpy as np
import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from rackbook.cases import cases, run
from rackbook.loads import wind as book
from rackbook.loads.wind.solid import case_C, clearance_ratio
from rackbook.trace import Grid, Value, governing, recompute, touched

WIND = [c for c in cases() if c.topic == "wind"]


def windy(
    rack, *items, V=115, exposure="C", conduit=0, elevation=0, topography=None, gust=None, canopy=None, tray=None, **more
):
    """A small rack in the wind; no conduit allowance unless asked."""
    job = rack(*items, **more)
    job.site.wind = Plain(
        speed=rack.of(V, "mph", "V"),
        exposure=exposure,
        topography=topography,
        gust_factor=rack.of(gust, "", "G") if gust else None,
    )
    job.site.elevation = rack.of(elevation, "ft", "z_e")
    job.allowances.conduit = rack.of(conduit, "plf", "w_conduit")
    job.allowances.tray = tray
    job.frame.canopy = canopy
    return job


def pressure(V=115.0, constants=(2.01, 9.5, 900), K_d=0.85):
    K_0, alpha, z_g = constants
    return 0.00256 * K_0 * (15 / z_g) ** (2 / alpha) * K_d * V**2


def two(rack, **more):
    return windy(rack, rack.item("A", 200, 3, 5), rack.item("B", 100, 9, 4, face="back"), **more)


@pytest.mark.parametrize("case", WIND, ids=[c.id for c in WIND])
def test_published_case(case):
    for outcome in run(case):
        assert outcome.agrees, f"{outcome.name}: expected {outcome.expected}, found {outcome.found}"


def test_rack_by_hand(rack):
    found = book.wind(two(rack))
    width, rail = 4 / 12, 4 / 12
    post = width * 7.4375
    long = 12 + width  # rails run to the outer faces of the end posts
    cut = dict.fromkeys(("post 1", "post 2", "post 3"), 2 * rail * width)
    # from the front: rails before posts and before B, A before rail 2
    areas = {"A": 4, "B": 4 - 2 * rail / 2, "rail 1": long * rail, "rail 2": long * rail - 2 * rail / 2}
    areas.update({mark: post - less for mark, less in cut.items()})
    heights = {
        "A": 5, "B": (3 + rail / 2 + 5) / 2, "rail 1": 3,
        "rail 2": (long * rail * 6 - rail * (6 - rail / 4)) / (long * rail - rail),
    }  # fmt: skip
    middle = (0.5625 + 8) / 2
    heights.update({mark: (post * middle - less * 4.5) / (post - less) for mark, less in cut.items()})
    front = found.front
    group = front.groups[0]
    seen = dict(zip(group.tags, group.A.m_as("ft**2"), strict=True))
    assert seen == pytest.approx(areas)
    total, gross = sum(areas.values()), (12 + width) * 8
    assert front.epsilon.m_as("") == pytest.approx(total / gross)
    assert front.openness == "open"
    assert group.C_f.magnitude == 1.8
    q = pressure()
    assert front.V.m_as("lbf") == pytest.approx(q * 0.85 * 1.8 * total)
    moment = sum(q * 0.85 * 1.8 * a * heights[tag] for tag, a in areas.items())
    assert front.M.m_as("lbf*ft") == pytest.approx(moment)
    assert front.z_F.m_as("ft") == pytest.approx(moment / front.V.m_as("lbf"))
    assert front.forces["A"].m_as("lbf") == pytest.approx(q * 0.85 * 1.8 * 4)
    # B is partly behind rail 1, but its own bolts see the whole face
    assert front.fastening["B"].m_as("lbf") == pytest.approx(q * 0.85 * 1.8 * 4)
    assert set(front.fastening) == {"A", "B"}


def test_ends_by_hand(rack):
    found = book.wind(two(rack)).left
    post, rail, item = 4 / 12 * 7.4375, 1.58 / 12 * 4 / 12, 2.0
    outline = (2 / 12 + 1) + (2 / 12 + 1.58 / 12 + 1)
    assert found.epsilon.m_as("") == pytest.approx((post + 2 * item + 2 * rail) / (outline * 8))
    # no part shields the next along the rack: three posts, two items, the ends of two rails
    assert found.V.m_as("lbf") == pytest.approx(pressure() * 0.85 * 1.6 * (3 * post + 2 * item + 2 * rail))
    assert found.T.m_as("lbf*ft") == pytest.approx(
        pressure() * 0.85 * 1.6 * (item * (2 / 12 + 1.58 / 12 + 0.5) - item * (2 / 12 + 0.5) + 2 * rail * (2 / 12 + 0.79 / 12))
    )


def test_a_board_without_openings_is_a_solid_sign(rack):
    board = rack.item("BOARD", 900, 6, 4.5, width=rack.of(12, "ft"), height=rack.of(40, "in"))
    found = book.wind(windy(rack, board, edition="ASCE/SEI 7-22")).front
    assert found.openness == "solid"
    (sign,) = found.panels
    B, s, top = 12 + 4 / 12, 40 / 12, 4.5 + 20 / 12
    assert (sign.B_s.magnitude, sign.s_h.magnitude) == pytest.approx((B / s, s / top))
    q = pressure(constants=(2.41, 9.8, 2460), K_d=1.0)
    assert sign.F.m_as("lbf") == pytest.approx(q * 0.85 * 0.85 * sign.C_f.magnitude * B * s)
    assert sum(found.groups[0].F.m_as("lbf")) == pytest.approx(sign.F.m_as("lbf"))
    assert found.groups[1].name == "rack, around the panel"
    assert found.V.m_as("lbf") == pytest.approx(sign.F.m_as("lbf") + sum(found.groups[1].F.m_as("lbf")))
    assert found.T.m_as("lbf*ft") == pytest.approx(sign.T.m_as("lbf*ft"))
    assert found.fastening["BOARD"].m_as("lbf") >= found.forces["BOARD"].m_as("lbf")


def test_a_board_to_the_ground_has_a_raised_resultant(rack):
    board = rack.item("BOARD", 900, 6, 4, width=rack.of(12, "ft"), height=rack.of(8, "ft"))
    group = book.wind(windy(rack, board)).front.groups[0]
    F, z = group.F.m_as("lbf"), group.z.m_as("ft")
    assert sum(F * z) / sum(F) == pytest.approx(8 / 2 + 0.05 * 8)


def test_a_deep_end_is_a_solid_end(rack):
    items = [rack.item(f"E{i}", 900, 3 + 6 * i, 4.2, height=rack.of(7.6, "ft"), depth=20.0) for i in range(2)]
    found = book.wind(windy(rack, *items)).left
    group = found.groups[0]
    assert group.figure == "solid end"
    assert group.sign.s_h.magnitude == pytest.approx(1)
    q, C_0 = pressure(), group.sign.C_f_AB.magnitude / group.sign.k_o.magnitude
    bodies = q * 0.85 * C_0 * sum(group.A.m_as("ft**2"))
    assert found.V.m_as("lbf") == pytest.approx(max(bodies, group.sign.F.m_as("lbf")))


def test_round_items_take_the_round_column(rack):
    flat = book.wind(windy(rack, rack.item("A", 200, 3, 5))).front
    round_ = book.wind(windy(rack, rack.item("A", 200, 3, 5, section="round"))).front
    # a drum of 2 ft: D sqrt(q_z) above 2.5
    assert round_.forces["A"].m_as("lbf") / flat.forces["A"].m_as("lbf") == pytest.approx(0.9 / 1.8)
    assert round_.forces["post 2"].m_as("lbf") == pytest.approx(flat.forces["post 2"].m_as("lbf"))


def test_two_rows_do_not_shield_each_other(rack):
    rails = (("front", 3), ("back", 3))
    one = book.wind(windy(rack, rack.item("A", 200, 3, 5), rails=rails)).front
    pair = book.wind(windy(rack, rack.item("A", 200, 3, 5), rack.item("B", 200, 3, 5, face="back"), rails=rails, depth=3)).front
    assert [g.name for g in pair.groups] == ["front row", "back row"]
    assert pair.forces["B"].m_as("lbf") == pytest.approx(pair.forces["A"].m_as("lbf"))
    assert pair.V.m_as("lbf") > 1.5 * one.V.m_as("lbf")


def test_canopy_edges_tray_and_conduit_add_area(rack):
    canopy = Plain(length=rack.of(14, "ft"), width=rack.of(6, "ft"), height=rack.of(10, "ft"), weight=rack.of(5, "psf"))
    bare, full = book.wind(two(rack)), book.wind(two(rack, canopy=canopy, conduit=16, tray=rack.of(4, "plf")))
    q = pressure()
    assert full.front.epsilon.magnitude > 0.3  # with the conduit in the openings
    edge = q * 0.85 * 1.6 * 14 * 4 / 12
    assert full.front.forces["canopy front edge"].m_as("lbf") == pytest.approx(edge)
    assert full.front.forces["canopy back edge"].m_as("lbf") == pytest.approx(edge)
    assert "canopy left end" not in full.front.forces
    assert full.left.forces["canopy left end"].m_as("lbf") == pytest.approx(q * 0.85 * 1.6 * 6 * 4 / 12)
    # conduit: the share that the boxes on the panel leave open, and it counts in the solidity of panel and outline
    group = full.front.groups[0]
    panel = group.epsilon_panel
    gross, boxes = (panel.origin.given[n].m_as("ft**2") for n in ("A_g", "A_f"))
    area = 16 / 1.6 * 1.315 / 12 * 12 * (1 - boxes / gross)
    assert panel.magnitude == pytest.approx((boxes + area) / gross)
    assert group.epsilon.magnitude == pytest.approx((group.A.m_as("ft**2").sum() + area) / group.gross.m_as("ft**2"))
    assert full.front.forces["conduit"].m_as("lbf") == pytest.approx(q * 0.85 * 1.5 * area)
    assert full.front.forces["tray"].m_as("lbf") > 0
    assert full.front.V.m_as("lbf") > bare.front.V.m_as("lbf")
    assert [c.word for c in full.checks] == ["OPEN"]  # the roof itself


def test_the_assumption_behind_the_gust_factor_is_checked(rack):
    assert book.wind(two(rack)).checks == ()  # left to the frame, which knows how stiff it is
    stiff = two(rack, seismic={"period": rack.of(0.4, "s", "T")})
    assert [c.word for c in book.wind(stiff).checks] == ["OK"]
    soft = two(rack, seismic={"period": rack.of(1.25, "s", "T")})
    assert [c.word for c in book.wind(soft).checks] == ["NOT OK"]
    own = book.wind(two(rack, gust=1.1))
    assert own.checks == ()
    assert own.front.V.m_as("lbf") == pytest.approx(1.1 / 0.85 * book.wind(two(rack)).front.V.m_as("lbf"))


def test_minimum_governs_in_light_wind(rack):
    found = book.wind(two(rack, V=60, exposure="B")).front
    assert found.V.m_as("lbf") == pytest.approx(16 * sum(found.groups[0].A.m_as("ft**2")))


def test_a_ridge_raises_every_force(rack):
    ridge = Plain(
        feature="ridge",
        height=rack.of(60, "ft", "H"),
        half_length=rack.of(150, "ft", "L_h"),
        distance=rack.of(0, "ft", "x"),
        side="upwind",
    )
    flat, high = book.wind(two(rack)).front, book.wind(two(rack, topography=ridge)).front
    K_zt = (1 + 1.45 * 0.4 * math.exp(-3 * 5 / 150)) ** 2
    assert high.forces["A"].m_as("lbf") / flat.forces["A"].m_as("lbf") == pytest.approx(K_zt)


def test_both_editions_give_the_same_force_at_the_same_exposure_coefficient(rack):
    old, new = (book.wind(two(rack, edition=e)).front for e in ("ASCE/SEI 7-16", "ASCE/SEI 7-22"))
    ratio = (2.41 * (15 / 2460) ** (2 / 9.8)) / (2.01 * (15 / 900) ** (2 / 9.5))
    assert new.V.m_as("lbf") / old.V.m_as("lbf") == pytest.approx(ratio)


def test_a_changed_input_flows_to_the_result(rack):
    job = two(rack)
    found = book.wind(job)
    faster = recompute(found.front.M, {job.site.wind.speed: rack.of(140, "mph", "V")})
    assert faster.m_as("lbf*ft") == pytest.approx(book.wind(two(rack, V=140)).front.M.m_as("lbf*ft"))
    deeper = recompute(found.left.V, {job.equipment[0].depth: rack.of(18, "in", "d")})
    job.equipment[0].depth = rack.of(18, "in", "d")
    assert deeper.m_as("lbf") == pytest.approx(book.wind(job).left.V.m_as("lbf"))
    paths = {"front.V": found.front.V, "left.V": found.left.V}
    assert touched(job.equipment[0].width, paths) == ["front.V", "left.V"]


BOX = st.tuples(st.floats(0.5, 11.5), st.floats(2, 6), st.floats(6, 20), st.floats(6, 20), st.sampled_from(["front", "back"]))


def items_of(rack, boxes, lift=0.0):
    return [
        rack.item(f"E{i}", 100, x, z + lift, face=f, width=rack.of(w, "in"), height=rack.of(h, "in"))
        for i, (x, z, w, h, f) in enumerate(boxes)
    ]


@settings(deadline=None, max_examples=25)
@drawn(st.lists(BOX, min_size=1, max_size=6))
def test_a_mirrored_rack_changes_only_the_names(rack, boxes):
    rails = (("front", 3), ("back", 6))
    other = [(*b[:4], "back" if b[4] == "front" else "front") for b in boxes]
    one = book.wind(windy(rack, *items_of(rack, boxes), rails=rails))
    two_ = book.wind(windy(rack, *items_of(rack, other), rails=(("back", 3), ("front", 6))))
    for here, there in (("front", "back"), ("back", "front"), ("left", "left")):
        a, b = getattr(one, here), getattr(two_, there)
        assert a.V.m_as("lbf") == pytest.approx(b.V.m_as("lbf"))
        assert a.M.m_as("lbf*ft") == pytest.approx(b.M.m_as("lbf*ft"))
        assert {t: v.m_as("lbf") for t, v in a.forces.items()} == pytest.approx({t: v.m_as("lbf") for t, v in b.forces.items()})


@settings(deadline=None, max_examples=25)
@drawn(st.lists(BOX, min_size=1, max_size=4), st.floats(0.1, 6))
def test_a_taller_rack_never_takes_less(rack, boxes, more):
    low = book.wind(windy(rack, *items_of(rack, boxes))).front
    high = book.wind(
        windy(rack, *items_of(rack, boxes, more), rails=(("front", 3 + more), ("front", 6 + more)), height=8 + more)
    ).front
    if low.openness == high.openness == "open":
        assert high.V.m_as("lbf") >= low.V.m_as("lbf") * (1 - 1e-9)
        assert high.M.m_as("lbf*ft") > low.M.m_as("lbf*ft")


@settings(deadline=None, max_examples=25)
@drawn(st.lists(BOX, min_size=1, max_size=4), st.floats(120, 160), st.floats(160, 250))
def test_force_goes_with_the_square_of_the_speed_above_the_minimum(rack, boxes, slow, fast):
    a, b = (book.wind(windy(rack, *items_of(rack, boxes), V=v, exposure="D")).front for v in (slow, fast))
    assert b.V.m_as("lbf") / a.V.m_as("lbf") == pytest.approx((fast / slow) ** 2)


@settings(deadline=None, max_examples=25)
@drawn(st.floats(2, 10), st.floats(3, 5.5), st.floats(12, 30), st.floats(12, 30), st.floats(0.1, 0.9))
def test_an_item_split_in_two_keeps_its_area(rack, x, z, width, height, share):
    def at(tag, x, w):
        return rack.item(tag, 100, x, z, width=rack.of(w, "in"), height=rack.of(height, "in"))

    left = x - width / 24
    halves = at("L", left + share * width / 24, share * width), at("R", left + (1 + share) * width / 24, (1 - share) * width)
    one, pair = book.wind(windy(rack, at("E", x, width))), book.wind(windy(rack, *halves))
    for name, direction in one.directions.items():
        other = pair.directions[name]
        assert other.V.m_as("lbf") == pytest.approx(direction.V.m_as("lbf"), rel=1e-6)
        assert other.M.m_as("lbf*ft") == pytest.approx(direction.M.m_as("lbf*ft"), rel=1e-6)


def test_sweeps_equal_single_calls(rack):
    def v(x, unit):
        return rack.of(np.asarray(x, float) if np.ndim(x) else x, unit)

    speeds, heights = np.linspace(60, 200, 40), np.linspace(1, 60, 40)
    for edition, K_d in (("7-16", {"K_d": v(0.85, "")}), ("7-22", {})):
        after = {} if K_d else {"K_d": v(0.85, "")}

        def force(V, z, edition=edition, K_d=K_d, after=after):
            K_z = book.exposure_coefficient(edition, "C", v(z, "ft"))
            q = book.velocity_pressure(edition, v(V, "mph"), K_z, **K_d)
            return book.design_force(edition, q, v(1.8, ""), v(16, "ft**2"), **after).F

        single = [force(V, z).m_as("lbf") for V, z in zip(speeds.tolist(), heights.tolist(), strict=True)]
        assert force(speeds, heights).m_as("lbf") == pytest.approx(single)
    eps = np.array([0.05, 0.1, 0.2, 0.3, 0.5])
    swept = book.open_coefficient(v(eps, ""), "round", v(eps * 10, "ft*psf**0.5")).magnitude
    assert swept == pytest.approx(
        [book.open_coefficient(v(e, ""), "round", v(e * 10, "ft*psf**0.5")).magnitude for e in eps.tolist()]
    )


def test_a_million_wind_cases_in_one_call(rack):
    n = 1_000_000
    V = rack.of(np.linspace(60, 200, n), "mph")
    q = book.velocity_pressure("7-22", V, rack.of(0.85, ""))
    F = book.design_force("7-22", q, rack.of(1.8, ""), rack.of(16, "ft**2"), rack.of(0.85, "")).F
    assert F.magnitude.shape == (n,)
    assert F.m_as("lbf")[-1] == pytest.approx(0.00256 * 0.85 * 200**2 * 0.85 * 0.85 * 1.8 * 16)
    assert F.m_as("lbf")[0] == pytest.approx(16 * 16)


def test_case_c_stays_between_its_strips(rack):
    for B in (12, 15, 18, 40, 60, 78, 120):
        s, h = rack.of(6, "ft"), rack.of(10, "ft")
        width = rack.of(B, "ft")
        mean, e, edge = case_C(width, s, clearance_ratio(s=s, h=h), rack.of(B / 6, ""))
        assert 0 < e.m_as("ft") < B / 2
        assert (1.3 if B <= 78 else 0.9) < mean.magnitude < 1.9
        assert edge.magnitude > mean.magnitude


def test_the_governing_direction_is_set_in_full(rack):
    found = book.wind(two(rack, conduit=10))
    geometry, wind_sheet = book.sheets(found)
    text = wind_sheet.markdown()
    for words in ("Figure 29", "adopted edition: confirm before sealing", "In full for", "Wind on front or back", "shielding"):
        assert words in text.replace("\\", "")
    assert "rail 2" in geometry.markdown()
    for sheet in (wind_sheet, geometry):
        for grid in (p for p in sheet.parts if isinstance(p, Grid)):
            for row in grid.rows:
                assert all(isinstance(cell, Value) or not cell.replace(".", "").isdigit() for cell in row)


def test_the_part_set_in_full_is_the_one_tabulated(rack):
    found = book.wind(two(rack, edition="ASCE/SEI 7-22"))
    group = found.governing.groups[0]
    _, wind_sheet = book.sheets(found)
    shown = [p for p in wind_sheet.parts if isinstance(p, Value) and p.symbol == "F"]
    assert shown[0].m_as("lbf") == pytest.approx(max(group.F.m_as("lbf")))
    assert governing(shown[0]) == "Eq. 29.4-1"


def test_a_solid_face_has_a_sheet_too(rack):
    board = rack.item("BOARD", 900, 6, 4.5, width=rack.of(12, "ft"), height=rack.of(40, "in"))
    text = book.sheets(book.wind(windy(rack, board)))[1].markdown().replace("\\", "")
    assert "a solid sign (Figure 29.3-1)" in text
    assert "Case C" in text


def test_enough_cases():
    assert sum(len(c.expect) for c in WIND) >= 50
    assert {c.source.how for c in WIND} == {"read", "derived", "memory"}


def test_wind_on_a_bare_rack_and_on_a_wall(rack):
    bare = book.wind(windy(rack)).front
    assert bare.fastening == {}
    assert bare.V.m_as("lbf") > 0
    # a wall wider and higher than the frame, and into the ground: nothing is left around the panel, nothing below grade
    wall = rack.item("WALL", 900, 6, 4, width=rack.of(20, "ft"), height=rack.of(10, "ft"))
    found = book.wind(windy(rack, wall)).front
    assert [g.figure for g in found.groups] == ["solid panel"]
    assert found.groups[0].A.m_as("ft**2").sum() == pytest.approx(20 * 9)
    assert found.groups[0].sign.s_h.magnitude == pytest.approx(1)
    hidden = book.wind(windy(rack, wall, conduit=10))
    assert hidden.front.forces["conduit"].m_as("lbf") == pytest.approx(0, abs=1e-6)
    assert book.sheets(hidden)[1].markdown()


def test_the_sheet_of_a_solid_panel_has_every_case_and_no_rounding_noise(rack):
    board = rack.item("BOARD", 900, 6, 4.5, width=rack.of(12, "ft"), height=rack.of(40, "in"))
    found = book.wind(windy(rack, board))
    (panel,) = found.front.panels
    assert list(panel.cases) == ["Case A", "Case B", "Case C"]
    for name in ("Case B", "Case C"):
        case = panel.cases[name]
        assert case.F.m_as("lbf") == pytest.approx(panel.F.m_as("lbf") * case.C_f.magnitude / panel.C_f.magnitude)
        assert case.T.m_as("lbf*ft") <= panel.T.m_as("lbf*ft")
    text = book.sheets(found)[1].markdown()
    assert "Cases of the panel" in text
    assert not any(f"10^{{-{n}}}" in text for n in range(8, 20))
    assert found.front.T.m_as("lbf*ft") == pytest.approx(panel.T.m_as("lbf*ft"))


def test_conduit_counts_whole_on_an_end_and_the_sheet_says_so(rack):
    found, bare = book.wind(two(rack, conduit=10)), book.wind(two(rack))

    group = found.left.groups[-1]
    place = list(group.tags).index("conduit")
    whole = np.atleast_1d(group.A.m_as("ft**2"))[place] / (1 - group.epsilon.magnitude)
    assert whole == pytest.approx(10 / 1.6 * 1.315 / 12 * 12)
    assert found.left.epsilon.magnitude == pytest.approx(bare.left.epsilon.magnitude)  # it stands in line with the posts
    said = [book.sheets(r)[1].markdown().replace("\\", "") for r in (found, bare)]
    assert ["whole length against wind on the ends" in text for text in said] == [True, False]


def near_solid(rack, **more):
    """A rack whose panel is open without its conduit: a board with a slot between board and rail 2."""
    board = rack.item("BOARD", 900, 6, 4.5, width=rack.of(7, "ft"), height=rack.of(40, "in"))
    return windy(rack, board, **more)


def test_raceways_in_the_openings_make_a_panel_solid(rack):
    bare, full = (book.wind(near_solid(rack, conduit=c)).front for c in (0, 8))
    eps_0 = bare.groups[0].epsilon_panel.magnitude
    assert bare.openness == "open"
    assert eps_0 < 0.7
    assert full.openness == "solid"
    (sign,) = full.panels
    gross = (12 + 4 / 12) * (4.5 + 20 / 12 - (3 - 2 / 12))  # from rail 1 up to the top of the board
    raceways = 8 / 1.6 * 1.315 / 12 * 12 * (1 - eps_0)
    assert full.groups[0].epsilon_panel.magnitude == pytest.approx(eps_0 + raceways / gross)
    # a part of the sign now, with its share of the force, and no load of its own beside it
    assert [g.figure for g in full.groups] == ["solid panel", "open frame"]
    panel = full.groups[0]
    assert full.forces["conduit"].m_as("lbf") == pytest.approx(sign.F.m_as("lbf") * raceways / panel.A.m_as("ft**2").sum())
    assert full.T.m_as("lbf*ft") >= sign.T.m_as("lbf*ft")


def test_conduit_acts_at_the_height_its_weight_is_listed_at(rack):
    from rackbook.loads.weights import weights

    job = two(rack, conduit=10, tray=rack.of(4, "plf"), rails=(("front", 2), ("front", 5), ("back", 6)))
    listed, found = {p.label: p for p in weights(job).parts}, book.wind(job)
    at = dict(zip(found.front.tags, found.front.z.m_as("ft"), strict=True))
    assert at["conduit"] == pytest.approx(listed["conduit"].z.m_as("ft")) == pytest.approx(13 / 3)
    assert found.parts.z.m_as("ft")[found.parts.place("tray")] == pytest.approx(listed["tray"].z.m_as("ft")) == 8


def test_the_minimum_governs_every_case_of_a_light_wind(rack):
    board = rack.item("BOARD", 900, 6, 4.5, width=rack.of(12, "ft"), height=rack.of(40, "in"))
    (sign,) = book.wind(windy(rack, board, V=50)).front.panels
    least = 16 * sign.A_s.m_as("ft**2")
    assert [c.F.m_as("lbf") for c in sign.cases.values()] == pytest.approx([least] * 3)
    assert all(governing(c.F) == "29.7, 16 psf" for c in sign.cases.values())
    assert sign.F.m_as("lbf") == pytest.approx(least)
    text = book.sheets(book.wind(windy(rack, board, V=50)))[1].markdown()
    assert text.count("minimum |") == 3


def test_every_printed_force_follows_from_printed_area_and_pressure(rack):
    board = rack.item("BOARD", 900, 6, 4.5, width=rack.of(12, "ft"), height=rack.of(40, "in"))
    for job in (two(rack, conduit=10), windy(rack, board, conduit=10)):
        grids = {p.title: p for p in book.sheets(book.wind(job))[1].parts if isinstance(p, Grid)}
        heads, rows = (getattr(grids["Factors of every group of parts"], n) for n in ("heads", "rows"))
        p, A, F = (heads.index(h) for h in ("p [psf]", "A [ft**2]", "F [lbf]"))
        for row in rows:
            assert row[p].m_as("psf") * row[A].m_as("ft**2") == pytest.approx(row[F].m_as("lbf"))
        # the parts of each direction come to the sum of its groups, and in the governing one to the moment
        parts = grids["Forces on the parts"]
        sums = dict.fromkeys(parts.heads, 0.0)
        for row in parts.rows:
            for head, cell in zip(parts.heads, row, strict=True):
                sums[head] += float(cell.magnitude) if isinstance(cell, Value) else 0.0
        sides = {"front": "on the front", "back": "on the back", "end": "on either end", "front or back": "on front or back"}
        printed = {sides[h[2:-6]]: total for h, total in sums.items() if h.startswith("F ")}
        assert len(printed) >= 2
        for said, total in printed.items():
            either = "front or back" if said in ("on the front", "on the back") else said
            assert total == pytest.approx(sum(r[F].m_as("lbf") for r in rows if said == r[0] or either in r[0]))
        blocks = parts.heads.count("Part")
        wide = len(parts.heads) // blocks
        lines = [row[n * wide : (n + 1) * wide] for row in parts.rows for n in range(blocks)]
        moment = sum(r[2].m_as("ft") * r[3].m_as("lbf") for r in lines if isinstance(r[3], Value))
        assert moment == pytest.approx(book.wind(job).governing.M.m_as("lbf*ft"))


def test_signs_of_the_axes_are_those_of_the_moments(rack):
    """The geometry sheet says by effect what r x F gives: back, right, and the right end to the front."""
    from rackbook.structure.frame.attach import cross

    def moment(at, force):
        return cross(np.array(at, float), np.array(force, float)[:, None])[:, 0]

    assert moment((0, 0, 5), (0, -1, 0))[0] > 0  # pushed to the back, high up
    assert moment((0, 0, 5), (1, 0, 0))[1] > 0  # pushed to the right, high up
    assert moment((5, 0, 0), (0, 1, 0))[2] > 0  # the right end pulled to the front
    text = book.sheets(book.wind(two(rack)))[0].markdown().replace("\\", "")
    assert "left-handed" in text


def test_the_five_conditions_of_a_feature_are_listed(rack):
    bluff = Plain(
        feature="escarpment", height=rack.of(40, "ft", "H"), half_length=rack.of(90, "ft", "L_h"),
        distance=rack.of(200, "ft", "x"), side="downwind",
    )  # fmt: skip
    text = book.sheets(book.wind(two(rack, topography=bluff)))[1].markdown().replace("\\", "")
    assert all(f"| {n}. " in text for n in range(1, 6))
    assert "no hill, ridge or escarpment is given" in book.sheets(book.wind(two(rack)))[1].markdown().replace("\\", "")

"""Ice and wind on ice: published cases, a rack by hand, limits, mirrors, and the sheet."""

import math
from types import SimpleNamespace as Plain

import numpy as np
import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from rackbook.cases import cases, run
from rackbook.loads import ice as book
from rackbook.loads.geometry import parts
from rackbook.loads.weights import weights
from rackbook.loads.wind import wind
from rackbook.trace import DomainError, Source, given, recompute, touched

HAND = Source("input", "worked by hand")
FACES = ("front", "back", "left", "right")


def of(number, unit="", symbol=""):
    return given(number, unit, HAND, symbol)


@pytest.mark.parametrize("case", [c for c in cases() if c.topic == "ice"], ids=lambda c: c.id)
def test_published_case(case):
    for outcome in run(case):
        assert outcome.agrees, f"{outcome.name}: expected {outcome.expected}, found {outcome.found}"


def icy(rack, *items, t=0.75, V_c=50.0, V=115.0, edition="7-16", conduit=8.0, topography=None, tray=None, **more):
    """A small rack of two bays in freezing rain."""
    job = rack(*items, edition=f"ASCE/SEI {edition}", **more)
    job.site.wind = Plain(speed=of(V, "mph", "V"), exposure="C", topography=topography, gust_factor=None)
    job.site.elevation = of(0, "ft", "z_e")
    job.site.ice = Plain(thickness=of(t, "in", "t"), wind=of(V_c, "mph", "V_c"))
    job.allowances.conduit = of(conduit, "plf", "w_conduit")
    job.allowances.tray = tray
    return job


def two(rack, **more):
    return icy(rack, rack.item("A", 200, 3, 5), rack.item("B", 100, 9, 4, section="round"), **more)


def canopied():
    size = {"length": of(14, "ft"), "width": of(5, "ft"), "height": of(9, "ft"), "weight": of(6, "psf")}
    return Plain(**size)


def braced():
    ends = {"from_": None, "to": None, "row": None}
    return Plain(shape="L3X3X1/4", length=of(5, "ft"), **ends), Plain(shape="Pipe2STD", length=of(4, "ft"), **ends)


def around(D_c, L, t, z, f=1.0):
    """Return the ice on a bar [lbf], by hand: inches and feet."""
    t_d = t * f * (z / 33) ** 0.10
    return 56 * math.pi * t_d * (D_c + t_d) / 144 * L


def test_rack_by_hand(rack):
    job = two(rack, risk="III", canopy=canopied(), braces=braced(), tray=of(4, "plf"))
    found = book.ice(job, weights(job))
    t = 0.75 * 1.15
    post = (8 * 12 - 6 - 0.75) / 12
    rail = math.hypot(4, 1.58)
    plate = 0.6 * math.pi * (t * (9 / 33) ** 0.1 / 12) * 70 * 56
    expected = {
        "A": around(math.hypot(24, 12), 2, t, 5),  # 24 in. square, 12 deep
        "B": around(12, 2, t, 4),
        **{f"post {n}": around(math.hypot(4, 4), post, t, 8 - post / 2) for n in (1, 2, 3)},
        "rail 1": around(rail, 12 + 4 / 12, t, 3), "rail 2": around(rail, 12 + 4 / 12, t, 6),
        "tray": around(math.hypot(12, 4), 12, t, 8),
        "brace 1": around(math.hypot(3, 3), 5, t, 4), "brace 2": around(2.375, 4, t, 4),
        "canopy": plate,
    }  # fmt: skip
    w = dict(zip(found.labels, found.w.m_as("lbf").tolist(), strict=True))
    conduit = w.pop("conduit")
    assert w == pytest.approx(expected, rel=1e-4)
    runs = 8 / 1.6  # pounds a foot over those of trade size 1, in runs of 12 ft
    assert conduit == pytest.approx(around(1.315, runs * 12, t, 4.5), rel=0.02)
    assert found.D_i.m_as("lbf") == pytest.approx(sum(expected.values()) + conduit)


def test_ice_hangs_on_the_weights_parts(rack):
    job = two(rack, canopy=canopied(), braces=braced())
    own = weights(job)
    found = book.ice(job, own)
    lines = {p.label: p for p in own.parts}
    assert set(found.labels) == {p.label for p in own.parts if p.group in ("equipment", "canopy") or p.label == "conduit"} | {
        p.label for p in own.parts if p.group == "frame" and not p.label.startswith("base plate")
    }
    for part, label in zip(found.parts, found.labels, strict=True):
        assert part.label == label
        assert (part.x, part.y, part.z) == (lines[label].x, lines[label].y, lines[label].z)
    moment = float((found.w.magnitude * found.y.m_as("in")).sum())
    assert found.y_bar.m_as("in") * found.D_i.m_as("lbf") == pytest.approx(moment)


def test_thin_ice_and_the_full_gust_are_the_wind(rack):
    """No ice is left of the growth as the thickness goes to nothing; with the site's own gust the wind's forces remain."""
    job = two(rack, t=1e-9, V_c=115.0, canopy=canopied(), braces=braced())
    bare, found = wind(job), book.ice(job, weights(job))
    for name in FACES:
        a, b = bare.directions[name], found.directions[name]
        assert a.tags == b.tags
        assert b.F.magnitude == pytest.approx(a.F.magnitude, rel=1e-6, abs=1e-6)
        assert b.u.magnitude == pytest.approx(a.u.magnitude, abs=1e-6)
        assert b.z.magnitude == pytest.approx(a.z.magnitude, abs=1e-6)
    assert found.D_i.m_as("lbf") < 1e-3


def test_ice_adds_area_on_every_free_edge(rack):
    job = icy(rack, rack.item("A", 200, 3, 5), t=33**0.1 * 1.0, V_c=60.0, conduit=0)  # t_d = z ** 0.1 in.
    found = book.ice(job, weights(job))
    front = found.directions["front"].groups[0]
    side = 24 + 2 * 5**0.1
    area = dict(zip(front.tags, front.A.m_as("in**2"), strict=True))
    assert area["A"] == pytest.approx(side**2, rel=1e-6)
    assert found.wind.parts.w.m_as("in")[0] == pytest.approx(side)


def test_what_is_no_box_grows_too(rack):
    job = two(rack, t=1.0, braces=braced(), canopy=canopied(), V_c=110.0)
    found = book.ice(job, weights(job))
    bare = wind(job).directions["front"].groups[-1]
    assert bare.figure == "loose parts"
    # with ice the panel is a solid sign, and what stands in its openings a part of it
    assert found.directions["front"].openness == "solid"
    grown = {tag: A for g in found.directions["front"].groups for tag, A in zip(g.tags, g.A.m_as("ft**2"), strict=True)}
    for n, tag in enumerate(bare.tags):
        z = bare.z.m_as("ft")[n]
        t_d = (z / 33) ** 0.1
        width = {"conduit": 1.315, "brace 1": 3.0, "brace 2": 2.375}.get(tag, 4.0)
        ratio = grown[tag] / bare.A.magnitude[n]
        if tag == "conduit":  # the grown faces hide more of it
            assert ratio < 1 + 2 * t_d / width
        else:
            assert ratio == pytest.approx(1 + 2 * t_d / width, rel=1e-3), tag


def test_wind_on_ice_follows_the_gust_and_has_no_minimum_of_its_own(rack):
    slow, fast = (book.ice(two(rack, V_c=v), weights(two(rack))) for v in (30.0, 60.0))
    for name in FACES:
        low, high = slow.directions[name], fast.directions[name]
        # with the square of the gust; what is round falls to the lesser coefficient above D sqrt(q) = 2.5
        assert 3.8 < high.V.magnitude / low.V.magnitude <= 4 * (1 + 1e-9)
        assert low.V.m_as("lbf") < 16 * sum(float(g.A.m_as("ft**2").sum()) for g in low.groups)
    assert slow.D_i.magnitude == pytest.approx(fast.D_i.magnitude)
    (sheet,) = book.sheets(slow)
    assert "It is not applied to wind on ice" in sheet.markdown().replace("\\", "").replace("$W_{i}$", "W_i")


@settings(max_examples=12, deadline=None)
@drawn(t=st.floats(0.1, 2.0), more=st.floats(1.05, 2.0), x=st.floats(1.5, 10.5), risk=st.sampled_from(["I", "II", "III", "IV"]))
def test_any_thickness(rack, t, more, x, risk):
    def rained(t, x, edition="7-16"):
        job = icy(rack, rack.item("A", 200, x, 5), t=t, risk=risk, edition=edition)
        return book.ice(job, weights(job))

    thin, thick, mirror = rained(t, x), rained(t * more, x), rained(t, 12 - x)
    assert np.all(thick.w.magnitude > more * thin.w.magnitude * (1 - 1e-9))
    for name in FACES:
        assert thick.directions[name].V.magnitude >= thin.directions[name].V.magnitude * (1 - 1e-9)
    # the rack seen in a mirror: the same ice, the center on the other side, left for right
    assert mirror.D_i.magnitude == pytest.approx(thin.D_i.magnitude)
    assert mirror.x_bar.m_as("ft") == pytest.approx(12 - thin.x_bar.m_as("ft"))
    assert mirror.directions["left"].V.magnitude == pytest.approx(thin.directions["right"].V.magnitude)
    assert mirror.directions["front"].T.magnitude == pytest.approx(-thin.directions["front"].T.magnitude, abs=1e-6) or (
        thin.directions["front"].panels
    )
    # the later edition: no importance factor
    factor = {"I": 0.8, "II": 1.0, "III": 1.15, "IV": 1.25}[risk]
    assert rained(t, x, "7-22").t_d.magnitude * factor == pytest.approx(thin.t_d.magnitude)


def test_a_hill_thickens_the_ice(rack):
    hill = Plain(
        feature="hill", height=of(60, "ft", "H"), half_length=of(150, "ft", "L_h"), distance=of(0, "ft", "x"), side="upwind"
    )
    flat, high = (two(rack, topography=t) for t in (None, hill))
    plain, found = book.ice(flat, weights(flat)), book.ice(high, weights(high))
    K_zt = found.wind.conditions.K_zt(parts(high).z).magnitude
    assert np.all(K_zt > 1.3)
    boxes = len(parts(high).tags)
    assert found.t_d.magnitude[:boxes] == pytest.approx(plain.t_d.magnitude[:boxes] * K_zt**0.35)


def test_no_ice_is_no_result(rack):
    job = two(rack)
    job.site.ice = None
    assert book.ice(job, weights(job)) is None
    assert book.sheets(None) == []


def test_another_edition_is_refused(rack):
    job = two(rack)
    job.codes.loads = "ASCE/SEI 7-10"
    with pytest.raises(DomainError, match="not an edition"):
        book.ice(job, weights(job))


def test_trace(rack):
    job = two(rack)
    found = book.ice(job, weights(job))
    values = {"D_i": found.D_i, "V": found.directions["front"].V, "W": weights(job).W}
    assert touched(job.site.ice.thickness, values) == ["D_i", "V"]
    assert touched(job.site.ice.wind, values) == ["V"]
    again = recompute(found.D_i, {job.site.ice.thickness: of(1.5, "in", "t")})
    job.site.ice.thickness = of(1.5, "in", "t")
    assert again.m_as("lbf") == pytest.approx(book.ice(job, weights(job)).D_i.m_as("lbf"))


@pytest.mark.parametrize("edition", ["7-16", "7-22"])
def test_sheet(rack, edition):
    job = two(rack, edition=edition, canopy=canopied())
    found = book.ice(job, weights(job))
    (sheet,) = book.sheets(found)
    text = sheet.markdown()
    assert found.governing == max(zip(found.w.magnitude, found.labels, strict=True))[1]
    assert f"In full for {found.governing}" in text
    assert ("I_{i}" in text) == (edition == "7-16")
    for label in found.labels:
        assert label in text.replace("\\", "")

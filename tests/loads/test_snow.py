"""Snow on the canopy: published cases, a canopy by hand, what must hold, and the sheet."""

from types import SimpleNamespace as Plain

import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from rackbook.cases import cases, run
from rackbook.loads import snow as book
from rackbook.loads.seismic import seismic
from rackbook.loads.weights import weights
from rackbook.trace import DomainError, Source, given, governing, recompute, touched

HAND = Source("input", "worked by hand")


def of(number, unit="", symbol=""):
    return given(number, unit, HAND, symbol)


@pytest.mark.parametrize("case", [c for c in cases() if c.topic == "snow"], ids=lambda c: c.id)
def test_published_case(case):
    for outcome in run(case):
        assert outcome.agrees, f"{outcome.name}: expected {outcome.expected}, found {outcome.found}"


def snowy(rack, p_g=40.0, edition="7-16", exposure="C", C_e=None, C_t=None, width=5.0, **more):
    """A small rack under a canopy of 14 ft by ``width`` that weighs 6 psf."""
    canopy = Plain(
        length=of(14, "ft", "L_c"), width=of(width, "ft", "W_c"), height=of(9, "ft", "h_c"), weight=of(6, "psf", "w_c")
    )
    job = rack(rack.item("A", 200, 3, 5), edition=f"ASCE/SEI {edition}", canopy=canopy, **more)
    job.site.wind = Plain(exposure=exposure)
    factor = {"C_e": of(C_e, "", "C_e") if C_e else None, "C_t": of(C_t, "", "C_t") if C_t else None}
    job.site.snow = Plain(ground=of(p_g, "psf", "p_g"), **factor)
    return job


def test_canopy_by_hand(rack):
    found = book.snow(snowy(rack, risk="IV"))
    assert found.p_f.m_as("psf") == pytest.approx(0.7 * 1.0 * 1.2 * 1.2 * 40)
    assert found.p_m.m_as("psf") == pytest.approx(1.2 * 20)
    assert found.p_s.m_as("psf") == pytest.approx(40.32)
    assert found.S.m_as("lbf") == pytest.approx(40.32 * 70)
    assert found.checks == ()


def test_later_edition_has_no_importance_factor(rack):
    found = {risk: book.snow(snowy(rack, 60, "7-22", risk=risk)) for risk in ("I", "II", "III", "IV")}
    assert [f.p_f.m_as("psf") for f in found.values()] == pytest.approx([0.7 * 1.2 * 60] * 4)
    assert [f.p_m.m_as("psf") for f in found.values()] == [25, 30, 35, 40]
    assert {f.I_s for f in found.values()} == {None}


def test_no_canopy_or_no_snow_is_no_result(rack):
    job = snowy(rack)
    job.site.snow = None
    assert book.snow(job) is None
    assert book.sheets(None) == []
    assert book.snow(snowy(rack, p_g=0.0)) is None
    job = snowy(rack)
    job.frame.canopy = None
    assert book.snow(job) is None


def test_the_engineers_factors_stand_before_the_defaults(rack):
    found = book.snow(snowy(rack, exposure="D", C_e=1.3, C_t=1.1))
    assert found.p_f.m_as("psf") == pytest.approx(0.7 * 1.3 * 1.1 * 40)
    assert len(found.notes) == 1
    default = book.snow(snowy(rack, exposure="D"))
    assert (default.C_e.magnitude, default.C_t.magnitude) == (0.9, 1.2)
    assert "C_e" in default.notes[1]


@settings(max_examples=40, deadline=None)
@drawn(
    p_g=st.floats(1, 400), C_e=st.floats(0.7, 1.3), C_t=st.floats(0.9, 1.3), edition=st.sampled_from(["7-16", "7-22"]),
    risk=st.sampled_from(["I", "II", "III", "IV"]),
)  # fmt: skip
def test_any_flat_roof(p_g, C_e, C_t, edition, risk):
    at = book.flat_roof(edition, of(p_g, "psf"), of(C_e), of(C_t), risk)
    more = book.flat_roof(edition, of(2 * p_g, "psf"), of(C_e), of(C_t), risk)
    assert at.p_s.magnitude == max(at.p_f.magnitude, at.p_m.magnitude)
    assert more.p_f.magnitude == pytest.approx(2 * at.p_f.magnitude)
    assert at.p_m.magnitude <= more.p_m.magnitude <= 2 * at.p_m.magnitude + 1e-9
    assert (governing(at.p_s) == "flat roof") == (at.p_f.magnitude >= at.p_m.magnitude)
    assert at.p_m.magnitude <= 1.2 * p_g


@pytest.mark.parametrize(("width", "word"), [(5, "OK"), (59, "OK"), (60, "NOT OK")])
def test_a_canopy_that_hardly_slopes_takes_rain_on_snow(rack, width, word):
    # 1/4 in. in 1 ft is 1.19 degrees, W/50 with W = 60 ft is 1.20
    (found,) = book.snow(snowy(rack, p_g=20, width=width)).checks
    assert found.word == word
    assert found.demand.m_as("deg") == pytest.approx(width / 50)
    assert book.snow(snowy(rack, p_g=20.1, width=width)).checks == ()


def test_the_flat_roof_load_is_what_the_seismic_weight_takes(rack):
    job = snowy(rack, p_g=50)
    found, of_weights = book.snow(job), weights(job)
    assert found.p_f.m_as("psf") == pytest.approx(42)
    heavier = seismic(job, of_weights, found.p_f).W.m_as("lbf")
    assert heavier == pytest.approx(of_weights.W.m_as("lbf") + 0.2 * 42 * 70)


def test_trace(rack):
    job = snowy(rack)
    found = book.snow(job)
    assert touched(job.site.snow.ground, {"S": found.S, "C_e": found.C_e}) == ["S"]
    again = recompute(found.S, {job.site.snow.ground: of(10, "psf", "p_g")})
    assert again.m_as("lbf") == pytest.approx(10 * 70)  # the minimum governs now


def test_another_edition_is_refused(rack):
    with pytest.raises(DomainError, match="not an edition snow"):
        book.snow(snowy(rack, edition="7-10"))


@pytest.mark.parametrize(("edition", "said"), [("7-16", "Nominal level"), ("7-22", "Strength level")])
def test_sheet(rack, edition, said):
    (sheet,) = book.sheets(book.snow(snowy(rack, p_g=15, edition=edition)))
    text = sheet.markdown()
    assert said in text
    assert "p_{f} = 0.7" in text
    assert len(sheet.checks) == 1

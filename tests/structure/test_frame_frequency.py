"""What wind and earthquake took the frame for, against the frame; the load path read off its sheets."""

import numpy as np
import pytest

from rackbook.book import compute
from rackbook.job import load, new, set_field
from rackbook.structure.frame.frequency import longest_period
from rackbook.trace import Source, given


@pytest.fixture(scope="module")
def books(tmp_path_factory):
    made = {}
    for demo in ("quartz_saddle", "heron_quay"):
        folder = new(tmp_path_factory.mktemp("jobs") / demo, demo)
        made[demo] = folder, compute(load(folder))
    return made


def rigid(book):
    return [c for _, c in book.checks if c.name.startswith("Rigid structure")]


def test_no_distribution_of_the_weights_has_a_longer_period():
    """Rayleigh's quotient of any displacements stays at or below that of the largest one alone."""
    n, g = 0.002, 386.089
    here = Source("derivation", "drawn at random")
    draw = np.random.default_rng(7)
    for _ in range(50):
        w, u = draw.uniform(0.1, 5, 9), draw.uniform(0.0, 0.01, 9)
        true = 2 * np.pi * np.sqrt((w * u**2).sum() / (g * n * (w * u).sum()))
        bound = longest_period(Delta_H=given(float(u.max()), "in", here), n_N=given(n, "", here), g=given(g, "in/s**2", here))
        assert true <= bound.m_as("s") * (1 + 1e-12)


def test_a_rack_without_gust_factor_is_shown_to_be_rigid(books):
    folder, book = books["quartz_saddle"]
    (shown,) = rigid(book)
    assert shown.word == "OK"
    assert shown.capacity.m_as("Hz") > 1.5
    set_field(folder, "site.wind.gust_factor", "0.9")
    assert rigid(compute(load(folder))) == []


def test_a_period_longer_than_the_frames_is_not_accepted_where_it_lowers_the_base_shear(books):
    folder, book = books["heron_quay"]
    assert book.results["seismic"].across.shear.governs == "Eq. 12.8-2"
    assert [c for _, c in book.checks if c.name.startswith("Period used")] == []
    set_field(folder, "site.seismic.stiffness.across", "0.4 kip/in")
    long = compute(load(folder))
    assert long.results["seismic"].across.shear.governs != "Eq. 12.8-2"
    (soft,) = [c for _, c in long.checks if c.name.startswith("Period used")]
    assert soft.word == "NOT OK"
    assert "stiffness" in soft.remedy


def test_foundations_that_turn_as_required_use_up_the_drift_limit(books):
    for _, book in books.values():
        frame = book.results["frame"]
        turned = frame.turning
        assert turned.check.word == "OPEN"
        assert turned.k_theta.magnitude == max(v.magnitude for v in turned.by.values())
        for direction, moved in frame.drift.items():
            component = {"along": 4, "across": 3}[direction]
            of = frame.analysis.solved.reactions[component] @ moved.c.magnitude
            turns = np.abs(of).max() * moved.B_2.magnitude / turned.by[direction].m_as("kip*in")
            whole = moved.value.m_as("in") + turns * frame.sways[direction].L.m_as("in")
            assert whole == pytest.approx(moved.limit.m_as("in"))

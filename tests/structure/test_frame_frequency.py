"""What wind and earthquake took the frame for, against the frame; the load path read off its sheets."""

import numpy as np
import pytest

from rackbook.book import compute
from rackbook.book.load_path import LINKS, NONE
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


NARROW = {link for link, _, _, *begin in LINKS if begin}  # of the checks on these sheets only some are theirs


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
    assert shown.capacity.m_as("Hz") > 2
    set_field(folder, "site.wind.gust_factor", "0.9")
    assert rigid(compute(load(folder))) == []


def test_a_period_longer_than_the_frames_is_not_accepted(books):
    folder, book = books["heron_quay"]
    assert [c.word for _, c in book.checks if c.name.startswith("Period taken")] == ["OK"]
    set_field(folder, "site.seismic.stiffness.across", "9.5 kip/in")
    (soft,) = [c for _, c in compute(load(folder)).checks if c.name.startswith("Period taken")]
    assert soft.word == "NOT OK"
    assert "stiffness" in soft.remedy


def test_every_link_of_the_load_path_is_judged_by_its_sheets(books):
    for _, book in books.values():
        (grid, *_) = book.sheet("load_path").parts
        assert [row[0] for row in grid.rows] == [link for link, *_ in LINKS]
        by_title = {}
        for title, c in book.checks:
            by_title.setdefault(title, []).append(c)
        for link, _, titles, used, ratio, word in grid.rows:
            assert word != NONE
            known = [c for t in titles.split("; ") for c in by_title[t] if c.ratio is not None]
            of = [c for c in known if c.name.split()[0] == used.split()[0] or link not in NARROW]
            most = max(of, key=lambda c: c.ratio.magnitude / c.limit)
            assert ratio.magnitude == most.ratio.magnitude
            assert most.name.startswith(used)
            assert word == "OK"

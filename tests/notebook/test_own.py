"""The engineer's own sheet: results that are looked up are quoted with their sheet, whatever stands behind them."""

import pytest

from rackbook.book import compute
from rackbook.job import load
from rackbook.notebook.own import own_sheet, quoted
from rackbook.shipped import shipped
from rackbook.trace import LookupFailed, Source, check, formula


@pytest.fixture(scope="module")
def book():
    return compute(load(shipped("data", "jobs", "quartz_saddle")))


@formula(Source("derivation", "twice"), W_2="lbf")
def twice(W):
    """Return twice a force."""
    W_2 = 2 * W
    return W_2


@pytest.mark.parametrize("path", ["wind.front.V", "frame.drift.across.value", "frame.governing.base.M_x.value", "weights.w"])
def test_a_result_is_one_quoted_number(book, path):
    """An array chain, a combination of the frame, a moment on request: none is derived again."""
    value = quoted(book, path)
    assert value.origin.given == {}
    assert value.text() == book.values[path].text()
    assert value.source.title.removesuffix(" sheet") in {sheet.title for sheet in book.sheets}


def test_an_input_keeps_its_line(book):
    assert quoted(book, "site.wind.speed").source.locator.startswith("site.wind.speed, line ")


def test_an_own_sheet_holds_the_own_lines_alone(book):
    def mine(value):
        V = value("wind.front.V")
        yield check("Against twice", V, twice(W=V), Source("derivation", "own"))

    text = own_sheet(book, mine, "Own").markdown()
    assert text.count("$$") == 2
    assert "Wind loads sheet" in text
    assert "K_{z}" not in text


def test_a_path_that_is_not_there_is_told_with_the_nearest(book):
    with pytest.raises(LookupFailed, match=r"wind\.front"):
        own_sheet(book, lambda value: value("wind.frnt.V"), "Own")

"""All sheets of the demo jobs together: nothing is worked out twice, and what one sheet quotes another one prints."""

import re

import pytest

from rackbook.book import compute
from rackbook.job import load
from rackbook.shipped import shipped

QUOTED = re.compile(r"^\| .*? \| \$(.*)\$ \| sheet (.*?) \|$", re.MULTILINE)
NUMBER = re.compile(r"-?[\d.,]+(?: times 10\^\{-?\d+\})?")


@pytest.fixture(scope="module", params=["quartz_saddle", "heron_quay"])
def book(request):
    return compute(load(shipped("data", "jobs", request.param)))


@pytest.fixture(scope="module")
def texts(book):
    return {s.title: s.markdown().replace("\\", "").replace("{,}", ",") for s in book.sheets}


def test_only_the_sheet_of_the_frame_sets_a_superposition_in_lines(texts):
    assert [title for title, text in texts.items() if "superposition" in text] == ["Frame analysis"]


def test_what_a_sheet_quotes_from_another_stands_on_that_one(texts):
    seen = 0
    for title, text in texts.items():
        for value, other in QUOTED.findall(text):
            if other.startswith("Conductors, "):  # a table of the same sheet
                continue
            number = NUMBER.match(value)
            assert other != title
            assert number is None or number[0] in texts[other], (title, value, other)
            seen += 1
    assert seen > 15


def test_every_check_is_in_a_table_of_its_sheet_or_counted_there(book, texts):
    for sheet in book.sheets:
        text = texts[sheet.title]
        listed = [c for c in sheet.checks if f"\n| {c.name} |" in text]
        counted = sum(int(n) for n in re.findall(r"(\d+) more checks are OK", text))
        assert len(listed) + counted >= len({id(c) for c in sheet.checks}), sheet.key
        assert all(c in listed for c in sheet.checks if c.word != "OK")

"""The reader of schedules agrees with the common reader of comma-separated text, and knows every cell's place."""

import csv
import io
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rackbook.job.csvfile import cells
from rackbook.trace import InputError

TEXT = st.text(st.sampled_from('ab1 ,"\n\r;é'), max_size=8)


@settings(max_examples=200, deadline=None)
@given(st.lists(st.lists(TEXT, min_size=1, max_size=4), min_size=1, max_size=5), st.sampled_from(["\n", "\r\n"]))
def test_agrees_with_the_common_reader(rows, end):
    out = io.StringIO()
    csv.writer(out, lineterminator=end).writerows(rows)
    read = cells("x.csv", out.getvalue())
    common = [row for row in csv.reader(io.StringIO(out.getvalue(), newline="")) if any(text.strip() for text in row)]
    assert [[cell.text for cell in row] for row in read] == common


@settings(max_examples=200, deadline=None)
@given(st.text(st.sampled_from('ab,"\n\r'), max_size=30))
def test_spans_are_the_written_cells_or_it_is_an_input_error(text):
    try:
        rows = cells("x.csv", text)
    except InputError:
        return
    for row in rows:
        for cell in row:
            raw = text[cell.start : cell.end]
            assert raw == cell.text or raw == '"' + cell.text.replace('"', '""') + '"'
            assert cell.line == len(re.findall("\r\n|\n|\r", text[: cell.start])) + 1


def test_long_unclosed_quotes_end_soon():
    with pytest.raises(InputError, match="quotes"):
        cells("x.csv", '"' + 'a""' * 300_000)

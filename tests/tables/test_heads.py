"""Every table says where it was published, how it was had and how it was checked; nothing else gets in."""

import itertools
import re

import pytest

from rackbook.shipped import shipped
from rackbook.tables import names, table
from rackbook.tables.head import HOWS, read_file, split_column
from rackbook.trace import LookupFailed
from rackbook.trace.units import unit
from rackbook.trace.value import WORD

FORBIDDEN = re.compile(r"stored|json|session|search|github|huggingface|mirror|\bocr\b|program manual", re.I)
PLACES = re.compile(r"https?://(?!lfportal\.everettwa\.gov/)")


def text_of(name):
    return shipped("data", "tables", f"{name}.csv").read_text(encoding="utf-8")


def test_there_are_tables():
    assert len(names()) >= 50


@pytest.mark.parametrize("name", names())
def test_head_is_complete(name):
    head = table(name).head
    assert head.title
    assert len(head.checked) > 10
    assert head.how in (*HOWS, "per row")
    assert head.locator or head.how != "read" or head.edition or len(head.title) > 30


@pytest.mark.parametrize("name", names())
def test_labels_of_rows(name):
    of = table(name)
    labelled = [column for column in of.names if column == "how" or column.startswith("how_")]
    assert bool(labelled) or of.head.how != "per row"
    for column in labelled:
        assert column == "how" or column.removeprefix("how_") in of.names, column
        for row in of.rows:
            assert row[column] in HOWS or (row[column] == "" and not row[column.removeprefix("how_")]), row
    if of.head.how == "per row":  # then every printed cell has a label
        for column in of.names[len(of.keys) :]:
            label = f"how_{column}" if f"how_{column}" in of.names else "how"
            if column in labelled or column in ("title", "remark", "product", "clause", "printed", "basis", "family"):
                continue
            assert all(row[label] in HOWS for row in of.rows if row[column]), (column, label)


@pytest.mark.parametrize("name", names())
def test_own_words(name):
    text = text_of(name)
    assert not FORBIDDEN.search(text), FORBIDDEN.search(text)
    assert not PLACES.search(text)
    text.encode("ascii")


@pytest.mark.parametrize("name", names())
def test_units_parse(name):
    for head, of in zip(table(name).columns, table(name).units, strict=True):
        written = split_column(head)[1]
        assert of is WORD if written == "word" else of is unit(written)


@pytest.mark.parametrize("name", names())
def test_columns_with_a_unit_hold_numbers(name):
    of = table(name)
    for head, cells in zip(of.columns, zip(*of.cells, strict=True), strict=True):
        if split_column(head)[1] not in ("", "word") and not head.startswith("limit_"):
            assert not [c for c in cells if isinstance(c, str)], head


@pytest.mark.parametrize("name", names())
def test_keys_are_unique_and_filled(name):
    of = table(name)
    assert len(of._index) == len(of.rows)
    for row in of.rows:
        assert all(row[key] for key in of.keys if key not in ("from", "to"))
        assert any(row[column] for column in of.names[len(of.keys) :]) or len(of.names) == len(of.keys) + 1


@pytest.mark.parametrize("name", names())
def test_ends_beyond_which_the_end_value_is_used_are_keys(name):
    head = table(name).head
    assert all(key in head.between and side in ("above", "below") for key, side in head.beyond)
    assert bool(head.beyond) == bool(head.beyond_because)


@pytest.mark.parametrize("name", [n for n in names() if table(n).head.band])
def test_bands_touch_and_rise(name):
    of = table(name)
    groups = {}
    for row, cells in zip(of.rows, of.cells, strict=True):
        key = tuple(row[k] for k in of.keys[:-2])
        groups.setdefault(key, []).append(cells[len(of.keys) - 2 : len(of.keys)])
    gap = 1 if of.head.whole else 0
    for bands in groups.values():
        for (low, high), (following, _) in itertools.pairwise(bands):
            assert low is None or low <= high
            assert following == high + gap or (name == "motor_voltage" and following > high)


def test_every_file_of_the_folder_is_a_table():
    files = {path.name for path in shipped("data", "tables").iterdir()}
    assert files == {f"{name}.csv" for name in names()}


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("# source: X\n# how: read\n# keys: a\na,b\n1,2\n", "lacks '# cross-checked:'"),
        ("# source: X\n# how: seen\n# keys: a\n# cross-checked: y\na,b\n", "must be read, derived, memory or per row"),
        ("# source: X\n# who: me\n# how: read\na,b\n", "'who' is not a field"),
        ("# source: X\n# how: read\n# keys: a\n# cross-checked: y\na,b\n1\n", ":6: 1 cells under 2 columns"),
        ("# source: X\n# how: read\n# keys: a\n# between: b\n# cross-checked: y\na,b\n", "must name the last of the keys"),
        ("# source: X\n# how: read\n# keys: a\n# band: near\n# cross-checked: y\na,b\n", "must begin with one of"),
    ],
)
def test_a_wrong_head_is_refused(tmp_path, text, message):
    path = tmp_path / "t.csv"
    path.write_text(text)
    with pytest.raises(LookupFailed, match=re.escape(message)):
        read_file(path)

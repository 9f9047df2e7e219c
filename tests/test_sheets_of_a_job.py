"""All sheets of the demo jobs together: nothing is worked out twice, and what one sheet quotes another one prints."""

import re

import pytest

from rackbook.book import compute
from rackbook.book.load_path import LINKS, on_sheet
from rackbook.book.ranking import is_strength
from rackbook.job import load
from rackbook.shipped import shipped

QUOTED = re.compile(r"^\| .*? \| \$(.*)\$ \| sheet (.*?) \|$", re.MULTILINE)
NUMBER = re.compile(r"-?[\d.,]+(?: times 10\^\{-?\d+\})?")


@pytest.fixture(scope="module", params=["quartz_saddle", "heron_quay"])
def book(request):
    return compute(load(shipped("data", "jobs", request.param)))


@pytest.fixture(scope="module")
def texts(book):
    said = {s.title: s.markdown().replace("\\", "").replace("{,}", ",") for s in book.sheets}
    print_only = str.maketrans({"\N{NO-BREAK SPACE}": " ", "\N{WORD JOINER}": None, "\N{MINUS SIGN}": "-"})
    return {title: text.translate(print_only) for title, text in said.items()}


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


def test_every_link_of_the_load_path_names_its_governing_strength_and_limit(book):
    (grid, *_) = book.sheet("load_path").parts
    assert [row[0] for row in grid.rows] == [link for link, *_ in LINKS]
    for link, _, strength, used, _limits, other, word in grid.rows:
        assert word in ("OK", "NOT OK", "OPEN"), link
        name, _, title = strength[:-1].rpartition(" (")
        known = [c for of, c in book.checks if of == title and c.name.startswith(name) and is_strength(c)]
        assert used.magnitude == max(c.ratio.magnitude for c in known if c.ratio is not None), link
        assert isinstance(other, str) or other.magnitude >= 0


def test_every_check_of_the_structure_is_in_a_link_of_the_load_path(book):
    sheets = {s.key: s for s in book.sheets}
    places = [place for _, _, places in LINKS for place in places if place[0] in sheets]
    seen = {id(c) for key, *begin in places for c in on_sheet(sheets[key], begin)}
    missed = [c.name for key, *_ in places for c in sheets[key].checks if id(c) not in seen]
    assert missed == []


def test_rules_on_sizes_are_not_strength(book):
    by_name = {c.name: is_strength(c) for _, c in book.checks}
    assert by_name["Concrete cover of the piers"] is False
    assert by_name["Rods inside the cage"] is False
    assert by_name["Height on the truck"] is False
    assert by_name["Base plate thickness, bearing side"] is True
    assert by_name["Tension and shear together"] is True
    assert {known for name, known in by_name.items() if name.startswith("Drift")} == {False}
    assert {known for name, known in by_name.items() if name.startswith("Embedment of the piers")} == {True}


def test_the_design_criteria_carry_codes_hazards_systems_results_and_decisions(book):
    stated, decided, *_ = book.sheet("criteria").parts
    lines = {label: words for _, label, words, where in stated.rows if where}
    assert len(lines) == len(stated.rows)
    assert lines["Total weight"] == book.results["weights"].W.text()
    assert book.results["wind"].across.text() in lines["Wind, strength level"]
    assert f"SDC {book.results['seismic'].category.text()}" in lines["Category and factors"]
    assert "A500 Gr C" in lines["Posts"]
    assert "height / 100" in lines["Drift limit of the posts, 0.6 W"]
    assert not any("_" in words.replace("S_", "").replace("K_", "").replace("T_L", "").replace("L_h", "").replace("I_e", "")
                   .replace("C_d", "").replace("Omega_0", "") for words in lines.values())  # fmt: skip
    subjects = [subject for subject, *_ in decided.rows]
    assert {"Tornado", "Snow", "Flood, tsunami", "Supply", "Seismic force-resisting system"} <= set(subjects)
    assert ("Topography" in subjects) == (book.job.site.wind.topography is None)

"""A demo job bound as its user binds it: what the PDF and the web page hold, and that they come out the same twice."""

import hashlib
import io
import re
from collections import Counter

import pypdf
import pytest

from rackbook.book import compute
from rackbook.job import load
from rackbook.shipped import shipped
from rackbook.submittal.submit import submit
from rackbook.submittal.summary import told

JOB = shipped("data", "jobs", "heron_quay")


@pytest.fixture(scope="module")
def book():
    return compute(load(JOB))


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    return [submit(JOB, tmp_path_factory.mktemp(f"print{n}")) for n in (1, 2)]


@pytest.fixture(scope="module")
def pdf(printed):
    return pypdf.PdfReader(io.BytesIO(printed[0].pdf.read_bytes()))


@pytest.fixture(scope="module")
def pages(pdf):
    return [page.extract_text() for page in pdf.pages]


def test_same_input_same_bytes(printed):
    one, two = printed
    assert one.pdf.read_bytes() == two.pdf.read_bytes()
    assert one.html.read_bytes() == two.html.read_bytes()


def test_every_page_says_draft_and_its_number(pages):
    for n, text in enumerate(pages, 1):
        assert "DRAFT" in text, n
        assert re.search(rf"{n}\s+of\s+{len(pages)}\b", " ".join(text.split())), n


def test_every_sheet_is_in_contents_and_print(book, pages):
    everything = " ".join(" ".join(pages).split())
    contents = " ".join(" ".join(pages[1:3]).split())
    for sheet in book.sheets[1:]:
        assert sheet.title in everything
        assert sheet.title in contents


def test_every_check_is_in_the_summary(book, pages):
    """By its own line, or, of a circuit, in the count of the checks behind the governing one."""
    start = next(n for n, text in enumerate(pages) if n > 8 and "Check summary" in text)
    summary = re.sub("[\u200b\u2060]", "", "".join("".join(pages[start:]).split())).replace("\u2212", "-")
    by_item = Counter((sheet, c.name.partition(": ")[0]) for sheet, c in book.checks if sheet == "Conductors")
    for (_, item), count in by_item.items():
        assert re.search(rf"{item}:[^:]*\(largestof{count}checks\)", summary) or count == 1, item
    for sheet, check in book.checks:
        if sheet != "Conductors" or check.word != "OK":
            assert "".join(told(check.name).split()) in summary, check.name


def test_results_stand_in_front(book, pages):
    page = next(" ".join(text.split()) for text in pages[2:8] if "largest utilizations" in " ".join(text.split()))
    words = Counter(c.word for _, c in book.checks)
    front = " ".join(" ".join(pages[2:8]).split())
    assert f"{len(book.checks)} checks: {words['OK']} OK, {words['NOT OK']} NOT OK, {words['OPEN']} OPEN." in front
    assert "utilizations of strength, embedment, stability and serviceability" in page


def test_inputs_ride_inside_with_their_fingerprint(pdf, pages):
    text = "".join("".join(pages).split()).replace("\u200b", "")
    for name in ("rack.yaml", "equipment.csv", "circuits.csv"):
        (inside,) = pdf.attachments[name]
        assert inside == (JOB / name).read_bytes()
        assert hashlib.sha256(inside).hexdigest() in text


def test_cautions_and_no_seal(pages):
    text = " ".join(" ".join(pages).split())
    for words in ("lock out", "verify absence of voltage", "discharge", "qualified rigger", "authority having jurisdiction"):
        assert words in text
    assert "† recalled, not yet read in the adopted edition" in text


def test_result_says_what_the_checks_came_to(printed, book):
    assert printed[0].checks.startswith(f"{sum(c.word == 'OK' for _, c in book.checks)} OK")
    counted = re.fullmatch(r"(\d+) of (\d+) published values reproduced", printed[0].cases)
    assert counted
    assert counted[1] == counted[2]

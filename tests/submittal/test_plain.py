# ruff: noqa: E501
"""Any text at all, put in a sheet, is shown as itself by both prints."""

import html
import re

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rackbook.submittal import escape
from rackbook.submittal.cells import Piece
from rackbook.submittal.pandoc import read, write
from rackbook.submittal.story import Story, text_of
from rackbook.trace.text import visible

MARKS = "!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~ \n\t1aAé–’“😀א"
hostile = st.one_of(st.text(max_size=60), st.text(alphabet=MARKS, max_size=40))
texts = st.lists(hostile, min_size=20, max_size=60)
quick = settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))


def untagged(page: str) -> str:
    return " ".join(html.unescape(re.sub(r"<[^>]*>", "", page)).replace("\xa0", " ").split())


@quick
@given(texts)
def test_a_paragraph_reads_back_as_itself(many):
    for text, blocks in zip(many, read([(escape(t), "markdown") for t in many]), strict=True):
        assert text_of(blocks).replace("\xa0", " ") == visible(text)
        assert all(block["t"] == "Para" for block in blocks)


@quick
@given(texts)
def test_a_cell_and_a_heading_hold_any_text(many):
    sheets = [f"# {escape(t)}\n\n| a | b |\n|---|---|\n| {escape(t)} | x |\n" for t in many]
    for text, blocks in zip(many, read([(s, "markdown") for s in sheets]), strict=True):
        heading, table = blocks
        assert text_of(heading["c"][2]).replace("\xa0", " ") == visible(text)
        (row,) = table["c"][4][0][3]
        assert [text_of(cell[4]).replace("\xa0", " ") for cell in row[1]] == [visible(text), "x"]


@quick
@given(texts)
def test_the_web_page_shows_the_text(many):
    shown = [t for t in many if visible(t)]
    blocks = [block for each in read([(escape(t), "markdown") for t in shown]) for block in each]
    page = write(blocks, "html5-smart")
    assert [untagged(p) for p in re.findall(r"<p>(.*?)</p>", page, re.S)] == [visible(t) for t in shown]


def test_the_typesetter_reads_the_text(tmp_path):
    """The typesetter's own reading of each paragraph is the text, mark for mark."""
    import json

    import typst

    many = [
        "= head", "- dash -- --- ...", "+ plus", "/ term: x", "1. one", "// no comment", "/* nor this */", "https://a.b/c", "#let x = 1",
        "$5 and $6", "<label> @cite", "*s* _e_ `c` ~x~", "\\ back \\u{41}", "'q' \"d\"", "[a](b) ![c](d)", "a|b", "{{x}}", "&amp; &#36;",
        "<script>alert(1)</script>", "a" * 29, "x;y", "x.y(z)", "#",
    ]  # fmt: skip
    story = Story(tmp_path)
    story.add([Piece("markdown", escape(text)) for text in many])
    body = "#set smartquote(enabled: false)\n" + "\n\n".join(
        f"#block[{write([block], 'typst-smart').strip()}] <p>" for block in story.paper
    )
    found = json.loads(typst.query({"main.typ": body.encode()}, "<p>", field="body"))
    assert [_read(node) for node in found] == many


def _read(node) -> str:
    if node.get("func") in ("space", "parbreak"):
        return " " if node["func"] == "space" else ""
    if "text" in node:
        return node["text"]
    return "".join(
        _read(kid) for kid in [*node.get("children", []), *([node["body"]] if isinstance(node.get("body"), dict) else [])]
    ).strip()


def test_what_cannot_be_seen_goes():
    assert visible("a\u202eb\u200b \x00c\n\n d") == "ab c d"
    assert visible("\ud800") == "\ufffd"

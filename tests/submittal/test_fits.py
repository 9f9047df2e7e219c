# ruff: noqa: E501
"""No line is clipped: what is too wide is broken or set smaller; what still does not fit stops the print and is named."""

import io
import re

import pypdfium2 as pdfium
import pypdfium2.raw as raw
import pytest
import typst
from pypdf import PdfReader

from rackbook.submittal import bind_notebooks, escape
from rackbook.submittal.frame import measure
from rackbook.submittal.glyphs import drawn, printable
from rackbook.trace.errors import SheetError

HOSTILE = [
    "W" * 300, "TAG-" + "1234567890-" * 20, "pump \U0001f600 house", "שלום עולם", "العربية", "中文",
    "$5 #1 @ref \\ <script>alert(1)</script> {{x}} `code` a|b _u_ *s*", "// = - + 1. #let x", "~~x~~ [l](u) ![i](u) &amp; &#36;",
]  # fmt: skip


def bound(sample, folder, *texts, **changes):
    notebook = sample.notebook(*(sample.said(text, n) for n, text in enumerate(texts, 1)))
    return bind_notebooks([notebook], sample.matter(**changes), folder, ["sheets"])


def text_of(pdf: bytes) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages]


def long_sum(terms: int, joined: str = " + ") -> str:
    return joined.join(rf"\left( 1234.5\ \mathrm{{lbf}} \cdot {n}.25\ \mathrm{{ft}} \right)" for n in range(terms))


def test_a_long_sum_is_broken_at_operators(sample, folder):
    printed = bound(sample, folder, f"# Long\n\n$$M = {long_sum(40)} = 9.9\\ \\mathrm{{lbf}}$$")
    page = next(t for t in text_of(printed.pdf) if "39.25" in t)
    assert all(f"{n}.25" in page for n in range(40))


def test_a_wide_fraction_is_set_smaller(sample, folder):
    printed = bound(sample, folder, rf"# Wide{chr(10)}{chr(10)}$$M = \frac{{{long_sum(5)}}}{{2}}$$")
    assert any("4.25" in t for t in text_of(printed.pdf))


def test_a_fraction_that_cannot_be_broken_stops_the_print(sample, folder):
    with pytest.raises(SheetError) as stopped:
        bound(sample, folder, rf"# Post base{chr(10)}{chr(10)}$$M_{{long}} = \frac{{{long_sum(12)}}}{{2}}$$")
    said = str(stopped.value)
    assert "Post base" in said
    assert "sheets, cell 1" in said
    assert "M sub long" in said


def test_a_table_of_too_many_columns_stops_the_print(sample, folder):
    heads = "|".join(f"col{n}" for n in range(60))
    table = f"|{heads}|\n|{'---|' * 60}\n|{'|'.join(['12.345'] * 60)}|\n"
    with pytest.raises(SheetError, match=r"Cable schedule.*60 columns"):
        bound(sample, folder, "# Cable schedule\n\n" + table)


def test_long_tables_repeat_their_head_and_lose_no_row(sample, folder):
    rows = "\n".join(f"| C-{n:03d} | feeder to panel {n} | {n}.5 |" for n in range(150))
    pages = text_of(bound(sample, folder, f"# Schedule\n\n| Circuit | Serves | Amperes |\n|---|---|---|\n{rows}\n").pdf)
    on = [t for t in pages if re.search(r"C-\d{3}", t)]
    assert len(on) >= 3
    assert all("Circuit" in t and "Amperes" in t for t in on)
    assert all(sum(f"C-{n:03d}" in t for t in on) == 1 for n in range(150))


def strip(page: str) -> str:
    return page.partition("Section")[2].partition("Rev.")[0]


def test_the_head_names_the_sheet_at_the_top_of_the_page(sample, folder):
    lines = "\n\n".join("A line of words." for _ in range(20))
    parts = "\n\n".join(f"## Sheet number {n}\n\n{lines}" for n in range(9))
    pages = text_of(bound(sample, folder, f"# Parts\n\n{parts}\n").pdf)
    begun = sum(bool(re.match(r"Sheet number \d", body(page))) for page in pages)
    current = "0"
    for page in (p for p in pages if "Parts" in strip(p)):
        top = re.match(r"(?:Parts )?Sheet number (\d)", body(page))
        current = top[1] if top else current
        assert f"Sheet number {current}" in strip(page)
        current = (re.findall(r"Sheet number (\d)", body(page)) or [current])[-1]
    assert begun or current == "8"


def body(page: str) -> str:
    """Return the text of a page below its title strip."""
    return re.split(r"Page \d+ of \d+ ", page.partition("Sheet")[2])[-1]


@pytest.mark.parametrize("rows", [8, 9, 30])
def test_rows_of_a_table_stay_in_company(sample, folder, rows):
    """Short tables are whole; of longer ones at least three rows stand on each side of a page's end."""
    table = "| Tag | Amperes |\n|---|---|\n" + "\n".join(f"| Q-{n:02d} | {n}.5 |" for n in range(rows))
    for lead in range(8, 34, 5):
        filler = "\n\n".join("words" for _ in range(lead))
        pages = text_of(bound(sample, folder, f"# T\n\n{filler}\n\n**The title**\n\n{table}\n").pdf)
        held = [len(re.findall(r"Q-\d\d", page)) for page in pages if re.search(r"Q-\d\d", page)]
        assert sum(held) == rows
        assert min(held) >= 3
        assert len(held) == 1 or rows > 8
        (first,) = [page for page in pages if "Q-00" in page]
        assert "The title" in first


def test_a_few_lines_on_a_page_are_joined_by_the_next_section(sample, folder):
    books = [
        sample.notebook(sample.markdown(f"# {name}\n\n{words}")) for name, words in (("Short", "one line"), ("Next", "more"))
    ]
    pages = text_of(bind_notebooks(books, sample.matter(), folder).pdf)
    assert sum("one line" in p and "Next more" in p for p in pages) == 1


def test_no_script_is_too_small_to_copy(sample, folder):
    tex = r"x = f_{c'}^{2} + \frac{\frac{a^{2}}{b_{c}}}{\sqrt{\frac{d^{2}}{e_{f_{g}}}}}"
    pdf = bound(sample, folder, f"# S\n\n$${tex}$$\n\n| a |\n|---|\n| ${tex}$ |\n").pdf
    assert smallest(pdf) >= 5.4


def smallest(pdf: bytes) -> float:
    """Return the size of the smallest letter of a PDF, in points."""
    document, matrix, sizes = pdfium.PdfDocument(pdf), raw.FS_MATRIX(), set()
    for page in document:
        text = page.get_textpage()
        for n in range(raw.FPDFText_CountChars(text)):
            if raw.FPDFText_GetUnicode(text, n) > 32:
                raw.FPDFText_GetMatrix(text, n, matrix)
                sizes.add(raw.FPDFText_GetFontSize(text, n) * abs(matrix.d or matrix.b))
    return min(sizes)


def test_no_title_is_left_at_the_foot_of_a_page(sample, folder):
    table = "| a | b |\n|---|---|\n| x | 1 |\n| y | 2 |\n"
    parts = "\n\n".join(f"## Part {n}\n\n**Title {n}**\n\n{table}\n{'words ' * (n % 7)}" for n in range(40))
    pages = text_of(bound(sample, folder, f"# Parts\n\n{parts}\n").pdf)
    for n in range(40):
        (page,) = [p for p in pages if f"Title {n} " in p]
        assert re.search(rf"Part {n} Title {n} a b x 1", page)


def test_numbers_stand_right_even_without_a_mark(sample, folder):
    page = bound(sample, folder, "# T\n\n| a | b |\n|---|---|\n| x | 1.5 |\n| y | 22.5 |\n").html.decode()
    assert re.search(r"<td[^>]*text-align: right[^>]*>22.5</td>", page)


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_words_are_printed_as_they_are(sample, folder, text):
    safe = escape(text)
    sheet = f"# {safe}\n\n## {safe}\n\n{safe}\n\n| Tag | Text |\n|---|---|\n| {safe} | {safe} |\n\n**{safe}**, {safe}\n\n$$x = 1$$\n\n- {safe}\n"
    printed = bound(
        sample,
        folder,
        sheet,
        title=text,
        job="1",
        criteria=f"## {safe}\n\n| Criterion | Value |\n|---|---|\n| {safe} | {safe} |\n",
        cautions=[text],
        revisions=[(1, text, text, text, text)],
    )
    squeezed = "".join("".join(text_of(printed.pdf)).split()).replace("\u200b", "")
    if not re.search("[\u0590-\u06ff]", text):  # right-to-left text is extracted in its drawn order
        assert squeezed.count(printable("".join(text.split()))) >= 8
    page = printed.html.decode()
    assert "<script" not in page
    assert page.count(text[:5].replace("<", "&lt;").replace("&", "&amp;")) >= 6


def test_many_columns_of_long_words_break_inside_the_words(sample, folder):
    word = "Z" * 60
    row = "|" + "|".join([word] * 7) + "|"
    printed = bound(sample, folder, f"# Words\n\n|{'h|' * 7}\n|{'---|' * 7}\n{row}\n")
    squeezed = "".join("".join(text_of(printed.pdf)).split()).replace("\u200b", "")
    assert squeezed.count("Z") == 7 * 60


def compiled(body: str) -> bytes:
    return typst.compile({"main.typ": f'#set page(paper: "us-letter", margin: 1in)\n{body}'.encode()}, ignore_system_fonts=True)


def test_the_measure_finds_text_off_the_page():
    with pytest.raises(SheetError, match=r"Page 1: text runs off the page near '.*gone"):
        measure(compiled("#box(width: 20in)[#h(7in) far and gone]"))


def test_the_measure_finds_text_over_text():
    with pytest.raises(SheetError, match=r"Page 2: text is printed over other text near"):
        measure(compiled("good #pagebreak() #place(dx: 0pt)[Bearing stress] #place(dx: 3pt, dy: 1pt)[Governs here]"))


def test_the_measure_passes_close_setting():
    assert (
        measure(
            compiled("Quiet office, fjord, affine AVAT #emph[f(x)] $sqrt(a/b) + overline(x) + hat(y) + sum_(i=1)^n x_i^2_3$")
        )
        == 1
    )


def test_every_glyph_on_the_list_is_drawn_by_this_typesetter():
    """PDF/A refuses a character without a glyph, so one compile proves the whole list."""
    listed = [chr(code) for code in range(0x7F, 0x20000) if drawn(chr(code)) and not chr(code).isspace()]
    body = "\n".join(f'#text("\\u{{{ord(c):x}}}")' for c in listed)
    source = f'#set document(title: "t")\n#set text(font: ("Libertinus Serif", "New Computer Modern", "DejaVu Sans Mono", "New Computer Modern Math"))\n{body}'
    assert typst.compile({"main.typ": source.encode()}, ignore_system_fonts=True, pdf_standards=["a-3b"], timestamp=0)
    assert len(listed) > 5000
    assert printable("a\U0001f600") == "a[U+1F600]"

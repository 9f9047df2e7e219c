"""What the bound document holds, in which order, and that it is the same file every time."""

import io
import re
import subprocess
import sys
import tomllib
from importlib import import_module
from pathlib import Path

import nbformat
import pytest
from pypdf import PdfReader

from rackbook.submittal import DRAFT, bind_notebooks
from rackbook.trace.errors import SheetError

ROOT = Path(__file__).parents[2]


def test_order_of_the_document(pdf_text):
    firsts = [
        "Calculation submittal",
        "Contents",
        "Design criteria",
        "Results",
        "Wind",
        "Frame",
        "Check summary",
        "Verification",
        "Revisions and cautions",
    ]
    assert len(pdf_text) == len(firsts)
    for page, first in zip(pdf_text, firsts, strict=True):
        assert first in page


def test_every_page_is_marked(pdf_text):
    for number, page in enumerate(pdf_text, start=1):
        assert DRAFT in page
        assert f"Page {number} of {len(pdf_text)}" in page


def test_every_sheet_carries_its_strip(pdf_text):
    for page in pdf_text[1:]:
        for words in ("24-0117", "Switch rack SR-101", "Example Flats", "A. Writer", "B. Reader", "2026-03-14"):
            assert words in page


def test_contents_name_the_right_pages(pdf_text):
    for name in ("Design criteria", "Wind on the front", "Posts", "Cautions"):
        page = int(re.search(rf"{name}[ .]*(\d+)", pdf_text[1])[1])
        assert name in pdf_text[page - 1]


def test_engineers_words_and_hand_calculation_keep_their_place(pdf_text):
    wind = pdf_text[4]
    places = [wind.index(words) for words in ("28.74", "363.4", "Front elevation", "By hand", "358.8")]
    assert places == sorted(places)


def test_no_code_and_no_warning_is_printed(printed, pdf_text):
    for text in ("".join(pdf_text), printed.html.decode()):
        assert "show()" not in text
        assert "a warning nobody prints" not in text


def test_results_lead_with_what_fails_and_send_to_what_is_to_confirm(pdf_text):
    page = " ".join(pdf_text[3].split())
    assert "2 checks: 1 OK, 1 NOT OK, 0 OPEN." in page
    assert page.index("Anchor tension") < page.index("The 1 largest") < page.index("Post bending")
    on = int(re.search(r"7 clauses .* \(listed, page (\d+)\)", page)[1])
    assert "To confirm against the adopted edition" in pdf_text[on - 1]


def test_a_place_for_notes_that_holds_none_is_told_once(sample, folder):
    empty = sample.markdown("## Engineer's notes\n\nNone at this revision.")
    some = sample.markdown("## Engineer's notes\n\nThe client asks for stainless hardware.")
    books = [
        sample.notebook(sample.markdown(f"# {name}"), note)
        for name, note in (("Wind", empty), ("Frame", empty), ("Soil", some))
    ]
    printed = bind_notebooks(books, sample.matter(), folder)
    text = " ".join(" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(printed.pdf)).pages)
    assert text.count("None at this revision") == 0
    assert text.count("own notes: none at this revision in Wind; Frame.") == 1
    assert "The client asks for stainless hardware." in text


def test_a_title_drawn_in_a_drawing_is_not_printed_again_below(sample, folder):
    titled = sample.rack.replace("</svg>", "<!-- Front elevation, not to scale --></svg>")
    for drawing, times in ((sample.rack, 1), (titled, 0)):
        out = sample.output("display_data", {"image/svg+xml": drawing}, metadata={"caption": "Front elevation, not to scale"})
        page = bind_notebooks(
            [sample.notebook(sample.code("d", execution_count=1, outputs=[out]))], sample.matter(), folder
        ).html.decode()
        assert page.count('class="caption"') == times


def test_same_input_same_bytes(sample, folder, printed):
    again = bind_notebooks([sample.wind(), sample.frame()], sample.matter(), folder, ["wind", "frame"])
    assert again.pdf == printed.pdf
    assert again.html == printed.html


def test_same_bytes_from_another_process(sample, folder, tmp_path, printed):
    for name, notebook in (("wind", sample.wind()), ("frame", sample.frame())):
        nbformat.write(notebook, tmp_path / f"{name}.ipynb")
    script = (
        "import sys, hashlib, nbformat, pickle; from rackbook.submittal import bind_notebooks\n"
        "matter = pickle.load(open(sys.argv[1] + '/matter', 'rb'))\n"
        "books = [nbformat.read(f'{sys.argv[1]}/{n}.ipynb', 4) for n in ('wind', 'frame')]\n"
        "p = bind_notebooks(books, matter, sys.argv[2], ['wind', 'frame'])\n"
        "open(sys.argv[1] + '/pdf', 'wb').write(p.pdf); open(sys.argv[1] + '/html', 'wb').write(p.html)\n"
    )
    import pickle

    (tmp_path / "matter").write_bytes(pickle.dumps(sample.matter()))
    subprocess.run([sys.executable, "-c", script, str(tmp_path), str(folder)], check=True, cwd=ROOT)
    assert (tmp_path / "pdf").read_bytes() == printed.pdf
    assert (tmp_path / "html").read_bytes() == printed.html


def test_another_input_gives_another_file(sample, folder, printed):
    assert bind_notebooks([sample.wind()], sample.matter(revision="C"), folder).pdf != printed.pdf


def test_outline_and_attachments(printed, folder):
    reader = PdfReader(io.BytesIO(printed.pdf))
    titles = [item.title for item in reader.outline if not isinstance(item, list)]
    assert titles == [
        "Contents", "Design criteria", "Results", "Wind", "Frame", "Check summary", "Verification", "Revisions and cautions",
    ]  # fmt: skip
    inside = next(item for item in reader.outline if isinstance(item, list))
    assert [item.title for item in inside if not isinstance(item, list)] == ["Wind on the front"]
    assert set(reader.attachments) == {"rack.yaml", "equipment.csv", "circuits.csv"}
    assert reader.attachments["rack.yaml"][0] == (folder / "rack.yaml").read_bytes()


def test_the_file_is_archival_tagged_and_dated_by_the_issue(printed):
    reader = PdfReader(io.BytesIO(printed.pdf))
    meta = reader.trailer["/Root"]["/Metadata"].get_object().get_data().decode()
    assert re.search(r"pdfaid:part>\s*3", meta)
    assert re.search(r"pdfuaid:part>\s*1", meta)
    assert reader.metadata["/CreationDate"].startswith("D:20260314")
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]


def test_a_cell_with_an_error_stops_the_print(sample, folder):
    failed = sample.code(
        "x", execution_count=1, outputs=[sample.output("error", ename="ValueError", evalue="no\nmore", traceback=[])]
    )
    with pytest.raises(SheetError, match=r"frame, cell 2: the cell ended in ValueError: no\."):
        bind_notebooks([sample.notebook(sample.markdown("# F"), failed)], sample.matter(), folder, ["frame"])


def test_a_notebook_that_was_not_run_stops_the_print(sample, folder):
    with pytest.raises(SheetError, match="cell 1: the cell has not been run"):
        bind_notebooks([sample.notebook(sample.code("x = 1"))], sample.matter(), folder)


def test_markup_the_print_cannot_carry_is_refused_by_place(sample, folder):
    for bad in ("<script>x()</script>", "<table><tr><td>1</td></tr></table>", "text <iframe src='x'></iframe>"):
        with pytest.raises(SheetError, match=r"notebook 1, cell 1: .* cannot be printed"):
            bind_notebooks([sample.notebook(sample.markdown(bad))], sample.matter(), folder)


def test_pictures_stay_in_the_job_folder(sample, folder):
    for bad in ("https://example.invalid/a.png", "../secret.png", "/etc/passwd", "nowhere.svg"):
        with pytest.raises(SheetError, match="picture"):
            bind_notebooks([sample.notebook(sample.markdown(f"![x]({bad})"))], sample.matter(), folder)


def test_a_data_frame_is_printed_as_a_table(sample, folder):
    import pandas as pd

    frame = pd.DataFrame({"tag": ["P-1", "P-2"], "amps": [1.5, 20.25]})
    shown = sample.output("execute_result", {"text/html": frame._repr_html_(), "text/plain": repr(frame)}, execution_count=1)
    printed = bind_notebooks([sample.notebook(sample.code("f", execution_count=1, outputs=[shown]))], sample.matter(), folder)
    assert re.search(r"<td[^>]*>20.25</td>", printed.html.decode())
    assert "20.25" in "".join(p.extract_text() for p in PdfReader(io.BytesIO(printed.pdf)).pages)


def test_a_widget_prints_nothing(sample, folder):
    shown = sample.output(
        "display_data", {"application/vnd.jupyter.widget-view+json": {"model_id": "1"}, "text/plain": "VBox(children=())"}
    )
    printed = bind_notebooks([sample.notebook(sample.code("f", execution_count=1, outputs=[shown]))], sample.matter(), folder)
    assert "VBox" not in printed.html.decode()


@pytest.mark.parametrize(("form", "start"), [("rackbook-pdf", b"%PDF-"), ("rackbook-html", b"<!DOCTYPE html>")])
def test_exporters_work_from_the_command(sample, tmp_path, form, start):
    points = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["entry-points"]["nbconvert.exporters"]
    module, name = points[form].split(":")
    exporter = getattr(import_module(module), name)
    assert exporter().file_extension == "." + form.removeprefix("rackbook-")
    nbformat.write(sample.wind(), tmp_path / "wind.ipynb")
    told = [sys.executable, "-m", "jupyter", "nbconvert", "--to", f"{module}.{name}", "wind.ipynb", "--output", "out"]
    subprocess.run(
        told, check=True, cwd=tmp_path, capture_output=True, env={**__import__("os").environ, "PYTHONPATH": str(ROOT)}
    )
    assert (tmp_path / f"out{exporter().file_extension}").read_bytes().startswith(start)


def test_the_design_criteria_stand_in_front_and_not_again(sample, folder):
    matter = sample.matter()
    notebook = sample.wind()
    shown = sample.output("display_data", {"text/markdown": matter.criteria})
    notebook.cells.insert(0, sample.code('workbook.sheet("criteria")', outputs=[shown], execution_count=1))
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(bind_notebooks([notebook], matter, folder).pdf)).pages]
    assert [n for n, page in enumerate(pages) if "Exposure C, Risk Category II" in page] == [2]

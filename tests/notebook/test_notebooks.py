"""The notebooks: stored without outputs, and run from top to bottom for each demo job without a word of warning."""

import json
import re

import nbformat
import pytest
from nbclient.exceptions import CellExecutionError

from rackbook.book import compute
from rackbook.drawings import DRAWINGS
from rackbook.job import demos, load, new
from rackbook.notebook.workbook import OPTIONAL
from rackbook.shipped import shipped
from rackbook.submittal.run import client

NAMES = [
    "1_job_and_site.ipynb", "2_weights_and_loads.ipynb", "3_frame_and_lifting.ipynb", "4_anchorage_and_foundation.ipynb",
    "5_conductors_and_raceways.ipynb",
]  # fmt: skip


def stored(name):
    return nbformat.read(shipped("notebooks", name), as_version=4)


def run(notebook, folder):
    with client(notebook, folder) as runs:
        runs.execute()
    return notebook


def shown(notebook, mime):
    """Return what each cell shows of a type, by cell identity."""
    return {
        cell.id: [o.data[mime] for o in cell.outputs if o.output_type in ("display_data", "execute_result") and mime in o.data]
        for cell in notebook.cells
        if cell.cell_type == "code"
    }


def test_these_are_the_notebooks():
    assert sorted(path.name for path in shipped("notebooks").glob("*.ipynb")) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_a_notebook_is_stored_clean(name):
    raw = json.loads(shipped("notebooks", name).read_text(encoding="utf-8"))
    nbformat.validate(raw)
    assert raw["metadata"]["kernelspec"]["name"] == "python3"
    assert set(raw["metadata"]) <= {"kernelspec", "language_info"}
    ids = [cell["id"] for cell in raw["cells"]]
    assert all(re.fullmatch(r"[a-z][a-z-]+", name) for name in ids)
    for cell in raw["cells"]:
        if cell["cell_type"] == "code":
            assert (cell["outputs"], cell["execution_count"]) == ([], None)
    assert raw["cells"][0]["cell_type"] == "markdown"
    assert "".join(raw["cells"][0]["source"]).startswith("# ")


def test_nbstripout_finds_nothing_to_strip():
    nbstripout = pytest.importorskip("nbstripout")
    for name in NAMES:
        notebook = stored(name)
        before = json.dumps(notebook)
        assert json.dumps(nbstripout.strip_output(notebook, keep_output=False, keep_count=False, keep_id=True)) == before


def asked_for(source):
    """Return the keys of the sheets a cell shows."""
    return re.findall(r'"(\w+)"', "".join(re.findall(r"workbook\.sheets?\(([^)]*)\)", source)))


def test_every_sheet_of_the_book_has_one_place():
    placed = [
        key for name in NAMES for cell in stored(name).cells if cell.cell_type == "code" for key in asked_for(cell.source)
    ]
    assert sorted(set(placed)) == sorted(placed)
    made = {sheet.key for demo in demos() for sheet in compute(load(shipped("data", "jobs", demo))).sheets}
    assert made - set(placed) == set()
    assert set(placed) - made <= {"snow"}  # no demo job has a canopy


def test_every_drawing_has_a_place():
    sources = "\n".join(cell.source for name in NAMES for cell in stored(name).cells if cell.cell_type == "code")
    assert sorted(re.findall(r'workbook\.drawing\("([\w ]+)"\)', sources)) == sorted(DRAWINGS)


@pytest.mark.parametrize("demo", demos())
@pytest.mark.parametrize("name", NAMES)
def test_a_notebook_runs(name, demo, tmp_path):
    folder = new(tmp_path / "job", demo)
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    done = run(nbformat.read(folder / name, as_version=4), folder)
    for cell in done.cells:
        for output in cell.get("outputs", ()):
            assert output.output_type not in ("stream", "error"), output
    said = shown(done, "text/markdown")
    drawn = shown(done, "image/svg+xml")
    for cell in done.cells:
        if cell.cell_type == "code" and asked_for(cell.source):
            (first, *_) = said[cell.id]
            assert first.startswith("## ") or (first == "" and set(asked_for(cell.source)) <= set(OPTIONAL))
        if "workbook.drawing" in cell.source and cell.cell_type == "code":
            assert len(drawn[cell.id]) == 1
    assert said["own"][0].startswith("## Independent check")
    assert said["own"][0].count("$$") <= 16  # results are quoted, not derived again: a page at most
    assert "$" in said["own"][0]
    assert drawn["front"][0].lstrip().startswith("<?xml")
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_displays_are_updated_in_the_notebook_itself(tmp_path):
    """What a print of the notebook would show after a change is the new sheet, as markdown."""
    folder = new(tmp_path / "job")
    notebook = nbformat.v4.new_notebook(
        cells=[
            nbformat.v4.new_code_cell(source)
            for source in (
                "from rackbook.notebook import open_job\nworkbook = open_job()",
                'workbook.form("site.wind")',
                'workbook.sheet("criteria")',
                'workbook.elevation("front")',
                'workbook.form("site.wind").fields["site.wind.speed"].input.value = "131 mph"',
                'workbook.form("frame").fields["frame.height"].input.value = "9.25 ft"',
            )
        ]
    )
    run(notebook, folder)
    (sheet,) = notebook.cells[2].outputs
    said = sheet.data["text/markdown"].replace("\xa0", " ")
    assert "131 mph" in said
    assert "9\\.25 ft" in said
    (picture,) = notebook.cells[3].outputs
    assert picture.metadata["image/svg+xml"]["alt"] == "Front elevation"
    assert load(folder).site.wind.speed.m_as("mph") == 131


@pytest.mark.parametrize(("source", "said"), [
    ('workbook.sheet("wnd")', "There is no sheet 'wnd'. Did you mean 'wind'?"),
    ('workbook.form("site.wnd")', "rack.yaml has no 'site.wnd'."),
    ('open_job("nowhere")', "circuits.csv: the file cannot be read"),
])  # fmt: skip
def test_an_error_is_one_plain_message(source, said, tmp_path):
    folder = new(tmp_path / "job")
    cells = ["from rackbook.notebook import open_job\nworkbook = open_job()", source, "1"]
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(text) for text in cells])
    with pytest.raises(CellExecutionError):
        run(notebook, folder)
    (output,) = notebook.cells[1].outputs
    text = "\n".join(output.traceback)
    assert output.output_type == "error"
    assert text.startswith(said)
    assert "Traceback" not in text
    assert "File " not in text
    assert notebook.cells[2].outputs == []

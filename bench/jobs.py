"""A whole job worked out, its growth with the number of items, and the export of a notebook."""

import csv
import functools
import io
import shutil
import tempfile
from pathlib import Path

from .timing import Row, once

SIZES = (10, 100, 1000)
#: The boxes that are added, so small that a thousand find room.
BOX = (("width [in]", 5), ("height [in]", 10), ("depth [in]", 5), ("weight [lbf]", 8))
MISSING = "not available yet"


def grown(folder: Path, into: Path, items: int) -> Path:
    """Write a copy of a job folder with ``items`` circuits and pieces of equipment: the first ones, or the last repeated."""
    shutil.copytree(folder, into)
    rack = (folder / "rack.yaml").read_text(encoding="utf-8")
    bays = ", ".join(["9 ft"] * 32)
    (into / "rack.yaml").write_text(rack.replace("[9 ft, 9 ft, 9 ft]", f"[{bays}]"), encoding="utf-8")
    with (folder / "circuits.csv").open(encoding="utf-8") as file:
        fed = {row[end] for row in list(csv.DictReader(file))[:items] for end in ("from", "to")}
    for name in ("equipment.csv", "circuits.csv"):
        heads, *rows = csv.reader(io.StringIO((folder / name).read_text(encoding="utf-8")))
        column = {h: n for n, h in enumerate(heads)}
        if name == "equipment.csv":  # what the first circuits hang on stays
            rows.sort(key=lambda row: row[0] not in fed)
        rows = rows[:items]
        feeding = {row[column["from"]] for row in rows} if name == "circuits.csv" else set()
        ends = [row for row in rows if name == "equipment.csv" or row[column["to"]] not in feeding]
        for n in range(len(rows), items):
            copy = list(ends[n % len(ends)])
            if name == "equipment.csv":  # small boxes in two rows beside the demo rack
                copy = list(next(row for row in rows if row[column["kind"]] == "enclosure"))
                place, row = divmod(n, 2)
                for head, number in (("x [ft]", 29 + place * 0.5), ("z [ft]", 3 + 2 * row), *BOX):
                    copy[column[head]] = f"{number:g}"
            for head in ("tag", "raceway"):
                if head in column and copy[column[head]]:
                    copy[column[head]] += f"-{n}"
            rows.append(copy)
        out = io.StringIO()
        csv.writer(out, lineterminator="\n").writerows([heads, *rows])
        (into / name).write_text(out.getvalue(), encoding="utf-8")
    return into


def recompute() -> list[Row]:
    """Return the cost of a demo job and of ever larger copies of it."""
    try:
        from rackbook.book import compute
        from rackbook.job import load
        from rackbook.shipped import shipped
    except ImportError:
        return [Row("a job worked out", 0.0, note=MISSING)]
    demo = shipped("data", "jobs", "heron_quay")
    job = load(demo)
    read = min(once(lambda: load(demo), 1) for _ in range(3))
    compute(job)
    took = min(once(lambda: compute(job), 1) for _ in range(3))
    rows = [Row("its files read and checked", read, note="the demo job"), Row(_size(job), took, note="the demo job")]
    for items in SIZES:
        with tempfile.TemporaryDirectory() as where:
            larger = load(grown(demo, Path(where) / "job", items))
        turns = [once(functools.partial(compute, larger), 1) for _ in range(2)]
        times = (len(larger.equipment) + len(larger.circuits)) / (len(job.equipment) + len(job.circuits))
        rows.append(Row(_size(larger), min(turns), note=f"×{min(turns) / took:.1f} for ×{times:.1f} items"))
    return rows


def _size(job) -> str:
    return f"job of {len(job.equipment)} equipment, {len(job.circuits)} circuits"


def export() -> list[Row]:
    """Return the cost of a PDF of an executed notebook against nbconvert's LaTeX exporter, where TeX is present."""
    what, against = "PDF of an executed notebook", "nbconvert's LaTeX exporter"
    try:
        from rackbook.submittal.exporters import PDFSheets
    except ImportError:
        return [Row(what, 0.0, against=against, note=MISSING)]
    notebook = _notebook()
    PDFSheets().from_notebook_node(notebook)
    ours = min(once(lambda: PDFSheets().from_notebook_node(notebook), 1) for _ in range(3))
    if not shutil.which("xelatex"):
        return [Row(what, ours, against=against, note="no TeX here to compare with")]
    from nbconvert import PDFExporter

    return [Row(what, ours, once(lambda: PDFExporter().from_notebook_node(notebook), 1), against)]


def _notebook():
    """Return a notebook whose one cell shows a sheet, as it is after a run."""
    import nbformat
    from nbformat import v4

    from rackbook.loads.wind.pressure import velocity_pressure_722
    from rackbook.trace import Sheet

    from .formulas import WIND, _values

    sheet = Sheet("wind", "Wind", "Velocity pressure", (velocity_pressure_722(**_values(WIND)),))
    shown = v4.new_output("execute_result", {"text/markdown": sheet.markdown(), "text/plain": ""}, execution_count=1)
    cell = v4.new_code_cell("sheet", outputs=[shown], execution_count=1)
    return nbformat.from_dict(v4.new_notebook(cells=[v4.new_markdown_cell("# Wind"), cell]))

"""From a job folder to the submittal: notebooks run fresh, bound with cover, criteria, checks and verification."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from rackbook.book import Book, compute
from rackbook.book.ranking import largest
from rackbook.cases import Outcome, cases, run
from rackbook.job import FILES, load
from rackbook.shipped import shipped
from rackbook.trace import Check

from .bind import bind_notebooks
from .cells import without_legend
from .matter import Matter
from .run import run_notebooks
from .verification import verification

CAUTIONS = (
    "De-energize, lock out and tag out, and verify absence of voltage before work on or near the equipment of this rack.",
    "After an insulation-resistance test, discharge the tested circuit to ground for at least four times the time of the "
    "test before touching it; disconnect electronics first (common practice).",
    "Lift only by the marked points with rigging chosen by a qualified rigger for the measured weight and center of gravity.",
    "Weights marked as estimates are to be replaced by the measured weight before lifting and shipping.",
)


@dataclass(frozen=True)
class Submitted:
    """Where the print is and what the checks came to."""

    pdf: Path
    html: Path
    pages: int
    checks: str
    cases: str


def submit(folder: Path, out: Path, tell: Callable[[str], None] = lambda text: None) -> Submitted:
    """Bind a job folder as one PDF and one web page.

    Args:
        folder: The job folder.
        out: Folder for the print; made if it is not there.
        tell: Called with a short text at each stage.

    Raises:
        RackbookError: The job is refused, a notebook cell fails, or something cannot be printed whole.
    """
    folder, out = Path(folder), Path(out)
    tell("Reading and computing the job")
    book = compute(load(folder))
    own = sorted(folder.glob("*.ipynb"))
    # a folder without notebooks is bound with the book's own
    notebooks = own or sorted(shipped("notebooks").glob("*.ipynb"))
    names = [p.name for p in notebooks]
    with tempfile.TemporaryDirectory() as scratch:
        work = Path(scratch) / "job"
        # the print is made of the files, in a copy: what a notebook leaves behind is not the job's
        shutil.copytree(folder, work, ignore=shutil.ignore_patterns("submittal", ".ipynb_checkpoints", "*.previous", out.name))
        for path in notebooks if not own else ():
            shutil.copyfile(path, work / path.name)
        tell(f"Running {len(names)} notebooks from top to bottom")
        executed = run_notebooks([work / name for name in names])
        tell("Running the published cases")
        outcomes = [o for case in cases() for o in run(case)]
        tell("Setting and measuring the pages")
        printed = bind_notebooks(executed, _matter(book, folder, outcomes), work, names)
    head = book.job.job
    stem = "".join(c if c.isalnum() or c in "-_" else "-" for c in f"{head.number}-rev-{head.revision}") + "-DRAFT"
    out.mkdir(parents=True, exist_ok=True)
    pdf, html = out / f"{stem}.pdf", out / f"{stem}.html"
    for path, content in ((pdf, printed.pdf), (html, printed.html)):
        partial = path.with_name(path.name + ".partial")
        partial.write_bytes(content)
        partial.replace(path)
    words = [c.word for _, c in book.checks]
    agree = sum(o.agrees for o in outcomes)
    return Submitted(
        pdf, html, printed.pages,
        ", ".join(f"{words.count(w)} {w}" for w in ("OK", "NOT OK", "OPEN") if words.count(w)) or "none",
        f"{agree} of {len(outcomes)} published values reproduced",
    )  # fmt: skip


def _matter(book: Book, folder: Path, outcomes: list[Outcome]) -> Matter:
    head = book.job.job
    return Matter(
        title=str(head.title), job=str(head.number), place=str(head.place), client=str(head.client),
        revision=str(head.revision), date=str(head.date), prepared=str(head.prepared), checked=str(head.checked),
        criteria=without_legend(book.sheet("criteria").markdown()),
        checks=[_row(sheet, c) for sheet, c in book.checks],
        largest=[_row(sheet, c) for sheet, c in largest(book.checks)],
        unconfirmed=len(book.from_memory),
        verification=verification(book, folder, outcomes),
        cautions=CAUTIONS,
        revisions=[(str(head.revision), str(head.date), "Issued as DRAFT", str(head.prepared), str(head.checked))],
        attached=FILES,
    )  # fmt: skip


def _row(sheet: str, c: Check) -> tuple[str, ...]:
    return (sheet, c.name, *c.told, str(c.source), c.word)

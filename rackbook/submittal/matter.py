"""The front and back matter of a submittal: what is printed around the sheets, as plain data and then as markdown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from ..trace.text import plain
from .summary import grid, ranked, summary

DRAFT = "DRAFT - not for construction until sealed by a licensed engineer"
LIMITS = (
    "This is a draft. It becomes a calculation when a licensed engineer has checked it, taken responsible charge of it and "
    "sealed it; no seal is placed by the program.",
    "The adopted local code and the authority having jurisdiction govern wherever they differ from these sheets.",
    "Values marked with a dagger were not read from the publication itself.",
)
CONFIRM = "To confirm against the adopted edition"
RANKED = (
    "The {} largest utilizations of strength, embedment, stability and serviceability. Rules on sizes, spacings and cover, and "
    "the checks of conductors and raceways, are not ranked; the check summary at the back has all of them."
)
RECALLED = (
    "Clauses and table cells that were recalled and not read from the publication, besides those marked with a dagger above. "
    "Columns of a table stand behind the row they were read in."
)
NO_NOTES = "Engineer's own notes: none at this revision"
#: Tables of the verification sheet: key, title, what it says, heads, sides.
VERIFIED: tuple[tuple[str, str, str, tuple[str, ...], str], ...] = (
    (
        "disagreements", "Published values not reproduced", "",
        ("Publication", "Case", "Quantity", "Published", "Computed", "Tolerance", "Result"), "lllrrrl",
    ),
    (
        "publications", "Published examples and independent values",
        "Worked examples, permit records and tables that others have published, run through the formulas of this program. "
        "Read: seen in the publication. Recalled: quoted from memory, to be confirmed.",
        ("Publication", "Edition", "Read", "Recalled", "Reproduced"), "llrrr",
    ),
    (
        "own", "Own arithmetic, worked by hand from the formulas",
        "A check that a formula is worked as it is written, and of nothing else: the formula itself is not proven by it.",
        ("Formulas of", "Edition", "Values", "Reproduced"), "llrr",
    ),
    (
        "formulas", "Formulas used",
        "The clauses and equations behind the results of this job, and how many published or hand-worked values their working "
        "reproduced. A dagger (†) marks a formula that was recalled, to be confirmed against the adopted edition.",
        ("Publication", "Clauses and equations", "Reproduced"), "llr",
    ),
)  # fmt: skip


@dataclass(frozen=True)
class Matter:
    """What stands around the sheets.

    Args:
        title: Title of the job; also job, place, client, revision, date (ISO), prepared, checked: as printed, may be empty.
        criteria: The sheet of design criteria, as markdown; it stands in front, and not again among the notebooks.
        checks: Rows (sheet, name, demand, capacity, ratio, limit, clause, word) of the check summary.
        largest: Rows of the same form: the largest utilizations, for the page of results.
        unconfirmed: How many clauses and cells behind the results were recalled and not read.
        verification: ``versions`` rows (name, version); ``inputs`` rows (file, sha256); ``publications`` rows (publication,
            edition, read, recalled, reproduced); ``own`` rows (publication, edition, values, reproduced); ``formulas`` rows
            (publication, clauses, reproduced); ``disagreements`` rows (publication, case, quantity, published, computed,
            tolerance, word); ``memory`` rows (publication, what was not read).
        cautions: Texts for the engineer to read before relying on the sheets.
        revisions: Rows (revision, date, what changed, prepared, checked).
        attached: File names in the job folder that ride inside the PDF.
    """

    title: str
    job: str = ""
    place: str = ""
    client: str = ""
    revision: str = ""
    date: str = ""
    prepared: str = ""
    checked: str = ""
    criteria: str = ""
    checks: Sequence[Sequence[str]] = ()
    largest: Sequence[Sequence[str]] = ()
    unconfirmed: int = 0
    verification: dict[str, Any] = field(default_factory=dict)
    cautions: Sequence[str] = ()
    revisions: Sequence[Sequence[str]] = ()
    attached: Sequence[str] = ("rack.yaml", "equipment.csv", "circuits.csv")


@dataclass(frozen=True)
class Printed:
    """A submittal: the PDF file and the HTML page, as bytes. ``pages`` counts the PDF's."""

    pdf: bytes
    html: bytes
    pages: int = 0


def criteria(matter: Matter) -> str:
    """Return the design criteria as a section of their own, or an empty text."""
    return matter.criteria.removeprefix("#")


def results(matter: Matter) -> str:
    """Return the page of results: what is open, what fails, the largest utilizations, the counts; or an empty text."""
    if not matter.checks:
        return ""
    blocks = [f"# Results\n\n**{plain(_counted(matter.checks))}**"]
    if matter.unconfirmed:
        said = (
            f"{matter.unconfirmed} clauses and table cells behind these results are not yet confirmed against the publication"
        )
        blocks.append(f"{said} ([listed](#{CONFIRM.replace(' ', '%20')})).")
    for word, title in (("OPEN", "Open: to be settled before the rack is released"), ("NOT OK", "Not OK")):
        if rows := [row for row in matter.checks if row[-1] == word]:
            blocks += [f"**{plain(title)}**", ranked(rows)]
    if matter.largest:
        blocks += [plain(RANKED.format(len(matter.largest))), ranked(matter.largest)]
    return "\n\n".join(blocks)


def back(matter: Matter, quiet: Sequence[str] = ()) -> list[str]:
    """Return the sections after the sheets: check summary, verification, revisions and cautions.

    Args:
        matter: What they say.
        quiet: The sections in which the engineer has left no notes.

    """
    return [text for text in (_summary(matter), _verification(matter), _closing(matter, quiet)) if text]


def _counted(checks: Sequence[Sequence[str]]) -> str:
    words = [str(row[-1]) for row in checks]
    return f"{len(words)} checks: " + ", ".join(f"{words.count(word)} {word}" for word in ("OK", "NOT OK", "OPEN")) + "."


def _summary(matter: Matter) -> str:
    if not matter.checks:
        return ""
    return f"# Check summary\n\n{_counted(matter.checks)}\n\n" + "\n\n".join(summary(matter.checks))


def _verification(matter: Matter) -> str:
    told, parts = matter.verification, []
    if told.get("versions"):
        (name, version), *others = told["versions"]
        said = f"{name} {version}, with " + ", ".join(f"{n} {v}" for n, v in others) + "."
        parts.append("## Program and libraries\n\n" + plain(said))
    if told.get("inputs"):
        listed = "\n".join(f"- {plain(name)}, SHA-256 `{digest}`" for name, digest in told["inputs"])
        parts.append("## Input files\n\n" + listed)
    for key, title, says, heads, sides in VERIFIED:
        if told.get(key):
            parts.append("\n\n".join(filter(None, (f"## {title}", plain(says), grid(heads, told[key], sides)))))
    if told.get("memory"):
        parts.append(f"## {CONFIRM}\n\n{plain(RECALLED)}\n\n" + grid(("Publication", "To confirm"), told["memory"]))
    return "# Verification\n\n" + "\n\n".join(parts) if parts else ""


def _closing(matter: Matter, quiet: Sequence[str] = ()) -> str:
    parts = []
    if matter.revisions:
        heads = ("Rev.", "Date", "What changed", "Prepared", "Checked")
        parts.append("## Revisions\n\n" + grid(heads, matter.revisions))
    if matter.cautions or matter.checks or matter.criteria:
        parts.append("## Cautions\n\n" + "\n".join(f"- {plain(text)}" for text in (*LIMITS, *matter.cautions)))
    if parts and quiet:
        parts.append(plain(f"{NO_NOTES} in {'; '.join(quiet)}."))
    return "# Revisions and cautions\n\n" + "\n\n".join(parts) if parts else ""

"""The front and back matter of a submittal: what is printed around the sheets, as plain data and then as markdown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from ..trace.text import plain
from .summary import grid, summary

DRAFT = "DRAFT - not for construction until sealed by a licensed engineer"
LIMITS = (
    "This is a draft. It becomes a calculation when a licensed engineer has checked it, taken responsible charge of it and "
    "sealed it; no seal is placed by the program.",
    "The adopted local code and the authority having jurisdiction govern wherever they differ from these sheets.",
    "Values marked 'confirm against the adopted edition' were not read from the publication itself.",
)
BASIS = (
    "The basis of every sheet that follows, as stated in the job's file, by key and line. Confirm the editions, the wind "
    "speed, the ground motion and the soil values for the place and the date of the permit before sealing."
)
OWN = "Geometry, statics and assumptions, which are derived beside their lines on the sheets, with the values reproduced:"
RECALLED = "Behind these results stand clauses and table cells that were recalled and not read from the publication."
#: Tables of the verification sheet: key, title, what it says, heads, sides.
VERIFIED: tuple[tuple[str, str, str, tuple[str, ...], str], ...] = (
    (
        "formulas", "Formulas used",
        "Every formula behind the results of this job, with the published values its working reproduced when this was bound.",
        ("Formula", "Clause", "How had", "Values reproduced"), "lllr",
    ),
    (
        "publications", "Published cases run",
        "Read: seen in the publication. Derived: worked by hand from its formula. Memory: recalled, to be confirmed.",
        ("Publication", "How had", "Cases", "Values", "Reproduced"), "llrrr",
    ),
    (
        "disagreements", "Published values not reproduced", "",
        ("Publication", "Case", "Quantity", "Published", "Computed", "Tolerance", "Result"), "lllrrrl",
    ),
)  # fmt: skip


@dataclass(frozen=True)
class Matter:
    """What stands around the sheets.

    Args:
        title: Title of the job; also job, place, client, revision, date (ISO), prepared, checked: as printed, may be empty.
        criteria: Rows (label, text, where stated) of the design criteria; have to fit one page.
        checks: Rows (sheet, name, demand, capacity, ratio, limit, clause, word) of the check summary.
        verification: ``versions`` rows (name, version); ``inputs`` rows (file, sha256); ``formulas`` rows (formula, clause,
            how had, values reproduced) and ``own`` texts, those derived here; ``publications`` rows (publication, how,
            cases, values, reproduced); ``disagreements`` rows (publication, case, quantity, published, computed, tolerance,
            word); ``memory`` texts, the sources not read.
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
    criteria: Sequence[tuple[str, str, str]] = ()
    checks: Sequence[Sequence[str]] = ()
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
    """Return the design criteria, or an empty text."""
    if not matter.criteria:
        return ""
    return f"# Design criteria\n\n{plain(BASIS)}\n\n" + grid(("Criterion", "Value", "Where stated"), matter.criteria)


def back(matter: Matter) -> list[str]:
    """Return the sections after the sheets: check summary, verification, revisions and cautions."""
    return [text for text in (_summary(matter), _verification(matter), _closing(matter)) if text]


def _summary(matter: Matter) -> str:
    if not matter.checks:
        return ""
    words = [str(row[-1]) for row in matter.checks]
    said = ", ".join(f"{words.count(word)} {word}" for word in dict.fromkeys(("OK", *words)) if words.count(word))
    return f"# Check summary\n\n{len(words)} checks: {said}.\n\n" + "\n\n".join(summary(matter.checks))


def _verification(matter: Matter) -> str:
    told, parts = matter.verification, []
    if told.get("versions"):
        (name, version), *others = told["versions"]
        said = f"{name} {version}, with " + ", ".join(f"{n} {v}" for n, v in others) + "."
        parts.append("## Program and libraries\n\n" + plain(said))
    if told.get("inputs"):
        parts.append("## Input files\n\n" + grid(("File", "SHA-256"), told["inputs"], code=(1,)))
    for key, title, says, heads, sides in VERIFIED:
        if told.get(key):
            parts.append("\n\n".join(filter(None, (f"## {title}", plain(says), grid(heads, told[key], sides)))))
        if key == "formulas" and told.get("own"):
            parts.append(plain(f"{OWN} {'; '.join(told['own'])}."))
    if told.get("memory"):
        listed = "\n".join(f"- {plain(text)}" for text in told["memory"])
        parts.append("## Values to confirm against the adopted edition\n\n" + plain(RECALLED) + "\n\n" + listed)
    return "# Verification\n\n" + "\n\n".join(parts) if parts else ""


def _closing(matter: Matter) -> str:
    parts = []
    if matter.revisions:
        heads = ("Rev.", "Date", "What changed", "Prepared", "Checked")
        parts.append("## Revisions\n\n" + grid(heads, matter.revisions))
    if matter.cautions or matter.checks or matter.criteria:
        parts.append("## Cautions\n\n" + "\n".join(f"- {plain(text)}" for text in (*LIMITS, *matter.cautions)))
    return "# Revisions and cautions\n\n" + "\n\n".join(parts) if parts else ""

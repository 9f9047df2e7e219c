"""The front and back matter of a submittal: what is printed around the sheets, as plain data and then as markdown."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from ..trace.text import plain

DRAFT = "DRAFT - not for construction until sealed by a licensed engineer"
LIMITS = (
    "This is a draft. It becomes a calculation when a licensed engineer has checked it, taken responsible charge of it and "
    "sealed it; no seal is placed by the program.",
    "The adopted local code and the authority having jurisdiction govern wherever they differ from these sheets.",
    "Values marked 'confirm against the adopted edition' were not read from the publication itself.",
)
#: Tables of the verification sheet: key, title, heads, sides.
VERIFIED: tuple[tuple[str, str, tuple[str, ...], str], ...] = (
    (
        "formulas", "Formulas used, and the published values each was run against",
        ("Formula on these sheets", "Clause", "Values run", "Reproduced"), "llrr",
    ),
    (
        "publications", "Published cases run at this version",
        ("Publication", "How had", "Cases", "Values", "Reproduced"), "llrrr",
    ),
    (
        "disagreements", "Published values not reproduced",
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
            values run, reproduced); ``publications`` rows (publication, how, cases, values, reproduced); ``disagreements`` rows
            (publication, case, quantity, published, computed, tolerance, word); ``memory`` texts, the sources not read.
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


def grid(heads: Sequence[str], rows: Iterable[Sequence[object]], sides: str = "", *, code: Sequence[int] = ()) -> str:
    """Return a pipe table of plain texts; ``sides`` holds one letter a column (l, r, c)."""
    sides = sides.ljust(len(heads), "l")
    rule = {"l": ":---", "r": "---:", "c": ":--:"}
    lines = ["| " + " | ".join(plain(h) for h in heads) + " |", "|" + "|".join(rule[s] for s in sides[: len(heads)]) + "|"]
    for row in rows:
        cells = [f"`{cell}`" if n in code else plain(cell) for n, cell in enumerate(row)]
        lines.append("| " + " | ".join(_judged(cell) for cell in cells) + " |")
    return "\n".join(lines)


def _judged(cell: str) -> str:
    """Set a failing word in bold, so that it shows in black and white."""
    return f"**{cell}**" if cell in ("NOT OK", "OPEN", "FAIL") else cell


def criteria(matter: Matter) -> str:
    """Return the design criteria, or an empty text."""
    if not matter.criteria:
        return ""
    return "# Design criteria\n\n" + grid(("Criterion", "Value", "Where stated"), matter.criteria)


def back(matter: Matter) -> list[str]:
    """Return the sections after the sheets: check summary, verification, revisions, cautions."""
    return [text for text in (_summary(matter), _verification(matter), _revisions(matter), _cautions(matter)) if text]


def _summary(matter: Matter) -> str:
    if not matter.checks:
        return ""
    words = [str(row[-1]) for row in matter.checks]
    failing = sum(word != "OK" for word in words)
    says = f"{len(words)} checks; {failing} not OK." if failing else f"{len(words)} checks, all OK at their limits."
    heads = ("Sheet", "Check", "Demand", "Capacity", "Ratio", "Limit", "Clause", "Result")
    return f"# Check summary\n\n{says}\n\n" + grid(heads, matter.checks, "llrrrrll")


def _verification(matter: Matter) -> str:
    told, parts = matter.verification, []
    if told.get("versions"):
        parts.append("## Program and libraries\n\n" + grid(("Name", "Version"), told["versions"]))
    if told.get("inputs"):
        parts.append("## Input files\n\n" + grid(("File", "SHA-256"), told["inputs"], code=(1,)))
    for key, title, heads, sides in VERIFIED:
        if told.get(key):
            parts.append(f"## {title}\n\n" + grid(heads, told[key], sides))
    if told.get("memory"):
        listed = "\n".join(f"- {plain(text)}" for text in told["memory"])
        parts.append("## Values to confirm against the adopted edition\n\n" + listed)
    return "# Verification\n\n" + "\n\n".join(parts) if parts else ""


def _revisions(matter: Matter) -> str:
    if not matter.revisions:
        return ""
    return "# Revisions\n\n" + grid(("Rev.", "Date", "What changed", "Prepared", "Checked"), matter.revisions)


def _cautions(matter: Matter) -> str:
    if not matter.cautions and not matter.checks and not matter.criteria:
        return ""
    return "# Cautions\n\n" + "\n".join(f"- {plain(text)}" for text in (*LIMITS, *matter.cautions))

"""What the verification sheet says: versions, input files, formulas used, published cases, sources to confirm."""

from __future__ import annotations

import hashlib
import importlib.metadata
import platform
from collections import Counter, defaultdict
from pathlib import Path
from typing import Any

from rackbook import __version__
from rackbook.book import Book
from rackbook.cases import Outcome, formulas_behind
from rackbook.job import FILES
from rackbook.trace import Formula

LIBRARIES = ("numpy", "pint", "handcalcs", "sympy", "pydantic", "matplotlib", "nbclient", "typst", "pypandoc_binary")


def verification(book: Book, folder: Path, outcomes: list[Outcome]) -> dict[str, Any]:
    """Return the rows of the verification sheet.

    Args:
        book: The computed job.
        folder: The job folder, for the fingerprints of its files.
        outcomes: Every published value as run at this version.

    """
    return {
        "versions": _versions(),
        "inputs": [(name, hashlib.sha256((folder / name).read_bytes()).hexdigest()) for name in FILES],
        "formulas": _formulas(book, outcomes),
        "publications": _publications(outcomes),
        "disagreements": [_row(o) for o in outcomes if not o.agrees],
        "memory": list(book.from_memory),
    }


def _versions() -> list[tuple[str, str]]:
    found = [("rackbook", __version__), ("Python", platform.python_version())]
    return found + [(name, importlib.metadata.version(name)) for name in LIBRARIES]


def _formulas(book: Book, outcomes: list[Outcome]) -> list[tuple[str, str, int, int]]:
    """Return each formula behind the job's results with the published values whose working ran it."""
    ran: Counter[Formula] = Counter()
    agreed: Counter[Formula] = Counter()
    for o in outcomes:
        for formula in o.formulas:
            ran[formula] += 1
            agreed[formula] += o.agrees
    used = sorted(formulas_behind(book.values.values()), key=lambda f: f.key)
    return [(f.title, str(f.source), ran[f], agreed[f]) for f in used]


def _publications(outcomes: list[Outcome]) -> list[tuple[str, str, int, int, int]]:
    """Return each publication, by how it was had, with its cases and values."""
    groups: dict[tuple[str, str], list[Outcome]] = defaultdict(list)
    for o in outcomes:
        source = o.case.source
        named = " ".join(filter(None, (source.title, source.edition)))
        groups[named, source.how].append(o)
    return [
        (named, how, len({o.case.id for o in group}), len(group), sum(o.agrees for o in group))
        for (named, how), group in sorted(groups.items())
    ]


def _row(o: Outcome) -> tuple[str, ...]:
    return o.case.source.citation, o.case.id, o.name, o.expected, o.found, o.case.tolerance, "NOT OK"

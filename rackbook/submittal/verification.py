"""What the verification sheet says: versions, input files, formulas used, published cases, sources to confirm."""

from __future__ import annotations

import dataclasses
import hashlib
import importlib.metadata
import platform
import re
from collections import Counter, defaultdict
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from rackbook import __version__
from rackbook.book import Book
from rackbook.cases import Outcome, formulas_behind
from rackbook.job import FILES
from rackbook.trace import Formula

LIBRARIES = ("numpy", "pint", "handcalcs", "sympy", "pydantic", "matplotlib", "nbclient", "typst", "pypandoc_binary")

#: Kinds of formulas that no publication holds: geometry, statics, and what was assumed.
OWN = ("derivation", "assumption", "common practice")


def verification(book: Book, folder: Path, outcomes: list[Outcome]) -> dict[str, Any]:
    """Return the rows of the verification sheet.

    Args:
        book: The computed job.
        folder: The job folder, for the fingerprints of its files.
        outcomes: Every published value as run at this version.

    """
    formulas = _formulas(book, outcomes)
    return {
        "versions": _versions(),
        "inputs": [(name, hashlib.sha256((folder / name).read_bytes()).hexdigest()) for name in FILES],
        "formulas": [row for row in formulas if row[1] not in OWN],
        "own": [f"{title} ({ran})" for title, kind, _, ran in formulas if kind in OWN],
        "publications": _publications(outcomes),
        "disagreements": [_row(o) for o in outcomes if not o.agrees],
        "memory": by_publication(book.from_memory),
    }


def _versions() -> list[tuple[str, str]]:
    found = [("rackbook", __version__), ("Python", platform.python_version())]
    return found + [(name, importlib.metadata.version(name)) for name in LIBRARIES]


def _formulas(book: Book, outcomes: list[Outcome]) -> list[tuple[str, str, str, str]]:
    """Return each formula behind the job's results with the published values whose working ran it."""
    ran: Counter[Formula] = Counter()
    agreed: Counter[Formula] = Counter()
    for o in outcomes:
        for formula in o.formulas:
            ran[formula] += 1
            agreed[formula] += o.agrees
    rows = []
    for f in sorted(formulas_behind(book.values.values()), key=lambda f: f.key):
        # the reason of a derivation stands beside its line on the sheet
        clause = f.source.citation if f.source.kind in ("clause", "table") else f.source.kind
        clause = clause.replace(" (same in 2020)", "")
        rows.append((f.title[:1].upper() + f.title[1:], clause, f.source.how, f"{agreed[f]} of {ran[f]}"))
    return rows


def _publications(outcomes: list[Outcome]) -> list[tuple[str, str, int, int, int]]:
    """Return each publication with its cases and values, and how many of these were had in which way."""
    groups: dict[str, list[Outcome]] = defaultdict(list)
    for o in outcomes:
        source = o.case.source
        groups[dataclasses.replace(source, locator="").citation].append(o)
    return [
        (
            named,
            ", ".join(f"{how} {n}" for how, n in sorted(Counter(o.case.source.how for o in group).items()) if how),
            len({o.case.id for o in group}),
            len(group),
            sum(o.agrees for o in group),
        )
        for named, group in sorted(groups.items())
    ]


def by_publication(citations: Iterable[str]) -> list[str]:
    """Return citations gathered by publication, cells of one table gathered by row and column.

    >>> by_publication(["NFPA 70, Table 4, row 2, column A", "NFPA 70, Table 4, row 2, column B", "NFPA 70, 300.9"])
    ['NFPA 70: Table 4 (2: A, B); 300.9']
    """
    found: dict[str, dict[str, dict[str, dict[str, None]]]] = {}
    for citation in citations:
        publication, _, place = citation.partition(", ")
        cell = re.fullmatch(r"(.*), row (.*), column (.*)", place)
        rows = found.setdefault(publication, {}).setdefault(cell[1] if cell else place, {})
        if cell:
            rows.setdefault(cell[3], {})[cell[2]] = None
    return [
        f"{publication}: " + "; ".join(filter(None, (_place(name, columns) for name, columns in places.items())))
        for publication, places in sorted(found.items())
    ]


def _place(name: str, columns: dict[str, dict[str, None]]) -> str:
    """Return a clause, or a table with the cells of it: columns that are read in the same rows together."""
    groups: dict[tuple[str, ...], list[str]] = {}
    for column, rows in columns.items():
        groups.setdefault(tuple(rows), []).append(column)
    cells = "; ".join(f"{', '.join(rows).replace('_', ' ')}: {', '.join(named)}" for rows, named in groups.items())
    return f"{name} ({cells})" if cells else name


def _row(o: Outcome) -> tuple[str, ...]:
    return o.case.source.citation, o.case.id, o.name, o.expected, o.found, o.case.tolerance, "NOT OK"

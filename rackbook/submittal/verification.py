"""What the verification sheet says: versions, input files, formulas used, published cases, sources to confirm."""

from __future__ import annotations

import dataclasses
import hashlib
import importlib.metadata
import platform
import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from rackbook import __version__
from rackbook.book import Book
from rackbook.cases import Outcome, formulas_behind
from rackbook.job import FILES
from rackbook.trace import Formula, Source
from rackbook.trace.source import MARK

#: What works at run time, the solver of the frame and the equations first; libraries of the tests alone are not named.
LIBRARIES = (
    "PyNiteFEA", "numpy", "scipy", "pint", "handcalcs", "sympy", "pydantic", "matplotlib", "nbclient", "typst",
    "pypandoc_binary",
)  # fmt: skip
#: Kinds of formulas that no publication holds: geometry, statics, and what was assumed.
OWN = ("derivation", "assumption", "common practice")


def verification(book: Book, folder: Path, outcomes: list[Outcome]) -> dict[str, Any]:
    """Return the rows of the verification sheet.

    Args:
        book: The computed job.
        folder: The job folder, for the fingerprints of its files.
        outcomes: Every published value as run at this version.

    """
    used = formulas_behind(book.values.values())
    marked = {f.source.citation for f in used if f.source.how == "memory"}
    return {
        "versions": _versions(),
        "inputs": [(name, hashlib.sha256((folder / name).read_bytes()).hexdigest()) for name in FILES],
        "publications": _publications(o for o in outcomes if o.case.source.how != "derived"),
        "own": _by_hand(o for o in outcomes if o.case.source.how == "derived"),
        "formulas": _formulas(used, outcomes),
        "disagreements": [_row(o) for o in outcomes if not o.agrees],
        "memory": by_publication(c for c in book.from_memory if c not in marked),
    }


def _versions() -> list[tuple[str, str]]:
    found = [("rackbook", __version__), ("Python", platform.python_version())]
    return found + [(name, importlib.metadata.version(name)) for name in LIBRARIES]


def _formulas(used: Iterable[Formula], outcomes: list[Outcome]) -> list[tuple[str, str, str]]:
    """Return each publication with the clauses of its formulas and the values whose working ran one of them."""
    groups: dict[str, list[Formula]] = defaultdict(list)
    for f in used:
        own = f.source.kind in OWN
        groups["Geometry, statics and assumptions, derived on the sheets" if own else _published(f.source)].append(f)
    rows = []
    for publication, formulas in sorted(groups.items(), key=lambda item: (item[1][0].source.kind in OWN, item[0])):
        ran = [o for o in outcomes if not o.formulas.isdisjoint(formulas)]
        places: dict[str, bool] = {}
        for f in formulas:
            if f.source.kind not in OWN:
                place = f.source.locator.replace(" (same in 2020)", "") or f.title
                places[place] = places.get(place, False) or f.source.how == "memory"
        listed = "; ".join(place + MARK * recalled for place, recalled in sorted(places.items(), key=_in_order))
        rows.append((publication, listed or f"{len(formulas)} formulas", f"{sum(o.agrees for o in ran)} of {len(ran)}"))
    return rows


def _in_order(item: tuple[str, Any]) -> list[tuple[int, str]]:
    """Sort clauses as a reader does: 2 before 10."""
    return [(int(part), "") if part.isdigit() else (-1, part) for part in re.split(r"(\d+)", item[0])]


def _published(source: Source) -> str:
    return dataclasses.replace(source, locator="").citation


def _publications(outcomes: Iterable[Outcome]) -> list[tuple[str, str, str, str, str]]:
    """Return each publication with its values by the way they were had, and how many came out."""
    return [
        (title, edition, _some(hows["read"]), _some(hows["memory"]), f"{agreed} of {sum(hows.values())}")
        for title, edition, hows, agreed in _grouped(outcomes)
    ]


def _by_hand(outcomes: Iterable[Outcome]) -> list[tuple[str, str, str, str]]:
    return [(t, edition, str(sum(hows.values())), f"{agreed} of {sum(hows.values())}")
            for t, edition, hows, agreed in _grouped(outcomes)]  # fmt: skip


def _some(count: int) -> str:
    return str(count) if count else "–"


def _grouped(outcomes: Iterable[Outcome]) -> Iterator[tuple[str, str, Counter[str], int]]:
    """Yield each publication with its editions, its values by how they were had, and how many agree."""
    groups: dict[str, list[Outcome]] = defaultdict(list)
    for o in outcomes:
        groups[title_and_edition(o.case.source)[0]].append(o)
    for title, of in sorted(groups.items(), key=lambda item: item[0].lower()):
        editions = sorted({e for o in of if (e := title_and_edition(o.case.source)[1])}, key=lambda e: _in_order((e, None)))
        yield title, ", ".join(editions), Counter(o.case.source.how for o in of), sum(o.agrees for o in of)


_BARE = re.compile(r"(AISC 360|ACI 318)-(\d{2})")


def title_and_edition(source: Source) -> tuple[str, str]:
    """Return a case's publication and edition apart, whichever way the case joins them.

    >>> title_and_edition(Source("print", "ACI 318-19, worked by hand", "2019"))
    ('ACI 318', '19')
    >>> title_and_edition(Source("print", "ASCE/SEI 7", "22 and 7-16"))
    ('ASCE/SEI 7', '16 and 22')
    """
    title, edition = re.sub(r",? (?:worked )?by hand$", "", source.title), source.edition
    if found := _BARE.fullmatch(title):
        title, edition = found[1], found[2]
    edition = re.sub(r"\b7-(?=\d\d)", "", edition) if title == "ASCE/SEI 7" else edition
    if found := re.fullmatch(r"(\d\d) and (\d\d)", edition):
        edition = " and ".join(sorted(found.groups()))
    return title[:1].upper() + title[1:], edition


def by_publication(citations: Iterable[str]) -> list[tuple[str, str]]:
    """Return citations gathered by publication, cells of one table gathered by row and column.

    >>> by_publication(["NFPA 70, Table 4, row 2, column A", "NFPA 70, Table 4, row 2, column B", "NFPA 70, 300.9"])
    [('NFPA 70', 'Table 4 (2: A, B); 300.9')]
    """
    found: dict[str, dict[str, dict[str, dict[str, None]]]] = {}
    for citation in citations:
        publication, _, place = citation.partition(", ")
        cell = re.fullmatch(r"(.*), row (.*), column (.*)", place)
        rows = found.setdefault(publication, {}).setdefault(cell[1] if cell else place, {})
        if cell:
            rows.setdefault(cell[3], {})[cell[2]] = None
    return [
        (publication, "; ".join(filter(None, (_place(name, columns) for name, columns in places.items()))))
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

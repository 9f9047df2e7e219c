"""Help with a check that fails: what value of an input would make it pass, and the lightest steel that does."""

from __future__ import annotations

from typing import Any

from rackbook.structure.members import Lightest
from rackbook.structure.members import lightest as lightest_section
from rackbook.structure.seek import Sought
from rackbook.structure.seek import seek as seek_value
from rackbook.trace import Check, LookupFailed
from rackbook.trace.errors import nearest

from .compute import Book, compute
from .load_path import stem


def seek(job: Any, check: str, path: str) -> Sought:
    """Return the value of an input with which a check passes; the whole book is worked again for every trial.

    Args:
        job: The job; its files stay as they are.
        check: Name of the check or its beginning, such as ``"Base plate thickness, tension side"``.
        path: The input, such as ``"frame.base_plate.thickness"``.

    Raises:
        LookupFailed: There is no such check or no such input; the nearest are named.
        SolveError: The check is open, or no value in the allowed range makes it pass.

    """
    sheet, name = _found(compute(job), check)
    return seek_value(job, path, lambda changed: _again(compute(changed), sheet, name))


def lightest(job: Any, part: str, family: str) -> Lightest:
    """Return the lightest section of a family with which all members of a part pass, frame and weights worked again.

    Args:
        job: The job; its files stay as they are.
        part: ``"post"`` or ``"rail"``.
        family: ``"hss"``, ``"pipes"``, ``"channels"``, ``"angles"``, ``"wide_flanges"`` or ``"strut"``.

    Raises:
        LookupFailed: There is no such family.
        DomainError: The part does not have one shape for all of its members.

    """
    return lightest_section(job, part, family)


def _found(book: Book, asked: str) -> tuple[str, str]:
    """Return sheet and stem of the check that is asked for: the most used one that begins so."""
    near = [(sheet, c) for sheet, c in book.checks if c.name.casefold().startswith(asked.strip().casefold())]
    if not near or not asked.strip():
        names = list(dict.fromkeys(stem(c.name) for _, c in book.checks))
        raise LookupFailed(
            f"There is no check that begins with '{asked:.80}'.{nearest(asked[:80], names)} 'rackbook check' lists them all."
        )
    sheet, found = max(near, key=lambda pair: _ratio(pair[1]))
    return sheet, stem(found.name)


def _again(book: Book, sheet: str, name: str) -> Check:
    """Return the most used check of that stem on that sheet of a book.

    Raises:
        LookupFailed: With the value on trial the check is no longer made.

    """
    same = [c for title, c in book.checks if title == sheet and stem(c.name) == name]
    if not same:
        raise LookupFailed(f"With this value the sheet '{sheet}' makes no check '{name}'.")
    return max(same, key=_ratio)


def _ratio(check: Check) -> float:
    """Return ratio over limit; an open check counts as the most used."""
    return float(check.ratio.magnitude) / check.limit if check.ratio is not None else float("inf")

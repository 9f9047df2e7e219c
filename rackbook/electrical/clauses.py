"""Which clause of which edition: the rules of the electrical topic by name, cited as the job's edition numbers them."""

from __future__ import annotations

import functools

from ..trace import DomainError, Source
from ..trace.errors import nearest

TITLE = "NFPA 70"
EDITIONS = ("2023", "2020")

#: Locator by edition where it moved, else one for both; then how wording and number were had.
_CLAUSES: dict[str, tuple[str | dict[str, str], str]] = {
    "ambient": ({"2023": "310.15(B)(1)(1)", "2020": "310.15(B)(1)"}, "read"),
    "rooftop": ("310.15(B)(2)", "read"),
    "count": ("310.15(C)(1)", "read"),
    "nipple": ("310.15(C)(1)(b)", "memory"),
    "neutral": ("310.15(E)", "read"),
    "ground not counted": ("310.15(F)", "read"),
    "wireway": ("376.22(B)", "read"),
    "lower ampacity": ("310.14(A)(2) Exception", "read"),
    "parallel": ("310.10(G)", "read"),
    "wet place": ("300.9 and Table 310.4(1)", "memory"),
    "terminals": ("110.14(C)(1)", "read"),
    "terminal cap": ("110.14(C) and 310.15(A)", "read"),
    "branch continuous": ("210.19(A)(1)", "read"),
    "feeder continuous": ("215.2(A)(1)", "read"),
    "branch load": ("210.19(A)(1)", "read"),
    "feeder load": ("215.2(A)(1)", "read"),
    "branch device": ("210.20(A)", "read"),
    "feeder device": ("215.3", "read"),
    "round up": ("240.4(B)", "read"),
    "over 800 A": ("240.4(C)", "memory"),
    "small conductors": ("240.4(D)", "read"),
    "not over the ampacity": ("240.4", "read"),
    "secondary": ("240.21(C)", "memory"),
    "bonding": ("250.30(A)(2) and Table 250.102(C)(1)", "memory"),
    "transformer device": ("450.3(B)", "read"),
    "portable loads": ("240.4(B)(1)", "read"),
    "standard ratings": ("240.6(A)", "read"),
    "motor conductor": ("430.22", "read"),
    "motor device": ({"2023": "430.52(C)(1)", "2020": "430.52(C)(1) and Table 430.52"}, "read"),
    "motor feeder": ("430.24", "memory"),
    "motor feeder device": ("430.62 and 430.63", "memory"),
    "motor protection": ("430.32 and 430.52", "memory"),
    "service": ("Article 230, 250.24(C) and 250.102(C)", "memory"),
    "ground": ("250.122(A) and Table 250.122", "read"),
    "ground increased": ("250.122(B)", "read"),
    "ground in parallel": ("250.122(F)(1)(b)", "read"),
    "branch drop": ({"2023": "210.19 Informational Note", "2020": "210.19(A) Informational Note 3"}, "read"),
    "feeder drop": ({"2023": "215.2(A)(2) Informational Note 2", "2020": "215.2(A)(1) Informational Note 2"}, "read"),
    "fill": ("Chapter 9 Table 1", "read"),
    "nipple fill": ("Chapter 9 Note 4", "read"),
    "jam": ("Chapter 9 Table 1 Informational Note 2", "read"),
}  # fmt: skip


def edition_of(code: str) -> str:
    """Return the edition a job is under: ``"NFPA 70-2023"`` gives ``"2023"``.

    Raises:
        DomainError: The book does not hold that edition.

    """
    edition = str(code).removeprefix(TITLE).lstrip("- ")
    if edition in EDITIONS:
        return edition
    why = (
        " The 2026 edition renumbers load calculations and other rules, and its text could not be confirmed."
        if edition == "2026"
        else ""
    )
    raise DomainError(
        f"'{code}' is not an edition whose conductor rules the book holds.{why} Allowed: "
        f"{', '.join(f'{TITLE}-{e}' for e in EDITIONS)}. Name the edition the authority has adopted in codes.electrical."
    )


@functools.cache
def clause(rule: str, edition: str, note: str = "") -> Source:
    """Return the source of a rule, by name, as the edition numbers it.

    Raises:
        DomainError: The rule or the edition is not held.

    """
    if rule not in _CLAUSES:
        raise DomainError(f"'{rule}' is not a rule of the electrical topic.{nearest(rule, _CLAUSES)}")
    edition_of(edition)
    locator, how = _CLAUSES[rule]
    place = locator if isinstance(locator, str) else locator[edition]
    return Source("clause", TITLE, edition, f"{place} ({note})" if note else place, how)

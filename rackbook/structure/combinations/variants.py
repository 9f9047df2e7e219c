"""What one row of the standard expands to on a rack: directions, senses, places of the live load, loads left out."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from typing import NamedTuple

from rackbook.loads.seismic import Direction
from rackbook.trace import DomainError

from .rows import ROOF, Row

_LIVE = re.compile(r"L \d+")
FACES = ("front", "back", "left", "right")
ALLOWED = (
    "D", "S", "L_r", "D_i", *(f"W_i {f}" for f in FACES), "W_i twist", *(f"W {f}" for f in FACES), "W twist",
    "Q along", "Q across", "Q twist", "N along", "N across",
)  # fmt: skip
SENSES = (1.0, -1.0)


class Term(NamedTuple):
    """One unit case in a combination: the load whose factor it takes, its sense, and which pair of directions it is of.

    Args:
        case: Name of the unit case.
        load: Column of the standard's row, or ``N``.
        sense: 1 or -1.
        way: Index of the pair of seismic directions; -1 for all else.

    """

    case: str
    load: str
    sense: float = 1.0
    way: int = -1


Variant = tuple[Term, ...]


def known(cases: tuple[str, ...]) -> tuple[str, ...]:
    """Return the cases, each a known one.

    Raises:
        DomainError: A case is not known or named twice, or there is no D.

    """
    for case in cases:
        if case not in ALLOWED and not _LIVE.fullmatch(case):
            raise DomainError(f"'{case}' is no unit load case. Allowed: {', '.join(ALLOWED)}, and L 1, L 2, ...")
    if len(set(cases)) < len(cases) or "D" not in cases:
        raise DomainError(f"The unit load cases must be D and others, each once; given: {', '.join(cases)}.")
    return cases


def variants(row: Row, cases: tuple[str, ...], directions: tuple[Direction, ...]) -> Iterator[Variant]:
    """Yield the combinations a row expands to, the plainest first.

    Args:
        row: Row of the standard.
        cases: The unit cases there are.
        directions: How the two seismic directions act together.

    """
    fixed: Variant = (Term("D", "D"),)
    if "D_i" in row.factors:
        if "D_i" not in cases:
            return
        fixed += (Term("D_i", "D_i"),)
    companions = itertools.product(_lateral(row, cases, directions), _live(row, cases), _roof(row, cases))
    for lateral, live, roof in companions:
        acting = {t.load for t in live + roof}
        if all(acting & set(group) for group in row.needs):
            yield fixed + lateral + live + roof


def _live(row: Row, cases: tuple[str, ...]) -> list[Variant]:
    if "L" not in row.factors:
        return [()]
    return [(), *((Term(c, "L"),) for c in cases if _LIVE.fullmatch(c))]


def _roof(row: Row, cases: tuple[str, ...]) -> list[Variant]:
    return [(), *((Term(c, c),) for c in ROOF if c in cases and c in row.factors)]


def _lateral(row: Row, cases: tuple[str, ...], directions: tuple[Direction, ...]) -> list[Variant]:
    loads = row.factors
    if "E_h" in loads or "E_mh" in loads:
        acting = any(c.startswith("Q ") for c in cases)
        return list(_seismic("E_h" if "E_h" in loads else "E_mh", cases, directions)) if acting else []
    for wind in ("W", "W_i"):
        if wind in loads:
            return list(_wind(wind, cases))
    return list(_notional(row, cases))


def _seismic(load: str, cases: tuple[str, ...], directions: tuple[Direction, ...]) -> Iterator[Variant]:
    """Yield all senses of each pair of directions, and of the accidental torsion with it."""
    for way, d in enumerate(directions):
        shares = {"Q along": d.along.magnitude, "Q across": d.across.magnitude, "Q twist": 1.0}
        acting = [c for c, share in shares.items() if c in cases and share]
        for senses in itertools.product(SENSES, repeat=len(acting)):
            yield tuple(Term(c, load, s, way) for c, s in zip(acting, senses, strict=True))


def _wind(load: str, cases: tuple[str, ...]) -> Iterator[Variant]:
    """Yield each face; with the twist of Case B both ways, between which the face's own force lies."""
    twist = f"{load} twist"
    for face in FACES:
        case = f"{load} {face}"
        if case not in cases:
            continue
        own: Variant = (Term(case, load),)
        if twist in cases and face in ("front", "back"):
            for s in SENSES:
                yield (*own, Term(twist, load, s))
        else:
            yield own


def _notional(row: Row, cases: tuple[str, ...]) -> Iterator[Variant]:
    """Yield the notional load each way; the row without it lies between them and is kept for D alone."""
    acting = [c for c in ("N along", "N across") if c in cases]
    if not acting or set(row.factors) == {"D"}:
        yield ()
    for case in acting:
        yield from ((Term(case, "N", s),) for s in SENSES)

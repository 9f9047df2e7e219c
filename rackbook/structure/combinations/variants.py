"""What one row of the standard expands to on a rack: directions, senses, places of the live load, loads left out."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass

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


@dataclass(frozen=True)
class Term:
    """One unit case in a combination: the load whose factor it takes, its sense, and its share of a direction."""

    case: str
    load: str
    sense: float = 1.0
    direction: Direction | None = None

    @property
    def share(self) -> float:
        """Sense times share: what the load's factor is multiplied with."""
        if self.direction is None or self.case == "Q twist":
            return self.sense
        return self.sense * (self.direction.along if self.case == "Q along" else self.direction.across).magnitude


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
    fixed = (Term("D", "D"),)
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
        return list(dict.fromkeys(_seismic("E_h" if "E_h" in loads else "E_mh", cases, directions)))
    for wind in ("W", "W_i"):
        if wind in loads:
            return list(_wind(wind, cases))
    return list(_notional(row, cases))


def _seismic(load: str, cases: tuple[str, ...], directions: tuple[Direction, ...]) -> Iterator[Variant]:
    for d in directions:
        acting = [c for c in ("Q along", "Q across", "Q twist") if c in cases]
        here = [c for c in acting if Term(c, load, 1.0, d).share]
        if here:
            for senses in itertools.product(SENSES, repeat=len(here)):
                yield tuple(Term(c, load, s, d) for c, s in zip(here, senses, strict=True))


def _wind(load: str, cases: tuple[str, ...]) -> Iterator[Variant]:
    """Yield each face; with the twist of Case B both ways, between which the face's own force lies."""
    twist = f"{load} twist"
    for face in FACES:
        case = f"{load} {face}"
        if case not in cases:
            continue
        if twist in cases and face in ("front", "back"):
            for s in SENSES:
                yield Term(case, load), Term(twist, load, s)
        else:
            yield (Term(case, load),)


def _notional(row: Row, cases: tuple[str, ...]) -> Iterator[Variant]:
    """Yield the notional load each way; the row without it lies between them and is kept for D alone."""
    acting = [c for c in ("N along", "N across") if c in cases]
    if not acting or set(row.factors) == {"D"}:
        yield ()
    for case in acting:
        yield from ((Term(case, "N", s),) for s in SENSES)

"""The raceways of a job: what lies in each, its trade size, fill and jam ratio, with the checks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ..trace import Check, LookupFailed, Source, Value, check, given, word
from .circuits import Conductors, conductors
from .clauses import clause
from .paths import sharing
from .raceway import JAM_ZONE, Fill, conductor_area, fill


@dataclass(frozen=True, eq=False)
class Raceway:
    """One raceway (or several alike, one for each parallel set).

    Attributes:
        tag, kind: As in the schedule.
        circuits: Tags of the circuits in it.
        holds: In words: "(6) 12, (2) 12 G THWN-2", G for equipment grounds.
        nipple: Whether it is at most 24 in. long.
        alike: How many raceways alike.
        chosen: Whether the trade size was chosen here.
        fill: Areas, limit, trade size, jam ratio.
        checks, cautions: Checks and words.

    """

    tag: str
    kind: str
    circuits: tuple[str, ...]
    holds: str
    nipple: bool
    alike: int
    chosen: bool
    fill: Fill
    checks: tuple[Check, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Raceways:
    """Result: raceways by tag in the order of the schedule, and the edition they were worked under."""

    edition: str
    raceways: dict[str, Raceway]

    @property
    def checks(self) -> tuple[Check, ...]:
        """The checks of all raceways."""
        return tuple(c for of in self.raceways.values() for c in of.checks)


def raceways(job: Any, of: Conductors | None = None) -> Raceways:
    """Return every raceway of a job; ``of`` are its conductors, worked here if left out.

    Circuits with the same raceway tag share it; each brings its own equipment ground, which is counted (Note 3).

    Raises:
        RackbookError: A table does not hold what is asked, or no trade size is large enough.

    """
    of = of or conductors(job)
    return Raceways(of.edition, {tag: _raceway(tag, group, of) for tag, group in sharing(job.circuits).items()})


def _raceway(tag: str, group: list[Any], of: Conductors) -> Raceway:
    first = group[0]
    kind, nipple = str(first.raceway_kind), bool(first.nipple)
    held: dict[tuple[str, str], tuple[list[str], dict[str, Value]]] = {}
    counts: dict[tuple[str, str], int] = {}
    grounds: dict[tuple[str, str], int] = {}
    for c in group:
        done = of.circuits[str(c.tag)]
        for taken, number, what in ((done.size, done.phases + done.neutrals, ""), (done.ground_size, 1, " ground")):
            name = (str(taken.magnitude), done.insulation)
            said, by = held.setdefault(name, ([], {}))
            said.append(f"{c.tag}{what} {number}")
            by[f"size of {c.tag}{what}"] = taken
            counts[name] = counts.get(name, 0) + number
            grounds[name] = grounds.get(name, 0) + (number if what else 0)
    try:
        parts = []
        for (size, insulation), (said, by) in held.items():
            n = given(
                counts[size, insulation],
                "",
                Source("input", "circuits.csv", "", f"conductors of {size}: {', '.join(said)}"),
                "n",
            )
            (_, of_size), *others = by.items()
            d = (
                conductor_area(of_size, insulation, "d", "d")
                if counts[size, insulation] - grounds[size, insulation] == 3
                else None
            )
            parts.append((n, conductor_area(of_size, insulation, by=dict(others)), d))
        parts.sort(key=lambda part: -part[1].magnitude)
        trade = None if first.trade_size is None else word(str(first.trade_size), first.trade_size.source, "trade_size")
        made = fill(parts, kind, trade, nipple)
    except LookupFailed as e:
        raise LookupFailed(f"Raceway {tag}: {e}") from None
    source = clause("nipple fill" if nipple else "fill", of.edition)
    remedy = "Take a larger trade size, or move circuits to another raceway."
    cautions = []
    if made.jam == "jam zone" and made.j is not None:
        cautions.append(
            f"{tag}: jam ratio {made.j.text()}, inside {JAM_ZONE[0]} to {JAM_ZONE[1]}: pull with care or select another size."
        )
    holds = ", ".join(_held(name, counts[name] - grounds[name], grounds[name]) for name in counts)
    if len(types := {insulation for _, insulation in counts}) == 1:  # said once
        (only,) = types
        holds = holds.replace(f" {only}", "") + f" {only}"
    return Raceway(
        tag, kind, tuple(str(c.tag) for c in group), holds, nipple, first.sets, trade is None, made,
        (check(f"{tag}: fill", made.A_c, made.A_max, source, remedy=remedy),), tuple(cautions),
    )  # fmt: skip


def _held(name: tuple[str, str], circuit: int, ground: int) -> str:
    """Return what a raceway holds of one size and type, in words."""
    size, insulation = name
    said = ((circuit, f"({circuit}) {size} {insulation}"), (ground, f"({ground}) {size} G {insulation}"))
    return ", ".join(words for number, words in said if number)

"""The foundations of a job: drilled piers or piers on footings, against the soil and in their concrete."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.trace import Check, DomainError, Value, check

from ..concrete import aci
from .actions import demands
from .column import GIVE_CONCRETE, Column, column
from .drilled import Drilled, drilled, open_checks
from .layout import Placed, layout
from .loads import loads, needs_overstrength
from .size import Pier, pier
from .soil import Ground, ground
from .spacing import TOO_NEAR, spacing_check
from .spread import Spread, spread

PLANE = (
    "Shear and moment of both axes are taken as their resultants, the moment in the plane and sense of the shear: not less "
    "than what acts."
)
NO_SOIL = "The job gives no soil (site.soil): what rests on it stays open."
RIGID = (
    "Moment and shear below grade are those of a rigid pier in soil whose stiffness grows in proportion to depth, in "
    "equilibrium with the strength loads; no friction along the pier and no bending at its base help."
)
OWN_WEIGHT = (
    "The pier's own weight is left out of P_u with the moment, where compression helps, and counted in the axial compression."
)
REDUCED = (
    "Bars of less than 0.01 of the area: the strength is that of a section reduced until they are 0.01 of it, with the same "
    "cover (10.3.1.2); the whole area counts for weight and soil."
)
TOP_TIES = (
    "Ties around the anchors at the top of each pier: within 5 in. of the top, two #4 or three #3, around the anchors and at "
    "least four bars (ACI 318-19, 10.7.6.1.5; memory: confirm). Bars and anchors have to lap: see the anchorage."
)
CROSS_TIES = "A bar of a square pier more than 6 in. clear from one held by a tie's corner needs a crosstie (25.7.2.3; memory)."
EVENLY = "The soil along a pier carries all of the moment; its base presses evenly, and no friction carries load down."
NOT_DRILLED = "The piers stand on footings: piers.embedment is not used, and their depth is that of the footings' top."
SLOPE = "Level ground is taken: near a slope the foundations keep the distances of IBC 1808.7 (memory), or a report says how."
OVERSTRENGTH = (
    "The rack's system is a cantilever column system: its foundation takes the seismic load with overstrength "
    "(ASCE/SEI 7, 12.2.5.2; memory), at both levels."
)
NOT_REDUCED = "The overturning moment at the soil is not reduced by 12.13.4 of ASCE/SEI 7."
SEISMIC_C = (
    "Category {letter}: drilled concrete elements have bars of at least 0.0025 of their area over the upper part (IBC 1810.3.9 "
    "and ACI 318-19, 18.13.5; memory: confirm whether these piers count as deep foundations)."
)
SEISMIC_D = (
    "Category {letter}: drilled concrete elements have bars of at least 0.005 of their area over the upper half, 10 ft or "
    "three diameters, closed ties or spirals of #3 (to 20 in.) or #4 with seismic hooks, at close spacing over three "
    "diameters below the top (IBC 1810.3.9.4 and ACI 318-19, 18.13.5.7; memory: confirm whether these piers count as deep "
    "foundations). Individual piers in category D to F on soft soil are tied together or held by the soil (IBC 1809.13, "
    "1810.3.13; memory)."
)


@dataclass(frozen=True)
class Piers:
    """Foundations of a job.

    Attributes:
        pier: The piers as bodies.
        ground: The soil; None where the job does not give it.
        drilled: Piers in the soil; None on footings or without soil.
        spread: Footings; None for drilled piers.
        column: Their concrete; None without concrete or bars.
        layout: Every pier with its reactions.
        size, bars, ties, cover: Size, bars and ties in words, and the cover, for the layout.
        soil_checks, concrete_checks: Checks.
        soil_notes, concrete_notes: What they rest on, in words.

    """

    pier: Pier
    ground: Ground | None
    drilled: Drilled | None
    spread: Spread | None
    column: Column | None
    layout: tuple[Placed, ...]
    size: str
    bars: str
    ties: str
    cover: Value
    soil_checks: tuple[Check, ...]
    concrete_checks: tuple[Check, ...]
    soil_notes: tuple[str, ...]
    concrete_notes: tuple[str, ...]

    @property
    def checks(self) -> tuple[Check, ...]:
        """All checks."""
        return self.soil_checks + self.concrete_checks

    @property
    def notes(self) -> tuple[str, ...]:
        """What the results rest on, in words."""
        return self.soil_notes + self.concrete_notes


def piers(job: Any, frame: Any, seismic: Any = None) -> Piers:
    """Return the foundations of a job.

    Args:
        job: The job.
        frame: Its frame: sets of combinations, bases, reactions.
        seismic: Its seismic loads: the system and the category; None to leave out what rests on them.

    Raises:
        LookupFailed: The job names a soil class or a bar that is in no table.

    """
    body, soil = pier(job), job.site.soil
    earth = ground(soil) if soil is not None else None
    over = needs_overstrength(seismic)
    allowable, ultimate = (loads(frame, level, over) for level in ("allowable", "strength"))
    labels = tuple(str(base.label) for base in frame.bases)
    on_footing = job.piers.footing is not None
    placed = layout(frame, allowable, ultimate)
    checks: list[Check] = []
    in_soil = footings = None
    if on_footing:
        footings = spread(job, body, earth, allowable, ultimate, labels)
        checks += footings.checks
    elif earth is not None:
        in_soil = drilled(body, earth, allowable, labels)
        checks += in_soil.checks
    if earth is None:
        worst = max(placed, key=lambda at: float(at.allowable.M_max.magnitude))
        checks += open_checks("footings" if on_footing else "piers", body, worst.allowable.M_max)
    apart, near = spacing_check(frame.bases, body, job.piers.footing)
    checks += [apart] if apart is not None else []
    concrete, judged, said = _concrete(job, body, earth, ultimate, labels, on_footing)
    soil_notes = [*(earth.notes if earth is not None else (NO_SOIL,)), PLANE, SLOPE, *_soil_notes(seismic, over)]
    soil_notes += [TOO_NEAR] if near else []
    soil_notes.append(NOT_DRILLED if on_footing else EVENLY)
    concrete_notes = [*said, *_seismic_notes(seismic)]
    of = job.piers
    bars = f"{of.bars.count} {of.bars.size}" if of.bars else "not given"
    ties = f"{of.ties.size} at {of.ties.spacing.text()}" if of.ties else "not given"
    size = f"{of.diameter.text()} {of.shape}"
    return Piers(
        body, earth, in_soil, footings, concrete, placed, size, bars, ties, of.cover, tuple(checks), tuple(judged),
        tuple(soil_notes), tuple(concrete_notes),
    )  # fmt: skip


def _concrete(job: Any, body: Pier, earth: Ground | None, ultimate: Any, labels: tuple[str, ...], on_footing: bool) -> Any:
    """Return the concrete, its checks and what they rest on."""
    of = job.piers
    acts = demands(body, earth, ultimate, on_footing)
    row, base = divmod(int(acts.M_u.argmax()), acts.M_u.shape[1])
    M_u: Value = acts.one(row, base).M_u if acts.M_u[row, base] > 0 else body.W_p
    if of.concrete is None or of.bars is None:
        return None, [check("Concrete section of the piers", M_u, None, aci("22.4"), remedy=GIVE_CONCRETE)], ()
    try:
        made = column(job, body, acts, ultimate, labels, on_footing)
    except DomainError as e:
        return None, [check("Concrete section of the piers", M_u, None, aci("22.4"), remedy=str(e))], ()
    said = [TOP_TIES, OWN_WEIGHT]
    if not on_footing:
        said.insert(0, RIGID)
    if made.b_e.m_as("in") < of.diameter.m_as("in") * (1 - 1e-9):
        said.append(REDUCED)
    if body.shape == "square":
        said.append(CROSS_TIES)
    return made, list(made.checks), tuple(said)


def _soil_notes(seismic: Any, over: bool) -> list[str]:
    return [*([NOT_REDUCED] if seismic is not None else []), *([OVERSTRENGTH] if over else [])]


def _seismic_notes(seismic: Any) -> list[str]:
    letter = str(seismic.category.magnitude) if seismic is not None else ""
    if letter == "C":
        return [SEISMIC_C.format(letter=letter)]
    return [SEISMIC_D.format(letter=letter)] if letter in tuple("DEF") else []

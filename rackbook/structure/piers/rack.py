"""The foundations of a job: drilled piers or piers on footings, against the soil and in their concrete."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.trace import Check, DomainError, Value, check

from ..concrete import aci
from .actions import demands
from .bars import top_ties_check
from .column import GIVE_CONCRETE, Column, column
from .drilled import Drilled, drilled, open_checks
from .durability import Durability, durability_check
from .layout import Placed, layout
from .loads import loads, needs_overstrength
from .seismic import HOOKS, SEVERE, detailing_checks, restraint_check
from .size import Pier, pier
from .soil import Ground, ground
from .spacing import WHOLE, group_shares, spacing_check
from .spread import Spread, spread

PLANE = "Shear and moment act as resultants of both axes, in one plane and sense: conservative."
NO_SOIL = "The job gives no soil (site.soil): what rests on it stays open."
RIGID = (
    "Moment and shear below grade are those of a rigid pier in soil whose stiffness grows in proportion to depth, without "
    "friction along the pier or bending at its base."
)
OWN_WEIGHT = "The pier's own weight is left out of P_u with moment, where compression helps, and counted in axial compression."
REDUCED = "Bars of less than 0.01 of the area: the strength is that of a section reduced until they are 0.01 of it (10.3.1.2)."
CROSS_TIES = "A bar of a square pier more than 6 in. clear from one held by a tie's corner needs a crosstie (25.7.2.3; memory)."
EVENLY = "The soil along a pier carries all of the moment; its base presses evenly, without friction along the shaft."
NOT_DRILLED = "The piers stand on footings: piers.embedment is not used, and their depth is that of the footings' top."
SLOPE = "Level ground: near a slope keep the distances of IBC 1808.7 (memory)."
OVERSTRENGTH = (
    "The rack's system is a cantilever column system: its foundation takes the seismic load with overstrength "
    "(ASCE/SEI 7, 12.2.5.2; memory), at both levels."
)
NOT_REDUCED = "The overturning moment at the soil is not reduced by 12.13.4 of ASCE/SEI 7."
DETAILED = (
    "Category {letter}: the piers are detailed as drilled deep foundation elements (IBC 1810.3.9, ACI 318-19, 18.13.5), "
    "whether or not the official counts them as such. {hooks}"
)
RESTRAINED = "The soil restrains single piers at grade (site.soil.restraint): no ties between them (IBC 1810.3.13)."
GROUPED = (
    "Group effect (IBC 1810.2.5): along {ways} the piers stand closer than 8 diameters; each keeps {share} of its lateral "
    "resistance (site.soil.group)."
)
WET = (
    "Ground water at {depth} below grade, above the bases: buoyant weight against uplift; the lateral and bearing values of "
    "the report are those of the soil with this water."
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
        durability: What the exposure classes ask of the concrete; None where they are not given.

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
    durability: Durability | None

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
    letter = str(seismic.category.magnitude) if seismic is not None else ""
    shares = (WHOLE, WHOLE)
    near: list[Check] = []
    if earth is not None and not on_footing:
        k_x, k_y, near = group_shares(frame.bases, body, earth.group)
        shares = (k_x, k_y)
    if on_footing:
        footings = spread(job, body, earth, allowable, ultimate, labels)
        checks += footings.checks
    elif earth is not None:
        in_soil = drilled(body, earth, allowable, labels, shares)
        checks += in_soil.checks
    if earth is None:
        worst = max(placed, key=lambda at: float(at.allowable.M_max.magnitude))
        checks += open_checks("footings" if on_footing else "piers", body, worst.allowable.M_max)
    apart = spacing_check(frame.bases, body, job.piers.footing)
    checks += [*([apart] if apart is not None else []), *near]
    restrained = bool(soil.restraint) if soil is not None else False
    if seismic is not None and not on_footing:
        tied = restraint_check(body, restrained, seismic.ground.S_DS, ultimate, letter)
        checks += [tied] if tied is not None else []
    concrete, judged, said, durable = _concrete(job, body, earth, ultimate, labels, on_footing, letter)
    soil_notes = [*(earth.notes if earth is not None else (NO_SOIL,)), PLANE, SLOPE, *_soil_notes(seismic, over)]
    soil_notes += _decided(earth, body, shares, restrained and letter in SEVERE and not on_footing)
    soil_notes.append(NOT_DRILLED if on_footing else EVENLY)
    detailed = [DETAILED.format(letter=letter, hooks=HOOKS)] if letter in SEVERE and not on_footing else []
    concrete_notes = [*said, *detailed]
    of = job.piers
    bars = f"{of.bars.count} {of.bars.size}" if of.bars else "not given"
    ties = ties_words(of)
    size = f"{of.diameter.text()} {of.shape}"
    return Piers(
        body, earth, in_soil, footings, concrete, placed, size, bars, ties, of.cover, tuple(checks), tuple(judged),
        tuple(soil_notes), tuple(concrete_notes), durable,
    )  # fmt: skip


def _concrete(
    job: Any, body: Pier, earth: Ground | None, ultimate: Any, labels: tuple[str, ...], on_footing: bool, letter: str
) -> Any:
    """Return the concrete, its checks, what they rest on, and what its exposure asks for."""
    of = job.piers
    acts = demands(body, earth, ultimate, on_footing)
    row, base = divmod(int(acts.M_u.argmax()), acts.M_u.shape[1])
    M_u: Value = acts.one(row, base).M_u if acts.M_u[row, base] > 0 else body.W_p
    if of.concrete is None or of.bars is None:
        return None, [check("Concrete section of the piers", M_u, None, aci("22.4"), remedy=GIVE_CONCRETE)], (), None
    try:
        made = column(job, body, acts, ultimate, labels, on_footing)
    except DomainError as e:
        return None, [check("Concrete section of the piers", M_u, None, aci("22.4"), remedy=str(e))], (), None
    said = [OWN_WEIGHT]
    if not on_footing:
        said.insert(0, RIGID)
    if made.b_e.m_as("in") < of.diameter.m_as("in") * (1 - 1e-9):
        said.append(REDUCED)
    if body.shape == "square":
        said.append(CROSS_TIES)
    durable, asked = durability_check(of)
    seismic = detailing_checks(of, made.section, made.strength.A_st, letter) if not on_footing else []
    top = [top_ties_check(of)] if job.anchors is not None else []
    return made, [*made.checks, *top, *seismic, durable], tuple(said), asked


def _soil_notes(seismic: Any, over: bool) -> list[str]:
    return [*([NOT_REDUCED] if seismic is not None else []), *([OVERSTRENGTH] if over else [])]


def _decided(earth: Ground | None, body: Pier, shares: Any, restrained: bool) -> list[str]:
    """Return what the job decides about group effect, ground water and restraint, in words."""
    notes = []
    ways = [way for way, k in zip(("the rack", "the depth of the rack"), shares, strict=True) if k is not WHOLE]
    if ways and earth is not None and earth.group is not None:
        notes.append(GROUPED.format(ways=" and ".join(ways), share=earth.group.text()))
    if earth is not None and earth.water is not None and earth.reported and earth.water.m_as("ft") < body.D.m_as("ft"):
        notes.append(WET.format(depth=earth.water.text()))
    return [*notes, *([RESTRAINED] if restrained else [])]


def ties_words(of: Any) -> str:
    """Return the ties of a job's piers in words, those at the top with them."""
    if not of.ties:
        return "not given"
    top = f", {of.ties.top} of them within 5 in. of the top" if of.ties.top is not None else ""
    return f"{of.ties.size} at {of.ties.spacing.text()}{top}"

"""Anchorage of a job: base plates, rods and concrete under every post, or what is missing for it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.seismic import design_category, mapped_motion, spectral_motion
from rackbook.trace import Check, Value, check

from ..concrete import aci
from . import worked as w
from .clauses import BEARING, dg1
from .details import Set, details, setting
from .plan import Plan, plan, whole
from .plate import by_method
from .plate_design import PlateDesign, plate_design
from .reactions import Reacted
from .rod_design import RodDesign, rod_design

METHOD = (
    "Moments about both axes: |M_x| + |M_y| is applied about each axis under the whole load, and the results are weighted by "
    "the share of each moment (lower-bound theorem). A base lifted off on all its rods is an elastic group."
)
ROUND_PIER = (
    "Edge distances in a round pier are those of the square of its area, but not above the corner rods' true distance from "
    "the circle."
)
CAGE = (
    "The vertical bars hold the rods in tension (anchor reinforcement): straight, evenly spaced, one toward +x, up to the "
    "cover below the pier's top; a bar counts within half the embedment of a rod."
)
SEVERE = (
    "Seismic design category {category}: plate, rods and concrete are designed for the earthquake with overstrength (ACI "
    "318-19, 17.10.5.3(d), 17.10.6.3(c)), concrete in tension with 0.75 of its strength (17.10.5.4).{factors}"
)
FACTORS = (
    " Factors of Q: up to {over} with overstrength, {usual} without; where Omega_0 is smaller than rho, rho is used in both."
)


@dataclass(frozen=True, eq=False)
class Anchorage:
    """Anchorage of a rack.

    Attributes:
        plan: Plan of a base.
        bases: Labels of the bases.
        category: Seismic design category.
        grade: Grade of the rods; empty without rods.
        plate: Base plates; None where something is missing for them.
        rods: Rods and concrete; None likewise.
        checks: One check a limit state, at its governing base and combination.
        notes: Assumptions and cautions, in words.
        set: Holes, washers and length of the rods; None where something is missing.

    """

    plan: Plan
    bases: tuple[str, ...]
    category: Value
    grade: str
    plate: PlateDesign | None
    rods: RodDesign | None
    checks: tuple[Check, ...]
    notes: tuple[str, ...]
    set: Set | None = None


def anchorage(job: Any, frame: Any, category: Value | None = None) -> Anchorage:
    """Return the anchorage of a job's rack.

    Args:
        job: The job.
        frame: Its frame, solved.
        category: Its seismic design category; worked out from the job if left out.

    Raises:
        InputError: A rod stands where it cannot: outside the concrete or the plate, or under the post.
        LookupFailed: A rod or bar is in no table.

    """
    of = plan(job)
    bases = tuple(base.label for base in frame.bases)
    letter = category if category is not None else _category(job)
    grade = str(job.anchors.grade) if job.anchors is not None else ""
    missing = _missing(job, frame)
    if missing:
        return Anchorage(of, bases, letter, grade, None, None, tuple(missing), ())
    base = whole(of)
    assert base is not None  # nothing is missing
    severe = str(letter.magnitude) >= "C"
    lrfd = str(job.codes.method) == "LRFD"
    level = "strength" if lrfd else "allowable"
    steel = plate_design(job, base, Reacted(frame, level, f"{level}_overstrength" if severe else ""))
    rods = rod_design(job, base, frame, severe, steel.f_d if lrfd else by_method(steel.f_pn, BEARING, "LRFD"))
    distances, detail = details(job, base, rods.by.rod)
    notes = [METHOD, *([ROUND_PIER] if of.pier_shape == "round" else []), *detail]
    if rods.by.ties is not None and w.TIES_V in rods.governing:
        notes.append(f"The pier's top tie lies within {rods.by.z_t.text()} of its top, where it holds the rods in shear.")
    if rods.held_n:
        notes.append(CAGE)
    if severe:
        notes.append(SEVERE.format(category=letter.magnitude, factors=_factors(frame)))
    return Anchorage(
        of, bases, letter, grade, steel, rods, (*steel.checks, *rods.checks, *distances), tuple(notes), setting(job)
    )


def _factors(frame: Any) -> str:
    """Return the largest factors of the earthquake in the sets without and with overstrength, in words."""
    found = []
    for name in ("strength", "strength_overstrength"):
        of = frame.sets[name]
        quake = [n for n, case in enumerate(of.cases) if case.startswith("Q")]
        found.append(float(np.max(np.abs(np.asarray(of.factors)[:, quake]))) if quake else 0.0)
    return FACTORS.format(usual=f"{found[0]:g}", over=f"{found[1]:g}") if all(found) else ""


def _category(job: Any) -> Value:
    site, edition = job.site.seismic, str(job.codes.loads).removeprefix("ASCE/SEI ")
    if site.spectral is not None:
        ground = spectral_motion(site.spectral.S_DS, site.spectral.S_D1, site.spectral.S_1)
    else:
        mapped = site.mapped
        ground = mapped_motion(mapped.S_S, mapped.S_1, mapped.site_class, bool(mapped.measured), edition)
    return design_category(ground.S_DS, ground.S_D1, job.site.risk_category, ground.S_1)


def _missing(job: Any, frame: Any) -> list[Check]:
    """Return an open check for each thing the job does not give, against the largest moment or uplift at a base."""
    asked = (
        (job.frame.base_plate, "Base plate", dg1("base with moment"), "Give frame.base_plate: length, width and thickness."),
        (job.anchors, "Anchor rods", aci("Chapter 17"),
         "Give anchors: grade, diameter, count, spacing_x, spacing_y and embedment."),
        (job.piers.concrete, "Concrete around the rods", aci("Chapter 17"), "Give piers.concrete: the strength f_c'."),
    )  # fmt: skip
    open_ones = [(name, source, remedy) for thing, name, source, remedy in asked if thing is None]
    if not open_ones:
        return []
    reacted = Reacted(frame, "strength")
    at = reacted.at(int(np.argmax(np.hypot(reacted.M_x, reacted.M_y) - reacted.P)))
    demand = at.M_x if abs(at.M_x.magnitude) >= abs(at.M_y.magnitude) else at.M_y
    return [check(f"{name} of {at.base}", demand, None, source, remedy=remedy) for name, source, remedy in open_ones]

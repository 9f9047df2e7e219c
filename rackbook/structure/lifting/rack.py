"""Lifting of a job: every lift with its slings, lugs and steel, the truck, and what stays open."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.loads.weights import Weights
from rackbook.trace import Check, Source, Value, check

from .clear import clearance
from .hung import Steel, Strengths, steel
from .legs import Lift, lift, places_needed
from .modules import Hanging, hanging, whole
from .picked import Lugs, lugs
from .slings import PROOF, TWO_CARRY, proof_load
from .transport import Transport, transport

_JOB = Source("input", "rack.yaml", locator="lifting")
GIVE = "give lifting in rack.yaml: picks, legs, hook, lug and truck"
CAUTIONS = (
    "The lift is planned and directed by a qualified person, with a qualified rigger; this sheet is no lift plan.",
    "Weigh the finished rack on a scale before the lift and compare with W; explain any difference first.",
    "Nobody stands under the load or between it and what stands still. Guide it with tag lines.",
    "No lift in a wind that swings the load.",
    "Lift it a few inches first: if it does not hang as calculated, set it down and re-rig.",
    "Every leg and shackle has a rated load in straight pull of at least its T, the hook of at least W_I, with tags in date.",
    "The rack is never set down without its cradle, guys or hook until its anchors are tight: on base plates alone it tips.",
)
NOT_CHECKED = (
    "Not checked here: crane and ground, slings and shackles, and fasteners of the equipment while it swings. The weight of "
    "lugs and cap plates is part of the hardware allowance."
)


@dataclass(frozen=True)
class Lifting:
    """Lifting and transport of a rack.

    Attributes:
        carrying: ``two`` or ``all``; empty where the job gives no lifting.
        legs: Legs of the sling.
        impact: Impact factor; None where the job gives no lifting.
        lifts: Every lift: the rack, or its modules.
        steel: Steel of each lift that has legs, in their order.
        lugs: The lugs; None where they are open.
        clear: Clearance of lugs and slings.
        proof: Load of a proof test of each lift.
        transport: Road and truck.
        checks: All of them.
        notes: Assumptions and cautions, in words.

    """

    carrying: str
    legs: int
    impact: Value | None
    lifts: tuple[Lift, ...]
    steel: tuple[Steel, ...]
    lugs: Lugs | None
    clear: tuple[Check, ...]
    proof: tuple[Value, ...]
    transport: Transport
    checks: tuple[Check, ...]
    notes: tuple[str, ...]


def lifting(job: Any, weights: Weights, frame: Any, wind: Any = None, strengths: Strengths | None = None) -> Lifting:
    """Return lifting and transport of a job.

    Args:
        job: The job.
        weights: Its weights; the measured ones are used where there are some.
        frame: Its frame, for the yield strengths of its members.
        wind: Its wind, for the gust at which the rack tips before it is anchored.
        strengths: Strengths of rails, joints and splices worked out elsewhere, at working level.

    Raises:
        DomainError: Two picks at one place, or a lug whose pin, hole and plate do not fit.

    """
    asked = job.lifting
    loads = hanging(job, weights)
    if asked is None:
        road = transport(job, weights, loads, wind)
        open_ = check("Lifting of the finished rack", weights.W, None, _JOB, remedy=GIVE)
        return Lifting("", 0, None, (), (), None, (), (), road, (open_, *road.checks), (NOT_CHECKED,))
    pairs, loads, missing, notes = _picked(job, weights, loads)
    lifts = tuple(lift(job, of, picks) for of, picks in pairs)
    under = tuple(steel(job, frame, made, strengths or Strengths()) for made in lifts if made.legs)
    found, clear = lugs(job, frame, lifts), tuple(clearance(job, lifts))
    checks = [*missing, *(c for made in lifts for c in made.checks)]
    if asked.lug is None:
        for made in lifts:
            if made.T is not None:
                remedy = "give lifting.lug: thickness, width, radius, hole, height, pin, weld, cap and cap_weld"
                checks.append(check(f"{made.said}Lug at the pick", made.T, None, _JOB, remedy=remedy))
    checks += [
        *((*found.checks, *found.seat) if found else ()),
        *clear,
        *(c for s in under for c in s.checks),
        *_middle(job, lifts),
    ]
    road = transport(job, weights, loads, wind, lifts)
    notes += [*(n for made in lifts for n in made.notes), *(found.notes if found else ()), *_said(job, weights)]
    return Lifting(
        str(asked.carrying), asked.legs, asked.impact, lifts, under, found, clear,
        tuple(proof_load(p_proof=PROOF, W=made.of.W_0) for made in lifts), road, (*checks, *road.checks),
        (*dict.fromkeys(notes), NOT_CHECKED),
    )  # fmt: skip


def _picked(
    job: Any, weights: Weights, loads: tuple[Hanging, ...]
) -> tuple[list[tuple[Hanging, tuple[Value, ...]]], tuple[Hanging, ...], list[Check], list[str]]:
    """Return what is lifted with its picks, what goes on a truck at once, open checks, and notes.

    Modules are lifted one by one where each has its own picks; picks for one lift only mean that the rack is lifted whole.
    """
    picks, need = job.lifting.picks, places_needed(job)
    own = {of.name: tuple(x for x in picks if _in(x, of, last=of is loads[-1])) for of in loads}
    if len(loads) > 1 and len(picks) == need:
        note = "The rack is lifted whole, its splices bolted: the picks are those of one lift."
        return [(whole(job, weights), picks)], (whole(job, weights),), [], [note]
    pairs = [(of, own[of.name]) for of in loads if len(own[of.name]) == need]
    missing = []
    for of in loads:
        if len(own[of.name]) != need:
            remedy = f"give {need} pick points from x = {of.a.text()} to {of.b.text()}; {len(own[of.name])} are given"
            name = "the rack" if of.name == "rack" else of.name
            missing.append(check(f"Pick points of {name}", of.W_0, None, _JOB, remedy=remedy))
    return pairs, loads, missing, []


def _in(x: Value, of: Hanging, last: bool) -> bool:
    place, a, b = x.m_as("ft"), of.a.m_as("ft"), of.b.m_as("ft")
    return a <= place < b or (last and place >= b)


def _middle(job: Any, lifts: tuple[Lift, ...]) -> list[Check]:
    """Return the open checks of two legs on a rack of two rows, whose picks have no post under them."""
    if job.lifting.legs == 4 or job.frame.depth.magnitude == 0:
        return []
    remedy = "use four legs (lifting.legs: 4), or show that the member between the rows carries the pick"
    where = Source("derivation", "a pick between two rows of posts has no post under it")
    return [check(f"{made.said}Pick between the rows", made.T, None, where, remedy=remedy) for made in lifts if made.T]


def _said(job: Any, weights: Weights) -> list[str]:
    notes = []
    if weights.measured is not None:
        notes.append("The weights of the parts are those of the take-off, scaled to the measured weight.")
    if job.lifting.legs == 4 and job.lifting.carrying == "two":
        notes.append(f"Two of the four legs are counted as carrying ({TWO_CARRY.citation}).")
    if weights.measured is None:
        notes.append("The weight is that of the take-off, not of a scale.")
    elif job.frame.splices:
        notes.append("The measured weight is shared by the modules as the take-off's is, its center by theirs.")
    faces = {str(rail.face) for rail in job.frame.rails}
    if job.frame.depth.magnitude == 0 and len(faces) == 1 and faces != {"center"}:
        notes.append(
            "All rails are on one face: the horizontal component of sloping slings twists the picked posts. Use a spreader "
            "beam, or check the twist."
        )
    return notes

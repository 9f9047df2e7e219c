"""The connections of one job: rail clips or welds, rail splices, post bases over all combinations, equipment's bolts."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.members import post_lines
from rackbook.loads.outlines import outline
from rackbook.trace import Check, Source, Value, given

from ..steel import clause
from .adopted import adopted
from .asked import asked_clip, asked_foot, asked_splice, cantilever, notes
from .bolts import Bolt
from .braces import brace_ends
from .crossings import clips, rail_welds
from .details import foot_details, splice_details, splice_leaves_steel
from .fastening import DIAMETER, Fastening, fastening
from .feet import Reaction, foot_states
from .room import splice_bolts, splice_room
from .seats import seats
from .splices import RailForces, Splice, splice_states
from .strength import State
from .work import Joints, Work

SPLICE = ("P", "V_y", "V_x", "T", "M_x", "M_y")
MANUFACTURER = "Confirm number, place and strength of the mounting holes with the manufacturer of each item."
REACTION = ("P", "V_x", "V_y", "M_x", "M_y", "T")


@dataclass(frozen=True, eq=False)
class Connections:
    """The connections of a rack; a kind is None where the job, or the frame, has none.

    Attributes:
        method: ``"LRFD"`` or ``"ASD"``.
        bolt: The bolts, where the job gives them.
        clips, rail_welds: Rail clips, or the welds of rails that are fixed to the posts.
        splices, feet: Rail splices, welds at the posts' feet.
        fastening: Bolts of the equipment.
        checks: All checks.
        loose: Those of them that belong to no result: what is open, and sizes that leave no steel.
        notes: What is assumed.
        steel: The edition of AISC 360 the job adopts.

    """

    method: str
    bolt: Bolt | None
    clips: Joints | None
    rail_welds: Joints | None
    splices: Joints | None
    feet: Joints | None
    fastening: Fastening | None
    checks: tuple[Check, ...]
    loose: tuple[Check, ...]
    notes: tuple[str, ...]
    steel: str = ""


def connections(job: Any, frame: Any, wind: Any = None, seismic: Any = None) -> Connections:
    """Return the connections of a job's rack, checked under every combination of its frame.

    Args:
        job: The job.
        frame: Its frame: clips, splices, reactions, members.
        wind: Its wind loads, for the fastening of the equipment; left out, that is left out.
        seismic: Its seismic loads, likewise.

    Raises:
        InputError: Bolts that cannot be pretensioned are asked to be.
        LookupFailed: A bolt or a shape is in no table.

    """
    work = Work(job, frame)
    kinds = clips(work), rail_welds(work), splices(work), feet(work)
    items = _items(work, wind, seismic)
    brace_ends(work)
    steel, loose = str(getattr(job.codes, "steel", "")), work.loose
    (clips_, welds, joints, bases), items, loose = adopted((kinds, items, tuple(loose)), steel)
    kinds = clips_, welds, joints, bases
    parts = [p for p in kinds if p is not None]
    checks = (*(c for p in parts for c in p.checks), *loose, *_item_checks(items))
    return Connections(work.method, work.bolt, *kinds, items, checks, loose, notes(job, work.rail), steel)


def _item_checks(items: Fastening | None) -> tuple[Check, ...]:
    if items is None:
        return ()
    return (*(s.check(f"equipment {tag} ({case})") for s, case, tag in items.worst.values()), items.spacing)


def splices(work: Work) -> Joints | None:
    """Return the rail splices."""
    of = work.frame.splices(work.set_name)
    if not of.labels:
        return None
    splice = asked_splice(work.job, work.bolt, work.rail, work.method)
    if splice is None:
        most = float(np.max(np.abs(of.M_x)))
        demand = given(most, "kip*in", Source("derivation", "frame analysis: largest moment at a splice"), "M_x")
        remedy = "Give connections.bolt and connections.splice (bolts, rows, spacing, gage, edge, thickness)."
        work.missing("Rail splices", demand, clause("J"), remedy)
        return None
    details = (*splice_details(splice), *_room(work, splice))
    if not splice_leaves_steel(splice):
        work.loose.extend(details)
        return None
    values = _upright(work, work.arrays(of, SPLICE, work.set_name))
    if splice.n_x.magnitude * splice.n_z.magnitude == 1:
        work.lone("Rail splices", values["M_x"])
        return None
    states = splice_states(splice, RailForces(**values))

    @functools.cache
    def forces(k: int, i: int) -> dict[str, Value]:
        return _upright(work, {n: work.frame.splice(work.set_name, n, i, k) for n in SPLICE})

    @functools.cache
    def single(k: int, i: int) -> tuple[State, ...]:
        return splice_states(splice, RailForces(**forces(k, i)))

    return work.joints("splice", splice, work.set_name, of.labels, states, forces, single, details)


def _room(work: Work, splice: Splice) -> tuple[Check, ...]:
    """Return the checks of the room for the splices' plates beside posts and clips, and on the rail."""
    job = work.job
    clipped = str(job.frame.rail_ends) != "moment"
    clip = asked_clip(job, work.bolt, work.rail, work.post, work.method) if clipped else None
    joints = tuple(job.frame.splices)
    held, _ = seats(job, work.frame, work.rail)
    room = splice_room(splice, clip, outline(str(job.frame.post)).width, joints, post_lines(job))
    return (*room, *(splice_bolts(splice, DIAMETER, joints, held) if held else ()))


def _upright(work: Work, values: dict[str, Value]) -> dict[str, Value]:
    """Return the actions of a rail by what they do upright: the depth of strut lies across."""
    if work.rail.family != "strut":
        return values
    swapped = {"V_y": "V_x", "V_x": "V_y", "M_x": "M_y", "M_y": "M_x"}
    return {n: values[swapped.get(n, n)].named(n) for n in values}


def feet(work: Work) -> Joints | None:
    """Return the welds of the posts to their base plates; those of cantilever columns with overstrength."""
    name = f"{work.set_name}_overstrength" if cantilever(work.job) else work.set_name
    of = work.frame.reactions(name)
    labels = tuple(b.label for b in work.frame.bases)
    foot = asked_foot(work.job, work.post, work.method)
    if foot is None:
        most = float(np.max(np.hypot(of.M_x, of.M_y)))
        demand = given(most, "kip*in", Source("derivation", "frame analysis: largest moment at a post base"), "M")
        remedy = "Give frame.base_plate, and connections with base_weld: the leg of the fillet all around."
        work.missing("Weld of the posts to their base plates", demand, clause("J2"), remedy)
        return None
    states = foot_states(foot, Reaction(**work.arrays(of, REACTION, name)))

    @functools.cache
    def forces(k: int, i: int) -> dict[str, Value]:
        return {n: work.frame.reaction(name, n, i, k) for n in REACTION}

    @functools.cache
    def single(k: int, i: int) -> tuple[State, ...]:
        return foot_states(foot, Reaction(**forces(k, i)))

    return work.joints("foot", foot, name, labels, states, forces, single, foot_details(foot))


def _items(work: Work, wind: Any, seismic: Any) -> Fastening | None:
    """Return the bolts of the equipment."""
    if wind is None or seismic is None or not work.job.equipment:
        return None
    if work.bolt is None:
        F_p = seismic.items.F_p
        work.missing("Bolts of the equipment", F_p, clause("J3"), "Give connections.bolt: diameter, grade, installation.")
        return None
    held, still = seats(work.job, work.frame, work.rail)
    work.loose.extend(still)
    found = fastening(work.job, wind, seismic, held, work.rail, work.method)
    if found is None:
        return None
    most = max((f.r_t for f in found.by_tag.values()), key=lambda r: r.magnitude)
    work.missing("Equipment's own metal at its bolts", most, clause("J3"), MANUFACTURER)
    if work.rail.h_w is None:
        remedy = "Check the rail's wall under the equipment's bolts by hand, or use channels."
        work.missing("Wall of the rail under the equipment's bolts", most, clause("J3.13 (J3.12 in 360-16)"), remedy)
    return found

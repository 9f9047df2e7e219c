"""Every crossing of rail and post of a job: clips, or the welds of rails that are fixed to the posts."""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from rackbook.trace import Source, Value, given, largest, smallest

from ..steel import clause
from .asked import TRIAL, asked_clip, asked_rail_weld
from .clips import Forces, clip_states
from .details import clip_details, clip_leaves_steel, rail_weld_details
from .groups import acts
from .joint import size
from .rail_welds import leg_needed, rail_weld_states
from .strength import State
from .survey import survey
from .welds import least_leg
from .work import Joints, Work

CLIP = ("F_x", "F_y", "F_z", "M_x", "M_y", "M_z")
#: What the forces are called in formulas, where F_y is the yield strength.
SYMBOLS = {"F_x": "R_x", "F_y": "R_y", "F_z": "R_z", "M_x": "M_x", "M_y": "M_y", "M_z": "M_z"}
ON_TIES = "A rail between two rows of posts hangs on ties: design its connection to them by hand."
BY_HAND = "Only rails on the face of a tube are worked out: design these welds by hand, or write rail_ends: pinned."
_RELEASED = Source("derivation", "released: the rail turns on its clips in its own plane (rail_ends: pinned)")
BY_HAND_WALL = "Check the leg or wall of the rail under the pull of its bolts by hand, or use channels."
IN_TUBE = "Check the wall by hand, or pass the bolts through both walls of the rail with spacers inside."
GIVE_CLIP = "Give connections.bolt and connections.clip (bolts, spacing, edge, thickness, weld, length)."


@dataclass(frozen=True, eq=False)
class _Crossings:
    """Crossings of a kind: their places among the frame's, labels, and forces of all combinations."""

    work: Work
    at: np.ndarray
    labels: tuple[str, ...]
    center: np.ndarray
    values: dict[str, Value]

    @classmethod
    def of(cls, work: Work, keep: Callable[[str], bool]) -> _Crossings:
        """Return the crossings whose rail's face is kept."""
        of = work.frame.clips(work.set_name)
        faces = np.array([str(work.rail_at(label).face) for label in of.labels])
        at = np.array([n for n, face in enumerate(faces) if keep(face)], int)
        values = {n: given(v.magnitude[:, at], v.unit, v.source, n) for n, v in work.arrays(of, CLIP, work.set_name).items()}
        if len(at) and not acts(values["M_y"], values["F_x"], values["F_z"]):
            values["M_y"] = given(np.zeros_like(values["M_y"].magnitude), "kip*in", _RELEASED, "M_y")
        return cls(work, at, tuple(of.labels[n] for n in at), faces[at] == "center", values)

    def forces(self, k: int, i: int) -> dict[str, Value]:
        """Return the forces of one combination and crossing, each traced."""
        found = {n: self.work.frame.clip(self.work.set_name, n, int(self.at[i]), k).named(SYMBOLS[n]) for n in CLIP}
        if self.values["M_y"].source is _RELEASED:
            found["M_y"] = given(0.0, "kip*in", _RELEASED, "M_y")
        return found | ({"F_y": size(R_i=found["F_y"]).named("R_y")} if self.center[i] else {})

    def either_way(self) -> dict[str, Value]:
        """Return the forces of all; across a rail in the plane of the posts either sense may pull."""
        F_y = self.values["F_y"]
        both = np.where(self.center, np.abs(F_y.magnitude), F_y.magnitude)
        return self.values | {"F_y": given(both, "kip", F_y.source, "F_y")}

    def open(self, what: str, names: str, remedy: str) -> None:
        """Leave the crossings open, with the largest force or moment on one."""
        unit = "kip" if names[0] == "F" else "kip*in"
        most = np.sqrt(sum(self.values[n].magnitude ** 2 for n in CLIP if n[0] == names[0]))
        source = Source("derivation", "frame analysis: largest of all crossings and combinations")
        self.work.missing(what, given(float(np.max(most)), unit, source, names), clause("J1"), remedy)


def _moment(work: Work) -> bool:
    return str(work.job.frame.rail_ends) == "moment"


def clips(work: Work) -> Joints | None:
    """Return the rail clips."""
    if _moment(work):
        return None
    double = work.job.frame.depth.magnitude > 0
    hung = _Crossings.of(work, lambda face: double and face == "center")
    if hung.labels:
        hung.open("Rails on ties", "F", ON_TIES)
    at = _Crossings.of(work, lambda face: not double or face != "center")
    if not at.labels:
        return None
    clip = asked_clip(work.job, work.bolt, work.rail, work.post, work.method)
    if clip is None:
        at.open("Rail clips", "F", GIVE_CLIP)
        return None
    if not clip_leaves_steel(clip):
        work.loose.extend(clip_details(clip))
        return None
    values = at.either_way()
    if clip.n.magnitude == 1 and acts(values["M_y"], values["F_x"], values["F_z"]):
        work.lone("Rail clips", values["M_y"])
        return None
    U, of_post = work.post_use(at.labels)
    states = clip_states(clip, Forces(**values), U)
    forces = functools.cache(at.forces)

    @functools.cache
    def single(k: int, i: int) -> tuple[State, ...]:
        return clip_states(clip, Forces(**forces(k, i)), of_post(k, i))

    if work.rail.h_w is None:
        _wall_of_rail(work, next(s for s in states if s.name == "Bolts in tension"))
    found = work.joints("clip", clip, work.set_name, at.labels, states, forces, single, clip_details(clip))
    return replace(found, U=of_post(*found.at))


def _wall_of_rail(work: Work, tension: State) -> None:
    """Leave the wall of a rail that is no channel open under bolts in tension: it asks for rational analysis."""
    most = float(np.max(tension.demand.magnitude))
    pulled = given(most, "kip", Source("derivation", "frame analysis: largest tension on a bolt"), "r_t")
    tube = work.rail.family == "hss"
    what = "Wall of the tubular rail under a bolt in tension" if tube else "Wall of the rail under a bolt in tension"
    work.missing(what, pulled, clause("J3.13 (J3.12 in 360-16)"), IN_TUBE if tube else BY_HAND_WALL)


def rail_welds(work: Work) -> Joints | None:
    """Return the welds of rails that are fixed to the posts."""
    if not _moment(work):
        return None
    weld = asked_rail_weld(work.job, work.rail, work.post, work.method)
    others = _Crossings.of(work, lambda face: weld is None or face == "center")
    if others.labels:
        others.open("Rails welded between posts, or to posts that are no tubes", "M", BY_HAND)
    at = _Crossings.of(work, lambda face: face != "center")
    if weld is None or not at.labels:
        return None
    U, of_post = work.post_use(at.labels)
    states = rail_weld_states(weld, Forces(**at.values), U)
    forces = functools.cache(at.forces)

    @functools.cache
    def single(k: int, i: int) -> tuple[State, ...]:
        return rail_weld_states(weld, Forces(**forces(k, i)), of_post(k, i))

    leg, skip, details = None, 0, rail_weld_details(weld)
    if weld.w is TRIAL:  # its strength is open
        leg, skip, details = _leg(work, states[0], at.labels, single), 1, ()
    found = work.joints(
        "rail weld", weld, work.set_name, at.labels, states[skip:], forces, lambda k, i: single(k, i)[skip:], details
    )
    return replace(found, U=of_post(*found.at), leg=leg)


def _leg(work: Work, weld: State, labels: tuple[str, ...], single: Callable[[int, int], tuple[State, ...]]) -> Value:
    """Return the leg that welds without a leg of the job need; their strength stays open."""
    said = work.frame.sets[work.set_name].labels
    k, i = survey((weld,), labels, len(said)).governing
    worst = single(k, i)[0]
    of = leg_needed(f_r=worst.demand, r_cw=worst.capacity, w=TRIAL)
    thin = smallest("t", {"rail": work.rail.t_toe or work.rail.t_b, "post": work.post.t_foot})
    leg = largest("w", {"strength": of, "Table J2.4": least_leg(thin)})
    remedy = (
        f"Weld the rails to the posts with a leg of {leg.text()} or more, along both edges over the flat of the post, and "
        "give it as connections.rail_weld."
    )
    work.missing(f"{worst.name}, {labels[i]} ({said[k]})", worst.demand, worst.source, remedy)
    return leg

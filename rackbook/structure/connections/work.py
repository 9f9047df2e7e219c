"""What the connections of a job are worked out with: its steel, its frame's forces as arrays, and what stays open."""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.geometry import read
from rackbook.trace import Check, Source, Value, check, formula, given

from ..steel import clause
from .asked import asked_bolt
from .clips import Clip
from .feet import Foot
from .rail_welds import RailWeld
from .sections import Post, Rail, post_of, rail_of
from .splices import Splice
from .strength import State
from .survey import Survey, Worst, in_full, survey
from .walls import chord_use

BASIC = {"LRFD": "strength", "ASD": "allowable"}
_MOST = Source("derivation", "the larger one just below and just above the crossing")


@formula(clause("K3.2: F_c of ASD"), F_c="ksi")
def allowed_stress(F_y):
    """Return the stress that the post's use is measured by, for ASD."""
    F_c = 0.60 * F_y
    return F_c


@dataclass(frozen=True, eq=False)
class Joints:
    """All connections of one kind, over all combinations of a set.

    Attributes:
        kind: ``clip``, ``rail weld``, ``splice`` or ``foot``.
        what: The detail: sizes, bolts, steel.
        set_name, combinations: The set, and the labels of its combinations.
        places: The most used limit state of each connection.
        governing: Label of the most used connection; ``combination`` the label of its combination, ``at`` the place of
            both.
        forces: The forces on it, by symbol.
        states: Its limit states, worked as single values.
        checks: Each limit state where it is used most, and the rules on sizes.
        U: Use of the posts' steel in that combination, where the wall of the post counts.
        leg: Leg that welds need of which the job gives none.

    """

    kind: str
    what: Clip | RailWeld | Splice | Foot
    set_name: str
    combinations: tuple[str, ...]
    places: tuple[Worst, ...]
    governing: str
    combination: str
    at: tuple[int, int]
    forces: dict[str, Value]
    states: tuple[State, ...]
    checks: tuple[Check, ...]
    U: Value | None = None
    leg: Value | None = None


class Work:
    """The connections of a job while they are worked out.

    Args:
        job: The job.
        frame: Its frame.

    """

    def __init__(self, job: Any, frame: Any) -> None:
        self.job, self.frame, self.method = job, frame, str(job.codes.method)
        self.set_name = BASIC[self.method]
        self.loose: list[Check] = []
        members = {m.part: m for m in reversed(frame.members)}
        post, rail = members["post"], members["rail"]
        self.post: Post = post_of(str(job.frame.post), post.F_y, post.F_u)
        self.rail: Rail = rail_of(str(job.frame.rail), rail.F_y, rail.F_u)
        self.bolt = asked_bolt(job)

    def missing(self, what: str, demand: Value, source: Source, remedy: str) -> None:
        """Leave a check open, with what acts and what to give."""
        self.loose.append(check(what, demand, None, source, remedy=remedy))

    def lone(self, what: str, M: Value) -> None:
        """Leave connections with one bolt, on which a moment acts, to an open check."""
        demand = given(
            float(np.max(np.abs(M.magnitude))), "kip*in", Source("derivation", "frame analysis: largest moment"), M.symbol
        )
        source = Source("derivation", "one bolt alone resists no moment about its own axis")
        self.missing(f"{what} with one bolt", demand, source, "Use two bolts or more.")

    def arrays(self, of: Any, names: tuple[str, ...], set_name: str) -> dict[str, Value]:
        """Return the frame's arrays as values."""
        source = Source("derivation", f"frame analysis, all combinations of the set '{set_name}'")
        return {n: given(getattr(of, n), "kip" if n[0] in "FPV" else "kip*in", source, n) for n in names}

    def post_use(self, labels: tuple[str, ...]) -> tuple[Value, Callable[[int, int], Value]]:
        """Return the use of the post's steel at crossings: by combination and crossing, and for one of each.

        Each crossing counts with the larger use just below and just above it.
        """
        a, p, F_c = self.frame.actions(self.set_name), self.post, self._F_c()
        marks = {m.mark: n for n, m in enumerate(self.frame.members)}
        near = [self._stations(marks[self._post_of(label)], self._height(label)) for label in labels]
        at = np.unique(np.concatenate(near))
        source = Source("derivation", f"frame analysis, posts at the crossings, set '{self.set_name}'")
        units = {"P": "kip", "M_x": "kip*in", "M_y": "kip*in"}
        P, M_x, M_y = (given(getattr(a, n)[:, at], unit, source, n) for n, unit in units.items())
        every = chord_use(P=P, A=p.A, M_x=M_x, S_x=p.S_x, M_y=M_y, S_y=p.S_y, F_c=F_c)
        places = [np.searchsorted(at, n) for n in near]

        def largest(every: np.ndarray) -> np.ndarray:
            return np.stack([every[:, place].max(axis=1) for place in places], axis=1)

        U = read("use of the posts at the crossings", _MOST, "", largest, {"every": every}, "U")

        def single(k: int, i: int) -> Value:
            station = int(near[i][np.argmax(every.magnitude[k, places[i]])])
            P, M_x, M_y = (self.frame.action(self.set_name, n, int(a.member[station]), k, station) for n in units)
            return chord_use(P=P, A=p.A, M_x=M_x, S_x=p.S_x, M_y=M_y, S_y=p.S_y, F_c=F_c)

        return U, functools.cache(single)

    def rail_at(self, label: str) -> Any:
        """Return the job's rail of a crossing by its label: ``rail 3 at post 2``."""
        return self.job.frame.rails[int(label.split()[1]) - 1]

    def _post_of(self, label: str) -> str:
        line = label.split(" at post ")[1].split(",")[0]
        double = self.job.frame.depth.magnitude > 0
        return f"post {line} {self.rail_at(label).face}" if double else f"post {line}"

    def _height(self, label: str) -> float:
        return float(self.rail_at(label).height.m_as("in"))

    def _stations(self, member: int, height: float) -> np.ndarray:
        """Return the stations of a post at a height; the nearest ones, below and above its node."""
        solved = self.frame.analysis.solved
        places, model = solved.places, solved.built.model
        at = np.array(places.of_member[member])
        z = model.xyz[model.i[places.element[at]], 2] + places.s[at]
        away = np.abs(z - height)
        return at[away <= away.min() + 1e-6]

    def _F_c(self) -> Value:
        return self.post.F_y.named("F_c") if self.method == "LRFD" else allowed_stress(F_y=self.post.F_y)

    def joints(
        self,
        kind: str,
        what: Any,
        set_name: str,
        labels: tuple[str, ...],
        states: tuple[State, ...],
        forces: Callable[[int, int], dict[str, Value]],
        work: Callable[[int, int], tuple[State, ...]],
        details: tuple[Check, ...],
    ) -> Joints:
        """Return all connections of a kind from their limit states as arrays, and ways to one of them as single values.

        ``forces`` and ``work`` give the same values each time they are asked for the same combination and place.
        """
        said = self.frame.sets[set_name].labels
        found: Survey = survey(states, labels, len(said))
        k, i = found.governing
        checks = tuple(s.check(f"{labels[ii]} ({said[kk]})") for s, kk, ii in in_full(found, work).values())
        return Joints(
            kind, what, set_name, said, found.places, labels[i], said[k], (k, i), forces(k, i), work(k, i), (*checks, *details)
        )

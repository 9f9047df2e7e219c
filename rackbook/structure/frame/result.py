"""The frame as a result: actions, reactions, joints and splices of every combination as arrays, and single numbers traced."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import numpy as np

from rackbook.trace import Check, Source, Value, given

from ..combinations import CombinationSet
from .analysis import Analysis
from .members import FrameMember
from .second_order import ALPHA, C_M, Sway, amplifier_member, amplifier_sway, bow, member_strength, story_load
from .sections import E_STEEL
from .solve import ACTIONS, JOINTS, REACTIONS
from .superpose import amplified_moment, force, force_second, moment, moment_second, swayed_moment, take

ALONG = ("W left", "W right", "W_i left", "W_i right", "Q along", "N along")
ACROSS = ("W front", "W back", "W twist", "W_i front", "W_i back", "W_i twist", "Q across", "Q twist", "N across")
_MASK = Source("derivation", "1 for the cases of that kind, 0 for the others")
ONE = given(1.0, "", Source("derivation", "no moments in a pinned member"), "B")


@dataclass(frozen=True, eq=False)
class Actions:
    """Second-order actions in the members, (combinations, stations); kip and kip in., P in compression above zero.

    M_x bends the section about its x axis (depth works), V_y goes with it; M_y and V_x the other way; T is torsion.
    """

    P: np.ndarray
    V_y: np.ndarray
    V_x: np.ndarray
    T: np.ndarray
    M_x: np.ndarray
    M_y: np.ndarray
    member: np.ndarray


@dataclass(frozen=True, eq=False)
class Reactions:
    """What the frame exerts on the foundation at the underside of each base plate, (combinations, bases); kip, kip in.

    P is down, V_x along the rack to the right, V_y across it to the front. Moments are components of r x F: a force along
    V_x above the base gives M_y above zero, a force V_y gives M_x below zero.
    """

    P: np.ndarray
    V_x: np.ndarray
    V_y: np.ndarray
    M_x: np.ndarray
    M_y: np.ndarray
    T: np.ndarray


@dataclass(frozen=True, eq=False)
class Clips:
    """What each rail exerts on its post at every crossing, at the post's face, (combinations, clips); kip, kip in.

    F_x to the right, F_y away from the post (it pulls the rail off), F_z up. A rail in the posts' own plane has a clip on
    either side of a post; there F_y is to the front.
    """

    labels: tuple[str, ...]
    F_x: np.ndarray
    F_y: np.ndarray
    F_z: np.ndarray
    M_x: np.ndarray
    M_y: np.ndarray
    M_z: np.ndarray


@dataclass(frozen=True, eq=False)
class Splices:
    """Second-order actions in each rail at each splice, (combinations, splices); signs as :class:`Actions`."""

    labels: tuple[str, ...]
    P: np.ndarray
    V_y: np.ndarray
    V_x: np.ndarray
    T: np.ndarray
    M_x: np.ndarray
    M_y: np.ndarray


@dataclass(frozen=True)
class Base:
    """The foot of a post: ``post 1`` or ``post 1 front``, and where it stands."""

    label: str
    x: Value
    y: Value


@dataclass(frozen=True, eq=False)
class Amplified:
    """Amplifiers of one set: B_2 along and across by combination, B_1 by combination and member about both axes."""

    B_2a: np.ndarray
    B_2t: np.ndarray
    B_1x: np.ndarray
    B_1y: np.ndarray


@dataclass(frozen=True, eq=False)
class Frame:
    """The frame of a rack, solved.

    Attributes:
        sets: The sets of load combinations by name.
        sways: Sway of the rack ``along`` and ``across``.
        drift, deflections: Governing service displacements.
        checks: Sway amplifier, drift, deflection of rails.
        notes: Remarks, in words.

    """

    sets: dict[str, CombinationSet]
    sways: dict[str, Sway]
    drift: dict[str, Value]
    deflections: dict[str, Value]
    checks: tuple[Check, ...]
    notes: tuple[str, ...]
    parts: _Parts

    @property
    def cases(self) -> tuple[str, ...]:
        """Names of the unit cases."""
        return self.parts.analysis.cases

    @property
    def members(self) -> tuple[FrameMember, ...]:
        """Members in order: posts, rails bay by bay, ties, braces."""
        return self.parts.members

    @property
    def bases(self) -> tuple[Base, ...]:
        """Feet of the posts."""
        return self.parts.bases

    @property
    def analysis(self) -> Analysis:
        """The solved unit cases."""
        return self.parts.analysis

    def amplified(self, set_name: str) -> Amplified:
        """Return the amplifiers of a set."""
        return self.parts.once("B", set_name, lambda: self._amplified(self.sets[set_name]))

    def _amplified(self, of: CombinationSet) -> Amplified:
        alpha, solved = ALPHA[of.method], self.analysis.solved
        P = -of.factors @ solved.loads.total[2]
        B_2a, B_2t = (self.sways[d].amplifiers(alpha, P) for d in ("along", "across"))
        axial = self.parts.lateral(of.factors, B_2a, B_2t) @ solved.actions[0].T
        starts = np.array([m.stations[0] for m in self.members])
        most = np.maximum(np.maximum.reduceat(axial, starts, axis=1), 0.0)
        I = np.array([[m.section.I_x.magnitude, m.section.I_y.magnitude] for m in self.members])
        L = np.array([[m.L_x.m_as("in"), m.L_y.m_as("in")] for m in self.members])
        P_e1 = np.asarray(member_strength(E=E_STEEL.magnitude, I=I, L=L))
        return Amplified(B_2a, B_2t, bow(alpha, most, P_e1[:, 0]), bow(alpha, most, P_e1[:, 1]))

    def actions(self, set_name: str) -> Actions:
        """Return the second-order actions in all members under all combinations of a set."""
        return self.parts.once("actions", set_name, lambda: self._actions(self.sets[set_name]))

    def _actions(self, of: CombinationSet) -> Actions:
        B, U, member = self.amplified(of.name), self.analysis.solved.actions, self.analysis.solved.places.member
        C = of.factors
        P = self.parts.lateral(C, B.B_2a, B.B_2t) @ U[0].T
        x_along = np.array([self.parts.sway_of(m, "M_x") == "along" for m in self.members])
        y_along = np.array([self.parts.sway_of(m, "M_y") == "along" for m in self.members])
        by_x = B.B_1x * np.where(x_along, B.B_2a[:, None], B.B_2t[:, None])
        by_y = B.B_1y * np.where(y_along, B.B_2a[:, None], B.B_2t[:, None])
        return Actions(
            P, C @ U[1].T, C @ U[2].T, C @ U[3].T, by_x[:, member] * (C @ U[4].T), by_y[:, member] * (C @ U[5].T), member
        )

    def reactions(self, set_name: str) -> Reactions:
        """Return what the frame exerts on the foundation under all combinations of a set."""
        return self.parts.once("reactions", set_name, lambda: self._reactions(self.sets[set_name]))

    def _reactions(self, of: CombinationSet) -> Reactions:
        B, U, C = self.amplified(of.name), self.analysis.solved.reactions, of.factors
        P = self.parts.lateral(C, B.B_2a, B.B_2t) @ U[0].T
        plain = [C @ u.T for u in U]
        return Reactions(P, plain[1], plain[2], B.B_2t[:, None] * plain[3], B.B_2a[:, None] * plain[4], plain[5])

    def clips(self, set_name: str) -> Clips:
        """Return what the rails exert on the posts under all combinations of a set."""
        return self.parts.once("clips", set_name, lambda: self._clips(self.sets[set_name]))

    def _clips(self, of: CombinationSet) -> Clips:
        B, U = self.amplified(of.name), self.analysis.solved.joints
        C = self.parts.lateral(of.factors, B.B_2a, B.B_2t)
        return Clips(tuple(j.label for j in self.analysis.solved.built.joints), *(C @ u.T for u in U))

    def splices(self, set_name: str) -> Splices:
        """Return the actions in the rails at their splices under all combinations of a set."""
        a, at = self.actions(set_name), list(self.analysis.solved.places.splices)
        labels = tuple(label for label, _ in self.analysis.solved.built.splices)
        return Splices(labels, *(getattr(a, name)[:, at] for name in ACTIONS))

    # --- single numbers, traced -----------------------------------------------------------------------------------

    def action(self, set_name: str, component: str, member: int, combination: int, station: int) -> Value:
        """Return one action as a Value: factors times unit cases, amplified.

        Args:
            set_name: The set.
            component: ``P``, ``V_y``, ``V_x``, ``T``, ``M_x`` or ``M_y``.
            member: Index into ``members``.
            combination: Index into the set.
            station: Index into the arrays of actions.

        """
        of, m = self.sets[set_name], self.members[member]
        c, n = self._factors(of, combination), ACTIONS.index(component)
        where = f"{component} in {m.mark}, station {station - m.stations[0] + 1} of {len(m.stations)}, unit cases"
        results = self.analysis.results["forces" if n < 3 else "moments"]
        Y = take(results, (n % 3, station), where, f"{component}_i")
        if component == "P":
            return force_second(c=c, Y=Y, **self._sway_terms(of, combination)).named("P_r")
        if n < 3:
            return force(c=c, Y=Y).named(f"{component}_r".replace("V_y_r", "V_ry").replace("V_x_r", "V_rx"))
        M = moment(c=c, Y=Y)
        if component == "T":
            return M.named("T_r")
        if m.part == "brace":
            return M.named(f"M_r{component[-1]}")
        sway = self.B_2(set_name, self.parts.sway_of(m, component), combination)
        B_1 = self.B_1(set_name, component[-1], member, combination)
        return amplified_moment(B_1=B_1, B_2=sway, M=M).named(f"M_r{component[-1]}")

    def reaction(self, set_name: str, component: str, base: int, combination: int) -> Value:
        """Return one reaction as a Value; component as in :class:`Reactions`."""
        of, n = self.sets[set_name], REACTIONS.index(component)
        c, where = self._factors(of, combination), f"reaction {component} at {self.bases[base].label}, unit cases"
        results = self.analysis.results["reaction forces" if n < 3 else "reaction moments"]
        Y = take(results, (n % 3, base), where, f"{component}_i")
        if component == "P":
            return force_second(c=c, Y=Y, **self._sway_terms(of, combination)).named("P")
        if n < 3:
            return force(c=c, Y=Y).named(component)
        M = moment(c=c, Y=Y)
        if component == "T":
            return M.named("T")
        return swayed_moment(B_2=self.B_2(set_name, "across" if component == "M_x" else "along", combination), M=M).named(
            component
        )

    def clip(self, set_name: str, component: str, clip: int, combination: int) -> Value:
        """Return one force of a rail on its post as a Value; component as in :class:`Clips`."""
        of, n = self.sets[set_name], JOINTS.index(component)
        label = self.analysis.solved.built.joints[clip].label
        results = self.analysis.results["joint forces" if n < 3 else "joint moments"]
        Y = take(results, (n % 3, clip), f"{component} of {label}, unit cases", f"{component}_i")
        made = force_second if n < 3 else moment_second
        return made(c=self._factors(of, combination), Y=Y, **self._sway_terms(of, combination)).named(component)

    def splice(self, set_name: str, component: str, splice: int, combination: int) -> Value:
        """Return one action in a rail at a splice as a Value; component as in :class:`Actions`."""
        places = self.analysis.solved.places
        station = places.splices[splice]
        return self.action(set_name, component, int(places.member[station]), combination, station)

    def B_2(self, set_name: str, direction: str, combination: int) -> Value:
        """Return the amplifier of the sway ``along`` or ``across`` the rack in a combination."""

        def made() -> Value:
            of = self.sets[set_name]
            F_z = take(self.analysis.results["load forces"], (2,), "vertical loads of the unit cases", "F_z")
            P = story_load(c=self._factors(of, combination), F_z=F_z)
            sway = self.sways[direction]
            return amplifier_sway(alpha=ALPHA[of.method], P_story=P, P_e_story=sway.P_e_story)

        return self.parts.once(f"B_2 {direction} {combination}", set_name, made)

    def B_1(self, set_name: str, axis: str, member: int, combination: int) -> Value:
        """Return the amplifier of a member's bow about its x or y axis in a combination."""

        def made() -> Value:
            m, a = self.members[member], self.actions(set_name)
            at = m.stations[int(np.argmax(a.P[combination, list(m.stations)]))]
            P_r = self.action(set_name, "P", member, combination, at)
            I, L = (m.section.I_x, m.L_x) if axis == "x" else (m.section.I_y, m.L_y)
            P_e1 = member_strength(E=E_STEEL, I=I, L=L)
            return amplifier_member(C_m=C_M, alpha=ALPHA[self.sets[set_name].method], P_r=P_r, P_e1=P_e1)

        return self.parts.once(f"B_1 {axis} {member} {combination}", set_name, made)

    def _factors(self, of: CombinationSet, k: int) -> Value:
        return self.parts.once(f"c {k}", of.name, lambda: of.value(k))

    def _sway_terms(self, of: CombinationSet, k: int) -> dict[str, Value]:
        return {
            **self.parts.masks,
            "B_2a": self.B_2(of.name, "along", k).named("B_2a"),
            "B_2t": self.B_2(of.name, "across", k).named("B_2t"),
        }


@dataclass(eq=False)
class _Parts:
    """What a frame is made of and has worked out so far."""

    analysis: Analysis
    members: tuple[FrameMember, ...]
    bases: tuple[Base, ...]
    made: dict[tuple[str, str], Any] = field(default_factory=dict)

    def once(self, name: str, of: str, work: Any) -> Any:
        """Return what was worked out, or work it out."""
        if (name, of) not in self.made:
            self.made[name, of] = work()
        return self.made[name, of]

    @cached_property
    def masks(self) -> dict[str, Value]:
        """Which unit cases are gravity (g), lateral along (a) and lateral across (t)."""
        cases = self.analysis.cases
        a, t = (np.array([float(c in of) for c in cases]) for of in (ALONG, ACROSS))
        return {n: given(v, "", _MASK, n) for n, v in (("g", 1 - a - t), ("a", a), ("t", t))}

    def lateral(self, factors: np.ndarray, B_2a: np.ndarray, B_2t: np.ndarray) -> np.ndarray:
        """Return factors with those of the lateral cases amplified."""
        g, a, t = (self.masks[n].magnitude for n in "gat")
        return factors * (g + a * B_2a[:, None] + t * B_2t[:, None])

    @staticmethod
    def sway_of(m: FrameMember, component: str) -> str:
        """Return the direction of sway that bends a member about its x (``M_x``) or y axis."""
        upright = m.part == "rail" and not m.flat  # a rail's upright bending goes with sway along the rack
        return "along" if upright == (component == "M_x") else "across"


__all__ = ["ONE", "Actions", "Amplified", "Base", "Clips", "Frame", "Reactions", "Splices"]

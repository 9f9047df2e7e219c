"""Unit cases times factors: every combination as arrays, and single numbers as traced Values."""

from __future__ import annotations

import functools
from functools import cached_property
from typing import Any

import numpy as np

from rackbook.loads.geometry import read
from rackbook.trace import Source, Value

from ..combinations import Combinations, CombinationSet
from ..steel import E as E_STEEL
from .analysis import Analysis
from .arrays import Actions, Amplified, Base, Clips, Reactions, Splices
from .members import FrameMember
from .second_order import ALPHA, C_M, Sway, amplifier_member, amplifier_sway, bow, member_strength, story_load
from .solve import ACTIONS, JOINTS, REACTIONS
from .superpose import amplified_moment, force, force_second, moment, moment_second, swayed_moment, take

ALONG = ("W left", "W right", "W_i left", "W_i right", "Q along", "N along")
ACROSS = ("W front", "W back", "W twist", "W_i front", "W_i back", "W_i twist", "Q across", "Q twist", "N across")
_FACTORS = Source("derivation", "factors of one kind of cases, 0 for the others")
_KINDS = {"g": "gravity cases", "a": "lateral cases along", "t": "lateral cases across"}
_SYMBOLS = {"V_y": "V_ry", "V_x": "V_rx", "T": "T_r", "M_x": "M_rx", "M_y": "M_ry"}


class Superposed:
    """Results of all combinations of a frame, each set worked out when it is first asked for."""

    def __init__(
        self,
        analysis: Analysis,
        combined: Combinations,
        method: str,
        sways: dict[str, Sway],
        members: tuple[FrameMember, ...],
        bases: tuple[Base, ...],
    ) -> None:
        self.analysis, self.combined, self.method = analysis, combined, method
        self.sways, self.members, self.bases = sways, members, bases
        self._made: dict[tuple[str, str], Any] = {}

    @property
    def sets(self) -> dict[str, CombinationSet]:
        """The sets of load combinations by name."""
        return self.combined.sets

    def once(self, name: str, of: str, work: Any) -> Any:
        """Return what was worked out before, or work it out."""
        if (name, of) not in self._made:
            self._made[name, of] = work()
        return self._made[name, of]

    # --- arrays ---------------------------------------------------------------------------------------------------

    @cached_property
    def kinds(self) -> dict[str, np.ndarray]:
        """Which unit cases are gravity (g), lateral along (a) and lateral across (t): 1 or 0 each."""
        a, t = (np.array([float(c in of) for c in self.analysis.cases]) for of in (ALONG, ACROSS))
        return {"g": 1 - a - t, "a": a, "t": t}

    def lateral(self, factors: np.ndarray, B_2a: np.ndarray, B_2t: np.ndarray) -> np.ndarray:
        """Return factors with those of the lateral cases amplified."""
        g, a, t = (self.kinds[n] for n in "gat")
        return factors * (g + a * B_2a[:, None] + t * B_2t[:, None])

    def amplified(self, name: str) -> Amplified:
        """Return the amplifiers of a set."""

        def made() -> Amplified:
            of, solved = self.sets[name], self.analysis.solved
            alpha = ALPHA[of.method]
            P = -of.factors @ solved.loads.total[2]
            B_2a, B_2t = (self.sways[d].amplifiers(alpha, P) for d in ("along", "across"))
            axial = self.lateral(of.factors, B_2a, B_2t) @ solved.actions[0].T
            starts = np.array([m.stations[0] for m in self.members])
            most = np.maximum(np.maximum.reduceat(axial, starts, axis=1), 0.0)
            I = np.array([[m.section.I_x.magnitude, m.section.I_y.magnitude] for m in self.members])
            L = np.array([[m.L_x.m_as("in"), m.L_y.m_as("in")] for m in self.members])
            P_e1 = np.asarray(member_strength(E=E_STEEL.magnitude, I=I, L=L))
            return Amplified(B_2a, B_2t, bow(alpha, most, P_e1[:, 0]), bow(alpha, most, P_e1[:, 1]))

        return self.once("B", name, made)

    def actions(self, name: str) -> Actions:
        """Return the second-order actions in all members."""

        def made() -> Actions:
            B, C = self.amplified(name), self.sets[name].factors
            U, member = self.analysis.solved.actions, self.analysis.solved.places.member
            P = self.lateral(C, B.B_2a, B.B_2t) @ U[0].T
            by = []
            for component, B_1 in (("M_x", B.B_1x), ("M_y", B.B_1y)):
                along = np.array([sway_of(m, component) == "along" for m in self.members])
                by.append(B_1 * np.where(along, B.B_2a[:, None], B.B_2t[:, None]))
            M_x, M_y = (b[:, member] * (C @ U[n].T) for b, n in zip(by, (4, 5), strict=True))
            return Actions(P, C @ U[1].T, C @ U[2].T, C @ U[3].T, M_x, M_y, member)

        return self.once("actions", name, made)

    def reactions(self, name: str) -> Reactions:
        """Return what the frame exerts on the foundation."""

        def made() -> Reactions:
            B, C, U = self.amplified(name), self.sets[name].factors, self.analysis.solved.reactions
            _, V_x, V_y, M_x, M_y, T = (C @ u.T for u in U)
            P = self.lateral(C, B.B_2a, B.B_2t) @ U[0].T
            return Reactions(P, V_x, V_y, B.B_2t[:, None] * M_x, B.B_2a[:, None] * M_y, T)

        return self.once("reactions", name, made)

    def clips(self, name: str) -> Clips:
        """Return what the rails exert on the posts."""

        def made() -> Clips:
            B, solved = self.amplified(name), self.analysis.solved
            C = self.lateral(self.sets[name].factors, B.B_2a, B.B_2t)
            return Clips(tuple(j.label for j in solved.built.joints), *(C @ u.T for u in solved.joints))

        return self.once("clips", name, made)

    def splices(self, name: str) -> Splices:
        """Return the actions in the rails at their splices."""
        a, solved = self.actions(name), self.analysis.solved
        at = list(solved.places.splices)
        return Splices(tuple(label for label, _ in solved.built.splices), *(getattr(a, c)[:, at] for c in ACTIONS))

    # --- single numbers -------------------------------------------------------------------------------------------

    def factors(self, name: str, k: int) -> Value:
        """Return the factors of a combination as a Value."""
        return self.once(f"c {k}", name, lambda: self.sets[name].value(k))

    def unit(self, results: str, place: tuple[int, int], words: str, component: str) -> Value:
        """Return the numbers of all unit cases at one place as a Value."""
        return take(self.analysis.results[results], place, f"{words}, unit cases", f"{component}_i")

    def second(self, name: str, k: int, Y: Value, letter: str) -> Value:
        """Return a force (``F``) or a moment (``M``) of a combination, lateral cases amplified, from its unit cases."""

        def made() -> dict[str, Value]:
            c = {"c": self.factors(name, k)}
            return {
                n: read(f"factors of {words}", _FACTORS, "", functools.partial(_masked, self.kinds[n]), c, f"c_{n}")
                for n, words in _KINDS.items()
            }

        plain, amplified = (force, force_second) if letter == "F" else (moment, moment_second)
        factors = self.once(f"c by kind {k}", name, made)
        parts = {f"{letter}_{n}": plain(c=c, Y=Y).named(f"{letter}_{n}") for n, c in factors.items()}
        B_2a, B_2t = self.B_2(name, "along", k), self.B_2(name, "across", k)
        return amplified(**parts, B_2a=B_2a.named("B_2a"), B_2t=B_2t.named("B_2t"))

    def B_2(self, name: str, direction: str, k: int) -> Value:
        """Return the amplifier of the sway in a combination as a Value."""

        def made() -> Value:
            F_z = take(self.analysis.results["load forces"], (2,), "vertical loads of the unit cases", "F_z")
            P = story_load(c=self.factors(name, k), F_z=F_z)
            return amplifier_sway(alpha=ALPHA[self.sets[name].method], P_story=P, P_e_story=self.sways[direction].P_e_story)

        return self.once(f"B_2 {direction} {k}", name, made)

    def B_1(self, name: str, axis: str, member: int, k: int) -> Value:
        """Return the amplifier of a member's bow in a combination as a Value."""

        def made() -> Value:
            m, a = self.members[member], self.actions(name)
            at = m.stations[int(np.argmax(a.P[k, list(m.stations)]))]
            I, L = (m.section.I_x, m.L_x) if axis == "x" else (m.section.I_y, m.L_y)
            P_e1 = member_strength(E=E_STEEL, I=I, L=L)
            P_r = self.action(name, "P", member, k, at)
            return amplifier_member(C_m=C_M, alpha=ALPHA[self.sets[name].method], P_r=P_r, P_e1=P_e1)

        return self.once(f"B_1 {axis} {member} {k}", name, made)

    def action(self, name: str, component: str, member: int, k: int, station: int) -> Value:
        """Return one action in a member as a Value, the same one each time."""
        return self.once(f"{component} {member} {k} {station}", name, lambda: self._action(name, component, member, k, station))

    def reaction(self, name: str, component: str, base: int, k: int) -> Value:
        """Return one reaction as a Value, the same one each time."""
        return self.once(f"reaction {component} {base} {k}", name, lambda: self._reaction(name, component, base, k))

    def clip(self, name: str, component: str, clip: int, k: int) -> Value:
        """Return one force of a rail on a post as a Value, the same one each time."""
        return self.once(f"clip {component} {clip} {k}", name, lambda: self._clip(name, component, clip, k))

    def _action(self, name: str, component: str, member: int, k: int, station: int) -> Value:
        m, c, n = self.members[member], self.factors(name, k), ACTIONS.index(component)
        where = f"{component} in {m.mark}, station {station - m.stations[0] + 1} of {len(m.stations)}"
        Y = self.unit("forces" if n < 3 else "moments", (n % 3, station), where, component)
        if component == "P":
            return self.second(name, k, Y, "F").named("P_r")
        if n < 3:
            return force(c=c, Y=Y).named(_SYMBOLS[component])
        M = moment(c=c, Y=Y)
        if component == "T":
            return M.named(_SYMBOLS[component])
        B_1, B_2 = self.B_1(name, component[-1], member, k), self.B_2(name, sway_of(m, component), k)
        return amplified_moment(B_1=B_1, B_2=B_2, M=M).named(_SYMBOLS[component])

    def _reaction(self, name: str, component: str, base: int, k: int) -> Value:
        c, n = self.factors(name, k), REACTIONS.index(component)
        where = f"reaction {component} at {self.bases[base].label}"
        Y = self.unit("reaction forces" if n < 3 else "reaction moments", (n % 3, base), where, component)
        if component == "P":
            return self.second(name, k, Y, "F").named(component)
        if n < 3:
            return force(c=c, Y=Y).named(component)
        M = moment(c=c, Y=Y)
        if component == "T":
            return M.named(component)
        return swayed_moment(B_2=self.B_2(name, "across" if component == "M_x" else "along", k), M=M).named(component)

    def _clip(self, name: str, component: str, clip: int, k: int) -> Value:
        n, label = JOINTS.index(component), self.analysis.solved.built.joints[clip].label
        Y = self.unit("joint forces" if n < 3 else "joint moments", (n % 3, clip), f"{component} of {label}", component)
        return self.second(name, k, Y, "F" if n < 3 else "M").named(component)


def _masked(mask: np.ndarray, c: np.ndarray) -> np.ndarray:
    return mask * c


def sway_of(m: FrameMember, component: str) -> str:
    """Return the direction of sway that bends a member about its x (``M_x``) or y axis (``M_y``)."""
    upright = m.part == "rail" and not m.flat  # a rail's upright bending goes with sway along the rack
    return "along" if upright == (component == "M_x") else "across"

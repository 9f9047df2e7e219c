"""Second-order effects by amplified first-order analysis (AISC 360 Appendix 8), with effective lengths (Appendix 7)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rackbook.trace import Source, Value, formula, given
from rackbook.trace.maths import max, min, pi, sqrt, sum

from ..steel import clause

#: The set of combinations the steel is designed by, by method.
SET_OF = {"LRFD": "strength", "ASD": "allowable"}
ALPHA = {
    "LRFD": given(1.0, "", clause("Appendix 8, LRFD"), "alpha"),
    "ASD": given(1.6, "", clause("Appendix 8, ASD"), "alpha"),
}
#: All columns are part of moment frames or cantilever: R_M = 1 - 0.15 with P_mf = P_story.
R_M = given(0.85, "", clause("Appendix 8, Eq. A-8-8, all posts moment frame"), "R_M")
C_M = given(1.0, "", clause("Appendix 8, 8.2.1(b), loads between the supports"), "C_m")
LIMIT_SOURCE = clause("Appendix 7, 7.2.1, effective length method: second to first order")
LIMIT = given(1.5, "", LIMIT_SOURCE, "B_2max")
K_CANTILEVER = given(2.1, "", clause("Table C-A-7.1, fixed and free, recommended"), "K")
K_HELD = given(1.0, "", clause("Appendix 7, 7.2.3(a), sidesway held by bracing"), "K")
K_BETWEEN = given(1.0, "", clause("Appendix 7, 7.2.3, between posts"), "K")


@formula(clause("Appendix 8, Eq. A-8-7"), P_e_story="kip")
def story_strength(R_M, H, L, Delta_H):
    """Return the elastic critical load of the rack in one direction of sway."""
    P_e_story = R_M * H * L / Delta_H
    return P_e_story


@formula(Source("derivation", "sum of all vertical loads of the combination, down"), P_story="kip")
def story_load(c, F_z):
    """Return the vertical load on the rack in a combination."""
    P_story = -sum(c * F_z)
    return P_story


@formula(clause("Appendix 8, Eq. A-8-6; held at 20 where the frame buckles"), B_2="")
def amplifier_sway(alpha, P_story, P_e_story):
    """Return the amplifier for the sway of the rack."""
    B_2 = max(1 / (1 - min(alpha * P_story / P_e_story, 0.95)), 1)
    return B_2


@formula(clause("Appendix 8, Eq. A-8-5, K_1 = 1"), P_e1="kip")
def member_strength(E, I, L):
    """Return the elastic critical load of a member between its ends."""
    P_e1 = pi**2 * E * I / L**2
    return P_e1


@formula(clause("Appendix 8, Eq. A-8-3; held at 20 where the member buckles"), B_1="")
def amplifier_member(C_m, alpha, P_r, P_e1):
    """Return the amplifier for the bow of a member between its ends."""
    B_1 = max(C_m / (1 - min(alpha * P_r / P_e1, 0.95)), 1)
    return B_1


@formula(clause("Commentary to Appendix 7, story stiffness, posts alike"), K="")
def story_factor(E, I, L, n, P_e_story):
    """Return the effective length factor of posts that sway with the whole rack."""
    K = pi / L * sqrt(E * I * n / P_e_story)
    return K


@dataclass(frozen=True, eq=False)
class Sway:
    """Sway of the rack in one direction: what the amplifier rests on.

    Attributes:
        words: ``along`` or ``across``.
        H: Lateral force of the notional case.
        Delta_H: Largest displacement of a post top in it.
        L: Height of the posts.
        P_e_story: Elastic critical load.

    """

    words: str
    H: Value
    Delta_H: Value
    L: Value
    P_e_story: Value

    def amplifiers(self, alpha: Value, P: np.ndarray) -> np.ndarray:
        """Return B_2 for vertical loads of many combinations [kip]."""
        return np.asarray(amplifier_sway(alpha=alpha.magnitude, P_story=P, P_e_story=self.P_e_story.magnitude))


def bow(alpha: Value, P: np.ndarray, P_e1: np.ndarray) -> np.ndarray:
    """Return B_1 of many members (columns) in many combinations (rows) under their largest compression [kip]."""
    return np.asarray(amplifier_member(C_m=C_M.magnitude, alpha=alpha.magnitude, P_r=P, P_e1=P_e1))

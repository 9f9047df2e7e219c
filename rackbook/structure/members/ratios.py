"""Ratios of all members under all combinations at once: demand arrays over strengths that were worked once.

The formulas are those of :mod:`.combined`, run on plain arrays (combinations, stations).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from .angles import about_major, about_minor, principal
from .combined import (
    SPLIT,
    high_axial,
    low_axial,
    open_normal,
    open_shear,
    resultant_moment,
    resultant_shear,
    shear_ratio,
    sum_of_stresses,
    torsion_ratio,
    tube_together,
)
from .strength import Strength
from .torsion import whole_twist

#: Share of an open section's twisting strength below which there is no twisting: rounding of the frame analysis.
NO_TWIST = 1e-6
_COLUMNS = ("P_c", "P_ct", "M_cx", "M_cy", "V_cy", "V_cx", "T_c", "T_cw")


@dataclass(frozen=True, eq=False)
class Capacities:
    """Available strengths as arrays, one entry a station; kip and kip in.

    Attributes:
        P_c, P_ct, M_cx, M_cy, V_cy, V_cx, T_c, T_cw: As in :class:`~.strength.Strength`; T_cw is infinite where nothing
            warps.
        e_y, e_x: Arms about the shear center [in].
        alpha: Angle of an angle's principal axes [rad].
        closed, round, angle, linear: What kind of section: tube, round tube, angle, and one whose ratios are summed (angles
            and strut).
        starts: First station of each member.
        member: Member of each station.

    """

    P_c: np.ndarray
    P_ct: np.ndarray
    M_cx: np.ndarray
    M_cy: np.ndarray
    V_cy: np.ndarray
    V_cx: np.ndarray
    T_c: np.ndarray
    T_cw: np.ndarray
    e_y: np.ndarray
    e_x: np.ndarray
    alpha: np.ndarray
    closed: np.ndarray
    round: np.ndarray
    angle: np.ndarray
    linear: np.ndarray
    starts: np.ndarray
    member: np.ndarray


def capacities(strengths: Sequence[Strength], of_member: Sequence[int], member: np.ndarray) -> Capacities:
    """Return strengths lined up over the stations.

    Args:
        strengths: The different strengths.
        of_member: Which of them each member has.
        member: Member of each station; the stations of a member stand together.

    """
    units = {"P_c": "kip", "P_ct": "kip", "V_cy": "kip", "V_cx": "kip"}
    at = np.asarray(of_member)[member]
    found: dict[str, np.ndarray] = {}
    for name in _COLUMNS:
        values = [getattr(s, name) for s in strengths]
        found[name] = np.array([np.inf if v is None else v.m_as(units.get(name, "kip*in")) for v in values])[at]
    for name in ("e_y", "e_x"):
        found[name] = np.array([getattr(s, name).m_as("in") for s in strengths])[at]
    families = [s.section.family for s in strengths]
    turned = [principal(s.section).alpha.m_as("rad") if s.section.family == "angles" else 0.0 for s in strengths]
    return Capacities(
        **found,
        alpha=np.array(turned)[at],
        closed=np.array([s.section.closed for s in strengths])[at],
        round=np.array([f == "pipes" for f in families])[at],
        angle=np.array([f == "angles" for f in families])[at],
        linear=np.array([f in ("angles", "strut") for f in families])[at],
        starts=np.flatnonzero(np.diff(member, prepend=-1)),
        member=member,
    )


@dataclass(frozen=True, eq=False)
class Ratios:
    """Ratios of all combinations at all stations, (combinations, stations); zero where a check does not apply.

    Attributes:
        interaction: Axial force and bending (H1; H2 for angles and strut).
        shear: Shear, of open sections with that of twisting.
        torsion: Tubes twisted by more than 0.2 of their strength (H3-6), and normal stresses of twisted open sections.
        twist: Twisting moments about the shear center, the largest of the member for open sections.
        twist_at: Station of that largest one.

    """

    interaction: np.ndarray
    shear: np.ndarray
    torsion: np.ndarray
    twist: np.ndarray
    twist_at: np.ndarray

    @property
    def largest(self) -> np.ndarray:
        """The largest of all."""
        return np.maximum(np.maximum(self.interaction, self.shear), self.torsion)


def ratios(actions: Any, c: Capacities) -> Ratios:
    """Return the ratios of all combinations at all stations.

    Args:
        actions: Second-order actions ``P``, ``V_y``, ``V_x``, ``T``, ``M_x``, ``M_y``, (combinations, stations).
        c: Available strengths.

    """
    P, V_y, V_x, M_x, M_y = actions.P, actions.V_y, actions.V_x, actions.M_x, actions.M_y
    if c.round.any():
        M_x = np.where(c.round, resultant_moment(M_rx=M_x, M_ry=M_y), M_x)
        V_y = np.where(c.round, resultant_shear(V_ry=V_y, V_rx=V_x), V_y)
        M_y, V_x = np.where(c.round, 0.0, M_y), np.where(c.round, 0.0, V_x)
    if c.angle.any():
        turned = {"M_x": M_x, "M_y": M_y, "alpha": c.alpha}
        M_x, M_y = np.where(c.angle, about_major(**turned), M_x), np.where(c.angle, about_minor(**turned), M_y)
    P_c = np.where(P >= 0, c.P_c, c.P_ct)
    normal = {"P_r": P, "P_c": P_c, "M_rx": M_x, "M_cx": c.M_cx, "M_ry": M_y, "M_cy": c.M_cy}
    interaction = np.where(np.abs(P) >= SPLIT * P_c, high_axial(**normal), low_axial(**normal))
    if c.linear.any():
        summed = sum_of_stresses(P_r=P, P_c=P_c, M_rw=M_x, M_cw=c.M_cx, M_rz=M_y, M_cz=c.M_cy)
        interaction = np.where(c.linear, summed, interaction)
    T, at = _twist(actions, c)
    sheared = np.maximum(shear_ratio(V_r=V_y, V_c=c.V_cy), shear_ratio(V_r=V_x, V_c=c.V_cx))
    share = torsion_ratio(T_r=T, T_c=c.T_c)
    both = np.maximum(open_shear(V_r=V_y, V_c=c.V_cy, T_r=T, T_c=c.T_c), open_shear(V_r=V_x, V_c=c.V_cx, T_r=T, T_c=c.T_c))
    shear = np.where(c.closed, sheared, both)
    tube = np.where(share > SPLIT, tube_together(**normal, R_v=sheared, T_r=T, T_c=c.T_c), 0.0)
    warped = np.where((share > NO_TWIST) & np.isfinite(c.T_cw), open_normal(**normal, T_r=T, T_cw=c.T_cw), 0.0)
    return Ratios(interaction, shear, np.where(c.closed, tube, warped), T, at)


def _twist(actions: Any, c: Capacities) -> tuple[np.ndarray, np.ndarray]:
    """Return twisting moments about the shear center (open sections: the member's largest), and where they act."""
    T = whole_twist(T=actions.T, V_ry=actions.V_y, e_y=c.e_y, V_rx=actions.V_x, e_x=c.e_x)
    most = np.maximum.reduceat(T, c.starts, axis=1)[:, c.member]
    stations = np.broadcast_to(np.arange(T.shape[1]), T.shape)
    first = np.minimum.reduceat(np.where(most <= T, stations, T.shape[1]), c.starts, axis=1)[:, c.member]
    return np.where(c.closed, T, most), np.where(c.closed, stations, first)

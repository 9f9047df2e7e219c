"""Everything a member can take: nominal strengths of every chapter, and what is available of them by the job's method."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.trace import Value

from ..steel import available, one_of
from .compression import Compression, compression
from .edition import edition_of
from .flexure import flexure
from .flexure_states import Flexure
from .section import Section, as_section
from .shear import Shear, shear
from .tension import Tension, tension
from .torsion import OPEN_STATE, STATE, Torsion, offsets, torsion


@dataclass(frozen=True, eq=False)
class Strength:
    """Strengths of a member.

    Attributes:
        section: Its shape.
        method: ``"LRFD"`` or ``"ASD"``.
        compression, tension, flexure_x, flexure_y, shear_y, shear_x, torsion: Nominal strengths. An angle bends about its
            principal axes: ``flexure_x`` is about w, ``flexure_y`` about z.
        P_c, P_ct: Available strength in compression and in tension.
        M_cx, M_cy: In bending about x and y (an angle: w and z).
        V_cy, V_cx: In shear along the depth and along the width.
        T_c: In twisting; of an open section by its St. Venant shear.
        T_cw: Twisting moment an open section can take by its warping stress; None where nothing warps.
        e_y, e_x: Arms of V_y and V_x about the shear center.

    """

    section: Section
    method: str
    compression: Compression
    tension: Tension
    flexure_x: Flexure
    flexure_y: Flexure
    shear_y: Shear
    shear_x: Shear
    torsion: Torsion
    P_c: Value
    P_ct: Value
    M_cx: Value
    M_cy: Value
    V_cy: Value
    V_cx: Value
    T_c: Value
    T_cw: Value | None
    e_y: Value
    e_x: Value


def strength(
    shape: Any,
    F_y: Value,
    L_cx: Value,
    L_cy: Value,
    L_b: Value,
    L: Value,
    C_b: Value | None = None,
    method: Any = "LRFD",
    edition: Any = "22",
    ends: Any = "concentric",
) -> Strength:
    """Return all strengths of a member.

    Args:
        shape: Designation, section, or family and properties.
        F_y: Yield stress.
        L_cx: Effective length of buckling about x; twisting takes the larger of both.
        L_cy: Effective length of buckling about y.
        L_b: Length between points held against lateral-torsional buckling.
        L: Length of the member, for shear and twisting of round tubes.
        C_b: Factor for the shape of the moments; 1.0 if left out.
        method: ``"LRFD"`` or ``"ASD"``.
        edition: ``"22"`` or ``"16"`` of AISC 360.
        ends: ``"concentric"``, or ``"one leg"`` for an angle held at both ends by the same leg.

    Raises:
        LookupFailed: There is no such shape.
        InputError: A word is not one of those allowed.
        DomainError: A wall is more slender than a clause covers.

    """
    of, method = as_section(shape), one_of("design method", method, ("LRFD", "ASD"))
    about_x, about_y = ("w", "z") if of.family == "angles" else ("x", "y")
    c, t = compression(of, F_y, L_cx, L_cy, ends=ends), tension(of, F_y)
    x, y = (flexure(of, F_y, axis, L_b, C_b, edition_of(edition)) for axis in (about_x, about_y))
    v_y, v_x, twist = shear(of, F_y, "y", L), shear(of, F_y, "x", L), torsion(of, F_y, L)
    T_cw = available(twist.T_nw, OPEN_STATE, method, "T_cw") if twist.T_nw is not None else None
    e_y, e_x = offsets(of)
    return Strength(
        of, method, c, t, x, y, v_y, v_x, twist,
        available(c.P_n, "compression", method, "P_c"),
        available(t.P_n, "tension yielding", method, "P_c"),
        available(x.M_n, "flexure", method, f"M_c{about_x}"),
        available(y.M_n, "flexure", method, f"M_c{about_y}"),
        available(v_y.V_n, v_y.state, method, "V_c"),
        available(v_x.V_n, v_x.state, method, "V_c"),
        available(twist.T_n, STATE if of.closed else OPEN_STATE, method, "T_c"),
        T_cw, e_y, e_x,
    )  # fmt: skip

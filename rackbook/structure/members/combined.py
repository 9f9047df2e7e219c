"""Chapter H: axial force, bending, shear and torsion together. Every formula runs on Values and on plain arrays.

Absolute values are used: each action over the strength of its own kind.
"""

from __future__ import annotations

from rackbook.trace import Value, formula, pick
from rackbook.trace.maths import abs, sqrt

from ..steel import clause

#: Share of axial strength from which Eq. H1-1a holds, and of torsion strength up to which H3.2 neglects it.
SPLIT = 0.2
HIGH, LOW = "Eq. H1-1a, P_r/P_c at least 0.2", "Eq. H1-1b, P_r/P_c below 0.2"


@formula(clause("Eq. H1-1a", "read"), R="")
def high_axial(P_r, P_c, M_rx, M_cx, M_ry, M_cy):
    """Return the ratio of axial force with bending about both axes, the axial share at least 0.2."""
    R = abs(P_r) / P_c + 8 / 9 * (abs(M_rx) / M_cx + abs(M_ry) / M_cy)
    return R


@formula(clause("Eq. H1-1b"), R="")
def low_axial(P_r, P_c, M_rx, M_cx, M_ry, M_cy):
    """Return the ratio of axial force with bending about both axes, the axial share below 0.2."""
    R = abs(P_r) / (2 * P_c) + (abs(M_rx) / M_cx + abs(M_ry) / M_cy)
    return R


@formula(clause("Eq. H2-1, every term with the sign that adds", "read"), R="")
def sum_of_stresses(P_r, P_c, M_rw, M_cw, M_rz, M_cz):
    """Return the ratio of axial force with bending about the principal axes."""
    R = abs(P_r) / P_c + abs(M_rw) / M_cw + abs(M_rz) / M_cz
    return R


@formula(clause("H1.1: a round section bends about the axis of the resultant"), M_r="kip*in")
def resultant_moment(M_rx, M_ry):
    """Return the resultant of the moments on a round section."""
    M_r = sqrt(M_rx**2 + M_ry**2)
    return M_r


@formula(clause("G5: a round section is sheared along the resultant"), V_r="kip")
def resultant_shear(V_ry, V_rx):
    """Return the resultant of the shears on a round section."""
    V_r = sqrt(V_ry**2 + V_rx**2)
    return V_r


@formula(clause("G1"), R="")
def shear_ratio(V_r, V_c):
    """Return the ratio of shear."""
    R = abs(V_r) / V_c
    return R


@formula(clause("H3.2: neglected up to 0.2"), R="")
def torsion_ratio(T_r, T_c):
    """Return the ratio of torsion."""
    R = abs(T_r) / T_c
    return R


@formula(clause("Eq. H3-6"), R="")
def tube_together(P_r, P_c, M_rx, M_cx, M_ry, M_cy, R_v, T_r, T_c):
    """Return the ratio of a tube's axial force and bending with shear and torsion; R_v is that of shear."""
    R = abs(P_r) / P_c + abs(M_rx) / M_cx + abs(M_ry) / M_cy + (R_v + abs(T_r) / T_c) ** 2
    return R


@formula(clause("H3.3(a), with buckling through the strengths of Chapters E and F"), R="")
def open_normal(P_r, P_c, M_rx, M_cx, M_ry, M_cy, T_r, T_cw):
    """Return the ratio of an open section's normal stresses: axial force, bending and warping."""
    R = abs(P_r) / P_c + abs(M_rx) / M_cx + abs(M_ry) / M_cy + abs(T_r) / T_cw
    return R


@formula(clause("H3.3(b), shear of the web or flange with that of torsion"), R="")
def open_shear(V_r, V_c, T_r, T_c):
    """Return the ratio of an open section's shear stresses: shear and St. Venant torsion."""
    R = abs(V_r) / V_c + abs(T_r) / T_c
    return R


def interaction(P_r: Value, P_c: Value, M_rx: Value, M_cx: Value, M_ry: Value, M_cy: Value) -> Value:
    """Return the ratio of Section H1 for axial force with bending about both axes.

    Args:
        P_r: Axial force [kip].
        P_c: Available strength in compression or in tension, whichever P_r is.
        M_rx: Moment about x, of second order.
        M_cx: Its available strength.
        M_ry: Moment about y, of second order.
        M_cy: Its available strength.

    """
    given = {"P_r": P_r, "P_c": P_c, "M_rx": M_rx, "M_cx": M_cx, "M_ry": M_ry, "M_cy": M_cy}
    high = abs(P_r.m_as("kip")) >= SPLIT * P_c.m_as("kip")
    made = {HIGH: high_axial(**given) if high else None, LOW: None if high else low_axial(**given)}
    return pick("R", made, HIGH if high else LOW, "by P_r/P_c", {"P_r": P_r, "P_c": P_c}, clause("H1.1"))

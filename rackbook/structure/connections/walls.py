"""The wall of a post under a plate welded to it upright (AISC 360, Chapter K).

Since 360-16 the specification gives no row of its own for a plate lengthwise on a rectangular HSS; the row of 360-10
(Table K1.2) is that of a branch of the plate's thickness by its length in the present Tables K3.2 and K4.2, chord wall
plastification. These are used, for the clear web of a wide flange too. Assumed: the plate stands in the middle of the
wall (nearer to a corner the wall is stiffer), and force and moments on it add up linearly. The shear through the wall
beside the weld is checked with the largest force on the weld, which for a moment alone is the AISC Manual's limit of a
single plate on an HSS, F_u t l**2 / 5 (Part 10).
"""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import Source, Value, formula
from rackbook.trace.maths import abs, max, min, sqrt

from ..steel import available, clause
from .strength import ROUND_WALL, WALL


@formula(clause("K3.2 and K2.1: required stress of the post over what its steel allows"), U="")
def chord_use(P, A, M_x, S_x, M_y, S_y, F_c):
    """Return the utilization of the post's steel by its own force and moments."""
    U = abs(P) / (A * F_c) + abs(M_x) / (S_x * F_c) + abs(M_y) / (S_y * F_c)
    return U


@formula(clause("Q_f of a plate lengthwise (Eq. K1-17 in 360-10); not below 0.1"), Q_f="")
def chord_stress_factor(U):
    """Return the factor for the stress in the post."""
    Q_f = sqrt(max(1 - U**2, 0.01))
    return Q_f


@formula(clause("Table K2.1, not below 0.1"), Q_f="")
def round_stress_factor(U):
    """Return the factor for the stress in a round post."""
    Q_f = max(1.0 - 0.3 * U * (1 + U), 0.1)
    return Q_f


@formula(clause("K3.1, width ratio of the plate; not above 0.85"), beta="")
def width_ratio(t_p, B):
    """Return the width of the plate on the wall over the width of the wall."""
    beta = min(t_p / B, 0.85)
    return beta


@formula(clause("K3.1, length ratio of the plate"), eta="")
def length_ratio(l_b, B):
    """Return the length of the plate on the wall over the width of the wall."""
    eta = l_b / B
    return eta


@formula(clause("Table K3.2, chord wall plastification (plate: Table K1.2 of 360-10)"), R_n="kip")
def wall_force(F_y, t, eta, beta, Q_f):
    """Return the nominal force across the wall."""
    R_n = F_y * t**2 * (2 * eta / (1 - beta) + 4 / sqrt(1 - beta)) * Q_f
    return R_n


@formula(clause("Table K4.2, chord wall plastification, bending along the post"), M_n="kip*in")
def wall_moment_along(F_y, t, l_b, eta, beta, Q_f):
    """Return the nominal moment on the wall about the axis across the post."""
    M_n = F_y * t**2 * l_b * (1 / (2 * eta) + 2 / sqrt(1 - beta) + eta / (1 - beta)) * Q_f
    return M_n


@formula(clause("Table K4.2, chord wall plastification, bending across the post"), M_n="kip*in")
def wall_moment_across(F_y, t, l_b, B, beta, t_p, Q_f):
    """Return the nominal moment on the wall about the axis along the post."""
    M_n = F_y * t**2 * (0.5 * l_b * (1 + beta) / (1 - beta) + sqrt(2 * B * t_p * (1 + beta) / (1 - beta))) * Q_f
    return M_n


@formula(clause("Table K2.1, plate lengthwise on a round HSS"), R_n="kip")
def round_force(F_y, t, l_b, D, Q_f):
    """Return the nominal force across the wall of a round post."""
    R_n = 5.5 * F_y * t**2 * (1 + 0.25 * l_b / D) * Q_f
    return R_n


@formula(clause("Table K2.1, plate lengthwise, bending along the post"), M_n="kip*in")
def round_moment_along(l_b, R_n):
    """Return the nominal moment on a round post about the axis across it."""
    M_n = 0.8 * l_b * R_n
    return M_n


@formula(
    Source("assumption", "Table K2.1 has no such row: the two faces of the plate as a couple, as for a plate across the post"),
    M_n="kip*in",
)
def round_moment_across(t_p, R_n):
    """Return the nominal moment on a round post about its own axis, from a plate lengthwise."""
    M_n = 0.5 * t_p * R_n
    return M_n


@formula(Source("derivation", "force and moments on the wall add up linearly"), u="")
def wall_use(N, R_c, M_1, M_cw1, M_2, M_cw2):
    """Return the utilization of the wall by a force and moments along (1) and across the post (2)."""
    u = abs(N) / R_c + abs(M_1) / M_cw1 + abs(M_2) / M_cw2
    return u


@dataclass(frozen=True)
class Wall:
    """The wall a plate stands on.

    Attributes:
        kind: ``flat`` (a tube's wall, the web of a wide flange) or ``round``.
        B: Width of the flat wall, or the outside diameter.
        t: Thickness.
        F_y, F_u: Steel.
        r: Outside corner radius of a tube; None for others.

    """

    kind: str
    B: Value
    t: Value
    F_y: Value
    F_u: Value
    r: Value | None = None


@dataclass(frozen=True)
class WallStrength:
    """Strength of a wall under an upright plate: force across it, moments along and across the post, all available."""

    Q_f: Value
    R_n: Value
    R_c: Value
    M_c1: Value
    M_c2: Value


def plate_on_wall(of: Wall, t_p: Value, l_b: Value, U: Value, method: str) -> WallStrength:
    """Return the strength of a wall under a plate of thickness t_p and length l_b along the post.

    Args:
        of: The wall.
        t_p: Thickness of the plate.
        l_b: Its length along the post.
        U: Use of the post's steel, see :func:`chord_use`.
        method: ``"LRFD"`` or ``"ASD"``.

    """
    if of.kind == "round":
        Q_f = round_stress_factor(U=U)
        R_n = round_force(F_y=of.F_y, t=of.t, l_b=l_b, D=of.B, Q_f=Q_f)
        along, across = round_moment_along(l_b=l_b, R_n=R_n), round_moment_across(t_p=t_p, R_n=R_n)
        state = ROUND_WALL
    else:
        Q_f = chord_stress_factor(U=U)
        beta, eta = width_ratio(t_p=t_p, B=of.B), length_ratio(l_b=l_b, B=of.B)
        R_n = wall_force(F_y=of.F_y, t=of.t, eta=eta, beta=beta, Q_f=Q_f)
        along = wall_moment_along(F_y=of.F_y, t=of.t, l_b=l_b, eta=eta, beta=beta, Q_f=Q_f)
        across = wall_moment_across(F_y=of.F_y, t=of.t, l_b=l_b, B=of.B, beta=beta, t_p=t_p, Q_f=Q_f)
        state = WALL
    M_c1, M_c2 = (available(M, state, method, name) for M, name in ((along, "M_cw1"), (across, "M_cw2")))
    return WallStrength(Q_f, R_n, available(R_n, state, method, "R_c"), M_c1, M_c2)

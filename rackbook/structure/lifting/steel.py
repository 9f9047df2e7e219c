"""The rack's own steel under the picks: formulas of demand, and bending strengths bounded from below. Working level, Omega.

The bounds lie below AISC 360 at every length, so that they need no more than a section's table.
"""

from __future__ import annotations

from rackbook.trace import Source, formula
from rackbook.trace.maths import abs, min, pi, sin, sqrt

from ..steel import clause

_LATERAL = Source("derivation", "below AISC 360 F2 and F7: 0.7 F_y, and buckling sideways with plain torsion alone, C_b = 1")
_ELASTIC = Source("derivation", "elastic limit with 0.7 F_y, below AISC 360 Chapter F for the short piece above the rail")
_WEAK = Source("derivation", "elastic limit with 0.7 F_y, below AISC 360 Chapter F")
_LEVER = Source("derivation", "statics of the post above its two top rails")
_SIDES = Source("derivation", "front and back rails share by the lever rule, the rails of a side alike")
_LINEAR = Source("derivation", "sum of the ratios, which AISC 360 H1 never exceeds")


@formula(_LATERAL, M_1="lbf*ft", M_2="lbf*ft", M_a="lbf*ft")
def rail_strength(F_y, S_x, E, I_y, G, J, L_b, Omega_b):
    """Return the allowable moment of a rail between posts, about its strong axis."""
    M_1 = 0.7 * F_y * S_x
    M_2 = pi / L_b * sqrt(E * I_y * G * J)
    M_a = min(M_1, M_2) / Omega_b
    return M_a


@formula(_ELASTIC, M_a="lbf*ft")
def strong_elastic_moment(F_y, S_x, Omega_b):
    """Return the allowable moment of a post about its strong axis."""
    M_a = 0.7 * F_y * S_x / Omega_b
    return M_a


@formula(_WEAK, M_a="lbf*ft")
def weak_elastic_moment(F_y, S_y, Omega_b):
    """Return the allowable moment of a post or rail about its weak axis."""
    M_a = 0.7 * F_y * S_y / Omega_b
    return M_a


@formula(Source("derivation", "half the width of the rail, which is held on one face"), e_r="in")
def held_on_face(B_rail):
    """Return the eccentricity of the compression in the rail."""
    e_r = B_rail / 2
    return e_r


@formula(clause("D2(a), yielding"), P_t="lbf")
def tie_strength(F_y, A, Omega_t):
    """Return the allowable tension of a post."""
    P_t = F_y * A / Omega_t
    return P_t


@formula(_LEVER, P_r="lbf")
def compression_by_lever(H, z_p, z_1, z_2, n_t):
    """Return the compression of each top rail, the next rails below holding the post from turning."""
    P_r = H * (z_p - z_2) / (z_1 - z_2) / n_t
    return P_r


@formula(Source("derivation", "compression shared by the top rails"), P_r="lbf")
def compression_alone(H, n_t):
    """Return the compression of each rail at the height of the picks."""
    P_r = H / n_t
    return P_r


@formula(_LEVER, M_p="lbf*ft")
def post_moment(H, z_p, z_1):
    """Return the moment of the post at the top rail, along the rack."""
    M_p = H * (z_p - z_1)
    return M_p


@formula(_LEVER, M_q="lbf*ft")
def post_moment_across(P_y, z_p, z_1):
    """Return the moment of the post at the top rail, across the rack."""
    M_q = P_y * (z_p - z_1)
    return M_q


@formula(_SIDES, M_r="lbf*ft")
def rail_moment(M, s_r, n):
    """Return the moment of each rail on the governing side of the hung rack."""
    M_r = abs(s_r) * M / n
    return M_r


@formula(Source("derivation", "share of the hung rack's moment, and the picked rail between its posts"), M_r="lbf*ft")
def picked_rail_moment(M, s_r, n, V, L_b):
    """Return the moment of a rail that is picked at the middle of a bay."""
    M_r = abs(s_r) * M / n + V * L_b / 4
    return M_r


@formula(
    Source("derivation", "part of the weight that acts across a rack hanging at a tilt, shared by all rails"), M_t="lbf*ft"
)
def sideways_moment(M, phi, n_r):
    """Return the moment of each rail about its weak axis, from the tilt."""
    M_t = M * sin(phi) / n_r
    return M_t


@formula(_LINEAR, u_r="")
def rail_use(P_r, P_a, M_r, M_a, e_r, M_t, M_ay):
    """Return the utilization of a rail in eccentric compression and bending about both axes."""
    u_r = P_r / P_a + M_r / M_a + (P_r * e_r + M_t) / M_ay
    return u_r


@formula(_LINEAR, u_p="")
def post_use(V, P_t, M_p, M_pa, M_q, M_qa):
    """Return the utilization of a post in tension, bent along and across the rack."""
    u_p = V / P_t + M_p / M_pa + M_q / M_qa
    return u_p


@formula(_SIDES, V_c="lbf")
def joint_force(V, s_r, n):
    """Return the vertical force of each rail on one side."""
    V_c = abs(s_r) * V / n
    return V_c

"""A spread footing under a pier: loads at its underside, turning over, sliding, flexure and shear of the slab.

The pier stands on the middle of the footing. Each axis takes the sum of moment and of shear times height, whatever their
senses. The slab is worked for the largest pressure of the soil as if it acted everywhere, its own weight and that of the
soil above not taken off; but never for more than the whole load at the edge.
"""

from __future__ import annotations

from rackbook.trace import Source, assume, formula, given
from rackbook.trace.maths import abs, max, min, pi, sqrt

from ..concrete import aci
from .soil import ibc

_STATICS = Source("derivation", "equilibrium of the footing")
_GEOMETRY = Source("derivation", "geometry of the footing")
_SLAB = {"f_c_prime": "psi", "d": "in"}
#: From the underside to the middle of the upper layer of bars: 3 in. of cover and a bar and a half.
COVERED = assume(4.5, "in", "3 in. of cover and two layers of bars up to #8: the middle of the upper one", "c_f")
FLEXURE_PHI = given(0.90, "", aci("Table 21.2.1, tension-controlled"), "phi_f")
LEAST_DEPTH = given(6, "in", aci("13.3.1.2"), "d_min")


@formula(_GEOMETRY, W_f="kip")
def slab_weight(gamma_c, L, B, h_f):
    """Return the weight of the footing's slab."""
    W_f = gamma_c * L * B * h_f
    return W_f


@formula(_GEOMETRY, V_f="yd**3")
def slab_volume(L, B, h_f):
    """Return the concrete of the footing's slab."""
    V_f = L * B * h_f
    return V_f


@formula(_GEOMETRY, W_o="kip")
def soil_above(gamma_s, L, B, A_p, D, h_f):
    """Return the weight of the soil on the footing."""
    W_o = gamma_s * (L * B - A_p) * (D - h_f)
    return W_o


@formula(_STATICS, N="kip")
def load_at_underside(P_v, c_D, W_f, W_p, W_o):
    """Return the load at the underside of the footing, with the combination's factor of dead load."""
    N = P_v + c_D * (W_f + W_p + W_o)
    return N


@formula(_STATICS, M_f="kip*ft")
def moment_at_underside(M, V, e_s):
    """Return the moment about one axis at the underside of the footing, shear and moment taken in one sense."""
    M_f = abs(M) + abs(V) * e_s
    return M_f


@formula(_STATICS, M_R="kip*ft")
def moment_against_turning(N, L):
    """Return the moment that a load at its middle puts against turning over an edge."""
    M_R = N * L / 2
    return M_R


@formula(ibc("1806.2: pressures above those of the soil at that depth"), q_net="psf")
def net_pressure(q_max, gamma_s, D):
    """Return the pressure above that of the soil at the depth of the underside."""
    q_net = max(0, q_max - gamma_s * D)
    return q_net


@formula(ibc("1806.3.1"), R_p="kip")
def side_resistance(S, B, D, h_f, d_0):
    """Return the allowable lateral bearing on the narrower side of the slab, below the soil that is not counted on."""
    R_p = S * B * (max(0, D - d_0) ** 2 - max(0, D - h_f - d_0) ** 2) / 2
    return R_p


@formula(ibc("1806.3.1 and Table 1806.2"), R_s="kip")
def sliding_by_friction(mu, N, R_p):
    """Return the resistance to sliding by friction and lateral bearing."""
    R_s = mu * max(0, N) + R_p
    return R_s


@formula(ibc("1806.3.2 and Table 1806.2"), R_s="kip")
def sliding_by_cohesion(c, L, B, N, R_p):
    """Return the resistance to sliding by cohesion, up to half the load, and lateral bearing."""
    R_s = min(c * L * B, max(0, N) / 2) + R_p
    return R_s


@formula(aci("13.2.7.3, round pier as a square of its area"), c_1="in")
def equivalent_square(b):
    """Return the side of the square that stands for a round pier."""
    c_1 = sqrt(pi) / 2 * b
    return c_1


@formula(_GEOMETRY, d="in")
def slab_depth(h_f, c_f):
    """Return the effective depth of the slab, of its upper layer of bars."""
    d = h_f - c_f
    return d


@formula(aci("13.2.7.1"), l="in")
def overhang(L, c_1):
    """Return the overhang of the slab from the face of the pier."""
    l = (L - c_1) / 2
    return l


@formula(_STATICS, m_u="kip*ft/ft")
def cantilever_moment(q_u, l):
    """Return the moment of the slab at the face of the pier, a foot of width."""
    m_u = q_u * l**2 / 2
    return m_u


@formula(Source("derivation", "statics: the whole load at the edge, spread over the width"), m_u="kip*ft/ft")
def edge_moment(N_u, l, B):
    """Return the moment of the slab that no pressure exceeds, a foot of width."""
    m_u = N_u * l / B
    return m_u


@formula(
    aci("22.2 and 22.3, singly reinforced"),
    stated={**_SLAB, "m_u": "lbf*in/in", "f_y": "psi"},
    R_n="psi",
    A_s="in**2/in",
)
def steel_for_moment(m_u, phi_f, f_c_prime, f_y, d):
    """Return the steel for a moment, both a unit of width."""
    R_n = m_u / (phi_f * d**2)
    A_s = 0.85 * f_c_prime / f_y * d * (1 - sqrt(1 - 2 * R_n / (0.85 * f_c_prime)))
    return A_s


@formula(aci("8.6.1.1 by 13.3.3.1"), A_s="in**2/in")
def least_slab_steel(h_f):
    """Return the least steel of the slab, a unit of width."""
    A_s = 0.0018 * h_f
    return A_s


@formula(_STATICS, v_1="lbf/in")
def one_way_shear(q_u, l, d):
    """Return the shear of the slab at d from the face of the pier, a unit of width."""
    v_1 = q_u * max(0, l - d)
    return v_1


@formula(Source("derivation", "statics: the whole load beyond the section, spread over the width"), v_1="lbf/in")
def edge_shear(N_u, B):
    """Return the shear of the slab that no pressure exceeds, a unit of width."""
    v_1 = N_u / B
    return v_1


@formula(
    aci("Table 22.5.5.1 (c), size effect left out by 13.2.6.2"), stated={**_SLAB, "A_s": "in**2/in"}, rho_w="", V_d="lbf/in"
)
def one_way_strength(phi_v, f_c_prime, A_s, d):
    """Return the design one-way shear strength of the slab, a unit of width."""
    rho_w = A_s / d
    V_d = phi_v * min(8 * rho_w ** (1 / 3), 5) * sqrt(f_c_prime) * d
    return V_d


@formula(aci("22.6.4.1"), b_o="in")
def punching_perimeter(c_1, d):
    """Return the perimeter at half the effective depth around the pier."""
    b_o = 4 * (c_1 + d)
    return b_o


@formula(aci("22.6 and 8.4.4.2; a square around the pier, 0.4 of the moments by shear"), b_1="in", J_c="in**4", v_u="psi")
def punching_stress(P_u, M_fx, M_fy, c_1, d, b_o):
    """Return the two-way shear stress of the load and both moments at a corner of the perimeter."""
    b_1 = c_1 + d
    J_c = d * b_1**3 / 6 + b_1 * d**3 / 6 + d * b_1**3 / 2
    v_u = abs(P_u) / (b_o * d) + 0.4 * (M_fx + M_fy) * b_1 / (2 * J_c)
    return v_u


@formula(aci("Table 22.6.5.2, size effect left out by 13.2.6.2"), stated={**_SLAB, "b_o": "in"}, v_d="psi")
def punching_strength(phi_v, f_c_prime, d, b_o):
    """Return the design two-way shear strength around a square or round pier."""
    v_d = phi_v * min(4, 2 + 40 * d / b_o) * sqrt(f_c_prime)
    return v_d


@formula(_STATICS, q_t="psf")
def hanging_load(gamma_c, h_f, gamma_s, D):
    """Return the factored weight of the slab and the soil on it, where its underside is lifted off."""
    q_t = 1.4 * (gamma_c * h_f + gamma_s * (D - h_f))
    return q_t

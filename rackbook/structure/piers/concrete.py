"""Shear, ties, bars and torsion of a concrete pier (ACI 318-19, Chapters 10, 20, 22 and 25).

Concrete of normal weight (lambda = 1) and uncoated bars.
"""

from __future__ import annotations

from rackbook.trace import Source, Value, formula, given, pick
from rackbook.trace.maths import max, min, pi, sin, sqrt

from ..concrete import aci

SHEAR_PHI = given(0.75, "", aci("Table 21.2.1"), "phi_v")
COVER = given(3, "in", aci("Table 20.5.1.3.1, cast against and in contact with ground"), "c_min")
_PSI = {"f_c_prime": "psi", "N_u": "lbf", "A_g": "in**2", "b_w": "in", "d": "in"}
_CAGE = Source("derivation", "geometry of the cage")


@formula(aci("22.5.2.2, solid round section"), d="in")
def round_effective_depth(b):
    """Return the effective depth of a round section in shear; its width is the diameter."""
    d = 0.8 * b
    return d


@formula(aci("22.5.2.2, to the middle of the bars beyond the center"), d="in")
def square_effective_depth(b, y_T):
    """Return the effective depth of a square section, to the middle of the bars in tension."""
    d = b / 2 + y_T
    return d


@formula(aci("Table 22.5.5.1 (a), 22.5.5.1.1 and 22.5.5.1.2"), stated=_PSI, v_N="psi", v_c="psi", V_c="lbf")
def concrete_shear(f_c_prime, N_u, A_g, b_w, d):
    """Return the shear strength of the concrete with at least the minimum ties, axial compression positive."""
    v_N = min(N_u / (6 * A_g), 0.05 * f_c_prime)
    v_c = max(0, min(2 * sqrt(f_c_prime) + v_N, 5 * sqrt(f_c_prime)))
    V_c = v_c * b_w * d
    return V_c


@formula(aci("22.5.5.1.3"), stated={"d": "in"}, lamb_s="")
def size_factor(d):
    """Return the size effect factor."""
    lamb_s = min(1, sqrt(2 / (1 + d / 10)))
    return lamb_s


@formula(Source("derivation", "share of the bars in tension"), rho_w="")
def tension_ratio(n_t, A_b, b_w, d):
    """Return the ratio of the bars in tension."""
    rho_w = n_t * A_b / (b_w * d)
    return rho_w


@formula(aci("Table 22.5.5.1 (c), 22.5.5.1.1 and 22.5.5.1.2"), stated=_PSI, v_N="psi", v_c="psi", V_c="lbf")
def concrete_shear_without_ties(f_c_prime, N_u, A_g, lamb_s, rho_w, b_w, d):
    """Return the shear strength of the concrete with less than the minimum ties, axial compression positive."""
    v_N = min(N_u / (6 * A_g), 0.05 * f_c_prime)
    v_c = max(0, min(8 * lamb_s * rho_w ** (1 / 3) * sqrt(f_c_prime) + v_N, 5 * sqrt(f_c_prime)))
    V_c = v_c * b_w * d
    return V_c


@formula(aci("22.5.8.5.3"), V_s="kip")
def tie_shear(A_v, f_yt, d, s):
    """Return the shear strength of ties at spacing s."""
    V_s = A_v * f_yt * d / s
    return V_s


@formula(_CAGE, A_v="in**2")
def two_legs(A_t):
    """Return the area of a closed tie across a shear crack."""
    A_v = 2 * A_t
    return A_v


@formula(aci("10.6.2.2"), stated={"f_c_prime": "psi", "b_w": "in", "s": "in", "f_yt": "psi"}, A_v="in**2")
def least_ties(f_c_prime, b_w, s, f_yt):
    """Return the least area of ties where ties are needed for shear."""
    A_v = max(0.75 * sqrt(f_c_prime), 50) * b_w * s / f_yt
    return A_v


@formula(aci("22.5.1.2"), stated={"f_c_prime": "psi", "b_w": "in", "d": "in", "V_c": "lbf", "V_s": "lbf"}, V_n="lbf")
def shear_strength(V_c, V_s, f_c_prime, b_w, d):
    """Return the nominal shear strength, the ties' share limited by the size of the section."""
    V_n = V_c + min(V_s, 8 * sqrt(f_c_prime) * b_w * d)
    return V_n


@formula(aci("21.2"), V_d="kip")
def design_shear(phi_v, V_n):
    """Return the design shear strength."""
    V_d = phi_v * V_n
    return V_d


@formula(aci("10.6.2.1, no ties needed for shear up to half the strength of the concrete"), V_d="kip")
def shear_without_ties(phi_v, V_c):
    """Return the shear up to which no ties are needed for shear."""
    V_d = 0.5 * phi_v * V_c
    return V_d


@formula(aci("10.7.6.5.2, V_s up to 4 sqrt(f_c') b_w d"), stated={"d": "in"}, s_max="in")
def tie_spacing_for_shear(d):
    """Return the largest spacing of ties that are needed for shear."""
    s_max = min(d / 2, 24)
    return s_max


@formula(
    aci("10.7.6.5.2, V_s above 4 sqrt(f_c') b_w d"),
    stated={"d": "in"},
    s_max="in",
)
def tie_spacing_for_high_shear(d):
    """Return the largest spacing of ties that carry much of the shear."""
    s_max = min(d / 4, 12)
    return s_max


@formula(aci("25.7.2.1"), s_max="in")
def tie_spacing(d_b, d_t, b):
    """Return the largest spacing of ties by the bars, the ties and the pier."""
    s_max = min(16 * d_b, 48 * d_t, b)
    return s_max


@formula(aci("10.3.1.2: half the area at the least, 0.01 of it in bars"), A_min="in**2")
def least_steel(A_g):
    """Return the least area of bars, the area that is counted on reduced to half."""
    A_min = 0.005 * A_g
    return A_min


@formula(aci("10.6.1.1"), A_max="in**2")
def most_steel(A_g):
    """Return the largest area of bars."""
    A_max = 0.08 * A_g
    return A_max


@formula(_CAGE, s_c="in")
def round_clear(R_s, n, d_b):
    """Return the clear distance between bars on a circle."""
    s_c = 2 * R_s * sin(pi / n) - d_b
    return s_c


@formula(_CAGE, s_c="in")
def square_clear(R_s, n, d_b):
    """Return the clear distance between bars along the sides of a square."""
    s_c = 8 * R_s / n - d_b
    return s_c


@formula(aci("25.2.3"), stated={"d_b": "in"}, s_min="in")
def least_clear(d_b):
    """Return the least clear distance between bars, aggregate apart."""
    s_min = max(1.5, 1.5 * d_b)
    return s_min


_ANCHORED = {"f_y": "psi", "f_c_prime": "psi", "d_b": "in"}


@formula(
    aci("Table 25.4.2.3, #6 and smaller: simplified; the anchorage uses the refined l_d of 25.4.2.4"),
    stated=_ANCHORED,
    l_d="in",
)
def development_small(f_y, f_c_prime, d_b):
    """Return the development length of a bar in tension."""
    l_d = max(12, f_y / (25 * min(100, sqrt(f_c_prime))) * d_b)
    return l_d


@formula(
    aci("Table 25.4.2.3, #7 and larger: simplified; the anchorage uses the refined l_d of 25.4.2.4"), stated=_ANCHORED, l_d="in"
)
def development_large(f_y, f_c_prime, d_b):
    """Return the development length of a bar in tension."""
    l_d = max(12, f_y / (20 * min(100, sqrt(f_c_prime))) * d_b)
    return l_d


@formula(Source("derivation", "geometry of the pier"), l_a="in")
def bar_below(D, z_M, c_min):
    """Return the length of a bar below the section of largest moment."""
    l_a = D - z_M - c_min
    return l_a


@formula(aci("Table 22.7.4.1(a), (c)"), stated={"f_c_prime": "psi", "A_g": "in**2", "p_cp": "in", "N_u": "lbf"}, T_th="lbf*in")
def torsion_threshold(f_c_prime, A_g, p_cp, N_u):
    """Return the torsion below which it may be neglected, axial compression positive."""
    T_th = sqrt(f_c_prime) * A_g**2 / p_cp * sqrt(max(0, 1 + N_u / (4 * A_g * sqrt(f_c_prime))))
    return T_th


@formula(aci("22.7.1.1"), T_d="kip*ft")
def torsion_left_out(phi_v, T_th):
    """Return the torsion below which it may be neglected, reduced for strength."""
    T_d = phi_v * T_th
    return T_d


def least_tie(bar: Value, number_3: Value, number_4: Value, number_10: Value) -> Value:
    """Return the least diameter of ties for bars of a diameter (25.7.2.2): #3 up to #10 bars, #4 for larger ones."""
    small = bar.m_as("in") <= number_10.m_as("in")
    return pick(
        "d_t_min", {"#3": number_3, "#4": number_4}, "#3" if small else "#4",
        because="bars up to #10" if small else "bars above #10", by={"d_b": bar}, source=aci("25.7.2.2"),
    )  # fmt: skip

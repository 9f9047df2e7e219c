"""Concrete breakout of cast-in headed rods in tension, in narrow piers too.

Normal-weight concrete. A group is a rectangle of rods centered or not between four edges; ``c_1`` and ``c_2`` are the
distances from its outer rods to the edges along the direction of ``s_1``, ``c_3`` and ``c_4`` those along ``s_2``.
"""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import DomainError, Value, assume, formula, given, largest, pick, smallest
from rackbook.trace.maths import min, sqrt

from ..concrete import aci
from .clauses import PHI_CONCRETE, derived, phi

CRACKED = given(1.0, "", aci("17.6.2.5.1: cracked"), "psi_cN")
UNCRACKED = given(1.25, "", aci("17.6.2.5.1(a): cast-in, no cracking at service loads"), "psi_cN")
NO_ECCENTRICITY = assume(0.0, "in", "the tension acts at the middle of the rods", "e_N_prime")
NO_SPACING = assume(0.0, "in", "one row of rods that way", "s")
ONE = given(1.0, "", derived("number of gaps between the rods that way"), "g")


@formula(derived("rods evenly spaced"), s="in")
def spacing(s_o, g):
    """Return the spacing of neighboring rods."""
    s = s_o / g
    return s


@formula(aci("17.6.2.1.2"), h_1="in")
def depth_by_edge(c_amax):
    """Return the embedment that the farthest of the near edges leaves in a narrow member."""
    h_1 = c_amax / 1.5
    return h_1


@formula(aci("17.6.2.1.2"), h_2="in")
def depth_by_spacing(s):
    """Return the embedment that the rods' spacing leaves in a narrow member."""
    h_2 = s / 3
    return h_2


@formula(aci("Eq. 17.6.2.1.4"), A_Nco="in**2")
def single_area(h_ef):
    """Return the projected area of one rod far from edges."""
    A_Nco = 9 * h_ef**2
    return A_Nco


@formula(aci("17.6.2.1.1"), b_1="in", b_2="in", A_Nc="in**2")
def group_area(c_1, c_2, s_1, g_1, c_3, c_4, s_2, g_2, n, h_ef):
    """Return the projected area of a rectangle of rods: to 1.5 h_ef or to the edge, and n times A_Nco at most."""
    b_1 = min(c_1, 1.5 * h_ef) + min(s_1, 3 * g_1 * h_ef) + min(c_2, 1.5 * h_ef)
    b_2 = min(c_3, 1.5 * h_ef) + min(s_2, 3 * g_2 * h_ef) + min(c_4, 1.5 * h_ef)
    A_Nc = min(b_1 * b_2, 9 * n * h_ef**2)
    return A_Nc


@formula(derived("rods of two adjoining rows only: the corner across is not theirs"), A_Nc="in**2")
def corner_area(A_r, s_1, g_1, s_2, g_2, h_ef):
    """Return the projected area of rods that stand in an angle."""
    A_Nc = A_r - min(s_1, 3 * g_1 * h_ef) * min(s_2, 3 * g_2 * h_ef)
    return A_Nc


@formula(aci("Eq. 17.6.2.3.1"), psi_ecN="")
def eccentricity_factor(e_N_prime, h_ef):
    """Return the factor for tension that acts off the middle of the rods in tension."""
    psi_ecN = 1 / (1 + e_N_prime / (1.5 * h_ef))
    return psi_ecN


@formula(aci("17.6.2.3.1: product about both axes"), psi_ecN="")
def eccentricity_both(psi_1, psi_2):
    """Return the factor for tension off the middle both ways."""
    psi_ecN = psi_1 * psi_2
    return psi_ecN


@formula(aci("Eq. 17.6.2.4.1"), psi_edN="")
def edge_factor(c_amin, h_ef):
    """Return the factor for the nearest edge."""
    psi_edN = min(0.7 + 0.3 * c_amin / (1.5 * h_ef), 1)
    return psi_edN


@formula(aci("Eq. 17.6.2.2.1, k_c = 24"), stated={"f_c_prime": "psi", "h_ef": "in"}, N_b="lbf")
def basic_breakout(f_c_prime, h_ef):
    """Return the basic breakout strength of one cast-in rod."""
    N_b = 24 * sqrt(f_c_prime) * h_ef**1.5
    return N_b


@formula(aci("Eq. 17.6.2.2.3, 11 in. to 25 in."), stated={"f_c_prime": "psi", "h_ef": "in"}, N_b="lbf")
def basic_breakout_deep(f_c_prime, h_ef):
    """Return the basic breakout strength of one deep headed rod."""
    N_b = 16 * sqrt(f_c_prime) * h_ef ** (5 / 3)
    return N_b


@formula(aci("Eq. 17.6.2.1b, psi_cp = 1 of a cast-in rod"), N_cbg="kip")
def breakout_strength(A_Nc, A_Nco, psi_ecN, psi_edN, psi_cN, N_b):
    """Return the nominal breakout strength of the rods in tension."""
    N_cbg = A_Nc / A_Nco * psi_ecN * psi_edN * psi_cN * N_b
    return N_cbg


@formula(aci("17.5.1.2"), phi_N_n="kip")
def design_tension(phi, N_n):
    """Return the design strength in tension."""
    phi_N_n = phi * N_n
    return phi_N_n


@formula(aci("17.10.5.4: tension from earthquake, category C and above"), phi_N_n="kip")
def design_tension_seismic(phi_eq, phi, N_n):
    """Return the design strength of concrete in tension from an earthquake."""
    phi_N_n = phi_eq * phi * N_n
    return phi_N_n


@dataclass(frozen=True, eq=False)
class Breakout:
    """Concrete breakout of rods in tension.

    Attributes:
        narrow: Whether three or more edges are nearer than 1.5 h_ef, so that h_ef' counts.
        h_ef: Embedment the strength is worked with.
        c_amin: Nearest edge.
        A_Nc, A_Nco, psi_ecN, psi_edN, psi_cN, N_b: Parts of the strength.
        N_cbg, phi_N_cbg: Nominal and design strength.

    """

    narrow: bool
    h_ef: Value
    c_amin: Value
    A_Nc: Value
    A_Nco: Value
    psi_ecN: Value
    psi_edN: Value
    psi_cN: Value
    N_b: Value
    N_cbg: Value
    phi_N_cbg: Value


def cracking(symbol: str, yes: Value, no: Value, cracked: bool) -> Value:
    """Return the factor for concrete that may be cracked, or not."""
    because = "the concrete of a bent pier cracks" if cracked else "no cracking at service loads, as the engineer says"
    return pick(symbol, {"cracked": yes, "uncracked": no}, "cracked" if cracked else "uncracked", because)


def _near(edges: dict[str, Value], h_ef: Value) -> dict[str, Value]:
    return {name: c for name, c in edges.items() if c.m_as("in") < 1.5 * h_ef.m_as("in") * (1 - 1e-12)}


def effective_depth(h_ef: Value, edges: dict[str, Value], s: Value) -> Value:
    """Return the embedment that counts: h_ef, or less where three or more edges are nearer than 1.5 h_ef.

    Args:
        h_ef: Embedment.
        edges: The four distances from the outer rods to the edges, by name.
        s: Largest spacing of neighboring rods.

    """
    near = _near(edges, h_ef)
    if len(near) < 3:
        return h_ef
    by_edge = depth_by_edge(c_amax=largest("c_amax", near))
    bound = largest("h_ef_prime", {"farthest near edge": by_edge, "spacing": depth_by_spacing(s=s)}, aci("17.6.2.1.2"))
    return smallest("h_ef_prime", {"narrow member": bound, "embedment": h_ef})


def basic(f_c_prime: Value, h_ef: Value) -> Value:
    """Return the basic breakout strength; between 11 and 25 in. the larger of two expressions is permitted.

    Raises:
        DomainError: The embedment is not above zero.

    """
    if h_ef.magnitude <= 0:
        raise DomainError(f"h_ef = {h_ef.text()}: a rod is embedded; give a depth above zero.")
    usual = basic_breakout(f_c_prime=f_c_prime, h_ef=h_ef)
    if not 11 <= h_ef.m_as("in") <= 25:
        return usual
    deep = basic_breakout_deep(f_c_prime=f_c_prime, h_ef=h_ef)
    return largest("N_b", {"Eq. 17.6.2.2.3": deep, "Eq. 17.6.2.2.1": usual}, aci("17.6.2.2.3: permitted alternatively"))


def breakout(
    f_c_prime: Value, h_ef: Value, c_1: Value, c_2: Value, c_3: Value, c_4: Value, n: Value,
    s_1: Value = NO_SPACING, s_2: Value = NO_SPACING, g_1: Value = ONE, g_2: Value = ONE,
    e_1: Value = NO_ECCENTRICITY, e_2: Value = NO_ECCENTRICITY, cracked: bool = True, angle: bool = False,
) -> Breakout:  # fmt: skip
    """Return the breakout strength of cast-in rods in tension.

    Args:
        f_c_prime: Concrete strength.
        h_ef: Embedment to the bearing face of the head.
        c_1: Distance from the foremost rods to the edge ahead of them, along s_1.
        c_2: Distance from the hindmost rods to the edge behind them, along s_1.
        c_3: As c_1, along s_2.
        c_4: As c_2, along s_2.
        n: Number of rods in tension.
        s_1: Distance between the outer rods one way.
        s_2: Distance between the outer rods the other way.
        g_1: Number of gaps between rods along s_1.
        g_2: Number of gaps between rods along s_2.
        e_1: Distance of the resultant from the middle of the rods, along s_1.
        e_2: The same along s_2.
        cracked: Whether the concrete may be cracked.
        angle: Whether the rods stand in two adjoining rows of the rectangle only.

    Raises:
        DomainError: A rod lies at or beyond an edge, or the embedment is not above zero.

    """
    edges = {"c_1": c_1, "c_2": c_2, "c_3": c_3, "c_4": c_4}
    for name, c in edges.items():
        if c.magnitude <= 0:
            raise DomainError(
                f"An anchor lies outside the concrete: {name} = {c.text()}. Move the rods in or widen the member."
            )
    gaps = [s.m_as("in") / g.magnitude for s, g in ((s_1, g_1), (s_2, g_2))]
    widest, parts = (s_1, g_1) if gaps[0] >= gaps[1] else (s_2, g_2)
    s = spacing(s_o=widest, g=parts)
    h = effective_depth(h_ef, edges, s)
    A_Nc = group_area(c_1=c_1, c_2=c_2, s_1=s_1, g_1=g_1, c_3=c_3, c_4=c_4, s_2=s_2, g_2=g_2, n=n, h_ef=h)
    if angle:
        A_Nc = corner_area(A_r=A_Nc, s_1=s_1, g_1=g_1, s_2=s_2, g_2=g_2, h_ef=h)
    A_Nco = single_area(h_ef=h)
    ec = eccentricity_both(psi_1=eccentricity_factor(e_N_prime=e_1, h_ef=h), psi_2=eccentricity_factor(e_N_prime=e_2, h_ef=h))
    c_amin = smallest("c_amin", edges)
    ed = edge_factor(c_amin=c_amin, h_ef=h)
    c = cracking("psi_cN", CRACKED, UNCRACKED, cracked)
    N_b = basic(f_c_prime, h)
    N_cbg = breakout_strength(A_Nc=A_Nc, A_Nco=A_Nco, psi_ecN=ec, psi_edN=ed, psi_cN=c, N_b=N_b)
    design = design_tension(phi=phi(PHI_CONCRETE), N_n=N_cbg).named("phi_N_cbg")
    return Breakout(len(_near(edges, h_ef)) > 2, h, c_amin, A_Nc, A_Nco, ec, ed, c, N_b, N_cbg, design)

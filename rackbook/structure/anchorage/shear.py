"""Shear of cast-in rods in concrete: breakout toward and along an edge, pryout, interaction with tension.

Normal-weight concrete. The shear of a base is taken by the rods nearest to the edge alone where breakout is judged.
"""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import DomainError, Value, assume, formula, given, largest, pick, smallest
from rackbook.trace.maths import max, min, sqrt

from ..concrete import aci
from .breakout import NO_SPACING, ONE, spacing
from .clauses import PHI_CONCRETE, PHI_PULLOUT, phi

NO_ECCENTRICITY = assume(0.0, "in", "the shear acts at the middle of the rods", "e_V_prime")
#: Factors of 17.7.2.5.1 by what crosses the breakout.
SUPPLEMENTARY = {
    "cracked, no bar of No. 4 or larger": given(1.0, "", aci("17.7.2.5.1: cracked"), "psi_cV"),
    "cracked, No. 4 or larger between rods and edge": given(1.2, "", aci("17.7.2.5.1: No. 4 at the edge"), "psi_cV"),
    "cracked, ties at 4 in. or closer": given(1.4, "", aci("17.7.2.5.1: ties at 4 in. at most"), "psi_cV"),
    "uncracked": given(1.4, "", aci("17.7.2.5.1: no cracking at service loads"), "psi_cV"),
}
BARE = next(iter(SUPPLEMENTARY))
PRYOUT_SHALLOW = given(1.0, "", aci("17.7.3.1: h_ef below 2.5 in."), "k_cp")
PRYOUT_DEEP = given(2.0, "", aci("17.7.3.1: h_ef of 2.5 in. or more"), "k_cp")


@formula(aci("17.7.2.1.2"), c_1="in")
def edge_by_edge(c_a2max):
    """Return the edge distance that the farther side edge leaves in a narrow, thin member."""
    c_1 = c_a2max / 1.5
    return c_1


@formula(aci("17.7.2.1.2"), c_2="in")
def edge_by_thickness(h_a):
    """Return the edge distance that the thickness leaves in a narrow, thin member."""
    c_2 = h_a / 1.5
    return c_2


@formula(aci("17.7.2.1.2"), c_3="in")
def edge_by_spacing(s):
    """Return the edge distance that the spacing leaves in a narrow, thin member."""
    c_3 = s / 3
    return c_3


@formula(aci("Eq. 17.7.2.1.3"), A_Vco="in**2")
def single_face(c_a1):
    """Return the projected area of one rod in a deep member, far from side edges."""
    A_Vco = 4.5 * c_a1**2
    return A_Vco


@formula(aci("17.7.2.1.1"), b="in", A_Vc="in**2")
def group_face(c_l, s, g, c_r, h_a, n, c_a1):
    """Return the projected area of a row of rods on the side of the member, n times A_Vco at most."""
    b = min(c_l, 1.5 * c_a1) + min(s, 3 * g * c_a1) + min(c_r, 1.5 * c_a1)
    A_Vc = min(b * min(h_a, 1.5 * c_a1), 4.5 * n * c_a1**2)
    return A_Vc


@formula(aci("Eq. 17.7.2.3.1"), psi_ecV="")
def eccentricity_factor(e_V_prime, c_a1):
    """Return the factor for shear that acts off the middle of its rods."""
    psi_ecV = 1 / (1 + e_V_prime / (1.5 * c_a1))
    return psi_ecV


@formula(aci("Eq. 17.7.2.4.1"), psi_edV="")
def edge_factor(c_a2min, c_a1):
    """Return the factor for the nearer side edge."""
    psi_edV = min(0.7 + 0.3 * c_a2min / (1.5 * c_a1), 1)
    return psi_edV


@formula(aci("Eq. 17.7.2.6.1"), psi_hV="")
def thickness_factor(c_a1, h_a):
    """Return the factor for a thin member."""
    psi_hV = max(sqrt(1.5 * c_a1 / h_a), 1)
    return psi_hV


@formula(aci("17.7.2.2.1: load-bearing length"), l_e="in")
def bearing_length(h_ef, d_a):
    """Return the length over which a rod of one stiffness bears in shear."""
    l_e = min(h_ef, 8 * d_a)
    return l_e


_STATED = {"l_e": "in", "d_a": "in", "f_c_prime": "psi", "c_a1": "in"}


@formula(aci("Eq. 17.7.2.2.1a"), stated=_STATED, V_b="lbf")
def basic_rod(l_e, d_a, f_c_prime, c_a1):
    """Return the basic breakout strength of one rod in shear."""
    V_b = 7 * (l_e / d_a) ** 0.2 * sqrt(d_a) * sqrt(f_c_prime) * c_a1**1.5
    return V_b


@formula(aci("17.7.2.2.2: welded to a steel attachment"), stated=_STATED, V_b="lbf")
def basic_welded(l_e, d_a, f_c_prime, c_a1):
    """Return the basic breakout strength of one welded stud in shear."""
    V_b = 8 * (l_e / d_a) ** 0.2 * sqrt(d_a) * sqrt(f_c_prime) * c_a1**1.5
    return V_b


@formula(aci("Eq. 17.7.2.2.1b"), stated={"f_c_prime": "psi", "c_a1": "in"}, V_b="lbf")
def basic_most(f_c_prime, c_a1):
    """Return the bound of the basic breakout strength in shear."""
    V_b = 9 * sqrt(f_c_prime) * c_a1**1.5
    return V_b


@formula(aci("Eq. 17.7.2.1b"), V_cbg="kip")
def breakout_strength(A_Vc, A_Vco, psi_ecV, psi_edV, psi_cV, psi_hV, V_b):
    """Return the nominal breakout strength toward an edge."""
    V_cbg = A_Vc / A_Vco * psi_ecV * psi_edV * psi_cV * psi_hV * V_b
    return V_cbg


@formula(aci("17.7.2.1(c): along an edge, psi_edV = 1"), V_cbg="kip")
def along_edge(A_Vc, A_Vco, psi_ecV, psi_cV, psi_hV, V_b):
    """Return the nominal breakout strength for shear along an edge: twice that toward it."""
    V_cbg = 2 * (A_Vc / A_Vco * psi_ecV * psi_cV * psi_hV * V_b)
    return V_cbg


@formula(aci("Eq. 17.7.3.1b"), V_cpg="kip")
def pryout_strength(k_cp, N_cpg):
    """Return the nominal pryout strength."""
    V_cpg = k_cp * N_cpg
    return V_cpg


@formula(aci("17.5.1.2"), phi_V_n="kip")
def design_shear(phi, V_n):
    """Return the design strength in shear."""
    phi_V_n = phi * V_n
    return phi_V_n


@dataclass(frozen=True, eq=False)
class ShearBreakout:
    """Concrete breakout in shear toward (or along) an edge.

    Attributes:
        narrow: Whether side edges and thickness are all below 1.5 c_a1, so that c_a1' counts.
        c_a1: Edge distance the strength is worked with.
        A_Vc, A_Vco, psi_ecV, psi_edV, psi_cV, psi_hV, V_b: Parts of the strength.
        V_cbg, phi_V_cbg: Nominal and design strength toward the edge.
        V_par, phi_V_par: The same along the edge.

    """

    narrow: bool
    c_a1: Value
    A_Vc: Value
    A_Vco: Value
    psi_ecV: Value
    psi_edV: Value
    psi_cV: Value
    psi_hV: Value
    V_b: Value
    V_cbg: Value
    phi_V_cbg: Value
    V_par: Value
    phi_V_par: Value


@dataclass(frozen=True, eq=False)
class Pryout:
    """Pryout of all rods: factor, nominal and design strength."""

    k_cp: Value
    V_cpg: Value
    phi_V_cpg: Value


def effective_edge(c_a1: Value, sides: dict[str, Value], h_a: Value, s: Value) -> Value:
    """Return the edge distance that counts: c_a1, or less where both sides and the thickness are below 1.5 c_a1.

    Args:
        c_a1: Distance of the rods from the edge they are pushed to.
        sides: The two distances to the side edges, by name.
        h_a: Thickness of the member along the rods.
        s: Largest spacing of neighboring rods along the edge.

    """
    if not _narrow(c_a1, sides, h_a):
        return c_a1
    bounds = {
        "side edge": edge_by_edge(c_a2max=largest("c_a2max", sides)),
        "thickness": edge_by_thickness(h_a=h_a),
        "spacing": edge_by_spacing(s=s),
    }
    bound = largest("c_a1_prime", bounds, aci("17.7.2.1.2"))
    return smallest("c_a1_prime", {"narrow member": bound, "edge": c_a1})


def _narrow(c_a1: Value, sides: dict[str, Value], h_a: Value) -> bool:
    reach = 1.5 * c_a1.m_as("in") * (1 - 1e-12)
    return all(v.m_as("in") < reach for v in (*sides.values(), h_a))


def shear_breakout(
    f_c_prime: Value, d_a: Value, h_ef: Value, c_a1: Value, c_l: Value, c_r: Value, h_a: Value, n: Value,
    s: Value = NO_SPACING, g: Value = ONE, e_V: Value = NO_ECCENTRICITY, crossing: str = BARE, welded: bool = False,
) -> ShearBreakout:  # fmt: skip
    """Return the breakout strength of a row of rods pushed toward an edge, and along it.

    Args:
        f_c_prime: Concrete strength.
        d_a: Diameter of the rods.
        h_ef: Embedment.
        c_a1: Distance of the row from the edge.
        c_l: Distance of its outer rod on the left from the side edge there.
        c_r: The same on the right.
        h_a: Thickness of the member along the rods.
        n: Number of rods of the row.
        s: Distance between its outer rods.
        g: Number of gaps between them.
        e_V: Distance of the shear from the middle of the row.
        crossing: Key of ``SUPPLEMENTARY``: cracking, and what bars cross the breakout.
        welded: Whether the rods are studs welded to the attachment.

    Raises:
        DomainError: A rod lies at or beyond an edge, or ``crossing`` is not a key.

    """
    sides = {"c_l": c_l, "c_r": c_r}
    for name, c in (("c_a1", c_a1), *sides.items(), ("h_a", h_a)):
        if c.magnitude <= 0:
            raise DomainError(f"An anchor lies outside the concrete: {name} = {c.text()}. Move it in or widen the member.")
    if crossing not in SUPPLEMENTARY:
        raise DomainError(f"'{crossing}' is not a case of 17.7.2.5.1. Cases: {'; '.join(SUPPLEMENTARY)}.")
    c = effective_edge(c_a1, sides, h_a, spacing(s_o=s, g=g))
    A_Vc, A_Vco = group_face(c_l=c_l, s=s, g=g, c_r=c_r, h_a=h_a, n=n, c_a1=c), single_face(c_a1=c)
    ec = eccentricity_factor(e_V_prime=e_V, c_a1=c)
    ed = edge_factor(c_a2min=smallest("c_a2min", sides), c_a1=c)
    psi_c = pick("psi_cV", dict(SUPPLEMENTARY), crossing, "what the job gives")
    psi_h = thickness_factor(c_a1=c, h_a=h_a)
    l_e = bearing_length(h_ef=h_ef, d_a=d_a)
    made = (basic_welded if welded else basic_rod)(l_e=l_e, d_a=d_a, f_c_prime=f_c_prime, c_a1=c)
    V_b = smallest("V_b", {"by the rod": made, "bound": basic_most(f_c_prime=f_c_prime, c_a1=c)}, aci("17.7.2.2.1"))
    parts = {"A_Vc": A_Vc, "A_Vco": A_Vco, "psi_ecV": ec, "psi_cV": psi_c, "psi_hV": psi_h, "V_b": V_b}
    V_cbg, V_par = breakout_strength(psi_edV=ed, **parts), along_edge(**parts).named("V_par")
    toward, along = (design_shear(phi=phi(PHI_CONCRETE), V_n=v) for v in (V_cbg, V_par))
    return ShearBreakout(
        _narrow(c_a1, sides, h_a), c, A_Vc, A_Vco, ec, ed, psi_c, psi_h, V_b,
        V_cbg, toward.named("phi_V_cbg"), V_par, along.named("phi_V_par"),
    )  # fmt: skip


def pryout(h_ef: Value, N_cpg: Value) -> Pryout:
    """Return the pryout strength of rods in shear.

    Args:
        h_ef: Embedment.
        N_cpg: Nominal breakout strength in tension of the rods in shear, as if all were pulled.

    """
    deep = h_ef.m_as("in") >= 2.5
    k_cp = pick("k_cp", {"below 2.5 in.": PRYOUT_SHALLOW, "2.5 in. or more": PRYOUT_DEEP},
                "2.5 in. or more" if deep else "below 2.5 in.", "embedment", {"h_ef": h_ef})  # fmt: skip
    V_cpg = pryout_strength(k_cp=k_cp, N_cpg=N_cpg)
    return Pryout(k_cp, V_cpg, design_shear(phi=phi(PHI_PULLOUT), V_n=V_cpg).named("phi_V_cpg"))

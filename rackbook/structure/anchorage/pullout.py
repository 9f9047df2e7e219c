"""Pullout of one headed or hooked rod, and side-face blowout of rods near an edge; normal-weight concrete."""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import DomainError, Value, formula, given
from rackbook.trace.maths import max, min, sqrt

from ..concrete import aci
from .breakout import cracking, design_tension
from .clauses import PHI_CONCRETE, PHI_PULLOUT, phi

CRACKED_PULLOUT = given(1.0, "", aci("17.6.3.3.1(b): cracked"), "psi_cP")
UNCRACKED_PULLOUT = given(1.4, "", aci("17.6.3.3.1(a): no cracking at service loads"), "psi_cP")


@formula(aci("Eq. 17.6.3.2.2a and 17.6.3.1"), N_pn="kip")
def head_pullout(psi_cP, A_brg, f_c_prime):
    """Return the nominal pullout strength of one headed rod."""
    N_pn = psi_cP * 8 * A_brg * f_c_prime
    return N_pn


@formula(aci("Eq. 17.6.3.2.2b: 3 d_a to 4.5 d_a of hook"), N_pn="kip")
def hook_pullout(psi_cP, f_c_prime, e_h, d_a):
    """Return the nominal pullout strength of one hooked rod."""
    N_pn = psi_cP * 0.9 * f_c_prime * e_h * d_a
    return N_pn


@formula(aci("Eq. 17.6.4.1"), stated={"c_a1": "in", "A_brg": "in**2", "f_c_prime": "psi"}, N_sb="lbf")
def side_blowout(c_a1, A_brg, f_c_prime):
    """Return the nominal side-face blowout strength of one headed rod near an edge."""
    N_sb = 160 * c_a1 * sqrt(A_brg) * sqrt(f_c_prime)
    return N_sb


@formula(aci("17.6.4.1.1"), N_sbc="kip")
def side_blowout_corner(N_sb, c_a1, c_a2):
    """Return the nominal side-face blowout strength of one rod near a corner."""
    N_sbc = N_sb * (1 + max(min(c_a2 / c_a1, 3), 1)) / 4
    return N_sbc


@formula(aci("Eq. 17.6.4.2"), N_sbg="kip")
def side_blowout_group(N_sb, s, c_a1):
    """Return the nominal side-face blowout strength of a row of rods along an edge."""
    N_sbg = N_sb * (1 + s / (6 * c_a1))
    return N_sbg


@dataclass(frozen=True, eq=False)
class Blowout:
    """Side-face blowout of rods near an edge.

    Attributes:
        applies: Whether h_ef is above 2.5 c_a1; the other attributes are None where it is not.
        N_sb: Strength of one rod far from other edges.
        N_sbc, phi_N_sbc: Nominal and design strength of one rod, with the nearer perpendicular edge.
        N_sbg, phi_N_sbg: Nominal and design strength of the row along the edge; None of a single rod.

    """

    applies: bool
    N_sb: Value | None = None
    N_sbc: Value | None = None
    phi_N_sbc: Value | None = None
    N_sbg: Value | None = None
    phi_N_sbg: Value | None = None


@dataclass(frozen=True, eq=False)
class Pullout:
    """Pullout of one rod: nominal and design strength."""

    N_pn: Value
    phi_N_pn: Value


def pullout(f_c_prime: Value, A_brg: Value, cracked: bool = True) -> Pullout:
    """Return the pullout strength of one headed rod: crushing under its nut or washer."""
    psi = cracking("psi_cP", CRACKED_PULLOUT, UNCRACKED_PULLOUT, cracked)
    N_pn = head_pullout(psi_cP=psi, A_brg=A_brg, f_c_prime=f_c_prime)
    return Pullout(N_pn, design_tension(phi=phi(PHI_PULLOUT), N_n=N_pn).named("phi_N_pn"))


def hooked(f_c_prime: Value, e_h: Value, d_a: Value, cracked: bool = True) -> Pullout:
    """Return the pullout strength of one hooked rod (J or L).

    Args:
        f_c_prime: Concrete strength.
        e_h: From the inside of the rod to the tip of its hook.
        d_a: Diameter of the rod.
        cracked: Whether the concrete may be cracked.

    Raises:
        DomainError: The hook is shorter than 3 d_a or longer than 4.5 d_a.

    """
    if not 3 - 1e-9 <= e_h.m_as("in") / d_a.m_as("in") <= 4.5 + 1e-9:
        raise DomainError(
            f"e_h = {e_h.text()}: ACI 318-19, 17.6.3.2.2(b), is for hooks of 3 d_a to 4.5 d_a "
            f"(d_a = {d_a.text()}). Use such a hook, or a headed rod."
        )
    psi = cracking("psi_cP", CRACKED_PULLOUT, UNCRACKED_PULLOUT, cracked)
    N_pn = hook_pullout(psi_cP=psi, f_c_prime=f_c_prime, e_h=e_h, d_a=d_a)
    return Pullout(N_pn, design_tension(phi=phi(PHI_PULLOUT), N_n=N_pn).named("phi_N_pn"))


def blowout(f_c_prime: Value, A_brg: Value, h_ef: Value, c_a1: Value, c_a2: Value, s: Value | None = None) -> Blowout:
    """Return the side-face blowout strength of headed rods near an edge.

    Args:
        f_c_prime: Concrete strength.
        A_brg: Bearing area of nut or washer.
        h_ef: Embedment.
        c_a1: Distance from the edge.
        c_a2: Distance from the nearer perpendicular edge.
        s: Distance between the outer rods along the edge; None for one rod.

    Raises:
        DomainError: A rod lies at or beyond the edge.

    """
    if c_a1.magnitude <= 0 or c_a2.magnitude <= 0:
        raise DomainError(f"An anchor lies outside the concrete: c_a1 = {c_a1.text()}, c_a2 = {c_a2.text()}. Move it in.")
    if h_ef.m_as("in") <= 2.5 * c_a1.m_as("in"):
        return Blowout(False)
    N_sb = side_blowout(c_a1=c_a1, A_brg=A_brg, f_c_prime=f_c_prime)
    corner = side_blowout_corner(N_sb=N_sb, c_a1=c_a1, c_a2=c_a2)
    design = design_tension(phi=phi(PHI_CONCRETE), N_n=corner).named("phi_N_sbc")
    if s is None or s.m_as("in") >= 6 * c_a1.m_as("in"):
        return Blowout(True, N_sb, corner, design)
    group = side_blowout_group(N_sb=N_sb, s=s, c_a1=c_a1)
    return Blowout(True, N_sb, corner, design, group, design_tension(phi=phi(PHI_CONCRETE), N_n=group).named("phi_N_sbg"))

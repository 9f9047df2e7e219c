"""Slip resistance of pretensioned bolts (AISC 360, J3.9 and J3.10; J3.8 and J3.9 in 360-16), tension beside it included."""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import DomainError, Value, formula, given
from rackbook.trace.maths import max

from ..steel import available, clause

#: Slip: mean slip coefficient of class A surfaces, multiplier of the pretension, filler factor.
MU_A = given(0.30, "", clause("Eq. J3-4, class A surfaces", "read"), "mu")
D_U = given(1.13, "", clause("Eq. J3-4, mean installed over minimum pretension", "read"), "D_u")
H_F = given(1.0, "", clause("Eq. J3-4, no fillers, or one between the parts", "read"), "h_f")
#: What the required tension counts with in the slip reduction.
ALPHA = {
    "LRFD": given(1.0, "", clause("Eq. J3-5a", "read"), "alpha"),
    "ASD": given(1.5, "", clause("Eq. J3-5b", "read"), "alpha"),
}
#: Limit state of slip by kind of hole, and for slots by the direction of the force.
SLIP_STATE = {
    "standard": "slip, std / short slot transverse",
    "short slot across": "slip, std / short slot transverse",
    "short slot along": "slip, oversize / short slot parallel",
    "oversize": "slip, oversize / short slot parallel",
    "long slot": "slip, long slots",
}


@formula(clause("Eq. J3-4", "read"), r_ns="kip")
def slip_strength(mu, D_u, h_f, T_b, n_s):
    """Return the nominal slip resistance of a bolt."""
    r_ns = mu * D_u * h_f * T_b * n_s
    return r_ns


@formula(clause("Eq. J3-5a (LRFD), J3-5b (ASD)", "read"), k_sc="")
def slip_reduction(alpha, T, D_u, T_b, n_b):
    """Return the residual share of the slip resistance beside tension on all bolts together."""
    k_sc = max(1 - alpha * T / (D_u * T_b * n_b), 0)
    return k_sc


@formula(clause("Eqs. J3-4 and J3-5, solved for the forces of the bolt", "read"), r_vs="kip")
def slip_demand(r_v, r_cs, alpha, T, D_u, T_b, n_b):
    """Return the shear that loads the slip resistance as shear and tension do together."""
    r_vs = r_v + r_cs * (alpha * T / (D_u * T_b * n_b))
    return r_vs


@formula(clause("Eqs. J3-4 and J3-5", "read"), r_n="kip")
def slip_left(r_ns, k_sc):
    """Return the nominal slip resistance of a bolt beside tension."""
    r_n = r_ns * k_sc
    return r_n


@dataclass(frozen=True)
class Slip:
    """Slip resistance of one bolt: nominal, reduced for tension, available."""

    r_ns: Value
    k_sc: Value
    r_n: Value
    r_c: Value


def slip(T_b: Value, n_s: Value, n_b: Value, T: Value, method: str, mu: Value = MU_A, hole: str = "standard") -> Slip:
    """Return the slip resistance of one bolt of a slip-critical connection.

    Args:
        T_b: Minimum pretension.
        n_s: Slip planes.
        n_b: Bolts that carry the tension.
        T: Required tension on all bolts together.
        method: ``"LRFD"`` or ``"ASD"``.
        mu: Mean slip coefficient; class A if left out.
        hole: A key of ``SLIP_STATE``.

    Raises:
        DomainError: There is no such kind of hole, or no such method.

    """
    if hole not in SLIP_STATE:
        raise DomainError(f"There is no hole '{hole}' for slip (AISC 360, J3.9); use one of: {', '.join(SLIP_STATE)}.")
    r_ns = slip_strength(mu=mu, D_u=D_U, h_f=H_F, T_b=T_b, n_s=n_s)
    k_sc = slip_reduction(alpha=ALPHA.get(method, ALPHA["LRFD"]), T=T, D_u=D_U, T_b=T_b, n_b=n_b)
    r_n = slip_left(r_ns=r_ns, k_sc=k_sc)
    return Slip(r_ns, k_sc, r_n, available(r_n, SLIP_STATE[hole], method, "r_cs"))

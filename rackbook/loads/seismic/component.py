"""Seismic force on a piece of equipment and its anchorage (Chapter 13), by the edition of the job.

All methods take scalars or columns alike. z is the height of the item, h that of the rack; z/h is not below 0 nor above 1.
"""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import DomainError, Source, Value, formula, given, largest, smallest
from rackbook.trace.maths import max, min, sqrt


def _clause(edition: str, locator: str, how: str = "memory") -> Source:
    return Source("clause", "ASCE/SEI 7", edition, locator, how)


AT_GRADE_H = given(1.0, "", _clause("22", "13.3.1.1, at or below grade"), "H_f")
AT_GRADE_R = given(1.0, "", _clause("22", "13.3.1.2, at or below grade"), "R_mu")
R_MU_UNKNOWN = given(1.3, "", _clause("22", "13.3.1.2, system not known"), "R_mu")
SHARE_LIMIT = {
    "7-16": given(25.0, "pct", _clause("16", "13.1.1 and 15.3"), "share_limit"),
    "7-22": given(20.0, "pct", _clause("22", "13.1.1, from the draft for public comment"), "share_limit"),
}
#: Row of Table 13.6-1 by the kind of the item, where the job names none. The engineer may name another.
ROW_OF_KIND = {
    "panelboard": "panelboard", "disconnect": "panelboard", "motor starter": "panelboard", "enclosure": "panelboard",
    "transformer": "transformer", "lighting": "lighting_fixture", "wireway": "other", "receptacle": "other", "other": "other",
}  # fmt: skip


@formula(_clause("16 and 22", "13.3.1, z/h need not exceed 1.0"), r_z="")
def height_ratio(z, h):
    """Return the height of attachment over the height of the structure."""
    r_z = max(min(z / h, 1), 0)
    return r_z


@formula(_clause("16", "Eq. 13.3-1"), F_p="lbf")
def force_716(a_p, S_DS, W_p, R_p, I_p, r_z):
    """Return the horizontal seismic force on a component."""
    F_p = 0.4 * a_p * S_DS * W_p / (R_p / I_p) * (1 + 2 * r_z)
    return F_p


@formula(_clause("22", "Eq. 13.3-1"), F_p="lbf")
def force_722(S_DS, I_p, W_p, H_f, R_mu, C_AR, R_po):
    """Return the horizontal seismic force on a component."""
    F_p = 0.4 * S_DS * I_p * W_p * (H_f / R_mu) * (C_AR / R_po)
    return F_p


@formula(_clause("16 and 22", "Eq. 13.3-2"), F_p="lbf")
def force_most(S_DS, I_p, W_p):
    """Return the horizontal force on a component that need not be exceeded."""
    F_p = 1.6 * S_DS * I_p * W_p
    return F_p


@formula(_clause("16 and 22", "Eq. 13.3-3"), F_p="lbf")
def force_least(S_DS, I_p, W_p):
    """Return the minimum horizontal force on a component."""
    F_p = 0.3 * S_DS * I_p * W_p
    return F_p


@formula(_clause("16 and 22", "13.3.1, vertical force, up or down"), F_v="lbf")
def vertical_force(S_DS, W_p):
    """Return the vertical seismic force on a component."""
    F_v = 0.2 * S_DS * W_p
    return F_v


@formula(_clause("16 and 22", "13.4.2, anchors in concrete or masonry"), F_pc="lbf")
def anchor_force(Omega_0, F_p):
    """Return the horizontal force on anchors in concrete, with overstrength."""
    F_pc = Omega_0 * F_p
    return F_pc


@formula(_clause("22", "Eq. 13.3-4, a_1"), stated={"T": "s"}, a_1="")
def coefficient_a1(T):
    """Return the first coefficient of the height factor."""
    a_1 = min(1 / T, 2.5)
    return a_1


@formula(_clause("22", "Eq. 13.3-4, a_2"), stated={"T": "s"}, a_2="")
def coefficient_a2(T):
    """Return the second coefficient of the height factor."""
    a_2 = max(1 - (0.4 / T) ** 2, 0)
    return a_2


@formula(_clause("22", "Eq. 13.3-4"), H_f="")
def height_factor(a_1, a_2, r_z):
    """Return the factor for force amplification with height, period known."""
    H_f = 1 + a_1 * r_z + a_2 * r_z**10
    return H_f


@formula(_clause("22", "Eq. 13.3-5"), H_f="")
def height_factor_unknown(r_z):
    """Return the factor for force amplification with height, period not known."""
    H_f = 1 + 2.5 * r_z
    return H_f


@formula(_clause("22", "Eq. 13.3-6"), R_mu="")
def ductility_factor(R, I_e, Omega_0):
    """Return the structure ductility reduction factor."""
    R_mu = max(sqrt(1.1 * R / (I_e * Omega_0)), 1.3)
    return R_mu


def amplification(z: Value, h: Value, T: Value | None = None) -> Value:
    """Return H_f of 7-22 at height z of a structure of height h, with its period or without.

    Raises:
        DomainError: h or T is not above zero.

    """
    for v in (h, T):
        if v is not None and v.magnitude <= 0:
            raise DomainError(f"{v.symbol} = {v.text()} must be above zero.")
    r_z = height_ratio(z=z, h=h)
    if T is None:
        return height_factor_unknown(r_z=r_z)
    return height_factor(a_1=coefficient_a1(T=T), a_2=coefficient_a2(T=T), r_z=r_z)


def ductility(R: Value | None = None, I_e: Value | None = None, Omega_0: Value | None = None) -> Value:
    """Return R_mu of 7-22; 1.3 where the system of the structure is not known."""
    if R is None or I_e is None or Omega_0 is None:
        return R_MU_UNKNOWN
    return ductility_factor(R=R, I_e=I_e, Omega_0=Omega_0)


@dataclass(frozen=True)
class ComponentForce:
    """Force on one item, or on a column of items.

    Attributes:
        F_p_calc, F_p_min, F_p_max: By Eq. 13.3-1, -3 and -2.
        F_p: The force that governs.
        F_v: Vertical force, up or down.
        F_anchor: Force on anchors in concrete or masonry, with overstrength; None without the coefficient.

    """

    F_p_calc: Value
    F_p_min: Value
    F_p_max: Value
    F_p: Value
    F_v: Value
    F_anchor: Value | None


def component_force_716(
    a_p: Value, R_p: Value, I_p: Value, S_DS: Value, W_p: Value, z: Value, h: Value, Omega_0: Value | None = None
) -> ComponentForce:
    """Return the force on a component by 7-16.

    Args:
        a_p: Component amplification, Table 13.6-1.
        R_p: Component response modification, Table 13.6-1.
        I_p: Component importance factor.
        S_DS: Design acceleration at short periods.
        W_p: Operating weight.
        z: Height of attachment above the base.
        h: Height of the structure above the base.
        Omega_0: Overstrength for anchors in concrete or masonry.

    Raises:
        DomainError: h is zero.

    """
    calc = force_716(a_p=a_p, S_DS=S_DS, W_p=W_p, R_p=R_p, I_p=I_p, r_z=height_ratio(z=z, h=h))
    return _bounded(calc, S_DS, I_p, W_p, Omega_0, "16")


def component_force_722(
    C_AR: Value, R_po: Value, I_p: Value, S_DS: Value, W_p: Value, H_f: Value = AT_GRADE_H, R_mu: Value = AT_GRADE_R,
    Omega_0p: Value | None = None,
) -> ComponentForce:  # fmt: skip
    """Return the force on a component by 7-22; without H_f and R_mu it stands at or below grade.

    Args:
        C_AR: Component resonance ductility factor, for above grade or not, Table 13.6-1.
        R_po: Component strength factor.
        I_p: Component importance factor.
        S_DS: Design acceleration at short periods.
        W_p: Operating weight.
        H_f: Factor for height, see :func:`amplification`.
        R_mu: Factor for the structure's ductility, see :func:`ductility`.
        Omega_0p: Overstrength for anchors in concrete or masonry.

    """
    calc = force_722(S_DS=S_DS, I_p=I_p, W_p=W_p, H_f=H_f, R_mu=R_mu, C_AR=C_AR, R_po=R_po)
    return _bounded(calc, S_DS, I_p, W_p, Omega_0p, "22")


def _bounded(calc: Value, S_DS: Value, I_p: Value, W_p: Value, overstrength: Value | None, edition: str) -> ComponentForce:
    least, most = force_least(S_DS=S_DS, I_p=I_p, W_p=W_p), force_most(S_DS=S_DS, I_p=I_p, W_p=W_p)
    need = smallest("F_p", {"Eq. 13.3-1": calc, "Eq. 13.3-2": most}, _clause(edition, "Eq. 13.3-2"))
    name = need.origin.operation.chosen  # type: ignore[union-attr] # a choice, just made
    force = largest("F_p", {name: need, "Eq. 13.3-3": least}, _clause(edition, "Eq. 13.3-3"))
    anchors = anchor_force(Omega_0=overstrength, F_p=force) if overstrength is not None else None
    return ComponentForce(calc, least, most, force, vertical_force(S_DS=S_DS, W_p=W_p), anchors)


@formula(_clause("16 and 22", "13.1.1 and 15.3"), share="pct")
def weight_share(W_p, W):
    """Return the weight of a component over the effective seismic weight of rack and component."""
    share = W_p / W
    return share

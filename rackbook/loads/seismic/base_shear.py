"""Base shear of a nonbuilding structure by the equivalent lateral force procedure, with every bound (12.8, 15.4).

Equation numbers are those of 7-16; 7-22 keeps the equations and may number them apart.
"""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import DomainError, Source, Value, formula, given, governing, largest, smallest
from rackbook.trace.maths import max

EDITIONS = "16 and 22"
RIGID_BELOW = given(0.06, "s", Source("clause", "ASCE/SEI 7", EDITIONS, "15.4.2", "memory"), "T_rigid")
NEAR_FAULT_FROM = 0.6  # S_1 from which Eq. 12.8-6 and 15.4-2 apply


def _clause(locator: str, how: str = "memory") -> Source:
    return Source("clause", "ASCE/SEI 7", EDITIONS, locator, how)


@formula(_clause("Eq. 12.8-2", "read"), C_s="")
def plateau(S_DS, R, I_e):
    """Return the seismic response coefficient on the plateau of the spectrum."""
    C_s = S_DS / (R / I_e)
    return C_s


@formula(_clause("Eq. 12.8-3", "read"), stated={"T": "s"}, C_s="")
def long_period(S_D1, T, R, I_e):
    """Return the seismic response coefficient that need not be exceeded, T up to T_L."""
    C_s = S_D1 / (T * (R / I_e))
    return C_s


@formula(_clause("Eq. 12.8-4"), stated={"T": "s", "T_L": "s"}, C_s="")
def very_long_period(S_D1, T, T_L, R, I_e):
    """Return the seismic response coefficient that need not be exceeded, T above T_L."""
    C_s = S_D1 * T_L / (T**2 * (R / I_e))
    return C_s


@formula(Source("clause", "ASCE/SEI 7", "16", "11.4.8, exception 2", "memory"), C_s="")
def increased(f_long, C_long):
    """Return the long-period coefficient increased in place of a site-specific study."""
    C_s = f_long * C_long
    return C_s


@formula(_clause("Eq. 12.8-5", "read"), C_s="")
def floor_buildings(S_DS, I_e):
    """Return the minimum seismic response coefficient of systems similar to buildings."""
    C_s = max(0.044 * S_DS * I_e, 0.01)
    return C_s


@formula(_clause("Eq. 15.4-1"), C_s="")
def floor_nonbuilding(S_DS, I_e):
    """Return the minimum seismic response coefficient of systems of Table 15.4-2."""
    C_s = max(0.044 * S_DS * I_e, 0.03)
    return C_s


@formula(_clause("Eq. 12.8-6", "read"), C_s="")
def near_fault_buildings(S_1, R, I_e):
    """Return the least coefficient near a fault for systems similar to buildings."""
    C_s = 0.5 * S_1 / (R / I_e)
    return C_s


@formula(_clause("Eq. 15.4-2"), C_s="")
def near_fault_nonbuilding(S_1, R, I_e):
    """Return the least coefficient near a fault for systems of Table 15.4-2."""
    C_s = 0.8 * S_1 / (R / I_e)
    return C_s


@formula(_clause("Eq. 15.4-5, as a coefficient"), C_s="")
def rigid_coefficient(S_DS, I_e):
    """Return the seismic coefficient of a rigid nonbuilding structure."""
    C_s = 0.3 * S_DS * I_e
    return C_s


@formula(_clause("Eq. 15.4-5"), V="lbf")
def rigid_shear(S_DS, W, I_e):
    """Return the base shear of a rigid nonbuilding structure."""
    V = 0.3 * S_DS * W * I_e
    return V


@formula(_clause("Eq. 12.8-1"), V="lbf")
def shear(C_s, W):
    """Return the seismic base shear."""
    V = C_s * W
    return V


@dataclass(frozen=True)
class BaseShear:
    """Base shear in one direction, with every coefficient that was compared.

    Attributes:
        plateau: Eq. 12.8-2; None for a rigid structure.
        long_period: Eq. 12.8-3 or -4 (with the increase of 11.4.8 where it applies); None without a period.
        floor: Eq. 12.8-5 or 15.4-1; None for a rigid structure.
        near_fault: Eq. 12.8-6 or 15.4-2; None where S_1 is below 0.6.
        C_s, V: The coefficient that governs, and the base shear (None without a weight).
        T: The period, or None where it is not known.
        rigid: Whether Eq. 15.4-5 applies (T below 0.06 s).
        governs: The equation that governs.

    """

    plateau: Value | None
    long_period: Value | None
    floor: Value | None
    near_fault: Value | None
    C_s: Value
    V: Value | None
    T: Value | None
    rigid: bool
    governs: str


def base_shear(
    S_DS: Value,
    S_D1: Value,
    R: Value,
    I_e: Value,
    S_1: Value | None = None,
    W: Value | None = None,
    T: Value | None = None,
    T_L: Value | None = None,
    table: str = "Table 15.4-2",
    long_factor: Value | None = None,
) -> BaseShear:
    """Return the base shear with every bound.

    Without a period the plateau (Eq. 12.8-2) is taken: no period gives more, apart from the floors, which are kept.

    Args:
        S_DS: Design acceleration at short periods, in multiples of gravity.
        S_D1: Design acceleration at one second.
        R: Response modification coefficient of the system.
        I_e: Importance factor.
        S_1: Mapped acceleration at one second; the near-fault bound applies from 0.6.
        W: Effective seismic weight.
        T: Period in this direction, where known.
        T_L: Long-period transition period; needed with T.
        table: Table of the system; Table 15.4-2 has floors of its own (15.4-1, 15.4-2).
        long_factor: Factor on the long-period branch (11.4.8, exception 2), or None.

    Raises:
        DomainError: R or T is not above zero, or T is given without T_L.

    """
    for v in (R, T):
        if v is not None and v.magnitude <= 0:
            raise DomainError(f"{v.symbol} = {v.text()} must be above zero.")
    if T is not None and T.m_as("s") < RIGID_BELOW.magnitude:
        V = rigid_shear(S_DS=S_DS, W=W, I_e=I_e) if W is not None else None
        return BaseShear(None, None, None, None, rigid_coefficient(S_DS=S_DS, I_e=I_e), V, T, True, "Eq. 15.4-5")
    own = table == "Table 15.4-2"
    most = plateau(S_DS=S_DS, R=R, I_e=I_e)
    candidates = {"Eq. 12.8-2": most}
    long = None
    if T is not None:
        label, long = _long(S_D1, T, T_L, R, I_e, long_factor)
        candidates[label] = long
    upper = smallest("C_s", candidates, _clause("12.8.1.1", "memory")) if len(candidates) > 1 else most
    bounds = {governing(upper) or "Eq. 12.8-2": upper}
    floor = (floor_nonbuilding if own else floor_buildings)(S_DS=S_DS, I_e=I_e)
    bounds["Eq. 15.4-1" if own else "Eq. 12.8-5"] = floor
    near = None
    if S_1 is not None and S_1.magnitude >= NEAR_FAULT_FROM:
        near = (near_fault_nonbuilding if own else near_fault_buildings)(S_1=S_1, R=R, I_e=I_e)
        bounds["Eq. 15.4-2" if own else "Eq. 12.8-6"] = near
    C_s = largest("C_s", bounds, _clause("15.4.1" if own else "12.8.1.1", "memory"))
    V = shear(C_s=C_s, W=W) if W is not None else None
    return BaseShear(most, long, floor, near, C_s, V, T, False, governing(C_s))


def _long(S_D1: Value, T: Value, T_L: Value | None, R: Value, I_e: Value, factor: Value | None) -> tuple[str, Value]:
    """Return the name and the value of the long-period branch at T."""
    if T_L is None:
        raise DomainError(f"T = {T.text()} is given without T_L, the long-period transition period. Give site.seismic.T_L.")
    if T.m_as("s") <= T_L.m_as("s"):
        label, found = "Eq. 12.8-3", long_period(S_D1=S_D1, T=T, R=R, I_e=I_e)
    else:
        label, found = "Eq. 12.8-4", very_long_period(S_D1=S_D1, T=T, T_L=T_L, R=R, I_e=I_e)
    if factor is None:
        return label, found
    return f"{label} x {factor.text()} (11.4.8)", increased(f_long=factor, C_long=found)

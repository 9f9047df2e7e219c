"""Section F10: bending of single angles, about a leg's axis or about the principal axes."""

from __future__ import annotations

from typing import Any

from rackbook.trace import DomainError, Value, formula
from rackbook.trace.maths import sqrt

from ..steel import E, clause, one_of
from .angles import principal
from .flexure_states import Flexure, factor, of_states
from .section import Section, leg_ratio, limit

AXES, TOES, RESTRAINTS = ("x", "y", "w", "z"), ("compression", "tension"), ("none", "at the largest moment")


@formula(clause("F10.1"), M_y="kip*in")
def yield_moment(F_y, S):
    """Return the moment at first yield."""
    M_y = F_y * S
    return M_y


@formula(clause("F10.2(2): 0.80 of the yield moment about a leg's axis"), M_y="kip*in")
def reduced_yield_moment(F_y, S):
    """Return the yield moment of an angle bent about a leg's axis without lateral-torsional restraint."""
    M_y = 0.80 * F_y * S
    return M_y


@formula(clause("Eq. F10-1"), M_n="kip*in")
def yielding(M_y):
    """Return the nominal strength at yielding."""
    M_n = 1.5 * M_y
    return M_n


@formula(clause("Eq. F10-4, the longer leg in compression: beta_w below zero"), q="", M_cr="kip*in")
def principal_buckling(E, A, r_z, t, C_b, L_b, beta_w):
    """Return the elastic moment at lateral-torsional buckling about the major principal axis."""
    q = 4.4 * beta_w * r_z / (L_b * t)
    M_cr = 9 * E * A * r_z * t * C_b / (8 * L_b) * (sqrt(1 + q**2) - q)
    return M_cr


@formula(clause("Eq. F10-5a", "read"), M_cr="kip*in")
def toe_in_compression(E, b, t, C_b, L_b):
    """Return the elastic moment at lateral-torsional buckling about a leg's axis, the toe in compression."""
    M_cr = 0.58 * E * b**4 * t * C_b / L_b**2 * (sqrt(1 + 0.88 * (L_b * t / b**2) ** 2) - 1)
    return M_cr


@formula(clause("Eq. F10-5b"), M_cr="kip*in")
def toe_in_tension(E, b, t, C_b, L_b):
    """Return the elastic moment at lateral-torsional buckling about a leg's axis, the toe in tension."""
    M_cr = 0.58 * E * b**4 * t * C_b / L_b**2 * (sqrt(1 + 0.88 * (L_b * t / b**2) ** 2) + 1)
    return M_cr


@formula(clause("F10.2(2)(b)"), M_crr="kip*in")
def restrained(M_cr):
    """Return the elastic moment of an angle held against twisting at the point of the largest moment."""
    M_crr = 1.25 * M_cr
    return M_crr


@formula(clause("Eq. F10-2", "read"), M_n="kip*in")
def short_length(M_y, M_cr):
    """Return the nominal strength at lateral-torsional buckling with M_y/M_cr at most 1.0."""
    M_n = (1.92 - 1.17 * sqrt(M_y / M_cr)) * M_y
    return M_n


@formula(clause("Eq. F10-3"), M_n="kip*in")
def long_length(M_y, M_cr):
    """Return the nominal strength at lateral-torsional buckling with M_y/M_cr above 1.0."""
    M_n = (0.92 - 0.17 * M_cr / M_y) * M_cr
    return M_n


@formula(clause("F10.3: 0.80 of the modulus about a leg's axis, unless it is held everywhere", "read"), S_c="in**3")
def reduced_modulus(S):
    """Return the section modulus of the toe in compression, without lateral-torsional restraint."""
    S_c = 0.80 * S
    return S_c


@formula(clause("Eq. F10-6", "read"), M_n="kip*in")
def noncompact_leg(F_y, S_c, lamb_b, E):
    """Return the nominal strength at local buckling of a noncompact leg."""
    M_n = F_y * S_c * (2.43 - 1.72 * lamb_b * sqrt(F_y / E))
    return M_n


@formula(clause("Eq. F10-7 and F10-8"), F_cr="ksi", M_n="kip*in")
def slender_leg(E, lamb_b, S_c):
    """Return the nominal strength at local buckling of a slender leg."""
    F_cr = 0.71 * E / lamb_b**2
    M_n = F_cr * S_c
    return M_n


def bending(
    of: Section,
    F_y: Value,
    axis: str,
    L_b: Value | None,
    C_b: Value | None,
    toe: Any = "compression",
    restraint: Any = "none",
) -> Flexure:
    """Return the nominal strength of an angle about the axis of a leg (x, y) or a principal axis (w, z).

    About the major principal axis the longer leg is taken in compression, and the toes in compression about both.

    Raises:
        InputError: A word is not one of those allowed.
        DomainError: An angle with unequal legs is bent about a leg's axis without being held everywhere.

    """
    axis = one_of("axis of bending", axis, AXES)
    if axis in "wz":
        return _principal(of, F_y, axis, L_b, factor(C_b))
    toe, restraint = one_of("toe", toe, TOES), one_of("restraint", restraint, RESTRAINTS)
    S = of[f"S_{axis}"]
    full = yield_moment(F_y=F_y, S=S)
    states = {"yielding (F10-1)": yielding(M_y=full)}
    free = L_b is not None and restraint == "none"
    if L_b is not None:
        if not of.equal_legs:
            raise DomainError(
                f"{of.name}: AISC 360, F10, lets an angle with unequal legs bend about a leg's axis only where it is held "
                "against lateral-torsional buckling everywhere. Resolve the moment about the principal axes w and z."
            )
        elastic = toe_in_compression if toe == "compression" else toe_in_tension
        M_cr = elastic(E=E, b=of["b"], t=of["t"], C_b=factor(C_b), L_b=L_b)
        if not free:
            M_cr = restrained(M_cr=M_cr)
        states["lateral-torsional buckling (F10-2, F10-3)"] = _lateral(
            reduced_yield_moment(F_y=F_y, S=S) if free else full, M_cr
        )
    if toe == "compression":
        states |= _local(of, F_y, S.named("S_c") if L_b is None else reduced_modulus(S=S))
    return of_states(states)


def _principal(of: Section, F_y: Value, axis: str, L_b: Value | None, C_b: Value) -> Flexure:
    axes = principal(of)
    S = axes.S_w if axis == "w" else of["S_z"]
    M_y = yield_moment(F_y=F_y, S=S)
    states = {"yielding (F10-1)": yielding(M_y=M_y)}
    if axis == "w" and L_b is not None:
        M_cr = principal_buckling(E=E, A=of["A"], r_z=of["r_z"], t=of["t"], C_b=C_b, L_b=L_b, beta_w=axes.beta_w)
        states["lateral-torsional buckling (F10-2, F10-3)"] = _lateral(M_y, M_cr)
    return of_states(states | _local(of, F_y, S.named("S_c")))


def _lateral(M_y: Value, M_cr: Value) -> Value:
    if M_y.m_as("kip*in") <= M_cr.m_as("kip*in"):
        return short_length(M_y=M_y, M_cr=M_cr)
    return long_length(M_y=M_y, M_cr=M_cr)


def _local(of: Section, F_y: Value, S_c: Value) -> dict[str, Value]:
    lamb_b = leg_ratio(of)
    lamb_p, lamb_r = (limit("angle leg, flexure", f"lambda_{k}", F_y) for k in "pr")
    if lamb_b.magnitude <= lamb_p.magnitude:
        return {}
    if lamb_b.magnitude <= lamb_r.magnitude:
        return {"leg local buckling (F10-6)": noncompact_leg(F_y=F_y, S_c=S_c, lamb_b=lamb_b, E=E)}
    return {"leg local buckling (F10-7)": slender_leg(E=E, lamb_b=lamb_b, S_c=S_c)}

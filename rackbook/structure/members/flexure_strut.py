"""Bending of strut by its published properties: first yield, lateral-torsional buckling, and the makers' stress."""

from __future__ import annotations

from rackbook.trace import Source, Value, formula, given
from rackbook.trace.maths import pi, sqrt

from ..steel import E, G, one_of
from .flexure_states import Flexure, factor, of_states
from .section import Section

COLD = "North American Specification for cold-formed members (AISI S100)"
#: Allowable bending stress that makers of 12 gauge strut print their beam loads for, and its safety factor.
MAKERS = given(25.0, "ksi", Source("common practice", "allowable stress of the makers' beam loads for strut"), "F_b")
OMEGA = given(1.67, "", Source("clause", COLD, "16", "F1", "memory"), "Omega")


def _cold(locator: str) -> Source:
    return Source("clause", COLD, "16", locator, "memory")


@formula(_cold("F2.1"), M_y="kip*in")
def first_yield(F_y, S):
    """Return the nominal strength at first yield."""
    M_y = F_y * S
    return M_y


@formula(Source("derivation", "nominal moment whose allowable one is the makers' stress"), M_n="kip*in")
def makers_moment(Omega, F_b, S):
    """Return the nominal moment that belongs to the makers' allowable stress."""
    M_n = Omega * F_b * S
    return M_n


@formula(Source("derivation", "elastic buckling force about an axis"), P_e="kip")
def buckling_force(E, A, L_b, r):
    """Return the elastic buckling force of the unbraced length."""
    P_e = pi**2 * E * A / (L_b / r) ** 2
    return P_e


@formula(Source("derivation", "resistance to twisting of an unbraced length"), T_s="kip*in**2")
def twisting_resistance(G, J, E, C_w, L_b):
    """Return the resistance to twisting, of St. Venant and of warping."""
    T_s = G * J + pi**2 * E * C_w / L_b**2
    return T_s


@formula(_cold("F2.1.2: the side of the shear center in tension"), M_e="kip*in")
def buckling_across(C_b, P_e, j, T_s):
    """Return the elastic moment at lateral-torsional buckling about the axis across the axis of symmetry."""
    M_e = C_b * P_e * (sqrt(j**2 + T_s / P_e) - j)
    return M_e


@formula(_cold("F2.1.1"), M_e="kip*in")
def buckling_along(C_b, P_e, T_s):
    """Return the elastic moment at lateral-torsional buckling about the axis of symmetry."""
    M_e = C_b * sqrt(P_e * T_s)
    return M_e


@formula(_cold("Eq. F2.1-4"), M_n="kip*in")
def inelastic_moment(M_y, M_e):
    """Return the nominal strength at inelastic lateral-torsional buckling."""
    M_n = 10 / 9 * M_y * (1 - 10 * M_y / (36 * M_e))
    return M_n


def bending(of: Section, F_y: Value, axis: str, L_b: Value | None, C_b: Value | None) -> Flexure:
    """Return the nominal strength of strut about its axis 1 (``"x"``) or 2 (``"y"``)."""
    n, other = ("1", "2") if one_of("axis of bending", axis, ("x", "y")) == "x" else ("2", "1")
    S = of[f"S_{n}"]
    M_y = first_yield(F_y=F_y, S=S)
    states = {"first yield": M_y, "makers' allowable stress": makers_moment(Omega=OMEGA, F_b=MAKERS, S=S)}
    if L_b is None:
        return of_states(states)
    P_e = buckling_force(E=E, A=of["A"], L_b=L_b, r=of[f"r_{other}"])
    T_s = twisting_resistance(G=G, J=of["J"], E=E, C_w=of["C_w"], L_b=L_b)
    if n == "1":
        M_e = buckling_across(C_b=factor(C_b), P_e=P_e, j=of["j"], T_s=T_s)
    else:
        M_e = buckling_along(C_b=factor(C_b), P_e=P_e, T_s=T_s)
    share = M_e.m_as("kip*in") / M_y.m_as("kip*in")
    if share < 0.56:
        states["elastic lateral-torsional buckling"] = M_e
    elif share < 2.78:
        states["inelastic lateral-torsional buckling"] = inelastic_moment(M_y=M_y, M_e=M_e)
    return of_states(states)

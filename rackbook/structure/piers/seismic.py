"""Detailing of drilled concrete piers by seismic design category: bars, confinement, ties, restraint at grade.

The piers are detailed as cast-in-place deep foundation elements (ACI 318-19, 18.13.5) though they are short: whether the
official counts them as such makes no difference then. Bars and ties run over the whole length.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from rackbook.tables import table
from rackbook.trace import Check, Source, Value, check, formula, given, pick
from rackbook.trace.maths import max, min, pi, sin

from ..concrete import aci, cage_radius
from .bars import BAR, tie_diameter
from .section import Section, gross
from .size import Pier
from .soil import ibc

_CAGE = Source("derivation", "geometry of the cage")
SEVERE = ("C", "D", "E", "F")
NUMBER_3_TO = given(20, "in", aci("Table 18.13.5.7.1: No. 3 ties up to 20 in., No. 4 above"), "b_3")
GIVE_RESTRAINT = (
    "Tie the piers to each other at grade for this force in tension and compression, or let the report say that rock, "
    "hard clay or very dense sand restrains them (site.soil.restraint)."
)
CLOSER, MORE = "Closer or larger ties (piers.ties).", "More or larger bars (piers.bars)."
HOOKS = (
    "Ties: closed, ends with seismic hooks (135 degrees, 6 tie diameters and 3 in. at least) around a vertical bar, over the "
    "whole length of the pier."
)


@formula(aci("18.13.5.7.1, categories D to F: 0.005 of the gross area"), A_min="in**2")
def least_steel_seismic(A_g):
    """Return the minimum area of vertical bars in the upper part of a pier in categories D to F."""
    A_min = 0.005 * A_g
    return A_min


@formula(aci("18.13.5.7.1, category C: 0.0025 of the gross area"), A_min="in**2")
def least_steel_moderate(A_g):
    """Return the minimum area of vertical bars in the upper part of a pier in category C."""
    A_min = 0.0025 * A_g
    return A_min


@formula(aci("18.7.5.3(d), bars no more than 14 in. apart"), stated={"h_x": "in"}, s_o="in")
def spacing_by_support(h_x):
    """Return the maximum spacing of confining ties by the distance of the bars they hold."""
    s_o = max(4, min(4 + (14 - h_x) / 3, 6))
    return s_o


@formula(_CAGE, h_x="in")
def round_apart(R_s, n):
    """Return the distance of neighboring bars on a circle."""
    h_x = 2 * R_s * sin(pi / n)
    return h_x


@formula(_CAGE, h_x="in")
def square_apart(R_s, n):
    """Return the distance of neighboring bars along the sides of a square."""
    h_x = 8 * R_s / n
    return h_x


@formula(aci("18.7.5.3(a) to (d), over three diameters below the top"), s_max="in")
def confinement_spacing(b, d_b, s_o):
    """Return the maximum spacing of ties where they confine the concrete."""
    s_max = min(b / 4, 6 * d_b, s_o)
    return s_max


@formula(aci("Table 18.13.5.7.1, category C, over three diameters below the top"), stated={"d_b": "in"}, s_max="in")
def moderate_spacing(d_b):
    """Return the maximum spacing of ties over the upper part of a pier in category C."""
    s_max = min(6, 8 * d_b)
    return s_max


@formula(Source("derivation", "out-to-out of the ties"), D_c="in")
def core(b, c_c):
    """Return the diameter or side of the concrete inside the outer faces of the ties."""
    D_c = b - 2 * c_c
    return D_c


@formula(Source("derivation", "volume of a tie over that of the core at its spacing"), rho_s="")
def confinement_ratio(A_t, s, D_c):
    """Return the volumetric ratio of closed ties."""
    rho_s = 4 * A_t / (s * D_c)
    return rho_s


@formula(aci("Table 18.13.5.7.1, confinement zone, site classes A to D"), rho_min="")
def least_confinement(f_c_prime, f_yt):
    """Return the minimum volumetric ratio of ties in the confinement zone."""
    rho_min = 0.06 * f_c_prime / f_yt
    return rho_min


@formula(ibc("1810.3.13"), T_e="kip")
def tie_force(S_DS, P_u):
    """Return the force of a tie between piers: a tenth of S_DS times the larger column load."""
    T_e = 0.10 * S_DS * P_u
    return T_e


def detailing_checks(piers: Any, of: Section, A_st: Value, letter: str) -> list[Check]:
    """Return the checks of bars and ties that a seismic design category asks for; none in A and B.

    Args:
        piers: The job's piers, with concrete and bars.
        of: Their section.
        A_st: Area of the bars.
        letter: Seismic design category.

    """
    if letter not in SEVERE:
        return []
    hard = letter != "C"
    rebar = table("rebar")
    d_b = rebar.cell(str(piers.bars.size), "d_b", "d_b")
    A_g = gross(of.shape, piers.diameter)
    least = (least_steel_seismic if hard else least_steel_moderate)(A_g=A_g)
    source = aci("18.13.5.7.1")
    checks = [check(f"Vertical bars of the piers, category {letter}", least, A_st, source, remedy=MORE)]
    if piers.ties is None:
        return [*checks, check(f"Confining ties of the piers, category {letter}", d_b, None, source, remedy=CLOSER)]
    d_t = rebar.cell(str(piers.ties.size), "d_b", "d_t")
    name = f"Tie spacing of the piers, category {letter}"
    if not hard:
        return [*checks, check(name, piers.ties.spacing, moderate_spacing(d_b=d_b), source, remedy=CLOSER)]
    s_o = spacing_by_support(h_x=_apart(piers, of, d_b))
    most = confinement_spacing(b=piers.diameter, d_b=d_b, s_o=s_o)
    small = piers.diameter.m_as("in") <= NUMBER_3_TO.m_as("in")
    size = pick(
        "d_t_min", {"#3": rebar.cell("#3", "d_b", "d_b"), "#4": rebar.cell("#4", "d_b", "d_b")}, "#3" if small else "#4",
        because="piers up to 20 in." if small else "piers above 20 in.", by={"b": piers.diameter}, source=source,
    )  # fmt: skip
    f_yt = table("materials").cell(BAR, "F_y", "f_yt")
    A_t = rebar.cell(str(piers.ties.size), "A_b", "A_t")
    rho_s = confinement_ratio(A_t=A_t, s=piers.ties.spacing, D_c=core(b=piers.diameter, c_c=piers.cover))
    return [
        *checks,
        check(name, piers.ties.spacing, most, aci("18.7.5.3"), remedy=CLOSER),
        check(f"Tie size of the piers, category {letter}", size, d_t, source, remedy=CLOSER),
        check(f"Confinement ratio of the piers, category {letter}", least_confinement(f_c_prime=of.f_c_prime, f_yt=f_yt), rho_s,
              source, remedy=CLOSER),
    ]  # fmt: skip


def _apart(piers: Any, of: Section, d_b: Value) -> Value:
    """Return the distance of neighboring bars, each held by a tie."""
    R_s = cage_radius(b=piers.diameter, c_c=piers.cover, d_t=tie_diameter(piers), d_b=d_b)
    return (round_apart if of.shape == "round" else square_apart)(R_s=R_s, n=of.n)


def restraint_check(pier: Pier, restrained: bool, S_DS: Value, loads: Any, letter: str) -> Check | None:
    """Return the restraint of single piers at grade: by ties between them, or by the soil where the report says so.

    Args:
        pier: The piers.
        restrained: Whether the job says that the soil restrains them.
        S_DS: Design acceleration.
        loads: Reactions of the strength combinations.
        letter: Seismic design category.

    """
    if letter not in SEVERE or pier.count.magnitude < 2 or restrained:
        return None
    row, base = divmod(int(np.argmax(loads.P)), loads.P.shape[1])
    T_e = tie_force(S_DS=S_DS, P_u=loads.value("P", row, base).named("P_u"))
    return check("Restraint of single piers at grade: ties between them", T_e, None, ibc("1810.3.13"), remedy=GIVE_RESTRAINT)

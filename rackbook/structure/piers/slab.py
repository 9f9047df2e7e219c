"""The slab of the footings under strength loads (ACI 318-19, Chapters 13 and 22)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.tables import table
from rackbook.trace import Check, DomainError, Value, assume, check, largest, smallest

from ..concrete import aci
from .bars import BAR
from .concrete import SHEAR_PHI
from .footing import (
    COVERED,
    FLEXURE_PHI,
    LEAST_DEPTH,
    cantilever_moment,
    edge_moment,
    edge_shear,
    equivalent_square,
    hanging_load,
    least_slab_steel,
    one_way_shear,
    one_way_strength,
    overhang,
    punching_perimeter,
    punching_strength,
    punching_stress,
    slab_depth,
    steel_for_moment,
)
from .pressure import bearing
from .size import Pier
from .underside import Standing, Underside

UNKNOWN_SOIL = assume(120.0, "pcf", "unit weight of soil where none is given: common practice", "gamma_s")
EVERYWHERE, AT_EDGE = "largest pressure everywhere", "whole load at the edge"
THICKER = "Thicker footings."


@dataclass(frozen=True)
class Strip:
    """One way of the slab: along x or y.

    Attributes:
        way: ``"x"`` or ``"y"``.
        standing: The load that gives the largest moment.
        l: Overhang from the face of the pier.
        q_u: Largest pressure; None where the load is off the footing.
        m_u, A_s: Moment and steel at the bottom, a unit of width.

    """

    way: str
    standing: Standing
    l: Value
    q_u: Value | None
    m_u: Value
    A_s: Value


@dataclass(frozen=True)
class Slab:
    """The slab: effective depth, the pier as a square, both ways, and the steel at the top where its underside lifts off."""

    d: Value
    c_1: Value
    strips: tuple[Strip, Strip]
    A_top: Value | None


def slab(
    job: Any, pier: Pier, gamma_s: Value | None, of: Underside, labels: tuple[str, ...]
) -> tuple[Slab | None, list[Check]]:
    """Return the slab of the footings and its checks; no slab without concrete.

    Args:
        job: The job.
        pier: The piers on the footings.
        gamma_s: Unit weight of the soil, where known.
        of: Loads of the strength combinations.
        labels: Names of the bases.

    """
    foot, f_c = of.of, job.piers.concrete
    d = slab_depth(h_f=foot.thickness, c_f=COVERED)
    checks = [check("Depth of the footings to their steel", LEAST_DEPTH, d, aci("13.3.1.2"), remedy=THICKER)]
    worst = of.one(*of.place(of.N))
    if f_c is None or d.magnitude <= 0:
        remedy = "Give piers.concrete." if f_c is None else THICKER
        return None, [*checks, check("Slab of the footings", worst.N, None, aci("13.3"), remedy=remedy)]
    c_1 = equivalent_square(b=pier.size) if pier.shape == "round" else pier.size
    f_y = table("materials").cell(BAR, "F_y", "f_y")
    least = least_slab_steel(h_f=foot.thickness)
    try:
        strips = tuple(_strip(way, of, c_1, d, f_c, f_y, least) for way in "xy")
        A_top = _top_steel(of, pier, gamma_s, strips, d, f_c, f_y)
    except DomainError:
        remedy = f"No steel carries this moment in tension. {THICKER}"
        return None, [*checks, check("Flexure of the footings", worst.N, None, aci("22.2"), remedy=remedy)]
    for strip in strips:
        remedy = f"Draw at least this much at the bottom along {strip.way}: the job has no bars of footings."
        name = f"Bottom steel of the footings along {strip.way} ({labels[strip.standing.base]})"
        checks.append(check(name, strip.A_s.to("in**2/ft"), None, aci("13.3.3.1"), remedy=remedy))
        checks.append(_one_way(strip, of, d, f_c, least, labels))
    checks.append(_punching(of, c_1, d, f_c, labels))
    return Slab(d, c_1, strips, A_top), checks  # type: ignore[arg-type]


def _sides(way: str, of: Underside) -> tuple[Value, Value]:
    """Return the side of the footing along a way, and across it."""
    return (of.of.length, of.of.width) if way == "x" else (of.of.width, of.of.length)


def _pressure(one: Standing, of: Underside) -> Value | None:
    try:
        return bearing(one.N, one.M_fx, one.M_fy, of.of.length, of.of.width).q_max.named("q_u")
    except DomainError:  # the load is off the footing under factored loads: nothing but its size counts
        return None


def _strip(way: str, of: Underside, c_1: Value, d: Value, f_c: Value, f_y: Value, least: Value) -> Strip:
    side, across = _sides(way, of)
    l = overhang(L=side, c_1=c_1)
    feet = l.m_as("ft")
    moments = np.minimum(of.pressure * feet**2 / 2, np.maximum(of.N, 0) * feet / across.m_as("ft"))
    one = of.one(*of.place(moments))
    q_u = _pressure(one, of)
    edge = edge_moment(N_u=one.N, l=l, B=across)
    m_u = smallest("m_u", {EVERYWHERE: cantilever_moment(q_u=q_u, l=l), AT_EDGE: edge}) if q_u is not None else edge
    need = steel_for_moment(m_u=m_u, phi_f=FLEXURE_PHI, f_c_prime=f_c, f_y=f_y, d=d)
    A_s = largest(f"A_s{way}", {"moment": need, "least": least}, aci("13.3.3.1"))
    return Strip(way, one, l, q_u, m_u, A_s)


def _one_way(strip: Strip, of: Underside, d: Value, f_c: Value, least: Value, labels: tuple[str, ...]) -> Check:
    _, across = _sides(strip.way, of)
    beyond = max(0.0, strip.l.m_as("ft") - d.m_as("ft"))
    shears = np.minimum(of.pressure * beyond if beyond else 0.0 * of.N, np.maximum(of.N, 0) / across.m_as("ft"))
    one = of.one(*of.place(shears))
    q_u = _pressure(one, of)
    edge = edge_shear(N_u=one.N, B=across)
    v_1 = smallest("v_1", {EVERYWHERE: one_way_shear(q_u=q_u, l=strip.l, d=d), AT_EDGE: edge}) if q_u is not None else edge
    strong = one_way_strength(phi_v=SHEAR_PHI, f_c_prime=f_c, A_s=least, d=d)
    name = f"One-way shear of the footings along {strip.way} ({labels[one.base]})"
    return check(name, v_1, strong, aci("22.5"), remedy=THICKER)


def _top_steel(of: Underside, pier: Pier, gamma_s: Value | None, strips: Any, d: Value, f_c: Value, f_y: Value) -> Value | None:
    """Return the steel at the top that carries the slab where it leaves the ground; None where it does not."""
    if not np.any((of.N <= 0) | (of.M_fy / of.L + of.M_fx / of.B > of.N / 6)):
        return None
    weight = gamma_s if gamma_s is not None else UNKNOWN_SOIL
    q_t = hanging_load(gamma_c=pier.gamma_c, h_f=of.of.thickness, gamma_s=weight, D=of.of.depth)
    m_u = cantilever_moment(q_u=q_t, l=largest("l", {strip.way: strip.l for strip in strips}))
    return steel_for_moment(m_u=m_u, phi_f=FLEXURE_PHI, f_c_prime=f_c, f_y=f_y, d=d).named("A_top")


def _punching(of: Underside, c_1: Value, d: Value, f_c: Value, labels: tuple[str, ...]) -> Check:
    b_o = punching_perimeter(c_1=c_1, d=d)
    numbers = punching_stress(
        P_u=of.loads.P * 1000, M_fx=of.M_fx * 12, M_fy=of.M_fy * 12, c_1=c_1.m_as("in"), d=d.m_as("in"), b_o=b_o.m_as("in")
    )
    row, base = of.place(numbers)
    one = of.one(row, base)
    P_u = of.loads.value("P", row, base).named("P_u")
    v_u = punching_stress(P_u=P_u, M_fx=one.M_fx, M_fy=one.M_fy, c_1=c_1, d=d, b_o=b_o)
    v_d = punching_strength(phi_v=SHEAR_PHI, f_c_prime=f_c, d=d, b_o=b_o)
    return check(f"Two-way shear of the footings ({labels[base]})", v_u, v_d, aci("22.6"), remedy=THICKER)

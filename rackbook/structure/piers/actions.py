"""Axial force, moment and shear in the concrete of the piers, at every combination and base."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from rackbook.trace import DomainError, Source, Value, formula, given

from .embedment import lever, moment_at_grade
from .loads import Loads
from .shaft import (
    depth_of_largest_moment,
    largest_moment,
    largest_shear,
    shear_at_turning_point,
    shear_below_restraint,
)
from .size import Pier
from .soil import Ground

NOT_DISCOUNTED = given(0.0, "ft", Source("derivation", "no soil is given: the surface is at grade"), "d_0")
TO_GRADE = given(0.0, "ft", Source("derivation", "moment at grade, where the restraint is"), "d_0")


@formula(Source("derivation", "geometry of the pier"), d="ft")
def counted_depth(D, d_0):
    """Return the depth of soil that is counted on."""
    d = D - d_0
    return d


@formula(Source("derivation", "geometry of the pier"), z_M="ft")
def below_grade(z_0, d_0):
    """Return the depth below grade of the section of largest moment."""
    z_M = z_0 + d_0
    return z_M


@dataclass(frozen=True)
class PierActions:
    """Moment and shear in a pier whose top is at a lateral load.

    Attributes:
        z_0: Depth of the section of largest moment below the soil's surface; None for a pier held at grade.
        M_u: Largest moment.
        V_r: Largest shear below grade, opposite to the load.
        V_u: Largest shear.

    """

    z_0: Value | None
    M_u: Value
    V_r: Value
    V_u: Value


def pier_actions(P: Value, M_g: Value, d: Value, constrained: bool = False) -> PierActions:
    """Return moment and shear in a drilled pier.

    Args:
        P: Lateral force at the soil's surface.
        M_g: Moment there, in the sense of the force.
        d: Depth of soil counted on.
        constrained: Whether the pier is held at grade.

    Raises:
        DomainError: There is no load, or no depth.

    """
    if d.magnitude <= 0 or P.magnitude < 0 or M_g.magnitude < 0 or P.magnitude + M_g.magnitude == 0:
        raise DomainError(f"P = {P.text()}, M_g = {M_g.text()} on a depth d = {d.text()}: give a load and a depth above zero.")
    if constrained:
        V_r = shear_below_restraint(M_g=M_g, d=d)
        return PierActions(None, M_g.to("kip*ft"), V_r, largest_shear(P=P, V_r=V_r))
    z_0 = depth_of_largest_moment(P=P, M_g=M_g, d=d)
    V_r = shear_at_turning_point(P=P, M_g=M_g, d=d)
    return PierActions(z_0, largest_moment(P=P, M_g=M_g, d=d, z_0=z_0), V_r, largest_shear(P=P, V_r=V_r))


@dataclass(frozen=True)
class Acting:
    """What acts in a pier under one combination, traced.

    Attributes:
        base: Index of the base.
        combination: In words.
        P_u: Axial force at the underside of the base plate, positive down.
        V, M: Shear and moment of both axes there.
        M_g: Moment at the surface of the soil (or at the top of a footing).
        z_M: Depth of the section of largest moment below grade; None where it is at grade or on a footing.
        M_u, V_u: Largest moment and shear.

    """

    base: int
    combination: str
    P_u: Value
    V: Value
    M: Value
    M_g: Value
    z_M: Value | None
    M_u: Value
    V_u: Value


@dataclass(frozen=True, eq=False)
class Demands:
    """Demands on the concrete as arrays [kip, kip*in], a row a combination and a column a base, and one of them traced."""

    P_u: np.ndarray
    M_u: np.ndarray
    V_u: np.ndarray
    one: Callable[[int, int], Acting]


def demands(pier: Pier, ground: Ground | None, loads: Loads, on_footing: bool) -> Demands:
    """Return what acts in the concrete of the piers.

    Args:
        pier: The piers.
        ground: The soil; None where it is not given.
        loads: Reactions of the strength combinations.
        on_footing: Whether the piers stand on footings: then the moment is largest at their foot and no soil helps.

    """
    if on_footing:
        return _pedestals(pier, loads)
    d_0 = NOT_DISCOUNTED if ground is None else ground.discount
    held = ground is not None and ground.constrained
    d = counted_depth(D=pier.D, d_0=d_0)
    if d.magnitude <= 0:  # the depth has failed by then; the concrete is shown for the whole depth
        d_0, d = NOT_DISCOUNTED, counted_depth(D=pier.D, d_0=NOT_DISCOUNTED)
    e_s = lever(e=pier.e, t_g=pier.t_g, d_0=TO_GRADE if held else d_0)
    depth = d.m_as("in")
    M_g = loads.M + loads.V * e_s.m_as("in")
    there = loads.V + M_g > 0
    V, M = np.where(there, loads.V, 1.0), np.where(there, M_g, 1.0)
    if held:
        M_u, V_r = M, shear_below_restraint(M_g=M, d=depth)
    else:
        M_u = largest_moment(P=V, M_g=M, d=depth, z_0=depth_of_largest_moment(P=V, M_g=M, d=depth))
        V_r = shear_at_turning_point(P=V, M_g=M, d=depth)
    V_u = largest_shear(P=V, V_r=V_r)

    def one(row: int, base: int) -> Acting:
        P_u = loads.value("P", row, base).named("P_u")
        P, M = loads.resultants(row, base)
        at_grade = moment_at_grade(M=M, P=P, e_s=e_s)
        of = pier_actions(P, at_grade, d, held)
        z_M = below_grade(z_0=of.z_0, d_0=d_0) if of.z_0 is not None else None
        return Acting(base, loads.labels[row], P_u, P, M, at_grade, z_M, of.M_u, of.V_u)

    return Demands(loads.P, np.where(there, M_u, 0.0), np.where(there, V_u, 0.0), one)


def _pedestals(pier: Pier, loads: Loads) -> Demands:
    e_s = lever(e=pier.e, t_g=pier.t_g, d_0=pier.D)

    def one(row: int, base: int) -> Acting:
        P, M = loads.resultants(row, base)
        M_g = moment_at_grade(M=M, P=P, e_s=e_s)
        return Acting(
            base, loads.labels[row], loads.value("P", row, base).named("P_u"), P, M, M_g, None, M_g.to("kip*ft"), P.to("kip")
        )

    return Demands(loads.P, loads.M + loads.V * e_s.m_as("in"), loads.V, one)

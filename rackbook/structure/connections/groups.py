"""Groups of bolts under any force and moment, each bolt the same: elastic method, in the plane of the group and out of it.

The bolts of a group stand in ``m`` lines of ``n``, ``s`` apart; every bolt counts as a unit of area. In the plane the
direct shear and the shear from the moment about the center of the group are added as vectors at the corner where both
components add up; every sign of force and moment finds such a corner in a rectangular group. Out of the plane the
tension of a moment goes linearly from the center of the group: the neutral axis in the middle of the bolts and not at
the edge of the plate, which gives the larger tension. Where all bolts stand in one line along the axis of a moment, the
plate bears on its edge and the lever is the edge distance.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rackbook.trace import DomainError, Source, Value, formula, given
from rackbook.trace.maths import abs, max, sqrt

from ..steel import available
from .strength import manual

_ELASTIC = Source("derivation", "elastic method: bolts of unit area")
_CONTACT = Source("derivation", "bolts in one line: the plate bears on its edge, at the edge distance from the bolts")
_VECTOR = Source("derivation", "elastic vector method, AISC Manual Part 7")


@formula(_ELASTIC, I_b="in**2")
def line_inertia(m, n, s):
    """Return the moment of inertia of m lines of n bolts about the middle of the lines, per unit of a bolt's area."""
    I_b = m * n * (n**2 - 1) * s**2 / 12
    return I_b


@formula(_ELASTIC, c="in")
def farthest(n, s):
    """Return the distance of the outer bolt from the middle of its line."""
    c = (n - 1) * s / 2
    return c


@formula(_ELASTIC, I_p="in**2")
def polar(I_x, I_z):
    """Return the polar moment of inertia of the group."""
    I_p = I_x + I_z
    return I_p


@formula(_ELASTIC, W="in")
def group_modulus(I_b, c):
    """Return the modulus of the group: moment over the tension of the outer bolt."""
    W = I_b / c
    return W


@formula(_CONTACT, W="in")
def contact_modulus(n_b, L_e):
    """Return the modulus of a group without extent across the axis of the moment."""
    W = n_b * L_e
    return W


@formula(_VECTOR, r_x="kip", r_z="kip", r_v="kip")
def corner_shear(R_x, R_z, n_b, M, c_x, c_z, I_p):
    """Return the shear on the most loaded bolt, at a corner of the group."""
    r_x = abs(R_x) / n_b + abs(M) * c_z / I_p
    r_z = abs(R_z) / n_b + abs(M) * c_x / I_p
    r_v = sqrt(r_x**2 + r_z**2)
    return r_v


@formula(_VECTOR, r_v="kip")
def equal_shear(R_x, R_z, n_b):
    """Return the shear on each bolt of a group without moment in its plane."""
    r_v = sqrt(R_x**2 + R_z**2) / n_b
    return r_v


@formula(Source("derivation", "elastic method, tension linear from the middle of the group"), r_t="kip")
def corner_tension(R_y, n_b, M_x, W_x, M_z, W_z):
    """Return the tension on the most loaded bolt; a force that pulls the parts apart is positive."""
    r_t = max(R_y, 0) / n_b + abs(M_x) / W_x + abs(M_z) / W_z
    return r_t


@formula(manual("Part 9, prying action, distance b'"), b_prime="in")
def prying_arm(b, d_b):
    """Return the arm from the bolt's edge to the face that bends the plate."""
    b_prime = b - d_b / 2
    return b_prime


@formula(manual("Part 9, no prying action: t_np, solved for the tension"), r_np="kip")
def tension_without_prying(p, t, F_u, b_prime):
    """Return the nominal tension a bolt can bring on a plate of tributary length p without prying."""
    r_np = p * t**2 * F_u / (4 * b_prime)
    return r_np


@dataclass(frozen=True)
class Group:
    """A rectangular group: n_x columns (spacing s_x) along x, n_z bolts (spacing s_z) in each along z.

    Attributes:
        n_b: Number of bolts.
        c_x, c_z: Distances of the outer bolts from the center.
        I_p: Polar moment of inertia; None for one bolt alone.
        W_x, W_z: Moduli out of plane for moments about x and z.

    """

    n_b: Value
    c_x: Value
    c_z: Value
    I_p: Value | None
    W_x: Value
    W_z: Value


@formula(_ELASTIC, n_b="")
def count(n_x, n_z):
    """Return the number of bolts of a group."""
    n_b = n_x * n_z
    return n_b


def whole(n: int, what: str, symbol: str) -> Value:
    """Return a count as a value."""
    return given(float(n), "", Source("input", what), symbol)


def group(n_x: Value, n_z: Value, s_x: Value, s_z: Value, L_e: Value) -> Group:
    """Return a rectangular group of bolts; ``L_e`` is the edge distance of its plate.

    Raises:
        DomainError: A count is below one.

    """
    if min(n_x.magnitude, n_z.magnitude) < 1:
        raise DomainError(f"A group of bolts has at least one bolt, not {n_x.magnitude:g} by {n_z.magnitude:g}.")
    n_b = count(n_x=n_x, n_z=n_z)
    I_along, I_up = line_inertia(m=n_z, n=n_x, s=s_x), line_inertia(m=n_x, n=n_z, s=s_z)
    c_x, c_z = farthest(n=n_x, s=s_x).named("c_x"), farthest(n=n_z, s=s_z).named("c_z")
    contact = contact_modulus(n_b=n_b, L_e=L_e)
    W_x = group_modulus(I_b=I_up, c=c_z) if n_z.magnitude > 1 else contact
    W_z = group_modulus(I_b=I_along, c=c_x) if n_x.magnitude > 1 else contact
    I_p = polar(I_x=I_up, I_z=I_along) if n_b.magnitude > 1 else None
    return Group(n_b, c_x, c_z, I_p, W_x.named("W_x"), W_z.named("W_z"))


def in_plane(of: Group, F_x: Value, F_z: Value, M: Value) -> Value:
    """Return the shear on the bolt that carries most, for forces and a moment in the plane of the group.

    Raises:
        DomainError: One bolt alone is asked to resist a moment about itself.

    """
    if of.I_p is not None:
        return corner_shear(R_x=F_x, R_z=F_z, n_b=of.n_b, M=M, c_x=of.c_x, c_z=of.c_z, I_p=of.I_p)
    if acts(M, F_x, F_z):
        raise DomainError("One bolt alone resists no moment about its own axis; give the connection two bolts or more.")
    return equal_shear(R_x=F_x, R_z=F_z, n_b=of.n_b)


def acts(M: Value, *F: Value) -> bool:
    """Say whether a moment is more than what rounding leaves of a released one."""
    most = max(*(float(np.max(np.abs(f.m_as("kip")))) for f in F), 1e-3)
    return bool(np.max(np.abs(M.m_as("kip*in"))) > 1e-6 * most)


def out_of_plane(of: Group, F_y: Value, M_x: Value, M_z: Value) -> Value:
    """Return the tension on the bolt that carries most; F_y positive pulls, a push is borne by the parts."""
    return corner_tension(R_y=F_y, n_b=of.n_b, M_x=M_x, W_x=of.W_x, M_z=M_z, W_z=of.W_z)


def no_prying(p: Value, t: Value, F_u: Value, b: Value, d_b: Value, method: str) -> Value:
    """Return the available tension of a bolt up to which the plate is stiff enough that prying is left out.

    Args:
        p: Length of plate that belongs to one bolt.
        t: Thickness of the plate.
        F_u: Its tensile strength.
        b: Distance from the bolt to the face the plate is held at.
        d_b: Diameter of the bolt.
        method: ``"LRFD"`` or ``"ASD"``.

    """
    r_np = tension_without_prying(p=p, t=t, F_u=F_u, b_prime=prying_arm(b=b, d_b=d_b))
    return available(r_np, "flexure", method, "r_cnp")

"""Moment and shear in a pier below grade, by equilibrium of the assumed soil pressure.

Without restraint at grade the pier turns as a rigid body about a point below grade in soil whose stiffness grows in
proportion to depth: the pressure is a parabola, zero at the surface and at that point, of opposite sign below it. The two
equations of equilibrium fix it, whatever the stiffness:

    p b = K z (z_r - z),   K = 12 (2 P d + 3 M_g) / d^4,   z_r = d (3 P d + 4 M_g) / (2 (2 P d + 3 M_g))

The shear is zero at z_0, where the moment is largest, and has its own largest value at z_r. With restraint at grade the pier
turns about that point, the pressure grows with the square of depth, and the moment is largest at grade.
"""

from __future__ import annotations

from rackbook.trace import Source, formula
from rackbook.trace.maths import abs, max, sqrt

_POLE = Source("derivation", "equilibrium of a rigid pier, pressure p b = K z (z_r - z)")
_HELD = Source("derivation", "equilibrium of a pier held at grade, pressure growing with the square of depth")


@formula(_POLE, u="kip*ft", z_0="ft")
def depth_of_largest_moment(P, M_g, d):
    """Return the depth of zero shear below the surface of the soil."""
    u = P * d
    z_0 = d * (u + sqrt(33 * u**2 + 48 * M_g * u)) / (8 * (2 * u + 3 * M_g))
    return z_0


@formula(_POLE, u="kip*ft", r="", M_z="kip*ft")
def largest_moment(P, M_g, d, z_0):
    """Return the moment at the depth of zero shear."""
    u = P * d
    r = z_0 / d
    M_z = M_g + P * z_0 - (3 * u + 4 * M_g) * r**3 + (2 * u + 3 * M_g) * r**4
    return M_z


@formula(_POLE, u="kip*ft", V_r="kip")
def shear_at_turning_point(P, M_g, d):
    """Return the shear at the point about which the pier turns, opposite to the force at grade."""
    u = P * d
    V_r = (3 * u + 4 * M_g) ** 3 / (4 * d * (2 * u + 3 * M_g) ** 2) - P
    return V_r


@formula(_HELD, V_r="kip")
def shear_below_restraint(M_g, d):
    """Return the shear of a pier held at grade, just below the restraint."""
    V_r = M_g / (0.75 * d)
    return V_r


@formula(Source("derivation", "the larger of the shears above and below"), V_u="kip")
def largest_shear(P, V_r):
    """Return the largest shear in the pier."""
    V_u = max(P, abs(V_r))
    return V_u

"""Weight of a pier, vertical bearing at its base and uplift, for allowable-stress loads."""

from __future__ import annotations

from rackbook.tables import table
from rackbook.trace import Source, Value, formula
from rackbook.trace.maths import max, pi

from .soil import ibc

_GEOMETRY = Source("derivation", "geometry of the pier")
_STATICS = Source("derivation", "equilibrium of the pier")


@formula(_GEOMETRY, A_p="ft**2")
def round_area(b):
    """Return the area of a round pier."""
    A_p = pi / 4 * b**2
    return A_p


@formula(_GEOMETRY, A_p="ft**2")
def square_area(s):
    """Return the area of a square pier."""
    A_p = s**2
    return A_p


@formula(_GEOMETRY, p_p="ft")
def round_perimeter(b):
    """Return the perimeter of a round pier."""
    p_p = pi * b
    return p_p


@formula(_GEOMETRY, p_p="ft")
def square_perimeter(s):
    """Return the perimeter of a square pier."""
    p_p = 4 * s
    return p_p


@formula(_GEOMETRY, V_p="yd**3")
def pier_volume(A_p, D, e):
    """Return the concrete of a pier of depth D below grade and height e above it."""
    V_p = A_p * (D + e)
    return V_p


@formula(_GEOMETRY, V_t="yd**3")
def all_volume(n, V_p):
    """Return the concrete of all of them, one at each post."""
    V_t = n * V_p
    return V_t


@formula(_STATICS, W_p="kip")
def pier_weight(gamma_c, A_p, D, e):
    """Return the weight of a pier."""
    W_p = gamma_c * A_p * (D + e)
    return W_p


@formula(_STATICS, W_s="kip")
def displaced_soil(gamma_s, A_p, D):
    """Return the weight of displaced soil."""
    W_s = gamma_s * A_p * D
    return W_s


@formula(ibc("1807.3.2.3 and 1806.2", "memory"), q="psf")
def bearing_pressure(P_v, c_D, W_p, W_s, A_p):
    """Return the pressure under a pier above that of the soil it displaces."""
    q = max(0, P_v + c_D * W_p - W_s) / A_p
    return q


@formula(_STATICS, U="kip")
def uplift(P_v):
    """Return the uplift of a load that is counted positive downward."""
    U = max(0, -P_v)
    return U


@formula(_STATICS, R_u="kip")
def weight_against_uplift(c_D, W_p):
    """Return the resistance of a pier's weight against uplift, with the combination's factor of dead load."""
    R_u = c_D * W_p
    return R_u


@formula(Source("derivation", "weight of the pier and allowable skin friction below the discounted depth"), R_u="kip")
def resistance_to_uplift(c_D, W_p, f_s, p_p, D, d_0):
    """Return the resistance of a pier against uplift by weight and friction."""
    R_u = c_D * W_p + f_s * p_p * (D - d_0)
    return R_u


@formula(ibc("1809.5 and 1809.4", "read"), D_min="ft")
def least_depth(d_f, d_min):
    """Return the depth below grade that the base of a foundation has to reach."""
    D_min = max(d_f, d_min)
    return D_min


def concrete_weight() -> Value:
    """Return the unit weight of concrete."""
    return table("unit_weights").cell("concrete", "weight", "gamma_c")

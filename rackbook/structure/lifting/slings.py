"""Slings: shares of the legs, angles, tensions and tilt, with the hook over the center of gravity.

Angles are from the horizontal. W is the weight of what is lifted, W_I that weight times the impact factor: what the hook pulls.
"""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import DomainError, Source, Value, formula, given
from rackbook.trace.maths import abs, asin, atan, cos, min, sin, sqrt

_STATICS = Source("derivation", "statics: concurrent forces, the hook over the center of gravity")
_GEOMETRY = Source("derivation", "geometry of the slings")
_RIGID = Source("derivation", "statics: the largest share a leg of a rigid rack can get, while no leg pushes")
_LEVEL = Source("derivation", "statics: the center of gravity hangs below what holds it")
_NAVY = "Navy training manual NAVEDTRA 14080"
#: Angle below which legs are rigged anew, by practice.
MIN_ANGLE = given(45.0, "deg", Source("common practice", _NAVY, locator="p. 3-23, bridle hitches", how="read"), "theta_min")
#: Angle below which a lift is refused unless a qualified person says otherwise.
REFUSED = given(30.0, "deg", Source("clause", "ASME B30.9", "2018", "horizontal sling angle", "memory"), "theta_min")
#: Tilt at which a load is set down and rigged anew.
MAX_TILT = given(
    5.0, "deg", Source("common practice", "rigging: above 5 degrees a load is set down and rigged anew"), "phi_max"
)
#: Why the legs of a rigid rack are not counted as sharing.
TWO_CARRY = Source(
    "common practice", _NAVY, locator="p. 3-23: two legs may take a rigid load, the others balance it", how="read"
)
PROOF = given(125.0, "pct", Source("clause", "29 CFR", locator="1926.251(a)(4), proof test", how="read"), "p_proof")


@formula(Source("derivation", "weight times impact factor"), W_I="lbf")
def hoisted(W, I_m):
    """Return the weight on the hook with impact."""
    W_I = I_m * W
    return W_I


@formula(_GEOMETRY, a="ft")
def reach_along(x_bar, x_p):
    """Return the horizontal distance from hook to pick point, along the rack."""
    a = abs(x_bar - x_p)
    return a


@formula(_GEOMETRY, a="ft")
def reach(x_bar, x_p, y_bar, y_p):
    """Return the horizontal distance from hook to pick point, in plan."""
    a = sqrt((x_bar - x_p) ** 2 + (y_bar - y_p) ** 2)
    return a


@formula(Source("derivation", "the sling pulls at the hole of its lug"), z_p="ft")
def pick_height(z_s, t_c, e_h):
    """Return the height of the pick point: seat of the lug, cap plate, hole."""
    z_p = z_s + t_c + e_h
    return z_p


@formula(_GEOMETRY, L_s="ft")
def leg_length(a, h_s):
    """Return the length of a leg from pick to hook."""
    L_s = sqrt(a**2 + h_s**2)
    return L_s


@formula(_GEOMETRY, theta="deg")
def leg_angle(h_s, L_s):
    """Return the angle of a leg from the horizontal."""
    theta = asin(h_s / L_s)
    return theta


@formula(_STATICS, K="")
def angle_factor(theta):
    """Return the tension of a leg over its vertical share."""
    K = 1 / sin(theta)
    return K


@formula(_GEOMETRY, beta="deg")
def both_angles(theta, theta_o):
    """Return the sum of the angles of two legs; the angle between them is 180° minus the sum."""
    beta = theta + theta_o
    return beta


@formula(_STATICS, T="lbf")
def two_leg_tension(W_I, theta_o, beta):
    """Return the tension of one leg of two, from the angle of the other and the sum of both."""
    T = W_I * cos(theta_o) / sin(beta)
    return T


@formula(_STATICS, V="lbf")
def vertical_part(T, theta):
    """Return the vertical component of a leg's tension."""
    V = T * sin(theta)
    return V


@formula(_STATICS, H="lbf")
def horizontal_part(T, theta):
    """Return the horizontal component of a leg's tension, which compresses the rails between the picks."""
    H = T * cos(theta)
    return H


@formula(_STATICS, s="")
def share(c, p, o):
    """Return the share of the weight that goes to one of two places."""
    s = (o - c) / (o - p)
    return s


@formula(_STATICS, V="lbf")
def shared_by_all(W_I, s_x, s_y):
    """Return the vertical share of a leg when all four carry: its share along times its share across."""
    V = W_I * s_x * s_y
    return V


@formula(_RIGID, V="lbf")
def rigid_share(W_I, s_x, s_y):
    """Return the largest vertical share of a leg of four on a rigid rack, when the other diagonal goes slack."""
    V = W_I * min(s_x, s_y)
    return V


@formula(_STATICS, V="lbf")
def pair_share(W_I, s_x, n):
    """Return the vertical share of a leg in a pair, the pairs in one line loaded alike."""
    V = W_I * s_x / n
    return V


@formula(_STATICS, T="lbf")
def tension(V, theta):
    """Return the tension of a leg from its vertical share."""
    T = V / sin(theta)
    return T


@formula(_GEOMETRY, H="lbf")
def along_part(V, x_bar, x_p, h_s):
    """Return the component of a leg's tension along the rack."""
    H = V * abs(x_bar - x_p) / h_s
    return H


@formula(_GEOMETRY, P_y="lbf")
def across_part(V, y_bar, y_p, h_s):
    """Return the component of a leg's tension across the rack."""
    P_y = V * abs(y_bar - y_p) / h_s
    return P_y


@formula(_GEOMETRY, P_y="lbf")
def leaning_part(V, phi):
    """Return the component of the vertical share across a rack that hangs at a tilt."""
    P_y = V * sin(phi)
    return P_y


@formula(_LEVEL, phi="deg")
def tilt_across(y_bar, y_p, z_p, z_bar):
    """Return the tilt across a rack whose picks are in one line along it."""
    phi = atan(abs(y_bar - y_p) / (z_p - z_bar))
    return phi


@formula(_LEVEL, phi_0="deg")
def tilt_if_equal(x_bar, m, h_s, z_p, z_bar):
    """Return the tilt, were the hook over the middle of the picks and not over the center of gravity."""
    phi_0 = atan(abs(x_bar - m) / (h_s + z_p - z_bar))
    return phi_0


@formula(Source("derivation", "middle of two places"), m="ft")
def between(x_1, x_2):
    """Return the middle between the outer picks."""
    m = (x_1 + x_2) / 2
    return m


@formula(Source("derivation", "distance of the center of gravity from the middle of the picks"), d_c="ft")
def off_middle(x_bar, m):
    """Return how far the center of gravity lies from the middle of the picks."""
    d_c = abs(x_bar - m)
    return d_c


@formula(Source("derivation", "half the distance of the outer picks"), d_p="ft")
def half_span(x_1, x_2):
    """Return how far the outer picks lie from their middle."""
    d_p = abs(x_2 - x_1) / 2
    return d_p


@formula(PROOF.source, P="lbf")
def proof_load(p_proof, W):
    """Return the load of a proof test."""
    P = p_proof * W
    return P


@formula(Source("derivation", "vertical share times the chart's factor"), T="lbf")
def charted(V, K):
    """Return the tension of a leg by a chart's factor."""
    T = V * K
    return T


@dataclass(frozen=True)
class TwoLegs:
    """A sling of two legs: angles, tensions, vertical shares and the horizontal component between the picks."""

    theta_1: Value
    theta_2: Value
    T_1: Value
    T_2: Value
    V_1: Value
    V_2: Value
    H: Value
    L_1: Value
    L_2: Value


def two_legs(W_I: Value, h_s: Value, a_1: Value, a_2: Value) -> TwoLegs:
    """Return a sling of two legs whose hook stands over the center of gravity.

    Args:
        W_I: Weight on the hook, with impact.
        h_s: Height of the hook above the picks.
        a_1: Distance of one pick from below the hook.
        a_2: Distance of the other, on the other side of it.

    Raises:
        DomainError: The hook is not above the picks, or both picks are right below it.

    """
    L_1, L_2 = leg_length(a=a_1, h_s=h_s).named("L_1"), leg_length(a=a_2, h_s=h_s).named("L_2")
    theta_1, theta_2 = leg_angle(h_s=h_s, L_s=L_1).named("theta_1"), leg_angle(h_s=h_s, L_s=L_2).named("theta_2")
    if h_s.magnitude <= 0 or a_1.magnitude + a_2.magnitude <= 0:
        raise DomainError("Two legs need two places below the hook: give picks apart, and a hook above them.")
    beta = both_angles(theta=theta_1, theta_o=theta_2)
    T_1, T_2 = two_leg_tension(W_I=W_I, theta_o=theta_2, beta=beta), two_leg_tension(W_I=W_I, theta_o=theta_1, beta=beta)
    V_1, V_2 = vertical_part(T=T_1, theta=theta_1), vertical_part(T=T_2, theta=theta_2)
    return TwoLegs(theta_1, theta_2, T_1, T_2, V_1, V_2, horizontal_part(T=T_1, theta=theta_1), L_1, L_2)


def four_legs(W_I: Value, s_x: Value, s_y: Value, theta: Value, carrying: str) -> tuple[Value, Value]:
    """Return vertical share and tension of one leg of four at the corners of a rectangle.

    Args:
        W_I: Weight on the hook, with impact.
        s_x: Share of the weight that goes to the leg's end of the rack.
        s_y: Share that goes to its row.
        theta: Angle of the leg.
        carrying: ``"all"`` when all four share (legs adjusted or load cells read), ``"two"`` for a rigid rack.

    Raises:
        DomainError: ``carrying`` is another word.

    """
    if carrying not in ("two", "all"):
        raise DomainError(f"'{carrying}' does not say which legs carry. Allowed: two, all.")
    V = (shared_by_all if carrying == "all" else rigid_share)(W_I=W_I, s_x=s_x, s_y=s_y)
    return V, tension(V=V, theta=theta)

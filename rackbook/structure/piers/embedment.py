"""Depth of a drilled pier under lateral load: embedded poles of IBC 1807.3.2, for allowable-stress loads.

The allowable pressure grows with depth, so the depth that Eq. 18-1 asks for stands on both its sides. With pressure
S a foot of depth it is the one positive root of d^3 - k d - 1.09 h k = 0, k = 7.02 P / (S b), down to 12 ft; deeper, the
pressure stays that of 12 ft and the equation gives the depth at once.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from rackbook.loads.geometry import read
from rackbook.trace import DomainError, Source, Value, formula, given
from rackbook.trace.maths import min, sqrt

from .soil import ibc

POLES = ibc("1807.3.2.1, Eq. 18-1", "read")
#: The depth counted for pressure goes no further. Taken on d itself, not on d/3: the smaller pressure.
DEEPEST = given(12, "ft", ibc("1807.3.2.1, definition of d", "read"), "d_max")
_STATICS = Source("derivation", "statics: all forces in one plane")


@formula(Source("derivation", "resultant of two axes at right angles"), P="kip")
def resultant_force(V_x, V_y):
    """Return the lateral force of both axes together."""
    P = sqrt(V_x**2 + V_y**2)
    return P


@formula(Source("derivation", "resultant of two axes at right angles"), M="kip*ft")
def resultant_moment(M_x, M_y):
    """Return the moment of both axes together."""
    M = sqrt(M_x**2 + M_y**2)
    return M


@formula(Source("derivation", "geometry of the pier"), e_s="ft")
def lever(e, t_g, d_0):
    """Return the height of the base plate's underside above the level the moment is taken at."""
    e_s = e + t_g + d_0
    return e_s


@formula(_STATICS, M_g="kip*ft")
def moment_at_grade(M, P, e_s):
    """Return the moment at the surface of the soil, shear and moment in one sense."""
    M_g = M + P * e_s
    return M_g


_GROUP = Source("derivation", "resultant, each direction divided by its share of the lateral resistance (group effect)")


@formula(_GROUP, P="kip")
def grouped_force(V_x, k_x, V_y, k_y):
    """Return the lateral force of both axes together, raised for the group effect of a line of piers."""
    P = sqrt((V_x / k_x) ** 2 + (V_y / k_y) ** 2)
    return P


@formula(_GROUP, M="kip*ft")
def grouped_moment(M_x, k_y, M_y, k_x):
    """Return the moment of both axes together, raised for the group effect of a line of piers."""
    M = sqrt((M_x / k_y) ** 2 + (M_y / k_x) ** 2)
    return M


@formula(_STATICS, h="ft")
def arm(M_g, P):
    """Return the height of the lateral force above the soil that makes the same moment."""
    h = M_g / P
    return h


@formula(ibc("1807.3.2.1, definition of b", "read"), b="ft")
def diagonal(s):
    """Return the width of a square pier that counts: its diagonal."""
    b = sqrt(2) * s
    return b


@formula(ibc("1807.3.2.1, definition of S_1", "read"), S_1="psf")
def pressure_at_third(S, d, d_max):
    """Return the allowable lateral pressure at a third of the depth."""
    S_1 = S * min(d, d_max) / 3
    return S_1


@formula(POLES, A="ft")
def pole_constant(P, S_1, b):
    """Return the constant A of the pole formula."""
    A = 2.34 * P / (S_1 * b)
    return A


@formula(POLES, d="ft")
def nonconstrained(A, h):
    """Return the depth of a pier without restraint at grade."""
    d = 0.5 * A * (1 + sqrt(1 + 4.36 * h / A))
    return d


@formula(Source("derivation", "IBC Eq. 18-1 for P going to zero while P h stays M_g"), d="ft")
def nonconstrained_couple(M_g, S_1, b):
    """Return the depth of a pier without restraint at grade under a moment alone."""
    d = sqrt(1.09 * 2.34 * M_g / (S_1 * b))
    return d


@formula(ibc("1807.3.2.2, definition of S_3", "read"), S_3="psf")
def pressure_at_base(S, d, d_max):
    """Return the allowable lateral pressure at the full depth."""
    S_3 = S * min(d, d_max)
    return S_3


@formula(ibc("1807.3.2.2, Eq. 18-2", "read"), d="ft")
def constrained_by_force(P, h, S_3, b):
    """Return the depth of a pier restrained at grade, from force and height."""
    d = sqrt(4.25 * P * h / (S_3 * b))
    return d


@formula(ibc("1807.3.2.2, Eq. 18-3", "read"), d="ft")
def constrained_by_moment(M_g, S_3, b):
    """Return the depth of a pier restrained at grade, from the moment at grade."""
    d = sqrt(4.25 * M_g / (S_3 * b))
    return d


@formula(Source("derivation", "statics; soil pressure growing with the square of depth, resultant at 3/4 of it"), R_g="kip")
def restraint(P, M_g, d):
    """Return the force that the floor or pavement at grade has to hold."""
    R_g = P + M_g / (0.75 * d)
    return R_g


@formula(Source("derivation", "geometry of the pier"), d_req="ft")
def from_grade(d, d_0):
    """Return the depth of embedment below grade."""
    d_req = d + d_0
    return d_req


@dataclass(frozen=True)
class Embedment:
    """The smallest depth of soil that carries a lateral load, and the lines that prove it.

    Attributes:
        d: Depth of soil counted on.
        S: The allowable pressure at the depth the clause names, at that depth: S_1 or S_3.
        A: The constant of the pole formula; None where it does not occur.
        trial: The depth the pressure was taken for; equal to ``d`` where that is the smallest depth.

    """

    d: Value
    S: Value
    A: Value | None
    trial: Value


def nonconstrained_depth(P: Value, h: Value, b: Value, S: Value) -> Embedment:
    """Return the smallest depth that satisfies Eq. 18-1 with the pressure at a third of itself.

    Args:
        P: Lateral force, allowable-stress level.
        h: Its height above the soil counted on; times P it is the moment there.
        b: Diameter of a round pier, diagonal of a square one.
        S: Allowable lateral pressure a foot of depth.

    Raises:
        DomainError: The force, width or pressure is not above zero, or h is negative.

    """
    _positive(P, b, S)
    if h.magnitude < 0:
        raise DomainError(f"h = {h.text()} is below the soil's surface; Eq. 18-1 is for a force above it.")
    of = {"P": P.to("kip"), "h": h.to("ft"), "b": b.to("ft"), "S": S.to("psf/ft")}
    trial = read("smallest depth", SMALLEST, "ft", _pole_by_arm, of, "d")
    return depth_at(P, h, b, S, trial)


def depth_at(P: Value, h: Value, b: Value, S: Value, trial: Value) -> Embedment:
    """Return the depth that Eq. 18-1 asks for with the pressure of a trial depth; arguments as :func:`nonconstrained_depth`."""
    S_1 = pressure_at_third(S=S, d=trial, d_max=DEEPEST)
    A = pole_constant(P=P, S_1=S_1, b=b)
    return Embedment(nonconstrained(A=A, h=h), S_1, A, trial)


def couple_depth(M_g: Value, b: Value, S: Value) -> Embedment:
    """Return the smallest depth without restraint under a moment alone; otherwise as :func:`nonconstrained_depth`."""
    _positive(M_g, b, S)
    of = {"M_g": M_g.to("kip*ft"), "b": b.to("ft"), "S": S.to("psf/ft")}
    trial = read("smallest depth", SMALLEST, "ft", _pole_by_couple, of, "d")
    S_1 = pressure_at_third(S=S, d=trial, d_max=DEEPEST)
    return Embedment(nonconstrained_couple(M_g=M_g, S_1=S_1, b=b), S_1, None, trial)


def constrained_depth(
    b: Value, S: Value, M_g: Value | None = None, P: Value | None = None, h: Value | None = None
) -> Embedment:
    """Return the smallest depth with restraint at grade: by the moment at grade (18-3), or by force and height (18-2).

    Args:
        b: Width, as :func:`nonconstrained_depth`.
        S: Allowable lateral pressure a foot of depth.
        M_g: Moment in the pier at grade; or else
        P: Lateral force, and
        h: Its height above grade.

    Raises:
        DomainError: Neither is given, or one of them is not above zero.

    """
    if M_g is None and (P is None or h is None):
        raise DomainError("A restrained pier needs the moment at grade M_g, or the force P and its height h.")
    if M_g is not None:
        _positive(M_g, b, S)
        of = {"M_g": M_g.to("kip*ft"), "b": b.to("ft"), "S": S.to("psf/ft")}
        trial = read("smallest depth", SMALLEST_HELD, "ft", _held, of, "d")
        S_3 = pressure_at_base(S=S, d=trial, d_max=DEEPEST)
        return Embedment(constrained_by_moment(M_g=M_g, S_3=S_3, b=b), S_3, None, trial)
    assert P is not None
    assert h is not None
    _positive(P, h, b, S)
    of = {"P": P.to("kip"), "h": h.to("ft"), "b": b.to("ft"), "S": S.to("psf/ft")}
    trial = read("smallest depth", SMALLEST_HELD, "ft", _held_by_arm, of, "d")
    S_3 = pressure_at_base(S=S, d=trial, d_max=DEEPEST)
    return Embedment(constrained_by_force(P=P, h=h, S_3=S_3, b=b), S_3, None, trial)


SMALLEST = Source("derivation", "root of IBC Eq. 18-1 with the pressure at a third of the depth it gives")
SMALLEST_HELD = Source("derivation", "root of IBC Eq. 18-3 with the pressure at the depth it gives")


def pole_depths(P: ArrayLike, M: ArrayLike, b: float, S: ArrayLike) -> np.ndarray:
    """Return the smallest depths [ft] without restraint.

    Args:
        P: Lateral forces [lbf], not negative.
        M: Moments at the surface of the soil [lbf*ft], not negative; same shape.
        b: Width [ft].
        S: Allowable lateral pressures a foot of depth [psf/ft]; same shape, or one.

    """
    P, M, S = np.broadcast_arrays(*(np.asarray(a, float) for a in (P, M, S)))
    limit = float(DEEPEST.magnitude)
    k, m = 7.02 * P / (S * b), 1.09 * 7.02 * M / (S * b)
    d = np.sqrt(k) + np.cbrt(m)  # never below the root, and the cubic is convex from there on: Newton's steps come down to it
    with np.errstate(invalid="ignore", divide="ignore"):
        for _ in range(60):
            step = np.where(d > 0, (d**3 - k * d - m) / (3 * d**2 - k), 0.0)
            d = d - step
            if np.all(np.abs(step) <= 1e-13 * (1 + d)):
                break
    deep = k / limit / 2 + np.sqrt((k / limit / 2) ** 2 + m / limit)
    return np.where(d <= limit, d, deep)


def held_depths(M: ArrayLike, b: float, S: ArrayLike) -> np.ndarray:
    """Return the smallest depths [ft] with restraint at grade; arguments as :func:`pole_depths`."""
    k = 4.25 * np.asarray(M, float) / (np.asarray(S, float) * b)
    d = np.cbrt(k)
    return np.where(d <= DEEPEST.magnitude, d, np.sqrt(k / DEEPEST.magnitude))


def _pole_by_arm(P, h, b, S):
    return float(pole_depths(1000 * P, 1000 * P * h, b, S))


def _pole_by_couple(M_g, b, S):
    return float(pole_depths(0.0, 1000 * M_g, b, S))


def _held(M_g, b, S):
    return float(held_depths(1000 * M_g, b, S))


def _held_by_arm(P, h, b, S):
    return _held(P * h, b, S)


def _positive(*values: Value) -> None:
    for v in values:
        if np.any(v.magnitude <= 0):
            raise DomainError(f"{v.symbol} = {v.text()} must be above zero.")

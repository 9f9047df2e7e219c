"""The same as :mod:`.actions` for all bases and combinations at once: plain arrays in kip and inches.

Every line is a call of the formula that the sheet shows for the governing row; the choices between them are masks.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .actions import PULLED, rods_across, rods_along, rods_resultant
from .bearing import (
    TINY,
    axis_share,
    bearing_length_large,
    bearing_line,
    bearing_moment,
    critical_eccentricity,
    lifted_far,
    lifted_near,
    moment_about_rods,
    most_about_rods,
    rods_tension,
    shared,
    shared_pressure,
)
from .plan import Whole

Array = np.ndarray


@dataclass(frozen=True)
class Axis:
    """All rows about one axis: bearing length, pressure, tension of both rows, moment about the rods over its most."""

    Y: Array
    f_p: Array
    T: Array
    T_2: Array
    used: Array


@dataclass(frozen=True)
class Rows:
    """All rows: share of bending across, pressure, plate moment from bearing, length used, tension of every rod.

    Attributes:
        alpha, f_p, M_pl: One entry a row.
        used: Moment about the rods over the most that bearing balances, the worse axis; above 1 the plate is too small.
        T: Tension of each rod, shape (rows, rods).
        hanging: Whether a base hangs on all its rods.

    """

    alpha: Array
    f_p: Array
    M_pl: Array
    used: Array
    T: Array
    hanging: Array

    @property
    def pulled(self) -> Array:
        """Which rods are in tension, shape (rows, rods)."""
        most = self.T.max(axis=1, keepdims=True, initial=0.0)
        return (PULLED * most < self.T) & (most > 0)


def axis(P: Array, M: Array, N: float, B: float, f: float, f_d: float) -> Axis:
    """Return all rows about one axis; a plate that is too small is worked with the most it balances."""
    q_max = bearing_line(f_d, B)
    pressed = P > TINY
    e = np.divide(M, P, out=np.zeros_like(M), where=pressed)
    e_crit = critical_eccentricity(N, P, q_max)
    overloaded = pressed & (e_crit <= 0)
    small = pressed & (e <= e_crit) & ~overloaded
    M_r, M_rmax = moment_about_rods(M, P, f), most_about_rods(q_max, f, N)
    lifted = ~small & ~overloaded & (M_r < 0)
    large = ~(small | overloaded | lifted)
    Y_large = bearing_length_large(f, N, np.clip(M_r, 0, M_rmax), q_max)
    Y = np.select([small, overloaded, large], [N - 2 * e, N, Y_large], 0.0)
    pressure = np.divide(P, B * Y, out=np.zeros_like(P), where=small | overloaded)
    T = np.select([large, lifted], [rods_tension(q_max, Y, P), lifted_near(P, M, f)], 0.0)
    T_2 = np.where(lifted, lifted_far(P, M, f), 0.0)
    return Axis(Y, np.where(large, f_d, pressure), T, T_2, np.where(large, M_r / M_rmax, 0.0))


def rows(P: Array, M_x: Array, M_y: Array, of: Whole, f_d: float, l: float) -> Rows:
    """Return bearing and rods' tension of all rows.

    Args:
        P: Loads, compression positive [kip].
        M_x: Moments about x [kip in].
        M_y: Moments about y [kip in].
        of: Plan of the bases, with plate; without rods the plate is worked as if they stood at its edge.
        f_d: Available bearing stress [ksi].
        l: Cantilever of the plate [in].

    """
    N, B = of.plate.N.m_as("in"), of.plate.B.m_as("in")
    x, y = of.rods.x.m_as("in"), of.rods.y.m_as("in")
    f_x, f_y = of.rods.s_x.m_as("in") / 2, of.rods.s_y.m_as("in") / 2
    u, v = np.abs(M_x), np.abs(M_y)
    M = u + v
    alpha = np.where((v > 0) & (M > 0), axis_share(u, np.where(M > 0, M, 1.0)), 1.0)
    across, along = axis(P, M, B, N, f_y, f_d), axis(P, M, N, B, f_x, f_d)
    n, share = len(of.rods), alpha[:, None]
    T = np.zeros((len(P), n))
    for side, T_1, T_2 in ((1.0, across.T, along.T), (-1.0, across.T_2, along.T_2)):
        in_1, in_2 = of.rods.j == side, of.rods.i == side
        T += share * T_1[:, None] / in_1.sum() * in_1 + (1 - share) * T_2[:, None] / in_2.sum() * in_2
    elastic = -P[:, None] / n + u[:, None] * y / np.sum(y**2) + v[:, None] * x / np.sum(x**2)
    hanging = (P < 0) & (elastic.min(axis=1) >= 0)
    T = np.where(hanging[:, None], elastic, T)
    down = ~hanging
    M_pl = shared(alpha, bearing_moment(across.f_p, across.Y, l), bearing_moment(along.f_p, along.Y, l))
    return Rows(
        alpha,
        np.where(down, shared_pressure(alpha, across.f_p, along.f_p), 0.0),
        np.where(down, M_pl, 0.0),
        np.where(down, np.maximum(np.where(alpha > 0, across.used, 0), np.where(alpha < 1, along.used, 0)), 0.0),
        T,
        hanging,
    )


@dataclass(frozen=True)
class Shears:
    """All rows: largest shear of a rod, shear toward both edges with its distance from the middle, whole shear."""

    V_max: Array
    V_x: Array
    V_y: Array
    e_x: Array
    e_y: Array
    V: Array


def shears(V_x: Array, V_y: Array, T: Array, of: Whole) -> Shears:
    """Return the rods' shears of all rows: kip and kip in."""
    x, y = of.rods.x.m_as("in"), of.rods.y.m_as("in")
    n, J = len(of.rods), float(np.sum(x**2 + y**2))
    u, w, t = V_x[:, None], V_y[:, None], T[:, None]
    V_xi, V_yi = rods_along(u, n, t, y, J), rods_across(w, n, t, x, J)
    V_i = rods_resultant(V_xi, V_yi)
    (V_ex, e_x), (V_ey, e_y) = _toward(V_xi, y), _toward(V_yi, x)
    return Shears(V_i.max(axis=1, initial=0.0), V_ex, V_ey, e_x, e_y, np.hypot(V_x, V_y))


def _toward(V_i: Array, place: Array) -> tuple[Array, Array]:
    push = np.maximum(V_i, 0)
    whole = push.sum(axis=1)
    off = np.abs(np.divide((push * place).sum(axis=1), whole, out=np.zeros_like(whole), where=whole > 0))
    return whole, off

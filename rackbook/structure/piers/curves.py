"""Curves of a section's design strengths on arrays, along one direction, and the neutral axis at an axial force on one."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from .section import (
    E_S,
    EPS_CU,
    Section,
    axial_strength,
    bar_force,
    bar_heights,
    bar_strain,
    bar_stress,
    block_depth,
    block_factor,
    cage,
    corner_area,
    corner_depth,
    corner_moment,
    flat_area,
    flat_moment,
    inside_block,
    moment_strength,
    segment_area,
    segment_moment,
    skewed,
    strength_factor,
    tension_strain,
    yield_strain,
)

#: Neutral axis depths of a curve, in depths of the section.
GRID = np.geomspace(1e-3, 20, 400)


@dataclass(frozen=True)
class Curve:
    """A curve of states along one direction, by growing neutral axis depth c [in]; forces in kip and kip*in."""

    direction: float
    c: np.ndarray
    P_n: np.ndarray
    M_n: np.ndarray
    phi: np.ndarray

    @property
    def P_d(self) -> np.ndarray:
        """Design axial strengths [kip]."""
        return self.phi * self.P_n

    @property
    def M_d(self) -> np.ndarray:
        """Design moment strengths [kip*in]."""
        return self.phi * self.M_n


def curve(section: Section, direction: float) -> Curve:
    """Return the curve of a section along a direction, as for :func:`state`."""
    numbers = [section.b.m_as("in"), section.R_s.m_as("in"), section.A_b.m_as("in**2")]
    numbers += [section.f_c_prime.m_as("ksi"), section.f_y.m_as("ksi")]
    c = _neutral_axes(section.shape, section.heights(direction), direction, numbers[0], numbers[1], *numbers[3:])
    return Curve(direction, c, *_states(section.shape, direction, section.heights(direction), c, *numbers))


def _neutral_axes(shape: str, eta: np.ndarray, direction: float, b: float, R_s: float, f_c_prime: float, f_y: float) -> Any:
    """Return the neutral axis depths of a curve [in].

    Among them are those just before and after a bar enters the stress block, and both ends of the transition of phi: between
    two of them a curve is smooth.
    """
    h = _depth(shape, b, direction)
    entering = (h / 2 - R_s * np.unique(eta)) / block_factor(f_c_prime=f_c_prime * 1000)
    least = yield_strain(f_y=f_y, E_s=E_S.m_as("ksi"))
    ends = np.array([least, least + 0.003])
    turning = EPS_CU.magnitude * (h / 2 - R_s * eta.min()) / (EPS_CU.magnitude + ends)
    return np.unique(np.concatenate([GRID * h, entering * (1 - 1e-6), entering * (1 + 1e-6), turning]))


def _depth(shape: str, b: float, direction: float) -> float:
    return corner_depth(b=b, psi=math.radians(direction)) if skewed(shape, direction) else b


def _states(shape: str, direction: float, eta: np.ndarray, c: np.ndarray, b, R_s, A_b, f_c_prime, f_y) -> Any:
    """Return P_n, M_n [kip, in] and phi at neutral axis depths c [in]: the formulas' own text on arrays."""
    h, psi, E_s, epsilon_cu = _depth(shape, b, direction), math.radians(direction), E_S.m_as("ksi"), float(EPS_CU.magnitude)
    a = block_depth(beta_1=block_factor(f_c_prime=f_c_prime * 1000), c=c, h=np.float64(h))
    if skewed(shape, direction):
        A_c, Q_c = corner_area(a=a, b=b, psi=psi), corner_moment(a=a, b=b, psi=psi)
    elif shape == "square":
        A_c, Q_c = flat_area(a=a, b=b), flat_moment(a=a, b=b)
    else:
        A_c, Q_c = segment_area(a=a, b=b), segment_moment(a=a, b=b)
    y = bar_heights(R_s=R_s, eta=eta)[None, :]
    f_s = bar_stress(epsilon_s=bar_strain(epsilon_cu=epsilon_cu, c=c[:, None], h=h, y=y), E_s=E_s, f_y=f_y)
    F_s = bar_force(A_b=A_b, f_s=f_s, f_c_prime=f_c_prime, k_s=inside_block(a[:, None], h, y))
    epsilon_t = tension_strain(epsilon_cu=epsilon_cu, c=c, h=h, y_t=float(y.min()))
    phi = strength_factor(epsilon_t=epsilon_t, epsilon_ty=yield_strain(f_y=f_y, E_s=E_s))
    P_n = axial_strength(f_c_prime=f_c_prime, A_c=A_c, F_s=0.0) + F_s.sum(axis=1)
    M_n = moment_strength(f_c_prime=f_c_prime, Q_c=Q_c, F_s=0.0, y=0.0) + (F_s * y).sum(axis=1)
    return P_n, M_n, phi


def _points(of: Curve, tension: float) -> tuple[np.ndarray, np.ndarray]:
    """Return axial and moment strengths along a curve, from all in tension on."""
    return np.concatenate([[-tension], of.P_d]), np.concatenate([[0.0], of.M_d])


def least(of: Curve, P: np.ndarray, tension: float) -> np.ndarray:
    """Return the least moment of a curve at axial forces; 0 beyond its ends.

    phi falls while P_n rises, so a curve may pass an axial force more than once: each stretch that goes one way is read by
    itself, straight between its points (within 0.1 % of the state itself).
    """
    p, m = _points(of, tension)
    turns = np.flatnonzero(np.diff(np.sign(np.diff(p))) != 0) + 1
    lowest = np.full(P.shape, np.inf)
    for start, end in itertools.pairwise([0, *turns.tolist(), len(p) - 1]):
        run = slice(start, end + 1) if p[end] >= p[start] else slice(end, start - 1 if start else None, -1)
        lowest = np.minimum(lowest, np.interp(P, p[run], m[run], left=np.inf, right=np.inf))
    return np.where(np.isfinite(lowest), np.maximum(lowest, 0.0), 0.0)


def between_points(of: Curve, P: float, tension: float) -> int:
    """Return before which point of a curve its least moment at an axial force lies."""
    p, m = _points(of, tension)
    low, high = p[:-1], p[1:]
    inside = np.flatnonzero((np.minimum(low, high) <= P) & (np.maximum(low, high) >= P))
    share = np.divide(P - low, high - low, out=np.zeros_like(low), where=high != low)
    return int(inside[np.argmin((m[:-1] + share * (m[1:] - m[:-1]))[inside])])


def neutral_axis(shape, count, direction, between, P_u, b, R_s, A_b, f_c_prime, f_y) -> float:
    """Return the neutral axis depth [in] at which phi P_n is P_u [kip], between two points; f_c_prime in psi."""
    eta, f_c_prime = cage(shape, count, direction), f_c_prime / 1000
    c = _neutral_axes(shape, eta, direction, b, R_s, f_c_prime, f_y)

    def over(c: float) -> float:
        P_n, _, phi = _states(shape, direction, eta, np.array([c]), b, R_s, A_b, f_c_prime, f_y)
        return float(phi[0] * P_n[0]) - P_u

    low, high = float(c[between - 1]) if between else 1e-9 * b, float(c[min(between, len(c) - 1)])
    rising = over(high) >= over(low)
    for _ in range(80):
        middle = (low + high) / 2
        if (over(middle) < 0) == rising:
            low = middle
        else:
            high = middle
    return (low + high) / 2

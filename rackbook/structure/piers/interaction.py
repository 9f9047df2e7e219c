"""Axial force and moment together: one state of a section worked in full, and the least moment strength at any axial force."""

from __future__ import annotations

import functools
import itertools
import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from rackbook.loads.geometry import read
from rackbook.trace import DomainError, Source, Value, given

from .section import (
    COMPRESSION_PHI,
    E_S,
    EPS_CU,
    TENSION_PHI,
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
    design_axial,
    design_moment,
    flat_area,
    flat_moment,
    gross,
    inside_block,
    largest_axial,
    moment_strength,
    segment_area,
    segment_moment,
    skewed,
    squash,
    steel_area,
    strength_factor,
    tension_strain,
    tension_strength,
    yield_strain,
)

#: Neutral axis depths of a curve, in depths of the section.
GRID = np.geomspace(1e-3, 20, 400)
AT_AXIAL = Source("derivation", "the least of the design strengths along the directions worked, at phi P_n = P_u")
NEUTRAL_AXIS = Source("derivation", "strain compatibility: the depth at which phi P_n equals P_u")

BLOCK = Source("derivation", "1 for a bar inside the stress block, else 0")


@dataclass(frozen=True)
class State:
    """One state of a section at its strength: the neutral axis at depth c, and every line up to the design strengths."""

    direction: float
    c: Value
    a: Value
    A_c: Value
    Q_c: Value
    y: Value
    F_s: Value
    P_n: Value
    M_n: Value
    epsilon_t: Value
    phi: Value
    P_d: Value
    M_d: Value


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


def state(section: Section, c: Value, direction: float = 0.0) -> State:
    """Return the state of a section at a neutral axis depth.

    Args:
        section: The section.
        c: Depth of the neutral axis from the fiber most compressed.
        direction: Direction of the compressed side [deg], from a bar (round) or a side (square).

    Raises:
        DomainError: ``c`` is not above zero.

    """
    if c.magnitude <= 0:
        raise DomainError(f"c = {c.text()} must be above zero; with less the section is all in tension (22.4.3.1).")
    b = section.b
    beta_1 = block_factor(f_c_prime=section.f_c_prime)
    where = Source(
        "derivation", f"direction of bending, {direction:g} deg from a {'bar' if section.shape == 'round' else 'side'}"
    )
    if skewed(section.shape, direction):
        psi = given(direction, "deg", where, "psi")
        h = corner_depth(b=b, psi=psi)
        a = block_depth(beta_1=beta_1, c=c, h=h)
        A_c, Q_c = corner_area(a=a, b=b, psi=psi), corner_moment(a=a, b=b, psi=psi)
    else:
        h = b
        a = block_depth(beta_1=beta_1, c=c, h=h)
        area, moment = (segment_area, segment_moment) if section.shape == "round" else (flat_area, flat_moment)
        A_c, Q_c = area(a=a, b=b), moment(a=a, b=b)
    eta = section.heights(direction)
    y = bar_heights(R_s=section.R_s, eta=given(eta, "", where, "eta"))
    epsilon_s = bar_strain(epsilon_cu=EPS_CU, c=c, h=h, y=y)
    f_s = bar_stress(epsilon_s=epsilon_s, E_s=E_S, f_y=section.f_y)
    block = {"a": a.to("in"), "h": h.to("in"), "y": y.to("in")}
    k_s = read("bars inside the stress block", BLOCK, "", inside_block, block, "k_s")
    F_s = bar_force(A_b=section.A_b, f_s=f_s, f_c_prime=section.f_c_prime, k_s=k_s)
    P_n = axial_strength(f_c_prime=section.f_c_prime, A_c=A_c, F_s=F_s)
    M_n = moment_strength(f_c_prime=section.f_c_prime, Q_c=Q_c, F_s=F_s, y=y)
    y_t = bar_heights(R_s=section.R_s, eta=given(float(eta.min()), "", where, "eta_t")).named("y_t")
    epsilon_t = tension_strain(epsilon_cu=EPS_CU, c=c, h=h, y_t=y_t)
    phi = strength_factor(epsilon_t=epsilon_t, epsilon_ty=yield_strain(f_y=section.f_y, E_s=E_S))
    return State(
        direction, c, a, A_c, Q_c, y, F_s, P_n, M_n, epsilon_t, phi,
        design_axial(phi=phi, P_n=P_n), design_moment(phi=phi, M_n=M_n),
    )  # fmt: skip


@dataclass(frozen=True)
class Strength:
    """Strengths of a section without regard to direction.

    Attributes:
        section: The section.
        A_g, A_st: Areas of the section and its bars.
        P_max: Largest design axial strength.
        P_t: Design strength in tension.
        curves: A curve for every direction worked.

    """

    section: Section
    A_g: Value
    A_st: Value
    P_max: Value
    P_t: Value
    curves: tuple[Curve, ...]

    def moments(self, P_u: ArrayLike) -> np.ndarray:
        """Return the least design moment strength [kip*in] at axial forces [kip]; 0 where the force alone is too large."""
        P = np.asarray(P_u, float)
        least = np.min([_least(curve, P, self.P_t.m_as("kip")) for curve in self.curves], axis=0)
        return np.where(self.P_max.m_as("kip") >= P, least, 0.0)

    def moment_at(self, P_u: Value) -> Value:
        """Return the least design moment strength at an axial force, read off the curves."""
        return read("least moment strength", AT_AXIAL, "kip*in", self._moment, {"P_u": P_u.to("kip")}, "M_d")

    def _moment(self, P_u: float) -> float:
        return float(self.moments(P_u))

    def at(self, P_u: Value) -> State:
        """Return the state of least moment strength whose design axial strength is ``P_u``.

        Raises:
            DomainError: The axial force alone is more than the section carries.

        """
        P, tension = float(P_u.m_as("kip")), self.P_t.m_as("kip")
        on = min(self.curves, key=lambda curve: float(_least(curve, np.array(P), tension)))
        if self.moments(P) <= 0:
            raise DomainError(
                f"P_u = {P_u.text()} is more than the section carries: {self.P_max.text()} in compression, "
                f"{self.P_t.text()} in tension."
            )
        between = _between(on, P, tension)
        direction = on.direction
        of = {"P_u": P_u.to("kip"), **{n: v.to(u) for n, v, u in self._inputs()}}
        work = functools.partial(_neutral_axis, self.section.shape, self.section.count, direction, between)
        c = read("neutral axis", NEUTRAL_AXIS, "in", work, of, "c")
        return state(self.section, c, direction)

    def _inputs(self) -> tuple[tuple[str, Value, str], ...]:
        s = self.section
        return (("b", s.b, "in"), ("R_s", s.R_s, "in"), ("A_b", s.A_b, "in**2"), ("f_c_prime", s.f_c_prime, "ksi"),
                ("f_y", s.f_y, "ksi"))  # fmt: skip


def strength(section: Section) -> Strength:
    """Return the strengths of a section in all directions."""
    A_g = gross(section.shape, section.b)
    A_st = steel_area(n=section.n, A_b=section.A_b)
    P_o = squash(f_c_prime=section.f_c_prime, A_g=A_g, A_st=A_st, f_y=section.f_y)
    return Strength(
        section, A_g, A_st, largest_axial(phi=COMPRESSION_PHI, P_o=P_o),
        tension_strength(phi=TENSION_PHI, f_y=section.f_y, A_st=A_st),
        tuple(curve(section, direction) for direction in section.directions),
    )  # fmt: skip


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


def _least(of: Curve, P: np.ndarray, tension: float) -> np.ndarray:
    """Return the least moment of a curve at axial forces; 0 beyond its ends.

    phi falls while P_n rises, so a curve may pass an axial force more than once: each stretch that goes one way is read by
    itself, straight between its points (within 0.1 % of the state itself).
    """
    p, m = _points(of, tension)
    turns = np.flatnonzero(np.diff(np.sign(np.diff(p))) != 0) + 1
    least = np.full(P.shape, np.inf)
    for start, end in itertools.pairwise([0, *turns.tolist(), len(p) - 1]):
        run = slice(start, end + 1) if p[end] >= p[start] else slice(end, start - 1 if start else None, -1)
        least = np.minimum(least, np.interp(P, p[run], m[run], left=np.inf, right=np.inf))
    return np.where(np.isfinite(least), np.maximum(least, 0.0), 0.0)


def _between(of: Curve, P: float, tension: float) -> int:
    """Return before which point of a curve its least moment at an axial force lies."""
    p, m = _points(of, tension)
    low, high = p[:-1], p[1:]
    inside = np.flatnonzero((np.minimum(low, high) <= P) & (np.maximum(low, high) >= P))
    share = np.divide(P - low, high - low, out=np.zeros_like(low), where=high != low)
    return int(inside[np.argmin((m[:-1] + share * (m[1:] - m[:-1]))[inside])])


def _neutral_axis(shape, count, direction, between, P_u, b, R_s, A_b, f_c_prime, f_y) -> float:
    """Return the neutral axis depth [in] at which phi P_n is P_u [kip], between two points of the curve."""
    eta = cage(shape, count, direction)
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

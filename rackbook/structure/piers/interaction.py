"""Axial force and moment together: one state of a section worked in full, and the least moment strength at any axial force."""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from rackbook.loads.geometry import read
from rackbook.trace import DomainError, Source, Value, given

from .curves import Curve, between_points, curve, least, neutral_axis
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
        lowest = np.min([least(curve, P, self.P_t.m_as("kip")) for curve in self.curves], axis=0)
        return np.where(self.P_max.m_as("kip") >= P, lowest, 0.0)

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
        on = min(self.curves, key=lambda curve: float(least(curve, np.array(P), tension)))
        if self.moments(P) <= 0:
            raise DomainError(
                f"P_u = {P_u.text()} is more than the section carries: {self.P_max.text()} in compression, "
                f"{self.P_t.text()} in tension."
            )
        between = between_points(on, P, tension)
        direction = on.direction
        of = {"P_u": P_u.to("kip"), **{n: v.to(u) for n, v, u in self._inputs()}}
        work = functools.partial(neutral_axis, self.section.shape, self.section.count, direction, between)
        c = read("neutral axis", NEUTRAL_AXIS, "in", work, of, "c")
        return state(self.section, c, direction)

    def _inputs(self) -> tuple[tuple[str, Value, str], ...]:
        s = self.section
        return (("b", s.b, "in"), ("R_s", s.R_s, "in"), ("A_b", s.A_b, "in**2"), ("f_c_prime", s.f_c_prime, "psi"),
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

"""Seismic loads of a job: ground motion, category, system, base shear both ways, distribution, and every item's force."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from rackbook.trace import Check, DomainError, Source, Value, check, largest
from rackbook.trace.columns import column

from ..weights import Weights, canopy_area, effective_weight, snow_share
from ..words import as_word
from .base_shear import BaseShear, base_shear
from .category import design_category, importance
from .effects import (
    ACCIDENTAL,
    EXPONENT_SHORT,
    Direction,
    accidental_twisting,
    distribution_factor,
    height_exponent,
    horizontal_effect,
    lateral_force,
    orthogonal,
    overstrength_effect,
    overturning,
    resultant_height,
    twisting,
    vertical_effect,
    whole_twisting,
)
from .ground import GIVE_SPECTRAL, Ground, mapped_motion, spectral_motion
from .items import Items, item_forces
from .period import period
from .system import System, Systems, redundancy, systems

NO_SNOW = "No snow load is given for the canopy or the rack; the effective seismic weight has no share of snow."


@dataclass(frozen=True)
class Lateral:
    """Seismic loads in one direction.

    Attributes:
        shear: Base shear with its bounds.
        k: Exponent of the vertical distribution.
        C_vx, F_x: Share and force of every part of the weights, columns in their order.
        M: Overturning moment at grade.
        h_V: Height of the resultant above grade.
        E_h, E_mh: Horizontal effect with redundancy, and with overstrength.
        M_t: Twisting moment from the eccentricity of the weight, with 5 % of the dimension across the force.

    """

    shear: BaseShear
    k: Value
    C_vx: Value
    F_x: Value
    M: Value
    h_V: Value
    E_h: Value
    E_mh: Value
    M_t: Value | None = None

    @property
    def V(self) -> Value:
        """The base shear."""
        assert self.shear.V is not None  # a job always has a weight
        return self.shear.V


@dataclass(frozen=True)
class Seismic:
    """Seismic loads of a rack.

    Attributes:
        edition: ``"7-16"`` or ``"7-22"``.
        ground: Accelerations of the site.
        risk_category, category: Words.
        I_e, rho: Importance and redundancy factors.
        systems: The rows of the system tables in both directions, with their height limits and what is used of them.
        W: Effective seismic weight.
        labels: Labels of the parts of the columns in ``along`` and ``across``.
        w_x, h_x: Weights of the parts and their heights above grade, columns.
        along, across: Loads in the two directions of the rack.
        E_v: Vertical effect on the whole rack.
        directions: Combinations of the two directions.
        items: Forces on the equipment and its anchorage.
        checks: Height limit and others.
        notes: Assumptions and cautions, in words.

    """

    edition: str
    ground: Ground
    risk_category: Value
    category: Value
    I_e: Value
    rho: Value
    systems: Systems
    W: Value
    labels: tuple[str, ...]
    w_x: Value
    h_x: Value
    along: Lateral
    across: Lateral
    E_v: Value
    directions: tuple[Direction, ...]
    items: Items
    checks: tuple[Check, ...]
    notes: tuple[str, ...]

    @property
    def system(self) -> System:
        """The row the engineer chose."""
        return self.systems.along

    @property
    def Omega_0(self) -> Value:
        """The overstrength factor used in both directions."""
        return self.systems.Omega_0

    def C_d(self, direction: str) -> Value:
        """Return the deflection amplification ``along`` or ``across`` the rack."""
        return self.systems.along.C_d if direction == "along" else self.systems.C_d_across


def seismic(job: Any, weights: Weights, snow: Value | None = None) -> Seismic:
    """Return the seismic loads of a job.

    Args:
        job: The job.
        weights: Its weights.
        snow: Flat roof snow load on the canopy, where there is one.

    Raises:
        DomainError: The ground motion is not given as the edition needs it, or lies outside what it allows.
        LookupFailed: The system, a component row or a risk category is not in its table.

    """
    edition = str(job.codes.loads).removeprefix("ASCE/SEI ")
    site = job.site.seismic
    ground = _ground(site, edition)
    risk = as_word(job.site.risk_category, "risk_category")
    category = design_category(ground.S_DS, ground.S_D1, risk, ground.S_1)
    I_e = importance(risk)
    height = _height(job)
    used = systems(edition, site.system, category, height, str(site.reason), job.frame.depth.magnitude == 0)
    of = used.along
    rho = redundancy(of.table, category)
    notes = list(ground.notes)
    W = weights.W
    canopy = job.frame.canopy
    if canopy and snow is not None:
        area = canopy_area(L_c=canopy.length, W_c=canopy.width)
        W = effective_weight(W_D=W, p_snow=snow_share(snow, edition), p_f=snow, A_c=area)
    else:
        notes.append(NO_SNOW)
    h_x = column("h_x", {p.label: p.z for p in weights.parts}, "ft")
    periods = {name: _period(site, name, W) for name in ("along", "across")}
    made: dict[tuple[int, int], Lateral] = {}  # one period and one R, one base shear: worked and shown once
    keys = {name: (id(T), id(R)) for (name, T), R in zip(periods.items(), (of.R, used.R_across), strict=True)}
    for (name, T), R in zip(periods.items(), (of.R, used.R_across), strict=True):
        if keys[name] not in made:
            shear = base_shear(
                ground.S_DS, ground.S_D1, R, I_e, ground.S_1, W, T, site.T_L, used.floor_table, ground.long_factor
            )
            made[keys[name]] = _lateral(shear, ground, weights.w, h_x, rho, used.Omega_0)
    along, across = (
        replace(made[keys[name]], M_t=_twisting(made[keys[name]].V, e, B_x))
        for name, e, B_x in (("along", weights.e_y, job.frame.depth), ("across", weights.e_x, weights.length))
    )
    notes += _said(ground, periods, str(category.magnitude))
    shortest = min((T for T in periods.values() if T is not None), key=lambda T: T.m_as("s"), default=None)
    known = shortest if all(T is not None for T in periods.values()) else None
    items = item_forces(job, edition, weights, ground.S_DS, height, W, known, of.R, I_e, of.Omega_0)
    limits = (of.check, used.across.check if used.across is not None else None)
    checks = tuple(c for c in (*limits, *_plateau_checks(ground, periods)) if c is not None)
    return Seismic(
        edition, ground, risk, category, I_e, rho, used, W, weights.labels, weights.w, h_x, along, across,
        vertical_effect(S_DS=ground.S_DS, D=weights.W), orthogonal(category), items, checks, tuple(notes),
    )  # fmt: skip


def _ground(site: Any, edition: str) -> Ground:
    if site.spectral is not None:
        return spectral_motion(site.spectral.S_DS, site.spectral.S_D1, site.spectral.S_1)
    if site.mapped is None:
        raise DomainError(f"No ground motion is given. {GIVE_SPECTRAL}")
    mapped = site.mapped
    return mapped_motion(mapped.S_S, mapped.S_1, mapped.site_class, bool(mapped.measured), edition)


def _height(job: Any) -> Value:
    """Return the height of the rack above grade: its posts', or its canopy's where that is higher."""
    frame = job.frame
    if frame.canopy is None:
        return frame.height
    return largest("h", {"posts": frame.height, "canopy": frame.canopy.height})


def _period(site: Any, direction: str, W: Value) -> Value | None:
    """Return the period in a direction: the engineer's, or that of the given stiffness, or None."""
    if site.period is not None:
        return site.period
    k = getattr(site.stiffness, direction) if site.stiffness is not None else None
    return period(W, k) if k is not None else None


def _lateral(shear: BaseShear, ground: Ground, w: Value, h_x: Value, rho: Value, Omega_0: Value) -> Lateral:
    V = shear.V
    assert V is not None
    T = shear.T if shear.T is not None else ground.T_S  # on the plateau T is T_S at most, which gives the largest exponent
    k = height_exponent(T=T) if T is not None else EXPONENT_SHORT
    C_vx = distribution_factor(w_x=w, h_x=h_x, k=k)
    F_x = lateral_force(C_vx=C_vx, V=V)
    M = overturning(F_x=F_x, h_x=h_x)
    h_V = resultant_height(C_vx=C_vx, h_x=h_x)
    return Lateral(shear, k, C_vx, F_x, M, h_V, horizontal_effect(rho=rho, Q_E=V), overstrength_effect(Omega_0=Omega_0, Q_E=V))


def _twisting(V: Value, e: Value, B_x: Value) -> Value:
    """Return the twisting moment; the accidental one too, whether or not the clause lets it be left out."""
    inherent = twisting(V=V, e=e)
    if B_x.magnitude == 0:
        return inherent
    return whole_twisting(M_ti=inherent.named("M_ti"), M_ta=accidental_twisting(V=V, p_a=ACCIDENTAL, B_x=B_x))


def _plateau_checks(ground: Ground, periods: dict[str, Value | None]) -> list[Check]:
    """Return the checks that exception 3 of 11.4.8 asks for: no period above T_S.

    Raises:
        DomainError: A period is not known, so the exception cannot be claimed.

    """
    if not ground.plateau_only or ground.T_S is None:
        return []
    source = Source("clause", "ASCE/SEI 7", "16", "11.4.8, exception 3", "memory")
    found = []
    for name, T in periods.items():
        if T is None:
            raise DomainError(
                f"Site class E with S_1 = {ground.S_1.text()}: ASCE/SEI 7-16, 11.4.8, asks for a site-specific study unless "
                f"the period is at most T_S = {ground.T_S.text()} (exception 3), and the period {name} the rack is not known. "
                f"Give site.seismic.period or site.seismic.stiffness.{name}. Or: {GIVE_SPECTRAL}"
            )
        found.append(check(f"Period {name} the rack against T_S", T, ground.T_S, source, remedy=GIVE_SPECTRAL))
    return found


def _said(ground: Ground, periods: dict[str, Value | None], letter: str) -> list[str]:
    notes = []
    unknown = [name for name, T in periods.items() if T is None]
    if unknown:
        notes.append(
            f"No period {' or '.join(unknown)} the rack is used: the plateau of the spectrum is, which is the maximum for any "
            "period. The exponent of the distribution is that of T_S, the longest period on the plateau. The fixed-base period "
            "on the Frame analysis sheet is for information. Eq. 12.8-7 is for buildings and is not used (15.4.4)."
        )
    if letter == "A":
        notes.append("Category A requires the forces of 11.7 only; those of Chapter 15 are used, which are not smaller.")
    if letter == "B":
        notes.append("In category B E_v may be zero (12.4.2.2); it is kept here.")
    notes.append(
        "Redundancy, overstrength and directions apply to the frame; Chapter 13 forces take neither rho nor the directions."
    )
    return list(dict.fromkeys(notes))

"""The base plates of a rack: all bases and combinations of the steel's method at once, the governing ones in full."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.tables import table
from rackbook.trace import Check, Value, check, given, largest

from ..steel import clause as aisc
from .actions import ALL_ACROSS, Tension, tension
from .bearing import Bearing, bearing_moment, shared, shared_pressure, tension_moment, too_small
from .clauses import BEARING, FLEXURE, PLATE_STEEL, derived, dg1
from .plan import Whole, half
from .plate import bearing_stress, by_method, confinement, growth_round, growth_square, thickness
from .reactions import At, Reacted
from .strips import Strip, cantilevers, strips
from .sweep import rows

LARGER = "Use a larger base plate, a wider pier or stronger concrete."
BEARS = "Bearing of the plate on the concrete"
RESISTS = "Base plate length: moment about the rods resisted by bearing"
_THICKER = "Use a thicker base plate (frame.base_plate.thickness)"


@dataclass(frozen=True, eq=False)
class Pressed:
    """A base under one combination on the bearing side: its state, pressure, plate moment and thickness needed."""

    at: At
    state: Tension
    f_p: Value
    M_pl: Value
    t_req: Value


@dataclass(frozen=True, eq=False)
class Pulled:
    """A base under one combination on the tension side: its state, plate moment and thickness needed."""

    at: At
    state: Tension
    M_pt: Value
    t_req: Value


@dataclass(frozen=True)
class AtBase:
    """One base at its own governing combinations: what bearing and what tension ask of its plate; None without tension."""

    base: str
    f_p: Value
    M_pl: Value
    t_bearing: Value
    T_max: Value | None
    t_tension: Value | None


@dataclass(frozen=True, eq=False)
class PlateDesign:
    """Base plates of a rack.

    Attributes:
        method: LRFD or ASD.
        k_A, f_pn, f_d, F_d: Confinement, nominal and available bearing stress, available stress of the plate.
        m, n, l: Cantilevers across and along the rack, and the one that counts.
        strips: Bending by one rod, by direction; empty where the rods stand within the yield lines.
        pressed, pulled: Governing base and combination on either side; ``pulled`` is None where no rod is pulled.
        by_base: Every base.
        checks: Bearing, thickness on both sides.
        governing: Name of each check with its base and combination.

    """

    method: str
    k_A: Value
    f_pn: Value
    f_d: Value
    F_d: Value
    m: Value
    n: Value
    l: Value
    strips: tuple[Strip, ...]
    pressed: Pressed
    pulled: Pulled | None
    by_base: tuple[AtBase, ...]
    checks: tuple[Check, ...]
    governing: tuple[tuple[str, str, str], ...]


def bearing_available(f_c_prime: Value, of: Whole, method: str) -> tuple[Value, Value, Value]:
    """Return the confinement factor, the nominal and the available bearing stress under a plate in the middle of its pier."""
    k = (growth_round if of.pier_shape == "round" else growth_square)(D=of.D, N=of.plate.N, B=of.plate.B)
    k_A = confinement(k=k)
    f_pn = bearing_stress(f_c_prime=f_c_prime, k_A=k_A)
    return k_A, f_pn, by_method(f_pn, BEARING, method)


def plate_design(job: Any, of: Whole, reacted: Reacted) -> PlateDesign:
    """Return the check of a rack's base plates.

    Args:
        job: The job, with plate, rods and concrete.
        of: Plan of its bases.
        reacted: Reactions of the set of the steel's method, those with overstrength behind them where asked for.

    """
    method = str(job.codes.method)
    k_A, f_pn, f_d = bearing_available(job.piers.concrete, of, method)
    F_y = table("materials").cell(PLATE_STEEL, "F_y", "F_y")
    F_d = by_method(F_y, FLEXURE, method)
    m, n, l = cantilevers(of)
    bent = strips(of)
    swept = rows(reacted.P, reacted.M_x, reacted.M_y, of, f_d.m_as("ksi"), l.m_as("in"))
    T_max = swept.T.max(axis=1, initial=0.0)
    press = functools.cache(lambda row: _pressed(reacted, row, of, f_d, F_d, l))
    pull = functools.cache(lambda row: _pulled(reacted, row, of, f_d, F_d, bent))
    pressed = press(int(np.argmax(swept.M_pl)))
    # where the rods help, the concrete bears at its available stress by the method itself: what bearing balances is judged
    alone = np.where(swept.used > 0, 0.0, swept.f_p)
    judged: list[tuple[Check, At]] = []
    if swept.used.max(initial=0.0) > 0:
        judged += _moment_check(press(int(np.argmax(swept.used))), of)
    if alone.max(initial=0.0) > (f_d.m_as("ksi") * (1 + 1e-9) if judged else 0.0):
        densest = press(int(np.argmax(alone)))
        judged.append((check(BEARS, densest.f_p, f_d, aisc("J8"), remedy=LARGER), densest.at))
    remedy = f"{_THICKER}."
    source = dg1("base with moment, bearing side")
    judged.append((check("Base plate thickness, bearing side", pressed.t_req, of.plate.t, source, remedy=remedy), pressed.at))
    pulled = None
    if T_max.max(initial=0.0) > 0 and bent:
        pulled = pull(int(np.argmax(T_max)))
        remedy = f"{_THICKER}, or set the rods nearer to the post."
        source = dg1("Eq. 4-62a")
        judged.append((check("Base plate thickness, tension side", pulled.t_req, of.plate.t, source, remedy=remedy), pulled.at))
    worst = zip(reacted.row_by_base(swept.M_pl), reacted.row_by_base(T_max), strict=True)
    by_base = tuple(_at_base(press(int(a)), pull(int(b)) if pulled else None) for a, b in worst)
    return PlateDesign(method, k_A, f_pn, f_d, F_d, m, n, l, bent, pressed, pulled, by_base, *told(judged))


def told(judged: list[tuple[Check, At]]) -> tuple[tuple[Check, ...], tuple[tuple[str, str, str], ...]]:
    """Return checks, and the name of each with its base and combination."""
    return tuple(c for c, _ in judged), tuple((c.name, at.base, at.combination) for c, at in judged)


def _at_base(of: Pressed, pulled: Pulled | None) -> AtBase:
    tension = (pulled.state.T_max, pulled.t_req) if pulled is not None else (None, None)
    return AtBase(of.at.base, of.f_p, of.M_pl, of.t_req, *tension)


def _state(reacted: Reacted, row: int, of: Whole, f_d: Value) -> tuple[At, Tension]:
    at = reacted.at(row)
    return at, tension(at.P, at.M_x, at.M_y, of, f_d, at_most=True)


def _pressed(reacted: Reacted, row: int, of: Whole, f_d: Value, F_d: Value, l: Value) -> Pressed:
    at, state = _state(reacted, row, of, f_d)
    none_p, none_m = given(0.0, "ksi", derived("lifted"), "f_p"), given(0.0, "kip*in/in", derived("lifted"), "M_pl")
    f = [none_p if b is None or b.f_p is None else b.f_p for b in (state.across, state.along)]
    M = [none_m if b is None else _moment(b, l, none_m) for b in (state.across, state.along)]
    if state.alpha is ALL_ACROSS or _alike(f, M):
        return Pressed(at, state, f[0], M[0], thickness(M_p=M[0], F_d=F_d))
    M_pl = shared(alpha=state.alpha, M_1=M[0], M_2=M[1])
    f_p = shared_pressure(alpha=state.alpha, f_1=f[0], f_2=f[1])
    return Pressed(at, state, f_p, M_pl, thickness(M_p=M_pl, F_d=F_d))


def _alike(*pairs: list[Value]) -> bool:
    """Return whether a base bears alike about both axes, so that shares of them change nothing."""
    return all(np.isclose(one.magnitude, other.to(one.unit).magnitude, rtol=1e-12) for one, other in pairs)


def _moment(of: Bearing, l: Value, none: Value) -> Value:
    if of.f_p is None or of.Y is None:
        return none
    return bearing_moment(f_p=of.f_p, Y=of.Y, l=l)


def _moment_check(of: Pressed, plan: Whole) -> list[tuple[Check, At]]:
    """Return the check of whether bearing on the plate can balance the load at all: Eq. 4-58 has a root."""
    share = of.state.alpha.magnitude
    sides = [
        (b.M_r, b.M_rmax, s, size)
        for b, s, size, counts in (
            (of.state.across, plan.rods.s_y, plan.plate.B, share > 0),
            (of.state.along, plan.rods.s_x, plan.plate.N, share < 1),
        )
        if counts and b is not None and b.M_r is not None and b.M_rmax is not None
    ]
    if not sides:
        return []
    M_r, M_rmax, s, size = max(sides, key=lambda side: side[0].m_as("kip*in") / side[1].m_as("kip*in"))
    remedy = too_small(size, half(s=s), M_r, M_rmax)
    return [(check(RESISTS, M_r, M_rmax, dg1("Eq. 4-58"), remedy=remedy), of.at)]


def _pulled(reacted: Reacted, row: int, of: Whole, f_d: Value, F_d: Value, bent: tuple[Strip, ...]) -> Pulled:
    at, state = _state(reacted, row, of, f_d)
    moments = {s.name: tension_moment(T=state.T_max, x=s.x, b_eff=s.b_eff) for s in bent}
    first = next(iter(moments.values()))
    same = all(np.isclose(M.magnitude, first.magnitude, rtol=1e-12) for M in moments.values())
    M_pt = first if same else largest("M_pt", moments)
    return Pulled(at, state, M_pt, thickness(M_p=M_pt, F_d=F_d))

"""Spread footings under the piers: stability and pressure under allowable-stress loads, and the slab."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.trace import Check, Value, assume, check

from .drilled import BEARING, frost_check
from .footing import (
    moment_against_turning,
    net_pressure,
    side_resistance,
    slab_volume,
    slab_weight,
    sliding_by_cohesion,
    sliding_by_friction,
    soil_above,
)
from .loads import Loads
from .pressure import Bearing, bearing
from .size import Pier
from .slab import Slab, slab
from .soil import Ground, ibc
from .underside import Standing, Underside
from .vertical import all_volume
from .water import water_checks

NO_SOIL_ABOVE = assume(0.0, "kip", "the soil's unit weight is not given: soil on the footing is not counted", "W_o")
TURNING = ibc("1605.1")
SLIDING = ibc("1806.3")
STAND = "The footing turns over under a combination: enlarge it first."


@dataclass(frozen=True)
class Spread:
    """Spread footings.

    Attributes:
        W_f, W_o: Weight of a slab and of the soil on it.
        V_f, V_t: Concrete of one slab and of all.
        bearing: Largest pressure of the soil under allowable loads, with what gives it; None where a footing turns over.
        q_net: The same above that of the soil.
        R_s: Resistance to sliding where that governs; None where neither friction nor cohesion is given.
        slab: The slab; None without concrete, or where it turns over.
        checks: All checks.

    """

    W_f: Value
    W_o: Value
    V_f: Value
    V_t: Value
    bearing: tuple[Standing, Bearing] | None
    q_net: Value | None
    R_s: Value | None
    slab: Slab | None
    checks: tuple[Check, ...]


def spread(job: Any, pier: Pier, ground: Ground | None, allowable: Loads, ultimate: Loads, labels: tuple[str, ...]) -> Spread:
    """Return the spread footings of a job.

    Args:
        job: The job; ``job.piers.footing`` is given.
        pier: The piers on them.
        ground: The soil; None where it is not given.
        allowable: Reactions of the allowable-stress combinations.
        ultimate: Reactions of the strength combinations.
        labels: Names of the bases.

    """
    of = job.piers.footing
    W_f = slab_weight(gamma_c=pier.gamma_c, L=of.length, B=of.width, h_f=of.thickness)
    V_f = slab_volume(L=of.length, B=of.width, h_f=of.thickness)
    gamma_s = ground.gamma_s if ground is not None else None
    W_o = NO_SOIL_ABOVE
    if gamma_s is not None:
        W_o = soil_above(gamma_s=gamma_s, L=of.length, B=of.width, A_p=pier.A_p, D=of.depth, h_f=of.thickness)
    service = Underside(pier, of, allowable, W_f, W_o)
    checks = [_turning(service, axis, labels) for axis in "xy"]
    found = q_net = R_s = None
    if ground is not None:
        found, q_net, judged = _pressure(service, ground, labels)
        R_s, slid = _sliding(service, ground, labels)
        checks += [judged, slid, frost_check("footings", ground, of.depth), *water_checks("footings", ground, of.depth)]
    made, judged_slab = slab(job, pier, gamma_s, Underside(pier, of, ultimate, W_f, W_o), labels)
    V_t = all_volume(n=pier.count, V_p=V_f)
    return Spread(W_f, W_o, V_f, V_t, found, q_net, R_s, made, (*checks, *judged_slab))


def _turning(of: Underside, axis: str, labels: tuple[str, ...]) -> Check:
    M, length = (of.M_fx, of.B) if axis == "x" else (of.M_fy, of.L)
    row, base = of.place(np.where(of.N > 0, M / np.where(of.N > 0, of.N, 1.0) / (length / 2), np.inf))
    one = of.one(row, base)
    side = of.of.width if axis == "x" else of.of.length
    M_R = moment_against_turning(N=one.N, L=side)
    way = "across the rack" if axis == "x" else "along the rack"
    demand = one.M_fx if axis == "x" else one.M_fy
    return check(f"Turning over of the footings {way} ({labels[base]})", demand, M_R, TURNING, remedy="Larger footings.")


def _pressure(of: Underside, ground: Ground, labels: tuple[str, ...]) -> tuple[Any, Value | None, Check]:
    q = of.pressure
    row, base = of.place(q)
    one = of.one(row, base)
    name = f"Bearing under the footings ({labels[base]})"
    if not np.isfinite(q[row, base]):
        return None, None, check(name, one.N, None, BEARING, remedy=STAND)
    found = bearing(one.N, one.M_fx, one.M_fy, of.of.length, of.of.width)
    q_net = found.q_max
    if ground.gamma_s is not None:
        q_net = net_pressure(q_max=found.q_max, gamma_s=ground.gamma_s, D=of.of.depth)
    return (one, found), q_net, check(name, q_net, ground.q_a, BEARING, remedy="Larger footings.")


def _sliding(of: Underside, ground: Ground, labels: tuple[str, ...]) -> tuple[Value | None, Check]:
    foot = of.of
    narrow = foot.length if foot.length.m_as("ft") < foot.width.m_as("ft") else foot.width
    R_p = side_resistance(S=ground.S, B=narrow, D=foot.depth, h_f=foot.thickness, d_0=ground.discount)
    V, N, beside = of.loads.V * 1000, of.N, R_p.m_as("lbf")
    if ground.mu is not None:
        held = ground.mu.magnitude * np.maximum(N, 0) + beside
    elif ground.c is not None:
        held = np.minimum(ground.c.m_as("psf") * of.L * of.B, np.maximum(N, 0) / 2) + beside
    else:
        row, base = of.place(V)
        remedy = "Give friction or cohesion of the soil report (site.soil.report)."
        return None, check("Sliding of the footings", of.one(row, base).V, None, SLIDING, remedy=remedy)
    row, base = of.place(V / np.maximum(held, 1e-9))
    one = of.one(row, base)
    if ground.mu is not None:
        R_s = sliding_by_friction(mu=ground.mu, N=one.N, R_p=R_p)
    else:
        assert ground.c is not None
        R_s = sliding_by_cohesion(c=ground.c, L=foot.length, B=foot.width, N=one.N, R_p=R_p)
    return R_s, check(f"Sliding of the footings ({labels[base]})", one.V, R_s, SLIDING, remedy="Larger or deeper footings.")

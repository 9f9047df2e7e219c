"""Drilled piers against the soil: depth under lateral load, bearing, uplift and frost, at every base."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rackbook.trace import Check, Source, Value, assume, check, given

from .embedment import (
    Embedment,
    arm,
    constrained_depth,
    couple_depth,
    from_grade,
    held_depths,
    lever,
    moment_at_grade,
    nonconstrained_depth,
    pole_depths,
    restraint,
)
from .loads import Loads
from .size import Pier
from .soil import LEAST_DEPTH, Ground, ibc
from .vertical import (
    bearing_pressure,
    displaced_soil,
    least_depth,
    resistance_to_uplift,
    uplift,
    weight_against_uplift,
)
from .water import uplift_weight, water_checks

AT_GRADE = given(0.0, "ft", Source("derivation", "the restraint is at grade"), "d_0")
NO_SOIL_WEIGHT = assume(0.0, "kip", "unit weight of soil not given: the weight of displaced soil is not deducted", "W_s")
GIVE_SOIL = "Give site.soil: a class of IBC Table 1806.2, or the values of a report."
POLE = ibc("1807.3.2.1", "read")
HELD = ibc("1807.3.2.2", "read")
BEARING = ibc("1806.2")
UPLIFT = ibc("1605.1")
FROST = ibc("1809.5 and 1809.4", "read")


@dataclass(frozen=True)
class Lateral:
    """The lateral load that asks for most depth at one base, and that depth.

    Attributes:
        combination: In words.
        S: Allowable pressure a foot of depth that goes with it.
        P, M: Shear and moment of both axes at the underside of the base plate.
        e_s: Height of that above the soil counted on (or above the restraint at grade).
        M_g, h: Moment there, and the height of the force that makes it; None without a shear.
        found: The depth of soil counted on, with its proof.
        d_req: Depth of embedment.
        R_g: What the restraint at grade has to hold; None without one.

    """

    combination: str
    S: Value
    P: Value
    M: Value
    e_s: Value
    M_g: Value
    h: Value | None
    found: Embedment
    d_req: Value
    R_g: Value | None


@dataclass(frozen=True)
class Drilled:
    """Drilled piers in their soil, by base in the order of the frame.

    Attributes:
        lateral: What governs the depth at every base; None where a base has no lateral load.
        q: Largest pressure at every base, above that of the soil, and its combination in words.
        U, R_u: Uplift that comes nearest to its resistance at every base, and that resistance; None without uplift.
        checks: Of the governing base.

    """

    lateral: tuple[Lateral | None, ...]
    q: tuple[tuple[Value, str], ...]
    U: tuple[tuple[Value, Value, str] | None, ...]
    checks: tuple[Check, ...]


def drilled(pier: Pier, ground: Ground, loads: Loads, labels: tuple[str, ...], shares: tuple[Value, Value]) -> Drilled:
    """Return drilled piers in their soil.

    Args:
        pier: The piers.
        ground: The soil.
        loads: Reactions of the allowable-stress combinations.
        labels: Names of the bases.
        shares: Shares of the lateral resistance that count along x and along y.

    """
    lateral = _lateral(pier, ground, loads, shares)
    W_s = displaced_soil(gamma_s=ground.gamma_s, A_p=pier.A_p, D=pier.D) if ground.gamma_s is not None else NO_SOIL_WEIGHT
    pressures = loads.P * 1000 + loads.c_D[:, None] * pier.W_p.m_as("lbf") - W_s.m_as("lbf")
    q = []
    for base, row in enumerate(np.argmax(pressures, axis=0)):
        P_v, c_D = loads.value("P", row, base).named("P_v"), loads.factor(row)
        q.append((bearing_pressure(P_v=P_v, c_D=c_D, W_p=pier.W_p, W_s=W_s, A_p=pier.A_p), loads.labels[row]))
    U = tuple(_uplift(pier, ground, loads, base) for base in range(len(labels)))
    checks = [*_depth_checks(pier, ground, lateral, labels)]
    worst = int(np.argmax([v.m_as("psf") for v, _ in q]))
    checks.append(
        check(f"Bearing under the piers ({labels[worst]})", q[worst][0], ground.q_a, BEARING, remedy="Widen the piers.")
    )
    checks += _uplift_check(U, labels)
    checks += [frost_check("piers", ground, pier.D), *water_checks("piers", ground, pier.D)]
    return Drilled(lateral, tuple(q), U, tuple(checks))


def frost_check(what: str, ground: Ground, D: Value) -> Check:
    """Return the depth of a base against frost and the least depth of foundations."""
    need = least_depth(d_f=ground.frost, d_min=LEAST_DEPTH)
    remedy = f"The {what} end above frost or less than 12 in. below grade: set their bases {need.text()} below grade or deeper."
    return check(f"Depth of the {what} against frost", need, D, FROST, remedy=remedy)


def _lateral(pier: Pier, ground: Ground, loads: Loads, shares: tuple[Value, Value]) -> tuple[Lateral | None, ...]:
    e_s = lever(e=pier.e, t_g=pier.t_g, d_0=AT_GRADE if ground.constrained else ground.discount)
    k_x, k_y = (float(k.magnitude) for k in shares)
    P = np.hypot(loads.V_x / k_x, loads.V_y / k_y) * 1000
    M = np.hypot(loads.M_x / k_y, loads.M_y / k_x) * 1000 / 12
    M_g = M + P * e_s.m_as("ft")
    short = np.array([kind != "gravity" for kind in loads.kinds])
    S = np.where(short, ground.S_short.m_as("psf/ft"), ground.S.m_as("psf/ft"))[:, None]
    b = pier.b.m_as("ft")
    depths = held_depths(M_g, b, S) if ground.constrained else pole_depths(P, M_g, b, S)
    out: list[Lateral | None] = []
    for base, row in enumerate(np.argmax(depths, axis=0)):
        if depths[row, base] <= 0:
            out.append(None)
            continue
        out.append(_one(pier, ground, loads, int(row), base, e_s, bool(short[row]), shares))
    return tuple(out)


def _one(
    pier: Pier, ground: Ground, loads: Loads, row: int, base: int, e_s: Value, short: bool, shares: tuple[Value, Value]
) -> Lateral:
    P, M = loads.grouped(row, base, *shares)
    S = ground.S_short if short else ground.S
    M_g = moment_at_grade(M=M, P=P, e_s=e_s)
    h = arm(M_g=M_g, P=P) if P.magnitude > 0 else None
    R_g = None
    if ground.constrained:
        found = constrained_depth(b=pier.b, S=S, M_g=M_g)
        R_g = restraint(P=P, M_g=M_g, d=found.d)
    elif h is None:
        found = couple_depth(M_g=M_g, b=pier.b, S=S)
    else:
        found = nonconstrained_depth(P=P, h=h, b=pier.b, S=S)
    d_req = from_grade(d=found.d, d_0=ground.discount)
    return Lateral(loads.labels[row], S, P, M, e_s, M_g, h, found, d_req, R_g)


def _depth_checks(pier: Pier, ground: Ground, lateral: tuple[Lateral | None, ...], labels: tuple[str, ...]) -> list[Check]:
    found = [(of.d_req.m_as("ft"), base) for base, of in enumerate(lateral) if of is not None]
    if not found:
        return []
    _, base = max(found, key=lambda of: of[0])
    worst = lateral[base]
    assert worst is not None
    remedy = f"Make the piers at least {worst.d_req.text()} deep, or widen them."
    source = HELD if ground.constrained else POLE
    checks = [check(f"Embedment of the piers ({labels[base]})", worst.d_req, pier.D, source, remedy=remedy)]
    if worst.R_g is not None:
        checks.append(
            check("Restraint of the piers at grade", worst.R_g, None, HELD,
                  remedy="Show that the floor or pavement at grade holds this force at every pier, in every direction.")
        )  # fmt: skip
    return checks


def _uplift(pier: Pier, ground: Ground, loads: Loads, base: int) -> tuple[Value, Value, str] | None:
    pull = -loads.P[:, base] * 1000
    if np.max(pull) <= 0:
        return None
    friction = 0.0
    if ground.f_s is not None:
        friction = ground.f_s.m_as("psf") * pier.p_p.m_as("ft") * (pier.D.m_as("ft") - ground.discount.m_as("ft"))
    W_p = uplift_weight(pier, ground)
    held = loads.c_D * W_p.m_as("lbf") + friction
    row = int(np.argmax(np.where(held > 0, pull / np.where(held > 0, held, 1.0), np.where(pull > 0, np.inf, 0.0))))
    U, c_D = uplift(P_v=loads.value("P", row, base).named("P_v")), loads.factor(row)
    if ground.f_s is None:
        return U, weight_against_uplift(c_D=c_D, W_p=W_p), loads.labels[row]
    R_u = resistance_to_uplift(c_D=c_D, W_p=W_p, f_s=ground.f_s, p_p=pier.p_p, D=pier.D, d_0=ground.discount)
    return U, R_u, loads.labels[row]


def _uplift_check(found: tuple[tuple[Value, Value, str] | None, ...], labels: tuple[str, ...]) -> list[Check]:
    there = [(_share(of), base) for base, of in enumerate(found) if of is not None]
    if not there:
        return []
    _, base = max(there, key=lambda of: of[0])
    of = found[base]
    assert of is not None
    remedy = "Deepen or widen the piers; skin friction counts where a report gives it (site.soil.report.skin)."
    return [check(f"Uplift of the piers ({labels[base]})", of[0], of[1], UPLIFT, remedy=remedy)]


def _share(of: tuple[Value, Value, str]) -> float:
    U, R_u, _ = of
    held = R_u.m_as("lbf")
    return U.m_as("lbf") / held if held > 0 else np.inf


def open_checks(what: str, pier: Pier, M: Value | None) -> tuple[Check, ...]:
    """Return the checks that wait for the soil to be given."""
    demand = M if M is not None else pier.D
    return (
        check(f"Lateral load on the {what} against the soil", demand, None, POLE, remedy=GIVE_SOIL),
        check(f"Bearing under the {what}", pier.W_p, None, BEARING, remedy=GIVE_SOIL),
        check(f"Depth of the {what} against frost", pier.D, None, FROST, remedy=GIVE_SOIL),
    )

"""The lugs of a job: every leg's pull on its lug, and the checks of the one that governs, down to the post."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.trace import Check, Value, check

from .legs import Leg, Lift
from .lug import (
    N_D,
    LugStrength,
    combined_limit,
    electrode,
    foot_normal,
    foot_shear,
    foot_stress,
    hole_above_foot,
    lug_strength,
    minor_bending,
    misfit,
    plate_material,
    side_bending,
    side_load,
    weld_force,
    weld_line_strength,
    weld_pull,
    weld_shear,
    weld_strength,
)
from .seat import seat_checks

BIGGER = "select a thicker or wider lug"


@dataclass(frozen=True)
class Pull:
    """What a leg does to its lug: tension and its components; stresses at the cap plate, force on the weld."""

    label: str
    T: Value
    V: Value
    H: Value
    P_y: Value
    f_b: Value
    f_cr: Value
    q: Value


@dataclass(frozen=True)
class Lugs:
    """The lug of a job, one shape for all picks.

    Attributes:
        strength: Allowable loads at the pin.
        e_h: Height of the hole above the cap plate.
        pulls: What each leg does.
        F_b, F_cr: Allowable stress of bending out of the plane, and combined.
        f_w: Allowable force on an inch of weld; ``P_w`` of both welds pulled vertically.
        checks: By limit state, for the leg that governs each.
        seat: Those of the seat under the lugs.
        notes: Cautions, in words.

    """

    strength: LugStrength
    e_h: Value
    pulls: tuple[Pull, ...]
    F_b: Value
    F_cr: Value
    f_w: Value
    P_w: Value
    checks: tuple[Check, ...]
    seat: tuple[Check, ...]
    notes: tuple[str, ...]

    @property
    def worst(self) -> Pull:
        """The pull with the largest combined stress at the cap plate."""
        return max(self.pulls, key=lambda p: p.f_cr.magnitude)


def lugs(job: Any, frame: Any, lifts: tuple[Lift, ...]) -> Lugs | None:
    """Return the lugs of a job; None where the job gives no lug or no lift has legs.

    Raises:
        DomainError: Pin, hole and plate do not fit.

    """
    lug = job.lifting.lug
    legs = [(made, leg) for made in lifts for leg in made.legs]
    if lug is None or not legs:
        return None
    F_y, F_u = plate_material()
    strength = lug_strength(lug.thickness, lug.width, lug.radius, lug.hole, lug.pin, F_y, F_u)
    e_h = hole_above_foot(lug)
    pulls = tuple(_pull(f"{made.said}{leg.label}", leg, lug, e_h) for made, leg in legs)
    f_w = weld_line_strength(E_xx=electrode(job), N_d=N_D, w=lug.weld)
    F_b, F_cr = minor_bending(F_y=F_y, N_d=N_D), combined_limit(F_y=F_y, N_d=N_D)
    P_w = weld_strength(f_w=f_w, w_p=lug.width)
    T = max((p.T for p in pulls), key=lambda T: T.magnitude)
    at_pin = (
        ("tension through the pinhole", strength.P_t),
        ("single plane fracture beyond the pinhole", strength.P_b),
        ("double plane shear beyond the pinhole", strength.P_v),
        ("bearing of the pin", strength.P_p),
    )
    checks = [check(f"Lug: {name}", T, P, P.source, remedy=BIGGER) for name, P in at_pin]
    for name, symbol, limit in (
        ("bending out of its plane", "f_b", F_b),
        ("section at the cap plate, tension with bending both ways and shear", "f_cr", F_cr),
        ("weld to the cap plate", "q", f_w),
    ):
        demand = max((getattr(p, symbol) for p in pulls), key=lambda v: v.magnitude)
        remedy = "select a larger weld or a wider lug" if symbol == "q" else f"{BIGGER}, or a spreader beam (vertical slings)"
        checks.append(check(f"Lug: {name}", demand, limit, limit.source, remedy=remedy))
    notes = []
    if misfit(w_p=lug.width, R=lug.radius).m_as("in") > 1 / 16:
        notes.append(
            "The lug's half width is not its radius: the formulas at the pin use the radius in the direction of pull and the "
            "width beside the hole."
        )
    under = seat_checks(job, frame, pulls, all(made.on_posts for made in lifts), e_h)
    return Lugs(strength, e_h, pulls, F_b, F_cr, f_w, P_w, tuple(checks), tuple(under), tuple(notes))


def _pull(label: str, leg: Leg, lug: Any, e_h: Value) -> Pull:
    T, V, H = leg.T, leg.V, leg.H
    P_y = side_load(leg.P_y, T)
    f_b = side_bending(P_y=P_y, e_h=e_h, w_p=lug.width, t=lug.thickness)
    at_foot = foot_normal(V=V, H=H, e_h=e_h, w_p=lug.width, t=lug.thickness, f_b=f_b)
    f_cr = foot_stress(f_n=at_foot, f_v=foot_shear(H=H, P_y=P_y, w_p=lug.width, t=lug.thickness))
    q_n = weld_pull(V=V, H=H, P_y=P_y, e_h=e_h, w_p=lug.width, t=lug.thickness)
    q = weld_force(q_n=q_n, q_s=weld_shear(H=H, P_y=P_y, w_p=lug.width))
    return Pull(label, T, V, H, P_y, f_b, f_cr, q)

"""The sheets of lifting and transport: the governing leg in full, a table of all legs, lug, steel, road, cautions."""

from __future__ import annotations

from collections.abc import Sequence

from rackbook.tables import table
from rackbook.trace import Check, Grid, Heading, Remark, Sheet, Value
from rackbook.trace.derive import IN_FULL
from rackbook.trace.sheet import matters

from .hung import Steel
from .legs import Lift
from .picked import Lugs
from .rack import CAUTIONS, Lifting
from .slings import charted
from .transport import Transport

TITLE, ROAD = "Lifting", "Transport"
ANGLES = ("60", "45", "30")
#: What the pull of a leg does at the foot of its lug.
AT_FOOT = ("f_b", "f_cr", "f")
HOW = (
    "The hook stands over the center of gravity, so legs to picks at unequal distances are of unequal length. Angles are from "
    "the horizontal. W is the weight with the impact factor; lug and steel are checked for it at working level."
)
TWO = (
    "Two of four legs of a rigid rack may carry all of it, the others only steady it. V of a leg is the most it can get while "
    "no leg pushes: with the center of gravity in the middle that is half of W."
)
BEAM = (
    "As it hangs, the rack is a beam on its picks: its rails bend together and share its moment, posts and their joints keep "
    "them together. Sloping slings squeeze the posts' tops together; the top rails take that, and bend with it."
)


def sheets(result: Lifting) -> list[Sheet]:
    """Return the sheets of lifting and transport."""
    parts: list = []
    for n, made in enumerate(result.lifts):
        parts += _lift(result, made, n)
    if result.lugs is not None:
        parts += _lugs(result.lugs)
    hung = iter(result.steel)
    for made in result.lifts:
        if made.legs:
            parts += _steel(made, next(hung))
    others = [c for c in result.checks if c not in result.transport.checks and c not in parts]
    parts += [*([Heading("Open"), *others] if others else []), Heading("Cautions"), *(Remark(text) for text in result.notes)]
    parts += [Remark(text) for text in CAUTIONS]
    purpose = "Finds sling tensions, lug, and the rack's steel while it hangs on the hook."
    road = "Holds the rack against the limits of the road, and against tipping on the truck and before it is anchored."
    return [
        Sheet("lifting", TITLE, purpose, tuple(parts)),
        Sheet("transport", ROAD, road, tuple(_road(result.transport))),
    ]


def _lift(result: Lifting, made: Lift, n: int) -> list:
    of = made.of
    title = "Slings" if of.name == "rack" else f"Slings of {of.name}"
    how = [Remark(HOW)] if n == 0 else []
    if n == 0 and result.legs == 4 and result.carrying == "two":
        how.append(Remark(TWO))
    shown = (of.W_0, of.x_bar, of.y_bar, of.z_bar) if of.name != "rack" else ()
    parts = [Heading(title), *how, *shown, made.W, made.z_p]
    if not made.legs:
        return [*parts, *made.checks]
    worst = made.worst
    rows = tuple((leg.label, leg.L_s, leg.theta, leg.K, leg.V, leg.T, leg.H, leg.P_y) for leg in made.legs)
    heads = ("Leg", "L_s [ft]", "Angle [deg]", "Factor K", "V [lbf]", "T [lbf]", "H along [lbf]", "P_y across [lbf]")
    angles = tuple(
        (f"{angle} deg", K, charted(V=worst.V, K=K))
        for angle in ANGLES
        for K in (table("sling_angle").cell(angle, "factor", "K"),)
    )
    parts += [
        Remark(f"In full: {worst.label}, which has the largest tension."),
        worst.T,
        worst.V,
        worst.H,
        *([made.phi] if made.phi is not None else []),
        Grid("All legs", heads, rows, quoted=tuple(v for leg in made.legs if leg is not worst for v in (leg.T, leg.V, leg.H))),
        Grid("The same leg at other angles, by the chart", ("Angle", "K", "T [lbf]"), angles),
    ]
    if made.phi_0 is not None:
        parts += [
            Remark("Were the legs of equal length, the hook would stand over the middle of the picks, and the rack lean:")
        ]
        parts += [made.phi_0]
    return [
        *parts,
        Remark("Load of a proof test of lugs or of a custom lifting beam, rated for the weight:"),
        result.proof[n],
        *made.checks,
    ]


def _lugs(of: Lugs) -> list:
    rows = tuple((p.label, p.T, p.V, p.H, p.P_y, p.f_b, p.f_cr, p.f) for p in of.pulls)
    heads = ("Leg", "T [lbf]", "V [lbf]", "H [lbf]", "P_y [lbf]", "f_b [ksi]", "f_cr [ksi]", "f [lbf/in]")
    most = {n: max(float(getattr(p, n).magnitude) for p in of.pulls) for n in AT_FOOT}
    others = tuple(getattr(p, n) for p in of.pulls for n in AT_FOOT if getattr(p, n).magnitude < most[n])
    return [
        Heading("Lug"),
        Remark(
            "Plate of A36, design category B. The pin's bearing is an allowable stress, here times the projected area. Bending "
            "at the foot counts the slope of the sling along the rack, and across it the tilt or slope, at least the side load."
        ),
        Grid("Pull on every lug, and what it does at the foot", heads, rows, quoted=others),
        Remark("Set out in full: what uses the lug most, and at least half as much and a quarter of its strength."),
        *_telling(of.checks),
        *of.checks,
    ]


def _telling(checks: Sequence[Check]) -> list[Value]:
    """Return demand and capacity of the check used most, and of the others that matter beside it."""
    used = [(float(c.ratio.magnitude), c) for c in checks if c.ratio is not None]
    most = max((u for u, _ in used), default=0.0)
    full = sorted((of for of in used if matters(of[0], most)), key=lambda of: -of[0])[:IN_FULL]
    return [v for _, c in full for v in (c.demand, c.capacity) if v is not None]


def _steel(made: Lift, of: Steel) -> list:
    title = "The rack's steel" if made.of.name == "rack" else f"Steel of {made.of.name}"
    squeeze = [of.P_r] if of.P_r is not None else []
    joints = [Remark("Joints are checked at working level whatever the method of the job.")] if of.joints else []
    return [Heading(title), Remark(BEAM), *joints, of.M, of.M_r, *squeeze, *of.checks]


def _road(of: Transport) -> list:
    rows: list[tuple[str, Value]] = [("Length", of.length), ("Width", of.width), ("Height of the rack", of.height)]
    for name, h_c in of.h_c.items():
        rows.append((f"Center of gravity of the {name} above its underside", h_c))
    if of.h_t is not None:
        rows.append(("Height above the road", of.h_t))
    parts: list = [Heading("On the road"), Grid("Size", ("What", "Value"), tuple(rows)), of.W_g, *of.checks]
    parts.append(Remark("Limits hold without a permit. States and routes have their own; the carrier confirms the route."))
    if of.tipping:
        parts += [
            Heading("Ties"),
            *(t.F_d for t in of.tipping),
            Remark(
                "The width between the tie lines counts only where the rack stands or is blocked out that wide. Ties also need "
                "a working load limit of half the weight together (49 CFR 393.106(d)); against working load limits the "
                "sideways acceleration is 0.25 g, against breaking strength 0.5 g (49 CFR 393.102(a))."
            ),
        ]
    if of.alone:
        parts += [Heading("Standing before it is anchored"), *(v for a in of.alone for v in (a.a_0, a.V_0) if v is not None)]
        parts.append(Remark("On its own base plates the rack tips at this acceleration or gust: keep it guyed or on the hook."))
    return parts

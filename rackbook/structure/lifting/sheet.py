"""The sheets of lifting and transport: the governing leg in full, a table of all legs, lug, steel, road, cautions."""

from __future__ import annotations

from collections.abc import Sequence

from rackbook.tables import table
from rackbook.trace import Check, Grid, Heading, Remark, Sheet, Step, Value
from rackbook.trace.derive import IN_FULL
from rackbook.trace.sheet import matters

from .cut import Cut
from .hung import Steel
from .legs import Lift
from .picked import Lugs
from .rack import CAUTIONS, Lifting
from .slings import charted
from .transport import Transport

TITLE, ROAD = "Lifting", "Transport"
ANGLES = ("60", "45", "30")
#: What the pull of a leg does at the cap plate under its lug.
AT_CAP = ("f_b", "f_cr", "q")
HOW = (
    "The hook stands over the center of gravity, so legs to picks at unequal distances are of unequal length. Angles are from "
    "the horizontal; the slings pull at the holes of the lugs. W is the weight, W_I the weight with the impact factor; lug and "
    "steel are checked for W_I at working level (ASD), whatever the method of the job."
)
TWO = (
    "Two of four legs of a rigid rack may carry all of it, the others only steady it. V of a leg is the most it can get while "
    "no leg pushes: with the center of gravity in the middle that is half of W_I."
)
BEAM = (
    "As it hangs, the rack is a beam on its picks: its rails bend together and share its moment, posts and their joints hold "
    "them together. Sloping slings pull the tops of the posts together; the top rails resist that in compression and bending."
)
LUG = (
    "Plate of A36 in the plane of the rack, design category B, fillet welded on both faces to the cap plate. The pin's bearing "
    "is an allowable stress, here times the projected area. Bending at the cap plate counts the slope of the sling along the "
    "rack, and across it the tilt or slope, with a minimum side load."
)
SEAT = (
    "A cap plate of A36 on the top of the post, fillet welded all around; the lug is centered on it. Two strips of the cap "
    "plate are each in equilibrium and simply supported on the walls of the post (lower bound): one across the rack as wide as "
    "the lug for V and P_y, one along it under the lug and its welds for the moment of H. The weld and the wall below it get "
    "the reactions of the strips where they land. The cap plate extends past the post by the weld leg and 1/16 in. or more."
)
ROOM = "Distance of all parts from the lugs, the shackles (a radius R, or the pin's diameter, about the hole), and the slings."
JOINTS = (
    "Utilization of rail joints and splices: the governing limit state of the sheets of connections, with the forces above, at "
    "working level (R_n / Omega)."
)
GOVERNING = "Shown in full: the governing limit state and those above 0.25 and above half of it."

EXTREMES = {"x_min": "left, x_min", "x_max": "right, x_max", "y_min": "back, y_min", "y_max": "front, y_max"}
CRADLE = (
    "The width b_t is that of the cradle or dunnage the rack is shipped on (lifting.truck.stance), fixed to the base plates "
    "and to the deck; the base plates alone do not give it. The fastening of the base plates to the cradle is designed for M_o "
    "with the cradle, not checked here."
)
TIES = (
    "Ties also need a working load limit of half the weight together (49 CFR 393.106(d)); against working load limits the "
    "sideways acceleration is 0.25 g, against breaking strength 0.5 g (49 CFR 393.102(a))."
)
ALONE = (
    "On base plates alone the rack tips at this acceleration or gust: it is never set down without cradle, guys or the hook."
)


def sheets(result: Lifting) -> list[Sheet]:
    """Return the sheets of lifting and transport."""
    parts: list = []
    for n, made in enumerate(result.lifts):
        parts += _lift(result, made, n)
    if result.lugs is not None:
        parts += _lugs(result.lugs, result.clear)
    hung = iter(result.steel)
    for made in result.lifts:
        if made.legs:
            parts += _steel(made, next(hung))
    others = [c for c in result.checks if c not in result.transport.checks and c not in parts]
    parts += [*([Heading("Open"), *others] if others else []), Heading("Cautions"), *(Remark(text) for text in result.notes)]
    parts += [Remark(text) for text in CAUTIONS]
    purpose = "Finds sling tensions, lug and its seat, and the rack's steel while it hangs on the hook."
    road = "Compares with highway limits, and checks tipping on the truck and before the rack is anchored."
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
    parts = [Heading(title), *how, *shown, made.W_I, made.z_p]
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
    others = tuple(v for leg in made.legs if leg is not worst for v in (leg.L_s, leg.theta, leg.T, leg.V, leg.H))
    parts += [
        Grid("All legs", heads, rows, quoted=others),
        Remark(f"In full: {worst.label}, which has the largest tension."),
        worst.T,
        worst.V,
        worst.H,
        *([made.phi] if made.phi is not None else []),
        Grid("The same leg at other angles, by the chart", ("Angle", "K", "T [lbf]"), angles),
    ]
    if made.phi_0 is not None:
        parts += [
            Remark(
                "If the legs were of equal length, the hook would stand over the middle of the picks, and the rack would lean:"
            )
        ]
        parts += [made.phi_0]
    return [
        *parts,
        Remark("Load of a proof test of lugs or of a custom lifting beam, rated for the weight:"),
        result.proof[n],
        *made.checks,
    ]


def _lugs(of: Lugs, clear: tuple[Check, ...]) -> list:
    rows = tuple((p.label, p.T, p.V, p.H, p.P_y, p.f_b, p.f_cr, p.q) for p in of.pulls)
    heads = ("Leg", "T [lbf]", "V [lbf]", "H [lbf]", "P_y [lbf]", "f_b [ksi]", "f_cr [ksi]", "q [lbf/in]")
    most = {n: max(float(getattr(p, n).magnitude) for p in of.pulls) for n in AT_CAP}
    others = tuple(getattr(p, n) for p in of.pulls for n in AT_CAP if getattr(p, n).magnitude < most[n])
    return [
        Heading("Lug"),
        Remark(LUG),
        of.e_h,
        Remark("Allowable loads at the pin (ASME BTH-1, 3-3.3):"),
        of.strength.P_t,
        of.strength.P_b,
        of.strength.P_v,
        of.strength.P_p,
        Grid("Pull on every lug, and its effect at the cap plate", heads, rows, quoted=others),
        Remark(GOVERNING),
        *_telling(of.checks),
        *of.checks,
        Heading("Seat of the lug, and clearance"),
        *([Remark(SEAT)] if any(c.capacity is not None for c in of.seat) else []),
        *(v for c in of.seat for v in (c.demand, c.capacity) if v is not None and c.capacity is not None),
        *_room(clear),
        *of.seat,
        *clear,
    ]


def _room(clear: Sequence[Check]) -> list:
    """Return what the clearance is measured from, and to which part."""
    steps = [c.capacity.origin for c in clear if c.capacity is not None]
    nearest = [f" Nearest: {step.operation.name}." for step in steps if isinstance(step, Step)]
    return [Remark(ROOM + "".join(nearest))] if clear else []


def _telling(checks: Sequence[Check]) -> list[Value]:
    """Return demand and capacity of the governing check, and of the others that matter beside it."""
    used = [(float(c.ratio.magnitude), c) for c in checks if c.ratio is not None]
    most = max((u for u, _ in used), default=0.0)
    full = sorted((of for of in used if matters(of[0], most)), key=lambda of: -of[0])[:IN_FULL]
    return [v for _, c in full for v in (c.demand, c.capacity) if v is not None]


def _steel(made: Lift, of: Steel) -> list:
    title = "The rack's steel" if made.of.name == "rack" else f"Steel of {made.of.name}"
    parts: list = [
        Heading(title),
        Remark(BEAM),
        *_cut(of.bent, f"Left of x = {of.bent.x.text()}, where the moment is largest"),
        of.bent.M,
    ]
    parts += [of.M_r, *(v for v in (of.P_r, of.u_post, of.V_c) if v is not None)]
    for label, cut in of.cuts.items():
        P, V_s, M_s = of.at_splices[label]
        parts += [*_cut(cut, f"Left of the splice {label}"), V_s, M_s, P]
    most = max((float(c.ratio.magnitude) for c in of.checks if c.ratio is not None), default=0.0)
    joints = [c.demand for c in of.joints if c.ratio is not None and matters(float(c.ratio.magnitude), most)]
    return [*parts, *([Remark(JOINTS), *joints] if of.joints else []), *of.checks]


def _cut(cut: Cut, title: str) -> list:
    heads = ("What pulls up (+) or hangs (-)", "p, without impact [lbf]", "a, distance [ft]")
    return [*cut.pulls, Grid(title, heads, cut.rows)]


def _road(of: Transport) -> list:
    rows: list[tuple[str, Value]] = [
        ("Overall length, base plates and rail ends included", of.length), ("Overall width", of.width),
        ("Overall height above the underside of the base plates, lugs included", of.height),
    ]  # fmt: skip
    rows += [(f"Center of gravity of the {name} above its underside", h_c) for name, h_c in of.h_c.items()]
    if of.h_t is not None:
        rows.append(("Height above the road", of.h_t))
    parts: list = [
        Heading("On the road"),
        Grid("Size", ("What", "Value"), tuple(rows)),
        Grid(
            "Extremes of all parts, from the left post line and the post plane", ("Extreme", "[ft]"),
            tuple((EXTREMES[name], v) for name, v in of.ends.items()), quoted=tuple(of.ends.values()),
        ),
        of.length,
        of.width,
        of.W_g,
        *of.checks,
    ]  # fmt: skip
    parts.append(Remark("Limits are without a permit. States and routes have their own; the carrier confirms the route."))
    if of.tipping:
        parts += [Heading("Ties"), *(t.F_d for t in of.tipping), Remark(CRADLE), Remark(TIES)]
    if of.alone:
        parts += [Heading("Standing before it is anchored"), *(v for a in of.alone for v in (a.a_0, a.V_0) if v is not None)]
        parts.append(Remark(ALONE))
    return parts

"""The sheets of lifting and transport: the governing leg in full, a table of all legs, lug, steel, road, cautions."""

from __future__ import annotations

from collections.abc import Sequence

from rackbook.tables import table
from rackbook.trace import Check, Grid, Heading, Remark, Sheet, Step, Value
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
    "The hook stands over the center of gravity; angles are from the horizontal, to the holes of the lugs. L_s spans the "
    "height h_s of the hook and the distance in plan from below the hook to the pick. W_I is the weight W with the impact "
    "factor; lug and steel are checked for W_I at working level (ASD), whatever the method of the job."
)
TWO = (
    "Two of four legs of a rigid rack may carry all of it, the others only steady it. V of a leg is the most it can get while "
    "no leg pushes: with the center of gravity in the middle that is half of W_I."
)
BEAM = (
    "As it hangs, the rack is a beam on its picks whose rails share its moment. Sloping slings pull the tops of the posts "
    "together; the top rails resist that in compression and bending."
)
LUG = (
    "Plate and cap plate of A36, design category B; the lug is in the plane of the rack, centered on the cap plate and fillet "
    "welded to it on both faces, the cap plate to the post all around. P_y is V sin phi (slope across of slings at four "
    "corners), but not less than 5 percent of T. Allowable stresses and loads are of ASME BTH-1."
)
SEAT = (
    "Two strips of the cap plate are each in equilibrium and simply supported on the walls of the post (lower bound): one "
    "across the rack as wide as the lug for V and P_y, one along it under the lug and its welds for the moment of H. The weld "
    "of the cap plate and the wall below it get the reactions of the strips. The cap plate extends past the post by the weld "
    "leg and 1/16 in. or more."
)
ROOM = "Clearance is from the lugs, the shackles (a radius R, or the pin's diameter, about the hole) and the slings."
COMPRESSION = (
    "P_a is the strength in compression that the Members sheets give a rail (AISC 360, E3, E4 and E7), P_n / Omega, for L_c = "
    "L_b about both axes and in torsion."
)
JOINTS = "Utilization u of the governing limit state of the connection sheets under the forces below, at R_n / Omega."
GOVERNING = "In full: the governing limit state and those above 0.25 and above half of it."

CRADLE = (
    "The width b_t is that of the cradle or dunnage the rack is shipped on (lifting.truck.stance), fixed to the base plates "
    "and to the deck. The fastening of the base plates to the cradle is designed for M_o with the cradle, not checked here."
)
TIES = (
    "Ties also need a working load limit of half the weight together (49 CFR 393.106(d)); against working load limits the "
    "sideways acceleration is 0.25 g, against breaking strength 0.5 g (49 CFR 393.102(a))."
)
ALONE = (
    "On base plates alone the rack tips at the acceleration a_0 (in g) or the gust V_0, where the moment of the wind about the "
    "underside of the base plates equals M_s. M_w, at the wind speed of the site, is M less V z_0 of the Wind loads sheet. The "
    "rack is never set down without cradle, guys or the hook."
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
    parts += [*([Heading("Open"), *others] if others else []), Heading("Cautions")]
    parts += [Remark(" ".join(said)) for said in (result.notes, CAUTIONS)]
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
    rows = tuple((leg.label, leg.L_s, leg.theta, leg.K, leg.V, leg.T, leg.H) for leg in made.legs)
    heads = ("Leg", "L_s [ft]", "theta [deg]", "K", "V [lbf]", "T [lbf]", "H, along [lbf]")
    flattest = min(made.legs, key=lambda leg: leg.theta.magnitude)
    others = tuple(v for leg in made.legs if leg is not worst for v in (leg.T, leg.V))
    others += tuple(leg.theta for leg in made.legs if leg is not flattest)
    every = tuple(v for leg in made.legs for v in (leg.L_s, leg.H))
    charts = tuple(charted(V=worst.V, K=table("sling_angle").cell(angle, "factor", "K")) for angle in ANGLES)
    also: list[tuple[str, Value]] = []
    if made.phi_0 is not None:
        also.append(("Tilt along, were the hook over the middle of the picks (legs of equal length)", made.phi_0))
    also.append(("Proof test of lugs or of a custom lifting beam, 125 percent of W, 29 CFR 1926.251(a)(4)", result.proof[n]))
    also += [(f"T of {worst.label} at {angle}°, by the chart of factors", T) for angle, T in zip(ANGLES, charts, strict=True)]
    return [
        *parts,
        Grid("All legs", heads, rows, quoted=(*others, *every)),
        Remark(f"K is T / V. In full: {worst.label}, which has the largest tension."),
        worst.T,
        worst.V,
        *([made.phi] if made.phi is not None else []),
        Grid("For the rigger", ("What", "Value"), tuple(also)),
        *made.checks,
    ]


def _lugs(of: Lugs, clear: tuple[Check, ...]) -> list:
    judged = (*of.checks, *of.seat)
    full = _governing(judged)
    rows = tuple((p.label, p.P_y, p.f_b, p.f_cr, p.q) for p in of.pulls)
    heads = ("Leg", "P_y [lbf]", "f_b [ksi]", "f_cr [ksi]", "q [lbf/in]")
    most = {n: max(float(getattr(p, n).magnitude) for p in of.pulls) for n in AT_CAP}
    others = tuple(getattr(p, n) for p in of.pulls for n in AT_CAP if getattr(p, n).magnitude < most[n])
    return [
        Heading("Lug and cap plate"),
        Remark(LUG),
        Grid(
            "Every lug: side load, and stresses and force on the weld at the cap plate",
            heads,
            rows,
            quoted=(*others, *(p.P_y for p in of.pulls)),
        ),
        *_at_pin(of, full),
        *([Remark(SEAT)] if any(c.capacity is not None for c in of.seat) else []),
        Remark(GOVERNING),
        *(v for c in full for v in (c.demand, c.capacity) if v is not None),
        *_room(clear),
        *judged,
        *clear,
    ]


def _at_pin(of: Lugs, full: Sequence[Check]) -> list:
    """Return the allowable loads at the pin that are not derived, with what they rest on."""
    s, shown = of.strength, {id(c.capacity) for c in full}
    if not shown.isdisjoint(map(id, (s.P_t, s.P_b, s.P_v))):
        return []
    title = "At the pin (ASME BTH-1, 3-3.3.1): tension, single plane fracture and double plane shear"
    heads = ("C_r", "b_e [in]", "b_eff [in]", "A_v [in**2]", "P_t [lbf]", "P_b [lbf]", "P_v [lbf]")
    return [Grid(title, heads, ((s.C_r, s.b_e, s.b_eff, s.A_v, s.P_t, s.P_b, s.P_v),))]


def _room(clear: Sequence[Check]) -> list:
    """Return what the clearance is measured from, and to which part."""
    steps = [c.capacity.origin for c in clear if c.capacity is not None]
    nearest = [f" Nearest: {step.operation.name}." for step in steps if isinstance(step, Step)]
    return [Remark(ROOM + "".join(nearest))] if clear else []


def _governing(checks: Sequence[Check]) -> list[Check]:
    """Return the governing check, and the others that matter beside it, by falling utilization."""
    used = [(float(c.ratio.magnitude), c) for c in checks if c.ratio is not None]
    most = max((u for u, _ in used), default=0.0)
    return [c for _, c in sorted((of for of in used if matters(of[0], most)), key=lambda of: -of[0])]


def _steel(made: Lift, of: Steel) -> list:
    title = "The rack's steel" if made.of.name == "rack" else f"Steel of {made.of.name}"
    full = _governing(of.checks)
    parts: list = [
        Heading(title),
        Remark(BEAM),
        *_cut(of.bent, f"Left of x = {of.bent.x.text()}, where the moment is largest"),
        of.bent.M,
        Grid(
            "Rails of each side: center plane, number, and share of the weight", ("Side", "y [in]", "n", "s_r"),
            tuple((side.face, side.y, side.n, side.s) for side in of.sides), quoted=tuple(side.s for side in of.sides),
        ),
        of.M_r,
        *([of.P_r] if of.P_r is not None else []),
    ]  # fmt: skip
    if of.P_a is not None:
        strength = ("Rail", "L_b [ft]", "P_a [lbf]"), ((of.rail, of.L_b, of.P_a),)
        parts += [Remark(COMPRESSION), Grid("Allowable compression of a rail between posts", *strength, quoted=(of.P_a,))]
    parts += [c.demand for c in full if c not in of.joints]
    for label, cut in of.cuts.items():
        _, V_s, M_s = of.at_splices[label]
        parts += [*_cut(cut, f"Left of the splice {label}"), V_s, M_s]
    return [*parts, *_joints(of), *of.checks]


def _joints(of: Steel) -> list:
    """Return the forces on the rails' joints and splices, and how far the governing limit state of each is utilized."""
    acting: dict[str, tuple[Value | str, ...]] = {f"Splice {label}": of.at_splices[label] for label in of.at_splices}
    if of.V_c is not None:
        acting["Rail joint at a picked post"] = ("–", of.V_c, "–")
    rows = tuple((label, *acting[label], *_use(u)) for label, u in of.use.items())
    if not rows:
        return []
    heads = ("Joint", "P [lbf]", "V [lbf]", "M [lbf*ft]", "Demand", "Capacity", "u")
    return [Remark(JOINTS), Grid("Joints of the rails, each rail", heads, rows, quoted=tuple(of.use.values()))]


def _use(u: Value) -> tuple[Value | str, Value | str, Value]:
    """Return demand and capacity behind a utilization, and itself."""
    behind = u.origin.given if isinstance(u.origin, Step) else {}
    return behind.get("D", "–"), behind.get("C", "–"), u


def _cut(cut: Cut, title: str) -> list:
    heads = ("What pulls up (+) or hangs (-)", "p, without impact [lbf]", "a, distance [ft]")
    return [*cut.pulls, Grid(title, heads, cut.rows)]


def _road(of: Transport) -> list:
    x_0, x_1, y_0, y_1 = (of.ends[name] for name in ("x_min", "x_max", "y_min", "y_max"))
    rows: list[tuple[str | Value, ...]] = [
        ("Overall length, along x from the left post line", x_0, x_1, of.length),
        ("Overall width, along y from the post plane", y_0, y_1, of.width),
        ("Overall height, underside of the base plates to the top of lugs and parts", "0", of.height, of.height),
    ]
    for name, h_c in of.h_c.items():
        rows.append((f"Center of gravity of the {name} above the underside of the base plates", "–", "–", h_c))
    size = (of.length, of.width, of.height, *of.ends.values(), *of.h_c.values())
    parts: list = [
        Heading("On the road"),
        Grid(
            "Size, base plates and all parts included", ("What", "From [ft]", "To [ft]", "Value [ft]"), tuple(rows), quoted=size
        ),
        *([of.h_t] if of.h_t is not None else []),
        of.W_g,
    ]
    for t in of.tipping:
        parts += [t.F_d] if t.F_d.magnitude else [t.M_o, t.M_s]
    if of.tipping:
        free = (
            "Where M_s exceeds M_o, ties need to add no downward force. "
            if not any(t.F_d.magnitude for t in of.tipping)
            else ""
        )
        parts += [Remark(free + CRADLE), Remark(TIES)]
    parts += of.checks
    parts.append(Remark("Limits are without a permit. States and routes have their own; the carrier confirms the route."))
    if of.alone:
        heads = ("Load", "b [in]", "M_s [lbf*ft]", "M_w [lbf*ft]")
        alone = tuple((a.name, a.b, *(v if v is not None else "–" for v in (a.M_s, a.M_w))) for a in of.alone)
        quoted = tuple(v for a in of.alone for v in (a.b, a.M_s, a.M_w) if v is not None)
        title = "Width of the base plates, moment of the weight and of the design wind"
        parts += [Heading("Standing before it is anchored"), Grid(title, heads, alone, quoted=quoted)]
        parts += [*(v for a in of.alone for v in (a.a_0, a.V_0) if v is not None), Remark(ALONE)]
    return parts

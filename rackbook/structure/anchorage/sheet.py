"""The sheets of base plates and anchor rods: the governing base of each limit state in full, all bases in a table."""

from __future__ import annotations

from rackbook.trace import Check, Grid, Heading, Remark, Sheet
from rackbook.trace.columns import entries
from rackbook.trace.derive import IN_FULL
from rackbook.trace.sheet import Part, matters

from ..frame import FromFrame, shown
from . import worked as w
from .actions import Tension
from .plan import Plan
from .plate_design import PlateDesign
from .rack import Anchorage
from .reactions import COMPONENTS, At
from .rod_design import RodDesign
from .rods import printed_tension
from .worked import Worked

PLATES, RODS = "Base plates", "Anchor rods"
COMPARED = "not governing: anchor reinforcement is provided"
WHERE = ("Check", "Base", "Combination")
#: What of the reactions bends a plate.
BENDING = ("P", "M_x", "M_y")
SHOWN = "Shown in full: the governing limit states, and any above 0.25 and above half the governing ratio."
OVER = "Among the combinations are those with overstrength, for which plate and rods are designed alike."
SIGNS = (
    "P is down, so uplift is below zero. V_x and M_y bend the base along the rack, V_y and M_x across it, T twists it. The "
    "base is alike on all sides, so senses make no difference."
)


def sheets(result: Anchorage) -> list[Sheet]:
    """Return the sheets of base plates and anchor rods."""
    purpose = "Checks the base plates for bearing on the concrete and for bending by concrete and rods."
    if result.plate is None or result.rods is None:
        parts: tuple[Part, ...] = (Heading("Open"), *result.checks)
        return [Sheet("base_plates", f"{PLATES} and anchor rods", "Says what is missing for their design.", parts)]
    why = "Checks the rods and the concrete around them for tension and shear at every base."
    return [
        Sheet("base_plates", PLATES, purpose, tuple(_plates(result, result.plate))),
        Sheet("anchors", RODS, why, tuple(_rods(result, result.rods))),
    ]


def _plates(result: Anchorage, of: PlateDesign) -> list:
    plan, pulled = result.plan, of.pulled
    parts: list = [
        Heading("Plan of a base"),
        Remark("x runs along the rack, y to its front; distances from the post's center. All bases are alike."),
        *_plan_grid(plan),
        Heading("Bearing"),
        Remark(f"By {of.method}. {SIGNS} {result.notes[0]}"),
        *([Remark(OVER)] if str(result.category.magnitude) >= "C" else []),
        of.f_d,
        of.l,
        of.F_d,
        Heading("Bearing side"),
        *_at(of.pressed.at, "governs the thickness on the bearing side", "Reactions, bearing side", BENDING),
        *_eccentric(of.pressed.state),
        of.pressed.t_req,
    ]
    if pulled is not None:
        of_rod = _at(pulled.at, "has the largest tension of a rod", "Reactions, tension side", BENDING)
        parts += [Heading("Tension side"), *of_rod, pulled.t_req]
    rows = tuple((b.base, b.M_pl, b.t_bearing, b.T_max or "", b.t_tension or "") for b in of.by_base)
    heads = ("Base", "M_pl [kip*in/in]", "t bearing [in]", "T_max [kip]", "t tension [in]")
    return [
        *parts,
        Heading("Results"),
        Grid("All bases, each at its own governing combinations", heads, rows),
        Grid("Governing base and combination of each check", WHERE, of.governing),
        *FromFrame(*(p for p in parts if isinstance(p, Grid))).judged("Reactions of the check below", of.checks),
    ]


def _eccentric(state: Tension) -> list:
    """Return the eccentricities of a base in compression, and what they say."""
    sides = [b for b in (state.across, state.along) if b is not None]
    if not sides or sides[0].e is None:
        return []
    found = [v for b in sides for v in (b.e, b.e_crit) if v is not None]
    words = " and ".join(dict.fromkeys(b.regime for b in sides))
    return [*found, Remark(f"By e against e_crit about each axis: {words}.")]


def _plan_grid(plan: Plan) -> list:
    rods = plan.rods
    if rods is None:
        return []
    x, y = entries(rods.x, rods.marks), entries(rods.y, rods.marks)
    return [Grid("Rods", ("Rod", "x [in]", "y [in]"), tuple((m, x[m], y[m]) for m in rods.marks))]


def _at(at: At, why: str, title: str, components: tuple[str, ...] = COMPONENTS) -> list:
    """Return a base and a combination in words, and what its reactions are made of."""
    table = shown(title, {n: getattr(at, n) for n in components})
    return [Remark(f"{at.base}, which {why}, under {at.combination}."), table]


def _rods(result: Anchorage, of: RodDesign) -> list:
    by, plan, one = of.by, result.plan, of.together
    printed = printed_tension(by.rod.d_a, result.grade)
    out = {w.BREAKOUT_N if of.held_n else w.BARS_N, w.BREAKOUT_V if of.held_v else w.TIES_V}
    parts: list = [
        Heading("Rod"),
        *(Remark(text) for text in result.notes[1:]),
        by.rod.N_sa,
        by.rod.V_sa,
        *([Remark("Minimum tensile load of such a rod as the standard of rods prints it:"), printed] if printed else []),
        *_set(result),
        Heading("Edges"),
        *((plan.rods.c_x, plan.rods.c_y) if plan.rods is not None else ()),
        Heading(f"Governing base for tension with shear: {one.at.base}"),
        *_at(one.at, "has the largest interaction of tension and shear", "Reactions from the frame"),
        _limit_states(one, out),
        Remark(SHOWN),
        Heading("Tension"),
        one.tension.T_max,
        *_telling(one, w.TENSION, w.BARS_N if of.held_n else w.BREAKOUT_N, out),
        of.in_tension,
        *_needed(of, one),
        Heading("Shear"),
        one.shear.V_max,
        *_telling(one, w.SHEAR, w.TIES_V if of.held_v else w.BREAKOUT_V, out),
        *([Remark(one.trifle)] if one.trifle else []),
        of.in_shear,
        Heading("Tension and shear together"),
        one.used.used,
    ]
    rows = tuple((b.base, b.combination, b.P, b.T_max, b.V, b.r_N, b.r_V, b.used) for b in of.by_base)
    heads = ("Base", "Combination", "P [kip]", "T_max [kip]", "V [kip]", "r_N []", "r_V []", "Ratio []")
    where = tuple((name, of.governing[name].at.base, of.governing[name].at.combination) for name in of.governing)
    others = [c for c in result.checks if c not in result.plate.checks]  # type: ignore[union-attr] # both or none
    return [
        *parts,
        Heading("Results"),
        Grid("All bases, each at its largest interaction", heads, rows),
        Grid("Governing base and combination of each check", WHERE, where),
        *FromFrame(*(p for p in parts if isinstance(p, Grid))).judged("Reactions of the check below", others),
    ]


def _set(result: Anchorage) -> list:
    """Return hole, washer, projection and length of a rod."""
    of = result.set
    if of is None:
        return []
    return [Heading("Holes, washers, length"), *(v for v in (of.hole, of.washer, of.t_w, of.l_p, of.l_r) if v is not None)]


def _limit_states(one: Worked, out: set[str]) -> Grid:
    """Return every limit state of one base under one combination; the concrete that reinforcement replaces is told apart."""
    kept = [c for c in one.checks.values() if c.name not in out or c.name == w.BREAKOUT_N]
    rows = tuple(
        (
            f"{c.name} ({COMPARED})" if c.name in out else c.name,
            c.demand.text(),
            c.capacity.text() if c.capacity is not None else "–",
            c.ratio if c.ratio is not None else "–",
            str(c.source),
        )
        for c in sorted(kept, key=_used, reverse=True)
    )
    shares = tuple(c.ratio for c in kept if c.ratio is not None)
    heads = ("Limit state", "Demand", "Capacity", "Ratio []", "Clause")
    return Grid("Limit states at this base", heads, rows, quoted=shares)


def _used(of: Check) -> float:
    return float(of.ratio.magnitude) if of.ratio is not None else 0.0


def _telling(one: Worked, kind: tuple[str, ...], holds: str, out: set[str]) -> list:
    """Return demand and capacity of what holds the rods, and of the limit states of a kind that matter."""
    compared = one.checks.get(w.BREAKOUT_N) if w.BREAKOUT_N in out and w.BREAKOUT_N in kind else None
    counted = {n: c for n, c in one.checks.items() if n in (*w.TENSION, *w.SHEAR) and n not in out}
    most = max(map(_used, counted.values()))
    made = sorted((c for n, c in counted.items() if n in kind), key=_used, reverse=True)
    parts: list = []
    for c in dict.fromkeys(
        (
            *([compared] if compared else []),
            *(c for c in made if c.name == holds),
            *made[:1],
            *(c for c in made[:IN_FULL] if matters(_used(c), most)),
        )
    ):
        parts += [Remark(f"{c.name}, {c.source}:"), *(v for v in (c.demand, c.capacity) if v is not None and v.computed)]
    return parts


def _needed(of: RodDesign, one: Worked) -> list:
    """Return the embedment at which the vertical bars would hold the rods, where the concrete does."""
    if of.held_n or one.held is None:
        return []
    _, bars = one.held
    return [Remark("The embedment at which the vertical bars nearest to a rod are developed, for comparison:"), bars.h_needed]

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
from .rod_design import DUCTILE, OVERSTRENGTH, RodDesign
from .rods import printed_tension
from .worked import Worked

PLATES, RODS = "Base plates", "Anchor rods"
PASSED_OVER = "passed over"
#: What of the reactions bends a plate.
BENDING = ("P", "M_x", "M_y")
SET_OUT = (
    "Set out in full below: of tension and of shear what holds the rods and what is used most, and what is used at least half "
    "as much as the most used of all, not below a quarter of its strength. The rest is in the table."
)
SIGNS = (
    "P is down, so uplift is below zero. V_x and M_y bend the base along the rack, V_y and M_x across it, T twists it. The "
    "base is alike on all sides, so senses make no difference."
)


def sheets(result: Anchorage) -> list[Sheet]:
    """Return the sheets of base plates and anchor rods."""
    purpose = "Holds the plates under the posts against bearing of the concrete and bending by concrete and rods."
    if result.plate is None or result.rods is None:
        parts: tuple[Part, ...] = (Heading("Open"), *result.checks)
        return [Sheet("base_plates", f"{PLATES} and anchor rods", "Says what is missing for their design.", parts)]
    why = "Holds the rods and the concrete around them against tension and shear of every base."
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
        of.f_d,
        of.l,
        of.F_d,
        Heading("Bearing side"),
        *_at(of.pressed.at, "needs most thickness from bearing", "Reactions, bearing side", BENDING),
        *_eccentric(of.pressed.state),
        of.pressed.t_req,
    ]
    if pulled is not None:
        of_rod = _at(pulled.at, "has the largest tension of a rod", "Reactions, tension side", BENDING)
        parts += [Heading("Tension side"), *of_rod, pulled.t_req]
    rows = tuple((b.base, b.f_p, b.M_pl, b.t_bearing, b.T_max or "", b.t_tension or "") for b in of.by_base)
    heads = ("Base", "f_p [ksi]", "M_pl [kip*in/in]", "t bearing [in]", "T_max [kip]", "t tension [in]")
    return [
        *parts,
        Heading("Results"),
        Grid("All bases, each at its own governing combinations", heads, rows),
        *FromFrame(*(p for p in parts if isinstance(p, Grid))).judged("Reactions of the check set out below", of.checks),
        Remark("The plate is designed for the combinations without overstrength; where seismic rules ask for more, add it."),
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
    return [Remark(f"In full: {at.base}, which {why}, under {at.combination}."), table]


def _rods(result: Anchorage, of: RodDesign) -> list:
    by, plan, one = of.by, result.plan, of.together
    printed = printed_tension(by.rod.d_a, result.grade)
    out = {w.BREAKOUT_N if of.held_n else w.BARS_N, w.BREAKOUT_V if of.held_v else w.TIES_V}
    parts: list = [
        Heading("Rod"),
        *(Remark(text) for text in result.notes[1:]),
        by.rod.N_sa,
        by.rod.V_sa,
        *([Remark("Least tensile load of such a rod as the standard of rods prints it:"), printed] if printed else []),
        Heading("Edges"),
        *((plan.rods.c_x, plan.rods.c_y) if plan.rods is not None else ()),
        Heading(f"Most used: {one.at.base}"),
        *_at(one.at, "has the largest interaction of tension and shear", "Reactions from the frame"),
        _limit_states(one, out),
        Remark(SET_OUT),
        Heading("Tension"),
        one.tension.T_max,
        *_telling(one, w.TENSION, w.BARS_N if of.held_n else w.BREAKOUT_N, out),
        of.in_tension,
        *_needed(of, one),
        Heading("Shear"),
        one.shear.V_max,
        *_telling(one, w.SHEAR, w.TIES_V if of.held_v else w.BREAKOUT_V, out),
        of.in_shear,
        Heading("Tension and shear together"),
        one.used.used,
    ]
    if of.ductile is not None:
        ways = ((OVERSTRENGTH, of.ductile.N_over, "–"), (DUCTILE, of.ductile.N_g, of.ductile.r_a))
        parts += [
            Heading("Seismic rules"),
            Grid(
                "Largest tension of the rods of one base in an earthquake, by both ways", ("Way", "N_ua [kip]", "r_a []"), ways
            ),
            Remark(
                f"Taken: {OVERSTRENGTH}. The other way needs r_a of 1.0 at most (1.2 times the rods' steel against the "
                "concrete, without phi), so that the rods yield before the concrete breaks, and a stretch length of 8 d_a."
            ),
        ]
    rows = tuple((b.base, b.combination, b.P, b.T_max, b.V, b.r_N, b.r_V, b.used) for b in of.by_base)
    heads = ("Base", "Combination", "P [kip]", "T_max [kip]", "V [kip]", "r_N []", "r_V []", "used []")
    others = [c for c in result.checks if c not in result.plate.checks]  # type: ignore[union-attr] # both or none
    return [
        *parts,
        Heading("Results"),
        Grid("All bases, each at its largest interaction", heads, rows),
        Remark("Each check is that of the base and combination that use the strength most."),
        *FromFrame(*(p for p in parts if isinstance(p, Grid))).judged("Reactions of the check set out below", others),
    ]


def _limit_states(one: Worked, out: set[str]) -> Grid:
    """Return every limit state of one base under one combination; what is not counted is told apart."""
    rows = tuple(
        (
            f"{c.name} ({PASSED_OVER})" if c.name in out else c.name,
            c.demand.text(),
            c.capacity.text() if c.capacity is not None else "–",
            c.ratio if c.ratio is not None else "–",
            str(c.source),
        )
        for c in sorted(one.checks.values(), key=_used, reverse=True)
    )
    shares = tuple(
        v for c in one.checks.values() for v in (c.ratio, c.demand if c.capacity is w.ONE else None) if v is not None
    )
    heads = ("Limit state", "Demand", "Capacity", "Ratio []", "Clause")
    return Grid("Limit states at this base", heads, rows, quoted=shares)


def _used(of: Check) -> float:
    return float(of.ratio.magnitude) if of.ratio is not None else 0.0


def _telling(one: Worked, kind: tuple[str, ...], holds: str, out: set[str]) -> list:
    """Return demand and capacity of what holds the rods, and of the limit states of a kind that matter."""
    counted = {n: c for n, c in one.checks.items() if n in (*w.TENSION, *w.SHEAR) and n not in out}
    most = max(map(_used, counted.values()))
    made = sorted((c for n, c in counted.items() if n in kind), key=_used, reverse=True)
    parts: list = []
    for c in dict.fromkeys(
        (*(c for c in made if c.name == holds), *made[:1], *(c for c in made[:IN_FULL] if matters(_used(c), most)))
    ):
        parts += [Remark(f"{c.name}, {c.source}:"), *(v for v in (c.demand, c.capacity) if v is not None and v.computed)]
    return parts


def _needed(of: RodDesign, one: Worked) -> list:
    """Return the embedment at which the upright bars would hold the rods, where the concrete does."""
    if of.held_n or one.held is None:
        return []
    _, bars = one.held
    return [Remark("The embedment at which the upright bars nearest to a rod are developed, for comparison:"), bars.h_needed]

"""What the sheet of the anchor rods shows: the governing limit states in full, all others as rows of a table."""

from __future__ import annotations

from collections.abc import Iterable

from rackbook.trace import Check, Grid, Heading, Remark, Step, Value
from rackbook.trace.columns import entries
from rackbook.trace.derive import IN_FULL
from rackbook.trace.sheet import matters

from ..frame import FromFrame, shown
from . import worked as w
from .again import again
from .interaction import both_edges
from .rack import Anchorage
from .reactions import COMPONENTS
from .rod_design import RodDesign
from .rods import printed_tension
from .worked import Worked

COMPARED = "not governing: anchor reinforcement is provided"
SHOWN = (
    "Listed and shown in full: the governing limit states, and any above 0.25 and above half the governing ratio. Results "
    "list the others, each at its own governing base and combination."
)
SET = (
    "Projection: grout, plate, washer and 1.5 d_a, up to a quarter inch. Length: projection, h_ef and 1.5 d_a, up to a half "
    "inch. Hole and washer: {source}."
)
PRINTED = " F1554 load: minimum tensile load that the standard of the rods prints, to compare with N_sa."
CONE = "Concrete breakout in tension, for comparison"
CONE_BY = "N_cbg = A_Nc / A_Nco psi_ecN psi_edN psi_cN N_b (ACI 318-19, Eq. 17.6.2.1b); h_ef by 17.6.2.1.2:"
BARS_BY = (
    "Bars counted and distance g of the farthest from the rod; lengths above and below the breakout surface, l_u = h_ef − c_c "
    "− g / 1.5 and l_l; k_d = 1 where the smaller of them is l_d or more; N_rg = n_b A_b f_y k_d (17.5.2.1):"
)
TWISTED = "Shear of each rod: V / n with |T| y / J along the rack, with |T| x / J across it"


def rods_parts(result: Anchorage, of: RodDesign, earlier: Iterable[Value]) -> list:
    """Return the parts of the sheet.

    Args:
        result: The anchorage.
        of: Its rods.
        earlier: What the sheet before derives: lines by the same formulas are one row here.

    """
    by, plan, one = of.by, result.plan, of.together
    out = {w.BREAKOUT_N if of.held_n else w.BARS_N, w.BREAKOUT_V if of.held_v else w.TIES_V}
    full, reacted = _full(one, of, out), {n: getattr(one.at, n) for n in COMPONENTS}
    parts: list = [
        Heading("Rod"),
        *(Remark(text) for text in result.notes[1:]),
        by.rod.N_sa,
        by.rod.V_sa,
        *_set(result, of),
        *((plan.rods.c_x, plan.rods.c_y) if plan.rods is not None else ()),
        Heading(f"Governing base for tension with shear: {one.at.base}"),
        Remark(f"{one.at.base}, which has the largest interaction of tension and shear, under {one.at.combination}."),
        shown("Reactions from the frame", reacted),
        _limit_states(one, full, out),
        Remark(SHOWN),
        Heading("Tension"),
        *again("Tension of a row of rods, by the formulas of sheet Base plates", one.tension.T, earlier, reacted.values()),
        *([_tensions(one, plan.rods.marks)] if plan.rods is not None else []),
        *_derived(one, full, w.TENSION),
        *([Remark(CONE_BY), _cone(one)] if of.held_n else []),
        of.in_tension,
        *_needed(of, one),
        Heading("Shear"),
        *_derived(one, full, w.SHEAR, reacted.values()),
        *([Remark(one.trifle)] if one.trifle else []),
        of.in_shear,
        Heading("Tension and shear together"),
        one.used.r,
        *(_shears(one, plan.rods.marks) if plan.rods is not None and w.BENT in {c.name for c in full} else []),
        *_derived(one, full, (w.BENT,)),
    ]
    others = [c for c in result.checks if c not in result.plate.checks]  # type: ignore[union-attr] # both or none
    strengths = [c for c in others if c in of.checks]
    frame = FromFrame(*(p for p in parts if isinstance(p, Grid)))
    rows = tuple((b.base, b.combination, b.P, b.T_max, b.V, b.r_N, b.r_V, b.used) for b in of.by_base)
    heads = ("Base", "Combination", "P [kip]", "T_max [kip]", "V [kip]", "r_N []", "r_V []", "Ratio []")
    return [
        *parts,
        Heading("Results"),
        Grid("All bases, each at its largest interaction", heads, rows),
        where(tuple((name, of.governing[name].at.base, of.governing[name].at.combination) for name in of.governing)),
        *frame.judged("Reactions of the check below", strengths),
        Heading("Distances and grout"),
        *frame.judged("Reactions of the check below", [c for c in others if c not in strengths]),
    ]


def where(governing: Iterable[tuple[str, str, str]]) -> Grid:
    """Return the base and the combination that govern, with the checks they govern."""
    by: dict[tuple[str, str], list[str]] = {}
    for name, base, combination in governing:
        by.setdefault((base, combination), []).append(name)
    rows = tuple((f"{base}, {combination}", "; ".join(names)) for (base, combination), names in by.items())
    return Grid("Governing base and combination of each check", ("Base, combination", "Checks"), rows)


def _set(result: Anchorage, of: RodDesign) -> list:
    """Return hole, washer, projection and length of a rod, and the tensile load its standard prints."""
    how = result.set
    if how is None:
        return []
    printed = printed_tension(of.by.rod.d_a, result.grade)
    told = (
        ("Hole [in]", how.hole), ("Washer [in]", how.washer), ("Its thickness [in]", how.t_w), ("Projection [in]", how.l_p),
        ("Length [in]", how.l_r), ("F1554 load [kip]", printed),
    )  # fmt: skip
    there = [(head, v) for head, v in told if v is not None]
    table = Grid("Holes, washers, length", tuple(h for h, _ in there), (tuple(v for _, v in there),))
    source = how.t_w.source
    said = SET.format(source=f"{source.title} {source.mark}".rstrip())
    return [table, Remark(f"{said}{PRINTED if printed is not None else ''}")]


def _used(of: Check) -> float:
    return float(of.ratio.magnitude) if of.ratio is not None else 0.0


def _full(one: Worked, of: RodDesign, out: set[str]) -> list[Check]:
    """Return the limit states that are shown in full, those used most first: what holds the rods, and what matters."""
    holds = (w.BARS_N if of.held_n else w.BREAKOUT_N, w.TIES_V if of.held_v else w.BREAKOUT_V)
    counted = sorted((c for n, c in one.checks.items() if n not in out), key=_used, reverse=True)
    full = {w.TOGETHER: one.checks[w.TOGETHER]}
    for kind in (w.TENSION, w.SHEAR, (w.BENT,)):
        made = [c for c in counted if c.name in kind]
        first = made[:1] if w.BENT not in kind else []
        full |= {c.name: c for c in made[:IN_FULL] if c in first or matters(_used(c), _used(counted[0]))}
        full |= {c.name: c for c in made if c.name in holds}
    return sorted(full.values(), key=_used, reverse=True)


def _limit_states(one: Worked, full: list[Check], out: set[str]) -> Grid:
    """Return the limit states that matter at a base; the concrete that reinforcement replaces is told apart."""
    cone = [one.checks[w.BREAKOUT_N]] if w.BREAKOUT_N in out else []
    rows = tuple(
        (
            f"{c.name} ({COMPARED})" if c in cone else c.name,
            c.demand.text(),
            c.capacity.text() if c.capacity is not None else "–",
            c.ratio if c.ratio is not None else "–",
            str(c.source),
        )
        for c in (*cone, *full)
    )
    heads = ("Limit state", "Demand", "Capacity", "Ratio []", "Clause")
    return Grid("Limit states at this base", heads, rows, quoted=(one.r_N, one.r_V))


def _tensions(one: Worked, marks: tuple[str, ...]) -> Grid:
    """Return the tension of every rod, one a column."""
    heads = tuple(f"{mark} [kip]" for mark in marks)
    return Grid("Tension of each rod", heads, (tuple(entries(one.tension.T, marks).values()),), quoted=(one.tension.T_max,))


def _shears(one: Worked, marks: tuple[str, ...]) -> list:
    """Return the shear of every rod along and across the rack and both together, one rod a column."""
    V_i = one.shear.V_i
    if not isinstance(V_i.origin, Step):
        return []
    of = {"along": V_i.origin.given["V_xi"], "across": V_i.origin.given["V_yi"], "together": V_i}
    heads = ("Shear", *(f"{mark} [kip]" for mark in marks))
    rows: tuple[tuple[Value | str, ...], ...] = tuple((name, *entries(v, marks).values()) for name, v in of.items())
    return [Grid(TWISTED, heads, rows, quoted=(one.shear.V_max,))]


def _derived(one: Worked, full: list[Check], kind: tuple[str, ...], reactions: Iterable[Value] = ()) -> list:
    """Return demand and capacity of the limit states of a kind that are shown in full."""
    parts: list = []
    for c in full:
        if c.name in kind:
            values = [v for v in (c.demand, c.capacity) if v is not None and v.computed]
            told = [v for v in values if v.text() != one.tension.T_max.text()]
            if c.name == w.BARS_N and not matters(_used(c), _used(full[0])):
                told = _bars(one)
            parts += [Remark(f"{c.name}, {c.source}:"), *_lesser(c.demand, reactions), *told]
    return parts


def _bars(one: Worked) -> list:
    """Return the development length of the bars that hold a rod in full, and what follows from it as a row."""
    if one.held is None:
        return []
    _, bars = one.held
    assert isinstance(bars.N_rg.origin, Step)
    assert isinstance(bars.h_needed.origin, Step)
    by, l_d = bars.N_rg.origin.given, bars.h_needed.origin.given["l_d"]
    told = {"n_b": bars.n_b, "g": bars.g, "l_u": bars.l_u, "l_l": bars.l_l, "k_d": bars.k_d, "A_b": by["A_b"],
            "f_y": by["f_y"], "N_rg": bars.N_rg, "phi N_rg": bars.phi_N_rg}  # fmt: skip
    heads = tuple(f"{n} [{v.unit}]" for n, v in told.items())
    return [l_d, Remark(BARS_BY), Grid("Vertical bars that hold the governing rod", heads, (tuple(told.values()),))]


def _lesser(demand: Value, reactions: Iterable[Value]) -> list:
    """Return of shear toward two edges the larger utilization in full and the lesser one as a row."""
    if not isinstance(demand.origin, Step) or demand.origin.operation is not both_edges:
        return []
    r = demand.origin.given
    way, other = ("x", "y") if r["r_x"].magnitude >= r["r_y"].magnitude else ("y", "x")
    more, less = r[f"r_{way}"], r[f"r_{other}"]
    return [more, *again(f"Shear along {other}, by the formulas above", less, [more], reactions)]


def _cone(one: Worked) -> Grid:
    """Return the parts of the breakout strength in tension that anchor reinforcement replaces."""
    of = one.group.breakout
    told = {"h_ef": of.h_ef, "A_Nc": of.A_Nc, "A_Nco": of.A_Nco, "psi_ecN": of.psi_ecN, "psi_edN": of.psi_edN,
            "psi_cN": of.psi_cN, "N_b": of.N_b.to("kip"), "N_cbg": of.N_cbg}  # fmt: skip
    return Grid(CONE, tuple(f"{n} [{v.unit}]" for n, v in told.items()), (tuple(told.values()),))


def _needed(of: RodDesign, one: Worked) -> list:
    """Return the embedment at which the vertical bars would hold the rods, where the concrete does."""
    if of.held_n or one.held is None:
        return []
    _, bars = one.held
    return [Remark("The embedment at which the vertical bars nearest to a rod are developed, for comparison:"), bars.h_needed]

"""The sheets of base plates and anchor rods; that of the plates: the governing base of each side in full, all in a table."""

from __future__ import annotations

from rackbook.trace import Grid, Heading, Remark, Sheet, Value
from rackbook.trace.columns import entries
from rackbook.trace.sheet import Part

from ..frame import FromFrame, shown
from .actions import Tension
from .again import again
from .plan import Plan
from .plate_design import PlateDesign
from .rack import Anchorage
from .reactions import At
from .rods_sheet import rods_parts, where

PLATES, RODS = "Base plates", "Anchor rods"
#: What of the reactions bends a plate.
BENDING = ("P", "M_x", "M_y")
OVER = " Combinations with overstrength are among them: plate and rods are designed alike."
SIGNS = (
    "P is down, so uplift is below zero. V_x and M_y bend the base along the rack, V_y and M_x across it, T twists it; senses "
    "make no difference."
)


def sheets(result: Anchorage) -> list[Sheet]:
    """Return the sheets of base plates and anchor rods."""
    purpose = "Checks the base plates for bearing on the concrete and for bending by concrete and rods."
    if result.plate is None or result.rods is None:
        parts: tuple[Part, ...] = (Heading("Open"), *result.checks)
        return [Sheet("base_plates", f"{PLATES} and anchor rods", "Says what is missing for their design.", parts)]
    why = "Checks the rods and the concrete around them for tension and shear at every base."
    pulled = result.plate.pulled
    earlier = [result.plate.pressed.t_req, *([pulled.t_req, pulled.state.T] if pulled is not None else [])]
    return [
        Sheet("base_plates", PLATES, purpose, tuple(_plates(result, result.plate))),
        Sheet("anchors", RODS, why, tuple(rods_parts(result, result.rods, earlier))),
    ]


def _plates(result: Anchorage, of: PlateDesign) -> list:
    pulled = of.pulled
    over = OVER if str(result.category.magnitude) >= "C" else ""
    parts: list = [
        Heading("Plan of a base"),
        Remark("x runs along the rack, y to its front; distances from the post's center. All bases are alike."),
        *_plan_grid(result.plan),
        Heading("Bearing"),
        Remark(f"By {of.method}.{over} {SIGNS} {result.notes[0]}"),
        of.f_d,
        of.l,
        of.F_d,
        Heading("Bearing side"),
        *_at(of.pressed.at, "governs the thickness on the bearing side", "Reactions, bearing side"),
        *_eccentric(of.pressed.state),
        of.pressed.t_req,
    ]
    told = [of.pressed.at]
    if pulled is not None:
        told.append(pulled.at)
        of_rod = _at(pulled.at, "has the largest tension of a rod", "Reactions, tension side")
        alike = again("Tension side, by the formulas above", pulled.state.T_max, [of.pressed.t_req], _bending(pulled.at))
        parts += [Heading("Tension side"), *of_rod, *alike, pulled.t_req]
    said = {(at.base, at.combination) for at in told}
    elsewhere = tuple(row for row in of.governing if row[1:] not in said)
    rows = tuple((b.base, b.M_pl, b.t_bearing, b.T_max or "", b.t_tension or "") for b in of.by_base)
    heads = ("Base", "M_pl [kip*in/in]", "t bearing [in]", "T_max [kip]", "t tension [in]")
    return [
        *parts,
        Heading("Results"),
        Grid("All bases, each at its own governing combinations", heads, rows),
        *([where(elsewhere)] if elsewhere else []),
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
    """Return the places of the rods, one a column."""
    rods = plan.rods
    if rods is None:
        return []
    heads = ("Rods", *(f"{mark} [in]" for mark in rods.marks))
    places: tuple[tuple[str, Value], ...] = (("x", rods.x), ("y", rods.y))
    return [Grid("Places of the rods", heads, tuple((name, *entries(at, rods.marks).values()) for name, at in places))]


def _at(at: At, why: str, title: str) -> list:
    """Return a base and a combination in words, and what its reactions are made of."""
    table = shown(title, dict(zip(BENDING, _bending(at), strict=True)))
    return [Remark(f"{at.base}, which {why}, under {at.combination}."), table]


def _bending(at: At) -> tuple[Value, ...]:
    return tuple(getattr(at, n) for n in BENDING)

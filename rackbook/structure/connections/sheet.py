"""The sheets of the connections: bolts and steel, rail clips, rail splices, post bases, fastening of the equipment."""

from __future__ import annotations

from typing import Any

from rackbook.trace import Check, Grid, Heading, Remark, Sheet, Step, Value
from rackbook.trace.sheet import TABULATED

from ..frame import of_frame, shown
from ..frame.shown import taken_apart
from .adopted import words_of
from .asked import INSTALLED
from .clips import Clip
from .fastening import Fastening
from .feet import Foot
from .rack import Connections
from .rail_welds import RailWeld
from .said import ASSUMED, FASTENED, ON_TOES, ON_WEB, PURPOSES, SEAM, TITLES
from .seam import leg_made
from .splices import Splice
from .strength import State
from .trifles import item_forces, trifles
from .work import Joints

TITLE, FRAME, WIND = "Connections", "Frame analysis", "Wind loads"
FASTENING_TITLE = "Fastening of the equipment"
_KEYS = {"clip": "clips", "rail weld": "rail_welds", "splice": "splices", "foot": "feet"}
#: Places of one kind that a table lists; of more, the worst of each rail.
MANY = 12


def sheets(result: Connections) -> list[Sheet]:
    """Return the sheets of the connections."""
    made = [Sheet("connections", TITLE, "Connection basis and open items.", tuple(_first(result)))]
    for of in (result.clips, result.rail_welds, result.splices, result.feet):
        if of is not None:
            quoted = {id(v.root): FRAME for v in (*of.forces.values(), *_in_post(of).values()) if taken_apart(v) is not None}
            made.append(Sheet(_KEYS[of.kind], TITLES[of.kind], PURPOSES[of.kind], tuple(_joints(of)), elsewhere=quoted))
    if result.fastening is not None:
        named = {_named(result.fastening, s) for s in result.fastening.worst}
        checks = tuple(c for c in result.checks if c.name in named or c is result.fastening.spacing)
        purpose = "Finds the bolts that fasten every piece of equipment to the rails."
        quoted = {id(F.root): WIND for F in result.fastening.from_wind if F.computed}
        parts = tuple(_fastening(result.fastening, checks))
        made.append(Sheet("equipment_fastening", FASTENING_TITLE, purpose, parts, elsewhere=quoted))
    return made


def _in_post(of: Joints) -> dict[str, Value]:
    """Return the forces in the post beside a connection that its use rests on."""
    stress = of.U.origin.given if of.U is not None and isinstance(of.U.origin, Step) else {}
    return {n: v for n, v in stress.items() if n in ("P", "M_x", "M_y")}


def _named(of: Fastening, name: str) -> str:
    state, case, tag = of.worst[name]
    return f"{state.name}, equipment {tag} ({case})"


def _first(r: Connections) -> list:
    parts: list = [Heading("Bolts")]
    if r.bolt is not None:
        b = r.bolt
        T_b = b.T_b if INSTALLED["snug"] not in r.notes else None
        used = "" if r.clips or r.splices else " No frame connection of this job is bolted; the equipment has bolts of its own."
        parts += [
            Remark(f"{words_of(b.grade, r.steel)}, in standard holes. Design by {r.method}.{used}"),
            *(v for v in (b.A_b, b.d_h, b.F_nt, b.F_nv, T_b, b.L_e_min) if v is not None),
        ]
    else:
        parts.append(Remark("The job gives no connections: they stay open."))
    parts += [Heading("Assumptions"), *(Remark(note) for note in r.notes)]
    if r.loose:
        parts += [Heading("Open items"), *r.loose]
    kinds = [of for of in (r.clips, r.rail_welds, r.splices, r.feet) if of is not None]
    if kinds:
        # as words: what a number here rests on is set out on its own sheet, not on this one
        rows = tuple((TITLES[of.kind], of.governing, of.combination, _most(of).text()) for of in kinds)
        parts += [Heading("Results"), Grid("Governing connections", ("Connections", "Place", "Combination", "Ratio"), rows)]
    return parts


def _most(of: Joints) -> Value:
    return max((s.ratio for s in of.states), key=lambda v: v.magnitude)


def _sizes(what: Clip | RailWeld | Splice | Foot) -> tuple[tuple[str, Value], ...]:
    """Return the sizes of a detail in words."""
    if isinstance(what, Clip):
        return (
            ("Bolts", what.n), ("Spacing", what.s), ("Edge distance", what.L_e), ("Plate thickness", what.t),
            ("Specified weld leg", what.w), ("Length", what.l), ("Bolts to the post", what.a), ("Rail's web", what.rail.t),
            ("Post's wall", what.wall.t), ("Filler metal", what.F_EXX),
        )  # fmt: skip
    if isinstance(what, Splice):
        return (
            ("Bolts along the rail, each side", what.n_x), ("Rows", what.n_z), ("Spacing", what.s), ("Gage", what.g),
            ("Edge distance", what.L_e), ("Thickness", what.t), ("Rail's wall", what.rail.t),
        )  # fmt: skip
    if isinstance(what, RailWeld):
        return (
            ("Leg", what.w), ("Depth of the rail", what.d_r), ("Mean flange thickness", what.t_b), ("Toe", what.t_toe),
            ("Post's wall", what.wall.t), ("Filler metal", what.F_EXX),
        )  # fmt: skip
    return (
        ("Weld leg", what.w), ("Length of the weld", what.line.L_w), ("Post's wall", what.t), ("Base plate", what.t_p),
        ("Filler metal", what.F_EXX),
    )  # fmt: skip


def _seam(what: Any) -> list:
    """Return what the clip's welds are made as beside the corner of a tube."""
    if not isinstance(what, Clip) or what.gap is None or what.groove is None:
        return []
    made = leg_made(what.w, what.gap)
    heads = ("Root gap [in]", "Effective leg [in]", "Leg made [in]", "Throat of the groove [in]")
    return [
        Remark(SEAM),
        Grid("Welds of the clip at the corner of the post", heads, ((what.gap, what.w, made, what.groove),)),
    ]


def _joints(of: Joints) -> list:
    said = "; ".join(f"{words} {v.text()}" for words, v in _sizes(of.what))
    states = sorted(of.states, key=lambda s: -s.ratio.magnitude)
    strength, sizes = of.checks[: len(states)], of.checks[len(states) :]
    apart = [Remark("Rules on sizes:")] if len(of.checks) > TABULATED else []
    return [
        *(Remark(text) for text in ASSUMED[of.kind]),
        Remark(f"Sizes: {said}."),
        *_seam(of.what),
        Heading(f"Governing: {of.governing}"),
        Remark(f"{states[0].name}, {states[0].source}. Combination: {of.combination}."),
        *_forces(of, states[0]),
        *_shown(states[0]),
        *([Remark("The job gives no leg for this weld. It needs:"), of.leg] if of.leg is not None else []),
        Heading("Results: limit states, each where it is largest"),
        *strength,
        *apart,
        *sizes,
        *_places(of),
    ]


def _places(of: Joints) -> list:
    """Return the table of the places, of many only the worst of each rail, and what all others stay below."""
    by_ratio = sorted(of.places, key=lambda w: -w.ratio.magnitude)
    worst: dict[str, Any] = {}
    for w in by_ratio:
        worst.setdefault(w.label.partition(" at post")[0] if len(of.places) > MANY else w.label, w)
    listed = {id(w) for w in worst.values()}
    others = [w for w in by_ratio if id(w) not in listed]
    title = f"Governing limit state of each {'rail' if others else 'place'}, {len(of.places)} places"
    rows = tuple((w.label, w.state, of.combinations[w.combination], w.ratio) for w in of.places if id(w) in listed)
    rest = [Remark(f"The {len(others)} other places: ratio {others[0].ratio.text()} or below.")] if others else []
    return [Grid(title, ("Place", "Limit state", "Combination", "Ratio []"), rows), *rest]


def _forces(of: Joints, governing: State) -> list[Grid]:
    """Return what the forces on the connection are made of, and those in the post where its use enters what is set out."""
    # one that is taken without its sense is shown with it
    made = [shown("Forces from the frame", {v.symbol or n: next(iter(of_frame(v)), v) for n, v in of.forces.items()})]
    rests_on = {id(v.root) for v in of_frame(governing.demand, governing.capacity)}
    post = {n: v for n, v in _in_post(of).items() if id(v.root) in rests_on}
    return [*made, shown("Forces in the post at the crossing", post)] if post else made


def _shown(governing: State) -> list:
    """Return demand and capacity of the governing limit state, without what is trifling; all others are checks alone."""
    return [*trifles(governing.demand), governing.demand, governing.capacity]


def _fastening(of: Fastening, checks: tuple[Check, ...]) -> list:
    most = max(of.states, key=lambda s: s.ratio.magnitude)
    rows = tuple(
        (f.tag, f.seat.said, f.seat.bolts.n_b, f.seat.s_x, f.case, f.r_v, f.r_t, f.state, f.ratio) for f in of.by_tag.values()
    )
    heads = (
        "Tag", "Rails", "Bolts []", "s_x [in]", "Case", "r_v [lbf]", "r_t [lbf]", "Limit state",
        "Ratio []",
    )  # fmt: skip
    return [
        Remark(FASTENED),
        Remark(ON_TOES if of.spacer.magnitude else ON_WEB),
        Heading(f"Governing: {of.governing}, {of.case}"),
        Remark(f"{most.name}, {most.source}."),
        *item_forces(of.governing, most.demand),
        *_shown(most),
        Heading("Results: limit states, each where it is largest"),
        *checks,
        Heading("Results: all equipment"),
        Grid("Bolts of the equipment: shear and tension on the one that carries most", heads, rows),
    ]

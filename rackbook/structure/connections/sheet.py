"""The sheets of the connections: bolts and steel, rail clips, rail splices, feet of posts, fastening of the equipment."""

from __future__ import annotations

from typing import Any

from rackbook.trace import Check, Grid, Heading, Remark, Sheet, Step, Value
from rackbook.trace.derive import IN_FULL
from rackbook.trace.sheet import matters

from ..frame import of_frame, shown
from ..frame.shown import taken_apart
from .clips import Clip
from .fastening import Fastening
from .feet import Foot
from .rack import Connections
from .rail_welds import RailWeld
from .splices import Splice
from .strength import State
from .work import Joints

TITLE, FRAME, WIND = "Connections", "Frame analysis", "Wind loads"
TITLES = {
    "clip": "Rail clips",
    "rail weld": "Welds of the rails to the posts",
    "splice": "Rail splices",
    "foot": "Welds at the feet of the posts",
}
PURPOSES = {
    "clip": "Checks the plates, bolts and welds that hold the rails on the posts, at every crossing and for every combination.",
    "rail weld": "Checks the welds that fix the rails to the posts, at every crossing and for every combination.",
    "splice": "Checks the bolted plates that join the lengths of the rails, at every joint and for every combination.",
    "foot": "Checks the fillet weld all around the foot of every post, for every combination.",
}
FASTENING_TITLE = "Fastening of the equipment"
ASSUMED = {
    "clip": (
        "The clip is a plate in the plane of the rail's back, standing upright on the side of the post, with a fillet weld "
        "along both faces over its length: on the right side of its post seen from the front, at the last post on its left. "
        "Its bolts stand one above the other in the middle of its width, so that they are "
        "their edge distance away from the post; where they are further, the moments at the weld grow. The rail's force "
        "and moment are those the frame gives at the face of the post. Every part is taken in the sense in which it adds.",
        "Elastic method. Out of the plane, the tension of a moment goes linearly from the middle of the bolts; the neutral "
        "axis at the edge of the plate would give less. A moment about the line of the bolts is resisted by the plate bearing "
        "on its edge. Prying is left out where the plate is thick enough for it by the AISC Manual, Part 9, which is checked. "
        "The rail's web under the pull of the bolts is not checked.",
        "Bearing and tearout: the most loaded bolt against the smallest clear distance in any direction, in clip and rail. "
        "Shear and tension of a bolt are compared in the form of Eq. J3-3 that is linear in the loads.",
        "The wall of the post: AISC 360-22 and -16 give no row of its own for a plate lengthwise on a rectangular tube. Taken "
        "are the plastification formulas of Tables K3.2 and K4.2 with the plate's thickness as width of the branch, as Table "
        "K1.2 of 360-10 did, as if the plate stood in the middle of the wall; near its corner it is stiffer. U is the "
        "use of the post's steel at the crossing.",
    ),
    "rail weld": (
        "The rail's two edges are welded to the face of the post over its flat width, as two lines across it. Of each line the "
        "effective width of a plate across a tube counts (Eq. K1-1), half of it at each end, where the side walls hold it. "
        "Elastic method; every part is taken in the sense in which it adds. The wall: plastification by Tables K3.2 and K4.2 "
        "for a branch as wide as the flat face and as deep as the "
        "rail, at most 0.85 of the width. U is the use of the post's steel at the crossing.",
    ),
    "splice": (
        "One plate on the wall of the rail passes all forces at the joint; the bolts of each side take them at their middle. "
        "The rails' ends have the same edge distance as the plate. Elastic method; every part is taken as adding. The plate "
        "may lie on either side of the wall: it keeps clear of the posts, with a clip on either side of them, and fits the "
        "flat of the wall between its fillets.",
        "The plate bends freely between the bolts: its own bending is checked at the joint, so prying does not arise. Of the "
        "rail, the connected wall's share alone counts in the net section. Holes in a web do not reduce the rail's bending.",
    ),
    "foot": (
        "The weld is a line of unit throat around the outline, at corners of radius 2 t for tubes. All parts of the force are "
        "added at the corner. Forces are those at the underside of the base plate, and compression counts as tension does: "
        "bearing of the post's end is not counted on.",
    ),
}
FASTENED = (
    "Four bolts for each item, at the corners of a rectangle of 0.8 of its width and height; the maker's holes govern. The "
    "item's weight and the forces act at its center, half its depth before the rail. Wind: the full force on the item's face, "
    "off the rail from either side. Earthquake: F_p, without overstrength, for steel fastens to steel. Holes in the rail have "
    "the least edge distance; the item's own metal is not checked. Where four bolts do not do, the number is given that shares "
    "the load in the same rectangle."
)


def sheets(result: Connections) -> list[Sheet]:
    """Return the sheets of the connections."""
    made = [Sheet("connections", TITLE, "Says what the connections are made of, and what is open.", tuple(_first(result)))]
    for of in (result.clips, result.rail_welds, result.splices, result.feet):
        if of is not None:
            quoted = {id(v.root): FRAME for v in (*of.forces.values(), *_in_post(of).values()) if taken_apart(v) is not None}
            made.append(Sheet(_KEYS[of.kind], TITLES[of.kind], PURPOSES[of.kind], tuple(_joints(of)), elsewhere=quoted))
    if result.fastening is not None:
        checks = tuple(c for c in result.checks if c.name in {_named(result.fastening, s) for s in result.fastening.worst})
        purpose = "Finds the bolts that fasten every piece of equipment to the rails."
        quoted = {id(F.root): WIND for F in result.fastening.from_wind if F.computed}
        parts = tuple(_fastening(result.fastening, checks))
        made.append(Sheet("equipment_fastening", FASTENING_TITLE, purpose, parts, elsewhere=quoted))
    return made


def _in_post(of: Joints) -> dict[str, Value]:
    """Return the forces in the post beside a connection that its use rests on."""
    stress = of.U.origin.given if of.U is not None and isinstance(of.U.origin, Step) else {}
    return {n: v for n, v in stress.items() if n in ("P", "M_x", "M_y")}


_KEYS = {"clip": "clips", "rail weld": "rail_welds", "splice": "splices", "foot": "feet"}


def _named(of: Fastening, name: str) -> str:
    state, case, tag = of.worst[name]
    return f"{state.name}, equipment {tag} ({case})"


def _first(r: Connections) -> list:
    parts: list = [Heading("Bolts")]
    if r.bolt is not None:
        b = r.bolt
        parts += [
            Remark(f"{b.grade}, in standard holes. Design by {r.method}."),
            *(v for v in (b.A_b, b.d_h, b.F_nt, b.F_nv, b.T_b, b.L_e_min) if v is not None),
        ]
    else:
        parts.append(Remark("The job gives no connections: they stay open."))
    parts += [Heading("What is assumed"), *(Remark(note) for note in r.notes)]
    if r.loose:
        told = [Remark(f"{c.name}: {c.remedy}") for c in r.loose if c.word != "OK"]
        parts += [Heading("Open, or without steel around a hole"), *told, *r.loose]
    kinds = [of for of in (r.clips, r.rail_welds, r.splices, r.feet) if of is not None]
    if kinds:
        # as words: what a number here rests on is set out on its own sheet, not on this one
        rows = tuple((TITLES[of.kind], of.governing, of.combination, _most(of).text()) for of in kinds)
        parts += [Heading("Results"), Grid("Most used connections", ("Connections", "Place", "Combination", "Ratio"), rows)]
    return parts


def _most(of: Joints) -> Value:
    return max((s.ratio for s in of.states), key=lambda v: v.magnitude)


def _sizes(what: Clip | RailWeld | Splice | Foot) -> tuple[tuple[str, Value], ...]:
    """Return the sizes of a detail in words."""
    if isinstance(what, Clip):
        return (
            ("Bolts", what.n), ("Spacing", what.s), ("Edge distance", what.L_e), ("Thickness", what.t), ("Weld leg", what.w),
            ("Length", what.l), ("Bolts to the post", what.a), ("Rail's wall", what.rail.t), ("Post's wall", what.wall.t),
        )  # fmt: skip
    if isinstance(what, Splice):
        return (
            ("Bolts along the rail, each side", what.n_x), ("Rows", what.n_z), ("Spacing", what.s), ("Gage", what.g),
            ("Edge distance", what.L_e), ("Thickness", what.t), ("Rail's wall", what.rail.t),
        )  # fmt: skip
    if isinstance(what, RailWeld):
        return (
            ("Depth of the rail", what.d_r), ("Rail's edges", what.t_b), ("Post's wall", what.wall.t),
            ("Filler metal", what.F_EXX),
        )  # fmt: skip
    return (
        ("Weld leg", what.w), ("Length of the weld", what.line.L_w), ("Post's wall", what.t), ("Base plate", what.t_p),
        ("Filler metal", what.F_EXX),
    )  # fmt: skip


def _joints(of: Joints) -> list:
    states = sorted(of.states, key=lambda s: -s.ratio.magnitude)
    said = "; ".join(f"{words} {v.text()}" for words, v in _sizes(of.what))
    return [
        *(Remark(text) for text in ASSUMED[of.kind]),
        Remark(f"Sizes: {said}."),
        Heading(f"Most used: {of.governing}"),
        Remark(f"Combination: {of.combination}."),
        *_forces(of, states),
        *_shown(states),
        *([Remark("The job gives no leg for this weld. It needs:"), of.leg] if of.leg is not None else []),
        Heading("Results: limit states where each is used most, and sizes"),
        *of.checks,
        Heading(f"Results: all {len(of.places)} places"),
        Grid("Most used limit state of every place", ("Place", "Limit state", "Combination", "Ratio []"),
             tuple((w.label, w.state, of.combinations[w.combination], w.ratio) for w in of.places)),
    ]  # fmt: skip


def _forces(of: Joints, states: list[State]) -> list[Grid]:
    """Return what the forces on the connection are made of, and those in the post where its use enters what is set out."""
    # one that is taken without its sense is shown with it
    made = [shown("Forces from the frame", {v.symbol or n: of_frame(v)[0] for n, v in of.forces.items()})]
    rests_on = {id(v.root) for v in of_frame(*(v for s in _telling(states) for v in (s.demand, s.capacity)))}
    post = {n: v for n, v in _in_post(of).items() if id(v.root) in rests_on}
    return [*made, shown("Forces in the post at the crossing", post)] if post else made


def _telling(states: list[State]) -> list[State]:
    """Return the most used limit state, and the others of those used most that matter beside it."""
    return [s for s in states[:IN_FULL] if matters(s.ratio.magnitude, states[0].ratio.magnitude)]


def _shown(states: list[State]) -> list:
    """Return demand and capacity of the limit states of one place that matter most, and all in a table, the most used first."""
    parts: list[Any] = []
    telling = _telling(states)
    if len(telling) < len(states):
        those = "the most used one" if len(telling) == 1 else f"the {len(telling)} most used"
        parts.append(Remark(f"Set out in full: {those} of {len(states)} limit states. All are in the table below."))
    for s in telling:
        parts += [Remark(f"{s.name}, {s.source}:"), s.demand, s.capacity]
    rows = tuple((s.name, s.demand.text(), s.capacity.text(), s.ratio, str(s.source)) for s in states)
    return [*parts, Grid("Limit states at this place", ("Limit state", "Demand", "Capacity", "Ratio []", "Clause"), rows)]


def _fastening(of: Fastening, checks: tuple[Check, ...]) -> list:
    rows = tuple((f.tag, f.F_p, f.F_wn, f.r_v, f.r_t, f.case, f.ratio, f.needed) for f in of.by_tag.values())
    heads = ("Tag", "F_p [lbf]", "Wind [lbf]", "r_v [lbf]", "r_t [lbf]", "Case", "Ratio []", "Bolts []")
    return [
        Remark(FASTENED),
        Heading(f"Most used: {of.governing}, {of.case}"),
        *_shown(sorted(of.states, key=lambda s: -s.ratio.magnitude)),
        Heading("Results: limit states where each is used most"),
        *checks,
        Heading("Results: all equipment"),
        Grid("Bolts of the equipment", heads, rows),
    ]

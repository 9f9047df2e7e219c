"""The weights sheet: all parts tabulated, members by kind, total, center, results."""

from __future__ import annotations

from collections.abc import Sequence

from rackbook.loads.blocks import side_by_side
from rackbook.trace import Grid, Heading, Remark, Sheet, Step, Value

from .rack import TOLERANCE, TOLERANCE_CENTER, Weights
from .takeoff import Part, estimated_share

TITLE = "Weights and center of gravity"
GEOMETRY = "Rack geometry"
AXES = (
    "w is the weight and x, y, z its center, along the axes of the sheet Rack geometry; y of an item is the outer face of its "
    "rail, plus its offset, plus half its depth. Tubes have the nominal weight of the table. s is the coated outline, of tubes "
    "inside and outside; a plate is coated on its faces and edges."
)
ROUNDING = (
    "All numbers of this and the other sheets are calculated with full precision and printed rounded; a sum or difference of "
    "printed numbers may differ in the last digit."
)
BRACES = "A brace whose ends the job does not give is put at the middle of the rack and at half its height."
SPREAD = (
    "Conduit, wire and tray are spread evenly along the rack in the post plane, conduit and wire at the mean height of the "
    "rails; hardware is at the frame's center of gravity, zinc at that of the coated surface."
)
SIGNS = "e_x is positive where the right half is heavier, e_y where the front is."


def sheets(result: Weights) -> list[Sheet]:
    """Return the sheet of the weights."""
    parts = [*_listed(result), *_total(result), *_measured(result), *_results(result)]
    purpose = "Finds the weight of every part, the total, and the center of gravity."
    on_geometry = {id(v.root): GEOMETRY for v in (result.length, *_lengths(result)) if v.computed}
    return [Sheet("weights", TITLE, purpose, tuple(parts), elsewhere=on_geometry)]


def _listed(r: Weights) -> list:
    frame = [p for p in r.parts if p.group == "frame"]
    allowances = [p for p in r.parts if p.group not in ("equipment", "frame")]
    braces = [Remark(BRACES)] if any(p.label.startswith("brace") for p in frame) else []
    rows = tuple((p.label, p.w, p.x, p.y, p.z) for p in r.parts)
    return [
        Heading("Listed weights"),
        Remark(AXES),
        *([Remark(SPREAD)] if allowances else []),
        *braces,
        Remark(ROUNDING),
        side_by_side("Weights of all parts", ("Part", "w [lbf]", "x [ft]", "y [in]", "z [ft]"), rows),
        Remark(_said_of_equipment(r)),
        *_members(frame),
    ]


def _lengths(r: Weights) -> list[Value]:
    """Return the lengths of the rails."""
    return [L for p in r.parts if p.label.startswith("rail") and isinstance(L := _of(p.w, "L"), Value)]


def _of(value: Value | None, name: str) -> Value | str:
    """Return what a value was calculated from, by name; nothing where it was not."""
    return value.origin.given.get(name, "") if value is not None and isinstance(value.origin, Step) else ""


def _members(frame: Sequence[Part]) -> list:
    """Return the length of a post, a table with a row for each kind of member, and the weight of a plate."""
    kinds: dict[tuple, list[Part]] = {}
    for p in frame:
        kinds.setdefault((p.label.split()[0], p.what, p.w.m_as("lbf")), []).append(p)
    rows = [
        (_run([p.label for p in of]), of[0].what, *(_of(of[0].w, n) for n in ("w_s", "L")), of[0].w, _of(of[0].area, "s"),
         of[0].area or "")
        for of in kinds.values()
    ]  # fmt: skip
    posts = [L for p in frame if p.label.startswith("post") and isinstance(L := _of(p.w, "L"), Value)]
    plates = [p.w for p in frame if p.what == "plate"]
    heads = ("Members, each", "Shape", "w_s [plf]", "L [ft]", "w [lbf]", "s [ft]", "a [ft**2]")
    return [*posts[:1], *plates[:1], Grid("Members: w = w_s L, coated surface a = s L", heads, tuple(rows))]


def _run(labels: list[str]) -> str:
    """Return the labels of alike members in short: the first and the last."""
    return labels[0] if len(labels) == 1 else f"{labels[0]} to {labels[-1].split(' ', labels[0].count(' '))[-1]}"


def _basis(group: str, parts: Sequence[Part]) -> str:
    """Return in words what the weight of a group is made of."""
    w = parts[0].w
    if group == "equipment":
        return f"{len(parts)} pieces"
    if group == "frame":
        return f"{len(parts)} members and plates"
    if group == "hardware" and isinstance(p := _of(w, "p"), Value) and isinstance(W := _of(w, "W"), Value):
        return f"bolts, clips, welds: {p.text()} of the frame's {W.text()}"
    if group == "zinc":
        t, A, of = (v.text() for n in ("t_zn", "A_zn", "gamma_zn") if isinstance(v := _of(w, n), Value))
        return f"{t} x {A} x {of} (density of ASTM A123/A123M)"
    return "; ".join(f"{p.label} {p.source} = {p.w.text()}" for p in parts)


def _total(r: Weights) -> list:
    rows = tuple((g, _basis(g, [p for p in r.parts if p.group == g]), w) for g, w in r.groups.items())
    return [
        Heading("Total and center of gravity"),
        Grid("Sums", ("Group", "Basis", "w [lbf]"), rows),
        Remark("The sums below run over the listed weights."),
        r.estimate,
        r.x_e,
        r.y_e,
        r.z_e,
    ]


def _measured(r: Weights) -> list:
    if r.measured is None:
        return []
    return [
        Heading("Measured weight"),
        Remark(
            f"The finished rack was weighed. Beyond {TOLERANCE.text()} of the weight or {TOLERANCE_CENTER.text()} of "
            "the center (tolerances of common practice) the difference is to be explained. What is installed in the field "
            "after the weighing is not in the measured weight."
        ),
        r.W,
        r.x_bar,
        r.y_bar,
        r.z_bar,
        *r.checks,
    ]


def _results(r: Weights) -> list:
    heads = ("W [lbf]", "x_bar [ft]", "y_bar [in]", "z_bar [ft]", "e_x [ft]", "e_y [in]")
    return [
        r.e_x,
        Grid("Weight and center of gravity, carried forward", heads, ((r.W, r.x_bar, r.y_bar, r.z_bar, r.e_x, r.e_y),)),
        Remark(SIGNS),
    ]


def _said_of_equipment(result: Weights) -> str:
    count, share = estimated_share(result.parts)
    if not result.items:
        return "There is no equipment on the rack."
    if not count:
        return "All equipment weights are from datasheets or were measured; the equipment schedule names each source."
    return (
        f"{count} of {len(result.items)} equipment weights are estimates, {share:.0%} of the equipment's weight. Replace them "
        "by the submitted weights before the rack is released."
    )

"""The weights sheet: items, members and allowances tabulated, one line of each kind in full, total, center, results."""

from __future__ import annotations

from rackbook.trace import Grid, Heading, Remark, Sheet, Value

from .rack import TOLERANCE, TOLERANCE_CENTER, Weights
from .takeoff import Part, estimated_share

TITLE = "Weights and center of gravity"
AXES = (
    "w is the weight and x, y, z its center, along the axes of the sheet Rack geometry; a is the coated surface of the frame: "
    "the outline of the section, of tubes inside and outside, times the length. Weights of members are weight per foot times "
    "length, of plates volume times unit weight without their holes; one of each kind follows in full. Tubes have the nominal "
    "weight of the table. y of an item is the outer face of its rail, plus its offset, plus half its depth."
)
ROUNDING = (
    "All numbers of this and the other sheets are calculated with full precision and printed rounded; a sum or difference of "
    "printed numbers may differ in the last digit."
)
BRACES = "A brace whose ends the job does not give is put at the middle of the rack and at half its height."
SPREAD = (
    "Conduit, wire and tray are spread evenly along the rack, in the post plane: conduit and wire at the mean height of the "
    "rails, for weight, wind and ice alike, the tray over the posts. Hardware (bolts, clips, welds) is at the frame's center "
    "of gravity, zinc at that of the coated surface."
)
SIGNS = (
    "e_x is positive where the right half is heavier, e_y where the front is. W times e_y is a steady moment about the post "
    "plane; both turn lateral forces at the center of gravity into twisting."
)


def sheets(result: Weights) -> list[Sheet]:
    """Return the sheet of the weights."""
    parts = [*_listed(result), *_total(result), *_measured(result), *_results(result)]
    purpose = "Finds the weight of every part, the total, and the center of gravity."
    return [Sheet("weights", TITLE, purpose, tuple(parts))]


def _listed(r: Weights) -> list:
    frame = [p for p in r.parts if p.group == "frame"]
    allowances = [p for p in r.parts if p.group not in ("equipment", "frame")]
    braces = [Remark(BRACES)] if any(p.label.startswith("brace") for p in frame) else []
    rows = tuple((p.label, _basis(p), p.w, p.x, p.y, p.z, p.area or "") for p in r.parts)
    heads = ("Part", "Shape or basis", "w [lbf]", "x [ft]", "y [in]", "z [ft]", "a [ft**2]")
    return [
        Heading("Listed weights"),
        Remark(AXES),
        *([Remark(SPREAD)] if allowances else []),
        *braces,
        Remark(ROUNDING),
        Grid("Weights of all parts", heads, rows),
        Remark(_said_of_equipment(r)),
        *_one_of_each(frame),
        *(p.w for p in allowances if p.group in ("hardware", "zinc", "canopy")),
    ]


def _basis(p: Part) -> str:
    """Return the shape of a member, how an allowance is counted, or whether an item's weight is an estimate."""
    if p.group == "equipment":
        return p.source.split(",")[0]
    return p.what if p.group == "frame" else p.source


def _total(r: Weights) -> list:
    return [
        Heading("Total and center of gravity"),
        Grid("Sums", ("Group", "w [lbf]"), tuple(r.groups.items())),
        Remark("The sums below run over the listed weights, in their order."),
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
    rows = (
        ("Weight of rack and equipment, W", r.W),
        ("Center along the rack, from the left post line, x_bar", r.x_bar),
        ("Center across the rack, from the post plane, y_bar", r.y_bar),
        ("Center above grade, z_bar", r.z_bar),
        ("Eccentricity along the rack, from its middle, e_x", r.e_x),
        ("Eccentricity across the rack, e_y", r.e_y),
    )
    return [
        Heading("Results"),
        r.e_x,
        Grid("Weight and center of gravity, carried forward", ("Result", "Value"), rows),
        Remark(SIGNS),
    ]


def _one_of_each(frame: list[Part]) -> list[Value]:
    """Return the weight of the first part of each kind and shape, to be shown in full."""
    first: dict[tuple[str, str], Value] = {}
    for p in frame:
        first.setdefault((p.label.split()[0], p.what), p.w)
    return list(first.values())


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

"""The weights sheet: items, members and allowances tabulated, one line of each kind in full, total, center, results."""

from __future__ import annotations

from rackbook.trace import Grid, Heading, Remark, Sheet, Value

from .rack import TOLERANCE, TOLERANCE_CENTER, Weights
from .takeoff import Part, estimated_share

PLACE = ("w [lbf]", "x [ft]", "y [in]", "z [ft]")
TITLE = "Weights and center of gravity"
AXES = (
    "w is the weight and x, y, z its center: x along the rack from the left post line, y from the post plane (front positive), "
    "z above grade. y of an item is the outer face of its rail, plus its offset, plus half its depth."
)
FRAME = (
    "Weight is weight a foot times length, plates by volume without their holes; one of each kind follows in full. Tubes have "
    "the table's nominal weight. Rails count between the outer post lines; welds are in the hardware allowance. a is the "
    "coated surface: the outline of the section, of tubes inside and outside, times the length."
)
BRACES = "A brace whose ends the job does not give is put at the middle of the rack and at half its height."
SPREAD = (
    "Conduit, wire and tray are spread evenly along the rack, in the post plane, at the mean height of the rails. Hardware is "
    "at the frame's center of gravity, zinc at that of the coated surface."
)
SIGNS = (
    "e_x is positive where the right half is heavier, e_y where the front is. W times e_y is a steady moment about the post "
    "plane; both turn lateral forces at the center of gravity into twisting."
)


def sheets(result: Weights) -> list[Sheet]:
    """Return the sheet of the weights."""
    parts = [*_equipment(result), *_frame(result), *_allowances(result), *_total(result), *_measured(result), *_results(result)]
    purpose = "Finds the weight of every part, the total, and the center of gravity."
    return [Sheet("weights", TITLE, purpose, tuple(parts))]


def _equipment(r: Weights) -> list:
    items = [p for p in r.parts if p.group == "equipment"]
    rows = tuple((p.label, p.w, p.x, p.y, p.z, p.source) for p in items)
    shown = [Grid("Equipment", ("Item", *PLACE, "Source of the weight"), rows)] if items else []
    return [Heading("Equipment"), Remark(AXES), *shown, Remark(_said_of_equipment(r))]


def _frame(r: Weights) -> list:
    frame = [p for p in r.parts if p.group == "frame"]
    rows = tuple((p.label, p.what, p.w, p.x, p.y, p.z, p.area or "") for p in frame)
    braces = [Remark(BRACES)] if any(p.label.startswith("brace") for p in frame) else []
    grid = Grid("Members and plates", ("Part", "Shape", *PLACE, "a [ft**2]"), rows)
    return [Heading("Frame"), Remark(FRAME), *braces, grid, *_one_of_each(frame)]


def _allowances(r: Weights) -> list:
    others = [p for p in r.parts if p.group not in ("equipment", "frame")]
    if not others:
        return []
    rows = tuple((p.label, p.w, p.x, p.y, p.z, p.source) for p in others)
    return [
        Heading("Hardware, zinc and services"),
        Remark(SPREAD),
        Grid("Allowances", ("Part", *PLACE, "How"), rows),
        *(p.w for p in others if p.group in ("hardware", "zinc", "canopy")),
    ]


def _total(r: Weights) -> list:
    return [
        Heading("Total and center of gravity"),
        Grid("Sums", ("Group", "w [lbf]"), tuple(r.groups.items())),
        Remark("The columns below are those of the tables above, in their order."),
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
        return "All equipment weights are from datasheets or were measured, as the last column says."
    return (
        f"{count} of {len(result.items)} equipment weights are estimates, {share:.0%} of the equipment's weight. Replace them "
        "by the submitted weights before the rack is released."
    )

"""The weights sheet: items and parts tabulated, the frame's lines once in full, total, center, and the shop's weighing."""

from __future__ import annotations

from rackbook.trace import Grid, Heading, Remark, Sheet, Step, Value, in_order

from ..columns import lined_up
from .rack import TOLERANCE, TOLERANCE_CENTER, Weights
from .takeoff import Part, estimated_share

HEADS = ("Part", "What", "w [lbf]", "x [ft]", "y [in]", "z [ft]", "Source of the weight")
TITLE = "Weights and center of gravity"


def sheets(result: Weights, si: bool = False) -> list[Sheet]:
    """Return the sheet of the weights."""
    frame = [p for p in result.parts if p.group == "frame"]
    others = [p for p in result.parts if p.group not in ("equipment", "frame")]
    parts: list = [
        Heading("Equipment"),
        _grid("Equipment by tag", [p for p in result.parts if p.group == "equipment"]),
        Remark(_said_of_equipment(result)),
        *_first_place(result),
        Heading("Frame"),
        _grid("Members and plates", frame),
        *_one_of_each(frame),
        Remark(
            "Weights a foot are those of the section tables; tubes are listed with their nominal wall. Rails are counted "
            "between the outer post lines, plates without their holes. A brace whose place is not given is put at the middle "
            "of the rack. Welds are within the hardware allowance."
        ),
        Heading("Hardware, zinc and services"),
        _grid("Allowances", others),
        *_coated([p for p in others if p.group == "zinc"]),
        *(p.w for p in others),
        Remark(
            "Conduit, wire and tray are spread evenly along the rack, in the post plane, at the mean height of the rails; "
            "hardware is at the frame's center of gravity, zinc at that of the coated surface."
        ),
        Heading("Total and center of gravity"),
        Remark(
            "x from the left post line, y from the post plane (front positive), z above grade. The columns are those of the "
            "tables above, in their order."
        ),
        *result.groups.values(),
        result.estimate,
        result.x_e,
        result.y_e,
        result.z_e,
    ]
    if result.measured is not None:
        parts += [
            Heading("Measured weight"),
            Remark(
                f"The finished rack was weighed. Beyond {TOLERANCE.text()} of the weight or {TOLERANCE_CENTER.text()} of "
                "the center (tolerances of common practice) the difference is to be explained. What is installed in the field "
                "after the weighing is not in the measured weight."
            ),
            result.W,
            result.x_bar,
            result.y_bar,
            result.z_bar,
            *result.checks,
        ]
    parts += [
        Heading("Eccentricity"),
        result.e_x,
        result.e_y,
        Remark(
            "The rack is heavier on its right half where the first is positive, and in front where the second is: a steady "
            "moment about the post plane, and a twisting moment under lateral forces, both carried into the frame."
        ),
    ]
    return [
        Sheet(
            "weights",
            TITLE,
            "Finds the weight of every part, the total, and the center of gravity.",
            tuple(parts),
            si=si,
        )
    ]


def _grid(title: str, of: list[Part]) -> Grid:
    return Grid(title, HEADS, tuple((p.label, p.what, p.w, p.x, p.y, p.z, p.source) for p in of))


def _one_of_each(frame: list[Part]) -> list[Value]:
    """Return the weight of the first part of each kind and shape, to be shown in full."""
    first: dict[tuple[str, str], Value] = {}
    for p in frame:
        first.setdefault((p.label.split()[0], p.what), p.w)
    return list(first.values())


def _first_place(result: Weights) -> list:
    """Return how the place of the first item across the rack is found, with a remark."""
    for tag, part in result.items.items():
        return [Remark(f"Place of {tag} across the rack; the other items' are found alike:"), part.y]
    return []


def _coated(zinc: list[Part]) -> list[Value]:
    """Return the coated surface of the first member of each shape and of the first plate, to be shown in full."""
    first: dict[object, Value] = {}
    for p in zinc:
        for area in (a for v in in_order([p.w]) if v.unit == "ft**2" for a in lined_up(v) if a.unit == "ft**2"):
            given = area.origin.given if isinstance(area.origin, Step) else {}
            first.setdefault(given.get("s", "plate"), area)
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

"""The sheet of the rack's geometry: axes, and the boxes that weights, wind and drawings are read off."""

from __future__ import annotations

from rackbook.trace import Grid, Heading, Remark, Sheet, Value
from rackbook.trace.columns import entries

from .geometry import Parts

GEOMETRY = "Rack geometry"
AXES = (
    "x runs along the rack, to the right as seen from the front, from the left post line; y across it, to the front, from the "
    "post plane; z up from grade. The set is left-handed. Moments are components of r x F (M_x = y F_z - z F_y and so on): a "
    "positive M_x tips the rack to the back, a positive M_y tips it to the right, a positive M_z turns the right end to the "
    "front."
)
EXTENTS = (
    "x, y, z is the center of a part, w its extent along x, d along y, h up. Posts stand with their depth across the rack; "
    "rails lie with their depth upright, strut with its depth across. Rails on the front and the back run to the outer faces "
    "of the end posts (L_r), a rail in the post plane between the outer post lines (L). The frame model ends at the outer "
    "post lines: weight and wind of what lies beyond are carried on the rail itself, spread over its length between them. "
    "The depth of a canopy's edge and of a tray are assumptions."
)


def geometry_sheet(parts: Parts) -> Sheet:
    """Return the boxes of the rack as a sheet."""
    columns = [entries(getattr(parts, n), parts.tags) for n in ("x", "y", "z", "w", "d", "h")]
    rows: list[tuple[Value | str, ...]] = [
        (tag, kind, *(c[tag] for c in columns)) for tag, kind in zip(parts.tags, parts.kinds, strict=True)
    ]
    heads = ("Part", "Kind", "x [ft]", "y [ft]", "z [ft]", "w [ft]", "d [ft]", "h [ft]")
    shown = (
        Heading("Axes and signs"), Remark(AXES), Heading("Parts"), Remark(EXTENTS), parts.length, parts.overall,
        Grid("Parts of the rack", heads, tuple(rows)),
    )  # fmt: skip
    return Sheet("geometry", GEOMETRY, "Lists the parts from which weights, wind and drawings are read.", shown)

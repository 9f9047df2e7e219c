"""The sheet of the rack's geometry: axes, and the boxes that weights, wind and drawings are read off."""

from __future__ import annotations

from rackbook.loads.blocks import side_by_side
from rackbook.trace import Grid, Heading, Remark, Sheet, Value
from rackbook.trace.columns import entries
from rackbook.trace.sheet import Part

from .geometry import Parts

GEOMETRY = "Rack geometry"
AXES = (
    "x runs along the rack, to the right as seen from the front, from the left post line; y across it, to the front, from the "
    "post plane; z up from grade. The set is left-handed. Moments are components of r x F (M_x = y F_z - z F_y and so on): a "
    "positive M_x tips the rack to the back, a positive M_y tips it to the right, a positive M_z turns the right end to the "
    "front."
)
EXTENTS = (
    "y is the center of a part, w its extent along x, d along y, h up; x and z of its center are in the table of weights. "
    "Posts stand with their depth across the rack, rails with their depth upright, strut with its depth across. Rails on "
    "the front and the back run to the outer faces of the end posts (L_r), a rail in the post plane between the outer post "
    "lines (L). The frame model ends at those: weight and wind beyond them are spread over the rail between them."
)
ASSUMED = "The depth of {} is an assumption."


def geometry_sheet(parts: Parts) -> Sheet:
    """Return the boxes of the rack as a sheet."""
    heads = ("Part", "y [ft]", "w [ft]", "d [ft]", "h [ft]")
    boxes = _rows(parts, ("y", "w", "d", "h"), False)
    edges = _rows(parts, ("y", "w", "d", "h", "x", "z"), True)
    assumed = [word for kind, word in (("canopy", "a canopy's edge"), ("tray", "the tray")) if kind in parts.kinds]
    shown: tuple[Part, ...] = (
        Heading("Axes and signs"), Remark(AXES), Heading("Parts"),
        Remark(" ".join((EXTENTS, *([ASSUMED.format(" and of ".join(assumed))] if assumed else [])))),
        parts.length, parts.overall, side_by_side("Parts of the rack", heads, boxes, 3),
        *([Grid("Edges of the canopy", (*heads, "x [ft]", "z [ft]"), edges)] if edges else []),
    )  # fmt: skip
    return Sheet("geometry", GEOMETRY, "Lists the parts from which weights, wind and drawings are read.", shown)


def _rows(parts: Parts, names: tuple[str, ...], canopy: bool) -> tuple[tuple[Value | str, ...], ...]:
    """Return a row for every box, or for every edge of the canopy, which has no line among the weights."""
    columns = [entries(getattr(parts, n), parts.tags) for n in names]
    chosen = [tag for tag, kind in zip(parts.tags, parts.kinds, strict=True) if (kind == "canopy") == canopy]
    return tuple((tag, *(c[tag] for c in columns)) for tag in chosen)

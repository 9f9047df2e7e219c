"""The wind sheets: one direction in full, the others tabulated; and the boxes they were read off."""

from __future__ import annotations

from typing import Any

import numpy as np

from rackbook.loads.columns import entries, entry
from rackbook.loads.geometry import Parts
from rackbook.trace import Grid, Heading, Remark, Sheet, Value

from .force import design_force
from .groups import Conditions, Group
from .rack import Direction, Wind

GEOMETRY = "Rack geometry"
FACING = {"front": "on the front", "back": "on the back", "left": "on the left end", "right": "on the right end"}
BASIS = (
    "Main force by Chapter 29, at strength level (factor 1.0 on W in strength combinations, 0.6 in allowable stress). "
    "The rack is a nonbuilding structure: the floor of 0.70 on K_z in Exposure B, which belongs to Chapter 28, is not applied. "
    "Forces are not less than 16 psf on the solid area, part by part."
)
AREAS = (
    "Each row of posts with what hangs on it is one silhouette: a spot that two parts cover counts once, for the part the wind "
    "meets first. One row does not shield the other, and along the rack no part shields the next, because no clause gives a "
    "shielding factor; only an end face that touches its neighbor (gap to 1 in.) is left out. The gross area is the "
    "rectangle around the row from grade to its top; the panel is the rectangle around equipment, rails and tray. Openings of "
    "30 % of the panel or more make the row an open frame; fewer make the panel a solid sign. Conduit, braces and canopy "
    "edges add their area but no solidity. Base plates, piers, wire, conduit supports and small fittings are left out."
)
OPEN = "The openings are 30 % of the panel or more: solidity 0.7 or less, an open frame."
CABINETS = (
    "A cabinet is taken as a part of the open frame. Taken alone by Figure 29.4-1 it would come out lower (to ten "
    "times as high as wide), so that figure is not used. For its own fastening each piece "
    "counts with its whole face, also where another part stands before it."
)


def sheets(result: Wind, si: bool = False) -> list[Sheet]:
    """Return the sheet of the rack's geometry and the wind sheet, which reads it."""
    return [geometry_sheet(result.parts, si), _wind(result, si)]


def _wind(result: Wind, si: bool) -> Sheet:
    governing = result.governing
    at = result.conditions
    parts: list[Any] = [
        Heading("Basis"),
        Remark(BASIS),
        at.edition,
        at.exposure,
        at.K_e,
        Heading("Areas"),
        Remark(AREAS),
        Heading(f"Wind {FACING[governing.name]}, the direction of the largest overturning moment"),
    ]
    for group in governing.groups:
        parts += _in_full(at, group)
        parts.append(_grid(group, governing.along))
    parts += [
        Heading("The whole rack"),
        Remark(
            "The moment is about the ground line. The torsion is about the vertical axis through the middle of the rack "
            "for wind across it, and in the post plane for wind along it; it is that of the parts' own eccentricity, with a "
            "solid sign that of Case B or C on the same side. The figure of open frames asks for no further eccentricity."
        ),
        governing.V,
        governing.M,
        governing.z_F,
        governing.T,
        _all(result),
        Heading("Equipment for itself"),
        Remark(CABINETS),
        _fastening(result),
        *result.checks,
    ]
    purpose = f"Finds the wind force on every part and on the rack, by {_edition(result)}."
    return Sheet("wind", "Wind loads", purpose, tuple(parts), _elsewhere(result.parts), si)


def _edition(result: Wind) -> str:
    return f"ASCE/SEI {result.edition.magnitude}"


def _one(of: Value, place: int, tag: str) -> Value:
    return entry(of, place, tag) if isinstance(of.magnitude, np.ndarray) else of


def _in_full(at: Conditions, group: Group) -> list[Any]:
    """Return what shows how the part with the largest force came by it."""
    place = int(np.argmax(group.F.magnitude))
    tag = group.tags[place]
    if group.sign is not None:
        sign = group.sign
        said = f"{group.name.capitalize()}: openings below 30 % of its gross area, a solid sign (Figure 29.3-1)."
        return [Remark(said), group.epsilon, sign.C_f, sign.F, sign.z_F, sign.T]
    if group.F.magnitude[place] <= 0:
        return [Remark(f"{group.name.capitalize()}: behind other parts, nothing of it is seen.")]
    A, z = _one(group.A, place, tag), _one(group.z, place, tag)
    C_f = _one(group.C_f, place, tag)
    own = design_force(at.edition, at.q(z, at.K_d), C_f, A, at.outside(at.K_d), at.G)
    decided = [] if group.epsilon_panel is None else [Remark(OPEN), group.epsilon_panel]
    said = f"{group.name.capitalize()}: Figure 29.4-2. In full for {tag}, which takes the largest force of it."
    return [*decided, Remark(said), group.epsilon, C_f, own.F, own.p]


def _grid(group: Group, along: bool) -> Grid:
    heads = ("Part", "A_f [ft**2]", "y [ft]" if along else "x [ft]", "z [ft]", "q [psf]", "C_f []", "F [lbf]")
    columns = []
    for v in (group.A, group.u, group.z, group.q, group.C_f, group.F):
        single = not isinstance(v.magnitude, np.ndarray)
        columns.append(dict.fromkeys(group.tags, v) if single else entries(v, group.tags))
    seen = [tag for tag, area in zip(group.tags, group.A.magnitude.tolist(), strict=True) if area > 0]
    hidden = len(group.tags) - len(seen)
    title = f"Forces, {group.name}" + (f" ({hidden} more parts are not seen)" if hidden else "")
    return Grid(title, heads, tuple((tag, *(c[tag] for c in columns)) for tag in seen))


def _all(result: Wind) -> Grid:
    heads = ("Wind", "Face", "epsilon []", "V [lbf]", "M [lbf*ft]", "z_F [ft]", "T [lbf*ft]")
    rows: list[tuple[Value | str, ...]] = [
        (FACING[n], d.openness, d.epsilon, d.V, d.M, d.z_F, d.T) for n, d in result.directions.items()
    ]
    return Grid("The four directions", heads, tuple(rows))


def _fastening(result: Wind) -> Grid:
    each: list[Direction] = list(result.directions.values())
    heads = ("Item", *(f"{FACING[d.name]} [lbf]" for d in each))
    tags = [t for t, k in zip(result.parts.tags, result.parts.kinds, strict=True) if k == "equipment"]
    return Grid("Force on each piece of equipment", heads, tuple((tag, *(d.fastening[tag] for d in each)) for tag in tags))


def _elsewhere(parts: Parts) -> dict[int, str]:
    return {id(getattr(parts, n)): GEOMETRY for n in ("x", "y", "z", "w", "d", "h")}


def geometry_sheet(parts: Parts, si: bool = False) -> Sheet:
    """Return the boxes of the rack as a sheet."""
    names = ("x", "y", "z", "w", "d", "h")
    columns = [entries(getattr(parts, n), parts.tags) for n in names]
    rows: list[tuple[Value | str, ...]] = [
        (tag, kind, *(c[tag] for c in columns)) for tag, kind in zip(parts.tags, parts.kinds, strict=True)
    ]
    said = (
        "Centers (x along the rack from the left post line, y from the post plane to the front, z above grade) and extents "
        "(w along x, d along y, h up) of all parts. Posts stand with their depth across the rack; rails lie with their depth "
        "upright, strut with its depth across. The depth of a canopy's edge and of a tray are assumptions."
    )
    heads = ("Part", "Kind", "x [ft]", "y [ft]", "z [ft]", "w [ft]", "d [ft]", "h [ft]")
    shown = (Remark(said), Grid("Parts of the rack", heads, tuple(rows)), parts.length)
    return Sheet("geometry", GEOMETRY, "Lists the boxes from which weights, wind and drawings are read.", shown, si=si)

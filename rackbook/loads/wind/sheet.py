"""The wind sheets: one direction in full, the others tabulated; and the boxes they were read off."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from rackbook.loads.geometry import Parts
from rackbook.trace import Grid, Heading, Remark, Sheet, Value
from rackbook.trace.columns import entries, entry

from .force import design_force
from .groups import Conditions, Group
from .rack import Direction, Wind

GEOMETRY = "Rack geometry"
FACING = {"front": "on the front", "back": "on the back", "left": "on the left end", "right": "on the right end"}
BASIS = (
    "Main force by Chapter 29, at strength level (factor 1.0 on W in strength combinations, 0.6 in allowable stress);"
    " not less than 16 psf on the solid area, part by part. The floor of 0.70 on K_z in Exposure B belongs to Chapter"
    " 28 and is not applied."
)
AREAS = (
    "Areas are read off the boxes of the sheet Rack geometry. Each row of posts with what hangs on it is one "
    "silhouette: a spot that two parts cover counts once, for the part the wind meets first. No clause gives a "
    "shielding factor: rows do not shield one another, and along the rack only an end face that touches its neighbor "
    "(gap to 1 in.) is left out. The gross area is the rectangle from grade to the top; the panel is the rectangle "
    "around equipment, rails and tray. Openings of 30 % of the panel or more make the row an open frame, fewer make "
    "the panel a solid sign. Conduit, braces and canopy edges add area but no solidity. Base plates, piers, wire, "
    "conduit supports and small fittings are left out."
)
CONDUIT = (
    "Conduit counts with its whole length against wind on the ends as well: the allowance does not say how much of it runs "
    "along the rack, where an end sees little of it, and how much up, down and across, where all is seen. This is on the safe "
    "side for wind along the rack."
)
SHARED = (
    "The panel's force is shared by the areas seen; x and z of the parts are moved together until the resultant "
    "stands where the figure puts it."
)
OPEN = "The openings are 30 % of the panel or more: solidity 0.7 or less, an open frame."
CABINETS = (
    "For its own fastening each piece counts with its whole face, also where another part stands before it; on a "
    "solid panel with the coefficient of the windward strip, wherever it hangs. A cabinet is a part of the frame's "
    "figure: taken alone by Figure 29.4-1 it comes out lower (to ten times as high as wide)."
)
WHOLE = (
    "The moment is about the ground line, the torsion about the vertical axis through the middle of the rack (wind "
    "across it) or in the post plane (wind along it), positive where the resultant is right of the middle or in front"
    " of the plane."
)
SIGN_TORSION = (
    "Wind on a solid panel: the force of the governing case and the torsion of Case B or C, whichever is larger, plus"
    " the parts' own eccentricity, are taken together and to either side. They belong to different cases, so this is "
    "on the safe side."
)
OPEN_TORSION = "The figure of open frames asks for no eccentricity beyond the parts' own."
USES = (
    "Strength level, factor 1.0; in either sense. V, M and the torsion are for the frame, its base plates, anchors "
    "and piers; M is at grade. The force on each piece above is for its own fastening and rail and is not added to V."
)


def sheets(result: Wind) -> list[Sheet]:
    """Return the sheet of the rack's geometry and the wind sheet, which reads it."""
    return [geometry_sheet(result.parts), _wind(result)]


def _wind(result: Wind) -> Sheet:
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
        *([Remark(CONDUIT)] if "conduit" in result.left.forces else []),
        Heading(f"Wind {FACING[governing.name]}, the direction of the largest overturning moment"),
    ]
    main = max(governing.groups, key=lambda g: float(g.F.magnitude.sum()))
    for group in sorted(governing.groups, key=lambda g: g is not main):
        parts += _in_full(at, group) if group is main else []
        parts.append(_grid(group, governing.along))
        parts += [] if group is main else _in_short(group)
    sign = any(g.sign is not None for g in governing.groups)
    own_twist = (
        [] if sign and abs(governing.T.magnitude - _of_signs(governing)) < 1e-6 * governing.T.magnitude else [governing.T]
    )
    parts += [
        Heading("The whole rack"),
        Remark(WHOLE),
        Remark(SIGN_TORSION if sign else OPEN_TORSION),
        governing.V,
        governing.M,
        governing.z_F,
        *own_twist,
        Heading("Equipment for itself"),
        Remark(CABINETS),
        _fastening(result),
        *result.checks,
        Heading("Results"),
        _all(result),
        Remark(USES),
    ]
    purpose = f"Finds the wind force on every part and on the rack, by {_edition(result)}."
    return Sheet("wind", "Wind loads", purpose, tuple(parts))


def _of_signs(direction: Direction) -> float:
    return sum(float(sign.T.m_as(direction.T.unit)) for sign in direction.panels)


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
        rows = tuple((name, C_f, F, T or "") for name, (C_f, F, T) in sign.cases.items())
        cases = Grid("Cases of the panel", ("Case", "C_f []", "F [lbf]", "Torsion [lbf*ft]"), rows)
        return [Remark(said), group.epsilon, sign.C_f, sign.F, sign.z_F, sign.T, cases, Remark(SHARED)]
    if group.F.magnitude[place] <= 0:
        return [Remark(f"{group.name.capitalize()}: behind other parts, nothing of it is seen.")]
    A, z = _one(group.A, place, tag), _one(group.z, place, tag)
    C_f = _one(group.C_f, place, tag)
    own = design_force(at.edition, at.q(z, at.K_d), C_f, A, at.outside(at.K_d), at.G)
    decided = [] if group.epsilon_panel is None else [Remark(OPEN), group.epsilon_panel]
    said = f"{group.name.capitalize()}: Figure 29.4-2. In full for {tag}, which takes the largest force of it."
    return [*decided, Remark(said), group.epsilon, C_f, own.F, own.p]


def _in_short(group: Group) -> list[Any]:
    """Return what stands behind the table of a lesser group: area, solidity and coefficient of its largest part."""
    place = int(np.argmax(group.F.magnitude))
    if group.F.magnitude[place] <= 0:
        return []
    tag = group.tags[place]
    area = [_one(group.A, place, tag)] if group.figure == "loose parts" else []
    said = f"Area and coefficient of {tag}; q at the height of each part, by the lines above."
    return [Remark(said), *area, group.epsilon, _one(group.C_f, place, tag)]


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


def _alike(result: Wind, same: Callable[[Direction], Any]) -> dict[str, Direction]:
    """Return the directions under their words; the two of an axis as one where they come to the same."""
    found: dict[str, Direction] = {}
    for a, b in ((result.front, result.back), (result.left, result.right)):
        if np.allclose(same(a), same(b), rtol=1e-9, atol=1e-6):
            found["on front or back" if a.name == "front" else "on either end"] = a
        else:
            found.update({FACING[a.name]: a, FACING[b.name]: b})
    return found


def _all(result: Wind) -> Grid:
    heads = ("Wind", "Figure", "epsilon []", "V_w [lbf]", "M [lbf*ft]", "z_F [ft]", "Torsion [lbf*ft]")
    alike = _alike(result, lambda d: [d.V.m_as("lbf"), d.M.m_as("lbf*ft"), d.T.m_as("lbf*ft")])
    figure = {"open": "29.4-2, open", "solid": "29.3-1, solid"}
    rows = tuple((said, figure[d.openness], d.epsilon, d.V, d.M, d.z_F, d.T) for said, d in alike.items())
    return Grid("Wind on the rack, carried forward", heads, rows)


def _fastening(result: Wind) -> Grid:
    tags = [t for t, k in zip(result.parts.tags, result.parts.kinds, strict=True) if k == "equipment"]
    each = _alike(result, lambda d: [d.fastening[tag].m_as("lbf") for tag in tags])
    heads = ("Item", *(f"F {said} [lbf]" for said in each))
    return Grid(
        "Force on each piece of equipment", heads, tuple((tag, *(d.fastening[tag] for d in each.values())) for tag in tags)
    )


def geometry_sheet(parts: Parts) -> Sheet:
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
    return Sheet(
        "geometry",
        GEOMETRY,
        "Lists the boxes from which weights, wind and drawings are read.",
        shown,
    )

"""The wind sheet: one direction of each axis in full, the others tabulated."""

from __future__ import annotations

from typing import Any

from rackbook.loads.geometry_sheet import geometry_sheet
from rackbook.trace import Grid, Heading, Remark, Sheet

from .conditions import Conditions
from .faces import total_area
from .force import mean_pressure
from .groups import Group
from .rack import Direction, Wind
from .tables import FACTORS, PARTS, alike, attachments, carried, cases, factors, forces, largest_part, of_part

BASIS = (
    "Main wind-force resisting system (MWFRS) by Chapter 29, at strength level (factor 1.0 on W in strength combinations, 0.6 "
    "in allowable stress). The minimum of 29.7 is 16 psf: on the solid area of an open frame, part by part; on the gross area "
    "of a solid sign, in each of its cases. The minimum of 0.70 on K_z in Exposure B belongs to Chapter 28 and is not applied."
)
AREAS = (
    "Areas are read off the parts of the sheet Rack geometry. Each row of posts with what hangs on it is one silhouette: a "
    "spot that two parts cover counts once, for the part the wind meets first. No clause gives a shielding factor: rows do "
    "not shield one another, and along the rack only an end face that touches its neighbor (gap to 1 in.) is left out. The "
    "panel is the rectangle around equipment, rails and tray, from the lowest to the highest of them; the outline is the "
    "rectangle around all parts, from grade to the highest. The panel decides: openings of 30 % or more make the row an open "
    "frame, whose figure is entered with the solidity of the outline; fewer make the panel a solid sign. Base plates, piers, "
    "wire, conduit supports and small fittings are left out."
)
OPENINGS = (
    "Conduit and braces stand in the openings of the panel and count in its solid area: conduit with the share that no "
    "part covers, a brace whole; of two rows, in the row the wind meets first. Canopy edges count with their force alone. For "
    "wind on an end, conduit stands in line with the posts and adds force, no solidity."
)
CONDUIT = (
    "Conduit counts with its whole length against wind on the ends as well: the allowance does not say how much of it runs "
    "along the rack, where an end sees little of it, and how much up, down and across, where all is seen. This is "
    "conservative for wind along the rack."
)
SHARED = (
    "The force of the panel is shared by the areas seen and acts at their centroids, all moved together by dx and dz until "
    "the resultant stands where the figure puts it."
)
OPEN = "The openings are 30 % of the panel or more: solidity 0.7 or less, an open frame."
CABINETS = (
    "For its own attachment each piece counts with its whole face, also where another part stands before it; on a solid panel "
    "with the coefficient of the windward strip, wherever it hangs. A cabinet is a part of the frame's figure: alone by "
    "Figure 29.4-1 it comes out lower (to ten times as high as wide)."
)
WHOLE = (
    "The moment is about the ground line; the torsion is about the vertical axis through the middle of the rack (wind across "
    "it) or in the post plane (wind along it), positive where the resultant is right of the middle or in front of the plane."
)
SIGN_TORSION = (
    "On the solid panel, the force of the governing case and the torsion of Case B or C, whichever is larger, plus the "
    "parts' own eccentricity, are applied together and to either side. They belong to different cases, so this is "
    "conservative."
)
OPEN_TORSION = "The figure of open frames asks for no eccentricity beyond the parts' own."
USES = (
    "Strength level, factor 1.0. V, M and the torsion are for the frame, its base plates, anchors and piers; M is at grade. "
    "Attachment forces are for a piece's own fastening and rail and are not added to V."
)


def sheets(result: Wind) -> list[Sheet]:
    """Return the sheet of the rack's geometry and the wind sheet, which reads it."""
    return [geometry_sheet(result.parts), _wind(result)]


def _wind(result: Wind) -> Sheet:
    governing, at = result.governing, result.conditions
    parts: list[Any] = [
        Heading("Basis"), Remark(BASIS), at.edition, at.exposure, at.K_e, *_topography(at), Heading("Areas"), Remark(AREAS),
        Remark(OPENINGS), *([Remark(CONDUIT)] if "conduit" in result.left.forces else []),
    ]  # fmt: skip
    shown = alike(result)
    axes = sorted({d.along for d in shown.values()}, key=lambda along: along != governing.along)
    largest = [
        max(((said, d) for said, d in shown.items() if d.along == along), key=lambda pair: float(pair[1].M.m_as("lbf*ft")))
        for along in axes
    ]
    for said, direction in largest:
        parts += _groups(at, said, direction, direction is largest[0][1])
    parts += [Heading("All directions"), Remark(FACTORS), factors(result), Remark(PARTS), forces(result)]
    parts += [Heading("The whole rack"), Remark(WHOLE)]
    for said, direction in largest:
        parts += _whole(said, direction)
    parts += [
        Heading("Equipment attachment forces"), Remark(CABINETS), attachments(result), *result.checks,
        Heading("Results"), carried(result, "Wind on the rack, carried forward"), Remark(USES),
    ]  # fmt: skip
    purpose = f"Finds the wind force on every part and on the rack, by ASCE/SEI {result.edition.magnitude}."
    return Sheet("wind", "Wind loads", purpose, tuple(parts))


def _topography(at: Conditions) -> list[Any]:
    """Return the five conditions of 26.8.1 and who determines each; nothing where no feature is given."""
    if at.topography is None:
        return []
    t = at.topography
    named, calculated = "per the engineer's determination, by naming the feature", "calculated below"
    rows = (
        ("1. Isolated, and not obstructed upwind by features of comparable height", named),
        ("2. Protrudes above the terrain upwind by a factor of two or more", named),
        (
            "3. The rack stands in the upper half of the hill or ridge, or near the crest of the escarpment",
            f"per the engineer's determination: {t.distance.text()} {t.side} of the crest; K_2 reduces the speed-up with it",
        ),
        ("4. H/L_h is 0.2 or more", calculated),
        ("5. H is 15 ft or more (Exposures C and D) or 60 ft or more (Exposure B)", calculated),
    )
    return [Grid("Speed-up over hills, ridges and escarpments: conditions of 26.8.1", ("Condition", "Determined by"), rows)]


def _groups(at: Conditions, said: str, direction: Direction, most: bool) -> list[Any]:
    """Return the groups of one direction: its main group in full, area and coefficient of the others."""
    main = max(direction.groups, key=lambda g: float(g.F.magnitude.sum()))
    heading = f"Wind {said}, the direction of the largest overturning moment" if most else f"Wind {said}"
    parts: list[Any] = [Heading(heading), *_in_full(at, main)]
    for group in direction.groups:
        parts += [] if group is main else _in_short(group)
    return parts


def _whole(said: str, direction: Direction) -> list[Any]:
    """Return force, moment and torsion of one direction on the whole rack."""
    sign = bool(direction.panels)
    of_signs = sum(float(s.T.m_as(direction.T.unit)) for s in direction.panels)
    own = [] if sign and abs(direction.T.magnitude - of_signs) < 1e-6 * direction.T.magnitude else [direction.T]
    remark = Remark(f"Wind {said}. {SIGN_TORSION if sign else OPEN_TORSION}")
    return [remark, direction.V, direction.M, direction.z_F, *own]


def _in_full(at: Conditions, group: Group) -> list[Any]:
    """Return what shows how the part with the largest force came by it."""
    place, tag = largest_part(group)
    if group.sign is not None:
        sign = group.sign
        said = f"{group.name.capitalize()}: openings below 30 % of its gross area, a solid sign (Figure 29.3-1)."
        shared = [] if group.shifts is None else [Remark(SHARED), *group.shifts]
        p = mean_pressure(F=sign.F, A_f=total_area(A=group.A))
        return [Remark(said), group.epsilon, sign.C_f, sign.F, sign.z_F, sign.T, cases(sign), *shared, p]
    if group.F.magnitude[place] <= 0:
        return [Remark(f"{group.name.capitalize()}: behind other parts, nothing of it is seen.")]
    A, z, C_f = (of_part(v, place, tag) for v in (group.A, group.z, group.C_f))
    own = at.force(at.q(z, at.K_d), C_f, A, at.K_d)
    panel = group.epsilon_panel
    decided = [] if panel is None else [Remark(OPEN), panel]
    said = f"{group.name.capitalize()}: Figure 29.4-2. In full for {tag}, which has the largest force of it."
    return [*decided, Remark(said), group.epsilon, C_f, own.F, own.p]


def _in_short(group: Group) -> list[Any]:
    """Return what stands behind a lesser group: area, solidity and coefficient of its largest part."""
    place, tag = largest_part(group)
    if group.F.magnitude[place] <= 0:
        return []
    area = [of_part(group.A, place, tag)] if group.figure == "loose parts" else []
    said = f"{group.name.capitalize()}: area and coefficient of {tag}; q at the height of each part, by the lines above."
    return [Remark(said), *area, group.epsilon, of_part(group.C_f, place, tag)]

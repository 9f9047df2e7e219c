"""The wind sheet: the governing direction in full, the others tabulated."""

from __future__ import annotations

from typing import Any

from rackbook.loads.geometry_sheet import geometry_sheet
from rackbook.trace import Grid, Heading, Remark, Sheet, Step, Value
from rackbook.trace.columns import entry

from .conditions import Conditions
from .groups import Group
from .rack import Direction, Wind
from .solid import SolidSign
from .tables import FACTORS, PARTS, alike, attachments, carried, cases, factors, forces, largest_part, of_part

BASIS = (
    "Main wind-force resisting system (MWFRS) by Chapter 29, at strength level (factor 1.0 on W in strength combinations, 0.6 "
    "in allowable stress). The minimum of 29.7 is 16 psf: on the solid area of an open frame, part by part; on the gross area "
    "of a solid sign, in each of its cases. The minimum of 0.70 on K_z in Exposure B belongs to Chapter 28 and is not applied."
)
AREAS = (
    "Areas are those of the sheet Rack geometry, each spot of a row of posts once, for the part the wind meets first. No "
    "clause gives shielding: rows do not shield one another, and along the rack only an end face that touches its neighbor "
    "is left out. The panel (B x s) is the rectangle around equipment, rails and tray; the outline that around all parts, "
    "from grade. Openings of 30 % of the panel or more make an open frame, entered with the solidity of the outline; fewer "
    "make the panel a solid sign. Base plates, piers, wire and fittings are not counted."
)
OPENINGS = (
    "Conduit and braces count in the solid area, conduit with the share that no part covers. On an end, conduit stands in line "
    "with the posts and adds force, no solidity."
)
CONDUIT = "It counts with its whole length against wind on the ends as well, which is conservative along the rack."
SHARED = (
    "The force is shared by the areas seen and acts at their centroids, all moved together by {dx} along the rack and {dz} up, "
    "which puts the resultant at the middle of the panel and at z_F; the torsion is added to it."
)
OPEN = "The openings are 30 % of the panel or more: solidity 0.7 or less, an open frame."
CABINETS = (
    "Each piece counts with its whole face, also where another part stands before it. As a chimney by Figure 29.4-1 alone it "
    "comes out lower (to ten times as high as wide)."
)
STRIP = (
    "On a solid panel p = q K_d G C_f, with the coefficient of the windward strip over epsilon, wherever the piece hangs: "
    "C_f = {C_f}, p = {p}."
)
WHOLE = (
    "V is the sum of F, M that of F z about the ground line, z_F = M/V. The torsion is about the vertical axis through the "
    "middle of the rack (wind across it) or in the post plane (wind along it); open frames have that of the parts' own "
    "eccentricity alone. V, M and torsion are for the frame, its base plates, anchors and piers."
)
SIGN_TORSION = (
    "Solid panel: the largest force and the torsion of Case B or C, whichever is larger, plus the parts' own eccentricity, "
    "are applied together and to either side; they belong to different cases, so this is conservative."
)
USES = "These are for a piece's own fastening and rail and are not added to V."


def sheets(result: Wind) -> list[Sheet]:
    """Return the sheet of the rack's geometry and the wind sheet, which reads it."""
    return [geometry_sheet(result.parts), _wind(result)]


def _wind(result: Wind) -> Sheet:
    governing, at = result.governing, result.conditions
    conduit = [Remark(f"{OPENINGS} {CONDUIT}" if "conduit" in result.left.forces else OPENINGS)]
    said = max(alike(result).items(), key=lambda pair: float(pair[1].M.m_as("lbf*ft")))[0]
    main = max(governing.groups, key=lambda g: float(g.F.magnitude.sum()))
    sign = [Remark(SIGN_TORSION)] if any(d.panels for d in result.directions.values()) else []
    parts: list[Any] = [
        Heading("Basis"), Remark(BASIS), at.edition, at.exposure, at.K_e, *_topography(at),
        Heading("Areas"), Remark(AREAS), *conduit,
        Heading(f"Wind {said}, the direction of the largest overturning moment"), *_in_full(at, main),
        Heading("All directions"), Remark(f"{FACTORS} {_directionality(at)}"), factors(result), Remark(PARTS), forces(result),
        Remark(WHOLE), *sign, carried(result, "Wind on the rack, carried forward"),
        Heading("Equipment attachment forces"), Remark(f"{CABINETS} {_strip(at, governing)}{USES}"), attachments(result),
        *result.checks,
    ]  # fmt: skip
    purpose = f"Finds the wind force on every part and on the rack, by ASCE/SEI {result.edition.magnitude}."
    return Sheet("wind", "Wind loads", purpose, tuple(parts))


def _directionality(at: Conditions) -> str:
    """Return the factors that are one for all groups, in words."""
    return f"G is {at.G.text()}, K_d {at.K_d.text()} for an open frame and {at.K_d_sign.text()} for a solid sign."


def _strip(at: Conditions, direction: Direction) -> str:
    """Return the pressure on the whole face of a piece on a solid panel, in words; nothing without one."""
    for group in direction.groups:
        if group.figure == "solid panel" and group.sign is not None:
            own = at.force(group.q, group.sign.C_f_local, group.sign.A_s, at.K_d_sign)
            return STRIP.format(C_f=group.sign.C_f_local.text(), p=own.p.text()) + " "
    return ""


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


def _in_full(at: Conditions, group: Group) -> list[Any]:
    """Return what shows how the part with the largest force came by it."""
    place, tag = largest_part(group)
    if group.sign is not None:
        said = f"{group.name.capitalize()}: openings below 30 % of its gross area, a solid sign (Figure 29.3-1)."
        return [Remark(said), *_raceway(group), group.epsilon, *_largest_case(group.sign), *_shared(group)]
    A, z, C_f = (of_part(v, place, tag) for v in (group.A, group.z, group.C_f))
    own = at.force(at.q(z, at.K_d), C_f, A, at.K_d)
    panel = group.epsilon_panel
    decided = [] if panel is None else [Remark(OPEN), panel]
    said = f"{group.name.capitalize()}: Figure 29.4-2. In full for {tag}, which has the largest force of it."
    return [*decided, Remark(said), group.epsilon, C_f, own.F]


def _raceway(group: Group) -> list[Any]:
    """Return the area of the conduit in the openings of a panel; nothing where none is seen."""
    behind: Any = group.epsilon
    for name in ("A_r", "A"):
        behind = behind.origin.given.get(name) if isinstance(behind, Value) and isinstance(behind.origin, Step) else None
    if behind is None or group.tags[-behind.magnitude.size] != "conduit" or behind.magnitude[0] <= 0:
        return []
    return [entry(behind, 0, "conduit")]


def _largest_case(sign: SolidSign) -> list[Any]:
    """Return the case of the largest force and that of the largest torsion, and the table of all."""
    force = max(sign.cases.values(), key=lambda c: float(c.F_calc.m_as("lbf")))
    turned = max((c for c in sign.cases.values() if c.T is not None), key=lambda c: float(c.T.m_as("lbf*ft")))  # type: ignore[union-attr]
    table = cases(sign)
    return [force.C_f, force.F_calc, sign.z_F, Grid(table.title, table.heads, table.rows, quoted=(turned.F,)), turned.T]


def _shared(group: Group) -> list[Any]:
    if group.shifts is None:
        return []
    dx, dz = (v.text() for v in group.shifts)
    return [Remark(SHARED.format(dx=dx, dz=dz))]

"""The seismic sheets: base shear of the rack, and forces on its equipment."""

from __future__ import annotations

import numpy as np

from rackbook.loads.blocks import side_by_side
from rackbook.trace import Check, Grid, Heading, Remark, Sheet, Source, Value, check
from rackbook.trace.columns import entries

from .items import CHAPTER_13, TOGETHER
from .rack import Lateral, Seismic
from .system import System

TITLE = "Seismic loads on the rack"
ITEMS_TITLE = "Seismic forces on equipment"
SHORT = {CHAPTER_13: "Ch. 13", TOGETHER: "Ch. 15"}
LOW_OVERSTRENGTH = "Omega_0 = {Omega_0} is less than rho = {rho}: the combinations with rho govern and are used as E_mh."
TWO_SYSTEMS = (
    "Across the rack a single row of posts has no frame. There it is: {title} ({table}), a nonbuilding structure not similar "
    "to buildings. Across the rack the smaller R of both rows is used, the larger rho, and the larger Omega_0 in both "
    "directions; Omega_0 and C_d of the row across are converted to that R, so that Omega_0 V and C_d delta are those of "
    "its own R."
)
TWISTING = (
    "Twisting: V acts at the center of gravity, displaced by 5 % of the dimension across it, and the frame resists about its "
    "middle. The accidental part is included whether or not the clause permits omitting it. A single row of posts has no depth "
    "across a force along it."
)
USES = (
    "Strength level, to either side. M is the moment of V about grade, h_V = M/V the height of V; with rho or Omega_0 "
    "M grows as V does. E_v = {E_v}, up or down, acts with each. No friction from weight counts against sliding."
)
DIRECTIONS = "Directions together: {} ({})."
ITEM_FORCES = (
    "F_p (Chapter 13, strength level) is for the item's own fastening and the rail behind it: in any horizontal direction at "
    "the item's center (z; h is the height of the rack), with F_v up or down. The frame is designed for V instead, with the "
    "item's weight as part of W; F_p is not added to V. Omega_0 F_p applies to anchors in concrete or masonry only, which no "
    "item here has. Row 'other' is used for conduit, wireway and items without a row of their own."
)
EXEMPT = (
    "13.1.4 exempts electrical components in category B, and in category C with I_p = 1.0; the forces are shown all the same."
)
CERTIFY = (
    "Have the manufacturer certify active equipment that must remain operable by shake table test or experience data, and name "
    "the certificate in the submittal; or set importance to 1.0 where the item is no designated seismic system."
)
NUMBERED = (
    "Equations and clauses are numbered here as in 7-16. 7-22 orders 12.8.1.1 by two methods for C_s and may number anew "
    "there: the equations used are those of a spectrum of two periods; confirm their numbers."
)


def sheets(result: Seismic) -> list[Sheet]:
    """Return the sheets of the seismic loads."""
    parts = [*_site(result), *_system(result), *_shears(result), *_distribution(result), *_effects(result)]
    purpose = "Finds the base shear in both directions, its distribution and its effects."
    rack = Sheet("seismic", TITLE, purpose, tuple(parts))
    if not result.items.by_tag:
        return [rack]
    purpose = "Finds the force on every piece of equipment and on its fasteners."
    return [rack, Sheet("equipment_seismic", ITEMS_TITLE, purpose, tuple(_items(result)))]


def _site(r: Seismic) -> list:
    ground = r.ground
    values = [v for v in (ground.S_1, ground.S_DS, ground.S_D1, ground.T_S) if v is not None]
    said = (
        []
        if ground.S_S is not None
        else [Remark("The design accelerations are those given for the site; no site coefficients are used.")]
    )
    return [
        Heading("Ground motion"),
        Remark(f"By ASCE/SEI {r.edition}. Accelerations are multiples of gravity."),
        *said,
        *values,
        *(Remark(note) for note in ground.notes),
        Heading("Seismic design category"),
        r.category,
        r.I_e,
    ]


def _system(r: Seismic) -> list:
    of, used = r.system, r.systems
    rows = [("along" if used.across else "both", of)]
    parts: list = [
        Heading("System"),
        Remark(
            f"{'Along the rack' if used.across else 'Both directions'}: {of.title} ({of.table}), a nonbuilding structure "
            f"{of.similar}. The engineer's reason (job input): {of.reason or 'none given'}."
        ),
    ]
    if used.across is not None:
        rows.append(("across", used.across))
        parts.append(Remark(TWO_SYSTEMS.format(title=used.across.title, table=used.across.table)))
    letter = r.category.magnitude
    parts += [
        Grid(
            "Systems",
            ("Direction", "Table", "R []", "Omega_0 []", "C_d []", f"Height limit, category {letter}", "Detailing"),
            tuple((way, s.table, s.R, s.Omega_0, s.C_d, _limit(s), s.detailing) for way, s in rows),
            quoted=tuple(v for _, s in rows for v in (s.R, s.Omega_0, s.C_d)),
        ),
        used.R_across,
        used.Omega_0,
        used.C_d_across,
        r.rho,
    ]
    if of.remark:
        parts.append(Remark(f"Table: {of.remark}."))
    return [*parts, *r.checks]


def _limit(of: System) -> str:
    """Return the limit of height as the table prints it."""
    return "none" if of.limit is None else str(of.limit.magnitude) if of.limit.is_word else of.limit.text()


def _shears(r: Seismic) -> list:
    parts: list = [Heading("Base shear"), *(Remark(note) for note in r.notes if note not in r.ground.notes)]
    if r.edition == "7-22":
        parts.append(Remark(NUMBERED))
    same = r.along.V is r.across.V
    for words, of in (("Both directions" if same else "Along the rack", r.along), ("Across the rack", r.across)):
        if same and of is r.across:
            break
        parts += [*([] if same else [Remark(f"{words}:")]), of.V]
    return parts


def _distribution(r: Seismic) -> list:
    same = bool(np.allclose(r.along.F_x.magnitude, r.across.F_x.magnitude, rtol=1e-9))
    both = (("F_x [lbf]", r.along),) if same else (("F_x along [lbf]", r.along), ("F_x across [lbf]", r.across))
    columns = [list(entries(of.F_x, r.labels).values()) for _, of in both]
    rows = tuple(zip(r.labels, *columns, strict=True))
    return [
        Heading("Distribution over the height"),
        Remark(
            "Every part is a mass at its own height above grade, from which the overturning moment counts too; w_x and h_x are "
            "w and z of the sheet Weights and center of gravity."
            + (" The forces are the same along and across the rack." if same else " In full: along the rack.")
        ),
        r.along.k,
        r.along.C_vx,
        side_by_side("Lateral forces F_x = C_vx V", ("Part", *(head for head, _ in both)), rows, 4 if same else 3),
        r.along.M,
    ]


def _effects(r: Seismic) -> list:
    together = "; ".join(
        f"{d.along.m_as('pct'):.0f} % of the force along with {d.across.m_as('pct'):.0f} % of that across" for d in r.directions
    )
    names: tuple[tuple[str, Lateral], ...] = (("Along", r.along), ("Across", r.across))
    summary = tuple((name, of.V, of.E_h, of.E_mh, of.M, of.h_V, of.M_t or "") for name, of in names)
    low = (
        [Remark(LOW_OVERSTRENGTH.format(Omega_0=r.Omega_0.text(), rho=r.rho.text()))]
        if r.Omega_0.magnitude < r.rho.magnitude
        else []
    )
    return [
        Heading("Load effects"),
        r.E_v,
        r.across.E_h,
        r.across.E_mh,
        *low,
        Remark(TWISTING),
        *(m for m in (r.along.M_t, r.across.M_t) if m is not None),
        Heading("Results"),
        Grid(
            "Seismic loads on the rack, carried forward",
            ("Direction", "V [lbf]", "E_h [lbf]", "E_mh [lbf]", "M [lbf*ft]", "h_V [ft]", "M_t [lbf*ft]"),
            summary,
        ),
        Remark(DIRECTIONS.format(together, r.directions[0].clause)),
        Remark(USES.format(E_v=r.E_v.text())),
    ]


def _items(r: Seismic) -> list:
    items = r.items
    assert items.in_full is not None
    rows: tuple[tuple[Value | str, ...], ...] = tuple(
        (i.tag, i.row.replace("_", " "), *i.factors, i.W_p, i.share, i.F_p, i.F_v, SHORT[i.route])
        for i in items.by_tag.values()
    )
    over = [i.tag for i in items.by_tag.values() if i.route == TOGETHER]
    coefficients = ("a_p []", "R_p []") if r.edition == "7-16" else ("C_AR []", "R_po []")
    heads = ("W_p [lbf]", "W_p/W [pct]", "F_p [lbf]", "F_v [lbf]", "Route")
    parts: list = [
        Heading(f"Governing item {items.governing}"),
        items.in_full.F_p,
        items.in_full.F_v,
        Heading("Results: all equipment"),
        Grid(
            "Forces on equipment, carried forward",
            ("Tag", "Row of Table 13.6-1", *coefficients, "I_p []", "z [ft]", *heads),
            rows,
        ),
        Remark(ITEM_FORCES),
        Remark(_route_said(r, over)),
        *_certified(r),
    ]
    if r.category.magnitude in "BC":
        parts.append(Remark(EXEMPT))
    if r.edition == "7-22":
        parts.append(
            Remark(
                "Coefficients of the 7-22 table and of its factors are from memory: confirm each against the adopted edition."
            )
        )
    return parts


def _certified(r: Seismic) -> list[Check]:
    """Return the open check of the certification that active equipment with I_p = 1.5 needs in categories C to F."""
    named = [i for i in r.items.by_tag.values() if i.factors[2].magnitude > 1]
    if not named or r.category.magnitude not in "CDEF":
        return []
    tags = ", ".join(i.tag for i in named)
    source = Source("clause", "ASCE/SEI 7", r.edition[2:], "13.2.2, designated seismic systems", "memory")
    return [check(f"Certification of equipment with I_p above 1.0: {tags}", named[0].factors[2], None, source, remedy=CERTIFY)]


def _route_said(r: Seismic, over: list[str]) -> str:
    limit = r.items.share_limit
    draft = "" if r.edition == "7-16" else ", not in its final text"
    start = (
        f"Route: an item below {limit.text()} of the weight of rack and item is a component of Chapter 13 "
        f"(Ch. 13; {limit.source}{draft})."
    )
    if not over:
        return f"{start} All equipment is below it."
    return (
        f"{start} At or above it (Ch. 15, rack and item together; fasteners for F_p): {', '.join(over)}. Their weight is in "
        "the rack's own distribution, and their stiffness belongs in the frame model."
    )

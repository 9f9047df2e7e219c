"""The seismic sheets: base shear of the rack, and forces on its equipment."""

from __future__ import annotations

from rackbook.trace import Grid, Heading, Remark, Sheet, Value

from ..columns import entries, lined_up
from ..weights import Weights
from ..weights.sheet import TITLE as WEIGHTS_TITLE
from .items import TOGETHER
from .rack import Lateral, Seismic

TITLE = "Seismic loads on the rack"
ITEMS_TITLE = "Seismic forces on equipment"


def sheets(result: Seismic, weights: Weights | None = None, si: bool = False) -> list[Sheet]:
    """Return the sheets of the seismic loads; values of the weights' sheet are quoted, not derived again."""
    quoted = {id(v): WEIGHTS_TITLE for v in (weights.W, weights.e_x, weights.e_y)} if weights is not None else {}
    parts = [*_site(result), *_system(result), *_shears(result), *_distribution(result), *_effects(result)]
    purpose = "Finds the base shear in both directions, its distribution and its effects."
    rack = Sheet("seismic", TITLE, purpose, tuple(parts), quoted, si)
    if not result.items.by_tag:
        return [rack]
    system = result.system
    periods = (v for v in (result.along.shear.T, result.across.shear.T) if v is not None)
    shown = {id(v): TITLE for v in (result.ground.S_DS, result.I_e, result.W, system.R, system.Omega_0, *periods)}
    purpose = "Finds the force on every piece of equipment and on its fasteners."
    return [rack, Sheet("equipment_seismic", ITEMS_TITLE, purpose, tuple(_items(result)), {**quoted, **shown}, si)]


def _site(r: Seismic) -> list:
    ground = r.ground
    values = [v for v in (ground.T_S, ground.S_DS, ground.S_D1, ground.S_1) if v is not None]
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
    of = r.system
    parts: list = [
        Heading("System"),
        Remark(f"Taken for: {of.title} ({of.table}). The engineer's reason: {of.reason or 'none given'}."),
        of.R,
        of.Omega_0,
        of.C_d,
        r.rho,
    ]
    if of.remark:
        parts.append(Remark(f"Table: {of.remark}."))
    if of.check is not None:
        parts.append(of.check)
    elif of.limit is not None:
        parts.append(Remark(f"The table sets no limit of height for this system in category {r.category.magnitude} (NL)."))
    parts += [c for c in r.checks if c is not of.check]
    return parts


def _shears(r: Seismic) -> list:
    parts: list = [Heading("Base shear"), Remark("Effective seismic weight: " + r.W.text() + ".")]
    same = r.along.shear.T is r.across.shear.T
    for words, of in (("Both directions" if same else "Along the rack", r.along), ("Across the rack", r.across)):
        if same and of is r.across:
            break
        parts.append(Remark(f"{words}:"))
        parts.append(of.V)
    return parts + [Remark(note) for note in r.notes if note not in r.ground.notes]


def _distribution(r: Seismic) -> list:
    of = zip(
        r.labels, lined_up(r.w_x), lined_up(r.h_x), _entries(r.along.F_x, r), _entries(r.across.F_x, r), strict=True
    )  # fmt: skip
    rows = tuple(of)
    return [
        Heading("Distribution over the height"),
        Remark("Every part is a mass at its own height above grade; heights and the overturning moment count from grade."),
        Grid("Lateral forces", ("Part", "w_x [lbf]", "h_x [ft]", "F_x along [lbf]", "F_x across [lbf]"), rows),
        r.along.k,
        r.along.F_x,
        r.along.M,
        r.along.h_V,
        r.across.M,
    ]


def _effects(r: Seismic) -> list:
    rows = tuple((d.along, d.across, d.clause) for d in r.directions)
    names: tuple[tuple[str, Lateral], ...] = (("Along", r.along), ("Across", r.across))
    summary = tuple((name, of.V, of.E_h, of.E_mh, of.M, of.h_V, of.M_t or "") for name, of in names)
    return [
        Heading("Load effects"),
        r.E_v,
        r.across.E_h,
        r.across.E_mh,
        *(m for m in (r.along.M_t, r.across.M_t) if m is not None),
        Grid(
            "Loads by direction",
            ("Direction", "V [lbf]", "E_h [lbf]", "E_mh [lbf]", "M at grade [lbf*ft]", "h_V [ft]", "M_t [lbf*ft]"),
            summary,
        ),
        Grid("Directions together", ("Along", "Across", "Clause"), rows),
        Remark(
            "The 30 % rule is taken for every rack from category C on: its posts resist both directions. Twisting: the base "
            "shear acts at the center of gravity, the frame resists about its middle."
        ),
    ]


def _items(r: Seismic) -> list:
    items = r.items
    assert items.in_full is not None
    rows = tuple((i.tag, i.row, i.W_p, i.share, i.F_p, i.F_v, i.F_anchor, i.route) for i in items.by_tag.values())
    over = [i.tag for i in items.by_tag.values() if i.route == TOGETHER]
    parts: list = [
        Heading(f"Governing item {items.governing}"),
        items.in_full.F_p,
        items.in_full.F_v,
        items.in_full.F_anchor,
        Heading("All equipment"),
        Grid(
            "Forces on equipment",
            (
                "Tag",
                "Row of Table 13.6-1",
                "W_p [lbf]",
                "W_p/W [pct]",
                "F_p [lbf]",
                "F_v [lbf]",
                "Anchors in concrete [lbf]",
                "Route",
            ),
            rows,
        ),
        Remark(
            "F_p acts in any horizontal direction at the item's center with F_v up or down; the force with overstrength is "
            "for anchors in concrete or masonry only, not for bolts into the steel of the rack. z is the item's center, h "
            "the height of the rack."
        ),
        Remark(_route_said(r, over)),
        Remark(
            "13.1.4 exempts electrical components in category B, and in category C with I_p = 1.0; the forces are shown all "
            "the same. Conduit and wireway rows of the table are not carried: 'other' is taken for them."
        ),
    ]
    if r.edition == "7-22":
        parts.append(
            Remark(
                "Coefficients of the 7-22 table and of its factors are from memory: confirm each against the adopted edition."
            )
        )
    return parts


def _route_said(r: Seismic, over: list[str]) -> str:
    limit = r.items.share_limit
    draft = "" if r.edition == "7-16" else ", a limit read in the draft of 7-22 for public comment, not in its final text"
    start = f"An item below {limit.text()} of the weight of rack and item is a component of Chapter 13 ({limit.source}{draft})."
    if not over:
        return f"{start} All equipment is below it."
    return (
        f"{start} At or above it: {', '.join(over)}. Their weight is in the rack's own distribution, and their stiffness "
        "belongs in the frame model."
    )


def _entries(of: Value, r: Seismic) -> list[Value]:
    return list(entries(of, r.labels).values())

"""The sheets of the foundations: soil, concrete, and the layout for the foundation designer."""

from __future__ import annotations

from collections.abc import Sequence

from rackbook.trace import Check, Grid, Heading, Remark, Sheet, Value
from rackbook.trace.check import utilization
from rackbook.trace.columns import entries
from rackbook.trace.sheet import Part

from ..frame import FromFrame
from .bars import BAR
from .layout import Envelope
from .rack import Piers

TITLES = {
    True: "Footings against the soil",
    False: "Piers against the soil",
}
DEMANDS = "Allowable-stress combinations: reactions of the frame at the underside of the base plates, second order included."
STRENGTH = "Strength combinations."
SLAB = (
    "Strength combinations. The largest pressure acts everywhere, no weight deducted, but no more than the whole load at "
    "the edge. The job has no bars of footings: the steel below is what the drawing has to show."
)
#: Headings of the results, and the starts of the names of the checks under each.
FOOTING_CHECKS = (
    ("Stability", ("Turning", "Sliding", "Lateral load")),
    ("Pressure, depth and spacing", ("Bearing", "Depth of the footings against", "Spacing", "Ground water", "Soil under")),
    (
        "Slab along x",
        ("Depth of the footings to", "Bottom steel of the footings along x", "One-way shear of the footings along x"),
    ),
    ("Slab along y, and around the pier", ("Bottom steel", "One-way", "Two-way")),
)
CONCRETE_CHECKS = (
    ("Strength", ("Axial", "Shear")),
    (
        "Torsion, bars and ties",
        (
            "Torsion",
            "Minimum area",
            "Maximum area",
            "Clear",
            "Concrete cover",
            "Bars of the piers",
            "Size of ties",
            "Spacing of ties",
            "Ties of the piers",
            "Ties around",
        ),
    ),
    ("Seismic detailing", ("Vertical bars", "Tie s", "Confin")),
    ("Durability", ("Concrete strength for",)),
)
STANDING = (
    "Stability by the basic allowable-stress combinations: 0.6 D against 0.6 W or 0.7 E, with no further factor. Each axis "
    "takes moment and shear times height in one sense. Soil beside pier and footing is not counted against turning over."
)


def sheets(result: Piers) -> list[Sheet]:
    """Return the sheets of the foundations."""
    on_footing = result.spread is not None
    soil = Sheet("piers", TITLES[on_footing], _purpose(on_footing), tuple(_spread(result) if on_footing else _drilled(result)))
    made = [soil]
    parts = _concrete(result)
    if parts:
        made.append(
            Sheet("pier_concrete", "Concrete of the piers", "Checks the concrete, bars and ties of the piers.", tuple(parts))
        )
    layout = Sheet("pier_layout", "Pier layout", "Lists every pier with the reactions on it.", tuple(_layout(result)))
    return [*made, layout]


def _purpose(on_footing: bool) -> str:
    if on_footing:
        return "Checks stability of the footings, the pressure under them, and the slab."
    return "Checks depth under lateral load, bearing and uplift of the piers."


def _soil(r: Piers) -> list:
    parts: list = [Heading("Soil"), *(Remark(note) for note in r.soil_notes)]
    if r.ground is not None:
        g = r.ground
        parts += [v for v in (g.q_a, g.S_short, g.S, g.mu, g.c, g.f_s, g.gamma_s, g.frost, g.water, g.group) if v is not None]
    return parts


def _told(checks: Sequence[Check], groups: Sequence[tuple[str, tuple[str, ...]]], frame: FromFrame) -> list:
    """Return checks under headings, by the starts of their names: in short runs each of them is derived."""
    left, parts = list(checks), list[Part]()
    for title, starts in groups:
        run = [c for c in left if c.name.startswith(starts)]
        left = [c for c in left if c not in run]
        parts += [Heading(title), *frame.judged(f"{title}: reactions", run)] if run else []
    return [*parts, Heading("Further"), *frame.judged("Reactions", left)] if left else parts


def _checks(r: Piers, *starts: str) -> list[Check]:
    return [c for c in r.soil_checks if c.name.startswith(starts)]


def _drilled(r: Piers) -> list:
    parts = [*_soil(r), Heading("Piers"), r.pier.W_p]
    if r.drilled is None:
        return [*parts, *r.soil_checks]
    frame = FromFrame()
    found = [*_lateral(r, frame), *_bearing(r, frame), *_uplift(r, frame)]
    return [*parts, *found, *_site(r)]


def _site(r: Piers) -> list:
    """Return frost, ground water, spacing and restraint."""
    return [
        Heading("Frost, ground water, spacing"),
        *_checks(r, "Depth", "Ground water", "Soil under", "Spacing", "Pier spacing", "Lateral group", "Restraint of single"),
    ]


def _lateral(r: Piers, frame: FromFrame) -> list:
    assert r.drilled is not None
    found = [(placed.label, of) for placed, of in zip(r.layout, r.drilled.lateral, strict=True) if of is not None]
    if not found:
        return [Heading("Lateral load"), Remark("No combination pushes a base sideways.")]
    _, worst = max(found, key=lambda of: float(of[1].d_req.magnitude))
    rows = tuple((label, of.P, of.M_g, of.d_req, utilization(D=of.d_req, C=r.pier.D), of.combination) for label, of in found)
    return [
        Heading("Lateral load"),
        Remark(f"{DEMANDS} Governs: {worst.combination}."),
        *frame.judged("Lateral load: reactions", _checks(r, "Embedment", "Restraint of the piers")),
        Grid(
            "Depth at every base, each by its own combination",
            ("Base", "P [kip]", "M_g [kip*ft]", "d_req [ft]", "d_req/D []", "By"),
            rows,
        ),
    ]


def _bearing(r: Piers, frame: FromFrame) -> list:
    assert r.drilled is not None
    assert r.ground is not None
    q_a = r.ground.q_a
    rows = tuple((at.label, q, utilization(D=q, C=q_a), by) for at, (q, by) in zip(r.layout, r.drilled.q, strict=True))
    return [
        Heading("Bearing"),
        *frame.judged("Bearing: reactions", _checks(r, "Bearing")),
        Grid("Pressure at every base", ("Base", "q [psf]", "q/q_a []", "By"), rows),
    ]


def _uplift(r: Piers, frame: FromFrame) -> list:
    assert r.drilled is not None
    rows = tuple(
        (placed.label, found[0], found[1], utilization(D=found[0], C=found[1]), found[2])
        for placed, found in zip(r.layout, r.drilled.U, strict=True)
        if found is not None
    )
    if not rows:
        return [Heading("Uplift"), Remark("No combination lifts a base.")]
    return [
        Heading("Uplift"),
        *frame.judged("Uplift: reactions", _checks(r, "Uplift")),
        Grid("Uplift of the frame at its bases", ("Base", "U [kip]", "R_u [kip]", "U/R_u []", "By"), rows),
    ]


def _spread(r: Piers) -> list:
    of, frame = r.spread, FromFrame()
    assert of is not None
    parts = [*_soil(r), Heading("Footings"), Remark(STANDING), of.W_f, of.W_o]
    if of.bearing is not None:
        standing, found = of.bearing
        parts += [
            Heading("Pressure"), Remark(DEMANDS), Remark(f"Governs: {standing.combination}."),
            *frame.behind("Pressure: reactions", found.q_max, found.q_min, of.q_net),
        ]  # fmt: skip
    if of.slab is not None:
        parts += [Heading("Slab"), Remark(SLAB), of.slab.d]
        for strip in of.slab.strips:
            parts.append(Remark(f"Along {strip.way} governs: {strip.standing.combination}."))
            parts += frame.behind(f"Slab along {strip.way}: reactions", strip.A_s)
        if of.slab.A_top is not None:
            parts.append(Remark("Where the underside leaves the ground the slab hangs: steel at its top."))
            parts += frame.behind("Slab that hangs: reactions", of.slab.A_top)
    return [*parts, *_told(r.soil_checks, FOOTING_CHECKS, frame)]


def _concrete(r: Piers) -> list:
    if r.column is None:
        return list(r.concrete_checks)
    of, frame = r.column, FromFrame()
    acting, _ = of.by_base[of.worst]
    parts: list = [Remark(note) for note in r.concrete_notes]
    parts += [Heading("Moment and shear"), Remark(f"{STRENGTH} Governs the section: {acting.combination}.")]
    parts += frame.behind("Moment and shear: reactions", acting.P_u, acting.M_u, acting.z_M, acting.V_u)
    parts += [Heading("Section"), of.b_e, of.strength.A_g, of.strength.P_max]
    if of.state is not None:
        s = of.state
        parts += [Heading("Axial force and moment"), s.M_d, s.P_d]
        labels = tuple(str(n) for n in range(1, of.section.count + 1))
        y, F = (entries(v, labels) for v in (s.y, s.F_s))
        parts.append(Grid("Bars at that state", ("Bar", "y [in]", "F_s [kip]"), tuple((n, y[n], F[n]) for n in labels)))
    rows = tuple((r.layout[a.base].label, a.P_u, a.M_u, M_d, a.V_u, a.combination) for a, M_d in of.by_base)
    parts.append(
        Grid(
            "Section at every base, each by its own combination",
            ("Base", "P_u [kip]", "M_u [kip*ft]", "M_d [kip*ft]", "V_u [kip]", "By"),
            rows,
        )
    )
    sheared, shear = of.shear
    parts += [Heading("Shear"), Remark(f"Governs: {sheared.combination}."), *frame.behind("Shear: reactions", shear.V_d)]
    parts.append(Grid("Combinations of the checks that rest on loads", ("Check", "Combination"), of.governing))
    return [*parts, *_told(r.concrete_checks, CONCRETE_CHECKS, frame), *_durable(r)]


def _durable(r: Piers) -> list:
    """Return what the exposure asks for beside strength, for the mix."""
    of = r.durability
    if of is None:
        return []
    asked = [v for v in (of.w_cm, of.air) if v is not None]
    words = (
        f"Exposure classes {of.classes} (ACI 318-19, Table 19.3.1.1). For the concrete mix, by Tables 19.3.2.1 and 19.3.3.1:"
    )
    return [Remark(words), *asked] if asked else []


def _layout(r: Piers) -> list:
    p = r.pier
    places = tuple((at.label, at.x, at.y, r.size, p.e, p.D, r.bars, r.ties) for at in r.layout)
    parts: list = [
        Remark(
            "x from the left post line to the right, y from the post plane to the front; top and base from finished grade. "
            "Reactions act at the underside of the base plates; V and M are of both axes together, and the largest of each "
            "column, not of one combination. P is down; less than 0 is uplift."
        ),
        Grid(
            "Piers",
            ("Base", "x [ft]", "y [ft]", "Size", "Above grade [in]", "Below grade [ft]", "Bars", "Ties"),
            places,
        ),
        Remark(_made_of(r)),
        _reactions("Reactions, strength combinations", r, "strength"),
        _reactions("Reactions, allowable-stress combinations", r, "allowable"),
        Heading("Concrete"),
        p.V_t,
    ]
    if r.spread is not None:
        parts.append(r.spread.V_t)
    return parts


def _made_of(r: Piers) -> str:
    if r.column is None:
        return "Concrete and bars are not given."
    of = r.column.section
    return f"Concrete f_c' = {of.f_c_prime.text()}, bars {BAR}, cover {r.cover.text()} to the ties; ties closed."


def _reactions(title: str, r: Piers, level: str) -> Grid:
    heads = ("Base", "P max [kip]", "P min [kip]", "V max [kip]", "M max [kip*ft]")
    rows: list[tuple[Value | str, ...]] = []
    for at in r.layout:
        of: Envelope = getattr(at, level)
        rows.append((at.label, of.P_max, of.P_min, of.V_max, of.M_max))
    return Grid(title, heads, tuple(rows))

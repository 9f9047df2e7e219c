"""The sheets of the foundations: soil, concrete, and the layout for the foundation designer."""

from __future__ import annotations

from collections.abc import Sequence

from rackbook.trace import Check, Grid, Heading, Remark, Sheet, Value
from rackbook.trace.check import utilization
from rackbook.trace.columns import entries
from rackbook.trace.sheet import Part, matters

from ..frame import FromFrame
from .bars import BAR
from .layout import Envelope, Placed
from .rack import Piers

TITLES = {
    True: "Footings against the soil",
    False: "Piers against the soil",
}
DEMANDS = "Allowable-stress combinations, reactions at the underside of the base plates, second order included."
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
#: Starts of the names of the checks of strength of a pier's concrete; the others are of bars, ties and the mix.
STRENGTHS = ("Axial", "Shear", "Torsion")
DETAILS = "Bars, ties and durability"
NONE = "–"
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
    parts: list = [Heading("Soil"), *_paragraphs(r.soil_notes)]
    if r.ground is not None:
        g = r.ground
        # what a footing does not slide on, a shaft does not use
        sliding = (g.mu, g.c) if r.spread is not None else ()
        known = (g.frost, g.water, g.group, g.gamma_s, g.f_s, g.q_a, g.S_short, g.S, *sliding)
        parts += [v for v in known if v is not None]
    return parts


def _paragraphs(notes: Sequence[str]) -> list[Remark]:
    """Return notes in two paragraphs."""
    half = (len(notes) + 1) // 2
    return [Remark(" ".join(of)) for of in (notes[:half], notes[half:]) if of]


def _told(checks: Sequence[Check], groups: Sequence[tuple[str, tuple[str, ...]]], frame: FromFrame) -> list:
    """Return checks under headings, by the starts of their names: in short runs each of them is derived."""
    left, parts = list(checks), list[Part]()
    for title, starts in groups:
        run = [c for c in left if c.name.startswith(starts)]
        left = [c for c in left if c not in run]
        parts += [Heading(title), *frame.judged(f"{title}: reactions", run)] if run else []
    return [*parts, Heading("Further"), *frame.judged("Reactions", left)] if left else parts


def _drilled(r: Piers) -> list:
    """Return the drilled piers: what governs in full, every base in one table, all checks in one."""
    parts = [*_soil(r), Heading("Piers"), r.pier.W_p]
    if r.drilled is None:
        return [*parts, *r.soil_checks]
    frame = FromFrame()
    restraint = [c.demand for c in r.soil_checks if c.ratio is None and c.name.startswith("Restraint")]
    return [
        *parts,
        *_lateral(r, frame),
        *_bearing(r, frame),
        *_uplift(r, frame),
        Grid(
            "Every base, each number by its own combination",
            ("Base", "P [kip]", "M_g [kip*ft]", "d_req [ft]", "d_req/D []", "q [psf]", "q/q_a []", "U [kip]", "U/R_u []"),
            tuple(_at_base(r, base) for base in range(len(r.layout))),
        ),
        Heading("Results"),
        *frame.behind("Restraint: reactions", *restraint),
        *frame.judged("Results: reactions", r.soil_checks),
    ]


def _at_base(r: Piers, base: int) -> tuple[Value | str, ...]:
    """Return lateral load with the depth it needs, pressure and uplift at a base."""
    assert r.drilled is not None
    assert r.ground is not None
    of, (q, _), lifted = r.drilled.lateral[base], r.drilled.q[base], r.drilled.U[base]
    pushed = (of.P, of.M_g, of.d_req, utilization(D=of.d_req, C=r.pier.D)) if of is not None else (NONE,) * 4
    pulled = (lifted[0], utilization(D=lifted[0], C=lifted[1])) if lifted is not None else (NONE,) * 2
    return (r.layout[base].label, *pushed, q, utilization(D=q, C=r.ground.q_a), *pulled)


def _tells(of: Sequence[Check], start: str) -> bool:
    """Return whether the check whose name starts so is derived beside the largest ratio, or has none."""
    used = [float(c.ratio.magnitude) for c in of if c.ratio is not None]
    mine = [c.ratio for c in of if c.name.startswith(start)]
    return any(ratio is None or matters(float(ratio.magnitude), max(used)) for ratio in mine)


def _lateral(r: Piers, frame: FromFrame) -> list:
    assert r.drilled is not None
    found = [of for of in r.drilled.lateral if of is not None]
    if not found:
        return [Heading("Lateral load"), Remark("No combination pushes a base sideways.")]
    worst = max(found, key=lambda of: float(of.d_req.magnitude))
    said = Remark(f"{DEMANDS} Governs: {worst.combination}.")
    return [Heading("Lateral load"), said, *frame.behind("Lateral load: reactions", worst.d_req)]


def _bearing(r: Piers, frame: FromFrame) -> list:
    assert r.drilled is not None
    if not _tells(r.soil_checks, "Bearing"):
        return []
    q, by = max(r.drilled.q, key=lambda of: of[0].m_as("psf"))
    return [Heading("Bearing"), Remark(f"Governs: {by}."), *frame.behind("Bearing: reactions", q)]


def _uplift(r: Piers, frame: FromFrame) -> list:
    assert r.drilled is not None
    if not _tells(r.soil_checks, "Uplift"):
        return []
    (of,) = [c for c in r.soil_checks if c.name.startswith("Uplift")]
    return [Heading("Uplift"), *frame.behind("Uplift: reactions", of.demand, of.capacity)]


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
    sheared, shear = of.shear
    strong = [c for c in r.concrete_checks if c.name.startswith(STRENGTHS)]
    details = [c for c in r.concrete_checks if c not in strong]
    in_shear = _tells(strong, "Shear")
    parts: list = [
        *_paragraphs(r.concrete_notes),
        Heading("Axial force and moment"),
        Remark(f"Strength combinations. Governs: {acting.combination}."),
        *frame.behind("Axial force and moment: reactions", acting.P_u, acting.M_u),
        of.b_e,
        of.strength.A_g,
        *([of.strength.P_max] if _tells(strong, "Axial compression") else []),
    ]
    if of.state is not None:
        parts += [of.state.M_d, of.state.P_d, _bars(r)]
    rows = tuple((r.layout[a.base].label, a.P_u, a.M_u, M_d, utilization(D=a.M_u, C=M_d)) for a, M_d in of.by_base)
    heads = ("Base", "P_u [kip]", "M_u [kip*ft]", "M_d [kip*ft]", "M_u/M_d []")
    parts.append(Grid("Section at every base, each by its own combination", heads, rows))
    if in_shear:
        parts += [
            Heading("Shear"),
            Remark(f"Governs: {sheared.combination}."),
            *frame.behind("Shear: reactions", sheared.V_u, shear.V_d),
        ]
    else:
        tied = shear.V_s if shear.V_s is not None else NONE
        parts.append(
            Grid(
                "Shear where it governs",
                ("Base", "N_u [kip]", "V_u [kip]", "V_c [kip]", "V_s [kip]", "V_d [kip]", "By"),
                ((r.layout[sheared.base].label, sheared.P_u, sheared.V_u, shear.V_c, tied, shear.V_d, sheared.combination),),
            )
        )
    others = tuple(row for row in of.governing if not row[0].startswith(("Axial force", "Shear")))
    parts += [Heading("Strength"), *frame.judged("Strength: reactions", strong)]
    parts += [Remark(" ".join(f"{name}: {by}." for name, by in others))] if others else []
    confined = [v for c in details if c.name.startswith("Confinement") for v in (c.demand, c.capacity) if v is not None]
    return [*parts, Heading(DETAILS), *confined, *frame.judged(f"{DETAILS}: reactions", details), *_durable(r)]


def _bars(r: Piers) -> Grid:
    """Return height and force of the bars at the state of the section; those at one height together."""
    assert r.column is not None
    assert r.column.state is not None
    labels = tuple(str(n) for n in range(1, r.column.section.count + 1))
    y, F = (entries(v, labels) for v in (r.column.state.y, r.column.state.F_s))
    level: dict[float, list[str]] = {}
    for n in labels:
        level.setdefault(round(y[n].m_as("in"), 6) + 0.0, []).append(n)
    rows = tuple((", ".join(of), y[of[0]], F[of[0]]) for _, of in sorted(level.items(), reverse=True))
    return Grid("Bars at that state, force of each", ("Bars", "y [in]", "F_s [kip]"), rows)


def _durable(r: Piers) -> list:
    """Return what the exposure asks for, for the mix."""
    of = r.durability
    if of is None:
        return []
    title = f"Concrete mix for exposure {of.classes} (ACI 318-19, 19.3)"
    row = (of.f_c_min, *(v if v is not None else NONE for v in (of.w_cm, of.air)))
    return [Grid(title, ("Minimum strength [psi]", "Maximum w/cm []", "Air [pct]"), (row,))]


def _layout(r: Piers) -> list:
    p = r.pier
    parts: list = [
        Remark(
            f"All piers alike: {r.size}, {p.e.text()} above and {p.D.text()} below grade, bars {r.bars}, ties {r.ties}. "
            f"{_made_of(r)}"
        ),
        Remark(
            "x from the left post line to the right, y from the post plane to the front. Reactions act at the underside of the "
            "base plates: the extreme of each column, not of one combination; V and M are resultants of both axes; P is down, "
            "less than 0 uplift."
        ),
        Grid(
            "Piers and reactions",
            ("Base", "x [ft]", "y [ft]", "Combinations", "P max [kip]", "P min [kip]", "V max [kip]", "M max [kip*ft]"),
            tuple(row for at in r.layout for row in (_reactions(at, "strength"), _reactions(at, "allowable"))),
        ),
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


def _reactions(at: Placed, level: str) -> tuple[Value | str, ...]:
    """Return a pier's place and its largest reactions at a level."""
    of: Envelope = getattr(at, level)
    words = "strength" if level == "strength" else "allowable stress"
    return (at.label, at.x, at.y, words, of.P_max, of.P_min, of.V_max, of.M_max)

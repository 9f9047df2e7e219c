"""The sheets of the foundations: soil, concrete, and the layout for the foundation designer."""

from __future__ import annotations

from rackbook.trace import Grid, Heading, Remark, Sheet, Value
from rackbook.trace.check import utilization
from rackbook.trace.columns import entries

from .bars import BAR
from .drilled import Lateral
from .layout import Envelope
from .rack import Piers

TITLES = {
    True: "Footings against the soil",
    False: "Piers against the soil",
}
DEMANDS = "Allowable-stress combinations: reactions of the frame at the underside of the base plates, second order included."
STRENGTH = "Strength combinations."
SLAB = (
    "Strength combinations. The largest pressure is taken everywhere, no weight taken off, but no more than the whole load at "
    "the edge. The job has no bars of footings: the steel below is what the drawing has to show."
)
STANDING = (
    "Stability by the basic allowable-stress combinations: 0.6 D against 0.6 W or 0.7 E, with no further factor. Each axis "
    "takes moment and shear times height in one sense."
)


def sheets(result: Piers) -> list[Sheet]:
    """Return the sheets of the foundations."""
    on_footing = result.spread is not None
    soil = Sheet("piers", TITLES[on_footing], _purpose(on_footing), tuple(_spread(result) if on_footing else _drilled(result)))
    made = [soil]
    parts = _concrete(result)
    if parts:
        made.append(Sheet("pier_concrete", "Concrete of the piers", "Finds the strength of the piers' section.", tuple(parts)))
    layout = Sheet("pier_layout", "Pier layout", "Lists every pier with the reactions on it.", tuple(_layout(result)))
    return [*made, layout]


def _purpose(on_footing: bool) -> str:
    if on_footing:
        return "Finds whether the footings stand, and the pressure under them; then the slab."
    return "Finds the depth that carries the lateral load, the pressure under the piers and their hold against uplift."


def _soil(r: Piers) -> list:
    parts: list = [Heading("Soil"), *(Remark(note) for note in r.soil_notes)]
    if r.ground is not None:
        g = r.ground
        parts += [v for v in (g.q_a, g.S_short, g.S, g.mu, g.c, g.f_s, g.gamma_s, g.frost) if v is not None]
    return parts


def _drilled(r: Piers) -> list:
    parts = [*_soil(r), Heading("Piers"), r.pier.W_p]
    if r.drilled is None:
        return [*parts, *r.soil_checks]
    of = r.drilled
    rows = []
    for placed, lateral, (q, combination) in zip(r.layout, of.lateral, of.q, strict=True):
        if lateral is not None:
            rows.append((placed.label, lateral.P, lateral.M_g, lateral.d_req, utilization(D=lateral.d_req, C=r.pier.D),
                         lateral.combination, q, utilization(D=q, C=r.ground.q_a), combination))  # type: ignore[union-attr]  # fmt: skip
    worst = max((x for x in of.lateral if x is not None), key=lambda x: float(x.d_req.magnitude), default=None)
    if worst is not None:
        parts += [Heading("Lateral load"), Remark(DEMANDS), *_lateral(worst)]
    if rows:
        parts.append(
            Grid(
                "Depth and bearing at every base, each by its own combination",
                (
                    "Base",
                    "P [lbf]",
                    "M_g [lbf*ft]",
                    "d_req [ft]",
                    "d_req/D []",
                    "Lateral by",
                    "q [psf]",
                    "q/q_a []",
                    "Bearing by",
                ),
                tuple(rows),
            )
        )
    parts += _uplift(r)
    return [*parts, Heading("Results"), *r.soil_checks]


def _lateral(of: Lateral) -> list:
    return [Remark(f"Governs: {of.combination}."), of.d_req, *([of.R_g] if of.R_g is not None else [])]


def _uplift(r: Piers) -> list:
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
        Grid("Uplift of the frame at its bases", ("Base", "U [lbf]", "R_u [lbf]", "U/R_u []", "By"), rows),
    ]


def _spread(r: Piers) -> list:
    of = r.spread
    assert of is not None
    parts = [*_soil(r), Heading("Footings"), Remark(STANDING), of.W_f, of.W_o]
    if of.bearing is not None:
        standing, found = of.bearing
        parts += [
            Heading("Pressure"), Remark(DEMANDS), Remark(f"Governs: {standing.combination}."), found.q_max,
            *([found.q_min] if found.q_min is not None else []), *([of.q_net] if of.q_net is not None else []),
        ]  # fmt: skip
    if of.slab is not None:
        parts += [Heading("Slab"), Remark(SLAB), of.slab.d]
        for strip in of.slab.strips:
            parts += [Remark(f"Along {strip.way} governs: {strip.standing.combination}."), strip.A_s]
        if of.slab.A_top is not None:
            parts += [Remark("Where the underside leaves the ground the slab hangs: steel at its top."), of.slab.A_top]
    return [*parts, Heading("Results"), *r.soil_checks]


def _concrete(r: Piers) -> list:
    if r.column is None:
        return list(r.concrete_checks)
    of = r.column
    acting, _ = of.by_base[of.worst]
    parts: list = [Remark(note) for note in r.concrete_notes]
    parts += [Heading("Moment and shear"), Remark(f"{STRENGTH} Governs the section: {acting.combination}."), acting.P_u]
    parts += [acting.M_u, *([acting.z_M] if acting.z_M is not None else []), acting.V_u]
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
    parts += [Heading("Shear"), Remark(f"Governs: {sheared.combination}."), shear.V_d]
    return [*parts, Heading("Results"), *r.concrete_checks]


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
    return (
        f"Concrete f_c' = {of.f_c_prime.text()}, bars {BAR}, cover {r.cover.text()} to the ties; ties closed. At the top of "
        "every pier, within 5 in.: two #4 or three #3 around the anchors."
    )


def _reactions(title: str, r: Piers, level: str) -> Grid:
    heads = ("Base", "P max [kip]", "P min [kip]", "V max [kip]", "M max [kip*ft]")
    rows: list[tuple[Value | str, ...]] = []
    for at in r.layout:
        of: Envelope = getattr(at, level)
        rows.append((at.label, of.P_max, of.P_min, of.V_max, of.M_max))
    return Grid(title, heads, tuple(rows))

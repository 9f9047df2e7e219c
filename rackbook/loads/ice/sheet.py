"""The ice sheet: thickness and weight of the part with the most ice in full, the others tabulated; wind on ice."""

from __future__ import annotations

from rackbook.loads.blocks import side_by_side
from rackbook.loads.wind.tables import alike, carried, cases, factors, largest_part, of_part
from rackbook.trace import Grid, Heading, Remark, Sheet
from rackbook.trace.columns import entries
from rackbook.trace.sheet import Part

from .rack import Ice

LEVEL = {
    "7-16": "The nominal thickness is that of the 500-year map, to which the importance factor belongs.",
    "7-22": "The nominal thickness is that mapped for the risk category; there is no importance factor.",
}
PURPOSE = "Finds the weight of the ice on every part, and the wind on the ice-covered rack."
USES = (
    "Strength level; factors by 2.3.4 or 2.4.3. D_i is the sum of w_i, each at the center of gravity of "
    "its part (sheet Weights and center of gravity); W_i is in place of the wind, never added to it."
)


def sheets(result: Ice | None) -> list[Sheet]:
    """Return the sheet of the ice; none where the job gives no ice."""
    if result is None:
        return []
    parts: tuple[Part, ...] = (*_weight(result), *_wind(result), *_results(result))
    return [Sheet("ice", "Ice loads", PURPOSE, parts)]


def _weight(r: Ice) -> list[Part]:
    bodies, scope, _ = r.notes
    most = r.labels.index(r.governing)
    thick, at = entries(r.t_d, r.labels), {p.label: p for p in r.parts}
    rows = tuple((label, thick[label], at[label].w) for label in r.labels)
    return [
        Heading("Ice on the parts"),
        Remark(f"By ASCE/SEI {r.edition}. {LEVEL[r.edition]}"),
        Remark(bodies),
        Remark(scope),
        Remark(f"In full for {r.governing}, which carries the most ice."),
        r.parts[most].w,
        side_by_side("Ice on every part", ("Part", "t_d [in]", "w_i [lbf]"), rows, 3),
    ]


def _wind(r: Ice) -> list[Part]:
    governing, at = r.wind.governing, r.wind.conditions
    group = max(governing.groups, key=lambda g: float(g.F.magnitude.max()))
    place, tag = largest_part(group)
    said = max(alike(r.wind).items(), key=lambda pair: float(pair[1].M.m_as("lbf*ft")))[0]
    if group.sign is None:
        A, z, C_f = (of_part(v, place, tag) for v in (group.A, group.z, group.C_f))
        own = at.force(at.q(z, at.K_d), C_f, A, at.K_d)
        shown: list[Part] = [Remark(f"Wind {said}, in full for {tag}, which has the largest force."), own.F]
    else:
        shown = [
            Remark(f"Wind {said}: the panel with its ice is a solid sign; cases and factors as on the sheet Wind loads."),
            cases(group.sign),
        ]
    return [
        Heading("Wind on ice"),
        Remark(
            "As on the sheet Wind loads, with the gust V_c that goes with the ice, on parts thicker by t_d on every free edge "
            "(10.5)."
        ),
        r.V_c,
        Remark(r.notes[2]),
        *shown,
        factors(r.wind, "Factors of every group of parts, with ice"),
    ]


def _results(r: Ice) -> list[Part]:
    heads = ("D_i [lbf]", "x_bar [ft]", "y_bar [in]", "z_bar [ft]")
    return [
        Heading("Results"),
        Grid("Ice on the rack and its center, carried forward", heads, ((r.D_i, r.x_bar, r.y_bar, r.z_bar),)),
        carried(r.wind, "Wind on ice, carried forward"),
        Remark(USES),
    ]

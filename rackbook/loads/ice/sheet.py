"""The ice sheet: thickness and weight of the part with the most ice in full, the others tabulated; wind on ice."""

from __future__ import annotations

from rackbook.loads.wind.tables import FACTORS, alike, carried, cases, factors, largest_part, of_part
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
    "Strength level: factor 1.0 on D_i and W_i in 2.3.4, 0.7 in 2.4.3. Ice hangs on the parts at their own centers of gravity; "
    "W_i is in place of the wind, never added to it."
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
        Grid("Ice on every part", ("Part", "t_d [in]", "w_i [lbf]"), rows),
        r.D_i,
        Remark("The ice on a part has the center of gravity of the part, listed on the sheet Weights and center of gravity."),
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
            Remark(f"Wind {said}: the panel with its ice is a solid sign; its cases by the lines of the sheet Wind loads."),
            cases(group.sign),
        ]
    return [
        Heading("Wind on ice"),
        Remark(
            "As on the sheet Wind loads, with the gust that goes with the ice, on parts thicker by t_d on every free edge "
            "(10.5)."
        ),
        Remark(r.notes[2]),
        *shown,
        Remark(FACTORS),
        factors(r.wind, "Factors of every group of parts, with ice"),
    ]


def _results(r: Ice) -> list[Part]:
    ice = (("Ice on the rack, D_i", r.D_i), ("Center along the rack, x_bar", r.x_bar), ("Center across, y_bar", r.y_bar),
           ("Center above grade, z_bar", r.z_bar))  # fmt: skip
    return [
        Heading("Results"),
        Grid("Ice, carried forward", ("Result", "Value"), ice),
        carried(r.wind, "Wind on ice, carried forward"),
        Remark(USES),
    ]

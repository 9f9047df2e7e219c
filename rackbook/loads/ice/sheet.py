"""The ice sheet: thickness and weight of the part with the most ice in full, the others tabulated; wind on ice."""

from __future__ import annotations

import numpy as np

from rackbook.loads.wind import design_force
from rackbook.trace import Grid, Heading, Remark, Sheet, Value
from rackbook.trace.columns import entries, entry
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
    rows = tuple((label, thick[label], at[label].w, at[label].x, at[label].y, at[label].z) for label in r.labels)
    heads = ("Part", "t_d [in]", "w_i [lbf]", "x [ft]", "y [in]", "z [ft]")
    return [
        Heading("Ice on the parts"),
        Remark(f"By ASCE/SEI {r.edition}. {LEVEL[r.edition]}"),
        Remark(bodies),
        Remark(scope),
        Remark(f"In full for {r.governing}, which carries the most ice."),
        r.parts[most].w,
        Grid("Ice on every part", heads, rows),
        r.D_i,
    ]


def _wind(r: Ice) -> list[Part]:
    governing, at = r.wind.governing, r.wind.conditions
    group = max(governing.groups, key=lambda g: float(g.F.magnitude.max()))
    place = int(np.argmax(group.F.magnitude))
    if group.sign is None:
        tag = group.tags[place]
        A, z, C_f = (_one(v, place, tag) for v in (group.A, group.z, group.C_f))
        own = design_force(at.edition, at.q(z, at.K_d), C_f, A, at.outside(at.K_d), at.G)
        shown: list[Part] = [Remark(f"Wind on the {governing.name}, in full for {tag}, which takes the largest force."), own.F]
    else:
        of = group.sign
        rows = tuple((name, C_f, F, T or "") for name, (C_f, F, T) in of.cases.items())
        shown = [
            Remark(f"Wind on the {governing.name}: the panel with its ice is a solid sign, as on the sheet of the wind."),
            Grid("Panel with its ice", ("A_s [ft**2]", "epsilon []", "q_h [psf]"), ((of.A_s, group.epsilon, group.q),)),
            Grid("Cases of the panel", ("Case", "C_f []", "F [lbf]", "Torsion [lbf*ft]"), rows),
        ]
    return [
        Heading("Wind on ice"),
        Remark(
            "As on the sheet of the wind, with the gust that goes with the ice, on parts thicker by t_d on every free edge."
        ),
        Remark(r.notes[2]),
        *shown,
    ]


def _one(of: Value, place: int, tag: str) -> Value:
    return entry(of, place, tag) if isinstance(of.magnitude, np.ndarray) else of


def _results(r: Ice) -> list[Part]:
    heads = ("Wind on ice from", "V [lbf]", "M [lbf*ft]", "z_F [ft]", "Torsion [lbf*ft]", "epsilon []")
    rows = tuple((name, d.V, d.M, d.z_F, d.T, d.epsilon) for name, d in r.directions.items())
    ice = (("Ice on the rack, D_i", r.D_i), ("Center along the rack, x_bar", r.x_bar), ("Center across, y_bar", r.y_bar),
           ("Center above grade, z_bar", r.z_bar))  # fmt: skip
    return [
        Heading("Results"),
        Grid("Ice, carried forward", ("Result", "Value"), ice),
        Grid("Wind on ice, carried forward", heads, rows),
        Remark(USES),
    ]

"""Atmospheric ice on a rack: weight on every part, and wind on the ice-covered rack."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from rackbook.loads.geometry import Parts, parts, read
from rackbook.loads.outlines import outline
from rackbook.loads.weights import Part, Weights, canopy_area, cg_coordinate, total
from rackbook.loads.weights.total import cg_across, cg_height
from rackbook.loads.wind import Direction, Wind
from rackbook.loads.wind.faces import RMC_OD
from rackbook.loads.words import as_word
from rackbook.tables import table
from rackbook.trace import Check, Source, Value
from rackbook.trace.columns import column, entries

from .accretion import (
    Thickness,
    bar_ice,
    circumscribed,
    clause,
    conduit_length,
    diameter,
    edition_of,
    longest_side,
    plate_ice,
    thickness,
)  # fmt: skip
from .wind import gust, wind_on_ice

BODIES = (
    "Every member, piece of equipment and tray is a bar along its longest side, with the circle around its outline across it; "
    "for a cabinet that is more than the plate of its largest face. The canopy is a horizontal plate. Conduit is rigid trade "
    "size 1, as many runs as its weight allows, each coated alone. Hardware, base plates, wire and the inside of tubes carry "
    "no ice."
)
SCOPE = (
    "Decision: ice from freezing rain alone, as given (site.ice). In-cloud icing, wet snow and ice falling from above are not "
    "included (10.1, 10.2); confirm with the authority having jurisdiction."
)
NO_MINIMUM = (
    "Decision: the minimum of 16 psf (29.7) belongs to the design wind force W, which is checked with it in its own "
    "combinations. It is not applied to wind on ice W_i (10.5), in any case or direction; W_i is that of the gust given with "
    "the ice. The area the ice adds has the coefficient of its part, which is not below that of a round member."
)


@dataclass(frozen=True)
class Ice:
    """Ice on the rack.

    Attributes:
        edition: ``"7-16"`` or ``"7-22"``.
        t, V_c: Nominal thickness at 33 ft, and the gust that goes with it.
        labels: Labels of the parts that carry ice, those of the weights.
        t_d: Design thickness of each [in.].
        parts: One line a part, in the form of the weights' own: weight and center.
        w, x, y, z: Columns of all parts (lbf, ft, in., ft), in the order of ``labels``: the case D_i.
        D_i: All ice on the rack, with its center ``x_bar``, ``y_bar``, ``z_bar``.
        governing: Label of the part with the most ice.
        wind: Wind on the ice-covered rack: the cases W_i.
        checks: None; what ice asks of the rack is checked with its combinations.
        notes: Assumptions, in words.

    """

    edition: str
    t: Value
    V_c: Value
    labels: tuple[str, ...]
    t_d: Value
    parts: tuple[Part, ...]
    w: Value
    x: Value
    y: Value
    z: Value
    D_i: Value
    x_bar: Value
    y_bar: Value
    z_bar: Value
    governing: str
    wind: Wind
    checks: tuple[Check, ...]
    notes: tuple[str, ...]

    @property
    def directions(self) -> dict[str, Direction]:
        """Wind on ice from the four sides by name, in the form of the wind's own."""
        return self.wind.directions


def ice(job: Any, weights: Weights) -> Ice | None:
    """Return the ice on a job's rack; None where the job gives none.

    Args:
        job: The job.
        weights: Its weights, whose parts carry the ice at their own centers.

    Raises:
        DomainError: The edition is another one.
        LookupFailed: A shape, exposure or risk category is in no table.

    """
    if job.site.ice is None:
        return None
    rack, at = parts(job), gust(job)
    of_boxes = _thickness(job, rack.z, at)
    found = {**_boxes(rack, of_boxes.t_d), **_bars(job, weights, at), **_canopy(job, weights, at)}
    lines = {p.label: p for p in weights.parts}
    carried = tuple(replace(lines[label], w=w, source="ice", area=None) for label, (_, w) in found.items())
    w, x, y, z = (
        column(a, {p.label: getattr(p, a) for p in carried}, u)
        for a, u in (("w", "lbf"), ("x", "ft"), ("y", "in"), ("z", "ft"))
    )
    D_i = total(w=w).named("D_i")
    return Ice(
        edition_of(job.codes.loads), job.site.ice.thickness, job.site.ice.wind, tuple(found),
        column("t_d", {label: t_d for label, (t_d, _) in found.items()}, "in"), carried, w, x, y, z, D_i,
        cg_coordinate(w=w, x=x, W=D_i), cg_across(w=w, y=y, W=D_i), cg_height(w=w, z=z, W=D_i),
        max(found, key=lambda label: found[label][1].m_as("lbf")), wind_on_ice(job, rack, of_boxes.t_d, at), (),
        (BODIES, SCOPE, NO_MINIMUM),
    )  # fmt: skip


def _thickness(job: Any, z: Value, at: Any) -> Thickness:
    return thickness(job.codes.loads, job.site.ice.thickness, z, as_word(job.site.risk_category, "risk_category"), at.K_zt(z))


def _boxes(rack: Parts, t_d: Value) -> dict[str, tuple[Value, Value]]:
    """Return thickness and weight of the ice on every box but the canopy's edges, by tag."""
    sides = {"w": rack.w, "d": rack.d, "h": rack.h}
    L_i = longest_side(**sides)
    flat, curved = circumscribed(**sides, L_i=L_i), diameter(**sides)
    mark = Value(rack.round.astype(float), "", Source("input", "equipment.csv and frame", "", "round 1, flat 0"), "round")
    by_section = {"round": mark, "flat": flat, "curved": curved}
    D_c = read("by section", clause("Figure 10.4-1"), "in", _choose, by_section, "D_c")
    made = bar_ice(t_d, D_c, L_i)
    thick, weight = entries(t_d, rack.tags), entries(made.w_i, rack.tags)
    return {tag: (thick[tag], weight[tag]) for tag, kind in zip(rack.tags, rack.kinds, strict=True) if kind != "canopy"}


def _choose(round: np.ndarray, flat: np.ndarray, curved: np.ndarray) -> np.ndarray:
    return np.where(round > 0, curved, flat)


def _bars(job: Any, weights: Weights, at: Any) -> dict[str, tuple[Value, Value]]:
    """Return thickness and weight of the ice on braces and conduit, which are no boxes."""
    found = {}
    for line, (D_c, L_i) in _of_bars(job, weights):
        t_d = _thickness(job, line.z, at).t_d
        found[line.label] = t_d, bar_ice(t_d, D_c, L_i).w_i
    return found


def _of_bars(job: Any, weights: Weights) -> Iterable[tuple[Part, tuple[Value, Value]]]:
    braces = iter(job.frame.braces)
    for line in weights.parts:
        if line.group == "frame" and line.label.startswith("brace"):
            brace = next(braces)
            of = outline(str(brace.shape))
            if of.family == "pipes":
                yield line, (of.depth, brace.length)
            else:
                sides = {"w": of.width, "d": of.depth, "h": brace.length, "L_i": brace.length}
                yield line, (circumscribed(**sides), brace.length)
        elif line.group == "services" and line.label.startswith("conduit"):
            w_c = table("conduit_weights").cell(("RMC", "1"), "weight", "w_c")
            yield line, (RMC_OD, conduit_length(w_conduit=job.allowances.conduit, w_c=w_c, L=weights.length))


def _canopy(job: Any, weights: Weights, at: Any) -> dict[str, tuple[Value, Value]]:
    """Return thickness and weight of the ice on the canopy."""
    line = next((p for p in weights.parts if p.group == "canopy"), None)
    if line is None:
        return {}
    t_d = _thickness(job, line.z, at).t_d
    A_s = canopy_area(L_c=job.frame.canopy.length, W_c=job.frame.canopy.width)
    return {line.label: (t_d, plate_ice(t_d, A_s))}

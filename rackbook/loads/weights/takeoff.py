"""Take-off: a part for every item, member and allowance, with its weight, its center and who says so."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from rackbook.trace import Source, Value, formula
from rackbook.trace.columns import column, entries
from rackbook.trace.maths import sum

from ..members import (
    PLANE,
    Member,
    grout,
    item_center,
    members,
    middle,
    mounting_plane,
    post_lines,
    post_rows,
    rack_length,
    services_height,
    sign,
)
from ..outlines import outline
from .steel import coating_weight, member_area, member_weight, plate_area, plate_weight, steel_unit_weight, zinc
from .total import canopy_weight, cg_across, cg_coordinate, cg_height, share_of, spread, total

GROUPS = ("equipment", "frame", "hardware", "zinc", "canopy", "services")


@dataclass(frozen=True)
class Part:
    """One line of the take-off: weight and center (Values; x and z in ft, y in in.), and where the weight comes from.

    ``area`` is the coated surface of a member or plate; None for all else.
    """

    label: str
    group: str
    what: str
    w: Value
    x: Value
    y: Value
    z: Value
    source: str
    area: Value | None = None


def equipment_parts(job: Any) -> list[Part]:
    """Return a part for every piece of equipment; y from the face it is mounted on."""
    items = job.equipment
    if not items:
        return []
    labels = tuple(str(item.tag) for item in items)
    planes = {face: mounting_plane(job, face) for face in {item.face for item in items}}
    signs = {face: sign(face) for face in planes}
    y = item_center(
        s=column("s", {t: signs[i.face] for t, i in zip(labels, items, strict=True)}, ""),
        y_m=column("y_m", {t: planes[i.face] for t, i in zip(labels, items, strict=True)}, "in"),
        y_offset=column("y_offset", {t: i.offset for t, i in zip(labels, items, strict=True)}, "in"),
        d=column("d", {t: i.depth for t, i in zip(labels, items, strict=True)}, "in"),
    )
    across = entries(y, labels)
    return [
        Part(t, "equipment", str(i.description), i.weight, i.x, across[t], i.z, str(i.weight_source))
        for t, i in zip(labels, items, strict=True)
    ]


def frame_parts(job: Any, of: tuple[Member, ...]) -> list[Part]:
    """Return a part for every member and base plate."""
    parts = []
    for m in of:
        of_shape = outline(m.shape)
        weight, area = member_weight(w_s=of_shape.weight, L=m.length), member_area(s=of_shape.perimeter, L=m.length)
        parts.append(Part(m.mark, "frame", m.shape, weight, m.x, m.y, m.z, "section table", area))
    plate = job.frame.base_plate
    if plate:
        weight = plate_weight(gamma_s=steel_unit_weight(), N=plate.length, B=plate.width, t=plate.thickness)
        area = plate_area(N=plate.length, B=plate.width, t=plate.thickness)
        height = plate_height(e=job.piers.projection, t_g=grout(job), t=plate.thickness)
        for n, x in enumerate(post_lines(job), 1):
            for word, y in post_rows(job):
                label = f"base plate {n} {word}".strip()
                parts.append(Part(label, "frame", "plate", weight, x, y, height, "volume, 490 pcf", area))
    return parts


@formula(Source("derivation", "geometry of the frame"), z="ft")
def plate_height(e, t_g, t):
    """Return the height of the middle of a base plate on grout t_g on a pier that stands e above grade."""
    z = e + t_g + t / 2
    return z


def _center(parts: list[Part], by: Value, whole: Value) -> tuple[Value, Value, Value]:
    """Return the center of parts weighted by a column (weights, or coated surfaces)."""
    x, y, z = (column(a, {p.label: getattr(p, a) for p in parts}, u) for a, u in (("x", "ft"), ("y", "in"), ("z", "ft")))
    return cg_coordinate(w=by, x=x, W=whole), cg_across(w=by, y=y, W=whole), cg_height(w=by, z=z, W=whole)


def hardware_part(job: Any, frame: list[Part]) -> Part:
    """Return bolts, clips and fittings: a share of the frame's weight, at the frame's center."""
    w = column("w", {p.label: p.w for p in frame}, "lbf")
    whole = total(w=w).named("W_frame")
    weight = share_of(p=job.allowances.hardware, W=whole)
    return Part(
        "hardware", "hardware", "bolts, clips, fittings", weight, *_center(frame, w, whole), "allowance, share of the frame"
    )


def zinc_part(job: Any, frame: list[Part]) -> Part:
    """Return the zinc coating: thickness times surface, at the center of the coated surface."""
    a = column("a", {p.label: p.area for p in frame if p.area is not None}, "ft**2")
    whole = coated_surface(a=a)
    weight = coating_weight(t_zn=job.frame.galvanizing.thickness, A_zn=whole, gamma_zn=zinc())
    return Part("zinc", "zinc", "hot-dip coating", weight, *_center(frame, a, whole), "thickness x surface")


@formula(Source("derivation", "sum of the parts"), A_zn="ft**2")
def coated_surface(a):
    """Return the coated surface of the frame."""
    A_zn = sum(a)
    return A_zn


def service_parts(job: Any) -> list[Part]:
    """Return conduit, wire and tray, spread along the rack in the post plane: tray on the posts, the others at the rails."""
    on_rails = services_height(job)
    L = rack_length(job)
    half = middle(L)
    parts = []
    for name in ("conduit", "wire", "tray"):
        allowance = getattr(job.allowances, name)
        if allowance is not None and allowance.magnitude > 0:
            height = job.frame.height if name == "tray" else on_rails
            weight = spread(w_l=allowance, L=L)
            how = f"{allowance.text()} x {L.text()}"
            parts.append(Part(name, "services", f"{name} on the rack", weight, half, PLANE, height, how))
    return parts


def canopy_part(job: Any) -> Part:
    """Return the canopy: its own area's dead weight, over the middle of the rack."""
    of = job.frame.canopy
    weight = canopy_weight(w_c=of.weight, L_c=of.length, W_c=of.width)
    how = f"{of.weight.text()} of its plan area"
    return Part("canopy", "canopy", "canopy", weight, middle(rack_length(job)), PLANE, of.height, how)


def parts(job: Any) -> tuple[Part, ...]:
    """Return every line of the take-off: equipment, frame, hardware, zinc, canopy, services."""
    of = members(job)
    frame = frame_parts(job, of)
    found = [*equipment_parts(job), *frame]
    if job.allowances.hardware.magnitude > 0:
        found.append(hardware_part(job, frame))
    if job.frame.galvanizing:
        found.append(zinc_part(job, frame))
    if job.frame.canopy:
        found.append(canopy_part(job))
    found.extend(service_parts(job))
    return tuple(_distinct(found))


def _distinct(found: list[Part]) -> list[Part]:
    """Return the parts with labels made distinct, should an item be tagged like a member."""
    seen: set[str] = set()
    out = []
    for p in found:
        label = p.label
        while label in seen:
            label += " (frame)"
        seen.add(label)
        out.append(p if label == p.label else replace(p, label=label))
    return out


def estimated_share(parts: tuple[Part, ...]) -> tuple[int, float]:
    """Return how many equipment weights are estimates, and their part of all equipment weight (for a remark)."""
    items = [p for p in parts if p.group == "equipment"]
    guessed = [p for p in items if p.source.startswith("estimate")]
    whole = float(np.sum([p.w.m_as("lbf") for p in items]))
    return len(guessed), (float(np.sum([p.w.m_as("lbf") for p in guessed])) / whole if whole else 0.0)

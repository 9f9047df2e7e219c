"""The rack as boxes: every item, post, rail and canopy edge with its center and its extents in three directions.

Axes: x along the rack from the left post line (seen from the front), y from back to front, z up from grade. Wind, weights
and drawings read the same boxes. Parts whose place the job does not give (conduit, wire, braces) are no boxes.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.trace import DomainError, Source, Step, Value, assume, formula, given
from rackbook.trace.columns import Column
from rackbook.trace.units import unit

from .members import item_center, members, middle, mounting_plane, overall_length, rack_length, rail_width, row_plane
from .outlines import outline

#: The families of round shapes; all others are flat-sided.
ROUND = ("pipes",)
EDGE = assume(4.0, "in", "depth of the canopy's edge, which the job does not give: common practice", "t_edge")
TRAY_WIDTH = assume(12.0, "in", "width of the cable tray, which the job does not give: common practice", "w_tray")
TRAY_DEPTH = assume(4.0, "in", "depth of the cable tray's side rail, which the job does not give: common practice", "d_tray")
THIN = assume(0.0, "ft", "an edge is a plate without thickness", "t")
AXES = ("x", "y", "z")


@formula(Source("derivation", "geometry of the canopy"), x="ft")
def canopy_end(x_m, s, L_c):
    """Return the place of the right (s = 1) or the left (s = -1) end of a canopy centered over the rack."""
    x = x_m + s * L_c / 2
    return x


@dataclass(frozen=True, eq=False)
class Read:
    """The operation behind a number read off the boxes by plain geometry; works on magnitudes in fixed units."""

    name: str
    source: Source
    unit: str
    work: Callable[..., Any]
    units: dict[str, str]

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Read it again off other boxes."""
        found = self.work(**{n: v.m_as(self.units[n]) for n, v in given.items()})
        return Value(found, self.unit, Step(self, given))


def read(
    name: str, source: Source, unit: str, work: Callable[..., Any], given: dict[str, Value], symbol: str = "", found: Any = None
) -> Value:
    """Return a number (or array) that ``work`` reads off the magnitudes of ``given``, which it takes by name.

    Args:
        name: What is read, in words.
        source: The rule it is read by.
        unit: Unit of the result; ``work`` returns its magnitude.
        work: Plain function of magnitudes, each in the unit its value has now.
        given: The values it rests on.
        symbol: Symbol of the result.
        found: What ``work`` gives, where it is known already.

    """
    operation = Read(name, source, unit, work, {n: v.unit for n, v in given.items()})
    return operation.evaluate(given).named(symbol) if found is None else Value(found, unit, Step(operation, given), symbol)


@dataclass(frozen=True)
class Parts:
    """All boxes of the rack; every array has one entry a part, in the order of ``tags``.

    Attributes:
        tags: Tag of the item or mark of the member, each once.
        kinds: ``equipment``, ``post``, ``rail``, ``tie``, ``tray`` or ``canopy``.
        rows: Row each part belongs to: 1 front, -1 back, 0 the only one. Parts of one row are seen as one silhouette.
        round: Whether a part is round.
        x, y, z: Centers [ft].
        w, d, h: Extents along x, y and z [ft].
        length: Rack between its outer post lines [ft].
        middle: Half of it [ft].
        overall: Rack between the outer faces of its end posts, which the rails run to [ft].

    """

    tags: tuple[str, ...]
    kinds: tuple[str, ...]
    rows: np.ndarray
    round: np.ndarray
    x: Value
    y: Value
    z: Value
    w: Value
    d: Value
    h: Value
    length: Value
    middle: Value
    overall: Value

    @property
    def boxes(self) -> np.ndarray:
        """Low and high corner of every box [ft], shape (n, 3, 2)."""
        center = np.stack([v.magnitude for v in (self.x, self.y, self.z)], axis=1)
        half = np.stack([v.magnitude for v in (self.w, self.d, self.h)], axis=1) / 2
        return np.stack([center - half, center + half], axis=2)

    def of_kind(self, *kinds: str) -> np.ndarray:
        """Return which parts are of one of these kinds."""
        return np.isin(np.array(self.kinds), kinds)

    def place(self, tag: str) -> int:
        """Return the index of a part by its tag or mark.

        Raises:
            DomainError: There is no such part.

        """
        try:
            return self.tags.index(tag)
        except ValueError:
            raise DomainError(f"There is no part '{tag}' on the rack. Parts: {', '.join(self.tags[:20])}.") from None


@dataclass
class _Box:
    tag: str
    kind: str
    row: int
    round: bool
    x: Value
    y: Value
    z: Value
    w: Value
    d: Value
    h: Value


def parts(job: Any) -> Parts:
    """Return the boxes of a job's rack: equipment first, then members, tray and canopy edges.

    Posts stand with their depth across the rack; rails run to the outer faces of the end posts with their depth upright
    (strut with its depth across).

    Raises:
        LookupFailed: A shape is in no section table.

    """
    double = job.frame.depth.magnitude > 0
    items = job.equipment
    steel = [*_steel(job, double), *_tray(job), *_canopy(job)]
    taken = {str(e.tag) for e in items}
    marks = [b.tag if b.tag not in taken else f"{b.tag} (frame)" for b in steel]
    side = np.array([1 if e.face == "front" else -1 for e in items], int)
    made: dict[str, Value] = {}
    for axis in ("x", "z", "w", "d", "h"):
        attribute = {"w": "width", "d": "depth", "h": "height"}.get(axis, axis)
        values = {str(e.tag): getattr(e, attribute) for e in items}
        values.update((mark, getattr(b, axis)) for mark, b in zip(marks, steel, strict=True))
        made[axis] = _lengths(axis, values)
    made["y"] = _depths(job, side, {mark: b.y for mark, b in zip(marks, steel, strict=True)})
    length = rack_length(job)
    return Parts(
        tags=(*(str(e.tag) for e in items), *marks),
        kinds=(*("equipment" for _ in items), *(b.kind for b in steel)),
        rows=np.concatenate([side if double else side * 0, np.array([b.row for b in steel], int)]).astype(int),
        round=np.array([*(e.section == "round" for e in items), *(b.round for b in steel)], bool),
        length=length,
        middle=middle(length),
        overall=overall_length(job),
        **made,
    )


def _lengths(symbol: str, values: dict[str, Value], unit_name: str = "ft") -> Value:
    """Return the column of lengths, converted all at once (the job has checked that they are lengths)."""
    of = unit(unit_name)
    magnitudes = np.array([v.magnitude for v in values.values()], float)
    scales = np.array([v.measure.scale for v in values.values()])
    return Value(magnitudes * (scales / of.scale), of, Step(Column(unit_name, tuple(values)), values), symbol)


def _depths(job: Any, side: np.ndarray, steel: dict[str, Value]) -> Value:
    """Return y of every part: items stand off the face of their rails, members have their own plane."""
    own = _lengths("y", steel)
    items = job.equipment
    if not items:
        return own
    faces = {face: mounting_plane(job, face) for face in ("front", "back")}
    s = given(side.astype(float), "", Source("input", "equipment.csv", "", "column face: front 1, back -1"), "s")
    source = Source("derivation", "face of the rails on the item's side")
    y_m = read("rail face", source, "in", _by_side, {"s": s, **{f: v.to("in") for f, v in faces.items()}}, "y_m")
    offset = _lengths("y_offset", {str(e.tag): e.offset for e in items}, "in")
    depth = _lengths("d", {str(e.tag): e.depth for e in items}, "in")
    y = item_center(s=s, y_m=y_m, y_offset=offset, d=depth)
    joined = Source("derivation", "items and members in the order of the parts")
    return read("all parts", joined, "ft", _joined, {"items": y.to("ft"), "members": own}, "y")


def _by_side(s: np.ndarray, front: float, back: float) -> np.ndarray:
    return np.where(s > 0, front, back)


def _joined(items: np.ndarray, members: np.ndarray) -> np.ndarray:
    return np.concatenate([items, members])


def _steel(job: Any, double: bool) -> list[_Box]:
    post, rail = outline(str(job.frame.post)), outline(str(job.frame.rail))
    upright = rail.width if rail.family == "strut" else rail.depth
    found = []
    for m in members(job):
        row = 0 if not double else -1 if m.y.magnitude < 0 else 1
        if m.part == "post":
            found.append(_Box(m.mark, "post", row, post.family in ROUND, m.x, m.y, m.z, post.width, post.depth, m.length))
        elif m.part == "rail":
            across = rail_width(str(job.frame.rail))
            found.append(_Box(m.mark, "rail", row, rail.family in ROUND, m.x, m.y, m.z, m.length, across, upright))
        elif m.part == "tie":
            of = outline(m.shape)
            found.append(_Box(m.mark, "tie", 0, of.family in ROUND, m.x, m.y, m.z, of.width, m.length, of.depth))
    return found


def _tray(job: Any) -> list[_Box]:
    if job.allowances.tray is None or job.allowances.tray.magnitude == 0:
        return []
    length, top = rack_length(job), job.frame.height
    center = given(0.0, "ft", Source("assumption", "the tray runs over the posts"), "y")
    return [
        _Box(
            "tray",
            "tray",
            1 if job.frame.depth.magnitude else 0,
            False,
            middle(length),
            center,
            top,
            length,
            TRAY_WIDTH,
            TRAY_DEPTH,
        )
    ]


def _canopy(job: Any) -> list[_Box]:
    canopy = job.frame.canopy
    if canopy is None:
        return []
    mid = middle(rack_length(job))
    on = Source("assumption", "the canopy stands over the middle of the rack")
    left, right, zero = given(-1.0, "", on, "s"), given(1.0, "", on, "s"), given(0.0, "ft", on, "y")
    found = []
    for mark, s in (("canopy front edge", right), ("canopy back edge", left)):
        y = row_plane(s=s, d=canopy.width)
        found.append(_Box(mark, "canopy", 0, False, mid, y, canopy.height, canopy.length, THIN, EDGE))
    for mark, s in (("canopy left end", left), ("canopy right end", right)):
        x = canopy_end(x_m=mid, s=s, L_c=canopy.length)
        found.append(_Box(mark, "canopy", 0, False, x, zero, canopy.height, THIN, canopy.width, EDGE))
    return found

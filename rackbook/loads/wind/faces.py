"""The faces of a rack as numbers of the book: areas seen, outlines, and what is not drawn piece by piece."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.geometry import Parts, read
from rackbook.loads.members import brace_center, services_height
from rackbook.loads.outlines import outline
from rackbook.tables import table
from rackbook.trace import Source, Value, formula, given
from rackbook.trace.columns import column, entry
from rackbook.trace.maths import max, sum

from .silhouette import end_faces, seen

DIRECTIONS = {"front": 1, "back": -1, "left": -1, "right": 1}
_UNION = Source("derivation", "rectangles on the elevation; each spot counts once, for the part the wind meets first")
_ENDS = Source(
    "derivation", "end faces of all parts; only a face that touches its neighbor is left out, no other shielding is taken"
)
_OUTLINE = Source("derivation", "outline: the rectangle around all parts, from grade to the highest")
_PANEL = Source("derivation", "panel: the rectangle around equipment, rails and tray, from the lowest to the highest of them")
RMC_OD = given(
    1.315, "in", Source("table", "ANSI C80.1", "", "outside diameter of trade size 1 rigid conduit", "memory"), "D_c"
)


_CONDUIT = Source("assumption", "conduit as rigid trade size 1, spread evenly over the face; its share in the openings is seen")


@formula(_CONDUIT, A_f="ft**2")
def conduit_area(w_conduit, w_c, D_c, L, epsilon):
    """Return the projected area of the conduit allowance that other parts do not cover.

    L is the length of the rack, for wind on an end too: how much runs along the rack is not known, so all of it counts as seen.
    epsilon is the solidity of the panel without conduit, or that of the end.
    """
    A_f = w_conduit / w_c * D_c * L * max(1 - epsilon, 0)
    return A_f


@formula(Source("assumption", "a brace is seen with its whole length and its greater side, none of it hidden"), A_f="ft**2")
def brace_area(b, L):
    """Return the projected area of a brace."""
    A_f = b * L
    return A_f


@formula(
    Source("derivation", "gross area of the outline: the rectangle around all parts, from grade to the highest"), A_g="ft**2"
)
def rectangle(b, h):
    """Return the gross area within an outline."""
    A_g = b * h
    return A_g


@formula(Source("derivation", "sum over the parts"), A_f="ft**2")
def total_area(A):
    """Return the solid area of all parts."""
    A_f = sum(A)
    return A_f


@formula(Source("derivation", "sum over conduit and braces in the openings"), A_r="ft**2")
def filling_area(A):
    """Return the area of raceways and braces in the openings."""
    A_r = sum(A)
    return A_r


@formula(_PANEL, A_g="ft**2")
def panel_area(B, s):
    """Return the gross area of the panel."""
    A_g = B * s
    return A_g


@dataclass(frozen=True)
class Face:
    """One row of parts seen from one side, or the whole rack seen from an end.

    Attributes:
        name: ``front row``, ``back row``, ``rack`` (single row) or ``end``.
        places: Indices of its parts.
        A, u, z: Area seen of each part and its centroid; u is x across and y along.
        A_in, u_in, z_in: The same within the panel; ``A_out`` and so on outside it.
        A_own: Full face of each part, for its own fastening.
        D: Lesser side of each part, the diameter of a round one.
        b, h: Outline from grade; ``A_g`` its area.
        B, s, top, u_c: Panel, the rectangle around equipment, rails and tray: width, height, top, center.

    """

    name: str
    places: np.ndarray
    A: Value
    u: Value
    z: Value
    A_in: Value
    A_out: Value
    u_out: Value
    z_out: Value
    u_in: Value
    z_in: Value
    A_own: Value
    D: Value
    b: Value
    h: Value
    A_g: Value
    B: Value
    s: Value
    top: Value
    u_c: Value
    A_seen: Value


def _boxes(arrays: dict[str, np.ndarray]) -> np.ndarray:
    center = np.stack([arrays["x"], arrays["y"], arrays["z"]], axis=1)
    half = np.stack([arrays["w"], arrays["d"], arrays["h"]], axis=1) / 2
    return np.stack([center - half, center + half], axis=2)


def _look(places: np.ndarray, board: np.ndarray, sign: int, along: bool, **arrays: np.ndarray) -> dict[str, Any]:
    """Return everything read off one face; ``board`` marks the parts the panel is drawn around."""
    boxes = _boxes(arrays)[places]
    boxes[:, 2] = np.maximum(boxes[:, 2], 0.0)  # no wind below grade
    axes = [1, 2] if along else [0, 2]
    low, high = boxes[:, axes, 0], boxes[:, axes, 1]
    outer = {"b": high[:, 0].max() - low[:, 0].min(), "h": high[:, 1].max()}
    inner = board[places]
    if along or not inner.any():
        window = (low[:, 0].min(), high[:, 0].max(), 0.0, high[:, 1].max())
    else:
        window = (low[inner, 0].min(), high[inner, 0].max(), low[inner, 1].min(), high[inner, 1].max())
    depth = 0 if along else 1
    facing = boxes[:, depth, 1] if sign > 0 else -boxes[:, depth, 0]
    of = seen(low, high, np.argsort(-facing, kind="stable"), window)
    size = high - low
    found = {
        "A_own": size[:, 0] * size[:, 1], "D": size.min(axis=1), **outer, "B": window[1] - window[0],
        "s": window[3] - window[2], "top": window[3], "u_c": (window[0] + window[1]) / 2, "A_seen": of.area.sum(),
        "A_in": of.area[1], "u_in": of.u[1], "z_in": of.v[1], "A_out": of.area[0], "u_out": of.u[0], "z_out": of.v[0],
    }  # fmt: skip
    if along:
        middle = (low + high) / 2
        return {**found, "A": end_faces(boxes, sign), "u": middle[:, 0], "z": middle[:, 1]}
    area = of.area.sum(axis=0)
    none = area <= 0
    share = of.area / np.where(none, 1.0, area)
    middle = (low + high) / 2
    u = np.where(none, middle[:, 0], (share * of.u).sum(axis=0))
    return {**found, "A": area, "u": u, "z": np.where(none, middle[:, 1], (share * of.v).sum(axis=0))}


def _one(name: str, places: np.ndarray, board: np.ndarray, sign: int, along: bool, **arrays: np.ndarray) -> Any:
    return _look(places, board, sign, along, **arrays)[name]


_SYMBOLS = {
    "A_own": "A_f",
    "A_in": "A",
    "A_out": "A",
    "u_c": "u_c",
    "u_in": "u",
    "u_out": "u",
    "z_in": "z",
    "z_out": "z",
    "A_seen": "A_f",
    "top": "h",
}


def face(parts: Parts, direction: str, row: int | None) -> Face:
    """Return one face of the rack.

    Args:
        parts: The boxes.
        direction: ``front``, ``back`` (wind on that face), ``left`` or ``right`` (wind on that end).
        row: The row of parts, 0, 1 or -1; None for an end, which shows all of them.

    """
    along, sign = direction in ("left", "right"), DIRECTIONS[direction]
    places = np.flatnonzero((parts.rows == row if row is not None else True) & ~parts.of_kind("canopy"))
    board = parts.of_kind("equipment", "rail", "tray")
    arrays = {n: getattr(parts, n) for n in ("x", "y", "z", "w", "d", "h")}
    found = _look(places, board, sign, along, **{n: v.magnitude for n, v in arrays.items()})
    made = {}
    for name, number in found.items():
        area = name.startswith("A")
        of_parts = (area or name[0] in "uz") and name not in ("A_own", "u_c")
        bound = _OUTLINE if along or name in ("b", "h") else _PANEL
        source = bound if not of_parts else _ENDS if along and len(name) == 1 else _UNION
        work = functools.partial(_one, name, places, board, sign, along)
        made[name] = read(name, source, "ft**2" if area else "ft", work, arrays, _SYMBOLS.get(name, name), number)
    title = "end" if along else {0: "rack", 1: "front row", -1: "back row"}[row or 0]
    return Face(name=title, places=places, A_g=rectangle(b=made["b"], h=made["h"]), **made)


@dataclass(frozen=True)
class Loose:
    """Parts that are no boxes of the silhouette: conduit, braces, canopy edges.

    ``inside`` says which of them stand in the openings of the panel, where they count in its solid area.
    """

    tags: tuple[str, ...]
    round: np.ndarray
    inside: np.ndarray
    A: Value
    u: Value
    z: Value
    D: Value

    def only(self, inside: bool) -> Loose | None:
        """Return those in the panel's openings, or the others; None without any."""
        places = np.flatnonzero(self.inside == inside).tolist()
        if len(places) == len(self.tags):
            return self
        if not places:
            return None
        columns = (
            column(v.symbol, {self.tags[n]: entry(v, n, self.tags[n]) for n in places}, v.unit)
            for v in (self.A, self.u, self.z, self.D)
        )
        return Loose(tuple(self.tags[n] for n in places), self.round[places], self.inside[places], *columns)


def loose(job: Any, parts: Parts, direction: str, seen: Face, epsilon: Value) -> Loose | None:
    """Return the conduit allowance, braces and canopy edges as one direction sees them; None without any.

    Args:
        job: The job.
        parts: The boxes.
        direction: Where the wind is.
        seen: The first face the wind meets.
        epsilon: Solidity of the boxes on its panel, or of the end.

    """
    along = direction in ("left", "right")
    middle = given(0.0, "ft", Source("assumption", "in the post plane"), "y") if along else parts.middle
    found: dict[str, tuple[tuple[Value, Value, Value, Value], bool]] = {}
    if job.allowances.conduit.magnitude > 0:
        w_c = table("conduit_weights").cell(("RMC", "1"), "weight", "w_c")
        area = conduit_area(w_conduit=job.allowances.conduit, w_c=w_c, D_c=RMC_OD, L=parts.length, epsilon=epsilon)
        found["conduit"] = (area, middle, services_height(job), RMC_OD), True
    for n, brace in enumerate(job.frame.braces, 1):
        shape = outline(str(brace.shape))
        side = shape.depth if shape.depth.m_as("in") >= shape.width.m_as("in") else shape.width
        x, y, z = brace_center(job, brace)
        found[f"brace {n}"] = (brace_area(b=side, L=brace.length), y if along else x, z, side), shape.family == "pipes"
    for i in np.flatnonzero(parts.of_kind("canopy")).tolist():
        tag = parts.tags[i]
        b, h = (entry(v, i, tag) for v in (parts.d if along else parts.w, parts.h))
        if b.magnitude > 0:
            u, z = (entry(v, i, tag) for v in (parts.y if along else parts.x, parts.z))
            found[tag] = (rectangle(b=b, h=h).named("A_f"), u, z, h), False
    if not found:
        return None
    columns = [
        column(symbol, {tag: v[0][n] for tag, v in found.items()}, unit)
        for n, (symbol, unit) in enumerate((("A", "ft**2"), ("u", "ft"), ("z", "ft"), ("D", "ft")))
    ]
    low, high = (seen.top.m_as("ft") - seen.s.m_as("ft"), seen.top.m_as("ft"))
    inside = [
        not along and (tag == "conduit" or (tag.startswith("brace") and low <= v[0][2].m_as("ft") <= high))
        for tag, v in found.items()
    ]
    return Loose(tuple(found), np.array([v[1] for v in found.values()], bool), np.array(inside, bool), *columns)

"""Plan of one base: post, plate, rods and pier, about the post's center; x along the rack, y to its front.

All bases of a rack are alike. Of four rods one stands in each corner; of six a third one stands in the middle of the
front and of the back row; of eight also in the middle of the two side rows.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.outlines import Outline, outline
from rackbook.tables import section
from rackbook.trace import Source, Value, formula, given, smallest
from rackbook.trace.columns import column
from rackbook.trace.maths import pi, sqrt

from .breakout import spacing
from .clauses import FLANGE, OPEN, ROUND, WALL, derived
from .fits import CLOSED, plate_fits, rods_beside_post, rods_in_concrete, rods_in_plate

#: Share of depth and of width at the yield line, and the column of the wall's thickness, by table of the shape.
_LINES: dict[str, tuple[Value, Value, str]] = {
    "hss": (WALL, WALL, "t_des"),
    "pipes": (ROUND, ROUND, "t_des"),
    "wide_flanges": (WALL, FLANGE, "t_f"),
    "channels": (WALL, FLANGE, "t_f"),
    "angles": (OPEN, OPEN, ""),
    "strut": (OPEN, OPEN, ""),
}
_SENSE = {s: given(s, "", Source("derivation", "side of the rods"), "i") for s in (1.0, 0.0, -1.0)}
#: Sides (x, y) of the rods by their number; the first is the corner that a positive moment pulls.
_CORNERS = ((1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0))
PATTERNS = {
    4: _CORNERS,
    6: (*_CORNERS, (0.0, 1.0), (0.0, -1.0)),
    8: (*_CORNERS, (0.0, 1.0), (0.0, -1.0), (1.0, 0.0), (-1.0, 0.0)),
}


@formula(derived("place of a rod"), x="in")
def rod_place(i, s):
    """Return the place of a rod on side i of rows s apart."""
    x = i * s / 2
    return x


@formula(derived("half of a distance"), f="in")
def half(s):
    """Return half the distance between two rows."""
    f = s / 2
    return f


@formula(derived("square of the same area as a round pier"), b_q="in")
def equal_square(D):
    """Return the side of the square that stands for a round pier."""
    b_q = D * sqrt(pi) / 2
    return b_q


@formula(derived("edge of the square less half the rows"), c="in")
def edge_of_square(b_q, s):
    """Return the distance of the outer rods from the edge of a square pier."""
    c = (b_q - s) / 2
    return c


@formula(derived("edge of the plate less half the rows"), a="in")
def edge_of_plate(N, s):
    """Return the distance of the outer rods from the edge of a plate of length N."""
    a = (N - s) / 2
    return a


@formula(derived("edge of the circle from the corner rod"), c="in")
def edge_of_circle(D, s_x, s_y):
    """Return the true distance of the corner rods from the edge of a round pier."""
    c = (D - sqrt(s_x**2 + s_y**2)) / 2
    return c


@dataclass(frozen=True, eq=False)
class Rods:
    """Places of the rods of a base.

    Attributes:
        marks: Marks of the rods.
        i, j: Sides of each rod in x and y: 1, 0 or -1.
        x, y: Places of the rods, columns.
        s_x, s_y: Distances between the outer rods.
        c_x, c_y: Distances of the outer rods from the concrete's edges that the strengths are worked with.

    """

    marks: tuple[str, ...]
    i: np.ndarray
    j: np.ndarray
    x: Value
    y: Value
    s_x: Value
    s_y: Value
    c_x: Value
    c_y: Value

    def __len__(self) -> int:
        return len(self.marks)

    def apart(self, axis: str) -> Value:
        """Return the spacing of neighboring rods along ``x`` or ``y``."""
        place, s_o = (self.x, self.s_x) if axis == "x" else (self.y, self.s_y)
        return gap(s_o, gaps(place.m_as("in")))


def gaps(places: np.ndarray) -> int:
    """Return the number of gaps between rods at these places of one direction [in]."""
    return len(np.unique(np.round(places, 6))) - 1


def gap(s_o: Value, n: int) -> Value:
    """Return the spacing of neighboring rods between outer ones s_o apart."""
    return s_o if n <= 1 else spacing(s_o=s_o, g=given(float(n), "", derived("gaps between the rods"), "g"))


@dataclass(frozen=True, eq=False)
class Plate:
    """A base plate: length along the rack, width across it, thickness."""

    N: Value
    B: Value
    t: Value


@dataclass(frozen=True, eq=False)
class Post:
    """The foot of a post.

    Attributes:
        outline: Its outline; its depth lies along y, its width along x.
        k_x, k_y: Shares of width and depth at which the plate bends.
        wall: Thickness of its wall or flange; None of open shapes.

    """

    outline: Outline
    k_x: Value
    k_y: Value
    wall: Value | None

    @property
    def family(self) -> str:
        """Table of the shape."""
        return self.outline.family

    @property
    def round(self) -> bool:
        """Whether the post is round."""
        return self.family == "pipes"


@dataclass(frozen=True, eq=False)
class Plan:
    """Plan of a base: its post, its plate and rods where the job gives them, its pier (diameter, or side of a square)."""

    post: Post
    plate: Plate | None
    rods: Rods | None
    pier_shape: str
    D: Value


@dataclass(frozen=True, eq=False)
class Whole:
    """Plan of a base of which nothing is missing; attributes as of :class:`Plan`."""

    post: Post
    plate: Plate
    rods: Rods
    pier_shape: str
    D: Value


def whole(of: Plan) -> Whole | None:
    """Return a plan as one of which nothing is missing, or None."""
    if of.plate is None or of.rods is None:
        return None
    return Whole(of.post, of.plate, of.rods, of.pier_shape, of.D)


def plan(job: Any) -> Plan:
    """Return the plan of a job's bases.

    Raises:
        InputError: A rod stands outside the concrete or too near to its edge, outside the plate or under the post, or
            the plate reaches over the pier.
        LookupFailed: The post is in no section table.

    """
    shape = outline(str(job.frame.post))
    depth_line, width_line, wall = _LINES[shape.family]
    post = Post(shape, width_line, depth_line, section(shape.shape).cell(shape.shape, wall, "t") if wall else None)
    steel, piers = job.frame.base_plate, job.piers
    plate = Plate(steel.length, steel.width, steel.thickness) if steel is not None else None
    if plate is not None:
        plate_fits(plate, shape, piers)
    rods = _rods(job.anchors, piers) if job.anchors is not None else None
    if rods is not None and plate is not None:
        rods_in_plate(job.anchors, plate)
    if rods is not None and shape.family in CLOSED:
        rods_beside_post(job.anchors, shape, rods)
    return Plan(post, plate, rods, str(piers.shape), piers.diameter)


def _rods(anchors: Any, piers: Any) -> Rods:
    sides = PATTERNS[int(anchors.count)]
    marks = tuple(f"rod {n}" for n in range(1, len(sides) + 1))
    s_x, s_y = anchors.spacing_x, anchors.spacing_y
    x = column("x", {m: rod_place(i=_SENSE[a], s=s_x) for m, (a, _) in zip(marks, sides, strict=True)}, "in")
    y = column("y", {m: rod_place(i=_SENSE[b], s=s_y) for m, (_, b) in zip(marks, sides, strict=True)}, "in")
    c_x, c_y = edges(piers.diameter, str(piers.shape), s_x, s_y)
    rods_in_concrete(anchors, piers, c_x, c_y)
    return Rods(marks, np.array([s[0] for s in sides]), np.array([s[1] for s in sides]), x, y, s_x, s_y, c_x, c_y)


def edges(D: Value, shape: str, s_x: Value, s_y: Value) -> tuple[Value, Value]:
    """Return the distances of the outer rods from the edges of a pier, along x and along y.

    A round pier counts as the square of its area; but no distance counts for more than the corner rods' true one.

    Args:
        D: Diameter, or side of a square pier.
        shape: ``round`` or ``square``.
        s_x: Distance between the outer rods along x.
        s_y: The same along y.

    """
    if shape != "round":
        return edge_of_square(b_q=D, s=s_x).named("c_x"), edge_of_square(b_q=D, s=s_y).named("c_y")
    b_q, true = equal_square(D=D), edge_of_circle(D=D, s_x=s_x, s_y=s_y)
    if s_x.m_as("in") == s_y.m_as("in"):
        c = smallest("c_x", {"square of equal area": edge_of_square(b_q=b_q, s=s_x), "circle, at the corner rod": true})
        return c, c
    found = [
        smallest(name, {"square of equal area": edge_of_square(b_q=b_q, s=s), "circle, at the corner rod": true})
        for name, s in (("c_x", s_x), ("c_y", s_y))
    ]
    return found[0], found[1]

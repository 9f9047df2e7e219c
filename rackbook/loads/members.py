"""Members of the frame: outlines of shapes, and every post, rail and brace with its length and center.

Axes: x along the rack from the left post line, y from the post plane to the front, z up from grade. Posts stand with
their depth across the rack (y); rails lie with their depth upright, strut with its depth across.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import Any

from rackbook.tables import section
from rackbook.trace import Source, Value, assume, formula, given
from rackbook.trace.columns import column
from rackbook.trace.maths import pi, sum

ORIGIN = given(0.0, "ft", Source("derivation", "the left post line is the origin of x"), "x_0")
PLANE = given(0.0, "in", Source("derivation", "the post plane is the origin of y"), "y_0")
_GEOMETRY = Source("derivation", "geometry of the frame")
_OUTLINE = Source("derivation", "outline of the section, fillets left out")
_HSS = Source("derivation", "outline of the tube, outside corners of radius 2 t, both faces coated")


@formula(_HSS, s_out="in", s_inside="in", s="in")
def hss_perimeter(H, B, t_des):
    """Return the coated perimeter of a rectangular tube, outside and inside."""
    s_out = 2 * (H + B) - (16 - 4 * pi) * t_des
    s_inside = 2 * (H + B - 4 * t_des) - (8 - 2 * pi) * t_des
    s = s_out + s_inside
    return s


@formula(Source("derivation", "outline of the pipe, both faces coated"), s="in")
def pipe_perimeter(OD, ID):
    """Return the coated perimeter of a pipe, outside and inside."""
    s = pi * (OD + ID)
    return s


@formula(_OUTLINE, s="in")
def flanged_perimeter(d, b_f, t_w):
    """Return the perimeter of a channel or a wide flange."""
    s = 2 * d + 4 * b_f - 2 * t_w
    return s


@formula(_OUTLINE, s="in")
def angle_perimeter(d, b):
    """Return the perimeter of an angle."""
    s = 2 * (d + b)
    return s


@formula(Source("derivation", "two faces of a thin folded section"), s="in")
def folded_perimeter(A, t):
    """Return the coated perimeter of a cold-formed section."""
    s = 2 * A / t
    return s


@dataclass(frozen=True)
class Outline:
    """What the take-off needs of a shape: weight a foot, outside depth and width, coated perimeter, family of the table."""

    shape: str
    family: str
    weight: Value
    depth: Value
    width: Value
    perimeter: Value


#: Columns of depth and width by table, the perimeter's formula and the columns it takes.
_FAMILIES: dict[str, tuple[str, str, Any, tuple[str, ...]]] = {
    "hss": ("H", "B", hss_perimeter, ("H", "B", "t_des")),
    "pipes": ("OD", "OD", pipe_perimeter, ("OD", "ID")),
    "channels": ("d", "b_f", flanged_perimeter, ("d", "b_f", "t_w")),
    "wide_flanges": ("d", "b_f", flanged_perimeter, ("d", "b_f", "t_w")),
    "angles": ("b", "d", angle_perimeter, ("d", "b")),  # b is the longer leg, which stands upright
    "strut": ("d", "b", folded_perimeter, ("A", "t")),
}


@functools.cache
def outline(shape: str) -> Outline:
    """Return the outline of a shape of the section tables.

    Raises:
        LookupFailed: No table holds the shape; the nearest one is named.

    """
    table = section(shape)
    deep, wide, perimeter, needs = _FAMILIES[table.name]
    cells = {name: table.cell(shape, name, name) for name in {deep, wide, *needs}}
    return Outline(
        shape,
        table.name,
        table.cell(shape, "weight", "w_s"),
        cells[deep],
        cells[wide],
        perimeter(**{n: cells[n] for n in needs}),
    )


@formula(_GEOMETRY, x="ft")
def next_post(x_i, L_bay):
    """Return the place of the next post line."""
    x = x_i + L_bay
    return x


@formula(_GEOMETRY, L="ft")
def sum_of_bays(L_bay):
    """Return the length of the rack between its outer post lines."""
    L = sum(L_bay)
    return L


@formula(_GEOMETRY, x="ft")
def middle(L):
    """Return the middle of the rack's length."""
    x = L / 2
    return x


@formula(_GEOMETRY, y="in")
def row_plane(s, d):
    """Return the plane of the front (s = 1) or the back (s = -1) row of posts."""
    y = s * d / 2
    return y


@formula(_GEOMETRY, y="in")
def rail_plane(s, d, D_post, B_rail):
    """Return the center plane of a rail bolted to the outer faces of a row of posts."""
    y = s * (d / 2 + D_post / 2 + B_rail / 2)
    return y


@formula(_GEOMETRY, y_m="in")
def outer_face(d, D_post, B_rail):
    """Return the distance of the outer face of a rail from the post plane."""
    y_m = d / 2 + D_post / 2 + B_rail
    return y_m


@formula(_GEOMETRY, y_m="in")
def center_face(B_rail):
    """Return the distance of the face of a rail in the post plane from that plane."""
    y_m = B_rail / 2
    return y_m


@formula(_GEOMETRY, y="in")
def item_center(s, y_m, y_offset, d):
    """Return the center of an item of depth d mounted in front of (s = 1) or behind (s = -1) its rails."""
    y = s * (y_m + y_offset + d / 2)
    return y


@formula(_GEOMETRY, L="ft")
def post_length(h, e, t):
    """Return the length of a post from the top of its base plate."""
    L = h - e - t
    return L


@formula(_GEOMETRY, z="ft")
def post_center(h, L):
    """Return the height of the middle of a post whose top is at h."""
    z = h - L / 2
    return z


@formula(_GEOMETRY, z="ft")
def half_height(h):
    """Return the middle of the frame's height."""
    z = h / 2
    return z


@dataclass(frozen=True)
class Member:
    """One member: its mark, the part it plays (post, rail, brace), shape, length and center."""

    mark: str
    part: str
    shape: str
    length: Value
    x: Value
    y: Value
    z: Value


def sign(face: Any) -> Value:
    """Return +1 for the front and -1 for the back, with the place the face was written at."""
    source = getattr(face, "source", None)
    source = source if isinstance(source, Source) else _GEOMETRY
    return given(1.0 if face == "front" else -1.0, "", source, "s")


def post_lines(job: Any) -> tuple[Value, ...]:
    """Return x of every post line from the left, the first one at the origin."""
    return _lines(tuple(job.frame.bays))


@functools.lru_cache(maxsize=8)  # the same bays give the same values, so a sheet shows them once
def _lines(bays: tuple[Value, ...]) -> tuple[Value, ...]:
    lines = [ORIGIN]
    for bay in bays:
        lines.append(next_post(lines[-1], bay))
    return tuple(lines)


def rack_length(job: Any) -> Value:
    """Return the length of the rack between its outer post lines."""
    return _length(tuple(job.frame.bays))


@functools.lru_cache(maxsize=8)
def _length(bays: tuple[Value, ...]) -> Value:
    return sum_of_bays(L_bay=column("L_bay", {f"bay {n}": bay for n, bay in enumerate(bays, 1)}, "ft"))


def rail_width(shape: str) -> Value:
    """Return how far a rail of that shape stands out from the face it is bolted to."""
    of = outline(shape)
    return of.depth if of.family == "strut" else of.width


def post_rows(job: Any) -> tuple[tuple[str, Value], ...]:
    """Return the rows of posts, each with its word (empty for a single row) and its plane y."""
    depth = job.frame.depth
    if depth.magnitude == 0:
        return (("", PLANE),)
    return tuple((face, row_plane(sign(face), depth)) for face in ("front", "back"))


def rail_y(job: Any, face: Any) -> Value:
    """Return the center plane of a rail on the front, the back, or in the post plane (center)."""
    if face == "center":
        return PLANE
    return rail_plane(sign(face), job.frame.depth, outline(job.frame.post).depth, rail_width(job.frame.rail))


def mounting_plane(job: Any, face: Any) -> Value:
    """Return how far from the post plane the rails' outer face on that side is: what items of that side stand on.

    Without a rail on that side the items stand on a rail in the post plane, or else on the posts.
    """
    faces = {str(rail.face) for rail in job.frame.rails}
    frame = job.frame
    if str(face) in faces:
        return outer_face(frame.depth, outline(frame.post).depth, rail_width(frame.rail))
    if "center" in faces:
        return center_face(rail_width(frame.rail))
    none = assume(0.0, "in", "no rail on this side: its items stand on the posts' faces", "B_rail")
    return outer_face(frame.depth, outline(frame.post).depth, none)


def members(job: Any) -> tuple[Member, ...]:
    """Return every post, rail and brace of the frame.

    Posts end at the top of the base plate (or of the pier, without one). Rails run over the whole length. A brace,
    whose place the job does not give, is put at the middle of the rack and at half its height.

    Raises:
        LookupFailed: A shape is in no section table.

    """
    frame = job.frame
    plate = frame.base_plate
    thick = plate.thickness if plate else assume(0.0, "in", "no base plate: the post is counted from the top of the pier", "t")
    length = post_length(frame.height, job.piers.projection, thick)
    height = post_center(frame.height, length)
    found = []
    for n, x in enumerate(post_lines(job), 1):
        for word, y in post_rows(job):
            found.append(Member(f"post {n} {word}".strip(), "post", str(frame.post), length, x, y, height))
    whole, half = rack_length(job), middle(rack_length(job))
    planes = {face: rail_y(job, face) for face in {rail.face for rail in frame.rails}}
    for n, rail in enumerate(frame.rails, 1):
        found.append(Member(f"rail {n}", "rail", str(frame.rail), whole, half, planes[rail.face], rail.height))
    for n, brace in enumerate(frame.braces, 1):
        found.append(Member(f"brace {n}", "brace", str(brace.shape), brace.length, half, PLANE, half_height(frame.height)))
    return tuple(found)

"""Members of the frame: every post, rail, tie and brace with its length and center.

Axes: x along the rack from the left post line, y from the post plane to the front, z up from grade. Posts stand with
their depth across the rack (y); rails lie with their depth upright, strut with its depth across.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from rackbook.trace import Source, Value, assume, formula, given
from rackbook.trace.columns import column
from rackbook.trace.maths import sum

from .outlines import outline

ORIGIN = given(0.0, "ft", Source("derivation", "the left post line is the origin of x"), "x_0")
PLANE = given(0.0, "in", Source("derivation", "the post plane is the origin of y"), "y_0")
_GEOMETRY = Source("derivation", "geometry of the frame")


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


@formula(_GEOMETRY, L_r="ft")
def rail_length(L, B_post):
    """Return the length of what runs to the outer faces of the end posts."""
    L_r = L + B_post
    return L_r


@formula(Source("derivation", "mean of a column"), z="ft")
def mean_height(z_r, n):
    """Return the mean height of the rails."""
    z = sum(z_r) / n
    return z


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
def post_length(h, e, t_g, t):
    """Return the length of a post from the top of its base plate, which stands on grout t_g on a pier that projects e."""
    L = h - e - t_g - t
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


@formula(_GEOMETRY, x="ft")
def between(x_1, x_2):
    """Return the middle between the two ends of a brace."""
    x = (x_1 + x_2) / 2
    return x


@formula(_GEOMETRY, L="ft")
def tie_length(d, D_post):
    """Return the clear length of a tie between the two rows of posts."""
    L = d - D_post
    return L


@dataclass(frozen=True)
class Member:
    """One member: its mark, the part it plays (post, rail, tie, brace), shape, length and center."""

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


def overall_length(job: Any) -> Value:
    """Return the length of the rack between the outer faces of its end posts."""
    return rail_length(L=rack_length(job), B_post=outline(str(job.frame.post)).width)


def services_height(job: Any) -> Value:
    """Return the height that conduit and wire are counted at for weight, wind and ice alike: the mean height of the rails."""
    rails = {f"rail {n}": rail.height for n, rail in enumerate(job.frame.rails, 1)}
    count = given(float(len(rails)), "", Source("input", "rack.yaml", locator="frame.rails"), "n")
    return mean_height(z_r=column("z_r", rails, "ft"), n=count)


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


def grout(job: Any) -> Value:
    """Return the grout between pier and base plate: that of the anchors, or none."""
    if job.anchors is not None:
        return job.anchors.grout
    return assume(0.0, "in", "no anchors are given: the base plate is counted from the top of the pier", "t_g")


def brace_center(job: Any, brace: Any) -> tuple[Value, Value, Value]:
    """Return x, y and z of a brace's middle; the middle of the rack at half its height where its ends are not given."""
    frame = job.frame
    if brace.from_ is None:
        return middle(rack_length(job)), PLANE, half_height(frame.height)
    rows = dict(post_rows(job))
    row = str(brace.row) if brace.row is not None else "front"
    x = between(x_1=brace.from_.x, x_2=brace.to.x)
    return x, rows.get(row, PLANE), between(x_1=brace.from_.height, x_2=brace.to.height).named("z")


def members(job: Any) -> tuple[Member, ...]:
    """Return every post, rail, tie and brace of the frame.

    Posts end at the top of the base plate (or of the pier, without one). Rails run to the outer faces of the end posts,
    those in the post plane between the outer post lines. A brace whose ends the job does not give is put at the middle of
    the rack and at half its height.

    Raises:
        LookupFailed: A shape is in no section table.

    """
    return (*_posts(job), *_rails(job), *_ties(job), *_braces(job))


def _posts(job: Any) -> Iterator[Member]:
    frame, plate = job.frame, job.frame.base_plate
    thick = plate.thickness if plate else assume(0.0, "in", "no base plate: the post is counted from the top of the pier", "t")
    length = post_length(h=frame.height, e=job.piers.projection, t_g=grout(job), t=thick)
    height = post_center(frame.height, length)
    for n, x in enumerate(post_lines(job), 1):
        for word, y in post_rows(job):
            yield Member(f"post {n} {word}".strip(), "post", str(frame.post), length, x, y, height)


def _rails(job: Any) -> Iterator[Member]:
    frame, between_lines, whole = job.frame, rack_length(job), overall_length(job)
    half = middle(between_lines)
    planes = {face: rail_y(job, face) for face in {rail.face for rail in frame.rails}}
    for n, rail in enumerate(frame.rails, 1):
        long = between_lines if rail.face == "center" else whole
        yield Member(f"rail {n}", "rail", str(frame.rail), long, half, planes[rail.face], rail.height)


def _ties(job: Any) -> Iterator[Member]:
    if not job.frame.ties:
        return
    length = tie_length(d=job.frame.depth, D_post=outline(str(job.frame.post)).depth)
    for n, tie in enumerate(job.frame.ties, 1):
        for k, x in enumerate(post_lines(job), 1):
            yield Member(f"tie {n} at post {k}", "tie", str(tie.shape), length, x, PLANE, tie.height)


def _braces(job: Any) -> Iterator[Member]:
    for n, brace in enumerate(job.frame.braces, 1):
        yield Member(f"brace {n}", "brace", str(brace.shape), brace.length, *brace_center(job, brace))

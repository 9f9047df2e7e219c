"""What connections need of the shapes: the wall they sit on, its size, and the line of the weld at a post's foot."""

from __future__ import annotations

from dataclasses import dataclass, replace

from rackbook.tables import section, table
from rackbook.trace import Source, Value, formula, given

from .lines import WeldLine, flanged, ring, tube
from .walls import Wall

_OUTLINE = Source("derivation", "outline of the section")


@formula(Source("derivation", "tube: outside corners of radius 2 t"), r="in")
def corner_radius(t):
    """Return the outside corner radius of a tube."""
    r = 2 * t
    return r


@formula(_OUTLINE, h="in")
def clear_web(d, t_f):
    """Return the clear height of a web between the flanges."""
    h = d - 2 * t_f
    return h


#: Columns of each family: the wall bolts go through, its depth upright, the thickness of its edges on the post.
_RAIL = {
    "channels": ("t_w", "d", "t_f"), "hss": ("t_des", "H", "t_des"), "angles": ("t", "b", "t"), "strut": ("t", "b", "t"),
}  # fmt: skip
#: Families whose connected wall has a free edge along the rail: the bolts' distance to it is an edge distance.
FREE_EDGE = ("angles", "strut")


#: Inner faces of the flanges of C and most MC shapes rise 2 in 12.
SLOPE = given(1 / 6, "", Source("common practice", "slope of the inner face of a channel's flange, 2 in 12"), "k_sl")


@formula(
    Source("derivation", "mean flange thickness at half of the flange's clear width, less the slope from there"), t_toe="in"
)
def toe_thickness(t_f, b_f, t_w, k_sl):
    """Return the thickness of a channel's flange at its toe."""
    t_toe = t_f - k_sl * (b_f - t_w) / 2
    return t_toe


@formula(_OUTLINE, s_p="in")
def flange_reach(b_f, t_w):
    """Return how far the toes of a channel stand before its web."""
    s_p = b_f - t_w
    return s_p


@dataclass(frozen=True)
class Rail:
    """The rail where it is bolted: thickness and depth of the wall, thickness of its edges, area, steel, table.

    ``k`` is what a fillet or a corner takes of the flat of the wall at each edge; None for walls that are not considered so.
    Channels only: ``h_w`` clear depth of the web, ``t_toe`` thickness of the flanges at their toes, ``s_p`` how far the toes
    stand before the web.
    """

    shape: str
    family: str
    t: Value
    d: Value
    t_b: Value
    A_g: Value
    F_y: Value
    F_u: Value
    k: Value | None = None
    h_w: Value | None = None
    t_toe: Value | None = None
    s_p: Value | None = None


def rail_of(shape: str, F_y: Value, F_u: Value) -> Rail:
    """Return what connections need of a rail.

    Raises:
        LookupFailed: No table holds the shape.

    """
    of = section(shape)
    t, d, t_b = (of.cell(shape, column, symbol) for column, symbol in zip(_RAIL[of.name], ("t_r", "d_r", "t_b"), strict=True))
    k = of.cell(shape, "k", "k") if of.name == "channels" else corner_radius(t=t).named("k") if of.name == "hss" else None
    rail = Rail(shape, of.name, t, d, t_b, of.cell(shape, "A", "A_g"), F_y, F_u, k)
    if of.name != "channels":
        return rail
    b_f = of.cell(shape, "b_f", "b_f")
    toe = toe_thickness(t_f=t_b, b_f=b_f, t_w=t, k_sl=SLOPE)
    return replace(rail, h_w=clear_web(d=d, t_f=t_b).named("h_w"), t_toe=toe, s_p=flange_reach(b_f=b_f, t_w=t))


@dataclass(frozen=True)
class Post:
    """The post where clips and the base plate are welded to it.

    Attributes:
        wall: The wall clips stand on: the side of a tube, the clear web of a wide flange, the wall of a pipe.
        face: The flat face across which a rail is welded; None without one.
        foot: Line of the weld all round its foot; x along the rack, y across it.
        t_foot: Thinnest part welded at the foot.
        A, S_x, S_y: Area and elastic moduli.

    """

    shape: str
    family: str
    wall: Wall
    face: Wall | None
    foot: WeldLine
    t_foot: Value
    A: Value
    S_x: Value
    S_y: Value
    F_y: Value
    F_u: Value


def post_of(shape: str, F_y: Value, F_u: Value) -> Post:
    """Return what connections need of a post, which stands with its depth across the rack.

    Raises:
        LookupFailed: No table holds the shape.

    """
    of = section(shape)

    def cell(column: str, symbol: str = "") -> Value:
        return of.cell(shape, column, symbol or column)

    if of.name == "pipes":
        D, t = cell("OD", "D"), cell("t_des", "t")
        S = cell("S")
        return Post(shape, of.name, Wall("round", D, t, F_y, F_u), None, ring(D), t, cell("A"), S, S, F_y, F_u)
    if of.name == "hss":
        B, H, t = cell("B"), cell("H"), cell("t_des", "t")
        r = corner_radius(t=t)
        wall, face = Wall("flat", H.named("B"), t, F_y, F_u, r), Wall("flat", B, t, F_y, F_u, r)
        foot = tube(B, H, r)
        return Post(shape, of.name, wall, face, foot, t, cell("A"), cell("S_x"), cell("S_y"), F_y, F_u)
    d, b_f, t_w = cell("d"), cell("b_f"), cell("t_w")
    h = clear_web(d=d, t_f=cell("t_f"))
    wall, foot = Wall("flat", h.named("B"), t_w.named("t"), F_y, F_u), flanged(d, b_f, t_w, h)
    return Post(shape, of.name, wall, None, foot, t_w, cell("A"), cell("S_x"), cell("S_y"), F_y, F_u)


#: Steel of plates and clips, which the job does not name.
PLATE = "A36"
PLATE_SAID = "Plates and clips are of A36, common practice: the job names no steel for them."


def plate_steel() -> tuple[Value, Value]:
    """Return F_y and F_u of plates and clips."""
    of = table("materials")
    return of.cell(PLATE, "F_y", "F_yp"), of.cell(PLATE, "F_u", "F_up")

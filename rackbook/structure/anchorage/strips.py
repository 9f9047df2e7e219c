"""How the plate of a base bends: its cantilevers beyond the post, and the strip that one rod bends."""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.tables import section
from rackbook.trace import Value, given, largest

from .bearing import lever, lever_line, spread
from .clauses import derived, dg1
from .plan import Whole, edge_of_plate, half
from .plate import cantilever, inner_cantilever

NOT_REDUCED = given(1.0, "", dg1("inner cantilever not reduced, which is conservative"), "lamb")
FACE = given(1.0, "", derived("face of the web"), "k_y")


@dataclass(frozen=True, eq=False)
class Strip:
    """Bending of the plate by one rod: direction, lever about the yield line, width it bends."""

    name: str
    x: Value
    b_eff: Value


def cantilevers(of: Whole) -> tuple[Value, Value, Value]:
    """Return the plate's cantilevers across (m) and along the rack (n), and the longest, the inner one of a W shape too."""
    post, shape = of.post, of.post.outline
    m = cantilever(N=of.plate.B, k_y=post.k_y, d=shape.depth)
    n = cantilever(N=of.plate.N, k_y=post.k_x, d=shape.width).named("n")
    if post.family != "wide_flanges" and m.magnitude == n.magnitude:
        return m, n, m
    inner = {}
    if post.family == "wide_flanges":
        inner["lambda n'"] = inner_cantilever(lamb=NOT_REDUCED, d=shape.depth, b_f=shape.width)
    return m, n, largest("l", {"m, across": m, "n, along": n, **inner})


def strips(of: Whole) -> tuple[Strip, ...]:
    """Return how one rod bends the plate: across and along the rack, by the spread at 45 degrees.

    A rod in a corner is counted whole each way; bending about the slanted line at the post's corner gives T / 2 a unit of
    width, which is never more than either. A rod between the flanges bends the plate about the web.
    """
    post, rods, shape = of.post, of.rods, of.post.outline
    found = []
    for name, s, d, k, side, apart, edge in (
        ("across the rack", rods.s_y, shape.depth, post.k_y, rods.s_x, rods.apart("x"), of.plate.N),
        ("along the rack", rods.s_x, shape.width, post.k_x, rods.s_y, rods.apart("y"), of.plate.B),
    ):
        wall = post.wall if post.family != "wide_flanges" or name.startswith("across") else None
        x = lever(half(s=s).named("f"), d, k, wall)
        if x.magnitude > 0:
            found.append(Strip(name, x, spread(x=x, a=edge_of_plate(N=edge, s=side), s=apart)))
    if not found and post.family in ("wide_flanges", "channels"):
        web = section(shape.shape).cell(shape.shape, "t_w", "t_w")
        x = lever_line(f=half(s=rods.s_x).named("f"), k_y=FACE, d=web)
        found.append(Strip("between the flanges", x, spread(x=x, a=x, s=rods.s_y)))
    return tuple(found)

"""What the rods must keep: spacing, edge, room inside the cage and beside the post, steel around them at the top."""

from __future__ import annotations

from typing import Any

from rackbook.tables import table
from rackbook.trace import Check, Source, Value, check, formula, largest, smallest
from rackbook.trace.maths import sqrt

from ..concrete import aci
from ..steel import clause as aisc
from .clauses import derived
from .fits import CLOSED
from .plan import Whole, edge_of_plate
from .reinforcement import tie_diameter
from .rods import Rod, cage_inside, least_edge, least_spacing, nut_half, rods_outside_round, rods_outside_square

CAGE = Source("common practice", "rods stand inside the cage of the pier")
NUT = Source("common practice", "a nut turns freely beside the post")


@formula(derived("rod beside a flat wall"), g="in")
def beside_wall(s, d):
    """Return the distance of a rod's center from the post's face."""
    g = (s - d) / 2
    return g


@formula(derived("corner rod beside a round post"), g="in")
def beside_round(s_x, s_y, d):
    """Return the distance of a corner rod's center from a round post."""
    g = (sqrt(s_x**2 + s_y**2) - d) / 2
    return g


def details(job: Any, of: Whole, one: Rod) -> tuple[list[Check], list[str]]:
    """Return the checks of least distances, and notes on the detail."""
    piers = job.piers
    s = smallest("s", {"along": of.rods.apart("x"), "across": of.rods.apart("y")})
    c = smallest("c", {"along": of.rods.c_x, "across": of.rods.c_y})
    checks = [
        check("Spacing of the rods", least_spacing(d_a=one.d_a), s, aci("17.9.2"), remedy="Set the rods further apart."),
        check("Edge distance of the rods", least_edge(c_c=piers.cover, d_a=one.d_a), c, aci("17.9.2"),
              remedy="Set the rods closer or widen the pier."),
    ]  # fmt: skip
    sides = {"along": (of.plate.N, of.rods.s_x), "across": (of.plate.B, of.rods.s_y)}
    a = smallest("a", {name: edge_of_plate(N=size, s=s_o) for name, (size, s_o) in sides.items()})
    least = table("bolts").cell(one.d_a, "L_e_min", "L_e", {"diameter": one.d_a})
    checks.append(check("Rods inside the plate's edge", least, a, aisc("Table J3.4"), remedy="Take a larger base plate."))
    if piers.bars is not None:
        d_b = table("rebar").cell(str(piers.bars.size), "d_b", "d_b")
        inside = cage_inside(D=of.D, c_c=piers.cover, d_t=tie_diameter(piers.ties), d_b=d_b)
        reach = rods_outside_round if of.pier_shape == "round" else rods_outside_square
        checks.append(
            check("Rods inside the cage", reach(s_x=of.rods.s_x, s_y=of.rods.s_y, d_a=one.d_a), inside, CAGE,
                  remedy="Set the rods closer or widen the pier.")
        )  # fmt: skip
    if of.post.family in CLOSED:
        checks.append(check("Nut beside the post", nut_half(F=one.F), _beside(of), NUT, remedy="Set the rods further apart."))
    return checks, _notes(job)


def _beside(of: Whole) -> Value:
    """Return the least room between a rod and the post."""
    post = of.post.outline
    along, across = beside_wall(s=of.rods.s_x, d=post.width), beside_wall(s=of.rods.s_y, d=post.depth)
    middle = {"middle of the side rows": along} if (of.rods.j == 0).any() else {}
    middle |= {"middle of the front and back rows": across} if (of.rods.i == 0).any() else {}
    if of.post.round:
        corner = beside_round(s_x=of.rods.s_x, s_y=of.rods.s_y, d=post.depth)
    else:
        corner = largest("g", {"along": along, "across": across})
    return smallest("g", {"corner rods": corner, **middle}) if middle else corner


def _notes(job: Any) -> list[str]:
    notes = [
        "Rods are cast in, headed with a heavy hex nut (and plate washer where given), snug-tight and not torqued. "
        "Normal-weight concrete, cracked, without supplementary reinforcement.",
        "Holes of base plates are oversize: weld the washers on the plate to it, so that all rods share the shear. Toward an "
        "edge the rods nearest to it are taken to carry all of it. Friction under the plate is not counted.",
    ]
    if job.piers.ties is not None:
        notes.append(
            "Two ties of No. 4, or three of No. 3, go within 5 in. of the pier's top around rods and upright bars (ACI 318-19, "
            "10.7.6.1.5; confirm against the adopted edition)."
        )
    else:
        notes.append("No ties are given: a pier's top needs them around rods and upright bars (ACI 318-19, 10.7.6.1.5).")
    return notes

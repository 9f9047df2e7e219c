"""What the rods must keep: spacing, edge, room inside the cage and beside the post, steel around them at the top."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.tables import table
from rackbook.trace import Check, Source, Value, check, formula, given, largest, smallest
from rackbook.trace.maths import sqrt

from ..concrete import aci
from ..steel import clause as aisc
from .clauses import derived, dg1
from .fits import CLOSED
from .plan import Whole, edge_of_plate
from .reinforcement import tie_diameter
from .rods import (
    Rod,
    cage_inside,
    least_edge,
    least_spacing,
    nut_half,
    projection,
    rod_length,
    rods_outside_round,
    rods_outside_square,
    top_washer,
)

QUARTER = given(0.25, "in", Source("common practice", "rods are ordered in quarter inches"), "q")
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


@formula(dg1("grout: compressive strength of twice that of the concrete"), f_gmin="psi")
def grout_strength(f_c_prime):
    """Return the minimum compressive strength of the grout."""
    f_gmin = 2 * f_c_prime
    return f_gmin


def details(job: Any, of: Whole, one: Rod) -> tuple[list[Check], list[str]]:
    """Return the checks of minimum distances and of the grout, and notes on the detail."""
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
    checks.append(
        check("Edge distance of the rods in the plate", least, a, aisc("Table J3.4"), remedy="Use a larger base plate.")
    )
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
    return [*checks, *_grout_checks(job)], _notes(job)


def _grout_checks(job: Any) -> list[Check]:
    """Return the strength of the grout; open where the job does not give it."""
    anchors = job.anchors
    if anchors.grout.magnitude <= 0:
        return []
    least = grout_strength(f_c_prime=job.piers.concrete)
    remedy = f"Grout of {least.text()} or more (anchors.grout_strength)."
    return [check("Strength of the grout", least, anchors.grout_strength, dg1("grout: twice the concrete"), remedy=remedy)]


@dataclass(frozen=True)
class Set:
    """How a rod is set: hole in the plate, washer on it, projection above the concrete, length; None where not listed."""

    hole: Value | None
    washer: Value | None
    t_w: Value
    l_p: Value
    l_r: Value


def setting(job: Any) -> Set:
    """Return how the rods of a job with anchors and base plate are set."""
    a, of, d = job.anchors, table("anchor_holes"), job.anchors.diameter
    by = {"diameter": d}
    hole, washer = (of.cell(d, n, s, by) if of.has(d, n) else None for n, s in (("hole", "d_h"), ("washer", "w_w")))
    t_w = top_washer(d)
    l_p = projection(t_g=a.grout, t_p=job.frame.base_plate.thickness, t_w=t_w, d_a=d, q=QUARTER)
    return Set(hole, washer, t_w, l_p, rod_length(l_p=l_p, h_ef=a.embedment, d_a=d, q=QUARTER))


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
    return [
        "Rods are cast in, headed with a heavy hex nut (and plate washer where given), snug-tight and not torqued. "
        "Normal-weight concrete, cracked, without supplementary reinforcement.",
        "Holes are oversize: washers are welded to the plate, so that all rods share the shear. Toward an edge the rods "
        "nearest to it carry all of it. Friction is not counted.",
    ]

"""The piers of a job as concrete bodies: size, depth, weight, volume, and the width that counts against the soil."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.loads.members import post_lines, post_rows
from rackbook.trace import Source, Value, formula, given
from rackbook.trace.maths import max

from .embedment import diagonal
from .vertical import (
    all_volume,
    concrete_weight,
    pier_volume,
    pier_weight,
    round_area,
    round_perimeter,
    square_area,
    square_perimeter,
)

NO_GROUT = given(0.0, "in", Source("derivation", "no grout: the plate stands on the concrete"), "t_g")


@formula(Source("derivation", "geometry of the footing"), D_p="ft")
def pedestal_depth(D, h_f):
    """Return how far a pier reaches below grade, down to the top of its footing."""
    D_p = max(0, D - h_f)
    return D_p


@dataclass(frozen=True)
class Pier:
    """One pier of a job; all are alike.

    Attributes:
        shape: ``"round"`` or ``"square"``.
        size: Diameter or side.
        b: Width that counts against the soil: the diameter, or the diagonal of a square.
        A_p, p_p: Area and perimeter.
        D: Depth of its base below grade; on a footing, of the footing's top.
        e: Height above grade.
        t_g: Grout between pier and base plate.
        count: How many there are.
        gamma_c: Unit weight of concrete.
        W_p, V_p, V_t: Weight and volume of one, volume of all.

    """

    shape: str
    size: Value
    b: Value
    A_p: Value
    p_p: Value
    D: Value
    e: Value
    t_g: Value
    count: Value
    gamma_c: Value
    W_p: Value
    V_p: Value
    V_t: Value


def pier(job: Any) -> Pier:
    """Return the piers of a job."""
    of = job.piers
    shape, size = str(of.shape), of.diameter
    is_round = shape == "round"
    A_p = round_area(b=size) if is_round else square_area(s=size)
    p_p = round_perimeter(b=size) if is_round else square_perimeter(s=size)
    D = of.embedment if of.footing is None else pedestal_depth(D=of.footing.depth, h_f=of.footing.thickness)
    t_g = job.anchors.grout if job.anchors is not None else NO_GROUT
    number = len(post_lines(job)) * len(post_rows(job))
    count = given(number, "", Source("derivation", "one pier under each post"), "n_p")
    gamma_c = concrete_weight()
    V_p = pier_volume(A_p=A_p, D=D, e=of.projection)
    return Pier(
        shape, size, size if is_round else diagonal(s=size), A_p, p_p, D, of.projection, t_g, count, gamma_c,
        pier_weight(gamma_c=gamma_c, A_p=A_p, D=D, e=of.projection), V_p, all_volume(n=count, V_p=V_p),
    )  # fmt: skip

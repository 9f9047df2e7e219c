"""Wind on the ice-covered rack: the wind's own machinery on parts that are thicker by the ice; ASCE/SEI 7, 10.5."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from rackbook.loads.geometry import Parts
from rackbook.loads.wind.faces import DIRECTIONS, Loose, loose
from rackbook.loads.wind.groups import Conditions, loose_group
from rackbook.loads.wind.rack import Direction, Wind, conditions, direction_loads, totals
from rackbook.trace import Value, formula, largest

from .accretion import clause, thickness

_FREE_EDGES = clause("10.5, design thickness added to all free edges of the projected area")


@formula(_FREE_EDGES, b_i="ft")
def grown_side(b, t_d):
    """Return the side of a body with ice on both ends of it."""
    b_i = b + 2 * t_d
    return b_i


@formula(_FREE_EDGES, A_f="ft**2")
def grown_area(A, D, t_d):
    """Return the projected area of a bar of width D with ice along both edges."""
    A_f = A * (1 + 2 * t_d / D)
    return A_f


def gust(job: Any) -> Conditions:
    """Return the conditions of the wind with the gust that goes with the ice."""
    return replace(conditions(job), V=job.site.ice.wind)


def iced(rack: Parts, t_d: Value) -> Parts:
    """Return the boxes of the rack grown by the ice; ``t_d`` has one entry a part."""
    sides = {s: grown_side(b=getattr(rack, s), t_d=t_d).named(s) for s in ("w", "d", "h")}
    return replace(rack, **sides)


def wind_on_ice(job: Any, rack: Parts, t_d: Value, at: Conditions) -> Wind:
    """Return the wind on the ice-covered rack from all four sides.

    Args:
        job: The job.
        rack: The boxes without ice.
        t_d: Design ice thickness of every box.
        at: Conditions with the concurrent gust.

    """
    grown = iced(rack, t_d)
    made = {name: _with_ice(job, rack, grown, at, name) for name in DIRECTIONS}
    return Wind(
        at.edition, at, grown, **made,
        across=largest("V_w", {"front": made["front"].V, "back": made["back"].V}),
        along=largest("V_w", {"left": made["left"].V, "right": made["right"].V}),
        checks=(),
    )  # fmt: skip


def _with_ice(job: Any, rack: Parts, grown: Parts, at: Conditions, name: str) -> Direction:
    """Return one direction; what is no box (conduit, braces, canopy edges) grows by its own thickness."""
    bare = direction_loads(job, grown, at, name)
    groups = tuple(g for g in bare.groups if g.figure != "loose parts")
    rest = loose(job, rack, name, groups[0].epsilon)
    if rest is None:
        return bare
    return totals(grown, name, bare.along, (*groups, loose_group(at, _grown(job, rest, at), groups[0])))


def _grown(job: Any, rest: Loose, at: Conditions) -> Loose:
    t_d = thickness(job.codes.loads, job.site.ice.thickness, rest.z, job.site.risk_category, at.K_zt(rest.z)).t_d
    A = grown_area(A=rest.A, D=rest.D, t_d=t_d).named("A")
    return replace(rest, A=A, D=grown_side(b=rest.D, t_d=t_d).named("D"))

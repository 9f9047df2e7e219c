"""Wind on the ice-covered rack: the wind's own machinery on parts that are thicker by the ice; ASCE/SEI 7, 10.5."""

from __future__ import annotations

import functools
from dataclasses import replace
from typing import Any

from rackbook.loads.geometry import Parts
from rackbook.loads.wind.conditions import Conditions
from rackbook.loads.wind.faces import DIRECTIONS, Loose
from rackbook.loads.wind.rack import Wind, conditions, direction_loads
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
    """Return the conditions of the wind with the gust that goes with the ice; the minimum pressure is the wind's alone."""
    return replace(conditions(job), V=job.site.ice.wind, p_min=None)


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
    bigger = functools.partial(_grown, job, at)
    made = {name: direction_loads(job, grown, at, name, rack, bigger) for name in DIRECTIONS}
    return Wind(
        at.edition, at, grown, **made,
        across=largest("V_w", {"front": made["front"].V, "back": made["back"].V}),
        along=largest("V_w", {"left": made["left"].V, "right": made["right"].V}),
        checks=(),
    )  # fmt: skip


def _grown(job: Any, at: Conditions, rest: Loose) -> Loose:
    """Return what is no box (conduit, braces, canopy edges) grown by the ice of its own height."""
    t_d = thickness(job.codes.loads, job.site.ice.thickness, rest.z, job.site.risk_category, at.K_zt(rest.z)).t_d
    A = grown_area(A=rest.A, D=rest.D, t_d=t_d).named("A")
    return replace(rest, A=A, D=grown_side(b=rest.D, t_d=t_d).named("D"))

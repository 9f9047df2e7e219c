"""Foundations that turn in the soil: the rotational stiffness each must have for the drift of the rack to stay in its limit.

The frame is analyzed on fixed bases. What a pier or footing turns is found by the geotechnical engineer; the stiffness it
must have is found here, and the check stays open until it is confirmed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from rackbook.trace import Check, Source, Value, check, formula, given, largest
from rackbook.trace.maths import abs, sum

from .analysis import Analysis
from .second_order import Sway
from .service import Moved
from .superpose import take

_STATICS = Source("derivation", "statics of a post on a base that turns")
SOURCE = Source("common practice", "drift of a rack in service with its foundations' rotation")
REMEDY = (
    "Have the geotechnical engineer confirm the rotational stiffness at the top of a pier or footing in service, its lateral "
    "movement counted as rotation; or stiffen the foundations or the rack."
)
AXES = {"along": ("M_y", 1), "across": ("M_x", 0)}


@formula(_STATICS, M_0="kip*in")
def base_moment(B_2, c, Y):
    """Return the moment on a foundation in service."""
    M_0 = abs(B_2 * sum(c * Y))
    return M_0


@formula(_STATICS, theta_a="")
def rotation_left(Delta_a, Delta_2, L):
    """Return the rotation of the foundations that uses up the drift limit."""
    theta_a = (Delta_a - Delta_2) / L
    return theta_a


@formula(_STATICS, k_theta="kip*in")
def rotational_stiffness(M_0, theta_a):
    """Return the rotational stiffness (moment per radian) at which a foundation turns by theta_a."""
    k_theta = M_0 / theta_a
    return k_theta


@dataclass(frozen=True)
class Turning:
    """What the foundations must be for the drift limit.

    Attributes:
        by: Required stiffness by direction.
        k_theta: The larger.
        n: Number of posts.
        check: The open check of it.

    """

    by: dict[str, Value]
    k_theta: Value
    n: Value
    check: Check


def turning(analysis: Analysis, drift: Mapping[str, Moved], sways: Mapping[str, Sway]) -> Turning | None:
    """Return the rotational stiffness each foundation must have; None for pinned bases, or where drift is over its limit."""
    if not analysis.task.layout.fixed:
        return None
    by = {}
    for direction, moved in drift.items():
        if moved.value.m_as("in") >= moved.limit.m_as("in"):
            return None
        component, axis = AXES[direction]
        of = analysis.results["reaction moments"]
        base = int(np.argmax(np.abs(of.magnitude[axis] @ moved.c.magnitude)))
        mark = analysis.solved.built.post_marks[base]
        Y = take(of, (axis, base), f"{component} at {mark}", f"{component}_i")
        M_0 = base_moment(B_2=moved.B_2, c=moved.c, Y=Y)
        theta_a = rotation_left(Delta_a=moved.limit, Delta_2=moved.value, L=sways[direction].L)
        by[direction] = rotational_stiffness(M_0=M_0, theta_a=theta_a)
    worst = max(by, key=lambda d: float(by[d].magnitude))
    n = given(float(len(analysis.solved.built.posts)), "", Source("derivation", "number of posts"), "n")
    k_theta = largest("k_theta", by)
    name = f"Rotational stiffness of each foundation for the drift {worst} the rack (per radian)"
    return Turning(by, k_theta, n, check(name, k_theta, None, SOURCE, remedy=REMEDY))

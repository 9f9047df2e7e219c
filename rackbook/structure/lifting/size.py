"""Overall size of what goes on a truck: to the extreme of anything fixed to the rack, base plates and lugs included."""

from __future__ import annotations

import functools
from typing import Any

import numpy as np

from rackbook.loads.geometry import Parts, parts, read
from rackbook.trace import Source, Value, formula

from .modules import Hanging

_BOX = Source("derivation", "extremes of all parts fixed to the rack: members, equipment, tray, base plates, lugs")


@formula(_BOX, L_0="ft")
def overall_length(x_max, x_min):
    """Return the overall length of what goes on a truck."""
    L_0 = x_max - x_min
    return L_0


@formula(_BOX, B_0="ft")
def overall_width(y_max, y_min):
    """Return the overall width."""
    B_0 = y_max - y_min
    return B_0


@formula(_BOX, z_top="ft")
def top_of_lug(z_p, R):
    """Return the top of the lugs above grade."""
    z_top = z_p + R
    return z_top


def overall(job: Any, loads: tuple[Hanging, ...], top: Value | None) -> tuple[Value, Value, Value, dict[str, Value]]:
    """Return length (of the longest module), width, height of the top above grade, and the extremes by their symbols."""
    rack = parts(job)
    ends = {"x_min": _end(job, rack, "x", -1.0), "x_max": _end(job, rack, "x", 1.0)}
    across = {"y_min": _end(job, rack, "y", -1.0), "y_max": _end(job, rack, "y", 1.0)}
    long = [
        overall_length(x_max=ends["x_max"] if of is loads[-1] else of.b, x_min=ends["x_min"] if of is loads[0] else of.a)
        for of in loads
    ]
    z = read("top of all parts", _BOX, "ft", _far, {"center": rack.z.to("ft"), "size": rack.h.to("ft")}, "z_max")
    if top is not None and top.m_as("ft") > z.m_as("ft"):
        z = top.named("z_max")
    return sorted(long, key=lambda L: L.m_as("ft"))[-1], overall_width(**across), z, {**ends, **across}


def _end(job: Any, rack: Parts, axis: str, side: float) -> Value:
    """Return the extreme of parts and base plates along (x) or across (y) the rack, on one side."""
    size, plate = {"x": "w", "y": "d"}[axis], job.frame.base_plate
    known = {"center": getattr(rack, axis).to("ft"), "size": getattr(rack, size).to("ft")}
    if plate is not None:
        # base plates stand about the outer post lines, or about the rows of posts
        known["plate"] = (plate.length if axis == "x" else plate.width).to("in")
        known["span"] = rack.length.to("ft") if axis == "x" else job.frame.depth.to("ft")
    work = functools.partial(_extreme, side, 0.5 if axis == "x" else 0.0)
    return read("extreme of all parts and base plates", _BOX, "ft", work, known, f"{axis}_{'max' if side > 0 else 'min'}")


def _extreme(
    side: float, middle: float, center: np.ndarray, size: np.ndarray, plate: float | None = None, span: float = 0.0
) -> float:
    ends = center + side * size / 2
    own = side * float(np.max(side * ends))
    if plate is None:
        return own
    under = middle * span + side * (span + plate / 12) / 2
    return side * float(np.maximum(side * own, side * under))


def _far(center: np.ndarray, size: np.ndarray) -> float:
    return float(np.max(center + size / 2))

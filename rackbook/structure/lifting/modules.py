"""What hangs on the hook: the whole rack, or one module between its splices, as loads along the rack."""

from __future__ import annotations

import functools
import itertools
from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.geometry import read
from rackbook.loads.members import ORIGIN, overall_length, rack_length
from rackbook.loads.weights import Weights, cg_coordinate, total
from rackbook.loads.weights.total import cg_across, cg_height
from rackbook.trace import Source, Value, formula

_CUT = Source("derivation", "parts cut at the splices; what is spread is shared by length, an item goes with its center")
_ENDS = Source(
    "derivation",
    "rails, hardware and zinc are spread over the rails' length, services between the end posts; all else is at its center",
)
#: Groups of parts that run over the whole length; hardware and zinc follow the frame's weight and surface.
SPREAD_OUT = "rails, services, hardware and zinc, spread evenly"
SPREAD, FOLLOWING = ("services",), ("hardware", "zinc")


@formula(Source("derivation", "weight that is used over that of the take-off"), k="")
def scale(W, W_e):
    """Return the factor that brings the take-off to the weight that is used: one, or that of the scale."""
    k = W / W_e
    return k


@formula(Source("derivation", "part's share within the module"), w_m="lbf")
def part_weight(k, f, w):
    """Return the weight of each part within the module."""
    w_m = k * f * w
    return w_m


@dataclass(frozen=True)
class Hanging:
    """What is lifted at once.

    Attributes:
        name: ``rack`` or ``module 2``.
        a, b: Its ends along the rack, from the left post line.
        W_0: Its weight, with its center ``x_bar``, ``y_bar``, ``z_bar``.
        w, x: Weight of every part of the take-off within it, and its place; ``lo`` and ``hi`` are the ends of what is spread.
        labels: What each part is told as: an item by its own name, the frame and what is spread in groups.

    """

    name: str
    a: Value
    b: Value
    W_0: Value
    x_bar: Value
    y_bar: Value
    z_bar: Value
    w: Value
    x: Value
    lo: Value
    hi: Value
    labels: tuple[str, ...]


def hanging(job: Any, weights: Weights) -> tuple[Hanging, ...]:
    """Return the whole rack, or its modules from the left when the rails have splices.

    Without splices weight and center are those of the weights, measured where there is a measurement; modules take the
    take-off's centers, and its weights scaled to the measured total.

    """
    return _modules(job, weights) if job.frame.splices else (whole(job, weights),)


def whole(job: Any, weights: Weights) -> Hanging:
    """Return the whole rack as one load."""
    left, right = ORIGIN, rack_length(job)
    lo, hi = _ends(job, weights)
    k = scale(W=weights.W, W_e=weights.estimate)
    f = read("whole parts", _CUT, "", functools.partial(_all, len(weights.parts)), {"w": weights.w}, "f")
    w = part_weight(k=k, f=f, w=weights.w)
    x = read("place of each load", _ENDS, "ft", _middles, {"x": weights.x, "lo": lo, "hi": hi}, "x")
    return Hanging("rack", left, right, weights.W, weights.x_bar, weights.y_bar, weights.z_bar, w, x, lo, hi, _labels(weights))


def _modules(job: Any, weights: Weights) -> tuple[Hanging, ...]:
    lo, hi = _ends(job, weights)
    cuts = (ORIGIN, *job.frame.splices, rack_length(job))
    kinds = np.array([p.group for p in weights.parts])
    areas = np.array([p.area.m_as("ft**2") if p.area is not None else 0.0 for p in weights.parts])
    k = scale(W=weights.W, W_e=weights.estimate)
    found = []
    for n, (a, b) in enumerate(itertools.pairwise(cuts), 1):
        at = {"x": weights.x, "lo": lo, "hi": hi, "a": a.to("ft"), "b": b.to("ft")}
        ends = (n == 1, n == len(cuts) - 1)
        share = functools.partial(_shares, kinds, areas, ends)
        f = read("share of each part in the module", _CUT, "", share, {"w": weights.w, **at}, "f")
        w = part_weight(k=k, f=f, w=weights.w)
        center = functools.partial(_centers, kinds, areas, ends)
        x = read("place of each load in the module", _CUT, "ft", center, {"w": weights.w, **at}, "x")
        low = read("left end in the module", _CUT, "ft", functools.partial(_clipped, ends), {"of": lo, **_only(at)}, "lo")
        high = read("right end in the module", _CUT, "ft", functools.partial(_clipped, ends), {"of": hi, **_only(at)}, "hi")
        W = total(w=w).named("W")
        place = (cg_coordinate(w=w, x=x, W=W), cg_across(w=w, y=weights.y, W=W), cg_height(w=w, z=weights.z, W=W))
        found.append(Hanging(f"module {n}", a, b, W, *place, w, x, low, high, _labels(weights)))
    return tuple(found)


def _only(at: dict[str, Value]) -> dict[str, Value]:
    return {name: at[name] for name in ("a", "b")}


def _ends(job: Any, weights: Weights) -> tuple[Value, Value]:
    """Return left and right end of every part along the rack; both are its center where it is not spread.

    Rails on the faces of the posts run to the outer faces of the end posts; rails between the posts do not.
    """
    between = {f"rail {n}" for n, rail in enumerate(job.frame.rails, 1) if rail.face == "center"}
    whole = np.array([p.group in FOLLOWING or (_is_rail(p) and p.label not in between) for p in weights.parts])
    lines = np.array([p.group in SPREAD or p.label in between for p in weights.parts])
    roof = np.array([p.group == "canopy" for p in weights.parts])
    long = (whole, lines, roof)
    given = {"x": weights.x, "L": rack_length(job).to("ft"), "L_r": overall_length(job).to("ft")}
    if job.frame.canopy is not None:
        given["L_c"] = job.frame.canopy.length.to("ft")
    low = read("left end of each part", _ENDS, "ft", functools.partial(_end, long, -1.0), given, "lo")
    high = read("right end of each part", _ENDS, "ft", functools.partial(_end, long, 1.0), given, "hi")
    return low, high


def _labels(weights: Weights) -> tuple[str, ...]:
    """Return what each part is told as."""
    groups = {"services": SPREAD_OUT, "hardware": SPREAD_OUT, "zinc": SPREAD_OUT, "frame": "posts, plates, braces and ties"}
    return tuple(SPREAD_OUT if _is_rail(p) else groups.get(p.group, p.label) for p in weights.parts)


def _is_rail(part: Any) -> bool:
    return part.group == "frame" and part.label.startswith("rail ")


def _all(n: int, w: np.ndarray) -> np.ndarray:
    return np.ones(n)


def _end(long: tuple[np.ndarray, ...], side: float, x: np.ndarray, L: float, L_r: float, L_c: float = 0.0) -> np.ndarray:
    return np.select(long, [L / 2 + side * length / 2 for length in (L_r, L, L_c)], x)


def _middles(x: np.ndarray, lo: np.ndarray, hi: np.ndarray) -> np.ndarray:
    return np.where(hi > lo, (lo + hi) / 2, x)


def _within(a: float, b: float, ends: tuple[bool, bool]) -> tuple[float, float]:
    """Return the cuts of a module; the outer ones have what overhangs too."""
    return (-np.inf if ends[0] else a), (np.inf if ends[1] else b)


def _shares(
    kinds: np.ndarray,
    areas: np.ndarray,
    ends: tuple[bool, bool],
    w: np.ndarray,
    x: np.ndarray,
    lo: np.ndarray,
    hi: np.ndarray,
    a: float,
    b: float,
) -> np.ndarray:
    left, right = _within(a, b, ends)
    long = hi - lo
    inside = np.clip(np.minimum(hi, right) - np.maximum(lo, left), 0, None)
    share = np.where(long > 0, inside / np.where(long > 0, long, 1.0), (x >= left) & (x < right)).astype(float)
    frame = kinds == "frame"
    for kind, by in (("hardware", w), ("zinc", areas)):
        share = np.where(kinds == kind, np.sum((share * by)[frame]) / np.sum(by[frame]), share)
    return share


def _centers(
    kinds: np.ndarray,
    areas: np.ndarray,
    ends: tuple[bool, bool],
    w: np.ndarray,
    x: np.ndarray,
    lo: np.ndarray,
    hi: np.ndarray,
    a: float,
    b: float,
) -> np.ndarray:
    left, right = _within(a, b, ends)
    center = np.where(hi > lo, (np.maximum(lo, left) + np.minimum(hi, right)) / 2, x)
    share, frame = _shares(kinds, areas, ends, w, x, lo, hi, a, b), kinds == "frame"
    for kind, by in (("hardware", w), ("zinc", areas)):
        part = (share * by)[frame]
        if part.any():
            center = np.where(kinds == kind, np.sum(part * center[frame]) / np.sum(part), center)
    return center


def _clipped(ends: tuple[bool, bool], of: np.ndarray, a: float, b: float) -> np.ndarray:
    return np.clip(of, *_within(a, b, ends))

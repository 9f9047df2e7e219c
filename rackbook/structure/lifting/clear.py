"""Clearance: lugs, shackles and slings against equipment, tray, rails and canopy."""

from __future__ import annotations

import functools
from typing import Any

import numpy as np

from rackbook.loads.geometry import Parts, parts, read
from rackbook.trace import Check, Source, Value, check, given

from .legs import NEAR, Lift

#: Minimum room around lug, shackle and sling.
ROOM = given(1.0, "in", Source("common practice", "room for the shackle and the sling"), "c_min")
_ROOM = Source("derivation", "distance of lug, shackle and sling from the nearest part of the rack")
#: Points along a sling at which its distance is read off.
POINTS = 400


def clearance(job: Any, lifts: tuple[Lift, ...]) -> list[Check]:
    """Return whether lugs, shackles and slings are clear of all parts; open where a part stands in their way."""
    lug = job.lifting.lug
    if lug is None:
        return []
    rack, checks = parts(job), []
    reach = max(lug.radius.m_as("ft"), lug.pin.m_as("ft"))
    for made in (lift for lift in lifts if lift.legs):
        under = rack.of_kind("post" if made.on_posts else "rail")
        picks = [leg.x.m_as("ft") for leg in made.legs]
        if made.on_posts:
            under &= np.array([min(abs(x - p) for p in picks) <= NEAR for x in rack.x.magnitude])
        low = job.frame.height.m_as("ft") if made.on_posts else made.z_p.m_as("ft") - reach
        work = functools.partial(_apart, made, job.lifting.hook.m_as("ft"), low, reach, ~under)
        known = {name: getattr(rack, name) for name in ("x", "y", "z", "w", "d", "h")}
        near, tag = _nearest(rack, work)
        name = f"{made.said}Lugs and slings clear of other parts, required / provided"
        remedy = f"move {tag} clear of lugs and slings, or move the pick points"
        c: Value | None = None
        if near > 0:
            c = read(tag, _ROOM, "in", functools.partial(_least, work), known, "c")
        checks.append(check(name, ROOM, c, _ROOM, remedy=remedy))
    return checks


def _nearest(rack: Parts, work: Any) -> tuple[float, str]:
    apart = work(*(getattr(rack, name).magnitude for name in ("x", "y", "z", "w", "d", "h")))
    n = int(np.argmin(apart))
    return float(apart[n]), rack.tags[n]


def _least(work: Any, **boxes: np.ndarray) -> float:
    return 12 * float(np.min(work(*boxes.values())))


def _apart(
    made: Lift, h_s: float, low: float, reach: float, counted: np.ndarray, x: np.ndarray, y: np.ndarray, z: np.ndarray,
    w: np.ndarray, d: np.ndarray, h: np.ndarray,
) -> np.ndarray:  # fmt: skip
    """Return the distance of every part from the nearest lug with its shackle, or sling [ft]."""
    center, half = np.stack([x, y, z], axis=1), np.stack([w, d, h], axis=1) / 2
    z_p, out = made.z_p.m_as("ft"), np.full(len(x), np.inf)
    hook = np.array([made.of.x_bar.m_as("ft"), 0.0 if made.in_line else made.of.y_bar.m_as("ft"), z_p + h_s])
    for leg in made.legs:
        pick = np.array([leg.x.m_as("ft"), leg.y.m_as("ft"), z_p])
        lug, own = np.array([pick[0], pick[1], (low + z_p + reach) / 2]), np.array([reach, reach, (z_p + reach - low) / 2])
        out = np.minimum(out, np.linalg.norm(np.clip(np.abs(center - lug) - half - own, 0, None), axis=1))
        for point in np.linspace(pick, hook, POINTS):
            out = np.minimum(out, np.linalg.norm(np.clip(np.abs(center - point) - half, 0, None), axis=1))
    return np.where(counted, out, np.inf)

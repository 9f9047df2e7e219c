"""The rack hung at its picks, as a beam along its length: bending moments by statics."""

from __future__ import annotations

import functools
from collections.abc import Callable

import numpy as np

from rackbook.loads.geometry import read
from rackbook.trace import Source, Value

from .modules import Hanging

_BEAM = Source("derivation", "statics of a beam hung at its picks: loads at their places, largest moment of either sense")

#: A way of hanging: pairs of picks (by index) with the part of the load each pair carries.
State = tuple[tuple[int, int, float], ...]


def largest_moment(of: Hanging, I_m: Value, picks: tuple[Value, ...], states: tuple[State, ...]) -> Value:
    """Return the largest bending moment along the rack in any way of hanging, with impact.

    Args:
        of: What hangs.
        I_m: Impact factor.
        picks: Places of the picks along the rack.
        states: Ways of hanging; each pair of picks carries its part of every load by the lever rule.

    """
    given = {"w": of.w, "x": of.x, "lo": of.lo, "hi": of.hi, "I_m": I_m}
    given.update({f"x_{n}": x.to("ft") for n, x in enumerate(picks, 1)})
    return read("moment of the hung rack", _BEAM, "lbf*ft", functools.partial(_largest, states), given, "M")


def actions_at(of: Hanging, I_m: Value, picks: tuple[Value, ...], states: tuple[State, ...], x_s: Value) -> tuple[Value, Value]:
    """Return the largest shear and moment at one place, such as a splice, with impact."""
    given = {"w": of.w, "x": of.x, "lo": of.lo, "hi": of.hi, "I_m": I_m, "x_s": x_s.to("ft")}
    given.update({f"x_{n}": x.to("ft") for n, x in enumerate(picks, 1)})
    V = read("shear at a place", _BEAM, "lbf", functools.partial(_at, _shear, states), given, "V_s")
    return V, read("moment at a place", _BEAM, "lbf*ft", functools.partial(_at, _moment, states), given, "M_s")


def _largest(
    states: tuple[State, ...], w: np.ndarray, x: np.ndarray, lo: np.ndarray, hi: np.ndarray, I_m: float, **picks: float
) -> float:
    places = np.array(list(picks.values()))
    return I_m * max(float(np.abs(moments(w, x, lo, hi, places, state)[1]).max()) for state in states)


def _at(
    action: Callable[..., np.ndarray],
    states: tuple[State, ...],
    w: np.ndarray,
    x: np.ndarray,
    lo: np.ndarray,
    hi: np.ndarray,
    I_m: float,
    x_s: float,
    **picks: float,
) -> float:
    places, s = np.array(list(picks.values())), np.array([x_s - 1e-6, x_s + 1e-6])  # just left and right of it
    return I_m * max(float(np.abs(action(w, x, lo, hi, *_reactions(w, x, places, state), s)).max()) for state in states)


def moments(
    w: np.ndarray, x: np.ndarray, lo: np.ndarray, hi: np.ndarray, picks: np.ndarray, state: State
) -> tuple[np.ndarray, np.ndarray]:
    """Return places and moments of the hung beam (sagging positive), exact at every peak.

    Args:
        w: Loads.
        x: Their centers.
        lo: Left ends of loads that are spread; ``lo`` and ``hi`` are equal for one at a point.
        hi: Right ends.
        picks: Places of the supports.
        state: Which pairs of picks carry which part.

    """
    at, R = _reactions(w, x, picks, state)
    breaks = np.unique(np.concatenate([np.where(hi > lo, lo, x), np.where(hi > lo, hi, x), at]))
    a, b = breaks[:-1], breaks[1:]
    middle = (a + b) / 2
    q = np.array([np.sum(np.where((lo < m) & (hi > m), w / np.where(hi > lo, hi - lo, 1.0), 0.0)) for m in middle])
    V = _shear(w, x, lo, hi, at, R, middle) + q * (b - a) / 2  # right of a
    peak = a + np.divide(V, q, out=np.full_like(V, -1.0), where=q > 0)
    places = np.unique(np.concatenate([breaks, peak[(peak > a) & (peak < b)]]))
    return places, _moment(w, x, lo, hi, at, R, places)


def _reactions(w: np.ndarray, x: np.ndarray, picks: np.ndarray, state: State) -> tuple[np.ndarray, np.ndarray]:
    at, R = [], []
    W, first = np.sum(w), np.sum(w * x)
    for i, j, part in state:
        right = part * (first - W * picks[i]) / (picks[j] - picks[i])
        at += [picks[i], picks[j]]
        R += [part * W - right, right]
    return np.array(at), np.array(R)


def _shear(w, x, lo, hi, at, R, s):
    spread = hi > lo
    long = np.where(spread, hi - lo, 1.0)
    part = np.where(spread, np.clip((s[:, None] - lo) / long, 0, 1), s[:, None] > x)
    return (R * (s[:, None] > at)).sum(axis=1) - (w * part).sum(axis=1)


def _moment(w, x, lo, hi, at, R, s):
    spread = hi > lo
    long = np.where(spread, hi - lo, 1.0)
    over = np.clip(s[:, None] - lo, 0, None) ** 2 - np.clip(s[:, None] - hi, 0, None) ** 2
    arm = np.where(spread, over / (2 * long), np.clip(s[:, None] - x, 0, None))
    return (R * np.clip(s[:, None] - at, 0, None)).sum(axis=1) - (w * arm).sum(axis=1)

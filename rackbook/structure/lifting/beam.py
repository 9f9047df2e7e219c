"""The rack hung at its picks, as a beam along its length: bending moments by statics."""

from __future__ import annotations

import numpy as np

#: A way of hanging: pairs of picks (by index) with the part of the load each pair carries.
State = tuple[tuple[int, int, float], ...]


def place_of_most(
    w: np.ndarray, x: np.ndarray, lo: np.ndarray, hi: np.ndarray, picks: np.ndarray, states: tuple[State, ...]
) -> float:
    """Return the place of the largest moment in any way of hanging [ft]."""
    found = [moments(w, x, lo, hi, picks, state) for state in states]
    places, M = max(found, key=lambda of: float(np.abs(of[1]).max()))
    return float(places[np.argmax(np.abs(M))])


def action_at(
    what: str,
    w: np.ndarray,
    x: np.ndarray,
    lo: np.ndarray,
    hi: np.ndarray,
    picks: np.ndarray,
    state: State,
    s: np.ndarray,
) -> float:
    """Return the largest shear (``V``) or moment (``M``) at some places in one way of hanging."""
    action = {"V": _shear, "M": _moment}[what]
    return float(np.abs(action(w, x, lo, hi, *_reactions(w, x, picks, state), s)).max())


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

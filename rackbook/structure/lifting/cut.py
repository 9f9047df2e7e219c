"""The hung rack cut at one place: what pulls up and what hangs left of it, as a table, and the shear and moment there."""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np

from rackbook.loads.geometry import read
from rackbook.trace import Source, Value, formula, given
from rackbook.trace.columns import column
from rackbook.trace.maths import abs, sum

from .beam import State, action_at, place_of_most
from .modules import Hanging

_BEAM = Source("derivation", "statics of a beam hung at its picks")
_LEFT = Source("derivation", "what hangs left of the cut; what is spread counts by its length left of it")
#: How near a load counts as at the cut, and on which side of it [ft].
NEAR = 1e-6


@formula(_BEAM, R="lbf")
def reaction(W, x_o, x_w, x_p):
    """Return the pull of a pick from the weight, by the lever rule (without impact)."""
    R = W * (x_o - x_w) / (x_o - x_p)
    return R


@formula(_BEAM, R="lbf")
def half_reaction(W, x_o, x_w, x_p):
    """Return the pull of a pick of two pairs that share alike (without impact)."""
    R = W / 2 * (x_o - x_w) / (x_o - x_p)
    return R


@formula(_BEAM, M_0="lbf*ft", M="lbf*ft")
def moment(I_m, p, a):
    """Return the moment at the cut with the impact factor: pulls (+) and weights (-) left of it by their distance."""
    M_0 = sum(p * a)
    M = I_m * abs(M_0)
    return M


@formula(_BEAM, V_0="lbf", V_x="lbf")
def shear(I_m, p):
    """Return the shear at the cut with the impact factor: pulls (+) and weights (-) left of it."""
    V_0 = sum(p)
    V_x = I_m * abs(V_0)
    return V_x


@dataclass(frozen=True)
class Cut:
    """One cut: its place, the pulls left of it, the rows (what, force up, distance to the cut), shear and moment."""

    x: Value
    pulls: tuple[Value, ...]
    rows: tuple[tuple[str, Value, Value], ...]
    V: Value
    M: Value


def largest_moment(of: Hanging, I_m: Value, picks: tuple[Value, ...], states: tuple[State, ...]) -> Cut:
    """Return the cut of the largest bending moment along the rack in any way of hanging.

    Args:
        of: What hangs.
        I_m: Impact factor.
        picks: Places of the picks along the rack.
        states: Ways of hanging; each pair of picks carries its part of every load by the lever rule.

    """
    loads = {"w": of.w, "x": of.x, "lo": of.lo, "hi": of.hi, **{f"x_{n}": x.to("ft") for n, x in enumerate(picks, 1)}}
    x_M = read("place of the maximum moment", _BEAM, "ft", functools.partial(_place, states), loads, "x_M")
    return cut(of, I_m, picks, _most(of, picks, states, x_M, "M"), x_M)


def at_place(of: Hanging, I_m: Value, picks: tuple[Value, ...], states: tuple[State, ...], x: Value) -> tuple[Value, Cut]:
    """Return the largest shear at one place such as a splice, and the cut of the largest moment there."""
    by_side = [cut(of, I_m, picks, _most(of, picks, states, x, "V"), x, side) for side in (-NEAR, NEAR)]
    V = max((c.V for c in by_side), key=lambda v: v.magnitude)
    return V, cut(of, I_m, picks, _most(of, picks, states, x, "M"), x)


def cut(of: Hanging, I_m: Value, picks: tuple[Value, ...], state: State, x: Value, side: float = -NEAR) -> Cut:
    """Return shear and moment at one place in one way of hanging; ``side`` says whether a load right there counts."""
    rows: list[tuple[str, Value, Value]] = []
    pulls = []
    at = x.m_as("ft") + side
    for i, j, part in state:
        for p, o in ((i, j), (j, i)):
            if picks[p].m_as("ft") <= at:
                R = (reaction if part == 1 else half_reaction)(W=of.W_0, x_o=picks[o], x_w=_center(of), x_p=picks[p])
                pulls.append(R)
                rows.append((f"pick at {picks[p].text()}", R, distance(x=x, x_p=picks[p])))
    loads = {"w": of.w, "x": of.x, "lo": of.lo, "hi": of.hi, "at": x.to("ft")}
    for label in dict.fromkeys(of.labels):
        which = np.array([name == label for name in of.labels])
        force = read(label, _LEFT, "lbf", functools.partial(_hangs, which, side), loads, "p")
        if force.magnitude < 0:
            rows.append((label, force, read(label, _LEFT, "ft", functools.partial(_arm, which, side), loads, "a")))
    names = [f"{n} {label}" for n, (label, _, _) in enumerate(rows)] or ["none"]
    none = given(0.0, "lbf", _BEAM, "p"), given(0.0, "ft", _BEAM, "a")
    forces = column("p", dict(zip(names, [r[1] for r in rows] or [none[0]], strict=True)), "lbf")
    arms = column("a", dict(zip(names, [r[2] for r in rows] or [none[1]], strict=True)), "ft")
    return Cut(x, tuple(pulls), tuple(rows), shear(I_m=I_m, p=forces), moment(I_m=I_m, p=forces, a=arms))


@formula(_BEAM, a="ft")
def distance(x, x_p):
    """Return the distance of a pick left of the cut."""
    a = x - x_p
    return a


def _center(of: Hanging) -> Value:
    """Return the center of the loads as they hang: of a rack that was weighed, the take-off's."""
    w, x = of.w.magnitude, of.x.magnitude
    if np.abs(np.sum(w * x) / np.sum(w) - of.x_bar.m_as("ft")) < NEAR:
        return of.x_bar
    return read("center of the parts", _LEFT, "ft", _mean, {"w": of.w, "x": of.x}, "x_w")


def _mean(w: np.ndarray, x: np.ndarray) -> float:
    return float(np.sum(w * x) / np.sum(w))


def _most(of: Hanging, picks: tuple[Value, ...], states: tuple[State, ...], x: Value, what: str) -> State:
    loads, at = (of.w.magnitude, of.x.magnitude, of.lo.magnitude, of.hi.magnitude), x.m_as("ft")
    places = np.array([p.m_as("ft") for p in picks])
    return max(states, key=lambda state: action_at(what, *loads, places, state, np.array([at - NEAR, at + NEAR])))


def _place(states: tuple[State, ...], w: np.ndarray, x: np.ndarray, lo: np.ndarray, hi: np.ndarray, **picks: float) -> float:
    return place_of_most(w, x, lo, hi, np.array(list(picks.values())), states)


def _left(
    which: np.ndarray, side: float, w: np.ndarray, x: np.ndarray, lo: np.ndarray, hi: np.ndarray, at: float
) -> np.ndarray:
    spread = hi > lo
    part = np.where(spread, np.clip((at - lo) / np.where(spread, hi - lo, 1.0), 0, 1), x <= at + side)
    return np.where(which, w * part, 0.0)


def _hangs(which: np.ndarray, side: float, w: np.ndarray, x: np.ndarray, lo: np.ndarray, hi: np.ndarray, at: float) -> float:
    return -float(_left(which, side, w, x, lo, hi, at).sum())


def _arm(which: np.ndarray, side: float, w: np.ndarray, x: np.ndarray, lo: np.ndarray, hi: np.ndarray, at: float) -> float:
    left = _left(which, side, w, x, lo, hi, at)
    center = np.where(hi > lo, (lo + np.minimum(hi, at)) / 2, x)
    return float(np.sum(left * (at - center)) / np.sum(left)) if left.any() else 0.0

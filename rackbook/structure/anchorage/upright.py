"""The vertical bars of a pier that hold its rods in tension (17.5.2.1(a)), rod by rod.

Each rod in tension is held by the bars nearest to it alone: what a rod pulled little leaves of its bars helps no other.
"""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from rackbook.loads.geometry import read
from rackbook.trace import DomainError, Source, Value, given, smallest

from ..concrete import aci
from .clauses import PHI_REINFORCEMENT, phi
from .reinforcement import (
    Development,
    bars_strength,
    design_bars,
    developed,
    embedment_needed,
    length_above,
    length_below,
)

_COUNTED = Source(
    "clause", "ACI 318", "19", "R17.5.2.1: bars within half the embedment of a rod in tension, each for the nearest", "memory"
)


@dataclass(frozen=True, eq=False)
class BarsInTension:
    """The bars that hold one rod in tension.

    Attributes:
        n_b: Number of bars counted; of a bar between rods its share.
        g: Distance of the farthest of them from the rod.
        l_u, l_l: Length above and below the breakout surface there.
        k_d: Share of the yield strength they are developed for; zero where no less than all is permitted and not there.
        N_rg, phi_N_rg: Nominal and design strength.
        h_needed: Embedment at which they would be developed whole.

    """

    n_b: Value
    g: Value
    l_u: Value
    l_l: Value
    k_d: Value
    N_rg: Value
    phi_N_rg: Value
    h_needed: Value


def bars_in_tension(
    of: Development, h_ef: Value, h_a: Value, c_c: Value, bars_at: tuple[np.ndarray, np.ndarray],
    rods_at: tuple[np.ndarray, np.ndarray], whole: bool,
) -> tuple[BarsInTension, ...]:  # fmt: skip
    """Return the strength of the bars that hold each rod in tension, in the order of the rods.

    Of a rod's bars the nearest are counted, as many of those within half the embedment as give the largest strength when
    all count as developed no better than the farthest of them.

    Args:
        of: Development of the bars.
        h_ef: Embedment of the rods.
        h_a: Height of the pier with its projection.
        c_c: Cover at the ends of the bars.
        bars_at: Places of the bars [in].
        rods_at: Places of the rods in tension [in].
        whole: Whether a bar counts only if developed for its whole yield strength (categories C and above, 25.4.10.2).

    Raises:
        DomainError: No rod is in tension.

    """
    if not len(rods_at[0]):
        raise DomainError("No rod is in tension: there is nothing for the bars to hold.")
    far = np.hypot(bars_at[0][:, None] - rods_at[0], bars_at[1][:, None] - rods_at[1])
    lengths = {n: v.to("in") for n, v in {"h_ef": h_ef, "l_d": of.l_d, "c_c": c_c, "h_a": h_a}.items()}
    return tuple(_of_rod(of, functools.partial(_count, far, rod, whole), lengths, whole) for rod in range(far.shape[1]))


def _of_rod(of: Development, count: Callable, lengths: dict[str, Value], whole: bool) -> BarsInTension:
    n_b = read("bars counted for the rod", _COUNTED, "", lambda **v: count(**v)[0], lengths, "n_b")
    g = read("distance of the farthest bar counted", _COUNTED, "in", lambda **v: count(**v)[1], lengths, "g")
    h_ef, h_a, c_c = (lengths[name] for name in ("h_ef", "h_a", "c_c"))
    l_u, l_l = length_above(h_ef=h_ef, c_c=c_c, g=g), length_below(h_a=h_a, h_ef=h_ef, c_c=c_c, g=g)
    k_d = developed(l_b=smallest("l_b", {"above": l_u, "below": l_l}), l_d=of.l_d)
    if whole and k_d.magnitude < 1 - 1e-9:
        k_d = given(0.0, "", aci("25.4.10.2: no less than all of the development in categories C to F"), "k_d")
    N_rg = bars_strength(n_b=n_b, A_b=of.A_b, f_y=of.f_y, k_d=k_d)
    design = design_bars(phi=phi(PHI_REINFORCEMENT), N_rg=N_rg)
    return BarsInTension(n_b, g, l_u, l_l, k_d, N_rg, design, embedment_needed(l_d=of.l_d, c_c=c_c, g=g))


def bar_shares(far: np.ndarray, h_ef: float) -> np.ndarray:
    """Return the share of each bar that serves each rod in tension, an array of bars by rods; a bar's shares add up to 1.

    A bar serves the rod nearest to it, or rods equally near evenly, if they lie within half the embedment. Where that
    leaves a rod without any, every bar serves all rods within half the embedment evenly.

    Args:
        far: Distances of bars from rods [in], of the same shape.
        h_ef: Embedment of the rods [in].

    """
    reached = far <= 0.5 * h_ef + 1e-9
    nearest = reached & (far <= far.min(axis=1, keepdims=True) + 1e-6)
    serves = nearest if nearest.any(axis=0).all() else reached
    return serves / np.maximum(serves.sum(axis=1, keepdims=True), 1)


def _count(far: np.ndarray, rod: int, whole: bool, h_ef: float, l_d: float, c_c: float, h_a: float) -> tuple[float, float]:
    """Return how many of a rod's nearest bars are counted, and the distance of the last; all lengths in inches."""
    served = bar_shares(far, h_ef)[:, rod]
    order = np.argsort(far[:, rod], kind="stable")
    order = order[served[order] > 0]
    if not len(order):
        return 0.0, float(far[:, rod].min())
    near, number = far[order, rod], np.cumsum(served[order])
    developed_for = np.clip(np.minimum(h_ef - c_c - near / 1.5, h_a - h_ef - c_c + near / 1.5) / l_d, 0, 1)
    if whole:
        developed_for = np.where(developed_for >= 1 - 1e-9, 1.0, 0.0)
    if developed_for.any():
        last = int(np.argmax(np.round(number * developed_for, 9)))
    else:  # the nearest, which a deeper rod would develop first
        last = int(np.sum(near <= near[0] + 1e-6)) - 1
    return float(number[last]), float(near[last])

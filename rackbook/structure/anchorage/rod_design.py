"""The rods of a rack: all bases and combinations at once, each limit state's governing one in full.

Rods are designed for strength combinations, whatever the method of the steel. In seismic design categories C and above
the combinations with earthquake are those with overstrength (17.10.5.3(d) and 17.10.6.3(c)), and the concrete's design
strength in tension is 0.75 of its usual one in them (17.10.5.4).
"""

from __future__ import annotations

import functools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.trace import Check, Source, Value, pick, word

from ..concrete import aci
from . import worked as w
from .breakout import eccentricity_factor
from .clauses import PHI_BOLTS, phi
from .interaction import MOST, SMALL
from .plan import Whole
from .plate_design import bearing_available
from .reactions import Reacted
from .rods import bending_lever, combined_stress, rod_shear_stress, rod_tension_stress, shear_stress_most, top_washer
from .shear import eccentricity_factor as shear_eccentricity
from .strengths import Strengths, strengths
from .sweep import Rows, Shears, rows, shears
from .worked import Worked, work

CONE_N, HELD_N = "concrete breakout, 17.6.2", "anchor reinforcement, 17.5.2.1(a)"
CONE_V, HELD_V = "concrete breakout, 17.7.2", "anchor reinforcement, 17.5.2.1(b)"


class Governing:
    """For each limit state its governing base and combination, in full."""

    def __init__(self, made: dict[str, Worked]) -> None:
        self._made = made

    def __getitem__(self, name: str) -> Worked:
        return self._made[name]

    def __contains__(self, name: str) -> bool:
        return name in self._made

    def __iter__(self) -> Iterator[str]:
        return iter(self._made)


@dataclass(frozen=True)
class AtBase:
    """One base at the combination with its largest interaction: load, rods' tension and shear, shares used."""

    base: str
    combination: str
    P: Value
    T_max: Value
    V: Value
    r_N: Value
    r_V: Value
    used: Value


@dataclass(frozen=True, eq=False)
class RodDesign:
    """Rods of a rack.

    Attributes:
        set_name: The set of combinations.
        by: Strengths that do not depend on the combination.
        f_d: Available bearing stress by LRFD.
        in_tension, in_shear: Words: what holds the rods, and what does not govern.
        held_n, held_v: Whether that is anchor reinforcement.
        governing: For each limit state its governing base and combination, in full.
        together: The base and combination with the largest interaction of tension and shear, in full.
        by_base: Every base at its largest interaction.
        checks: One check a limit state.

    """

    set_name: str
    by: Strengths
    f_d: Value
    in_tension: Value
    in_shear: Value
    held_n: bool
    held_v: bool
    governing: Governing
    together: Worked
    by_base: tuple[AtBase, ...]
    checks: tuple[Check, ...]


def rod_design(job: Any, of: Whole, frame: Any, severe: bool, f_d: Value | None = None) -> RodDesign:
    """Return the check of a rack's rods.

    Args:
        job: The job, with plate, rods and concrete.
        of: Plan of its bases.
        frame: The frame.
        severe: Whether the rack is in seismic design category C or above.
        f_d: Available bearing stress by LRFD, where it is known already.

    """
    reacted = Reacted(frame, "strength_overstrength" if severe else "strength")
    by = strengths(job, of, severe)
    if f_d is None:
        _, _, f_d = bearing_available(job.piers.concrete, of, "LRFD")
    swept = rows(reacted.P, reacted.M_x, reacted.M_y, of, f_d.m_as("ksi"), 0.0)
    sheared = shears(reacted.V_x, reacted.V_y, reacted.T, of)
    uses = {**tension_uses(swept, by, reacted.seismic & severe), **shear_uses(sheared, by)}
    in_tension, out_n = _hold("rods in tension", uses, w.BREAKOUT_N, w.BARS_N, CONE_N, HELD_N)
    in_shear, out_v = _hold("rods in shear", uses, w.BREAKOUT_V, w.TIES_V, CONE_V, HELD_V)
    taken = tuple(name for name in uses if name not in (out_n, out_v))
    r_N = np.max([uses[n] for n in w.TENSION if n in taken], axis=0)
    r_V = np.max([uses[n] for n in w.SHEAR if n in taken], axis=0)
    uses[w.TOGETHER] = together(r_N, r_V)
    uses[w.BENT] = bent_uses(swept, sheared, by)
    in_full = functools.cache(lambda row: work(reacted.at(row), by, f_d, taken))
    governing = Governing({name: in_full(int(np.argmax(uses[name]))) for name in (*taken, w.TOGETHER, w.BENT)})
    by_base = tuple(_at_base(in_full(int(row))) for row in reacted.row_by_base(uses[w.TOGETHER]))
    checks = tuple(governing[name].checks[name] for name in governing)
    held, both = (out_n == w.BREAKOUT_N, out_v == w.BREAKOUT_V), governing[w.TOGETHER]
    return RodDesign(reacted.set_name, by, f_d, in_tension, in_shear, *held, governing, both, by_base, checks)


def _at_base(of: Worked) -> AtBase:
    return AtBase(of.at.base, of.at.combination, of.at.P, of.tension.T_max, of.shear.V, of.r_N, of.r_V, of.used.used)


def tension_uses(swept: Rows, by: Strengths, seismic: np.ndarray) -> dict[str, np.ndarray]:
    """Return the share used of every strength in tension, one entry a row; infinite where a strength is none."""
    T_max = swept.T.max(axis=1, initial=0.0)
    k = np.where(seismic, by.phi_eq.magnitude, 1.0)
    uses = {w.STEEL_N: T_max / by.phi_N_sa.m_as("kip"), w.PULLOUT: T_max / (k * by.pull.phi_N_pn.m_as("kip"))}
    uses |= _group_uses(swept, by, k)
    alone = [b.phi_N_sbc.m_as("kip") for b in by.blow if b.phi_N_sbc is not None]
    if alone:
        uses[w.BLOW_ONE] = T_max / (k * min(alone))
    for name, b, side in ((w.BLOW_X, by.blow[0], by.of.rods.i), (w.BLOW_Y, by.blow[1], by.of.rods.j)):
        if b.phi_N_sbg is not None:
            uses[name] = swept.T @ (side == 1.0) / (k * b.phi_N_sbg.m_as("kip"))
    return uses


def _group_uses(swept: Rows, by: Strengths, k: np.ndarray) -> dict[str, np.ndarray]:
    """Return the shares used of breakout, and of the bars where they are given."""
    pulled, N_g = swept.pulled, swept.T.sum(axis=1)
    cone, bars = np.zeros(len(N_g)), np.zeros(len(N_g))
    for pattern in np.unique(pulled, axis=0):
        if not pattern.any():
            continue
        at = np.flatnonzero((pulled == pattern).all(axis=1))
        of = by.group(pattern)
        h = of.breakout.h_ef.m_as("in")
        strength = k[at] * of.breakout.phi_N_cbg.m_as("kip")
        for place in (by.of.rods.x.m_as("in"), by.of.rods.y.m_as("in")):
            e = np.abs(swept.T[at] @ place / N_g[at] - place[pattern].mean())
            strength = strength * eccentricity_factor(e, h)
        cone[at] = N_g[at] / strength
        held = np.array([b.phi_N_rg.m_as("kip") for b in of.bars])
        bars[at] = np.max(swept.T[at][:, pattern] / held, axis=1) if len(held) and held.all() else np.inf
    return {w.BREAKOUT_N: cone, **({w.BARS_N: bars} if by.within.bars is not None else {})}


def shear_uses(sheared: Shears, by: Strengths) -> dict[str, np.ndarray]:
    """Return the share used of every strength in shear, one entry a row."""
    x, y = by.toward_x, by.toward_y
    shares = []
    for V_e, e, edge, other in ((sheared.V_x, sheared.e_x, x, y), (sheared.V_y, sheared.e_y, y, x)):
        toward = edge.phi_V_cbg.m_as("kip") * shear_eccentricity(e, edge.c_a1.m_as("in"))
        shares.append(V_e / np.minimum(toward, other.phi_V_par.m_as("kip")))
    uses = {w.STEEL_V: sheared.V_max / by.phi_V_sa.m_as("kip"), w.BREAKOUT_V: both_ways(*shares)}
    if by.ties is not None:
        uses[w.TIES_V] = sheared.V / by.ties.phi_V_rg.m_as("kip")
    return {**uses, w.PRYOUT: sheared.V / by.pry.phi_V_cpg.m_as("kip")}


def both_ways(r_x: np.ndarray, r_y: np.ndarray) -> np.ndarray:
    """Return the utilization of breakout toward two edges; a direction below one percent of its strength is left out."""
    return np.where(np.minimum(r_x, r_y) < w.TRIFLE, np.maximum(r_x, r_y), np.hypot(r_x, r_y))


def together(r_N: np.ndarray, r_V: np.ndarray) -> np.ndarray:
    """Return the interaction of the shares used, over its limit."""
    both = np.where(np.minimum(r_N, r_V) <= SMALL, 0.0, (r_N + r_V) / MOST.magnitude)
    return np.maximum(np.maximum(r_N, r_V), both)


def bent_uses(swept: Rows, sheared: Shears, by: Strengths) -> np.ndarray:
    """Return the share used of a rod that is pulled, sheared and bent."""
    d, T = by.rod.d_a.m_as("in"), swept.T.max(axis=1, initial=0.0)
    l_b = bending_lever(by.of.plate.t.m_as("in"), top_washer(by.rod.d_a).m_as("in"))
    F_u, factor, f_v = by.rod.f_uta.m_as("ksi"), phi(PHI_BOLTS).magnitude, rod_shear_stress(sheared.V_max, d)
    F_d = combined_stress(F_u, f_v, factor)
    f_t = rod_tension_stress(T, sheared.V_max, l_b, d)
    return np.divide(f_t, F_d, out=f_v / shear_stress_most(F_u, factor), where=F_d > 0)


def _hold(symbol: str, uses: dict[str, np.ndarray], cone: str, held: str, cone_word: str, held_word: str) -> tuple[Value, str]:
    """Return in words what holds the rods, and the limit state that does not govern: the concrete wherever it is enough."""
    by_cone = float(uses[cone].max(initial=0.0))
    by_steel = float(uses[held].max(initial=0.0)) if held in uses else np.inf
    steel = by_cone > 1 + 1e-9 and by_steel < by_cone
    said = {cone_word: _word(cone_word, by_cone), held_word: _word(held_word, by_steel) if held in uses else None}
    if steel:
        because = f"utilization of the concrete alone would be {by_cone:.2f}, of the reinforcement {by_steel:.2f}"
        return pick(symbol, said, held_word, because, source=aci("17.5.2.1")), cone
    if by_cone <= 1 + 1e-9:
        because = f"the concrete alone is enough: utilization {by_cone:.2f}"
    elif held in uses and np.isfinite(by_steel):
        because = f"utilization of the concrete {by_cone:.2f}, of the reinforcement {by_steel:.2f}"
    else:
        because = f"utilization of the concrete {by_cone:.2f}; no developed reinforcement stands near the rods"
    return pick(symbol, said, cone_word, because, source=aci("17.5.2.1")), held


def _word(text: str, share: float) -> Value:
    return word(text, Source("derivation", f"largest utilization {share:.2f}" if np.isfinite(share) else "not developed"))

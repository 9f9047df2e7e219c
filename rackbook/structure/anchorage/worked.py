"""One base under one combination, rods and concrete in full: every limit state as a check."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rackbook.trace import Check, Source, Value, check, formula, given, largest, smallest
from rackbook.trace.columns import entry
from rackbook.trace.maths import sum

from ..concrete import aci
from .actions import Shear, Tension, shear, tension
from .breakout import design_tension_seismic
from .clauses import PHI_CONCRETE, PHI_PULLOUT, derived, dg1, phi
from .groups import Group, group
from .interaction import Interaction, both_edges, interaction
from .reactions import At
from .rods import Bent, bent, top_washer
from .strengths import Strengths
from .upright import BarsInTension

STEEL_N, STEEL_V = "Rod steel in tension", "Rod steel in shear"
BREAKOUT_N, BREAKOUT_V = "Concrete breakout in tension", "Concrete breakout in shear"
BARS_N, TIES_V = "Anchor reinforcement in tension: vertical bars", "Anchor reinforcement in shear: top tie"
PULLOUT, PRYOUT = "Pullout of one rod", "Concrete pryout"
BLOW_ONE, BLOW_X, BLOW_Y = "Side-face blowout, one rod", "Side-face blowout, side row", "Side-face blowout, front or back row"
TOGETHER, BENT = "Tension and shear together", "Rod in tension, shear and bending"
TENSION = (STEEL_N, BREAKOUT_N, BARS_N, PULLOUT, BLOW_ONE, BLOW_X, BLOW_Y)
SHEAR = (STEEL_V, BREAKOUT_V, TIES_V, PRYOUT)
ONE = given(1.0, "", aci("17.5.1.2"), "r_max")
#: Of two directions of shear one below this share of its strength is left out.
TRIFLE = 0.01
NOTHING = given(0.0, "kip", derived("no rod is pulled"), "N_g")

REMEDIES = {
    STEEL_N: "Use thicker rods, a higher grade or more of them, or set them further apart.",
    BREAKOUT_N: "Widen the pier, or hold the rods by its vertical bars (piers.bars; embed the rods deep enough for them).",
    BARS_N: "Use more or larger vertical bars (piers.bars), or embed the rods deeper.",
    PULLOUT: "Give the heads a larger plate washer (anchors.washer), or use stronger concrete.",
    BLOW_ONE: "Widen the pier, set the rods closer, or give the heads a larger plate washer.",
    BLOW_X: "Widen the pier, set the rods closer, or give the heads a larger plate washer.",
    BLOW_Y: "Widen the pier, set the rods closer, or give the heads a larger plate washer.",
    STEEL_V: "Use thicker rods, a higher grade or more of them; without a grout pad the steel counts whole.",
    BREAKOUT_V: "Widen the pier, or hold the rods by ties at its top (piers.ties).",
    TIES_V: "Use thicker ties (piers.ties).",
    PRYOUT: "Widen the pier or use stronger concrete.",
    TOGETHER: "Lower the larger utilization: see the checks in tension and in shear.",
    BENT: "Use thicker rods, or a thinner base plate where its own check allows.",
}


@formula(derived("shear toward an edge over its design strength"), r="")
def share_used(V, V_d):
    """Return the utilization of breakout toward one edge."""
    r = V / V_d
    return r


@formula(derived("tension of the rods of one row"), N_row="kip")
def row_tension(T, i):
    """Return the tension of the rods of one row."""
    N_row = sum(T * i)
    return N_row


@dataclass(frozen=True, eq=False)
class Worked:
    """One base under one combination.

    Attributes:
        at: Base, combination and its reactions.
        tension, shear: What the rods take.
        group: The rods that are pulled, with the eccentricity of their tension.
        held: Number of the rod with the largest utilization of the vertical bars that hold it, and those bars; or None.
        bent: The rod in tension, shear and bending.
        checks: Every limit state by its name; the alternatives that were not taken too.
        r_N, r_V: Largest utilization in tension and in shear.
        used: Interaction of both.
        trifle: Direction of shear that is left out, in words; empty if none is.

    """

    at: At
    tension: Tension
    shear: Shear
    group: Group
    held: tuple[int, BarsInTension] | None
    bent: Bent
    checks: dict[str, Check]
    r_N: Value
    r_V: Value
    used: Interaction
    trifle: str


def work(at: At, by: Strengths, f_d: Value, taken: tuple[str, ...]) -> Worked:
    """Return one base under one combination in full.

    Args:
        at: Its reactions.
        by: Strengths of the rods.
        f_d: Available bearing stress.
        taken: Names of the limit states that count for the interaction.

    """
    pulled = tension(at.P, at.M_x, at.M_y, by.of, f_d, at_most=True)
    sheared = shear(at.V_x, at.V_y, at.T, by.of)
    of_group = by.whole
    if pulled.e_x is not None and pulled.e_y is not None:
        of_group = group(pulled.pulled, by.of, by.within, pulled.e_x, pulled.e_y)
    held = _most_of_bars(pulled, of_group)
    checks = {c.name: c for c in (*_in_tension(at, pulled, of_group, held, by), *_in_shear(sheared, by))}
    stressed = bent(pulled.T_max, sheared.V_max, by.rod, by.of.plate.t, top_washer(by.rod.d_a))
    judged = (stressed.f_t, stressed.F_d) if stressed.F_d.magnitude > 0 else (stressed.f_v, stressed.F_dv)
    checks[BENT] = _check(BENT, *judged, dg1("shear through rods"))
    r_N, r_V = (
        largest(symbol, {n: _share(checks[n]) for n in names if n in taken and n in checks})
        for symbol, names in (("r_N", TENSION), ("r_V", SHEAR))
    )
    used = interaction(r_N, r_V)
    checks[TOGETHER] = _check(TOGETHER, used.r, used.r_max, aci("17.8"))
    return Worked(at, pulled, sheared, of_group, held, stressed, checks, r_N, r_V, used, _trifle(sheared, by))


def _check(name: str, demand: Value, capacity: Value, source: Source) -> Check:
    return check(name, demand, capacity, source, remedy=REMEDIES[name])


def _most_of_bars(of: Tension, pulled: Group) -> tuple[int, BarsInTension] | None:
    """Return the rod that uses most of the bars which hold it, one without any first, with its bars."""
    if not pulled.bars:
        return None

    def share(of_rod: tuple[int, BarsInTension]) -> float:
        n, bars = of_rod
        held = bars.phi_N_rg.m_as("kip")
        return float(of.T.m_as("kip")[n]) / held if held > 0 else np.inf

    return max(zip(map(int, np.flatnonzero(pulled.pulled)), pulled.bars, strict=True), key=share)


def _in_tension(at: At, of: Tension, pulled: Group, held: tuple[int, BarsInTension] | None, by: Strengths) -> list[Check]:
    def design(N_n: Value, limit_state: str, usual: Value) -> Value:
        if not (by.severe and at.kind == "seismic"):
            return usual
        return design_tension_seismic(phi_eq=by.phi_eq, phi=phi(limit_state), N_n=N_n).named(usual.symbol)

    N_g = of.N_g or NOTHING
    made = [_check(STEEL_N, of.T_max, by.phi_N_sa, aci("17.6.1"))]
    cone = pulled.breakout
    strength = design(cone.N_cbg, PHI_CONCRETE, cone.phi_N_cbg)
    made.append(check(BREAKOUT_N, N_g, strength, aci("17.6.2"), remedy=_held_by(held)))
    if held is not None and held[1].phi_N_rg.magnitude > 0:
        n, bars = held
        made.append(_check(BARS_N, entry(of.T, n, by.of.rods.marks[n]), bars.phi_N_rg, aci("17.5.2.1(a)")))
    made.append(_check(PULLOUT, of.T_max, design(by.pull.N_pn, PHI_PULLOUT, by.pull.phi_N_pn), aci("17.6.3")))
    corner = {
        words: design(b.N_sbc, PHI_CONCRETE, b.phi_N_sbc)
        for words, b in zip(("side edge", "front or back edge"), by.blow, strict=True)
        if b.N_sbc is not None and b.phi_N_sbc is not None
    }
    if corner:
        made.append(_check(BLOW_ONE, of.T_max, smallest("phi_N_sb", corner), aci("17.6.4.1")))
    for name, b, side in ((BLOW_X, by.blow[0], by.of.rods.i), (BLOW_Y, by.blow[1], by.of.rods.j)):
        if b.N_sbg is not None and b.phi_N_sbg is not None:
            row = given((side == 1.0).astype(float), "", derived("rods of the row (1) and others (0)"), "i")
            N_row = row_tension(T=of.T, i=row)
            made.append(_check(name, N_row, design(b.N_sbg, PHI_CONCRETE, b.phi_N_sbg), aci("17.6.4.2")))
    return made


def _share(of: Check) -> Value:
    """Return the share a check uses: its ratio, or its demand where that is a share itself."""
    if of.capacity is ONE or of.ratio is None:
        return of.demand
    return of.ratio


def _held_by(held: tuple[int, BarsInTension] | None) -> str:
    """Return what to do where the concrete is not enough, with the embedment that would bring the bars in."""
    bars = held[1] if held is not None else None
    if bars is None or bars.n_b.magnitude == 0 or bars.phi_N_rg.magnitude > 0:
        return REMEDIES[BREAKOUT_N]
    return (
        f"Widen the pier, or embed the rods {bars.h_needed.text()} or deeper (anchors.embedment): there "
        f"the vertical bars nearest to each rod ({bars.n_b.text()} a rod) are developed to hold it."
    )


def _toward(of: Shear, by: Strengths) -> list[tuple[Value, Value]]:
    """Return shear and design strength of breakout along x and along y."""
    shares = []
    for direction, V_e, e in (("x", of.V_x, of.e_x), ("y", of.V_y, of.e_y)):
        other = by.toward_y if direction == "x" else by.toward_x
        both = {"toward the edge": by.toward(direction, e).phi_V_cbg, "along the other edge": other.phi_V_par}
        shares.append((V_e, smallest("phi_V_cb", both)))
    return shares


def _trifle(of: Shear, by: Strengths) -> str:
    """Return the direction of shear that is left out beside the other one, in words."""
    uses = [V_e.m_as("kip") / V_d.m_as("kip") for V_e, V_d in _toward(of, by)]
    if not 0 < min(uses) < TRIFLE or min(uses) == max(uses):
        return ""
    way = "along" if uses[0] < uses[1] else "across"
    return f"Breakout under the shear {way} the rack: utilization {min(uses):.1g}, below 1 percent, not counted."


def _in_shear(of: Shear, by: Strengths) -> list[Check]:
    made = [_check(STEEL_V, of.V_max, by.phi_V_sa, aci("17.7.1"))]
    shares = _toward(of, by)
    uses = [V_e.m_as("kip") / V_d.m_as("kip") for V_e, V_d in shares]
    pushed = [share for share, r in zip(shares, uses, strict=True) if r >= TRIFLE or (r == max(uses) and r > 0)]
    if len(pushed) == 2 and min(uses) < TRIFLE:
        pushed = pushed[:1]
    if len(pushed) == 2:
        r = both_edges(r_x=share_used(V=shares[0][0], V_d=shares[0][1]), r_y=share_used(V=shares[1][0], V_d=shares[1][1]))
        made.append(_check(BREAKOUT_V, r, ONE, aci("17.7.2 and 17.7.2.1, shear at a corner")))
    else:
        made.append(_check(BREAKOUT_V, *(pushed or shares)[0], aci("17.7.2")))
    if by.ties is not None:
        made.append(_check(TIES_V, of.V, by.ties.phi_V_rg, aci("17.5.2.1(b)")))
    made.append(_check(PRYOUT, of.V, by.pry.phi_V_cpg, aci("17.7.3")))
    return made

"""Anchor reinforcement in place of concrete breakout (17.5.2.1): the pier's vertical bars in tension, its ties in shear.

A bar counts with its development on the shorter side of the breakout surface, which rises from the head at 1 to 1.5.
Bars are straight unless said otherwise; the length of a standard hook is worked beside for whoever changes the detail.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.geometry import read
from rackbook.tables import table
from rackbook.trace import Source, Value, assume, formula, given, smallest
from rackbook.trace.maths import max, min, sqrt

from ..concrete import aci, cage_radius
from .clauses import BAR_STEEL, PHI_REINFORCEMENT, derived, phi

PSI_T = given(1.0, "", aci("Table 25.4.2.5: not a top bar"), "psi_t")
PSI_E = given(1.0, "", aci("Table 25.4.2.5: uncoated"), "psi_e")
PSI_S_SMALL = given(0.8, "", aci("Table 25.4.2.5: No. 6 and smaller"), "psi_s")
PSI_S_LARGE = given(1.0, "", aci("Table 25.4.2.5: No. 7 and larger"), "psi_s")
PSI_G = given(1.0, "", aci("Table 25.4.2.5: Grade 60"), "psi_g")
K_TR = given(0.0, "in", aci("25.4.2.4: permitted as a simplification"), "K_tr")
PSI_R = given(1.0, "", aci("Table 25.4.3.2: enclosed by ties, or bars 6 d_b apart"), "psi_r")
PSI_O = given(1.25, "", aci("Table 25.4.3.2: side cover below 6 d_b"), "psi_o")
TIES_COUNTED = assume(1.0, "", "one tie within the breakout in shear: those further down are not counted", "n_t")
_READ = Source("derivation", "places of bars and rods in the plan")


@formula(aci("25.4.2.3: center of the bar to the concrete's surface"), c_b="in")
def bar_cover(c_c, d_t, d_b):
    """Return the cover to a bar's center."""
    c_b = c_c + d_t + d_b / 2
    return c_b


@formula(aci("25.4.2.3: half the spacing of the bars"), c_b="in")
def bar_half_spacing(s_b):
    """Return half the distance between neighboring bars."""
    c_b = s_b / 2
    return c_b


@formula(aci("25.4.2.4: confinement term, 2.5 at most"), k_b="")
def confinement_term(c_b, K_tr, d_b):
    """Return the confinement term of a bar."""
    k_b = min((c_b + K_tr) / d_b, 2.5)
    return k_b


@formula(
    aci("Eq. 25.4.2.4a, 12 in. minimum: refined, permitted by 25.4.2.1; the piers use the simplified l_d of 25.4.2.3"),
    stated={"f_y": "psi", "f_c_prime": "psi", "d_b": "in"},
    l_d="in",
)
def development(f_y, f_c_prime, psi_t, psi_e, psi_s, psi_g, k_b, d_b):
    """Return the development length of a straight bar in tension."""
    l_d = max(3 * f_y / (40 * sqrt(f_c_prime)) * psi_t * psi_e * psi_s * psi_g / k_b * d_b, 12)
    return l_d


@formula(aci("Table 25.4.3.2: concrete strength"), stated={"f_c_prime": "psi"}, psi_c="")
def hook_concrete(f_c_prime):
    """Return the factor for the concrete's strength of a hooked bar."""
    psi_c = min(f_c_prime / 15000 + 0.6, 1)
    return psi_c


@formula(aci("25.4.3.1, 8 d_b and 6 in. at least"), stated={"f_y": "psi", "f_c_prime": "psi", "d_b": "in"}, l_dh="in")
def hook(f_y, f_c_prime, psi_e, psi_r, psi_o, psi_c, d_b):
    """Return the development length of a standard hook."""
    l_dh = max(f_y * psi_e * psi_r * psi_o * psi_c / (55 * sqrt(f_c_prime)) * d_b**1.5, 8 * d_b, 6)
    return l_dh


@formula(derived("bar above the breakout surface, which rises at 1 to 1.5 from the head"), l_u="in")
def length_above(h_ef, c_c, g):
    """Return the length of a bar between the breakout surface and its top end."""
    l_u = h_ef - c_c - g / 1.5
    return l_u


@formula(derived("bar below the breakout surface"), l_l="in")
def length_below(h_a, h_ef, c_c, g):
    """Return the length of a bar between the breakout surface and its bottom end."""
    l_l = h_a - h_ef - c_c + g / 1.5
    return l_l


@formula(aci("25.4.10.1: bar stressed as far as it is developed"), k_d="")
def developed(l_b, l_d):
    """Return the share of the yield strength that a bar is developed for."""
    k_d = max(min(l_b / l_d, 1), 0)
    return k_d


@formula(aci("17.5.2.1(a)"), N_rg="kip")
def bars_strength(n_b, A_b, f_y, k_d):
    """Return the strength of the bars that hold a rod in tension."""
    N_rg = n_b * A_b * f_y * k_d
    return N_rg


@formula(aci("17.5.2.1(b): both legs of each tie"), V_rg="kip")
def ties_strength(n_t, A_t, f_y):
    """Return the strength of the ties that hold the rods in shear."""
    V_rg = 2 * n_t * A_t * f_y
    return V_rg


@formula(aci("17.5.2.1, phi = 0.75"), phi_N_rg="kip")
def design_bars(phi, N_rg):
    """Return the design strength of anchor reinforcement."""
    phi_N_rg = phi * N_rg
    return phi_N_rg


@formula(derived("embedment at which the bars are developed above the breakout surface"), h_efr="in")
def embedment_needed(l_d, c_c, g):
    """Return the embedment at which the bars develop their yield strength."""
    h_efr = l_d + c_c + g / 1.5
    return h_efr


@dataclass(frozen=True, eq=False)
class Development:
    """Development of a pier's bars: straight and hooked, and the length of a straight one that is used."""

    f_y: Value
    d_b: Value
    A_b: Value
    c_b: Value
    l_d: Value
    l_dh: Value


def bar_places(shape: str, r_b: float, n: int) -> tuple[np.ndarray, np.ndarray]:
    """Return the places [in] of n bars: evenly on a circle, the first toward +x; or evenly along a square from its corner.

    Args:
        shape: ``round`` or ``square``.
        r_b: Radius of the circle, or half the side of the square [in].
        n: Number of bars.

    """
    if shape == "round":
        angle = 2 * np.pi * np.arange(n) / n
        return r_b * np.cos(angle), r_b * np.sin(angle)
    along = 8 * np.arange(n) / n  # along the outline of a square of half side 1, from the corner (1, 1)
    side, part = np.floor(along / 2).astype(int), along % 2 - 1
    x = np.select([side == 0, side == 1, side == 2, side == 3], [-part, -1.0, part, 1.0])
    y = np.select([side == 0, side == 1, side == 2, side == 3], [1.0, -part, -1.0, part])
    return r_b * x, r_b * y


def development_of(bars: Any, ties: Any, f_c_prime: Value, c_c: Value, D: Value, shape: str) -> Development:
    """Return the development of a pier's bars.

    Args:
        bars: Number and size of the bars (``count``, ``size``).
        ties: Size of the ties; None where there are none.
        f_c_prime: Concrete strength.
        c_c: Cover of the ties.
        D: Diameter of the pier, or its side.
        shape: ``round`` or ``square``.

    """
    size = str(bars.size)
    d_b, A_b = table("rebar").cell(size, "d_b", "d_b"), table("rebar").cell(size, "A_b", "A_b")
    f_y = table("materials").cell(BAR_STEEL, "F_y", "f_y")
    r_b = cage_radius(b=D, c_c=c_c, d_t=tie_diameter(ties), d_b=d_b)
    apart = read("spacing of the bars", _READ, "in", lambda r: _spacing(shape, r, int(bars.count)), {"r": r_b}, "s_b")
    c_b = smallest(
        "c_b",
        {"cover": bar_cover(c_c=c_c, d_t=tie_diameter(ties), d_b=d_b), "half the spacing": bar_half_spacing(s_b=apart)},
    )
    small = d_b.m_as("in") <= 0.75 + 1e-9
    l_d = development(
        f_y=f_y, f_c_prime=f_c_prime, psi_t=PSI_T, psi_e=PSI_E, psi_s=PSI_S_SMALL if small else PSI_S_LARGE, psi_g=PSI_G,
        k_b=confinement_term(c_b=c_b, K_tr=K_TR, d_b=d_b), d_b=d_b,
    )  # fmt: skip
    psi_c = hook_concrete(f_c_prime=f_c_prime)
    l_dh = hook(f_y=f_y, f_c_prime=f_c_prime, psi_e=PSI_E, psi_r=PSI_R, psi_o=PSI_O, psi_c=psi_c, d_b=d_b)
    return Development(f_y, d_b, A_b, c_b, l_d, l_dh)


def tie_diameter(ties: Any) -> Value:
    """Return the diameter of the ties; zero where there are none."""
    if ties is None:
        return assume(0.0, "in", "no ties are given", "d_t")
    return table("rebar").cell(str(ties.size), "d_b", "d_t")


def _spacing(shape: str, r: float, n: int) -> float:
    x, y = bar_places(shape, r, n)
    return float(np.min(np.hypot(np.diff(x, append=x[0]), np.diff(y, append=y[0]))))


@dataclass(frozen=True, eq=False)
class TiesInShear:
    """The ties that hold rods in shear: area of a leg, nominal and design strength."""

    A_t: Value
    V_rg: Value
    phi_V_rg: Value


def ties_in_shear(size: str) -> TiesInShear:
    """Return the strength of the tie at the top of a pier against shear of the rods.

    Args:
        size: Size of the ties, ``#4``.

    """
    A_t = table("rebar").cell(size, "A_b", "A_t")
    V_rg = ties_strength(n_t=TIES_COUNTED, A_t=A_t, f_y=table("materials").cell(BAR_STEEL, "F_y", "f_y"))
    return TiesInShear(A_t, V_rg, design_bars(phi=phi(PHI_REINFORCEMENT), N_rg=V_rg).named("phi_V_rg"))

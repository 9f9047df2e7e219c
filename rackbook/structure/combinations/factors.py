"""Factors on the unit load cases: where a combination's factor is not the printed number itself."""

from __future__ import annotations

from rackbook.trace import Source, formula
from rackbook.trace.maths import sum


def _clause(locator: str) -> Source:
    return Source("clause", "ASCE/SEI 7", "16 and 7-22", locator, "memory")


@formula(_clause("12.4.2.2, Eq. 12.4-4a"), c_D="")
def dead_factor(gamma_D, gamma_v, S_DS):
    """Return the factor on D with the vertical seismic effect E_v = 0.2 S_DS D in it."""
    c_D = gamma_D + 0.2 * gamma_v * S_DS
    return c_D


@formula(_clause("12.4.2.1, Eq. 12.4-3, and 12.5"), c_Q="")
def seismic_factor(s, gamma_E, rho, p):
    """Return the factor on a horizontal seismic case: sense, factor on E_h, redundancy, share of the direction."""
    c_Q = s * gamma_E * rho * p
    return c_Q


@formula(_clause("12.4.3.1, Eq. 12.4-7, and 12.5"), c_Q="")
def overstrength_factor(s, gamma_E, f_mh, p):
    """Return the factor on a horizontal seismic case with overstrength; f_mh is Omega_0, not below rho."""
    c_Q = s * gamma_E * f_mh * p
    return c_Q


@formula(Source("derivation", "sense of the load times its factor"), c="")
def signed_factor(s, gamma):
    """Return the factor on a case that may act in either sense."""
    c = s * gamma
    return c


@formula(Source("clause", "AISC 360", "16 and 360-22", "C2.2b(a)", "memory"), c_N="")
def notional_factor(s, gamma, Y, W_D):
    """Return the factor on the notional case of D, so that it follows all gravity loads of the combination."""
    c_N = s * sum(gamma * Y) / W_D
    return c_N


@formula(Source("derivation", "sum of factored effects"), R="lbf")
def combined_effect(gamma, F):
    """Return the effect of a combination."""
    R = sum(gamma * F)
    return R

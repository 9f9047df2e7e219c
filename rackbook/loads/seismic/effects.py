"""Seismic load effects: vertical, horizontal, with overstrength; distribution over the height; directions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.trace import Source, Value, formula, given
from rackbook.trace.maths import abs, max, min, sum

from ..words import plain_word


def _clause(locator: str, how: str = "memory") -> Source:
    return Source("clause", "ASCE/SEI 7", "16 and 22", locator, how)


@formula(_clause("Eq. 12.4-4a"), E_v="lbf")
def vertical_effect(S_DS, D):
    """Return the vertical seismic load effect, up or down."""
    E_v = 0.2 * S_DS * D
    return E_v


@formula(_clause("Eq. 12.4-3"), E_h="lbf")
def horizontal_effect(rho, Q_E):
    """Return the horizontal seismic load effect."""
    E_h = rho * Q_E
    return E_h


@formula(_clause("Eq. 12.4-7"), E_mh="lbf")
def overstrength_effect(Omega_0, Q_E):
    """Return the horizontal seismic load effect with overstrength."""
    E_mh = Omega_0 * Q_E
    return E_mh


@formula(_clause("12.8.3, between 0.5 and 2.5 s in a straight line"), stated={"T": "s"}, k="")
def height_exponent(T):
    """Return the exponent of the vertical distribution."""
    k = max(min(0.75 + 0.5 * T, 2), 1)
    return k


@formula(_clause("Eq. 12.8-12"), stated={"w_x": "lbf", "h_x": "ft"}, C_vx="")
def distribution_factor(w_x, h_x, k):
    """Return the share of the base shear at each mass."""
    C_vx = w_x * h_x**k / sum(w_x * h_x**k)
    return C_vx


@formula(_clause("Eq. 12.8-11"), F_x="lbf")
def lateral_force(C_vx, V):
    """Return the lateral force at each mass."""
    F_x = C_vx * V
    return F_x


@formula(Source("derivation", "statics: forces times their heights above grade"), M="lbf*ft")
def overturning(F_x, h_x):
    """Return the overturning moment at grade."""
    M = sum(F_x * h_x)
    return M


@formula(Source("derivation", "statics: height of the resultant"), h_V="ft")
def resultant_height(C_vx, h_x):
    """Return the height of the resultant of the lateral forces above grade."""
    h_V = sum(C_vx * h_x)
    return h_V


@formula(Source("derivation", "statics: force times distance from the middle of the frame"), M_t="lbf*ft")
def twisting(V, e):
    """Return the twisting moment of the weight's own eccentricity, about a vertical axis through the middle of the frame."""
    M_t = V * abs(e)
    return M_t


@formula(_clause("12.8.4.2, mass displaced by 5 % of the dimension"), M_ta="lbf*ft")
def accidental_twisting(V, p_a, B_x):
    """Return the accidental twisting moment; B_x is the dimension across the force."""
    M_ta = V * p_a * B_x
    return M_ta


@formula(_clause("12.8.4.1 and 12.8.4.2"), M_t="lbf*ft")
def whole_twisting(M_ti, M_ta):
    """Return the twisting moment, inherent and accidental to the same side."""
    M_t = M_ti + M_ta
    return M_t


ACCIDENTAL = given(5.0, "pct", _clause("12.8.4.2"), "p_a")
EXPONENT_SHORT = given(1.0, "", _clause("12.8.3, T of 0.5 s or less"), "k")


@dataclass(frozen=True)
class Direction:
    """One combination of the two directions: the share of the force along and across the rack."""

    along: Value
    across: Value
    clause: str


def orthogonal(category: Any) -> tuple[Direction, ...]:
    """Return the combinations of directions a seismic design category asks for.

    Categories A and B: each direction by itself (12.5.2). From C on, also 100 % of one with 30 % of the other
    (12.5.3, 12.5.4): the clause asks for it in C only for some irregular systems and in D to F for posts of two
    frames; it is taken for every rack, whose posts resist both directions.
    """

    def share(number: float, symbol: str) -> Value:
        return given(number, "", _clause("12.5"), symbol)

    alone = [(1.0, 0.0), (0.0, 1.0)]
    both = [(1.0, 0.3), (0.3, 1.0)]
    if plain_word(category) in ("A", "B"):
        return tuple(Direction(share(a, "p_x"), share(b, "p_y"), "12.5.2, each direction by itself") for a, b in alone)
    words = "12.5.3, 100 % with 30 %" if plain_word(category) == "C" else "12.5.4 with 12.5.3, 100 % with 30 %"
    return tuple(Direction(share(a, "p_x"), share(b, "p_y"), words) for a, b in both)

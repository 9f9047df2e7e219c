"""Concrete section under axial force and moment by strain compatibility (ACI 318-19, 22.2 to 22.4 and 21.2).

One set of formulas serves one state of the section and whole curves of them: a curve runs their plain text on arrays. The
section is seen along one direction: depth h from the fiber most compressed, bars at heights y above its middle. A cage may
be turned any way, so a round section is worked with a bar in that direction and with the direction between two bars, a square
one along a side, along the diagonal and between; the least counts. The moment about the axis across the direction is counted
alone, which is never more than the whole, so what counts holds for a moment in every direction.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from rackbook.trace import DomainError, Source, Value, formula, given
from rackbook.trace.maths import acos, cos, max, min, sin, sqrt, sum

from ..concrete import aci
from .vertical import round_area, square_area

EPS_CU = given(0.003, "", aci("22.2.2.1"), "epsilon_cu")
E_S = given(29_000, "ksi", aci("20.2.2.2"), "E_s")
_SEGMENT = Source("derivation", "segment of a circle")
_CORNER = Source("derivation", "square cut across its direction, by ramps of its width")
_STATICS = Source("derivation", "statics of the section")
#: Directions of a square section from its side [deg]; by symmetry they stand for all.
SQUARE_DIRECTIONS = (0.0, 15.0, 30.0, 45.0)
#: Nearer to a side than this [deg] a square is taken as bent along it.
SKEW = 0.01


@formula(aci("22.2.2.4.3"), stated={"f_c_prime": "psi"}, beta_1="")
def block_factor(f_c_prime):
    """Return the ratio of the stress block's depth to that of the neutral axis."""
    beta_1 = max(0.65, min(0.85, 0.85 - 0.05 * (f_c_prime - 4000) / 1000))
    return beta_1


@formula(aci("22.2.2.4.1"), a="in")
def block_depth(beta_1, c, h):
    """Return the depth of the stress block."""
    a = min(beta_1 * c, h)
    return a


@formula(_SEGMENT, theta="rad", A_c="in**2")
def segment_area(a, b):
    """Return the area of the stress block of a round section."""
    theta = acos(1 - 2 * a / b)
    A_c = (b / 2) ** 2 * (theta - sin(theta) * cos(theta))
    return A_c


@formula(_SEGMENT, theta="rad", Q_c="in**3")
def segment_moment(a, b):
    """Return the first moment of the stress block of a round section about its middle."""
    theta = acos(1 - 2 * a / b)
    Q_c = 2 / 3 * (b / 2) ** 3 * sin(theta) ** 3
    return Q_c


@formula(_STATICS, A_c="in**2")
def flat_area(a, b):
    """Return the area of the stress block of a square section bent along a side."""
    A_c = a * b
    return A_c


@formula(_STATICS, Q_c="in**3")
def flat_moment(a, b):
    """Return the first moment of the stress block of a square section bent along a side."""
    Q_c = a * b * (b / 2 - a / 2)
    return Q_c


@formula(_CORNER, l="in", h="in", A_c="in**2")
def corner_area(a, b, psi):
    """Return the area of the stress block of a square section bent at an angle to its side."""
    l = b * sin(psi)
    h = b * (sin(psi) + cos(psi))
    A_c = (a**2 - max(0, a - l) ** 2 - max(0, a - h + l) ** 2) / (2 * sin(psi) * cos(psi))
    return A_c


@formula(_CORNER, l="in", h="in", Q_0="in**3", Q_l="in**3", Q_h="in**3", Q_c="in**3")
def corner_moment(a, b, psi):
    """Return the first moment of the stress block of a square section bent at an angle to its side, about its middle."""
    l = b * sin(psi)
    h = b * (sin(psi) + cos(psi))
    Q_0 = h / 2 * a**2 / 2 - a**3 / 3
    Q_l = (h / 2 - l) * max(0, a - l) ** 2 / 2 - max(0, a - l) ** 3 / 3
    Q_h = (l - h / 2) * max(0, a - h + l) ** 2 / 2 - max(0, a - h + l) ** 3 / 3
    Q_c = (Q_0 - Q_l - Q_h) / (sin(psi) * cos(psi))
    return Q_c


@formula(Source("derivation", "square seen at an angle to its side"), h="in")
def corner_depth(b, psi):
    """Return the depth of a square section along a direction at an angle to its side."""
    h = b * (sin(psi) + cos(psi))
    return h


@formula(aci("22.2.1.2"), epsilon_s="")
def bar_strain(epsilon_cu, c, h, y):
    """Return the strain of the bars, shortening positive."""
    epsilon_s = epsilon_cu * (c - h / 2 + y) / c
    return epsilon_s


@formula(aci("20.2.2.1"), f_s="ksi")
def bar_stress(epsilon_s, E_s, f_y):
    """Return the stress of the bars, compression positive."""
    f_s = max(-f_y, min(f_y, E_s * epsilon_s))
    return f_s


def inside_block(a, h, y):
    """Return which bars lie inside the stress block: 1 there, 0 outside; of numbers or arrays in one unit."""
    return np.where(np.asarray(y) > h / 2 - a, 1.0, 0.0)


@formula(aci("22.2.2.4.1, concrete displaced by bars inside the block deducted"), F_s="kip")
def bar_force(A_b, f_s, f_c_prime, k_s):
    """Return the force of the bars, less that of the concrete they displace in the stress block."""
    F_s = A_b * (f_s - 0.85 * f_c_prime * k_s)
    return F_s


@formula(aci("22.2.2.4.1"), P_n="kip")
def axial_strength(f_c_prime, A_c, F_s):
    """Return the nominal axial strength of this state."""
    P_n = 0.85 * f_c_prime * A_c + sum(F_s)
    return P_n


@formula(aci("22.2.2.4.1"), M_n="kip*in")
def moment_strength(f_c_prime, Q_c, F_s, y):
    """Return the nominal moment strength of this state about the middle of the section."""
    M_n = 0.85 * f_c_prime * Q_c + sum(F_s * y)
    return M_n


@formula(aci("21.2.2"), epsilon_t="")
def tension_strain(epsilon_cu, c, h, y_t):
    """Return the strain of the bar most in tension."""
    epsilon_t = epsilon_cu * (h / 2 - y_t - c) / c
    return epsilon_t


@formula(aci("21.2.2.1"), epsilon_ty="")
def yield_strain(f_y, E_s):
    """Return the yield strain of the bars."""
    epsilon_ty = f_y / E_s
    return epsilon_ty


@formula(aci("Table 21.2.2, ties"), phi="")
def strength_factor(epsilon_t, epsilon_ty):
    """Return the strength reduction factor by the strain of the bar most in tension."""
    phi = max(0.65, min(0.90, 0.65 + 0.25 * (epsilon_t - epsilon_ty) / 0.003))
    return phi


@formula(aci("21.2"), M_d="kip*ft")
def design_moment(phi, M_n):
    """Return the design moment strength."""
    M_d = phi * M_n
    return M_d


@formula(aci("21.2"), P_d="kip")
def design_axial(phi, P_n):
    """Return the design axial strength of this state."""
    P_d = phi * P_n
    return P_d


@formula(aci("22.4.2.2"), P_o="kip")
def squash(f_c_prime, A_g, A_st, f_y):
    """Return the axial strength without moment."""
    P_o = 0.85 * f_c_prime * (A_g - A_st) + f_y * A_st
    return P_o


@formula(aci("Table 22.4.2.1, ties"), P_max="kip")
def largest_axial(phi, P_o):
    """Return the largest design axial strength of a tied section."""
    P_max = phi * 0.80 * P_o
    return P_max


@formula(aci("22.4.3.1"), P_t="kip")
def tension_strength(phi, f_y, A_st):
    """Return the design strength in tension."""
    P_t = phi * f_y * A_st
    return P_t


COMPRESSION_PHI = given(0.65, "", aci("Table 21.2.2, compression-controlled, ties"), "phi")
TENSION_PHI = given(0.90, "", aci("Table 21.2.2, tension-controlled"), "phi")


@dataclass(frozen=True)
class Section:
    """A round or square section with its bars evenly spaced in a cage.

    Attributes:
        shape: ``"round"`` or ``"square"``.
        b: Diameter or side that counts.
        R_s: Distance from the middle to the bars' circle or rows.
        n: How many bars.
        A_b: Area of one.
        f_c_prime, f_y: Strengths of concrete and bars.

    """

    shape: str
    b: Value
    R_s: Value
    n: Value
    A_b: Value
    f_c_prime: Value
    f_y: Value

    def __post_init__(self) -> None:
        if self.R_s.magnitude <= 0:
            raise DomainError(f"No bars fit into a pier of {self.b.text()} with this cover: their circle is {self.R_s.text()}.")
        if self.shape == "square" and self.count % 4:
            raise DomainError(f"A square pier has its bars evenly along four sides: 4, 8, 12 ... bars, not {self.count}.")

    @property
    def count(self) -> int:
        """How many bars."""
        return int(self.n.magnitude)

    @property
    def directions(self) -> tuple[float, ...]:
        """Directions worked [deg]: of the compressed side, from a bar (round) or from a side (square)."""
        return SQUARE_DIRECTIONS if self.shape == "square" else (0.0, 180.0 / self.count)

    def heights(self, direction: float) -> np.ndarray:
        """Return how far each bar lies toward the compressed side of the middle, in units of ``R_s``."""
        return cage(self.shape, self.count, direction)


def skewed(shape: str, direction: float) -> bool:
    """Return whether a section is a square bent at an angle to its sides."""
    return shape == "square" and direction > SKEW


def cage(shape: str, count: int, direction: float) -> np.ndarray:
    """Return how far each bar of a cage lies along a direction [deg], in units of the distance of their circle or rows."""
    angle = math.radians(direction)
    if shape == "round":
        return np.round(np.cos(2 * np.pi * np.arange(count) / count - angle), 12)
    side = count // 4
    run = np.arange(side) * 2 / side - 1  # along one side, from a corner up to but not including the next
    x = np.concatenate([run, np.ones(side), -run, -np.ones(side)])
    y = np.concatenate([-np.ones(side), run, np.ones(side), -run])
    return np.round(x * math.sin(angle) + y * math.cos(angle), 12)


@formula(Source("derivation", "geometry of the cage"), y="in")
def bar_heights(R_s, eta):
    """Return the heights of the bars above the middle of the section."""
    y = R_s * eta
    return y


def gross(shape: str, b: Value) -> Value:
    """Return the area of a section."""
    area = round_area(b=b) if shape == "round" else square_area(s=b)
    return area.named("A_g").to("in**2")


@formula(Source("derivation", "sum of the bars"), A_st="in**2")
def steel_area(n, A_b):
    """Return the area of the bars."""
    A_st = n * A_b
    return A_st


@formula(aci("10.6.1.1 and 10.3.1.2, area reduced until the bars are 0.01 of it"), b_e="in")
def reduced_size(b, A_g, A_st):
    """Return the diameter or side of the area that is counted on."""
    b_e = b * sqrt(min(1, A_st / (0.01 * A_g)))
    return b_e

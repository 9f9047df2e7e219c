"""Force coefficients by figure: open frames, solid signs, single cabinets; ASCE/SEI 7, Figures 29.3-1, 29.4-1, 29.4-2."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.words import as_word, plain_word
from rackbook.tables import table
from rackbook.trace import DomainError, Source, Value, formula, given, pick
from rackbook.trace.maths import max, min, sqrt, sum

from .force import Force, design_force
from .pressure import BOTH, clause

FIGURE_OPEN = clause(BOTH, "Figure 29.4-2")
FIGURE_SOLID = clause(BOTH, "Figure 29.3-1")
#: Openings of 30 % or more of the gross area make a face an open frame, fewer a solid sign.
SOLID_FROM = given(0.7, "", clause(BOTH, "Figures 29.3-1 and 29.4-2, openings 30 % of the gross area"), "epsilon_max")
ROUND_LIMIT = given(2.5, "ft*psf**0.5", FIGURE_OPEN, "limit")
E_B = given(0.2, "", clause(BOTH, "Figure 29.3-1, Case B"), "e_B")
RISE = given(0.05, "", clause(BOTH, "Figure 29.3-1, s/h = 1"), "rise")


@formula(Source("derivation", "solid area over gross area"), epsilon="")
def solidity(A_f, A_g):
    """Return the solidity ratio."""
    epsilon = A_f / A_g
    return epsilon


@formula(Source("derivation", "solid area with the raceways and braces in its openings, over gross area"), epsilon="")
def filled_solidity(A_f, A_r, A_g):
    """Return the solidity ratio of a face with raceways and braces in its openings."""
    epsilon = min((A_f + A_r) / A_g, 1)
    return epsilon


@formula(FIGURE_OPEN, D_q="ft*psf**0.5")
def round_criterion(D, q_z):
    """Return the criterion of round members, the diameter in feet."""
    D_q = D * sqrt(q_z)
    return D_q


@formula(Source("derivation", "the figure ends at 0.7; above it the face is a solid sign"), epsilon="")
def within_figure(epsilon_g, epsilon_max):
    """Return the solidity the figure is entered with."""
    epsilon = min(epsilon_g, epsilon_max)
    return epsilon


def open_coefficient(epsilon: Value, members: Any = "flat-sided", D_q: Value | None = None) -> Value:
    """Return C_f of an open frame (step table, not interpolated).

    Args:
        epsilon: Solid area over gross area, to 0.7.
        members: ``flat-sided`` or ``round``.
        D_q: D sqrt(q_z) of round members; one number or an array.

    Raises:
        DomainError: The kind of members is not known, or D_q is missing with round ones.
        LookupFailed: The openings are below 30 %: the face is a solid sign.

    """
    rows, kind = table("force_coefficient_open"), as_word(members, "members")
    if plain_word(kind) == "flat-sided":
        return rows.step(epsilon, "flat_sided", "C_f", by={"members": kind})
    if plain_word(kind) != "round":
        raise DomainError(f"'{plain_word(kind)}' is not a kind of member of the figure. Allowed: flat-sided, round.")
    if D_q is None:
        raise DomainError("Round members need D sqrt(q_z), with D in feet and q_z in psf, to choose their column.")
    small, large = rows.step(epsilon, "round_small", "C_f"), rows.step(epsilon, "round_large", "C_f")
    by = {"D_q": D_q, "limit": ROUND_LIMIT, "members": kind}
    if isinstance(D_q.magnitude, np.ndarray):
        from rackbook.loads.geometry import read

        units = {"D_q": D_q.to("ft*psf**0.5"), "limit": ROUND_LIMIT, "small": small, "large": large}
        return read("by D sqrt(q_z)", FIGURE_OPEN, "", _by_roundness, units, "C_f")
    is_small = D_q.m_as("ft*psf**0.5") <= ROUND_LIMIT.magnitude
    because = f"D sqrt(q_z) is {'not ' if is_small else ''}above 2.5"
    label = {True: "to 2.5", False: "above 2.5"}
    return pick("C_f", {label[True]: small, label[False]: large}, label[is_small], because, by, FIGURE_OPEN)


def _by_roundness(D_q: np.ndarray, limit: float, small: Any, large: Any) -> np.ndarray:
    return np.where(D_q <= limit, small, large)


@dataclass(frozen=True)
class OpenFrame:
    """Force on an open frame."""

    epsilon: Value
    D_q: Value | None
    C_f: Value
    force: Force

    @property
    def F(self) -> Value:
        """The design wind force."""
        return self.force.F


def open_frame(
    edition: Any, q_z: Value, A_f: Value, A_g: Value, members: Any = "flat-sided", D: Value | None = None,
    K_d: Value | None = None, G: Value | None = None,
) -> OpenFrame:  # fmt: skip
    """Return the force on a single-plane open frame: Eq. 29.4-1 with Figure 29.4-2 on the solid area.

    Args:
        edition: 7-16 or 7-22.
        q_z: Velocity pressure of that edition.
        A_f: Solid area normal to the wind.
        A_g: Gross area within the outline.
        members: ``flat-sided`` or ``round``.
        D: Diameter of a typical round member.
        K_d: Needed with 7-22 only.
        G: Gust factor; 0.85 if left out.

    Raises:
        LookupFailed: The openings are below 30 % of the gross area.

    """
    epsilon = solidity(A_f=A_f, A_g=A_g)
    D_q = round_criterion(D=D, q_z=q_z) if D is not None else None
    C_f = open_coefficient(epsilon, members, D_q)
    return OpenFrame(epsilon, D_q, C_f, design_force(edition, q_z, C_f, A_f, K_d, G))


@formula(FIGURE_SOLID, s_h="")
def clearance_ratio(s, h):
    """Return the height of the sign over the height of its top."""
    s_h = s / h
    return s_h


@formula(FIGURE_SOLID, B_s="")
def aspect_ratio(B, s):
    """Return the width of the sign over its height."""
    B_s = B / s
    return B_s


@formula(clause(BOTH, "Figure 29.3-1, openings below 30 %"), k_o="")
def opening_reduction(epsilon):
    """Return the factor for openings in a solid sign."""
    k_o = 1 - max(1 - epsilon, 0) ** 1.5
    return k_o


@formula(FIGURE_SOLID, C_f="")
def reduced_coefficient(C_f0, k_o):
    """Return the force coefficient with openings."""
    C_f = C_f0 * k_o
    return C_f


@formula(Source("derivation", "the sign's force on its solid part alone"), C_f="")
def local_coefficient(C_f0, epsilon):
    """Return the force coefficient on the solid parts of a sign with openings."""
    C_f = C_f0 / epsilon
    return C_f


@formula(Source("derivation", "gross area of the panel: the rectangle around equipment, rails and tray"), A_s="ft**2")
def sign_area(B, s):
    """Return the gross area of the sign or panel."""
    A_s = B * s
    return A_s


@formula(clause(BOTH, "Figure 29.3-1, Case B"), e="ft")
def case_B_offset(B, e_B):
    """Return the distance of the force from the center in Case B."""
    e = e_B * B
    return e


@formula(clause(BOTH, "Figure 29.3-1, Cases A and B"), z_F="ft")
def center_height(h, s):
    """Return the height of the resultant, at the center of the sign."""
    z_F = h - s / 2
    return z_F


@formula(clause(BOTH, "Figure 29.3-1, s/h = 1"), z_F="ft")
def raised_height(h, s, rise):
    """Return the height of the resultant on a sign that reaches the ground, above the center."""
    z_F = h - s / 2 + rise * s
    return z_F


@formula(Source("derivation", "moment about the ground line"), M="lbf*ft")
def base_moment(F, z_F):
    """Return the overturning moment about the ground line."""
    M = F * z_F
    return M


@formula(clause(BOTH, "Figure 29.3-1, Case C, s/h above 0.8"), k_C="")
def case_C_reduction(s_h):
    """Return the factor on the coefficients of Case C."""
    k_C = min(1, 1.8 - s_h)
    return k_C


@formula(clause(BOTH, "Figure 29.3-1, Case C"), e_C="ft")
def case_C_offset(C_f, b, y):
    """Return the offset of the resultant of the strips of Case C from the center of the sign."""
    e_C = sum(C_f * b * y) / sum(C_f * b)
    return e_C


@formula(clause(BOTH, "Figure 29.3-1, Case C"), C_fC="")
def case_C_mean(C_f, b, k_C):
    """Return the mean coefficient of Case C over the sign."""
    C_fC = k_C * sum(C_f * b) / sum(b)
    return C_fC


@formula(Source("derivation", "force times its offset"), T="lbf*ft")
def torsion(F, e):
    """Return the torsion of a force off the center."""
    T = F * e
    return T

"""Solid freestanding signs (Cases A, B and C of Figure 29.3-1) and single cabinets (Figure 29.4-1)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.geometry import read
from rackbook.loads.words import as_word, plain_word
from rackbook.tables import table
from rackbook.trace import DomainError, Source, Value, formula, given, largest

from .coefficients import (
    E_B,
    FIGURE_SOLID,
    RISE,
    ROUND_LIMIT,
    SOLID_FROM,
    aspect_ratio,
    base_moment,
    case_B_offset,
    case_C_mean,
    case_C_offset,
    case_C_reduction,
    center_height,
    clearance_ratio,
    local_coefficient,
    opening_reduction,
    raised_height,
    reduced_coefficient,
    round_criterion,
    sign_area,
    torsion,
)  # fmt: skip
from .force import G_RIGID, MINIMUM, P_MIN, Force, design_force, directional, minimum_sign_force, sign_force_716, sign_force_722
from .pressure import BOTH, clause

#: Where the strips of Case C begin and end, in sign heights from the windward edge.
STRIPS = {"0s": (0, 1), "1s": (1, 2), "2s": (2, 3), "3s": (3, 4), "4s": (4, 5), "5s": (5, 10), "10s": (10, np.inf)}
FULL = given(1.0, "", Source("derivation", "no openings"), "k_o")


@dataclass(frozen=True)
class SignCase:
    """One case of the figure: coefficient, force by the equation, the one that governs, its torsion (none in Case A)."""

    C_f: Value
    F_calc: Value
    F: Value
    T: Value | None


@dataclass(frozen=True)
class SolidSign:
    """Force on a solid freestanding sign.

    ``C_f`` is that of the governing case; ``F`` acts ``z_F`` above ground, off the center by ``e`` in Case B, with the
    torsion ``T`` (Case B or C) about the sign's own vertical axis and the moment ``M`` about the ground line.
    ``C_f_AB`` and ``C_f_C`` are those of the cases; the latter is None where B/s is below 2. ``C_f_local`` is the
    largest on any part of the sign: that of the windward strip where there is a Case C. ``cases`` has each case by its name.
    """

    s_h: Value
    B_s: Value
    k_o: Value
    C_f_AB: Value
    C_f_C: Value | None
    C_f: Value
    C_f_local: Value
    A_s: Value
    F_min: Value | None
    F: Value
    e: Value
    T: Value
    z_F: Value
    M: Value
    cases: dict[str, SignCase]


def solid_coefficient(s_h: Value, B_s: Value) -> Value:
    """Return C_f of Cases A and B, bilinear in s/h and B/s.

    Raises:
        LookupFailed: s/h is above 1.

    """
    return table("force_coefficient_solid").interpolate((s_h, B_s), "C_f", "C_f0")


def case_C(B: Value, s: Value, s_h: Value, B_s: Value) -> tuple[Value, Value, Value]:
    """Return the mean coefficient of Case C, the offset of its resultant from the center, and the windward strip's own.

    Raises:
        DomainError: B/s is below 2, where the figure has no Case C.

    """
    ratio = B_s.m_as("")
    if ratio < 2 - 1e-9:
        raise DomainError(f"Case C is for B/s of 2 and more; here B/s = {ratio:.3g}.")
    strips = [n for n, (start, _) in STRIPS.items() if start < ratio - 1e-9]
    rows = table("force_coefficient_solid_c")
    cells = {n: rows.interpolate(B_s, "C_f", f"C_f_{n}", at=(n,)) for n in strips}
    C_f = read("coefficients of the strips", FIGURE_SOLID, "", _lined_up, cells, "C_f")
    sizes = {"B": B.to("ft"), "s": s.to("ft")}
    rule = clause(BOTH, "Figure 29.3-1, Case C: strips in multiples of s from the windward edge")
    b = read("widths of the strips", rule, "ft", _strip_widths, sizes, "b")
    y = read("centers of the strips", rule, "ft", _strip_centers, sizes, "y")
    k_C = case_C_reduction(s_h=s_h)
    edge = reduced_coefficient(C_f0=cells["0s"], k_o=k_C)
    return case_C_mean(C_f=C_f, b=b, k_C=k_C), case_C_offset(C_f=C_f, b=b, y=y), edge


def _lined_up(**cells: float) -> np.ndarray:
    return np.array(list(cells.values()))


def _edges(B: float, s: float) -> tuple[np.ndarray, np.ndarray]:
    low = np.array([start for start, _ in STRIPS.values() if start * s < B - 1e-9 * s], float)
    high = np.array([stop for start, stop in STRIPS.values() if start * s < B - 1e-9 * s], float)
    return low * s, np.minimum(high * s, B)


def _strip_widths(B: float, s: float) -> np.ndarray:
    low, high = _edges(B, s)
    return high - low


def _strip_centers(B: float, s: float) -> np.ndarray:
    low, high = _edges(B, s)
    return B / 2 - (low + high) / 2


def solid_sign(
    edition: Any, B: Value, s: Value, h: Value, q_h: Value, K_d: Value | None = None, epsilon: Value | None = None,
    G: Value | None = None, p_min: Value | None = P_MIN,
) -> SolidSign:  # fmt: skip
    """Return the force on a solid freestanding sign or panel (Eq. 29.3-1): the most severe of Cases A, B and C.

    In every case the force is not less than the minimum pressure on the gross area (29.7).

    Args:
        edition: 7-16 or 7-22.
        B: Width.
        s: Height of the panel itself.
        h: Height of its top above ground.
        q_h: Velocity pressure at h, of that edition.
        K_d: Needed with 7-22 only.
        epsilon: Solid over gross area, above 0.7; no openings if left out.
        G: Gust factor; 0.85 if left out.
        p_min: Minimum design wind pressure; None where no minimum applies.

    Raises:
        DomainError: The openings are 30 % or more (an open frame), or K_d is missing or doubled.
        LookupFailed: The panel is higher than its top.

    """
    if epsilon is not None and np.any(epsilon.m_as("") <= SOLID_FROM.magnitude):
        raise DomainError("Openings of 30 % or more of the gross area make an open frame (Figure 29.4-2), not a solid sign.")
    if epsilon is not None and np.any(epsilon.m_as("") > 1 + 1e-6):
        raise DomainError("epsilon is solid over gross area: above 1 the gross area is not the outline of the solid one.")
    s_h, B_s = clearance_ratio(s=s, h=h), aspect_ratio(B=B, s=s)
    k_o = opening_reduction(epsilon=epsilon) if epsilon is not None else FULL
    A_s, e_B = sign_area(B=B, s=s), case_B_offset(B=B, e_B=E_B)
    G = G if G is not None else G_RIGID
    once = directional(edition, K_d)
    made = sign_force_722 if once else sign_force_716

    F_min = minimum_sign_force(p_min=p_min, A_s=A_s) if p_min is not None else None
    least = {"29.7, 16 psf": F_min} if F_min is not None else {}

    def case(name: str, C_f: Value, arm: Value | None) -> SignCase:
        F_calc = made(q_h=q_h, G=G, C_f=C_f, A_s=A_s, **once)
        F = largest("F", {name: F_calc, **least}, MINIMUM) if least else F_calc
        return SignCase(C_f, F_calc, F, torsion(F=F, e=arm) if arm is not None else None)

    AB = reduced_coefficient(C_f0=solid_coefficient(s_h, B_s), k_o=k_o)
    cases = {name: case(name, AB, arm) for name, arm in (("Case A", None), ("Case B", e_B))}
    C_f, of_C, local = AB, None, AB
    if not isinstance(B_s.magnitude, np.ndarray) and B_s.m_as("") >= 2 - 1e-9:
        mean, e_C, edge = case_C(B, s, s_h, B_s)
        of_C = reduced_coefficient(C_f0=mean, k_o=k_o)
        cases["Case C"] = case("Case C", of_C, e_C)
        local = reduced_coefficient(C_f0=edge, k_o=k_o)
        C_f = largest("C_f", {"Case A": AB, "Case C": of_C}, FIGURE_SOLID)
    if epsilon is not None:
        local = local_coefficient(C_f0=local, epsilon=epsilon)
    forces = {name: of.F_calc for name, of in cases.items() if name != "Case B"}
    F = largest("F", {**forces, **least}, MINIMUM if least else FIGURE_SOLID)
    T = largest("T", {name: of.T for name, of in cases.items() if of.T is not None}, FIGURE_SOLID)
    to_ground = not isinstance(s_h.magnitude, np.ndarray) and s_h.m_as("") > 1 - 1e-9
    z_F = raised_height(h=h, s=s, rise=RISE) if to_ground else center_height(h=h, s=s)
    M = base_moment(F=F, z_F=z_F)
    return SolidSign(s_h, B_s, k_o, AB, of_C, C_f, local, A_s, F_min, F, e_B, T, z_F, M, cases)


@formula(clause(BOTH, "Figure 29.4-1"), h_D="")
def slenderness(h, D):
    """Return the height of the structure over its width or diameter."""
    h_D = h / D
    return h_D


@dataclass(frozen=True)
class Cabinet:
    """Force on a single cabinet standing for itself."""

    h_D: Value
    D_q: Value
    C_f: Value
    force: Force


def cabinet(
    edition: Any, q_z: Value, h: Value, D: Value, A_f: Value, section: Any = "square", K_d: Value | None = None,
    G: Value | None = None,
) -> Cabinet:  # fmt: skip
    """Return the force on a single cabinet as a chimney, tank or similar structure (Figure 29.4-1).

    On a rack the cabinets count as parts of the open frame, which asks more of them; this is for one that stands alone.

    Args:
        edition: 7-16 or 7-22.
        q_z: Velocity pressure of that edition (K_d 0.90 for square).
        h: Height of the structure.
        D: Least width of a square, diameter of a round one.
        A_f: Projected area.
        section: Row of the figure: ``square``, ``square_diagonal``, ``hexagonal_octagonal``, or ``round_smooth``,
            ``round_rough``, ``round_very_rough`` (the row for small D sqrt(q_z) is taken where it applies).
        K_d: Needed with 7-22 only.
        G: Gust factor; 0.85 if left out.

    """
    h_D, D_q = slenderness(h=h, D=D), round_criterion(D=D, q_z=q_z)
    word = as_word(section, "section")
    small = plain_word(word).startswith("round_") and D_q.m_as("ft*psf**0.5") <= ROUND_LIMIT.magnitude
    row = "round_small" if small else plain_word(word)
    by = {"section": word, "D_q": D_q}
    C_f = table("force_coefficient_cabinet").interpolate(h_D, "C_f", "C_f", at=(row,), by=by)
    return Cabinet(h_D, D_q, C_f, design_force(edition, q_z, C_f, A_f, K_d, G))

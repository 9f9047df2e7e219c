"""Chapter E: compression of members with and without slender walls."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from rackbook.trace import Value, formula, given, largest, pick, smallest
from rackbook.trace.maths import pi

from ..steel import E, clause, one_of
from . import torsional
from .angles import principal
from .effective import effective_area
from .section import Section, as_section, leg_ratio, root_limit
from .single_angle import end_slenderness

#: Width-to-thickness of a leg, as a coefficient of sqrt(E/F_y), above which flexural-torsional buckling of an angle counts.
_LEG = given(0.71, "", clause("E5"), "c_r")
ENDS = ("concentric", "one leg")
SHORT = "Eq. E3-2, F_y/F_e at most 2.25"
LONG = "Eq. E3-3, F_y/F_e above 2.25"


@formula(clause("E2", "read"), lamb_c="")
def slenderness(L_c, r):
    """Return the effective slenderness."""
    lamb_c = L_c / r
    return lamb_c


@formula(clause("Eq. E3-4", "read"), F_e="ksi")
def flexural(E, lamb_c):
    """Return the elastic stress at flexural buckling."""
    F_e = pi**2 * E / lamb_c**2
    return F_e


@formula(clause("Eq. E3-2", "read"), F_n="ksi")
def inelastic_stress(F_y, F_e):
    """Return the nominal stress of a member that yields before it buckles."""
    F_n = 0.658 ** (F_y / F_e) * F_y
    return F_n


@formula(clause("Eq. E3-3", "read"), F_n="ksi")
def elastic_stress(F_e):
    """Return the nominal stress of a member that buckles elastically."""
    F_n = 0.877 * F_e
    return F_n


@formula(clause("Eq. E3-1 and E7-1", "read"), P_n="kip")
def compressive_strength(F_n, A_e):
    """Return the nominal compressive strength."""
    P_n = F_n * A_e
    return P_n


@dataclass(frozen=True)
class Compression:
    """Nominal strength in compression.

    Attributes:
        slenderness: Largest effective slenderness of flexural buckling.
        F_e: Elastic stress at buckling; its choice names the mode and what was passed over.
        F_n: Nominal stress.
        A_e: Effective area: the gross one where no wall is slender.
        P_n: Nominal strength.
        limit: E5's limit on the slenderness of an angle loaded through one leg; None for all others.
        legs: Ratio of such an angle's legs, and E5's limit on it; None for all others.

    """

    slenderness: Value
    F_e: Value
    F_n: Value
    A_e: Value
    P_n: Value
    limit: Value | None = None
    legs: tuple[Value, Value] | None = None


def nominal_stress(F_y: Value, F_e: Value) -> Value:
    """Return F_n of Section E3 for an elastic stress of any mode."""
    short = F_y.m_as("ksi") <= 2.25 * F_e.m_as("ksi")
    made = {SHORT: inelastic_stress(F_y=F_y, F_e=F_e) if short else None, LONG: None if short else elastic_stress(F_e=F_e)}
    return pick("F_n", made, SHORT if short else LONG, "by F_y/F_e", {"F_y": F_y, "F_e": F_e}, clause("E3", "read"))


def compression(
    shape: Any, F_y: Value, L_cx: Value, L_cy: Value, L_cz: Value | None = None, ends: Any = "concentric"
) -> Compression:
    """Return the nominal strength in compression.

    Args:
        shape: Designation, section, or family and properties: see :func:`~.section.as_section`.
        F_y: Yield stress.
        L_cx: Effective length K L of buckling about x (strut: axis 1).
        L_cy: Effective length of buckling about y (strut: axis 2). An angle bends about its principal axes, with the larger
            of both.
        L_cz: Effective length of twisting; the larger of the others if left out.
        ends: ``"concentric"``, or ``"one leg"`` for an angle held at both ends by the same leg (E5).

    Raises:
        LookupFailed: There is no such shape.
        InputError: There is no such kind of end.
        DomainError: A wall is more slender than the clause covers, or a length is zero.

    """
    of = as_section(shape)
    if L_cz is None:
        L_cz = largest("L_cz", {"L_cx": L_cx, "L_cy": L_cy})
    if of.family == "angles":
        return _angle(of, F_y, largest("L_c", {"L_cx": L_cx, "L_cy": L_cy}), L_cz, ends)
    radii = {"pipes": ("r", "r"), "strut": ("r_1", "r_2")}.get(of.family, ("r_x", "r_y"))
    about_x, about_y = (slenderness(L_c=L, r=of[r]) for L, r in zip((L_cx, L_cy), radii, strict=True))
    F_ex, F_ey = flexural(E=E, lamb_c=about_x).named("F_ex"), flexural(E=E, lamb_c=about_y).named("F_ey")
    modes = {"flexural about x": F_ex, "flexural about y": F_ey}
    if of.family == "wide_flanges":
        modes["torsional"] = torsional.of_wide_flange(of, L_cz).F_e
    elif of.family == "channels":
        modes["flexural-torsional"] = torsional.of_channel(of, F_ex, L_cz).F_e
    elif of.family == "strut":
        modes["torsional with bending about axis 2"] = torsional.of_strut(of, F_ey, L_cz).F_e
    return _strength(of, F_y, largest("lamb_c", {"about x": about_x, "about y": about_y}), smallest("F_e", modes))


def _strength(of: Section, F_y: Value, lamb_c: Value, F_e: Value) -> Compression:
    F_n = nominal_stress(F_y, F_e)
    A_e = effective_area(of, F_y, F_n)
    return Compression(lamb_c, F_e, F_n, A_e, compressive_strength(F_n=F_n, A_e=A_e))


def _angle(of: Section, F_y: Value, L_c: Value, L_cz: Value, ends: Any) -> Compression:
    """Return the strength of an angle: about z, or by E5; with thin legs twisting too."""
    axes = principal(of)
    about_w, about_z = slenderness(L_c=L_c, r=axes.r_w), slenderness(L_c=L_c, r=of["r_z"])
    F_ew, F_ez = flexural(E=E, lamb_c=about_w).named("F_ew"), flexural(E=E, lamb_c=about_z).named("F_ez")
    lamb_b, lamb_t = leg_ratio(of), root_limit(c_r=_LEG, E=E, F_y=F_y).named("lamb_t")
    end = end_slenderness(of, L_c) if one_of("kind of end", ends, ENDS) == "one leg" else None
    lamb_c = end.lamb_c if end is not None else about_z
    words, F_e = ("flexural about z", F_ez) if end is None else ("effective slenderness of E5", flexural(E=E, lamb_c=lamb_c))
    if lamb_b.magnitude > lamb_t.magnitude:
        F_e = smallest("F_e", {words: F_e, "flexural-torsional": torsional.of_angle(of, axes, F_ew, F_ez, L_cz).F_e})
    else:
        stocky = f"{words}, b/t at most 0.71 sqrt(E/F_y)"
        F_e = pick("F_e", {stocky: F_e}, stocky, "no twisting, E5", {"lamb_b": lamb_b, "lamb_t": lamb_t})
    made = _strength(of, F_y, lamb_c, F_e)
    return made if end is None else replace(made, limit=end.limit, legs=(end.legs, end.legs_limit))

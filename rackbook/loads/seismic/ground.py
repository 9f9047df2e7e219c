"""Ground motion of the site: site coefficients and design accelerations, or those the hazard service gives."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from rackbook.tables import table
from rackbook.trace import DomainError, Source, Value, formula, given, largest

from ..words import as_word, plain_word

FLOOR_DEFAULT = given(1.2, "", Source("clause", "ASCE/SEI 7", "16", "11.4.4, site class D by default", "read"), "F_a_min")
UNITY_B = given(1.0, "", Source("clause", "IBC", "2018", "1613.2.3, rock without measured velocity", "read"), "F")
INCREASE = given(1.5, "", Source("clause", "ASCE/SEI 7", "16", "11.4.8, exception 2", "memory"), "f_long")
UNUSUAL = (
    "S_M1 is above S_MS. The building code (IBC 2018, 1613.2.3) takes S_MS not less than S_M1 except for the category; the "
    "values of the standard are used here: confirm with the building authority."
)
GIVE_SPECTRAL = "Give the accelerations of a site-specific study as site.seismic.spectral (S_DS, S_D1, S_1)."


@formula(Source("clause", "ASCE/SEI 7", "16", "Eq. 11.4-1", "memory"), S_MS="")
def short_period_motion(F_a, S_S):
    """Return the short-period acceleration adjusted for the site."""
    S_MS = F_a * S_S
    return S_MS


@formula(Source("clause", "ASCE/SEI 7", "16", "Eq. 11.4-2", "memory"), S_M1="")
def long_period_motion(F_v, S_1):
    """Return the one-second acceleration adjusted for the site."""
    S_M1 = F_v * S_1
    return S_M1


@formula(Source("clause", "ASCE/SEI 7", "16", "Eq. 11.4-3", "memory"), S_DS="")
def design_short(S_MS):
    """Return the design acceleration at short periods."""
    S_DS = 2 * S_MS / 3
    return S_DS


@formula(Source("clause", "ASCE/SEI 7", "16", "Eq. 11.4-4", "memory"), S_D1="")
def design_long(S_M1):
    """Return the design acceleration at one second."""
    S_D1 = 2 * S_M1 / 3
    return S_D1


@formula(Source("clause", "ASCE/SEI 7", "16 and 22", "11.4, T_S", "memory"), stated={}, T_S="s")
def corner_period(S_D1, S_DS):
    """Return the period at which the plateau of the spectrum ends."""
    T_S = S_D1 / S_DS
    return T_S


@dataclass(frozen=True)
class Ground:
    """Accelerations of the site, in multiples of gravity, and what their clause asks of the base shear.

    Attributes:
        S_DS, S_D1, S_1: Design accelerations, and the mapped one-second acceleration.
        T_S: Period at which the plateau ends; None where S_DS is zero.
        S_S, F_a, F_v, S_MS, S_M1: What they come from, where mapped values were given.
        long_factor: Factor on the long-period branch (exception 2 of 11.4.8), or None.
        plateau_only: Whether the values hold only for periods up to T_S (exception 3 of 11.4.8).
        notes: What was assumed or excepted, in words.

    """

    S_DS: Value
    S_D1: Value
    S_1: Value
    T_S: Value | None
    S_S: Value | None = None
    F_a: Value | None = None
    F_v: Value | None = None
    S_MS: Value | None = None
    S_M1: Value | None = None
    long_factor: Value | None = None
    plateau_only: bool = False
    notes: tuple[str, ...] = ()


def spectral_motion(S_DS: Value, S_D1: Value, S_1: Value) -> Ground:
    """Return the ground motion for accelerations that are given for the site.

    Raises:
        DomainError: An acceleration is negative.

    """
    for v in (S_DS, S_D1, S_1):
        _not_negative(v)
    T_S = corner_period(S_D1=S_D1, S_DS=S_DS) if S_DS.magnitude > 0 else None
    return Ground(S_DS, S_D1, S_1, T_S)


def mapped_motion(S_S: Value, S_1: Value, site_class: Any, measured: bool = True, edition: str = "7-16") -> Ground:
    """Return the ground motion from mapped accelerations and site coefficients (11.4; 7-10 and 7-16).

    Args:
        S_S: Mapped acceleration at short periods, in multiples of gravity.
        S_1: Mapped acceleration at one second.
        site_class: A to F.
        measured: Whether the class was found by investigation; class D taken by default has F_a not below 1.2.
        edition: ``"7-16"`` or ``"7-10"``.

    Raises:
        DomainError: The edition has no site coefficients, the class is F, or an acceleration is negative.

    """
    if edition not in ("7-10", "7-16"):
        raise DomainError(
            f"ASCE/SEI {edition} has no site coefficients F_a and F_v: its spectra come from the hazard service for the site "
            "class. Give site.seismic.spectral (S_DS, S_D1, S_1) instead of mapped values."
        )
    for v in (S_S, S_1):
        _not_negative(v)
    name = plain_word(site_class)
    if name == "F":
        raise DomainError(
            f"Site class F asks for a site response analysis (ASCE/SEI {edition}, 11.4.8); the tables give it no coefficients. "
            f"{GIVE_SPECTRAL}"
        )
    if name not in ("A", "B", "C", "D", "E"):
        raise DomainError(f"'{name}' is no site class; allowed: A, B, C, D, E, F.")
    letter = as_word(site_class, "site_class")
    F_a = coefficient_fa(S_S, letter, measured, edition)
    F_v = coefficient_fv(S_1, letter, measured, edition)
    notes, long_factor, plateau_only = _exceptions(S_S, S_1, name, measured) if edition == "7-16" else ([], None, False)
    S_MS, S_M1 = short_period_motion(F_a=F_a, S_S=S_S), long_period_motion(F_v=F_v, S_1=S_1)
    if edition == "7-16" and S_M1.magnitude > S_MS.magnitude:
        notes.append(UNUSUAL)
    ground = spectral_motion(design_short(S_MS=S_MS), design_long(S_M1=S_M1), S_1)
    return replace(
        ground, S_S=S_S, F_a=F_a, F_v=F_v, S_MS=S_MS, S_M1=S_M1, long_factor=long_factor, plateau_only=plateau_only,
        notes=tuple(notes),
    )  # fmt: skip


def coefficient_fa(S_S: Value, site_class: Any, measured: bool = True, edition: str = "7-16") -> Value:
    """Return the site coefficient F_a, with the floor of a default class D and the exceptions of 7-16; arguments as above.

    Raises:
        LookupFailed: The table has no such class, or prints no number for it.

    """
    letter, t = as_word(site_class, "site_class"), table("site_coefficient_fa")
    name = letter.magnitude
    if edition == "7-16" and name == "E" and S_S.magnitude >= 1.0:
        return t.interpolate(S_S, "F_a", "F_a", at=(edition, "C"), by={"class": letter})
    if edition == "7-16" and name == "B" and not measured:
        return UNITY_B.named("F_a")
    found = t.interpolate(S_S, "F_a", "F_a", at=(edition, letter))
    if edition == "7-16" and name == "D" and not measured:
        return largest("F_a", {"Table 11.4-1": found, "11.4.4, default class": FLOOR_DEFAULT})
    return found


def coefficient_fv(S_1: Value, site_class: Any, measured: bool = True, edition: str = "7-16") -> Value:
    """Return the site coefficient F_v; class E of 7-16 by Supplement 1, for use under the exceptions of 11.4.8.

    Raises:
        LookupFailed: The table has no such class, or prints no number for it.

    """
    letter, t = as_word(site_class, "site_class"), table("site_coefficient_fv")
    if edition == "7-16" and letter.magnitude == "B" and not measured:
        return UNITY_B.named("F_v")
    row = "7-16 Supplement 1" if edition == "7-16" and letter.magnitude == "E" else edition
    return t.interpolate(S_1, "F_v", "F_v", at=(row, letter))


def _exceptions(S_S: Value, S_1: Value, name: str, measured: bool) -> tuple[list[str], Value | None, bool]:
    """Return what 7-16 asks beyond its tables: notes, the factor on the long-period branch, plateau only."""
    notes = []
    if name == "B" and not measured:
        notes.append("Site class B without measured shear wave velocity: F_a and F_v are 1.0 (11.4.3).")
    if name == "D" and not measured:
        notes.append("Site class D was taken by default, not measured: F_a is not less than 1.2 (11.4.4).")
    if name == "E" and S_S.magnitude >= 1.0:
        notes.append(
            "Site class E with S_S of 1.0 or more: F_a is that of site class C (11.4.8, exception 1) in place of a "
            "site-specific study."
        )
    if name == "E" and S_1.magnitude >= 0.2:
        notes.append(
            "Site class E with S_1 of 0.2 or more: used by 11.4.8, exception 3, which holds for periods up to T_S and the "
            "equivalent lateral force procedure; F_v of Supplement 1."
        )
        return notes, None, True
    if name == "D" and S_1.magnitude >= 0.2:
        notes.append(
            "Site class D with S_1 of 0.2 or more: used by 11.4.8, exception 2, with 1.5 times the long-period base shear "
            "in place of a site-specific study. Supplement 3 of 7-16 words the exception otherwise: confirm which supplements "
            "are adopted."
        )
        return notes, INCREASE, False
    return notes, None, False


def _not_negative(v: Value) -> None:
    if v.magnitude < 0:
        raise DomainError(
            f"{v.symbol} = {v.text()} is negative; accelerations are given as multiples of gravity, zero or more."
        )

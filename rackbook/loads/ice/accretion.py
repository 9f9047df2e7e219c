"""Ice from freezing rain: design thickness and weight; ASCE/SEI 7-16 and 7-22, 10.4. Numbers and arrays alike."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.loads.wind.pressure import FLAT_GROUND
from rackbook.loads.words import as_word, plain_word
from rackbook.tables import table
from rackbook.trace import DomainError, Source, Value, formula, given
from rackbook.trace.maths import max, min, pi, sqrt

STANDARD = "ASCE/SEI 7"
EDITIONS = ("7-16", "7-22")


def clause(locator: str, edition: str = "16 and 7-22", how: str = "memory") -> Source:
    """Return a clause of Chapter 10, by default recalled and to be confirmed."""
    return Source("clause", STANDARD, edition, locator, how)


Z_33 = given(33.0, "ft", clause("10.4.2, height of the mapped thickness"), "z_33")
#: That 10.4.1 asks for 56 pcf at least was read in a trade article on 7-16; 7-22 is remembered unchanged.
GAMMA_I = given(56.0, "pcf", clause("10.4.1, minimum density of ice"), "gamma_i")
K_PLATE = given(0.6, "", clause("10.4.1, horizontal plates"), "k_h")


@formula(clause("Eq. 10.4-4"), f_z="")
def height_factor(z, z_33):
    """Return the height factor of the ice thickness."""
    f_z = (z / z_33) ** 0.10
    return f_z


@formula(clause("Eq. 10.4-5", "16"), t_d="in")
def design_thickness_716(t, I_i, f_z, K_zt):
    """Return the design ice thickness."""
    t_d = t * I_i * f_z * K_zt**0.35
    return t_d


@formula(clause("Eq. 10.4-5", "22"), t_d="in")
def design_thickness_722(t, f_z, K_zt):
    """Return the design ice thickness; the mapped one is that of the risk category."""
    t_d = t * f_z * K_zt**0.35
    return t_d


@formula(Source("derivation", "a body is taken as a bar along its longest side"), L_i="ft")
def longest_side(w, d, h):
    """Return the longest side of a body."""
    L_i = max(w, d, h)
    return L_i


@formula(clause("Figure 10.4-1, circle around a cross section"), D_c="in")
def circumscribed(w, d, h, L_i):
    """Return the diameter of the circle around the outline across the longest side."""
    D_c = sqrt(w**2 + d**2 + h**2 - L_i**2)
    return D_c


@formula(clause("Figure 10.4-1, round sections"), D_c="in")
def diameter(w, d, h):
    """Return the diameter of a round body."""
    D_c = min(w, d, h)
    return D_c


@formula(clause("Eq. 10.4-1"), A_i="in**2")
def ice_area(t_d, D_c):
    """Return the cross section of the ice around a bar."""
    A_i = pi * t_d * (D_c + t_d)
    return A_i


@formula(Source("derivation", "density times volume"), w_i="lbf")
def ice_weight(gamma_i, A_i, L_i):
    """Return the weight of the ice around a bar."""
    w_i = gamma_i * A_i * L_i
    return w_i


@formula(clause("Eq. 10.4-2, with the factor of plates"), V_i="ft**3")
def plate_volume(k_h, t_d, A_s):
    """Return the volume of the ice on a plate, A_s being the area of one side."""
    V_i = k_h * pi * t_d * A_s
    return V_i


@formula(Source("derivation", "density times volume"), w_i="lbf")
def plate_ice_weight(gamma_i, V_i):
    """Return the weight of the ice on a plate."""
    w_i = gamma_i * V_i
    return w_i


@formula(Source("assumption", "conduit as rigid trade size 1, each run coated for itself"), L_i="ft")
def conduit_length(w_conduit, w_c, L):
    """Return the length of all conduit on the rack."""
    L_i = w_conduit / w_c * L
    return L_i


@dataclass(frozen=True)
class Thickness:
    """Design thickness with its factors; ``I_i`` is None in 7-22, whose map is by risk category."""

    f_z: Value
    I_i: Value | None
    K_zt: Value
    t_d: Value


def thickness(edition: Any, t: Value, z: Value, risk_category: Any, K_zt: Value | None = None) -> Thickness:
    """Return the design ice thickness at height z.

    Args:
        edition: 7-16 or 7-22.
        t: Nominal thickness at 33 ft: the 500-year one in 7-16, that of the risk category in 7-22.
        z: Height above grade, one number or an array.
        risk_category: I to IV; enters in 7-16 only.
        K_zt: Topographic factor at z; flat ground if left out.

    Raises:
        DomainError: The edition is another one.
        LookupFailed: There is no such risk category.

    """
    named = edition_of(edition)
    f_z, K_zt = height_factor(z=z, z_33=Z_33), K_zt if K_zt is not None else FLAT_GROUND
    if named == "7-22":
        return Thickness(f_z, None, K_zt, design_thickness_722(t=t, f_z=f_z, K_zt=K_zt))
    I_i = table("snow_ice_importance").cell((named, as_word(risk_category, "risk_category")), "I_i", "I_i")
    return Thickness(f_z, I_i, K_zt, design_thickness_716(t=t, I_i=I_i, f_z=f_z, K_zt=K_zt))


def edition_of(edition: Any) -> str:
    """Return ``7-16`` or ``7-22``.

    Raises:
        DomainError: Another edition is named.

    """
    named = plain_word(edition).removeprefix("ASCE/SEI ")
    if named not in EDITIONS:
        raise DomainError(f"'{named}' is not an edition ice is worked out to. Allowed: ASCE/SEI 7-16, ASCE/SEI 7-22.")
    return named


@dataclass(frozen=True)
class BarIce:
    """Ice around a bar: cross section and weight."""

    A_i: Value
    w_i: Value


def bar_ice(t_d: Value, D_c: Value, L_i: Value) -> BarIce:
    """Return the ice around a bar of circumscribed diameter D_c and length L_i."""
    A_i = ice_area(t_d=t_d, D_c=D_c)
    return BarIce(A_i, ice_weight(gamma_i=GAMMA_I, A_i=A_i, L_i=L_i))


def plate_ice(t_d: Value, A_s: Value) -> Value:
    """Return the weight of the ice on a horizontal plate; A_s is the area of one side."""
    return plate_ice_weight(gamma_i=GAMMA_I, V_i=plate_volume(k_h=K_PLATE, t_d=t_d, A_s=A_s))

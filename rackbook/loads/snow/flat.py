"""Snow on a flat roof: ASCE/SEI 7-16 and 7-22, 7.3."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.loads.words import as_word, plain_word
from rackbook.tables import table
from rackbook.trace import DomainError, Source, Value, formula, given, largest
from rackbook.trace.maths import atan, min

STANDARD = "ASCE/SEI 7"
EDITIONS = ("7-16", "7-22")
QUOTED = "Eq. 7.3-1, quoted in a trade magazine of 2025"
_MINIMUM = {e: Source("clause", STANDARD, e[2:], c, "memory") for e, c in (("7-16", "7.3.4"), ("7-22", "7.3.3"))}
P_20 = given(20.0, "psf", _MINIMUM["7-16"], "p_20")
_GREATER = "7.3, the greater of the two on a low-slope roof"


@formula(Source("clause", STANDARD, "16", QUOTED, "read"), p_f="psf")
def flat_roof_716(C_e, C_t, I_s, p_g):
    """Return the flat roof snow load, at nominal level."""
    p_f = 0.7 * C_e * C_t * I_s * p_g
    return p_f


@formula(Source("clause", STANDARD, "22", QUOTED, "read"), p_f="psf")
def flat_roof_722(C_e, C_t, p_g):
    """Return the flat roof snow load, at strength level as the mapped ground snow load is."""
    p_f = 0.7 * C_e * C_t * p_g
    return p_f


@formula(_MINIMUM["7-16"], p_m="psf")
def minimum_716(I_s, p_g, p_20):
    """Return the minimum snow load of a low-slope roof."""
    p_m = I_s * min(p_g, p_20)
    return p_m


@formula(_MINIMUM["7-22"], p_m="psf")
def minimum_722(p_g, p_m_max):
    """Return the minimum snow load of a low-slope roof."""
    p_m = min(p_g, p_m_max)
    return p_m


@formula(Source("clause", STANDARD, "16 and 7-22", "7.10, slope in degrees of W/50 with W in feet", "memory"),
         stated={"W": "ft"}, theta_min="deg")  # fmt: skip
def draining_slope(W):
    """Return the slope from which on a roof takes no surcharge of rain on snow."""
    theta_min = W / 50
    return theta_min


@formula(Source("derivation", "angle of a slope"), theta="deg")
def slope_angle(r):
    """Return the angle of a slope."""
    theta = atan(r)
    return theta


@formula(Source("derivation", "load over the plan area"), S="lbf")
def snow_weight(p_s, A_c):
    """Return the snow on the whole canopy."""
    S = p_s * A_c
    return S


@dataclass(frozen=True)
class FlatRoof:
    """Snow on a flat roof.

    Attributes:
        I_s: Importance factor; None in 7-22, whose ground snow load is mapped by risk category.
        p_f: Flat roof snow load.
        p_m: Minimum load of a low-slope roof.
        p_s: The greater of the two.

    """

    I_s: Value | None
    p_f: Value
    p_m: Value
    p_s: Value


def flat_roof(edition: Any, p_g: Value, C_e: Value, C_t: Value, risk_category: Any) -> FlatRoof:
    """Return the snow load on a flat roof, not less than the minimum for low slopes.

    Args:
        edition: 7-16 or 7-22.
        p_g: Ground snow load: nominal in 7-16, strength level of the risk category in 7-22.
        C_e: Exposure factor.
        C_t: Thermal factor.
        risk_category: I to IV.

    Raises:
        DomainError: The edition is another one.
        LookupFailed: There is no such risk category.

    """
    named = edition_of(edition)
    risk = as_word(risk_category, "risk_category")
    if named == "7-16":
        I_s: Value | None = table("snow_ice_importance").cell((named, risk), "I_s", "I_s")
        assert I_s is not None
        p_f = flat_roof_716(C_e=C_e, C_t=C_t, I_s=I_s, p_g=p_g)
        p_m = minimum_716(I_s=I_s, p_g=p_g, p_20=P_20)
    else:
        I_s = None
        p_f = flat_roof_722(C_e=C_e, C_t=C_t, p_g=p_g)
        p_m = minimum_722(p_g=p_g, p_m_max=table("snow_minimum").cell((risk,), "p_m_max", "p_m_max"))
    source = Source("clause", STANDARD, named[2:], _GREATER, "memory")
    return FlatRoof(I_s, p_f, p_m, largest("p_s", {"flat roof": p_f, "minimum for low slopes": p_m}, source))


def edition_of(edition: Any) -> str:
    """Return ``7-16`` or ``7-22``.

    Raises:
        DomainError: Another edition is named.

    """
    named = plain_word(edition).removeprefix("ASCE/SEI ")
    if named not in EDITIONS:
        raise DomainError(f"'{named}' is not an edition snow is worked out to. Allowed: ASCE/SEI 7-16, ASCE/SEI 7-22.")
    return named


def exposure_factor(roughness: Any, roof: Any) -> Value:
    """Return C_e for a surface roughness (B, C, D) and a roof (``fully exposed``, ``partially exposed``, ``sheltered``).

    Raises:
        LookupFailed: There is no such row.

    """
    return table("snow_exposure").cell((as_word(roughness, "roughness"), as_word(roof, "roof")), "C_e", "C_e")


def thermal_factor(edition: Any, condition: Any) -> Value:
    """Return C_t of a thermal condition, a row of the table ``snow_thermal``.

    Raises:
        LookupFailed: There is no such row.

    """
    return table("snow_thermal").cell((edition_of(edition), as_word(condition, "condition")), "C_t", "C_t")

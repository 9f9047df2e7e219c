"""Velocity pressure: exposure, topography, elevation, directionality; ASCE/SEI 7-16 and 7-22, Chapter 26.

``edition`` is ``ASCE/SEI 7-16`` or ``ASCE/SEI 7-22`` (``7-16`` and ``7-22`` will do); words may be texts of the job or
word values. Heights and speeds may be arrays.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.loads.words import as_word, plain_word
from rackbook.tables import table
from rackbook.trace import DomainError, Source, Value, formula, given, pick
from rackbook.trace.maths import abs, exp, max, min

BOTH = "16 and 7-22"
STANDARD = "ASCE/SEI 7"


def clause(edition: str, locator: str) -> Source:
    """Return a clause of the standard, recalled and to be confirmed."""
    return Source("clause", STANDARD, edition, locator, "memory")


#: Half the density of air at sea level in US units; q in psf for V in mph.
C_Q = given(0.00256, "psf/mph**2", clause(BOTH, "Eq. 26.10-1"), "c_q")
Z_LOW = given(15.0, "ft", clause(BOTH, "Table 26.10-1, z not less than 15 ft"), "z_15")
C_E = given(0.0000362, "1/ft", clause(BOTH, "Table 26.9-1, note 2"), "c_e")
STEEPEST = given(0.5, "", clause(BOTH, "Figure 26.8-1, H/L_h above 0.5"), "r_max")
FLATTEST = given(0.2, "", clause(BOTH, "26.8.1, condition 4"), "r_min")
LOW_HILL = {
    e: given(60.0 if e == "B" else 15.0, "ft", clause(BOTH, f"26.8.1, condition 5, Exposure {e}"), "H_min") for e in "BCD"
}
ONE = given(1.0, "", clause(BOTH, "26.8.2"), "K_zt")
FLAT_GROUND = given(
    1.0, "", Source("assumption", "no hill, ridge or escarpment is given (site.wind.topography): K_zt = 1.0 by 26.8.2"), "K_zt"
)
_EDITIONS = {"7-16": "7-16", "7-22": "7-22", "ASCE/SEI 7-16": "7-16", "ASCE/SEI 7-22": "7-22"}


def edition_of(edition: Any) -> str:
    """Return ``7-16`` or ``7-22``.

    Raises:
        DomainError: Another edition is named.

    """
    try:
        return _EDITIONS[plain_word(edition)]
    except KeyError:
        raise DomainError(
            f"'{plain_word(edition)}' is not an edition wind is worked out to. Allowed: ASCE/SEI 7-16, ASCE/SEI 7-22."
        ) from None


def edition_word(edition: Any) -> Value:
    """Return the edition as the word of the tables, with the source of the text it came from."""
    word = as_word(edition, "edition")
    found = edition_of(word)
    return word if found == word.magnitude else Value(found, "", word.origin, "edition")


@formula(clause(BOTH, "Table 26.10-1, notes"), K_z="")
def exposure_factor(K_0, alpha, z_g, z, z_15):
    """Return the velocity pressure exposure coefficient at height z."""
    K_z = K_0 * (min(max(z, z_15), z_g) / z_g) ** (2 / alpha)
    return K_z


def exposure_coefficient(edition: Any, exposure: Any, z: Value) -> Value:
    """Return K_z at height z above ground, by the formula; z is not taken below 15 ft in any exposure.

    The floor of 0.70 in Exposure B belongs to Chapter 28 and is not applied to other structures.

    Raises:
        DomainError: The edition is not known.
        LookupFailed: The exposure is not B, C or D.

    """
    return exposure_factor(z=z, z_15=Z_LOW, **exposure_constants(edition, exposure))


def exposure_constants(edition: Any, exposure: Any) -> dict[str, Value]:
    """Return K_0, alpha and z_g of an exposure; errors as :func:`exposure_coefficient`."""
    keys = (edition_word(edition), as_word(exposure, "exposure"))
    return {name: table("wind_exposure").cell(keys, name, name) for name in ("K_0", "alpha", "z_g")}


@formula(clause(BOTH, "Figure 26.8-1"), K_1="")
def feature_factor(k_1, H, L_h, r_max):
    """Return the speed-up at the crest, for the shape of the feature."""
    K_1 = k_1 * min(H / L_h, r_max)
    return K_1


@formula(clause(BOTH, "Figure 26.8-1"), L="ft", K_2="")
def distance_factor(x, mu, H, L_h, r_max):
    """Return the reduction of the speed-up with distance from the crest."""
    L = max(L_h, H / r_max)
    K_2 = max(1 - abs(x) / (mu * L), 0)
    return K_2


@formula(clause(BOTH, "Figure 26.8-1"), L="ft", K_3="")
def height_factor(gamma, z, H, L_h, r_max):
    """Return the reduction of the speed-up with height above the ground."""
    L = max(L_h, H / r_max)
    K_3 = exp(-gamma * z / L)
    return K_3


@formula(clause(BOTH, "Eq. 26.8-1"), K_zt="")
def topographic_factor(K_1, K_2, K_3):
    """Return the topographic factor."""
    K_zt = (1 + K_1 * K_2 * K_3) ** 2
    return K_zt


@formula(Source("derivation", "slope of the feature over its upper half"), r_h="")
def slope(H, L_h):
    """Return the slope of the feature."""
    r_h = H / L_h
    return r_h


@dataclass(frozen=True)
class Topography:
    """The topographic factor and its multipliers; ``applies`` says whether conditions 4 and 5 of 26.8.1 are met."""

    K_1: Value
    K_2: Value
    K_3: Value
    K_zt: Value
    applies: bool


def topography(feature: Any, exposure: Any, H: Value, L_h: Value, x: Value, side: Any, z: Value) -> Topography:
    """Return K_zt at height z and distance x from the crest of a ridge, escarpment or hill.

    Conditions 4 (H/L_h of 0.2 or more) and 5 (H of 15 ft, or 60 ft in Exposure B) of 26.8.1 are judged here. That the
    feature is isolated and protrudes (1, 2) and that the rack stands in its upper half or near its crest (3) is the
    engineer's determination in naming it with its distance; K_2 lets the factor fade out with that distance.

    Raises:
        LookupFailed: The feature or the exposure is not in the figure.

    """
    keys = (as_word(feature, "feature"), as_word(exposure, "exposure"))
    side = as_word(side, "side")
    rows = table("wind_topography")
    if plain_word(side) not in ("upwind", "downwind"):
        raise DomainError(f"'{plain_word(side)}' is not a side of the crest. Allowed: upwind, downwind.")
    k_1, gamma = rows.cell(keys, "K_1_coefficient", "k_1"), rows.cell(keys, "gamma", "gamma")
    mu = rows.cell(keys, f"mu_{plain_word(side)}", "mu", by={"side": side})
    shape = {"H": H, "L_h": L_h, "r_max": STEEPEST}
    K_1 = feature_factor(k_1=k_1, **shape)
    K_2, K_3 = distance_factor(x=x, mu=mu, **shape), height_factor(gamma=gamma, z=z, **shape)
    r_h, least = slope(H=H, L_h=L_h), LOW_HILL[plain_word(exposure)]
    steep, high = r_h.magnitude >= FLATTEST.magnitude, H.m_as("ft") >= least.m_as("ft")
    because = (
        "conditions 4 and 5 of 26.8.1 are met as calculated; 1, 2 and 3 per the engineer's determination"
        if steep and high
        else "H/L_h is below 0.2: condition 4 of 26.8.1 is not met"
        if not steep
        else "the feature is too low: condition 5 of 26.8.1 is not met"
    )
    K_zt = pick(
        "K_zt",
        {"Eq. 26.8-1": topographic_factor(K_1=K_1, K_2=K_2, K_3=K_3), "26.8.2, flat": ONE},
        "Eq. 26.8-1" if steep and high else "26.8.2, flat",
        because,
        {"r_h": r_h, "r_min": FLATTEST, "H": H, "H_min": least},
        clause(BOTH, "26.8.1"),
    )
    return Topography(K_1, K_2, K_3, K_zt, steep and high)


@formula(clause(BOTH, "Table 26.9-1, note 2"), K_e="")
def elevation_factor(c_e, z_e):
    """Return the ground elevation factor."""
    K_e = exp(-c_e * z_e)
    return K_e


def ground_elevation(z_e: Value) -> Value:
    """Return K_e for ground at z_e above sea level (1.0 is permitted everywhere, and safe above sea level)."""
    return elevation_factor(c_e=C_E, z_e=z_e)


def directionality(edition: Any, structure: Any) -> Value:
    """Return K_d of a kind of structure, a row of the table ``wind_directionality``.

    Raises:
        LookupFailed: There is no such row.

    """
    return table("wind_directionality").cell((edition_word(edition), as_word(structure, "structure")), "K_d", "K_d")


@formula(clause("16", "Eq. 26.10-1"), q_z="psf")
def velocity_pressure_716(c_q, K_z, K_zt, K_d, K_e, V):
    """Return the velocity pressure at height z, directionality included."""
    q_z = c_q * K_z * K_zt * K_d * K_e * V**2
    return q_z


@formula(clause("22", "Eq. 26.10-1"), q_z="psf")
def velocity_pressure_722(c_q, K_z, K_zt, K_e, V):
    """Return the velocity pressure at height z, directionality left to the force."""
    q_z = c_q * K_z * K_zt * K_e * V**2
    return q_z


def velocity_pressure(
    edition: Any, V: Value, K_z: Value, K_zt: Value | None = None, K_e: Value | None = None, K_d: Value | None = None
) -> Value:
    """Return q_z. K_d is inside it in 7-16 and not in 7-22: there it stands in the force, and is refused here.

    Args:
        edition: 7-16 or 7-22.
        V: Basic wind speed, 3-second gust, strength level.
        K_z: Exposure coefficient.
        K_zt: Topographic factor; no hill, ridge or escarpment if left out.
        K_e: Ground elevation factor; 1.0, as permitted, if left out.
        K_d: Directionality factor; needed with 7-16 only.

    Raises:
        DomainError: K_d is missing in 7-16, or given in 7-22.

    """
    K_zt = K_zt if K_zt is not None else FLAT_GROUND
    K_e = K_e if K_e is not None else given(1.0, "", clause(BOTH, "26.9, permitted in all cases"), "K_e")
    if edition_of(edition) == "7-22":
        if K_d is not None:
            raise DomainError("7-22 has no K_d in q_z (Eq. 26.10-1); give it to the force (Eq. 29.3-1, 29.4-1) once.")
        return velocity_pressure_722(c_q=C_Q, K_z=K_z, K_zt=K_zt, K_e=K_e, V=V)
    if K_d is None:
        raise DomainError("7-16 has K_d inside q_z (Eq. 26.10-1); give K_d of Table 26.6-1.")
    return velocity_pressure_716(c_q=C_Q, K_z=K_z, K_zt=K_zt, K_d=K_d, K_e=K_e, V=V)

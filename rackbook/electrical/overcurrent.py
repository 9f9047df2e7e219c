"""The overcurrent device as far as conductors ask for it: standard ratings, and the largest one a conductor allows."""

from __future__ import annotations

import functools

import numpy as np

from ..tables import table
from ..trace import LookupFailed, Source, Value, formula, given, pick, smallest
from .clauses import clause, edition_of
from .factors import text, whole
from .sizes import key, size_value

#: Above this rating a conductor must carry the whole rating, 240.4(B)(3) and (C).
ROUND_UP_TO = given(800, "A", Source("clause", "NFPA 70", "2023", "240.4(B)(3) (same in 2020)", "read"), "I_800")
#: Sizes 240.4(D) speaks of.
SMALL = ("18", "16", "14", "12", "10")


@formula(Source("clause", "NFPA 70", "2023", "430.52(C)(1) (430.52 and Table 430.52 in 2020)", "read"), I_max="A")
def motor_device_limit(k_d, I_FLC):
    """Return the largest rating of a motor's short-circuit device before rounding up."""
    I_max = k_d * I_FLC
    return I_max


@formula(Source("clause", "NFPA 70", "2023", "450.3(B) (same in 2020)", "read"), I_max="A")
def transformer_device_limit(k_p, I_b):
    """Return the largest rating of a transformer's primary device before rounding up."""
    I_max = k_p * I_b
    return I_max


@formula(Source("clause", "NFPA 70", "2023", "430.62(A) and 430.63 (same in 2020)", "memory"), I_62="A")
def motor_feeder_device(I_d, I_m, I_n, I_c):
    """Return the largest device of a feeder of motors and other loads.

    ``I_d`` is the largest device of one of the motors, ``I_m`` the full-load current of the other motors, ``I_n`` the
    noncontinuous and ``I_c`` the continuous other load.
    """
    I_62 = I_d + I_m + I_n + 1.25 * I_c
    return I_62


def transformer_device(I_b: Value, edition: str = "2023", secondary: bool = False) -> Value:
    """Return the largest primary device of a transformer to 1000 V, 450.3(B).

    Args:
        I_b: Rated primary current [A].
        edition: Edition of NFPA 70.
        secondary: Whether the secondary has its own device of at most 125 percent; then 250 percent hold, not rounded up.

    """
    rated = I_b.m_as("A")
    column = "primary_9A_up" if rated >= 9 else "primary_below_9A" if rated >= 2 else "primary_below_2A"
    method = "primary and secondary" if secondary else "primary only"
    k_p = table("transformer_protection").cell(method, column, "k_p", by={"I_b": I_b})
    limit = transformer_device_limit(k_p=k_p, I_b=I_b)
    return standard_rating(limit, edition) if k_p.m_as("pct") == 125 else limit


def standard_rating(I: Value, edition: str = "2023", device: str = "breaker") -> Value:
    """Return the smallest standard rating not below ``I``, 240.6(A).

    Raises:
        LookupFailed: There is none so large.

    """
    return table("standard_ratings").at_least(I, "rating", "I_r", at=(edition_of(text(edition)), text(device)))


def standard_rating_below(I: Value, edition: str = "2023", device: str = "breaker") -> Value:
    """Return the largest standard rating not above ``I``: where rounding up is not allowed.

    Raises:
        LookupFailed: All are larger.

    """
    return table("standard_ratings").at_most(I, "rating", "I_r", at=(edition_of(text(edition)), text(device)))


@functools.cache
def ratings(edition: str, device: str = "breaker") -> np.ndarray:
    """Return the standard ratings of an edition in rising order [A]."""
    rows = table("standard_ratings").rows
    return np.array(sorted(float(r["rating"]) for r in rows if (r["edition"], r["device"]) == (edition, device)))


def device_limit(
    I_p: Value, size: object, material: object, edition: str = "2023", round_up: bool = True, small: bool = True
) -> Value:
    """Return the rating above which a device does not protect the conductors, 240.4.

    Args:
        I_p: Usable ampacity of all sets [A].
        size: Of the conductor, for the small-conductor rule 240.4(D).
        material: Likewise.
        edition: Edition of NFPA 70.
        round_up: Whether the next standard rating may be taken, 240.4(B): not for transformer secondary conductors
            (240.21(C)), nor where more than one receptacle for portable loads is fed.
        small: Whether 240.4(D) holds.

    """
    edition = edition_of(text(edition))
    limit = I_p
    if round_up:
        try:
            up = standard_rating(I_p, edition)
        except LookupFailed:
            up = None
        within = up is not None and up.magnitude <= ROUND_UP_TO.magnitude
        rule = "240.4(B)" if within else "240.4(C)"
        limit = pick(
            "I_max",
            {"240.4(B)": up, "240.4(C)": I_p},
            rule,
            "the next standard rating up to 800 A" if within else "above 800 A the conductors carry the whole rating",
            {"I_800": ROUND_UP_TO},
            clause("round up" if within else "over 800 A", edition),
        )
    if not small:
        return limit
    name, of = key(size), text(material)
    rule_d = table("small_conductors")
    if name not in SMALL or not rule_d.has((of, name), "max_OCPD"):
        return limit
    most = rule_d.cell((of, name), "max_OCPD", "I_D", by={"size": size_value(size)})
    return smallest("I_max", {"240.4(D)": most, "ampacity": limit}, clause("small conductors", edition))


def device_limits(I_p: np.ndarray, small: np.ndarray, edition: str, round_up: bool) -> np.ndarray:
    """Return :func:`device_limit` over all sizes at once: ampacities and small-conductor limits in, limits out [A]."""
    limit = I_p
    if round_up:
        standard = ratings(edition)
        at = np.minimum(np.searchsorted(standard, I_p), len(standard) - 1)
        up = standard[at]
        limit = np.where((up <= ROUND_UP_TO.magnitude) & (up >= I_p), up, I_p)
    return np.minimum(limit, small)


def motor_device(I_FLC: Value, phases: int | Value, edition: str = "2023") -> Value:
    """Return the largest inverse-time breaker for a motor: its percentage, next standard rating up, 430.52(C)(1)."""
    kind = "polyphase" if whole(phases) == 3 else "single_phase"
    k_d = table("motor_protection").cell(kind, "inverse_time_breaker", "k_d")
    return standard_rating(motor_device_limit(k_d=k_d, I_FLC=I_FLC), edition)

"""Snow on the canopy of a job."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.loads.weights import canopy_area
from rackbook.loads.words import as_word
from rackbook.tables import table
from rackbook.trace import Check, Source, Value, assume, check, given, word

from .flat import (
    P_20,
    STANDARD,
    draining_slope,
    edition_of,
    exposure_factor,
    flat_roof,
    slope_angle,
    snow_weight,
    thermal_factor,
)  # fmt: skip

PARTIAL = word("partially exposed", Source("assumption", "neither in the open on all sides nor sheltered close by"), "roof")
OPEN_AIR = word("unheated or open air", Source("derivation", "a canopy has the outdoor air on both sides"), "condition")
SLOPE = assume(1 / 48, "", "slope of 1/4 in. in 1 ft, by which a canopy drains: common practice", "r")
_SURCHARGE = {
    "7-16": given(5.0, "psf", Source("clause", STANDARD, "16", "7.10", "memory"), "p_rain"),
    "7-22": given(8.0, "psf", Source("clause", STANDARD, "22", "7.10", "memory"), "p_rain"),
}
UNIFORM = (
    "Decisions: the canopy is flat or of a low slope and the snow even. No drift (7.7, 7.8): no higher roof or projection "
    "beside the canopy is given. Snow on one half of a canopy on a single row of posts is not a case of 7.3 and is not "
    "included; confirm."
)
EXPOSED = (
    "Decision: C_e is that of a partially exposed roof, with the exposure of the wind for the roughness of the ground. Where "
    "the site is sheltered, or above the tree line, give site.snow.C_e."
)


@dataclass(frozen=True)
class Snow:
    """Snow on the canopy.

    Attributes:
        edition: ``"7-16"`` (nominal level, 1.6 in strength combinations) or ``"7-22"`` (strength level, 1.0).
        p_g: Ground snow load.
        C_e, C_t: Exposure and thermal factors.
        I_s: Importance factor; None in 7-22.
        p_f: Flat roof snow load, of which a share counts in the effective seismic weight.
        p_m: Minimum for a low slope.
        p_s: The greater of the two: the case S.
        A_c: Plan area of the canopy.
        S: Snow on the whole canopy, acting at its center.
        checks, notes: Slope against rain on snow; assumptions.

    """

    edition: str
    p_g: Value
    C_e: Value
    C_t: Value
    I_s: Value | None
    p_f: Value
    p_m: Value
    p_s: Value
    A_c: Value
    S: Value
    checks: tuple[Check, ...]
    notes: tuple[str, ...]


def snow(job: Any) -> Snow | None:
    """Return the snow on a job's canopy; None without a canopy or without ground snow.

    Raises:
        DomainError: The edition is another one.
        LookupFailed: The exposure or the risk category is in no table.

    """
    site, canopy = job.site.snow, job.frame.canopy
    if site is None or canopy is None or site.ground.magnitude == 0:
        return None
    edition = edition_of(job.codes.loads)
    risk = as_word(job.site.risk_category, "risk_category")
    C_e = site.C_e if site.C_e is not None else exposure_factor(as_word(job.site.wind.exposure, "roughness"), PARTIAL)
    C_t = site.C_t if site.C_t is not None else thermal_factor(edition, OPEN_AIR)
    roof = flat_roof(edition, site.ground, C_e, C_t, risk)
    A_c = canopy_area(L_c=canopy.length, W_c=canopy.width)
    notes = (UNIFORM, *((EXPOSED,) if site.C_e is None else ()))
    return Snow(
        edition, site.ground, C_e, C_t, roof.I_s, roof.p_f, roof.p_m, roof.p_s, A_c,
        snow_weight(p_s=roof.p_s, A_c=A_c), _checks(edition, site.ground, risk, canopy.width), notes,
    )  # fmt: skip


def _checks(edition: str, p_g: Value, risk: Value, width: Value) -> tuple[Check, ...]:
    """Return the check that the canopy drains, where little snow could be rained upon; the minimum load never adds to it."""
    limit = P_20 if edition == "7-16" else table("snow_minimum").cell((risk,), "p_m_max", "p_m_max")
    if p_g.m_as("psf") > limit.m_as("psf"):
        return ()
    surcharge = _SURCHARGE[edition]
    source = Source("clause", STANDARD, edition[2:], f"7.10, or {surcharge.text()} of rain on snow are added", "memory")
    remedy = "Slope the canopy more, or add the surcharge to the snow load."
    name = "Slope of the canopy against rain on snow"
    return (check(name, draining_slope(W=width), slope_angle(r=SLOPE), source, remedy=remedy),)

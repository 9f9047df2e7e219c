"""Totals: sums of columns, centers of gravity, and the measured weight against the take-off."""

from __future__ import annotations

from rackbook.trace import DomainError, Source, Value, formula, given, pick
from rackbook.trace.maths import abs, sum

_STATICS = Source("derivation", "statics: the moment of the parts is the moment of the whole")


@formula(Source("derivation", "sum of the parts"), W="lbf")
def total(w):
    """Return the sum of the listed weights."""
    W = sum(w)
    return W


@formula(_STATICS, x_bar="ft")
def cg_coordinate(w, x, W):
    """Return the center of gravity of the listed weights along the rack."""
    x_bar = sum(w * x) / W
    return x_bar


@formula(_STATICS, y_bar="in")
def cg_across(w, y, W):
    """Return the center of gravity of the listed weights across the rack."""
    y_bar = sum(w * y) / W
    return y_bar


@formula(_STATICS, z_bar="ft")
def cg_height(w, z, W):
    """Return the height of the center of gravity of the listed weights."""
    z_bar = sum(w * z) / W
    return z_bar


@formula(Source("derivation", "distance of the center of gravity from the middle of the rack"), e_x="ft")
def eccentricity(x_bar, L):
    """Return how far the center of gravity lies right of the middle of the rack."""
    e_x = x_bar - L / 2
    return e_x


@formula(Source("derivation", "distance of the center of gravity from the post plane"), e_y="in")
def eccentricity_across(y_bar, y_0):
    """Return how far the center of gravity lies in front of the post plane."""
    e_y = y_bar - y_0
    return e_y


@formula(Source("derivation", "share of a whole"), w="lbf")
def share_of(p, W):
    """Return a percentage of a weight."""
    w = p * W
    return w


@formula(Source("derivation", "weight over the length of the rack"), w="lbf")
def spread(w_l, L):
    """Return the weight of what is spread along the rack."""
    w = w_l * L
    return w


@formula(Source("derivation", "weight of an area"), w="lbf")
def canopy_weight(w_c, L_c, W_c):
    """Return the dead weight of a canopy."""
    w = w_c * L_c * W_c
    return w


@formula(Source("derivation", "distance between two weighings, either sign"), dW="lbf")
def difference(W_m, W_e):
    """Return how far a measured weight lies from the estimate."""
    dW = abs(W_m - W_e)
    return dW


@formula(Source("derivation", "distance between two points on an axis, either sign"), dx="in")
def offset(x_m, x_e):
    """Return how far a measured center lies from the estimate."""
    dx = abs(x_m - x_e)
    return dx


@formula(Source("derivation", "heights of the shop are above the underside of the base"), z="ft")
def above_grade(z_m, e):
    """Return a height above grade from one above the base."""
    z = z_m + e
    return z


SNOW_SHARE = {
    "7-16": given(
        20.0, "pct", Source("clause", "ASCE/SEI 7", "16", "12.7.2, flat roof snow load above 30 psf", "read"), "p_snow"
    ),
    "7-22": given(
        15.0, "pct", Source("clause", "ASCE/SEI 7", "22", "12.7.2, flat roof snow load above 45 psf", "read"), "p_snow"
    ),
}
SNOW_FROM = {"7-16": 30.0, "7-22": 45.0}  # psf
NO_SHARE = {
    e: given(
        0.0, "pct", Source("clause", "ASCE/SEI 7", e[2:], f"12.7.2, flat roof snow load up to {limit:g} psf", "read"), "p_snow"
    )
    for e, limit in SNOW_FROM.items()
}


def snow_share(p_f: Value, edition: str) -> Value:
    """Return the share of a flat roof snow load that counts in the effective seismic weight.

    Args:
        p_f: Flat roof snow load.
        edition: ``"7-16"`` or ``"7-22"``.

    Raises:
        DomainError: The edition is another.

    """
    if edition not in SNOW_FROM:
        raise DomainError(f"'{edition}' is not an edition the book works by; allowed: {', '.join(SNOW_FROM)}.")
    above = p_f.m_as("psf") > SNOW_FROM[edition]
    choices: dict[str, Value | None] = {"counts": SNOW_SHARE[edition], "does not count": NO_SHARE[edition]}
    return pick(
        "p_snow", choices, "counts" if above else "does not count", "flat roof snow load against the limit", {"p_f": p_f}
    )


@formula(Source("derivation", "plan area"), A_c="ft**2")
def canopy_area(L_c, W_c):
    """Return the plan area of a canopy."""
    A_c = L_c * W_c
    return A_c


@formula(Source("clause", "ASCE/SEI 7", "16 and 22", "12.7.2 and 15.4.3", "memory"), W="lbf")
def effective_weight(W_D, p_snow, p_f, A_c):
    """Return the effective seismic weight with a share of the flat roof snow load on a canopy."""
    W = W_D + p_snow * p_f * A_c
    return W

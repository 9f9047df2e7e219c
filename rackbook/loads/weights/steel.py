"""Weights of the steel and of its zinc, from section tables, plates and coated surface."""

from __future__ import annotations

import functools

from rackbook.tables import table
from rackbook.trace import Source, Value, formula, given

G_N = given(
    9.80665,
    "m/s**2",
    Source("clause", "International System of Units", locator="standard gravity, as in the pound-force", how="read"),
    "g",
)
RHO_ZN = given(
    7.067,
    "g/cm**3",
    Source("table", "ASTM A123/A123M", "24", "Table 2, coating mass over coating thickness", "derived"),
    "rho_zn",
)


@formula(Source("derivation", "weight a foot times length"), w="lbf")
def member_weight(w_s, L):
    """Return the weight of a member."""
    w = w_s * L
    return w


@formula(Source("derivation", "volume times unit weight"), w="lbf")
def plate_weight(gamma_s, N, B, t):
    """Return the weight of a plate, holes left out."""
    w = gamma_s * N * B * t
    return w


@formula(Source("derivation", "two faces and four edges"), a="ft**2")
def plate_area(N, B, t):
    """Return the coated surface of a plate."""
    a = 2 * N * B + 2 * (N + B) * t
    return a


@formula(Source("derivation", "perimeter times length"), a="ft**2")
def member_area(s, L):
    """Return the coated surface of a member."""
    a = s * L
    return a


@formula(Source("derivation", "mass density times standard gravity"), gamma_zn="pcf")
def zinc_unit_weight(rho_zn, g):
    """Return the unit weight of a zinc coating."""
    gamma_zn = rho_zn * g
    return gamma_zn


@formula(Source("derivation", "thickness times surface times unit weight"), w="lbf")
def coating_weight(t_zn, A_zn, gamma_zn):
    """Return the weight of a zinc coating."""
    w = t_zn * A_zn * gamma_zn
    return w


@formula(Source("derivation", "unit weight times area"), w_s="lbf/ft")
def weight_per_length(gamma_s, A):
    """Return the weight a foot of a section of area A; the section tables round it."""
    w_s = gamma_s * A
    return w_s


@functools.cache
def steel_unit_weight() -> Value:
    """Return the unit weight of structural steel."""
    return table("unit_weights").cell("steel", "weight", "gamma_s")


@functools.cache
def zinc() -> Value:
    """Return the unit weight of hot-dip zinc."""
    return zinc_unit_weight(rho_zn=RHO_ZN, g=G_N)

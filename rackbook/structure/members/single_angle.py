"""Section E5: an angle held at both ends by one and the same leg, its eccentricity covered by a larger slenderness."""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import Value, formula, given, largest, pick

from ..steel import clause
from .section import Section

LIMIT = given(200.0, "", clause("E5(c)"), "lamb_max")
LEGS = given(1.7, "", clause("E5(d)"), "q_max")
SHORT, LONG = "Eq. E5-1, L/r_a at most 80", "Eq. E5-2, L/r_a above 80"


@formula(clause("E5"), lamb_a="")
def leg_slenderness(L, r_a):
    """Return the slenderness about the geometric axis parallel to the connected leg."""
    lamb_a = L / r_a
    return lamb_a


@formula(clause("Eq. E5-1"), lamb_c="")
def short_end(lamb_a):
    """Return the effective slenderness of a short single angle."""
    lamb_c = 72 + 0.75 * lamb_a
    return lamb_c


@formula(clause("Eq. E5-2"), lamb_c="")
def long_end(lamb_a):
    """Return the effective slenderness of a long single angle."""
    lamb_c = 32 + 1.25 * lamb_a
    return lamb_c


@formula(clause("E5(a)"), lamb_cs="")
def shorter_leg(lamb_c, b_l, b_s):
    """Return the effective slenderness of an angle held by its shorter leg."""
    lamb_cs = lamb_c + 4 * ((b_l / b_s) ** 2 - 1)
    return lamb_cs


@formula(clause("E5(a)"), lamb_cz="")
def about_minor(L, r_z):
    """Return the least effective slenderness of an angle held by its shorter leg."""
    lamb_cz = 0.95 * L / r_z
    return lamb_cz


@formula(clause("E5(d)"), q="")
def legs_ratio(b_l, b_s):
    """Return the ratio of the longer to the shorter leg."""
    q = b_l / b_s
    return q


@dataclass(frozen=True)
class EndSlenderness:
    """Effective slenderness by E5, its limit, the ratio of the legs and the limit on it."""

    lamb_c: Value
    limit: Value
    legs: Value
    legs_limit: Value


def end_slenderness(of: Section, L: Value) -> EndSlenderness:
    """Return the effective slenderness of an angle held at both ends by one leg, as a separate member or in a plane truss.

    Which leg is connected is not known: an unequal angle is taken as held by the worse one.
    """
    legs = legs_ratio(b_l=of["b"], b_s=of["d"])
    found = {"longer leg connected": _curve(leg_slenderness(L=L, r_a=of["r_y"]))}  # r_y: about the axis along the longer leg
    if not of.equal_legs:
        base = _curve(leg_slenderness(L=L, r_a=of["r_x"]))
        found["shorter leg connected"] = shorter_leg(lamb_c=base, b_l=of["b"], b_s=of["d"])
        found["0.95 L/r_z"] = about_minor(L=L, r_z=of["r_z"])
    return EndSlenderness(largest("lamb_c", found), LIMIT, legs, LEGS)


def _curve(lamb_a: Value) -> Value:
    short = lamb_a.magnitude <= 80
    made = {SHORT: short_end(lamb_a=lamb_a) if short else None, LONG: None if short else long_end(lamb_a=lamb_a)}
    return pick("lamb_c", made, SHORT if short else LONG, "by L/r_a", {"lamb_a": lamb_a}, clause("E5(a)"))

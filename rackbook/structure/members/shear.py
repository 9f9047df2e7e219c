"""Chapter G: shear along the depth and along the width of every family."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.trace import Value, formula, given, pick, smallest
from rackbook.trace.maths import max, sqrt

from ..steel import E, clause, one_of
from .section import Section, as_section, flange_width, flat_width, ratio, web_depth

GENERAL, ROLLED = "shear general (HSS, C, L)", "shear, rolled I with h/tw<=2.24sqrt(E/Fy)"
AXES = ("y", "x")
_WEB_KV = given(5.34, "", clause("G2.1(b)(2)(i): no stiffeners"), "k_v")
_FLANGE_KV = given(1.2, "", clause("G3 and G6", "read"), "k_v")
_TUBE_KV = given(5.0, "", clause("G4", "read"), "k_v")
_FULL = given(1.0, "", clause("Eq. G2-2, G2-3 and G2-9"), "C_v")
_TWO = given(2.0, "", clause("G6: two flanges", "read"), "n")
_ONE = given(1.0, "", clause("G3: the leg in the line of the force", "read"), "n")
_WALLS = given(2.0, "", clause("G4: two walls", "read"), "n")


@formula(clause("G2.1"), A_w="in**2")
def web_area(d, t_w):
    """Return the area of a web over the overall depth."""
    A_w = d * t_w
    return A_w


@formula(clause("G3, G4 and G6", "read"), A_w="in**2")
def wall_area(n, b, t):
    """Return the area of n walls in the line of the force."""
    A_w = n * b * t
    return A_w


@formula(clause("Eq. G2-3 and G2-9"), lamb_v="")
def shear_limit(k_v, E, F_y):
    """Return the width-to-thickness ratio up to which a web yields in shear."""
    lamb_v = 1.10 * sqrt(k_v * E / F_y)
    return lamb_v


@formula(clause("G2.1(a)"), lamb_r="")
def rolled_limit(E, F_y):
    """Return the width-to-thickness ratio of a rolled I-shape's web up to which phi is 1.00."""
    lamb_r = 2.24 * sqrt(E / F_y)
    return lamb_r


@formula(clause("Eq. G2-4"), C_v="")
def web_coefficient(lamb_v, lamb_w):
    """Return the coefficient of a slender web."""
    C_v = lamb_v / lamb_w
    return C_v


@formula(clause("Eq. G2-11"), C_v="")
def buckled_coefficient(k_v, E, lamb_w, F_y):
    """Return the coefficient of a wall that buckles elastically in shear."""
    C_v = 1.51 * k_v * E / (lamb_w**2 * F_y)
    return C_v


@formula(clause("Eq. G2-1, G3-1, G4-1 and G6-1"), V_n="kip")
def shear_strength(F_y, A_w, C_v):
    """Return the nominal strength in shear."""
    V_n = 0.6 * F_y * A_w * C_v
    return V_n


@formula(clause("Eq. G5-2a and G5-2b, the larger", "read"), F_a="ksi", F_b="ksi", F_cr="ksi")
def round_long(E, L_v, D, lamb):
    """Return the shear stress at buckling of a round tube of known length."""
    F_a = 1.60 * E / (sqrt(L_v / D) * lamb ** (5 / 4))
    F_b = 0.78 * E / lamb ** (3 / 2)
    F_cr = max(F_a, F_b)
    return F_cr


@formula(clause("Eq. G5-2b", "read"), F_cr="ksi")
def round_short(E, lamb):
    """Return the shear stress at buckling of a round tube of any length."""
    F_cr = 0.78 * E / lamb ** (3 / 2)
    return F_cr


@formula(clause("G5", "read"), F_v="ksi")
def shear_yield(F_y):
    """Return the shear stress at yielding."""
    F_v = 0.6 * F_y
    return F_v


@formula(clause("Eq. G5-1", "read"), V_n="kip")
def round_strength(F_cr, A_g):
    """Return the nominal strength of a round tube in shear."""
    V_n = F_cr * A_g / 2
    return V_n


@dataclass(frozen=True)
class Shear:
    """Nominal strength in shear along one axis, and the row of its resistance factors."""

    V_n: Value
    state: str


def shear(shape: Any, F_y: Value, axis: Any = "y", L_v: Value | None = None) -> Shear:
    """Return the nominal strength in shear along an axis of the section.

    Args:
        shape: Designation, section, or family and properties.
        F_y: Yield stress.
        axis: ``"y"``: along the depth (an angle's longer leg); ``"x"``: along the width.
        L_v: Of a round tube: distance between largest and zero shear; without it the strength of any length is taken.

    Raises:
        LookupFailed: There is no such shape.
        InputError: There is no such axis.

    """
    of, axis = as_section(shape), one_of("axis of shear", axis, AXES)
    if of.family == "pipes":
        return _round(of, F_y, L_v)
    if of.family == "hss":
        h = flat_width(B=of["H" if axis == "y" else "B"], t_des=of["t_des"]).named("h")
        return _walls(of, F_y, _WALLS, h, of["t_des"], _TUBE_KV)
    if of.family == "strut":
        return _strut(of, F_y, axis)
    if of.family == "angles":
        return _walls(of, F_y, _ONE, of["b" if axis == "y" else "d"], of["t"], _FLANGE_KV)
    return _web(of, F_y) if axis == "y" else _flanges(of, F_y)


def _web(of: Section, F_y: Value) -> Shear:
    A_w = web_area(d=of["d"], t_w=of["t_w"])
    lamb_w = ratio(web_depth(of), of["t_w"], "lamb_w")
    lamb_r = rolled_limit(E=E, F_y=F_y)
    if of.family == "wide_flanges" and lamb_w.magnitude <= lamb_r.magnitude:
        C_v = _coefficient("h/t_w at most 2.24 sqrt(E/F_y)", _FULL, {"lamb_w": lamb_w, "lamb_r": lamb_r})
        return Shear(shear_strength(F_y=F_y, A_w=A_w, C_v=C_v), ROLLED)
    lamb_v = shear_limit(k_v=_WEB_KV, E=E, F_y=F_y)
    by = {"lamb_w": lamb_w, "lamb_v": lamb_v}
    if lamb_w.magnitude <= lamb_v.magnitude:
        C_v = _coefficient("h/t_w at most 1.10 sqrt(k_v E/F_y)", _FULL, by)
    else:
        C_v = _coefficient("h/t_w above 1.10 sqrt(k_v E/F_y)", web_coefficient(lamb_v=lamb_v, lamb_w=lamb_w), by)
    return Shear(shear_strength(F_y=F_y, A_w=A_w, C_v=C_v), GENERAL)


def _flanges(of: Section, F_y: Value) -> Shear:
    width = flange_width(of)
    lamb_w = ratio(width, of["t_f"], "lamb_w")
    C_v = _second(lamb_w, F_y, _FLANGE_KV)
    return Shear(shear_strength(F_y=F_y, A_w=wall_area(n=_TWO, b=of["b_f"], t=of["t_f"]), C_v=C_v), GENERAL)


def _walls(of: Section, F_y: Value, n: Value, b: Value, t: Value, k_v: Value) -> Shear:
    C_v = _second(ratio(b, t, "lamb_w"), F_y, k_v)
    return Shear(shear_strength(F_y=F_y, A_w=wall_area(n=n, b=b, t=t), C_v=C_v), GENERAL)


def _second(lamb_w: Value, F_y: Value, k_v: Value) -> Value:
    """Return C_v2 of Section G2.2."""
    lamb_v = shear_limit(k_v=k_v, E=E, F_y=F_y)
    by = {"lamb_w": lamb_w, "lamb_v": lamb_v}
    share = lamb_w.magnitude / lamb_v.magnitude
    if share <= 1:
        return _coefficient("b/t at most 1.10 sqrt(k_v E/F_y)", _FULL, by)
    if share <= 1.37 / 1.10:
        return _coefficient("b/t at most 1.37 sqrt(k_v E/F_y)", web_coefficient(lamb_v=lamb_v, lamb_w=lamb_w), by)
    found = buckled_coefficient(k_v=k_v, E=E, lamb_w=lamb_w, F_y=F_y)
    return _coefficient("b/t above 1.37 sqrt(k_v E/F_y)", found, by)


def _coefficient(words: str, C_v: Value, by: dict[str, Value]) -> Value:
    return pick("C_v", {words: C_v}, words, "width to thickness", by, clause("G2"))


def _round(of: Section, F_y: Value, L_v: Value | None) -> Shear:
    lamb = ratio(of["OD"], of["t_des"])
    buckling = round_short(E=E, lamb=lamb) if L_v is None else round_long(E=E, L_v=L_v, D=of["OD"], lamb=lamb)
    F_cr = smallest("F_cr", {"yielding": shear_yield(F_y=F_y), "buckling": buckling})
    return Shear(round_strength(F_cr=F_cr, A_g=of["A"]), GENERAL)


@formula(clause("G4, by the flat width of a folded wall"), h="in")
def folded_flat(d, t):
    """Return the flat width of a folded wall, without two corners of radius t."""
    h = d - 4 * t
    return h


def _strut(of: Section, F_y: Value, axis: str) -> Shear:
    """Return strut's strength: its two sides along the depth, its back along the width."""
    h = folded_flat(d=of["d" if axis == "y" else "b"], t=of["t"])
    return _walls(of, F_y, _WALLS if axis == "y" else _ONE, h, of["t"], _TUBE_KV)

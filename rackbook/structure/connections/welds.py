"""Fillet welds and partial-joint-penetration groove welds (AISC 360, J2), and the metal beside them (J4)."""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.tables import table
from rackbook.trace import DomainError, Source, Value, formula, given, pick
from rackbook.trace.maths import cos, min, sin, sqrt

from ..steel import available, clause
from .strength import PJP_TENSION

NOT_DIRECTED = given(1.0, "", clause("J2.4, the angle of the load is not used", "read"), "k_ds")
TUBE_END = given(
    1.0, "", clause("J2.4 (K5 in 360-16), fillet welds to the ends of rectangular HSS: no increase for the angle"), "k_ds"
)
NOT_END_LOADED = given(1.0, "", clause("J2.2b, not end-loaded, or not longer than 100 w", "read"), "beta")
LESS = given(1 / 16, "in", clause("J2.2b(b), along edges of 1/4 in. and more"), "d_w")
THIN_EDGE = given(0.25, "in", clause("J2.2b(b)"), "t_edge")
#: Filler metal strength by the electrode's name.
FILLER = {
    name: given(strength, "ksi", Source("clause", "AWS classification of filler metals", "", f"{name}XX", how), "F_EXX")
    for name, strength, how in (("E60", 60.0, "memory"), ("E70", 70.0, "read"), ("E80", 80.0, "memory"))
}


@formula(clause("Eq. J2-5", "read"), k_ds="")
def directional_factor(theta):
    """Return the directional strength increase; theta is the angle between the load and the weld's axis."""
    k_ds = 1.0 + 0.50 * sin(theta) ** 1.5
    return k_ds


@formula(clause("Eq. J2-4, effective throat 0.707 w", "read"), r_nw="kip/in")
def fillet_strength(F_EXX, k_ds, w):
    """Return the nominal strength of a unit of length of a fillet weld."""
    r_nw = 0.60 * F_EXX * k_ds * 0.707 * w
    return r_nw


@formula(clause("Eq. J2-1", "read"), beta="")
def long_factor(l, w):
    """Return the length reduction of an end-loaded fillet weld of up to 300 w."""
    beta = min(1.2 - 0.002 * (l / w), 1.0)
    return beta


@formula(clause("J2.2b(d)(3): over 300 w the effective length is 180 w"), beta="")
def longest_factor(l, w):
    """Return the length reduction of an end-loaded fillet weld longer than 300 w."""
    beta = 180 * w / l
    return beta


@formula(clause("Eq. J2-4", "read"), R_n="kip")
def weld_strength(r_nw, beta, n, l):
    """Return the nominal strength of n fillet welds of length l."""
    R_n = r_nw * beta * n * l
    return R_n


@formula(clause("Eq. J4-4, a unit of length beside the weld", "read"), r_nm="kip/in")
def base_metal_strength(F_u, t):
    """Return the nominal shear strength of a unit of length of the metal beside a weld."""
    r_nm = 0.60 * F_u * t
    return r_nm


@formula(clause("Eq. J4-2, a unit of length", "read"), r_nm="kip/in")
def metal_tension_strength(F_u, t):
    """Return the nominal tension strength of a unit of length of a part that a weld pulls in its own plane."""
    r_nm = F_u * t
    return r_nm


@formula(Source("derivation", "pull and shear in a part as a vector"), u="")
def metal_use(f_n, r_cn, f_v, r_cm):
    """Return the utilization of a part beside a weld by a pull in its plane and a shear along the weld."""
    u = sqrt((f_n / r_cn) ** 2 + (f_v / r_cm) ** 2)
    return u


@formula(clause("J2.2b(b), along edges of 1/4 in. and more"), w_max="in")
def largest_leg(t, d_w):
    """Return the maximum leg of a fillet weld along an edge."""
    w_max = t - d_w
    return w_max


@formula(clause("J2.2b(c)"), l_min="in")
def least_length(w):
    """Return the minimum length of a fillet weld."""
    l_min = 4 * w
    return l_min


@formula(clause("Table J2.5", "read"), r_nw="kip/in")
def groove_strength(F_EXX, t_e):
    """Return the nominal strength of a unit of length of a partial-joint-penetration groove weld."""
    r_nw = 0.60 * F_EXX * t_e
    return r_nw


@formula(clause("Table J2.5, vector sum of the shear along and the tension across the weld", "read"), l="in")
def groove_length(P, theta, r_ct, r_cv):
    """Return the length of groove weld that a force at an angle to its axis needs."""
    l = sqrt((P * sin(theta) / r_ct) ** 2 + (P * cos(theta) / r_cv) ** 2)
    return l


@dataclass(frozen=True)
class Fillet:
    """A fillet weld: factors, strength of a unit of length and of the whole, nominal and available.

    Attributes:
        k_ds: Directional strength increase.
        r_nw: Nominal strength of a unit of length.
        r_cw: Available strength of a unit of length.
        beta: Length reduction of end-loaded welds.
        R_n: Nominal strength of the whole; None where no length is given.
        R_c: Available strength of the whole.

    """

    k_ds: Value
    r_nw: Value
    r_cw: Value
    beta: Value
    R_n: Value | None
    R_c: Value | None


def fillet(
    F_EXX: Value, w: Value, method: str, theta: Value | None = None, n: Value | None = None, l: Value | None = None,
    end_loaded: bool = False, tube_end: bool = False,
) -> Fillet:  # fmt: skip
    """Return the strength of fillet welds.

    Args:
        F_EXX: Strength of the filler metal.
        w: Leg.
        method: ``"LRFD"`` or ``"ASD"``.
        theta: Angle between load and weld, where its increase is used.
        n: Number of equal welds.
        l: Length of each.
        end_loaded: Whether the load comes in at the end, along the weld.
        tube_end: Whether the weld joins the end of a rectangular HSS, where the angle gives no increase.

    """
    k_ds = TUBE_END if tube_end else NOT_DIRECTED if theta is None else directional_factor(theta=theta)
    r_nw = fillet_strength(F_EXX=F_EXX, k_ds=k_ds, w=w)
    r_cw = available(r_nw, "fillet weld", method, "r_cw")
    beta = length_reduction(l, w) if end_loaded and l is not None else NOT_END_LOADED
    if n is None or l is None:
        return Fillet(k_ds, r_nw, r_cw, beta, None, None)
    R_n = weld_strength(r_nw=r_nw, beta=beta, n=n, l=l)
    return Fillet(k_ds, r_nw, r_cw, beta, R_n, available(R_n, "fillet weld", method, "R_cw"))


def length_reduction(l: Value, w: Value) -> Value:
    """Return beta of an end-loaded fillet weld of length l and leg w (J2.2b(d))."""
    slender = l.m_as("in") / w.m_as("in")
    if slender <= 100 * (1 + 1e-9):
        return NOT_END_LOADED
    return long_factor(l=l, w=w) if slender <= 300 * (1 + 1e-9) else longest_factor(l=l, w=w)


def least_leg(t: Value) -> Value:
    """Return the least leg of a fillet weld by the thinner part joined (Table J2.4)."""
    return table("welds").step(t.named("t"), "w_min", "w_min")


def most_leg(t: Value) -> Value:
    """Return the largest leg of a fillet weld along the edge of a part of thickness t (J2.2b(b))."""
    if t.m_as("in") < THIN_EDGE.m_as("in") * (1 - 1e-9):
        return pick("w_max", {"thickness": t, "thickness less 1/16 in.": None}, "thickness", "edge thinner than 1/4 in.",
                    {"t_edge": THIN_EDGE}, clause("J2.2b(b)"))  # fmt: skip
    return largest_leg(t=t, d_w=LESS)


def in_its_plane(f_n: Value, f_v: Value, F_u: Value, t: Value, method: str) -> Value:
    """Return the utilization of a part that welds pull in its own plane (f_n) and shear along them (f_v)."""
    r_cn = available(metal_tension_strength(F_u=F_u, t=t), "tension rupture", method, "r_cn")
    return metal_use(f_n=f_n, r_cn=r_cn, f_v=f_v, r_cm=beside_weld(F_u, t, method))


def beside_weld(F_u: Value, t: Value, method: str) -> Value:
    """Return the available shear strength of a unit of length of the metal beside a weld."""
    return available(base_metal_strength(F_u=F_u, t=t), "shear rupture of elements", method, "r_cm")


@dataclass(frozen=True)
class Groove:
    """A partial-joint-penetration groove weld under a force at an angle: strengths of a unit of length, length needed."""

    r_nw: Value
    r_cv: Value
    r_ct: Value
    l: Value


def groove(F_EXX: Value, t_e: Value, P: Value, theta: Value, method: str) -> Groove:
    """Return the length of a partial-joint-penetration groove weld for a force at an angle to its axis.

    Args:
        F_EXX: Strength of the filler metal.
        t_e: Effective throat, of both sides together.
        P: Required strength.
        theta: Angle between force and weld.
        method: ``"LRFD"`` or ``"ASD"``.

    """
    r_nw = groove_strength(F_EXX=F_EXX, t_e=t_e)
    r_cv = available(r_nw, "fillet weld", method, "r_cv")  # shear: the factors of a fillet weld, Table J2.5
    r_ct = available(r_nw, PJP_TENSION, method, "r_ct")
    return Groove(r_nw, r_cv, r_ct, groove_length(P=P, theta=theta, r_ct=r_ct, r_cv=r_cv))


def filler(electrode: str) -> Value:
    """Return the strength of the filler metal of an electrode.

    Raises:
        DomainError: The electrode is none of those of the book.

    """
    if electrode not in FILLER:
        raise DomainError(f"There is no electrode '{electrode}' in the book; use one of: {', '.join(FILLER)}.")
    return FILLER[electrode]

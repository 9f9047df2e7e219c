"""Section H3: torsion of tubes, and the stresses of twisted open sections.

An open section that is twisted resists by St. Venant shear and by warping, shared along the member as its ends and loads
have it. Both are taken at their bounds: all of T as St. Venant shear, and the largest bimoment that any ends and any
spread of the loads give, which is T times the length a over which warping fades.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.trace import DomainError, Source, Value, formula, given, largest, pick, smallest
from rackbook.trace.maths import abs, max, pi, sqrt

from ..steel import E, G, clause, stated
from .section import Section, as_section, flat_width, ratio
from .shear import shear_yield

STATE = "torsion of HSS"
#: Factors of open sections: the same numbers by a section of their own.
OPEN_STATE = stated(0.90, 1.67, clause("H3.3"))
_SECTORIAL = Source("derivation", "sectorial coordinate of the outline, about the shear center")
_BOUND = Source("derivation", "bound of E C_w theta''' - G J theta' = -T for every spread of the twisting and all ends")


@formula(clause("H3.1: the torsional constant, on the safe side for the corners"), C="in**3")
def tube_constant(B, H, t):
    """Return the torsional constant of a rectangular tube."""
    C = 2 * (B - t) * (H - t) * t - 4.5 * (4 - pi) * t**3
    return C


@formula(clause("H3.1: the torsional constant"), C="in**3")
def round_constant(D, t):
    """Return the torsional constant of a round tube."""
    C = pi * (D - t) ** 2 * t / 2
    return C


@formula(clause("Eq. H3-2a and H3-2b, the larger"), F_a="ksi", F_b="ksi", F_cr="ksi")
def round_long(E, L, D, lamb):
    """Return the stress at torsional buckling of a round tube of known length."""
    F_a = 1.23 * E / (sqrt(L / D) * lamb ** (5 / 4))
    F_b = 0.60 * E / lamb ** (3 / 2)
    F_cr = max(F_a, F_b)
    return F_cr


@formula(clause("Eq. H3-2b"), F_cr="ksi")
def round_short(E, lamb):
    """Return the stress at torsional buckling of a round tube of any length."""
    F_cr = 0.60 * E / lamb ** (3 / 2)
    return F_cr


@formula(clause("H3.1: limit of Eq. H3-3"), lamb_t="")
def stocky_limit(E, F_y):
    """Return the width-to-thickness ratio up to which a rectangular tube yields when twisted."""
    lamb_t = 2.45 * sqrt(E / F_y)
    return lamb_t


@formula(clause("Eq. H3-4"), F_cr="ksi")
def inelastic_wall(F_y, lamb_t, lamb):
    """Return the stress of a twisted rectangular tube whose wall buckles inelastically."""
    F_cr = 0.6 * F_y * lamb_t / lamb
    return F_cr


@formula(clause("Eq. H3-5"), F_cr="ksi")
def elastic_wall(E, lamb):
    """Return the stress of a twisted rectangular tube whose wall buckles elastically."""
    F_cr = 0.458 * pi**2 * E / lamb**2
    return F_cr


@formula(clause("Eq. H3-1"), T_n="kip*in")
def tube_strength(F_cr, C):
    """Return the nominal strength of a tube in torsion."""
    T_n = F_cr * C
    return T_n


@formula(clause("Eq. H3-8: shear yielding"), T_n="kip*in")
def open_strength(F_y, J, t):
    """Return the twisting moment at which St. Venant shear reaches yield in the thickest part."""
    T_n = 0.6 * F_y * J / t
    return T_n


@formula(_BOUND, a="in")
def fading_length(E, C_w, G, J):
    """Return the length over which warping fades."""
    a = sqrt(E * C_w / (G * J))
    return a


@formula(_SECTORIAL, E_o="in")
def channel_center(e_o, t_w):
    """Return the distance of a channel's shear center from the middle of its web."""
    E_o = e_o + t_w / 2
    return E_o


@formula(_SECTORIAL, W_no="in**2")
def channel_tip(h_o, b_f, t_w, E_o):
    """Return the unit warping at the tip of a channel's flange."""
    W_no = h_o / 2 * (b_f - t_w / 2 - E_o)
    return W_no


@formula(_SECTORIAL, W_no="in**2")
def channel_corner(h_o, E_o):
    """Return the unit warping where a channel's flange meets its web."""
    W_no = h_o / 2 * E_o
    return W_no


@formula(_SECTORIAL, W_no="in**2")
def flange_tip(h_o, b_f):
    """Return the unit warping at the tip of a wide flange."""
    W_no = h_o * b_f / 4
    return W_no


@formula(clause("Eq. H3-7: yielding under normal stress"), T_nw="kip*in")
def warping_strength(F_y, C_w, W_no, a):
    """Return the twisting moment whose largest warping stress reaches yield."""
    T_nw = F_y * C_w / (W_no * a)
    return T_nw


@dataclass(frozen=True)
class Torsion:
    """Nominal strength in torsion.

    Attributes:
        T_n: Of a tube, by H3.1; of an open section, by St. Venant shear alone.
        T_nw: Twisting moment at which warping stress reaches yield; None for tubes and angles, which do not warp.
        C: Torsional constant of a tube.
        a: Length over which warping fades.

    """

    T_n: Value
    T_nw: Value | None = None
    C: Value | None = None
    a: Value | None = None


def torsion(shape: Any, F_y: Value, L: Value | None = None) -> Torsion:
    """Return the nominal strength in torsion.

    Args:
        shape: Designation, section, or family and properties.
        F_y: Yield stress.
        L: Length of a round tube; without it the strength of any length is used.

    Raises:
        LookupFailed: There is no such shape.
        DomainError: A tube's wall is thinner than the clause covers.

    """
    of = as_section(shape)
    if of.family == "hss":
        return _tube(of, F_y)
    if of.family == "pipes":
        return _round(of, F_y, L)
    T_n = open_strength(F_y=F_y, J=of["J"], t=_thickest(of))
    if of.family == "angles":
        return Torsion(T_n)
    a = fading_length(E=E, C_w=of["C_w"], G=G, J=of["J"])
    return Torsion(T_n, warping_strength(F_y=F_y, C_w=of["C_w"], W_no=_warping(of), a=a), None, a)


def _tube(of: Section, F_y: Value) -> Torsion:
    t = of["t_des"]
    long, wide = ("H", "B") if of["H"].m_as("in") >= of["B"].m_as("in") else ("B", "H")
    C = of["C"] if "C" in of.properties else tube_constant(B=of[wide], H=of[long], t=t)
    lamb, lamb_t = ratio(flat_width(B=of[long], t_des=t), t), stocky_limit(E=E, F_y=F_y)
    share = lamb.magnitude / lamb_t.magnitude
    if lamb.magnitude > 260:
        raise DomainError(f"{of.name}: h/t = {lamb.text()}; AISC 360, H3.1, covers walls to 260. Select a thicker wall.")
    if share <= 1:
        words, F_cr = "h/t at most 2.45 sqrt(E/F_y): Eq. H3-3", shear_yield(F_y=F_y)
    elif share <= 3.07 / 2.45:
        words, F_cr = "h/t at most 3.07 sqrt(E/F_y): Eq. H3-4", inelastic_wall(F_y=F_y, lamb_t=lamb_t, lamb=lamb)
    else:
        words, F_cr = "h/t above 3.07 sqrt(E/F_y): Eq. H3-5", elastic_wall(E=E, lamb=lamb)
    F_cr = pick("F_cr", {words: F_cr}, words, "width to thickness", {"lamb": lamb, "lamb_t": lamb_t}, clause("H3.1"))
    return Torsion(tube_strength(F_cr=F_cr, C=C), None, C)


def _round(of: Section, F_y: Value, L: Value | None) -> Torsion:
    lamb = ratio(of["OD"], of["t_des"])
    buckling = round_short(E=E, lamb=lamb) if L is None else round_long(E=E, L=L, D=of["OD"], lamb=lamb)
    F_cr = smallest("F_cr", {"yielding": shear_yield(F_y=F_y), "buckling": buckling})
    C = round_constant(D=of["OD"], t=of["t_des"])
    return Torsion(tube_strength(F_cr=F_cr, C=C), None, C)


def _thickest(of: Section) -> Value:
    if of.family in ("channels", "wide_flanges"):
        return largest("t", {"flange": of["t_f"], "web": of["t_w"]})
    return of["t"]


def _warping(of: Section) -> Value:
    """Return the largest normalized unit warping."""
    if of.family == "strut":
        return of["W_no"]
    if of.family == "wide_flanges":
        return flange_tip(h_o=of["h_o"], b_f=of["b_f"])
    E_o = channel_center(e_o=of["e_o"], t_w=of["t_w"])
    tip = channel_tip(h_o=of["h_o"], b_f=of["b_f"], t_w=of["t_w"], E_o=E_o)
    return largest("W_no", {"tip of the flange": tip, "corner of flange and web": channel_corner(h_o=of["h_o"], E_o=E_o)})


# --- forces beside the shear center ------------------------------------------------------------------------------------


@formula(Source("derivation", "from the middle of a channel's width to its shear center"), e_s="in")
def channel_offset(b_f, e_o):
    """Return the distance of the shear center from the line the frame is worked on."""
    e_s = b_f / 2 + e_o
    return e_s


@formula(Source("derivation", "from the middle of strut's depth to its shear center"), e_s="in")
def strut_offset(d, e, x_o):
    """Return the distance of the shear center from the line the frame is worked on."""
    e_s = d / 2 - e + x_o
    return e_s


@formula(Source("derivation", "from the middle of an angle's leg to its shear center"), e_s="in")
def angle_offset(b, t):
    """Return the distance of the shear center from the line the frame is worked on."""
    e_s = b / 2 - t / 2
    return e_s


@formula(
    Source("derivation", "shear of the frame's line acts beside the shear center, in the direction that adds"), T_r="kip*in"
)
def whole_twist(T, V_ry, e_y, V_rx, e_x):
    """Return the twisting moment about the shear center."""
    T_r = abs(T) + abs(V_ry) * e_y + abs(V_rx) * e_x
    return T_r


def offsets(shape: Any) -> tuple[Value, Value]:
    """Return the arms of V_y and V_x about the shear center, from the middle of depth and width (the frame's line).

    The sense is not known: which way a channel faces is not in the job.
    """
    of = as_section(shape)
    if of.family == "channels":
        return channel_offset(b_f=of["b_f"], e_o=of["e_o"]), _AXIS
    if of.family == "strut" and of["x_o"].magnitude:
        return _AXIS, strut_offset(d=of["d"], e=of["e"], x_o=of["x_o"])
    if of.family == "angles":
        return angle_offset(b=of["d"], t=of["t"]), angle_offset(b=of["b"], t=of["t"])
    return _AXIS, _AXIS


_AXIS = given(0.0, "in", Source("derivation", "the shear center lies on the line of the force"), "e_s")

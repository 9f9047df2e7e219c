"""The rods themselves: tensile area, steel strength, bearing of nut and washer, least distances, bending in shear."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.loads.words import plain_word
from rackbook.tables import table
from rackbook.trace import DomainError, LookupFailed, Value, formula, smallest
from rackbook.trace.maths import ceil, max, min, pi, sqrt

from ..concrete import aci
from ..steel import clause as aisc
from .clauses import F_UTA_MOST, PHI_BOLTS, TOP_WASHER, derived, dg1, phi


@formula(aci("17.6.1.2"), f_y2="ksi")
def yield_bound(f_ya):
    """Return the bound of the tensile strength by the yield strength."""
    f_y2 = 1.9 * f_ya
    return f_y2


@formula(aci("Eq. 17.6.1.2"), N_sa="kip")
def steel_tension(A_se, f_uta):
    """Return the nominal steel strength of one rod in tension."""
    N_sa = A_se * f_uta
    return N_sa


@formula(aci("Eq. 17.7.1.2b: headed bolt or rod"), V_sa="kip")
def steel_shear(A_se, f_uta):
    """Return the nominal steel strength of one rod in shear."""
    V_sa = 0.6 * A_se * f_uta
    return V_sa


@formula(aci("Eq. 17.7.1.2a: welded headed stud"), V_sa="kip")
def stud_shear(A_se, f_uta):
    """Return the nominal steel strength of one welded headed stud in shear."""
    V_sa = A_se * f_uta
    return V_sa


@formula(aci("17.7.1.2.1: built-up grout pad"), V_sag="kip")
def on_grout(V_sa):
    """Return the nominal steel strength of a rod in shear under a plate on grout."""
    V_sag = 0.8 * V_sa
    return V_sag


@formula(derived("washer stiff over its own thickness beyond the nut, at 45 degrees"), w_e="in")
def stiff_width(w_w, F, t_w):
    """Return the width of a plate washer that bears."""
    w_e = min(w_w, F + 2 * t_w)
    return w_e


@formula(derived("net area of a square washer around its rod"), A_brg="in**2")
def washer_area(w_e, d_a):
    """Return the bearing area of a square plate washer."""
    A_brg = w_e**2 - pi / 4 * d_a**2
    return A_brg


@formula(aci("Table 17.9.2(a): cast-in, not torqued"), s_min="in")
def least_spacing(d_a):
    """Return the minimum spacing of rods."""
    s_min = 4 * d_a
    return s_min


@formula(aci("17.9.2: cover of 20.5.1.3 to the rod"), c_min="in")
def least_edge(c_c, d_a):
    """Return the minimum distance of a rod's center from the edge of the concrete."""
    c_min = c_c + d_a / 2
    return c_min


@formula(derived("circle inside ties and bars of a round pier"), r_in="in")
def cage_inside(D, c_c, d_t, d_b):
    """Return the room inside the bars, from the center."""
    r_in = D / 2 - c_c - d_t - d_b
    return r_in


@formula(derived("outermost point of the rods in a round pier"), r_out="in")
def rods_outside_round(s_x, s_y, d_a):
    """Return how far the rods reach from the center."""
    r_out = sqrt(s_x**2 + s_y**2) / 2 + d_a / 2
    return r_out


@formula(derived("outermost point of the rods in a square pier"), r_out="in")
def rods_outside_square(s_x, s_y, d_a):
    """Return how far the rods reach from the center, along a side."""
    r_out = max(s_x, s_y) / 2 + d_a / 2
    return r_out


@formula(derived("flats of the nut on the plate"), g_min="in")
def nut_half(F):
    """Return the room a nut needs beside its rod's center, across its corners."""
    g_min = F / sqrt(3)
    return g_min


@formula(dg1("shear through rods: half of plate and washer, the rod bent in both ends"), l_b="in")
def bending_lever(t_p, t_w):
    """Return the lever of the shear in a rod between the concrete and a washer welded on the plate."""
    l_b = (t_p + t_w / 2) / 2
    return l_b


@formula(dg1("shear through rods"), f_t="ksi")
def rod_tension_stress(T, V, l_b, d_a):
    """Return the tensile stress of a rod from tension and from bending."""
    f_t = T / (pi / 4 * d_a**2) + V * l_b / (d_a**3 / 6)
    return f_t


@formula(dg1("shear through rods"), f_v="ksi")
def rod_shear_stress(V, d_a):
    """Return the shear stress of a rod."""
    f_v = V / (pi / 4 * d_a**2)
    return f_v


@formula(aisc("Table J3.2, threaded parts, and Eq. J3-3a"), F_nt="ksi", F_nv="ksi", F_d="ksi")
def combined_stress(F_u, f_v, phi):
    """Return the available tensile stress of a threaded rod that carries shear too."""
    F_nt = 0.75 * F_u
    F_nv = 0.45 * F_u
    F_d = phi * max(min(1.3 * F_nt - F_nt / (phi * F_nv) * f_v, F_nt), 0)
    return F_d


@formula(aisc("Table J3.2, threaded parts with threads in the shear plane"), F_dv="ksi")
def shear_stress_most(F_u, phi):
    """Return the available shear stress of a threaded rod."""
    F_dv = phi * 0.45 * F_u
    return F_dv


@formula(derived("grout, plate, washer, nut of one diameter and half a diameter of thread, up to a quarter inch"), l_p="in")
def projection(t_g, t_p, t_w, d_a, q):
    """Return how far a rod stands above the concrete."""
    l_p = ceil((t_g + t_p + t_w + 1.5 * d_a) / q) * q
    return l_p


@formula(derived("projection, embedment, nut of one diameter and half a diameter of thread, up to a half inch"), l_r="in")
def rod_length(l_p, h_ef, d_a, q):
    """Return the length of a rod."""
    l_r = ceil((l_p + h_ef + 1.5 * d_a) / (2 * q)) * 2 * q
    return l_r


@dataclass(frozen=True, eq=False)
class Rod:
    """A kind of rod.

    Attributes:
        d_a: Diameter.
        A_se: Effective area in tension, and in shear.
        f_ya, f_uta: Yield strength; tensile strength within its bounds.
        N_sa, V_sa: Nominal steel strength of one rod; V_sa with the factor of a grout pad where there is one.
        F: Width of the heavy hex nut.
        A_brg: Bearing area of nut or washer.

    """

    d_a: Value
    A_se: Value
    f_ya: Value
    f_uta: Value
    N_sa: Value
    V_sa: Value
    F: Value
    A_brg: Value


def rod(d_a: Value, grade: Any, grout: Value | None = None, w_w: Value | None = None, t_w: Value | None = None) -> Rod:
    """Return a headed rod with a heavy hex nut at its end.

    Args:
        d_a: Diameter, 1/2 to 1-1/4 in.
        grade: Row of the materials, ``F1554 Gr 36`` and so on.
        grout: Thickness of the grout pad; none or zero for a plate on the concrete.
        w_w: Width of a square plate washer at the head.
        t_w: Its thickness.

    Raises:
        LookupFailed: There is no such rod.

    """
    of, material = table("bolts"), plain_word(grade)
    try:
        A_se, F = of.cell(d_a, "A_t", "A_se", {"diameter": d_a}), of.cell(d_a, "F", "F", {"diameter": d_a})
        A_brg = of.cell(d_a, "A_brg", "A_brg", {"diameter": d_a})
    except LookupFailed:
        made = ", ".join(row["diameter"] for row in of.rows)
        raise LookupFailed(
            f"Rods of d_a = {d_a.text()} are not tabulated with nut and thread ({d_a.source}). Diameters: {made} in."
        ) from None
    f_ya, F_u = (table("materials").cell(material, name, symbol) for name, symbol in (("F_y", "f_ya"), ("F_u", "f_uta")))
    f_uta = smallest("f_uta", {"grade": F_u, "1.9 f_ya": yield_bound(f_ya=f_ya), "125 ksi": F_UTA_MOST})
    V_sa = steel_shear(A_se=A_se, f_uta=f_uta)
    if grout is not None and grout.magnitude > 0:
        V_sa = on_grout(V_sa=V_sa)
    if w_w is not None and t_w is not None:
        A_brg = washer_area(w_e=stiff_width(w_w=w_w, F=F, t_w=t_w), d_a=d_a)
    return Rod(d_a, A_se, f_ya, f_uta, steel_tension(A_se=A_se, f_uta=f_uta), V_sa, F, A_brg)


def top_washer(d_a: Value) -> Value:
    """Return the thickness of the plate washer on the base plate: of the design guide's table, or as usual beyond it."""
    of = table("anchor_holes")
    return of.cell(d_a, "thickness", "t_w", {"diameter": d_a}) if of.has(d_a, "thickness") else TOP_WASHER


def printed_tension(d_a: Value, grade: Any) -> Value | None:
    """Return the least tensile load that F1554 prints for a rod; None where the row is not printed."""
    of, key = table("anchor_rods"), (plain_word(grade), d_a.m_as("in"))
    return of.cell(key, "N_min", "N_min") if of.has(key, "N_min") else None


@dataclass(frozen=True, eq=False)
class Bent:
    """A rod in tension, shear and bending: lever, stresses, available tensile and shear stress.

    Where shear leaves nothing for tension, F_d is zero and the shear stress is judged alone.
    """

    l_b: Value
    f_t: Value
    f_v: Value
    F_d: Value
    F_dv: Value


def bent(T: Value, V: Value, of: Rod, t_p: Value, t_w: Value) -> Bent:
    """Return the stresses of a rod whose shear comes in at a washer welded on the plate.

    Args:
        T: Tension of the rod.
        V: Its shear.
        of: The rod.
        t_p: Thickness of the base plate.
        t_w: Thickness of the washer on the plate.

    Raises:
        DomainError: The tension is below zero.

    """
    if T.magnitude < 0:
        raise DomainError(f"T = {T.text()}: a rod under a base plate is not pressed; give its tension, or zero.")
    l_b = bending_lever(t_p=t_p, t_w=t_w)
    f_v = rod_shear_stress(V=V, d_a=of.d_a)
    factor = phi(PHI_BOLTS)
    F_d = combined_stress(F_u=of.f_uta, f_v=f_v, phi=factor)
    F_dv = shear_stress_most(F_u=of.f_uta, phi=factor)
    return Bent(l_b, rod_tension_stress(T=T, V=V, l_b=l_b, d_a=of.d_a), f_v, F_d, F_dv)

"""Section E4: elastic stress at torsional and flexural-torsional buckling."""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import Source, Value, formula, given
from rackbook.trace.maths import acos, cos, max, min, pi, sqrt

from ..steel import E, G, clause
from .angles import Principal
from .section import Section

_ZERO = given(0.0, "in", Source("derivation", "the shear center lies on the axis of symmetry"), "y_o")


@formula(clause("Eq. E4-2"), F_e="ksi")
def torsional_doubly_symmetric(E, C_w, L_cz, G, J, I_x, I_y):
    """Return the elastic stress at torsional buckling of a doubly symmetric shape."""
    F_e = (pi**2 * E * C_w / L_cz**2 + G * J) / (I_x + I_y)
    return F_e


@formula(Source("derivation", "shear center of a channel from its centroid"), x_o="in")
def channel_shear_center(x_bar, e_o):
    """Return the distance between centroid and shear center."""
    x_o = x_bar + e_o
    return x_o


@formula(clause("Eq. E4-9"), r_o="in")
def polar_radius(x_o, y_o, I_x, I_y, A_g):
    """Return the polar radius of gyration about the shear center."""
    r_o = sqrt(x_o**2 + y_o**2 + (I_x + I_y) / A_g)
    return r_o


@formula(clause("Eq. E4-8"), H="")
def flexural_constant(x_o, y_o, r_o):
    """Return the flexural constant."""
    H = 1 - (x_o**2 + y_o**2) / r_o**2
    return H


@formula(clause("Eq. E4-7"), F_ez="ksi")
def torsional(E, C_w, L_cz, G, J, A_g, r_o):
    """Return the elastic stress at torsional buckling about the shear center."""
    F_ez = (pi**2 * E * C_w / L_cz**2 + G * J) / (A_g * r_o**2)
    return F_ez


@formula(clause("Eq. E4-3"), F_e="ksi")
def singly_symmetric(F_es, F_ez, H):
    """Return the elastic stress at flexural-torsional buckling; F_es is that of bending about the axis of symmetry."""
    F_e = (F_es + F_ez) / (2 * H) * (1 - sqrt(1 - 4 * F_es * F_ez * H / (F_es + F_ez) ** 2))
    return F_e


@formula(
    clause("Eq. E4-4: the lowest root of the cubic, by the cosine of a third of an angle; x and y are principal axes"),
    H="", a="ksi", b="ksi**2", c="ksi**3", Q="ksi**2", R="ksi**3", theta="", F_e="ksi",
)  # fmt: skip
def unsymmetric(F_ex, F_ey, F_ez, x_o, y_o, r_o):
    """Return the elastic stress at flexural-torsional buckling of a shape without an axis of symmetry."""
    H = 1 - (x_o / r_o) ** 2 - (y_o / r_o) ** 2
    a = (F_ex + F_ey + F_ez - F_ey * (x_o / r_o) ** 2 - F_ex * (y_o / r_o) ** 2) / H
    b = (F_ex * F_ey + F_ey * F_ez + F_ez * F_ex) / H
    c = F_ex * F_ey * F_ez / H
    Q = (a**2 - 3 * b) / 9
    R = (9 * a * b - 2 * a**3 - 27 * c) / 54
    theta = acos(max(-1, min(1, R / sqrt(Q**3))))
    F_e = a / 3 - 2 * sqrt(Q) * cos(theta / 3)
    return F_e


@dataclass(frozen=True)
class Torsional:
    """Stresses at torsional buckling.

    Attributes:
        F_ez: Torsional buckling by itself; None for a doubly symmetric shape, whose F_e it is.
        F_e: Flexural-torsional buckling, or torsional buckling of a doubly symmetric shape.

    """

    F_ez: Value | None
    F_e: Value


def of_wide_flange(of: Section, L_cz: Value) -> Torsional:
    """Return torsional buckling of a doubly symmetric open shape."""
    F_e = torsional_doubly_symmetric(E=E, C_w=of["C_w"], L_cz=L_cz, G=G, J=of["J"], I_x=of["I_x"], I_y=of["I_y"])
    return Torsional(None, F_e.named("F_ez"))


def of_channel(of: Section, F_ex: Value, L_cz: Value) -> Torsional:
    """Return flexural-torsional buckling of a channel, which is symmetric about x."""
    return _symmetric(of, channel_shear_center(x_bar=of["x_bar"], e_o=of["e_o"]), of["I_x"], of["I_y"], of["C_w"], F_ex, L_cz)


def of_strut(of: Section, F_e2: Value, L_cz: Value) -> Torsional:
    """Return flexural-torsional buckling of strut, which is symmetric about its axis 2; a double one is doubly symmetric."""
    if of["x_o"].magnitude == 0:
        F_e = torsional_doubly_symmetric(E=E, C_w=of["C_w"], L_cz=L_cz, G=G, J=of["J"], I_x=of["I_1"], I_y=of["I_2"])
        return Torsional(None, F_e.named("F_ez"))
    return _symmetric(of, of["x_o"], of["I_1"], of["I_2"], of["C_w"], F_e2, L_cz)


def of_angle(of: Section, axes: Principal, F_ew: Value, F_ez: Value, L_cz: Value) -> Torsional:
    """Return flexural-torsional buckling of an angle from its flexural stresses about the principal axes w and z."""
    if axes.z_o is None:
        return _symmetric(of, axes.w_o, axes.I_w, of["I_z"], of["C_w"], F_ew, L_cz)
    r_o = polar_radius(x_o=axes.w_o, y_o=axes.z_o, I_x=axes.I_w, I_y=of["I_z"], A_g=of["A"])
    twist = torsional(E=E, C_w=of["C_w"], L_cz=L_cz, G=G, J=of["J"], A_g=of["A"], r_o=r_o)
    return Torsional(twist, unsymmetric(F_ex=F_ew, F_ey=F_ez, F_ez=twist, x_o=axes.w_o, y_o=axes.z_o, r_o=r_o))


def _symmetric(of: Section, x_o: Value, I_s: Value, I_t: Value, C_w: Value, F_es: Value, L_cz: Value) -> Torsional:
    r_o = polar_radius(x_o=x_o, y_o=_ZERO, I_x=I_s, I_y=I_t, A_g=of["A"])
    H = flexural_constant(x_o=x_o, y_o=_ZERO, r_o=r_o)
    F_ez = torsional(E=E, C_w=C_w, L_cz=L_cz, G=G, J=of["J"], A_g=of["A"], r_o=r_o)
    return Torsional(F_ez, singly_symmetric(F_es=F_es, F_ez=F_ez, H=H))

"""Weld groups as lines: elastic properties of unit throat, and the force on a unit of length where it is largest.

x and y lie in the plane of the weld, its center is the origin; P acts across the plane. The largest force is that of a
point where all parts add up: for a rectangle or an I its corner, which for rounded corners lies a little outside.
"""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import Source, Value, formula
from rackbook.trace.maths import abs, pi, sqrt

_LINE = Source("derivation", "weld as a line of unit throat")
_ADDED = Source("derivation", "elastic method, all parts added at one point")


@formula(_LINE, L_w="in")
def pair_length(l):
    """Return the length of two welds of length l."""
    L_w = 2 * l
    return L_w


@formula(_LINE, I_x="in**3")
def pair_inertia_along(l):
    """Return the inertia of two lines about the axis across them."""
    I_x = l**3 / 6
    return I_x


@formula(_LINE, I_y="in**3")
def pair_inertia_across(l, g):
    """Return the inertia of two lines, g apart, about the axis between them."""
    I_y = l * g**2 / 2
    return I_y


@formula(_LINE, b_f="in")
def flat_side(B, r):
    """Return the straight part of a rectangle's side between corners of radius r."""
    b_f = B - 2 * r
    return b_f


@formula(_LINE, L_w="in")
def tube_length(b_f, h_f, r):
    """Return the length of a weld around a rectangle with corners of radius r."""
    L_w = 2 * b_f + 2 * h_f + 2 * pi * r
    return L_w


@formula(_LINE, I_c="in**3", I_x="in**3")
def tube_inertia(b_f, h_f, H, r):
    """Return the inertia of a weld around a rectangle with corners of radius r, about the axis parallel to its width."""
    I_c = 4 * r * (pi * h_f**2 / 8 + h_f * r + pi * r**2 / 4)
    I_x = b_f * H**2 / 2 + h_f**3 / 6 + I_c
    return I_x


@formula(_LINE, L_w="in")
def ring_length(D):
    """Return the length of a weld around a circle."""
    L_w = pi * D
    return L_w


@formula(_LINE, I_x="in**3")
def ring_inertia(D):
    """Return the inertia of a weld around a circle about its diameter."""
    I_x = pi * D**3 / 8
    return I_x


@formula(_LINE, L_w="in")
def flanged_length(b_f, t_w, h):
    """Return the length of a weld around the two flanges and along both sides of the web; h is the clear web."""
    L_w = 2 * b_f + 2 * (b_f - t_w) + 2 * h
    return L_w


@formula(_LINE, I_x="in**3")
def flanged_inertia_strong(b_f, t_w, d, h):
    """Return the inertia of a weld around an I about the axis across its web."""
    I_x = b_f * d**2 / 2 + (b_f - t_w) * h**2 / 2 + h**3 / 6
    return I_x


@formula(_LINE, I_y="in**3")
def flanged_inertia_weak(b_f, t_w, h):
    """Return the inertia of a weld around an I about the axis along its web."""
    I_y = b_f**3 / 6 + (b_f**3 - t_w**3) / 6 + h * t_w**2 / 2
    return I_y


@formula(_LINE, S="in**2")
def line_modulus(I_w, c):
    """Return the section modulus of a weld as a line."""
    S = I_w / c
    return S


@formula(_LINE, c="in")
def half(a):
    """Return half of an outside size."""
    c = a / 2
    return c


@formula(_LINE, J_w="in**3")
def polar_inertia(I_x, I_y):
    """Return the polar inertia of a weld as a line."""
    J_w = I_x + I_y
    return J_w


@formula(_ADDED, f_n="kip/in")
def corner_normal(P, L_w, M_x, S_x, M_y, S_y):
    """Return the force across the plane of the weld on a unit of its length, at its corner."""
    f_n = abs(P) / L_w + abs(M_x) / S_x + abs(M_y) / S_y
    return f_n


@formula(_ADDED, f_x="kip/in", f_y="kip/in", f_v="kip/in")
def corner_flow(V_x, V_y, L_w, T, c_x, c_y, J_w):
    """Return the force in the plane of the weld on a unit of its length, at its corner."""
    f_x = abs(V_x) / L_w + abs(T) * c_y / J_w
    f_y = abs(V_y) / L_w + abs(T) * c_x / J_w
    f_v = sqrt(f_x**2 + f_y**2)
    return f_v


@formula(_ADDED, f_n="kip/in")
def ring_normal(P, L_w, M_x, M_y, S_x):
    """Return the force across the plane of a round weld on a unit of its length."""
    f_n = abs(P) / L_w + sqrt(M_x**2 + M_y**2) / S_x
    return f_n


@formula(_ADDED, f_v="kip/in")
def ring_flow(V_x, V_y, L_w, T, c_x, J_w):
    """Return the force in the plane of a round weld on a unit of its length."""
    f_v = sqrt(V_x**2 + V_y**2) / L_w + abs(T) * c_x / J_w
    return f_v


@formula(_ADDED, f_r="kip/in")
def resultant(f_n, f_v):
    """Return the force on a unit of length of the weld."""
    f_r = sqrt(f_n**2 + f_v**2)
    return f_r


@dataclass(frozen=True)
class WeldLine:
    """A weld group of unit throat: length, inertias, moduli, outer distances from its center; ``ring`` for a circle."""

    L_w: Value
    I_x: Value
    I_y: Value
    J_w: Value
    S_x: Value
    S_y: Value
    c_x: Value
    c_y: Value
    ring: bool = False


def weld_line(L_w: Value, I_x: Value, I_y: Value, width: Value, depth: Value, ring: bool = False) -> WeldLine:
    """Return a weld group by its length, its inertias about x and y, and its sizes along x and y."""
    c_x, c_y = half(a=width).named("c_x"), half(a=depth).named("c_y")
    J_w = polar_inertia(I_x=I_x, I_y=I_y)
    S_x, S_y = line_modulus(I_w=I_x, c=c_y).named("S_x"), line_modulus(I_w=I_y, c=c_x).named("S_y")
    return WeldLine(L_w, I_x, I_y.named("I_y"), J_w, S_x, S_y, c_x, c_y, ring)


def pair(l: Value, g: Value) -> WeldLine:
    """Return two lines of length l along y, g apart along x."""
    return weld_line(pair_length(l=l), pair_inertia_along(l=l), pair_inertia_across(l=l, g=g), g, l)


def tube(B: Value, H: Value, r: Value) -> WeldLine:
    """Return a line around a rectangle, B along x and H along y, with corners of radius r (0 for sharp ones)."""
    b_f, h_f = flat_side(B=B, r=r), flat_side(B=H, r=r).named("h_f")
    I_x, I_y = tube_inertia(b_f=b_f, h_f=h_f, H=H, r=r), tube_inertia(b_f=h_f, h_f=b_f, H=B, r=r)
    return weld_line(tube_length(b_f=b_f, h_f=h_f, r=r), I_x, I_y, B, H)


def ring(D: Value) -> WeldLine:
    """Return a line around a circle."""
    I_x = ring_inertia(D=D)
    return weld_line(ring_length(D=D), I_x, I_x, D, D, ring=True)


def flanged(d: Value, b_f: Value, t_w: Value, h: Value) -> WeldLine:
    """Return a line around an I: depth d along y, flanges b_f along x, web t_w, clear web h."""
    strong = flanged_inertia_strong(b_f=b_f, t_w=t_w, d=d, h=h)
    return weld_line(flanged_length(b_f=b_f, t_w=t_w, h=h), strong, flanged_inertia_weak(b_f=b_f, t_w=t_w, h=h), b_f, d)


@dataclass(frozen=True)
class LineForce:
    """Largest force on a unit of length of a weld: across its plane, in its plane, and together."""

    f_n: Value
    f_v: Value
    f_r: Value


def line_force(of: WeldLine, P: Value, M_x: Value, M_y: Value, V_x: Value, V_y: Value, T: Value) -> LineForce:
    """Return the largest force on a unit of length of a weld group.

    Args:
        of: The group.
        P: Force across the plane of the weld.
        M_x: Moment about x.
        M_y: Moment about y.
        V_x: Shear along x.
        V_y: Shear along y.
        T: Moment in the plane of the weld.

    """
    if of.ring:
        f_n = ring_normal(P=P, L_w=of.L_w, M_x=M_x, M_y=M_y, S_x=of.S_x)
        f_v = ring_flow(V_x=V_x, V_y=V_y, L_w=of.L_w, T=T, c_x=of.c_x, J_w=of.J_w)
    else:
        f_n = corner_normal(P=P, L_w=of.L_w, M_x=M_x, S_x=of.S_x, M_y=M_y, S_y=of.S_y)
        f_v = corner_flow(V_x=V_x, V_y=V_y, L_w=of.L_w, T=T, c_x=of.c_x, c_y=of.c_y, J_w=of.J_w)
    return LineForce(f_n, f_v, resultant(f_n=f_n, f_v=f_v))

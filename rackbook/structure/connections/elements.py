"""Connecting elements: yielding, rupture, block shear, bending of plates (AISC 360, B4.3b, D3, J4)."""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import DomainError, Value, formula, given
from rackbook.trace.maths import abs, min

from ..steel import available, clause, effective_net_area, shear_lag

#: What the net section of a hole counts with beyond the hole itself.
DAMAGE = given(1 / 16, "in", clause("B4.3b", "read"), "d_x")
UNIFORM = given(1.0, "", clause("J4.3, tension stress uniform"), "U_bs")


@formula(clause("B4.3b", "read"), d_n="in")
def net_hole(d_h, d_x):
    """Return the width of a hole in a net section."""
    d_n = d_h + d_x
    return d_n


@formula(clause("B4.3a, gross area of a plate"), A_g="in**2")
def gross_area(h, t):
    """Return the gross area of a plate."""
    A_g = h * t
    return A_g


@formula(clause("B4.3b, net area of a plate", "read"), A_n="in**2")
def net_area(h, n, d_n, t):
    """Return the net area of a plate across n holes."""
    A_n = (h - n * d_n) * t
    return A_n


@formula(clause("B4.3b, net area of a section", "read"), A_n="in**2")
def net_section(A_g, n, d_n, t):
    """Return the net area of a section with n holes in a part of thickness t."""
    A_n = A_g - n * d_n * t
    return A_n


@formula(clause("D3: U of open sections need not be less than the connected part of the area; taken for tubes too"), U="")
def shear_lag_least(h, t, A_g):
    """Return the least shear lag factor of an open section: the connected element's share of the area."""
    U = min(h * t / A_g, 1)
    return U


@formula(clause("Eq. J4-1 (D2-1)", "read"), R_n="kip")
def tension_yielding(F_y, A_g):
    """Return the nominal strength of an element in tensile yielding."""
    R_n = F_y * A_g
    return R_n


@formula(clause("Eq. J4-2 (D2-2)", "read"), R_n="kip")
def tension_rupture(F_u, A_e):
    """Return the nominal strength of an element in tensile rupture."""
    R_n = F_u * A_e
    return R_n


@formula(clause("Eq. J4-3"), R_n="kip")
def shear_yielding(F_y, A_gv):
    """Return the nominal strength of an element in shear yielding."""
    R_n = 0.60 * F_y * A_gv
    return R_n


@formula(clause("Eq. J4-4", "read"), R_n="kip")
def shear_rupture(F_u, A_nv):
    """Return the nominal strength of an element in shear rupture."""
    R_n = 0.60 * F_u * A_nv
    return R_n


@formula(clause("Eq. J4-5"), R_rupture="kip", R_yield="kip", R_n="kip")
def block_shear_strength(F_u, A_nv, U_bs, A_nt, F_y, A_gv):
    """Return the nominal strength in block shear: rupture in tension with rupture or yielding in shear."""
    R_rupture = 0.60 * F_u * A_nv + U_bs * F_u * A_nt
    R_yield = 0.60 * F_y * A_gv + U_bs * F_u * A_nt
    R_n = min(R_rupture, R_yield)
    return R_n


@formula(clause("J4.3, plane in shear, from the edge to the last bolt of a line"), L_v="in")
def shear_path(L_e, n, s):
    """Return the length of a shear plane of a block."""
    L_v = L_e + (n - 1) * s
    return L_v


@formula(clause("J4.3, net area in shear: half a hole less than bolts in the line"), A_nv="in**2")
def net_shear_path(m, L_v, n, d_n, t):
    """Return the net area of m shear planes of a block."""
    A_nv = m * (L_v - (n - 0.5) * d_n) * t
    return A_nv


@formula(clause("J4.3, gross area in shear"), A_gv="in**2")
def gross_shear_path(m, L_v, t):
    """Return the gross area of m shear planes of a block."""
    A_gv = m * L_v * t
    return A_gv


@formula(clause("J4.3, net area in tension, from the outer bolts to the edge"), A_nt="in**2")
def net_tension_edge(L_e, d_n, t):
    """Return the net area in tension between a line of bolts and the edge beside it."""
    A_nt = (L_e - 0.5 * d_n) * t
    return A_nt


@formula(clause("J4.3, net area in tension, between the outer lines of bolts"), A_nt="in**2")
def net_tension_between(n, g, d_n, t):
    """Return the net area in tension between the outer ones of n lines of bolts."""
    A_nt = (n - 1) * (g - d_n) * t
    return A_nt


@formula(clause("F11.1, plastic modulus of a plate bent in its plane"), Z="in**3")
def plastic_modulus(h, t):
    """Return the plastic modulus of a plate about the axis across its depth h."""
    Z = t * h**2 / 4
    return Z


@formula(clause("F11.1, plastic modulus with the holes taken out; n s**2 / 4 bounds the holes' distances"), Z_n="in**3")
def net_modulus(h, t, d_n, s, n):
    """Return the net plastic modulus of a plate with a line of n holes, s apart, about its middle."""
    Z_n = t * (h**2 / 4 - d_n * s * n**2 / 4)
    return Z_n


@formula(clause("Eq. F11-1"), M_n="kip*in")
def plate_yielding(F_y, Z):
    """Return the nominal moment of a plate: plastic, as Z is 1.5 S."""
    M_n = F_y * Z
    return M_n


@formula(clause("J4.5, rupture; AISC Manual Part 9"), M_n="kip*in")
def plate_rupture(F_u, Z_n):
    """Return the nominal moment of a plate at its holes."""
    M_n = F_u * Z_n
    return M_n


@formula(clause("H1 in form, without its bonus for small axial force"), u="")
def force_and_moments(N, N_c, M_1, M_c1, M_2, M_c2):
    """Return the utilization of a plate by a force and moments in its plane (1) and out of it (2)."""
    u = abs(N) / N_c + abs(M_1) / M_c1 + abs(M_2) / M_c2
    return u


@dataclass(frozen=True)
class Block:
    """Block shear of one path: areas, nominal and available strength."""

    A_gv: Value
    A_nv: Value
    A_nt: Value
    R_n: Value
    R_c: Value


def block_shear(
    planes: Value, n: Value, s: Value, L_e: Value, t: Value, F_y: Value, F_u: Value, d_h: Value, method: str,
    L_et: Value | None = None, lines: Value | None = None, g: Value | None = None,
) -> Block:  # fmt: skip
    """Return the block shear strength of bolts pulled towards an edge.

    Args:
        planes: Shear planes, 1 or 2.
        n: Bolts in each line along the force.
        s: Their spacing.
        L_e: Distance of the last one to the edge.
        t: Thickness of the part.
        F_y: Its yield strength.
        F_u: Its tensile strength.
        d_h: Width of the holes.
        method: ``"LRFD"`` or ``"ASD"``.
        L_et: Distance from the line to the edge beside it, where the tension plane goes there (one shear plane).
        lines: Lines of bolts, where the tension plane goes between the outer ones (two shear planes).
        g: Their gage.

    Raises:
        DomainError: No tension plane is given.

    """
    d_n = net_hole(d_h=d_h, d_x=DAMAGE)
    L_v = shear_path(L_e=L_e, n=n, s=s)
    A_gv = gross_shear_path(m=planes, L_v=L_v, t=t)
    A_nv = net_shear_path(m=planes, L_v=L_v, n=n, d_n=d_n, t=t)
    if L_et is not None:
        A_nt = net_tension_edge(L_e=L_et, d_n=d_n, t=t)
    elif lines is not None and g is not None:
        A_nt = net_tension_between(n=lines, g=g, d_n=d_n, t=t)
    else:
        raise DomainError("Block shear (AISC 360, J4.3) needs its tension plane: give L_et, or lines and g.")
    R_n = block_shear_strength(F_u=F_u, A_nv=A_nv, U_bs=UNIFORM, A_nt=A_nt, F_y=F_y, A_gv=A_gv)
    return Block(A_gv, A_nv, A_nt, R_n, available(R_n, "block shear", method, "R_cb"))


@dataclass(frozen=True)
class NetTension:
    """Tension of a member through bolts: net and effective area, yielding and rupture, available."""

    A_n: Value
    U: Value
    A_e: Value
    P_cy: Value
    P_cu: Value


def net_tension(
    A_g: Value, n: Value, d_h: Value, t: Value, F_y: Value, F_u: Value, method: str, U: Value | None = None,
    x_bar: Value | None = None, l: Value | None = None,
) -> NetTension:  # fmt: skip
    """Return the tension strength of a member with n holes in the section.

    Args:
        A_g: Gross area of the member.
        n: Holes in the section.
        d_h: Their width.
        t: Thickness they are in, of all parts together.
        F_y: Yield strength.
        F_u: Tensile strength.
        method: ``"LRFD"`` or ``"ASD"``.
        U: Shear lag factor; worked out from ``x_bar`` and ``l`` where it is left out.
        x_bar: Eccentricity of the connection.
        l: Its length.

    Raises:
        DomainError: Neither U nor both of x_bar and l are given.

    """
    A_n = net_section(A_g=A_g, n=n, d_n=net_hole(d_h=d_h, d_x=DAMAGE), t=t)
    if U is None:
        if x_bar is None or l is None:
            raise DomainError("Shear lag (AISC 360, Table D3.1) needs U, or x_bar and l.")
        U = shear_lag(x_bar=x_bar, l=l)
    A_e = effective_net_area(A_n=A_n, U=U)
    P_cy = available(tension_yielding(F_y=F_y, A_g=A_g), "tension yielding", method, "P_cy")
    P_cu = available(tension_rupture(F_u=F_u, A_e=A_e), "tension rupture", method, "P_cu")
    return NetTension(A_n, U, A_e, P_cy, P_cu)

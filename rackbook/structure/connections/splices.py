"""A rail splice: one plate on the rail's wall over the joint of two rails, bolted to both, with every limit state.

The plate alone passes all forces at the joint; the bolts of one side take them at their middle, a distance e from the
joint. x goes along the rail, y across the plate, z up; every part of a force is taken in the sense in which it adds.
The rail's own net section counts with the connected wall's share of its area (the least shear lag factor).
"""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import Source, Value, formula, given, smallest
from rackbook.trace.maths import abs, max

from ..steel import available, clause, effective_net_area
from .bolts import Bolt, at_hole, clear_between, clear_to_edge, length_factor
from .elements import (
    DAMAGE,
    block_shear,
    force_and_moments,
    gross_area,
    net_area,
    net_hole,
    net_modulus,
    net_section,
    plastic_modulus,
    plate_rupture,
    plate_yielding,
    shear_lag_least,
    shear_rupture,
    shear_yielding,
    tension_rupture,
    tension_yielding,
)
from .groups import Group, group, in_plane, out_of_plane
from .joint import HOLES, TWO, WHOLE, bolt_states, moment_at_arm, size
from .sections import Rail
from .strength import State

NOTHING = given(0.0, "kip*in", Source("derivation", "no third part"), "M_0")


@formula(Source("derivation", "middle of one side's bolts, from the joint of the rails"), e="in")
def arm(L_e, n_x, s):
    """Return the distance of the bolts' middle from the joint."""
    e = L_e + (n_x - 1) * s / 2
    return e


@formula(Source("derivation", "between the outer bolts of one side"), l_pl="in")
def pattern_length(n_x, s):
    """Return the length of the pattern of bolts on one side."""
    l_pl = (n_x - 1) * s
    return l_pl


@formula(Source("derivation", "plate over all rows of bolts"), h="in")
def plate_depth(n_z, g, L_e):
    """Return the depth of the plate."""
    h = (n_z - 1) * g + 2 * L_e
    return h


@formula(Source("derivation", "compression positive"), N_t="kip")
def tension(P):
    """Return the tension in a rail."""
    N_t = max(-P, 0)
    return N_t


@formula(Source("derivation", "thin plate in torsion: 0.6 F_y on h t**2 / 3"), T_n="kip*in")
def torsion_yielding(F_y, h, t):
    """Return the nominal torsion of a plate."""
    T_n = 0.60 * F_y * h * t**2 / 3
    return T_n


@formula(Source("derivation", "shear and torsion add up on one face of the plate"), u="")
def shear_and_torsion(V, V_c, T, T_c):
    """Return the utilization of a plate by shear and torsion."""
    u = abs(V) / V_c + abs(T) / T_c
    return u


@dataclass(frozen=True)
class RailForces:
    """Forces in a rail at a splice, in the axes of its section; P positive compresses. Numbers or arrays.

    V_y acts up, V_x across the plate; M_x bends the rail up and down, M_y sideways; T twists it.
    """

    P: Value
    V_y: Value
    V_x: Value
    T: Value
    M_x: Value
    M_y: Value


@dataclass(frozen=True)
class Splice:
    """A splice with the rail it joins.

    Attributes:
        bolt: The bolts.
        n_x, n_z: Bolts along the rail in each row, and rows, on one side of the joint.
        s, g: Spacing along the rail, and gage between the rows.
        L_e: Distance from the bolts to the ends and edges of the plate, and to the end of the rail.
        t: Thickness of the plate.
        F_y, F_u: Its steel.
        rail: The rail.
        slip: Whether the bolts are slip-critical.
        method: ``"LRFD"`` or ``"ASD"``.

    """

    bolt: Bolt
    n_x: Value
    n_z: Value
    s: Value
    g: Value
    L_e: Value
    t: Value
    F_y: Value
    F_u: Value
    rail: Rail
    slip: bool
    method: str

    def bolts(self) -> Group:
        """Return the bolts on one side."""
        return group(n_x=self.n_x, n_z=self.n_z, s_x=self.s, s_z=self.g, L_e=self.L_e)


def splice_states(of: Splice, F: RailForces) -> tuple[State, ...]:
    """Return every limit state of a splice under forces that are numbers or arrays.

    Raises:
        DomainError: One bolt alone on a side is asked to resist a moment about itself.

    """
    b, bolts, e = of.bolt, of.bolts(), arm(L_e=of.L_e, n_x=of.n_x, s=of.s)
    M_g = moment_at_arm(M=F.M_x, F=F.V_y, a=e).named("M_1")
    M_s = moment_at_arm(M=F.M_y, F=F.V_x, a=e).named("M_2")
    across = size(R_i=F.V_x)
    r_v = in_plane(bolts, F.P, F.V_y, M_g)
    r_t = out_of_plane(bolts, across, F.T, M_s)
    return (
        *bolt_states(b, r_v, r_t, across, bolts.n_b, of.slip, of.method, length_factor(pattern_length(n_x=of.n_x, s=of.s))),
        State("Bearing and tearout", r_v, _hole(of), clause("J3.11a (J3.10a in 360-16)"),
              "Use a thicker plate or rail, larger bolts, or a larger edge distance."),
        *_plate(of, F, M_g, M_s),
        *_blocks(of, F),
    )  # fmt: skip


def _hole(of: Splice) -> Value:
    b = of.bolt
    found = {"edge": clear_to_edge(L_e=of.L_e, d_h=b.d_h)}
    if of.n_x.magnitude > 1:
        found["next hole"] = clear_between(s=of.s, d_h=b.d_h)
    if of.n_z.magnitude > 1:
        found["next row"] = clear_between(s=of.g, d_h=b.d_h)
    l_c = smallest("l_c", dict(found))
    parts = {"plate": (of.t, of.F_u), "rail": (of.rail.t, of.rail.F_u)}
    least = smallest("r_n", {name: at_hole(b.d_b, l_c, t, F_u).r_n for name, (t, F_u) in parts.items()})
    return available(least, HOLES, of.method, "r_cb")


def _plate(of: Splice, F: RailForces, M_g: Value, M_s: Value) -> tuple[State, ...]:
    method, h = of.method, plate_depth(n_z=of.n_z, g=of.g, L_e=of.L_e)
    d_n = net_hole(d_h=of.bolt.d_h, d_x=DAMAGE)
    A_g, A_n = gross_area(h=h, t=of.t), net_area(h=h, n=of.n_z, d_n=d_n, t=of.t)
    N_c = available(tension_yielding(F_y=of.F_y, A_g=A_g), "tension yielding", method, "N_c")
    M_c1 = available(plate_yielding(F_y=of.F_y, Z=plastic_modulus(h=h, t=of.t)), "flexure", method, "M_c1")
    M_c2 = available(plate_yielding(F_y=of.F_y, Z=plastic_modulus(h=of.t, t=h)), "flexure", method, "M_c2")
    gross = force_and_moments(N=F.P, N_c=N_c, M_1=M_g, M_c1=M_c1, M_2=M_s, M_c2=M_c2)
    N_u = available(tension_rupture(F_u=of.F_u, A_e=A_n), "tension rupture", method, "N_c")
    Z_n = net_modulus(h=h, t=of.t, d_n=d_n, s=of.g, n=of.n_z)
    M_u = available(plate_rupture(F_u=of.F_u, Z_n=Z_n), "tension rupture", method, "M_c1")
    net = force_and_moments(N=tension(P=F.P), N_c=N_u, M_1=M_g, M_c1=M_u, M_2=NOTHING, M_c2=M_c2)
    V_c = smallest("V_c", {
        "yielding": available(shear_yielding(F_y=of.F_y, A_gv=A_g), "shear yielding of elements", method, "V_c"),
        "rupture": available(shear_rupture(F_u=of.F_u, A_nv=A_n), "shear rupture of elements", method, "V_c"),
    })  # fmt: skip
    T_c = available(torsion_yielding(F_y=of.F_y, h=h, t=of.t), "flexure", method, "T_c")
    twist = shear_and_torsion(V=F.V_y, V_c=V_c, T=F.T, T_c=T_c)
    thicker = "Use a thicker plate, or a larger gage."
    return (
        State("Plate at the joint: force and bending", gross, WHOLE, clause("J4.1, J4.5, F11"), thicker),
        State("Plate at the bolts: net section", net, WHOLE, clause("J4.1, J4.5, B4.3b"), thicker),
        State("Plate in shear and torsion", twist, WHOLE, clause("J4.2; torsion elastic"), thicker),
    )


def _blocks(of: Splice, F: RailForces) -> tuple[State, ...]:
    b, method, N_t = of.bolt, of.method, tension(P=F.P)
    rail = of.rail
    paths = {
        "plate": block_shear(planes=TWO, n=of.n_x, s=of.s, L_e=of.L_e, t=of.t, F_y=of.F_y, F_u=of.F_u, d_h=b.d_h,
                             method=method, lines=of.n_z, g=of.g),
        "rail": block_shear(planes=TWO, n=of.n_x, s=of.s, L_e=of.L_e, t=rail.t, F_y=rail.F_y, F_u=rail.F_u, d_h=b.d_h,
                            method=method, lines=of.n_z, g=of.g),
    }  # fmt: skip
    R_cb = smallest("R_cb", {name: path.R_c for name, path in paths.items()})
    A_n = net_section(A_g=rail.A_g, n=of.n_z, d_n=net_hole(d_h=b.d_h, d_x=DAMAGE), t=rail.t)
    A_e = effective_net_area(A_n=A_n, U=shear_lag_least(h=rail.d, t=rail.t, A_g=rail.A_g))
    P_cu = available(tension_rupture(F_u=rail.F_u, A_e=A_e), "tension rupture", method, "P_cu")
    return (
        State("Block shear", N_t, R_cb, clause("J4.3"), "Use more bolts, a larger edge distance or a thicker plate."),
        State("Rail: net section in tension", N_t, P_cu, clause("D2(b), D3"), "Use fewer rows of bolts, or a larger rail."),
    )

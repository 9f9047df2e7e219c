"""A rail clip: a vertical plate on the side of the post, to which the rail is bolted, with every limit state.

The web of the rail lies on the post and on the plate, its toes face outward. The plate stands on edge on the side of the
post, its outer face in the plane of the post's face, welded along both faces over its length. On a tube it stands where the
corner turns away: a fillet across the gap at its inner face, a flare-bevel groove weld at its outer one (see ``seam``). Its
bolts stand one above the other in its middle, so the line of bolts is the edge distance away from the post. The rail's
forces act at the bolts; where they press the rail on the post, contact takes them. x goes along the rack, y out of the
plate towards the rail, z up; every part of a force is taken in the sense in which it adds.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

from rackbook.trace import Source, Value, formula, smallest

from ..steel import available, clause
from . import web_pull
from .bolts import Bolt, at_hole, clear_between, clear_to_edge
from .elements import (
    DAMAGE,
    block_shear,
    force_and_moments,
    gross_area,
    net_area,
    net_hole,
    net_modulus,
    plastic_modulus,
    plate_rupture,
    plate_yielding,
    shear_rupture,
    shear_yielding,
    tension_rupture,
    tension_yielding,
)
from .groups import Group, group, in_plane, no_prying, out_of_plane
from .joint import HOLES, ONE, TWO, WHOLE, bolt_states, moment_at_arm, pull, size
from .lines import WeldLine, line_force, pair
from .seam import corner_gap, groove_of, lines_apart
from .sections import FREE_EDGE, Rail
from .strength import State, manual
from .walls import Wall, plate_on_wall, wall_use
from .welds import beside_weld, fillet, groove_strength, in_its_plane


@formula(Source("derivation", "length of plate over bolts"), p="in")
def tributary(l, n):
    """Return the length of plate that belongs to one bolt."""
    p = l / n
    return p


@formula(Source("derivation", "bolts in the middle of the rail's wall"), L_e="in")
def edge_of_rail(d_r, n, s):
    """Return the distance of the outer bolt from the edge of the rail's wall."""
    L_e = (d_r - (n - 1) * s) / 2
    return L_e


@formula(Source("derivation", "two welds, one on each face of the plate"), f_2="kip/in")
def both_faces(f):
    """Return the force both welds bring on a unit of length of the plate."""
    f_2 = 2 * f
    return f_2


@dataclass(frozen=True)
class Forces:
    """Force and moment of a rail on a clip, at the bolts; F_y positive pulls the rail off. Numbers or arrays."""

    F_x: Value
    F_y: Value
    F_z: Value
    M_x: Value
    M_y: Value
    M_z: Value


@dataclass(frozen=True)
class Clip:
    """A clip with what it joins.

    Attributes:
        bolt: The bolts.
        n, s, L_e: Their number, spacing, and distance from the ends and the free edge of the plate.
        t, w, l: Thickness of the plate, leg of its welds, length of plate and welds.
        a: Distance of the bolts from the post.
        F_y, F_u, F_EXX: Steel of the plate, filler metal.
        rail, wall: What is bolted to it, and what it is welded to.
        slip: Whether the bolts are slip-critical.
        method: ``"LRFD"`` or ``"ASD"``.

    """

    bolt: Bolt
    n: Value
    s: Value
    L_e: Value
    t: Value
    w: Value
    l: Value
    a: Value
    F_y: Value
    F_u: Value
    F_EXX: Value
    rail: Rail
    wall: Wall
    slip: bool
    method: str

    def bolts(self) -> Group:
        """Return the group of bolts."""
        return group(n_x=ONE, n_z=self.n, s_x=self.s, s_z=self.s, L_e=self.L_e)

    def welds(self) -> WeldLine:
        """Return the two welds as lines: y of the group is up the post, x across it."""
        return pair(l=self.l, g=self.t if self.groove is None else lines_apart(t_p=self.t, t_e=self.groove))

    @functools.cached_property
    def gap(self) -> Value | None:
        """Root gap at the inner face of the plate; None where the post is no tube."""
        return corner_gap(r=self.wall.r, t_p=self.t) if self.wall.r is not None else None

    @functools.cached_property
    def groove(self) -> Value | None:
        """Effective throat of the flare-bevel groove weld at the outer face; None where the post is no tube."""
        return groove_of(self.wall.r) if self.wall.r is not None else None

    def weld_strength(self) -> Value:
        """Return the available strength of a unit of length of the weaker of the two welds."""
        r_cw = fillet(self.F_EXX, self.w, self.method).r_cw
        if self.groove is None:
            return r_cw
        # shear: the factors of a fillet weld, lower than those of tension across the groove (Table J2.5)
        r_cg = available(groove_strength(F_EXX=self.F_EXX, t_e=self.groove), "fillet weld", self.method, "r_cg")
        return smallest("r_cw", {"fillet at the inner face": r_cw, "flare-bevel groove at the outer face": r_cg})


def clip_states(of: Clip, F: Forces, U: Value) -> tuple[State, ...]:
    """Return every limit state of a clip under forces that are numbers or arrays.

    Args:
        of: The clip.
        F: Forces at the bolts.
        U: Use of the post's steel (see ``walls.chord_use``).

    Raises:
        DomainError: One bolt alone is asked to resist a moment about itself.

    """
    return (*_bolted(of, F), *_plate(of, F), *_welded(of, F, U))


def _bolted(of: Clip, F: Forces) -> tuple[State, ...]:
    b, method, bolts = of.bolt, of.method, of.bolts()
    r_v = in_plane(bolts, F.F_x, F.F_z, F.M_y)
    r_t = out_of_plane(bolts, F.F_y, F.M_x, F.M_z)
    stiff = no_prying(tributary(l=of.l, n=of.n), of.t, of.F_u, of.a, b.d_b, method)
    web = () if of.rail.h_w is None else (web_pull.state(r_t, web_pull.across(of.rail, of.n, of.s, method)),)
    return (
        *web,
        *bolt_states(b, r_v, r_t, pull(R_y=F.F_y), of.n, of.slip, method),
        State("Bearing and tearout", r_v, _hole(of), clause("J3.11a (J3.10a in 360-16)"),
              "Use a thicker clip or rail, larger bolts, or a larger edge distance."),
        State("Clip thickness for no prying action", r_t, stiff, manual("Part 9, no prying"),
              "Use a thicker clip, or add the prying force by the AISC Manual, Part 9."),
    )  # fmt: skip


def _hole(of: Clip) -> Value:
    """Return the available strength of one bolt at its holes: the smaller one of clip and rail."""
    b = of.bolt
    between = {"next hole": clear_between(s=of.s, d_h=b.d_h)} if of.n.magnitude > 1 else {}
    l_clip = smallest("l_c", {"edge": clear_to_edge(L_e=of.L_e, d_h=b.d_h), **between})
    edge = edge_of_rail(d_r=of.rail.d, n=of.n, s=of.s)
    free = {"edge": clear_to_edge(L_e=edge, d_h=b.d_h)} if of.rail.family in FREE_EDGE or not between else {}
    l_rail = smallest("l_c", {**free, **between})
    parts = {
        "clip": at_hole(b.d_b, l_clip, of.t, of.F_u).r_n,
        "rail": at_hole(b.d_b, l_rail, of.rail.t, of.rail.F_u).r_n,
    }
    return available(smallest("r_n", parts), HOLES, of.method, "r_cb")


def _at_weld(of: Clip, F: Forces) -> tuple[Value, Value]:
    """Return the moments at the weld in the plane of the clip and out of it; a push goes into the post by contact."""
    in_plane_ = moment_at_arm(M=F.M_y, F=F.F_z, a=of.a).named("M_1")
    return in_plane_, moment_at_arm(M=F.M_z, F=pull(R_y=F.F_y), a=of.a).named("M_2")


def _plate(of: Clip, F: Forces) -> tuple[State, ...]:
    b, method = of.bolt, of.method
    d_n = net_hole(d_h=b.d_h, d_x=DAMAGE)
    A_g, A_n = gross_area(h=of.l, t=of.t), net_area(h=of.l, n=of.n, d_n=d_n, t=of.t)
    strong, weak = plastic_modulus(h=of.l, t=of.t), plastic_modulus(h=of.t, t=of.l)
    N_c = available(tension_yielding(F_y=of.F_y, A_g=A_g), "tension yielding", method, "N_c")
    M_c1 = available(plate_yielding(F_y=of.F_y, Z=strong), "flexure", method, "M_c1")
    M_c2 = available(plate_yielding(F_y=of.F_y, Z=weak), "flexure", method, "M_c2")
    M_1, M_2 = _at_weld(of, F)
    at_weld = force_and_moments(N=F.F_x, N_c=N_c, M_1=M_1, M_c1=M_c1, M_2=M_2, M_c2=M_c2)
    N_u = available(tension_rupture(F_u=of.F_u, A_e=A_n), "tension rupture", method, "N_c")
    net = net_modulus(h=of.l, t=of.t, d_n=d_n, s=of.s, n=of.n)
    M_u = available(plate_rupture(F_u=of.F_u, Z_n=net), "tension rupture", method, "M_c1")
    at_bolts = force_and_moments(N=F.F_x, N_c=N_u, M_1=F.M_y, M_c1=M_u, M_2=F.M_z, M_c2=M_c2)
    V_c = smallest("V_c", {
        "yielding": available(shear_yielding(F_y=of.F_y, A_gv=A_g), "shear yielding of elements", method, "V_c"),
        "rupture": available(shear_rupture(F_u=of.F_u, A_nv=A_n), "shear rupture of elements", method, "V_c"),
    })  # fmt: skip
    up = block_shear(
        planes=ONE, n=of.n, s=of.s, L_e=of.L_e, t=of.t, F_y=of.F_y, F_u=of.F_u, d_h=b.d_h, method=method, L_et=of.L_e
    )
    out = block_shear(planes=TWO, n=ONE, s=of.s, L_e=of.L_e, t=of.t, F_y=of.F_y, F_u=of.F_u, d_h=b.d_h, method=method,
                      lines=of.n, g=of.s)  # fmt: skip
    thicker = "Use a thicker or longer clip."
    return (
        State("Clip at the weld: force and bending", at_weld, WHOLE, clause("J4.1, J4.5, F11"), thicker),
        State("Clip at the bolts: net section", at_bolts, WHOLE, clause("J4.1, J4.5, B4.3b"), thicker),
        State("Clip in shear", size(R_i=F.F_z), V_c, clause("J4.2"), thicker),
        State("Block shear up or down", size(R_i=F.F_z), up.R_c, clause("J4.3"), thicker),
        State("Block shear along the rail", size(R_i=F.F_x), out.R_c, clause("J4.3"), thicker),
    )


def _welded(of: Clip, F: Forces, U: Value) -> tuple[State, ...]:
    method = of.method
    M_1, M_2 = _at_weld(of, F)
    f = line_force(of.welds(), P=F.F_x, M_x=M_1, M_y=M_2, V_x=pull(R_y=F.F_y), V_y=F.F_z, T=F.M_x)
    clip = in_its_plane(both_faces(f=f.f_n), both_faces(f=f.f_v), of.F_u, of.t, method)
    wall = plate_on_wall(of.wall, of.t, of.l, U, method)
    use = wall_use(N=F.F_x, R_c=wall.R_c, M_1=M_1, M_cw1=wall.M_c1, M_2=M_2, M_cw2=wall.M_c2)
    longer = "Use a longer clip, or a larger weld."
    return (
        State("Weld of the clip", f.f_r, of.weld_strength(), clause("J2.4, Eq. J2-4; Table J2.2", "read"), longer),
        State("Clip beside its welds", clip, WHOLE, clause("Eqs. J4-2 and J4-4", "read"), "Use a thicker or longer clip."),
        State("Post's wall beside the weld: punching", f.f_r, beside_weld(of.wall.F_u, of.wall.t, method),
              clause("Eq. J4-4", "read"), "Use a longer clip, or a post with a thicker wall."),
        State("Post's wall: plastification", use, WHOLE, clause("K1, K3.2 and K4.2 (K2.1 for pipe)"),
              "Use a longer clip, a post with a thicker wall, or stiffen it with a plate over its width."),
    )  # fmt: skip

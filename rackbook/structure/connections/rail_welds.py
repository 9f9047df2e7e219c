"""A rail welded to the face of its post: fillets along its two edges over the flat of the post, with every limit state.

The edges are two lines across the post, as long as the flat of its face, as far apart as the rail is deep. A tube's wall
gives way in its middle: of each line only the effective width of a plate across a tube counts (K1.2b), half of it at each
end, where the walls at the sides hold it. The wall itself counts with the plastification of a branch of the rail's depth,
and in shear on one plane beside each line. The toes of a channel face the post: what the weld joins is the toe, thinner
than the mean flange. Bolts beside a weld do not share its load (J1.8).
"""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import Source, Value, formula
from rackbook.trace.maths import min

from ..steel import clause
from .clips import Forces
from .joint import WHOLE
from .lines import WeldLine, line_force, weld_line
from .strength import State
from .walls import Wall, plate_on_wall, wall_use
from .welds import beside_weld, fillet, in_its_plane

_LINE = Source("derivation", "weld as a line of unit throat, effective at the ends")


@formula(clause("geometry: face of a tube without its corners of radius 2 t"), B_b="in")
def flat_face(B, t):
    """Return the flat width of a tube's face."""
    B_b = B - 4 * t
    return B_b


@formula(clause("Eq. K1-1"), B_e="in")
def effective_width(B, t, F_y, F_yb, t_b, B_b):
    """Return the effective width of a plate across the wall of a tube."""
    B_e = min(10 / (B / t) * (F_y * t / (F_yb * t_b)) * B_b, B_b)
    return B_e


@formula(_LINE, L_w="in")
def corners_length(B_e):
    """Return the effective length of two lines."""
    L_w = 2 * B_e
    return L_w


@formula(_LINE, I_x="in**3")
def corners_inertia_deep(B_e, d_r):
    """Return the inertia of two lines about the axis between them."""
    I_x = B_e * d_r**2 / 2
    return I_x


@formula(_LINE, l_s="in", I_y="in**3")
def corners_inertia_wide(B_e, B_b):
    """Return the inertia of two lines, effective at their ends alone, about the axis across them."""
    l_s = B_e / 2
    I_y = l_s**3 / 3 + l_s * (B_b - l_s) ** 2
    return I_y


@formula(clause("Eq. J2-4, solved for the leg", "read"), w_n="in")
def leg_needed(f_r, r_cw, w):
    """Return the leg that a force on the weld needs, from the strength of a known leg."""
    w_n = f_r / r_cw * w
    return w_n


@dataclass(frozen=True)
class RailWeld:
    """The weld of a rail to the face of a tube.

    Attributes:
        w: Leg of the fillets.
        F_EXX: Filler metal.
        d_r: Depth of the rail, between the two welds.
        t_b: Mean thickness of the rail's flanges, by which the effective width goes.
        t_toe: Their thickness at the weld.
        F_yb, F_ub: The rail's steel.
        wall: The face of the post.
        method: ``"LRFD"`` or ``"ASD"``.

    """

    w: Value
    F_EXX: Value
    d_r: Value
    t_b: Value
    t_toe: Value
    F_yb: Value
    F_ub: Value
    wall: Wall
    method: str

    def line(self) -> WeldLine:
        """Return the effective weld as lines, x along the rack, y up."""
        of, B_b = self.wall, self.width()
        B_e = effective_width(B=of.B, t=of.t, F_y=of.F_y, F_yb=self.F_yb, t_b=self.t_b, B_b=B_b)
        deep, wide = corners_inertia_deep(B_e=B_e, d_r=self.d_r), corners_inertia_wide(B_e=B_e, B_b=B_b)
        return weld_line(corners_length(B_e=B_e), deep, wide, B_b, self.d_r)

    def width(self) -> Value:
        """Return the flat width of the post's face."""
        return flat_face(B=self.wall.B, t=self.wall.t)


def rail_weld_states(of: RailWeld, F: Forces, U: Value) -> tuple[State, ...]:
    """Return the limit states of a welded rail under forces that are numbers or arrays.

    Args:
        of: The weld.
        F: Forces at the face of the post.
        U: Use of the post's steel.

    """
    f = line_force(of.line(), P=F.F_y, M_x=F.M_x, M_y=F.M_z, V_x=F.F_x, V_y=F.F_z, T=F.M_y)
    weld = fillet(of.F_EXX, of.w, of.method)
    rail = in_its_plane(f.f_n, f.f_v, of.F_ub, of.t_toe, of.method)
    punching = beside_weld(of.wall.F_u, of.wall.t, of.method)
    wall = plate_on_wall(of.wall, of.width(), of.d_r, U, of.method)
    use = wall_use(N=F.F_y, R_c=wall.R_c, M_1=F.M_x, M_cw1=wall.M_c1, M_2=F.M_z, M_cw2=wall.M_c2)
    return (
        State("Weld of the rail", f.f_r, weld.r_cw, clause("J2.4, Eq. J2-4, K5"), "Use a larger weld, or a deeper rail."),
        State("Rail beside the weld", rail, WHOLE, clause("Eqs. J4-2 and J4-4", "read"), "Select a rail with thicker flanges."),
        State("Post's wall beside the weld: punching", f.f_r, punching, clause("Eq. J4-4", "read"),
              "Select a post with a thicker wall, or a deeper rail."),
        State("Post's wall: plastification", use, WHOLE, clause("K3.2 and K4.2"), "Select a post with a thicker wall."),
    )  # fmt: skip

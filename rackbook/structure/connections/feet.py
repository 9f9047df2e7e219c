"""The weld of a post to its base plate: a fillet all round, as a line, with the metal on both sides of it.

The forces are those at the underside of the plate: the shear's moment over the thickness of the plate is counted
although the weld lies above it. Compression counts as well as tension: bearing of the post's end is not counted on.
"""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import Value

from ..steel import clause
from .joint import WHOLE
from .lines import WeldLine, line_force
from .strength import State
from .welds import beside_weld, fillet, in_its_plane

GROOVE = "Use a larger weld or post, or a complete-joint-penetration groove weld, whose metal needs no check."


@dataclass(frozen=True)
class Reaction:
    """What a post brings on its base plate: P down, shears and moments along x and y, torsion. Numbers or arrays."""

    P: Value
    V_x: Value
    V_y: Value
    M_x: Value
    M_y: Value
    T: Value


@dataclass(frozen=True)
class Foot:
    """The weld at the foot of a post.

    Attributes:
        line: The weld as a line, x along the rack, y across it.
        w: Its leg.
        F_EXX: Filler metal.
        t, F_u: Thinnest wall of the post, and its steel.
        t_p, F_up: Base plate.
        tube_end: Whether the post is a rectangular HSS, where the angle of the load gives no increase.
        method: ``"LRFD"`` or ``"ASD"``.

    """

    line: WeldLine
    w: Value
    F_EXX: Value
    t: Value
    F_u: Value
    t_p: Value
    F_up: Value
    tube_end: bool
    method: str


def foot_states(of: Foot, R: Reaction) -> tuple[State, ...]:
    """Return the limit states of the weld at a post's foot, under forces that are numbers or arrays."""
    f = line_force(of.line, P=R.P, M_x=R.M_x, M_y=R.M_y, V_x=R.V_x, V_y=R.V_y, T=R.T)
    weld = fillet(of.F_EXX, of.w, of.method, tube_end=of.tube_end)
    post = in_its_plane(f.f_n, f.f_v, of.F_u, of.t, of.method)
    metal = clause("Eqs. J4-2 and J4-4", "read")
    return (
        State("Weld at the foot", f.f_r, weld.r_cw, clause("J2.4, Eq. J2-4", "read"), GROOVE),
        State("Post beside the weld", post, WHOLE, metal, "Select a post with a thicker wall."),
        State("Base plate beside the weld", f.f_r, beside_weld(of.F_up, of.t_p, of.method), clause("Eq. J4-4", "read"),
              "Select a thicker base plate."),
    )  # fmt: skip

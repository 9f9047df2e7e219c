"""What one combination does at one base: pressure under the plate, tension and shear of every rod.

Bending about both axes is worked by the lower-bound theorem of plasticity. The moments are added, M = |M_x| + |M_y|, and the
base is worked about each axis under the whole load P and the added moment; of the load, the bearing stress and the
rods' tension of each axis the share of its own moment counts. The shares together balance P, M_x and M_y, and the
concrete is nowhere pressed above its available stress. With one moment only it is that axis of the design guide alone.
A base that hangs on all its rods is worked as an elastic group.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rackbook.trace import Value, assume, formula, given
from rackbook.trace.columns import entry
from rackbook.trace.maths import abs, max, sqrt, sum

from .bearing import Bearing, added_moments, axis_share, bearing
from .clauses import derived, dg1
from .plan import Whole, half
from .shear import NO_ECCENTRICITY

ALL_ACROSS = given(1.0, "", derived("no moment about the other axis"), "alpha")
#: A rod with less than this share of the largest tension counts as not pulled.
PULLED = 1e-6
NO_TENSION = assume(0.0, "kip", "no rod is pulled", "T_max")


@formula(derived("elastic group of rods: load and both moments"), T="kip")
def elastic_tensions(P, n, M_x, y, M_y, x):
    """Return the tension of each rod of a base that hangs on all of them."""
    T = -P / n + abs(M_x) * y / sum(y**2) + abs(M_y) * x / sum(x**2)
    return T


@formula(dg1("large moment: tension of a row shared evenly by its rods"), T="kip")
def row_tensions(alpha, T_1, n_1, i_1, T_2, n_2, i_2):
    """Return the tension of each rod from the rows that bending across (1) and along (2) pulls."""
    T = alpha * T_1 / n_1 * i_1 + (1 - alpha) * T_2 / n_2 * i_2
    return T


@formula(derived("sum of the near and the far rows"), T="kip")
def both_rows(T_near, T_far):
    """Return the tension of each rod of a lifted base from near and far rows."""
    T = T_near + T_far
    return T


@formula(derived("sum over the rods"), N_g="kip")
def group_tension(T):
    """Return the tension of all rods."""
    N_g = sum(T)
    return N_g


@formula(derived("resultant against the middle of the rods in tension (i = 1)"), e_N_prime="in")
def off_middle(T, x, i):
    """Return how far the resultant of the tension lies from the middle of the rods in tension."""
    e_N_prime = abs(sum(T * x) / sum(T) - sum(i * x) / sum(i))
    return e_N_prime


@formula(derived("elastic group: twist about its middle"), V_i="kip")
def rods_along(V, n, T, y, J):
    """Return the shear of each rod along x, with that of a twisting moment."""
    V_i = abs(V) / n - abs(T) * y / J
    return V_i


@formula(derived("elastic group: twist about its middle"), V_i="kip")
def rods_across(V, n, T, x, J):
    """Return the shear of each rod along y, with that of a twisting moment."""
    V_i = abs(V) / n + abs(T) * x / J
    return V_i


@formula(derived("sum of squares of the rods' distances from the middle"), J="in**2")
def rods_inertia(x, y):
    """Return the polar moment of the rods."""
    J = sum(x**2 + y**2)
    return J


@formula(derived("both directions together"), V_i="kip")
def rods_resultant(V_xi, V_yi):
    """Return the shear of each rod."""
    V_i = sqrt(V_xi**2 + V_yi**2)
    return V_i


@formula(derived("shear of all rods that push toward the edge"), V_e="kip")
def toward_edge(V_i):
    """Return the shear toward an edge, carried by the rods nearest to it."""
    V_e = sum(max(V_i, 0))
    return V_e


@formula(derived("place of the shear of all rods that push toward the edge"), e_V_prime="in")
def shear_off_middle(V_i, x):
    """Return how far the shear toward an edge acts off the middle of the rods."""
    e_V_prime = abs(sum(max(V_i, 0) * x) / sum(max(V_i, 0)))
    return e_V_prime


@formula(derived("both directions together"), V="kip")
def base_shear(V_x, V_y):
    """Return the shear of a base."""
    V = sqrt(V_x**2 + V_y**2)
    return V


@dataclass(frozen=True, eq=False)
class Tension:
    """Bearing and rods' tension of one base in one combination.

    Attributes:
        M, alpha: Added moment, and the share of bending across the rack.
        across, along: The base about each axis; None where it hangs on all its rods.
        T: Tension of each rod, an array in the order of the plan.
        pulled: Which rods are in tension.
        T_max: The largest; zero if none is.
        N_g: Tension of all rods; None if none is pulled.
        e_x, e_y: Distance of its place from the middle of the pulled rods; None if none is.

    """

    M: Value
    alpha: Value
    across: Bearing | None
    along: Bearing | None
    T: Value
    pulled: np.ndarray
    T_max: Value
    N_g: Value | None
    e_x: Value | None
    e_y: Value | None


def tension(P: Value, M_x: Value, M_y: Value, of: Whole, f_d: Value, at_most: bool = False) -> Tension:
    """Return what a load and its moments do to a base in bearing and tension.

    Args:
        P: Load, compression positive.
        M_x: Moment about x: bending across the rack.
        M_y: Moment about y: bending along the rack.
        of: Plan of the base, with plate and rods.
        f_d: Available bearing stress.
        at_most: Work a plate that is too small with the most it can balance, instead of refusing it.

    Raises:
        DomainError: The plate is too small to balance the load.

    """
    M = added_moments(M_x=M_x, M_y=M_y)
    alpha = axis_share(M_x=M_x, M=M) if M.magnitude > 0 and M_y.magnitude != 0 else ALL_ACROSS
    if P.magnitude < 0:
        n = given(float(len(of.rods)), "", derived("number of rods"), "n")
        T = elastic_tensions(P=P, n=n, M_x=M_x, y=of.rods.y, M_y=M_y, x=of.rods.x)
        if T.magnitude.min() >= 0:
            return _tension(M, alpha, None, None, T, of)
    across = bearing(P, M, of.plate.B, of.plate.N, half(s=of.rods.s_y).named("f"), f_d, at_most)
    along = bearing(P, M, of.plate.N, of.plate.B, half(s=of.rods.s_x).named("f"), f_d, at_most)
    near = _rows(alpha, across.T, along.T, of, 1.0)
    if across.T_2 is not None or along.T_2 is not None:
        near = both_rows(T_near=near, T_far=_rows(alpha, across.T_2, along.T_2, of, -1.0))
    return _tension(M, alpha, across, along, near, of)


def _rows(alpha: Value, T_1: Value | None, T_2: Value | None, of: Whole, side: float) -> Value:
    """Return the tensions of the rods from the rows on one side."""
    none = given(0.0, "kip", derived("these rods are not pulled"), "T")
    in_1, in_2 = of.rods.j == side, of.rods.i == side
    words = derived("rods of the row (1) and others (0)")
    return row_tensions(
        alpha=alpha,
        T_1=T_1 or none,
        n_1=given(float(in_1.sum()), "", derived("rods of the front or back row"), "n_1"),
        i_1=given(in_1.astype(float), "", words, "i_1"),
        T_2=T_2 or none,
        n_2=given(float(in_2.sum()), "", derived("rods of the side row"), "n_2"),
        i_2=given(in_2.astype(float), "", words, "i_2"),
    )


def _tension(M: Value, alpha: Value, across: Bearing | None, along: Bearing | None, T: Value, of: Whole) -> Tension:
    most = float(T.magnitude.max())
    pulled = (T.magnitude > PULLED * most) & (most > 0)
    if not pulled.any():
        return Tension(M, alpha, across, along, T, pulled, NO_TENSION, None, None, None)
    at = int(np.argmax(T.magnitude))
    i = given(pulled.astype(float), "", derived("rods in tension (1) and others (0)"), "i")
    e_x, e_y = off_middle(T=T, x=of.rods.x, i=i).named("e_Nx"), off_middle(T=T, x=of.rods.y, i=i).named("e_Ny")
    return Tension(
        M, alpha, across, along, T, pulled, entry(T, at, of.rods.marks[at]).named("T_max"), group_tension(T=T), e_x, e_y
    )


@dataclass(frozen=True, eq=False)
class Shear:
    """Shear of the rods of one base in one combination.

    Attributes:
        V_i: Shear of each rod, an array in the order of the plan.
        V_max: The largest.
        V_x, V_y: Shear of all rods that push toward an edge, along x and along y.
        e_x, e_y: Distance of V_x and of V_y from the middle of the rods, along the edge.
        V: Shear of the base, both directions together.

    """

    V_i: Value
    V_max: Value
    V_x: Value
    V_y: Value
    e_x: Value
    e_y: Value
    V: Value


def shear(V_x: Value, V_y: Value, T: Value, of: Whole) -> Shear:
    """Return the shear of the rods of a base; all rods share it, plate washers being welded to the plate.

    Args:
        V_x: Shear along the rack.
        V_y: Shear across it.
        T: Twisting moment about the post's axis.
        of: Plan of the base, with rods.

    """
    n, J = given(float(len(of.rods)), "", derived("number of rods"), "n"), rods_inertia(x=of.rods.x, y=of.rods.y)
    # the group is alike on both sides, so the senses of the actions make no difference
    V_xi, V_yi = rods_along(V=V_x, n=n, T=T, y=of.rods.y, J=J), rods_across(V=V_y, n=n, T=T, x=of.rods.x, J=J)
    V_i = rods_resultant(V_xi=V_xi, V_yi=V_yi)
    at = int(np.argmax(V_i.magnitude))
    return Shear(
        V_i, entry(V_i, at, of.rods.marks[at]).named("V_max"),
        toward_edge(V_i=V_xi).named("V_ex"), toward_edge(V_i=V_yi).named("V_ey"),
        _off(V_xi, of.rods.y), _off(V_yi, of.rods.x), base_shear(V_x=V_x, V_y=V_y),
    )  # fmt: skip


def _off(V_i: Value, x: Value) -> Value:
    return shear_off_middle(V_i=V_i, x=x) if V_i.magnitude.max() > 0 else NO_ECCENTRICITY

"""A base plate with a moment about one axis: how long the concrete bears, and what the rods pull.

N is the plate's dimension in the plane of the moment, B the one across, f the distance of the rods from the post's center.
Compression is positive. Under a small moment the concrete bears evenly over N - 2e; under a large one it bears at its
available stress at the plate's edge and the rods pull; a plate that is lifted whole hangs on both rows of rods.
"""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import DomainError, Value, formula, largest, smallest
from rackbook.trace.maths import abs, max, min, sqrt

from .clauses import derived, dg1
from .plate import thickness

#: A load below this is no compression [kip]: what the arithmetic of a frame leaves of nothing.
TINY = 1e-9
SMALL, LARGE, LIFTED, OVERLOADED = "small moment", "large moment", "lifted", "overloaded"


@formula(dg1("bearing a unit of the plate's length"), q_max="kip/in")
def bearing_line(f_d, B):
    """Return the maximum bearing force on a unit length of the plate."""
    q_max = f_d * B
    return q_max


@formula(dg1("base with moment"), e="in")
def eccentricity(M, P):
    """Return the eccentricity of the load."""
    e = M / P
    return e


@formula(dg1("Eq. 4-53"), e_crit="in")
def critical_eccentricity(N, P, q_max):
    """Return the eccentricity up to which the rods are not needed."""
    e_crit = N / 2 - P / (2 * q_max)
    return e_crit


@formula(dg1("small moment"), Y="in")
def bearing_length_small(N, e):
    """Return the length over which the concrete bears under a small moment."""
    Y = N - 2 * e
    return Y


@formula(dg1("small moment"), f_p="ksi")
def bearing_pressure(P, B, Y):
    """Return the pressure of the plate on the concrete."""
    f_p = P / (B * Y)
    return f_p


@formula(dg1("Eq. 4-58: P (e + f)"), M_r="kip*in")
def moment_about_rods(M, P, f):
    """Return the moment of the load about the rods in tension."""
    M_r = M + P * f
    return M_r


@formula(dg1("largest moment about the rods for which Eq. 4-58 has a root"), M_rmax="kip*in")
def most_about_rods(q_max, f, N):
    """Return the most that bearing on the plate can balance about the rods."""
    M_rmax = q_max * (f + N / 2) ** 2 / 2
    return M_rmax


@formula(dg1("Eq. 4-58"), Y="in")
def bearing_length_large(f, N, M_r, q_max):
    """Return the length over which the concrete bears under a large moment."""
    Y = f + N / 2 - sqrt(max((f + N / 2) ** 2 - 2 * M_r / q_max, 0))
    return Y


@formula(dg1("Eq. 4-55"), T="kip")
def rods_tension(q_max, Y, P):
    """Return the tension of the row of rods on the side of the moment."""
    T = q_max * Y - P
    return T


@formula(derived("statics: a plate lifted whole, moment as a couple of both rows"), T="kip")
def lifted_near(P, M, f):
    """Return the tension of the row of rods that the moment pulls."""
    T = (M / f - P) / 2
    return T


@formula(derived("statics: a plate lifted whole, moment as a couple of both rows"), T_2="kip")
def lifted_far(P, M, f):
    """Return the tension of the other row of rods."""
    T_2 = -(M / f + P) / 2
    return T_2


@formula(dg1("bearing side: pressure on the cantilever, as far as it bears"), M_pl="kip*in/in")
def bearing_moment(f_p, Y, l):
    """Return the moment of the plate's cantilever l from bearing, a unit of its width."""
    M_pl = f_p * min(Y, l) * (l - min(Y, l) / 2)
    return M_pl


@formula(derived("distance of the rods from the yield line at the post"), x="in")
def lever_line(f, k_y, d):
    """Return the lever of a rod about the yield line."""
    x = f - k_y * d / 2
    return x


@formula(dg1("tension side: lever to the middle of the flange or wall"), x="in")
def lever_wall(f, d, t):
    """Return the lever of a rod about the middle of the post's wall."""
    x = f - d / 2 + t / 2
    return x


@formula(derived("spread at 45 degrees from a rod to the yield line, to the edge and half way to the next rod"), b_eff="in")
def spread(x, a, s):
    """Return the width of plate that one rod bends."""
    b_eff = min(x, a) + min(x, s / 2)
    return b_eff


@formula(dg1("Eq. 4-62a, tension side"), M_pt="kip*in/in")
def tension_moment(T, x, b_eff):
    """Return the moment of the plate from tension, a unit of its width."""
    M_pt = T * x / b_eff
    return M_pt


@formula(derived("lower-bound theorem: the moments about both axes added"), M="kip*in")
def added_moments(M_x, M_y):
    """Return the moment that is applied about each axis of a base bent about both."""
    M = abs(M_x) + abs(M_y)
    return M


@formula(derived("share of the added moment"), alpha="")
def axis_share(M_x, M):
    """Return the share of bending across the rack in the added moments."""
    alpha = abs(M_x) / M
    return alpha


@formula(derived("shares of both axes"), M_pl="kip*in/in")
def shared(alpha, M_1, M_2):
    """Return the moment of the plate from bearing of both axes."""
    M_pl = alpha * M_1 + (1 - alpha) * M_2
    return M_pl


@formula(derived("shares of both axes"), f_p="ksi")
def shared_pressure(alpha, f_1, f_2):
    """Return the pressure where the bearing of both axes overlaps."""
    f_p = alpha * f_1 + (1 - alpha) * f_2
    return f_p


@dataclass(frozen=True, eq=False)
class Bearing:
    """A base under a moment about one axis.

    Attributes:
        regime: ``small moment``, ``large moment``, ``lifted``, or ``overloaded``: more than the whole plate bears.
        q_max: Most the concrete bears on a unit length.
        e, e_crit: Eccentricity and its limit; None without compression.
        M_r, M_rmax: Moment about the rods, and what bearing can balance; None under a small moment.
        Y, f_p: Bearing length and pressure; None where the plate is lifted.
        T, T_2: Tension of the row of rods on the side of the moment and of the other one; None where there is none.

    """

    regime: str
    q_max: Value
    e: Value | None = None
    e_crit: Value | None = None
    M_r: Value | None = None
    M_rmax: Value | None = None
    Y: Value | None = None
    f_p: Value | None = None
    T: Value | None = None
    T_2: Value | None = None


def too_small(N: Value, f: Value, M_r: Value, M_rmax: Value) -> str:
    """Return the sentence for a plate that cannot balance its load."""
    return (
        f"The plate is too small: its load has {M_r.text()} about the rods, and bearing on the plate (N = {N.text()}, "
        f"rods f = {f.text()} from the center) balances {M_rmax.text()} at most; Eq. 4-58 of AISC Design Guide 1 has no root. "
        "Use a larger plate, set the rods further out, or use stronger concrete or a wider pier."
    )


def bearing(P: Value, M: Value, N: Value, B: Value, f: Value, f_d: Value, at_most: bool = False) -> Bearing:
    """Return how a base carries a load and a moment about one axis.

    Args:
        P: Load, compression positive; the load and the moment of one combination.
        M: Moment, not below zero.
        N: Plate dimension in the plane of the moment.
        B: Plate dimension across it.
        f: Distance of the rods from the post's center, in the plane of the moment.
        f_d: Available bearing stress.
        at_most: Work a plate that is too small with the most it can balance, instead of refusing it.

    Raises:
        DomainError: The plate is too small to balance the load.

    """
    q_max = bearing_line(f_d=f_d, B=B)
    if P.m_as("kip") > TINY:
        e, e_crit = eccentricity(M=M, P=P), critical_eccentricity(N=N, P=P, q_max=q_max)
        if e_crit.magnitude <= 0:  # more than the whole plate bears, whatever the moment
            return Bearing(OVERLOADED, q_max, e, e_crit, Y=N, f_p=bearing_pressure(P=P, B=B, Y=N))
        if e.m_as("in") <= e_crit.m_as("in"):
            Y = bearing_length_small(N=N, e=e)
            return Bearing(SMALL, q_max, e, e_crit, Y=Y, f_p=bearing_pressure(P=P, B=B, Y=Y))
    else:
        e = e_crit = None
    M_r = moment_about_rods(M=M, P=P, f=f)
    if M_r.magnitude < 0:
        return Bearing(LIFTED, q_max, M_r=M_r, T=lifted_near(P=P, M=M, f=f), T_2=lifted_far(P=P, M=M, f=f))
    M_rmax = most_about_rods(q_max=q_max, f=f, N=N)
    worked = M_r
    if M_r.m_as("kip*in") > M_rmax.m_as("kip*in"):
        if not at_most:
            raise DomainError(too_small(N, f, M_r, M_rmax))
        worked = smallest("M_r", {"of the load": M_r, "balanced by bearing at most": M_rmax})
    Y = bearing_length_large(f=f, N=N, M_r=worked, q_max=q_max)
    return Bearing(LARGE, q_max, e, e_crit, M_r, M_rmax, Y, f_d, rods_tension(q_max=q_max, Y=Y, P=P))


def lever(f: Value, d: Value, k_y: Value, t: Value | None = None) -> Value:
    """Return the lever of a rod for bending of the plate: to the yield line or the middle of the wall, the longer one.

    Args:
        f: Distance of the rod from the post's center.
        d: Outside dimension of the post that way.
        k_y: Share of d at the yield line.
        t: Thickness of the wall or flange there, where it is known.

    """
    line = lever_line(f=f, k_y=k_y, d=d)
    if t is None:
        return line
    return largest("x", {"to the yield line": line, "to the middle of the wall": lever_wall(f=f, d=d, t=t)})


def bearing_side(f_p: Value, Y: Value, l: Value, F_d: Value) -> Value:
    """Return the thickness a plate needs where the concrete presses its cantilever.

    Args:
        f_p: Pressure on the concrete.
        Y: Length over which it acts.
        l: Cantilever of the plate.
        F_d: Available stress of the plate.

    """
    return thickness(M_p=bearing_moment(f_p=f_p, Y=Y, l=l), F_d=F_d)


def tension_side(T: Value, x: Value, b_eff: Value, F_d: Value) -> Value:
    """Return the thickness a plate needs where rods pull it.

    Args:
        T: Tension of a rod, or of a row with the width of the plate.
        x: Lever about the yield line.
        b_eff: Width that is bent.
        F_d: Available stress of the plate.

    """
    return thickness(M_p=tension_moment(T=T, x=x, b_eff=b_eff), F_d=F_d)

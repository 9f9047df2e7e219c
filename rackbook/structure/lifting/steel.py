"""The rack's own steel under the picks: rails in bending and squeezed, posts as ties, their joints. Working level, AISC Omega.

The strengths are bounds that lie below those of AISC 360 at every slenderness, unless better ones are given.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rackbook.loads.members import post_rows, rail_width
from rackbook.tables import section, table
from rackbook.trace import Check, Source, Value, check, formula, given, largest
from rackbook.trace.maths import min, pi, sqrt

from .beam import largest_moment, moment_at
from .legs import Lift

_RAILS = Source("input", "rack.yaml", locator="frame.rails")
_LOWER = Source("derivation", "below AISC 360 E3 at every slenderness: 0.877 of the harmonic sum of yielding and Euler")
_LATERAL = Source("derivation", "below AISC 360 F2 and F7: 0.7 F_y, and buckling sideways with plain torsion alone, C_b = 1")
_ELASTIC = Source("derivation", "elastic limit with 0.7 F_y, below AISC 360 Chapter F for the short piece above the rail")
_LEVER = Source("derivation", "statics of the post above its two top rails")
_LINEAR = Source("derivation", "sum of the ratios, which AISC 360 H1 never exceeds")
E = given(29000.0, "ksi", Source("clause", "AISC 360", "22", "modulus of elasticity", "memory"), "E")
G = given(11200.0, "ksi", Source("clause", "AISC 360", "22", "shear modulus", "memory"), "G")
ONE = given(1.0, "", Source("derivation", "the whole of the strength"), "u_max")
#: Families of rails whose strength is bounded here; others are asked for.
BOUNDED = ("channels", "hss")
STIFFEN = "use a spreader beam (upright slings), set the picks closer to the load, or take a heavier rail"


@formula(_LATERAL, M_1="lbf*ft", M_2="lbf*ft", M_a="lbf*ft")
def rail_strength(F_y, S, E, I_y, G, J, L_b, Omega):
    """Return the allowable moment of a rail bent upright between posts."""
    M_1 = 0.7 * F_y * S
    M_2 = pi / L_b * sqrt(E * I_y * G * J)
    M_a = min(M_1, M_2) / Omega
    return M_a


@formula(_ELASTIC, M_a="lbf*ft")
def elastic_moment(F_y, S, Omega):
    """Return the allowable moment of a post or of a rail bent sideways."""
    M_a = 0.7 * F_y * S / Omega
    return M_a


@formula(Source("derivation", "half the width of the rail, which is held on one face"), e_r="in")
def held_on_face(B_rail):
    """Return how far the squeeze acts from the center of the rail."""
    e_r = B_rail / 2
    return e_r


@formula(_LOWER, F_e="ksi", P_a="lbf")
def compression(E, L_b, r, F_y, A, Omega):
    """Return the allowable compression of a rail between posts."""
    F_e = pi**2 * E / (L_b / r) ** 2
    P_a = 0.877 / (1 / F_y + 1 / F_e) * A / Omega
    return P_a


@formula(Source("clause", "AISC 360", "22", "D2(a), yielding", "memory"), P_n="lbf")
def tie_strength(F_y, A, Omega):
    """Return the allowable tension of a post."""
    P_n = F_y * A / Omega
    return P_n


@formula(_LEVER, P_r="lbf")
def squeeze_by_lever(H, z_p, z_1, z_2, n):
    """Return the compression of each top rail, the next rails below holding the post from turning."""
    P_r = H * (z_p - z_2) / (z_1 - z_2) / n
    return P_r


@formula(Source("derivation", "squeeze shared by the top rails"), P_r="lbf")
def squeeze_alone(H, n):
    """Return the compression of each rail at the height of the picks."""
    P_r = H / n
    return P_r


@formula(_LEVER, M_p="lbf*ft")
def post_moment(H, z_p, z_1):
    """Return the moment of the post at the top rail."""
    M_p = H * (z_p - z_1)
    return M_p


@formula(Source("derivation", "rails bend together: equal rails, equal moments"), M_r="lbf*ft")
def rail_moment(M, n):
    """Return the moment of each rail of the hung rack."""
    M_r = M / n
    return M_r


@formula(Source("derivation", "rails bend together, and the picked rail between its posts"), M_r="lbf*ft")
def picked_rail_moment(M, n, V, L_b):
    """Return the moment of a rail that is picked at the middle of a bay."""
    M_r = M / n + V * L_b / 4
    return M_r


@formula(_LINEAR, u="")
def rail_use(P_r, P_a, M_r, M_a, e_r, M_ay):
    """Return the utilization of a rail, squeezed off its center and bent upright."""
    u = P_r / P_a + M_r / M_a + P_r * e_r / M_ay
    return u


@formula(_LINEAR, u="")
def post_use(V, P_n, M_y, M_ay, M_x, M_ax):
    """Return the utilization of a post, pulled and bent along and across."""
    u = V / P_n + M_y / M_ay + M_x / M_ax
    return u


@formula(Source("derivation", "vertical share over the rails that hang on the post"), V_c="lbf")
def joint_force(V, n_c):
    """Return the upright force of each rail's joint at a picked post."""
    V_c = V / n_c
    return V_c


@dataclass(frozen=True)
class Strengths:
    """Available strengths at working level (R_n / Omega) worked out elsewhere; None where ours are to be taken.

    Attributes:
        rail_moment, rail_compression: Of one rail, vertical bending, and compression between posts.
        joint: Upright force of one rail's joint to a post.
        splice: Moment of one rail's splice.

    """

    rail_moment: Value | None = None
    rail_compression: Value | None = None
    joint: Value | None = None
    splice: Value | None = None


@dataclass(frozen=True)
class Steel:
    """The steel of one lift: what acts on a rail, a post and a joint, and the checks."""

    M: Value
    M_r: Value
    M_a: Value | None
    P_r: Value | None
    P_a: Value | None
    u_rail: Value | None
    u_post: Value | None
    V_c: Value | None
    at_splices: Mapping[str, Value]
    checks: tuple[Check, ...]


def steel(job: Any, frame: Any, made: Lift, strengths: Strengths) -> Steel:
    """Return the checks of the rack's steel in one lift that has legs.

    Args:
        job: The job.
        frame: The frame; the yield strengths of its members are used.
        made: The lift.
        strengths: Better strengths, where there are some.

    """
    F_y = {part: next(m.F_y for m in frame.members if m.part == part) for part in ("post", "rail")}
    n = given(float(len(job.frame.rails)), "", _RAILS, "n")
    M = largest_moment(made.of, job.lifting.impact, made.picks, made.states)
    L_b = largest("L_b", {f"bay {n}": bay for n, bay in enumerate(job.frame.bays, 1)})
    M_r = rail_moment(M=M, n=n) if made.on_posts else picked_rail_moment(M=M, n=n, V=_most("V", made), L_b=L_b)
    rail = _Rail(str(job.frame.rail), F_y["rail"], L_b, strengths)
    P_r, M_p = _squeeze(job, made)
    u_rail = None
    name = f"{made.said}Rails as the rack hangs, squeezed and bent"
    if P_r is None:
        where = Source("derivation", "a row of posts that is picked has no rail")
        checks = [check(f"{made.said}Squeeze between the picks", _most("H", made), None, where, remedy=STIFFEN)]
    elif rail.P_a is None or rail.M_a is None:
        remedy = "take the strength of the rail from the sheet of the members"
        checks = [check(name, M_r, None, Source("derivation", "no bound is known here for rails of this kind"), remedy=remedy)]
    else:
        e_r, M_ay = held_on_face(B_rail=rail_width(rail.shape)), _elastic(rail.shape, F_y["rail"], 1)
        u_rail = rail_use(P_r=P_r, P_a=rail.P_a, M_r=M_r, M_a=rail.M_a, e_r=e_r, M_ay=M_ay)
        checks = [check(name, u_rail, ONE, u_rail.source, remedy=STIFFEN)]
    u_post = V_c = None
    if made.on_posts:
        u_post = _post(job, made, F_y["post"], M_p)
        checks.append(
            check(
                f"{made.said}Post under a pick", u_post, ONE, u_post.source,
                remedy="pick nearer to the top rail, or use a spreader beam",
            )
        )  # fmt: skip
        V_c = joint_force(V=_most("V", made), n_c=given(float(_hanging_on_post(job)), "", _RAILS, "n_c"))
        where = Source("derivation", "the picked post carries the rack by its rails' joints")
        remedy = "compare with the upright strength of a clip on the connections sheet"
        checks.append(check(f"{made.said}Rail joint at a picked post", V_c, strengths.joint, where, remedy=remedy))
    splices = _splices(job, made)
    for label, M_s in splices.items():
        where = Source("derivation", "moment of the hung rack at the splice, by rail")
        remedy = "compare with the moment strength of a splice on the connections sheet"
        share = rail_moment(M=M_s, n=n)
        checks.append(check(f"{made.said}Splice {label} as the rack hangs", share, strengths.splice, where, remedy=remedy))
    return Steel(M, M_r, rail.M_a, P_r, rail.P_a, u_rail, u_post, V_c, splices, tuple(checks))


def _most(what: str, made: Lift) -> Value:
    return largest(what, {leg.label: getattr(leg, what) for leg in made.legs})


class _Rail:
    """Strengths of one rail: those given, or bounds from below; None where neither is there."""

    def __init__(self, shape: str, F_y: Value, L_b: Value, strengths: Strengths) -> None:
        self.shape, of, factors = shape, section(shape), table("resistance_factors")
        self.M_a, self.P_a = strengths.rail_moment, strengths.rail_compression
        if of.name not in BOUNDED:
            return
        cells = {name: of.cell(shape, name, name) for name in ("S_x", "I_y", "J", "A", "r_y")}
        if self.M_a is None:
            self.M_a = rail_strength(
                F_y=F_y, S=cells["S_x"], E=E, I_y=cells["I_y"], G=G, J=cells["J"], L_b=L_b,
                Omega=factors.cell("flexure", "Omega", "Omega"),
            )  # fmt: skip
        if self.P_a is None:
            Omega = factors.cell("compression", "Omega", "Omega")
            self.P_a = compression(E=E, L_b=L_b, r=cells["r_y"], F_y=F_y, A=cells["A"], Omega=Omega)


def _elastic(shape: str, F_y: Value, axis: int) -> Value:
    """Return the allowable moment about the strong (0) or the weak (1) axis of a post or rail."""
    of = section(shape)
    columns = {"pipes": ("S", "S"), "strut": ("S_1", "S_2")}.get(of.name, ("S_x", "S_y"))
    Omega = table("resistance_factors").cell("flexure", "Omega", "Omega")
    return elastic_moment(F_y=F_y, S=of.cell(shape, columns[axis], "S"), Omega=Omega)


def _squeeze(job: Any, made: Lift) -> tuple[Value | None, Value]:
    """Return the compression of a top rail (None where a picked row has no rail), and the post's moment at it."""
    H = _most("H", made)
    rows = [""] if made.in_line else [word for word, _ in post_rows(job)]
    forces, turning = {}, {}
    for row in rows:
        rails = {f"rail {n}": r.height for n, r in enumerate(job.frame.rails, 1) if row in ("", r.face)}
        if not rails:
            return None, post_moment(H=H, z_p=made.z_p, z_1=_top(job))
        top = max(z.m_as("ft") for z in rails.values())
        at_top = {label: z for label, z in rails.items() if z.m_as("ft") > top - 1e-3}
        below = {label: z for label, z in rails.items() if label not in at_top}
        z_1, n = largest("z_1", at_top), given(float(len(at_top)), "", _RAILS, "n")
        label = row or "top rails"
        if below and made.z_p.m_as("ft") > top + 1e-3:
            forces[label] = squeeze_by_lever(H=H, z_p=made.z_p, z_1=z_1, z_2=largest("z_2", below), n=n)
        else:
            forces[label] = squeeze_alone(H=H, n=n)
        turning[label] = post_moment(H=H, z_p=made.z_p, z_1=z_1)
    return largest("P_r", forces), largest("M_p", turning)


def _top(job: Any) -> Value:
    """Return the height of the top rail."""
    return largest("z_1", {f"rail {n}": r.height for n, r in enumerate(job.frame.rails, 1)})


def _post(job: Any, made: Lift, F_y: Value, M_y: Value) -> Value:
    """Return the utilization of a picked post: the largest pull, with the moments of squeeze and side load at the top rail."""
    shape, of = str(job.frame.post), section(str(job.frame.post))
    Omega = table("resistance_factors").cell("tension yielding", "Omega", "Omega")
    M_x = post_moment(H=_most("P_y", made), z_p=made.z_p, z_1=_top(job))
    return post_use(
        V=_most("V", made), P_n=tie_strength(F_y=F_y, A=of.cell(shape, "A", "A"), Omega=Omega), M_y=M_y,
        M_ay=_elastic(shape, F_y, 1), M_x=M_x, M_ax=_elastic(shape, F_y, 0),
    )  # fmt: skip


def _hanging_on_post(job: Any) -> int:
    """Return how many rails hang on one picked post: those of its row, or all of a single row."""
    faces = [str(rail.face) for rail in job.frame.rails]
    if job.frame.depth.magnitude == 0:
        return len(faces)
    return max(1, min(faces.count("front"), faces.count("back")))


def _splices(job: Any, made: Lift) -> dict[str, Value]:
    """Return the moment of the hung rack at each splice within what is lifted."""
    if made.of.name != "rack":
        return {}
    return {f"at {x.text()}": moment_at(made.of, job.lifting.impact, made.picks, made.states, x) for x in job.frame.splices}

"""The rack's own steel as it hangs: rails bent and squeezed, posts as ties, their joints and splices."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from rackbook.loads.members import post_rows, rail_width, rail_y
from rackbook.tables import section, table
from rackbook.trace import Check, Source, Value, check, given, largest

from ..steel import E, G
from .beam import actions_at, largest_moment
from .legs import Lift
from .lug import hole_above_foot
from .slings import share
from .steel import (
    compression,
    elastic_moment,
    held_on_face,
    joint_force,
    picked_rail_moment,
    post_moment,
    post_use,
    pull_height,
    rail_moment,
    rail_strength,
    rail_use,
    sideways_moment,
    squeeze_alone,
    squeeze_by_lever,
    tie_strength,
)

_RAILS = Source("input", "rack.yaml", locator="frame.rails")
LEVEL = given(0.0, "deg", Source("derivation", "slings at four corners hold the rack level"), "phi")
NOT_SQUEEZED = given(0.0, "lbf", Source("derivation", "slings squeeze between the picks only"), "P_r")
ONE = given(1.0, "", Source("derivation", "the whole of the strength"), "u_max")
#: Families of rails whose strength is bounded here; others are asked for.
BOUNDED = ("channels", "hss")
STIFFEN = "use a spreader beam (upright slings), set the picks closer to the load, or take a heavier rail"


@dataclass(frozen=True)
class Strengths:
    """What is worked out elsewhere, at working level (R_n / Omega); None where bounds are to be taken, or a check stays open.

    Attributes:
        rail_moment, rail_compression: Strengths of one rail, in vertical bending, and in compression between posts.
        joint: Gives the utilization of a rail's joint to a post by an upright force.
        splice: Gives the utilization of a rail's splice by compression, shear and moment.

    """

    rail_moment: Value | None = None
    rail_compression: Value | None = None
    joint: Callable[[Value], Value] | None = None
    splice: Callable[[Value, Value, Value], Value] | None = None


@dataclass(frozen=True)
class Steel:
    """The steel of one lift: what acts on a rail, a post, a joint and a splice (compression, shear, moment).

    ``checks`` are all of its checks, ``joints`` those of them that judge joints and splices.
    """

    M: Value
    M_r: Value
    M_a: Value | None
    P_r: Value | None
    P_a: Value | None
    u_rail: Value | None
    u_post: Value | None
    V_c: Value | None
    at_splices: Mapping[str, tuple[Value, Value, Value]]
    checks: tuple[Check, ...]
    joints: tuple[Check, ...]


def steel(job: Any, frame: Any, made: Lift, strengths: Strengths) -> Steel:
    """Return the checks of the rack's steel in one lift that has legs.

    Args:
        job: The job.
        frame: The frame; the yield strengths of its members are used.
        made: The lift.
        strengths: Better strengths, where there are some.

    """
    F_y = {part: next(m.F_y for m in frame.members if m.part == part) for part in ("post", "rail")}
    M = largest_moment(made.of, job.lifting.impact, made.picks, made.states)
    L_b = largest("L_b", {f"bay {n}": bay for n, bay in enumerate(job.frame.bays, 1)})
    sides, z_h = _sides(job, made), _pull_height(job, made)
    most = {"M": M} if made.on_posts else {"M": M, "V": _most("V", made), "L_b": L_b}
    by_side = rail_moment if made.on_posts else picked_rail_moment
    M_r = largest("M_r", {f"{side} rails": by_side(s=s, n=n, **most) for side, (s, n) in sides.items()})
    rail = _Rail(str(job.frame.rail), F_y["rail"], L_b, strengths)
    P_r, M_p = _squeeze(job, made, z_h)
    u_rail = None
    name = f"{made.said}Rails as the rack hangs, squeezed and bent"
    if P_r is None:
        where = Source("derivation", "a row of posts that is picked has no rail")
        checks = [check(f"{made.said}Squeeze between the picks", _most("H", made), None, where, remedy=STIFFEN)]
    elif rail.P_a is None or rail.M_a is None:
        remedy = "take the strength of the rail from the sheet of the members"
        checks = [check(name, M_r, None, Source("derivation", "no bound is known here for rails of this kind"), remedy=remedy)]
    else:
        n = given(float(len(job.frame.rails)), "", _RAILS, "n")
        u_rail = rail_use(
            P_r=P_r, P_a=rail.P_a, M_r=M_r, M_a=rail.M_a, e_r=held_on_face(B_rail=rail_width(rail.shape)),
            M_s=sideways_moment(M=M, phi=made.phi if made.phi is not None else LEVEL, n=n),
            M_ay=_elastic(rail.shape, F_y["rail"], 1),
        )  # fmt: skip
        checks = [check(name, u_rail, ONE, u_rail.source, remedy=STIFFEN)]
    u_post = V_c = None
    joints: list[Check] = []
    if made.on_posts:
        u_post = _post(job, made, F_y["post"], M_p, z_h)
        checks.append(
            check(
                f"{made.said}Post under a pick", u_post, ONE, u_post.source,
                remedy="pick nearer to the top rail, or use a spreader beam",
            )
        )  # fmt: skip
        V_c = _joint(made, sides)
        u = strengths.joint(V_c) if strengths.joint is not None else None
        carried = "the picked post carries the rack by its rails' joints"
        joints.append(_joined(f"{made.said}Rail joint at a picked post", V_c, u, carried, "connections.clip or rail_weld"))
    splices = _splices(job, made, sides, P_r)
    for label, acting in splices.items():
        u = strengths.splice(*acting) if strengths.splice is not None else None
        name = f"{made.said}Splice {label} as the rack hangs"
        joints.append(_joined(name, acting[-1], u, "actions of the hung rack at the splice, by rail", "connections.splice"))
    return Steel(M, M_r, rail.M_a, P_r, rail.P_a, u_rail, u_post, V_c, splices, (*checks, *joints), tuple(joints))


def _joined(name: str, acting: Value, u: Value | None, where: str, give: str) -> Check:
    """Return the check of a joint by its utilization; open where that is not known."""
    source = Source("derivation", where)
    if u is None:
        return check(name, acting, None, source, remedy=f"give {give} with its bolts, or show the joint adequate by hand")
    return check(name, u, ONE, source, remedy="set the picks closer to the load, or strengthen the joint")


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


def _squeeze(job: Any, made: Lift, z_h: Value) -> tuple[Value | None, Value]:
    """Return the compression of a top rail (None where a picked row has no rail), and the post's moment at it."""
    H = _most("H", made)
    rows = [""] if made.in_line else [word for word, _ in post_rows(job)]
    forces, turning = {}, {}
    for row in rows:
        rails = {f"rail {n}": r.height for n, r in enumerate(job.frame.rails, 1) if row in ("", r.face)}
        if not rails:
            return None, post_moment(H=H, z_h=z_h, z_1=_top(job))
        top = max(z.m_as("ft") for z in rails.values())
        at_top = {label: z for label, z in rails.items() if z.m_as("ft") > top - 1e-3}
        below = {label: z for label, z in rails.items() if label not in at_top}
        z_1, n = largest("z_1", at_top), given(float(len(at_top)), "", _RAILS, "n")
        label = row or "top rails"
        if below and made.z_p.m_as("ft") > top + 1e-3:
            forces[label] = squeeze_by_lever(H=H, z_h=z_h, z_1=z_1, z_2=largest("z_2", below), n=n)
        else:
            forces[label] = squeeze_alone(H=H, n=n)
        turning[label] = post_moment(H=H, z_h=z_h, z_1=z_1)
    return largest("P_r", forces), largest("M_p", turning)


def _top(job: Any) -> Value:
    """Return the height of the top rail."""
    return largest("z_1", {f"rail {n}": r.height for n, r in enumerate(job.frame.rails, 1)})


def _post(job: Any, made: Lift, F_y: Value, M_y: Value, z_h: Value) -> Value:
    """Return the utilization of a picked post: the largest pull, with the moments of squeeze and side load at the top rail."""
    shape, of = str(job.frame.post), section(str(job.frame.post))
    Omega = table("resistance_factors").cell("tension yielding", "Omega", "Omega")
    M_x = post_moment(H=_most("P_y", made), z_h=z_h, z_1=_top(job))
    return post_use(
        V=_most("V", made), P_n=tie_strength(F_y=F_y, A=of.cell(shape, "A", "A"), Omega=Omega), M_y=M_y,
        M_ay=_elastic(shape, F_y, 1), M_x=M_x, M_ax=_elastic(shape, F_y, 0),
    )  # fmt: skip


def _sides(job: Any, made: Lift) -> dict[str, tuple[Value, Value]]:
    """Return, for the foremost and the rearmost rails, the share of the weight that hangs on them and their number."""
    faces = [str(rail.face) for rail in job.frame.rails]
    planes = sorted({face: rail_y(job, face) for face in faces}.items(), key=lambda item: item[1].m_as("in"))
    count = {face: given(float(faces.count(face)), "", _RAILS, "n") for face, _ in planes}
    if len(planes) == 1:
        (only, _), alone = planes[0], given(1.0, "", Source("derivation", "all rails are on one side"), "s")
        return {only: (alone, count[only])}
    (back, y_b), (front, y_f) = planes[0], planes[-1]
    c = made.of.y_bar
    return {front: (share(c=c, p=y_f, o=y_b), count[front]), back: (share(c=c, p=y_b, o=y_f), count[back])}


def _joint(made: Lift, sides: dict[str, tuple[Value, Value]]) -> Value:
    """Return the largest upright force of a rail's joint; a post of two rows carries the rails of its own row only."""
    V, alone = _most("V", made), given(1.0, "", Source("derivation", "a row of its own"), "s")
    of = {side: joint_force(V=V, s=s if made.in_line else alone, n=n) for side, (s, n) in sides.items()}
    return largest("V_c", {f"{side} rails": v for side, v in of.items()})


def _pull_height(job: Any, made: Lift) -> Value:
    """Return the height at which the slings pull: the hole of the lug, or the pick itself where the lug is not given."""
    if job.lifting.lug is None:
        return made.z_p.named("z_h")
    return pull_height(z_p=made.z_p, e_h=hole_above_foot(job.lifting.lug))


def _splices(
    job: Any, made: Lift, sides: dict[str, tuple[Value, Value]], P_r: Value | None
) -> dict[str, tuple[Value, Value, Value]]:
    """Return compression, shear and moment of one rail at each splice within what is lifted."""
    if made.of.name != "rack":
        return {}
    low, high = made.picks[0].m_as("ft"), made.picks[-1].m_as("ft")
    found = {}
    for x in job.frame.splices:
        V, M = actions_at(made.of, job.lifting.impact, made.picks, made.states, x)
        P = P_r if P_r is not None and low < x.m_as("ft") < high else NOT_SQUEEZED
        V_s = largest("V_s", {f"{side} rails": joint_force(V=V, s=s, n=n) for side, (s, n) in sides.items()})
        M_s = largest("M_s", {f"{side} rails": rail_moment(M=M, s=s, n=n) for side, (s, n) in sides.items()})
        found[f"at {x.text()}"] = (P, V_s, M_s)
    return found

"""The rack's own steel as it hangs: rails in compression and bending, posts in tension, their joints and splices."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from rackbook.loads.members import post_rows, rail_width, rail_y
from rackbook.tables import section, table
from rackbook.trace import Check, Source, Value, check, given

from ..steel import E, G
from .cut import Cut, at_place, largest_moment
from .legs import Lift, top_rail
from .lug import side_load
from .slings import share
from .steel import (
    compression_alone,
    compression_by_lever,
    held_on_face,
    joint_force,
    picked_rail_moment,
    post_moment,
    post_moment_across,
    post_use,
    rail_moment,
    rail_strength,
    rail_use,
    sideways_moment,
    strong_elastic_moment,
    tie_strength,
    weak_elastic_moment,
)

_RAILS = Source("input", "rack.yaml", locator="frame.rails")
LEVEL = given(0.0, "deg", Source("derivation", "slings at four corners hold the rack level"), "phi")
NO_COMPRESSION = given(0.0, "lbf", Source("derivation", "slings compress the rails between the picks only"), "P_r")
ONE = given(1.0, "", Source("derivation", "the whole of the strength"), "u_max")
#: Families of rails whose bending strength is bounded here; others are asked for.
BOUNDED = ("channels", "hss")
STIFFEN = "use a spreader beam (vertical slings), set the picks closer to the load, or select a heavier rail"


@dataclass(frozen=True)
class Strengths:
    """What is worked out elsewhere, at working level (R_n / Omega); a check stays open where it is needed and None.

    Attributes:
        rail_moment: Strength of one rail about its strong axis; a bound from below is used without one.
        rail_compression: Gives the strength of a rail in compression by its shape, yield stress and length between posts.
        joint: Gives the utilization of a rail's joint to a post by a vertical force.
        splice: Gives the utilization of a rail's splice by compression, shear and moment.

    """

    rail_moment: Value | None = None
    rail_compression: Callable[[str, Value, Value], Value] | None = None
    joint: Callable[[Value], Value] | None = None
    splice: Callable[[Value, Value, Value], Value] | None = None


@dataclass(frozen=True)
class Side:
    """The rails of one face: their center plane, number, and share of the weight that hangs on them."""

    face: str
    y: Value
    n: Value
    s: Value


@dataclass(frozen=True)
class Steel:
    """The steel of one lift: what acts on a rail, a post, a joint and a splice (compression, shear, moment).

    ``bent`` is the cut of the largest moment, ``cuts`` those at the splices, ``use`` what joints and
    splices are utilized. ``checks`` are all of its checks, ``joints`` those of them that judge joints and splices.
    """

    bent: Cut
    M: Value
    M_r: Value
    M_a: Value | None
    P_r: Value | None
    P_a: Value | None
    u_rail: Value | None
    u_post: Value | None
    V_c: Value | None
    at_splices: Mapping[str, tuple[Value, Value, Value]]
    cuts: Mapping[str, Cut]
    sides: tuple[Side, ...]
    rail: str
    L_b: Value
    use: Mapping[str, Value]
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
    bent = largest_moment(made.of, job.lifting.impact, made.picks, made.states)
    M = bent.M
    L_b = max(job.frame.bays, key=lambda bay: bay.m_as("ft")).named("L_b")
    sides = _sides(job, made)
    most = {"M": M} if made.on_posts else {"M": M, "V": _most("V", made), "L_b": L_b}
    by_side = rail_moment if made.on_posts else picked_rail_moment
    M_r = _largest(by_side(s_r=s, n=n, **most) for s, n in _shares(sides))
    rail = _Rail(str(job.frame.rail), F_y["rail"], L_b, strengths)
    P_r, M_p = _compression(job, made)
    u_rail = None
    name = f"{made.said}Rails as the rack hangs, compression and bending"
    if P_r is None:
        where = Source("derivation", "a row of posts that is picked has no rail")
        checks = [check(f"{made.said}Compression between the picks", _most("H", made), None, where, remedy=STIFFEN)]
    elif rail.P_a is None or rail.M_a is None:
        remedy = "show the strength of the rail by hand"
        checks = [check(name, M_r, None, Source("derivation", "no bound is known here for rails of this kind"), remedy=remedy)]
    else:
        n_r = given(float(len(job.frame.rails)), "", _RAILS, "n_r")
        u_rail = rail_use(
            P_r=P_r, P_a=rail.P_a, M_r=M_r, M_a=rail.M_a, e_r=held_on_face(B_rail=rail_width(rail.shape)),
            M_t=sideways_moment(M=M, phi=made.phi if made.phi is not None else LEVEL, n_r=n_r),
            M_ay=_elastic(rail.shape, F_y["rail"], 1, "M_ay"),
        )  # fmt: skip
        checks = [check(name, u_rail, ONE, u_rail.source, remedy=STIFFEN)]
    u_post = V_c = None
    joints: list[Check] = []
    use: dict[str, Value] = {}
    if made.on_posts:
        u_post = _post(job, made, F_y["post"], M_p)
        checks.append(
            check(
                f"{made.said}Post under a pick", u_post, ONE, u_post.source,
                remedy="pick nearer to the top rail, or use a spreader beam",
            )
        )  # fmt: skip
        V_c = _joint(made, sides)
        u = strengths.joint(V_c) if strengths.joint is not None else None
        if u is not None:
            use["Rail joint at a picked post"] = u
        carried = "the picked post carries the rack by its rails' joints"
        joints.append(_joined(f"{made.said}Rail joint at a picked post", V_c, u, carried, "connections.clip or rail_weld"))
    splices, cuts = _splices(job, made, sides, P_r)
    for label, acting in splices.items():
        u = strengths.splice(*acting) if strengths.splice is not None else None
        if u is not None:
            use[f"Splice {label}"] = u
        name = f"{made.said}Splice {label} as the rack hangs"
        joints.append(_joined(name, acting[-1], u, "actions of the hung rack at the splice, by rail", "connections.splice"))
    return Steel(
        bent, M, M_r, rail.M_a, P_r, rail.P_a, u_rail, u_post, V_c, splices, cuts, sides, rail.shape, L_b, use,
        (*checks, *joints), tuple(joints),
    )  # fmt: skip


def _joined(name: str, acting: Value, u: Value | None, where: str, give: str) -> Check:
    """Return the check of a joint by its utilization; open where that is not known."""
    source = Source("derivation", where)
    if u is None:
        return check(name, acting, None, source, remedy=f"give {give} with its bolts, or show the joint adequate by hand")
    return check(name, u, ONE, source, remedy="set the picks closer to the load, or strengthen the joint")


def _most(what: str, made: Lift) -> Value:
    return _largest(getattr(leg, what) for leg in made.legs)


def _largest(values: Iterable[Value]) -> Value:
    """Return the largest of values of one dimension: what stands beside it does not govern and is not carried."""
    return max(values, key=lambda v: v.magnitude)


class _Rail:
    """Strengths of one rail: those given, or of bending a bound from below; None where neither is there."""

    def __init__(self, shape: str, F_y: Value, L_b: Value, strengths: Strengths) -> None:
        self.shape, of, factors = shape, section(shape), table("resistance_factors")
        self.M_a, by = strengths.rail_moment, strengths.rail_compression
        self.P_a: Value | None = None
        if of.name not in BOUNDED:
            return
        self.P_a = by(shape, F_y, L_b).named("P_a") if by is not None else None
        cells = {name: of.cell(shape, name, name) for name in ("S_x", "I_y", "J")}
        if self.M_a is None:
            self.M_a = rail_strength(
                F_y=F_y, S_x=cells["S_x"], E=E, I_y=cells["I_y"], G=G, J=cells["J"], L_b=L_b,
                Omega_b=factors.cell("flexure", "Omega", "Omega_b"),
            )  # fmt: skip


def _elastic(shape: str, F_y: Value, axis: int, symbol: str) -> Value:
    """Return the allowable moment about the strong (0) or the weak (1) axis of a post or rail."""
    of = section(shape)
    columns = {"pipes": ("S", "S"), "strut": ("S_1", "S_2")}.get(of.name, ("S_x", "S_y"))
    Omega_b = table("resistance_factors").cell("flexure", "Omega", "Omega_b")
    if axis == 0:
        return strong_elastic_moment(F_y=F_y, S_x=of.cell(shape, columns[0], "S_x"), Omega_b=Omega_b).named(symbol)
    return weak_elastic_moment(F_y=F_y, S_y=of.cell(shape, columns[1], "S_y"), Omega_b=Omega_b).named(symbol)


def _compression(job: Any, made: Lift) -> tuple[Value | None, Value]:
    """Return the compression of a top rail (None where a picked row has no rail), and the post's moment at it."""
    H, z_p = _most("H", made), made.z_p
    rows = [""] if made.in_line else [word for word, _ in post_rows(job)]
    forces, turning = [], []
    for row in rows:
        heights = sorted((r.height for r in job.frame.rails if row in ("", r.face)), key=lambda z: z.m_as("ft"))
        if not heights:
            return None, post_moment(H=H, z_p=z_p, z_1=top_rail(job).named("z_1"))
        top = heights[-1].m_as("ft") - 1e-3
        z_1 = next(z for z in heights if z.m_as("ft") > top).named("z_1")
        below = [z for z in heights if z.m_as("ft") <= top]
        n_t = given(float(len(heights) - len(below)), "", _RAILS, "n_t")
        if below and z_p.m_as("ft") > top + 2e-3:
            forces.append(compression_by_lever(H=H, z_p=z_p, z_1=z_1, z_2=below[-1].named("z_2"), n_t=n_t))
        else:
            forces.append(compression_alone(H=H, n_t=n_t))
        turning.append(post_moment(H=H, z_p=z_p, z_1=z_1))
    return _largest(forces), _largest(turning)


def _post(job: Any, made: Lift, F_y: Value, M_p: Value) -> Value:
    """Return the utilization of a picked post: the largest pull, with the moments along and across at the top rail."""
    shape, of = str(job.frame.post), section(str(job.frame.post))
    Omega_t = table("resistance_factors").cell("tension yielding", "Omega", "Omega_t")
    P_y = _largest(side_load(leg.P_y, leg.T) for leg in made.legs)
    M_q = post_moment_across(P_y=P_y, z_p=made.z_p, z_1=top_rail(job).named("z_1"))
    return post_use(
        V=_most("V", made), P_t=tie_strength(F_y=F_y, A=of.cell(shape, "A", "A"), Omega_t=Omega_t), M_p=M_p,
        M_pa=_elastic(shape, F_y, 1, "M_pa"), M_q=M_q, M_qa=_elastic(shape, F_y, 0, "M_qa"),
    )  # fmt: skip


def _shares(sides: tuple[Side, ...]) -> Iterable[tuple[Value, Value]]:
    return ((side.s, side.n) for side in sides)


def _sides(job: Any, made: Lift) -> tuple[Side, ...]:
    """Return the foremost and the rearmost rails with the share of the weight that hangs on them."""
    faces = [str(rail.face) for rail in job.frame.rails]
    planes = sorted({face: rail_y(job, face) for face in faces}.items(), key=lambda item: item[1].m_as("in"))
    count = {face: given(float(faces.count(face)), "", _RAILS, "n") for face, _ in planes}
    if len(planes) == 1:
        (only, y), alone = planes[0], given(1.0, "", Source("derivation", "all rails are on one side"), "s_r")
        return (Side(only, y, count[only], alone),)
    (back, y_b), (front, y_f) = planes[0], planes[-1]
    c = made.of.y_bar
    return (
        Side(front, y_f, count[front], share(c=c, p=y_f, o=y_b).named("s_r")),
        Side(back, y_b, count[back], share(c=c, p=y_b, o=y_f).named("s_r")),
    )


def _joint(made: Lift, sides: tuple[Side, ...]) -> Value:
    """Return the largest vertical force of a rail's joint; a post of two rows carries the rails of its own row only."""
    V, alone = _most("V", made), given(1.0, "", Source("derivation", "a row of its own"), "s_r")
    return _largest(joint_force(V=V, s_r=s if made.in_line else alone, n=n) for s, n in _shares(sides))


def _splices(
    job: Any, made: Lift, sides: tuple[Side, ...], P_r: Value | None
) -> tuple[dict[str, tuple[Value, Value, Value]], dict[str, Cut]]:
    """Return compression, shear and moment of one rail at each splice within what is lifted, and the cuts there."""
    found: dict[str, tuple[Value, Value, Value]] = {}
    cuts: dict[str, Cut] = {}
    if made.of.name != "rack":
        return found, cuts
    low, high = made.picks[0].m_as("ft"), made.picks[-1].m_as("ft")
    for x in job.frame.splices:
        V, cut = at_place(made.of, job.lifting.impact, made.picks, made.states, x)
        P = P_r if P_r is not None and low < x.m_as("ft") < high else NO_COMPRESSION
        V_s = _largest(joint_force(V=V, s_r=s, n=n) for s, n in _shares(sides)).named("V_s")
        M_s = _largest(rail_moment(M=cut.M, s_r=s, n=n) for s, n in _shares(sides)).named("M_s")
        found[f"at {x.text()}"], cuts[f"at {x.text()}"] = (P, V_s, M_s), cut
    return found, cuts

"""The lug's seat: a plate on the top of a tubular post, welded all around, which carries the lug's pull to the walls.

The plate is divided into two strips, each in balance by itself and simply supported on the walls: one across the rack, as
wide as the lug, for the pull and the side load; one along it, under the lug and its welds, for the moment of the sloping
sling. What is found so is never below what the plate gets at its limit (lower bound of plastic theory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.tables import section, table
from rackbook.trace import Check, DomainError, Source, Value, check, formula, largest
from rackbook.trace.maths import sqrt

from ..steel import clause
from .lug import BTH_WELD, N_D, cap_weld_strength, combined_limit, electrode, plate_material, weld_line_strength

_STRIPS = Source("derivation", "strips of the cap plate, simply supported on the walls of the post")
_LANDING = Source("derivation", "reactions of the strips on the post's walls, over the width of each strip")
_MISES = Source("derivation", "bending both ways together, by the yield criterion of von Mises, at opposite sense")
#: Tables of shapes whose walls close a ring under the plate, with the column of their breadth.
RINGS = {"hss": "B", "pipes": "OD"}
THICKER = "take a thicker cap plate or a lower lug"


@formula(Source("derivation", "walls of the post from middle to middle"), b="in")
def wall_span(B, t_w):
    """Return the span of the cap plate."""
    b = B - t_w
    return b


@formula(Source("derivation", "hole of the lug above the weld of the cap plate to the post"), e_c="in")
def seat_lever(e_h, t_c):
    """Return the height of the hole above the underside of the cap plate."""
    e_c = e_h + t_c
    return e_c


@formula(_STRIPS, m_y="lbf*in/in")
def bending_across(V, P_y, e_c, b, w_p):
    """Return the moment of an inch of the strip across the rack, as wide as the lug: pull and side load at its middle."""
    m_y = V * b / (4 * w_p) + P_y * e_c / (2 * w_p)
    return m_y


@formula(_STRIPS, c="in")
def strip_along(t, w):
    """Return the width of the strip along the rack: the lug's plate and its two welds."""
    c = t + 2 * w
    return c


@formula(_STRIPS, m_x="lbf*in/in")
def bending_along(H, e_c, w_p, b, c):
    """Return the largest moment of an inch of the strip along the rack, the lug's moment spread linearly over its width."""
    m_x = H * e_c / (2 * c) * sqrt(1 - 2 * w_p / (3 * b)) ** 3
    return m_x


@formula(_MISES, m="lbf*in/in")
def bending_both(m_x, m_y):
    """Return the moment that counts for both."""
    m = sqrt(m_x**2 + m_x * m_y + m_y**2)
    return m


@formula(Source("derivation", "elastic stress of a plate"), f_c="ksi")
def cap_stress(m, t_c):
    """Return the stress of bending in the cap plate."""
    f_c = 6 * m / t_c**2
    return f_c


@formula(_LANDING, p_y="lbf/in")
def front_pull(V, P_y, e_c, b, w_p):
    """Return the pull on an inch of the front or back wall."""
    p_y = V / (2 * w_p) + P_y * e_c / (b * w_p)
    return p_y


@formula(_LANDING, p_x="lbf/in")
def side_pull(H, e_c, b, c):
    """Return the pull on an inch of a side wall."""
    p_x = H * e_c / (b * c)
    return p_x


@formula(Source("derivation", "shear along two walls each way"), p_v="lbf/in")
def wall_shear(H, P_y, b):
    """Return the shear on an inch of the cap plate's weld."""
    p_v = sqrt(H**2 + P_y**2) / (2 * b)
    return p_v


@formula(Source("derivation", "pull and shear together"), p="lbf/in")
def seat_force(p_n, p_v):
    """Return the force on an inch of the cap plate's weld and of the wall below it."""
    p = sqrt(p_n**2 + p_v**2)
    return p


@formula(clause("Eq. J4-4, at working level"), r_w="lbf/in")
def wall_strength(F_u, t_w, Omega):
    """Return the allowable force on an inch of the post's wall beside a weld."""
    r_w = 0.60 * F_u * t_w / Omega
    return r_w


@dataclass(frozen=True)
class Seat:
    """The seat of the lug that is pulled most: bending of the plate, force on its weld, and what each may be."""

    m_x: Value
    m_y: Value
    f_c: Value
    F_c: Value
    p: Value
    f_wc: Value
    r_w: Value


def seat(
    V: Value, H: Value, P_y: Value, e_h: Value, w_p: Value, t: Value, w: Value, t_c: Value, w_c: Value, B: Value, t_w: Value,
    F_y: Value, F_up: Value, E_xx: Value, Omega: Value,
) -> Seat:  # fmt: skip
    """Return the seat of a lug on the closed top of a tubular post.

    Args:
        V: Pull along the post.
        H: Pull along the rack, in the lug's plane.
        P_y: Pull across the rack, out of the lug's plane.
        e_h: Height of the hole above the plate.
        w_p: Width of the lug.
        t: Its thickness.
        w: Leg of its welds to the plate.
        t_c: Thickness of the plate.
        w_c: Leg of the plate's weld to the post.
        B: Outside breadth of the post.
        t_w: Its wall.
        F_y: Yield strength of the plate.
        F_up: Tensile strength of the post.
        E_xx: Strength of the weld metal.
        Omega: Safety factor of the wall.

    Raises:
        DomainError: The lug is wider than the post.

    """
    b = wall_span(B=B, t_w=t_w)
    if w_p.m_as("in") > B.m_as("in"):
        raise DomainError(f"A lug {w_p.text()} wide does not stand on a post of {B.text()} ({w_p.source.citation}). Narrow it.")
    e_c, c = seat_lever(e_h=e_h, t_c=t_c), strip_along(t=t, w=w)
    m_y = bending_across(V=V, P_y=P_y, e_c=e_c, b=b, w_p=w_p)
    m_x = bending_along(H=H, e_c=e_c, w_p=w_p, b=b, c=c)
    pulls = {
        "front and back walls": front_pull(V=V, P_y=P_y, e_c=e_c, b=b, w_p=w_p),
        "side walls": side_pull(H=H, e_c=e_c, b=b, c=c),
    }
    p = seat_force(p_n=largest("p_n", pulls), p_v=wall_shear(H=H, P_y=P_y, b=b))
    return Seat(
        m_x, m_y, cap_stress(m=bending_both(m_x=m_x, m_y=m_y), t_c=t_c), combined_limit(F_y=F_y, N_d=N_D), p,
        cap_weld_strength(f_w=weld_line_strength(E_xx=E_xx, N_d=N_D, w=w), w_c=w_c, w=w),
        wall_strength(F_u=F_up, t_w=t_w, Omega=Omega),
    )  # fmt: skip


def seat_checks(job: Any, frame: Any, pulls: tuple[Any, ...], on_posts: bool, e_h: Value) -> list[Check]:
    """Return the checks of the seat under every lug; open where the job does not give it, or it has no method here."""
    lug, T = job.lifting.lug, max((p.T for p in pulls), key=lambda T: T.magnitude)
    shape = str(job.frame.post)
    of = section(shape)
    if not on_posts:
        return [
            _open("Lug: seat on the top rail", T, "pick at the posts, or show the rail's flange adequate under the lug by hand")
        ]
    if of.name not in RINGS:
        return [
            _open("Lug: seat on the post", T, f"give a detail for the top of a post {shape}; this sheet covers HSS and pipe")
        ]
    if lug.cap is None or lug.cap_weld is None:
        return [_open("Lug: cap plate of the post", T, "give lifting.lug.cap and cap_weld: thickness and fillet to the post")]
    F_y, _ = plate_material()
    F_up = next(m.F_u for m in frame.members if m.part == "post")
    Omega = table("resistance_factors").cell("shear rupture of elements", "Omega", "Omega")
    made = [
        seat(
            p.V, p.H, p.P_y, e_h, lug.width, lug.thickness, lug.weld, lug.cap, lug.cap_weld,
            of.cell(shape, RINGS[of.name], "B"), of.cell(shape, "t_des", "t_w"), F_y, F_up, electrode(job), Omega,
        )
        for p in pulls
    ]  # fmt: skip
    bent, pulled = max(made, key=lambda s: s.f_c.magnitude), max(made, key=lambda s: s.p.magnitude)
    return [
        check("Lug: cap plate of the post, bending both ways", bent.f_c, bent.F_c, bent.F_c.source, remedy=THICKER),
        check(
            "Lug: weld of the cap plate to the post",
            pulled.p,
            pulled.f_wc,
            BTH_WELD,
            remedy="take a larger weld, or a lower lug",
        ),
        check(
            "Lug: wall of the post at that weld", pulled.p, pulled.r_w, pulled.r_w.source, remedy="take a post of thicker wall"
        ),
    ]


def _open(name: str, T: Value, remedy: str) -> Check:
    return check(name, T, None, Source("derivation", "the pull of the lug goes through its seat into the post"), remedy=remedy)

"""Parts of the rack that one figure serves together: open frame, solid panel, solid end, loose parts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.geometry import read
from rackbook.trace import Source, Value, formula, largest, word
from rackbook.trace.maths import sum

from .coefficients import (
    FIGURE_OPEN,
    RISE,
    SOLID_FROM,
    filled_solidity,
    open_coefficient,
    round_criterion,
    solidity,
    within_figure,
)  # fmt: skip
from .conditions import Conditions
from .faces import Face, Loose, filling_area, panel_area, total_area
from .force import Force
from .solid import SolidSign, solid_coefficient

FLAT = word("flat-sided", Source("derivation", "cabinets and shapes with flat sides"), "members")
ROUND = word("round", Source("derivation", "pipes, conduit, and items marked round"), "members")
_SHARE = Source("derivation", "the force on the sign, shared by the areas seen")


@formula(_SHARE, F_i="lbf")
def share(F, A):
    """Return each part's share of the force on the whole face."""
    F_i = F * A / sum(A)
    return F_i


@formula(Source("derivation", "place of the figure's resultant less the centroid of the areas seen"), dr="ft")
def shift(r_F, A, r_i):
    """Return how far the parts' points of action are moved together until the resultant stands where the figure puts it."""
    dr = r_F - sum(A * r_i) / sum(A)
    return dr


@formula(Source("derivation", "centroids of the areas seen, moved together"), r="ft")
def moved(r_i, dr):
    """Return the parts' points of action."""
    r = r_i + dr
    return r


@formula(Source("derivation", "raised as the figure raises the resultant of a sign that reaches the ground"), z="ft")
def raised(z_i, s, rise):
    """Return the parts' points of action on a solid end."""
    z = z_i + rise * s
    return z


@formula(Source("derivation", "parts, and what stands in their openings"), A_t="ft**2")
def filled_area(A_f, A_r):
    """Return the solid area of a face with its raceways and braces."""
    A_t = A_f + A_r
    return A_t


@formula(Source("derivation", "outline less the panel"), A_g="ft**2")
def remainder(A_g0, A_s):
    """Return the gross area around the panel."""
    A_g = A_g0 - A_s
    return A_g


@dataclass(frozen=True)
class Group:
    """Parts served by one figure.

    Attributes:
        name: Which face, and which part of it.
        figure: ``open frame``, ``solid panel``, ``solid end`` or ``loose parts``.
        tags: One for each entry of the arrays.
        epsilon: Solidity that the figure was entered with.
        solid, gross: Areas it is the ratio of; gross is None for loose parts, which have that of the first face.
        epsilon_panel: Solidity that decided between open frame and solid sign; None where nothing was decided.
        A, u, z: Area seen and its point of action.
        q: Velocity pressure: an array, or that at the top of a panel.
        C_f: Coefficient, one for all or one a part.
        F: Force on each part, not less than the minimum.
        F_own: Force on each part's whole face, for its own fastening; None for loose parts.
        force: The equation and the minimum of an open frame; None for a panel.
        sign: The solid sign, if it is one.
        shifts: How far the points of action of a panel are moved across and up from the centroids of the areas.

    """

    name: str
    figure: str
    tags: tuple[str, ...]
    epsilon: Value
    A: Value
    u: Value
    z: Value
    q: Value
    C_f: Value
    F: Value
    F_own: Value | None = None
    force: Force | None = None
    sign: SolidSign | None = None
    epsilon_panel: Value | None = None
    solid: Value | None = None
    gross: Value | None = None
    shifts: tuple[Value, Value] | None = None


def _by_section(round_: Any, flat: Value, curved: Value) -> Value:
    given = {"round": round_, "flat": flat, "curved": curved}
    return read("by section", FIGURE_OPEN, "", _choose, given, "C_f")


def _choose(round: np.ndarray, flat: float, curved: np.ndarray) -> np.ndarray:
    return np.where(round > 0, curved, flat)


def _coefficient(epsilon: Value, round_: np.ndarray, D: Value, q: Value) -> Value:
    """Return C_f of every part: one number where all are flat-sided."""
    inside = within_figure(epsilon_g=epsilon, epsilon_max=SOLID_FROM) if epsilon.magnitude > SOLID_FROM.magnitude else epsilon
    flat = open_coefficient(inside, FLAT)
    if not round_.any():
        return flat
    curved = open_coefficient(inside, ROUND, round_criterion(D=D, q_z=q))
    mark = Value(
        round_.astype(float), "", Source("input", "equipment.csv and frame", "", "round sections 1, flat ones 0"), "round"
    )
    return _by_section(mark, flat, curved)


def openness(face: Face, along: bool) -> tuple[Value, Value, Value]:
    """Return solid area, gross area and their ratio of the boxes on a panel; the panel of an end is its whole outline."""
    A_g = face.A_g if along else panel_area(B=face.B, s=face.s)
    A_f = face.A_seen if along else total_area(A=face.A_in)
    return A_f, A_g, solidity(A_f=A_f, A_g=A_g)


def face_groups(
    at: Conditions, face: Face, tags: tuple[str, ...], round_: np.ndarray, along: bool, rest: Loose | None = None
) -> list[Group]:
    """Return the groups of a face: open frame or solid sign as its own openings are 30 % or more of its panel, or fewer.

    ``rest`` are the conduit and braces that stand in the openings of the panel; on an end they stand behind the posts.
    """
    A_f, A_g, epsilon = openness(face, along)
    if rest is not None:
        epsilon = filled_solidity(A_f=A_f, A_r=filling_area(A=rest.A), A_g=A_g)
    if epsilon.magnitude <= SOLID_FROM.magnitude:
        return [open_group(at, face, tags, round_, along, epsilon, rest)]
    return [end_solid(at, face, tags, epsilon)] if along else panel_groups(at, face, tags, round_, epsilon, rest)


def open_group(
    at: Conditions, face: Face, tags: tuple[str, ...], round_: np.ndarray, along: bool, panel: Value, rest: Loose | None = None
) -> Group:
    """Return a face whose openings are 30 % or more: Figure 29.4-2 on the solid area of every part.

    Conduit and braces count in its solidity; their own force is that of :func:`loose_group`.
    """
    solid = face.A_seen if along else total_area(A=face.A)
    if along:
        epsilon = panel
    elif rest is None:
        epsilon = solidity(A_f=solid, A_g=face.A_g)
    else:
        epsilon = filled_solidity(A_f=solid, A_r=filling_area(A=rest.A), A_g=face.A_g)
        solid = filled_area(A_f=solid, A_r=filling_area(A=rest.A))
    q = at.q(face.z, at.K_d)
    C_f = _coefficient(epsilon, round_, face.D, q)
    force, own = at.force(q, C_f, face.A, at.K_d), at.force(q, C_f, face.A_own, at.K_d)
    return Group(
        face.name, "open frame", tags, epsilon, face.A, face.u, face.z, q, C_f, force.F, own.F, force, epsilon_panel=panel,
        solid=solid, gross=face.A_g,
    )  # fmt: skip


def _joined(face: np.ndarray, rest: np.ndarray) -> np.ndarray:
    return np.concatenate([face, rest])


def _with(face: Value, rest: Value, symbol: str) -> Value:
    source = Source("derivation", "parts of the face, then conduit and braces in its openings")
    return read("face and openings", source, face.unit, _joined, {"face": face, "rest": rest.to(face.unit)}, symbol)


def panel_groups(
    at: Conditions, face: Face, tags: tuple[str, ...], round_: np.ndarray, epsilon: Value, rest: Loose | None = None
) -> list[Group]:
    """Return a face whose panel is solid (Figure 29.3-1), and what is seen of it around the panel (Figure 29.4-2)."""
    q = at.q(face.top, at.K_d_sign)
    sign = at.sign(face.B, face.s, face.top, q, epsilon)
    own = at.force(q, sign.C_f_local, face.A_own, at.K_d_sign)
    A, u, z, all_tags = face.A_in, face.u_in, face.z_in, tags
    if rest is not None:
        A, u, z = _with(A, rest.A, "A"), _with(u, rest.u, "u"), _with(z, rest.z, "z")
        all_tags = (*tags, *rest.tags)
    solid = total_area(A=A)
    shifts = shift(r_F=face.u_c, A=A, r_i=u).named("dx"), shift(r_F=sign.z_F, A=A, r_i=z).named("dz")
    groups = [
        Group(
            f"{face.name}, panel", "solid panel", all_tags, epsilon, A, moved(r_i=u, dr=shifts[0]), moved(r_i=z, dr=shifts[1]),
            q, sign.C_f, share(F=sign.F, A=A), own.F, sign=sign, epsilon_panel=epsilon, solid=solid, gross=sign.A_s,
            shifts=shifts,
        )
    ]  # fmt: skip
    around = total_area(A=face.A_out)
    if around.magnitude > 1e-6:
        gross = remainder(A_g0=face.A_g, A_s=sign.A_s)
        epsilon = solidity(A_f=around, A_g=gross)
        q = at.q(face.z_out, at.K_d)
        C_f = _coefficient(epsilon, round_, face.D, q)
        force = at.force(q, C_f, face.A_out, at.K_d)
        name = f"{face.name}, around the panel"
        groups.append(
            Group(
                name, "open frame", tags, epsilon, face.A_out, face.u_out, face.z_out, q, C_f, force.F, force=force,
                solid=around, gross=gross,
            )
        )  # fmt: skip
    return groups


def end_solid(at: Conditions, face: Face, tags: tuple[str, ...], epsilon: Value) -> Group:
    """Return an end whose outline is solid: the larger of the outline as a sign and of every part for itself.

    Parts behind one another count in full, so that the sum is often more than the sign; no clause gives shielding.
    """
    q = at.q(face.h, at.K_d_sign)
    sign = at.sign(face.b, face.h, face.h, q, epsilon)
    C_f = solid_coefficient(sign.s_h, sign.B_s)
    every = at.force(q, C_f, total_area(A=face.A), at.K_d_sign)
    F = largest("F", {"the end as one sign": sign.F, "every part for itself": every.F})
    own = at.force(q, C_f, face.A_own, at.K_d_sign)
    z = raised(z_i=face.z, s=face.h, rise=RISE)
    each = share(F=F, A=face.A)
    return Group(
        face.name, "solid end", tags, epsilon, face.A, face.u, z, q, C_f, each, own.F, every, sign, epsilon_panel=epsilon,
        solid=face.A_seen, gross=face.A_g,
    )  # fmt: skip


def loose_group(at: Conditions, rest: Loose, first: Group) -> Group:
    """Return conduit, braces and canopy edges, with the coefficient of the first face's solidity."""
    q = at.q(rest.z, at.K_d)
    C_f = _coefficient(first.epsilon, rest.round, rest.D, q)
    force = at.force(q, C_f, rest.A, at.K_d)
    name = "conduit, braces and canopy edges"
    return Group(name, "loose parts", rest.tags, first.epsilon, rest.A, rest.u, rest.z, q, C_f, force.F, force=force)

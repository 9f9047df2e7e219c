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
    open_coefficient,
    round_criterion,
    sign_area,
    solidity,
    within_figure,
)  # fmt: skip
from .faces import Face, Loose, total_area
from .force import Force, design_force
from .pressure import Z_LOW, edition_of, exposure_factor, topography, velocity_pressure
from .solid import SolidSign, solid_coefficient, solid_sign

FLAT = word("flat-sided", Source("derivation", "cabinets and shapes with flat sides"), "members")
ROUND = word("round", Source("derivation", "pipes, conduit, and items marked round"), "members")
_SHARE = Source("derivation", "the force on the sign, shared by the areas seen")


@formula(_SHARE, F_i="lbf")
def share(F, A):
    """Return each part's share of the force on the whole face."""
    F_i = F * A / sum(A)
    return F_i


@formula(Source("derivation", "moved together until the resultant stands where the figure puts it"), r="ft")
def moved(r_i, A, r_F):
    """Return the parts' points of action."""
    r = r_i + r_F - sum(A * r_i) / sum(A)
    return r


@formula(Source("derivation", "raised as the figure raises the resultant of a sign that reaches the ground"), z="ft")
def raised(z_i, s, rise):
    """Return the parts' points of action on a solid end."""
    z = z_i + rise * s
    return z


@formula(Source("derivation", "outline less the panel"), A_g="ft**2")
def remainder(A_g0, A_s):
    """Return the gross area around the panel."""
    A_g = A_g0 - A_s
    return A_g


@dataclass(frozen=True)
class Conditions:
    """What is the same for every part: edition, exposure, speed, and the factors that do not change with height."""

    edition: Value
    exposure: Value
    V: Value
    K_e: Value
    K_d: Value
    K_d_sign: Value
    G: Value
    constants: dict[str, Value]
    topography: Any = None

    def K_zt(self, z: Value) -> Value | None:
        """Return the topographic factor at height z; None where the job names no feature."""
        t = self.topography
        if t is None:
            return None
        return topography(t.feature, self.exposure, t.height, t.half_length, t.distance, t.side, z).K_zt

    def q(self, z: Value, K_d: Value) -> Value:
        """Return the velocity pressure at height z; K_d enters in 7-16 only."""
        inside = K_d if edition_of(self.edition) == "7-16" else None
        K_z = exposure_factor(z=z, z_15=Z_LOW, **self.constants)
        return velocity_pressure(self.edition, self.V, K_z, self.K_zt(z), self.K_e, inside)

    def outside(self, K_d: Value) -> Value | None:
        """Return K_d where it stands in the force (7-22), else None."""
        return K_d if edition_of(self.edition) == "7-22" else None


@dataclass(frozen=True)
class Group:
    """Parts served by one figure.

    Attributes:
        name: Which face, and which part of it.
        figure: ``open frame``, ``solid panel``, ``solid end`` or ``loose parts``.
        tags: One for each entry of the arrays.
        epsilon: Solidity that the figure was entered with.
        epsilon_panel: Solidity that decided between open frame and solid sign; None where nothing was decided.
        A, u, z: Area seen and its point of action.
        q: Velocity pressure: an array, or that at the top of a panel.
        C_f: Coefficient, one for all or one a part.
        F: Force on each part, not less than the minimum.
        F_own: Force on each part's whole face, for its own fastening; None for loose parts.
        force: The equation and the minimum of an open frame; None for a panel.
        sign: The solid sign, if it is one.

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


def face_groups(at: Conditions, face: Face, tags: tuple[str, ...], round_: np.ndarray, along: bool) -> list[Group]:
    """Return the groups of a face: open frame or solid sign as its own openings are 30 % or more of its panel, or fewer.

    The panel of an end is its whole outline.
    """
    A_g = face.A_g if along else sign_area(B=face.B, s=face.s)
    epsilon = solidity(A_f=face.A_seen if along else total_area(A=face.A_in), A_g=A_g)
    if epsilon.magnitude <= SOLID_FROM.magnitude:
        return [open_group(at, face, tags, round_, along, epsilon)]
    return [end_solid(at, face, tags, epsilon)] if along else panel_groups(at, face, tags, round_, epsilon)


def open_group(
    at: Conditions, face: Face, tags: tuple[str, ...], round_: np.ndarray, along: bool, panel: Value | None = None
) -> Group:
    """Return a face whose openings are 30 % or more: Figure 29.4-2 on the solid area of every part."""
    epsilon = panel if along and panel is not None else solidity(A_f=total_area(A=face.A), A_g=face.A_g)
    q = at.q(face.z, at.K_d)
    C_f = _coefficient(epsilon, round_, face.D, q)
    force = design_force(at.edition, q, C_f, face.A, at.outside(at.K_d), at.G)
    own = design_force(at.edition, q, C_f, face.A_own, at.outside(at.K_d), at.G)
    return Group(
        face.name, "open frame", tags, epsilon, face.A, face.u, face.z, q, C_f, force.F, own.F, force, epsilon_panel=panel
    )


def panel_groups(at: Conditions, face: Face, tags: tuple[str, ...], round_: np.ndarray, epsilon: Value) -> list[Group]:
    """Return a face whose panel is solid (Figure 29.3-1), and what is seen of it around the panel (Figure 29.4-2)."""
    K_d = at.outside(at.K_d_sign)
    q = at.q(face.top, at.K_d_sign)
    sign = solid_sign(at.edition, face.B, face.s, face.top, q, K_d, epsilon, at.G)
    own = design_force(at.edition, q, sign.C_f_local, face.A_own, K_d, at.G)
    groups = [
        Group(
            f"{face.name}, panel", "solid panel", tags, epsilon, face.A_in, moved(r_i=face.u_in, A=face.A_in, r_F=face.u_c),
            moved(r_i=face.z_in, A=face.A_in, r_F=sign.z_F), q, sign.C_f, share(F=sign.F, A=face.A_in), own.F, sign=sign,
            epsilon_panel=epsilon,
        )
    ]  # fmt: skip
    rest = total_area(A=face.A_out)
    if rest.magnitude > 1e-6:
        epsilon = solidity(A_f=rest, A_g=remainder(A_g0=face.A_g, A_s=sign.A_s))
        q = at.q(face.z_out, at.K_d)
        C_f = _coefficient(epsilon, round_, face.D, q)
        force = design_force(at.edition, q, C_f, face.A_out, at.outside(at.K_d), at.G)
        name = f"{face.name}, around the panel"
        groups.append(
            Group(name, "open frame", tags, epsilon, face.A_out, face.u_out, face.z_out, q, C_f, force.F, force=force)
        )
    return groups


def end_solid(at: Conditions, face: Face, tags: tuple[str, ...], epsilon: Value) -> Group:
    """Return an end whose outline is solid: the larger of the outline as a sign and of every part for itself.

    Parts behind one another count in full, so that the sum is often more than the sign; no clause gives shielding.
    """
    K_d, q = at.outside(at.K_d_sign), at.q(face.h, at.K_d_sign)
    sign = solid_sign(at.edition, face.b, face.h, face.h, q, K_d, epsilon, at.G)
    C_f = solid_coefficient(sign.s_h, sign.B_s)
    every = design_force(at.edition, q, C_f, total_area(A=face.A), K_d, at.G)
    F = largest("F", {"the end as one sign": sign.F, "every part for itself": every.F})
    own = design_force(at.edition, q, C_f, face.A_own, K_d, at.G)
    z = raised(z_i=face.z, s=face.h, rise=RISE)
    each = share(F=F, A=face.A)
    return Group(
        face.name, "solid end", tags, epsilon, face.A, face.u, z, q, C_f, each, own.F, sign=sign, epsilon_panel=epsilon
    )


def loose_group(at: Conditions, rest: Loose, first: Group) -> Group:
    """Return conduit, braces and canopy edges, with the coefficient of the first face's solidity."""
    q = at.q(rest.z, at.K_d)
    C_f = _coefficient(first.epsilon, rest.round, rest.D, q)
    force = design_force(at.edition, q, C_f, rest.A, at.outside(at.K_d), at.G)
    name = "conduit, braces and canopy edges"
    return Group(name, "loose parts", rest.tags, first.epsilon, rest.A, rest.u, rest.z, q, C_f, force.F, force=force)

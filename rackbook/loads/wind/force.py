"""Design wind force of other structures: the equations of Chapter 29 and the minimum load; numbers and arrays alike."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.trace import DomainError, Source, Value, formula, given, largest
from rackbook.trace.maths import sum

from .pressure import BOTH, clause, edition_of

#: Rigid structure; that its frequency is 1 Hz or more is an assumption until the frame is analysed.
G_RIGID = given(0.85, "", clause(BOTH, "26.11.1, rigid structure"), "G")
P_MIN = given(16.0, "psf", clause(BOTH, "29.7, minimum design wind load, strength level"), "p_min")
MINIMUM = clause(BOTH, "29.7")


@formula(clause("16", "Eq. 29.4-1"), F="lbf")
def design_force_716(q_z, G, C_f, A_f):
    """Return the design wind force; directionality is in the velocity pressure."""
    F = q_z * G * C_f * A_f
    return F


@formula(clause("22", "Eq. 29.4-1"), F="lbf")
def design_force_722(q_z, K_d, G, C_f, A_f):
    """Return the design wind force."""
    F = q_z * K_d * G * C_f * A_f
    return F


@formula(clause("16", "Eq. 29.3-1"), F="lbf")
def sign_force_716(q_h, G, C_f, A_s):
    """Return the design wind force on a solid sign; directionality is in the velocity pressure."""
    F = q_h * G * C_f * A_s
    return F


@formula(clause("22", "Eq. 29.3-1"), F="lbf")
def sign_force_722(q_h, K_d, G, C_f, A_s):
    """Return the design wind force on a solid sign."""
    F = q_h * K_d * G * C_f * A_s
    return F


@formula(MINIMUM, F_min="lbf")
def minimum_force(p_min, A_f):
    """Return the minimum design wind force, at strength level."""
    F_min = p_min * A_f
    return F_min


@formula(clause(BOTH, "29.7, the area of a solid sign being its gross area"), F_min="lbf")
def minimum_sign_force(p_min, A_s):
    """Return the minimum design wind force on a solid sign, at strength level."""
    F_min = p_min * A_s
    return F_min


@formula(Source("derivation", "force over the area it acts on"), p="psf")
def mean_pressure(F, A_f):
    """Return the mean pressure on the area."""
    p = F / A_f
    return p


@formula(Source("derivation", "sum over all parts"), V_w="lbf")
def base_shear(F):
    """Return the wind force on the whole rack."""
    V_w = sum(F)
    return V_w


@formula(Source("derivation", "moment of all parts about the ground line"), M="lbf*ft")
def overturning(F, z):
    """Return the overturning moment about the ground line."""
    M = sum(F * z)
    return M


@formula(Source("derivation", "point of action of the resultant"), z_F="ft")
def action_height(M, V_w):
    """Return the height at which the resultant acts."""
    z_F = M / V_w
    return z_F


@formula(Source("derivation", "moment of all parts about the vertical axis through the middle"), T="lbf*ft")
def twist(F, u, u_0):
    """Return the torsion of the parts' own eccentricity."""
    T = sum(F * (u - u_0))
    return T


@dataclass(frozen=True)
class Force:
    """A design wind force on an area: by the equation, the minimum (None where none applies), and the one that governs."""

    A_f: Value
    F_calc: Value
    F_min: Value | None
    F: Value

    @property
    def p(self) -> Value:
        """The mean pressure; DomainError where there is no area."""
        return mean_pressure(F=self.F, A_f=self.A_f)


def directional(edition: Any, K_d: Value | None) -> dict[str, Value]:
    """Return K_d as an argument of the force where the edition has it there (7-22), nothing in 7-16.

    Raises:
        DomainError: K_d is missing in 7-22, or given again in 7-16.

    """
    if edition_of(edition) == "7-22":
        if K_d is None:
            raise DomainError("7-22 has K_d in the force (Eq. 29.3-1, 29.4-1); give K_d of Table 26.6-1.")
        return {"K_d": K_d}
    if K_d is not None:
        raise DomainError("7-16 has K_d inside q_z (Eq. 26.10-1); it must not be applied to the force again.")
    return {}


def design_force(
    edition: Any, q_z: Value, C_f: Value, A_f: Value, K_d: Value | None = None, G: Value | None = None,
    p_min: Value | None = P_MIN,
) -> Force:  # fmt: skip
    """Return the force on an area A_f by Eq. 29.4-1, not less than 16 psf times A_f (29.7).

    Args:
        edition: 7-16 or 7-22.
        q_z: Velocity pressure at the height of the area's centroid, of that edition.
        C_f: Force coefficient.
        A_f: The area the coefficient belongs to (the solid area with open frames).
        K_d: Directionality; needed with 7-22 only.
        G: Gust factor; 0.85 for a rigid structure if left out.
        p_min: Minimum design wind pressure; None where no minimum applies.

    Raises:
        DomainError: K_d is missing, or would be applied twice.

    """
    G = G if G is not None else G_RIGID
    once = directional(edition, K_d)
    made = design_force_722 if once else design_force_716
    F_calc = made(q_z=q_z, G=G, C_f=C_f, A_f=A_f, **once)
    if p_min is None:
        return Force(A_f, F_calc, None, F_calc)
    F_min = minimum_force(p_min=p_min, A_f=A_f)
    F = largest("F", {"Eq. 29.4-1": F_calc, "29.7, 16 psf": F_min}, MINIMUM)
    return Force(A_f, F_calc, F_min, F)

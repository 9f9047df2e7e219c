"""What bending comes to: the limit states of a section about one axis, the smallest of which governs."""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import Value, formula, given, smallest

from ..steel import clause

UNIFORM = given(1.0, "", clause("F1(c): 1.0 is safe for every moment diagram"), "C_b")


@formula(clause("Eq. F2-1, F7-1 and F8-1"), M_p="kip*in")
def plastic_moment(F_y, Z):
    """Return the plastic moment."""
    M_p = F_y * Z
    return M_p


@dataclass(frozen=True)
class Flexure:
    """Nominal strength in bending about one axis.

    Attributes:
        M_n: Nominal strength; its choice names the limit state and what was passed over.
        M_p: Plastic moment, or what yielding gives.
        states: Strength of every limit state that applies.
        L_p, L_r: Lengths of lateral-torsional buckling, where it applies.

    """

    M_n: Value
    M_p: Value
    states: dict[str, Value]
    L_p: Value | None = None
    L_r: Value | None = None


def of_states(states: dict[str, Value], L_p: Value | None = None, L_r: Value | None = None) -> Flexure:
    """Return the smallest of the limit states, the first of which is yielding."""
    return Flexure(smallest("M_n", states), next(iter(states.values())), states, L_p, L_r)


def factor(C_b: Value | None) -> Value:
    """Return C_b, or the 1.0 that is always safe."""
    return C_b if C_b is not None else UNIFORM

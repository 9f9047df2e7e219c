"""What every bolted joint of the rack is checked for at the bolts: shear, tension, both together, slip."""

from __future__ import annotations

from rackbook.trace import Source, Value, formula, given
from rackbook.trace.maths import abs, max

from ..steel import available, clause
from .bolts import (
    NOT_LONG,
    ONE_PLANE,
    Bolt,
    shear_and_tension,
    shear_and_tension_limit,
    shear_strength,
    tension_strength,
)
from .slip import ALPHA, D_U, H_F, MU_A, SLIP_STATE, slip_demand, slip_strength
from .strength import State

WHOLE = given(1.0, "", Source("derivation", "the parts together use the whole"), "u_max")
ONE = given(1.0, "", Source("derivation", "one"), "n")
TWO = given(2.0, "", Source("derivation", "two shear planes of a block, one beside each outer line of bolts"), "m")
BOLTS, HOLES = "bolts tension/shear/combined", "bearing, tearout at holes"
MORE = "Use larger or more bolts, or space them wider."


@formula(Source("derivation", "size of a force, whatever its sense"), F="kip")
def size(R_i):
    """Return the size of a force."""
    F = abs(R_i)
    return F


@formula(Source("derivation", "a push does not loosen the joint"), T="kip")
def pull(R_y):
    """Return the tension on a joint."""
    T = max(R_y, 0)
    return T


@formula(Source("derivation", "statics: the bolts' force at its arm, both parts taken as adding"), M_w="kip*in")
def moment_at_arm(M, F, a):
    """Return the moment at a distance from where the force acts."""
    M_w = abs(M) + abs(F) * a
    return M_w


def bolt_states(
    b: Bolt, r_v: Value, r_t: Value, T: Value, n_b: Value, slip: bool, method: str, k_l: Value = NOT_LONG
) -> tuple[State, ...]:
    """Return the limit states of the most loaded bolt of a joint in one shear plane.

    Args:
        b: The bolts.
        r_v: Shear on the most loaded bolt.
        r_t: Tension on the most loaded bolt.
        T: Tension on all bolts together, moments left out: they press as much as they pull.
        n_b: Number of bolts.
        slip: Whether they are slip-critical.
        method: ``"LRFD"`` or ``"ASD"``.
        k_l: Factor for the length of an end-loaded pattern.

    """
    r_cv = available(shear_strength(F_nv=b.F_nv, k_l=k_l, A_b=b.A_b, n_s=ONE_PLANE), BOLTS, method, "r_cv")
    r_ct = available(tension_strength(F_nt=b.F_nt, A_b=b.A_b), BOLTS, method, "r_ct")
    both, limit = shear_and_tension(r_t=r_t, F_nt=b.F_nt, F_nv=b.F_nv, r_v=r_v), shear_and_tension_limit(r_ct=r_ct)
    right = "1.3 phi F_nt A_b" if method == "LRFD" else "1.3 F_nt A_b/Omega"
    together = f"J3.8 (J3.7 in 360-16), Eqs. J3-2 and J3-3 as r_t + (F_nt/F_nv) r_v against {right}"
    states = (
        State("Bolts in shear", r_v, r_cv, clause("J3.7 (J3.6 in 360-16), Eq. J3-1"), MORE),
        State("Bolts in tension", r_t, r_ct, clause("J3.7 (J3.6 in 360-16), Eq. J3-1"), MORE),
        State("Bolts in shear and tension", both, limit, clause(together, "read"), MORE),
    )
    if not slip or b.T_b is None:
        return states
    r_cs = available(slip_strength(mu=MU_A, D_u=D_U, h_f=H_F, T_b=b.T_b, n_s=ONE_PLANE), SLIP_STATE["standard"], method, "r_cs")
    used = slip_demand(r_v=r_v, r_cs=r_cs, alpha=ALPHA[method], T=T, D_u=D_U, T_b=b.T_b, n_b=n_b)
    where = clause("J3.9 and J3.10 (J3.8 and J3.9 in 360-16), Eqs. J3-4, J3-5", "read")
    return (*states, State("Slip", used, r_cs, where, MORE))

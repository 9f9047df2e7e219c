"""Period of the rack. The approximate period of buildings (Eq. 12.8-7) is not used: 15.4.4 bars it here."""

from __future__ import annotations

from rackbook.trace import DomainError, Source, Value, formula
from rackbook.trace.maths import pi, sqrt

from ..weights.steel import G_N


@formula(Source("clause", "ASCE/SEI 7", "16 and 22", "15.4.4, one mass on a spring", "derived"), T="s")
def period_single_mass(W, k, g):
    """Return the period of a weight on a lateral stiffness."""
    T = 2 * pi * sqrt(W / (k * g))
    return T


def period(W: Value, k: Value) -> Value:
    """Return the period of the rack from its weight and its lateral stiffness at the height of the mass.

    Raises:
        DomainError: Weight or stiffness is not above zero.

    """
    for v in (W, k):
        if v.magnitude <= 0:
            raise DomainError(f"{v.symbol} = {v.text()} must be above zero: a period needs a weight and a stiffness.")
    return period_single_mass(W=W, k=k, g=G_N)


def stiffness_for(T: Value, W: Value) -> Value:
    """Return the lateral stiffness at which a weight has the period T.

    Raises:
        SolveError: There is none.

    """
    return period_single_mass.solve("k", T=T, W=W, g=G_N, unit="kip/in")

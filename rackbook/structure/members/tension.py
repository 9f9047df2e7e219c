"""Chapter D: tension, by yielding of the gross section and by rupture of the net one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.trace import Value, formula, given

from ..steel import clause, effective_net_area, shear_lag
from .section import as_section

#: What a hole counts wider than it is, for damage in making it.
DAMAGE = given(1 / 16, "in", clause("B4.3b", "read"), "c_h")
WHOLE = given(1.0, "", clause("Table D3.1, case 1: every part is connected"), "U")


@formula(clause("Eq. D2-1", "read"), P_n="kip")
def yielding(F_y, A_g):
    """Return the nominal strength at yielding of the gross section."""
    P_n = F_y * A_g
    return P_n


@formula(clause("B4.3b", "read"), A_n="in**2")
def net_area(A_g, n, d_h, c_h, t):
    """Return the net area across n holes of width d_h in one line across the member."""
    A_n = A_g - n * (d_h + c_h) * t
    return A_n


@formula(clause("Eq. D2-2", "read"), P_n="kip")
def rupture(F_u, A_e):
    """Return the nominal strength at rupture of the effective net section."""
    P_n = F_u * A_e
    return P_n


@dataclass(frozen=True)
class Tension:
    """Nominal strengths in tension; rupture is None where the ends are not given."""

    P_n: Value
    U: Value | None = None
    A_n: Value | None = None
    A_e: Value | None = None
    P_nu: Value | None = None


def tension(
    shape: Any,
    F_y: Value,
    F_u: Value | None = None,
    holes: Value | None = None,
    hole: Value | None = None,
    t: Value | None = None,
    x_bar: Value | None = None,
    l: Value | None = None,
) -> Tension:
    """Return the nominal strengths in tension.

    Args:
        shape: Designation, section, or family and properties.
        F_y: Yield stress.
        F_u: Tensile strength, where the ends are given.
        holes: Number of holes in one line across the member; none for a welded end.
        hole: Their width by Table J3.3.
        t: Thickness they go through.
        x_bar: Eccentricity of the connection; U = 1 if left out.
        l: Length of the connection.

    Raises:
        LookupFailed: There is no such shape.

    """
    of = as_section(shape)
    P_n = yielding(F_y=F_y, A_g=of["A"])
    if F_u is None:
        return Tension(P_n)
    A_n = of["A"]
    if holes is not None and hole is not None and t is not None:
        A_n = net_area(A_g=of["A"], n=holes, d_h=hole, c_h=DAMAGE, t=t)
    U = shear_lag(x_bar=x_bar, l=l) if x_bar is not None and l is not None else WHOLE
    A_e = effective_net_area(A_n=A_n, U=U)
    return Tension(P_n, U, A_n, A_e, rupture(F_u=F_u, A_e=A_e))

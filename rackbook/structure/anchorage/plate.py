"""Base plates without moment: bearing on concrete, cantilevers of the plate, thickness.

N is the plate's dimension in the plane of a moment, B the one across it; m and n are the cantilevers beyond the post.
"""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.trace import DomainError, Value, formula, largest
from rackbook.trace.maths import max, min, sqrt

from ..steel import clause as aisc
from .clauses import BEARING, FLEXURE, derived, dg1, phi, safety


@formula(aisc("J8: geometrically similar and concentric area"), k="")
def area_root(A_1, A_2):
    """Return the root of the ratio of the concrete's area to the plate's."""
    k = sqrt(A_2 / A_1)
    return k


@formula(aisc("J8: plate's outline grown to the edge of a round pier"), k="")
def growth_round(D, N, B):
    """Return the ratio sqrt(A_2/A_1), round pier."""
    k = D / sqrt(N**2 + B**2)
    return k


@formula(aisc("J8: plate's outline grown to the edge of a square pier"), k="")
def growth_square(D, N, B):
    """Return the ratio sqrt(A_2/A_1), square pier."""
    k = D / max(N, B)
    return k


@formula(aisc("Eq. J8-2: sqrt(A_2/A_1) not above 2"), k_A="")
def confinement(k):
    """Return the increase of bearing strength by the concrete around the plate."""
    k_A = min(k, 2)
    return k_A


@formula(aisc("Eq. J8-2"), f_pn="ksi")
def bearing_stress(f_c_prime, k_A):
    """Return the nominal bearing stress of concrete."""
    f_pn = 0.85 * f_c_prime * k_A
    return f_pn


@formula(aisc("Eq. J8-2"), P_p="kip")
def bearing_strength(f_pn, A_1):
    """Return the nominal bearing strength of concrete under a plate."""
    P_p = f_pn * A_1
    return P_p


@formula(aisc("B3.1"), F_d="ksi")
def design_stress(phi, F_n):
    """Return the design stress."""
    F_d = phi * F_n
    return F_d


@formula(aisc("B3.2"), F_d="ksi")
def allowable_stress(F_n, Omega):
    """Return the allowable stress."""
    F_d = F_n / Omega
    return F_d


@formula(derived("area of the plate"), A_1="in**2")
def plate_area(N, B):
    """Return the area of the plate."""
    A_1 = N * B
    return A_1


@formula(dg1("Eq. 4-10 and 4-11"), m="in")
def cantilever(N, k_y, d):
    """Return the cantilever of the plate beyond the yield line at the post."""
    m = (N - k_y * d) / 2
    return m


@formula(dg1("compression without moment, load ratio X"), X="")
def load_ratio(d, b_f, P, P_d):
    """Return the load ratio of the inner yield lines of a wide flange."""
    X = 4 * d * b_f / (d + b_f) ** 2 * (P / P_d)
    return X


@formula(dg1("compression without moment"), lamb="")
def inner_share(X):
    """Return the share of the inner cantilever, 1.0 at most."""
    lamb = min(2 * sqrt(X) / (1 + sqrt(max(1 - X, 0))), 1)
    return lamb


@formula(dg1("compression without moment"), n_prime="in")
def inner_cantilever(lamb, d, b_f):
    """Return the inner cantilever between the flanges of a wide flange."""
    n_prime = lamb * sqrt(d * b_f) / 4
    return n_prime


@formula(dg1("compression without moment, even bearing"), t_req="in")
def thickness_concentric(l, P, F_d, B, N):
    """Return the thickness a plate needs under a load without moment."""
    t_req = l * sqrt(2 * P / (F_d * B * N))
    return t_req


@formula(dg1("plastic strength t^2 F_y / 4 of a strip"), t_req="in")
def thickness(M_p, F_d):
    """Return the thickness at which a strip of the plate carries a moment a unit of its width."""
    t_req = sqrt(4 * M_p / F_d)
    return t_req


def by_method(F_n: Value, limit_state: str, method: str) -> Value:
    """Return the available stress of a limit state: phi F_n by LRFD, F_n / Omega by ASD.

    Raises:
        DomainError: The method is neither.

    """
    if method == "LRFD":
        return design_stress(phi=phi(limit_state), F_n=F_n)
    if method == "ASD":
        return allowable_stress(F_n=F_n, Omega=safety(limit_state))
    raise DomainError(f"'{method}' is no design method; allowed: LRFD, ASD.")


@dataclass(frozen=True, eq=False)
class Concentric:
    """A base plate under a load without moment.

    Attributes:
        m, n, n_prime: Cantilevers beyond the post, and the inner one of a wide flange.
        l: The one that governs.
        P_p, f_d, P_d: Nominal bearing strength; available bearing stress and strength.
        t_req: Thickness needed.

    """

    m: Value
    n: Value
    n_prime: Value | None
    l: Value
    P_p: Value
    f_d: Value
    P_d: Value
    t_req: Value


def concentric(
    P: Value, N: Value, B: Value, d: Value, b_f: Value, k_d: Value, k_b: Value, f_c_prime: Value, A_2: Value, F_y: Value,
    method: str = "LRFD", wide_flange: bool = True,
) -> Concentric:  # fmt: skip
    """Return the check of a plate without moment.

    Args:
        P: Compression, by the combinations of the method.
        N: Plate length along the post's depth d.
        B: Plate width along the post's width b_f.
        d: Depth of the post.
        b_f: Width of the post.
        k_d: Share of the depth at the yield line, 0.95; 0.80 of a round post.
        k_b: Share of the width at the yield line, 0.80 of a flange, 0.95 of a tube.
        f_c_prime: Concrete strength.
        A_2: Largest area of the concrete similar to and concentric with the plate.
        F_y: Yield strength of the plate.
        method: LRFD or ASD.
        wide_flange: Whether the post is a wide flange, which has the inner cantilever.

    Raises:
        DomainError: The load is not a compression, or the method is not known.

    """
    if P.magnitude <= 0:
        raise DomainError(f"P = {P.text()}: the plate of a base without moment is designed for compression; give P above zero.")
    area = plate_area(N=N, B=B)
    f_pn = bearing_stress(f_c_prime=f_c_prime, k_A=confinement(k=area_root(A_1=area, A_2=A_2)))
    f_d = by_method(f_pn, BEARING, method)
    strength = bearing_strength(f_pn=f_d, A_1=area).named("P_d")
    m, n = cantilever(N=N, k_y=k_d, d=d), cantilever(N=B, k_y=k_b, d=b_f).named("n")
    inner = None
    if wide_flange:
        inner = inner_cantilever(lamb=inner_share(X=load_ratio(d=d, b_f=b_f, P=P, P_d=strength)), d=d, b_f=b_f)
    l = largest("l", {"m": m, "n": n, **({"lambda n'": inner} if inner is not None else {})})
    t_req = thickness_concentric(l=l, P=P, F_d=by_method(F_y, FLEXURE, method), B=B, N=N)
    return Concentric(m, n, inner, l, bearing_strength(f_pn=f_pn, A_1=area), f_d, strength, t_req)

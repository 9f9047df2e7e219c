"""The concrete of the piers by strength (ACI 318-19): axial force and moment, shear, torsion, bars and ties."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.tables import table
from rackbook.trace import Check, Source, Value, check, formula, given
from rackbook.trace.maths import abs

from ..concrete import aci, cage_radius
from .actions import Acting, Demands
from .bars import BAR, GIVE_TIES, bar_checks, bar_count, development_check, tie_diameter
from .concrete import (
    SHEAR_PHI,
    concrete_shear,
    concrete_shear_without_ties,
    design_shear,
    least_ties,
    round_effective_depth,
    shear_strength,
    shear_without_ties,
    size_factor,
    square_effective_depth,
    tension_ratio,
    tie_shear,
    tie_spacing_for_high_shear,
    tie_spacing_for_shear,
    torsion_left_out,
    torsion_threshold,
    two_legs,
)
from .interaction import State, Strength, strength
from .loads import Loads
from .section import Section, gross, reduced_size, steel_area
from .size import Pier
from .vertical import round_perimeter, square_perimeter

GIVE_CONCRETE = "Give piers.concrete and piers.bars."


@formula(Source("derivation", "equilibrium of the pier"), P_b="kip")
def axial_at_base(P_u, c_D, W_p):
    """Return the axial force at the base of a pier, none of it given to the soil."""
    P_b = P_u + c_D * W_p
    return P_b


@formula(Source("derivation", "either sense"), P="kip")
def axial_size(P_u):
    """Return the size of an axial force."""
    P = abs(P_u)
    return P


@dataclass(frozen=True)
class ShearStrength:
    """Shear strength of the concrete section at one axial force.

    Attributes:
        V_c: Strength of the concrete.
        V_s: Strength of the ties; None where they are not counted.
        V_d: Design strength: of both, or half that of the concrete without the least ties.
        A_v, A_v_min: Ties there and the least that count; None without ties.

    """

    V_c: Value
    V_s: Value | None
    V_d: Value
    A_v: Value | None
    A_v_min: Value | None


@dataclass(frozen=True)
class Column:
    """Concrete of the piers.

    Attributes:
        b_e: Diameter or side that is counted on.
        section, strength: The section and its strengths.
        by_base: What acts at the governing combination of every base, with the moment strength at that axial force.
        worst: Index into ``by_base`` of the governing one.
        state: The section at its strength under the governing axial force; None where that alone is too large.
        shear: What acts where shear governs, and the strength there.
        checks: All checks.
        governing: Name of each check that rests on loads, with its combination.

    """

    b_e: Value
    section: Section
    strength: Strength
    by_base: tuple[tuple[Acting, Value], ...]
    worst: int
    state: State | None
    shear: tuple[Acting, ShearStrength]
    checks: tuple[Check, ...]
    governing: tuple[tuple[str, str], ...]


def section_of(piers: Any) -> tuple[Section, Value]:
    """Return the section of a job's piers that counts, and its size.

    Raises:
        DomainError: No bars fit, or they do not spread evenly over the sides of a square.

    """
    shape, bars = str(piers.shape), piers.bars
    d_b, A_b = (table("rebar").cell(str(bars.size), column, column) for column in ("d_b", "A_b"))
    d_t = tie_diameter(piers)
    A_g = gross(shape, piers.diameter)
    n = bar_count(bars)
    A_st = steel_area(n=n, A_b=A_b)
    b_e = reduced_size(b=piers.diameter, A_g=A_g, A_st=A_st)
    R_s = cage_radius(b=b_e, c_c=piers.cover, d_t=d_t, d_b=d_b)
    f_y = table("materials").cell(BAR, "F_y", "f_y")
    return Section(shape, b_e, R_s, n, A_b, piers.concrete, f_y), b_e


def column(job: Any, pier: Pier, acts: Demands, loads: Loads, labels: tuple[str, ...], on_footing: bool) -> Column:
    """Return the concrete of the piers.

    Args:
        job: The job; its piers have concrete and bars.
        pier: The piers.
        acts: Demands of the strength combinations.
        loads: Their reactions.
        labels: Names of the bases.
        on_footing: Whether the piers stand on footings.

    Raises:
        DomainError: No bars fit, or they do not spread evenly over the sides of a square.

    """
    of, b_e = section_of(job.piers)
    strong = strength(of)
    capacity = strong.moments(acts.P_u)
    ratios = np.where(capacity > 0, acts.M_u / np.where(capacity > 0, capacity, 1.0), np.inf)
    rows = np.argmax(ratios, axis=0)
    by_base = tuple(
        (acting, strong.moment_at(acting.P_u)) for acting in (acts.one(int(row), base) for base, row in enumerate(rows))
    )
    worst = int(np.argmax(ratios[rows, np.arange(len(rows))]))
    acting = by_base[worst][0]
    checks: list[Check] = []
    state = None
    name = f"Axial force and moment in the piers ({labels[worst]})"
    remedy = "More or larger bars, or wider piers."
    if by_base[worst][1].magnitude > 0:
        state = strong.at(acting.P_u)
        checks.append(check(name, acting.M_u, state.M_d, aci("22.4 and 21.2"), remedy=remedy))
    else:
        pulled = acting.P_u.magnitude < 0
        most, clause = (strong.P_t, "22.4.3.1") if pulled else (strong.P_max, "22.4.2.1")
        checks.append(
            check(
                f"Axial force alone in the piers ({labels[worst]})",
                axial_size(P_u=acting.P_u),
                most,
                aci(clause),
                remedy=remedy,
            )
        )
    said = [(c.name, acting.combination) for c in checks]
    pressed = _axial(pier, loads, strong, labels)
    sheared, shear = _shear(job.piers, of, acts)
    in_shear = _shear_checks(job.piers, sheared, shear, labels[sheared.base], of)
    twisted = _torsion(of, loads, labels)
    said += [(c.name, by) for c, by in pressed] + [(in_shear[0].name, sheared.combination), (twisted[0].name, twisted[1])]
    checks += [*(c for c, _ in pressed), *in_shear, twisted[0]]
    checks += bar_checks(job.piers, of, strong.A_st)
    if acting.z_M is not None and not on_footing:
        checks.append(development_check(job.piers, pier.D, of, acting.z_M))
    return Column(b_e, of, strong, by_base, worst, state, (sheared, shear), tuple(checks), tuple(said))


def _axial(pier: Pier, loads: Loads, strong: Strength, labels: tuple[str, ...]) -> list[tuple[Check, str]]:
    force = loads.P + loads.c_D[:, None] * pier.W_p.m_as("kip")
    row, base = divmod(int(np.argmax(force)), force.shape[1])
    P_b = axial_at_base(P_u=loads.value("P", row, base), c_D=loads.factor(row), W_p=pier.W_p)
    if P_b.magnitude <= 0:
        return []
    name = f"Axial compression of the piers ({labels[base]})"
    found = check(name, P_b, strong.P_max, aci("22.4.2.1"), remedy="Wider piers or stronger concrete.")
    return [(found, loads.labels[row])]


def _effective(of: Section) -> Value:
    if of.shape == "round":
        return round_effective_depth(b=of.b)
    eta = of.heights(0.0)
    mean = given(float(eta[eta > 1e-9].mean()), "", Source("derivation", "mean height of the bars beyond the center"), "eta_T")
    return square_effective_depth(b=of.b, y_T=middle_of_tension_bars(R_s=of.R_s, eta_T=mean))


@formula(Source("derivation", "geometry of the cage"), y_T="in")
def middle_of_tension_bars(R_s, eta_T):
    """Return the height of the middle of the bars in tension."""
    y_T = R_s * eta_T
    return y_T


def shear_of(piers: Any, of: Section, N_u: Value) -> ShearStrength:
    """Return the shear strength of the section at an axial force (positive in compression).

    Args:
        piers: The job's piers: their ties.
        of: The section.
        N_u: Axial force.

    """
    d = _effective(of)
    A_g = gross(of.shape, of.b)
    A_v, least = _ties(piers, of)
    f_c = of.f_c_prime
    if A_v is not None and least is not None and A_v.m_as("in**2") >= least.m_as("in**2"):
        V_c = concrete_shear(f_c_prime=f_c, N_u=N_u, A_g=A_g, b_w=of.b, d=d)
        V_s = tie_shear(A_v=A_v, f_yt=of.f_y, d=d, s=piers.ties.spacing)
        V_n = shear_strength(V_c=V_c, V_s=V_s, f_c_prime=f_c, b_w=of.b, d=d)
        return ShearStrength(V_c, V_s, design_shear(phi_v=SHEAR_PHI, V_n=V_n), A_v, least)
    far = min(int(np.sum(of.heights(a) < -1 / 3 * of.b.m_as("in") / 2 / of.R_s.m_as("in"))) for a in of.directions)
    n_t = given(far, "", aci("R22.5.5.1, bars beyond two thirds of the depth"), "n_t")
    V_c = concrete_shear_without_ties(
        f_c_prime=f_c, N_u=N_u, A_g=A_g, lamb_s=size_factor(d=d), rho_w=tension_ratio(n_t=n_t, A_b=of.A_b, b_w=of.b, d=d),
        b_w=of.b, d=d,
    )  # fmt: skip
    return ShearStrength(V_c, None, shear_without_ties(phi_v=SHEAR_PHI, V_c=V_c), A_v, least)


def _ties(piers: Any, of: Section) -> tuple[Value | None, Value | None]:
    if piers.ties is None:
        return None, None
    A_t = table("rebar").cell(str(piers.ties.size), "A_b", "A_t")
    least = least_ties(f_c_prime=of.f_c_prime, b_w=of.b, s=piers.ties.spacing, f_yt=of.f_y)
    return two_legs(A_t=A_t), least


def _shear(piers: Any, of: Section, acts: Demands) -> tuple[Acting, ShearStrength]:
    """Return what acts where shear governs, and the strength there."""
    N_u = given(acts.P_u.ravel(), "kip", Source("derivation", "axial force of every combination at every base"), "N_u")
    ratios = acts.V_u / np.maximum(shear_of(piers, of, N_u).V_d.m_as("kip").reshape(acts.V_u.shape), 1e-9)
    row, base = divmod(int(np.argmax(ratios)), ratios.shape[1])
    acting = acts.one(row, base)
    return acting, shear_of(piers, of, acting.P_u)


def _shear_checks(piers: Any, acting: Acting, found: ShearStrength, label: str, of: Section) -> list[Check]:
    remedy = GIVE_TIES if piers.ties is None else "Closer or larger ties, or wider piers."
    name = f"Shear in the piers ({label})"
    source = aci("22.5.1.1" if found.V_s else "10.6.2.1")
    checks = [check(name, acting.V_u, found.V_d if found.V_d.magnitude > 0 else None, source, remedy=remedy)]
    if found.V_s is None:
        return checks
    alone = shear_without_ties(phi_v=SHEAR_PHI, V_c=found.V_c)
    if acting.V_u.m_as("kip") > alone.m_as("kip"):  # ties are needed for shear
        d = _effective(of)
        high = found.V_s.m_as("lbf") > 4 * np.sqrt(of.f_c_prime.m_as("psi")) * of.b.m_as("in") * d.m_as("in")
        most = (tie_spacing_for_high_shear if high else tie_spacing_for_shear)(d=d)
        checks.append(check("Spacing of ties for shear", piers.ties.spacing, most, aci("10.7.6.5.2"), remedy="Closer ties."))
    return checks


def _torsion(of: Section, loads: Loads, labels: tuple[str, ...]) -> tuple[Check, str]:
    """Return the torsion of the frame's bases against that which may be neglected, and its combination."""
    A_g = gross(of.shape, of.b)
    p_cp = round_perimeter(b=of.b) if of.shape == "round" else square_perimeter(s=of.b)

    def most(N_u: Value) -> Value:
        threshold = torsion_threshold(f_c_prime=of.f_c_prime, A_g=A_g, p_cp=p_cp, N_u=N_u)
        return torsion_left_out(phi_v=SHEAR_PHI, T_th=threshold)

    force = given(loads.P.ravel(), "kip", Source("derivation", "axial force of every combination at every base"), "N_u")
    ratios = np.abs(loads.T) / np.maximum(most(force).m_as("kip*in").reshape(loads.T.shape), 1e-9)
    row, base = divmod(int(np.argmax(ratios)), ratios.shape[1])
    T_u, N_u = torsion_size(T=loads.value("T", row, base)), loads.value("P", row, base)
    remedy = "Torsion has to be designed for by 22.7, or the piers widened."
    left = most(N_u)
    name = f"Torsion in the piers ({labels[base]})"
    return check(name, T_u, left if left.magnitude > 0 else None, aci("22.7.1.1"), remedy=remedy), loads.labels[row]


@formula(Source("derivation", "either sense"), T_u="kip*ft")
def torsion_size(T):
    """Return the size of a torsion."""
    T_u = abs(T)
    return T_u

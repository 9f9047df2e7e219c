"""One bolt: its sizes from the tables, and its nominal strength in shear, tension and bearing (AISC 360, J3).

Holes are standard ones unless another kind is named. Bearing and tearout are those with deformation at the bolt hole at
service load as a consideration (2.4 and 1.2). The clear distance is taken to the hole as drilled, not to the larger
hole of the net area.
"""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.tables import table
from rackbook.trace import Source, Value, formula, given, pick, smallest
from rackbook.trace.maths import min

from ..steel import available, clause, factors

ONE_PLANE = given(1.0, "", Source("derivation", "two parts: one shear plane"), "n_s")
LONG_PATTERN = given(38.0, "in", clause("Table J3.2, note on end-loaded connections", "read"), "l_pl_max")
NOT_LONG = given(1.0, "", clause("Table J3.2, end-loaded length up to 38 in., or not end-loaded", "read"), "k_l")
LONG = given(0.833, "", clause("Table J3.2, end-loaded length over 38 in.", "read"), "k_l")


@formula(clause("Eq. J3-1"), r_nv="kip")
def shear_strength(F_nv, k_l, A_b, n_s):
    """Return the nominal shear strength of a bolt."""
    r_nv = F_nv * k_l * A_b * n_s
    return r_nv


@formula(clause("Eq. J3-1"), r_nt="kip")
def tension_strength(F_nt, A_b):
    """Return the nominal tension strength of a bolt."""
    r_nt = F_nt * A_b
    return r_nt


@formula(clause("Eq. J3-3a (LRFD)", "read"), f_rv="ksi", F_nt_prime="ksi")
def tension_stress_lrfd(F_nt, F_nv, phi, r_v, A_b):
    """Return the nominal tensile stress beside a shear stress."""
    f_rv = r_v / A_b
    F_nt_prime = min(1.3 * F_nt - F_nt / (phi * F_nv) * f_rv, F_nt)
    return F_nt_prime


@formula(clause("Eq. J3-3b (ASD)", "read"), f_rv="ksi", F_nt_prime="ksi")
def tension_stress_asd(F_nt, F_nv, Omega, r_v, A_b):
    """Return the nominal tensile stress beside a shear stress."""
    f_rv = r_v / A_b
    F_nt_prime = min(1.3 * F_nt - Omega * F_nt / F_nv * f_rv, F_nt)
    return F_nt_prime


@formula(clause("Eq. J3-2", "read"), r_nt="kip")
def tension_strength_left(F_nt_prime, A_b):
    """Return the nominal tension strength of a bolt that is also sheared."""
    r_nt = F_nt_prime * A_b
    return r_nt


@formula(clause("Eqs. J3-2 and J3-3, solved for the forces of the bolt", "read"), r_tv="kip")
def shear_and_tension(r_t, F_nt, F_nv, r_v):
    """Return the tension that loads a bolt as its tension and shear do together."""
    r_tv = r_t + F_nt / F_nv * r_v
    return r_tv


@formula(clause("Eqs. J3-2 and J3-3, solved for the forces of the bolt", "read"), r_ctv="kip")
def shear_and_tension_limit(r_ct):
    """Return the limit of tension and shear together."""
    r_ctv = 1.3 * r_ct
    return r_ctv


@formula(clause("Eq. J3-6a, bearing"), r_nb="kip")
def bearing_strength(d_b, t, F_u):
    """Return the nominal bearing strength at a bolt hole."""
    r_nb = 2.4 * d_b * t * F_u
    return r_nb


@formula(clause("Eq. J3-6c, tearout"), r_nto="kip")
def tearout_strength(l_c, t, F_u):
    """Return the nominal tearout strength at a bolt hole."""
    r_nto = 1.2 * l_c * t * F_u
    return r_nto


@formula(clause("Eq. J3-6c, clear distance to the edge"), l_c="in")
def clear_to_edge(L_e, d_h):
    """Return the clear distance between a hole and the edge."""
    l_c = L_e - d_h / 2
    return l_c


@formula(clause("Eq. J3-6c, clear distance to the next hole"), l_c="in")
def clear_between(s, d_h):
    """Return the clear distance between two holes."""
    l_c = s - d_h
    return l_c


@formula(clause("Section J3, user note on shear: the sum of the strengths of the individual fasteners"), R_n="kip")
def line_sum(r_edge, n, r_inner):
    """Return the nominal strength of a line of bolts in the line of force: the sum of each bolt's least strength."""
    R_n = r_edge + (n - 1) * r_inner
    return R_n


@dataclass(frozen=True)
class Bolt:
    """A bolt of the tables in a hole: sizes, stresses, pretension.

    Attributes:
        d_b, A_b: Diameter and gross area.
        d_h: Width of the hole.
        F_nt, F_nv: Nominal stresses of Table J3.2.
        T_b: Minimum pretension of Table J3.1; None for common bolts, which are not pretensioned.
        L_e_min: Least edge distance of Table J3.4.
        grade: Row of Table J3.2.

    """

    d_b: Value
    A_b: Value
    d_h: Value
    F_nt: Value
    F_nv: Value
    T_b: Value | None
    L_e_min: Value
    grade: str


def bolt(d_b: Value, grade: str, hole: str = "standard") -> Bolt:
    """Return a bolt by its diameter and its row of Table J3.2.

    Args:
        d_b: Diameter; a row of the table ``bolts``.
        grade: Row of the table ``bolt_stress``.
        hole: ``standard``, ``oversize``, ``short slot`` or ``long slot``.

    Raises:
        LookupFailed: The tables have no such diameter, grade or hole.

    """
    inches = round(d_b.m_as("in"), 6)  # a diameter written in another unit finds its row
    of, stress, by = table("bolts"), table("bolt_stress"), {"d_b": d_b}
    common = stress.cell(grade, "family").magnitude == "common"
    pretension = "T_b_150" if grade.startswith("Group 150") else "T_b"
    return Bolt(
        d_b=d_b,
        A_b=of.cell(inches, "A_b", "A_b", by=by),
        d_h=table("bolt_holes").cell((inches, hole), "width", "d_h", by=by),
        F_nt=stress.cell(grade, "F_nt", "F_nt"),
        F_nv=stress.cell(grade, "F_nv", "F_nv"),
        T_b=None if common else of.cell(inches, pretension, "T_b", by=by),
        L_e_min=of.cell(inches, "L_e_min", "L_e_min", by=by),
        grade=grade,
    )


def length_factor(l_pl: Value | None) -> Value:
    """Return the factor on F_nv for an end-loaded pattern of length ``l_pl``; None for one that is not end-loaded."""
    if l_pl is None or l_pl.m_as("in") <= LONG_PATTERN.m_as("in") * (1 + 1e-9):
        return NOT_LONG
    reduced: dict[str, Value | None] = {"over 38 in.": LONG, "up to 38 in.": NOT_LONG}
    return pick("k_l", reduced, "over 38 in.", "end-loaded pattern", {"l_pl": l_pl, "l_pl_max": LONG_PATTERN}, LONG.source)


@dataclass(frozen=True)
class Combined:
    """A bolt in shear and tension together: stress left for tension, nominal and available tension strength."""

    F_nt_prime: Value
    r_nt: Value
    r_ct: Value


def combined(F_nt: Value, F_nv: Value, A_b: Value, r_v: Value, method: str) -> Combined:
    """Return the tension strength of a bolt beside a required shear ``r_v``, by Eqs. J3-2 and J3-3.

    Raises:
        DomainError: The method is neither LRFD nor ASD.

    """
    state = "bolts tension/shear/combined"
    of = factors(state)
    if method == "LRFD":
        left = tension_stress_lrfd(F_nt=F_nt, F_nv=F_nv, phi=of.phi, r_v=r_v, A_b=A_b)
    else:
        left = tension_stress_asd(F_nt=F_nt, F_nv=F_nv, Omega=of.Omega, r_v=r_v, A_b=A_b)
    r_nt = tension_strength_left(F_nt_prime=left, A_b=A_b)
    return Combined(left, r_nt, available(r_nt, state, method, "r_ct"))


@dataclass(frozen=True)
class Hole:
    """One bolt against one part: clear distance, bearing, tearout and the smaller of the two, all nominal."""

    l_c: Value
    r_nb: Value
    r_nto: Value
    r_n: Value


def at_hole(d_b: Value, l_c: Value, t: Value, F_u: Value) -> Hole:
    """Return the nominal strength of a part at a bolt hole with clear distance ``l_c``, J3.11a (J3.10a in 360-16)."""
    r_nb = bearing_strength(d_b=d_b, t=t, F_u=F_u)
    r_nto = tearout_strength(l_c=l_c, t=t, F_u=F_u)
    return Hole(l_c, r_nb, r_nto, smallest("r_n", {"bearing": r_nb, "tearout": r_nto}))


@dataclass(frozen=True)
class BoltLine:
    """A line of bolts in the line of force: what each bolt bears, and the sum of the bolts' own least strengths."""

    r_nv: Value
    edge: Hole
    inner: Hole
    r_edge: Value
    r_inner: Value
    R_n: Value
    R_c: Value


def bolt_line(
    n: Value, s: Value, L_e: Value, d_b: Value, d_h: Value, A_b: Value, F_nv: Value, t: Value, F_u: Value, method: str,
    n_s: Value = ONE_PLANE, l_pl: Value | None = None,
) -> BoltLine:  # fmt: skip
    """Return the strength of n bolts in one line, loaded along it towards the edge of a part.

    Each bolt counts with the least of its own shear, bearing and tearout; the line with their sum, not with n times the
    weakest. ``l_pl`` is the length between the outer bolts of an end-loaded pattern.
    """
    r_nv = shear_strength(F_nv=F_nv, k_l=length_factor(l_pl), A_b=A_b, n_s=n_s)
    edge = at_hole(d_b, clear_to_edge(L_e=L_e, d_h=d_h), t, F_u)
    inner = at_hole(d_b, clear_between(s=s, d_h=d_h), t, F_u)
    least = [
        smallest("r_n", {"shear": r_nv, "bearing": h.r_nb, "tearout": h.r_nto}).named(name)
        for h, name in ((edge, "r_edge"), (inner, "r_inner"))
    ]
    R_n = line_sum(r_edge=least[0], n=n, r_inner=least[1])
    R_c = available(R_n, "bolts tension/shear/combined", method)
    return BoltLine(r_nv, edge, inner, least[0], least[1], R_n, R_c)

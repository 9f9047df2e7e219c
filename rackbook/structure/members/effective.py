"""Section E7: effective area of a section with slender walls."""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.tables import table
from rackbook.trace import DomainError, Value, formula, given, pick
from rackbook.trace.maths import sqrt

from ..steel import E, clause
from .section import Section, flange_width, flat_width, limit, ratio, web_depth

_STOCKY = "no wall is slender at this stress"
#: Diameter to thickness, as a coefficient of E/F_y, beyond which E7.2 gives nothing.
_MOST = 0.45


@formula(clause("Eq. E7-2", "read"), lamb_n="")
def slender_limit(lamb_r, F_y, F_n):
    """Return the width-to-thickness ratio from which the effective width is reduced."""
    lamb_n = lamb_r * sqrt(F_y / F_n)
    return lamb_n


@formula(clause("Eq. E7-5", "read"), F_el="ksi")
def local_stress(c_2, lamb_r, lamb, F_y):
    """Return the elastic stress at local buckling."""
    F_el = (c_2 * lamb_r / lamb) ** 2 * F_y
    return F_el


@formula(clause("Eq. E7-3", "read"), b_e="in")
def effective_width(b, c_1, F_el, F_n):
    """Return the effective width of a slender wall."""
    b_e = b * (1 - c_1 * sqrt(F_el / F_n)) * sqrt(F_el / F_n)
    return b_e


@formula(clause("E7.1", "read"), A_e="in**2")
def reduced_area(A, n, b, b_e, t):
    """Return the area less the ineffective parts of n walls of one kind."""
    A_e = A - n * (b - b_e) * t
    return A_e


@formula(clause("Eq. E7-7"), A_e="in**2")
def round_area(A_g, E, F_y, lamb):
    """Return the effective area of a round tube with a slender wall."""
    A_e = (0.038 * E / (F_y * lamb) + 2 / 3) * A_g
    return A_e


@dataclass(frozen=True)
class Wall:
    """Walls of one kind: their number, width, thickness, row of the limits, and case of Table E7.1."""

    n: Value
    b: Value
    t: Value
    element: str
    case: str


def effective_area(of: Section, F_y: Value, F_n: Value) -> Value:
    """Return the area that is effective at the nominal stress F_n of Section E3 or E4.

    Raises:
        DomainError: A round tube is thinner than E7.2 covers.

    """
    if of.family == "pipes":
        return _round(of, F_y)
    A_e = of["A"]
    by: dict[str, Value] = {}
    for wall in _walls(of):
        lamb, lamb_r = ratio(wall.b, wall.t), limit(wall.element, "lambda_r", F_y)
        lamb_n = slender_limit(lamb_r=lamb_r, F_y=F_y, F_n=F_n)
        by |= {f"b/t of {wall.element}": lamb, f"limit of {wall.element}": lamb_n}
        if lamb.magnitude > lamb_n.magnitude:
            of_case = table("effective_width")
            F_el = local_stress(c_2=of_case.cell(wall.case, "c_2", "c_2"), lamb_r=lamb_r, lamb=lamb, F_y=F_y)
            b_e = effective_width(b=wall.b, c_1=of_case.cell(wall.case, "c_1", "c_1"), F_el=F_el, F_n=F_n)
            A_e = reduced_area(A=A_e, n=wall.n, b=wall.b, b_e=b_e, t=wall.t)
    if A_e is of["A"] and by:
        return pick("A_e", {_STOCKY: of["A"]}, _STOCKY, "E7.1(a)", by, clause("E7"))
    return A_e


def _round(of: Section, F_y: Value) -> Value:
    lamb, lamb_r = ratio(of["OD"], of["t_des"]), limit("round HSS/pipe, compression", "lambda_r", F_y)
    if lamb.magnitude <= lamb_r.magnitude:
        return pick("A_e", {_STOCKY: of["A"]}, _STOCKY, "E7.2(a)", {"lamb": lamb, "lamb_r": lamb_r}, clause("E7.2"))
    most = _MOST * E.m_as("ksi") / F_y.m_as("ksi")
    if lamb.magnitude >= most:
        raise DomainError(
            f"{of.name}: D/t = {lamb.text()}; AISC 360, E7.2, covers round tubes below 0.45 E/F_y = {most:.1f}. "
            "Take a thicker wall."
        )
    return round_area(A_g=of["A"], E=E, F_y=F_y, lamb=lamb)


def _walls(of: Section) -> tuple[Wall, ...]:
    """Return the walls that may be slender; strut's published properties hold for the whole section at its yield stress."""
    if of.family == "hss":
        element = "HSS walls, compression"
        t = of["t_des"]
        if of["H"].m_as("in") == of["B"].m_as("in"):
            return (Wall(_count(4), flat_width(B=of["B"], t_des=t), t, element, "b"),)
        return tuple(Wall(_count(2), flat_width(B=of[side], t_des=t), t, element, "b") for side in ("H", "B"))
    if of.family in ("channels", "wide_flanges"):
        flanges = _count(4 if of.family == "wide_flanges" else 2)
        return (
            Wall(flanges, flange_width(of), of["t_f"], "I flange, compression", "c"),
            Wall(_count(1), web_depth(of), of["t_w"], "I web, compression", "a"),
        )
    if of.family == "angles":
        legs = ("b",) if of.equal_legs else ("b", "d")
        n = _count(2 if of.equal_legs else 1)
        return tuple(Wall(n, of[leg], of["t"], "angle legs, compression", "c") for leg in legs)
    return ()


def _count(n: int) -> Value:
    return _COUNTS[n]


_COUNTS = {n: given(float(n), "", clause("E7.1: walls of one kind"), "n") for n in (1, 2, 4)}

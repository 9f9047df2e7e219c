"""Sections F2, F3 and F6: bending of channels and wide flanges."""

from __future__ import annotations

from rackbook.trace import DomainError, Value, formula, given
from rackbook.trace.maths import min, pi, sqrt

from ..steel import E, clause
from .flexure_states import Flexure, factor, of_states, plastic_moment
from .section import Section, flange_width, limit, ratio, web_depth

_C = given(1.0, "", clause("Eq. F2-8a"), "c")


@formula(clause("Eq. F2-5", "read"), L_p="in")
def length_p(r_y, E, F_y):
    """Return the unbraced length up to which a section yields."""
    L_p = 1.76 * r_y * sqrt(E / F_y)
    return L_p


@formula(clause("Eq. F2-8b", "read"), c="")
def channel_constant(h_o, I_y, C_w):
    """Return the coefficient c of a channel."""
    c = h_o / 2 * sqrt(I_y / C_w)
    return c


@formula(clause("Eq. F2-6", "read"), a="", L_r="in")
def length_r(r_ts, E, F_y, J, c, S_x, h_o):
    """Return the unbraced length from which a section buckles elastically."""
    a = J * c / (S_x * h_o)
    L_r = 1.95 * r_ts * E / (0.7 * F_y) * sqrt(a + sqrt(a**2 + 6.76 * (0.7 * F_y / E) ** 2))
    return L_r


@formula(clause("Eq. F2-2, before its bound M_p", "read"), M_n="kip*in")
def inelastic_buckling(C_b, M_p, F_y, S_x, L_b, L_p, L_r):
    """Return the nominal strength at inelastic lateral-torsional buckling."""
    M_n = C_b * (M_p - (M_p - 0.7 * F_y * S_x) * (L_b - L_p) / (L_r - L_p))
    return M_n


@formula(clause("Eq. F2-3 and F2-4"), F_cr="ksi", M_n="kip*in")
def elastic_buckling(C_b, E, L_b, r_ts, J, c, S_x, h_o):
    """Return the nominal strength at elastic lateral-torsional buckling."""
    F_cr = C_b * pi**2 * E / (L_b / r_ts) ** 2 * sqrt(1 + 0.078 * J * c / (S_x * h_o) * (L_b / r_ts) ** 2)
    M_n = F_cr * S_x
    return M_n


@formula(clause("Eq. F3-1"), M_n="kip*in")
def noncompact_flange(M_p, F_y, S_x, lamb_f, lamb_pf, lamb_rf):
    """Return the nominal strength at local buckling of a noncompact flange."""
    M_n = M_p - (M_p - 0.7 * F_y * S_x) * (lamb_f - lamb_pf) / (lamb_rf - lamb_pf)
    return M_n


@formula(clause("Eq. F6-1"), M_p="kip*in")
def minor_moment(F_y, Z_y, S_y):
    """Return the plastic moment about the minor axis."""
    M_p = min(F_y * Z_y, 1.6 * F_y * S_y)
    return M_p


@formula(clause("Eq. F6-2"), M_n="kip*in")
def minor_noncompact_flange(M_p, F_y, S_y, lamb_f, lamb_pf, lamb_rf):
    """Return the nominal strength about the minor axis at local buckling of a noncompact flange."""
    M_n = M_p - (M_p - 0.7 * F_y * S_y) * (lamb_f - lamb_pf) / (lamb_rf - lamb_pf)
    return M_n


def bending(of: Section, F_y: Value, axis: str, L_b: Value | None, C_b: Value | None) -> Flexure:
    """Return the nominal strength of a channel or wide flange about an axis.

    Raises:
        DomainError: A flange is slender or a web not compact, which no rolled shape of the tables has.

    """
    return _major(of, F_y, L_b, C_b) if axis == "x" else _minor(of, F_y)


def _major(of: Section, F_y: Value, L_b: Value | None, C_b: Value | None) -> Flexure:
    M_p = plastic_moment(F_y=F_y, Z=of["Z_x"])
    states = {"yielding (F2-1)": M_p}
    lamb_f, lamb_pf, lamb_rf = _flange(of, F_y)
    _compact_web(of, F_y)
    if lamb_f.magnitude > lamb_pf.magnitude:
        states["flange local buckling (F3-1)"] = noncompact_flange(
            M_p=M_p, F_y=F_y, S_x=of["S_x"], lamb_f=lamb_f, lamb_pf=lamb_pf, lamb_rf=lamb_rf
        )
    if L_b is None:
        return of_states(states)
    c = channel_constant(h_o=of["h_o"], I_y=of["I_y"], C_w=of["C_w"]) if of.family == "channels" else _C
    L_p = length_p(r_y=of["r_y"], E=E, F_y=F_y)
    L_r = length_r(r_ts=of["r_ts"], E=E, F_y=F_y, J=of["J"], c=c, S_x=of["S_x"], h_o=of["h_o"])
    length = L_b.m_as("in")
    if length > L_r.m_as("in"):
        states["lateral-torsional buckling (F2-3)"] = elastic_buckling(
            C_b=factor(C_b), E=E, L_b=L_b, r_ts=of["r_ts"], J=of["J"], c=c, S_x=of["S_x"], h_o=of["h_o"]
        )
    elif length > L_p.m_as("in"):
        states["lateral-torsional buckling (F2-2)"] = inelastic_buckling(
            C_b=factor(C_b), M_p=M_p, F_y=F_y, S_x=of["S_x"], L_b=L_b, L_p=L_p, L_r=L_r
        )
    return of_states(states, L_p, L_r)


def _minor(of: Section, F_y: Value) -> Flexure:
    M_p = minor_moment(F_y=F_y, Z_y=of["Z_y"], S_y=of["S_y"])
    states = {"yielding (F6-1)": M_p}
    lamb_f, lamb_pf, lamb_rf = _flange(of, F_y)
    if lamb_f.magnitude > lamb_pf.magnitude:
        states["flange local buckling (F6-2)"] = minor_noncompact_flange(
            M_p=M_p, F_y=F_y, S_y=of["S_y"], lamb_f=lamb_f, lamb_pf=lamb_pf, lamb_rf=lamb_rf
        )
    return of_states(states)


def _flange(of: Section, F_y: Value) -> tuple[Value, Value, Value]:
    lamb_f = ratio(flange_width(of), of["t_f"], "lamb_f")
    limits = [limit("I/C flange, flexure", f"lambda_{k}", F_y, f"lamb_{k}f") for k in "pr"]
    if lamb_f.magnitude > limits[1].magnitude:
        raise DomainError(
            f"{of.name}: its flange is slender (b/t = {lamb_f.text()}, limit {limits[1].text()}), which no rolled shape of the "
            "tables is; F3 and F6 are worked here for compact and noncompact flanges. Take another shape."
        )
    return lamb_f, limits[0], limits[1]


def _compact_web(of: Section, F_y: Value) -> None:
    lamb_w, lamb_pw = ratio(web_depth(of), of["t_w"], "lamb_w"), limit("I/C web, flexure", "lambda_p", F_y, "lamb_pw")
    if lamb_w.magnitude > lamb_pw.magnitude:
        raise DomainError(
            f"{of.name}: its web is not compact (h/t_w = {lamb_w.text()}, limit {lamb_pw.text()}), which no rolled shape of "
            "the tables is; F4 and F5 are not worked here. Take another shape."
        )

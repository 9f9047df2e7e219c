"""Sections F7 and F8: bending of square, rectangular and round tubes."""

from __future__ import annotations

from rackbook.trace import DomainError, Value, formula, pick
from rackbook.trace.maths import sqrt

from ..steel import E, clause
from .flexure_states import Flexure, factor, of_states, plastic_moment
from .section import Section, flat_width, limit, ratio

#: Diameter to thickness, as a coefficient of E/F_y, that F8 stops at.
_MOST = 0.45


@formula(clause("Eq. F7-2", "read", "22"), M_n="kip*in")
def noncompact_flange_22(M_p, F_y, S, lamb_f, lamb_pf, lamb_rf):
    """Return the nominal strength at local buckling of a noncompact flange."""
    M_n = M_p - (M_p - F_y * S) * (lamb_f - lamb_pf) / (lamb_rf - lamb_pf)
    return M_n


@formula(clause("Eq. F7-2", edition="16"), M_n="kip*in")
def noncompact_flange_16(M_p, F_y, S, lamb_f, E):
    """Return the nominal strength at local buckling of a noncompact flange, before its bound M_p."""
    M_n = M_p - (M_p - F_y * S) * (3.57 * lamb_f * sqrt(F_y / E) - 4.0)
    return M_n


@formula(clause("Eq. F7-4", "read"), b_e="in")
def effective_flange(t, E, F_y, lamb_f):
    """Return the effective width of a slender flange in compression."""
    b_e = 1.92 * t * sqrt(E / F_y) * (1 - 0.38 / lamb_f * sqrt(E / F_y))
    return b_e


@formula(clause("F7.2(c), the ineffective width left out of both flanges", "read"), I_e="in**4", S_e="in**3")
def effective_modulus(I, b, b_e, t, H):
    """Return the effective section modulus."""
    I_e = I - 2 * ((b - b_e) * t**3 / 12 + (b - b_e) * t * ((H - t) / 2) ** 2)
    S_e = 2 * I_e / H
    return S_e


@formula(clause("Eq. F7-3", "read"), M_n="kip*in")
def slender_flange(F_y, S_e):
    """Return the nominal strength at local buckling of a slender flange."""
    M_n = F_y * S_e
    return M_n


@formula(clause("Eq. F7-6", "memory", "22"), M_n="kip*in")
def noncompact_web_22(M_p, F_y, S, lamb_w, lamb_pw, lamb_rw):
    """Return the nominal strength at local buckling of a noncompact web."""
    M_n = M_p - (M_p - F_y * S) * (lamb_w - lamb_pw) / (lamb_rw - lamb_pw)
    return M_n


@formula(clause("Eq. F7-6", edition="16"), M_n="kip*in")
def noncompact_web_16(M_p, F_y, S, lamb_w, E):
    """Return the nominal strength at local buckling of a noncompact web, before its bound M_p."""
    M_n = M_p - (M_p - F_y * S) * (0.305 * lamb_w * sqrt(F_y / E) - 0.738)
    return M_n


@formula(clause("Eq. F7-12", "read"), L_p="in")
def length_p(E, r_y, J, A_g, M_p):
    """Return the unbraced length up to which a rectangular tube yields."""
    L_p = 0.13 * E * r_y * sqrt(J * A_g) / M_p
    return L_p


@formula(clause("Eq. F7-13", "read"), L_r="in")
def length_r(E, r_y, J, A_g, F_y, S_x):
    """Return the unbraced length from which a rectangular tube buckles elastically."""
    L_r = 2 * E * r_y * sqrt(J * A_g) / (0.7 * F_y * S_x)
    return L_r


@formula(clause("Eq. F7-10, before its bound M_p", "read"), M_n="kip*in")
def inelastic_buckling(C_b, M_p, F_y, S_x, L_b, L_p, L_r):
    """Return the nominal strength of a rectangular tube at inelastic lateral-torsional buckling."""
    M_n = C_b * (M_p - (M_p - 0.7 * F_y * S_x) * (L_b - L_p) / (L_r - L_p))
    return M_n


@formula(clause("Eq. F7-11"), M_n="kip*in")
def elastic_buckling(E, C_b, J, A_g, L_b, r_y):
    """Return the nominal strength of a rectangular tube at elastic lateral-torsional buckling."""
    M_n = 2 * E * C_b * sqrt(J * A_g) / (L_b / r_y)
    return M_n


@formula(clause("Eq. F8-2"), M_n="kip*in")
def noncompact_round(E, lamb, F_y, S):
    """Return the nominal strength of a round tube at local buckling of a noncompact wall."""
    M_n = (0.021 * E / lamb + F_y) * S
    return M_n


@formula(clause("Eq. F8-3 and F8-4"), F_cr="ksi", M_n="kip*in")
def slender_round(E, lamb, S):
    """Return the nominal strength of a round tube at local buckling of a slender wall."""
    F_cr = 0.33 * E / lamb
    M_n = F_cr * S
    return M_n


def bending(of: Section, F_y: Value, axis: str, L_b: Value | None, C_b: Value | None, edition: str) -> Flexure:
    """Return the nominal strength of a square or rectangular tube about an axis.

    Raises:
        DomainError: The web is slender, which no tube of the tables is.

    """
    across, along = ("B", "H") if axis == "x" else ("H", "B")  # of the flange, and of the web
    t, Z, S = of["t_des"], of[f"Z_{axis}"], of[f"S_{axis}"]
    M_p = plastic_moment(F_y=F_y, Z=Z)
    states = {"yielding (F7-1)": M_p}
    b, h = flat_width(B=of[across], t_des=t), flat_width(B=of[along], t_des=t).named("h")
    lamb_f, lamb_w = ratio(b, t, "lamb_f"), ratio(h, t, "lamb_w")
    pf, rf = (limit("HSS flange, flexure", f"lambda_{k}", F_y, f"lamb_{k}f") for k in "pr")
    pw, rw = (limit("HSS web, flexure", f"lambda_{k}", F_y, f"lamb_{k}w") for k in "pr")
    if lamb_w.magnitude > rw.magnitude:
        raise DomainError(
            f"{of.name}: its web is slender (h/t = {lamb_w.text()}, limit {rw.text()}), which no tube of the tables is; "
            "F7.3(c) is not worked here. Select a thicker wall."
        )
    if lamb_f.magnitude > rf.magnitude:
        b_e = effective_flange(t=t, E=E, F_y=F_y, lamb_f=lamb_f)
        S_e = effective_modulus(I=of[f"I_{axis}"], b=b, b_e=b_e, t=t, H=of[along])
        states["flange local buckling (F7-3)"] = slender_flange(F_y=F_y, S_e=S_e)
    elif lamb_f.magnitude > pf.magnitude:
        if edition == "22":
            M_n = noncompact_flange_22(M_p=M_p, F_y=F_y, S=S, lamb_f=lamb_f, lamb_pf=pf, lamb_rf=rf)
        else:
            M_n = noncompact_flange_16(M_p=M_p, F_y=F_y, S=S, lamb_f=lamb_f, E=E)
        states["flange local buckling (F7-2)"] = M_n
    if lamb_w.magnitude > pw.magnitude:
        if edition == "22":
            M_n = noncompact_web_22(M_p=M_p, F_y=F_y, S=S, lamb_w=lamb_w, lamb_pw=pw, lamb_rw=rw)
        else:
            M_n = noncompact_web_16(M_p=M_p, F_y=F_y, S=S, lamb_w=lamb_w, E=E)
        states["web local buckling (F7-6)"] = M_n
    if len(states) == 1:
        words = "flange and web compact (Table B4.1b)"
        by = {"lamb_f": lamb_f, "lamb_pf": pf, "lamb_w": lamb_w, "lamb_pw": pw}
        states = {
            "yielding (F7-1)": pick("M_p", {words: M_p}, words, "width to thickness at most lambda_p", by, clause("F7.1"))
        }
    if axis == "y" or L_b is None or of["B"].m_as("in") >= of["H"].m_as("in"):
        return of_states(states)  # about the minor axis and square tubes: no lateral-torsional buckling
    return _lateral(of, F_y, M_p, L_b, factor(C_b), states)


def _lateral(of: Section, F_y: Value, M_p: Value, L_b: Value, C_b: Value, states: dict[str, Value]) -> Flexure:
    L_p = length_p(E=E, r_y=of["r_y"], J=of["J"], A_g=of["A"], M_p=M_p)
    L_r = length_r(E=E, r_y=of["r_y"], J=of["J"], A_g=of["A"], F_y=F_y, S_x=of["S_x"])
    length = L_b.m_as("in")
    if length > L_r.m_as("in"):
        states["lateral-torsional buckling (F7-11)"] = elastic_buckling(
            E=E, C_b=C_b, J=of["J"], A_g=of["A"], L_b=L_b, r_y=of["r_y"]
        )
    elif length > L_p.m_as("in"):
        states["lateral-torsional buckling (F7-10)"] = inelastic_buckling(
            C_b=C_b, M_p=M_p, F_y=F_y, S_x=of["S_x"], L_b=L_b, L_p=L_p, L_r=L_r
        )
    return of_states(states, L_p, L_r)


def round_bending(of: Section, F_y: Value) -> Flexure:
    """Return the nominal strength of a round tube.

    Raises:
        DomainError: The wall is thinner than F8 covers.

    """
    states = {"yielding (F8-1)": plastic_moment(F_y=F_y, Z=of["Z"])}
    lamb = ratio(of["OD"], of["t_des"])
    lamb_p, lamb_r = (limit("round HSS/pipe, flexure", f"lambda_{k}", F_y) for k in "pr")
    most = _MOST * E.m_as("ksi") / F_y.m_as("ksi")
    if lamb.magnitude >= most:
        raise DomainError(
            f"{of.name}: D/t = {lamb.text()}; AISC 360, F8, covers round tubes below 0.45 E/F_y = {most:.1f}. "
            "Select a thicker wall."
        )
    if lamb.magnitude > lamb_r.magnitude:
        states["local buckling (F8-3)"] = slender_round(E=E, lamb=lamb, S=of["S"])
    elif lamb.magnitude > lamb_p.magnitude:
        states["local buckling (F8-2)"] = noncompact_round(E=E, lamb=lamb, F_y=F_y, S=of["S"])
    return of_states(states)

"""The web of a channel under bolts that pull on it between its flanges: yield lines.

Assumed, all on the safe side: the web is hinged at the flanges, a bolt head is a point, membrane action is not counted. About
one bolt two wedges turn about the flanges and two fans close the gap between them: W = 4 tan(a) + 4 pi - 8 a in plastic
moments of a unit width, least at a = 45 degrees, where it is 4 + 2 pi wherever the bolt stands. Bolts near each other share
one mechanism: in a row along the web the wedges grow by their spacing, in a line across it the fans are drawn apart by it.
"""

from __future__ import annotations

import numpy as np

from rackbook.trace import Source, Value, formula, given
from rackbook.trace.maths import cos, max, min, pi, tan

from ..steel import available, clause
from .sections import Rail
from .strength import State

_YIELD_LINES = Source("derivation", "yield lines in the web, hinged at the flanges; bolt heads as points")
_ANGLES = np.radians(np.linspace(30.0, 85.0, 1101))
STIFFER = "Space the bolts wider, put a plate behind the web, or select a rail with a thicker web."


@formula(Source("derivation", "plastic moment of a unit width"), m_p="kip")
def plastic_moment(F_y, t_r):
    """Return the plastic moment of a unit width of a plate."""
    m_p = F_y * t_r**2 / 4
    return m_p


@formula(_YIELD_LINES, r_nw="kip")
def pull_along(m_p, s_x, h_w):
    """Return the nominal pull on each of two bolts along the middle of a web."""
    r_nw = m_p * min(4 + 2 * pi, 2 + pi + 2 * s_x / h_w)
    return r_nw


@formula(_YIELD_LINES, c_w="in", W_w="", r_nw="kip")
def pull_across(m_p, n, s, h_w, t_r, alpha):
    """Return the nominal pull on each bolt of a line across a web."""
    c_w = max((h_w - (n - 1) * s) / 2, t_r)
    W_w = 4 * tan(alpha) + 4 * pi - 8 * alpha + 4 * (n - 1) * s / c_w * cos(alpha)
    r_nw = m_p * min(4 + 2 * pi, W_w / n)
    return r_nw


def wedge_angle(n: Value, s: Value, h_w: Value, t_r: Value) -> Value:
    """Return the half angle of the wedges that gives bolts in a line across the web the least strength, found by trial."""
    apart = (n.magnitude - 1) * s.m_as("in")
    lever = np.maximum((h_w.m_as("in") - apart) / 2, t_r.m_as("in"))
    work = 4 * np.tan(_ANGLES) + 4 * np.pi - 8 * _ANGLES + 4 * apart / lever * np.cos(_ANGLES)
    where = Source("derivation", "yield lines: the angle that gives the least strength, by trial")
    return given(round(float(_ANGLES[np.argmin(work)]), 3), "rad", where, "alpha")


def along(rail: Rail, s_x: Value, method: str) -> Value:
    """Return the available pull on each of two bolts along a channel's web; ``s_x`` a number or one for each place."""
    assert rail.h_w is not None
    r_nw = pull_along(m_p=plastic_moment(F_y=rail.F_y, t_r=rail.t), s_x=s_x, h_w=rail.h_w)
    return available(r_nw, "flexure", method, "r_cp")


def across(rail: Rail, n: Value, s: Value, method: str) -> Value:
    """Return the available pull on each of n bolts in a line across a channel's web."""
    assert rail.h_w is not None
    m_p, alpha = plastic_moment(F_y=rail.F_y, t_r=rail.t), wedge_angle(n, s, rail.h_w, rail.t)
    r_nw = pull_across(m_p=m_p, n=n, s=s, h_w=rail.h_w, t_r=rail.t, alpha=alpha)
    return available(r_nw, "flexure", method, "r_cp")


def state(r_t: Value, r_cp: Value) -> State:
    """Return the limit state of the web."""
    return State("Rail's web under the bolts' pull", r_t, r_cp, clause("F11 in form; yield lines"), STIFFER)

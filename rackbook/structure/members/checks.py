"""Checks of a rack's members: the governing row of each part by kind, and the rules of single clauses."""

from __future__ import annotations

from typing import Any

import numpy as np

from rackbook.tables import table
from rackbook.trace import Check, LookupFailed, Source, Value, check, formula, given
from rackbook.trace.maths import abs

from ..steel import available, clause
from .combined import open_shear
from .edition import ONE
from .strength import Strength
from .tension import tension
from .worked import INTERACTION, SHEAR, TORSION, formula_of

PLURAL = {"post": "Posts", "rail": "Rails", "tie": "Ties", "brace": "Braces"}
REMEDIES = {
    "post": "Select a heavier post, shorten it, or brace the rack.",
    "rail": "Select a heavier rail (a tube where it twists), shorten the bays, or move heavy items closer to the posts.",
    "tie": "Select a heavier tie.",
    "brace": "Select a heavier brace, or shorten it.",
}
CANTILEVER = "cantilever_column"
#: Share of their strength that cantilever columns may have in axial force under seismic combinations.
CANTILEVER_SHARE = 0.15
#: A ratio below this is rounding of the frame analysis: nothing acts.
NOTHING = 1e-9
GIVE_BOLTS = (
    "Give connections.bolt and a clip with at least two bolts (the braces are assumed to have the same), or show the weld."
)
_LINE = given(1.0, "", Source("assumption", "braces: bolts of the rail clips in one line along one leg"), "n")
_ORIGIN = Source("assumption", "braces: bolts of the rail clips in one line along one leg")


@formula(Source("derivation", "length of a line of bolts, first to last"), l="in")
def line_length(n_b, s):
    """Return the length of a connection."""
    l = (n_b - 1) * s
    return l


@formula(Source("derivation", "tension is below zero in the frame"), T_r="kip")
def tension_of(P_r):
    """Return the size of a tension."""
    T_r = abs(P_r)
    return T_r


def part_checks(by_mark: dict[str, Any]) -> list[Check]:
    """Return one check of each kind for the member of each part that governs it."""
    found = []
    for part, plural in PLURAL.items():
        own = [m for m in by_mark.values() if m.part == part]
        for kind in (INTERACTION, SHEAR, TORSION):
            having = [m for m in own if kind in m.checks]
            if not having:
                continue
            most = max(having, key=lambda m: float(m.checks[kind].ratio.magnitude))
            if most.checks[kind].ratio.magnitude < NOTHING:
                continue
            of = formula_of(most.checks[kind].ratio)
            words = "shear with torsion" if of is open_shear else kind
            name = f"{plural}: {words} ({most.mark}, {most.shape})"
            found.append(check(name, most.checks[kind].ratio, ONE, of.source, remedy=REMEDIES[part]))
    return found


def cantilever_check(job: Any, frame: Any, name: str, of_member: list[Strength], actions: Any) -> list[Check]:
    """Return the limit on the axial force of cantilever columns under the combinations with seismic loads."""
    rows = [k for k, kind in enumerate(frame.sets[name].kinds) if kind == "seismic"]
    posts = [n for n, m in enumerate(frame.members) if m.part == "post"]
    if not str(job.site.seismic.system).endswith(CANTILEVER) or not rows or not posts:
        return []
    P_c = np.array([s.P_c.m_as("kip") for s in of_member])
    used = np.where(np.isin(actions.member, posts), actions.P / P_c[actions.member], -np.inf)[rows]
    k, at = np.unravel_index(int(np.argmax(used)), used.shape)
    n = int(actions.member[at])
    P_r = frame.action(name, "P", n, rows[int(k)], int(at))
    edition = str(job.codes.loads).removeprefix("ASCE/SEI 7-")
    return [
        check(
            f"Posts: axial force of cantilever columns ({frame.members[n].mark})",
            P_r,
            of_member[n].P_c,
            Source("clause", "ASCE/SEI 7", edition, "12.2.5.2", "memory"),
            limit=CANTILEVER_SHARE,
            remedy="Select a heavier post or more posts.",
        )
    ]


def brace_checks(job: Any, frame: Any, name: str, of_member: list[Strength], actions: Any) -> tuple[list[Check], list[str]]:
    """Return the checks of braces by E5 and of their net section in tension, and what is assumed for them."""
    braces = [(m, of_member[n], n) for n, m in enumerate(frame.members) if m.part == "brace"]
    if not braces:
        return [], []
    checks = _single_angles([(m, s) for m, s, _ in braces])
    pulled = {n: float(actions.P[:, list(m.stations)].min()) / s.P_ct.m_as("kip") for m, s, n in braces}
    m, s, n = min(braces, key=lambda b: pulled[b[2]])
    if pulled[n] >= -NOTHING:
        return checks, []
    own = actions.P[:, list(m.stations)]
    k, at = np.unravel_index(int(np.argmin(own)), own.shape)
    P_r = tension_of(P_r=frame.action(name, "P", n, int(k), m.stations[int(at)]))
    capacity, said = _net_section(job, m, s)
    remedy = REMEDIES["brace"] if capacity is not None else GIVE_BOLTS
    title = f"Braces: rupture of the net section ({m.mark})"
    return [*checks, check(title, P_r, capacity, clause("D2(b) and D3"), remedy=remedy)], said


def _single_angles(braces: list[tuple[Any, Strength]]) -> list[Check]:
    angles = [(m, s.compression, s.section) for m, s in braces if s.compression.limit is not None]
    if not angles:
        return []
    m, c, _ = max(angles, key=lambda a: float(a[1].slenderness.magnitude))
    title, remedy = f"Braces: slenderness of a single angle ({m.mark})", "Select a larger angle, or a tube."
    found = [check(title, c.slenderness, c.limit, clause("E5"), remedy=remedy)]
    unequal = [(m, c.legs) for m, c, of in angles if c.legs is not None and not of.equal_legs]
    if unequal:
        m, (legs, most) = max(unequal, key=lambda a: float(a[1][0].magnitude))
        title, remedy = f"Braces: ratio of the legs ({m.mark})", "Select an angle with legs of more equal length."
        found.append(check(title, legs, most, clause("E5"), remedy=remedy))
    return found


def _net_section(job: Any, member: Any, s: Strength) -> tuple[Value | None, list[str]]:
    """Return the available strength in rupture of a brace with the bolts of the clips; None where it cannot be told."""
    given_ = job.connections
    clip = given_.clip if given_ is not None else None
    of = s.section
    if clip is None or clip.bolts < 2 or of.family != "angles":
        return None, []
    try:
        hole = table("bolt_holes").cell((given_.bolt.diameter, "standard"), "width", "d_h")
    except LookupFailed:
        return None, []
    n_b = given(float(clip.bolts), "", _ORIGIN, "n_b")
    x_bar = max((of["x_bar"], of["y_bar"]), key=lambda v: float(v.m_as("in")))
    l = line_length(n_b=n_b, s=clip.spacing)
    made = tension(of, member.F_y, member.F_u, _LINE, hole, of["t"], x_bar, l)
    if made.P_nu is None or made.P_nu.magnitude <= 0:
        return None, []
    words = (
        f"Braces are assumed held by {clip.bolts} bolts of the rail clips in one line along one leg, the worse one; the job "
        "gives no ends of their own."
    )
    return available(made.P_nu, "tension rupture", s.method, "P_c"), [words]

"""Strength ratios of a whole job's members: arrays against a loop over the same formulas on floats."""

from types import SimpleNamespace

import numpy as np

from .timing import Row, once, side_by_side

MISSING = "not available yet"
#: Combinations the loop works; it is told for as many ratios as the arrays.
LOOPED = 4


def checks() -> list[Row]:
    """Return the cost of all ratios of a demo job by arrays, against a loop, and the ratios a second."""
    try:
        from rackbook.job import load
        from rackbook.shipped import shipped
        from rackbook.structure.members.choose import again
        from rackbook.structure.members.rack import members, strengths_of
        from rackbook.structure.members.ratios import capacities, ratios
    except ImportError:
        return [Row("members of a job", 0.0, note=MISSING)]
    job = load(shipped("data", "jobs", "heron_quay"))
    frame, made = again(job)
    actions = frame.actions(made.set_name)
    strengths, places = strengths_of(frame.members, made.method, made.edition)
    capacity = capacities(strengths, places, actions.member)
    rows = actions.P.shape[0]
    few = SimpleNamespace(
        **{n: getattr(actions, n)[:LOOPED] for n in ("P", "V_y", "V_x", "T", "M_x", "M_y")}, member=actions.member
    )
    assert np.allclose(loop(few, strengths, places), ratios(few, capacity).largest, rtol=1e-12)
    ours, other = side_by_side(lambda: ratios(actions, capacity), lambda: loop(few, strengths, places), (3, 1), rounds=5)
    count = 3 * actions.P.size
    what = f"{count:,} ratios of {len(frame.members)} members"
    whole = min(once(lambda: members(job, frame), 1) for _ in range(3))
    return [
        Row(what, ours, other * rows / LOOPED, f"a loop over floats ({count / ours:,.0f} ratios/s in arrays)", "> 20"),
        Row("the same, strengths and governing rows in Values too", whole, note=f"{len(strengths)} different strengths"),
    ]


def loop(actions, strengths, places) -> np.ndarray:
    """Return the largest ratio of every combination and station, one after the other, by the formulas on floats."""
    from rackbook.structure.members import combined as h
    from rackbook.structure.members.angles import about_major, about_minor, principal
    from rackbook.structure.members.torsion import whole_twist

    floats = [_floats(s, principal) for s in strengths]
    found = np.zeros(actions.P.shape)
    stations: dict[int, list[int]] = {}
    for at, n in enumerate(actions.member.tolist()):
        stations.setdefault(n, []).append(at)
    for k in range(found.shape[0]):
        for n, places_of in stations.items():
            s = floats[places[n]]
            twist = [
                whole_twist.function(
                    *(float(x[k, at]) for x in (actions.T, actions.V_y)), s.e_y, float(actions.V_x[k, at]), s.e_x
                )
                for at in places_of
            ]
            for at, own in zip(places_of, twist, strict=True):
                P, V_y, V_x, M_x, M_y = (float(getattr(actions, c)[k, at]) for c in ("P", "V_y", "V_x", "M_x", "M_y"))
                T = own if s.closed else max(twist)
                if s.family == "angles":
                    M_x, M_y = about_major.function(M_x, M_y, s.alpha), about_minor.function(M_x, M_y, s.alpha)
                elif s.family == "pipes":
                    M_x, M_y = h.resultant_moment.function(M_x, M_y), 0.0
                    V_y, V_x = h.resultant_shear.function(V_y, V_x), 0.0
                found[k, at] = _largest(h, s, P, V_y, V_x, M_x, M_y, T)
    return found


def _floats(s, principal) -> SimpleNamespace:
    units = {"P_c": "kip", "P_ct": "kip", "V_cy": "kip", "V_cx": "kip", "e_y": "in", "e_x": "in"}
    names = ("P_c", "P_ct", "M_cx", "M_cy", "V_cy", "V_cx", "T_c", "e_y", "e_x")
    numbers = {n: getattr(s, n).m_as(units.get(n, "kip*in")) for n in names}
    family = s.section.family
    alpha = principal(s.section).alpha.m_as("rad") if family == "angles" else 0.0
    T_cw = s.T_cw.m_as("kip*in") if s.T_cw is not None else 0.0
    return SimpleNamespace(**numbers, family=family, closed=s.section.closed, alpha=alpha, T_cw=T_cw)


def _largest(h, s, P, V_y, V_x, M_x, M_y, T) -> float:
    P_c = s.P_c if P >= 0 else s.P_ct
    normal = (P, P_c, M_x, s.M_cx, M_y, s.M_cy)
    if s.family in ("angles", "strut"):
        axial = h.sum_of_stresses.function(*normal)
    else:
        axial = (h.high_axial if abs(P) >= h.SPLIT * P_c else h.low_axial).function(*normal)
    if s.closed:
        shear = max(h.shear_ratio.function(V_y, s.V_cy), h.shear_ratio.function(V_x, s.V_cx))
        twisted = h.torsion_ratio.function(T, s.T_c) > h.SPLIT
        return max(axial, shear, h.tube_together.function(*normal, shear, T, s.T_c) if twisted else 0.0)
    shear = max(h.open_shear.function(V_y, s.V_cy, T, s.T_c), h.open_shear.function(V_x, s.V_cx, T, s.T_c))
    warped = s.T_cw and h.torsion_ratio.function(T, s.T_c) > 1e-6
    return max(axial, shear, h.open_normal.function(*normal, T, s.T_cw) if warped else 0.0)

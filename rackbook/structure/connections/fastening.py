"""Bolts that fasten the equipment to the rails: wind, earthquake and weight of every item on four bolts, all at once.

The holes are taken at the corners of a rectangle of 0.8 of the item's width and height; the item's maker may say otherwise.
The item's center stands half its depth (and its stand-off) before the rail, so its weight pulls the upper bolts, and a
force along the rack those of one side. Steel fastens to steel: F_p without overstrength.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.trace import Source, Value, assume, formula, given, largest
from rackbook.trace.columns import column, entries, entry
from rackbook.trace.maths import ceil, max

from ..steel import available, clause
from .bolts import Bolt, at_hole, clear_to_edge
from .groups import group, in_plane, out_of_plane
from .joint import HOLES, bolt_states, pull
from .sections import Rail
from .strength import State
from .survey import Survey, in_full, survey

COUNT = given(2.0, "", Source("common practice", "four bolts, one near each corner of the item"), "n_x")
ROWS = given(2.0, "", Source("common practice", "four bolts, one near each corner of the item"), "n_z")
PATTERN = assume(0.8, "", "bolts at 0.8 of the item's width and height: common practice, the maker's holes govern", "k_p")
CALM = given(0.0, "lbf", Source("derivation", "the wind meets no face of the item from there"), "F_w")
NO_MOMENT = given(0.0, "kip*in", Source("derivation", "the center of the item stands opposite that of its bolts"), "M_0")


def _asce(locator: str) -> Source:
    return Source("clause", "ASCE/SEI 7", "16 and 22", locator, "memory")


#: By method: name, clause, and factors of weight, wind outward, wind along, earthquake outward, earthquake along, F_v.
CASES = {
    "LRFD": (
        ("1.4 D", "2.3.1", (1.4, 0, 0, 0, 0, 0)),
        ("1.2 D + 1.0 W outward", "2.3.1", (1.2, 1, 0, 0, 0, 0)),
        ("1.2 D + 1.0 W along", "2.3.1", (1.2, 0, 1, 0, 0, 0)),
        ("1.2 D + E_v + E_h outward", "2.3.6", (1.2, 0, 0, 1, 0, 1)),
        ("1.2 D + E_v + E_h along", "2.3.6", (1.2, 0, 0, 0, 1, 1)),
    ),
    "ASD": (
        ("D", "2.4.1", (1, 0, 0, 0, 0, 0)),
        ("D + 0.6 W outward", "2.4.1", (1, 0.6, 0, 0, 0, 0)),
        ("D + 0.6 W along", "2.4.1", (1, 0, 0.6, 0, 0, 0)),
        ("D + 0.7 E_v + 0.7 E_h outward", "2.4.5", (1, 0, 0, 0.7, 0, 0.7)),
        ("D + 0.7 E_v + 0.7 E_h along", "2.4.5", (1, 0, 0, 0, 0.7, 0.7)),
    ),
}
FACTORS = ("c_D", "c_Wn", "c_Wa", "c_En", "c_Ea", "c_v")


@formula(Source("derivation", "weight with its vertical earthquake load"), R_z="kip")
def item_down(c_D, W_p, c_v, F_v):
    """Return the force of an item down the rail."""
    R_z = c_D * W_p + c_v * F_v
    return R_z


@formula(Source("derivation", "force off the rail"), R_y="kip")
def item_outward(c_Wn, F_wn, c_En, F_p):
    """Return the force of an item away from the rail."""
    R_y = c_Wn * F_wn + c_En * F_p
    return R_y


@formula(Source("derivation", "force along the rack"), R_x="kip")
def item_along(c_Wa, F_wa, c_Ea, F_p):
    """Return the force of an item along the rail."""
    R_x = c_Wa * F_wa + c_Ea * F_p
    return R_x


@formula(Source("derivation", "center of the item before the rail"), e="in")
def item_arm(d, y_offset):
    """Return the distance of an item's center from the rail's face."""
    e = d / 2 + y_offset
    return e


@formula(Source("derivation", "statics"), M="kip*in")
def item_moment(F, e):
    """Return the moment of a force at the item's center about the bolts."""
    M = F * e
    return M


@formula(Source("derivation", "rectangle of the bolts"), s="in")
def bolt_distance(k_p, a):
    """Return the distance of the bolts along one side of an item."""
    s = k_p * a
    return s


@formula(Source("derivation", "use of four bolts, shared by more in the same rectangle; never fewer than four"), n_r="")
def bolts_needed(u):
    """Return the number of bolts an item needs."""
    n_r = max(ceil(4 * u), 4)
    return n_r


@dataclass(frozen=True)
class Fastener:
    """Fastening of one item: its forces, the use of four bolts, and the bolts it needs."""

    tag: str
    F_p: Value
    F_wn: Value
    r_v: Value
    r_t: Value
    ratio: Value
    case: str
    needed: Value


@dataclass(frozen=True, eq=False)
class Fastening:
    """Fastening of all equipment.

    Attributes:
        by_tag: Every item.
        governing, case: Item and load case of the largest use.
        states: Limit states of the governing item, as single values.
        worst: Limit states where each is used most, with case and item.
        from_wind: Forces of the wind on every item from every side, as the wind loads list them.

    """

    by_tag: dict[str, Fastener]
    governing: str
    case: str
    states: tuple[State, ...]
    worst: dict[str, tuple[State, str, str]]
    from_wind: tuple[Value, ...]


def fastening(job: Any, wind: Any, seismic: Any, bolt: Bolt, rail: Rail, slip: bool, method: str) -> Fastening | None:
    """Return the bolts of all equipment; None without equipment.

    Args:
        job: The job.
        wind: Its wind loads, ``fastening`` by direction.
        seismic: Its seismic loads, ``items``.
        bolt: The bolts.
        rail: What they go through.
        slip: Whether they are slip-critical.
        method: ``"LRFD"`` or ``"ASD"``.

    """
    items = job.equipment
    if not items:
        return None
    tags = tuple(str(i.tag) for i in items)
    given_ = _loads(items, tags, wind, seismic)
    cases = CASES[method]
    numbers = np.array([c[2] for c in cases], float)
    where = _asce("2.3.1 and 2.3.6, factors by case" if method == "LRFD" else "2.4.1 and 2.4.5, factors by case")
    factors = {name: given(numbers[:, [n]], "", where, name) for n, name in enumerate(FACTORS)}
    columns = {name: column(name, values, unit) for name, (values, unit) in given_.items()}
    states = _states(bolt, rail, slip, method, factors, columns)
    found = survey(states, tags, len(cases))

    def work(k: int, i: int) -> tuple[State, ...]:
        source = _asce(cases[k][1])
        single = {name: given(x, "", source, name) for name, x in zip(FACTORS, cases[k][2], strict=True)}
        return _states(bolt, rail, slip, method, single, {n: v[tags[i]].named(n) for n, (v, _) in given_.items()})

    k, i = found.governing
    worst = {name: (state, cases[kk][0], tags[ii]) for name, (state, kk, ii) in in_full(found, work).items()}
    by_tag = _by_tag(found, states, given_, tags, cases)
    sides = (getattr(wind, side).fastening for side in ("front", "back", "left", "right"))
    from_wind = tuple(F for of in sides for F in of.values())
    return Fastening(by_tag, tags[i], cases[k][0], work(k, i), worst, from_wind)


def _loads(items: Any, tags: tuple[str, ...], wind: Any, seismic: Any) -> dict[str, tuple[dict[str, Value], str]]:
    """Return the numbers of every item by name, with the unit of their column."""

    def both(first: str, second: str, symbol: str) -> dict[str, Value]:
        a, b = getattr(wind, first).fastening, getattr(wind, second).fastening
        return {t: largest(symbol, {d: f.get(t, CALM) for d, f in ((first, a), (second, b))}) for t in tags}

    by_tag = seismic.items.by_tag
    return {
        "W_p": ({t: i.weight for t, i in zip(tags, items, strict=True)}, "kip"),
        "F_v": ({t: by_tag[t].F_v for t in tags}, "kip"),
        "F_p": ({t: by_tag[t].F_p for t in tags}, "kip"),
        "F_wn": (both("front", "back", "F_wn"), "kip"),
        "F_wa": (both("left", "right", "F_wa"), "kip"),
        "w": ({t: i.width for t, i in zip(tags, items, strict=True)}, "in"),
        "h": ({t: i.height for t, i in zip(tags, items, strict=True)}, "in"),
        "d": ({t: i.depth for t, i in zip(tags, items, strict=True)}, "in"),
        "y_offset": ({t: i.offset for t, i in zip(tags, items, strict=True)}, "in"),
    }


def _states(b: Bolt, rail: Rail, slip: bool, method: str, c: dict[str, Value], v: dict[str, Value]) -> tuple[State, ...]:
    F_z = item_down(c_D=c["c_D"], W_p=v["W_p"], c_v=c["c_v"], F_v=v["F_v"])
    F_y = item_outward(c_Wn=c["c_Wn"], F_wn=v["F_wn"], c_En=c["c_En"], F_p=v["F_p"])
    F_x = item_along(c_Wa=c["c_Wa"], F_wa=v["F_wa"], c_Ea=c["c_Ea"], F_p=v["F_p"])
    e = item_arm(d=v["d"], y_offset=v["y_offset"])
    s_x, s_z = bolt_distance(k_p=PATTERN, a=v["w"]).named("s_x"), bolt_distance(k_p=PATTERN, a=v["h"]).named("s_z")
    bolts = group(n_x=COUNT, n_z=ROWS, s_x=s_x, s_z=s_z, L_e=b.L_e_min)
    r_v = in_plane(bolts, F_x, F_z, NO_MOMENT)
    r_t = out_of_plane(bolts, F_y, item_moment(F=F_z, e=e).named("M_x"), item_moment(F=F_x, e=e).named("M_z"))
    hole = at_hole(b.d_b, clear_to_edge(L_e=b.L_e_min, d_h=b.d_h), rail.t, rail.F_u)
    bearing = available(hole.r_n, HOLES, method, "r_cb")
    return (
        *bolt_states(b, r_v, r_t, pull(R_y=F_y), bolts.n_b, slip, method),
        State(
            "Bearing and tearout in the rail", r_v, bearing, clause("J3.11a (J3.10a in 360-16)"), "Take larger or more bolts."
        ),
    )


def _by_tag(
    found: Survey, states: tuple[State, ...], given_: dict[str, Any], tags: tuple[str, ...], cases: Any
) -> dict[str, Fastener]:
    named = {s.name: s for s in states}
    shear, tension = (named[name].demand.magnitude for name in ("Bolts in shear", "Bolts in tension"))
    where = Source("derivation", "largest of all load cases")
    most_v, most_t = (given(np.max(x, axis=0), "kip", where, name) for x, name in ((shear, "r_v"), (tension, "r_t")))
    V, T = entries(most_v, tags), entries(most_t, tags)
    ratios = column("u", {w.label: w.ratio for w in found.places}, "")
    needed = bolts_needed(u=ratios)
    return {
        w.label: Fastener(
            w.label, given_["F_p"][0][w.label], given_["F_wn"][0][w.label], V[w.label], T[w.label], w.ratio,
            cases[w.combination][0], entry(needed, n, w.label),
        )
        for n, w in enumerate(found.places)
    }  # fmt: skip

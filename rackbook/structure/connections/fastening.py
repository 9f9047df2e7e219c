"""Bolts that fasten the equipment to the rails: wind, earthquake and weight of every item on its own bolts, all at once.

The bolts stand on the rails the item hangs on (see ``seats``). The item's center stands half its depth and its stand-off
before its back, so its weight pulls the upper bolts, a force along the rack those of one side. Where the rail's toes face
outward the item's back bears on the toes and every bolt passes to the web through a spacer, which is held at the web alone.
Bearing connections, snug-tight. Steel fastens to steel: F_p without overstrength.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.trace import Check, Source, Value, assume, check, formula, given, largest
from rackbook.trace.columns import column, entries
from rackbook.trace.maths import abs

from ..steel import available, clause
from . import web_pull
from .bolts import Bolt, at_hole, bolt, clear_to_edge
from .details import SPACING, least_spacing
from .groups import Group, in_plane, out_of_plane
from .joint import HOLES, bolt_states, pull
from .seats import Seat
from .sections import Rail
from .strength import State
from .survey import Survey, in_full, survey

GRADE = "A307"
DIAMETER = assume(
    0.5, "in", "equipment bolts of 1/2 in., ASTM A307: common practice, the job names none for the equipment", "d_b"
)
SPACER = assume(2.0, "", "outside diameter of the spacers in diameters of the bolt", "k_s")
NO_SPACER = given(0.0, "in", Source("derivation", "the item's back lies on the wall its bolts pass"), "s_p")
CALM = given(0.0, "lbf", Source("derivation", "the wind meets no face of the item from there"), "F_w")


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


@formula(Source("derivation", "center of the item before its back"), e="in")
def item_arm(d, y_offset):
    """Return the distance of an item's center from the face it bears on."""
    e = d / 2 + y_offset
    return e


@formula(Source("derivation", "statics: weight before the rail, outward force beside the middle of the bolts"), M_x="kip*in")
def overturning(R_z, e, R_y, e_z):
    """Return the moment that tilts an item off its rails."""
    M_x = abs(R_z) * e + abs(R_y) * e_z
    return M_x


@formula(Source("derivation", "statics"), M="kip*in")
def item_moment(F, e):
    """Return the moment of a force at the item's center about the bolts."""
    M = F * e
    return M


@formula(Source("derivation", "spacer held at the web alone: its end bears on the web at half its diameter"), r_t="kip")
def tension_with_spacer(r_t0, r_v, s_p, k_s, d_b):
    """Return the tension on a bolt whose shear comes in at the end of a spacer."""
    r_t = r_t0 + r_v * s_p / (k_s * d_b / 2)
    return r_t


@dataclass(frozen=True)
class Fastener:
    """Fastening of one item: where it sits, its forces, and the bolt that carries most in the load case that governs it."""

    tag: str
    seat: Seat
    F_p: Value
    F_wn: Value
    r_v: Value
    r_t: Value
    ratio: Value
    case: str
    state: str


@dataclass(frozen=True, eq=False)
class Fastening:
    """Fastening of the equipment that bolts on rails hold.

    Attributes:
        by_tag: Every item.
        bolt: The bolts.
        governing, case: Item and load case of the largest utilization.
        states: Limit states of the governing item, as single values.
        worst: Limit states where each is largest, with case and item.
        spacer: Length of the spacers, 0 where the item lies on the wall its bolts pass.
        spacing: Check of the bolts' spacing where it is smallest.
        from_wind: Forces of the wind on every item from every side, as the wind loads list them.

    """

    by_tag: dict[str, Fastener]
    bolt: Bolt
    governing: str
    case: str
    states: tuple[State, ...]
    worst: dict[str, tuple[State, str, str]]
    spacer: Value
    spacing: Check
    from_wind: tuple[Value, ...]


def fastening(job: Any, wind: Any, seismic: Any, held: dict[str, Seat], rail: Rail, method: str) -> Fastening | None:
    """Return the bolts of the equipment that rails hold; None without any.

    Args:
        job: The job.
        wind: Its wind loads, ``fastening`` by direction.
        seismic: Its seismic loads, ``items``.
        held: The items and their seats.
        rail: What the bolts go through.
        method: ``"LRFD"`` or ``"ASD"``.

    """
    items = tuple(i for i in job.equipment if str(i.tag) in held)
    if not items:
        return None
    b, tags = bolt(DIAMETER, GRADE), tuple(str(i.tag) for i in items)
    given_ = _loads(items, tags, wind, seismic) | _levers(tags, held)
    cases = CASES[method]
    numbers = np.array([c[2] for c in cases], float)
    where = _asce("2.3.1 and 2.3.6, factors by case" if method == "LRFD" else "2.4.1 and 2.4.5, factors by case")
    factors = {name: given(numbers[:, [n]], "", where, name) for n, name in enumerate(FACTORS)}
    columns = {name: column(name, values, unit) for name, (values, unit) in given_.items()}
    spacer = rail.s_p if rail.s_p is not None and str(job.frame.rail_ends) != "moment" else NO_SPACER
    states = _states(b, rail, spacer, method, factors, columns)
    found = survey(states, tags, len(cases))

    def work(k: int, i: int) -> tuple[State, ...]:
        source = _asce(cases[k][1])
        single = {name: given(x, "", source, name) for name, x in zip(FACTORS, cases[k][2], strict=True)}
        return _states(b, rail, spacer, method, single, {n: v[tags[i]].named(n) for n, (v, _) in given_.items()})

    k, i = found.governing
    worst = {name: (state, cases[kk][0], tags[ii]) for name, (state, kk, ii) in in_full(found, work).items()}
    by_tag = _by_tag(found, states, given_, held, cases)
    sides = (getattr(wind, side).fastening for side in ("front", "back", "left", "right"))
    from_wind = tuple(F for of in sides for F in of.values())
    return Fastening(by_tag, b, tags[i], cases[k][0], work(k, i), worst, spacer, _spacing(b, held), from_wind)


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
        "d": ({t: i.depth for t, i in zip(tags, items, strict=True)}, "in"),
        "y_offset": ({t: i.offset for t, i in zip(tags, items, strict=True)}, "in"),
    }


def _levers(tags: tuple[str, ...], held: dict[str, Seat]) -> dict[str, tuple[dict[str, Value], str]]:
    """Return the levers of every item's bolts by name, with the unit of their column."""
    units = {"n_b": "", "c_x": "in", "c_z": "in", "I_p": "in**2", "W_x": "in", "W_z": "in"}
    of_group = {n: ({t: getattr(held[t].bolts, n) for t in tags}, unit) for n, unit in units.items()}
    return of_group | {n: ({t: getattr(held[t], n) for t in tags}, "in") for n in ("s_x", "e_z")}


def _states(b: Bolt, rail: Rail, s_p: Value, method: str, c: dict[str, Value], v: dict[str, Value]) -> tuple[State, ...]:
    F_z = item_down(c_D=c["c_D"], W_p=v["W_p"], c_v=c["c_v"], F_v=v["F_v"])
    F_y = item_outward(c_Wn=c["c_Wn"], F_wn=v["F_wn"], c_En=c["c_En"], F_p=v["F_p"])
    F_x = item_along(c_Wa=c["c_Wa"], F_wa=v["F_wa"], c_Ea=c["c_Ea"], F_p=v["F_p"])
    e = item_arm(d=v["d"], y_offset=v["y_offset"])
    bolts = Group(*(v[n] for n in ("n_b", "c_x", "c_z", "I_p", "W_x", "W_z")))
    r_v = in_plane(bolts, F_x, F_z, item_moment(F=F_x, e=v["e_z"]).named("M_y"))
    M_x, M_z = overturning(R_z=F_z, e=e, R_y=F_y, e_z=v["e_z"]), item_moment(F=F_x, e=e).named("M_z")
    r_t = out_of_plane(bolts, F_y, M_x, M_z)
    if s_p.magnitude:
        r_t = tension_with_spacer(r_t0=r_t.named("r_t0"), r_v=r_v, s_p=s_p, k_s=SPACER, d_b=b.d_b)
    hole = at_hole(b.d_b, clear_to_edge(L_e=b.L_e_min, d_h=b.d_h), rail.t, rail.F_u)
    bearing = available(hole.r_n, HOLES, method, "r_cb")
    states = (
        *bolt_states(b, r_v, r_t, pull(R_y=F_y), bolts.n_b, False, method),
        State("Bearing and tearout in the rail", r_v, bearing, clause("J3.11a (J3.10a in 360-16)"),
              "Use larger or more bolts."),
    )  # fmt: skip
    return states if rail.h_w is None else (*states, web_pull.state(r_t, web_pull.along(rail, v["s_x"], method)))


def _by_tag(
    found: Survey, states: tuple[State, ...], given_: dict[str, Any], held: dict[str, Seat], cases: Any
) -> dict[str, Fastener]:
    named, shape = {s.name: s for s in states}, found.ratios.shape[1:]
    at = np.array([w.combination for w in found.places]), np.arange(len(found.places))
    where, tags = Source("derivation", "in the load case that governs the item"), tuple(w.label for w in found.places)

    def of_case(name: str, symbol: str) -> Any:
        every = np.broadcast_to(named[name].demand.magnitude, shape)
        return entries(given(every[at], "kip", where, symbol), tags)

    V, T = of_case("Bolts in shear", "r_v"), of_case("Bolts in tension", "r_t")
    return {
        w.label: Fastener(
            w.label, held[w.label], given_["F_p"][0][w.label], given_["F_wn"][0][w.label], V[w.label], T[w.label], w.ratio,
            cases[w.combination][0], w.state,
        )
        for w in found.places
    }  # fmt: skip


def _spacing(b: Bolt, held: dict[str, Seat]) -> Check:
    seat = min(held.values(), key=lambda s: s.s_x.m_as("in"))
    return check(f"Equipment bolts: minimum spacing, {seat.tag}", least_spacing(d_b=b.d_b), seat.s_x, SPACING,
                 remedy="Use one wider mounting bar, or smaller bolts.")  # fmt: skip

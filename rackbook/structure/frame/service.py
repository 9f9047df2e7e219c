"""Displacements in service: drift of the post tops under wind, deflection of the rails between posts, against limits.

Beside them the drift of the post tops under earthquake, for which the code sets no limit here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.seismic import Seismic
from rackbook.trace import Check, Source, Step, Value, assume, check, formula, given
from rackbook.trace.maths import abs

from .analysis import Analysis
from .second_order import Sway, amplifier_sway, story_load
from .superpose import displacement, take

SERVICE_WIND = given(0.6, "", Source("common practice", "wind in service as in allowable stress design: 0.6 W"), "c_W")
ONE = given(1.0, "", Source("common practice", "weights and maintenance load in service"), "c_D")
FORCES = given(1.0, "", Source("clause", "ASCE/SEI 7", "16 and 22", "12.8.6: seismic forces without rho", "memory"), "c_Q")
ALPHA = given(1.0, "", Source("derivation", "loads in service as they are"), "alpha")
N_DRIFT = assume(
    100.0, "", "drift limit of the posts, height / 100: common practice; job input frame.limits.drift left blank", "n_drift"
)
N_RAIL = assume(
    240.0, "", "deflection limit of the rails, span / 240: common practice; job input frame.limits.rail left blank", "n_rail"
)
_IN_SERVICE = Source("common practice", "combination in service")
DRIFT_SOURCE = Source("common practice", "drift of a rack in service, D + 0.6 W, second order")
RAIL_SOURCE = Source("common practice", "deflection of a rail in service, D + L, down, between the posts")
WIND_SOURCE = Source("common practice", "deflection of a rail in service, D + 0.6 W, sideways, between the posts")
_SHAKEN = Source("clause", "ASCE/SEI 7", "16 and 22", "12.8.6; limits 12.12.1, 15.4.5", "memory")


@formula(Source("derivation", "share of a length"), Delta_a="in")
def allowed(L, n):
    """Return the displacement allowed on a height or a span."""
    Delta_a = L / n
    return Delta_a


@formula(Source("clause", "AISC 360", "16 and 22", "Appendix 8, first-order displacement amplified", "memory"), Delta_2="in")
def drift_second(B_2, Delta):
    """Return the drift with the second order."""
    Delta_2 = abs(B_2 * Delta)
    return Delta_2


@formula(_SHAKEN, delta_x="in")
def design_drift(C_d, delta_xe, I_e):
    """Return the drift under the design earthquake from that of the elastic frame under its forces."""
    delta_x = C_d * delta_xe / I_e
    return delta_x


@formula(Source("derivation", "displacement from the straight line between the two posts, r of the way along it"), delta="in")
def deflection(Delta, Delta_l, Delta_r, r):
    """Return the deflection of a rail between two posts."""
    delta = abs(Delta - Delta_l - r * (Delta_r - Delta_l))
    return delta


@dataclass(frozen=True, eq=False)
class Factors:
    """The operation behind the factors of a combination in service."""

    name: str
    cases: tuple[str, ...]
    source: Source = _IN_SERVICE

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Line up the factors."""
        return Value(np.array([given[c].m_as("") if c in given else 0.0 for c in self.cases]), "", Step(self, given), "c")


@dataclass(frozen=True)
class Moved:
    """A displacement in service that governs: where, under which combination, the number and its limit.

    Attributes:
        where, combination: In words.
        value, limit: The displacement and what is allowed.
        c, B_2: Factors of the combination, and amplifier of the sway; 1 for a rail.

    """

    where: str
    combination: str
    value: Value
    limit: Value
    c: Value
    B_2: Value = ONE


@dataclass(frozen=True)
class Shaken:
    """Drift under the design earthquake: the post that moves most, the unit cases, elastic and design drift."""

    where: str
    cases: str
    elastic: Value
    value: Value


@dataclass(frozen=True)
class Service:
    """Displacements in service.

    Attributes:
        drift: Largest drift ``along`` and ``across``.
        shaken: Largest drift under earthquake ``along`` and ``across``; no limit.
        deflections: Largest deflection of a rail ``down`` and ``sideways``, between posts.
        checks: All of them against their limits.

    """

    drift: dict[str, Moved]
    shaken: dict[str, Shaken]
    deflections: dict[str, Moved]
    checks: tuple[Check, ...]


def service(job: Any, analysis: Analysis, sways: Mapping[str, Sway], seismic: Seismic) -> Service:
    """Return the displacements of a job's rack in service and their checks."""
    limits = job.frame.limits
    n_drift = limits.drift if limits is not None and limits.drift is not None else N_DRIFT
    n_rail = limits.rail if limits is not None and limits.rail is not None else N_RAIL
    wind, weight = _wind(analysis.cases), _weight(analysis.cases)
    drift = {d: _drift(analysis, sways[d], n_drift, wind) for d in ("along", "across")}
    rails = {
        "down": _rails(job, analysis, 2, weight, n_rail),
        "sideways": _rails(job, analysis, 1, wind, n_rail),
    }
    checks = [
        check(
            f"Drift {d} the rack, {m.where}, {m.combination}", m.value, m.limit, DRIFT_SOURCE,
            remedy="Select a stiffer post, or brace the rack; or state another limit (frame.limits.drift).",
        )
        for d, m in drift.items()
    ]  # fmt: skip
    for way, source in (("down", RAIL_SOURCE), ("sideways", WIND_SOURCE)):
        m = rails[way]
        checks.append(
            check(
                f"Deflection {way}, {m.where}, {m.combination}", m.value, m.limit, source,
                remedy="Select a stiffer rail or shorter bays; or state another limit (frame.limits.rail).",
            )
        )  # fmt: skip
    shaken = {d: _shaken(analysis, sways[d], seismic) for d in ("along", "across")}
    return Service(drift, shaken, rails, tuple(checks))


def _wind(cases: tuple[str, ...]) -> dict[str, dict[str, Value]]:
    """Return the combinations of wind in service, Case B of solid faces to either side."""
    back = given(-0.6, "", Source("derivation", "the other sense of 0.6 W twist"), "c_W")
    found: dict[str, dict[str, Value]] = {}
    for face in ("front", "back", "left", "right"):
        plain = {"D": ONE, f"W {face}": SERVICE_WIND}
        if "W twist" in cases and face in ("front", "back"):
            found[f"D + 0.6 W {face} + 0.6 W twist"] = {**plain, "W twist": SERVICE_WIND}
            found[f"D + 0.6 W {face} - 0.6 W twist"] = {**plain, "W twist": back}
        else:
            found[f"D + 0.6 W {face}"] = plain
    return found


def _weight(cases: tuple[str, ...]) -> dict[str, dict[str, Value]]:
    live = [c for c in cases if c.startswith("L ")]
    return {"D": {"D": ONE}, **{f"D + {c}": {"D": ONE, c: ONE} for c in live}}


def _matrix(cases: tuple[str, ...], combinations: dict[str, dict[str, Value]]) -> np.ndarray:
    return np.array([[c[n].magnitude if n in c else 0.0 for n in cases] for c in combinations.values()])


def _factors(analysis: Analysis, name: str, of: dict[str, Value]) -> Value:
    shaken = any(case.startswith("Q ") for case in of)
    return Factors(name, analysis.cases, FORCES.source if shaken else _IN_SERVICE).evaluate(of)


def _drift(analysis: Analysis, sway: Sway, n: Value, combinations: dict[str, dict[str, Value]]) -> Moved:
    """Return the largest drift of a post top in one direction."""
    mark, name, value, c, B_2 = _top(analysis, sway, combinations)
    return Moved(f"top of {mark}", name, value, allowed(L=sway.L, n=n), c, B_2)


def _shaken(analysis: Analysis, sway: Sway, seismic: Seismic) -> Shaken:
    """Return the largest drift of a post top under the seismic forces of a direction, accidental torsion to either side."""
    back = given(-1.0, "", Source("derivation", "the other sense of Q twist"), "c_Q")
    forces = {f"Q {sway.words}": FORCES}
    either = {"Q along": forces} if sway.words == "along" else {
        "Q across + Q twist": {**forces, "Q twist": FORCES}, "Q across - Q twist": {**forces, "Q twist": back},
    }  # fmt: skip
    mark, name, elastic, _, _ = _top(analysis, sway, either, {"D": ONE})
    elastic = elastic.named("delta_xe")
    value = design_drift(C_d=seismic.C_d(sway.words), delta_xe=elastic, I_e=seismic.I_e)
    return Shaken(f"top of {mark}", name, elastic, value)


def _top(
    analysis: Analysis, sway: Sway, combinations: dict[str, dict[str, Value]], weights: dict[str, Value] | None = None
) -> tuple[str, str, Value, Value, Value]:
    """Return the post whose top moves most in one direction, the combination, how far with the second order, c and B_2.

    ``weights`` are the factors of the loads that lean on the sway; left out, those of the combination.
    """
    axis, tops = ("along", "across").index(sway.words), analysis.solved.built.tops
    moved = analysis.results["displacements"].magnitude[axis, tops]
    under = _matrix(analysis.cases, combinations) @ moved.T
    k, post = np.unravel_index(int(np.argmax(np.abs(under))), under.shape)
    name = list(combinations)[k]
    mark = analysis.solved.built.post_marks[post]
    c = _factors(analysis, name, combinations[name])
    F_z = take(analysis.results["load forces"], (2,), "vertical loads of the unit cases", "F_z")
    lean = c if weights is None else _factors(analysis, "weights that lean on the sway", weights)
    B_2 = amplifier_sway(alpha=ALPHA, P_story=story_load(c=lean, F_z=F_z), P_e_story=sway.P_e_story)
    Y = take(
        analysis.results["displacements"], (axis, int(tops[post])), f"{sway.words} the rack at the top of {mark}", "Delta_i"
    )
    return mark, name, drift_second(B_2=B_2, Delta=displacement(c=c, Y=Y)), c, B_2


def _rails(job: Any, analysis: Analysis, axis: int, combinations: dict[str, dict[str, Value]], n: Value) -> Moved:
    """Return the largest deflection of a rail between two posts, as a share of what its span allows."""
    built, results = analysis.solved.built, analysis.results["displacements"]
    factors = _matrix(analysis.cases, combinations)
    worst = (-1.0, 0, 0, 0, 0)
    for rail, (nodes, crossings) in enumerate(zip(built.rails, built.crossings, strict=True)):
        x, posts = built.model.xyz[list(nodes), 0], built.model.xyz[list(crossings), 0]
        u = factors @ results.magnitude[axis, list(nodes)].T
        of_posts = factors @ results.magnitude[axis, list(crossings)].T
        bays = np.clip(np.searchsorted(posts, x, side="right") - 1, 0, len(posts) - 2)
        share = np.abs(u - [np.interp(x, posts, row) for row in of_posts]) / np.diff(posts)[bays]
        combination, place = divmod(int(np.argmax(share)), len(nodes))
        if share.max() > worst[0]:
            worst = (float(share.max()), rail, combination, place, int(bays[place]))
    _, rail, combination, place, bay = worst
    name = list(combinations)[combination]
    node, left, right = built.rails[rail][place], built.crossings[rail][bay], built.crossings[rail][bay + 1]
    c = _factors(analysis, name, combinations[name])
    places = {
        "Delta": (node, f"in bay {bay + 1}"),
        "Delta_l": (left, "at its left post"),
        "Delta_r": (right, "at its right post"),
    }
    moved = {
        symbol: displacement(c=c, Y=take(results, (axis, at), f"displacement of rail {rail + 1} {where}", "Delta_i"))
        for symbol, (at, where) in places.items()
    }
    x = built.model.xyz[[left, node, right], 0]
    r = given(float((x[1] - x[0]) / (x[2] - x[0])), "", Source("derivation", "place of the node between the posts"), "r")
    span = job.frame.bays[bay].to("in")
    return Moved(f"rail {rail + 1} bay {bay + 1}", name, deflection(r=r, **moved), allowed(L=span, n=n), c)

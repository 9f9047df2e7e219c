"""What a feeder feeds, against the load the schedule gives it: motors by 430.24, all else with 125 percent of continuous."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from ..trace import Check, Source, Value, check, formula, given, largest
from ..trace.columns import column
from ..trace.maths import sum
from .clauses import clause
from .current import motor_feeder_minimum
from .overcurrent import motor_feeder_device

PARTS = Source("derivation", "sum over the circuits fed")
NONE = given(0, "A", Source("derivation", "no such circuit is fed"), "I")
NO_SHARE = given(0, "pct", Source("input", "circuits.csv", "", "continuous, blank"), "p_c")


@formula(PARTS, I_m="A")
def other_motors(I):
    """Return the full-load current of all motors but the largest."""
    I_m = sum(I)
    return I_m


@formula(PARTS, I_n="A")
def noncontinuous_load(I, p):
    """Return the noncontinuous part of loads."""
    I_n = sum(I * (1 - p))
    return I_n


@formula(PARTS, I_c="A")
def continuous_load(I, p):
    """Return the continuous part of loads."""
    I_c = sum(I * p)
    return I_c


@dataclass(frozen=True, eq=False)
class Connected:
    """What one feeder feeds, without any demand factor.

    Attributes:
        tags: Circuits counted, each once: motors, branches, transformers, and feeders that end outside the rack.
        motors: Those of them that are motors.
        I_1, I_m, I_n, I_c: Largest motor, other motors, noncontinuous and continuous other load [A].
        I_f: Least ampacity of the feeder by 430.24 [A].
        I_min: The same by the load the schedule gives it [A].

    """

    tags: tuple[str, ...]
    motors: tuple[str, ...]
    I_1: Value
    I_m: Value
    I_n: Value
    I_c: Value
    I_f: Value
    I_min: Value

    @property
    def exceeds(self) -> bool:
        """Whether the circuits fed ask for more than the schedule gives the feeder."""
        return self.I_f.m_as("A") > self.I_min.m_as("A") * (1 + 1e-9)


def connected(circuits: Iterable[Any], done: Mapping[str, Any]) -> dict[str, Connected]:
    """Return what each feeder feeds.

    Which phase a single-phase circuit loads is not in the schedule: all are summed as if on one phase, an upper bound.
    """
    from_place: dict[str, list[Any]] = {}
    for c in circuits:
        from_place.setdefault(str(c.from_), []).append(c)
    out = {}
    for c in circuits:
        fed = _fed(str(c.to), from_place, set()) if c.kind == "feeder" and c.to_kind != "field" else []
        if fed:
            out[str(c.tag)] = _sum(fed, done, done[str(c.tag)].I_min)
    return out


def feeder_checks(feeders: Mapping[str, Connected], done: Mapping[str, Any], edition: str) -> list[Check]:
    """Return the checks of every feeder: its load against what it feeds, and its device where it feeds motors.

    A load below what is fed is a demand that the engineer claims; it cannot be judged from the schedule and is open.
    """
    out = []
    for tag, f in feeders.items():
        name, source = f"{tag}: connected load by 430.24", clause("motor feeder", edition)
        if f.exceeds:
            remedy = (
                f"The load given makes {f.I_min.text()}. Raise it, or show the demand claimed (Article 220, 430.26) or the "
                "balance of the phases."
            )
            out.append(Check(name, f.I_f, None, source, remedy=remedy))
        else:
            out.append(check(name, f.I_f, f.I_min, source))
        if f.motors:
            I_d = max((done[m].I_r for m in f.motors), key=lambda I: I.m_as("A"))
            by_motors = motor_feeder_device(I_d=I_d, I_m=f.I_m, I_n=f.I_n, I_c=f.I_c)
            most = largest("I_62", {"430.62(A)": by_motors, "430.62(B), ampacity": done[tag].ampacity.I_p})
            source = clause("motor feeder device", edition)
            out.append(check(f"{tag}: device by 430.62", done[tag].I_r, most, source, remedy="Select a smaller device."))
    return out


def _fed(place: str, from_place: dict[str, list[Any]], seen: set[str]) -> list[Any]:
    """Return the circuits that load a place: through feeders to what they feed in turn."""
    if place in seen:
        return []
    seen.add(place)
    out = []
    for c in from_place.get(place, ()):
        further = _fed(str(c.to), from_place, seen) if c.kind == "feeder" and c.to_kind != "field" else []
        out += further or [c]
    return out


def _sum(fed: list[Any], done: Mapping[str, Any], I_min: Value) -> Connected:
    motors = sorted((c for c in fed if c.kind == "motor"), key=lambda c: -done[str(c.tag)].I_b.m_as("A"))
    rest = [c for c in fed if c.kind != "motor"]
    I_1 = done[str(motors[0].tag)].I_b if motors else NONE
    I_m = other_motors(I=_line_up("I", motors[1:], done)) if motors[1:] else NONE
    I_n = I_c = NONE
    if rest:
        I, p = _line_up("I", rest, done), column("p", {str(c.tag): _share(c) for c in rest}, "pct")
        I_n, I_c = noncontinuous_load(I=I, p=p), continuous_load(I=I, p=p)
    I_f = motor_feeder_minimum(I_1=I_1, I_m=I_m, I_n=I_n, I_c=I_c)
    return Connected(tuple(str(c.tag) for c in fed), tuple(str(c.tag) for c in motors), I_1, I_m, I_n, I_c, I_f, I_min)


def _line_up(symbol: str, circuits: list[Any], done: Mapping[str, Any]) -> Value:
    return column(symbol, {str(c.tag): done[str(c.tag)].I_b for c in circuits}, "A")


def _share(c: Any) -> Value:
    return c.continuous if isinstance(c.continuous, Value) else NO_SHARE

"""How circuits hang together: which share a raceway, and the path of each to the source."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np

from ..trace import InputError, Source, Value, given
from .factors import current_carrying_together, wires
from .voltage_drop import accumulated_drop


def raceway_tag(circuit: Any) -> str:
    """Return the tag of a circuit's raceway; a kind without tag is a raceway of the circuit's own; else empty."""
    return str(circuit.raceway or (circuit.tag if circuit.raceway_kind else ""))


def sharing(circuits: Iterable[Any]) -> dict[str, list[Any]]:
    """Return the circuits by raceway.

    Raises:
        InputError: Circuits in one raceway disagree about its kind, trade size, length or number of sets.

    """
    groups: dict[str, list[Any]] = {}
    for c in circuits:
        if tag := raceway_tag(c):
            groups.setdefault(tag, []).append(c)
    for tag, group in groups.items():
        if len(group) == 1:
            continue
        for name in ("raceway_kind", "trade_size", "nipple", "sets"):
            found = {getattr(c, name) for c in group}
            if len(found) > 1:
                said = ", ".join(sorted(str(f) for f in found))
                raise InputError(
                    f"{', '.join(c.tag for c in group)} share the raceway {tag} but not its {name}: {said}. "
                    "A raceway holds one set of each circuit in it; write the same.",
                    file="circuits.csv",
                    field=f"{group[0].tag}, {name}",
                )
    return groups


def count_together(group: list[Any]) -> Value:
    """Return the count of current-carrying conductors in a raceway: phases and counted neutrals, no grounds."""
    each = [(c.tag, sum(wires(c.phases, c.voltage, c.neutral)[::2])) for c in group]
    said = ", ".join(f"{tag} {n}" for tag, n in each)
    source = Source("input", "circuits.csv", "", f"phases and counted neutrals: {said}")
    if len(each) == 1:
        return given(each[0][1], "", source, "n_c")
    return current_carrying_together(n=Value(np.array([float(n) for _, n in each]), "", source, "n"))


def accumulate(circuits: Iterable[Any], own: dict[str, Value]) -> dict[str, Value]:
    """Return the drop from the source to the end of each circuit [%]; of several feeds the worst one counts.

    Raises:
        InputError: Circuits feed each other in a ring.

    """
    into: dict[str, list[Any]] = {}
    for c in circuits:
        if c.to_kind != "field":
            into.setdefault(str(c.to), []).append(c)
    worst: dict[str, Value | None] = {}  # at each piece of equipment, the largest drop that arrives

    def total(c: Any) -> Value:
        up = worst[str(c.from_)]
        return own[c.tag] if up is None else accumulated_drop(p_up=up, p_d=own[c.tag])

    done: dict[str, Value] = {}
    for start in circuits:
        stack, open_ = [str(start.from_)], set()
        while stack:
            place = stack[-1]
            if place in worst:
                stack.pop()
                continue
            waiting = [str(c.from_) for c in into.get(place, ()) if str(c.from_) not in worst]
            if waiting and place in open_:
                raise InputError(
                    f"{place} is fed, in the end, by itself. A path leads to one source.",
                    file="circuits.csv",
                    field=f"{start.tag}, from",
                )
            open_.add(place)
            if waiting:
                stack.extend(waiting)
                continue
            arriving = []
            for c in into.get(place, ()):
                done[c.tag] = done.get(c.tag) or total(c)
                arriving.append(done[c.tag])
            worst[place] = max(arriving, key=lambda p: p.m_as("pct"), default=None)
    return {c.tag: done.get(c.tag) or total(c) for c in circuits}

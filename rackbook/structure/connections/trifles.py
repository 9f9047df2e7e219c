"""What a sheet need not derive: terms below a hundredth of the sum they enter, and forces of an item, added by one rule."""

from __future__ import annotations

from collections.abc import Iterator

from rackbook.trace import Grid, Source, Step, Value, given
from rackbook.trace.formula import Formula

from ..frame.shown import taken_apart
from .elements import force_and_moments
from .fastening import item_along, item_down, item_outward, tension_with_spacer
from .groups import corner_shear, corner_tension
from .lines import corner_flow, corner_normal, resultant, ring_flow, ring_normal
from .walls import wall_use
from .welds import metal_use

#: A term that changes the result by less than this share is quoted with its value.
TRIFLE = 0.01
#: Sums, linear or of squares, whose terms may be trifling.
SUMS = (
    resultant, corner_normal, corner_flow, ring_normal, ring_flow, corner_shear, corner_tension, tension_with_spacer,
    force_and_moments, metal_use, wall_use,
)  # fmt: skip
_TRIED = Source("derivation", "tried without its term")
#: An argument is tried this much smaller and larger: its term vanishes whether it multiplies or divides.
_VANISH = 1e9
ITEM_FORCES = {
    item_outward: "Outward: wind, seismic", item_along: "Along: wind, seismic", item_down: "Down: weight, vertical seismic",
}  # fmt: skip


def trifles(demand: Value) -> list[Grid]:
    """Return the table of what is behind terms of a demand that come to less than ``TRIFLE`` of it; nothing without any."""
    found: dict[int, Value] = {}
    needed: set[int] = set()
    _part(demand, found, needed)
    shown = tuple(v for i, v in found.items() if i not in needed)
    if not shown:
        return []
    heads = tuple(f"{v.symbol} [{v.unit}]" for v in shown)
    return [Grid("Terms that change their sum by less than 1 %, not derived", heads, (shown,), quoted=shown)]


def item_forces(tag: str, demand: Value) -> list[Grid]:
    """Return the table of an item's forces along, off and down its rails, which all go by one rule."""
    heads = ("Force", "c_1 []", "F_1 [lbf]", "c_2 []", "F_2 [lbf]", "Sum [lbf]")
    made = {v.origin.operation: v for v in _behind(demand) if isinstance(v.origin, Step)}
    rows = tuple(
        (words, *made[rule].origin.given.values(), made[rule])  # type: ignore[union-attr]
        for rule, words in ITEM_FORCES.items()
        if rule in made
    )
    sums = tuple(made[rule] for rule in ITEM_FORCES if rule in made)
    return [Grid(f"Forces of {tag}", heads, rows, quoted=sums)] if rows else []


def _part(value: Value, found: dict[int, Value], needed: set[int]) -> None:
    """Part what is worked out behind a value: arguments of trifling terms, and what the other terms need."""
    if not isinstance(value.origin, Step) or id(value.root) in needed:
        return
    needed.add(id(value.root))
    operation = value.origin.operation
    if taken_apart(value) is not None or operation in ITEM_FORCES:
        return
    for name, argument in value.origin.given.items():
        if isinstance(operation, Formula) and operation in SUMS and _vanishes(operation, value, name):
            made = argument.origin.operation if isinstance(argument.origin, Step) else None
            if made is not None and made not in ITEM_FORCES and taken_apart(argument) is None:
                found.setdefault(id(argument.root), argument.named(name))
        else:
            _part(argument, found, needed)


def _vanishes(operation: Formula, value: Value, name: str) -> bool:
    assert isinstance(value.origin, Step)
    arguments = value.origin.given
    asked = arguments[name]
    for factor in (1 / _VANISH, _VANISH):
        tried = operation(**arguments | {name: given(asked.magnitude * factor, asked.unit, _TRIED, name)})
        if abs(tried.m_as(value.unit) - value.magnitude) < TRIFLE * abs(value.magnitude):
            return True
    return False


def _behind(value: Value) -> Iterator[Value]:
    """Yield every value that one rests on, down to the numbers of the frame."""
    seen: set[int] = set()
    stack = [value]
    while stack:
        v = stack.pop()
        if id(v) in seen or taken_apart(v) is not None:
            continue
        seen.add(id(v))
        yield v
        stack += v.origin.given.values() if isinstance(v.origin, Step) else ()

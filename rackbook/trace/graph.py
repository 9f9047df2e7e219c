"""The graph of values: what a number rests on, what rests on it, and working it again on other inputs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from .value import Step, Value


def trace_lines(top: Value) -> Iterator[str]:
    """Yield the tree of values and sources behind ``top``, one a line, indented by depth."""
    seen: set[int] = set()
    stack: list[tuple[str, Value, int]] = [(top.symbol or "value", top, 0)]
    while stack:
        name, value, depth = stack.pop()
        repeated = id(value) in seen and isinstance(value.origin, Step)
        seen.add(id(value))
        yield f"{'  ' * depth}{name} = {value.text()}  [{'shown above' if repeated else value.origin}]"
        if isinstance(value.origin, Step) and not repeated:
            stack.extend((n, v, depth + 1) for n, v in reversed(value.origin.given.items()))


def in_order(values: Iterable[Value]) -> list[Value]:
    """Return every value the given ones rest on, each once, inputs before what uses them."""
    done: dict[int, Value] = {}
    stack: list[tuple[Value, bool]] = [(v, False) for v in values][::-1]
    while stack:
        value, ready = stack.pop()
        if id(value) in done:
            continue
        if ready or not isinstance(value.origin, Step):
            done[id(value)] = value
            continue
        stack.append((value, True))
        stack.extend((v, False) for v in reversed(value.origin.given.values()) if id(v) not in done)
    return list(done.values())


def touched(leaf: Value, results: dict[str, Value]) -> list[str]:
    """Return the paths of all results that rest on ``leaf``, in order of evaluation."""
    moved = {id(leaf.root)}
    for value in in_order(results.values()):
        if isinstance(value.origin, Step) and any(id(v.root) in moved for v in value.origin.given.values()):
            moved |= {id(value), id(value.root)}
    return [path for path, value in results.items() if id(value.root) in moved]


def recompute(value: Value, changes: dict[Value, Value]) -> Value:
    """Return ``value`` worked again with some of the values it rests on replaced.

    Choices choose again and tables are read again; branches that plain Python took outside the graph stay.
    """
    new: dict[int, Value] = {id(old.root): changed for old, changed in changes.items()}

    def now(old: Value) -> Value:
        changed = new.get(id(old.root))
        return old if changed is None else _shown_as(old, changed)

    for old in in_order([value]):
        if id(old.root) in new or not isinstance(old.origin, Step):
            continue
        given = {name: now(v) for name, v in old.origin.given.items()}
        if any(given[name] is not v for name, v in old.origin.given.items()):
            new[id(old.root)] = old.origin.operation.evaluate(given)
    return now(value)


def _shown_as(old: Value, changed: Value) -> Value:
    """Return ``changed`` in the unit and under the symbol of ``old``."""
    if not (old.is_word or changed.is_word) and changed.measure is not old.measure:
        changed = changed.to(old.unit)
    return changed if changed.symbol == old.symbol else changed.named(old.symbol)

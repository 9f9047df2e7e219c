"""The job with one value changed, in memory: what a search for a better value works on. No file is written."""

from __future__ import annotations

import math
import typing
from typing import Any

from pydantic import BaseModel

from rackbook.job.fields import Measure
from rackbook.job.rack_rules import rack_problems
from rackbook.job.schedule_rules import equipment_problems
from rackbook.job.text import Place, Text
from rackbook.job.yamlfile import Items, Mapping, Node
from rackbook.trace import LookupFailed, SolveError, Source, Value
from rackbook.trace.errors import nearest

FILE = "rack.yaml, on trial"


def changed(job: Any, path: str, value: Any) -> Any:
    """Return the job with one field replaced; every other field is the same object.

    Args:
        job: The job.
        path: Dotted path as the book names inputs: ``"frame.bays.2"``, ``"piers.embedment"``, ``"equipment.T-1.weight"``.
            Items of a list count from 1, rows of a schedule go by tag.
        value: The new Value (a bare number is in the present unit), or a text for a word.

    Raises:
        LookupFailed: The job has no such field.
        SolveError: The value is of another dimension, or out of the field's range.

    """
    return _with(job, path.split("."), value, path, None)


def field(job: Any, path: str) -> Any:
    """Return the field at a path.

    Raises:
        LookupFailed: The job has no such field.

    """
    thing = job
    for name in path.split("."):
        thing = _items(thing, path)[_named(thing, name, path)]
    return thing


def limits(job: Any, path: str) -> tuple[float, float]:
    """Return the lowest and the highest number a field may hold, in its present unit; infinite where it has no limit."""
    measure, old = _measure(job, path.split("."), path), field(job, path)
    if measure is None or not isinstance(old, Value):
        return -math.inf, math.inf
    ends = (max(measure.gt, measure.ge), min(measure.lt, measure.le))
    low, high = (x if math.isinf(x) else Value(x, measure.unit, old.source).m_as(old.unit) for x in ends)
    return low, high


def sound(job: Any) -> Any:
    """Return a job that keeps the rules between its fields, as a job that was read from its files does.

    Raises:
        InputError: It does not; the message is that of the first rule broken.

    """
    for problem in rack_problems(job, _tree(job, "")):  # type: ignore[arg-type]
        raise problem
    named = ("tag", "importance")  # what the rules quote
    rows = [{name: Text(_said(getattr(e, name)), Place(FILE, f"{e.tag}, {name}")) for name in named} for e in job.equipment]
    for problem in equipment_problems(list(zip(job.equipment, rows, strict=True)), job):
        raise problem
    return job


def _said(value: Any) -> str:
    return value.text() if isinstance(value, Value) else str(value)


def _tree(thing: Any, path: str) -> Node:
    """Return the job as the tree of a file, for the rules that name places in it."""
    place = Place(FILE, path)
    if isinstance(thing, BaseModel):
        fields = {name: info for name, info in type(thing).model_fields.items() if name not in ("equipment", "circuits")}
        at = {info.alias or name: name for name, info in fields.items() if getattr(thing, name) is not None}
        tree = Mapping({key: _tree(getattr(thing, name), f"{path}.{key}".strip(".")) for key, name in at.items()})
        tree.place, tree.keys_at = place, {key: Place(FILE, f"{path}.{key}".strip(".")) for key in at}
        return tree
    if isinstance(thing, tuple):
        items = Items(_tree(item, f"{path}.{n}") for n, item in enumerate(thing, 1))
        items.place = place
        return items
    return Text(_said(thing), place)


# --- fields by path ----------------------------------------------------------------------------------------------------


def _items(thing: Any, path: str) -> dict[str, Any]:
    """Return what stands below a level of the job, by the names the book gives."""
    if isinstance(thing, BaseModel):
        return {name: getattr(thing, name) for name in type(thing).model_fields}
    if isinstance(thing, tuple):
        return {str(getattr(item, "tag", "") or n): item for n, item in enumerate(thing, 1)}
    raise LookupFailed(f"The job has no field '{path}': it goes below a single value.")


def _named(thing: Any, name: str, path: str) -> str:
    found = _items(thing, path)
    if name not in found:
        raise LookupFailed(f"The job has no field '{path}'.{nearest(name, found)} Here: {', '.join(list(found)[:30])}.")
    return name


def _with(thing: Any, names: list[str], value: Any, path: str, measure: Measure | None) -> Any:
    if not names:
        return _new(thing, value, path, measure)
    items = _items(thing, path)
    name = _named(thing, names[0], path)
    if isinstance(thing, BaseModel):
        measure = _found(type(thing).model_fields[name])
    items[name] = _with(items[name], names[1:], value, path, measure)
    if isinstance(thing, tuple):
        return tuple(items.values())
    return type(thing).model_construct(**items)  # values that are computed once belong to the old job


def _new(old: Any, value: Any, path: str, measure: Measure | None) -> Any:
    if isinstance(value, str):
        return Text(value, getattr(old, "place", None))
    if isinstance(value, (int, float)) and isinstance(old, Value):
        value = Value(float(value), old.unit, Source("assumption", f"{path} on trial, in place of {old.text()}"), old.symbol)
    if not isinstance(value, Value) or not isinstance(old, Value):
        return value
    number = value.m_as(old.unit)
    if measure is not None:
        ends = Value(number, old.unit, value.source).m_as(measure.unit)
        if not (measure.gt < ends < measure.lt and measure.ge <= ends * (1 + 1e-9) and ends <= measure.le * (1 + 1e-9)):
            raise SolveError(f"{path} = {value.text()} is out of range. Allowed: {measure.allowed}.")
    return value


def _measure(job: Any, names: list[str], path: str) -> Measure | None:
    found, thing = None, job
    for name in names:
        if isinstance(thing, BaseModel) and name in type(thing).model_fields:
            found = _found(type(thing).model_fields[name])
        thing = _items(thing, path)[_named(thing, name, path)]
    return found


def _found(of: Any) -> Measure | None:
    """Return the measure in a field's annotation, however deep it stands."""
    for item in getattr(of, "metadata", ()):
        if isinstance(item, Measure):
            return item
    return _inside(getattr(of, "annotation", of))


def _inside(annotation: Any) -> Measure | None:
    for part in (*getattr(annotation, "__metadata__", ()), *typing.get_args(annotation)):
        found = part if isinstance(part, Measure) else _inside(part) if part is not annotation else None
        if found is not None:
            return found
    return None

"""What an input would have to be for a check to pass: the job with one value changed, worked again until it does.

Nothing is written: the job's files stay as they are, and the value found is a proposal for the engineer.
"""

from __future__ import annotations

import math
import typing
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from rackbook.job.fields import Measure
from rackbook.job.text import Text
from rackbook.trace import Check, LookupFailed, RackbookError, SolveError, Source, Value
from rackbook.trace.errors import nearest

#: Steps from the present value outward grow by this factor; a value found is told to so many figures.
STEP, FIGURES = 1.2, 3
#: Steps tried on either side, and halvings between the last value that fails and the first that passes.
MOST, HALVINGS = 24, 12


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


@dataclass(frozen=True)
class Trial:
    """One value that was tried: the check's ratio, or why the book refused the job with it."""

    value: float
    ratio: float | None
    passes: bool
    refused: str = ""


@dataclass(frozen=True)
class Sought:
    """The value of an input from which a check passes.

    Attributes:
        path: The input.
        was: Its value now.
        value: The value found; ``was`` where the check passes as it is.
        before, check: The check now, and with the value found.
        tried: Every value that was tried, in order.

    """

    path: str
    was: Value
    value: Value
    before: Check
    check: Check
    tried: tuple[Trial, ...]

    def __str__(self) -> str:
        if self.value is self.was:
            return f"{self.before.name} passes with {self.path} = {self.was.text()} as it is."
        return (
            f"{self.before.name}: passes with {self.path} = {self.value.text()} in place of {self.was.text()} "
            f"(ratio {_ratio(self.check):.3f} in place of {_ratio(self.before):.3f}); the limit lies within "
            f"{abs(self.tried[-1].value - self.value.magnitude):.2g} {self.value.unit}".rstrip()
            + "."
        )


def seek(job: Any, path: str, work: Callable[[Any], Check], low: float | None = None, high: float | None = None) -> Sought:
    """Return the value of an input, nearest to the present one, with which a check passes.

    The search goes outward from the present value on both sides, then halves between the last value that fails and the
    first that passes. It takes the check as one that turns once between these two.

    Args:
        job: The job.
        path: The input, as for :func:`changed`.
        work: Function of a job that works the check again.
        low: Lowest value to be tried, in the present unit; the field's own limit if left out.
        high: Highest value to be tried.

    Raises:
        LookupFailed: The job has no such field.
        SolveError: The field is no number, the check is open, or no value makes it pass.

    """
    was = field(job, path)
    if not isinstance(was, Value) or was.is_word:
        raise SolveError(f"{path} is no quantity; only numbers are sought. Change it in the file and compute again.")
    before = work(job)
    if before.ratio is None:
        raise SolveError(f"{before.name} is open: {before.remedy or 'the job does not give what it needs'} Nothing is sought.")
    if before.passes:
        return Sought(path, was, was, before, before, ())
    allowed = limits(job, path)
    ends = (allowed[0] if low is None else max(low, allowed[0]), allowed[1] if high is None else min(high, allowed[1]))
    tried: list[Trial] = []
    made: dict[float, Check] = {}

    def passes(x: float) -> bool:
        try:
            made[x] = work(changed(job, path, x))
        except RackbookError as e:
            tried.append(Trial(x, None, False, str(e)))
            return False
        tried.append(Trial(x, _ratio(made[x]), made[x].passes))
        return made[x].passes

    start = float(was.magnitude)
    for last, x in _outward(start, *ends):
        if passes(x):
            found = _halved(last, x, passes)
            on = Source("assumption", f"{path} on trial, in place of {was.text()}")
            return Sought(path, was, Value(found, was.unit, on, was.symbol), before, made[found], tuple(tried))
    raise SolveError(_none(path, was, before, tried))


def _outward(start: float, low: float, high: float) -> Iterator[tuple[float, float]]:
    """Yield pairs of neighboring values, the farther one to be tried, on both sides in turn."""
    step = abs(start) * (STEP - 1) or 0.1
    at, moving = {-1: start, 1: start}, {-1: True, 1: True}
    for n in range(MOST):
        for side, end in ((1, high), (-1, low)):
            if not moving[side]:
                continue
            if start:
                x = at[side] * STEP if (start > 0) == (side > 0) else at[side] / STEP
            else:
                x = at[side] + side * step * STEP**n
            if (x - end) * side >= 0:
                x, moving[side] = end, False
            if x == at[side] or math.isinf(x):
                continue
            yield at[side], _short(x, side, low, high)
            at[side] = x
        if not any(moving.values()):
            return


def _halved(fails: float, good: float, passes: Callable[[float], bool]) -> float:
    """Return a value that passes, close to where it no longer would."""
    side = 1 if good > fails else -1
    for _ in range(HALVINGS):
        middle = _short((fails + good) / 2, side, min(fails, good), max(fails, good))
        if middle in (fails, good):
            break
        if passes(middle):
            good = middle
        else:
            fails = middle
    return good


def _short(x: float, side: int, low: float, high: float) -> float:
    """Return a number of few figures, moved away from the present value, within its ends."""
    if x == 0 or x in (low, high):
        return x
    unit = 10.0 ** (math.floor(math.log10(abs(x))) - FIGURES + 1)
    rounded = (math.ceil if side > 0 else math.floor)(x / unit - side * 1e-9) * unit
    return min(max(float(f"{rounded:.{FIGURES}g}"), low), high)


def _none(path: str, was: Value, before: Check, tried: list[Trial]) -> str:
    ratios = [t for t in tried if t.ratio is not None]
    said = f"{before.name}: no value of {path} makes it pass"
    if not tried:
        return f"{said}: it has no room beside {was.text()}."
    low, high = min(t.value for t in tried), max(t.value for t in tried)
    said += f" between {low:g} and {high:g} {was.unit}".rstrip()
    if ratios:
        best = min(ratios, key=lambda t: t.ratio or 0.0)
        said += f"; the smallest ratio is {best.ratio:.3f}, at {best.value:g} {was.unit}".rstrip()
    refused = [t for t in tried if t.refused]
    if refused:
        said += f". At {refused[0].value:g} {was.unit} the book refuses the job: {refused[0].refused}"
    return f"{said.rstrip('.')}. Change another input: {before.remedy or 'see the clause.'}"


def _ratio(of: Check) -> float:
    assert of.ratio is not None
    return float(max([of.ratio.magnitude] if isinstance(of.ratio.magnitude, float) else of.ratio.magnitude.ravel()))


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

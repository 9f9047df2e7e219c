"""What an input would have to be for a check to pass: the job with one value changed, worked again until it does.

Nothing is written: the job's files stay as they are, and the value found is a proposal for the engineer.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from rackbook.trace import Check, RackbookError, SolveError, Source, Value

from .trial import changed, field, limits, sound

#: Steps from the present value outward grow by this factor; a value found is told to so many figures.
STEP, FIGURES = 1.2, 3
#: Steps tried on either side, and halvings between the last value that fails and the first that passes.
MOST, HALVINGS = 24, 12
#: Steps without a smaller ratio after which a side is given up.
PATIENCE = 3


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
        short = min((abs(t.value - self.value.magnitude) for t in self.tried if not t.passes), default=0.0)
        near = f"; {short:.2g} {self.value.unit}".rstrip() + " short of it fails" if short else ""
        return (
            f"{self.before.name}: passes with {self.path} = {self.value.text()} in place of {self.was.text()} "
            f"(ratio {_ratio(self.check):.3f} in place of {_ratio(self.before):.3f}){near}."
        )


def seek(job: Any, path: str, work: Callable[[Any], Check], low: float | None = None, high: float | None = None) -> Sought:
    """Return the value of an input, nearest to the present one, with which a check passes.

    The search goes outward from the present value on both sides, as long as the ratio falls there, then halves between the
    last value that fails and the first that passes. It takes the check as one that turns once between these two.

    Args:
        job: The job.
        path: The input, as for :func:`~.trial.changed`.
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
            made[x] = work(sound(changed(job, path, x)))
        except RackbookError as e:
            tried.append(Trial(x, None, False, str(e)))
            return False
        tried.append(Trial(x, _ratio(made[x]), made[x].passes))
        return made[x].passes

    sides = [_Side(float(was.magnitude), 1, ends[1], _ratio(before)), _Side(float(was.magnitude), -1, ends[0], _ratio(before))]
    for _ in range(MOST):
        for side in sides:
            last, x = side.at, side.step(*ends)
            if x is None:
                continue
            if passes(x):
                found = _halved(last, x, passes)
                on = Source("assumption", f"{path} on trial, in place of {was.text()}")
                return Sought(path, was, Value(found, was.unit, on, was.symbol), before, made[found], tuple(tried))
            side.saw(tried[-1].ratio)
    raise SolveError(_none(path, was, before, tried))


class _Side:
    """The search on one side of the present value: where it is, and how long it has seen no smaller ratio."""

    def __init__(self, start: float, way: int, end: float, ratio: float) -> None:
        self.start, self.at, self.way, self.end, self.best = start, start, way, end, ratio
        self.idle, self.count = 0, 0

    def step(self, low: float, high: float) -> float | None:
        """Return the next value to be tried; None where the side has come to its end, or leads nowhere."""
        if self.idle >= PATIENCE or self.at == self.end:
            return None
        if self.start:
            x = self.at * STEP if (self.start > 0) == (self.way > 0) else self.at / STEP
        else:
            x = self.at + self.way * 0.1 * STEP**self.count
        x = _short(x, self.way, low, high)
        self.count += 1
        if (x - self.end) * self.way >= 0:
            x = self.end
        self.at = x
        return x

    def saw(self, ratio: float | None) -> None:
        """Note the ratio of the value tried last."""
        self.idle += 1
        if ratio is not None and ratio < self.best:
            self.best, self.idle = ratio, 0


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

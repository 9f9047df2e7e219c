"""A formula is written once: a short plain function whose body is its calculation sheet.

The one text is computed with units, swept over arrays, run on sympy symbols, set as a hand calculation
and solved for any of its inputs.
"""

from __future__ import annotations

import functools
import inspect
import re
from collections.abc import Callable, Iterable
from typing import Any

import numpy as np

from .body import Line, read_body
from .errors import DomainError, SheetError, UnitError, nearest
from .plan import make_plan
from .units import Unit, convert, unit
from .value import WORD, Source, Step, Value

#: All formulas of the library by ``module.name``, for the tests that visit every one of them.
FORMULAS: dict[str, Formula] = {}
#: Numbers of an array that are worked out together.
BLOCK = 16_384


class Formula:
    """A function of quantities, its source, and the unit of each line of its body.

    Call it with Values and it gives a Value that remembers them; call it with plain numbers, arrays or
    sympy symbols and it gives what the bare function gives.

    Raises:
        SheetError: At definition, if the body could not be set truthfully as a hand calculation.

    """

    def __init__(self, function: Callable, source: Source, units: dict[str, str], stated: dict[str, str] | None = None) -> None:
        functools.update_wrapper(self, function)
        self.source = source
        self.name: str = function.__name__
        self.key = f"{function.__module__.removeprefix('rackbook.')}.{self.name}"
        self.function, self.lines = read_body(function, units)
        self.arguments = tuple(inspect.signature(self.function).parameters)
        self.stated = {name: unit(u) for name, u in stated.items()} if stated is not None else None
        if stray := set(stated or ()) - set(self.arguments):
            raise SheetError(f"Formula {self.name}: '{min(stray)}' has a stated unit, but is not an argument.")
        self.result = self.lines[-1].target
        self.unit = self.lines[-1].unit
        # how many of something there are: a whole number of them is printed as one
        self.counts = re.match(r"n(_|$)", self.result) is not None or " = ceil(" in self.lines[-1].text
        self._looks_at_all = any("sum(" in line.text for line in self.lines)
        self._plans: dict[tuple[Unit, ...], tuple[bool, float, float]] = {}
        if function.__module__.startswith("rackbook."):
            FORMULAS[self.key] = self

    @property
    def title(self) -> str:
        """What the formula gives, in words, from the first line of its docstring."""
        first = (self.function.__doc__ or self.name).strip().splitlines()[0].rstrip(".")
        return first.removeprefix("Return ").removeprefix("the ")

    def __call__(self, *args: Any, **given: Any) -> Any:
        """Work the formula out on Values, or on plain numbers, arrays or sympy symbols; see the class."""
        if args or tuple(given) != self.arguments:
            given = self._bound(args, given)
        values = list(given.values())
        try:
            key = tuple([v.measure for v in values])
        except AttributeError:
            return self._call_plain(given)
        plan = self._plans.get(key) or self._plan(given)
        numbers = [v.magnitude for v in values]
        try:
            if np.ndarray in map(type, numbers):
                with np.errstate(divide="raise", invalid="raise", over="raise"):
                    result = self._sweep(numbers, key, plan)
            else:
                result = self._run(numbers, key, plan)
        except (ArithmeticError, ValueError) as e:
            raise self._outside(given, str(e)) from None
        except TypeError as e:  # a function of the body was given the root of a negative number
            if "complex" not in str(e):
                raise
            raise self._outside(given, "a step is not a real number") from None
        if type(result) is float:
            if result - result != 0.0:
                raise self._outside(given, "the result is not a finite number")
        elif type(result) is complex:
            raise self._outside(given, "the result is not a real number")
        return Value(result, self.unit, Step(self, given), self.result)

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Run the formula again on other inputs of the same names."""
        return self(**given)

    def __reduce__(self) -> str:
        """Pickle by name, as a function is."""
        return self.__qualname__  # type: ignore[attr-defined]

    def _run(self, numbers: list[Any], units: tuple[Unit, ...], plan: tuple[bool, float, float]) -> Any:
        """Run the body on numbers in these units and return its result in the display unit."""
        direct, factor, offset = plan
        result = self.function(*(numbers if direct else self._numbers(numbers, units)))
        if factor == 1.0 and not offset:
            return result
        if type(result) is np.ndarray and result.flags.writeable:  # made by the body: arrays of Values are read-only
            result *= factor
            if offset:
                result -= offset
            return result
        return result * factor - offset

    def _sweep(self, numbers: list[Any], units: tuple[Unit, ...], plan: tuple[bool, float, float]) -> Any:
        """Run the body on arrays; where they must be converted first, in blocks that stay in the processor's cache."""
        shapes = {x.shape for x in numbers if type(x) is np.ndarray}
        shape = max(shapes, key=len)
        if plan[0] or self._looks_at_all or len(shapes) > 1 or len(shape) > 1 or shape[0] <= BLOCK:
            return self._run(numbers, units, plan)
        result = np.empty(shape)
        for start in range(0, shape[0], BLOCK):
            block = slice(start, start + BLOCK)
            part = [x[block] if type(x) is np.ndarray else x for x in numbers]
            result[block] = self._run(part, units, plan)
        return result

    def _bound(self, args: tuple[Any, ...], given: dict[str, Any]) -> dict[str, Any]:
        """Return all arguments by name, in order."""
        names = (*self.arguments[: len(args)], *given)
        wrong = ""
        if len(args) > len(self.arguments):
            wrong = f"takes {len(self.arguments)} arguments, not {len(args)}."
        elif extra := [n for n in names if n not in self.arguments]:
            wrong = f"has no argument '{extra[0]}'.{nearest(extra[0], self.arguments)}"
        elif twice := [n for n in given if n in names[: len(args)]]:
            wrong = f"is given '{twice[0]}' twice."
        elif missing := [n for n in self.arguments if n not in names]:
            wrong = f"needs '{missing[0]}'."
        if wrong:
            raise TypeError(f"{self.name} {wrong} Its arguments: {', '.join(self.arguments)}.")
        given = {**dict(zip(names, args, strict=False)), **given}
        return {n: given[n] for n in self.arguments}

    def _call_plain(self, given: dict[str, Any]) -> Any:
        bare = [n for n, v in given.items() if not isinstance(v, Value)]
        if len(bare) < len(given):
            raise UnitError(
                f"{self.name}: '{bare[0]}' is a bare number among Values; say where it comes from with given() or assume()."
            )
        return self.function(**given)

    def _plan(self, given: dict[str, Value]) -> tuple[bool, float, float]:
        for name, value in given.items():
            if value.measure is WORD:
                raise UnitError(f"{self.name}: '{name}' is the word '{value.magnitude}', where a number is needed.")
        return self.check_units({n: v.measure for n, v in given.items()})

    def check_units(self, units: dict[str, Unit]) -> tuple[bool, float, float]:
        """Check the dimensions for arguments in these units and return how the body is run on them.

        Returns:
            Whether magnitudes are taken as they stand, and the factor and offset to the display unit.

        Raises:
            UnitError: The dimensions do not fit.

        """
        if self.stated is not None:
            for name, of in units.items():
                self._to_stated(name, 0.0, of)
            plan = all(of is self.stated_unit(n) for n, of in units.items()), 1.0, 0.0
        else:
            plan = (*make_plan(self.name, self.lines, units), self.unit.offset)
        return self._plans.setdefault(tuple(units.values()), plan)

    def stated_unit(self, name: str) -> Unit:
        """Return the unit in which an empirical formula takes an argument."""
        return (self.stated or {}).get(name, unit(""))

    def _numbers(self, numbers: Iterable[Any], units: Iterable[Unit]) -> list[Any]:
        """Return what the body runs on off the direct path: numbers in base units, or in the stated ones."""
        if self.stated is None:
            return [_in_base(x, of) for x, of in zip(numbers, units, strict=True)]
        return [self._to_stated(n, x, of) for n, x, of in zip(self.arguments, numbers, units, strict=True)]

    def _to_stated(self, name: str, number: Any, of: Unit) -> Any:
        want = self.stated_unit(name)
        try:
            return convert(number, of, want)
        except UnitError:
            raise UnitError(
                f"{self.name} is written in stated units: '{name}' in {want.name or 'pure numbers'}, not "
                f"{of.name or 'a pure number'}."
            ) from None

    def _outside(self, given: dict[str, Value], why: str) -> DomainError:
        numbers = ", ".join(f"{n} = {v.text()}" for n, v in given.items())
        return DomainError(f"{self.name} ({self.source}) cannot be worked out: {why}. Given: {numbers}.")

    def steps(self, given: dict[str, Value]) -> list[tuple[Line, Value]]:
        """Return each line of the body with its result, for the sheet.

        The lines are run again, in base (or stated) units; intermediate results are Values with this formula's source.
        """
        values = [given[n] for n in self.arguments]
        numbers = self._numbers([v.magnitude for v in values], [v.measure for v in values])
        names = dict(zip(self.arguments, numbers, strict=True))
        out: list[tuple[Line, Value]] = []
        for line in self.lines:
            names[line.target] = number = line.run(names)
            shown = number if self.stated is not None else number / line.unit.scale - line.unit.offset
            out.append((line, Value(shown, line.unit, Step(self, given), line.target)))
        return out

    def solve(self, unknown: str, unit: str = "", domain: tuple[float, float] | None = None, **known: Value) -> Value:
        """Return the value of one argument that gives a wanted result; see ``rackbook.trace.solve``."""
        from .solve import solve

        return solve(self, unknown, unit=unit, domain=domain, **known)

    def __repr__(self) -> str:
        return f"<formula {self.key}: {self.source}>"


def _in_base(x: Any, of: Unit) -> Any:
    if of.offset:
        return (x + of.offset) * of.scale
    return x if of.scale == 1.0 else x * of.scale


def formula(source: Source, stated: dict[str, str] | None = None, **units: str) -> Callable[[Callable], Formula]:
    """Mark a plain function as a formula.

    Args:
        source: Where the formula is published.
        stated: For an empirical formula, the unit in which each argument is to be put; arguments not named are
            pure numbers. Inputs are converted and stripped, and the result is tagged.
        units: The display unit of each line of the body, by its target.

    """
    return lambda function: Formula(function, source, units, stated)

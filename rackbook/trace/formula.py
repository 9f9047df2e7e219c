"""A formula is written once: a short plain function whose body is its calculation sheet.

The one text is computed with units, swept over arrays, run on sympy symbols, set as a hand calculation
and solved for any of its inputs.
"""

from __future__ import annotations

import ast
import functools
import inspect
import textwrap
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from . import maths
from .errors import DomainError, SheetError, UnitError, nearest
from .plan import make_plan
from .units import Unit, convert, unit
from .value import WORD, Source, Step, Value

#: What a body may be made of; everything else would run, and be set wrongly or not at all.
ALLOWED = (
    ast.BinOp, ast.Add, ast.Sub, ast.Mult, ast.Div, ast.Pow, ast.UnaryOp, ast.USub, ast.Call, ast.Name, ast.Load, ast.Constant,
)  # fmt: skip
CONSTANTS = {"pi": maths.pi, **maths.FUNCTIONS}
#: All formulas of the library by ``module.name``, for the tests that visit every one of them.
FORMULAS: dict[str, Formula] = {}


@dataclass(frozen=True)
class Line:
    """One assignment of a body: its target, its text, its compiled right-hand side and its unit."""

    target: str
    text: str
    code: Any
    unit: Unit
    names: tuple[str, ...]


class Formula:
    """A function of quantities, its source, and the unit of each line of its body.

    Call it with Values and it gives a Value that remembers them; call it with plain numbers, arrays or
    sympy symbols and it gives what the bare function gives.

    Raises:
        SheetError: At definition, if the body could not be set truthfully as a hand calculation.

    """

    def __init__(
        self, function: Callable, source: Source, units: dict[str, str], stated: dict[str, str] | None = None
    ) -> None:
        functools.update_wrapper(self, function)
        self.function, self.source = function, source
        self.name: str = function.__name__
        self.key = f"{function.__module__.removeprefix('rackbook.')}.{self.name}"
        self.arguments = tuple(inspect.signature(function).parameters)
        self.stated = {name: unit(u) for name, u in (stated or {}).items()} if stated is not None else None
        self.lines = _read_lines(self, units)
        self.result = self.lines[-1].target
        self.unit = self.lines[-1].unit
        self._plans: dict[tuple[Unit, ...], tuple[bool, float]] = {}
        if function.__module__.startswith("rackbook."):
            FORMULAS[self.key] = self

    @property
    def title(self) -> str:
        """What the formula gives, in words, from the first line of its docstring."""
        first = (self.function.__doc__ or self.name).strip().splitlines()[0].rstrip(".")
        return first.removeprefix("Return ").removeprefix("the ")

    def __call__(self, *args: Any, **given: Any) -> Any:
        if args:
            given = {**dict(zip(self.arguments, args, strict=False)), **given}
        try:
            values = [given[name] for name in self.arguments]
            key = tuple([v.measure for v in values])
        except (KeyError, AttributeError):
            return self._call_plain(given)
        plan = self._plans.get(key)
        if plan is None or len(given) != len(values):
            plan = self._plan(given)
        direct, factor = plan
        try:
            if direct:
                result = self.function(*[v.magnitude for v in values])
            else:
                result = self.function(*self._numbers(values))
        except (ValueError, ZeroDivisionError, OverflowError) as e:
            raise self._outside(given, str(e)) from None
        if factor != 1.0:
            result = result * factor
        if self.unit.offset:
            result = result - self.unit.offset
        if type(result) is complex:
            raise self._outside(given, "the result is not a real number")
        return Value(result, self.unit, Step(self, dict(zip(self.arguments, values, strict=True))), self.result)

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Run the formula again on other inputs of the same names."""
        return self(**given)

    def _call_plain(self, given: dict[str, Any]) -> Any:
        missing = [n for n in self.arguments if n not in given]
        extra = [n for n in given if n not in self.arguments]
        if missing or extra:
            wrong = (
                f"has no argument '{extra[0]}'.{nearest(extra[0], self.arguments)}"
                if extra
                else f"needs '{missing[0]}'."
            )
            raise TypeError(f"{self.name} {wrong} Its arguments: {', '.join(self.arguments)}.")
        bare = [n for n, v in given.items() if not isinstance(v, Value)]
        if len(bare) < len(given):
            raise UnitError(
                f"{self.name}: '{bare[0]}' is a bare number among Values; say where it comes from with given() or assume()."
            )
        return self.function(**given)

    def _plan(self, given: dict[str, Value]) -> tuple[bool, float]:
        if len(given) != len(self.arguments):
            self._call_plain(given)
        for name, value in given.items():
            if value.measure is WORD:
                raise UnitError(f"{self.name}: '{name}' is the word '{value.magnitude}', where a number is needed.")
        units = {n: given[n].measure for n in self.arguments}
        if self.stated is not None:
            for name, of in units.items():
                if of.dimension != self.stated_unit(name).dimension:
                    raise UnitError(
                        f"{self.name} is written in stated units: '{name}' in {self.stated_unit(name).name or 'pure numbers'}, not {of.name or 'a pure number'}."
                    )
            plan = all(of is self.stated_unit(n) for n, of in units.items()), 1.0
        else:
            plan = make_plan(self.name, [(li.target, li.code, li.unit, li.text) for li in self.lines], units, CONSTANTS)
        return self._plans.setdefault(tuple(units.values()), plan)

    def stated_unit(self, name: str) -> Unit:
        """Return the unit in which an empirical formula takes an argument."""
        return (self.stated or {}).get(name, unit(""))

    def _numbers(self, values: list[Value]) -> list[Any]:
        """Return what the body runs on off the direct path: base units, or the stated ones."""
        if self.stated is None:
            return [v.base for v in values]
        return [
            convert(v.magnitude, v.measure, self.stated_unit(n)) for n, v in zip(self.arguments, values, strict=True)
        ]

    def _outside(self, given: dict[str, Value], why: str) -> DomainError:
        numbers = ", ".join(f"{n} = {v.text()}" for n, v in given.items())
        return DomainError(f"{self.name} ({self.source}) cannot be worked out: {why}. Given: {numbers}.")

    def steps(self, given: dict[str, Value]) -> list[tuple[Line, Value]]:
        """Return each line of the body with its result, for the sheet.

        The lines are run again, in base (or stated) units; intermediate results are Values with this formula's source.
        """
        names = dict(zip(self.arguments, self._numbers([given[n] for n in self.arguments]), strict=True))
        out = []
        for line in self.lines:
            number = eval(line.code, {"__builtins__": {}}, {**CONSTANTS, **names})  # checked expression of this body
            names[line.target] = number
            shown = number if self.stated is not None else number / line.unit.scale - line.unit.offset
            out.append((line, Value(shown, line.unit, Step(self, given), line.target)))
        return out

    def solve(self, unknown: str, unit: str = "", domain: tuple[float, float] | None = None, **known: Value) -> Value:
        """Return the value of one argument that gives a wanted result; see :func:`rackbook.trace.solve.solve`."""
        from .solve import solve

        return solve(self, unknown, unit=unit, domain=domain, **known)

    def __repr__(self) -> str:
        return f"<formula {self.key}: {self.source}>"


def _read_lines(formula: Formula, units: dict[str, str]) -> tuple[Line, ...]:
    """Read the body as checked one-line assignments; refuse by name, line and reason what cannot be set truthfully."""
    try:
        source = textwrap.dedent(inspect.getsource(formula.function))
    except OSError:
        raise SheetError(
            f"Formula {formula.name}: its text cannot be read; write it in a file or a notebook cell."
        ) from None
    node = ast.parse(source).body[0]
    body = node.body  # type: ignore[attr-defined]
    if isinstance(body[0], ast.Expr) and isinstance(body[0].value, ast.Constant):
        body = body[1:]
    *steps, last = body
    where = f"Formula {formula.name}"
    if not (isinstance(last, ast.Return) and isinstance(last.value, ast.Name)) or not steps:
        raise SheetError(f"{where}: end the body with 'return <name>' after at least one 'name = expression'.")
    known, lines = set(formula.arguments), []
    for step in steps:
        at = f"{where}, line {step.lineno}: '{ast.unparse(step)}'"
        if not (isinstance(step, ast.Assign) and len(step.targets) == 1 and isinstance(step.targets[0], ast.Name)):
            raise SheetError(f"{at} is not a plain 'name = expression'; only such lines can be set as a calculation.")
        target = step.targets[0].id
        if target in known or target in CONSTANTS:
            raise SheetError(f"{at} gives '{target}' a second meaning; use another symbol.")
        names = _check_expression(step.value, known, at)
        if target not in units:
            raise SheetError(f"{at} has no unit; declare {target}='...' in @formula (use '' for a pure number).")
        # the author's own brackets decide what is one fraction, so the text is kept, not the tree
        text = " ".join((ast.get_source_segment(source, step.value) or "").split())
        code = compile(ast.Expression(step.value), f"<{formula.name}>", "eval")
        lines.append(Line(target, f"{target} = {text}", code, unit(units[target]), names))
        known.add(target)
    if last.value.id != lines[-1].target:
        raise SheetError(f"{where}: 'return {last.value.id}' must return the last line's '{lines[-1].target}'.")
    unused = [n for n in formula.arguments if not any(n in li.names for li in lines)]
    if unused or set(units) - {li.target for li in lines}:
        raise SheetError(
            f"{where}: '{(unused or sorted(set(units) - {li.target for li in lines}))[0]}' is not used in the body."
        )
    return tuple(lines)


def _check_expression(expression: ast.expr, known: set[str], at: str) -> tuple[str, ...]:
    called = {id(n.func) for n in ast.walk(expression) if isinstance(n, ast.Call)}
    names = []
    for node in ast.walk(expression):
        if not isinstance(node, ALLOWED):
            raise SheetError(
                f"{at}: {type(node).__name__} runs in Python but cannot be set truthfully on a sheet. Put it on a line of its "
                "own, choose between two formulas in plain Python, or pass the result in as an argument."
            )
        if isinstance(node, ast.Call):
            if not (isinstance(node.func, ast.Name) and node.func.id in maths.FUNCTIONS) or node.keywords:
                raise SheetError(f"{at}: a body may call only {', '.join(maths.FUNCTIONS)}, without keywords.")
        elif isinstance(node, ast.Constant) and (
            isinstance(node.value, bool) or not isinstance(node.value, (int, float))
        ):
            raise SheetError(f"{at}: {node.value!r} is not a number.")
        elif isinstance(node, ast.Name) and id(node) not in called:
            if node.id not in known and node.id != "pi":
                raise SheetError(
                    f"{at}: '{node.id}' is neither an argument nor an earlier line.{nearest(node.id, known)}"
                )
            names.append(node.id)
    return tuple(dict.fromkeys(names))


def formula(source: Source, stated: dict[str, str] | None = None, **units: str) -> Callable[[Callable], Formula]:
    """Mark a plain function as a formula.

    Args:
        source: Where the formula is published.
        stated: For an empirical formula, the unit in which each argument is to be put; arguments not named are
            pure numbers. Inputs are converted and stripped, and the result is tagged.
        units: The display unit of each line of the body, by its target.

    """
    return lambda function: Formula(function, source, units, stated)

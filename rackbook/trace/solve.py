"""Solving a formula for any of its inputs: symbolically where sympy can, numerically where it cannot."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from dataclasses import dataclass

from . import maths
from .errors import DomainError, SolveError, UnitError, nearest
from .formula import Formula
from .plan import Tracer
from .units import COMMON, Unit, convert, unit
from .value import Source, Step, Value

#: Where a root is looked for, in base units, if the caller names no domain: physical inputs are positive.
DOMAIN = (1e-12, 1e12)
POINTS = 481
#: More roots than this are a stretch on which the result does not depend on the unknown.
MANY = 8
#: A root is a root if it gives the wanted result back to this relative difference.
CLOSE = 1e-9


@dataclass(frozen=True)
class Solved:
    """The operation behind a solved value: a formula turned round."""

    formula: Formula
    unknown: str
    unit: str
    domain: tuple[float, float] | None

    @property
    def name(self) -> str:
        """Name as printed in a trace."""
        return f"{self.formula.name} solved for {self.unknown}"

    @property
    def source(self) -> Source:
        """The formula's own source."""
        return self.formula.source

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Solve again with other known values."""
        return solve(self.formula, self.unknown, unit=self.unit, domain=self.domain, **given)


def solve(
    formula: Formula, unknown: str, unit: str = "", domain: tuple[float, float] | None = None, **known: Value
) -> Value:
    """Return the value of ``unknown`` for which ``formula`` gives a wanted result.

    Args:
        formula: The formula to turn round.
        unknown: Name of one of its arguments.
        unit: Unit of the answer; where sympy can solve the formula it may be left out.
        domain: Lowest and highest answer to be considered, in ``unit``; positive numbers if left out.
        known: All other arguments, and the wanted result under the formula's result name.

    Raises:
        SolveError: No answer, or more than one, lies in the domain.
        UnitError: The known values are of the wrong dimension.
    """
    needed = [n for n in formula.arguments if n != unknown] + [formula.result]
    if unknown not in formula.arguments:
        raise SolveError(
            f"{formula.name} has no argument '{unknown}'.{nearest(unknown, formula.arguments)} Its arguments: {', '.join(formula.arguments)}."
        )
    if missing := [n for n in needed if n not in known]:
        raise SolveError(f"{formula.name}, solved for '{unknown}', needs '{missing[0]}' to be given.")
    numbers = {n: _number(formula, n, known[n]) for n in needed}
    of = _unit_of(formula, unknown, unit, known)
    low, high = (_to_body(formula, x, of) for x in domain) if domain else DOMAIN
    roots = _roots(formula, unknown, numbers, low, high)
    if len(roots) != 1:
        where = f"between {domain[0]:g} and {domain[1]:g} {of.name}" if domain else "among positive numbers"
        asked = ", ".join(f"{n} = {known[n].text()}" for n in needed)
        raise SolveError(
            f"{formula.name} {_why_not(unknown, [_from_body(formula, x, of) for x in roots], where)} Given: {asked}."
        )
    operation = Solved(formula, unknown, of.name, domain)
    return Value(_from_body(formula, roots[0], of), of, Step(operation, {n: known[n] for n in needed}), unknown)


def _why_not(unknown: str, roots: list[float], where: str) -> str:
    if not roots:
        return f"solved for {unknown} has no answer {where}; widen the domain or change the wanted result."
    if len(roots) > MANY:
        return f"does not settle {unknown}: every value from {roots[0]:.3g} to {roots[-1]:.3g} gives the same result."
    return f"solved for {unknown} has {len(roots)} answers {where} ({', '.join(f'{x:.4g}' for x in roots)}); narrow the domain."


def _number(formula: Formula, name: str, value: Value) -> float:
    """Return a known value as the body takes it."""
    if value.is_word:
        raise UnitError(f"{formula.name}: '{name}' is the word '{value.magnitude}', where a number is needed.")
    if name == formula.result:
        convert(value.magnitude, value.measure, formula.unit)
    if formula.stated is None:
        return float(value.base)
    return float(
        convert(value.magnitude, value.measure, formula.unit if name == formula.result else formula.stated_unit(name))
    )


def _to_body(formula: Formula, x: float, of: Unit) -> float:
    return x if formula.stated is not None else (x + of.offset) * of.scale


def _from_body(formula: Formula, x: float, of: Unit) -> float:
    return x if formula.stated is not None else x / of.scale - of.offset


def _unit_of(formula: Formula, unknown: str, name: str, known: dict[str, Value]) -> Unit:
    if formula.stated is not None:
        return formula.stated_unit(unknown)
    if name:
        return unit(name)
    for solution in _solutions(formula, unknown):
        try:
            result = solution(**{n: Tracer(1.0, v.measure.dimension, v.measure.absolute) for n, v in known.items()})
        except (UnitError, TypeError):
            continue
        if not isinstance(result, Tracer):
            return unit("")
        for common in ("", *COMMON):
            if unit(common).dimension == result.dimension:
                return unit(common)
    raise SolveError(f"{formula.name}: say in which unit '{unknown}' is wanted, e.g. unit='ft'.")


@functools.lru_cache(maxsize=None)
def _solutions(formula: Formula, unknown: str) -> tuple[Callable, ...]:
    """Return the closed forms sympy finds, as functions of the known values; none if it finds none."""
    import sympy

    if any(name in line.text for line in formula.lines for name in ("max(", "min(", "ceil(", "abs(", "sum(")):
        return ()
    symbols = {n: sympy.Symbol(n, positive=True) for n in (*formula.arguments, formula.result)}
    body = formula.function(**{n: symbols[n] for n in formula.arguments})
    try:
        found = sympy.solve(sympy.Eq(symbols[formula.result], sympy.nsimplify(body, rational=True)), symbols[unknown])
    except (NotImplementedError, ValueError, TypeError, AttributeError):
        return ()
    rest = [s for n, s in symbols.items() if n != unknown]
    names = [s.name for s in rest]
    functions = {**maths.FUNCTIONS, "ln": maths.log}
    made = [sympy.lambdify(rest, sympy.N(root, 17), modules=[functions, "math"]) for root in found]
    return tuple(functools.partial(_by_name, f, names) for f in made)


def _by_name(function: Callable, names: list[str], **given):
    return function(*[given[n] for n in names])


def _roots(formula: Formula, unknown: str, numbers: dict[str, float], low: float, high: float) -> list[float]:
    wanted = numbers[formula.result]
    known = {n: x for n, x in numbers.items() if n != formula.result}

    def miss(x: float) -> float:
        try:
            result = formula.function(**known, **{unknown: x})
            return float(result) - wanted if not isinstance(result, complex) else math.nan
        except (ValueError, ZeroDivisionError, OverflowError, DomainError):
            return math.nan

    scale = max(abs(wanted), 1e-30)
    roots = []
    for solution in _solutions(formula, unknown):
        try:
            x = solution(**numbers)
        except (ValueError, ZeroDivisionError, OverflowError, TypeError):
            continue
        if isinstance(x, (int, float)) and low <= x <= high and abs(miss(x)) <= CLOSE * scale:
            roots.append(float(x))
    return _distinct(roots) or _distinct(_scan(miss, low, high, scale))


def _scan(miss: Callable[[float], float], low: float, high: float, scale: float) -> list[float]:
    """Look for sign changes on a grid, then halve; a jump that is no root is thrown out."""
    if low > 0:
        step = (high / low) ** (1 / (POINTS - 1))
        grid = [low * step**i for i in range(POINTS)]
    else:
        grid = [low + (high - low) * i / (POINTS - 1) for i in range(POINTS)]
    values = [miss(x) for x in grid]
    roots = [x for x, y in zip(grid, values, strict=True) if y == 0]
    for a, b, fa, fb in zip(grid, grid[1:], values, values[1:], strict=False):
        if not fa * fb < 0:
            continue
        while b - a > 1e-15 * max(abs(a), abs(b)):
            middle = (a + b) / 2
            if middle in (a, b):
                break
            fm = miss(middle)
            a, b, fa = (middle, b, fm) if fa * fm > 0 else (a, middle, fa)
        if abs(miss(a)) <= 1e-6 * scale:
            roots.append(a)
    return roots


def _distinct(roots: list[float]) -> list[float]:
    kept: list[float] = []
    for x in sorted(roots):
        if not kept or abs(x - kept[-1]) > 1e-9 * abs(x):
            kept.append(x)
    return kept

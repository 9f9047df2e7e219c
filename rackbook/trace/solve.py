"""Solving a formula for any of its inputs: symbolically where sympy can, numerically where it cannot."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from dataclasses import dataclass

from . import maths
from .errors import SolveError, UnitError, nearest
from .formula import Formula
from .units import COMMON, Unit, convert, unit
from .value import Source, Step, Value

#: Where a root is looked for, in base units, if the caller names no domain: physical inputs are positive.
DOMAIN = (1e-12, 1e12)
POINTS = 481
#: More roots than this are a stretch on which the result does not depend on the unknown.
MANY = 8
#: A root is a root if it gives the wanted result back to this relative difference.
CLOSE = 1e-9
#: What sympy has no closed inverse of.
UNSOLVABLE = ("max(", "min(", "ceil(", "abs(", "sum(")
#: The finest root (as in ``x**(4/19)``) and the most places of an unknown that sympy turns round in reasonable time.
FINEST, OFTEN = 12, 1


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


def solve(formula: Formula, unknown: str, unit: str = "", domain: tuple[float, float] | None = None, **known: Value) -> Value:
    """Return the value of ``unknown`` for which ``formula`` gives a wanted result.

    Args:
        formula: The formula to turn round.
        unknown: Name of one of its arguments.
        unit: Unit of the answer; a common one of its dimension if left out.
        domain: Lowest and highest answer to be considered, in ``unit``; positive numbers if left out.
        known: All other arguments, and the wanted result under the formula's result name.

    Raises:
        SolveError: No answer, or more than one, lies in the domain.
        UnitError: The known values are of the wrong dimension.
    """
    needed = [n for n in formula.arguments if n != unknown] + [formula.result]
    if unknown not in formula.arguments:
        raise SolveError(
            f"{formula.name} has no argument '{unknown}'.{nearest(unknown, formula.arguments)} "
            f"Its arguments: {', '.join(formula.arguments)}."
        )
    if missing := [n for n in needed if n not in known]:
        raise SolveError(f"{formula.name}, solved for '{unknown}', needs '{missing[0]}' to be given.")
    if extra := [n for n in known if n not in needed]:
        raise SolveError(f"{formula.name}, solved for '{unknown}', takes no '{extra[0]}'.{nearest(extra[0], needed)}")
    numbers = {n: _number(formula, n, known[n]) for n in needed}
    of = _unit_of(formula, unknown, unit, known)
    formula.check_units({n: of if n == unknown else known[n].measure for n in formula.arguments})
    low, high = sorted(_to_body(formula, x, of) for x in domain) if domain else DOMAIN
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
    if not isinstance(value, Value):
        raise UnitError(f"{formula.name}: '{name}' is a bare number; say where it comes from with given() or assume().")
    if not isinstance(value.magnitude, (float, str)):
        raise SolveError(f"{formula.name}: '{name}' is an array; solve for one case at a time.")
    if value.is_word:
        raise UnitError(f"{formula.name}: '{name}' is the word '{value.magnitude}', where a number is needed.")
    if name == formula.result:
        convert(value.magnitude, value.measure, formula.unit)
    if formula.stated is None:
        return float(value.base)
    return float(convert(value.magnitude, value.measure, formula.unit if name == formula.result else formula.stated_unit(name)))


def _to_body(formula: Formula, x: float, of: Unit) -> float:
    return x if formula.stated is not None else (x + of.offset) * of.scale


def _from_body(formula: Formula, x: float, of: Unit) -> float:
    return x if formula.stated is not None else x / of.scale - of.offset


def _unit_of(formula: Formula, unknown: str, name: str, known: dict[str, Value]) -> Unit:
    if formula.stated is not None:
        return formula.stated_unit(unknown)
    if name:
        return unit(name)
    units = {n: v.measure for n, v in known.items() if n != formula.result}
    for common in ("", "delta_degC", *COMMON):
        try:
            formula.check_units({n: units.get(n, unit(common)) for n in formula.arguments})
        except UnitError:
            continue
        return unit(common)
    raise SolveError(f"{formula.name}: say in which unit '{unknown}' is wanted, e.g. unit='ft'.")


@functools.cache
def _solutions(formula: Formula, unknown: str, positive: bool = True) -> tuple[Callable, ...]:
    """Return the closed forms sympy finds, as functions of the known values; none if it finds none."""
    import sympy

    if any(name in line.text for line in formula.lines for name in UNSOLVABLE):
        return ()
    symbols = {n: sympy.Symbol(n, positive=True) for n in (*formula.arguments, formula.result)}
    if not positive:
        symbols = {n: sympy.Symbol(n, real=True) for n in symbols}
    body = formula.function(**{n: symbols[n] for n in formula.arguments})
    exact = sympy.nsimplify(body, rational=True)
    places = sum(node == symbols[unknown] for node in sympy.preorder_traversal(exact))
    if places > OFTEN or any(isinstance(p.exp, sympy.Rational) and p.exp.q > FINEST for p in exact.atoms(sympy.Pow)):
        return ()
    try:
        found = sympy.solve(sympy.Eq(symbols[formula.result], exact), symbols[unknown])
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
        except (ArithmeticError, ValueError, TypeError):
            return math.nan

    def is_root(x: float) -> bool:
        """Whether ``x`` gives the wanted result as closely as floats can: far closer than its neighbors do."""
        off = abs(miss(x))
        near = max((abs(miss(x * (1 + h) + h * 1e-9)) for h in (-1e-3, 1e-3)), key=lambda y: -1.0 if y != y else y)
        return off <= CLOSE * abs(wanted) or off <= 1e-6 * near

    ends = (low - CLOSE * abs(low), high + CLOSE * abs(high))
    roots = []
    for solution in _solutions(formula, unknown, low > 0):
        try:
            x = solution(**numbers)
        except (ArithmeticError, ValueError, TypeError):
            continue
        if isinstance(x, (int, float)) and ends[0] <= x <= ends[1] and is_root(x):
            roots.append(float(x))
    # a closed form may miss a branch, so the domain is always searched too
    return _distinct(roots + [x for x in _scan(miss, low, high) if is_root(x)])


def _scan(miss: Callable[[float], float], low: float, high: float) -> list[float]:
    """Return where the sign changes on a grid, found by halving, the grid's own zeros and the ends of the domain."""
    if low > 0:
        step = (high / low) ** (1 / (POINTS - 1))
        grid = [low * step**i for i in range(POINTS - 1)] + [high]
    else:
        grid = [low + (high - low) * i / (POINTS - 1) for i in range(POINTS - 1)] + [high]
    values = [miss(x) for x in grid]
    roots = [low, high] + [x for x, y in zip(grid, values, strict=True) if y == 0]
    for a, b, fa, fb in zip(grid, grid[1:], values, values[1:], strict=False):
        if not fa * fb < 0:
            continue
        while b - a > 1e-15 * max(abs(a), abs(b)):
            middle = (a + b) / 2
            if middle in (a, b):
                break
            fm = miss(middle)
            a, b, fa = (middle, b, fm) if fa * fm > 0 else (a, middle, fa)
        roots.append(a)
    return roots


def _distinct(roots: list[float]) -> list[float]:
    kept: list[float] = []
    for x in sorted(roots):
        if not kept or abs(x - kept[-1]) > 1e-7 * abs(x):
            kept.append(x)
    return kept

"""Every formula of the book is set truthfully: its printed numbers, read back, give its printed result."""

import ast
import functools
import importlib
import itertools
import pkgutil
import random
import re

import numpy as np
import pytest
from readback import Printed, Span, flat, sides, tokens, unit_of

import rackbook
from rackbook.cases import cases, run
from rackbook.trace import FORMULAS, Formula, RackbookError, Sheet, Source, Step, Value, formula
from rackbook.trace.layout import equation
from rackbook.trace.setting import symbol

for _module in pkgutil.walk_packages(rackbook.__path__, "rackbook."):
    if not _module.name.endswith("__main__"):
        importlib.import_module(_module.name)

HERE = Source("derivation", "drawn at random for the test")
DRAWS, WIDTHS = 6, (14.0, 25.0, 44.0)
#: Tried for an argument that no published case reaches, those known under its name first.
COMMON = ("", "ft", "psf", "lbf", "ft**2", "A", "V", "ohm", "plf", "psi", "in**3", "lbf*ft", "mph", "s", "kW", "kVA", "cmil",
          "degC", "delta_degC", "pcf", "lbm", "ft/s**2", "lbf/in", "ohm/kft", "ft**3", "deg", "in**4")  # fmt: skip


@functools.cache
def seen() -> dict[str, list[dict[str, Value]]]:
    """Return the arguments with which the published cases reach each formula."""
    found: dict[str, list[dict[str, Value]]] = {}
    call = Formula.__call__

    def recording(self, *args, **given):
        result = call(self, *args, **given)
        if isinstance(result, Value) and len(found.setdefault(self.key, [])) < 4:
            found[self.key].append(result.origin.given)
        return result

    Formula.__call__ = recording
    try:
        for case in cases():
            list(run(case))
    finally:
        Formula.__call__ = call
    return found


@functools.cache
def units_by_name() -> dict[str, tuple[str, ...]]:
    """Return the units in which an argument of a name was seen anywhere."""
    names: dict[str, dict[str, None]] = {}
    for uses in seen().values():
        for given in uses:
            for n, v in given.items():
                names.setdefault(n, {})[v.unit] = None
    return {n: tuple(units) for n, units in names.items()}


def arguments(f: Formula) -> list[dict[str, Value]]:
    """Return arguments a formula takes: those of the cases, or found by search."""
    if f.key in seen():
        return seen()[f.key]
    if f.stated is not None:
        return [{n: Value(2.0, f.stated_unit(n), HERE, n) for n in f.arguments}]
    choices = [tuple(dict.fromkeys((*units_by_name().get(n, ()), *COMMON))) for n in f.arguments]
    # few wrong guesses first: combinations in order of the sum of their places
    for total in range(60):
        for places in itertools.islice(_places(total, [len(c) for c in choices]), 4000):
            given = {n: Value(2.0, c[i], HERE, n) for n, c, i in zip(f.arguments, choices, places, strict=True)}
            try:
                f.check_units({n: v.measure for n, v in given.items()})
            except RackbookError:
                continue
            return [given]
    pytest.fail(f"no arguments were found for which {f.key} passes its dimension check")


def _places(total, sizes):
    if len(sizes) == 1:
        if total < sizes[0]:
            yield (total,)
        return
    for first in range(min(total, sizes[0] - 1) + 1):
        for rest in _places(total - first, sizes[1:]):
            yield (first, *rest)


@formula(HERE, y="")
def carried(x):
    """Return the number as computed elsewhere."""
    y = x * 1
    return y


CARRY = Step(carried, {"x": Value(1.0, "", HERE, "x")})


def draw(given: dict[str, Value], chance: random.Random, reach: float) -> dict[str, Value]:
    """Return the arguments moved at random by a factor up to ``reach``, some as given numbers and some as computed ones."""
    out = {}
    for name, value in given.items():
        number = value.magnitude[:3] if isinstance(value.magnitude, np.ndarray) else value.magnitude
        spread = np.array([reach ** chance.uniform(-1, 1) for _ in range(np.size(number))]).reshape(np.shape(number))
        moved = number * (spread if np.ndim(number) else float(spread))
        out[name] = Value(moved, value.measure, chance.choice((HERE, CARRY)), name)
    return out


def literals(f: Formula) -> set[str]:
    out = set()
    for line in f.lines:
        text = line.text.partition(" = ")[2]
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.Constant):
                out |= {str(node.value), ast.get_source_segment(text, node)}
    return {re.sub(r"e.*", "", x) for x in out}


def exact(value: Value, bare: bool) -> Span:
    """Return a value as a span without width; degrees of temperature as steps of their scale."""
    if bare:
        return Span(value.magnitude, value.magnitude)
    scale, powers = unit_of(value.unit)
    return Span(value.magnitude * scale, value.magnitude * scale, powers)


def printed_lines(result: Value) -> list[str]:
    """Return the equations of the formula that made ``result``, as its sheet prints them."""
    step = result.origin
    elsewhere = {id(v): "other" for v in step.given.values() if v.computed}
    text = Sheet("test", "Test", "", (result,), elsewhere=elsewhere).markdown()
    return re.findall(r"\$\$.*?\$\$", text, re.DOTALL)[-len(step.operation.lines) :]


@pytest.mark.parametrize("key", sorted(FORMULAS))
def test_printed_numbers_give_the_printed_result(key):
    f = FORMULAS[key]
    chance = random.Random(key)
    bare = f.stated is not None
    narrow = done = 0
    uses, reach = arguments(f), 1.25 if f.key in seen() else 20.0
    for n in range(DRAWS * 10):
        given = uses[n % len(uses)]
        try:
            result = f(**draw(given, chance, reach))
        except RackbookError:  # outside the formula's domain
            try:
                result = f(**{k: Value(v.magnitude, v.measure, HERE, k) for k, v in given.items()}) if n < len(uses) else None
            except RackbookError:
                result = None
            if result is None:
                continue
        known = {symbol(k): exact(v if not bare else v.to(f.stated_unit(k).name), bare) for k, v in result.origin.given.items()}
        equations = printed_lines(result)
        assert len(equations) == len(f.lines)
        for printed, (line, value) in zip(equations, f.steps(result.origin.given), strict=True):
            left, formula_side, *numbers = sides(printed)
            assert left == symbol(line.target)
            said = Printed(numbers[-1], strip_unit=bare).value()
            by_symbols = Printed(formula_side, known, exact=literals(f)).value()
            assert said.meets(Span.of(by_symbols)), f"{printed}: the symbols give {by_symbols}, the result says {said}"
            for side in numbers[:-1]:
                try:
                    gives = Span.of(Printed(side, exact=literals(f), strip_unit=bare).value())
                except AssertionError as e:
                    if "may be" not in str(e):  # rounding alone may carry a near zero over zero
                        raise
                    continue
                assert said.meets(gives), f"{printed}: the numbers give {gives}, the result says {said}"
                narrow += bool(np.all(np.abs(gives.high - gives.low) <= 0.05 * np.abs(gives.middle) + 1e-300))
            narrow += len(numbers) == 1
            for width in WIDTHS:
                again = equation(left, [formula_side, *numbers], width)
                assert tokens(flat(again)) == tokens(" = ".join((left, formula_side, *numbers)))
            known[symbol(line.target)] = exact(value, bare)
        done += 1
        if done == DRAWS:
            break
    assert done, f"{key} could not be worked out for any of the drawn arguments"
    assert narrow, f"{key}: the printed numbers are so rounded that they prove nothing"


def test_every_formula_is_visited():
    assert len(FORMULAS) > 100
    assert all(f.lines and f.source.title for f in FORMULAS.values())


# the reader must be able to say no, or what it lets pass proves nothing
@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (r"2.000\ \mathrm{ft} \cdot 3.000\ \mathrm{ft}", r"6.100\ \mathrm{ft}^{2}"),
        (r"2.000\ \mathrm{ft} \cdot 3.000\ \mathrm{ft}", r"6.000\ \mathrm{in.}^{2}"),
        (r"\frac{ 1.000 }{ 3.000 } + 1.000", r"0.2500"),
        (r"\left( 3.000 \right) ^{ 2.000 }", r"6.000"),
        (r"\sqrt { 2.000 }", r"1.420"),
        (r"\max \left( 1.000 ,\ 2.000 \right)", r"1.000"),
        (r"3.000 \times 10^{-5}", r"3.000 \times 10^{-4}"),
        (r"50.00\ \%", r"50.00"),
        (r"\sin \left( 30.00{}^{\circ} \right)", r"0.6000"),
    ],
)
def test_reader_tells_wrong_lines(wrong, said):
    assert not Printed(said).value().meets(Span.of(Printed(wrong).value()))


def test_reader_refuses_mixed_dimensions():
    with pytest.raises(AssertionError, match="added"):
        Printed(r"1.000\ \mathrm{ft} + 1.000\ \mathrm{lbf}").value()

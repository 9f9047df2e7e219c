"""Dimension check and fast path of a formula: run once on units, then only on numbers.

The body is run on tracers, objects that carry a unit and no number. *Direct*: if every sum, comparison
and function in it sees equal scales, the body may run on the magnitudes as they stand and one factor
brings the result to its display unit. Otherwise the magnitudes go to base units first.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from .body import Line
from .errors import UnitError
from .units import NONE, Unit, clean, dimension_name, unit

TEMPERATURE = unit("kelvin").dimension


class NotDirect(Exception):
    """The body mixes scales; it must run on base units."""


class Tracer:
    """A unit in place of a number: ``scale`` to base units, exponents, and whether a temperature is absolute."""

    __slots__ = ("absolute", "dimension", "scale")
    __array_ufunc__ = None

    def __init__(self, scale: float, dimension: tuple[Fraction, ...], absolute: bool = False) -> None:
        self.scale, self.dimension, self.absolute = scale, dimension, absolute

    def _other(self, other) -> Tracer:
        return other if isinstance(other, Tracer) else Tracer(1.0, NONE)

    def same(self, *others) -> Tracer:
        """Return the common unit of quantities that are compared; zero fits every dimension with a true zero."""
        for other in others:
            if isinstance(other, (int, float)) and other == 0:
                self.true_zero("compared with zero")
                continue
            o = self._summand(other)
            if o.absolute != self.absolute:
                raise UnitError("a temperature and a temperature difference are compared")
        return self

    def _summand(self, other) -> Tracer:
        o = self._other(other)
        if o.dimension != self.dimension:
            raise UnitError(f"{_name(self)} and {_name(o)} are added or compared")
        if abs(o.scale / self.scale - 1) > 1e-12:
            raise NotDirect
        return o

    def true_zero(self, what: str) -> Tracer:
        """Refuse what has no meaning for a temperature whose zero is arbitrary."""
        if self.absolute:
            raise UnitError(
                f"a temperature in degC or degF is {what}; its zero is arbitrary: use a difference of temperatures, or kelvin"
            )
        return self

    def __add__(self, other):
        if isinstance(other, (int, float)) and other == 0:
            return self.true_zero("added to zero")
        o = self._summand(other)
        if self.absolute and o.absolute:
            raise UnitError("two temperatures are added; one of them must be a temperature difference (delta_degC)")
        return Tracer(self.scale, self.dimension, self.absolute or o.absolute)

    __radd__ = __add__

    def __sub__(self, other):
        if isinstance(other, (int, float)) and other == 0:
            return self.true_zero("compared with zero")
        o = self._summand(other)
        if o.absolute and not self.absolute:
            raise UnitError("a temperature is taken from a temperature difference")
        return Tracer(self.scale, self.dimension, self.absolute and not o.absolute)

    def __rsub__(self, other):
        return -self if other == 0 else self._other(other) - self

    def __mul__(self, other):
        o = self._other(other).true_zero("multiplied or divided")
        self.true_zero("multiplied or divided")
        return Tracer(self.scale * o.scale, tuple(a + b for a, b in zip(self.dimension, o.dimension, strict=True)))

    __rmul__ = __mul__

    def __truediv__(self, other):
        return self * self._other(other) ** -1

    def __rtruediv__(self, other):
        return self._other(other) * self**-1

    def __pow__(self, power):
        self.true_zero("multiplied or divided")
        if isinstance(power, Tracer):
            if power.dimension != NONE or self.dimension != NONE:
                raise UnitError(f"{_name(self)} is raised to a power that is not a fixed number")
            if power.scale != 1 or abs(self.scale - 1) > 1e-12:
                raise NotDirect
            return Tracer(1.0, NONE)
        exact = Fraction(power).limit_denominator(1000)
        return Tracer(self.scale ** float(power), tuple(a * exact for a in self.dimension))

    def __rpow__(self, base):
        return self._other(base) ** self

    def __neg__(self):
        return self.true_zero("given a minus sign")

    def apply_function(self, name: str) -> Tracer:
        """Return the unit of a function of this quantity."""
        self.true_zero(f"put into {name}()")
        if name == "abs":
            return self
        if name == "sqrt":
            return self**0.5
        if self.dimension != NONE:
            raise UnitError(f"{name}() is taken of {_name(self)}; it needs a pure number")
        if abs(self.scale - 1) > 1e-12:
            raise NotDirect
        return Tracer(1.0, NONE)


def _name(t: Tracer) -> str:
    probe = Unit("", t.scale, 0.0, t.dimension, False)
    try:
        name = dimension_name(probe)
    except Exception:  # a dimension without a plain name
        name = ""
    if name and not name.startswith("dimension"):
        return f"a {name}" if not name.startswith("a ") else name
    powers = [
        (base, p) for base, p in zip(("length", "mass", "time", "current", "temperature"), t.dimension, strict=False) if p
    ]
    return "·".join(f"{base}^{p}" for base, p in powers) or "a pure number"


def _base(of: Unit) -> Tracer:
    return Tracer(1.0, of.dimension, of.absolute)


def _direct(of: Unit) -> Tracer:
    if of.absolute:
        raise NotDirect
    return Tracer(of.scale, of.dimension)


def make_plan(name: str, lines: Iterable[Line], arguments: dict[str, Unit]) -> tuple[bool, float]:
    """Return ``(direct, factor)`` for a formula called with ``arguments`` of these units.

    ``direct`` says whether the body may run on magnitudes as they stand; ``factor`` then brings its result
    to the display unit of the last line.

    Raises:
        UnitError: A line mixes dimensions, or gives another dimension than it declares.

    """
    for kind in (_direct, _base):
        try:
            names = {n: kind(of) for n, of in arguments.items()}
            factor = 1.0
            for line in lines:
                target, of, text = line.target, line.unit, line.text
                try:
                    result = line.run(names)
                except UnitError as e:
                    units = ", ".join(f"{n} [{u.name or '-'}]" for n, u in arguments.items())
                    raise UnitError(f"{name}, line '{text}': {e}. Given: {units}.") from None
                if not isinstance(result, Tracer):
                    result = Tracer(1.0, NONE)
                if result.dimension != of.dimension:
                    units = ", ".join(f"{n} [{u.name or '-'}]" for n, u in arguments.items())
                    raise UnitError(
                        f"{name}, line '{text}': {target} comes out as {_name(result)}, but {of.name or 'a pure number'} is "
                        f"declared. Given: {units}."
                    )
                if of.dimension == TEMPERATURE and result.absolute != of.absolute and not (result.absolute and of.name == "K"):
                    raise UnitError(f"{name}, line '{text}': a temperature and a temperature difference are mixed up.")
                names[target] = result
                factor = result.scale / of.scale
        except NotDirect:
            continue
        return kind is _direct, 1.0 if abs(factor - 1.0) < 1e-12 else clean(factor)
    raise UnitError(f"{name}: the units do not combine.")  # pragma: no cover - base units always combine or say why

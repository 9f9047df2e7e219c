"""A number is never alone: a value is a quantity and where it came from."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Protocol

import numpy as np

from .errors import DomainError, UnitError
from .figures import figures, four
from .source import Source
from .units import SI_BESIDE, WORD, Quantity, Unit, convert, unit

_NOTHING: Mapping[str, Any] = MappingProxyType({})


class Operation(Protocol):
    """What can make a value from values: a formula, a table look-up, a choice."""

    @property
    def name(self) -> str:
        """What the operation is called in a trace."""

    @property
    def source(self) -> Source:
        """Where the operation is published."""

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Run the operation again on other inputs of the same names."""


class Step:
    """The operation that made a value, and the values it was given, by their names in it. Immutable."""

    __slots__ = ("given", "note", "operation")
    operation: Operation
    given: dict[str, Value]
    note: Mapping[str, Any]

    def __init__(self, operation: Operation, given: dict[str, Value], note: Mapping[str, Any] = _NOTHING) -> None:
        _set_operation(self, operation)
        _set_given(self, given)
        _set_note(self, note)

    def __setattr__(self, name: str, _: object = None) -> None:
        raise AttributeError(f"A step is not changed once made ('{name}').")

    __delattr__ = __setattr__

    def __reduce__(self) -> Any:
        """Pickle as the parts it is made of."""
        return Step, (self.operation, self.given, dict(self.note))

    def __str__(self) -> str:
        return f"{self.operation.name}: {self.operation.source}"


# immutable objects are filled through their slots: a Step and a Value are made for every formula call
_set_operation, _set_given, _set_note = (vars(Step)[name].__set__ for name in ("operation", "given", "note"))


class Value:
    """One quantity of the book; ``origin`` answers "says who?". Immutable; compared by identity.

    Args:
        magnitude: Number, numpy array of numbers, or a word.
        of: Unit by name, e.g. ``"psf"``; empty for a pure number. Words have none.
        origin: A :class:`Source` for a leaf, a :class:`Step` for what was computed.
        symbol: The name in formulas, e.g. ``"q_z"``.

    Raises:
        UnitError: The unit is not known, or a word is given one.
        DomainError: The magnitude is no number (nan, a truth value, a complex number).

    """

    __slots__ = ("_restates", "magnitude", "measure", "origin", "symbol")
    __array_ufunc__ = None
    magnitude: Any
    measure: Unit
    origin: Source | Step
    symbol: str

    def __init__(self, magnitude: Any, of: str | Unit, origin: Source | Step, symbol: str = "") -> None:
        if type(of) is not Unit:
            of = _measure(magnitude, of)
        kind = type(origin)
        if type(magnitude) is not float or kind is not Step:
            if kind is not Step and not isinstance(origin, Source):
                raise TypeError(f"{symbol or 'A value'} needs a Source or a Step for its origin, not {origin!r}.")
            magnitude = _number(magnitude, symbol)
        _set_magnitude(self, magnitude)
        _set_measure(self, of)
        _set_origin(self, origin)
        _set_symbol(self, symbol)

    def __setattr__(self, name: str, _: object = None) -> None:
        raise AttributeError(f"A value is not changed once made; make a new one ('{name}').")

    __delattr__ = __setattr__

    def __copy__(self) -> Value:
        return self

    def __deepcopy__(self, _: dict) -> Value:
        return self

    def __reduce__(self) -> Any:
        """Pickle as the four parts it is made of."""
        return Value, (self.magnitude, self.measure, self.origin, self.symbol)

    def _no_arithmetic(self, *_: object) -> Value:
        raise UnitError(
            f"{self.symbol or 'A value'} is combined with others in a formula only, so that every number has its line."
        )

    __add__ = __radd__ = __sub__ = __rsub__ = __mul__ = __rmul__ = __truediv__ = __rtruediv__ = _no_arithmetic
    __pow__ = __rpow__ = __neg__ = __abs__ = _no_arithmetic

    @property
    def unit(self) -> str:
        """Name of the display unit, fixed when the value was made."""
        return "" if self.measure is WORD else self.measure.name

    @property
    def is_word(self) -> bool:
        """Whether the value is a word (a size, a class) and not a number."""
        return self.measure is WORD

    @property
    def computed(self) -> bool:
        """Whether a step made the value; otherwise it is a leaf with a source."""
        return type(self.origin) is Step

    @property
    def as_given(self) -> bool:
        """Whether the number is written as somebody gave or printed it: a leaf, a table's cell, a count."""
        if not isinstance(self.origin, Step) or getattr(self.origin.operation, "as_printed", False):
            return True
        operation, given = self.origin.operation, self.origin.given
        if chosen := given.get(getattr(operation, "chosen", "")):
            return chosen.as_given
        counted = getattr(operation, "counts", False) and not self.measure.name
        return bool(counted and np.all(self.magnitude == np.round(self.magnitude)))

    @property
    def source(self) -> Source:
        """The leaf's source, or that of the operation that made the value."""
        return self.origin.operation.source if isinstance(self.origin, Step) else self.origin

    @property
    def quantity(self) -> Any:
        """The value as a pint quantity, or the bare word."""
        return self.magnitude if self.is_word else Quantity(self.magnitude, self.measure.pint)

    @property
    def base(self) -> Any:
        """The magnitude in base units (SI; temperatures in kelvin)."""
        of = self.measure
        return (self.magnitude + of.offset) * of.scale if of.offset else self.magnitude * of.scale

    def m_as(self, of: str) -> Any:
        """Return the magnitude in unit ``of``.

        Raises:
            UnitError: The value is a word, or of another dimension.

        """
        if self.is_word:
            raise UnitError(
                f"{self.symbol or 'The value'} is the word '{self.magnitude}', not a number in {of or 'pure numbers'}."
            )
        try:
            return convert(self.magnitude, self.measure, unit(of))
        except UnitError as e:
            raise UnitError(f"{self.symbol or 'value'}: {e}") from None

    def to(self, of: str) -> Value:
        """Return the same value shown in another unit; its origin stays."""
        return self._restated(Value(self.m_as(of), of, self.origin, self.symbol))

    def named(self, symbol: str) -> Value:
        """Return the same value under another symbol; its origin stays."""
        return self._restated(Value(self.magnitude, self.measure, self.origin, symbol))

    def _restated(self, other: Value) -> Value:
        _set_restates(other, self.root)
        return other

    @property
    def root(self) -> Value:
        """The value this one shows in another unit or under another symbol; otherwise itself."""
        return getattr(self, "_restates", self)

    def text(self, si: bool = False) -> str:
        """Return the value as a sheet prints it, in words and plain signs; SI beside on request."""
        if self.is_word:
            return self.magnitude
        own = _with_unit(figures(self.magnitude, computed=not self.as_given), self.measure)
        of_si = SI_BESIDE.get(self.measure.name) if si else None
        if of_si is None or np.ndim(self.magnitude):
            return own
        return f"{own} ({_with_unit(figures(four(self.m_as(of_si)), computed=True), unit(of_si))})"

    def __repr__(self) -> str:
        return f"<{self.symbol + ' = ' if self.symbol else ''}{self.text()}>"

    def trace(self) -> str:
        """Return the tree of values and sources this number rests on, as indented text."""
        from .graph import trace_lines

        return "\n".join(trace_lines(self))

    def inputs(self) -> list[Value]:
        """Return the leaves the value rests on, each once, in order of use."""
        from .graph import in_order

        return [v for v in in_order([self]) if not v.computed]


_set_magnitude, _set_measure, _set_origin, _set_symbol, _set_restates = (
    vars(Value)[name].__set__ for name in ("magnitude", "measure", "origin", "symbol", "_restates")
)


def _measure(magnitude: Any, of: str | Unit) -> Unit:
    """Return the unit of that name; words have none."""
    if not isinstance(magnitude, str):
        return unit(str(of))
    if of:
        raise UnitError(f"'{magnitude}' is a word, not a number in {of}; give the number itself.")
    return WORD


def _number(magnitude: Any, symbol: str) -> Any:
    """Return a magnitude as a float, an array that nobody can change, or a word.

    Raises:
        DomainError: It is none of these.

    """
    if isinstance(magnitude, str):
        return magnitude
    try:
        if isinstance(magnitude, np.ndarray) and magnitude.ndim:
            if magnitude.dtype != float:
                if magnitude.dtype.kind not in "iuf":
                    raise TypeError
                magnitude = magnitude.astype(float)
            magnitude = magnitude.view()
            magnitude.flags.writeable = False
            return magnitude
        if isinstance(magnitude, (bool, np.bool_, list, tuple)):
            raise TypeError
        number = float(magnitude)
    except (TypeError, ValueError, OverflowError):
        raise DomainError(f"{symbol or 'A value'} is {magnitude!r:.80}, which is not a number.") from None
    if number != number:
        raise DomainError(f"{symbol or 'A value'} is not a number (nan); leave it out where it is not known.")
    return number


def _with_unit(number: str, of: Unit) -> str:
    if not of.written:
        return number
    if of.written.startswith("1/"):
        return number + of.written[1:]
    return f"{number}{of.written}" if of.written == "°" else f"{number} {of.written}"


def given(number: Any, of: str, source: Source, symbol: str = "") -> Value:
    """Return a leaf: a number in unit ``of`` and its source."""
    return Value(np.array(number, float) if isinstance(number, (list, tuple, np.ndarray)) else number, of, source, symbol)


def word(text: str, source: Source, symbol: str = "") -> Value:
    """Return a leaf that is a word: a size, a class, a mark."""
    return Value(str(text), WORD, source, symbol)


def assume(number: Any, of: str, why: str, symbol: str = "") -> Value:
    """Return an assumed value; ``why`` is printed wherever the value is traced."""
    return given(number, of, Source("assumption", why), symbol)

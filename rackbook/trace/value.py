"""A number is never alone: a value is a quantity and where it came from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any, Protocol

import numpy as np

from .errors import UnitError
from .figures import figures
from .units import NONE, SI_BESIDE, Quantity, Unit, convert, unit

#: The kinds of origin a leaf may claim.
KINDS = ("clause", "table", "datasheet", "measured", "input", "assumption", "common practice", "derivation", "print")
HOWS = ("read", "derived", "memory", "")

#: The measure of a value that is a word (a size, a class, a mark): no unit, no arithmetic.
WORD = Unit("word", 1.0, 0.0, NONE, False)


@dataclass(frozen=True)
class Source:
    """Where a number, a formula or a table was published, or who says so.

    Args:
        kind: One of ``KINDS``.
        title: Standard, document, file or reason.
        edition: Edition as the trade writes it, e.g. ``"22"`` or ``"2023"``.
        locator: Clause, table, row, page, or field and line.
        how: How the number was had: ``read``, ``derived``, ``memory``, or empty where it does not apply.

    """

    kind: str
    title: str
    edition: str = ""
    locator: str = ""
    how: str = ""

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise ValueError(f"'{self.kind}' is not a kind of source; allowed: {', '.join(KINDS)}.")
        if self.how not in HOWS:
            raise ValueError(
                f"'{self.how}' does not say how a number was had; allowed: read, derived, memory or nothing."
            )

    @property
    def citation(self) -> str:
        """Title, edition and locator as one reads them: ``ASCE/SEI 7-22, Eq. 26.10-1``."""
        head = (
            f"{self.title}-{self.edition}"
            if self.edition[:1].isdigit()
            else " ".join(filter(None, (self.title, self.edition)))
        )
        return ", ".join(filter(None, (head, self.locator)))

    @property
    def confirm(self) -> str:
        """The reminder printed beside what was recalled and not read."""
        return "confirm against the adopted edition" if self.how == "memory" else ""

    def __str__(self) -> str:
        lead = "" if self.kind in ("clause", "table") else f"{self.kind}: "
        return lead + "; ".join(filter(None, (self.citation, self.confirm)))


class Operation(Protocol):
    """What can make a value from values: a formula, a table look-up, a choice."""

    name: str

    @property
    def source(self) -> Source:
        """Where the operation is published."""

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Run the operation again on other inputs of the same names."""


@dataclass(frozen=True, eq=False, slots=True)
class Step:
    """The operation that made a value, and the values it was given, by their names in it."""

    operation: Operation
    given: dict[str, Value]
    note: dict[str, Any] = field(default_factory=dict)

    def __str__(self) -> str:
        return f"{self.operation.name}: {self.operation.source}"


class Value:
    """One quantity of the book; ``origin`` answers "says who?". Immutable; compared by identity.

    Args:
        magnitude: Number, numpy array of numbers, or a word.
        of: Unit by name, e.g. ``"psf"``; empty for a pure number. Words have none.
        origin: A :class:`Source` for a leaf, a :class:`Step` for what was computed.
        symbol: The name in formulas, e.g. ``"q_z"``.

    Raises:
        UnitError: The unit is not known.

    """

    __slots__ = ("magnitude", "measure", "origin", "symbol")
    magnitude: Any
    measure: Unit
    origin: Source | Step
    symbol: str

    def __init__(self, magnitude: Any, of: str | Unit, origin: Source | Step, symbol: str = "") -> None:
        _set_magnitude(self, magnitude)
        if type(of) is not Unit:
            of = WORD if isinstance(magnitude, str) else unit(of)
        _set_measure(self, of)
        _set_origin(self, origin)
        _set_symbol(self, symbol)

    def __setattr__(self, name: str, _: object) -> None:
        raise AttributeError(f"A value is not changed once made; make a new one ('{name}').")

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
        return Value(self.m_as(of), of, self.origin, self.symbol)

    def named(self, symbol: str) -> Value:
        """Return the same value under another symbol; its origin stays."""
        return Value(self.magnitude, self.measure, self.origin, symbol)

    def text(self, si: bool = False) -> str:
        """Return the value as a sheet prints it, in words and plain signs; SI beside on request."""
        if self.is_word:
            return self.magnitude
        own = _with_unit(figures(self.magnitude, computed=self.computed), self.measure)
        beside = SI_BESIDE.get(self.measure.name) if si else None
        if beside is None:
            return own
        return f"{own} ({_with_unit(figures(self.m_as(beside), computed=True), unit(beside))})"

    def __repr__(self) -> str:
        return f"<{self.symbol + ' = ' if self.symbol else ''}{self.text()}>"

    def trace(self) -> str:
        """Return the tree of values and sources this number rests on, as indented text."""
        return "\n".join(_trace_lines(self))

    def inputs(self) -> list[Value]:
        """Return the leaves the value rests on, each once, in order of use."""
        return [v for v in in_order([self]) if not v.computed]


_set_magnitude, _set_measure = Value.magnitude.__set__, Value.measure.__set__  # type: ignore[attr-defined]
_set_origin, _set_symbol = Value.origin.__set__, Value.symbol.__set__  # type: ignore[attr-defined]


def _with_unit(number: str, of: Unit) -> str:
    if not of.written:
        return number
    return f"{number}{of.written}" if of.written == "°" else f"{number} {of.written}"


def _trace_lines(top: Value) -> Iterator[str]:
    seen: set[int] = set()
    stack: list[tuple[str, Value, int]] = [(top.symbol or "value", top, 0)]
    while stack:
        name, value, depth = stack.pop()
        repeated = id(value) in seen and isinstance(value.origin, Step)
        seen.add(id(value))
        yield f"{'  ' * depth}{name} = {value.text()}  [{'shown above' if repeated else value.origin}]"
        if isinstance(value.origin, Step) and not repeated:
            stack.extend((n, v, depth + 1) for n, v in reversed(value.origin.given.items()))


def in_order(values: Iterable[Value]) -> list[Value]:
    """Return every value the given ones rest on, each once, inputs before what uses them."""
    done: dict[int, Value] = {}
    stack: list[tuple[Value, bool]] = [(v, False) for v in values][::-1]
    while stack:
        value, ready = stack.pop()
        if id(value) in done:
            continue
        if ready or not isinstance(value.origin, Step):
            done[id(value)] = value
            continue
        stack.append((value, True))
        stack.extend((v, False) for v in reversed(value.origin.given.values()) if id(v) not in done)
    return list(done.values())


def touched(leaf: Value, results: dict[str, Value]) -> list[str]:
    """Return the paths of all results that rest on ``leaf``, in order of evaluation."""
    moved = {id(leaf)}
    for value in in_order(results.values()):
        if isinstance(value.origin, Step) and any(id(v) in moved for v in value.origin.given.values()):
            moved.add(id(value))
    return [path for path, value in results.items() if id(value) in moved]


def recompute(value: Value, changes: dict[Value, Value]) -> Value:
    """Return ``value`` worked again with some of the values it rests on replaced.

    Choices choose again and tables are read again; branches that plain Python took outside the graph stay.
    """
    new: dict[int, Value] = {id(old): changed for old, changed in changes.items()}
    for old in in_order([value]):
        if id(old) in new or not isinstance(old.origin, Step):
            continue
        given = {name: new.get(id(v), v) for name, v in old.origin.given.items()}
        if any(given[name] is not v for name, v in old.origin.given.items()):
            new[id(old)] = old.origin.operation.evaluate(given).named(old.symbol)
    return new.get(id(value), value)


def given(number: Any, of: str, source: Source, symbol: str = "") -> Value:
    """Return a leaf: a number in unit ``of`` and its source."""
    return Value(np.asarray(number, float) if isinstance(number, (list, tuple)) else number, of, source, symbol)


def word(text: str, source: Source, symbol: str = "") -> Value:
    """Return a leaf that is a word: a size, a class, a mark."""
    return Value(str(text), WORD, source, symbol)


def assume(number: Any, of: str, why: str, symbol: str = "") -> Value:
    """Return an assumed value; ``why`` is printed wherever the value is traced."""
    return given(number, of, Source("assumption", why), symbol)

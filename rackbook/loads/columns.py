"""Columns: numbers of many items as one array value, and single entries taken out of one again.

A column keeps every item's own value, so the trace of a sum reaches the cell of the schedule behind each item.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

import numpy as np

from rackbook.trace import Source, Step, Value, word
from rackbook.trace.units import unit
from rackbook.trace.value import WORD


@dataclass(frozen=True, eq=False, slots=True)
class Column:
    """The operation that lines up the values of many items, in the order of their labels."""

    unit: str
    labels: tuple[str, ...]
    name: ClassVar[str] = "column"
    source: ClassVar[Source] = Source("derivation", "column of the items' own values")

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Line up other values of the same labels."""
        return column("", {label: given[label] for label in self.labels}, self.unit)


@dataclass(frozen=True, eq=False, slots=True)
class Entry:
    """The operation that takes the number of one item out of a column."""

    label: str
    place: int
    name: ClassVar[str] = "entry"

    @property
    def source(self) -> Source:
        """The item whose number is taken."""
        return Source("derivation", f"entry of {self.label}")

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Take the entry out of another column."""
        return entry(given["column"], self.place, self.label)


def column(symbol: str, values: Mapping[str, Value], unit_name: str) -> Value:
    """Return the values of many items as one array value.

    Args:
        symbol: Symbol of the column.
        values: One number each, by the item's label.
        unit_name: Unit of the column; the values are converted.

    Raises:
        UnitError: A value is a word or of another dimension.

    """
    of = unit(unit_name)
    numbers = [v.magnitude if v.measure is of else v.m_as(unit_name) for v in values.values()]
    return Value(np.array(numbers, float), of, Step(Column(unit_name, tuple(values)), dict(values)), symbol)


def entry(of: Value, place: int, label: str) -> Value:
    """Return one item's number of a column (or of what was worked out from columns)."""
    return Value(float(of.magnitude[place]), of.measure, Step(Entry(label, place), {"column": of}), of.symbol)


def entries(of: Value, labels: tuple[str, ...]) -> dict[str, Value]:
    """Return every item's number of a column by label."""
    given, measure, symbol = {"column": of}, of.measure, of.symbol
    return {
        label: Value(number, measure, Step(Entry(label, n), given), symbol)
        for n, (label, number) in enumerate(zip(labels, of.magnitude.tolist(), strict=True))
    }


def lined_up(of: Value) -> list[Value]:
    """Return the items' own values behind a column."""
    return list(of.origin.given.values()) if isinstance(of.origin, Step) else []


def as_word(text: Any, symbol: str) -> Value:
    """Return a word as a value: a value as it stands, a word of the job with its place, any other as the caller's."""
    if isinstance(text, Value):
        return text
    source = getattr(text, "source", None)
    return word(str(text), source if isinstance(source, Source) else Source("input", "as given"), symbol)


def plain_word(text: Any) -> str:
    """Return the bare word behind a word value or a text."""
    return str(text.magnitude) if isinstance(text, Value) and text.measure is WORD else str(text)

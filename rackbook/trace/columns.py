"""Columns: the numbers of many items as one array value, and single entries taken out of one again.

A column keeps every item's own value, so the trace of a sum reaches what stands behind each item; and what was
worked out for a whole column can be shown as worked for one item alone.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from .errors import RackbookError
from .units import convert, unit
from .value import WORD, Source, Step, Value


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
    measures = {v.measure for v in values.values()}
    if len(measures) == 1 and WORD not in measures:
        (have,) = measures
        numbers = convert(np.array([v.magnitude for v in values.values()], float), have, of)
    else:
        numbers = np.array([v.m_as(unit_name) for v in values.values()], float)
    return Value(numbers, of, Step(Column(unit_name, tuple(values)), dict(values)), symbol)


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


def of_column(value: Value) -> Value | None:
    """Return the column an entry was taken out of; None for any other value."""
    if isinstance(value.origin, Step) and isinstance(value.origin.operation, Entry):
        return value.origin.given["column"]
    return None


def alone(value: Value) -> Value:
    """Return an entry of a column as worked out for that item alone; any other value as it is.

    What was done to the whole column is done to the item's own numbers; where that does not give the same number
    (the operation looks at the whole column), the entry stays an entry.
    """
    if isinstance(value.origin, Step) and isinstance(value.origin.operation, Entry):
        operation, whole = value.origin.operation, value.origin.given["column"]
        if not isinstance(whole.origin, Step) or isinstance(whole.origin.operation, Entry):
            return value
        made = whole.origin
        if isinstance(made.operation, Column):
            item = list(made.given.values())[operation.place]
            return item if item.measure is whole.measure else item.to(whole.unit)
        size = len(whole.magnitude)
        given = {
            n: entry(v, operation.place, operation.label) if np.ndim(v.magnitude) and len(v.magnitude) == size else v
            for n, v in made.given.items()
        }
        try:
            single = made.operation.evaluate(given)
        except (RackbookError, TypeError, IndexError):
            return value
        if (
            np.ndim(single.magnitude)
            or single.is_word
            or not math.isclose(single.m_as(whole.unit), value.magnitude, rel_tol=1e-9)
        ):
            return value
        return single.named(value.symbol or single.symbol)
    return value

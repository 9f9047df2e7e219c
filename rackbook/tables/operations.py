"""How a value was read from a table: the operations behind a step, each able to read again on other inputs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar

from ..trace import Source, Step, Value
from ..trace.units import Unit

if TYPE_CHECKING:
    from .table import Table


@dataclass(frozen=True, eq=False, slots=True)
class Reading:
    """A cell or cells read from a table.

    Attributes:
        table: The table.
        column: Full head of the column, ``"cu_75C [A]"``.
        keys: The keys it was read with, in the order of the table's keys; a number, a word or an array.
        arguments: The name in ``given`` under which each key is looked for when the table is read again.
        where: The row or rows in words.
        edition, clause, how: As the row says, or else the table's head.

    """

    table: Table
    column: str
    keys: tuple[Any, ...]
    arguments: tuple[str, ...]
    where: str
    edition: str
    clause: str
    how: str

    name: ClassVar[str] = "table"
    as_printed: ClassVar[bool] = True

    def value(self, magnitude: Any, measure: Unit, given: dict[str, Value], symbol: str) -> Value:
        """Return what was read as a value that remembers this reading."""
        return Value(magnitude, measure, Step(self, given), symbol)  # type: ignore[arg-type]  # a class-wide name

    @property
    def source(self) -> Source:
        """The published table with row and column."""
        column = self.column.partition(" [")[0]
        place = ", ".join(filter(None, (self.clause, self.where, f"column {column}")))
        return Source("table", self.table.head.title, self.edition, place, self.how)

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Read the table again by the keys among ``given``."""
        raise NotImplementedError

    def _keys(self, given: dict[str, Value]) -> tuple[Any, ...]:
        """Return the keys, those that are among the given values taken from there."""
        return tuple(given.get(name, key) for name, key in zip(self.arguments, self.keys, strict=True))


class Lookup(Reading):
    """One cell by its exact keys."""

    __slots__ = ()
    name: ClassVar[str] = "table"
    as_printed: ClassVar[bool] = True

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Read the cell again by the keys among ``given``."""
        return self.table.cell(self._keys(given), self.column, by=given)


class Band(Reading):
    """The cell of the row whose band holds a number."""

    __slots__ = ()
    name: ClassVar[str] = "step table"

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Find the band again for the number among ``given``."""
        *at, x = self._keys(given)
        return self.table.step(x, self.column, at=tuple(at), by=given)


class AtLeast(Reading):
    """The cell of the first row whose key is not below a number: the next size up."""

    __slots__ = ()
    name: ClassVar[str] = "next row up"

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Find the row again for the number among ``given``."""
        *at, x = self._keys(given)
        return self.table.at_least(x, self.column, at=tuple(at), by=given)


class AtMost(Reading):
    """The cell of the last row whose key is not above a number."""

    __slots__ = ()
    name: ClassVar[str] = "next row down"

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Find the row again for the number among ``given``."""
        *at, x = self._keys(given)
        return self.table.at_most(x, self.column, at=tuple(at), by=given)


class Interpolation(Reading):
    """A number between rows, linear along one key or bilinear along two."""

    __slots__ = ()
    name: ClassVar[str] = "interpolation"
    as_printed: ClassVar[bool] = False

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Interpolate again at the numbers among ``given``."""
        keys, free = self._keys(given), self.table.free
        at, x = keys[: len(keys) - free], keys[len(keys) - free :]
        return self.table.interpolate(x if free == 2 else x[0], self.column, at=at, by=given)

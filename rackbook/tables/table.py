"""A published table: exact look-up by keys, bands, next sizes and interpolation, each naming where it read."""

from __future__ import annotations

import functools
from pathlib import Path
from typing import Any

import numpy as np

from ..trace import LookupFailed, Source, Value
from ..trace.errors import nearest
from ..trace.units import unit
from ..trace.value import WORD
from . import grid
from .cells import cell, listed, same
from .head import read_file, split_column
from .operations import AtLeast, AtMost, Band, Interpolation, Lookup, Reading

WORSE = ("read", "", "derived", "memory")  # the label of several cells is that of the worst


class Table:
    """One file of ``data/tables``, read and indexed once.

    Attributes:
        name: Name of the file without its ending.
        head: What the file says of itself.
        columns: Full heads of all columns, keys first.
        names: The same without units.
        keys: Names of the key columns; a band counts as its two columns ``from`` and ``to``.
        units: Unit of each column.
        place: Index of each column by either name.
        text, cells: Every row as text, and as numbers, words and None.
        grids: Axes and numbers of the groups that were interpolated in.

    """

    def __init__(self, path: Path) -> None:
        self.name = path.stem
        self.head, self.columns, text = read_file(path)
        parts = [split_column(head) for head in self.columns]
        self.keys = self.head.keys
        self.names = tuple(name for name, _ in parts)
        if self.names[: len(self.keys)] != self.keys:
            raise LookupFailed(f"{path.name}: the keys {self.keys} must be the first columns {self.names}.")
        self.units = [WORD if of == "word" else unit(of) for _, of in parts]
        self.place = {**{head: i for i, head in enumerate(self.columns)}, **{n: i for i, n in enumerate(self.names)}}
        self.text = text
        self.cells = [[cell(t, of is WORD) for t, of in zip(row, self.units, strict=True)] for row in text]
        self._index = {tuple(same(t) for t in row[: len(self.keys)]): i for i, row in enumerate(text)}
        self._read: dict[tuple[Any, str], tuple[Any, Any, Lookup]] = {}
        self._groups: dict[tuple[Any, ...], list[int]] = {}
        self.grids: dict[tuple[int, int], Any] = {}
        self._words, self._origin = (
            functools.lru_cache(4096)(functools.partial(grid.row_words, self)),
            functools.lru_cache(4096)(self._origin_of),
        )
        for i, row in enumerate(text):
            self._groups.setdefault(tuple(same(t) for t in row[: len(self.keys) - self.free]), []).append(i)

    def __repr__(self) -> str:
        return f"<table {self.name}: {self.head.title}, {self.head.locator}>"

    def __reduce__(self) -> tuple:
        from .read import table  # a table travels by its name

        return table, (self.name,)

    @property
    def free(self) -> int:
        """How many of the last keys are not matched exactly: a band's two, those interpolated between, else one."""
        return 2 if self.head.band else max(len(self.head.between), 1)

    @property
    def source(self) -> Source:
        """The published table as a whole."""
        how = "" if self.head.how == "per row" else self.head.how
        return Source("table", self.head.title, self.head.edition, self.head.locator, how)

    @functools.cached_property
    def rows(self) -> tuple[dict[str, str], ...]:
        """Every row as text by the bare names of its columns."""
        return tuple(dict(zip(self.names, row, strict=True)) for row in self.text)

    def column(self, name: str) -> tuple[float | str | None, ...]:
        """Return a column: numbers, words, and None where nothing is printed.

        Raises:
            LookupFailed: There is no such column.

        """
        i = self._column(name)
        return tuple(row[i] for row in self.cells)

    def array(self, name: str) -> np.ndarray:
        """Return a column of numbers as an array in the unit of its head; nan where nothing is printed.

        Raises:
            LookupFailed: There is no such column, or it holds words.

        """
        cells = self.column(name)
        word = next((c for c in cells if isinstance(c, str)), None)
        if word is not None:
            raise LookupFailed(f"{self.name}, column {name}, holds words such as '{word}', not numbers.")
        return np.array([np.nan if c is None else c for c in cells], float)

    def has(self, keys: Any, column: str = "") -> bool:
        """Return whether there is a row of these keys (and, if a column is named, something printed in it)."""
        i = self._index.get(tuple(map(same, self._plain_keys(keys))))
        return i is not None and (not column or self.cells[i][self._column(column)] is not None)

    def cell(self, keys: Any, column: str, symbol: str = "", by: dict[str, Value] | None = None) -> Value:
        """Return one cell by its exact keys.

        Args:
            keys: The key, or a tuple of keys in the order of ``self.keys``: words, numbers, or Values of either.
            column: Head of the column, with or without its unit.
            symbol: Symbol of the result.
            by: Values that decided on this cell, to be kept with it; one named as a key is the key when the
                table is read again.

        Raises:
            LookupFailed: There is no such row or column, or nothing is printed there.

        """
        found = self._read.get((keys, column)) if type(keys) in (str, tuple) else None
        if found is None:
            by = dict(by or {})
            plain = self._take(keys if isinstance(keys, tuple) else (keys,), self.keys, by)
            found = self._read.get((plain, column))
            if found is None:
                found = self._read[plain, column] = self._look_up(plain, column)
            if type(keys) is str:
                self._read[keys, column] = found
        magnitude, measure, operation = found
        return operation.value(magnitude, measure, {} if by is None else by, symbol)

    def step(self, x: Any, column: str, symbol: str = "", at: Any = (), by: dict[str, Value] | None = None) -> Value:
        """Return the cell of the row whose band ``from``-``to`` holds ``x``; the head says which ends a band holds.

        Args:
            x: A number in the unit of the column ``from``, or a Value, which may hold an array.
            column: Head of the column.
            symbol: Symbol of the result.
            at: The exact keys before the band.
            by: Further values that decided.

        Raises:
            LookupFailed: The table has no bands, no band holds ``x``, or there is no such column.

        """
        if self.head.band is None:
            raise LookupFailed(f"{self.name} has no bands; its keys are {', '.join(self.keys)}. Use cell().")
        group, given, plain, names = self._begin(at, by)
        number = self._number(x, len(self.keys) - 2, given, names, "x")
        found = grid.bands(self, group, number, names[-1])
        return self._made(Band, found, column, symbol, (*plain, number), names, given)

    def at_least(self, x: Any, column: str, symbol: str = "", at: Any = (), by: dict[str, Value] | None = None) -> Value:
        """Return the cell of the first row whose last key is ``x`` or more; arguments as :meth:`step`."""
        return self._next(AtLeast, x, column, symbol, at, by)

    def at_most(self, x: Any, column: str, symbol: str = "", at: Any = (), by: dict[str, Value] | None = None) -> Value:
        """Return the cell of the last row whose last key is ``x`` or less; arguments as :meth:`step`."""
        return self._next(AtMost, x, column, symbol, at, by)

    def interpolate(self, x: Any, column: str, symbol: str = "", at: Any = (), by: dict[str, Value] | None = None) -> Value:
        """Return the number at ``x``, linear along the last key or bilinear along the last two.

        Never past the end rows, unless the head says that the end value is used there.

        Args:
            x: A number in the unit of the key column, or a Value, which may hold an array; for two keys a pair.
            column: Head of the column.
            symbol: Symbol of the result.
            at: The exact keys before those.
            by: Further values that decided.

        Raises:
            LookupFailed: ``x`` is past the printed rows, or a row it falls between prints no number.

        """
        if not self.head.between:
            raise LookupFailed(
                f"{self.name} is not a table to interpolate in: its standard does not say so. Use cell() or step()."
            )
        group, given, plain, names = self._begin(at, by)
        pair = tuple(x) if self.free == 2 else (x,)
        first = len(self.keys) - self.free
        numbers = [self._number(v, first + i, given, names, self.keys[first + i]) for i, v in enumerate(pair)]
        i = self._column(column)
        number, used, where = grid.between(self, group, numbers, i)
        keys = (*plain, *numbers)
        operation = Interpolation(self, self.columns[i], keys, tuple(names), where, *self._origin(tuple(used), i))
        return operation.value(number, self.units[i], given, symbol)

    # -- within

    def _next(self, kind: type[Reading], x: Any, column: str, symbol: str, at: Any, by: Any) -> Value:
        group, given, plain, names = self._begin(at, by)
        last = len(self.keys) - 1
        number = self._number(x, last, given, names, self.keys[last])
        found = grid.next_row(self, group, number, names[-1], up=kind is AtLeast)
        return self._made(kind, found, column, symbol, (*plain, number), names, given)

    def _made(self, kind: type[Reading], found: Any, column: str, symbol: str, keys: Any, names: Any, given: Any) -> Value:
        """Return the value of one found row, or of one row for each number of a sweep."""
        i = self._column(column)
        rows = np.unique(found).tolist() if isinstance(found, np.ndarray) else [found]
        cells = {r: self.printed(r, i) for r in rows}
        words = [c for c in cells.values() if isinstance(c, str)]
        if isinstance(found, np.ndarray):
            if words:
                raise LookupFailed(f"{self.name}, column {column}, prints words ('{words[0]}'); a sweep holds numbers.")
            magnitude: Any = np.array([cells[r] for r in found.ravel().tolist()]).reshape(found.shape)
            where = "row by case"
        else:
            magnitude, where = cells[found], self._words(found, names[-1])
        operation = kind(self, self.columns[i], keys, tuple(names), where, *self._origin(tuple(rows), i))
        return operation.value(magnitude, WORD if words else self.units[i], given, symbol)

    def _begin(self, at: Any, by: dict[str, Value] | None) -> tuple[list[int], dict[str, Value], tuple, list[str]]:
        """Return the rows under the exact keys ``at``, the values given so far, those keys and their names."""
        given = dict(by or {})
        exact = self.keys[: len(self.keys) - self.free]
        plain = self._take(at if isinstance(at, tuple) else (at,), exact, given)
        group = self._groups.get(tuple(map(same, plain)))
        if group is None:
            raise LookupFailed(self._no_row(plain, exact))
        return group, given, plain, list(exact)

    def _take(self, keys: tuple, names: tuple[str, ...], given: dict[str, Value]) -> tuple:
        """Return keys as plain words and numbers; those that are Values are noted in ``given``."""
        if len(keys) != len(names):
            raise LookupFailed(f"{self.name} is read by {len(names)} exact keys ({', '.join(names)}), not {len(keys)}.")
        plain = []
        for name, key in zip(names, keys, strict=True):
            if isinstance(key, Value):
                given[name] = key
                measure = self.units[self.place[name]]
                key = key.magnitude if key.is_word or measure is WORD else key.m_as(measure.name)
            plain.append(key)
        return tuple(plain)

    def _number(self, x: Any, place: int, given: dict[str, Value], names: list[str], name: str) -> Any:
        """Return ``x`` in the unit of a key column; a Value is noted in ``given`` under its own symbol or ``name``."""
        if isinstance(x, Value):
            name = next((known for known, v in given.items() if v is x), x.symbol or name)
            given[name] = x
            x = x.m_as(self.units[place].name)
        names.append(name)
        return np.asarray(x, float) if isinstance(x, (np.ndarray, list)) else float(x)

    def _plain_keys(self, keys: Any) -> tuple:
        return tuple(k.magnitude if isinstance(k, Value) else k for k in (keys if isinstance(keys, tuple) else (keys,)))

    def _column(self, name: str) -> int:
        try:
            return self.place[name]
        except KeyError:
            raise LookupFailed(
                f"{self.name} has no column '{name}'.{nearest(name, self.columns)} Columns: {listed(self.columns)}."
            ) from None

    def _look_up(self, keys: tuple, column: str) -> tuple[Any, Any, Lookup]:
        row = self._index.get(tuple(map(same, keys)))
        if row is None:
            raise LookupFailed(self._no_row(keys, self.keys))
        i = self._column(column)
        magnitude = self.printed(row, i)
        measure = WORD if isinstance(magnitude, str) else self.units[i]
        where = grid.row_words(self, row)
        return magnitude, measure, Lookup(self, self.columns[i], keys, self.keys, where, *self._origin((row,), i))

    def printed(self, row: int, i: int) -> float | str:
        """Return the cell in row and column by index; refuse where nothing is printed."""
        found = self.cells[row][i]
        if found is None:
            raise LookupFailed(
                f"{self.name} prints nothing in {grid.row_words(self, row)}, column {self.columns[i]}. Printed in that row: "
                f"{listed(h for h, c in zip(self.columns, self.cells[row], strict=True) if c is not None)}."
            )
        return found

    def _no_row(self, keys: tuple, names: tuple[str, ...]) -> str:
        """Return the message for keys that no row has: the first key that is wrong, and what stands in its place."""
        rows = self.text
        for i, (name, key) in enumerate(zip(names, keys, strict=True)):
            here = [row for row in rows if same(row[i]) == same(key)]
            if not here:
                before = "".join(f" at {n} '{k}'" for n, k in zip(names[:i], keys[:i], strict=True))
                have = [row[i] for row in rows]
                return (
                    f"{self.name} ({self.head.title}, {self.head.locator}) has no row with {name} '{key}'{before}."
                    f"{nearest(key, have)} Rows: {listed(have)}. Use one of them; nothing is read between rows."
                )
            rows = here
        return f"{self.name} has no row {keys}."  # pragma: no cover - one of the keys is wrong

    def _origin_of(self, rows: tuple[int, ...], i: int) -> tuple[str, str, str]:
        """Return edition, clause and label of the cells of one column that were used."""
        first = self.text[rows[0]]
        edition, clause = self.head.edition, self.head.locator
        if "edition" in self.place:
            edition = first[self.place["edition"]].removeprefix(f"{self.head.title.split()[-1]}-")
        if "clause" in self.place and first[self.place["clause"]]:
            clause = first[self.place["clause"]]
        label = self.place.get(f"how_{self.names[i]}", self.place.get("how"))
        if label is None:
            return edition, clause, "" if self.head.how == "per row" else self.head.how
        return edition, clause, max((self.text[r][label] for r in rows), key=WORSE.index)

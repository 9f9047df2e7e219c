"""Published cases: run by the tests and printed, with their outcome, on the verification sheet.

A case names the formula or method it exercises by its dotted path below ``rackbook``, what is given, what the
publication says comes out, and how close that must be (the rounding of the source).

A quantity is a number with its unit, ``24.46 psf`` or ``1,200 lbf``. Numbers separated by comma and blank before one
unit, quoted in the file, are an array, one entry an item: ``w: "100, 200, 50 lbf"``. An expected array must agree in
length and in every entry. A list of a case becomes a tuple of its entries.
"""

from __future__ import annotations

import importlib
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from ruamel.yaml import YAML

from .book import named_values
from .shipped import shipped
from .trace import Formula, RackbookError, Source, Step, UnitError, Value, in_order
from .trace.units import unit

_ONE = re.compile(r"[-+]?(?:\d(?:[\d,]*\d)?(?:\.\d*)?|\.\d+)(?:e[-+]?\d+)?")
_QUANTITY = re.compile(rf"({_ONE.pattern}(?:,\s+{_ONE.pattern})*)\s*(.*)")


@dataclass(frozen=True)
class Case:
    """One published case, as it stands in its file."""

    id: str
    topic: str
    formula: str
    source: Source
    given: dict[str, Any]
    expect: dict[str, Any]
    tolerance: str
    check: str
    file: str


@dataclass(frozen=True)
class Outcome:
    """One expected value against what the book gives, and the formulas that were run to get it."""

    case: Case
    name: str
    expected: str
    found: str
    agrees: bool
    formulas: frozenset[Formula] = frozenset()


def quantity(text: object) -> tuple[Any, str] | None:
    """Return number (or array) and unit of ``"24.46 psf"``; None for a text that is not a quantity.

    >>> quantity("1,200, 300 lbf")
    (array([1200.,  300.]), 'lbf')
    """
    match = _QUANTITY.fullmatch(str(text).strip())
    if not match:
        return None
    numbers, of = [float(one.replace(",", "")) for one in _ONE.findall(match[1])], match[2].strip()
    of = {"%": "pct"}.get(of, of)
    try:
        unit(of)
    except UnitError:
        return None
    return numbers[0] if len(numbers) == 1 else np.array(numbers), of


def _given(name: str, item: object, source: Source) -> Any:
    if isinstance(item, bool) or item is None:
        return item
    if isinstance(item, list):
        return tuple(_given(name, x, source) for x in item)
    if isinstance(item, dict):
        return {key: _given(key, x, source) for key, x in item.items()}
    found = quantity(item)
    return Value(found[0], found[1], source, name) if found else str(item)


@cache
def cases(folder: Path | None = None) -> tuple[Case, ...]:
    """Return all cases of ``data/cases``, in order of file and place.

    Raises:
        RackbookError: A case lacks a part, or two cases share an id.
    """
    out: list[Case] = []
    seen: set[str] = set()
    for path in sorted((folder or shipped("data", "cases")).glob("*.yaml")):
        for entry in YAML(typ="safe").load(path.read_text(encoding="utf-8")) or []:
            try:
                said = entry["source"]
                kind = "derivation" if said["how"] == "derived" else "print"
                edition, locator = str(said.get("edition", "")), str(said.get("locator", ""))
                source = Source(kind, said["title"], edition, locator, said["how"])
                case = Case(entry["id"], entry["topic"], entry["formula"], source, entry["given"], entry["expect"],
                            str(entry["tolerance"]), str(entry.get("check", "")), path.name)  # fmt: skip
            except (KeyError, TypeError) as e:
                raise RackbookError(f"{path.name}: case '{entry.get('id', entry)}' lacks {e}.") from None
            if case.id in seen:
                raise RackbookError(f"{path.name}: the id '{case.id}' is used twice.")
            seen.add(case.id)
            out.append(case)
    return tuple(out)


def method(path: str) -> Any:
    """Return the formula or method at a dotted path below ``rackbook``.

    Raises:
        RackbookError: There is none.
    """
    module, _, name = path.rpartition(".")
    try:
        return getattr(importlib.import_module(f"rackbook.{module}"), name)
    except (ImportError, AttributeError):
        raise RackbookError(f"There is no formula or method '{path}' in the book.") from None


def work(case: Case) -> Any:
    """Return what the formula or method of a case gives for what the case gives it.

    Raises:
        RackbookError: What the case's own expectation may be: the book refuses.

    """
    return method(case.formula)(**{n: _given(n, x, case.source) for n, x in case.given.items()})


def run(case: Case) -> Iterator[Outcome]:
    """Run a case and yield one outcome for each expected value; an error of the book is an outcome too."""
    try:
        result = work(case)
    except RackbookError as e:
        for name, expected in case.expect.items():
            yield Outcome(case, name, str(expected), f"{type(e).__name__}: {e}", str(expected) == type(e).__name__)
        return
    ran = formulas_behind(v for _, v in named_values(result))
    for name, expected in case.expect.items():
        try:
            yield replace(_judge(case, name, expected, _part(result, name)), formulas=ran)
        except (RackbookError, AttributeError, KeyError, IndexError, TypeError, ValueError) as e:
            yield Outcome(case, name, str(expected), f"{type(e).__name__}: {e}", False)


def _part(result: Any, name: str) -> Any:
    """Return the part of a result that an expectation names: an attribute path, a key, or the result's own symbol."""
    if isinstance(result, Value):
        return result
    for step in name.split("."):
        if isinstance(result, dict):
            result = result[step]
        elif isinstance(result, (tuple, list)):
            result = result[int(step)]
        else:
            result = getattr(result, step)
    return result


def _judge(case: Case, name: str, expected: Any, found: Any) -> Outcome:
    if isinstance(expected, bool) or expected is None:
        return Outcome(case, name, str(expected), str(found), found is expected)
    wanted = quantity(expected)
    shown = found.text() if isinstance(found, Value) else str(found)
    if wanted is None or (isinstance(found, Value) and found.is_word) or isinstance(found, str):
        return Outcome(case, name, str(expected), shown, str(getattr(found, "magnitude", found)) == str(expected))
    numbers = np.asarray(found.m_as(wanted[1]) if isinstance(found, Value) else found, float)
    agrees = numbers.shape == np.shape(wanted[0])
    agrees = agrees and bool(np.all(np.abs(numbers - wanted[0]) <= _allowed(case.tolerance, *wanted, str(expected))))
    shown = ", ".join(f"{x:.6g}" for x in np.atleast_1d(numbers).flat)
    return Outcome(case, name, str(expected), f"{shown} {wanted[1]}".strip(), agrees)


def _allowed(tolerance: str, number: Any, of: str, printed: str) -> Any:
    """Return how far a result may lie from a printed number (or each of an array), in the printed unit."""
    if tolerance == "exact":
        return 1e-9 * abs(number)
    if tolerance == "rounding":
        numbers = _ONE.findall(_QUANTITY.fullmatch(printed.strip())[1])  # type: ignore[index]
        half = [0.5 * _last_digit(one) * (1 + 1e-9) for one in numbers]
        return half[0] if len(half) == 1 else np.array(half)
    found = quantity(tolerance)
    if found is None:
        raise RackbookError(f"'{tolerance}' is not a tolerance: use a percentage, a quantity, 'exact' or 'rounding'.")
    if found[1] == "pct":
        return found[0] / 100 * abs(number) + 1e-12
    from .trace.units import convert

    return abs(convert(found[0], unit(found[1]), unit(of))) if found[1] else found[0]


def _last_digit(printed: str) -> float:
    """Return the worth of the last printed digit: 0.01 of ``24.46``, 100 of ``1.2e3``."""
    number, _, power = printed.partition("e")
    return 10.0 ** (int(power or 0) - len(number.partition(".")[2]))


def formulas_behind(values: Iterable[Value]) -> frozenset[Formula]:
    """Return every formula that was run on the way to some values."""
    origins = (v.origin for v in in_order(values))
    return frozenset(o.operation for o in origins if isinstance(o, Step) and isinstance(o.operation, Formula))

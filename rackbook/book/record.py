"""A computed job as plain data: every input, result and check with value, unit and source."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from rackbook import __version__
from rackbook.trace import Check, Value

from .compute import Book


def record(book: Book) -> dict[str, Any]:
    """Return the book as nested plain data, ready for JSON; paths are stable from revision to revision."""
    head = book.job.job
    return {
        "rackbook": __version__,
        "status": "DRAFT",
        "job": {"number": str(head.number), "title": str(head.title), "revision": str(head.revision), "date": str(head.date)},
        "inputs": {path: _value(v) for path, v in book.inputs.items()},
        "results": {path: _value(v) for path, v in book.values.items()},
        "checks": [_check(sheet, c) for sheet, c in book.checks],
        "to_confirm": list(book.from_memory),
    }


def _value(value: Value) -> dict[str, Any]:
    magnitude = _plain(value.magnitude)
    made_by = {} if not value.computed else {"by": value.origin.operation.name}  # type: ignore[union-attr]
    return {
        "symbol": value.symbol, "value": magnitude, "unit": value.unit, "text": value.text(),
        "clause": str(value.source), **made_by,
    }  # fmt: skip


def _plain(magnitude: Any) -> Any:
    """Return numbers JSON knows; it has no infinity, so a ratio over a capacity of zero is written as a word."""
    if isinstance(magnitude, np.ndarray):
        return [_plain(x) for x in magnitude.tolist()]
    if isinstance(magnitude, str):
        return magnitude
    return float(magnitude) if math.isfinite(magnitude) else str(float(magnitude))


def _check(sheet: str, c: Check) -> dict[str, Any]:
    return {
        "sheet": sheet, "name": c.name, "demand": _value(c.demand), "capacity": _value(c.capacity) if c.capacity else None,
        "ratio": _plain(c.ratio.magnitude) if c.ratio else None, "limit": c.limit, "clause": str(c.source), "word": c.word,
        "remedy": c.remedy,
    }  # fmt: skip

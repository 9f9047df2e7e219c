"""Every value of a result has a stable path: ``wind.front.q_z``."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from typing import Any

from pydantic import BaseModel

from rackbook.trace import Check, Value


def named_values(thing: Any, path: str = "") -> Iterator[tuple[str, Value]]:
    """Yield ``(path, value)`` for every Value in dataclasses, records, mappings and sequences, in their own order.

    Items of a sequence are counted from 1; keys of a mapping stand as they are.
    """
    if isinstance(thing, Value):
        yield path, thing
    elif isinstance(thing, Check):
        for name in ("demand", "capacity", "ratio"):
            yield from named_values(getattr(thing, name), f"{path}.{name}")
    elif dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        for f in dataclasses.fields(thing):
            yield from named_values(getattr(thing, f.name), _join(path, f.name))
    elif isinstance(thing, BaseModel):
        for name, info in type(thing).model_fields.items():
            yield from named_values(getattr(thing, name), _join(path, info.alias or name))
    elif isinstance(thing, Mapping):
        for key, item in thing.items():
            yield from named_values(item, _join(path, str(key)))
    elif isinstance(thing, (tuple, list)):
        for n, item in enumerate(thing, 1):
            yield from named_values(item, _join(path, _tag(item) or str(n)))


def _tag(item: Any) -> str:
    """Return the tag of a piece of equipment or a circuit: a steadier name than its place in the schedule."""
    return str(getattr(item, "tag", "") or "")


def _join(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name

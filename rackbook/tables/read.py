"""Tables by name, read once from the folder the book ships."""

from __future__ import annotations

import functools

from ..shipped import shipped
from ..trace import LookupFailed
from ..trace.errors import nearest
from .cells import listed
from .table import Table


@functools.cache
def names() -> tuple[str, ...]:
    """Return the names of all tables, in order."""
    return tuple(sorted(path.stem for path in shipped("data", "tables").glob("*.csv")))


@functools.cache
def table(name: str) -> Table:
    """Return the table ``data/tables/<name>.csv``; it is read once.

    Raises:
        LookupFailed: There is no table of that name, or its file does not say what it must.

    """
    if name not in names():
        raise LookupFailed(f"There is no table '{name}'.{nearest(name, names())} Tables: {listed(names(), 80)}.")
    return Table(shipped("data", "tables", f"{name}.csv"))

"""What was slow to find and never changes, kept on disk from one run to the next.

Nothing rests on it: without it, or with a spoiled one, everything is found anew.
"""

from __future__ import annotations

import contextlib
import functools
import sqlite3
from collections.abc import Callable
from pathlib import Path

from platformdirs import user_cache_path


def kept(name: str, find: Callable[[str], str], key: str) -> str:
    """Return ``find(key)``, asked once on this machine.

    Args:
        name: File of the store; it names what the answer depends on beside the key.
        find: A pure function.
        key: What it is asked.

    """
    path = user_cache_path("rackbook") / name
    store = _store(path)
    if store is None:
        return find(key)
    try:
        row = store.execute("SELECT found FROM kept WHERE asked = ?", (key,)).fetchone()
    except sqlite3.Error:
        row = None
    if row and isinstance(row[0], str):
        return row[0]
    found = find(key)
    with contextlib.suppress(sqlite3.Error):
        store.execute("INSERT OR REPLACE INTO kept VALUES (?, ?)", (key, found))
    return found


@functools.cache
def _store(path: Path) -> sqlite3.Connection | None:
    """Return the open store, or None where there can be none: a folder that takes no files, a file that is something else."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        store = sqlite3.connect(path, timeout=1, isolation_level=None, check_same_thread=False)
        store.execute("PRAGMA synchronous = OFF")  # a lost answer is found again
        store.execute("CREATE TABLE IF NOT EXISTS kept (asked TEXT PRIMARY KEY, found TEXT NOT NULL) WITHOUT ROWID")
    except (OSError, sqlite3.Error):
        return None
    return store

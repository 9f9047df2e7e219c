"""Keys and cells of a table: what counts as the same key, and a cell as number, word or blank."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

_MIXED = re.compile(r"^(?:(\d+)[- ])?(\d+)/(\d+)$")


def number(text: str) -> float | None:
    """Return the number a text writes (``"7-1/2"``, ``"0.85"``), or None: ``"4/0"`` and ``"NP"`` are words."""
    mixed = _MIXED.match(text)
    if mixed:
        whole, above, below = mixed.groups()
        return int(whole or 0) + int(above) / int(below) if int(below) else None
    try:
        return float(text)
    except ValueError:
        return None


def same(key: Any) -> Any:
    """Return the form under which equal keys are found: numbers by value, words without regard to case."""
    if not isinstance(key, str):
        return float(key) if hasattr(key, "__float__") else key
    text = key.strip()
    value = number(text)
    return text.casefold() if value is None else value


def cell(text: str, is_word: bool) -> float | str | None:
    """Return a cell as a number, a word, or None where the table prints nothing; sizes are words even as ``"4"``."""
    text = text.strip()
    value = None if is_word else number(text)
    return (text or None) if value is None else value


def listed(names: Iterable[Any], most: int = 24) -> str:
    """Return names for a message, the middle left out of a long list."""
    all_names = list(dict.fromkeys(str(name) for name in names))
    if len(all_names) <= most:
        return ", ".join(all_names)
    return ", ".join([*all_names[: most - 4], f"... ({len(all_names)} in all) ...", *all_names[-3:]])

"""Words of a job as values, and back."""

from __future__ import annotations

from typing import Any

from rackbook.trace import Source, Value, word
from rackbook.trace.value import WORD


def as_word(text: Any, symbol: str) -> Value:
    """Return a word as a value: a value as it stands, a word of the job with its place, any other as the caller's."""
    if isinstance(text, Value):
        return text
    source = getattr(text, "source", None)
    return word(str(text), source if isinstance(source, Source) else Source("input", "as given"), symbol)


def plain_word(text: Any) -> str:
    """Return the bare word behind a word value or a text."""
    return str(text.magnitude) if isinstance(text, Value) and text.measure is WORD else str(text)

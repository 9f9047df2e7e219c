"""Which characters the print can draw: those of the fonts that travel inside the typesetter, and no others.

A character without a glyph would print as an empty box. It is printed as its code point instead, so nothing is hidden.
``glyphs.txt`` holds the ranges, found by setting every assigned character once; a test sets them again with the
installed typesetter.
"""

from __future__ import annotations

import functools
import unicodedata
from bisect import bisect_right
from importlib.resources import files

#: Holds a unit together at its slash; no mark of its own.
JOINER = "\u2060"


@functools.cache
def _ranges() -> tuple[list[int], list[int]]:
    spans = [span.partition("-") for span in (files(__package__) / "glyphs.txt").read_text("ascii").split()]
    return [int(first, 16) for first, _, _ in spans], [int(last or first, 16) for first, _, last in spans]


def drawn(char: str) -> bool:
    """Say whether the print has a glyph for a character, or needs none."""
    if char < "\x7f" or char.isspace() or char == JOINER:
        return True
    firsts, lasts = _ranges()
    at = bisect_right(firsts, ord(char)) - 1
    return at >= 0 and ord(char) <= lasts[at]


def printable(text: str) -> str:
    """Return the text with each character that cannot be drawn written as its code point.

    >>> printable("P-101 \U0001f600")
    'P-101 [U+1F600]'
    """
    if text.isascii():
        return text
    return "".join(c if drawn(c) else "" if unicodedata.category(c) == "Cf" else f"[U+{ord(c):04X}]" for c in text)

"""Words as the engineer wrote them, with the place they were written at."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass

from rackbook.trace import InputError, Source

#: Marks that turn the direction of text: they can make a reader see another text than the one stored.
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
#: Control characters, lone surrogates, line and paragraph separators, code points that are no characters.
_REFUSED = frozenset(("Cc", "Cs", "Zl", "Zp", "Cn"))


@dataclass(frozen=True, slots=True)
class Place:
    """A place in a file of the job folder: what an error names and what a save replaces.

    ``field`` is a dotted path or ``row 5 (T-1), weight [lbf]``; ``line`` counts from 1; ``start`` and ``end``
    are character offsets of the text as written, quotes included.
    """

    file: str
    field: str = ""
    line: int | None = None
    start: int = 0
    end: int = 0

    def problem(self, message: str) -> InputError:
        """Return (not raise) the error that stands for one problem at this place."""
        return InputError(message, file=self.file, line=self.line, field=self.field)

    @property
    def source(self) -> Source:
        """The place as the source of a Value; what nobody wrote is an assumption of the schema."""
        if self.line is None:
            return Source("assumption", "left blank: the usual choice")
        return Source("input", self.file, "", f"{self.field}, line {self.line}")


class Text(str):
    """A ``str`` that knows its place; ``unit`` is the unit of its column's head, or None outside schedules."""

    place: Place
    unit: str | None

    def __new__(cls, text: str, place: Place | None = None, unit: str | None = None) -> Text:
        """Return the text; without a place it counts as typed by nobody in particular."""
        made = super().__new__(cls, text)
        made.place = place or Place("input")
        made.unit = unit
        return made

    def __getnewargs__(self) -> tuple[str, Place, str | None]:  # type: ignore[override]
        return str(self), self.place, self.unit

    @property
    def source(self) -> Source:
        """Where the word was written, as the source of a Value."""
        return self.place.source


def shown(text: object, most: int = 40) -> str:
    """Return text quoted for a message: one line, no control characters, never long.

    >>> shown("120")
    "'120'"
    """
    written = str(text)
    cut = written[:most] + "..." if len(written) > most else written
    return repr(cut) if refused_character(cut) is None else ascii(cut)


def refused_character(text: str) -> str | None:
    """Return a name of the first character no field may hold, or None when the text is clean.

    Marks of every markup language are plain characters here: to escape them is the printer's matter.
    """
    if text.isascii() and text.isprintable():
        return None
    for character in text:
        if character in _TURNING or unicodedata.category(character) in _REFUSED:
            name = {"\t": "a tab", "\n": "a line break", "\r": "a line break"}.get(character)
            return name or f"the character U+{ord(character):04X}"
    return None

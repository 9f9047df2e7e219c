"""Every error a user of the book can meet, in one family.

Each message says what was asked, what is allowed, where, and what to do; each class is also the
natural builtin, so that ordinary ``except ValueError`` code keeps working.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable


class RackbookError(Exception):
    """Any error the book raises on purpose."""


class UnitError(RackbookError, TypeError):
    """A quantity of one dimension was given where another is needed."""


class DomainError(RackbookError, ValueError):
    """A number lies outside what a clause, formula or field allows."""


class SheetError(RackbookError, ValueError):
    """A formula or sheet could not be set truthfully."""


class LookupFailed(RackbookError, LookupError):
    """A table was asked for a row or a column it does not hold."""


class SolveError(RackbookError, ValueError):
    """No value of the unknown gives the wanted result."""


class InputError(RackbookError, ValueError):
    """A field of the job folder is wrong.

    Args:
        message: What was asked, what is allowed and what to do.
        file: Name of the file, as the engineer sees it.
        line: Line in that file, counted from 1.
        field: Dotted path or column of the field.

    """

    def __init__(self, message: str, *, file: str = "", line: int | None = None, field: str = "") -> None:
        self.message, self.file, self.line, self.field = message, file, line, field
        place = f"{file}:{line}" if line is not None else file
        super().__init__(" ".join(part for part in (place and f"{place}:", field and f"{field}:", message) if part))


def nearest(word: object, allowed: Iterable[object]) -> str:
    """Return ``" Did you mean 'x'?"`` for the closest allowed spelling, or an empty text."""
    names = [str(name) for name in allowed]
    folded = {name.casefold(): name for name in names}
    close = difflib.get_close_matches(str(word).casefold(), folded, n=1, cutoff=0.6)
    return f" Did you mean '{folded[close[0]]}'?" if close else ""

"""The steel specification as the members take it: its editions, and where their formulas stand."""

from __future__ import annotations

from typing import Any

from rackbook.trace import given

from ..steel import clause, one_of

EDITIONS = ("22", "16")
#: What a sum of ratios is held against.
ONE = given(1.0, "", clause("H1.1"), "R_max")


def edition_of(code: Any) -> str:
    """Return the edition of ``"AISC 360-22"``: ``"22"`` or ``"16"``.

    Raises:
        InputError: The book has no other editions.

    """
    said = getattr(code, "magnitude", code)
    said = f"{said:g}" if isinstance(said, float) else str(said)
    return one_of("edition of AISC 360", said.removeprefix("AISC 360-"), EDITIONS)

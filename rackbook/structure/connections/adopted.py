"""Clauses of connections in the edition a job adopts: section numbers of J3 moved by one from 360-16 to 360-22."""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass, replace
from typing import Any

from rackbook.trace import Check, Source

from .strength import State

#: A section with the number it has in the earlier edition: J3.7 (J3.6 in 360-16).
_BOTH = re.compile(r"(J3\.\w+(?: and J3\.\w+)?) \((J3\.\w+(?: and J3\.\w+)?) in 360-16\)")
_GROUPS = (("Group 120", "Group A"), ("Group 150", "Group B"))
EARLIER = "AISC 360-16"


def clause_of(source: Source, steel: str) -> Source:
    """Return a clause of AISC 360 as the edition ``steel`` numbers it; as it stands where no edition is adopted."""
    if not steel or source.title != "AISC 360":
        return source
    earlier = steel == EARLIER
    return replace(source, edition="16" if earlier else "22", locator=_BOTH.sub(r"\2" if earlier else r"\1", source.locator))


def words_of(words: str, steel: str) -> str:
    """Return words with sections and groups of bolts as the edition ``steel`` calls them."""
    earlier = steel == EARLIER
    words = _BOTH.sub(r"\2" if earlier else r"\1", words) if steel else words
    for later, before in _GROUPS if earlier else ():
        words = words.replace(later, before)
    return words


def adopted(of: Any, steel: str) -> Any:
    """Return states and checks, or results that hold them, with their clauses in the edition ``steel``."""
    if isinstance(of, tuple):
        return tuple(adopted(x, steel) for x in of)
    if isinstance(of, (State, Check)):
        return replace(of, source=clause_of(of.source, steel))
    if isinstance(of, dict):
        return {name: adopted(x, steel) for name, x in of.items()}
    names = [f.name for f in fields(of)] if is_dataclass(of) else []
    changed = {n: adopted(getattr(of, n), steel) for n in ("states", "checks", "worst", "spacing") if n in names}
    return replace(of, **changed) if changed else of

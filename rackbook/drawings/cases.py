"""Load combinations in the reader's own words: ``D + 0.6 W front`` as factors over the unit cases of a frame."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np

from rackbook.trace import LookupFailed
from rackbook.trace.errors import nearest

_TERM = re.compile(r"(?P<sign>[+-]?)\s*(?P<number>\d+(?:\.\d+)?)?\s*\*?\s*(?P<case>[A-Z]\w*(?: (?:\d+|[a-z]+))?)\s*")


def factors(words: str, cases: Sequence[str]) -> np.ndarray:
    """Return the factor of every unit case in a combination.

    >>> factors("D - 0.6 W front", ("D", "L 1", "W front")).tolist()
    [1.0, 0.0, -0.6]

    Raises:
        LookupFailed: A term is no unit case of the frame; those it has are named.

    """
    found, at = np.zeros(len(cases)), 0
    while at < len(words):
        term = _TERM.match(words, at)
        name = term["case"] if term else words[at:].strip()
        if term is None or name not in cases or (at and not term["sign"]):
            raise LookupFailed(
                f"'{words[:80]}' is no combination of unit cases: '{name[:40]}' is none.{nearest(name, cases)} "
                f"Unit cases: {_listed(cases)}. Write them with factors, such as '1.2 D + 1.0 W front'."
            )
        found[cases.index(name)] += float(f"{term['sign']}{term['number'] or 1}")
        at = term.end()
    if not found.any():
        raise LookupFailed(f"'{words[:80]}' names no unit case. Unit cases: {_listed(cases)}.")
    return found


def _listed(cases: Sequence[str]) -> str:
    """Return the names of unit cases, the many places of a person as one."""
    places = [name for name in cases if name.startswith("L ")]
    rest = [name for name in cases if name not in places[1:]]
    return ", ".join(f"{name} to {places[-1]}" if places[1:] and name == places[0] else name for name in rest)

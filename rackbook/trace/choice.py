"""A choice between clauses is itself a value: it says what governed and what did not."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from .errors import UnitError, nearest
from .value import Source, Step, Value

RULES = {"largest": "the largest governs", "smallest": "the smallest governs"}
#: Candidates this close to one another are equal.
EQUAL = 1e-9


@dataclass(frozen=True)
class Choice:
    """The operation behind a choice: largest, smallest, or a stated reason."""

    name: str
    source: Source
    labels: tuple[str, ...]
    chosen: str = ""
    because: str = ""

    def differing(self, given: Mapping[str, Value]) -> bool:
        """Whether there is anything to choose: two candidates or more that are not all equal."""
        bases = [given[n].base for n in self.labels]
        return len(bases) > 1 and not all(np.allclose(b, bases[0], rtol=EQUAL, atol=0) for b in bases[1:])

    def told(self, given: Mapping[str, Value]) -> str:
        """Return the choice as a sentence: what governs or was selected, why, and what did not; nothing where all are equal."""
        others = [n for n in self.labels if n != self.chosen]
        told = {n: f"{n} ({v.text()})" for n in others if (v := given.get(n)) is not None and v.text() != n}
        rest = ", ".join(told.get(n, n) for n in others)
        if self.name in RULES:
            if not self.differing(given):
                return {1: ""}.get(len(self.labels), "Both equal." if len(self.labels) == 2 else "All equal.")
            return (
                f"Governs: {self.chosen}. Not governing: {rest}."
                if self.chosen
                else f"{RULES[self.name]} in each case.".capitalize()
            )
        because = self.because or self.source.title
        why = f"; {because}" if self.chosen.endswith(")") else f" ({because})"
        return f"Selected: {self.chosen}{why}." + (f" Not selected: {rest}." if rest else "")

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Choose again among other candidates of the same labels."""
        if self.name in RULES:
            return _extreme(self.name, "", {n: given[n] for n in self.labels}, self.source)
        candidates = {n: given.get(n) for n in self.labels}
        by = {n: v for n, v in given.items() if n not in candidates}
        return pick("", candidates, self.chosen, self.because, by, self.source)


def _extreme(rule: str, symbol: str, candidates: dict[str, Value], source: Source | None) -> Value:
    if not candidates:
        raise UnitError(f"{symbol}: there is nothing to choose from.")
    first = next(iter(candidates.values()))
    for v in candidates.values():
        v.m_as(first.unit)  # refuses words and other dimensions
    bases = [v.base for v in candidates.values()]
    labels = tuple(candidates)
    source = source or Source("derivation", RULES[rule])
    if any(isinstance(b, np.ndarray) for b in bases):
        at = None
        magnitude: Any = (np.maximum if rule == "largest" else np.minimum).reduce(
            np.broadcast_arrays(*[v.m_as(first.unit) for v in candidates.values()])
        )
        chosen, measure = "", first.measure  # each case has its own
    else:
        at = (
            max(range(len(bases)), key=bases.__getitem__)
            if rule == "largest"
            else min(range(len(bases)), key=bases.__getitem__)
        )
        winner = candidates[labels[at]]
        chosen, magnitude, measure = labels[at], winner.magnitude, winner.measure
    operation = Choice(rule, source, labels, chosen)
    return Value(magnitude, measure, Step(operation, dict(candidates)), symbol)


def largest(symbol: str, candidates: dict[str, Value], source: Source | None = None) -> Value:
    """Return the largest candidate; the first one where several are equal.

    Args:
        symbol: Symbol of the result.
        candidates: The values by the clause or words that stand for each.
        source: The clause that says the largest governs.

    Raises:
        UnitError: The candidates are of different dimensions, or none is given.

    """
    return _extreme("largest", symbol, candidates, source)


def smallest(symbol: str, candidates: dict[str, Value], source: Source | None = None) -> Value:
    """Return the smallest candidate; otherwise as :func:`largest`."""
    return _extreme("smallest", symbol, candidates, source)


def pick(
    symbol: str,
    candidates: dict[str, Value | None],
    chosen: str,
    because: str,
    by: dict[str, Value] | None = None,
    source: Source | None = None,
) -> Value:
    """Return the candidate named ``chosen``, remembering why and what was not selected.

    Args:
        symbol: Symbol of the result.
        candidates: Values by label; None for one that was not worked out.
        chosen: Label of the one selected.
        because: The reason, as printed.
        by: The values that decided.
        source: The clause that makes the choice, where there is one.

    Raises:
        UnitError: ``chosen`` is not a candidate with a value, or a label is used twice.

    """
    winner = candidates.get(chosen)
    if winner is None:
        raise UnitError(f"{symbol}: '{chosen}' has no value to choose.{nearest(chosen, candidates)}")
    if clash := set(by or ()) & set(candidates):
        raise UnitError(f"{symbol}: '{min(clash)}' is both a candidate and a value that decided; name one otherwise.")
    operation = Choice("chosen", source or Source("derivation", because), tuple(candidates), chosen, because)
    given = {**(by or {}), **{n: v for n, v in candidates.items() if v is not None}}
    return Value(winner.magnitude, winner.measure, Step(operation, given, {"because": because}), symbol)


def governing(value: Value) -> str:
    """Return the label of the candidate a choice selected; empty for a value that is not a choice."""
    origin = value.origin
    return origin.operation.chosen if isinstance(origin, Step) and isinstance(origin.operation, Choice) else ""

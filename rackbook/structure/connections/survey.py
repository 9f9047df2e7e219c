"""Many combinations and places at once: where each limit state is used most, and the most used limit state of each place."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.geometry import read
from rackbook.trace import Source, Value
from rackbook.trace.columns import entries

from .strength import State

_WORST = Source("derivation", "the largest ratio of all limit states and combinations")


@dataclass(frozen=True)
class Worst:
    """The most used limit state of one place: its name, the place of the combination in the set, the ratio."""

    label: str
    state: str
    combination: int
    ratio: Value


@dataclass(frozen=True, eq=False)
class Survey:
    """Ratios of all limit states over combinations and places.

    Attributes:
        labels: The places.
        states: Names of the limit states.
        ratios: Shape (states, combinations, places).
        most: Combination and place where each limit state is used most, by its name.
        places: The most used limit state of each place.

    """

    labels: tuple[str, ...]
    states: tuple[str, ...]
    ratios: np.ndarray
    most: dict[str, tuple[int, int]]
    places: tuple[Worst, ...]

    @property
    def governing(self) -> tuple[int, int]:
        """Combination and place of the largest ratio of all."""
        _, k, i = np.unravel_index(int(np.argmax(self.ratios)), self.ratios.shape)
        return int(k), int(i)


def survey(states: tuple[State, ...], labels: tuple[str, ...], combinations: int) -> Survey:
    """Return where limit states, worked for all combinations and places as arrays, are used most.

    Args:
        states: The limit states; each ratio is a number or an array of shape (combinations, places).
        labels: The places.
        combinations: Number of combinations.

    """
    shape = (combinations, len(labels))
    ratios = np.stack([np.broadcast_to(s.ratio.magnitude, shape) for s in states])
    most = {}
    for n, s in enumerate(states):
        k, i = np.unravel_index(int(np.argmax(ratios[n])), shape)
        most[s.name] = int(k), int(i)
    by_place = ratios.reshape(len(states) * combinations, len(labels)).argmax(axis=0)

    def largest(**given: Any) -> np.ndarray:
        every = [np.broadcast_to(r, shape) for r in given.values()]
        return np.max(np.stack(every), axis=(0, 1))

    worst = read("largest ratio by place", _WORST, "", largest, {s.name: s.ratio for s in states}, "ratio")
    column = entries(worst, labels)
    places = tuple(
        Worst(label, states[at // combinations].name, at % combinations, column[label])
        for label, at in zip(labels, by_place.tolist(), strict=True)
    )
    return Survey(labels, tuple(s.name for s in states), ratios, most, places)


def in_full(of: Survey, work: Callable[[int, int], tuple[State, ...]]) -> dict[str, tuple[State, int, int]]:
    """Return each limit state worked for the combination and place where it is used most, by its name.

    Args:
        of: The survey.
        work: Gives the limit states of one combination and place, as single values.

    """
    done: dict[tuple[int, int], dict[str, State]] = {}
    found = {}
    for name, at in of.most.items():
        if at not in done:
            done[at] = {s.name: s for s in work(*at)}
        found[name] = (done[at][name], *at)
    return found

"""The layout for the foundation designer: where each pier stands, and the largest reactions on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.trace import Value

from .loads import Loads


@dataclass(frozen=True)
class Envelope:
    """Largest and least reactions at one base over all combinations of a level; each with the number of its own combination.

    Attributes:
        P_max, P_min: Largest load down, and the least (uplift where negative).
        V_max, M_max: Largest shear and moment of both axes, not of one combination.
        combinations: In words, in the same order.

    """

    P_max: Value
    P_min: Value
    V_max: Value
    M_max: Value
    combinations: tuple[str, str, str, str]


@dataclass(frozen=True)
class Placed:
    """One pier: the base it stands under, its place, and its reactions at both levels."""

    label: str
    x: Value
    y: Value
    allowable: Envelope
    strength: Envelope


def layout(frame: Any, allowable: Loads, strength: Loads) -> tuple[Placed, ...]:
    """Return every pier of the frame with its reactions."""
    return tuple(
        Placed(str(of.label), of.x, of.y, envelope(allowable, base), envelope(strength, base))
        for base, of in enumerate(frame.bases)
    )


def envelope(loads: Loads, base: int) -> Envelope:
    """Return the largest reactions at a base."""
    rows = [
        int(np.argmax(loads.P[:, base])),
        int(np.argmin(loads.P[:, base])),
        int(np.argmax(loads.V[:, base])),
        int(np.argmax(loads.M[:, base])),
    ]
    return Envelope(
        loads.value("P", rows[0], base), loads.value("P", rows[1], base), loads.resultants(rows[2], base)[0],
        loads.resultants(rows[3], base)[1], tuple(loads.labels[row] for row in rows),  # type: ignore[arg-type]
    )  # fmt: skip

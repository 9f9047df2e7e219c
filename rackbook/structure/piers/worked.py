"""Sections from plain values: what a case or a notebook calls."""

from __future__ import annotations

from typing import Any

from rackbook.loads.words import plain_word
from rackbook.trace import Value

from .interaction import State, state, strength
from .section import Section


def state_of(
    shape: Any, b: Value, R_s: Value, n: Value, A_b: Value, f_c_prime: Value, f_y: Value, c: Value, direction: Value
) -> State:
    """Return the state of a section at a neutral axis depth.

    Args:
        shape: ``"round"`` or ``"square"``.
        b: Diameter or side.
        R_s: Distance from the middle to the bars' circle or rows.
        n: Count of the bars.
        A_b: Area of a bar.
        f_c_prime: Strength of the concrete.
        f_y: Yield strength of the bars.
        c: Depth of the neutral axis.
        direction: Of the compressed side, from a bar (round) or a side (square).

    Raises:
        DomainError: The bars do not fit, or ``c`` is not above zero.

    """
    return state(Section(plain_word(shape), b, R_s, n, A_b, f_c_prime, f_y), c, float(direction.m_as("deg")))


def strength_of(shape: Any, b: Value, R_s: Value, n: Value, A_b: Value, f_c_prime: Value, f_y: Value, P_u: Value) -> State:
    """Return the state of least moment strength at an axial force; arguments as :func:`state_of`.

    Raises:
        DomainError: The bars do not fit, or the axial force alone is too large.

    """
    return strength(Section(plain_word(shape), b, R_s, n, A_b, f_c_prime, f_y)).at(P_u)

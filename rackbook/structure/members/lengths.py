"""Effective lengths K L, each pair worked once so that a sheet shows it once."""

from __future__ import annotations

from rackbook.trace import Value, formula

from ..steel import clause


@formula(clause("E2", "read"), L_c="in")
def effective_length(K, L):
    """Return the effective length."""
    L_c = K * L
    return L_c


class Lengths:
    """Effective lengths made so far."""

    def __init__(self) -> None:
        self._made: dict[tuple[int, int], tuple[Value, Value, Value]] = {}

    def effective(self, K: Value, L: Value) -> Value:
        """Return K L; the same Value for the same two."""
        key = id(K), id(L)
        if key not in self._made:
            self._made[key] = K, L, effective_length(K=K, L=L)
        return self._made[key][2]

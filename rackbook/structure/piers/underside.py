"""Loads at the underside of the footings: all combinations as arrays, and one of them traced."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from rackbook.trace import Value

from .embedment import lever
from .footing import load_at_underside, moment_at_underside
from .loads import Loads
from .pressure import factors
from .size import Pier


@dataclass(frozen=True)
class Standing:
    """Load and moments at the underside of one footing under one combination, traced."""

    base: int
    combination: str
    c_D: Value
    N: Value
    V: Value
    M_fx: Value
    M_fy: Value


class Underside:
    """Loads at the underside of every footing under every combination [lbf, ft], and one of them traced."""

    def __init__(self, pier: Pier, of: Any, loads: Loads, W_f: Value, W_o: Value) -> None:
        self.pier, self.of, self.loads, self.W_f, self.W_o = pier, of, loads, W_f, W_o
        self.e_s = lever(e=pier.e, t_g=pier.t_g, d_0=of.depth)
        e_s = self.e_s.m_as("ft")
        self.dead = W_f.m_as("lbf") + pier.W_p.m_as("lbf") + W_o.m_as("lbf")
        self.N = loads.P * 1000 + loads.c_D[:, None] * self.dead
        self.M_fx = moment_at_underside(M=loads.M_x * 1000 / 12, V=loads.V_y * 1000, e_s=e_s)
        self.M_fy = moment_at_underside(M=loads.M_y * 1000 / 12, V=loads.V_x * 1000, e_s=e_s)
        self.L, self.B = of.length.m_as("ft"), of.width.m_as("ft")

    def place(self, numbers: np.ndarray) -> tuple[int, int]:
        """Return row and base of the largest number."""
        return divmod(int(np.argmax(numbers)), numbers.shape[1])

    def one(self, row: int, base: int) -> Standing:
        """Return one of them, traced."""
        P_v, V_x, V_y, M_x, M_y = (self.loads.value(c, row, base) for c in ("P", "V_x", "V_y", "M_x", "M_y"))
        P_v, c_D = P_v.named("P_v"), self.loads.factor(row)
        N = load_at_underside(P_v=P_v, c_D=c_D, W_f=self.W_f, W_p=self.pier.W_p, W_o=self.W_o)
        M_fx = moment_at_underside(M=M_x, V=V_y, e_s=self.e_s).named("M_fx")
        M_fy = moment_at_underside(M=M_y, V=V_x, e_s=self.e_s).named("M_fy")
        return Standing(base, self.loads.labels[row], c_D, N, self.loads.resultants(row, base)[0], M_fx, M_fy)

    @cached_property
    def pressure(self) -> np.ndarray:
        """Largest pressures [psf]; infinite where a footing turns over."""
        pressed = self.N > 0
        N = np.where(pressed, self.N, 1.0)
        kappa = factors((self.M_fy / N / self.L).ravel(), (self.M_fx / N / self.B).ravel()).reshape(N.shape)
        return np.where(pressed, kappa * N / (self.L * self.B), np.inf)

"""What site and code say about the wind on every part of a rack alike."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.trace import Value

from .force import P_MIN, Force, design_force
from .pressure import Z_LOW, edition_of, exposure_factor, topography, velocity_pressure
from .solid import SolidSign, solid_sign


@dataclass(frozen=True)
class Conditions:
    """What is the same for every part: edition, exposure, speed, and the factors that do not change with height.

    ``p_min`` is the minimum pressure of the design wind force, None for wind on ice.
    """

    edition: Value
    exposure: Value
    V: Value
    K_e: Value
    K_d: Value
    K_d_sign: Value
    G: Value
    constants: dict[str, Value]
    topography: Any = None
    p_min: Value | None = P_MIN

    def K_zt(self, z: Value) -> Value | None:
        """Return the topographic factor at height z; None where the job names no feature."""
        t = self.topography
        if t is None:
            return None
        return topography(t.feature, self.exposure, t.height, t.half_length, t.distance, t.side, z).K_zt

    def q(self, z: Value, K_d: Value) -> Value:
        """Return the velocity pressure at height z; K_d enters in 7-16 only."""
        inside = K_d if edition_of(self.edition) == "7-16" else None
        K_z = exposure_factor(z=z, z_15=Z_LOW, **self.constants)
        return velocity_pressure(self.edition, self.V, K_z, self.K_zt(z), self.K_e, inside)

    def force(self, q: Value, C_f: Value, A_f: Value, K_d: Value) -> Force:
        """Return the design force on an area."""
        return design_force(self.edition, q, C_f, A_f, self.outside(K_d), self.G, self.p_min)

    def sign(self, B: Value, s: Value, h: Value, q: Value, epsilon: Value) -> SolidSign:
        """Return the force on a solid sign."""
        return solid_sign(self.edition, B, s, h, q, self.outside(self.K_d_sign), epsilon, self.G, self.p_min)

    def outside(self, K_d: Value) -> Value | None:
        """Return K_d where it stands in the force (7-22), else None."""
        return K_d if edition_of(self.edition) == "7-22" else None

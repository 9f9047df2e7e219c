"""A rack seen from one side: every part as a rectangle on paper, feet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.geometry import Parts
from rackbook.loads.members import post_lines, post_rows
from rackbook.loads.weights import Weights


@dataclass(frozen=True)
class Side:
    """The rack seen from one side: every box as a rectangle on paper, feet."""

    job: Any
    face: str
    parts: Parts
    weights: Weights

    @property
    def length(self) -> float:
        """Length of the rack."""
        return self.parts.length.m_as("ft")

    @property
    def top(self) -> float:
        """Height of the highest part."""
        return float(self.parts.boxes[:, 2, 1].max())

    @property
    def span(self) -> tuple[float, float]:
        """What is drawn, from left to right: parts and piers."""
        boxes = [self.rectangle(box)[:2] for box in self.parts.boxes]
        pier = self.job.piers.diameter.m_as("ft") / 2
        piers = [u + s for u in self.lines for s in (-pier, pier)]
        return min([u for u, _ in boxes] + piers), max([u + w for u, w in boxes] + piers)

    @property
    def lines(self) -> list[float]:
        """Center lines of the posts."""
        if self.face == "end":
            return sorted({y.m_as("ft") for _, y in post_rows(self.job)})
        return sorted(self.across(x.m_as("ft")) for x in post_lines(self.job))

    @property
    def center(self) -> tuple[float, float]:
        """Place of the center of gravity on paper."""
        w = self.weights
        return w.y_bar.m_as("ft") if self.face == "end" else self.across(w.x_bar.m_as("ft")), w.z_bar.m_as("ft")

    def across(self, x: float) -> float:
        """Return the place on paper of a place along the rack; from the back, left and right change places."""
        return self.length - x if self.face == "back" else x

    def rectangle(self, box: np.ndarray) -> tuple[float, float, float, float]:
        """Return left, width, bottom and height of a box."""
        (x0, x1), (y0, y1), (z0, z1) = box
        u0, u1 = (y0, y1) if self.face == "end" else sorted((self.across(x0), self.across(x1)))
        return u0, u1 - u0, z0, z1 - z0

    def nearness(self, box: np.ndarray) -> float:
        """Return how near to the eye a box comes."""
        return {"front": box[1, 1], "back": -box[1, 0], "end": -box[0, 0]}[self.face]

    def shown(self, place: int) -> bool:
        """Say whether a part is drawn: equipment of the other side is not, but for the end."""
        if self.face == "end" or self.parts.kinds[place] != "equipment":
            return True
        return (self.parts.y.magnitude[place] > 0) == (self.face == "front")

    def rails(self) -> list[Any]:
        """Return the rails of this side."""
        return [r for r in self.job.frame.rails if self.face == "end" or r.face in (self.face, "center")]

    @property
    def top_of_steel(self) -> float:
        """Height of the highest part but the canopy."""
        return float(self.parts.boxes[~self.parts.of_kind("canopy")][:, 2, 1].max())

    @property
    def levels(self) -> dict[float, str]:
        """Words for every rail height, with the marks of its rails."""
        found: dict[float, list[int]] = {}
        texts: dict[float, str] = {}
        for n, rail in enumerate(self.job.frame.rails, 1):
            if rail in self.rails():
                z = rail.height.m_as("ft")
                found.setdefault(z, []).append(n)
                texts[z] = rail.height.text()
        return {z: f"rail{'s' * (len(n) > 1)} {', '.join(map(str, n))}: {texts[z]}" for z, n in found.items()}

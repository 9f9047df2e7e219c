"""What the details of post, plate, anchors and pier all show, in inches."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from rackbook.structure.anchorage.details import Set, setting
from rackbook.structure.anchorage.plan import PATTERNS
from rackbook.tables import table

from .board import inches
from .sections import Ring, figure

#: Heavy hex nut across its flats [in], for the eye only: 1.5 d + 1/8 in. and d high (ASME B18.2.6).
ACROSS, MORE = 1.5, 0.125
#: Depth within which the ties around the anchors stand [in].
TOP = 5.0


def rods(anchors: Any) -> list[tuple[float, float]]:
    """Return x and y of every anchor from the middle of the plate [in], in the order of the calculation's marks."""
    x, y = anchors.spacing_x.m_as("in") / 2, anchors.spacing_y.m_as("in") / 2
    return [(i * x, j * y) for i, j in PATTERNS[int(anchors.count)]]


@dataclass(frozen=True)
class Foot:
    """Post, plate, anchors and pier of a job, inches."""

    job: Any

    @cached_property
    def plate(self) -> tuple[float, float, float]:
        """Length along the rack, width across, thickness."""
        plate = self.job.frame.base_plate
        return plate.length.m_as("in"), plate.width.m_as("in"), plate.thickness.m_as("in")

    @cached_property
    def pier(self) -> float:
        """Diameter, or side of a square pier."""
        return self.job.piers.diameter.m_as("in")

    @property
    def round(self) -> bool:
        """Whether the pier is round."""
        return self.job.piers.shape != "square"

    @property
    def post(self) -> tuple[Ring, ...]:
        """The post's section, its depth across the rack."""
        return figure(str(self.job.frame.post))

    @cached_property
    def rods(self) -> list[tuple[float, float]]:
        """Places of the anchors; none where the job gives none."""
        return rods(self.job.anchors) if self.job.anchors else []

    @property
    def plate_words(self) -> str:
        """The plate in words."""
        plate = self.job.frame.base_plate
        return f"base plate\n{' x '.join(inches(v) for v in (plate.length, plate.width, plate.thickness))}"

    @property
    def rod_words(self) -> str:
        """The anchors in words."""
        a = self.job.anchors
        return f"{a.count} headed anchor rods\n{inches(a.diameter)} {a.grade}" if a else "anchors not given in the job"

    @cached_property
    def set(self) -> Set | None:
        """How the rods are set: holes, washers, projection, length; None without anchors or plate."""
        return setting(self.job) if self.job.anchors and self.job.frame.base_plate else None

    @cached_property
    def ties(self) -> list[float]:
        """Depths of the ties below the top of the pier [in], those around the anchors first; none where none are given."""
        piers = self.job.piers
        if piers.ties is None:
            return []
        d_t, step = bar_diameter(str(piers.ties.size)), piers.ties.spacing.m_as("in")
        first, top = piers.cover.m_as("in") + d_t / 2, piers.ties.top or 1
        last = max(first, TOP - d_t / 2) if top > 1 else first
        depths = [first + (last - first) * n / (top - 1) for n in range(top)] if top > 1 else [first]
        footing = piers.footing
        under = footing.depth.m_as("in") - footing.thickness.m_as("in") if footing else piers.embedment.m_as("in")
        end = under + piers.projection.m_as("in") - (0.0 if footing else piers.cover.m_as("in"))
        more = int((end - depths[-1]) / step + 1e-9)
        return [*depths, *(depths[-1] + step * n for n in range(1, more + 1))]

    @property
    def tie_words(self) -> list[str]:
        """The ties in words: spacing, and those at the top where the job says how many."""
        ties = self.job.piers.ties
        if ties is None:
            return ["ties not given in the job"]
        top = [f"{ties.top} of them within 5 in. of the top"] if ties.top else []
        return [f"ties {ties.size} at {inches(ties.spacing)}", *top]

    @property
    def pier_words(self) -> str:
        """The pier in words."""
        piers = self.job.piers
        strength = f"\nconcrete {piers.concrete.text()}" if piers.concrete else "\nconcrete strength not given"
        return f"{'round' if self.round else 'square'} pier {piers.diameter.text()}{strength}"

    @property
    def cage(self) -> tuple[float, float, float] | None:
        """Radius (or half side) of the ties' center line and of the bars' circle, and the bars' diameter."""
        piers = self.job.piers
        if piers.bars is None:
            return None
        bar = bar_diameter(str(piers.bars.size))
        tie = bar_diameter(str(piers.ties.size)) if piers.ties else 0.0
        outer = self.pier / 2 - piers.cover.m_as("in")
        return outer - tie / 2, outer - tie - bar / 2, bar


def bar_places(count: int, ring: float, circular: bool) -> list[tuple[float, float]]:
    """Return the places of a pier's bars: evenly on a circle from +x, or evenly along the sides of a square, corners first."""
    if circular:
        return [(ring * math.cos(2 * math.pi * n / count), ring * math.sin(2 * math.pi * n / count)) for n in range(count)]
    found = []
    for n in range(count):
        along = 8 * ring * n / count  # the way round from the lower left corner
        side, rest = divmod(along, 2 * ring)
        p = rest - ring
        found.append([(p, -ring), (ring, p), (-p, ring), (-ring, -p)][int(side) % 4])
    return found


def bar_diameter(size: str) -> float:
    """Return the nominal diameter of a bar [in]."""
    return table("rebar").cell(size, "d_b").m_as("in")

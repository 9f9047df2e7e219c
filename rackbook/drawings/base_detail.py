"""The foot of a post: plan of base plate and anchors, and the section through them, to scale."""

from __future__ import annotations

import itertools
import math

from rackbook.job import Job

from .base_cut import SECTION, Section
from .board import INK, PALE, SMALL, WIDTH, Board, drawing, head, inches, nothing, shop, trade_scale
from .foot import ACROSS, MORE, Foot, bar_places
from .paper import Paper

PLAN = "Base plate and anchors, plan"
#: How cut steel is filled.
CUT = {"fc": INK, "lw": 0.3}
NO_PLATE = "The job gives no base plate (frame.base_plate), so there is no foot to draw."
#: Where the number of a rod may stand: inwards from it, else on its other sides.
_ASIDE = ((1, 1), (1, -1), (-1, 1), (-1, -1))


def base_plan(job: Job) -> str:
    """Return the plan of base plate, anchors, post and pier as SVG text."""
    return _Plan(job).svg() if job.frame.base_plate else nothing(PLAN, NO_PLATE)


def base_section(job: Job) -> str:
    """Return the section through plate, grout, anchors and pier as SVG text, seen from the front."""
    return Section(job).svg() if job.frame.base_plate else nothing(SECTION, NO_PLATE)


class _Plan(Foot):
    @property
    def _rods(self) -> list[tuple[float, float]]:
        """Places of the anchors on paper: the front is below."""
        return [(x, -y) for x, y in self.rods]

    def svg(self) -> str:
        notes = ["Seen from above, the post cut; the front of the rack is at the foot of the drawing. Small numbers: rods."]
        left, right, below = 0.95, 1.85, 1.05
        shown = min(self.pier, 3 * max(self.plate[:2]))
        scale = trade_scale((WIDTH - left - right) / shown * 12)
        high = shown * scale.inches / 12

        def draw(board: Board) -> None:
            spare = WIDTH - left - right - high
            paper = Paper(board, left + spare / 2, below, scale.inches / 12, (-shown / 2, -shown / 2))
            board.title(PLAN, notes)
            self._concrete(paper, shown)
            self._steel(paper)
            self._dimensions(paper, shown)
            self._callouts(paper, shown)
            paper.scale_bar(scale, left + spare / 2, 0.08, 12.0)

        return drawing(high + below + 0.1 + head(notes), draw)

    def _concrete(self, paper: Paper, shown: float) -> None:
        half = shown / 2
        if shown < self.pier:
            paper.box(-half, -half, shown, shown, fc=PALE, lw=0.0, zorder=0)
            for s in (-half, half):
                paper.broken(s, -half, half)
                paper.broken_off(-half, half, s)
            return
        if self.round:
            paper.circle(0, 0, half, fc=PALE, lw=1.0, gid="pier", zorder=0)
        else:
            paper.box(-half, -half, 2 * half, 2 * half, fc=PALE, lw=1.0, gid="pier", zorder=0)
        if self.cage:
            tie, ring, bar = self.cage
            how = {"fc": "none", "ls": (0, (3, 2)), "lw": 0.5, "zorder": 1}
            if self.job.piers.ties is None:
                pass
            elif self.round:
                paper.circle(0, 0, tie, **how)
            else:
                paper.box(-tie, -tie, 2 * tie, 2 * tie, **how)
            for u, z in bar_places(self.job.piers.bars.count, ring, self.round):
                paper.circle(u, z, bar / 2, fc="0.6", lw=0.4, zorder=1)

    def _steel(self, paper: Paper) -> None:
        N, B, _ = self.plate
        paper.box(-N / 2, -B / 2, N, B, lw=1.0, gid="plate")
        paper.shape(*self.post, **CUT, gid="post")
        for n, (u, z) in enumerate(self._rods, 1):
            d = self.job.anchors.diameter.m_as("in")
            nut = (ACROSS * d + MORE) / math.sqrt(3)
            paper.shape(
                [(u + nut * math.cos(k * math.pi / 3), z + nut * math.sin(k * math.pi / 3)) for k in range(6)], zorder=3
            )
            paper.circle(u, z, d / 2, fc="0.6", gid=f"rod {n}", zorder=3)
            for s, t in ((1, 0), (0, 1)):
                r = nut + paper.real(0.04)
                paper.line([u - s * r, u + s * r], [z - t * r, z + t * r], lw=0.3, ls=(0, (6, 2, 1, 2)))
            away = paper.real(0.06) + nut * 0.8
            inward = [
                (-math.copysign(1, u) * (abs(u) > 1e-9) * s, -math.copysign(1, z) * (abs(z) > 1e-9) * t) for s, t in _ASIDE
            ]
            spots = [(u + away * (s or 1), z + away * (t or 1), 0.0, 0.0) for s, t in inward]
            paper.place(str(n), spots, size=SMALL)

    def _dimensions(self, paper: Paper, shown: float) -> None:
        N, B, _ = self.plate
        job, half = self.job, shown / 2
        plate, piers = job.frame.base_plate, job.piers
        outer = max(half, N / 2, B / 2)
        for along, size, value in ((True, N, plate.length), (False, B, plate.width)):
            marks = sorted({round(p[0 if along else 1], 6) for p in self._rods})
            words = [shop(b - a) for a, b in itertools.pairwise(marks)]
            for mark in (-size / 2, *marks, size / 2):  # from the plate to the dimensions beside the pier
                here, far = [mark, mark], [-outer, -(B if along else N) / 2]
                paper.line(*((here, far) if along else (far, here)), lw=0.25, zorder=4)
            rows = [(marks, words)] if len(marks) > 1 else []
            rows.append(([-size / 2, size / 2], [inches(value)]))
            if shown == self.pier:
                rows.append(([-half, half], [piers.diameter.text()]))
            for n, (places, said) in enumerate(rows):
                if along:
                    paper.chain(places, said, -outer, 0.2 + 0.2 * n)
                else:
                    paper.uprights(places, said, -outer, -0.2 - 0.22 * n)
        far_rod = max(self._rods, key=lambda p: p[0] - p[1], default=None)
        if far_rod and shown == self.pier:
            u, z = far_rod
            long = math.hypot(u, z)
            to = (u / long * half, z / long * half) if self.round else (half, z)
            paper.arrow(far_rod, to)
            edge = math.dist(far_rod, to)
            middle = ((u + to[0]) / 2, (z + to[1]) / 2)
            spots = [(*middle, r, v) for r, v in ((-0.12, -0.16), (0.3, 0.0), (0.32, 0.08), (0.1, 0.12), (0, 0.2))]
            paper.place(f"{edge:#.4g} in.", spots, behind=True)

    def _callouts(self, paper: Paper, shown: float) -> None:
        N, B, _ = self.plate
        at = shown / 2 + paper.real(0.25)
        items = [
            (N / 2, -B / 8, f"{self.plate_words}{self._edges()}"),
            (0.0, self._top(), f"post {self.job.frame.post}"),
        ]
        upper = max(self._rods, key=sum, default=None)
        items.append((*(upper or (N / 2 - 1, B / 2 - 1)), self.rod_words))
        if shown == self.pier:
            low = -shown / 2 * 0.97 if not self.round else -shown / 2 * math.sin(math.radians(60))
            items.append((shown / 2 * (0.5 if self.round else 0.9), low, self.pier_words))
            if self.cage:
                bars = self.job.piers.bars
                places = bar_places(bars.count, self.cage[1], self.round)
                u, z = max(places, key=lambda p: p[0] + 1.2 * p[1])
                items.append((u, z, f"{bars.count} vertical bars {bars.size}"))
                tie = self.cage[0]
                at_tie = (tie * math.cos(0.2), -tie * math.sin(0.2)) if self.round else (tie, -tie * 0.3)
                items.append((*at_tie, "\n".join(self.tie_words)))
        else:
            items.append((shown * 0.48, -shown * 0.4, f"{self.pier_words},\nits edge is not shown"))
        paper.callouts(at, items)

    def _edges(self) -> str:
        """Return hole and edge distances of the rods in the plate, in words."""
        if not self._rods:
            return ""
        far = {shop(size / 2 - max(p[k] for p in self._rods)) for k, size in enumerate(self.plate[:2])}
        hole = f"\nholes {inches(self.set.hole)}" if self.set and self.set.hole else ""
        return f"{hole}\nrods {' and '.join(sorted(far))} from its edges"

    def _top(self) -> float:
        return max(z for _, z in self.post[0]) * 0.98

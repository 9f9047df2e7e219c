"""Elevation and section of a pier, and where all piers stand, to scale."""

from __future__ import annotations

import itertools
from typing import Any

from rackbook.job import Job
from rackbook.loads.members import grout, post_lines, post_rows
from rackbook.structure.piers.bars import BAR

from .base_cut import CONCRETE
from .board import (
    GREY,
    INK,
    NOTE,
    PALE,
    SMALL,
    TALLEST,
    WIDTH,
    Board,
    Scale,
    drawing,
    head,
    inches,
    measured,
    trade_scale,
    written,
)
from .foot import Foot, bar_places
from .paper import Paper

DETAIL, LAYOUT = "Pier elevation and section", "Piers, plan"
#: Columns of the detail, inches of paper: the pier's left edge, its widest, the widest section.
LEFT, WIDEST, ACROSS = 0.7, 1.6, 2.0
#: Length of post shown above the pier [ft] and the most the pier may stand high on paper [in].
STUB, HIGHEST = 0.8, 4.2


def pier_detail(job: Job) -> str:
    """Return a pier as SVG text: elevation with its dimensions, frost line and soil, and section with its bars."""
    return _Detail(job).svg()


def pier_plan(job: Job) -> str:
    """Return the plan of all piers as SVG text: marks, distances and coordinates from the first one."""
    return _Plan(job).svg()


class _Detail(Foot):
    """One pier, feet."""

    def svg(self) -> str:
        piers = self.job.piers
        wide, deep, top = self.pier / 12, self.deep, piers.projection.m_as("ft")
        widest = max(wide, piers.footing.length.m_as("ft") if piers.footing else 0.0)
        scale = trade_scale(min(WIDEST / widest, HIGHEST / (deep + top + STUB)))
        cut = trade_scale(ACROSS / wide)
        notes = [f"All piers alike. {self.soil}"]
        below = 0.75
        tall = (deep + top + STUB) * scale.inches
        small = wide * cut.inches
        height = below + max(tall, small + 1.2) + 0.1 + head(notes)

        def draw(board: Board) -> None:
            grade = height - head(notes) - 0.1 - tall + deep * scale.inches
            paper = Paper(board, LEFT + widest * scale.inches / 2, grade, scale.inches)
            board.title(DETAIL, notes)
            self._upright(paper, widest / 2)
            self._words(paper, widest / 2)
            paper.scale_bar(scale, LEFT, 0.08, 1.0)
            y = height - head(notes) - 0.35 - small / 2
            self._across(Paper(board, WIDTH - 0.25 - ACROSS / 2, y, cut.inches), cut)

        return drawing(height, draw)

    @property
    def deep(self) -> float:
        """Depth of the underside below grade."""
        piers = self.job.piers
        return (piers.footing.depth if piers.footing else piers.embedment).m_as("ft")

    @property
    def soil(self) -> str:
        """The soil in words."""
        soil = self.job.site.soil
        if soil is None:
            return "The job gives no soil."
        of = f"class {soil.class_} of IBC Table 1806.2" if soil.class_ else f"by {written(soil.report.title)}"
        water = f"; ground water {soil.water.text()} below grade or deeper" if soil.water else ""
        return f"Soil {of}{water}."

    def _upright(self, paper: Paper, reach: float) -> None:
        job, half, deep = self.job, self.pier / 24, self.deep
        top = job.piers.projection.m_as("ft")
        side = reach + paper.real(0.3)
        paper.ground(-side, side)
        footing = job.piers.footing
        foot = footing.thickness.m_as("ft") if footing else 0.0
        if footing:
            half_foot = footing.length.m_as("ft") / 2
            paper.box(-half_foot, -deep, 2 * half_foot, foot, **CONCRETE, zorder=2)
            paper.box(-half_foot, -deep, 2 * half_foot, foot, fc="none", lw=1.0, zorder=3, gid="footing")
        paper.box(-half, -deep + foot, 2 * half, deep - foot + top, **CONCRETE, zorder=2)
        paper.box(-half, -deep + foot, 2 * half, deep - foot + top, fc="none", lw=1.0, zorder=3, gid="pier")
        self._steel(paper, top, foot)
        soil = job.site.soil
        if soil is not None and soil.frost.magnitude:
            z = -soil.frost.m_as("ft")
            paper.line([-side, side], [z, z], ls=(0, (8, 2, 2, 2)), lw=0.8, zorder=1)
        if soil is not None and soil.discount.magnitude:
            z = soil.discount.m_as("ft")
            for a, b in ((-side, -half), (half, side)):
                paper.box(a, -z, b - a, z, fc="none", hatch="xx", ec="0.75", lw=0.0, zorder=0)
        if soil is not None and soil.constrained:
            for a, b in ((-side, -half), (half, side)):
                paper.box(a, 0.0, b - a, paper.real(0.05), fc="0.6", lw=0.4)

    def _steel(self, paper: Paper, top: float, foot: float) -> None:
        job, deep = self.job, self.deep
        bed, plate = grout(job).m_as("ft"), job.frame.base_plate
        z, us = top, [u / 12 for u, _ in self.post[0]]
        if plate:
            long, thick = plate.length.m_as("ft"), plate.thickness.m_as("ft")
            paper.box(-long / 2, top, long, bed, fc="0.8", lw=0.3)
            paper.box(-long / 2, top + bed, long, thick, fc=INK)
            z = top + bed + thick
        paper.box(min(us), z, max(us) - min(us), STUB - (z - top), fc="0.72", gid="post")
        if job.anchors:
            for u in sorted({round(u, 6) for u, _ in self.rods}):
                paper.line([u / 12] * 2, [top - job.anchors.embedment.m_as("ft"), z], lw=0.8, ls=(0, (3, 1.5)), zorder=4)
        if self.cage is None:
            return
        tie, ring, _ = (c / 12 for c in self.cage)
        cover = job.piers.cover.m_as("ft")
        low, high = -deep + (min(foot, cover) if foot else cover), top - cover
        for u in sorted({round(abs(u), 3) * s for u, _ in bar_places(job.piers.bars.count, ring, self.round) for s in (1, -1)}):
            paper.line([u, u], [low, high], lw=0.9, zorder=4, color="0.25")
        if job.piers.ties:
            gap = float("nan")
            heights = [z for depth in self.ties for z in (top - depth / 12, top - depth / 12, gap)]
            paper.line([-tie, tie, gap] * len(self.ties), heights, lw=0.5, zorder=4, color="0.25")

    def _words(self, paper: Paper, reach: float) -> None:
        job, half, deep = self.job, self.pier / 24, self.deep
        piers, soil = job.piers, job.site.soil
        top = piers.projection.m_as("ft")
        marks = [-deep, 0.0, *([top] if top else [])]
        under = piers.footing.depth.text() if piers.footing else piers.embedment.text()
        paper.uprights(marks, [under, *([inches(piers.projection)] if top else [])], -reach, -0.4)
        paper.chain([-half, half], [piers.diameter.text()], -deep, 0.16)
        if piers.footing:
            paper.chain([-reach, reach], [piers.footing.length.text()], -deep, 0.36)
        items = [(half, top, "top of concrete")] if top else []
        if job.anchors:
            words = f"anchor rods\n{inches(job.anchors.embedment)} into the concrete"
            items.append((job.anchors.spacing_x.m_as("ft") / 2, top - job.anchors.embedment.m_as("ft") * 0.8, words))
        if soil is not None and soil.frost.magnitude:
            items.append((reach + paper.real(0.15), -soil.frost.m_as("ft"), f"frost line\n{soil.frost.text()} below grade"))
        if soil is not None and soil.discount.magnitude:
            at = -soil.discount.m_as("ft") / 2
            items.append((reach + paper.real(0.15), at, f"not counted: top {soil.discount.text()}"))
        if soil is not None and soil.constrained:
            items.append((reach + paper.real(0.15), 0.0, "floor or pavement at grade"))
        strength = piers.concrete.text() if piers.concrete else "strength not given"
        items.append((half * 0.95, -deep * 0.72, f"concrete {strength}"))
        if piers.footing:
            f = piers.footing
            words = f"footing {f.length.text()} x\n{f.width.text()} x {f.thickness.text()}"
            items.append((reach * 0.9, -deep + f.thickness.m_as("ft") / 2, words))
        paper.callouts(reach + paper.real(0.5), items, size=NOTE)
        z = -deep * 0.62
        paper.line([-half - paper.real(0.16), half + paper.real(0.16)], [z, z], lw=0.6, ls=(0, (8, 2, 2, 2)), zorder=5)
        for s in (-1, 1):
            u = s * (half + paper.real(0.1))
            paper.arrow((u, z), (u, z + paper.real(0.14)), "-|>")
            paper.text(u, z, "A", up=-0.07, size=SMALL)

    def _across(self, paper: Paper, scale: Scale) -> None:
        piers, half = self.job.piers, self.pier / 24
        if self.round:
            paper.circle(0, 0, half, **CONCRETE)
            paper.circle(0, 0, half, fc="none", lw=1.0, gid="section")
        else:
            paper.box(-half, -half, 2 * half, 2 * half, **CONCRETE)
            paper.box(-half, -half, 2 * half, 2 * half, fc="none", lw=1.0, gid="section")
        paper.text(0, half, f"Section A-A, scale {scale.words}", up=0.12, weight="bold")
        if self.cage is None:
            lines = ["bars and ties not given in the job"]
        else:
            tie, ring, bar = (c / 12 for c in self.cage)
            if piers.ties:
                how: dict[str, Any] = {"fc": "none", "lw": 1.1, "ec": "0.25"}
                if self.round:
                    paper.circle(0, 0, tie, **how)
                else:
                    paper.box(-tie, -tie, 2 * tie, 2 * tie, **how)
            for n, (u, z) in enumerate(bar_places(piers.bars.count, ring, self.round), 1):
                paper.circle(u, z, bar / 2, fc=INK, lw=0.3, gid=f"bar {n}", zorder=4)
            lines = [f"{piers.bars.count} vertical bars {piers.bars.size}, {BAR}", *self.tie_words]
            if piers.ties:
                lines += ["closed ties, seismic hooks of 135 degrees", f"cover {inches(piers.cover)} to the ties"]
            else:
                lines.append(f"cover {inches(piers.cover)} to the bars")
        paper.chain([-half, half], [piers.diameter.text()], -half, 0.16)
        for n, line in enumerate(lines):
            paper.text(0, -half, line, up=-0.38 - 0.13 * n)


class _Plan(Foot):
    """All piers from above, feet."""

    def svg(self) -> str:
        half, reach = self.pier / 24, max(self.pier, (self.footing or 0.0) * 12) / 24
        xs = [x.m_as("ft") for x in post_lines(self.job)]
        rows = sorted((y.m_as("ft"), word) for word, y in post_rows(self.job))
        notes = [
            "Seen from above; the front of the rack is at the foot of the drawing. Coordinates of pier centers from post 1"
            + (" in the plane between the rows" if len(rows) > 1 else "")
            + f"; {self.each}"
        ]
        left, right, below, above = 0.75, 0.3 if len(rows) == 1 else 0.75, 0.95, 0.2
        deep = rows[-1][0] - rows[0][0] + 2 * reach
        room = TALLEST - below - above - head(notes)
        scale = trade_scale(min((WIDTH - left - right) / (xs[-1] + 2 * reach), room / deep))

        def draw(board: Board) -> None:
            spare = WIDTH - left - right - (xs[-1] + 2 * reach) * scale.inches
            # the front is below: y runs down the paper
            paper = Paper(board, left + spare / 2, below, scale.inches, (-reach, -rows[-1][0] - reach))
            board.title(LAYOUT, notes)
            for (n, x), (y, word) in itertools.product(enumerate(xs, 1), rows):
                self._pier(paper, x, -y, half, f"{n} {word}".strip())
            self._dimensions(paper, xs, rows, reach)
            paper.scale_bar(scale, left + spare / 2, 0.08, 1.0)

        return drawing(deep * scale.inches + below + above + head(notes), draw)

    @property
    def footing(self) -> float | None:
        """Length of the footing."""
        return self.job.piers.footing.length.m_as("ft") if self.job.piers.footing else None

    @property
    def each(self) -> str:
        """What is true of every pier."""
        piers = self.job.piers
        foot = f"underside {piers.footing.depth.text()}" if piers.footing else f"underside {piers.embedment.text()}"
        return f"top of each {inches(piers.projection)} above grade, {foot} below."

    def _pier(self, paper: Paper, u: float, z: float, half: float, mark: str) -> None:
        footing, plate = self.job.piers.footing, self.job.frame.base_plate
        if footing:
            long, wide = footing.length.m_as("ft"), footing.width.m_as("ft")
            paper.box(u - long / 2, z - wide / 2, long, wide, fc="none", ls=(0, (4, 2)), lw=0.5, zorder=1)
        if self.round:
            paper.circle(u, z, half, fc=PALE, lw=0.9, gid=f"pier {mark}")
        else:
            paper.box(u - half, z - half, 2 * half, 2 * half, fc=PALE, lw=0.9, gid=f"pier {mark}")
        if plate:
            long, wide = plate.length.m_as("ft"), plate.width.m_as("ft")
            paper.box(u - long / 2, z - wide / 2, long, wide, lw=0.5)
        r = half + paper.real(0.06)
        for s, t in ((1, 0), (0, 1)):
            paper.line([u - s * r, u + s * r], [z - t * r, z + t * r], lw=0.3, ls=(0, (8, 2, 2, 2)), color=GREY)
        number = mark.split(" ")[0]
        over = (u, z + half, 0, 0.07)
        for words, size in ((f"post {mark}", NOTE), (f"post {number}", SMALL), (number, SMALL)):
            if paper.place(words, [over], size=size):
                break

    def _dimensions(self, paper: Paper, xs: list[float], rows: list[tuple[float, str]], reach: float) -> None:
        low = -rows[-1][0] - reach
        bays = [bay.text() for bay in self.job.frame.bays]
        narrow = min(b - a for a, b in itertools.pairwise(xs)) * paper.scale
        if len(set(bays)) == 1 and len(bays) > 1 and measured(bays[0])[0] + 0.1 > narrow:
            paper.chain([xs[0], xs[-1]], [f"{len(bays)} bays of {bays[0]}"], low, 0.2)
        else:
            paper.chain(xs, bays, low, 0.2)
        paper.text(xs[0], low, "x =", up=-0.42, right=-0.25, ha="right", size=NOTE)
        for x in xs:
            words = f"{x:.6g} ft"
            upright = measured(words, NOTE)[0] + 0.05 > narrow
            spot = (x, low, 0, -0.42 - (0.12 if upright else 0))
            paper.place(words, [spot], size=NOTE, turned=upright)
        if len(rows) > 1:
            places = [-y for y, _ in reversed(rows)]
            paper.uprights(places, [self.job.frame.depth.text()], -reach, -0.35)
            for y, word in rows:
                paper.text(xs[-1] + reach, -y, f"y = {y:+.4g} ft", up=0.06, right=0.12, ha="left", size=NOTE)
                paper.text(xs[-1] + reach, -y, word, up=-0.06, right=0.12, ha="left", size=NOTE)

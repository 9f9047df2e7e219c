"""The section through a base: plate, grout, anchors, bars and ties of the pier, to scale."""

from __future__ import annotations

import itertools

from .board import INK, NOTE, PALE, SMALL, WIDTH, Board, drawing, head, inches, measured, shop, trade_scale
from .foot import ACROSS, MORE, Foot, bar_places
from .paper import Paper

SECTION = "Base plate and anchors, section through a post"
#: Tone of grout, and how concrete is filled.
GROUT, CONCRETE = "0.78", {"fc": PALE, "hatch": "..", "ec": "0.6", "lw": 0.0}
#: Thickness of a washer that the tables do not list [in], for the eye only.
WASHER = 0.15
#: Length of post shown above its plate and of concrete beside the plate [in], and how far a rod stands out of its nut [d].
STUB, BESIDE, OUT = 9.0, 5.0, 0.5


class Section(Foot):
    """The section of a job's base."""

    def svg(self) -> str:
        """Return the section as SVG text."""
        job, (N, _, t) = self.job, self.plate
        grout = job.anchors.grout.m_as("in") if job.anchors else 0.0
        deep = self._depth() + 3.0
        half = self.pier / 2 if self.pier <= 3 * N else N / 2 + BESIDE
        notes = [
            f"Seen from the front, cut through the rods of the front row; the post stands behind. {self._cut(half)}".strip()
        ]
        left, right, below = 1.05, 2.3, 0.45
        tall = deep + grout + t + STUB
        scale = trade_scale(12 * min((WIDTH - left - right) / (2 * half), 5.2 / tall))

        def draw(board: Board) -> None:
            spare = WIDTH - left - right - 2 * half * scale.inches / 12
            paper = Paper(board, left + spare / 2, below, scale.inches / 12, (-half, -deep))
            board.title(SECTION, notes)
            self._concrete(paper, half, deep)
            self._cage(paper, half, deep)
            self._foot(paper, grout)
            self._callouts(paper, half, grout, deep)
            paper.scale_bar(scale, left + spare / 2, 0.08, 12.0)

        return drawing(tall * scale.inches / 12 + below + 0.15 + head(notes), draw)

    def _cut(self, half: float) -> str:
        return "The pier is cut off on both sides. " if half < self.pier / 2 else ""

    def _depth(self) -> float:
        return self.job.anchors.embedment.m_as("in") if self.job.anchors else 8.0

    def _concrete(self, paper: Paper, half: float, deep: float) -> None:
        paper.box(-half, -deep, 2 * half, deep, **CONCRETE, zorder=0)
        paper.line([-half, half], [0, 0], lw=1.0, zorder=1)
        for u in (-half, half):
            if half < self.pier / 2:
                paper.broken(u, -deep, 0)
            else:
                paper.line([u, u], [-deep, 0], lw=1.0, zorder=1)
        paper.broken_off(-half, half, -deep)
        grade = -self.job.piers.projection.m_as("in")
        if -deep < grade and half == self.pier / 2:
            for a, b in ((-half - paper.real(0.35), -half), (half, half + paper.real(0.2))):
                paper.ground(a, b, grade)

    def _cage(self, paper: Paper, half: float, deep: float) -> None:
        """Draw vertical bars behind the section and ties."""
        if self.cage is None:
            return
        tie, ring, bar = self.cage
        cover = self.job.piers.cover.m_as("in")
        for u in sorted({round(u, 3) for u, _ in bar_places(self.job.piers.bars.count, ring, self.round)}):
            if abs(u) < half:
                paper.box(u - bar / 2, -deep, bar, deep - cover, fc="0.75", lw=0.25, zorder=1)
        reach = min(tie, half)
        for z in self.ties:
            if z < deep:
                paper.line([-reach, reach], [-z, -z], lw=0.8, zorder=1, color="0.25")

    def _foot(self, paper: Paper, grout: float) -> None:
        N, _, t = self.plate
        if grout:
            paper.box(-N / 2, 0, N, grout, fc=GROUT, hatch="....", lw=0.5, gid="grout")
        for n, u in enumerate(sorted({round(u, 6) for u, _ in self.rods}), 1):
            self._rod(paper, u, grout + t, n)
        paper.box(-N / 2, grout, N, t, fc="0.6", hatch="////", lw=0.9, gid="plate", zorder=3)
        us = [u for u, _ in self.post[0]]
        top = grout + t + STUB
        paper.box(min(us), grout + t, max(us) - min(us), STUB, lw=0.4, zorder=3)
        jog = paper.real(0.05)
        span = max(us) - min(us)
        paper.line([min(us) + span * k / 4 for k in range(5)], [top + jog * s for s in (0, 1, 0, -1, 0)], lw=0.6)
        weld = self.job.connections.base_weld if self.job.connections else None
        if weld:
            leg = weld.m_as("in")
            for side, u in ((-1, min(us)), (1, max(us))):
                corner = [(u, grout + t), (u + side * leg, grout + t), (u, grout + t + leg)]
                paper.shape(corner if side > 0 else corner[::-1], fc=INK, lw=0.3, zorder=5)

    def _rod(self, paper: Paper, u: float, top: float, number: int) -> None:
        a = self.job.anchors
        d, deep = a.diameter.m_as("in"), a.embedment.m_as("in")
        flat = ACROSS * d + MORE
        washer, wide = (self.set.t_w.m_as("in"), self.set.washer) if self.set else (WASHER, None)
        width = wide.m_as("in") if wide else flat * 1.4
        low, high = -deep - 1.3 * d, self.set.l_p.m_as("in") if self.set else top + washer + (1 + OUT) * d
        bed = top - self.plate[2]
        if bed >= d:  # a nut below the plate levels it
            paper.box(u - flat / 2, bed - d, flat, d, fc="white", lw=0.5, zorder=3)
        paper.box(u - d / 2, low, d, high - low, zorder=2, gid=f"rod {number}")
        paper.box(u - width / 2, top, width, washer, fc="white", lw=0.5, zorder=4)
        paper.box(u - flat / 2, top + washer, flat, d, fc="white", lw=0.6, zorder=4)
        if a.washer:
            w, t = a.washer.width.m_as("in"), a.washer.thickness.m_as("in")
            paper.box(u - w / 2, -deep - t, w, t, fc="0.6", lw=0.6, zorder=3)
            paper.box(u - flat / 2, -deep - t - d, flat, d, fc="white", lw=0.6, zorder=3)
        else:
            paper.box(u - flat / 2, -deep - d, flat, d, fc="white", lw=0.6, zorder=3)

    def _callouts(self, paper: Paper, half: float, grout: float, deep: float) -> None:
        job, (N, _, t) = self.job, self.plate
        anchors, plate = job.anchors, job.frame.base_plate
        edge = -half - paper.real(0.02)
        marks = [0.0, *([grout] if grout else []), grout + t]
        words = [*([inches(anchors.grout)] if grout else []), inches(plate.thickness)]
        paper.uprights(marks, words, min(edge, -N / 2), -0.42)
        if anchors:
            paper.uprights([-anchors.embedment.m_as("in"), 0.0], [inches(anchors.embedment)], edge, -0.72)
            rows = sorted({round(u, 6) for u, _ in self.rods})
            paper.chain(rows, [shop(b - a) for a, b in itertools.pairwise(rows)], -anchors.embedment.m_as("in") * 0.62, 0.0)
        top = (job.piers.ties.top or 0) if job.piers.ties else 0
        if top and self.ties[top - 1] < deep:
            paper.uprights([-self.ties[top - 1], 0.0], [shop(self.ties[top - 1])], edge, -0.2)
        us, at = [u for u, _ in self.post[0]], half + paper.real(0.3)
        wall, right = grout + t, max(us)
        items = [
            (right, wall + STUB * 0.8, f"post {job.frame.post}"),
            (N / 2, grout + t / 2, self.plate_words),
            (half * 0.98, -deep * 0.8, self.pier_words),
            (half * 0.98, 0.0, f"top of concrete\n{inches(job.piers.projection)} above grade"),
        ]
        if grout:
            items.append((N / 2, grout / 2, self._grout_words()))
        if anchors:
            u = anchors.spacing_x.m_as("in") / 2
            d = anchors.diameter.m_as("in")
            items.append((u + d / 2, wall + d, self._nut_words()))
            items.append((u + d / 2, -anchors.embedment.m_as("in") * 0.45, f"{self.rod_words}{self._long()}"))
            washer = anchors.washer
            foot = f"plate washer {inches(washer.width)} square,\n{inches(washer.thickness)} thick, and nut" if washer else ""
            items.append((u + d, -anchors.embedment.m_as("in") - d / 3, foot or "heavy hex nut"))
        else:
            items.append((N / 2 - 1, -deep * 0.4, self.rod_words))
        items += self._cage_items(half, deep)
        paper.callouts(at, items)
        self._weld(paper, min(us), wall)

    def _grout_words(self) -> str:
        a = self.job.anchors
        strength = f"{a.grout_strength.text()} minimum" if a.grout_strength else "strength not given"
        level = ", leveling nuts" if a.grout.m_as("in") >= a.diameter.m_as("in") else ""
        return f"grout {inches(a.grout)}{level}\n{strength}"

    def _nut_words(self) -> str:
        of = self.set
        if of is None or of.washer is None:
            return "nut and washer welded to the plate"
        return f"nut; washer {inches(of.washer)} square,\n{inches(of.t_w)} thick, welded to the plate"

    def _long(self) -> str:
        of = self.set
        return f"\nproject {inches(of.l_p)}, {inches(of.l_r)} long" if of else ""

    def _cage_items(self, half: float, deep: float) -> list[tuple[float, float, str]]:
        """Return bars, ties and grade with their places."""
        bars, grade = self.job.piers.bars, self.job.piers.projection.m_as("in")
        items = []
        if self.cage and self.cage[0] < half:
            items.append((self.cage[1], -deep * 0.62, f"{bars.count} vertical bars {bars.size}"))
            if low := [z for z in self.ties if z < deep * 0.9]:
                items.append((self.cage[0], -low[-1] if len(low) < 4 else -low[3], "\n".join(self.tie_words)))
        if grade < deep and half == self.pier / 2:
            items.append((half, -grade, "finished grade"))
        return items

    def _weld(self, paper: Paper, u: float, z: float) -> None:
        """Draw the weld symbol: arrow, reference line, all-around circle, fillet with its leg, electrode at the tail."""
        weld = self.job.connections.base_weld if self.job.connections else None
        up, aside = paper.real(0.42), paper.real(0.3)
        bend = (u - aside, z + up)
        if weld is None:
            paper.text(*bend, "weld not given in the job", ha="right", size=NOTE, right=-0.02)
            paper.line([u, bend[0]], [z, bend[1]], lw=0.5)
            return
        leg, tail = inches(weld).removesuffix(" in."), str(self.job.connections.electrode)
        long = measured(leg)[0] + measured(tail, SMALL)[0] + 0.45
        end = bend[0] - paper.real(long)
        paper.arrow(bend, (u, z), "-|>")
        paper.line([bend[0], end], [bend[1], bend[1]], lw=0.6)
        paper.circle(*bend, paper.real(0.035), fc="none", lw=0.6, zorder=6)
        side, at = paper.real(0.1), end + paper.real(measured(tail, SMALL)[0] + 0.16 + measured(leg)[0])
        paper.line([at, at, at + side], [bend[1], bend[1] - side, bend[1]], lw=0.6)
        paper.text(at, bend[1], leg, right=-0.04, up=-0.07, ha="right")
        tip = paper.real(0.05)
        paper.line([end - tip, end, end - tip], [bend[1] + tip, bend[1], bend[1] - tip], lw=0.6)
        paper.text(end, bend[1], tail, right=-0.07, ha="right", size=SMALL)

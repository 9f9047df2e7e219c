"""The foot of a post: plan of base plate and anchors, and the section through them, to scale."""

from __future__ import annotations

import itertools
import math

from rackbook.job import Job

from .board import INK, NOTE, PALE, SMALL, WIDTH, Board, drawing, head, inches, measured, nothing, shop, trade_scale
from .foot import Foot, bar_places
from .paper import Paper

PLAN, SECTION = "Base plate and anchors, plan", "Base plate and anchors, section through a post"
NO_PLATE = "The job gives no base plate (frame.base_plate), so there is no foot to draw."
#: Tone of grout, and how concrete and cut steel are filled.
GROUT, CONCRETE, CUT = "0.78", {"fc": PALE, "hatch": "..", "ec": "0.6", "lw": 0.0}, {"fc": INK, "lw": 0.3}
#: Heavy hex nut across its flats and thickness of its washer [in], for the eye only: 1.5 d + 1/8 in. and d high (ASME B18.2.6).
ACROSS, MORE, WASHER = 1.5, 0.125, 0.15
#: Where the number of a rod may stand: inwards from it, else on its other sides.
_ASIDE = ((1, 1), (1, -1), (-1, 1), (-1, -1))
#: Length of post shown above its plate and of concrete beside the plate [in], and how far a rod stands out of its nut [d].
STUB, BESIDE, OUT = 9.0, 5.0, 0.5


def base_plan(job: Job) -> str:
    """Return the plan of base plate, anchors, post and pier as SVG text."""
    return _Plan(job).svg() if job.frame.base_plate else nothing(PLAN, NO_PLATE)


def base_section(job: Job) -> str:
    """Return the section through plate, grout, anchors and pier as SVG text, seen from the front."""
    return _Section(job).svg() if job.frame.base_plate else nothing(SECTION, NO_PLATE)


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
            marks = [-size / 2, *sorted({round(p[0 if along else 1], 6) for p in self._rods}), size / 2]
            words = [shop(b - a) for a, b in itertools.pairwise(marks)]
            for mark in marks:  # from the plate to the dimensions beside the pier
                here, far = [mark, mark], [-outer, -(B if along else N) / 2]
                paper.line(*((here, far) if along else (far, here)), lw=0.25, zorder=4)
            rows = [(marks, words)] if len(marks) > 2 else []
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
            paper.place(shop(edge), spots, behind=True)

    def _callouts(self, paper: Paper, shown: float) -> None:
        N, B, _ = self.plate
        at = shown / 2 + paper.real(0.25)
        items = [
            (N / 2, -B / 8, self.plate_words),
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
                items.append((u, z, f"{bars.count} bars {bars.size}"))
        else:
            items.append((shown * 0.48, -shown * 0.4, f"{self.pier_words},\nits edge is not shown"))
        paper.callouts(at, items)

    def _top(self) -> float:
        return max(z for _, z in self.post[0]) * 0.98


class _Section(Foot):
    def svg(self) -> str:
        job, (N, _, t) = self.job, self.plate
        grout = job.anchors.grout.m_as("in") if job.anchors else 0.0
        deep = self._depth() + 3.0
        half = min(self.pier / 2, N / 2 + BESIDE)
        notes = [f"Seen from the front, through the middle of the post. {self._cut(half)}".strip()]
        left, right, below = 1.05, 2.3, 0.45
        tall = deep + grout + t + STUB
        scale = trade_scale(12 * min((WIDTH - left - right) / (2 * half), 5.2 / tall))

        def draw(board: Board) -> None:
            spare = WIDTH - left - right - 2 * half * scale.inches / 12
            paper = Paper(board, left + spare / 2, below, scale.inches / 12, (-half, -deep))
            board.title(SECTION, notes)
            self._concrete(paper, half, deep)
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

    def _foot(self, paper: Paper, grout: float) -> None:
        N, _, t = self.plate
        if grout:
            paper.box(-N / 2, 0, N, grout, fc=GROUT, hatch="....", lw=0.5, gid="grout")
        for n, u in enumerate(sorted({round(u, 6) for u, _ in self.rods}), 1):
            self._rod(paper, u, grout + t, n)
        paper.box(-N / 2, grout, N, t, fc="0.6", hatch="////", lw=0.9, gid="plate", zorder=3)
        us = [u for u, _ in self.post[0]]
        wall = [u for ring in self.post for u, z in _across(ring)]
        top = grout + t + STUB
        paper.box(min(us), grout + t, max(us) - min(us), STUB, lw=0.4, zorder=3)
        for a, b in zip(sorted(wall)[::2], sorted(wall)[1::2], strict=False):
            paper.box(a, grout + t, b - a, STUB, fc="0.6", hatch="////", lw=0.5, zorder=4)
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
        low, high = -deep - 1.3 * d, top + WASHER + (1 + OUT) * d
        paper.box(u - d / 2, low, d, high - low, zorder=2, gid=f"rod {number}")
        paper.box(u - flat * 0.7, top, flat * 1.4, WASHER, fc="white", lw=0.5, zorder=4)
        paper.box(u - flat / 2, top + WASHER, flat, d, fc="white", lw=0.6, zorder=4)
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
            paper.chain(rows, [shop(b - a) for a, b in itertools.pairwise(rows)], -deep + 1.2, 0.0)
        us, at = [u for u, _ in self.post[0]], half + paper.real(0.3)
        wall, right = grout + t, max(us)
        items = [
            (right, wall + STUB * 0.8, f"post {job.frame.post}"),
            (N / 2, grout + t / 2, self.plate_words),
            (half * 0.98, -deep * 0.8, self.pier_words),
            (half * 0.98, 0.0, f"top of concrete\n{inches(job.piers.projection)} above grade"),
        ]
        if grout:
            items.append((N / 2, grout / 2, f"grout {inches(anchors.grout)}"))
        if anchors:
            u = anchors.spacing_x.m_as("in") / 2
            d = anchors.diameter.m_as("in")
            items.append((u + d / 2, wall + d, "nut and washer"))
            items.append((u + d / 2, -anchors.embedment.m_as("in") * 0.45, self.rod_words))
            washer = anchors.washer
            foot = f"plate washer {inches(washer.width)} square,\n{inches(washer.thickness)} thick, and nut" if washer else ""
            items.append((u + d, -anchors.embedment.m_as("in") - d / 3, foot or "heavy hex nut"))
        else:
            items.append((N / 2 - 1, -deep * 0.4, self.rod_words))
        paper.callouts(at, items)
        self._weld(paper, min(us), wall)

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


def _across(ring: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return where a ring crosses the middle line z = 0."""
    found = []
    for (u0, z0), (u1, z1) in itertools.pairwise([*ring, ring[0]]):
        if (z0 < 0) != (z1 < 0):
            found.append((u0 + (u1 - u0) * (0 - z0) / (z1 - z0), 0.0))
    return found

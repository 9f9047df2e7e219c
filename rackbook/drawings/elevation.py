"""Elevations of the rack, to a trade scale, legible in black-and-white print."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from rackbook.job import Job
from rackbook.loads.geometry import Parts, parts
from rackbook.loads.members import grout, post_lines, post_rows
from rackbook.loads.outlines import outline
from rackbook.loads.weights import Weights, weights

from .board import INK, PALE, SMALL, WIDTH, Board, drawing, head, measured, trade_scale
from .paper import MARK, Paper

Face = Literal["front", "back", "end"]
#: Room around the rack, inches of paper: left, below its piers, above its top.
ROOM = (0.45, 0.78, 0.2)
#: The most a rack may stand high, inches of paper.
HIGHEST = 3.2
#: How far piers are drawn below grade, feet.
BELOW = 1.0
#: How each kind of equipment is filled: told apart by tone and hatch, not by color.
FILL = {
    "panelboard": ("0.93", ""), "disconnect": ("1.0", ""), "transformer": ("0.88", "////"), "enclosure": ("1.0", ""),
    "motor starter": ("0.95", ""), "wireway": ("0.84", ""), "lighting": ("1.0", ""),
}  # fmt: skip
#: Tones of the other parts.
STEEL = {"post": "0.72", "rail": "0.88", "tray": "0.95", "canopy": "0.8", "tie": "0.88", "brace": "0.8"}
TITLES = {
    "front": "Front elevation",
    "back": "Back elevation, seen from the back",
    "end": "End elevation, seen from the right end",
}


def elevation(job: Job, face: Face) -> str:
    """Return an elevation as SVG text: ``front``, ``back``, or ``end`` (seen from the right, front on the right).

    Posts, rails, tray and equipment have the sizes that the loads are worked with. The same job gives the same bytes.
    """
    view = View(job, face, parts(job), weights(job))
    left, below, above = ROOM
    right = 0.3 + max((measured(words)[0] for words in view.levels.values()), default=0.0)
    low, high = view.span
    scale = trade_scale(min((WIDTH - left - right) / (high - low), HIGHEST / view.top))
    below += BELOW * scale.inches
    spare = WIDTH - left - right - (high - low) * scale.inches
    notes = view.notes

    def draw(board: Board) -> None:
        paper = Paper(board, left + spare / 2, below, scale.inches, (low, 0.0))
        view.draw(paper)
        board.title(TITLES[face], notes)
        paper.scale_bar(scale, left + spare / 2, 0.08, 1.0)

    return drawing(view.top * scale.inches + below + above + head(notes), draw)


@dataclass(frozen=True)
class View:
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
        return {"front": box[1, 1], "back": -box[1, 0], "end": box[0, 1]}[self.face]

    def shown(self, place: int) -> bool:
        """Say whether a part is drawn: equipment of the other side is not, but for the end."""
        if self.face == "end" or self.parts.kinds[place] != "equipment":
            return True
        return (self.parts.y.magnitude[place] > 0) == (self.face == "front")

    @property
    def notes(self) -> list[str]:
        """What is written below the title."""
        w = self.weights
        if self.face == "end":
            said, place = "Piers not drawn to their depth", f"{w.y_bar.text()} from the post plane"
        else:
            said = "Piers not drawn to their depth; rails of the other side dotted, its equipment not shown"
            place = f"{w.x_bar.text()} from the left post line (seen from the front)"
        return [said, f"Round mark: center of gravity of {w.W.text()}, {place}, {w.z_bar.text()} above grade"]

    def draw(self, paper: Paper) -> None:
        """Draw everything, the far parts first."""
        self._foundation(paper)
        boxes = self.parts.boxes
        kinds = {str(item.tag): str(item.kind) for item in self.job.equipment}
        tags: list[tuple[str, float, float, float, float]] = []
        for place in sorted(range(len(boxes)), key=lambda n: self.nearness(boxes[n])):
            if not self.shown(place):
                continue
            tag, kind = self.parts.tags[place], self.parts.kinds[place]
            u, w, z, h = self.rectangle(boxes[place])
            behind = kind == "rail" and self.face != "end" and self.nearness(boxes[place]) < 0
            tone, hatch = FILL.get(kinds.get(tag, ""), ("1.0", "")) if kind == "equipment" else (STEEL[kind], "")
            paper.box(
                u,
                z,
                w,
                h,
                fc=PALE if behind else tone,
                hatch=hatch,
                ls=":" if behind else "-",
                gid=tag if kind == "post" else None,
            )
            if kind == "equipment" and self.face != "end":
                tags.append((tag, u, z, w, h))
        paper.keep_clear(*self.center, MARK)
        self._marks(paper)
        self._braces(paper)
        self._splices(paper)
        for tag, u, z, w, h in tags:
            paper.tag(tag, u, z, w, h)
        paper.center(*self.center)
        self._dimensions(paper)

    def _foundation(self, paper: Paper) -> None:
        low, high = self.span
        paper.ground(low - paper.real(0.1), high + paper.real(0.1))
        job = self.job
        pier, top = job.piers.diameter.m_as("ft"), job.piers.projection.m_as("ft")
        bed = grout(job).m_as("ft")
        for n, u in enumerate(self.lines, 1):
            paper.box(u - pier / 2, -BELOW, pier, BELOW + top, fc=PALE, ls=(0, (4, 2)))
            if job.frame.base_plate:
                plate = job.frame.base_plate
                b = (plate.width if self.face == "end" else plate.length).m_as("ft")  # the length is along the rack
                paper.box(u - b / 2, top, b, bed, fc="0.8", lw=0.3)
                paper.box(u - b / 2, top + bed, b, plate.thickness.m_as("ft"), fc=INK, gid=f"plate {n}")

    def _braces(self, paper: Paper) -> None:
        if self.face == "end":  # seen on edge, behind the posts
            return
        for n, brace in enumerate(self.job.frame.braces, 1):
            if brace.from_ is None:
                continue
            ends = [(self.across(e.x.m_as("ft")), e.height.m_as("ft")) for e in (brace.from_, brace.to)]
            (u0, z0), (u1, z1) = ends
            half = outline(str(brace.shape)).depth.m_as("ft") / 2
            long = np.hypot(u1 - u0, z1 - z0) or 1.0
            du, dz = -(z1 - z0) / long * half, (u1 - u0) / long * half
            far = brace.row is not None and str(brace.row) != self.face
            how = {"fc": PALE, "ls": ":"} if far else {"fc": STEEL["brace"]}
            paper.shape([(u0 + du, z0 + dz), (u1 + du, z1 + dz), (u1 - du, z1 - dz), (u0 - du, z0 - dz)], **how)
            spots = [(u0 + t * (u1 - u0), z0 + t * (z1 - z0), 0.0, 0.0) for t in (0.5, 0.35, 0.65, 0.2, 0.8)]
            paper.place(f"brace {n}", spots, behind=True, size=SMALL)

    def _splices(self, paper: Paper) -> None:
        if self.face == "end":
            return
        heights = [r.height.m_as("ft") for r in self._rails()]
        half = outline(str(self.job.frame.rail)).depth.m_as("ft") / 2
        for n, x in enumerate(self.job.frame.splices, 1):
            u, gap = self.across(x.m_as("ft")), paper.real(0.015)
            for z in heights:
                for side in (-gap, gap):
                    paper.line([u + side, u + side], [z - half * 1.3, z + half * 1.3], lw=0.7, zorder=3)
            foot = min(heights) - half * 1.3
            paper.place(f"splice {n}", [(u, foot, 0, -0.07), (u, foot, 0.2, -0.07), (u, foot, -0.2, -0.07)], size=SMALL)

    def _marks(self, paper: Paper) -> None:
        """Write the marks of the posts above the rack, those of ties on them."""
        if self.face == "end":
            marks = [(y.m_as("ft"), word) for word, y in post_rows(self.job) if word]
            for n, tie in enumerate(self.job.frame.ties, 1):
                z = tie.height.m_as("ft")
                paper.place(f"tie {n}", [(0, z, 0, 0), (0, z, 0, 0.1), (0, z, 0, -0.1)], behind=True, size=SMALL)
        else:
            rows = dict(post_rows(self.job))
            row = f" {self.face}" if self.face in rows else ""
            lines = [self.across(x.m_as("ft")) for x in post_lines(self.job)]
            marks = [(u, f"post {n}{row}") for n, u in enumerate(lines, 1)]
        boxes = self.parts.boxes[~self.parts.of_kind("canopy")]
        top = float(boxes[:, 2, 1].max())
        for u, mark in marks:
            short = mark.removeprefix("post ").split(" ")[0]
            if not paper.place(mark, [(u, top, 0, 0.08)], size=SMALL + 0.5):
                paper.place(short, [(u, top, 0, 0.08)], size=SMALL)

    def _rails(self) -> list[Any]:
        return [r for r in self.job.frame.rails if self.face == "end" or r.face in (self.face, "center")]

    def _dimensions(self, paper: Paper) -> None:
        low, high = self.span
        height = self.job.frame.height
        said = f"top of posts {height.text()}"
        if measured(said)[0] + 0.16 > height.m_as("ft") * paper.scale:
            said = height.text()
        paper.uprights([0.0, height.m_as("ft")], [said], low, -0.34)
        paper.levels(high, self.levels)
        if self.face == "end":
            boxes = self.parts.boxes
            back, front = float(boxes[:, 1, 0].min()), float(boxes[:, 1, 1].max())
            places = [back, *self.lines, front]
            paper.chain(places, [f"{12 * (b - a):.1f} in." for a, b in itertools.pairwise(places)], -BELOW, 0.2)
            paper.text(back, -BELOW, "back", up=-0.42, ha="right")
            paper.text(front, -BELOW, "front", up=-0.42, ha="left")
            return
        bays = [bay.text() for bay in self.job.frame.bays]
        if self.face == "back":
            bays.reverse()
        narrow = min(b - a for a, b in itertools.pairwise(self.lines)) * paper.scale
        if len(set(bays)) == 1 and len(bays) > 1 and measured(bays[0])[0] + 0.1 > narrow:
            paper.chain([self.lines[0], self.lines[-1]], [f"{len(bays)} bays of {bays[0]}"], -BELOW, 0.2)
        else:
            paper.chain(self.lines, bays, -BELOW, 0.2)
        if len(bays) > 1:
            paper.chain([self.lines[0], self.lines[-1]], [self.parts.length.text()], -BELOW, 0.42)

    @property
    def levels(self) -> dict[float, str]:
        """Words for every rail height, with the marks of its rails."""
        found: dict[float, list[int]] = {}
        texts: dict[float, str] = {}
        for n, rail in enumerate(self.job.frame.rails, 1):
            if rail in self._rails():
                z = rail.height.m_as("ft")
                found.setdefault(z, []).append(n)
                texts[z] = rail.height.text()
        return {z: f"rail{'s' * (len(n) > 1)} {', '.join(map(str, n))}: {texts[z]}" for z, n in found.items()}

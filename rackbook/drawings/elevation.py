"""Elevations of the rack, to a trade scale, legible in black-and-white print."""

from __future__ import annotations

import itertools
from typing import Any, Literal

import numpy as np

from rackbook.job import Job
from rackbook.loads.geometry import parts
from rackbook.loads.members import grout, post_lines, post_rows
from rackbook.loads.outlines import outline
from rackbook.loads.weights import weights

from .board import INK, NOTE, PALE, SMALL, WIDTH, Board, drawing, head, measured, trade_scale
from .paper import MARK, Paper
from .view import Side

Face = Literal["front", "back", "end"]
#: Room around the rack, inches of paper: left, below its piers, above its top.
ROOM = (0.45, 0.78, 0.2)
#: Room above its top for the marks of braces and splices too.
ABOVE_MARKS = 0.36
#: The most a rack may stand high, inches of paper: seen from front or back, and from its end.
HIGHEST, HIGHEST_END = 3.2, 3.5
#: How far piers are drawn below grade, feet.
BELOW = 1.0
#: How each kind of equipment is filled: told apart by tone, not by color.
FILL = {
    "panelboard": "0.93", "disconnect": "1.0", "transformer": "0.88", "enclosure": "1.0", "motor starter": "0.95",
    "wireway": "0.84", "lighting": "1.0",
}  # fmt: skip
#: Tones of the other parts.
STEEL = {"post": "0.72", "rail": "0.88", "tray": "0.95", "canopy": "0.8", "tie": "0.88", "brace": "0.8"}
TITLES = {
    "front": "Front elevation",
    "back": "Back elevation, seen from the back",
    "end": "End elevation, seen from the left end",
}


def elevation(job: Job, face: Face) -> str:
    """Return an elevation as SVG text: ``front``, ``back``, or ``end`` (seen from the left end, front on the right).

    Posts, rails, tray and equipment have the sizes that the loads are worked with. The same job gives the same bytes.
    """
    view = View(job, face, parts(job), weights(job))
    left, below, above = ROOM
    right = 0.3 + max((measured(words)[0] for words in view.levels.values()), default=0.0)
    low, high = view.span
    above = ABOVE_MARKS if view.marked else above
    highest = HIGHEST_END if face == "end" else HIGHEST
    scale = trade_scale(min((WIDTH - left - right) / (high - low), highest / view.top))
    below += BELOW * scale.inches
    spare = WIDTH - left - right - (high - low) * scale.inches
    notes = view.notes

    def draw(board: Board) -> None:
        paper = Paper(board, left + spare / 2, below, scale.inches, (low, 0.0))
        view.draw(paper)
        board.title(TITLES[face], notes)
        paper.scale_bar(scale, left + spare / 2, 0.08, 1.0)

    return drawing(view.top * scale.inches + below + above + head(notes), draw)


class View(Side):
    """The drawing of a rack seen from one side."""

    @property
    def marked(self) -> bool:
        """Whether braces or splices are marked above the rack."""
        return self.face != "end" and (bool(self.job.frame.splices) or any(b.from_ is not None for b in self.job.frame.braces))

    @property
    def notes(self) -> list[str]:
        """What is written below the title."""
        w = self.weights
        if self.face == "end":
            said = "Piers not drawn to their depth; equipment behind other equipment without its tag"
            place = f"{w.y_bar.text()} from the post plane"
        else:
            said = "Piers not drawn to their depth; rails of the other side dotted, its equipment not shown"
            said += "; double strokes across a rail: splice" if self.job.frame.splices else ""
            place = f"{w.x_bar.text()} from the left post line (seen from the front)"
        return [said, f"Round mark: center of gravity of {w.W.text()}, {place}, {w.z_bar.text()} above grade"]

    def draw(self, paper: Paper) -> None:
        """Draw everything, the far parts first."""
        self._foundation(paper)
        boxes = self.parts.boxes
        order = sorted(range(len(boxes)), key=lambda n: self.nearness(boxes[n]))
        steel = [n for n in order if self.parts.kinds[n] in ("post", "tie")]
        rest = [n for n in order if n not in set(steel) and self.shown(n)]
        items = [n for n in rest if self.parts.kinds[n] == "equipment"]
        if self.face == "end":  # what stands nearer the left end hides what stands behind it
            for place in sorted((*steel, *rest), key=lambda n: self.nearness(boxes[n])):
                self._box(paper, place)
        else:  # posts with their braces, the rails on them, equipment on the rails
            for place in (n for n in rest if self.nearness(boxes[n]) < 0 and n not in items):
                self._box(paper, place)
            for place in steel:
                self._box(paper, place)
            self._braces(paper)
            for place in (n for n in rest if self.nearness(boxes[n]) >= 0 and n not in items):
                self._box(paper, place)
            self._splices(paper)
            for place in items:
                self._box(paper, place)
        paper.keep_clear(*self.center, MARK)
        self._marks(paper)
        self._dimensions(paper)
        for n, place in enumerate(items):
            u, w, z, h = self.rectangle(boxes[place])
            nearer = items[n + 1 :] if self.face == "end" else [m for m in items if m != place]
            if self.face == "end":
                nearer += [
                    m for m in (*steel, *rest) if m not in items and self.nearness(boxes[m]) > self.nearness(boxes[place])
                ]
            others = [(a, c, b, d) for a, b, c, d in (self.rectangle(boxes[m]) for m in nearer)]
            paper.tag(self.parts.tags[place], u, z, w, h, others=others, outside=self.face != "end")
        if self.marked:
            self._notes(paper)
        paper.center(*self.center)

    def _box(self, paper: Paper, place: int) -> None:
        """Draw one part."""
        box, tag, kind = self.parts.boxes[place], self.parts.tags[place], self.parts.kinds[place]
        u, w, z, h = self.rectangle(box)
        behind = kind == "rail" and self.face != "end" and self.nearness(box) < 0
        tone = FILL.get(self.kinds.get(tag, ""), "1.0") if kind == "equipment" else STEEL[kind]
        gid = tag if kind == "post" else None
        paper.box(u, z, w, h, fc=PALE if behind else tone, ls=":" if behind else "-", gid=gid)

    @property
    def kinds(self) -> dict[str, str]:
        """Kind of every piece of equipment by tag."""
        return {str(item.tag): str(item.kind) for item in self.job.equipment}

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

    @property
    def braces(self) -> dict[str, tuple[Any, list[tuple[float, float]]]]:
        """Braces whose ends are given by mark, with both ends on paper."""
        return {
            f"brace {n}": (brace, [(self.across(e.x.m_as("ft")), e.height.m_as("ft")) for e in (brace.from_, brace.to)])
            for n, brace in enumerate(self.job.frame.braces, 1)
            if brace.from_ is not None
        }

    def _braces(self, paper: Paper) -> None:
        for brace, ((u0, z0), (u1, z1)) in self.braces.values():
            half = outline(str(brace.shape)).depth.m_as("ft") / 2
            long = np.hypot(u1 - u0, z1 - z0) or 1.0
            du, dz = -(z1 - z0) / long * half, (u1 - u0) / long * half
            far = brace.row is not None and str(brace.row) != self.face
            how = {"fc": PALE, "ls": ":"} if far else {"fc": STEEL["brace"]}
            paper.shape([(u0 + du, z0 + dz), (u1 + du, z1 + dz), (u1 - du, z1 - dz), (u0 - du, z0 - dz)], **how)

    def _splices(self, paper: Paper) -> None:
        half = outline(str(self.job.frame.rail)).depth.m_as("ft") / 2
        for x in self.job.frame.splices:
            u, gap = self.across(x.m_as("ft")), paper.real(0.015)
            for z in (r.height.m_as("ft") for r in self.rails()):
                for side in (-gap, gap):
                    paper.line([u + side, u + side], [z - half * 1.3, z + half * 1.3], lw=0.7, zorder=2)

    def _notes(self, paper: Paper) -> None:
        """Write the marks of braces and splices above the rack, with leaders to them."""
        top = self.top_of_steel
        places = {mark: ((u0 + 3 * u1) / 4, (z0 + 3 * z1) / 4) for mark, (_, ((u0, z0), (u1, z1))) in self.braces.items()}
        heights = [r.height.m_as("ft") for r in self.rails()]
        if heights:
            for n, x in enumerate(self.job.frame.splices, 1):
                places[f"splice {n}"] = self.across(x.m_as("ft")), max(heights)
        for mark, (u, z) in sorted(places.items(), key=lambda item: item[1][0]):
            paper.note(
                mark, u, z, [(u, top, right, up) for up in (0.1, 0.25) for right in (0, 0.2, -0.2, 0.4, -0.4)], size=NOTE
            )

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
        top = self.top_of_steel
        for u, mark in marks:
            short = mark.removeprefix("post ").split(" ")[0]
            if not paper.place(mark, [(u, top, 0, 0.08)], size=SMALL + 0.5):
                paper.place(short, [(u, top, 0, 0.08)], size=SMALL)

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
        half = outline(str(self.job.frame.post)).width.m_as("ft") / 2
        ends = [self.lines[0] - half, self.lines[-1] + half]
        paper.chain(ends, [f"{self.parts.overall.text()} overall"], -BELOW, 0.42)

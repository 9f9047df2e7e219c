"""Elevations of the rack, to scale, legible in black-and-white print."""

from __future__ import annotations

import io
import itertools
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from rackbook.job import Job
from rackbook.loads.geometry import Parts, parts
from rackbook.loads.members import post_lines, post_rows
from rackbook.loads.weights import Weights, weights

from .paper import INK, PALE, Paper

Face = Literal["front", "back", "end"]
#: Room around the rack, inches of paper: left, right, below grade, above its top.
ROOM = (0.62, 0.95, 0.75, 0.56)
#: Width of a drawing and the most its rack may stand high, inches of paper.
WIDTH, HIGHEST = 6.5, 2.7
#: How far piers are drawn below grade, feet.
BELOW = 1.0
#: How each kind of equipment is filled: told apart by tone and hatch, not by color.
FILL = {
    "panelboard": ("0.93", ""), "disconnect": ("1.0", ""), "transformer": ("0.88", "////"), "enclosure": ("1.0", ""),
    "motor starter": ("0.95", ""), "wireway": ("0.84", ""), "lighting": ("1.0", ""),
}  # fmt: skip
#: Tones of the other parts.
STEEL = {"post": "0.72", "rail": "0.88", "tray": "0.95", "canopy": "0.8"}
TITLES = {
    "front": "Front elevation",
    "back": "Back elevation, seen from the back",
    "end": "End elevation, seen from the right end",
}


def elevation(job: Job, face: Face) -> str:
    """Return an elevation as SVG text: ``front``, ``back``, or ``end`` (seen from the right, front on the right).

    Posts, rails, tray and equipment have the sizes that the loads are worked with. The same job gives the same bytes.
    """
    import matplotlib as mpl
    from matplotlib.figure import Figure

    view = View(job, face, parts(job), weights(job))
    left, right, below, above = ROOM
    low, high = view.span
    scale = min((WIDTH - left - right) / (high - low), HIGHEST / view.top)
    style: dict[Any, Any] = {
        "svg.hashsalt": "rackbook",
        "svg.fonttype": "path",
        "font.family": "DejaVu Sans",
        "hatch.linewidth": 0.4,
    }
    with mpl.rc_context(style):
        figure = Figure(figsize=(WIDTH, view.top * scale + below + above))
        axes = figure.add_axes((0, 0, 1, 1))
        middle, half = (low + high) / 2 + (right - left) / 2 / scale, WIDTH / scale / 2
        axes.set(xlim=(middle - half, middle + half), ylim=(-below / scale, view.top + above / scale), aspect="equal")
        axes.axis("off")
        view.draw(Paper(axes, scale))
        out = io.StringIO()
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    return out.getvalue()


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

    def draw(self, paper: Paper) -> None:
        """Draw everything, the far parts first."""
        self._foundation(paper)
        boxes = self.parts.boxes
        kinds = {str(item.tag): str(item.kind) for item in self.job.equipment}
        for place in sorted(range(len(boxes)), key=lambda n: self.nearness(boxes[n])):
            if not self.shown(place):
                continue
            tag, kind = self.parts.tags[place], self.parts.kinds[place]
            u, w, z, h = self.rectangle(boxes[place])
            behind = kind == "rail" and self.face != "end" and self.nearness(boxes[place]) < 0
            tone, hatch = FILL.get(kinds.get(tag, ""), ("1.0", "")) if kind == "equipment" else (STEEL[kind], "")
            paper.box(u, z, w, h, fc=PALE if behind else tone, hatch=hatch, ls=":" if behind else "-")
            if kind == "equipment" and self.face != "end":
                paper.tag(tag, u, z, w, h, self.center)
        paper.center(*self.center)
        self._dimensions(paper)
        low, high = self.span
        paper.text((low + high) / 2, self.top, TITLES[self.face], up=0.42, size=8.5, weight="bold")

    def _foundation(self, paper: Paper) -> None:
        low, high = self.span
        paper.ground(low - 0.1 / paper.scale, high + 0.1 / paper.scale)
        job = self.job
        pier, top = job.piers.diameter.m_as("ft"), job.piers.projection.m_as("ft")
        for u in self.lines:
            paper.box(u - pier / 2, -BELOW, pier, BELOW + top, fc=PALE, ls=(0, (4, 2)))
            if job.frame.base_plate:
                plate = job.frame.base_plate
                b = (plate.length if self.face == "end" else plate.width).m_as("ft")
                paper.box(u - b / 2, top, b, plate.thickness.m_as("ft"), fc=INK)

    def _dimensions(self, paper: Paper) -> None:
        low, high = self.span
        height = self.job.frame.height
        paper.upright(low, -0.34, 0.0, height.m_as("ft"), f"top of posts {height.text()}")
        side = {"front": "front", "back": "back", "end": ""}[self.face]
        levels = {
            r.height.m_as("ft"): f"rail {r.height.text()}"
            for r in self.job.frame.rails
            if not side or r.face in (side, "center")
        }
        paper.levels(high, levels)
        w, notes = self.weights, "Piers not drawn to their depth"
        if self.face == "end":
            boxes = self.parts.boxes
            back, front = float(boxes[:, 1, 0].min()), float(boxes[:, 1, 1].max())
            places = [back, *self.lines, front]
            paper.chain(places, [f"{12 * (b - a):.1f} in." for a, b in itertools.pairwise(places)], -BELOW, 0.2)
            paper.text(back, -BELOW, "back", up=-0.4)
            paper.text(front, -BELOW, "front", up=-0.4)
            from_here = f"{w.y_bar.text()} from the post plane"
        else:
            bays = [bay.text() for bay in self.job.frame.bays]
            paper.chain(self.lines, bays if self.face == "front" else bays[::-1], -BELOW, 0.2)
            if len(bays) > 1:
                paper.chain([self.lines[0], self.lines[-1]], [self.parts.length.text()], -BELOW, 0.42)
            notes += "; rails of the other side dotted, its equipment not shown"
            from_here = f"{w.x_bar.text()} from the left post line (seen from the front)"
        mark = f"Round mark: center of gravity of {w.W.text()}, {from_here}, {w.z_bar.text()} above grade"
        for said, up in ((notes, 0.25), (mark, 0.11)):
            paper.text((low + high) / 2, self.top, said, up=up, size=6.5)

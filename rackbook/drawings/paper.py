"""Pens of a drawing to scale: boxes, tags, dimensions, levels, the center of gravity; sizes of text in inches of paper."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

INK, GREY, PALE = "black", "0.45", "0.95"
#: Size of dimensions and tags [pt], and what a letter of it takes, inches of paper.
SIZE = 7.0
LETTER, LINE = 0.064, 0.1
#: Radius of the mark of the center of gravity, inches of paper.
MARK = 0.065
#: Longest tag that is written whole.
LONGEST = 14


@dataclass(frozen=True)
class Paper:
    """Axes in feet, at ``scale`` inches of paper a foot."""

    axes: Any
    scale: float

    def feet(self, inches: float) -> float:
        """Return what a length on paper is on the rack."""
        return inches / self.scale

    def box(self, u: float, z: float, w: float, h: float, **how: Any) -> None:
        """Draw a rectangle; later ones cover earlier ones."""
        from matplotlib.patches import Rectangle

        self.axes.add_patch(Rectangle((u, z), w, h, **{"lw": 0.6, "ec": INK, "fc": "white", "zorder": 2, **how}))

    def text(self, u: float, z: float, words: str, up: float = 0.0, right: float = 0.0, **how: Any) -> None:
        """Write words ``up`` and ``right`` inches of paper from a place."""
        how = {"fontsize": how.pop("size", SIZE), "ha": "center", "va": "center", "zorder": 6, "parse_math": False, **how}
        self.axes.text(u + self.feet(right), z + self.feet(up), words, **how)

    def line(self, u: Sequence[float], z: Sequence[float], **how: Any) -> None:
        """Draw a line."""
        self.axes.plot(u, z, **{"color": INK, "lw": 0.5, "zorder": 5, "solid_capstyle": "butt", **how})

    def tag(self, tag: str, u: float, z: float, w: float, h: float, clear_of: tuple[float, float]) -> None:
        """Write a tag on its box, upright or turned, or below it where the box is too small; clear of a mark."""
        tag = tag if len(tag) <= LONGEST else tag[: LONGEST - 1] + "…"
        wide, high = self.feet(LETTER * len(tag)), self.feet(LINE)
        on: dict[str, Any] = {"bbox": {"fc": "white", "ec": "none", "pad": 0.5}, "zorder": 4}
        if wide <= w and high <= h:
            hit = abs(clear_of[0] - u - w / 2) < wide / 2 + self.feet(MARK) and abs(clear_of[1] - z - h / 2) < 2 * self.feet(
                MARK
            )
            self.text(u + w / 2, z + h / 2 + (min(h / 2 - high, 3 * self.feet(MARK)) if hit else 0), tag, **on)
        elif wide <= h and high <= w:
            self.text(u + w / 2, z + h / 2, tag, rotation=90, **on)
        else:
            self.text(u + w / 2, z, tag, up=-0.07, **on)

    def ground(self, left: float, right: float) -> None:
        """Draw the grade line, hatched below."""
        step = self.feet(0.1)
        self.line([left, right], [0, 0], lw=1.2, zorder=1)
        starts = [left + n * step for n in range(int((right - left) / step))]
        gap = float("nan")  # one broken line: many lines would take longer to draw than all the rest
        u = [at for start in starts for at in (start, start - step / 2, gap)]
        self.line(u, [0.0, -step / 2, gap] * len(starts), color=GREY, lw=0.4, zorder=1)

    def center(self, u: float, z: float) -> None:
        """Mark the center of gravity: a circle, two of its quarters filled."""
        from matplotlib.patches import Circle, Wedge

        r = self.feet(MARK)
        self.axes.add_patch(Circle((u, z), r, fc="white", ec=INK, lw=0.7, zorder=6))
        for start in (0, 180):
            self.axes.add_patch(Wedge((u, z), r, start, start + 90, fc=INK, ec=INK, lw=0.3, zorder=7))

    def _arrow(self, a: tuple[float, float], b: tuple[float, float]) -> None:
        how = {"arrowstyle": "<|-|>,head_length=0.25,head_width=0.09", "lw": 0.5, "color": INK, "shrinkA": 0, "shrinkB": 0}
        self.axes.annotate("", a, b, arrowprops=how, zorder=5)

    def chain(self, places: Sequence[float], words: Sequence[str], z: float, down: float) -> None:
        """Draw a chain of level dimensions ``down`` inches of paper below z."""
        at = z - self.feet(down)
        for u in places:
            self.line([u, u], [at - self.feet(0.05), z - self.feet(0.03)], lw=0.35)
        for a, b, said in zip(places, places[1:], words, strict=False):
            self._arrow((a, at), (b, at))
            inside = self.feet(LETTER * (len(said) + 3)) <= b - a
            on: dict[str, Any] = {"bbox": {"fc": "white", "ec": "none", "pad": 0.8}} if inside else {}
            self.text((a + b) / 2, at, said, up=0.0 if inside else 0.08, **on)

    def upright(self, u: float, right: float, low: float, high: float, words: str) -> None:
        """Draw an upright dimension ``right`` inches of paper from u."""
        at = u + self.feet(right)
        for z in (low, high):
            self.line([at - self.feet(0.05), u - self.feet(0.05)], [z, z], lw=0.35)
        self._arrow((at, low), (at, high))
        self.text(at, (low + high) / 2, words, rotation=90, bbox={"fc": "white", "ec": "none", "pad": 0.8})

    def levels(self, u: float, of: Mapping[float, str]) -> None:
        """Write heights above grade right of u, moved apart where they would touch."""
        last = float("-inf")
        for z in sorted(of):
            at = max(z, last + self.feet(LINE * 1.1))
            last = at
            bend = [u + self.feet(0.05), u + self.feet(0.12), u + self.feet(0.2)]
            self.line(bend, [z, z, at], lw=0.35)
            self.text(u, at, of[z], right=0.23, ha="left")

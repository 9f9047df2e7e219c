"""Pens of a view to scale: boxes, tags, dimensions, levels, callouts, the center of gravity."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from .board import GREY, INK, SIZE, SMALL, Board, Extent, Scale, extent, measured, written

#: Height of a line of words, and radius of the mark of the center of gravity, inches of paper.
LINE, MARK = 0.1, 0.065
#: Longest tag that is written whole.
LONGEST = 14
_HEADS = "head_length=0.25,head_width=0.09"


@dataclass(frozen=True)
class Paper:
    """A view on a board: real place ``at`` is drawn at (left, bottom), ``scale`` inches of paper to a real unit."""

    board: Board
    left: float
    bottom: float
    scale: float
    at: tuple[float, float] = (0.0, 0.0)

    def x(self, u: float) -> float:
        """Return where a real place is on paper, from the left."""
        return self.left + (u - self.at[0]) * self.scale

    def y(self, z: float) -> float:
        """Return where a real place is on paper, from below."""
        return self.bottom + (z - self.at[1]) * self.scale

    def real(self, inches: float) -> float:
        """Return what a length on paper is in the real thing."""
        return inches / self.scale

    # --- figures -------------------------------------------------------------------------------------------------

    def _add(self, artist: Any) -> None:
        self.board.axes.add_artist(artist)  # nothing is scaled to its contents, so no limits are to be kept

    def box(self, u: float, z: float, w: float, h: float, **how: Any) -> None:
        """Draw a rectangle; later ones cover earlier ones. ``gid`` names it in the SVG."""
        from matplotlib.patches import Rectangle

        how = {"lw": 0.6, "ec": INK, "fc": "white", "zorder": 2, **how}
        self._add(Rectangle((self.x(u), self.y(z)), w * self.scale, h * self.scale, **how))

    def circle(self, u: float, z: float, radius: float, **how: Any) -> None:
        """Draw a circle."""
        from matplotlib.patches import Circle

        how = {"lw": 0.6, "ec": INK, "fc": "white", "zorder": 2, **how}
        self._add(Circle((self.x(u), self.y(z)), radius * self.scale, **how))

    def shape(self, *rings: Sequence[tuple[float, float]], **how: Any) -> None:
        """Draw a figure between closed rings of points: an outline and its holes, which run the other way round."""
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path

        paths = [Path([(self.x(u), self.y(z)) for u, z in (*ring, ring[0])], closed=True) for ring in rings]
        self._add(PathPatch(Path.make_compound_path(*paths), **{"lw": 0.6, "ec": INK, "fc": "white", "zorder": 2, **how}))

    def line(self, u: Sequence[float], z: Sequence[float], **how: Any) -> None:
        """Draw a line."""
        from matplotlib.lines import Line2D

        how = {"color": INK, "lw": 0.5, "zorder": 5, "solid_capstyle": "butt", **how}
        self._add(Line2D([self.x(a) for a in u], [self.y(b) for b in z], **how))

    def arrow(self, a: tuple[float, float], b: tuple[float, float], style: str = "<|-|>", **how: Any) -> None:
        """Draw an arrow from a to b, by default with a head at each end."""
        look = {"arrowstyle": f"{style},{_HEADS}", "lw": 0.5, "color": INK, "shrinkA": 0, "shrinkB": 0, **how}
        ends = [(self.x(u), self.y(z)) for u, z in (a, b)]
        self.board.axes.annotate("", ends[1], ends[0], arrowprops=look, zorder=5)

    # --- words ---------------------------------------------------------------------------------------------------

    def text(self, u: float, z: float, words: str, up: float = 0.0, right: float = 0.0, **how: Any) -> None:
        """Write words ``up`` and ``right`` inches of paper from a place."""
        self.board.write(self.x(u) + right, self.y(z) + up, words, **how)

    def place(self, words: str, spots: Iterable[tuple[float, float, float, float]], **how: Any) -> bool:
        """Write words at the first spot (u, z, right, up) where they meet no others; say whether there was one."""
        fixed = {k: how[k] for k in ("turned", "weight") if k in how}
        for u, z, right, up in spots:
            x, y = self.x(u) + right, self.y(z) + up
            ha, va = how.get("ha", "center"), how.get("va", "center")
            if self.board.free(extent(x, y, words, how.get("size", SIZE), ha, va, **fixed)):
                self.board.write(x, y, words, **how)
                return True
        return False

    def note(self, words: str, u: float, z: float, spots: Iterable[tuple[float, float, float, float]], **how: Any) -> bool:
        """Write words at the first free spot (u, z, right, up) with a leader from below them to a place."""
        for at, high, right, up in spots:
            if self.place(words, [(at, high, right, up)], **how):
                self.line([at + self.real(right), u], [high + self.real(up - 0.06), z], lw=0.35, zorder=5)
                self.circle(u, z, self.real(0.013), fc=INK, zorder=6)
                return True
        return False

    def tag(
        self, tag: str, u: float, z: float, w: float, h: float, others: Iterable[tuple[float, float, float, float]] = (),
        outside: bool = True,
    ) -> bool:  # fmt: skip
        """Write a tag on its box (left, bottom, width, height), upright or turned; say whether it is written.

        It is not written on ``others``. ``outside`` lets it stand beside its box where that is too small or taken, with a
        leader where it is not next to it.
        """
        tag = written(tag, LONGEST)
        wide, high = (self.real(length) for length in measured(tag))
        how: dict[str, Any] = {"behind": True, "zorder": 4}
        taken = [Extent(self.x(a), self.y(b), self.x(a + c), self.y(b + d)) for a, b, c, d in others]

        def clear(at: float, level: float, right: float, up: float, turned: bool = False) -> bool:
            own = extent(self.x(at) + right, self.y(level) + up, tag, SIZE, "center", "center", turned)
            return not any(own.meets(other, 0.0) for other in taken)

        middle, center = u + w / 2, z + h / 2
        for turned, long, across in ((False, high, wide), (True, wide, high)):
            steps = [s * LINE for s in (0, 1, -1, 2, -2, 3, -3) if abs(s) * self.real(LINE) <= (h - long) / 2]
            spots = [(middle, center, 0.0, up) for up in steps if clear(middle, center, 0.0, up, turned)]
            if across <= w and self.place(tag, spots, turned=turned, **how):
                return True
        if not outside:
            return False
        side = w * self.scale / 2 + measured(tag)[0] / 2 + 0.05
        near = [(middle, z, 0.0, -0.07), (middle, z + h, 0.0, 0.07), (middle, center, side, 0.0), (middle, center, -side, 0.0)]
        if self.place(tag, [spot for spot in near if clear(*spot)], **how):
            return True
        far = [(middle, z, right, -0.07 - n * LINE) for n in range(1, 8) for right in (0.0, 0.2, -0.2, 0.4, -0.4)]
        far += [(middle, z + h, right, 0.07 + n * LINE) for n in range(1, 8) for right in (0.0, 0.2, -0.2, 0.4, -0.4)]
        for spot in (s for s in far if clear(*s)):
            if self.place(tag, [spot], **how):
                up = spot[3] + math.copysign(0.05, -spot[3])
                self.line([middle + self.real(spot[2]), middle], [spot[1] + self.real(up), center], lw=0.35, zorder=3)
                return True
        return self.place(tag, [*near, (middle, center, 0.0, 0.0)], **how)

    def keep_clear(self, u: float, z: float, radius: float) -> None:
        """Let no later words come within ``radius`` inches of paper of a place."""
        x, y = self.x(u), self.y(z)
        self.board.taken.append(Extent(x - radius, y - radius, x + radius, y + radius))

    # --- marks of a drawing --------------------------------------------------------------------------------------

    def ground(self, left: float, right: float, z: float = 0.0) -> None:
        """Draw the grade line, hatched below."""
        step = self.real(0.1)
        self.line([left, right], [z, z], lw=1.2, zorder=1)
        starts = [left + n * step for n in range(int((right - left) / step))]
        gap = float("nan")  # one broken line: many lines would take longer to draw than all the rest
        u = [at for start in starts for at in (start, start - step / 2, gap)]
        self.line(u, [z, z - step / 2, gap] * len(starts), color=GREY, lw=0.4, zorder=1)

    def center(self, u: float, z: float) -> None:
        """Mark the center of gravity: a circle, two of its quarters filled."""
        from matplotlib.patches import Wedge

        self.circle(u, z, self.real(MARK), lw=0.7, zorder=6)
        for start in (0, 180):
            self._add(Wedge((self.x(u), self.y(z)), MARK, start, start + 90, fc=INK, ec=INK, lw=0.3, zorder=7))

    def broken(self, u: float, low: float, high: float) -> None:
        """Draw an upright break line."""
        middle, jog = (low + high) / 2, self.real(0.06)
        z = [low, middle - jog, middle - jog / 2, middle + jog / 2, middle + jog, high]
        self.line([u, u, u - jog, u + jog, u, u], z, lw=0.6, color=INK, zorder=4)

    def broken_off(self, left: float, right: float, z: float) -> None:
        """Draw a level break line."""
        middle, jog = (left + right) / 2, self.real(0.06)
        u = [left, middle - jog, middle - jog / 2, middle + jog / 2, middle + jog, right]
        self.line(u, [z, z, z + jog, z - jog, z, z], lw=0.6, color=INK, zorder=4)

    def scale_bar(self, scale: Scale, x: float, y: float, foot: float) -> None:
        """Draw a scale bar from (x, y) of the paper, with the scale in words; ``foot`` is a foot in real units."""
        marks = (0.25, 0.5, 1, 2, 5, 10, 20, 50, 100, 200)
        step = next((m for m in marks if m * scale.inches >= 0.3), marks[-1])
        names = {0.25: ("0", "3", "6 in."), 0.5: ("0", "6", "12 in.")}.get(step, ("0", f"{step:g}", f"{2 * step:g} ft"))
        long = step * scale.inches
        for n, fill in enumerate((INK, "white")):
            self.box(*self._from(x + n * long, y), self.real(long), self.real(0.045), fc=fill, lw=0.4, gid=f"scale bar {n + 1}")
        for n, name in enumerate(names):
            self.board.write(x + n * long, y + 0.1, name, size=SMALL)
        self.board.write(x + 2 * long + 0.2, y + 0.02, f"Scale {scale.words}", size=6.5, ha="left")

    def _from(self, x: float, y: float) -> tuple[float, float]:
        return (x - self.left) / self.scale + self.at[0], (y - self.bottom) / self.scale + self.at[1]

    # --- dimensions ----------------------------------------------------------------------------------------------

    def chain(self, places: Sequence[float], words: Sequence[str], z: float, down: float) -> None:
        """Draw a chain of level dimensions ``down`` inches of paper below z (above, where it is negative)."""
        at, away = z - self.real(down), math.copysign(1.0, down)
        for u in places:
            self.line([u, u], [at - away * self.real(0.05), z - away * self.real(0.03)], lw=0.35)
        for (a, b), said in zip(itertools.pairwise(places), words, strict=True):
            self._span((a, at), (b, at))
            middle, wide = (a + b) / 2, measured(said)[0]
            if wide + 0.16 <= abs(b - a) * self.scale:
                self.text(middle, at, said, behind=True)
            else:
                beside = wide / 2 + abs(b - a) * self.scale / 2 + 0.05
                spots = [(0, 0.08), (0, -0.09), (beside, 0.08), (-beside, 0.08), (beside, -0.09), (-beside, -0.09)]
                self.place(said, [(middle, at, right, up) for right, up in spots], behind=True)

    def uprights(self, places: Sequence[float], words: Sequence[str], u: float, right: float) -> None:
        """Draw a chain of upright dimensions ``right`` inches of paper from u, from below."""
        at, away = u + self.real(right), math.copysign(1.0, right)
        for z in places:
            self.line([at + away * self.real(0.05), u + away * self.real(0.03)], [z, z], lw=0.35)
        for (a, b), said in zip(itertools.pairwise(places), words, strict=True):
            self._span((at, a), (at, b))
            middle, wide = (a + b) / 2, measured(said)[0]
            if wide + 0.16 <= (b - a) * self.scale:
                self.text(at, middle, said, turned=True, behind=True)
            elif wide <= (b - a) * self.scale and self.place(said, [(at, middle, away * 0.08, 0)], turned=True, behind=True):
                continue
            else:
                sides = [(at, middle, s * (wide / 2 + 0.05), up) for up in (0, 0.1, -0.1, 0.2, -0.2) for s in (away, -away)]
                self.place(said, sides, behind=True)

    def _span(self, a: tuple[float, float], b: tuple[float, float]) -> None:
        long = math.dist(a, b) * self.scale
        if long >= 0.22:
            self.arrow(a, b)
            return
        # no room for arrow heads: slashes, as in a shop's sketch
        slash = self.real(0.025)
        self.line([a[0], b[0]], [a[1], b[1]], lw=0.5)
        for u, z in (a, b):
            self.line([u - slash, u + slash], [z - slash, z + slash], lw=0.8)

    def levels(self, u: float, of: Mapping[float, str]) -> None:
        """Write heights right of u, moved apart where they would touch; only some where all would take too much room."""
        heights = sorted(of)
        if not heights:
            return
        room = (heights[-1] - heights[0]) * self.scale + 3 * LINE
        step = math.ceil(len(heights) * 1.3 * LINE / room)
        named = heights[::step]
        if step > 1:
            self.place(f"one in {step} named", [(u, heights[0], 0.23, up) for up in (-0.16, -0.26)], ha="left", size=SMALL)
        self.callouts(u + self.real(0.23), [(u + self.real(0.05), z, of[z]) for z in named], dot=False)

    def callouts(self, u: float, of: Iterable[tuple[float, float, str]], dot: bool = True, size: float = SIZE) -> None:
        """Write words in a column from u to the right, each with a leader to its place (u, z), moved apart where needed.

        A text of several lines stays together. Leaders do not cross: words stand in the order of their places.
        """
        items = sorted(of, key=lambda item: item[1])
        line = self.real(size / 70 * 1.1)
        rooms = [line * (1.25 + words.count("\n")) for _, _, words in items]
        middles = _apart([z for _, z, _ in items], rooms)
        for (to, z, words), middle in zip(items, middles, strict=True):
            bend = u - self.real(0.09)
            self.line([to, bend, u - self.real(0.03)], [z, middle, middle], lw=0.35, zorder=5)
            if dot:
                self.circle(to, z, self.real(0.013), fc=INK, zorder=6)
            lines = words.split("\n")
            for n, words_of_line in enumerate(lines):
                self.text(u, middle + (len(lines) / 2 - 0.5 - n) * line, words_of_line, ha="left", size=size)


def _apart(wanted: Sequence[float], rooms: Sequence[float]) -> list[float]:
    """Return places as near to the wanted ones (rising) as rooms that do not overlap allow.

    >>> _apart([0, 0, 5], [2, 2, 2])
    [-1.0, 1.0, 5.0]
    """
    groups: list[tuple[float, list[float]]] = []  # middle of a group, rooms in it
    for z, room in zip(wanted, rooms, strict=True):
        middle, held = z, [room]
        while groups and groups[-1][0] + sum(groups[-1][1]) / 2 > middle - sum(held) / 2:
            below, others = groups.pop()
            middle = (below * len(others) + middle * len(held)) / (len(others) + len(held))
            held = others + held
        groups.append((middle, held))
    found = []
    for middle, held in groups:
        at = middle - sum(held) / 2
        for room in held:
            found.append(at + room / 2)
            at += room
    return found

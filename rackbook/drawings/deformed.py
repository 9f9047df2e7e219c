"""The deformed rack over the rack at rest, in an oblique view to scale, its displacements magnified by a stated number."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from rackbook.structure.frame import Frame
from rackbook.structure.frame.built import Piece
from rackbook.trace.figures import figures

from .board import GREY, INK, WIDTH, Board, drawing, head, trade_scale
from .cases import factors
from .paper import Paper
from .skeleton import mark, support

TITLE = "Deformed shape"
#: How a length across the rack is drawn: its share of the scale, and its slope, rising to the back.
ACROSS, SLOPE = 0.6, math.radians(35)
#: Room beside and below the rack, the most it may stand high, and how long its largest displacement is drawn [in].
SIDE, BELOW, HIGHEST, SHOWN = 0.6, 0.5, 3.6, 0.3
#: Points along an element that bends.
POINTS = 9
#: Dashes of what is at rest.
REST = (0, (5, 3))


def deformed(frame: Frame, combination: str = "", along: bool = False) -> str:
    """Return the deformed rack as SVG text.

    Args:
        frame: The frame.
        combination: Factors times unit cases, such as ``D + 0.6 W front``; blank for the one that governs the drift.
        along: Whether a blank combination stands for the drift along the rack and not across it.

    Raises:
        LookupFailed: The combination names no unit cases of the frame.

    """
    return _Shape(frame, combination, "along" if along else "across").svg()


class _Shape:
    def __init__(self, frame: Frame, combination: str, direction: str) -> None:
        self.drift = None if combination else frame.drift[direction]
        self.direction = direction
        self.words = combination or frame.drift[direction].combination
        self.frame = frame
        solved = frame.analysis.solved
        self.built, self.model = solved.built, solved.built.model
        c = factors(self.words, frame.cases)
        self.moved = (solved.displacements @ c).reshape(-1, 6)
        used = sorted({n for p in self.built.pieces for e in p.elements for n in (self.model.i[e], self.model.j[e])})
        self.worst = used[int(np.argmax(np.linalg.norm(self.moved[used, :3], axis=1)))]
        self.largest = float(np.linalg.norm(self.moved[self.worst, :3]))

    def svg(self) -> str:
        flat = _flat(self.model.xyz / 12)
        low, high = flat.min(axis=0), flat.max(axis=0)
        wide, tall = high - low
        scale = trade_scale(min((WIDTH - 2 * SIDE) / wide, HIGHEST / tall))
        times = _round(SHOWN / max(self.largest / 12 * scale.inches, 1e-12))
        notes = self._notes(times)
        room = SHOWN

        def draw(board: Board) -> None:
            spare = WIDTH - 2 * SIDE - wide * scale.inches
            paper = Paper(board, SIDE + spare / 2, BELOW + 0.2, scale.inches, (float(low[0]), float(low[1])))
            board.title(f"{TITLE}: {self.words}", notes)
            self._rest(paper)
            self._shape(paper, times)
            paper.scale_bar(scale, SIDE + spare / 2, 0.08, 1.0)

        return drawing(BELOW + 0.2 + tall * scale.inches + room + head(notes), draw)

    def _notes(self, times: float) -> list[str]:
        piece, where = self._where()
        moved = self.moved[self.worst, :3]
        parts = [
            f"{figures(abs(d), computed=True)} in. {way}"
            for d, way in zip(moved, ("along the rack", "across", "upright"), strict=True)
            if abs(d) > 0.05 * self.largest
        ]
        notes = [
            f"Solid: displaced, drawn {times:,.0f} times as large, the back in gray; dashed: at rest. Oblique view, "
            f"across the rack at {ACROSS:g} of the scale.",
            f"Largest displacement, first order (at the mark): {figures(self.largest, computed=True)} in., {where} of {piece} "
            f"({', '.join(parts)})",
        ]
        if self.drift is not None:
            value, limit = self.drift.value.text(), self.drift.limit.text()
            notes.append(f"Drift {self.direction} the rack, second order: {value} at the {self.drift.where}; limit {limit}")
        return notes

    def _where(self) -> tuple[str, str]:
        """Return the member that moves most, and where on it."""
        for piece in self.built.pieces:
            nodes = [self.model.i[e] for e in piece.elements] + [self.model.j[piece.elements[-1]]]
            if self.worst in nodes:
                if piece.part == "post":
                    return piece.mark, "top" if self.worst == nodes[-1] else f"{self.model.xyz[self.worst, 2] / 12:.3g} ft up"
                return piece.mark, f"{self.model.xyz[self.worst, 0] / 12:.4g} ft from the left post line"
        return "", ""

    def _draw(self, paper: Paper, points: np.ndarray, **how: Any) -> None:
        at = _flat(points)
        paper.line(at[:, 0].tolist(), at[:, 1].tolist(), **how)

    def _rest(self, paper: Paper) -> None:
        base = self.model.xyz[self.built.bases] / 12
        fixed = self.frame.analysis.task.layout.fixed
        for (u, z), of in zip(_flat(base).tolist(), self.frame.bases, strict=True):
            support(paper, u, z, fixed)
            mark(paper, of.label, u, z)
        for piece in self.built.pieces:
            nodes = [self.model.i[piece.elements[0]], *(self.model.j[e] for e in piece.elements)]
            self._draw(paper, self.model.xyz[nodes] / 12, lw=0.5, color=INK, ls=REST, zorder=5)

    def _shape(self, paper: Paper, times: float) -> None:
        for piece in self.built.pieces:
            points = np.vstack([self._bent(e, times) for e in piece.elements])
            weight = {"post": 1.5, "rail": 1.1, "tie": 1.0, "brace": 0.8}[piece.part]
            back = self._behind(piece)
            how = {"color": GREY, "zorder": 3} if back else {"color": INK, "zorder": 4}
            self._draw(paper, points / 12, lw=0.8 * weight if back else weight, gid=piece.mark, **how)
        here = self.model.xyz[self.worst] / 12
        there = here + self.moved[self.worst, :3] * times / 12
        a, b = _flat(np.array([here, there])).tolist()
        paper.circle(b[0], b[1], paper.real(0.035), fc="white", lw=0.9, zorder=6, gid="largest")
        said = f"{figures(self.largest, computed=True)} in."
        side = 1.0 if b[0] >= a[0] else -1.0
        spots = [(b[0], b[1], s * 0.08, up) for s in (side, -side) for up in (0.12, 0.2, -0.12, 0.28)]
        for n, spot in enumerate(spots):
            right = (side > 0) == (n < 4)
            if paper.place(said, [spot], ha="left" if right else "right"):
                break

    def _behind(self, piece: Piece) -> bool:
        """Return whether a member belongs to the back of the rack."""
        words = self.frame.analysis.task.layout
        if piece.part == "rail":
            return words.faces[piece.of[0]] == "back"
        if piece.part == "post":
            return words.rows[piece.of[1]] == "back"
        return piece.part == "brace" and words.braces[piece.of[0]].row == "back"

    def _bent(self, element: int, times: float) -> np.ndarray:
        """Return points along a displaced element [in], bent as its end rotations ask where nothing lets go."""
        i, j = self.model.i[element], self.model.j[element]
        ends, axes, long = self.model.xyz[[i, j]], self.model.axes[element], self.model.lengths[element]
        u, turn = self.moved[[i, j], :3] @ axes.T, self.moved[[i, j], 3:] @ axes.T
        bends = not self.model.released[element].any()
        s = np.linspace(0, 1, POINTS if bends else 2)[:, None]
        local = (1 - s) * u[0] + s * u[1]
        if bends:
            start, end = s**3 - 2 * s**2 + s, s**3 - s**2
            straight, curved = 1 - 3 * s**2 + 2 * s**3, 3 * s**2 - 2 * s**3
            for axis, about, sign in ((1, 2, 1.0), (2, 1, -1.0)):
                local[:, axis] = (
                    straight * u[0, axis] + curved * u[1, axis] + sign * long * (start * turn[0, about] + end * turn[1, about])
                )[:, 0]
        return (1 - s) * ends[0] + s * ends[1] + times * (local @ axes)


def _flat(xyz: np.ndarray) -> np.ndarray:
    """Return places on paper of places in the rack: the back is drawn further up and to the right."""
    back = -xyz[:, 1] * ACROSS
    return np.stack([xyz[:, 0] + back * math.cos(SLOPE), xyz[:, 2] + back * math.sin(SLOPE)], axis=1)


def _round(number: float) -> float:
    """Return a round number no larger: 1, 2 or 5 times a power of ten, at least 1.

    >>> _round(73.0), _round(0.3)
    (50.0, 1.0)
    """
    power: Any = 10.0 ** math.floor(math.log10(number))
    return max(1.0, power * next(k for k in (5, 2, 1) if k * power <= number * (1 + 1e-9)))

"""Bending moments on the elevation, on the side that is in tension, with values at the peaks."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.structure.frame import Frame
from rackbook.trace import LookupFailed
from rackbook.trace.errors import nearest

from .board import INK, NOTE, SMALL, TALLEST, WIDTH, Board, drawing, head, trade_scale
from .paper import Paper
from .skeleton import Face, faces, ground, line_of, rail_levels

#: Room beside the rack, below and above each view, inches of paper.
LEFT, RIGHT, UNDER, OVER, BELOW = 0.6, 0.75, 0.42, 0.42, 0.3
#: How long the largest moment of a post is drawn, and that of a rail at most, inches of paper.
LONGEST, RAIL = 0.3, 0.22
#: Peaks below this share of the largest of their kind are not labelled; bays narrower on paper than that [in] are narrow.
LEAST, NARROW = 0.04, 0.8
WAYS = {
    "along": ("Bending in the plane of the elevation", "Ordinates stand on the side in tension."),
    "across": (
        "Out-of-plane moments, rotated into the page",
        "Ordinates right of a post and above a rail: its front side is in tension; left and below: its back.",
    ),
}


@dataclass(frozen=True)
class Chosen:
    """A combination whose moments are drawn: name of the set and place in it."""

    set_name: str
    number: int


def governing(frame: Frame, way: str, set_name: str) -> Chosen:
    """Return the combination of a set with the largest bending moment ``along`` or ``across`` the rack."""
    field = _Field(frame, way)
    return Chosen(set_name, int(np.argmax(np.abs(field.moments(set_name)).max(axis=1))))


def place_of(frame: Frame, set_name: str, words: str) -> int:
    """Return the place of a combination in a set by its label, or by the beginning of it: ``2.3.1-4``.

    Raises:
        LookupFailed: There is no such set, or no such combination in it.

    """
    if set_name not in frame.sets:
        raise LookupFailed(f"There is no set of combinations '{set_name}'. Sets: {', '.join(frame.sets)}.")
    labels = frame.sets[set_name].labels
    for n, label in enumerate(labels):
        if label.startswith(words.strip()):
            return n
    raise LookupFailed(
        f"The set '{set_name}' has no combination '{words[:60]}'.{nearest(words, labels)} Give a label of it or its beginning, "
        f"such as '{labels[0]}'."
    )


def moments(frame: Frame, way: str, set_name: str, number: int | None = None) -> str:
    """Return the bending moments of one combination as SVG text.

    Args:
        frame: The frame.
        way: ``along``: in the plane of the elevation; ``across``: out of it.
        set_name: Name of a set of combinations.
        number: Place of the combination in it; None for that of the largest moment.

    """
    chosen = governing(frame, way, set_name) if number is None else Chosen(set_name, number)
    return _Diagram(frame, way, chosen).svg()


class _Field:
    """Which moment bends each station along or across the rack, and the side in tension where it is above zero."""

    def __init__(self, frame: Frame, way: str) -> None:
        self.frame = frame
        solved = frame.analysis.solved
        at, model = solved.places, solved.built.model
        axes = model.axes[at.element]
        # M_x above zero presses the side the depth points to, M_y above zero the side against the third axis
        tension = {"M_x": -axes[:, 1], "M_y": axes[:, 2]}
        out = np.abs(axes[:, 1, 1]) > 0.5  # the depth lies across the rack
        self.by_x = out if way == "across" else ~out
        side = np.where(self.by_x[:, None], tension["M_x"], tension["M_y"])
        along = axes[:, 0]
        if way == "across":  # to the front: right of what stands, above what lies
            front = side[:, 1:2]
            stands = np.abs(along[:, 2:3]) > 0.5
            side = np.where(stands, front * (1.0, 0.0, 0.0), front * (0.0, 0.0, 1.0))
        self.side = side[:, [0, 2]]
        self.place = (model.xyz[model.i[at.element]] + along * at.s[:, None])[:, [0, 2]] / 12

    def moments(self, set_name: str) -> np.ndarray:
        """Return the moments of all combinations of a set at all stations [kip in.]; none in braces and ties."""
        a = self.frame.actions(set_name)
        found = np.where(self.by_x, a.M_x, a.M_y)
        parts = np.array([m.part in ("post", "rail") for m in self.frame.members])
        return np.where(parts[a.member], found, 0.0)


class _Diagram:
    def __init__(self, frame: Frame, way: str, chosen: Chosen) -> None:
        self.frame, self.way = frame, way
        self.field = _Field(frame, way)
        self.M = self.field.moments(chosen.set_name)[chosen.number]
        self.label = frame.sets[chosen.set_name].labels[chosen.number]
        self.faces = faces(frame)
        self.parts = {part: [n for n, m in enumerate(frame.members) if m.part == part] for part in ("post", "rail")}
        self.left_out = 0

    def _largest(self, part: str) -> float:
        stations = [s for n in self.parts[part] for s in self.frame.members[n].stations]
        return float(np.abs(self.M[stations]).max(initial=0.0))

    def svg(self) -> str:
        title, how = WAYS[self.way]
        xyz = self.frame.analysis.solved.built.model.xyz / 12
        low, high = float(xyz[:, 2].min()), float(xyz[:, 2].max())
        wide, tall, many = float(np.ptp(xyz[:, 0])), high - low, len(self.faces)
        notes = [f"Combination {self.label}, with B_1 and B_2; values in kip in. {how}", "-"]
        room = (TALLEST - BELOW - head([*notes, "-"]) - many * (UNDER + OVER)) / many
        scale = trade_scale(min((WIDTH - LEFT - RIGHT) / wide, room / tall))
        spacing = min([b - a for a, b in itertools.pairwise(self._heights())] or [tall]) * scale.inches
        most = {"post": LONGEST, "rail": min(RAIL, max(0.06, 0.45 * spacing))}
        ordinate = {part: _nice(self._largest(part) / most[part]) for part in most}
        told = " and ".join(f"{ordinate[part]:,g} for {part}s" for part in most if ordinate[part])
        largest = f"posts {_said(self._largest('post'))}, rails {_said(self._largest('rail'))}"
        notes[1] = f"Largest: {largest}. Ordinates: 1 in. of paper is {told}. Small values are not written."
        step = tall * scale.inches + UNDER + OVER
        height = BELOW + many * step + head(notes)

        def draw(board: Board) -> None:
            spare = WIDTH - LEFT - RIGHT - wide * scale.inches
            board.title(title, notes)
            for n, face in enumerate(self.faces):
                bottom = BELOW + (many - 1 - n) * step + UNDER
                paper = Paper(board, LEFT + spare / 2, bottom, scale.inches, (0.0, low))
                paper.text(wide / 2, high, face.title, up=OVER - 0.1, weight="bold", size=NOTE)
                rail_levels(paper, self.frame, face.shown, wide)
                self._view(paper, face, ordinate)
            paper.scale_bar(scale, LEFT + spare / 2, 0.08, 1.0)
            if self.left_out:
                said = f"{self.left_out} peaks are not written for want of room"
                board.write(WIDTH - 0.1, 0.1, said, size=SMALL, ha="right")

        return drawing(height, draw)

    def _heights(self) -> list[float]:
        return sorted({round(float(line_of(self.frame, n)[0, 1]), 3) for n in self.parts["rail"]})

    def _view(self, paper: Paper, face: Face, ordinate: dict[str, float]) -> None:
        posts = ground(paper, self.frame, face)
        bays = min(b - a for a, b in itertools.pairwise(sorted({float(line_of(self.frame, n)[0, 0]) for n in posts})))
        narrow = bays * paper.scale < NARROW
        peaks: dict[Any, tuple[float, str, list[float], np.ndarray]] = {}
        for n in face.shown:
            m = self.frame.members[n]
            line = line_of(self.frame, n)
            paper.line(line[:, 0].tolist(), line[:, 1].tolist(), lw=1.0, color=INK, zorder=4)
            if m.part not in self.parts or not ordinate[m.part]:
                continue
            at = list(m.stations)
            base = self.field.place[at]
            out = self.field.side[at] * (self.M[at] / ordinate[m.part])[:, None] * paper.real(1.0)
            tips = base + out
            paper.shape([*map(tuple, base.tolist()), *map(tuple, tips[::-1].tolist())], fc="0.86", lw=0.5, zorder=3, gid=m.mark)
            k = int(np.argmax(np.abs(self.M[at])))
            value, tip = float(abs(self.M[at[k]])), tips[k].tolist()
            # two bays share the moment over their post; where bays are narrow the largest of each rail has to do
            key = m.mark.partition(" bay")[0] if narrow else tuple(np.round(tip, 2).tolist())
            if value >= LEAST * self._largest(m.part) and (key not in peaks or peaks[key][0] < value):
                peaks[key] = value, m.part, tip, self.field.side[at[k]] * np.sign(self.M[at[k]])
        for peak in sorted(peaks.values(), key=lambda p: (p[1] != "post", -p[0])):
            self._peak(paper, *peak)

    def _peak(self, paper: Paper, value: float, part: str, tip: list[float], side: np.ndarray) -> None:
        said = _said(value)
        u, z = tip
        how: dict[str, Any] = {"size": NOTE if part == "post" else SMALL, "behind": True}
        if part == "post":
            ha = "left" if side[0] > 0 else "right"
            spots = [(u, z, math.copysign(0.05, side[0]), up) for up in (0.03, 0.13, -0.07, 0.23)]
            if not paper.place(said, spots, ha=ha, **how):
                self.left_out += 1
            return
        away = math.copysign(0.055, side[1])
        at_post = any(abs(u - b.x.m_as("ft")) * paper.scale < 0.1 for b in self.frame.bases)
        beside = (0.18, -0.18, 0.3, -0.3) if at_post else (0, 0.15, -0.15, 0.3, -0.3)  # not on the line of a post
        if not paper.place(said, [(u, z, right, up) for up in (away, 1.8 * away) for right in beside], **how):
            self.left_out += 1


def _said(value: float) -> str:
    return f"{value:,.0f}" if value >= 100 else f"{value:#.3g}"


def _nice(number: float) -> float:
    """Return a round number no smaller, of one or two figures.

    >>> _nice(73.0), _nice(0.0)
    (80.0, 0.0)
    """
    if number <= 0:
        return 0.0
    power = 10.0 ** math.floor(math.log10(number))
    return next(k for k in (1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10) if k * power >= number * (1 - 1e-9)) * power

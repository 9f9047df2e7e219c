"""Utilization on the elevation: the thickness of every member by its class, its ratio written on it."""

from __future__ import annotations

import itertools
from typing import Any

from rackbook.structure.frame import Frame
from rackbook.structure.members.rack import Members

from .board import INK, NOTE, SMALL, TALLEST, WIDTH, Board, drawing, head, trade_scale
from .paper import Paper
from .skeleton import Face, faces, ground, line_of, rail_levels

TITLE = "Utilization of the members"
#: Room beside the rack, below and above each view, and at the foot of the drawing, inches of paper.
LEFT, RIGHT, UNDER, OVER, BELOW = 0.45, 0.75, 0.42, 0.42, 0.55
#: From a ratio upwards: width of the line [pt], and the words of the key. Beyond 1 a line is striped as well.
CLASSES = ((0.0, 0.7, "below 0.50"), (0.5, 1.9, "0.50 to 0.90"), (0.9, 3.2, "0.90 to 1.00"), (1.0, 4.6, "above 1.00: NOT OK"))
#: Bays and distances of rails narrower on paper than these have their ratios in small letters [in].
NARROW, NEAR = 0.45, 0.12


def utilization(frame: Frame, members: Members) -> str:
    """Return the largest ratio of every member on its elevation as SVG text; ties, seen on end, in a line below."""
    return _Diagram(frame, members).svg()


class _Diagram:
    def __init__(self, frame: Frame, members: Members) -> None:
        self.frame, self.members = frame, members
        self.ratio = {mark: float(v.magnitude) for mark, v in members.utilization.items()}
        self.faces = faces(frame)
        self.left_out = 0

    def svg(self) -> str:
        xyz = self.frame.analysis.solved.built.model.xyz / 12
        low, high = float(xyz[:, 2].min()), float(xyz[:, 2].max())
        wide, tall, many = float(xyz[:, 0].max() - xyz[:, 0].min()), high - low, len(self.faces)
        notes = self._notes()
        room = (TALLEST - BELOW - head(notes) - many * (UNDER + OVER)) / many
        scale = trade_scale(min((WIDTH - LEFT - RIGHT) / wide, room / tall))
        step = tall * scale.inches + UNDER + OVER

        def draw(board: Board) -> None:
            spare = WIDTH - LEFT - RIGHT - wide * scale.inches
            board.title(TITLE, notes)
            for n, face in enumerate(self.faces):
                bottom = BELOW + (many - 1 - n) * step + UNDER
                paper = Paper(board, LEFT + spare / 2, bottom, scale.inches, (0.0, low))
                paper.text(wide / 2, high, face.title, up=OVER - 0.14, weight="bold", size=NOTE)
                rail_levels(paper, self.frame, face.shown, wide)
                self._view(paper, face)
            self._key(paper)
            paper.scale_bar(scale, LEFT + spare / 2, 0.08, 1.0)

        return drawing(BELOW + many * step + head(notes), draw)

    def _notes(self) -> list[str]:
        of = self.members
        worst = [f"{part} {m.utilization.text()} ({m.mark}, {m.governs.kind})" for part, m in of.governing.items()]
        said = [f"Largest ratio of demand to strength by AISC 360-{of.edition}, {of.method}, {of.combinations} combinations."]
        return [*said, f"Governing: {'; '.join(worst)}"]

    def _view(self, paper: Paper, face: Face) -> None:
        ground(paper, self.frame, face)
        for n in face.shown:
            line, m = line_of(self.frame, n).tolist(), self.frame.members[n]
            _bar(paper, line, self.ratio[m.mark], m.mark)
        for n in sorted(face.shown, key=lambda n: -self.ratio[self.frame.members[n].mark]):
            self._label(paper, n)

    def _label(self, paper: Paper, n: int) -> None:
        m = self.frame.members[n]
        (u0, z0), (u1, z1) = line_of(self.frame, n).tolist()
        said, how = f"{self.ratio[m.mark]:.2f}", {"behind": True, "size": NOTE}
        if m.part == "rail" and ((u1 - u0) * paper.scale < NARROW or self._between() * paper.scale < NEAR):
            how["size"] = SMALL
        # posts are named near their feet, where no rail crosses them
        places = (0.1, 0.16, 0.05) if m.part == "post" else (0.5, 0.4, 0.6, 0.3, 0.7)
        spots: list[tuple[float, float, float, float]] = []
        for t in places:
            u, z = u0 + t * (u1 - u0), z0 + t * (z1 - z0)
            spots += [(u, z, 0.2, 0.0), (u, z, -0.2, 0.0)] if m.part == "post" else [(u, z, 0.0, 0.0)]
        if not paper.place(said, spots, **how):
            self.left_out += 1

    def _between(self) -> float:
        """Return the smallest distance of two rails of one view, up [ft]."""
        found = [99.0]
        for face in self.faces:
            rails = [n for n in face.shown if self.frame.members[n].part == "rail"]
            heights = sorted({round(float(line_of(self.frame, n)[0, 1]), 3) for n in rails})
            found += [b - a for a, b in itertools.pairwise(heights)]
        return min(found)

    def _key(self, paper: Paper) -> None:
        board, x = paper.board, 0.3
        for least, _, words in CLASSES:
            u, z = paper.at[0] + (x - paper.left) / paper.scale, paper.at[1] + (BELOW - 0.14 - paper.bottom) / paper.scale
            _bar(paper, [[u, z], [u + paper.real(0.35), z]], least + 0.01, "")
            board.write(x + 0.42, BELOW - 0.14, words, size=NOTE, ha="left")
            x += 1.32 if least < 0.9 else 1.4
        ties = [(m.mark, self.ratio[m.mark]) for m in self.frame.members if m.part == "tie"]
        said = []
        if ties:
            mark, ratio = max(ties, key=lambda t: t[1])
            said.append(f"ties: at most {ratio:.2f} ({mark})")
        if self.left_out:
            said.append(f"{self.left_out} smaller ratios are not written for want of room")
        if said:
            board.write(WIDTH - 0.1, 0.1, "; ".join(said), size=SMALL, ha="right")


def _bar(paper: Paper, line: list[list[float]], ratio: float, mark: str) -> None:
    """Draw a member by the class of its ratio; beyond its strength striped in black and white."""
    (u0, z0), (u1, z1) = line
    width = next(w for least, w, _ in reversed(CLASSES) if round(ratio, 2) >= least or least == 0.0)  # as it is written
    if ratio > 1.0:
        width = CLASSES[-1][1]
    elif round(ratio, 2) >= CLASSES[-1][0]:
        width = CLASSES[-2][1]
    how: dict[str, Any] = {"lw": width, "color": INK, "zorder": 3}
    paper.line([u0, u1], [z0, z1], **how, gid=mark or None)
    if ratio > 1.0:
        paper.line([u0, u1], [z0, z1], lw=width - 1.6, color="white", ls=(0, (2, 2)), zorder=3)

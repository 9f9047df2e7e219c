"""The rack on the hook, to scale: slings to the hook over the center of gravity, angles and tensions of the legs."""

from __future__ import annotations

import itertools
import math
from typing import Any

from rackbook.job import Job
from rackbook.loads.geometry import parts
from rackbook.structure.lifting import Lift, Lifting

from .board import NOTE, SMALL, WIDTH, Board, drawing, head, nothing, trade_scale, wrapped
from .elevation import STEEL
from .paper import MARK, Paper

TITLE = "Lifting"
#: Room beside the rack and below it, and the most rack and slings may stand high, inches of paper.
LEFT, RIGHT, BELOW, HIGHEST = 0.75, 0.75, 0.62, 4.4
#: Step of the lines of the table of legs, inches of paper.
LINE = 0.135
NO_LIFTING = "The job gives no lifting (lifting: picks, legs, hook), so there is nothing to draw."


def lifting_diagram(job: Job, result: Lifting) -> str:
    """Return the rack on the hook as SVG text, seen from the front; every module of a rack that is lifted in parts."""
    if not result.lifts:
        why = NO_LIFTING if job.lifting is None else "No lift can be drawn: the pick points of each module are not given."
        return nothing(TITLE, why)
    return _Diagram(job, result).svg()


class _Diagram:
    def __init__(self, job: Any, result: Lifting) -> None:
        self.job, self.result = job, result
        self.parts = parts(job)
        boxes = self.parts.boxes
        self.low, self.high = float(boxes[:, 0, 0].min()), float(boxes[:, 0, 1].max())
        self.foot = float(boxes[:, 2, 0].min())
        self.hook = job.lifting.hook.m_as("ft")
        self.top = max(lift.z_p.m_as("ft") for lift in result.lifts) + self.hook

    def svg(self) -> str:
        notes = self._notes()
        table = [line for row in self._table() for line in wrapped(row, WIDTH - 0.4)]
        below = BELOW + LINE * len(table)
        wide, tall = self.high - self.low, self.top - self.foot
        scale = trade_scale(min((WIDTH - LEFT - RIGHT) / wide, HIGHEST / tall))
        height = below + tall * scale.inches + 0.35 + head(notes)

        def draw(board: Board) -> None:
            spare = WIDTH - LEFT - RIGHT - wide * scale.inches
            paper = Paper(board, LEFT + spare / 2, below, scale.inches, (self.low, self.foot))
            board.title(f"{TITLE}, seen from the front", notes)
            self._rack(paper)
            self._dimensions(paper)
            for lift in self.result.lifts:
                self._lift(paper, lift)
            for n, line in enumerate(table):
                board.write(0.2, below - BELOW - LINE * n + 0.02, line, size=NOTE, ha="left")
            paper.scale_bar(scale, LEFT + spare / 2, below - BELOW + 0.16, 1.0)

        return drawing(height, draw)

    def _notes(self) -> list[str]:
        impact = self.result.impact.text() if self.result.impact is not None else "not given"
        counted = "all legs counted as carrying" if self.result.carrying == "all" else "two legs counted as carrying"
        notes = [f"Tensions with impact {impact}, {counted}; true angles from the level. Equipment dotted."]
        for lift in self.result.lifts:
            name = "Round mark" if lift.of.name == "rack" else f"{lift.of.name.capitalize()}, round mark"
            where = f"{lift.of.x_bar.text()} from the left post line, {lift.of.z_bar.text()} above grade"
            notes.append(f"{name}: center of gravity of {lift.of.W_0.text()}, {where}")
            tilt = {"across": lift.phi, "along, were the legs equal": lift.phi_0}
            told = [f"{angle.text()} {way}" for way, angle in tilt.items() if angle is not None]
            if told:
                notes[-1] += f"; it hangs tilted by {', '.join(told)}"
        return notes

    def _table(self) -> list[str]:
        rows = []
        for lift in self.result.lifts:
            name = "" if lift.of.name == "rack" else f"{lift.of.name}, "
            for leg in lift.legs:
                rows.append(
                    f"{name}{leg.label}: sling {leg.L_s.text()}, {leg.theta.text()}, tension {leg.T.text()}; "
                    f"upright {leg.V.text()}, along the rack {leg.H.text()}"
                )
            if not lift.legs:
                rows.append(f"{name}no slings are drawn: these picks do not allow the lift, see its checks.")
        return rows

    def _rack(self, paper: Paper) -> None:
        boxes = self.parts.boxes
        for n in sorted(range(len(boxes)), key=lambda n: boxes[n][1, 1]):
            (x0, x1), _, (z0, z1) = boxes[n]
            kind = self.parts.kinds[n]
            look = {"fc": "none", "ls": (0, (2, 2)), "lw": 0.4} if kind == "equipment" else {"fc": STEEL[kind], "lw": 0.5}
            paper.box(x0, z0, x1 - x0, z1 - z0, **look, gid=self.parts.tags[n] if kind == "post" else None)

    def _lift(self, paper: Paper, lift: Lift) -> None:
        u, z = lift.of.x_bar.m_as("ft"), lift.z_p.m_as("ft")
        cg, hook = (u, lift.of.z_bar.m_as("ft")), (u, z + self.hook)
        name = lift.of.name.replace(" ", "_")
        paper.keep_clear(*cg, MARK)
        paper.line([u, u], [cg[1], hook[1]], ls=(0, (8, 2, 2, 2)), lw=0.4, zorder=3)
        self._hook(paper, hook)
        for end in (lift.of.a, lift.of.b) if lift.of.name != "rack" else ():
            paper.line([end.m_as("ft")] * 2, [self.foot, z], ls=(0, (4, 3)), lw=0.6, zorder=3)
        if not lift.legs:
            for pick in lift.picks:
                self._pick(paper, pick.m_as("ft"), z)
        shown: dict[float, list[Any]] = {}
        for leg in lift.legs:
            shown.setdefault(round(leg.x.m_as("ft"), 6), []).append(leg)
        for x, legs in shown.items():
            self._pick(paper, x, z)
            paper.line([x, u], [z, hook[1]], lw=1.1, zorder=4, gid=f"sling_{name}_{x:g}")
            numbers = ", ".join(leg.label.split(" ")[1] for leg in legs)
            worst = max(legs, key=lambda leg: leg.T.magnitude)
            self._said(
                paper,
                (x, z),
                hook,
                f"leg{'s' * (len(legs) > 1)} {numbers}: {worst.T.text()}",
                worst.theta.text(),
                x in (min(shown), max(shown)),
            )
        paper.center(*cg)

    def _said(
        self, paper: Paper, pick: tuple[float, float], hook: tuple[float, float], tension: str, angle: str, outer: bool
    ) -> None:
        """Write the tension beside the sling and its angle at the pick."""
        side = 1.0 if pick[0] >= hook[0] else -1.0
        places = (0.55, 0.45) if outer else (0.3, 0.25)  # an inner sling is named below the outer one
        ha = "left" if side > 0 else "right"
        at = [(pick[0] + t * (hook[0] - pick[0]), pick[1] + t * (hook[1] - pick[1])) for t in (*places, 0.4, 0.7, 0.2, 0.8)]
        spots = [(u, z, side * 0.06, 0.03) for u, z in at]
        paper.place(tension, spots, ha=ha, behind=True)
        slope = math.atan2(hook[1] - pick[1], abs(hook[0] - pick[0]))
        radius = min(0.3, 0.5 * abs(hook[0] - pick[0]) * paper.scale)
        if radius > 0.1:
            r = paper.real(radius)
            turns = [slope * k / 12 for k in range(13)]
            paper.line([pick[0] - side * r * math.cos(a) for a in turns], [pick[1] + r * math.sin(a) for a in turns], lw=0.5)
            paper.line([pick[0], pick[0] - side * r * 1.3], [pick[1], pick[1]], lw=0.35)
        half = slope / 2
        near = paper.real(radius + 0.06)
        inner = (pick[0] - side * near * math.cos(half), pick[1] + near * math.sin(half))
        spots = [(*inner, -side * 0.02, 0.0), (*pick, side * 0.08, 0.06), (*pick, side * 0.08, 0.18)]
        for n, spot in enumerate(spots):
            how = {"ha": ("right" if side > 0 else "left") if n == 0 else ha, "size": NOTE, "behind": True}
            if paper.place(angle, [spot], **how):
                break

    def _pick(self, paper: Paper, u: float, z: float) -> None:
        r = paper.real(0.045)
        paper.circle(u, z + r, r, lw=0.9, zorder=6)

    def _hook(self, paper: Paper, at: tuple[float, float]) -> None:
        u, z = at
        r = paper.real(0.055)
        turns = [math.radians(a) for a in range(-200, 61, 10)]
        paper.line([u + r * math.cos(a) for a in turns], [z + r + r * math.sin(a) for a in turns], lw=1.4, zorder=6)
        paper.line([u, u], [z + 2 * r, z + 3.4 * r], lw=1.4, zorder=6)

    def _dimensions(self, paper: Paper) -> None:
        lifts = self.result.lifts
        z = max(lift.z_p.m_as("ft") for lift in lifts)
        paper.uprights([z, z + self.hook], [f"hook {self.job.lifting.hook.text()}"], self.low, -0.3)
        picks = sorted(x.m_as("ft") for lift in lifts for x in lift.picks)
        words = [f"{b - a:.4g} ft" for a, b in itertools.pairwise(picks)]
        places = [0.0, *picks] if picks[0] > 1e-9 else picks
        if len(places) > len(picks):
            words.insert(0, f"{picks[0]:.4g} ft")
        paper.chain(places, words, self.foot, 0.17)
        for lift in lifts:
            if lift.of.name != "rack":
                u = lift.of.x_bar.m_as("ft")
                paper.place(lift.of.name, [(u, z + self.hook, 0, 0.28)], size=SMALL)

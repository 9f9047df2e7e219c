"""The rack on the hook, to scale: slings to the hook over the center of gravity, angles and tensions of the legs."""

from __future__ import annotations

import itertools
import math
from typing import Any

from rackbook.job import Job
from rackbook.loads.geometry import parts
from rackbook.loads.members import grout, post_lines
from rackbook.loads.outlines import outline
from rackbook.structure.lifting import Lift, Lifting, hole_above_foot

from .board import INK, NOTE, SMALL, WIDTH, Board, Extent, drawing, head, nothing, trade_scale, wrapped
from .elevation import STEEL
from .paper import MARK, Paper

TITLE = "Lifting"
#: Room beside the rack and below it, and the most rack and slings may stand high, inches of paper.
LEFT, RIGHT, BELOW, HIGHEST = 0.6, 0.45, 0.62, 4.4
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
        self.lines = [x.m_as("ft") for x in post_lines(job)]
        plate = job.frame.base_plate
        out = plate.length.m_as("ft") / 2 if plate is not None else 0.0
        self.low = min(float(boxes[:, 0, 0].min()), self.lines[0] - out)
        self.high = max(float(boxes[:, 0, 1].max()), self.lines[-1] + out)
        self.foot = job.piers.projection.m_as("ft") + grout(job).m_as("ft")
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
            self._reserve(paper)
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
        notes = [f"Tensions with impact {impact}, {counted}; true angles from the horizontal. Equipment on the back dotted."]
        for lift in self.result.lifts:
            name = "Round mark" if lift.of.name == "rack" else f"{lift.of.name.capitalize()}, round mark"
            h_c = self.result.transport.h_c[lift.of.name]
            where = f"{lift.of.x_bar.text()} from the left post line, {h_c.text()} above the underside of the base plates"
            notes.append(f"{name}: center of gravity of {lift.of.W_0.text()}, {where}")
            tilt = {"across": lift.phi, "along if the legs were equal": lift.phi_0}
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
                    f"vertical {leg.V.text()}, along the rack {leg.H.text()}"
                )
            if not lift.legs:
                rows.append(f"{name}no slings are drawn: these picks do not allow the lift, see its checks.")
        return rows

    def _reserve(self, paper: Paper) -> None:
        """Keep words off the centers of gravity and the plumb lines above them."""
        for lift in self.result.lifts:
            u, low, high = lift.of.x_bar.m_as("ft"), lift.of.z_bar.m_as("ft"), lift.z_p.m_as("ft") + self.hook
            paper.keep_clear(u, low, MARK)
            paper.board.taken.append(Extent(paper.x(u) - 0.01, paper.y(low), paper.x(u) + 0.01, paper.y(high)))

    def _rack(self, paper: Paper) -> None:
        boxes, kinds, tags = self.parts.boxes, self.parts.kinds, self.parts.tags
        front = {str(item.tag): str(item.face) == "front" for item in self.job.equipment}
        order = ("post", "tie", "brace", "rail", "tray", "canopy")
        steel = [n for kind in order for n in range(len(kinds)) if kinds[n] == kind]
        self._feet(paper)
        self._braces(paper)
        for n in steel:
            self._box(paper, n, fc=STEEL[kinds[n]], lw=0.5, **({"gid": tags[n]} if kinds[n] == "post" else {}))
        items = [n for n in range(len(kinds)) if kinds[n] == "equipment"]
        shown = [n for n in items if front[tags[n]]]
        for n in shown:
            self._box(paper, n, fc="white", lw=0.5)
        for n in items:
            if n not in shown:
                self._box(paper, n, fc="none", ls=(0, (2, 2)), lw=0.4)
        for n in shown:
            (x0, x1), _, (z0, z1) = boxes[n]
            paper.tag(tags[n], x0, z0, x1 - x0, z1 - z0, outside=False)

    def _box(self, paper: Paper, n: int, **look: Any) -> None:
        (x0, x1), _, (z0, z1) = self.parts.boxes[n]
        paper.box(x0, z0, x1 - x0, z1 - z0, **look)

    def _feet(self, paper: Paper) -> None:
        plate = self.job.frame.base_plate
        for x in self.lines if plate is not None else ():
            b = plate.length.m_as("ft")
            paper.box(x - b / 2, self.foot, b, plate.thickness.m_as("ft"), fc=INK)

    def _braces(self, paper: Paper) -> None:
        for brace in (brace for brace in self.job.frame.braces if brace.from_ is not None):
            (u0, z0), (u1, z1) = ((e.x.m_as("ft"), e.height.m_as("ft")) for e in (brace.from_, brace.to))
            half, long = outline(str(brace.shape)).depth.m_as("ft") / 2, math.hypot(u1 - u0, z1 - z0) or 1.0
            du, dz = -(z1 - z0) / long * half, (u1 - u0) / long * half
            ring = [(u0 + du, z0 + dz), (u1 + du, z1 + dz), (u1 - du, z1 - dz), (u0 - du, z0 - dz)]
            paper.shape(ring, fc=STEEL["brace"], lw=0.5)

    def _lift(self, paper: Paper, lift: Lift) -> None:
        u, z = lift.of.x_bar.m_as("ft"), lift.z_p.m_as("ft")
        cg, hook = (u, lift.of.z_bar.m_as("ft")), (u, z + self.hook)
        name = lift.of.name.replace(" ", "_")
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
        slope = math.atan2(hook[1] - pick[1], abs(hook[0] - pick[0]))
        radius = min(0.3, 0.5 * abs(hook[0] - pick[0]) * paper.scale)
        near = paper.real(radius + 0.05)
        inner = (pick[0] - side * near * math.cos(slope / 2), pick[1] + near * math.sin(slope / 2))
        toward = "right" if side > 0 else "left"
        spots = [(*inner, 0.0, up) for up in (0.0, -0.05, 0.06)]
        if radius > 0.1 and paper.place(angle, spots, ha=toward, size=NOTE, behind=True):
            r = paper.real(radius)
            turns = [slope * k / 12 for k in range(13)]
            paper.line([pick[0] - side * r * math.cos(a) for a in turns], [pick[1] + r * math.sin(a) for a in turns], lw=0.5)
            paper.line([pick[0], pick[0] - side * r * 1.3], [pick[1], pick[1]], lw=0.35)
        else:  # no room between sling and plumb line
            tension = f"{tension} at {angle}"
        places = (0.55, 0.45) if outer else (0.3, 0.25)  # an inner sling is named below the outer one
        at = [(pick[0] + t * (hook[0] - pick[0]), pick[1] + t * (hook[1] - pick[1])) for t in (*places, 0.4, 0.7, 0.2, 0.8)]
        outward = [(u, z, side * 0.06, 0.03) for u, z in at]
        paper.place(tension, outward, ha="left" if side > 0 else "right", behind=True)

    def _pick(self, paper: Paper, u: float, z: float) -> None:
        """Draw the lug on its cap plate, with its hole; a ring where the job gives no lug."""
        lug = self.job.lifting.lug
        if lug is None:
            paper.circle(u, z, paper.real(0.045), lw=0.9, zorder=6)
            return
        half, R, e_h = lug.width.m_as("ft") / 2, lug.radius.m_as("ft"), hole_above_foot(lug).m_as("ft")
        turns = [math.radians(a) for a in range(0, 181, 15)]
        ring = [(u + half, z - e_h), *((u + R * math.cos(a), z + R * math.sin(a)) for a in turns), (u - half, z - e_h)]
        paper.shape(ring, fc="0.8", lw=0.6, zorder=3)
        paper.circle(u, z, max(lug.hole.m_as("ft") / 2, paper.real(0.012)), lw=0.5, zorder=6)
        if lug.cap is not None:
            cap, wide = lug.cap.m_as("ft"), outline(str(self.job.frame.post)).width.m_as("ft") + lug.cap.m_as("ft")
            paper.box(u - wide / 2, z - e_h - cap, wide, cap, fc=INK, lw=0.3, zorder=3)

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
        picks = (x.m_as("ft") for lift in lifts for x in lift.picks)
        places = sorted({round(x, 6) for x in (self.lines[0], *picks, self.lines[-1])})
        paper.chain(places, [f"{b - a:.4g} ft" for a, b in itertools.pairwise(places)], self.foot, 0.17)
        for lift in lifts:
            if lift.of.name != "rack":
                u = lift.of.x_bar.m_as("ft")
                paper.place(lift.of.name, [(u, z + self.hook, 0, 0.28)], size=SMALL)

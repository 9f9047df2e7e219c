"""The joint of rail and post: front view and section, to scale, with welds or clip, bolts, legs and edge distances."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from rackbook.job import Job
from rackbook.structure.connections.adopted import words_of
from rackbook.structure.connections.seam import FLARE as K_FLARE
from rackbook.structure.connections.seam import corner_gap, flare_throat, leg_made
from rackbook.structure.connections.sections import SLOPE, corner_radius, flange_reach, toe_thickness
from rackbook.tables import section, table
from rackbook.trace import Value

from .board import INK, WIDTH, Board, drawing, head, inches, nothing, shop, trade_scale
from .paper import Paper
from .sections import Ring, figure

TITLE = "Joint of rail and post"
NO_JOINT = "The book draws this joint for channels on the faces of rectangular tubes; this job has others."
NO_CLIP = "The job gives no clip (connections.clip), so there is no joint to draw."
#: Length of rail shown to each side of the post and of post above and below the rail [in].
BESIDE, STUB = 3.0, 1.5
CUT = {"fc": "0.6", "hatch": "////", "lw": 0.6}
HIDDEN = {"lw": 0.5, "ls": (0, (4, 2))}
#: Room on paper: left and right of the views, below each, and the title of a view.
LEFT, RIGHT, BELOW, NAME = 0.95, 2.2, 0.5, 0.26


def joint_detail(job: Job) -> str:
    """Return the joint of rail and post as SVG text."""
    if section(str(job.frame.post)).name != "hss" or section(str(job.frame.rail)).name != "channels":
        return nothing(TITLE, NO_JOINT)
    if str(job.frame.rail_ends) == "moment":
        return _Welded(job).svg()
    if job.connections is None or job.connections.clip is None:
        return nothing(TITLE, NO_CLIP)
    return _Clipped(job).svg()


@dataclass(frozen=True)
class _Joint:
    """Sizes of post and rail, inches, and what both kinds of joint share."""

    job: Job

    @property
    def given(self) -> Any:
        """What the job gives of its connections."""
        return self.job.connections

    notes = ("",)
    section_name = ""

    def _cell(self, shape: str, column: str) -> Value:
        return section(shape).cell(shape, column, column)

    @cached_property
    def post(self) -> tuple[float, float, Value]:
        """Width along the rack, depth across it, wall."""
        shape = str(self.job.frame.post)
        return self._cell(shape, "B").m_as("in"), self._cell(shape, "H").m_as("in"), self._cell(shape, "t_des")

    @cached_property
    def r(self) -> Value:
        """Outside corner radius of the post."""
        return corner_radius(t=self.post[2])

    @cached_property
    def rail(self) -> dict[str, Value]:
        """Sizes of the rail by their symbols."""
        shape = str(self.job.frame.rail)
        found = {n: self._cell(shape, n) for n in ("d", "b_f", "t_w", "t_f")}
        toe = toe_thickness(t_f=found["t_f"], b_f=found["b_f"], t_w=found["t_w"], k_sl=SLOPE)
        return found | {"t_toe": toe, "s_p": flange_reach(b_f=found["b_f"], t_w=found["t_w"])}

    def _of_rail(self, *names: str) -> tuple[float, ...]:
        return tuple(self.rail[n].m_as("in") for n in names)

    @property
    def half(self) -> float:
        """Half of the length of rail shown."""
        return self.post[0] / 2 + BESIDE

    @property
    def tall(self) -> float:
        """Height of the front view."""
        return self._of_rail("d")[0] + 2 * STUB

    def section_size(self) -> tuple[float, float, float]:
        """Return the left end, the lower end and the height of the section [in]."""
        raise NotImplementedError

    def svg(self) -> str:
        left, low, high = self.section_size()
        wide = max(2 * self.half, 2 * -left)
        scale = trade_scale(12 * min((WIDTH - LEFT - RIGHT) / wide, (7.0 - 2 * (BELOW + NAME)) / (self.tall + high)))
        per = scale.inches / 12

        def draw(board: Board) -> None:
            board.title(TITLE, self.notes)
            lower = Paper(board, LEFT, BELOW, per, (-wide / 2, low))
            upper = Paper(board, LEFT, BELOW + high * per + NAME + BELOW, per, (-wide / 2, -self.tall / 2))
            for paper, z, name in ((upper, self.tall / 2, "Front view"), (lower, low + high, self.section_name)):
                paper.text(0, z, name, up=0.18, weight="bold")
            self.front(upper)
            self.section(lower)
            lower.scale_bar(scale, LEFT, 0.06, 12.0)

        return drawing(self.tall * per + high * per + 2 * (BELOW + NAME) + head(self.notes), draw)

    def front(self, paper: Paper) -> None:
        """Draw the front view."""
        raise NotImplementedError

    def section(self, paper: Paper) -> None:
        """Draw the section."""
        raise NotImplementedError

    def _post_and_rail(self, paper: Paper) -> None:
        """Draw the post behind the rail, in the front view."""
        B, (d,), top = self.post[0], self._of_rail("d"), self.tall / 2
        paper.box(-B / 2, -top, B, 2 * top, gid="post")
        for z in (-top, top):
            paper.broken_off(-B / 2, B / 2, z)
        paper.box(-self.half, -d / 2, 2 * self.half, d, zorder=3, lw=0.8, gid="rail")
        for u in (-self.half, self.half):
            paper.broken(u, -d / 2, d / 2)
        for u in (-B / 2, B / 2):
            paper.line([u, u], [-d / 2, d / 2], **HIDDEN)
        paper.uprights([-d / 2, d / 2], [shop(d)], -self.half, -0.3)


class _Welded(_Joint):
    """The toes of the rail welded to the face of the post."""

    notes = ("The toes of the rail face the post and are welded to it over the flat of its face; the web faces outward.",)
    section_name = "Section beside the post, the front to the right"

    @property
    def leg(self) -> Value | None:
        """Leg of the fillets, where the job gives it."""
        return self.given.rail_weld if self.given else None

    @property
    def flat(self) -> float:
        """Flat width of the post's face."""
        return self.post[0] - 2 * self.r.m_as("in")

    def section_size(self) -> tuple[float, float, float]:
        return -self.half, -self.tall / 2, self.tall

    def front(self, paper: Paper) -> None:
        self._post_and_rail(paper)
        d, t_f = self._of_rail("d", "t_f")
        w = self.leg.m_as("in") if self.leg is not None else 0.25
        for n, z in enumerate((-d / 2 - w, d / 2)):
            paper.box(-self.flat / 2, z, self.flat, w, fc=INK, lw=0.3, zorder=4, gid=f"weld {n + 1}")
        for z in (-d / 2 + t_f, d / 2 - t_f):
            paper.line([-self.half, self.half], [z, z], **HIDDEN)
        paper.chain([-self.flat / 2, self.flat / 2], [f"flat {shop(self.flat)}"], -self.tall / 2, 0.2)
        at = self.half + paper.real(0.3)
        words = (
            f"fillet {inches(self.leg)}, both toes,\n{self.given.electrode}"
            if self.leg is not None
            else ("fillet on both toes,\nleg not given in the job")
        )
        paper.callouts(at, [
            (self.post[0] / 2, self.tall / 2 - 0.5, f"post {self.job.frame.post}"),
            (self.flat / 2 - 0.3, d / 2 + w / 2, words),
            (self.half - 0.5, -0.6, f"rail {self.job.frame.rail},\nweb outward"),
        ])  # fmt: skip

    def section(self, paper: Paper) -> None:
        _, D, wall = self.post
        t, top = wall.m_as("in"), self.tall / 2
        for u in (-D / 2, D / 2 - t):
            paper.box(u, -top, t, 2 * top, **CUT)
        paper.box(-D / 2 + t, -top, D - 2 * t, 2 * top, lw=0.4)
        for z in (-top, top):
            paper.broken_off(-D / 2, D / 2, z)
        d, b_f, t_w, t_f, toe = self._of_rail("d", "b_f", "t_w", "t_f", "t_toe")
        root = 2 * t_f - toe
        half, web = d / 2, b_f - t_w
        ring = [
            (0, half), (0, half - toe), (web, half - root), (web, root - half), (0, toe - half), (0, -half), (b_f, -half),
            (b_f, half),
        ]  # fmt: skip
        paper.shape([(D / 2 + u, z) for u, z in ring], **{**CUT, "zorder": 3}, gid="channel")
        w = self.leg.m_as("in") if self.leg is not None else 0.25
        for side in (1, -1):
            corner = [(D / 2, side * half), (D / 2 + w, side * half), (D / 2, side * (half + w))]
            paper.shape(corner[::side], fc=INK, lw=0.3, zorder=5)
        at = self.half + paper.real(0.3)
        paper.callouts(at, [
            (D / 2 + w / 2, half + w / 3, f"fillet {inches(self.leg)}" if self.leg is not None else "fillet"),
            (D / 2 + 0.1, half - toe / 2, f"toe {toe:.2f} in., faces the post"),
            (D / 2 + b_f, 0.3, "web outward: equipment\nlies flat on it"),
            (D / 2 - t / 2, -top + 0.4, f"wall of the post {t:.3f} in."),
        ])  # fmt: skip


class _Clipped(_Joint):
    """The web of the rail bolted to a clip on the side of the post."""

    notes = ("The web of the rail lies on the post and the clip; the toes face outward and the equipment bears on them.",)
    section_name = "Section through the bolts, from above, the front below"

    def section_size(self) -> tuple[float, float, float]:
        D, (b_f,) = self.post[1], self._of_rail("b_f")
        return -self.half, -D / 2 - b_f, D + b_f

    @cached_property
    def sizes(self) -> tuple[float, float, float, float, float]:
        """Spacing, edge distance, thickness, leg and length of the clip."""
        c = self.given.clip
        s, a, t, w, l = (v.m_as("in") for v in (c.spacing, c.edge, c.thickness, c.weld, c.length))
        return s, a, t, w, l

    @property
    def bolt(self) -> float:
        """Diameter of the bolts."""
        return float(self.given.bolt.diameter.m_as("in"))

    def front(self, paper: Paper) -> None:
        self._post_and_rail(paper)
        B, (d, t_f), (s, a, _, _, l) = self.post[0], self._of_rail("d", "t_f"), self.sizes
        for z in (-d / 2 + t_f, d / 2 - t_f):
            paper.line([-self.half, self.half], [z, z], lw=0.4)
        paper.line([B / 2, B / 2 + 2 * a, B / 2 + 2 * a, B / 2], [-l / 2, -l / 2, l / 2, l / 2], **HIDDEN)
        n = int(self.given.clip.bolts)
        rows = [(k - (n - 1) / 2) * s for k in range(n)]
        flat = table("bolts").cell(round(self.bolt, 6), "F").m_as("in") / math.sqrt(3)
        for k, z in enumerate(rows, 1):
            hexagon = [(B / 2 + a + flat * math.cos(i * math.pi / 3), z + flat * math.sin(i * math.pi / 3)) for i in range(6)]
            paper.shape(hexagon, zorder=4, gid=f"bolt {k}")
            paper.circle(B / 2 + a, z, self.bolt / 2, fc="0.6", lw=0.4, zorder=5)
        if n > 1:
            paper.uprights(rows, [shop(s)] * (n - 1), -self.half, -0.62)
        paper.chain([B / 2, B / 2 + a, B / 2 + 2 * a], [shop(a), shop(a)], -self.tall / 2, 0.2)
        c, at = self.given, self.half + paper.real(0.3)
        clip = " x ".join((inches(c.clip.thickness), shop(2 * a), inches(c.clip.length)))
        grade = words_of(str(c.bolt.grade), str(self.job.codes.steel))
        made = f"{n} bolts {inches(c.bolt.diameter)},\n{grade},\n{c.bolt.installation}"
        paper.callouts(at, [
            (B / 2, self.tall / 2 - 0.5, f"post {self.job.frame.post}"),
            (B / 2 + 2 * a, l / 2 - 0.2, f"clip behind the web,\n{clip}"),
            (B / 2 + a + self.bolt / 2, rows[0], made),
            (self.half - 0.3, -d / 2 + t_f / 2, f"rail {self.job.frame.rail},\ntoes outward"),
        ])  # fmt: skip

    def section(self, paper: Paper) -> None:
        (B, D, _), (b_f, t_w), (_, a, t_p, w, _) = self.post, self._of_rail("b_f", "t_w"), self.sizes
        face, r = -D / 2, self.r.m_as("in")
        paper.shape(*figure(str(self.job.frame.post)), **CUT, gid="post section")
        paper.box(-self.half, face - b_f, 2 * self.half, b_f - t_w, lw=0.5, gid="flange")
        paper.box(-self.half, face - t_w, 2 * self.half, t_w, **{**CUT, "zorder": 3}, gid="web")
        for u in (-self.half, self.half):
            paper.broken(u, face - b_f, face)
        paper.box(B / 2, face, 2 * a, t_p, **{**CUT, "zorder": 3}, gid="clip")
        u, head_ = B / 2 + a, self.bolt * 0.65
        paper.box(u - self.bolt / 2, face - t_w - head_, self.bolt, t_w + t_p + 2 * head_, zorder=4, gid="bolt section")
        for z in (face - t_w - head_, face + t_p):
            paper.box(u - self.bolt * 0.83, z, self.bolt * 1.66, head_, zorder=4)
        inner = face + t_p
        paper.shape([(B / 2 - self._back(inner - face, r), inner), (B / 2 + w, inner), (B / 2, inner + w),
                     (B / 2 - self._back(inner + w - face, r), inner + w)], fc=INK, lw=0.3, zorder=5)  # fmt: skip
        paper.shape(self._groove(B / 2, face, min(t_p, r), r), fc=INK, lw=0.3, zorder=5)
        c, at = self.given, self.half + paper.real(0.3)
        gap = corner_gap(r=self.r, t_p=c.clip.thickness)
        made = leg_made(c.clip.weld, gap).m_as("in")
        words = f"fillet {inches(c.clip.weld)} effective,\ngap {gap.m_as('in'):.2f} in.: leg {made:.2f} in., {c.electrode}"
        throat = flare_throat(k_e=K_FLARE, r=self.r).m_as("in")
        paper.callouts(at, [
            (B / 2 + w / 3, inner + w / 3, words),
            (B / 2 + 2 * a, face + t_p / 2, f"clip {inches(c.clip.thickness)}, flush\nwith the face of the post"),
            (B / 2 - 0.05, face + 0.08, f"flare-bevel groove, flush,\nthroat {throat:.2f} in."),
            (self.half - 0.4, face - b_f, f"toes {self.rail['s_p'].m_as('in'):.2f} in. before the web:\nequipment bears here"),
        ])  # fmt: skip
        paper.uprights([face - b_f, face], [shop(b_f)], -self.half, -0.3)

    def _back(self, y: float, r: float) -> float:
        """Return how far the post's corner stands back at ``y`` behind its face."""
        return r - math.sqrt(max(r**2 - max(r - y, 0.0) ** 2, 0.0))

    def _groove(self, side: float, face: float, deep: float, r: float) -> Ring:
        steps = [deep * k / 12 for k in range(13)]
        return [(side, face + deep), (side, face), *((side - self._back(y, r), face + y) for y in steps)]

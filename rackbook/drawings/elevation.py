"""Elevations of the rack, to scale, legible in black-and-white print."""

from __future__ import annotations

import io
from typing import Literal

from rackbook.job import Job

Face = Literal["front", "back", "end"]
#: Paper width of a drawing, inches.
WIDTH = 6.9
INK, GREY, PALE = "black", "0.45", "0.9"
#: How each kind of equipment is filled: told apart by tone and hatch, not by color.
FILL = {
    "panelboard": ("0.93", ""), "disconnect": ("1.0", ""), "transformer": ("0.85", "///"), "enclosure": ("1.0", ""),
    "motor starter": ("0.95", ""), "wireway": ("0.80", ""), "lighting": ("1.0", ""),
}  # fmt: skip


def elevation(job: Job, face: Face) -> str:
    """Return an elevation as SVG text: ``front``, ``back``, or ``end`` (seen from the right).

    The same job gives the same bytes.
    """
    import matplotlib as mpl
    from matplotlib.figure import Figure

    seen = _End(job) if face == "end" else _Side(job, face)
    span, top = seen.span, seen.top + 2.2
    margin = 2.6
    scale = min(WIDTH / (span + 2 * margin), 4.6 / (top + 2.6))
    with mpl.rc_context(
        {
            "svg.hashsalt": "rackbook",
            "svg.fonttype": "path",
            "font.family": "DejaVu Sans",
            "font.size": 7,
            "hatch.linewidth": 0.4,
        }
    ):
        figure = Figure(figsize=(WIDTH, (top + 2.6) * scale))
        axes = figure.add_axes((0, 0, 1, 1))
        half = WIDTH / scale / 2
        axes.set(xlim=(seen.left + span / 2 - half, seen.left + span / 2 + half), ylim=(-2.6, top), aspect="equal")
        axes.axis("off")
        seen.draw(axes)
        out = io.StringIO()
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    return out.getvalue()


def _feet(value) -> float:
    return float(value.m_as("ft"))


def _ground(axes, left: float, right: float) -> None:
    axes.plot([left, right], [0, 0], color=INK, lw=1.2)
    x = left
    while x < right:
        axes.plot([x, x - 0.25], [0, -0.25], color=GREY, lw=0.4)
        x += 0.5


def _dimension(axes, a: tuple[float, float], b: tuple[float, float], text: str, upright: bool = False) -> None:
    axes.annotate("", a, b, arrowprops={"arrowstyle": "<->", "lw": 0.5, "color": INK, "shrinkA": 0, "shrinkB": 0})
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    axes.text(x, y, text, ha="center", va="center", rotation=90 if upright else 0, backgroundcolor="white", fontsize=7)


def _box(axes, x: float, z: float, w: float, h: float, **how) -> None:
    from matplotlib.patches import Rectangle

    axes.add_patch(Rectangle((x, z), w, h, **{"lw": 0.6, "ec": INK, "fc": "white", **how}))


def _tag(axes, tag: str, x: float, z: float, w: float, h: float) -> None:
    """Write a tag on its box, upright or turned, or beside it where the box is too small to carry it."""
    size, letter = 6, 0.26
    tag = tag if len(tag) <= 14 else tag[:13] + "…"
    how = {"fontsize": size, "ha": "center", "va": "center", "zorder": 4, "parse_math": False}
    if letter * len(tag) <= w:
        axes.text(x, z, tag, bbox={"fc": "white", "ec": "none", "pad": 0.6}, **how)
    elif letter * len(tag) <= h:
        axes.text(x, z, tag, rotation=90, bbox={"fc": "white", "ec": "none", "pad": 0.6}, **how)
    else:
        axes.plot([x, x + 0.35], [z - h / 2, z - h / 2 - 0.35], color=INK, lw=0.4, zorder=4)
        axes.text(x + 0.4, z - h / 2 - 0.45, tag, **{**how, "ha": "left"})


class _Side:
    """The rack seen from the front or the back."""

    def __init__(self, job: Job, face: Face) -> None:
        self.job, self.face = job, face
        self.span = sum(_feet(b) for b in job.frame.bays)
        self.left, self.top = 0.0, _feet(job.frame.height)
        if job.frame.canopy:
            self.top = max(self.top, _feet(job.frame.canopy.height))

    def x(self, x: float) -> float:
        """Return the place on paper; from the back, left and right change places."""
        return x if self.face == "front" else self.span - x

    def draw(self, axes) -> None:
        """Draw posts, rails, equipment with tags, dimensions and the grade line."""
        job, width = self.job, 0.4
        _ground(axes, -2.2, self.span + 2.2)
        lines, x = [0.0], 0.0
        for bay in job.frame.bays:
            x += _feet(bay)
            lines.append(x)
        pier, projection = _feet(job.piers.diameter), _feet(job.piers.projection)
        for x in lines:
            _box(axes, self.x(x) - pier / 2, -1.0, pier, 1.0 + projection, fc=PALE, lw=0.5, ls=(0, (3, 2)))
            _box(axes, self.x(x) - width / 2, projection, width, _feet(job.frame.height) - projection, fc="0.75")
        for rail in job.frame.rails:
            behind = rail.face not in (self.face, "center")
            z = _feet(rail.height)
            _box(
                axes,
                -0.3,
                z - 0.1,
                self.span + 0.6,
                0.2,
                fc="0.88",
                ls=":" if behind else "-",
                lw=0.5,
                zorder=0.5 if behind else 2,
            )
        if job.frame.canopy:
            c = job.frame.canopy
            _box(axes, (self.span - _feet(c.length)) / 2, _feet(c.height) - 0.15, _feet(c.length), 0.15, fc="0.8")
        for item in job.equipment:
            if item.face != self.face:
                continue
            w, h = _feet(item.width), _feet(item.height)
            x, z = self.x(_feet(item.x)), _feet(item.z)
            tone, hatch = FILL.get(str(item.kind), ("1.0", ""))
            _box(axes, x - w / 2, z - h / 2, w, h, fc=tone, hatch=hatch, zorder=3)
            _tag(axes, str(item.tag), x, z, w, h)
        for a, b, bay in zip(lines, lines[1:], job.frame.bays, strict=False):
            _dimension(axes, (self.x(a), -1.6), (self.x(b), -1.6), bay.text())
        _dimension(axes, (-1.5, 0), (-1.5, _feet(job.frame.height)), job.frame.height.text(), upright=True)
        axes.text(self.span / 2, self.top + 1.2, f"{self.face.capitalize()} elevation", ha="center", fontsize=9, weight="bold")
        axes.text(
            self.span / 2,
            self.top + 0.6,
            "Piers dashed, not shown to their full depth; rails of the other face dotted",
            ha="center",
            fontsize=6,
        )


class _End:
    """The rack seen from its right end: front to the left of the posts' plane is not shown mirrored, front is right."""

    def __init__(self, job: Job) -> None:
        self.job = job
        deepest = max((_feet(e.depth) + _feet(e.offset) for e in job.equipment), default=1.0)
        depth = _feet(job.frame.depth)
        self.span = 2 * deepest + depth + 1.5
        self.left = -self.span / 2
        self.top = _feet(job.frame.height)
        if job.frame.canopy:
            self.top = max(self.top, _feet(job.frame.canopy.height))

    def draw(self, axes) -> None:
        """Draw posts, rails and the outlines of the equipment, front on the right."""
        job = self.job
        _ground(axes, self.left - 1.5, -self.left + 1.5)
        depth, projection = _feet(job.frame.depth), _feet(job.piers.projection)
        pier = _feet(job.piers.diameter)
        for y in {-depth / 2, depth / 2}:
            _box(axes, y - pier / 2, -1.0, pier, 1.0 + projection, fc=PALE, lw=0.5, ls=(0, (3, 2)))
            _box(axes, y - 0.2, projection, 0.4, _feet(job.frame.height) - projection, fc="0.75")
        for item in job.equipment:
            sign = 1 if item.face == "front" else -1
            d, h = _feet(item.depth), _feet(item.height)
            near = sign * (depth / 2 + 0.35 + _feet(item.offset))
            _box(axes, min(near, near + sign * d), _feet(item.z) - h / 2, d, h, fc="none", lw=0.5)
        for rail in job.frame.rails:
            signs = {"front": (1,), "back": (-1,), "center": (0,)}[str(rail.face)]
            for s in signs:
                _box(axes, s * (depth / 2 + 0.27) - 0.08, _feet(rail.height) - 0.2, 0.16, 0.4, fc="0.6")
        _dimension(
            axes, (self.left - 0.8, 0), (self.left - 0.8, _feet(job.frame.height)), job.frame.height.text(), upright=True
        )
        axes.text(0, self.top + 1.2, "End elevation", ha="center", fontsize=9, weight="bold")
        axes.text(-self.left / 2, -1.6, "front", ha="center")
        axes.text(self.left / 2, -1.6, "back", ha="center")

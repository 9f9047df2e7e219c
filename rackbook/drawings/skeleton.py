"""The frame as lines on its elevation, one view a face: what moments and ratios are drawn on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rackbook.structure.frame import Frame

from .board import GREY, NOTE, SMALL
from .paper import Paper


@dataclass(frozen=True)
class Face:
    """One view, seen from the front.

    Attributes:
        title: What is shown.
        shown: Places of the members this view is for, in the order of ``frame.members``.
        behind: Places of members drawn faintly, for orientation.

    """

    title: str
    shown: tuple[int, ...]
    behind: tuple[int, ...] = ()


def faces(frame: Frame) -> tuple[Face, ...]:
    """Return the views that together show every post, rail and brace once; ties are seen on end and left out."""
    words, pieces = frame.analysis.task.layout, frame.analysis.solved.built.pieces
    double = len(words.rows) > 1
    found: dict[str, list[int]] = {"front": [], "back": []}
    posts: dict[str, list[int]] = {"front": [], "back": []}
    for n, piece in enumerate(pieces):
        if piece.part == "post":
            row = words.rows[piece.of[1]] or "front"
            posts[row].append(n)
            found[row].append(n)
        elif piece.part == "rail":
            found["back" if words.faces[piece.of[0]] == "back" else "front"].append(n)
        elif piece.part == "brace":
            found["back" if words.braces[piece.of[0]].row == "back" else "front"].append(n)
    views = []
    for side, shown in found.items():
        if double:
            views.append(Face(f"{side.capitalize()} row, seen from the front", tuple(shown)))
        elif shown and side == "back":
            views.append(Face("Rails of the back, seen from the front", tuple(shown), tuple(posts["front"])))
        elif shown:
            views.append(Face("Posts and rails of the front", tuple(shown)))
    return tuple(views)


def line_of(frame: Frame, member: int) -> np.ndarray:
    """Return the two ends of a member in its elevation, along the rack and up [ft]."""
    built = frame.analysis.solved.built
    elements = built.pieces[member].elements
    ends = [built.model.i[elements[0]], built.model.j[elements[-1]]]
    return built.model.xyz[ends][:, [0, 2]] / 12


def support(paper: Paper, u: float, z: float, fixed: bool) -> None:
    """Draw the foot of a post: hatched where it is fixed, on a triangle where it can turn."""
    r, gap = paper.real(0.06), float("nan")
    if not fixed:
        paper.shape([(u, z), (u + r, z - 1.4 * r), (u - r, z - 1.4 * r)], lw=0.6)
        z -= 1.4 * r
    paper.line([u - r, u + r], [z, z], lw=1.2)
    steps = [u - r + k * r / 2 for k in range(5)]
    paper.line([a for s in steps for a in (s, s - r / 2, gap)], [z, z - r / 2, gap] * len(steps), lw=0.4, color=GREY)


def ground(paper: Paper, frame: Frame, face: Face) -> tuple[int, ...]:
    """Draw the members behind a face faintly, and the feet of all posts; return the places of the posts."""
    for n in face.behind:
        line = line_of(frame, n)
        paper.line(line[:, 0].tolist(), line[:, 1].tolist(), lw=0.4, color=GREY, ls=(0, (4, 3)), zorder=1)
    posts = tuple(n for n in (*face.shown, *face.behind) if frame.members[n].part == "post")
    feet(paper, frame, posts)
    return posts


def feet(paper: Paper, frame: Frame, posts: tuple[int, ...]) -> None:
    """Draw the feet of some posts with their marks below."""
    fixed = frame.analysis.task.layout.fixed
    for n in posts:
        u, z = line_of(frame, n)[0].tolist()
        support(paper, u, z, fixed)
        mark(paper, frame.members[n].mark, u, z)


def mark(paper: Paper, words: str, u: float, z: float) -> None:
    """Write the mark of a post below its foot, in short where there is no room."""
    spots = [(u, z, 0.0, -0.17), (u, z, 0.0, -0.27), (u, z, 0.1, -0.17)]
    short = words.removeprefix("post ").split(" ")[0]
    if not paper.place(words, spots, size=NOTE):
        paper.place(short, spots, size=SMALL)


def rail_levels(paper: Paper, frame: Frame, shown: tuple[int, ...], u: float) -> None:
    """Write the marks of the rails at their heights, right of the rack."""
    levels: dict[float, list[str]] = {}
    for n in shown:
        if frame.members[n].part == "rail" and frame.members[n].mark.endswith(" bay 1"):
            z = float(line_of(frame, n)[0, 1])
            levels.setdefault(z, []).append(frame.members[n].mark.removesuffix(" bay 1").removeprefix("rail "))
    paper.levels(u, {z: f"rail{'s' * (len(n) > 1)} {', '.join(n)}" for z, n in levels.items()})

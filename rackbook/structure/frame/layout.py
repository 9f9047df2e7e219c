"""What the frame is made of, in words, and the numbers it rests on, each a Value of the job or of its loads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.loads.geometry import Parts
from rackbook.loads.members import grout, post_lines, post_rows, rail_width, rail_y
from rackbook.loads.outlines import outline
from rackbook.trace import Source, Value, given
from rackbook.trace.columns import column

from ..steel import E as E_STEEL
from ..steel import G as G_STEEL
from .sections import Section, section_of

#: Stiff links from the middle of a post to the middle of a rail, and what they stand for.
LINK = Source("assumption", "stiff link from post to rail; ten times as stiff, no governing action changes by 1 %")
LINK_A, LINK_I = given(100.0, "in**2", LINK, "A_link"), given(1000.0, "in**4", LINK, "I_link")


@dataclass(frozen=True)
class BraceWords:
    """A brace: whether its ends are given, its row, its section's place in the columns."""

    placed: bool
    row: str
    section: int


@dataclass(frozen=True)
class Layout:
    """The frame in words: what does not change when a number does.

    Attributes:
        rows: Words of the rows of posts, ``("",)`` or ``("front", "back")``.
        faces: Face of every rail.
        items: Tag and face of every piece of equipment.
        sections: Shapes in the order of the section columns.
        post, rail: Places of the posts' and the rails' section.
        ties: Place of each tie's section.
        braces: Braces in the order of the job.
        flat_rails: Whether the rails' depth lies across (strut).
        fixed: Whether bases are fixed.
        moment: Whether rail ends (and ties) pass moments.
        canopy: Whether there is one.

    """

    rows: tuple[str, ...]
    faces: tuple[str, ...]
    items: tuple[tuple[str, str], ...]
    sections: tuple[str, ...]
    post: int
    rail: int
    ties: tuple[int, ...]
    braces: tuple[BraceWords, ...]
    flat_rails: bool
    fixed: bool
    moment: bool
    canopy: bool


def layout(job: Any) -> Layout:
    """Return the frame of a job in words.

    Raises:
        LookupFailed: A shape is in no section table.

    """
    frame = job.frame
    double = frame.depth.magnitude > 0
    shapes = list(
        dict.fromkeys(map(str, (frame.post, frame.rail, *(t.shape for t in frame.ties), *(b.shape for b in frame.braces))))
    )
    braces = tuple(
        BraceWords(b.from_ is not None, str(b.row) if b.row is not None else "", shapes.index(str(b.shape)))
        for b in frame.braces
    )
    return Layout(
        rows=tuple(word for word, _ in post_rows(job)),
        faces=tuple(str(r.face) for r in frame.rails),
        items=tuple((str(i.tag), str(i.face)) for i in job.equipment),
        sections=tuple(shapes),
        post=shapes.index(str(frame.post)),
        rail=shapes.index(str(frame.rail)),
        ties=tuple(shapes.index(str(t.shape)) for t in frame.ties) if double else (),
        braces=braces,
        flat_rails=outline(str(frame.rail)).family == "strut",
        fixed=str(frame.base) == "fixed",
        moment=str(frame.rail_ends) == "moment",
        canopy=frame.canopy is not None,
    )


def geometry(job: Any, of: Layout, parts: Parts) -> dict[str, Value]:
    """Return the numbers the frame rests on, by name; those of a kind as columns.

    Units: heights and places along the rack in ft, across it in in., sections in inches, moduli in ksi.
    """
    frame = job.frame
    sections: dict[str, Section] = {shape: section_of(shape) for shape in of.sections}
    found = {
        "x_post": column("x_post", {f"post line {n}": x for n, x in enumerate(post_lines(job), 1)}, "ft"),
        "y_row": column("y_row", {row or "posts": y for row, y in post_rows(job)}, "in"),
        "z_top": frame.height.to("ft"),
        "z_pier": job.piers.projection.to("in"),
        "t_g": grout(job).to("in"),
        "z_rail": column("z_rail", {f"rail {n}": r.height for n, r in enumerate(frame.rails, 1)}, "ft"),
        "y_rail": column("y_rail", {f"rail {n}": rail_y(job, r.face) for n, r in enumerate(frame.rails, 1)}, "in"),
        "b_rail": rail_width(str(frame.rail)).to("in"),
        "D_post": sections[str(frame.post)].depth.to("in"),
        **{
            name: column(name, {shape: getattr(s, name) for shape, s in sections.items()}, f"in**{2 if name == 'A' else 4}")
            for name in ("A", "I_x", "I_y", "J")
        },
        "E": E_STEEL, "G": G_STEEL, "A_link": LINK_A, "I_link": LINK_I,
    }  # fmt: skip
    if of.ties:
        found["z_tie"] = column("z_tie", {f"tie {n}": t.height for n, t in enumerate(frame.ties, 1)}, "ft")
    placed = {f"brace {n}": b for n, b in enumerate(frame.braces, 1) if b.from_ is not None}
    for end in ("from_", "to") if placed else ():
        for axis, name in (("x", "x"), ("z", "height")):
            found[f"{axis}_{end.strip('_')}"] = column(
                "x", {m: getattr(getattr(b, end), name) for m, b in placed.items()}, "ft"
            )
    if frame.splices:
        found["x_splice"] = column("x_s", {f"splice {n}": x for n, x in enumerate(frame.splices, 1)}, "ft")
    if of.items:
        found |= {f"{a}_part": getattr(parts, a).to("ft") for a in ("x", "z", "w", "h")}
    return found

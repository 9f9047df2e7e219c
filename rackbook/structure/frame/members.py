"""Members of the frame as the strength checks need them: shape, steel, lengths between supports, effective lengths."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.loads.members import members as listed
from rackbook.trace import Source, Value, formula, given, largest
from rackbook.trace.maths import sqrt

from ..steel import E as E_STEEL
from .built import Piece
from .second_order import K_BETWEEN, K_CANTILEVER, K_HELD, Sway, story_factor
from .sections import Section, material_of, section_of, steel

C_B = given(1.0, "", Source("clause", "AISC 360", "16 and 22", "F1, permitted for all moments", "memory"), "C_b")
#: Share of the posts' height a brace must span to hold the sway of its row.
SPAN = 0.5


@formula(Source("derivation", "distance of its ends"), L="ft")
def brace_span(x_1, x_2, z_1, z_2):
    """Return the length of a brace between its ends."""
    L = sqrt((x_2 - x_1) ** 2 + (z_2 - z_1) ** 2)
    return L


@dataclass(frozen=True)
class FrameMember:
    """One member of the frame.

    Attributes:
        mark: ``post 1``, ``rail 3 bay 2``, ``brace 1``, ``tie 1 at post 2``.
        part: ``post``, ``rail``, ``brace`` or ``tie``.
        shape, family: Designation and the table that holds it.
        material: Row of the table of materials.
        F_y, F_u: Its strengths.
        section: Its properties.
        L: Length.
        K_x, K_y: Effective length factors for bending about the section's x axis (depth works) and y axis.
        L_x, L_y: Lengths between points of support for these.
        L_b: Length between points held against lateral-torsional buckling.
        C_b: Factor for the shape of the moments.
        stations: Places of its stations in the arrays of actions.
        flat: Whether the section's depth lies across the rack and not upright (strut rails).

    """

    mark: str
    part: str
    shape: str
    family: str
    material: str
    F_y: Value
    F_u: Value
    section: Section
    L: Value
    K_x: Value
    K_y: Value
    L_x: Value
    L_y: Value
    L_b: Value
    C_b: Value
    stations: tuple[int, ...]
    flat: bool = False


def held_along(job: Any, clear: float) -> bool:
    """Return whether braces hold the sway along the rack: one in every row that spans half the posts' height [ft]."""
    frame = job.frame
    rows = ("front", "back") if frame.depth.magnitude > 0 else ("",)
    for row in rows:
        of_row = [b for b in frame.braces if b.from_ is not None and (row in ("", str(b.row or "front")))]
        if not any(abs(b.to.height.m_as("ft") - b.from_.height.m_as("ft")) >= SPAN * clear for b in of_row):
            return False
    return True


def effective_length(held: bool, I: Value, L: Value, posts: int, sway: Sway) -> Value:
    """Return K of the posts in one direction: 1.0 where braces hold the sway, else not below that of a cantilever.

    Above that it is what the rack's own stiffness gives (pinned bases, soft rails), the posts taken as alike.
    """
    if held:
        return K_HELD
    n = given(float(posts), "", Source("derivation", "number of posts"), "n")
    own = story_factor(E=E_STEEL, I=I, L=L.to("in"), n=n, P_e_story=sway.P_e_story)
    return largest("K", {"Table C-A-7.1, cantilever": K_CANTILEVER, f"stiffness of the rack {sway.words}": own})


def frame_members(
    job: Any, pieces: tuple[Piece, ...], stations: tuple[tuple[int, ...], ...], sways: dict[str, Sway]
) -> tuple[FrameMember, ...]:
    """Return the members of a job's frame.

    Args:
        job: The job.
        pieces: Members of the model, in the order of the result.
        stations: Stations of each.
        sways: Sway of the rack ``along`` and ``across``.

    """
    frame, lengths = job.frame, {m.mark: m.length for m in listed(job)}
    clear = sways["along"].L.m_as("ft")
    shapes = {"post": str(frame.post), "rail": str(frame.rail)}
    count = sum(p.part == "post" for p in pieces)
    shared: dict[str, tuple[Any, ...]] = {}
    found = []
    for piece, at in zip(pieces, stations, strict=True):
        part = piece.part
        shape = shapes.get(part) or str((frame.ties if part == "tie" else frame.braces)[piece.of[0]].shape)
        of = section_of(shape)
        material = material_of(job, part, of.family)
        F_y, F_u = steel(material)
        if part == "post":
            if "post" not in shared:
                L = lengths[piece.mark].to("in")
                K_x = effective_length(False, of.I_x, L, count, sways["across"])
                K_y = effective_length(held_along(job, clear), of.I_y, L, count, sways["along"])
                shared["post"] = L, K_x, K_y
            L, K_x, K_y = shared["post"]
        else:
            K_x = K_y = K_BETWEEN
            if part == "rail":
                L = frame.bays[piece.of[1]].to("in")
            elif part == "tie":
                L = frame.depth.to("in")
            else:
                brace = frame.braces[piece.of[0]]
                L = brace_span(x_1=brace.from_.x, x_2=brace.to.x, z_1=brace.from_.height, z_2=brace.to.height).to("in")
        flat = part == "rail" and of.family == "strut"
        found.append(
            FrameMember(piece.mark, part, shape, of.family, material, F_y, F_u, of, L, K_x, K_y, L, L, L, C_B, at, flat)
        )
    return tuple(found)

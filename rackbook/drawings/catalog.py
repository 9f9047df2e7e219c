"""The drawings of a job by name: what each is called, what it is made of, and which keys of the job it rests on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rackbook.trace import LookupFailed
from rackbook.trace.errors import nearest

from .base_detail import base_plan, base_section
from .deformed import deformed
from .joint_detail import joint_detail
from .lifting import lifting_diagram
from .moments import moments, place_of
from .pier_detail import pier_detail, pier_plan
from .utilization import utilization

if TYPE_CHECKING:
    from rackbook.book import Book

#: Keys of the job that a drawing of the foot rests on, and those that results of the frame rest on.
FOOT = ("frame", "connections", "anchors", "piers", "site")
ALL = ("codes", *FOOT, "equipment", "allowances", "lifting", "shop")


@dataclass(frozen=True)
class Drawing:
    """A drawing.

    Attributes:
        title: What it is called in a caption.
        make: Makes it of a computed job and of a combination in words, blank for the one that governs.
        keys: Keys of the job it rests on.
        chosen: Whether it takes a combination.

    """

    title: str
    make: Callable[[Book, str], str]
    keys: tuple[str, ...] = ALL
    chosen: bool = False

    def rests_on(self, book: Book) -> str:
        """Return a text that changes whenever the drawing may."""
        return repr([getattr(book.job, key) for key in self.keys])


def _moments(way: str) -> Callable[[Book, str], str]:
    def make(book: Book, combination: str) -> str:
        frame, name = book.results["frame"], book.results["members"].set_name
        return moments(frame, way, name, place_of(frame, name, combination) if combination else None)

    return make


DRAWINGS = {
    "deformed across": Drawing(
        "Deformed shape, drift across the rack", lambda b, c: deformed(b.results["frame"], c), chosen=True
    ),
    "deformed along": Drawing(
        "Deformed shape, drift along the rack", lambda b, c: deformed(b.results["frame"], c, along=True), chosen=True
    ),
    "moments across": Drawing("Bending across the rack", _moments("across"), chosen=True),
    "moments along": Drawing("Bending in the plane of the elevation", _moments("along"), chosen=True),
    "utilization": Drawing("Utilization of the members", lambda b, _: utilization(b.results["frame"], b.results["members"])),
    "joint": Drawing("Joint of rail and post", lambda b, _: joint_detail(b.job), ("codes", *FOOT)),
    "base plan": Drawing("Base plate and anchors, plan", lambda b, _: base_plan(b.job), FOOT),
    "base section": Drawing("Base plate and anchors, section", lambda b, _: base_section(b.job), FOOT),
    "pier": Drawing("Pier, upright and cut across", lambda b, _: pier_detail(b.job), FOOT),
    "pier plan": Drawing("Piers, plan", lambda b, _: pier_plan(b.job), FOOT),
    "lifting": Drawing("Lifting, seen from the front", lambda b, _: lifting_diagram(b.job, b.results["lifting"])),
}


def drawing_of(name: str, combination: str = "") -> Drawing:
    """Return a drawing by its name.

    Raises:
        LookupFailed: There is none, or it shows no combination; what there is is named.

    """
    if name not in DRAWINGS:
        raise LookupFailed(f"There is no drawing '{name}'.{nearest(name, DRAWINGS)} Drawings: {', '.join(DRAWINGS)}.")
    if combination and not DRAWINGS[name].chosen:
        taking = ", ".join(n for n, d in DRAWINGS.items() if d.chosen)
        raise LookupFailed(f"The drawing '{name}' is of no single combination. Those that are: {taking}.")
    return DRAWINGS[name]

"""Section properties and steels of the members, under one set of names whatever table the shape is in."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import Any

from rackbook.loads.outlines import outline
from rackbook.tables import section, table
from rackbook.trace import Source, Value, formula

#: Steel of each family of shapes where the job names none (a row of the table materials).
USUAL = {
    "hss": "A500 Gr C rectangular", "pipes": "A53 Gr B", "wide_flanges": "A992", "channels": "A36", "angles": "A36",
    "strut": "A1011 SS Gr 33",
}  # fmt: skip
#: Columns of I about the section's x axis (depth against bending), about its y axis, and of J.
_COLUMNS = {
    "hss": ("I_x", "I_y", "J"), "pipes": ("I", "I", "J"), "wide_flanges": ("I_x", "I_y", "J"),
    "channels": ("I_x", "I_y", "J"), "angles": ("I_x", "I_y", "J"), "strut": ("I_1", "I_2", ""),
}  # fmt: skip


@formula(Source("derivation", "open thin-walled section: sum of b t^3 / 3, with the developed width A / t"), J="in**4")
def open_torsion_constant(A, t):
    """Return the torsion constant of a folded open section."""
    J = A * t**2 / 3
    return J


@dataclass(frozen=True)
class Section:
    """Properties of a shape: area, inertia about the x axis (depth works) and the y axis, torsion constant, outside sizes."""

    shape: str
    family: str
    A: Value
    I_x: Value
    I_y: Value
    J: Value
    depth: Value
    width: Value


@functools.cache
def section_of(shape: str) -> Section:
    """Return the section properties of a shape.

    The x axis of strut is its axis 1, about which its depth d bends; a strut post or rail is taken as one open profile.

    Raises:
        LookupFailed: No table holds the shape.

    """
    of = section(shape)
    x, y, torsion = _COLUMNS[of.name]
    A = of.cell(shape, "A", "A")
    J = of.cell(shape, torsion, "J") if torsion else open_torsion_constant(A=A, t=of.cell(shape, "t", "t"))
    sizes = outline(shape)
    return Section(
        shape, of.name, A, of.cell(shape, x, "I_x"), of.cell(shape, y, "I_y"), J, sizes.depth.named("d"), sizes.width.named("b")
    )


@functools.cache
def steel(material: str) -> tuple[Value, Value]:
    """Return F_y and F_u of a row of the table of materials.

    Raises:
        LookupFailed: There is no such row, or it has no yield strength.

    """
    of = table("materials")
    return of.cell(material, "F_y", "F_y"), of.cell(material, "F_u", "F_u")


def material_of(job: Any, part: str, family: str) -> str:
    """Return the steel of a part (a row of the table materials): the job's, or the usual one of its family.

    Ties take the steel named for rails where they are of the rails' family.
    """
    named = job.frame.materials
    if named is not None:
        own = getattr(named, "rail" if part == "tie" else part, None)
        if own and (part != "tie" or family == outline(str(job.frame.rail)).family):
            return str(own)
    return USUAL[family]

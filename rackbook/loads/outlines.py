"""Outlines of shapes: weight a foot, outside depth and width, coated perimeter."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import Any

from rackbook.tables import section
from rackbook.trace import Source, Value, formula
from rackbook.trace.maths import pi

_OUTLINE = Source("derivation", "outline of the section, fillets left out")
_HSS = Source("derivation", "outline of the tube, outside corners of radius 2 t, both faces coated")


@formula(_HSS, s_out="in", s_inside="in", s="in")
def hss_perimeter(H, B, t_des):
    """Return the coated perimeter of a rectangular tube, outside and inside."""
    s_out = 2 * (H + B) - (16 - 4 * pi) * t_des
    s_inside = 2 * (H + B - 4 * t_des) - (8 - 2 * pi) * t_des
    s = s_out + s_inside
    return s


@formula(Source("derivation", "outline of the pipe, both faces coated"), s="in")
def pipe_perimeter(OD, ID):
    """Return the coated perimeter of a pipe, outside and inside."""
    s = pi * (OD + ID)
    return s


@formula(_OUTLINE, s="in")
def flanged_perimeter(d, b_f, t_w):
    """Return the perimeter of a channel or a wide flange."""
    s = 2 * d + 4 * b_f - 2 * t_w
    return s


@formula(_OUTLINE, s="in")
def angle_perimeter(d, b):
    """Return the perimeter of an angle."""
    s = 2 * (d + b)
    return s


@formula(Source("derivation", "two faces of a thin folded section"), s="in")
def folded_perimeter(A, t):
    """Return the coated perimeter of a cold-formed section."""
    s = 2 * A / t
    return s


@dataclass(frozen=True)
class Outline:
    """What the take-off needs of a shape: weight a foot, outside depth and width, coated perimeter, family of the table."""

    shape: str
    family: str
    weight: Value
    depth: Value
    width: Value
    perimeter: Value


#: Columns of depth and width by table, the perimeter's formula and the columns it takes.
_FAMILIES: dict[str, tuple[str, str, Any, tuple[str, ...]]] = {
    "hss": ("H", "B", hss_perimeter, ("H", "B", "t_des")),
    "pipes": ("OD", "OD", pipe_perimeter, ("OD", "ID")),
    "channels": ("d", "b_f", flanged_perimeter, ("d", "b_f", "t_w")),
    "wide_flanges": ("d", "b_f", flanged_perimeter, ("d", "b_f", "t_w")),
    "angles": ("b", "d", angle_perimeter, ("d", "b")),  # b is the longer leg, which stands upright
    "strut": ("d", "b", folded_perimeter, ("A", "t")),
}


@functools.cache
def outline(shape: str) -> Outline:
    """Return the outline of a shape of the section tables.

    Raises:
        LookupFailed: No table holds the shape; the nearest one is named.

    """
    table = section(shape)
    deep, wide, perimeter, needs = _FAMILIES[table.name]
    cells = {name: table.cell(shape, name, name) for name in {deep, wide, *needs}}
    return Outline(
        shape,
        table.name,
        table.cell(shape, "weight", "w_s"),
        cells[deep],
        cells[wide],
        perimeter(**{n: cells[n] for n in needs}),
    )

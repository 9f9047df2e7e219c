"""The foundation in rack.yaml: anchors and piers."""

from __future__ import annotations

from typing import Annotated

from rackbook.trace import Value

from .fields import Count, Measure, OneOf, Record, Words
from .text import Text

BarSize = Annotated[Text, Words(8)]
_GROUT = Measure("in", "t_g", ge=0, le=6)
_COVER = Measure("in", "c_c", ge=0.5, le=12)


class Washer(Record):
    """A square plate washer at the head of an anchor."""

    width: Annotated[Value, Measure("in", "w_w", gt=0, le=12)]
    thickness: Annotated[Value, Measure("in", "t_w", gt=0, le=3)]


class Anchors(Record):
    """Headed anchor rods of one base plate, in a rectangle: at its corners; of six and eight also at the middle of sides."""

    grade: Annotated[Text, OneOf("F1554 Gr 36", "F1554 Gr 55", "F1554 Gr 105")]
    diameter: Annotated[Value, Measure("in", "d_a", ge=0.375, le=3)]
    count: Annotated[int, Count((4, 6, 8))]
    spacing_x: Annotated[Value, Measure("in", "s_x", gt=0, le=60)]
    spacing_y: Annotated[Value, Measure("in", "s_y", gt=0, le=60)]
    embedment: Annotated[Value, Measure("in", "h_ef", gt=0, le=120)]
    washer: Washer | None = None
    grout: Annotated[Value, _GROUT] = _GROUT.assumed(0, "grout left blank: the plate stands on the concrete")
    grout_strength: Annotated[Value, Measure("psi", "f_g_prime", ge=1000, le=20000)] | None = None


class Bars(Record):
    """Vertical bars of a pier."""

    count: Annotated[int, Count(tuple(range(4, 41)))]
    size: BarSize


class Ties(Record):
    """Closed ties of a pier; ``top`` of them within 5 in. of its top."""

    size: BarSize
    spacing: Annotated[Value, Measure("in", "s_t", gt=0, le=24)]
    top: Annotated[int, Count((1, 2, 3, 4))] | None = None


class Exposure(Record):
    """Exposure classes of the concrete: freezing and thawing, sulfate, water, corrosion protection."""

    freezing: Annotated[Text, OneOf("F0", "F1", "F2", "F3")]
    sulfate: Annotated[Text, OneOf("S0", "S1", "S2", "S3")]
    water: Annotated[Text, OneOf("W0", "W1", "W2")]
    corrosion: Annotated[Text, OneOf("C0", "C1", "C2")]


class Footing(Record):
    """A spread footing in place of the drilled pier's depth: plan size, thickness, underside below grade."""

    length: Annotated[Value, Measure("ft", "L_f", gt=0, le=60)]
    width: Annotated[Value, Measure("ft", "B_f", gt=0, le=60)]
    thickness: Annotated[Value, Measure("ft", "h_f", gt=0, le=10)]
    depth: Annotated[Value, Measure("ft", "D_f", gt=0, le=20)]


class Piers(Record):
    """Concrete piers, one under each post: drilled, or standing on a footing; a square one by its side."""

    diameter: Annotated[Value, Measure("ft", "b", gt=0, le=12)]
    embedment: Annotated[Value, Measure("ft", "d", gt=0, le=60)]
    projection: Annotated[Value, Measure("in", "e", ge=0, le=48)]
    shape: Annotated[Text, OneOf("round", "square")] = Text("round")
    concrete: Annotated[Value, Measure("psi", "f_c_prime", ge=2500, le=10000)] | None = None
    bars: Bars | None = None
    ties: Ties | None = None
    cover: Annotated[Value, _COVER] = _COVER.assumed(3, "cover left blank: 3 in., concrete cast against earth")
    exposure: Exposure | None = None
    footing: Footing | None = None

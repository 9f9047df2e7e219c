"""equipment.csv and circuits.csv as typed data: each class is one row, each attribute one column."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from rackbook.trace import Value

from .fields import TAG, Count, Flag, Measure, OneOf, Record, Share, Words
from .text import Text

Tag = Annotated[Text, TAG]
Cell = Annotated[Text, Words(200)]
Phases = Annotated[int, Count((1, 3))]
Volts = Annotated[Value, Measure("V", "V_LL", ge=12, le=1000)]
Kva = Annotated[Value, Measure("kVA", "S", gt=0, le=5000, only=("kVA", "VA", "MVA"))]
#: Names the published tables list are checked against them, with the other rules between fields.
Name = Annotated[Text, Words(24)]

_OFFSET = Measure("in", "y_offset", ge=-24, le=48)
_IMPORTANCE = Measure("", "I_p", ge=1, le=1.5)


class Equipment(Record):
    """A piece of equipment on the rack; x and z are those of its center, sizes are outside sizes."""

    tag: Tag
    kind: Annotated[
        Text,
        OneOf(
            "panelboard", "disconnect", "transformer", "enclosure", "motor starter", "wireway", "lighting",
            "receptacle", "other",
        ),
    ]  # fmt: skip
    description: Cell
    face: Annotated[Text, OneOf("front", "back")]
    x: Annotated[Value, Measure("ft", "x", ge=0, le=300)]
    z: Annotated[Value, Measure("ft", "z", gt=0, le=40)]
    width: Annotated[Value, Measure("in", "w", gt=0, le=600)]
    height: Annotated[Value, Measure("in", "h", gt=0, le=240)]
    depth: Annotated[Value, Measure("in", "d", gt=0, le=96)]
    offset: Annotated[Value, _OFFSET] = _OFFSET.assumed(0, "offset left blank: the back of the item is at the rail's face")
    weight: Annotated[Value, Measure("lbf", "W", gt=0, le=20000)]
    weight_source: Annotated[
        Text,
        Words(
            120,
            r"(datasheet|measured|estimate)([ :,;].*)?",
            "Start with datasheet, measured or estimate, then say which.",
        ),
    ]
    section: Annotated[Text, OneOf("flat", "round")] = Text("flat")
    seismic_row: Cell | None = None
    importance: Annotated[Value, _IMPORTANCE] = _IMPORTANCE.assumed(1, "importance left blank: not a designated seismic system")
    voltage: Volts | None = None
    phases: Phases | None = None
    rating: Annotated[Value, Measure("A", "I_rating", gt=0, le=6000)] | None = None
    kva: Kva | None = None
    impedance: Annotated[Value, Measure("%", "Z_pct", gt=0, le=15, only=("%", "pct", "percent"))] | None = None
    secondary_voltage: Volts | None = None


class Circuit(Record):
    """A circuit: one set of conductors, or several alike in parallel, from one place to another."""

    tag: Tag
    from_: Tag = Field(alias="from")
    to: Tag
    to_kind: Annotated[Text, OneOf("rack", "field")] = Text("rack")
    kind: Annotated[Text, OneOf("feeder", "branch", "motor", "transformer")]
    voltage: Volts
    phases: Phases
    load: Annotated[Value, Measure("A", "I_load", gt=0, le=6000)] | None = None
    hp: Annotated[Value, Measure("hp", "P", gt=0, le=1000, only=("hp",))] | None = None
    kva: Kva | None = None
    continuous: Annotated[Value, Share()]
    power_factor: Annotated[Value, Measure("", "PF", gt=0.1, le=1)] | None = None
    length: Annotated[Value, Measure("ft", "L", gt=0, le=20000)]
    material: Annotated[Text, OneOf("copper", "aluminum")]
    insulation: Name
    size: Name | None = None
    sets: Annotated[int, Count(tuple(range(1, 13)))] = 1
    neutral: Annotated[Text, OneOf("none", "counted", "not counted")] = Text("none")
    terminal: Annotated[Value, Measure("degC", "T_terminal", ge=60, le=90)]
    marked_75: Annotated[bool, Flag()]
    ocpd: Annotated[Value, Measure("A", "I_ocpd", gt=0, le=6000)] | None = None
    ground: Name | None = None
    raceway: Tag | None = None
    raceway_kind: Annotated[Text, OneOf("EMT", "IMC", "RMC", "PVC40", "PVC80", "LFMC")] | None = None
    trade_size: Name | None = None
    nipple: Annotated[bool, Flag()] = False
    ambient: Annotated[Value, Measure("degC", "T_a", ge=-50, le=90)] | None = None
    roof_height: Annotated[Value, Measure("in", "h_roof", ge=0, le=120)] | None = None
    drop_limit: Annotated[Value, Measure("%", "VD_max", gt=0, le=20, only=("%", "pct", "percent"))] | None = None

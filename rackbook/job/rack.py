"""rack.yaml as typed data: each class is one level of keys, each attribute one key."""

from __future__ import annotations

from typing import Annotated

from rackbook.trace import Value

from .fields import Day, Line, Measure, Name, OneOf, Record, Title, Words
from .foundation import Anchors, Piers
from .site import Site
from .steelwork import Connections, Frame, Lifting
from .text import Text

NONE = Text("")

PERCENT = ("%", "pct", "percent")
_MAINTENANCE = Measure("lbf", "P_L", ge=0, le=5000)


class JobHead(Record):
    """Who, what and when: the words of the title block."""

    number: Name
    title: Title
    client: Title
    place: Title
    prepared: Name = NONE
    checked: Name = NONE
    revision: Annotated[Text, Words(12)]
    date: Annotated[Text, Day()]
    purpose: Line | None = None


class Codes(Record):
    """The code basis the engineer names; the local code and its authority stand above all of them."""

    loads: Annotated[Text, OneOf("ASCE/SEI 7-22", "ASCE/SEI 7-16")]
    electrical: Annotated[Text, OneOf("NFPA 70-2023", "NFPA 70-2020")]
    steel: Annotated[Text, OneOf("AISC 360-22", "AISC 360-16")] = Text("AISC 360-22")
    concrete: Annotated[Text, OneOf("ACI 318-19")] = Text("ACI 318-19")
    method: Annotated[Text, OneOf("LRFD", "ASD")] = Text("LRFD")
    building: Title
    authority: Title


class Allowances(Record):
    """Weights that are spread over the rack's length, and hardware as a share of the frame's weight."""

    conduit: Annotated[Value, Measure("plf", "w_conduit", ge=0, le=500)]
    wire: Annotated[Value, Measure("plf", "w_wire", ge=0, le=500)]
    tray: Annotated[Value, Measure("plf", "w_tray", ge=0, le=500)] | None = None
    hardware: Annotated[Value, Measure("%", "p_hardware", ge=0, le=100, only=PERCENT)]
    maintenance: Annotated[Value, _MAINTENANCE] = _MAINTENANCE.assumed(
        250, "maintenance left blank: one person with tools on a rail, common practice"
    )


class MeasuredWeight(Record):
    """The finished rack as weighed: total and center of gravity (x from the left post, y to the front, z above the base)."""

    total: Annotated[Value, Measure("lbf", "W_measured", gt=0, le=500000)]
    x: Annotated[Value, Measure("ft", "x_measured", ge=0, le=300)]
    y: Annotated[Value, Measure("in", "y_measured", ge=-240, le=240)]
    z: Annotated[Value, Measure("ft", "z_measured", ge=0, le=40)]
    date: Annotated[Text, Day()]
    scale: Title


class Shop(Record):
    """What the shop reports back."""

    measured_weight: MeasuredWeight | None = None


class Display(Record):
    """How numbers are shown; nothing is computed from it."""

    units: Annotated[Text, OneOf("US", "US+SI")] = Text("US")


class RackFile(Record):
    """The whole of rack.yaml."""

    job: JobHead
    codes: Codes
    site: Site
    frame: Frame
    allowances: Allowances
    connections: Connections | None = None
    anchors: Anchors | None = None
    piers: Piers
    lifting: Lifting | None = None
    shop: Shop = Shop()
    display: Display = Display()

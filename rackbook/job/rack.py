"""rack.yaml as typed data: each class is one level of keys, each attribute one key."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from rackbook.trace import Value

from .fields import Day, Flag, Measure, OneOf, Record, Words
from .text import Text

Title = Annotated[Text, Words(120)]
Line = Annotated[Text, Words(400)]
Name = Annotated[Text, Words(60)]
NONE = Text("")

Height = Annotated[Value, Measure("ft", "h", gt=0, le=30)]
PERCENT = ("%", "pct", "percent")


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
    building: Title
    authority: Title


class Topography(Record):
    """An isolated ridge, escarpment or hill, in the words of the topographic factor."""

    feature: Annotated[Text, OneOf("ridge", "escarpment", "hill")]
    height: Annotated[Value, Measure("ft", "H", gt=0, le=5000)]
    half_length: Annotated[Value, Measure("ft", "L_h", gt=0, le=50000)]
    distance: Annotated[Value, Measure("ft", "x", ge=0, le=100000)]
    side: Annotated[Text, OneOf("upwind", "downwind")]


class Wind(Record):
    """Basic wind speed (3 s gust, strength level) and what changes it."""

    speed: Annotated[Value, Measure("mph", "V", ge=60, le=300)]
    exposure: Annotated[Text, OneOf("B", "C", "D")]
    gust_factor: Annotated[Value, Measure("", "G", ge=0.5, le=2)] | None = None
    topography: Topography | None = None


class Mapped(Record):
    """Mapped accelerations (multiples of gravity) and site class, for the edition that has site coefficients."""

    S_S: Annotated[Value, Measure("", "S_S", ge=0, le=5)]
    S_1: Annotated[Value, Measure("", "S_1", ge=0, le=3)]
    site_class: Annotated[Text, OneOf("A", "B", "C", "D", "E", "F")]
    measured: Annotated[bool, Flag()]


class Spectral(Record):
    """Design accelerations (multiples of gravity) as the hazard service gives them for the site."""

    S_DS: Annotated[Value, Measure("", "S_DS", ge=0, le=4)]
    S_D1: Annotated[Value, Measure("", "S_D1", ge=0, le=3)]
    S_1: Annotated[Value, Measure("", "S_1", ge=0, le=3)]


class Stiffness(Record):
    """Lateral stiffness of the whole frame at the height of its mass."""

    along: Annotated[Value, Measure("kip/in", "k_along", gt=0, le=100000)] | None = None
    across: Annotated[Value, Measure("kip/in", "k_across", gt=0, le=100000)] | None = None


class Seismic(Record):
    """Ground motion, and the system the engineer takes the rack for, with the reason."""

    mapped: Mapped | None = None
    spectral: Spectral | None = None
    T_L: Annotated[Value, Measure("s", "T_L", ge=2, le=20)]
    system: Title
    reason: Line
    period: Annotated[Value, Measure("s", "T", gt=0, le=5)] | None = None
    stiffness: Stiffness | None = None


class Ambient(Record):
    """Design temperature of the outdoor air."""

    temperature: Annotated[Value, Measure("degC", "T_a", ge=-50, le=60)]


class Site(Record):
    """The place the rack stands at."""

    elevation: Annotated[Value, Measure("ft", "z_e", ge=-300, le=15000)]
    risk_category: Annotated[Text, OneOf("I", "II", "III", "IV")]
    wind: Wind
    seismic: Seismic
    ambient: Ambient


class Rail(Record):
    """A horizontal rail over the whole length: its height above grade and the face it runs on."""

    height: Annotated[Value, Measure("ft", "z", gt=0, le=30)]
    face: Annotated[Text, OneOf("front", "back", "center")]


class BasePlate(Record):
    """The plate under a post; the length is along the rack."""

    length: Annotated[Value, Measure("in", "N", gt=0, le=60)]
    width: Annotated[Value, Measure("in", "B", gt=0, le=60)]
    thickness: Annotated[Value, Measure("in", "t", gt=0, le=6)]


class Brace(Record):
    """A brace of the frame."""

    shape: Name
    length: Annotated[Value, Measure("ft", "L", gt=0, le=60)]


class Canopy(Record):
    """A roof over the rack: plan size, height above grade, dead weight of its own area."""

    length: Annotated[Value, Measure("ft", "L_c", gt=0, le=300)]
    width: Annotated[Value, Measure("ft", "W_c", gt=0, le=60)]
    height: Annotated[Value, Measure("ft", "h_c", gt=0, le=40)]
    weight: Annotated[Value, Measure("psf", "w_c", gt=0, le=100)]


class Galvanizing(Record):
    """The zinc coating of the steel after fabrication."""

    thickness: Annotated[Value, Measure("um", "t_zn", gt=0, le=500)]


class Frame(Record):
    """Posts and rails. Bays run from the left post line, seen from the front."""

    height: Height
    bays: Annotated[tuple[Annotated[Value, Measure("ft", "L_bay", gt=0, le=40)], ...], Field(min_length=1, max_length=60)]
    post: Name
    rail: Name
    rails: Annotated[tuple[Rail, ...], Field(min_length=1, max_length=40)]
    depth: Annotated[Value, Measure("ft", "d", ge=0, le=20)]
    base_plate: BasePlate | None = None
    braces: Annotated[tuple[Brace, ...], Field(max_length=200)] = ()
    canopy: Canopy | None = None
    galvanizing: Galvanizing | None = None


class Allowances(Record):
    """Weights that are spread over the rack's length, and hardware as a share of the frame's weight."""

    conduit: Annotated[Value, Measure("plf", "w_conduit", ge=0, le=500)]
    wire: Annotated[Value, Measure("plf", "w_wire", ge=0, le=500)]
    tray: Annotated[Value, Measure("plf", "w_tray", ge=0, le=500)] | None = None
    hardware: Annotated[Value, Measure("%", "p_hardware", ge=0, le=100, only=PERCENT)]


class Piers(Record):
    """Drilled concrete piers, one under each post line."""

    diameter: Annotated[Value, Measure("ft", "b", gt=0, le=12)]
    embedment: Annotated[Value, Measure("ft", "d", gt=0, le=60)]
    projection: Annotated[Value, Measure("in", "e", ge=0, le=48)]


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
    piers: Piers
    shop: Shop = Shop()
    display: Display = Display()

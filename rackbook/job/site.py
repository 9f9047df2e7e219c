"""The site in rack.yaml: wind, ground motion, snow, ice, soil, air."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from rackbook.trace import Value

from .fields import Flag, Line, Measure, OneOf, Record, Title
from .text import Text

#: Rows of the presumptive values of the building code's soil table.
SOILS = ("1", "2", "3", "4", "5")
_DISCOUNT = Measure("ft", "d_0", ge=0, le=20)


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
    site_class: Annotated[Text, OneOf("A", "B", "BC", "C", "CD", "D", "DE", "E", "default")] | None = None


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


class Snow(Record):
    """Ground snow load; what is not given is taken for an open-air structure."""

    ground: Annotated[Value, Measure("psf", "p_g", ge=0, le=600)]
    C_e: Annotated[Value, Measure("", "C_e", ge=0.5, le=1.5)] | None = None
    C_t: Annotated[Value, Measure("", "C_t", ge=0.8, le=1.4)] | None = None


class Ice(Record):
    """Atmospheric ice from freezing rain: nominal thickness at 33 ft, and the 3 s gust that goes with it."""

    thickness: Annotated[Value, Measure("in", "t", gt=0, le=5)]
    wind: Annotated[Value, Measure("mph", "V_c", ge=20, le=120)]


class SoilReport(Record):
    """Allowable soil values of a geotechnical report."""

    title: Title
    bearing: Annotated[Value, Measure("psf", "q_a", gt=0, le=200000)]
    lateral: Annotated[Value, Measure("psf/ft", "S", gt=0, le=20000)]
    friction: Annotated[Value, Measure("", "mu", gt=0, le=1)] | None = None
    cohesion: Annotated[Value, Measure("psf", "c", gt=0, le=20000)] | None = None
    skin: Annotated[Value, Measure("psf", "f_s", gt=0, le=20000)] | None = None


class Soil(Record):
    """The soil the piers stand in: a row of the presumptive table or a report, frost, and what may not be counted on."""

    class_: Annotated[Text, OneOf(*SOILS)] | None = Field(None, alias="class")
    report: SoilReport | None = None
    frost: Annotated[Value, Measure("in", "d_f", ge=0, le=120)]
    discount: Annotated[Value, _DISCOUNT] = _DISCOUNT.assumed(0, "discount left blank: lateral resistance counts from grade")
    doubled: Annotated[bool, Flag()] = False
    constrained: Annotated[bool, Flag()] = False
    unit_weight: Annotated[Value, Measure("pcf", "gamma_s", gt=0, le=200)] | None = None
    water: Annotated[Value, Measure("ft", "z_w", ge=0, le=500)] | None = None
    group: Annotated[Value, Measure("", "k_g", gt=0, le=1)] | None = None
    restraint: Annotated[bool, Flag()] = False


class Site(Record):
    """The place the rack stands at."""

    elevation: Annotated[Value, Measure("ft", "z_e", ge=-300, le=15000)]
    risk_category: Annotated[Text, OneOf("I", "II", "III", "IV")]
    wind: Wind
    seismic: Seismic
    ambient: Ambient
    snow: Snow | None = None
    ice: Ice | None = None
    soil: Soil | None = None

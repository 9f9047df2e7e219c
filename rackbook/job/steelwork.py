"""The steel in rack.yaml: frame, connections, lifting."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from rackbook.trace import Value

from .fields import Count, Measure, Name, OneOf, Record
from .text import Text

Height = Annotated[Value, Measure("ft", "h", gt=0, le=30)]
_IMPACT = Measure("", "I_m", ge=1, le=3)
_LATERAL = Measure("", "a_lat", gt=0, le=1)


class Rail(Record):
    """A horizontal rail over the whole length: its height above grade and the face it runs on."""

    height: Annotated[Value, Measure("ft", "z", gt=0, le=30)]
    face: Annotated[Text, OneOf("front", "back", "center")]


class BasePlate(Record):
    """The plate under a post; the length is along the rack."""

    length: Annotated[Value, Measure("in", "N", gt=0, le=60)]
    width: Annotated[Value, Measure("in", "B", gt=0, le=60)]
    thickness: Annotated[Value, Measure("in", "t", gt=0, le=6)]


class BraceEnd(Record):
    """Where a brace ends: on the post at that x, or else on the rail at that height."""

    x: Annotated[Value, Measure("ft", "x", ge=0, le=300)]
    height: Annotated[Value, Measure("ft", "z", ge=0, le=30)]


class Brace(Record):
    """A brace of the frame; without its ends it counts as weight only."""

    shape: Name
    length: Annotated[Value, Measure("ft", "L", gt=0, le=60)]
    from_: BraceEnd | None = Field(None, alias="from")
    to: BraceEnd | None = None
    row: Annotated[Text, OneOf("front", "back")] | None = None


class Tie(Record):
    """A member from the front to the back row of posts, one at every post line."""

    shape: Name
    height: Annotated[Value, Measure("ft", "z", gt=0, le=30)]


class Materials(Record):
    """Steel of the members, where it is not the usual one of the shape."""

    post: Name | None = None
    rail: Name | None = None
    brace: Name | None = None


class Limits(Record):
    """Serviceability: drift of the posts as height over the number, deflection of the rails as span over the number."""

    drift: Annotated[Value, Measure("", "n_drift", ge=20, le=1000)] | None = None
    rail: Annotated[Value, Measure("", "n_rail", ge=60, le=1000)] | None = None


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
    ties: Annotated[tuple[Tie, ...], Field(max_length=40)] = ()
    splices: Annotated[tuple[Annotated[Value, Measure("ft", "x_s", gt=0, le=300)], ...], Field(max_length=60)] = ()
    base: Annotated[Text, OneOf("fixed", "pinned")] = Text("fixed")
    rail_ends: Annotated[Text, OneOf("pinned", "moment")] = Text("pinned")
    materials: Materials | None = None
    limits: Limits | None = None
    canopy: Canopy | None = None
    galvanizing: Galvanizing | None = None


class Bolt(Record):
    """The bolts of the frame; holes are standard holes."""

    diameter: Annotated[Value, Measure("in", "d_b", ge=0.375, le=1.5)]
    grade: Name
    installation: Annotated[Text, OneOf("snug", "pretensioned", "slip-critical")] = Text("snug")


class Clip(Record):
    """The plate welded upright to the post's face that a rail is bolted to; its bolts stand one above the other."""

    bolts: Annotated[int, Count(tuple(range(1, 9)))]
    spacing: Annotated[Value, Measure("in", "s", gt=0, le=12)]
    edge: Annotated[Value, Measure("in", "L_e", gt=0, le=6)]
    thickness: Annotated[Value, Measure("in", "t_p", gt=0, le=2)]
    weld: Annotated[Value, Measure("in", "w", gt=0, le=1)]
    length: Annotated[Value, Measure("in", "L_w", gt=0, le=24)]


class Splice(Record):
    """The plate over the joint of two rails: bolts on each side in rows along the rail."""

    bolts: Annotated[int, Count(tuple(range(1, 17)))]
    rows: Annotated[int, Count((1, 2, 3))]
    spacing: Annotated[Value, Measure("in", "s", gt=0, le=12)]
    gage: Annotated[Value, Measure("in", "g", gt=0, le=12)] | None = None
    edge: Annotated[Value, Measure("in", "L_e", gt=0, le=6)]
    thickness: Annotated[Value, Measure("in", "t_p", gt=0, le=2)]


class Connections(Record):
    """Bolts, clips, splices and welds of the frame."""

    bolt: Bolt
    clip: Clip | None = None
    splice: Splice | None = None
    rail_weld: Annotated[Value, Measure("in", "w", gt=0, le=1)] | None = None
    base_weld: Annotated[Value, Measure("in", "w", gt=0, le=1)] | None = None
    electrode: Annotated[Text, OneOf("E60", "E70", "E80")] = Text("E70")


class Lug(Record):
    """A lifting lug: a plate with a round end and one hole, whose center stands ``height`` above its weld to the cap plate.

    ``cap`` is the thickness of the plate on the top of the post, ``cap_weld`` the leg of its fillet all around the post.
    """

    thickness: Annotated[Value, Measure("in", "t", gt=0, le=4)]
    width: Annotated[Value, Measure("in", "w_p", gt=0, le=24)]
    radius: Annotated[Value, Measure("in", "R", gt=0, le=12)]
    hole: Annotated[Value, Measure("in", "D_h", gt=0, le=6)]
    pin: Annotated[Value, Measure("in", "D_p", gt=0, le=6)]
    weld: Annotated[Value, Measure("in", "w", gt=0, le=1)]
    height: Annotated[Value, Measure("in", "e_h", gt=0, le=24)] | None = None
    cap: Annotated[Value, Measure("in", "t_c", gt=0, le=4)] | None = None
    cap_weld: Annotated[Value, Measure("in", "w_c", gt=0, le=1)] | None = None


class Truck(Record):
    """The truck the rack stands on: height of its deck, width of the cradle under it, lateral acceleration in g."""

    deck: Annotated[Value, Measure("in", "h_d", gt=0, le=120)]
    stance: Annotated[Value, Measure("ft", "b_t", gt=0, le=20)]
    acceleration: Annotated[Value, _LATERAL] = _LATERAL.assumed(0.5, "acceleration left blank: 0.5 g sideways, 49 CFR 393.102")


class Lifting(Record):
    """How the finished rack (or each module of it) is picked: points along the rack, slings, hook, lug, truck."""

    picks: Annotated[tuple[Annotated[Value, Measure("ft", "x_p", ge=0, le=300)], ...], Field(max_length=20)]
    legs: Annotated[int, Count((2, 4))] = 2
    hook: Annotated[Value, Measure("ft", "h_s", gt=0, le=100)]
    carrying: Annotated[Text, OneOf("two", "all")] = Text("two")
    impact: Annotated[Value, _IMPACT] = _IMPACT.assumed(1.25, "impact left blank: 1.25, common practice for a crane pick")
    lug: Lug | None = None
    truck: Truck | None = None

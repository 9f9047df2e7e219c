"""Racks to work by hand: a builder of jobs with all that weights, wind, seismic and frame ask for."""

from types import SimpleNamespace as Plain

from rackbook import loads
from rackbook.structure.frame import frame
from rackbook.trace import Source, given

HAND = Source("input", "rack.yaml", locator="worked by hand")


def of(number, unit, symbol=""):
    return given(number, unit, HAND, symbol)


def item(tag, weight, x, z, face="front", size=(24, 24, 12)):
    """A piece of equipment: weight [lbf], center [ft], width, height and depth [in]."""
    width, height, depth = size
    return Plain(
        tag=tag, description=tag, kind="enclosure", face=face, x=of(x, "ft", "x"), z=of(z, "ft", "z"), width=of(width, "in"),
        height=of(height, "in"), depth=of(depth, "in", "d"), offset=of(0, "in", "y_offset"), weight=of(weight, "lbf", "W"),
        weight_source="datasheet", section="flat", seismic_row=None, importance=of(1.0, "", "I_p"),
    )  # fmt: skip


def brace(x_1, z_1, x_2, z_2, shape="L3X3X1/4", row=None):
    length = ((x_2 - x_1) ** 2 + (z_2 - z_1) ** 2) ** 0.5
    end = {"from_": (x_1, z_1), "to": (x_2, z_2)}
    ends = {name: Plain(x=of(x, "ft", "x"), height=of(z, "ft", "z")) for name, (x, z) in end.items()}
    return Plain(shape=shape, length=of(length, "ft", "L"), row=row, **ends)


def rack(*equipment, rails=(("front", 3), ("front", 6)), bays=(6, 6), height=8, speed=110, method="LRFD", **more):
    """A two-bay rack of HSS4X4X1/4 posts and C4X5.4 rails on piers 6 in. above grade; ``more`` changes the rest."""
    canopy = more.pop("canopy", None)
    frame = Plain(
        height=of(height, "ft", "h"), bays=tuple(of(b, "ft", "L_bay") for b in bays), post=more.pop("post", "HSS4X4X1/4"),
        rail=more.pop("rail", "C4X5.4"), rails=tuple(Plain(face=f, height=of(h, "ft", "h")) for f, h in rails),
        depth=of(more.pop("depth", 0), "ft", "d"), base_plate=None, braces=tuple(more.pop("braces", ())),
        ties=tuple(Plain(shape=s, height=of(z, "ft", "z")) for s, z in more.pop("ties", ())),
        splices=tuple(of(x, "ft", "x_s") for x in more.pop("splices", ())), base=more.pop("base", "fixed"),
        rail_ends=more.pop("rail_ends", "pinned"), materials=None, limits=None,
        canopy=Plain(**{n: of(v, u) for n, (v, u) in canopy.items()}) if canopy else None,
        galvanizing=Plain(thickness=of(more.pop("zinc", 100), "um", "t_zn")),
    )  # fmt: skip
    spectral = Plain(S_DS=of(0.8, "", "S_DS"), S_D1=of(0.5, "", "S_D1"), S_1=of(0.3, "", "S_1"))
    seismic = Plain(
        spectral=spectral, mapped=None, T_L=of(8, "s", "T_L"), system="self_supporting", reason="posts stand alone",
        period=None, stiffness=None,
    )  # fmt: skip
    wind = Plain(
        speed=speed if hasattr(speed, "unit") else of(speed, "mph", "V"), exposure="C", gust_factor=None, topography=None
    )
    services = {n: of(more.pop(n, v), "plf", f"w_{n}") for n, v in (("conduit", 10), ("wire", 5))}
    job = Plain(
        codes=Plain(loads=more.pop("edition", "ASCE/SEI 7-16"), method=method),
        site=Plain(
            risk_category="II", seismic=seismic, wind=wind, elevation=of(100, "ft", "z_e"), snow=more.pop("snow", None),
            ice=more.pop("ice", None),
        ),
        frame=frame, anchors=None,
        allowances=Plain(
            **services, tray=None, hardware=of(more.pop("hardware", 10), "%", "p"), maintenance=of(250, "lbf", "P_L")
        ),
        piers=Plain(projection=of(6, "in", "e")), shop=Plain(measured_weight=more.pop("measured", None)),
        equipment=tuple(equipment),
    )  # fmt: skip
    assert not more, more
    return job


BOTH = (("front", 3), ("front", 6), ("back", 3), ("back", 6))
TWO_ROWS = {"depth": 2.5, "rails": BOTH, "ties": (("C4X5.4", 2), ("C4X5.4", 7.5))}
SEATED = (item("A", 200, 3, 4.5, size=(24, 40, 12)), item("B", 150, 8.5, 4.5, "back", (30, 40, 8)))


def framed(job):
    """The frame of a job, with its loads."""
    weights, wind = loads.weights.weights(job), loads.wind.wind(job)
    snow, ice = loads.snow.snow(job), loads.ice.ice(job, weights)
    return frame(job, weights, wind, loads.seismic.seismic(job, weights), snow, ice)


def case(f, name):
    return f.cases.index(name)

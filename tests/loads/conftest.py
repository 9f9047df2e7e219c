"""A small rack to work by hand, and a way to change it."""

from types import SimpleNamespace as Plain

import pytest

from rackbook.trace import Source, given

HAND = Source("input", "rack.yaml", locator="worked by hand")


def of(number, unit, symbol=""):
    return given(number, unit, HAND, symbol)


def item(tag, weight, x, z, face="front", depth=12.0, kind="enclosure", **more):
    base = {
        "tag": tag, "description": tag, "kind": kind, "face": face, "x": of(x, "ft", "x"), "z": of(z, "ft", "z"),
        "width": of(24, "in"), "height": of(24, "in"), "depth": of(depth, "in", "d"), "offset": of(0, "in", "y_offset"),
        "weight": of(weight, "lbf", "W"), "weight_source": "datasheet, sheet 1", "section": "flat", "seismic_row": None,
        "importance": of(1.0, "", "I_p"),
    }  # fmt: skip
    return Plain(**{**base, **more})


def spectral(S_DS=1.0, S_D1=0.6, S_1=0.4):
    return Plain(S_DS=of(S_DS, "", "S_DS"), S_D1=of(S_D1, "", "S_D1"), S_1=of(S_1, "", "S_1"))


def build(*equipment, edition="ASCE/SEI 7-16", rails=(("front", 3), ("front", 6)), bays=(6, 6), height=8, **more):
    """A two-bay rack of HSS4X4X1/4 posts and C4X5.4 rails on plates 12 x 12 x 3/4 in., piers 6 in. above grade."""
    frame = Plain(
        height=of(height, "ft", "h"), bays=tuple(of(b, "ft", "L_bay") for b in bays), post="HSS4X4X1/4", rail="C4X5.4",
        rails=tuple(Plain(face=f, height=of(h, "ft", "h")) for f, h in rails), depth=of(more.pop("depth", 0), "ft", "d"),
        base_plate=Plain(length=of(12, "in", "N"), width=of(12, "in", "B"), thickness=of(0.75, "in", "t")),
        braces=more.pop("braces", ()), ties=(), canopy=more.pop("canopy", None),
        galvanizing=Plain(thickness=of(100, "um", "t_zn")),
    )  # fmt: skip
    seismic = {
        "spectral": spectral(), "mapped": None, "T_L": of(8, "s", "T_L"), "system": "self_supporting",
        "reason": "posts stand alone", "period": None, "stiffness": None,
    }  # fmt: skip
    seismic.update(more.pop("seismic", {}))
    job = Plain(
        codes=Plain(loads=edition),
        site=Plain(risk_category=more.pop("risk", "II"), seismic=Plain(**seismic)),
        frame=frame,
        anchors=None,
        allowances=Plain(
            conduit=of(10, "plf", "w_conduit"), wire=of(5, "plf", "w_wire"), tray=None, hardware=of(10, "%", "p_hardware")
        ),
        piers=Plain(projection=of(6, "in", "e")),
        shop=Plain(measured_weight=more.pop("measured", None)),
        equipment=tuple(equipment),
    )
    assert not more, more
    return job


@pytest.fixture(scope="module")
def rack():
    """A builder of small racks: ``rack(rack.item("A", 100, 3, 5), risk="III")``."""
    build.item, build.of, build.spectral = item, of, spectral
    return build

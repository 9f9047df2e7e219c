"""One post on its plate, rods and pier, to work by hand: a builder of jobs as far as the anchorage sees them."""

from types import SimpleNamespace as Plain

from rackbook.trace import Source, given

HAND = Source("input", "rack.yaml", locator="worked by hand")


def of(number, unit, symbol=""):
    return given(number, unit, HAND, symbol)


def typed(number, unit, symbol, field, line):
    """A quantity as the job's file gives it, with its place."""
    return given(number, unit, Source("input", "rack.yaml", "", f"{field}, line {line}"), symbol)


def anchored(post="HSS6X6X1/4", plate=(14, 14, 1), rods=(4, 10, 10), method="LRFD", **more):
    """A post on a plate (length, width, thickness [in]) with rods (count, spacing along and across [in]) in a pier.

    Without more: 1 in. rods of Gr 55, 20 in. deep, no washer, no grout; a round pier of 30 in., 8.5 ft high, of 4000 psi, with
    8 #7 and ties #4. ``pier`` is its diameter or side [in]; ``more`` sets piers' and anchors' keys, or takes things away with
    None; ``spectral`` gives S_DS, S_D1 and S_1.
    """
    N, B, t = plate or (0, 0, 0)
    count, s_x, s_y = rods or (4, 1, 1)
    anchors = {
        "grade": "F1554 Gr 55", "diameter": of(1, "in", "d_a"), "count": count,
        "spacing_x": typed(s_x, "in", "s_x", "anchors.spacing_x", 102),
        "spacing_y": typed(s_y, "in", "s_y", "anchors.spacing_y", 103),
        "embedment": of(20, "in", "h_ef"), "washer": None, "grout": of(0, "in", "t_g"), "grout_strength": None,
    }  # fmt: skip
    piers = {
        "diameter": of(30, "in", "b"), "embedment": of(8, "ft", "d"), "projection": of(6, "in", "e"), "shape": "round",
        "concrete": of(4000, "psi", "f_c_prime"), "bars": Plain(count=8, size="#7"),
        "ties": Plain(size="#4", spacing=of(10, "in", "s_t"), top=2), "cover": of(3, "in", "c_c"), "footing": None,
    }  # fmt: skip
    spectral = more.pop("spectral", (0.1, 0.05, 0.03))  # category A, unless said otherwise
    if "pier" in more:
        piers["diameter"] = of(more.pop("pier"), "in", "b")
    for name, value in more.items():
        (anchors if name in anchors else piers)[name] = value
    size = {"length": (N, "N"), "width": (B, "B"), "thickness": (t, "t")}
    steel = {name: typed(number, "in", symbol, f"frame.base_plate.{name}", 75) for name, (number, symbol) in size.items()}
    ground = Plain(**{name: of(x, "", name) for name, x in zip(("S_DS", "S_D1", "S_1"), spectral, strict=True)})
    return Plain(
        codes=Plain(loads="ASCE/SEI 7-16", method=method),
        site=Plain(risk_category="II", seismic=Plain(spectral=ground, mapped=None)),
        frame=Plain(post=post, base_plate=Plain(**steel) if plate else None),
        anchors=Plain(**anchors) if rods else None,
        piers=Plain(**piers),
    )

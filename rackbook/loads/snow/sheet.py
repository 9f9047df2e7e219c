"""The snow sheet."""

from __future__ import annotations

from rackbook.trace import Grid, Heading, Remark, Sheet
from rackbook.trace.sheet import Part

from .rack import Snow

LEVEL = {
    "7-16": "Nominal level: factor 1.6 in strength combinations, 1.0 in allowable stress.",
    "7-22": "Strength level, mapped by risk category: factor 1.0 in strength combinations, 0.7 in allowable stress. A ground "
    "snow load of an earlier edition must not be used with these factors.",
}


def sheets(result: Snow | None) -> list[Sheet]:
    """Return the sheet of the snow; none without snow."""
    if result is None:
        return []
    r = result
    rows = (
        ("Flat roof snow load, of which the seismic weight takes its share, p_f", r.p_f),
        ("Snow load on the canopy, p_s", r.p_s),
        ("Snow on the whole canopy, S", r.S),
    )
    parts: tuple[Part, ...] = (
        Heading("Snow on the canopy"),
        Remark(f"By ASCE/SEI {r.edition}. {LEVEL[r.edition]}"),
        *(Remark(note) for note in r.notes),
        r.p_s,
        r.S,
        *r.checks,
        Heading("Results"),
        Grid("Snow, carried forward", ("Result", "Value"), rows),
    )
    return [Sheet("snow", "Snow load", "Finds the snow load on the canopy.", parts)]

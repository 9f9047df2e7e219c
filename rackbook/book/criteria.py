"""Design criteria: what the job asks for, on one page."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rackbook.job import Job
from rackbook.trace import Grid, Remark, Sheet, Source, Value, word

#: Criteria in printing order: heading, then label and the paths in the job that make its line.
LINES = (
    ("Code basis", (
        ("Loads", "codes.loads"), ("Steel, method; concrete", "codes.steel", "codes.method", "codes.concrete"),
        ("Electrical", "codes.electrical"), ("Building code", "codes.building"), ("Authority", "codes.authority"),
    )),
    ("Site", (
        ("Risk category, elevation, air", "site.risk_category", "site.elevation", "site.ambient.temperature"),
    )),
    ("Wind", (
        ("Basic wind speed, exposure", "site.wind.speed", "site.wind.exposure"), ("Gust factor", "site.wind.gust_factor"),
        ("Feature, side of its crest", "site.wind.topography.feature", "site.wind.topography.side"),
        ("Height, half length, distance", "site.wind.topography.height", "site.wind.topography.half_length",
         "site.wind.topography.distance"),
    )),
    ("Snow and ice", (
        ("Ground snow load", "site.snow.ground"), ("Ice thickness, gust with it", "site.ice.thickness", "site.ice.wind"),
    )),
    ("Earthquake", (
        ("S_DS, S_D1, S_1, site class", "site.seismic.spectral.S_DS", "site.seismic.spectral.S_D1",
         "site.seismic.spectral.S_1", "site.seismic.spectral.site_class"),
        ("S_S, S_1, site class", "site.seismic.mapped.S_S", "site.seismic.mapped.S_1", "site.seismic.mapped.site_class"),
        ("T_L; force-resisting system", "site.seismic.T_L", "site.seismic.system"),
    )),
    ("Soil", (
        ("Class of the presumptive table", "site.soil.class_"), ("Soil report", "site.soil.report.title"),
        ("Allowable bearing, lateral a foot", "site.soil.report.bearing", "site.soil.report.lateral"),
        ("Frost depth, depth not counted", "site.soil.frost", "site.soil.discount"),
    )),
    ("Frame", (
        ("Posts: shape, height, base", "frame.post", "frame.height", "frame.base"), ("Depth, post rows", "frame.depth"),
        ("Rails: shape, ends", "frame.rail", "frame.rail_ends"),
        ("Drift, deflection limits", "frame.limits.drift", "frame.limits.rail"),
        ("Bolts; weld metal", "connections.bolt.diameter", "connections.bolt.grade", "connections.electrode"),
    )),
    ("Allowances", (
        ("Conduit, wire, tray", "allowances.conduit", "allowances.wire", "allowances.tray"),
        ("Hardware, person on a rail", "allowances.hardware", "allowances.maintenance"),
    )),
    ("Foundation", (
        ("Anchor rods, embedment", "anchors.diameter", "anchors.grade", "anchors.embedment"),
        ("Concrete; piers: shape, size", "piers.concrete", "piers.shape", "piers.diameter"),
        ("Pier embedment, projection", "piers.embedment", "piers.projection"),
    )),
)  # fmt: skip


def criteria(job: Job) -> list[tuple[str, str, Value]]:
    """Return ``(heading, label, value)`` for every criterion the job states."""
    out = []
    for heading, lines in LINES:
        for label, *paths in lines:
            found = [value for path in paths if (value := _at(job, path)) is not None]
            if found:
                out.append((heading, label, found[0] if len(found) == 1 else _joined(found)))
    bays = " + ".join(b.text() for b in job.frame.bays)
    source = Source("input", "rack.yaml", locator="frame.bays")
    at = next(n for n, (h, _, _) in enumerate(out) if h == "Frame")
    out.insert(at + 1, ("Frame", "Bays", word(bays, source)))
    return out


def _joined(values: list[Value]) -> Value:
    """Return several values as the words of one line, with the place of the first."""
    return word(", ".join(v.text() for v in values), values[0].source)


def _at(job: Job, path: str) -> Value | None:
    thing: object = job
    for name in path.split("."):
        thing = getattr(thing, name, None)
        if thing is None:
            return None
    if isinstance(thing, Value):
        return thing
    return word(str(thing), getattr(thing, "source", Source("input", "rack.yaml", locator=path)))


def _found(results: Mapping[str, Any]) -> tuple[tuple[str, Value], ...]:
    """Return what the sheets make of the criteria: category, factors, base shears, weight."""
    seismic = results["seismic"]
    of = seismic.system
    return (
        ("Weight of the rack", results["weights"].W),
        ("Wind on the front or back, on an end", _joined([results["wind"].across, results["wind"].along])),
        ("Seismic design category", seismic.category),
        ("R, Omega_0, C_d", _joined([of.R, of.Omega_0, of.C_d])),
        ("I_e, rho", _joined([seismic.I_e, seismic.rho])),
        ("Seismic base shear along, across", _joined([seismic.along.V, seismic.across.V])),
    )


def criteria_sheet(job: Job, results: Mapping[str, Any]) -> Sheet:
    """Return the sheet of design criteria: what the job states, and what the sheets make of it."""
    rows = tuple((heading, label, value, value.source.locator or value.source.title) for heading, label, value in criteria(job))
    return Sheet(
        "criteria",
        "Design criteria",
        "The basis of every sheet that follows, as stated in rack.yaml.",
        (
            Grid("Criteria", ("Part", "Criterion", "Value", "Where stated"), rows),
            Grid("Found on the sheets that follow", ("Criterion", "Value"), tuple((n, v.text()) for n, v in _found(results))),
            Remark(
                "The adopted local code and the authority having jurisdiction stand above this sheet. Confirm the editions, "
                "the wind speed, the ground motion and the soil values for the place and the date of the permit before sealing."
            ),
        ),
    )

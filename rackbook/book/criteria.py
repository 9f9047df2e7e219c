"""Design criteria: what the job asks for, on one page."""

from __future__ import annotations

from rackbook.job import Job
from rackbook.trace import Grid, Remark, Sheet, Source, Value, word

#: Criteria in printing order: heading, then label and path in the job.
LINES = (
    ("Code basis", (
        ("Loads", "codes.loads"), ("Steel", "codes.steel"), ("Design method of the steel", "codes.method"),
        ("Concrete and anchors", "codes.concrete"), ("Electrical", "codes.electrical"), ("Building code", "codes.building"),
        ("Authority", "codes.authority"),
    )),
    ("Site", (
        ("Risk category", "site.risk_category"), ("Ground elevation", "site.elevation"),
        ("Design air temperature", "site.ambient.temperature"),
    )),
    ("Wind", (
        ("Basic wind speed", "site.wind.speed"), ("Exposure", "site.wind.exposure"),
        ("Gust factor", "site.wind.gust_factor"),
        ("Topographic feature", "site.wind.topography.feature"),
        ("Feature height", "site.wind.topography.height"),
        ("Feature half length", "site.wind.topography.half_length"),
        ("Distance from its crest", "site.wind.topography.distance"),
        ("Side of the crest", "site.wind.topography.side"),
    )),
    ("Earthquake", (
        ("S_DS, for the site", "site.seismic.spectral.S_DS"), ("S_D1, for the site", "site.seismic.spectral.S_D1"),
        ("S_1, for the site", "site.seismic.spectral.S_1"),
        ("S_S, mapped", "site.seismic.mapped.S_S"), ("S_1, mapped", "site.seismic.mapped.S_1"),
        ("Site class", "site.seismic.mapped.site_class"), ("T_L, long period", "site.seismic.T_L"),
        ("Force-resisting system", "site.seismic.system"), ("Reason for the system", "site.seismic.reason"),
    )),
    ("Snow and ice", (
        ("Ground snow load", "site.snow.ground"), ("Ice thickness, nominal", "site.ice.thickness"),
        ("Gust with ice", "site.ice.wind"),
    )),
    ("Soil", (
        ("Class of the presumptive table", "site.soil.class_"), ("Soil report", "site.soil.report.title"),
        ("Allowable bearing", "site.soil.report.bearing"), ("Lateral bearing a foot of depth", "site.soil.report.lateral"),
        ("Frost depth", "site.soil.frost"), ("Depth not counted", "site.soil.discount"),
    )),
    ("Frame", (
        ("Height of posts", "frame.height"), ("Posts", "frame.post"), ("Rails", "frame.rail"),
        ("Base of the posts", "frame.base"), ("Ends of the rails", "frame.rail_ends"),
        ("Depth, post rows", "frame.depth"), ("Base plate thickness", "frame.base_plate.thickness"),
        ("Zinc coating", "frame.galvanizing.thickness"),
        ("Conduit allowance", "allowances.conduit"), ("Wire allowance", "allowances.wire"),
        ("Tray allowance", "allowances.tray"), ("Hardware allowance", "allowances.hardware"),
        ("Maintenance load", "allowances.maintenance"), ("Bolts", "connections.bolt.grade"),
        ("Bolt diameter", "connections.bolt.diameter"), ("Weld metal", "connections.electrode"),
    )),
    ("Anchors and piers", (
        ("Anchor rods", "anchors.grade"), ("Rod diameter", "anchors.diameter"), ("Rod embedment", "anchors.embedment"),
        ("Concrete strength", "piers.concrete"), ("Pier shape", "piers.shape"),
        ("Pier diameter", "piers.diameter"), ("Pier embedment", "piers.embedment"),
        ("Pier projection", "piers.projection"),
    )),
)  # fmt: skip


def criteria(job: Job) -> list[tuple[str, str, Value]]:
    """Return ``(heading, label, value)`` for every criterion the job states."""
    out = []
    for heading, lines in LINES:
        for label, path in lines:
            found = _at(job, path)
            if found is not None:
                out.append((heading, label, found))
    bays = " + ".join(b.text() for b in job.frame.bays)
    source = Source("input", "rack.yaml", locator="frame.bays")
    at = next(n for n, (h, _, _) in enumerate(out) if h == "Frame")
    out.insert(at + 1, ("Frame", "Bays", word(bays, source)))
    return out


def _at(job: Job, path: str) -> Value | None:
    thing: object = job
    for name in path.split("."):
        thing = getattr(thing, name, None)
        if thing is None:
            return None
    if isinstance(thing, Value):
        return thing
    return word(str(thing), getattr(thing, "source", Source("input", "rack.yaml", locator=path)))


def criteria_sheet(job: Job) -> Sheet:
    """Return the sheet of design criteria."""
    rows = tuple((heading, label, value, value.source.locator or value.source.title) for heading, label, value in criteria(job))
    return Sheet(
        "criteria",
        "Design criteria",
        "The basis of every sheet that follows, as stated in rack.yaml.",
        (
            Grid("Criteria", ("Part", "Criterion", "Value", "Where stated"), rows),
            Remark(
                "The adopted local code and the authority having jurisdiction stand above this sheet. Confirm the editions, "
                "the wind speed, the ground motion and the soil values for the place and the date of the permit before sealing."
            ),
        ),
    )

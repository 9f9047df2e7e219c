"""What the engineer decided that leaves a hazard or a requirement out, to be confirmed before sealing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rackbook.job import Job
from rackbook.trace import Value

Decision = tuple[str, str, str]


def decisions(job: Job, results: Mapping[str, Any]) -> Iterator[Decision]:
    """Yield subject, decision and the line of the job that makes it, in the order of the criteria."""
    yield from _weather(job)
    yield from _earthquake(job, results["seismic"])
    yield from _ground(job)
    yield "Flood, tsunami", "not included: the site is outside their hazard areas", "no line: confirm"
    yield from _supply(job)


def _weather(job: Job) -> Iterator[Decision]:
    site = job.site
    if site.wind.topography is None:
        yield "Topography", "K_zt = 1.0: no hill, ridge or escarpment (ASCE/SEI 7, 26.8)", "site.wind.topography, blank"
    if "7-22" in str(job.codes.loads) and str(site.risk_category) in ("III", "IV"):
        said = "not included: open check that the site is outside the tornado-prone region (ASCE/SEI 7-22, Chapter 32)"
        yield "Tornado", said, f"site.risk_category {site.risk_category}"
    else:
        yield "Tornado", "not included: not required by this edition and risk category", _line(site.risk_category)
    if site.snow is None:
        roof = "the rack has no roof" if job.frame.canopy is None else "no ground snow load is given for the canopy"
        yield "Snow", f"not included: {roof}", "site.snow, blank"
    if site.ice is None:
        yield "Atmospheric ice", "not included: the site has no freezing rain of note", "site.ice, blank"
    where = _line(site.ice.thickness) if site.ice else "site.ice, blank"
    yield "In-cloud icing, rime", "not included: only freezing rain is calculated", where


def _earthquake(job: Job, seismic: Any) -> Iterator[Decision]:
    yield "Seismic force-resisting system", str(job.site.seismic.reason), _line(job.site.seismic.reason)
    rho = f"rho = {seismic.rho.text()} in both directions"
    if seismic.rho.magnitude == 1:
        yield "Seismic redundancy", rho, seismic.rho.source.citation


def _ground(job: Job) -> Iterator[Decision]:
    soil = job.site.soil
    if soil is None:
        yield "Soil", "no values: piers are not checked against the soil", "site.soil, blank"
        return
    if soil.class_ is not None:
        yield "Soil", f"class {soil.class_} of the presumptive table, no geotechnical report", _line(soil.class_)
    if soil.frost.magnitude == 0:
        yield "Frost", "no frost at the site", _line(soil.frost)
    if soil.doubled:
        yield "Lateral soil values", "doubled: 1/2 in. of movement at grade does no harm", "site.soil.doubled"
    if soil.restraint:
        yield "Ties between piers", "none: the soil restrains single piers (IBC 1810.3.13)", "site.soil.restraint"


def _supply(job: Job) -> Iterator[Decision]:
    kinds, fed = {str(e.tag) for e in job.equipment}, {str(c.to) for c in job.circuits}
    for c in job.circuits:
        if c.kind == "feeder" and str(c.from_) not in kinds | fed:
            said = f"{c.tag} designed as a feeder with its device at the supply end, not as service conductors"
            yield "Supply", said, f"circuits.csv, {c.tag}"


def _line(thing: Any) -> str:
    source = thing.source if isinstance(thing, Value) else getattr(thing, "source", None)
    return source.locator or source.title if source is not None else "no line: confirm"

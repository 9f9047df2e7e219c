"""Design criteria: what the job states and what the sheets make of it, grouped; and what the engineer decided."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from rackbook.job import Job
from rackbook.structure.connections.sections import PLATE
from rackbook.structure.frame.sections import material_of, outline
from rackbook.structure.piers.column import BAR
from rackbook.tables import table
from rackbook.trace import Grid, Remark, Sheet, Source, Value, word

from .decisions import decisions

NONE_GIVEN = "none given: engineer's decision"
#: Criteria in printing order: heading, then label, words with the paths of their values in braces, and the words where the
#: job leaves them out (no line without). A path that begins with '=' is one of a result; '?' marks words left out with it.
LINES: tuple[tuple[str, tuple[tuple[str, ...], ...]], ...] = (
    ("Codes", (
        ("Building code", "{codes.building}"), ("Loads", "{codes.loads}"),
        ("Structural steel; concrete", "{codes.steel}, {codes.method}; {codes.concrete}"), ("Electrical", "{codes.electrical}"),
        ("Authority having jurisdiction", "{codes.authority}"),
    )),
    ("Site and wind", (
        ("Risk category, elevation, outdoor air", "{site.risk_category}, {site.elevation}, {site.ambient.temperature}"),
        ("Basic wind speed, exposure", "V = {site.wind.speed}, exposure {site.wind.exposure}"),
        ("Topography",
         "{site.wind.topography.feature}, H = {site.wind.topography.height}, L_h = {site.wind.topography.half_length}, "
         "rack {site.wind.topography.distance} {site.wind.topography.side} of the crest", "none: K_zt = 1.0"),
        ("Wind factors", "K_d = {=wind.conditions.K_d}, G = {=wind.conditions.G}, K_e = {=wind.conditions.K_e}"),
    )),
    ("Snow and ice", (
        ("Ground snow load", "{site.snow.ground}", NONE_GIVEN),
        ("Freezing rain", "{site.ice.thickness} with gusts of {site.ice.wind}", NONE_GIVEN),
    )),
    ("Earthquake", (
        ("Mapped ground motion",
         "S_S = {site.seismic.mapped.S_S}, S_1 = {site.seismic.mapped.S_1}, site class {site.seismic.mapped.site_class}"),
        ("Ground motion of the hazard service",
         "S_DS = {site.seismic.spectral.S_DS}, S_D1 = {site.seismic.spectral.S_D1}, S_1 = {site.seismic.spectral.S_1}, "
         "site class {site.seismic.spectral.site_class}"),
        ("Design ground motion", "S_DS = {=seismic.ground.S_DS}, S_D1 = {=seismic.ground.S_D1}, T_L = {site.seismic.T_L}"),
        ("Category and factors", "SDC {=seismic.category}, I_e = {=seismic.I_e}, rho = {=seismic.rho}"),
    )),
    ("Soil and foundations", (
        ("Soil report", "{site.soil.report.title}"),
        ("Allowable values", "bearing {=piers.ground.q_a}, lateral {=piers.ground.S} of depth"),
        ("Frost depth, depth not counted", "{site.soil.frost}, {site.soil.discount}"),
        ("Ground water below grade", "{site.soil.water}"),
        ("Piers", "{piers.shape}, {piers.diameter} wide; {piers.embedment} below grade, {piers.projection} above"),
        ("Concrete", "{piers.concrete}? , exposure classes {piers.exposure.freezing}, {piers.exposure.sulfate}, "
         "{piers.exposure.water}, {piers.exposure.corrosion}"),
        ("Reinforcement",
         "({piers.bars.count}) {piers.bars.size}, {piers.ties.size} ties at {piers.ties.spacing}, {steel.bar}, "
         "cover {=piers.cover}"),
        ("Anchor rods, each base",
         "({anchors.count}) {anchors.diameter}, {anchors.grade}, embedded {anchors.embedment}; grout {anchors.grout}"),
    )),
    ("Steel and connections", (
        ("Base plates", "{frame.base_plate.length} x {frame.base_plate.width} x {frame.base_plate.thickness}, {steel.plate}"),
        ("Posts", "{frame.post}, {steel.post}; {frame.height} high, {frame.base} base"),
        ("Rails", "{frame.rail}, {steel.rail}; {frame.rail_ends} ends; bays {steel.bays}"),
        ("Bolts", "{connections.bolt.diameter}, {connections.bolt.grade}, {connections.bolt.installation}"),
        ("Welds", "{connections.electrode}; posts to base plates {connections.base_weld}? , rails {connections.rail_weld}"),
        ("Drift limit of the posts, 0.6 W", "height / {frame.limits.drift}", "height / 100, common practice"),
        ("Deflection limit of the rails", "span / {frame.limits.rail}", "span / 240, common practice"),
    )),
    ("Loads", (
        ("Conduit and wire per foot of rack", "conduit {allowances.conduit}, wire {allowances.wire}? , tray {allowances.tray}"),
        ("Hardware; person on a rail", "{allowances.hardware} of the frame; {allowances.maintenance}"),
        ("Impact factor of the lift", "{lifting.impact}"),
        ("Total weight", "{=weights.W}"),
        ("Wind, strength level", "{=wind.across} across, {=wind.along} along the rack"),
        ("Seismic base shear, strength level", "{=seismic.across.shear.V} across, {=seismic.along.shear.V} along the rack"),
    )),
)  # fmt: skip
CALCULATED = Source("derivation", "calculated")
_FIELD = re.compile(r"\{(=?)([\w.]+)\}")
BEFORE_SEALING = (
    "The adopted local code and the authority having jurisdiction stand above this sheet. Confirm the editions, the wind "
    "speed, the ground motion and the soil values for the place and the date of the permit before sealing."
)


def criteria(job: Job, results: Mapping[str, Any]) -> list[tuple[str, str, Value]]:
    """Return ``(heading, label, words)`` for every criterion."""
    known = {"steel": _steel(job)}
    out = []
    for heading, lines in LINES:
        for label, words, *otherwise in lines:
            made = _filled(words, job, known, results)
            if made is None and otherwise:
                path = _FIELD.search(words)[2].rpartition(".")[0]  # type: ignore[index]
                made = word(otherwise[0], Source("input", "rack.yaml", locator=f"{path}, blank"))
            if made is not None:
                out.append((heading, label, made))
            if label == "Topography" and job.site.wind.topography is not None:
                K_zt = results["wind"].conditions.K_zt(job.frame.height)
                out.append((heading, "Topographic factor, top of posts", word(f"K_zt = {K_zt.text()}", CALCULATED)))
        if heading == "Earthquake":
            out += [(heading, *line) for line in _systems(results["seismic"])]
        if heading == "Soil and foundations" and job.site.soil is not None and job.site.soil.class_ is not None:
            row = table("soil").cell(str(job.site.soil.class_), "material")
            at = next(n for n, line in enumerate(out) if line[0] == heading)
            said = f"presumptive, IBC Table 1806.2, class {job.site.soil.class_}: {row.text()}"
            out.insert(at, (heading, "Soil, by", word(said, job.site.soil.class_.source)))
    return out


def _filled(words: str, job: Job, known: Mapping[str, Any], results: Mapping[str, Any]) -> Value | None:
    """Return a line with its values; None where one is not there. What stands behind '?' is left out alone."""
    always, _, extra = words.partition("? ")
    made = _put(always, job, known, results)
    if made is None or not extra:
        return made
    more = _put(extra, job, known, results)
    return made if more is None else word(made.text() + more.text(), made.source)


def _put(words: str, job: Job, known: Mapping[str, Any], results: Mapping[str, Any]) -> Value | None:
    sources: list[Source] = []
    texts: dict[str, str] = {}
    for of_result, path in _FIELD.findall(words):
        found = _at(results if of_result else known if path.split(".")[0] in known else job, path)
        if found is None:
            return None
        texts[of_result + path] = _text(found)
        if not of_result and path.split(".")[0] not in known:
            sources.append(found.source)
    said = _FIELD.sub(lambda m: texts[m[1] + m[2]], words)
    return word(said, sources[0] if sources else CALCULATED)


def _text(value: Value) -> str:
    """Return a value in the words of the trade: no underscores, inches as fractions."""
    sixteenths = value.magnitude * 16 if value.unit == "in" else 0.5
    if value.is_word or sixteenths != int(sixteenths) or sixteenths % 16 == 0:
        return value.text().replace("_", " ")
    whole, rest = divmod(Fraction(int(sixteenths), 16), 1)
    return f"{f'{whole}-' if whole else ''}{rest} in."


def _at(thing: Any, path: str) -> Value | None:
    for name in path.split("."):
        thing = thing.get(name) if isinstance(thing, Mapping) else getattr(thing, name, None)
        if thing is None:
            return None
    if isinstance(thing, Value):
        return thing
    return word(str(thing), getattr(thing, "source", Source("derivation", "as given")))


def _steel(job: Job) -> dict[str, Value]:
    """Return the steel of posts, rails, plates and bars in words, and the bays."""
    made = {
        part: word(material_of(job, part, outline(str(shape)).family), Source("table", "materials"))
        for part, shape in (("post", job.frame.post), ("rail", job.frame.rail))
    }
    made |= {"plate": word(PLATE, Source("table", "materials")), "bar": word(BAR, Source("table", "materials"))}
    return {**made, "bays": word(" + ".join(b.text() for b in job.frame.bays), Source("derivation", "bays"))}


def _systems(seismic: Any) -> list[tuple[str, Value]]:
    """Return the lines of the force-resisting systems, along and across the rack."""
    of = seismic.systems
    out = [("System along the rack" if of.across is not None else "System, both directions", _system(of.along))]
    if of.across is not None:
        out.append(("System across the rack", _system(of.across)))
    used = f"R = {of.R_across.text()} across, Omega_0 = {of.Omega_0.text()}, C_d = {of.C_d_across.text()} across"
    return [*out, ("Factors used", word(used, CALCULATED))] if of.across is not None else out


def _system(of: Any) -> Value:
    factors = f"R = {of.R.text()}, Omega_0 = {of.Omega_0.text()}, C_d = {of.C_d.text()}"
    title = of.title.partition(", tanks")[0]
    return word(f"{title} ({of.table}): {factors}", of.row.source if of.row.source.kind == "input" else CALCULATED)


def criteria_sheet(job: Job, results: Mapping[str, Any]) -> Sheet:
    """Return the sheet of design criteria: what the job states, what the sheets make of it, and what was decided."""
    rows: list[tuple[str, str, str, str]] = []
    last = ""
    for heading, label, value in criteria(job, results):
        rows.append(("" if heading == last else heading, label, value.text(), value.source.locator or value.source.title))
        last = heading
    stated = Grid("Criteria", ("Part", "Criterion", "Value", "Where stated"), tuple(rows))
    decided = Grid("Decisions to confirm", ("Subject", "Decided", "Where stated"), tuple(decisions(job, results)))
    purpose = "The basis of every sheet that follows, by line of rack.yaml, with the main results."
    return Sheet("criteria", "Design criteria", purpose, (stated, decided, Remark(BEFORE_SEALING)))

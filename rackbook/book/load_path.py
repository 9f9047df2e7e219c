"""The way of every load to the ground, link by link: what each link carries, its strength check that governs, its limits."""

from __future__ import annotations

import re
from collections.abc import Sequence

from rackbook.trace import Check, Grid, Remark, Sheet, Value

from .ranking import is_strength

TITLE = "Load path"
#: How the names of checks begin that stand on a sheet of several links.
RAILS, FRAME, SOIL = (
    ("Rails", "Deflection"),
    ("Posts", "Braces", "Ties", "Second-order", "Drift", "Rigid", "Period"),
    ("Rotation",),
)
ITEMS, BRACES = ("Equipment", "Fastening"), ("Brace",)
#: Link, what it carries, and the sheets that check it, each with how the names of its checks there begin (all of them if
#: left out; all others after "not"); links in the order of the loads.
LINKS: tuple[tuple[str, str, tuple[tuple[str, ...], ...]], ...] = (
    (
        "Equipment to rails: fasteners", "weight, wind, earthquake of each item",
        (("equipment_fastening",), ("equipment_seismic",), ("connections", *ITEMS)),
    ),
    ("Rails between posts", "the same, with their couples", (("frame", *RAILS), ("members", *RAILS))),
    (
        "Rails to posts: bolts or welds, splices", "ends and joints of the rails",
        (("connections", "not", *ITEMS, *BRACES), ("clips",), ("rail_welds",), ("splices",)),
    ),
    (
        "Posts, braces, ties: the frame", "weight, wind, earthquake of the whole rack",
        (("frame", *FRAME), ("members", *FRAME), ("connections", *BRACES)),
    ),
    ("Posts to base plates: welds", "reactions of the frame", (("feet",),)),
    ("Base plates", "reactions of the frame", (("base_plates",),)),
    ("Anchors and the concrete around them", "reactions, with overstrength where asked for", (("anchors",),)),
    ("Piers", "reactions, soil pressure", (("pier_concrete",),)),
    ("Soil", "reactions and weight of the piers", (("piers",), ("frame", *SOIL))),
    ("Finished rack on crane and truck", "weight with impact, cornering", (("lifting",), ("transport",))),
)  # fmt: skip
NONE = "not checked: not in this job"
SAID = (
    "Strength: the largest utilization of strength or stability. Limits: the largest ratio of displacements, sizes, spacings "
    "and other rules. A link that is OPEN or not checked has to be shown adequate before release. Friction from weight is not "
    "counted on against earthquake."
)
LEFT_OUT = (
    "Included: dead load of rack, equipment, conduit and wire; wind; earthquake; one person on the top rail; snow on a canopy "
    "and ice where given; lifting and transport. Not included: flood, tsunami, tornado, temperature, cable pull, vehicle "
    "impact, wind on the roof of a canopy; confirm that none applies."
)


def load_path_sheet(sheets: Sequence[Sheet]) -> Sheet:
    """Return the load path with the governing checks of each link, read off the sheets that are there."""
    by_key = {sheet.key: sheet for sheet in sheets}
    rows: list[tuple[Value | str, ...]] = []
    for link, carries, places in LINKS:
        checks = [(by_key[key].title, c) for key, *begin in places if key in by_key for c in on_sheet(by_key[key], begin)]
        rows.append((link, carries, *_judged(checks)))
    heads = ("Link", "Carries", "Strength: check (sheet)", "Ratio []", "Limits: check", "Ratio []", "Result")
    purpose = "Every load from the equipment to the soil, with the sheet that shows each link adequate."
    return Sheet("load_path", TITLE, purpose, (Grid("Links", heads, tuple(rows)), Remark(SAID), Remark(LEFT_OUT)))


def on_sheet(sheet: Sheet, begin: Sequence[str]) -> list[Check]:
    """Return the checks of a sheet whose names begin so; all of them without a word, all others after ``not``."""
    if not begin:
        return list(sheet.checks)
    but = begin[0] == "not"
    return [c for c in sheet.checks if c.name.startswith(tuple(begin[but:])) is not but]


def stem(name: str) -> str:
    """Return the name of a check without the place and the combination it was found at.

    >>> stem("Weld at the base, post 3 (2.4.1-5: 1.0 D + 0.6 W back)"), stem("Base plate thickness, tension side")
    ('Weld at the base', 'Base plate thickness, tension side')
    >>> stem("Second-order sway across the rack, 2.3.6-6: 1.42 D + 1.3 Q across")
    'Second-order sway across the rack'
    """
    place = r"(post|rail|brace|tie|splice|equipment|top of) ?\w*"
    combination = r"\d+\.\d|\d* ?D \+"
    return re.split(rf",? \(|, {place}|:? {place} \d|, {combination}", name)[0].strip()


def _judged(checks: Sequence[tuple[str, Check]]) -> tuple[Value | str, ...]:
    """Return the governing check of strength with its sheet and ratio, that of limits, and the worst word of all."""
    if not checks:
        return "–", "–", "–", "–", NONE
    words = {c.word for _, c in checks}
    word = next(w for w in ("NOT OK", "OPEN", "OK") if w in words)
    strength = _most([pair for pair in checks if is_strength(pair[1])])
    limits = _most([pair for pair in checks if not is_strength(pair[1])])
    said = [
        (f"{stem(pair[1].name)} ({pair[0]})" if with_sheet else stem(pair[1].name), pair[1].ratio) if pair else ("–", "–")
        for pair, with_sheet in ((strength, True), (limits, False))
    ]
    return (*said[0], *said[1], word)  # type: ignore[return-value]


def _most(checks: Sequence[tuple[str, Check]]) -> tuple[str, Check] | None:
    """Return the check of the largest ratio over its limit, of those that have one."""
    known = [pair for pair in checks if pair[1].ratio is not None]
    return max(known, key=lambda pair: float(pair[1].ratio.magnitude) / pair[1].limit, default=None)  # type: ignore[union-attr]

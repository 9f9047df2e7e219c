"""The way of every load to the ground, link by link: what each link carries, which sheets check it, and how much it is used."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from rackbook.trace import Check, Grid, Remark, Sheet, Value

TITLE = "Load path"
RAILS, REST = ("Rails", "Deflection"), ("Posts", "Braces", "Ties", "Second-order", "Drift", "Rigid", "Period")
#: Link, what it carries, the keys of the sheets that check it, and how the names of its checks there begin (all of them if
#: left out); links in the order of the loads.
LINKS: tuple[tuple[Any, ...], ...] = (
    ("Equipment to rails: fasteners", "weight, wind, F_p and F_v of each item", ("equipment_fastening",)),
    ("Rails between posts", "the same, along each rail, with their couples", ("frame", "members"), RAILS),
    (
        "Rails to posts: bolts or welds, splices",
        "ends and joints of the rails",
        ("connections", "clips", "rail_welds", "splices"),
    ),
    ("Posts, braces, ties: the frame", "weight, wind, earthquake of the whole rack", ("frame", "members"), REST),
    ("Posts to base plates: welds", "reactions of the frame", ("feet",)),
    ("Base plates", "reactions of the frame", ("base_plates",)),
    ("Anchors and the concrete around them", "reactions, with overstrength where asked for", ("anchors",)),
    ("Piers", "reactions, soil pressure", ("pier_concrete",)),
    ("Soil", "reactions and weight of the piers", ("piers",)),
    ("Finished rack on crane and truck", "weight with impact, cornering", ("lifting", "transport")),
)
NONE = "not checked: the job leaves it out"
SAID = (
    "The check used most may be one of strength or a rule on sizes; the check summary has them all. A link that is OPEN or not "
    "checked is to be shown adequate before the rack is released. Friction from weight is not counted on against earthquake."
)
LEFT_OUT = (
    "Loads considered: dead load of rack, equipment, conduit and wire; wind; earthquake; one person on the top rail; snow on "
    "a canopy and ice where the job gives them; lifting and transport. Not considered: flood, tsunami, tornado, temperature, "
    "pull of cables, vehicles, wind on a canopy's roof. Add those the place or the use calls for."
)


def load_path_sheet(sheets: Sequence[Sheet]) -> Sheet:
    """Return the load path with the most used check of each link, read off the sheets that are there."""
    by_key = {sheet.key: sheet for sheet in sheets}
    rows: list[tuple[Value | str, ...]] = []
    for link, carries, keys, *begin in LINKS:
        of = {sheet.title: _of(sheet, *begin) for sheet in (by_key[key] for key in keys if key in by_key)}
        there = [title for title, checks in of.items() if checks]
        checks = [c for title in there for c in of[title]]
        rows.append((link, carries, "; ".join(there) or "–", *_judged(checks)))
    heads = ("Link", "Carries", "Checked on", "Check used most", "Ratio []", "Result")
    purpose = "Follows every load from the equipment to the soil and says which sheet shows each link adequate."
    return Sheet("load_path", TITLE, purpose, (Grid("Links", heads, tuple(rows)), Remark(SAID), Remark(LEFT_OUT)))


def _of(sheet: Sheet, begin: tuple[str, ...] = ("",)) -> list[Check]:
    return [c for c in sheet.checks if c.name.startswith(begin)]


def stem(name: str) -> str:
    """Return the name of a check without the place and the combination it was found at.

    >>> stem("Weld at the foot, post 3 (2.4.1-5: 1.0 D + 0.6 W back)"), stem("Base plate thickness, tension side")
    ('Weld at the foot', 'Base plate thickness, tension side')
    """
    place = r"(post|rail|brace|tie|splice|equipment|top of) ?\w*"
    return re.split(rf",? \(|, {place}|:? {place} \d", name)[0].strip()


def _judged(checks: Sequence[Check]) -> tuple[str, Value | str, str]:
    """Return the most used of some checks, its ratio, and the worst word of all."""
    if not checks:
        return "–", "–", NONE
    known = [c for c in checks if c.ratio is not None]
    most = max(known, key=lambda c: float(c.ratio.magnitude) / c.limit, default=None)  # type: ignore[union-attr]
    words = {c.word for c in checks}
    word = next(w for w in ("NOT OK", "OPEN", "OK") if w in words)
    if most is None or most.ratio is None:
        return "–", "–", word
    return stem(most.name), most.ratio, word

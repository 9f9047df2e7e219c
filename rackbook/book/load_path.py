"""The way of every load to the ground, link by link: what each link carries, which sheets check it, and how much it is used."""

from __future__ import annotations

from collections.abc import Sequence

from rackbook.trace import Check, Grid, Remark, Sheet, Value

TITLE = "Load path"
#: Link, what it carries, and the keys of the sheets that check it; links in the order of the loads.
LINKS = (
    ("Equipment to rails: fasteners", "weight, wind, F_p and F_v of each item", ("equipment_fastening",)),
    ("Rails between posts", "the same, along each rail, with their couples", ("members",)),
    (
        "Rails to posts: bolts or welds, splices",
        "ends and joints of the rails",
        ("connections", "clips", "rail_welds", "splices"),
    ),
    ("Posts and braces: the frame", "weight, wind, earthquake of the whole rack", ("frame", "members")),
    ("Posts to base plates: welds", "reactions of the frame", ("feet",)),
    ("Base plates", "reactions of the frame", ("base_plates",)),
    ("Anchors and the concrete around them", "reactions, with overstrength where asked for", ("anchors",)),
    ("Piers", "reactions, soil pressure", ("pier_concrete",)),
    ("Soil", "reactions and weight of the piers", ("piers",)),
    ("Finished rack on crane and truck", "weight with impact, cornering", ("lifting", "transport")),
)
NONE = "not checked: the job leaves it out"
SAID = (
    "The largest ratio is that of the check used most on the sheets named. A link that is OPEN or not checked is to be shown "
    "adequate before the rack is released. Friction from weight is not counted on against earthquake."
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
    for link, carries, keys in LINKS:
        there = [by_key[key] for key in keys if key in by_key and by_key[key].checks]
        checks = [c for sheet in there for c in sheet.checks]
        rows.append((link, carries, "; ".join(s.title for s in there) or "–", *_judged(checks)))
    heads = ("Link", "Carries", "Checked on", "Largest ratio []", "Check")
    purpose = "Follows every load from the equipment to the soil and says which sheet shows each link adequate."
    return Sheet("load_path", TITLE, purpose, (Grid("Links", heads, tuple(rows)), Remark(SAID), Remark(LEFT_OUT)))


def _judged(checks: Sequence[Check]) -> tuple[Value | str, str]:
    """Return the largest ratio and the worst word of some checks."""
    if not checks:
        return "–", NONE
    known = [c for c in checks if c.ratio is not None]
    most = max(known, key=lambda c: float(c.ratio.magnitude) / c.limit, default=None)  # type: ignore[union-attr]
    words = {c.word for c in checks}
    word = next(w for w in ("NOT OK", "OPEN", "OK") if w in words)
    return (most.ratio if most is not None and most.ratio is not None else "–"), word

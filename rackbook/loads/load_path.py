"""The way of every load to the ground, link by link, and what is not checked or not considered."""

from __future__ import annotations

from rackbook.trace import Grid, Heading, Remark

#: The way of every load to the ground: link, what it carries, where that is found, and whether the link is checked.
LOAD_PATH = (
    (
        "Equipment to rails: fasteners",
        "weight; F of wind, F_p, F_v of the item",
        "Wind; Seismic forces on equipment",
        "not checked",
    ),
    ("Rails to posts: bolts or welds", "the same, along each rail", "the same", "not checked"),
    ("Rails, braces, posts: the frame", "W; wind V, M, torsion; E_h, E_v", "Weights; Wind; Seismic", "not checked"),
    ("Posts to base plates: welds", "reactions of the frame", "after the frame", "not checked"),
    ("Base plates to piers: anchors", "reactions; E_mh where asked for", "after the frame; Seismic", "not checked"),
    ("Piers to soil", "reactions at grade", "after the frame", "not checked"),
)
NOT_CHECKED = (
    "This submittal finds the loads. Links marked 'not checked' are to be shown adequate by calculations of their own before "
    "the rack is released. Friction from weight is not counted on against earthquake."
)
LEFT_OUT = (
    "Loads considered: dead load of rack, equipment, conduit and wire; wind; earthquake. Not considered: ice and wind on ice, "
    "snow, flood, tsunami, temperature, pull of cables, people and tools on the rack, vehicles, lifting and transport. Add "
    "those the place or the use calls for."
)


def load_path() -> list[Heading | Grid | Remark]:
    """Return the load path as parts of a sheet."""
    heads = ("Link", "Carries", "Loads from sheet", "Strength")
    return [Heading("Load path"), Grid("Links", heads, LOAD_PATH), Remark(NOT_CHECKED), Remark(LEFT_OUT)]

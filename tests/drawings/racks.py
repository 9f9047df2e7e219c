"""Jobs of all sorts for the drawings: a demo job with other keys, and what every drawing must hold."""

import functools
import re
import tempfile
from pathlib import Path

import pytest
from ruamel.yaml import YAML
from seen import Seen

from rackbook.job import load, new
from rackbook.loads.ice import ice
from rackbook.loads.seismic import seismic
from rackbook.loads.snow import snow
from rackbook.loads.weights import weights
from rackbook.loads.wind import wind
from rackbook.structure.frame import frame
from rackbook.structure.lifting import lifting
from rackbook.structure.members import members

#: Racks whose frames differ.
FRAMES = ("", "one bay", "ten bays", "long and uneven", "double row", "canopy")

#: A foot and a foundation whose numbers the tests know.
FOOT = {
    "frame.post": "HSS6X6X3/8",
    "frame.base_plate": {"length": "16 in", "width": "16 in", "thickness": "1-1/4 in"},
    "connections.base_weld": "3/8 in",
    "connections.electrode": "E70",
    "anchors": {
        "grade": "F1554 Gr 105", "diameter": "1-1/4 in", "count": 4, "spacing_x": "12 in", "spacing_y": "12 in",
        "embedment": "30 in", "washer": {"width": "3 in", "thickness": "1/2 in"}, "grout": "1.5 in",
        "grout_strength": "10000 psi",
    },
    "piers": {
        "diameter": "3 ft", "embedment": "8 ft", "projection": "6 in", "concrete": "5000 psi",
        "bars": {"count": 12, "size": "#8"}, "ties": {"size": "#4", "spacing": "10 in", "top": 2}, "cover": "3 in",
    },
    "site.soil": {"class": 4, "frost": "48 in", "discount": "1 ft"},
}  # fmt: skip

#: Racks at the ends of what is built: keys of rack.yaml by dotted path. With one item only, where all would not fit.
RACKS = {
    "one bay": {"frame.bays": ["3 ft"], "lifting": None},
    "ten bays": {"frame.bays": ["8 ft"] * 10, "lifting.picks": ["24 ft", "56 ft"]},
    "long and uneven": {"frame.bays": ["10 ft", "4.5 ft", "7.75 ft", "12 ft", "6 ft"], "lifting": None},
    "double row": {
        "frame.depth": "4 ft",
        "frame.ties": [{"shape": "C6X8.2", "height": "8 ft"}, {"shape": "C6X8.2", "height": "3 ft"}],
        "lifting.legs": 4,
    },
    "canopy": {
        "frame.canopy": {"length": "26 ft", "width": "8 ft", "height": "11 ft", "weight": "5 psf"},
        "site.snow": {"ground": "40 psf"},
    },
    "square pier on footing": {
        "piers.shape": "square",
        "piers.footing": {"length": "6 ft", "width": "5 ft", "thickness": "1.5 ft", "depth": "5 ft"},
        "anchors.embedment": "12 in",
    },
    "wide pier": {"piers.diameter": "12 ft"},
    "eight rods": {"anchors.count": 8, "anchors.washer": {"width": "2.5 in", "thickness": "3/8 in"}, "anchors.grout": None},
    "six rods": {"anchors.count": 6},
    "bare": dict.fromkeys(
        ("anchors", "connections", "lifting", "site.soil", "piers.concrete", "piers.bars", "piers.ties")
    ),
    "no plate": {"frame.base_plate": None, "anchors": None},
    "wide flange posts": {"frame.post": "W8X31"},
    "pipe posts": {"frame.post": "Pipe4STD"},
}  # fmt: skip
KEEPS_ITEMS = {"double row", "canopy", "wide pier", "square pier on footing", "eight rods", "six rods", "bare", "no plate"}


@functools.cache
def rack(name="", demo="quartz_saddle"):
    """Return the demo job, or one of the racks above."""
    return made(RACKS[name] if name else {}, demo, items=not name or name in KEEPS_ITEMS)


class Solved:
    """A rack with the results its drawings show, each worked out when asked for."""

    def __init__(self, job):
        self.job = job

    @functools.cached_property
    def weights(self):
        return weights(self.job)

    @functools.cached_property
    def frame(self):
        wound, job = wind(self.job), self.job
        loads = snow(job), ice(job, self.weights)
        return frame(job, self.weights, wound, seismic(job, self.weights, loads[0].p_f if loads[0] else None), *loads)

    @functools.cached_property
    def members(self):
        return members(self.job, self.frame)

    @functools.cached_property
    def lifting(self):
        return lifting(self.job, self.weights, self.frame)


@functools.cache
def solved(name="", demo="quartz_saddle"):
    """Return the demo job, or one of the racks above, with its results."""
    return Solved(rack(name, demo))


def made(changes, demo="quartz_saddle", items=True):
    """Return the demo job with other keys, None leaving one out; without its items only the first one stays."""
    with tempfile.TemporaryDirectory() as scratch:
        folder = new(Path(scratch) / "job", demo)
        yaml = YAML(typ="safe", pure=True)
        tree = yaml.load((folder / "rack.yaml").read_text(encoding="utf-8"))
        tree.pop("shop", None)
        for path, value in changes.items():
            *above, name = path.split(".")
            level = tree
            for key in above:
                level = level[key]
            if value is None:
                level.pop(name, None)
            else:
                level[name] = value
        with (folder / "rack.yaml").open("w", encoding="utf-8") as out:
            yaml.dump(tree, out)
        if not items:
            for file in ("equipment.csv", "circuits.csv"):
                lines = (folder / file).read_text(encoding="utf-8").splitlines()
                (folder / file).write_text("\n".join(lines[:2]) + "\n", encoding="utf-8")
        return load(folder)


def legible(svg):
    """Return a drawing as seen, when it is whole: on the paper, no word over another, no letter under 5.5 pt."""
    seen = Seen(svg)
    assert seen.width == 6.5
    assert seen.height <= 8
    assert seen.clashes() == []
    assert seen.clipped() == []
    assert seen.smallest() >= 5.49
    return seen


def scale_of(seen):
    """Return the inches of paper to a foot that a drawing says it has; its scale bar has to agree."""
    (of,) = re.findall(r"Scale ([\d/-]+) in. = (\d+) ft", seen.said)
    whole, _, part = of[0].rpartition("-")
    above, _, below = part.partition("/")
    scale = (float(whole or 0) + float(above) / float(below or 1)) / float(of[1])
    middle, end, unit = re.search(r"^0\n([\d.]+)\n([\d.]+) (ft|in\.)$", seen.said, re.MULTILINE).groups()
    assert float(end) == 2 * float(middle)
    assert seen.figure("scale bar 1")[2] == pytest.approx(float(middle) / (1 if unit == "ft" else 12) * scale, abs=0.01)
    return scale

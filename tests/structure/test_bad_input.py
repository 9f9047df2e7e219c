"""Bad input of the structure, by the public ways: each gives one clear message that says where and what to do."""

import re

import pytest

from rackbook.book import compute
from rackbook.job import load
from rackbook.shipped import shipped
from rackbook.trace import InputError, RackbookError


def put(text, path, value):
    """Return rack.yaml with one line written anew, found by its dotted path; items of a list are counted from 1.

    A key that is not there, or stands in a comment, is put in its place; without a value the line goes.
    """
    lines = text.split("\n")
    start, end = 0, len(lines)
    for depth, key in enumerate(path.split(".")):
        pad = "  " * depth
        like = rf"{pad}- " if key.isdigit() else rf"{pad}(# )?{key}:"
        found = [n for n in range(start, end) if re.match(like, lines[n])]
        if not found:
            lines.insert(start, "")
            found, end = [start], end + 1
        at = found[int(key) - 1 if key.isdigit() else 0]
        deeper = (n for n in range(at + 1, end) if lines[n].strip() and not lines[n].startswith(pad + "  "))
        start, end = at + 1, next(deeper, end)
    lines[at] = f"{pad}- {value}" if key.isdigit() else f"{pad}{key}: {value}" if value else ""
    return "\n".join(lines)


@pytest.fixture
def changed(tmp_path):
    """Return a maker of copies of the demo job with some lines of rack.yaml written anew; gives the folder."""

    def make(lines):
        for file in shipped("data", "jobs", "quartz_saddle").iterdir():
            text = file.read_text(encoding="utf-8")
            if file.name == "rack.yaml":
                for path, value in lines.items():
                    text = put(text, path, value)
            (tmp_path / file.name).write_text(text, encoding="utf-8")
        return tmp_path

    return make


BRACE = "[{shape: L3X3X1/4, length: 3.5 ft, %s}]"
LUG = "{thickness: 5/8 in, width: 3.5 in, radius: 1.75 in, hole: %s, pin: %s, weld: 5/16 in}"
REPORT = "{title: R, bearing: 2000 psf, lateral: %s}"
PLATE = {"frame.base_plate": "{length: 30 in, width: 30 in, thickness: 1 in}"}

#: Changed lines; the field the one message names; words that must be in it.
REFUSED = {
    # shapes, materials, parts
    "unknown post": ({"frame.post": "HSS6X6X1/5"}, "frame.post", ("'HSS6X6X1/5'", "a post shape", "HSS6X6X1/4")),
    "unknown rail": ({"frame.rail": "C6X8"}, "frame.rail", ("'C6X8'", "a rail shape", "C6X8.2")),
    "a rail that is a post": ({"frame.rail": "W8X31"}, "frame.rail", ("'W8X31'", "a rail shape")),
    "unknown brace": (
        {"frame.braces": "[{shape: L9X9X9, length: 7 ft}]"},
        "frame.braces.1.shape",
        ("'L9X9X9'", "a brace shape"),
    ),
    "unknown steel": (
        {"frame.materials": "{post: A500 Gr D}"},
        "frame.materials.post",
        ("a material", "A500 Gr C rectangular"),
    ),
    "unknown rods": ({"anchors.grade": "F1554 Gr 60"}, "anchors.grade", ("'F1554 Gr 60'", "F1554 Gr 55")),
    "unknown bolts": (
        {"connections.bolt": "{diameter: 5/8 in, grade: Grade 8}"},
        "connections.bolt.grade",
        ("'Grade 8'", "A307"),
    ),
    "unknown bars": ({"piers.bars": "{count: 8, size: '#12'}"}, "piers.bars.size", ("'#12'", "#14")),
    "five rods": ({"anchors.count": "5"}, "anchors.count", ("'5'", "4, 6, 8")),
    "three legs": ({"lifting.legs": "3"}, "lifting.legs", ("'3'", "2, 4")),
    # rails hang on posts
    "rail above the posts": (
        {"frame.rails.5": "{height: 9.5 ft, face: front}"},
        "frame.rails.5.height",
        ("lies above the posts", "9 ft", "Lower it"),
    ),
    "rail below the posts": (
        {"frame.rails.1": "{height: 6 in, face: front}"},
        "frame.rails.1.height",
        ("has no post beside it", "Raise it"),
    ),
    "rail between two rows": (
        {"frame.depth": "3 ft", "frame.rails.1": "{height: 2.5 ft, face: center}"},
        "frame.rails.1.face",
        ("no post to hang on", "front or the back", "frame.ties"),
    ),
    "tie in one row": (
        {"frame.ties": "[{shape: C6X8.2, height: 8 ft}]"},
        "frame.ties.1.shape",
        ("one row", "Leave it out"),
    ),
    # splices and braces
    "splice beyond the rack": (
        {"frame.splices": "[24.5 ft]"},
        "frame.splices.1",
        ("24.5 ft", "beyond the rack", "24 ft long"),
    ),
    "splices from right to left": (
        {"frame.splices": "[12 ft, 8.5 ft]"},
        "frame.splices.2",
        ("from left to right",),
    ),
    "brace nowhere": (
        {"frame.braces": BRACE % "from: {x: 3 ft, height: 6 ft}, to: {x: 5.47 ft, height: 8.5 ft}"},
        "frame.braces.1.from",
        ("ends nowhere", "x = 0, 8, 16, 24 ft", "heights 2.5, 4, 5.5, 7, 8.5 ft"),
    ),
    "brace beyond the rack": (
        {"frame.braces": BRACE % "from: {x: 24 ft, height: 6 ft}, to: {x: 26.47 ft, height: 8.5 ft}"},
        "frame.braces.1.to",
        ("ends nowhere", "x = 26.47 ft"),
    ),
    "brace of one end": (
        {"frame.braces": BRACE % "from: {x: 0 ft, height: 6 ft}"},
        "frame.braces.1",
        ("one end of the brace is not placed", "both 'from' and 'to'"),
    ),
    "brace of another length": (
        {"frame.braces": BRACE.replace("3.5", "9") % "from: {x: 0 ft, height: 6 ft}, to: {x: 2.47 ft, height: 8.5 ft}"},
        "frame.braces.1.length",
        ("3.51 ft apart", "9 ft"),
    ),
    # anchors stand in the concrete
    "anchor beside the pier": (
        {"anchors.spacing_x": "22 in", "anchors.spacing_y": "22 in", **PLATE},
        "anchors.spacing_x",
        ("outside the concrete", "16.06 in.", "15.00 in."),
    ),
    "anchor beside the plate": (
        {"anchors.spacing_x": "14 in"},
        "anchors.spacing_x",
        ("outside the base plate", "14 in."),
    ),
    "anchor below the pier": (
        {"anchors.embedment": "110 in", "piers.embedment": "8 ft"},
        "anchors.embedment",
        ("below the pier",),
    ),
    "footing thicker than deep": (
        {"piers.footing": "{length: 6 ft, width: 6 ft, thickness: 6 ft, depth: 5 ft}"},
        "piers.footing.thickness",
        ("thicker",),
    ),
    "soil twice": (
        {"site.soil.report": REPORT % "150 psf/ft"},
        "site.soil",
        ("both 'class' and 'report'", "exactly one"),
    ),
    # picks
    "pick beyond the rack": (
        {"lifting.picks": "[8 ft, 25 ft]"},
        "lifting.picks.2",
        ("25 ft", "beyond the rack", "24 ft long"),
    ),
    "one pick": ({"lifting.picks": "[8 ft]"}, "lifting.picks", ("2",)),
    # units
    "height in pounds": ({"frame.height": "9 lbf"}, "frame.height", ("force", "length", "ft")),
    "embedment without unit": ({"anchors.embedment": "20"}, "anchors.embedment", ("no unit", "20 in")),
    "lateral soil pressure without depth": (
        {"site.soil.class": "", "site.soil.report": REPORT % "150 psf"},
        "site.soil.report.lateral",
        ("psf/ft",),
    ),
    "ice thinner than nothing": (
        {"site.ice": "{thickness: -1 in, wind: 40 mph}"},
        "site.ice.thickness",
        ("out of range", "above 0"),
    ),
    "hook a mile up": ({"lifting.hook": "5280 ft"}, "lifting.hook", ("out of range", "100 ft")),
    # missing and unknown fields
    "no embedment": ({"anchors.embedment": ""}, "anchors.embedment", ("missing",)),
    "no hook": ({"lifting.hook": ""}, "lifting.hook", ("missing",)),
    "no post": ({"frame.post": ""}, "frame.post", ("missing",)),
    "no pier diameter": ({"piers.diameter": ""}, "piers.diameter", ("missing",)),
    "unknown key": ({"lifting.impact": "1.25\n  shock: 1.25"}, "lifting.shock", ("unknown name 'shock'", "impact")),
}


@pytest.mark.parametrize("name", REFUSED)
def test_one_message_when_loaded(changed, name):
    lines, field, words = REFUSED[name]
    with pytest.raises(InputError) as refused:
        load(changed(lines))
    (message,) = str(refused.value).splitlines()
    assert re.match(rf"rack\.yaml:\d+: {re.escape(field)}: ", message), message
    for word in words:
        assert word in message


def test_an_anchor_far_out_is_outside_concrete_and_plate(changed):
    """Two facts, a message each, at the same place."""
    with pytest.raises(InputError) as refused:
        load(changed({"anchors.spacing_x": "29 in"}))
    concrete, plate = str(refused.value).splitlines()
    assert "outside the concrete" in concrete
    assert "outside the base plate" in plate
    assert concrete.partition(": an anchor")[0] == plate.partition(": an anchor")[0]


SWINGS = {"frame.base": "pinned"}

#: What is seen between fields or only by the calculation: changed lines, and words of the one message.
FOUND_OUT = {
    "mechanism": ({**SWINGS, "frame.rail_ends": "pinned"}, ("mechanism", "frame.base: fixed")),
    "mechanism across the rack only": (SWINGS, ("mechanism", "across the rack", "frame.base: fixed")),
    "brace without length": (
        {"frame.braces": BRACE.replace("3.5", "0.1") % "from: {x: 0 ft, height: 6 ft}, to: {x: 0 ft, height: 6 ft}"},
        ("both ends of the brace", "frame.braces.1.to", "Move one"),
    ),
    "bolt of no size": (
        {"connections.bolt": "{diameter: 0.6 in, grade: Group 120 (A325) N}"},
        ("0.6 in.", "connections.bolt.diameter", "5/8"),
    ),
    "picks at one place": ({"lifting.picks": "[8 ft, 8 ft]"}, ("from left to right", "lifting.picks.2", "each place once")),
    "one pick": ({"lifting.picks": "[8 ft]"}, ("two places or more", "lifting.picks", "such as")),
    "square pier with six bars": (
        {"piers.shape": "square", "piers.bars": "{count: 6, size: '#7'}"},
        ("same on every side", "piers.bars.count", "4, 8, 12"),
    ),
    "pin larger than its hole": (
        {"lifting.lug": LUG % ("7/8 in", "1 in")},
        ("does not go into the hole", "lifting.lug.pin", "Mend one"),
    ),
    "hole larger than its lug": (
        {"lifting.lug": LUG % ("4 in", "7/8 in")},
        ("leaves no steel", "lifting.lug.hole", "Mend one"),
    ),
}


@pytest.mark.parametrize("name", FOUND_OUT)
def test_one_message_when_computed(changed, name):
    lines, words = FOUND_OUT[name]
    with pytest.raises(RackbookError) as refused:
        compute(load(changed(lines)))
    (message,) = str(refused.value).splitlines()
    for word in words:
        assert word in message
    assert message[-1] == "."


def test_a_pier_shallower_than_frost_is_not_ok(changed):
    book = compute(load(changed({"piers.embedment": "3 ft"})))
    (frost,) = [c for _, c in book.checks if "frost" in c.name]
    assert frost.word == "NOT OK"
    assert frost.demand.m_as("in") == pytest.approx(48)
    assert frost.capacity.m_as("in") == pytest.approx(36)
    assert "below grade" in frost.remedy


OPTIONAL = ("connections", "anchors", "lifting")


@pytest.mark.parametrize("name", OPTIONAL)
def test_what_is_left_out_stays_open(name):
    """An optional part of the job left out is never a pass and never an error."""
    job = load(shipped("data", "jobs", "quartz_saddle"))
    book = compute(job.model_copy(update={name: None}))
    open_ = [c for _, c in book.checks if c.word == "OPEN"]
    assert any(name in c.remedy for c in open_), [c.remedy for c in open_]


def test_without_soil_or_concrete_the_piers_stay_open():
    job = load(shipped("data", "jobs", "quartz_saddle"))
    bare = job.model_copy(update={
        "site": job.site.model_copy(update={"soil": None}),
        "piers": job.piers.model_copy(update={"concrete": None, "bars": None, "ties": None}),
    })  # fmt: skip
    remedies = [c.remedy for _, c in compute(bare).checks if c.word == "OPEN"]
    assert any("soil" in r for r in remedies)
    assert any("concrete" in r for r in remedies)

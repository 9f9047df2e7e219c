"""What a form asks comes from the job's own model."""

import pytest

from rackbook.job import demos
from rackbook.job.rack import RackFile
from rackbook.job.yamlfile import read_yaml
from rackbook.notebook.asked import ROWS, Group, asked
from rackbook.notebook.labels import COLUMNS, RACK
from rackbook.shipped import shipped
from rackbook.trace import LookupFailed


@pytest.fixture(params=demos())
def tree(request):
    return read_yaml("rack.yaml", shipped("data", "jobs", request.param, "rack.yaml").read_text(encoding="utf-8"))


def every(part):
    yield part
    if isinstance(part, Group):
        for inner in part.parts:
            yield from every(inner)


def test_every_field_of_the_job_is_asked_and_has_a_label_of_its_own(tree):
    unlabelled, fields = [], 0
    for name in RackFile.model_fields:
        for part in every(asked(name, tree)):
            key = ".".join("#" if n.isdigit() else n for n in part.path.split("."))
            fields += not isinstance(part, Group)
            if key not in RACK:
                unlabelled.append(part.path)
    assert unlabelled == []
    assert fields > 60


def test_every_column_of_the_schedules_has_a_label():
    columns = {info.alias or name for model in ROWS.values() for name, info in model.model_fields.items()}
    assert columns == set(COLUMNS)


def test_help_and_words_are_those_of_the_model(tree):
    fields = {part.path: part for part in asked("site.wind", tree).fields()}
    assert fields["site.wind.speed"].help.endswith("from 60 to 300 mph")
    assert fields["site.wind.exposure"].words == ("B", "C", "D")
    system = next(part for part in asked("site.seismic", tree).fields() if part.path.endswith("system"))
    assert system.text in system.near


def test_keys_are_asked_as_the_file_writes_them(tree):
    soil = {part.path for part in asked("site.soil", tree).fields()}
    assert "site.soil.class" in soil
    assert next(asked("site.soil.class", tree).fields()).words == ("", "1", "2", "3", "4", "5")
    brace = {part.path for part in every(asked("frame.braces", tree))}
    assert {"frame.braces.1.from", "frame.braces.1.from.x", "frame.braces.1.to.height"} <= brace


def test_names_of_the_tables_are_offered(tree):
    offered = {part.path: part.near for name in ("connections", "piers", "frame") for part in every(asked(name, tree))
               if not isinstance(part, Group)}  # fmt: skip
    assert "Group 120 (A325) N" in offered["connections.bolt.grade"]
    assert "#8" in offered["piers.bars.size"]
    assert "A992" in offered["frame.materials.post"]
    assert any(name.startswith("C6") for name in offered["frame.ties.1.shape"])


def test_texts_are_those_of_the_file(tree):
    assert [part.text for part in asked("frame.bays", tree).fields()] == [*tree["frame"]["bays"], ""]
    assert next(asked("site.wind.speed", tree).fields()).text == tree["site"]["wind"]["speed"]
    assert next(asked("frame.rails.2.height", tree).fields()).text == tree["frame"]["rails"][1]["height"]


@pytest.mark.parametrize(("path", "said"), [
    ("site.wind.sped", "Did you mean 'speed'"),
    ("sit", "Did you mean 'site'"),
    ("site.wind.speed.more", "has no 'site.wind.speed.more'"),
    ("frame.rails.99.height", "has no 'frame.rails.99.height'"),
    ("", "has no ''"),
])  # fmt: skip
def test_an_unknown_path_is_named(tree, path, said):
    with pytest.raises(LookupFailed, match=said.replace("'", ".")):
        asked(path, tree)

"""Saving: what is not changed stays byte for byte, what does not load is not written, and nothing is ever lost."""

import subprocess
import sys

import pytest

from rackbook.job import Job, load, new, save, set_cell, set_field
from rackbook.trace import InputError


def changed_lines(before: bytes, after: bytes) -> list[tuple[bytes, bytes]]:
    a, b = before.splitlines(), after.splitlines()
    assert len(a) == len(b)
    return [(x, y) for x, y in zip(a, b, strict=True) if x != y]


def test_a_field_changes_and_nothing_else(high):
    path = high / "rack.yaml"
    before = path.read_bytes()
    job = set_field(high, "site.wind.speed", "120 mph")
    assert isinstance(job, Job)
    assert job.site.wind.speed.text() == load(high).site.wind.speed.text() == "120 mph"
    [(old, changed)] = changed_lines(before, path.read_bytes())
    assert changed == old.replace(b"115 mph", b"120 mph")
    assert b"# basic wind speed" in changed
    assert (high / "rack.yaml.previous").read_bytes() == before
    assert not (high / "equipment.csv.previous").exists()
    assert sorted(p.name for p in high.iterdir()) == ["circuits.csv", "equipment.csv", "rack.yaml", "rack.yaml.previous"]


def test_a_cell_changes_and_nothing_else(high):
    path = high / "equipment.csv"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n").replace(b",flat,", b",  flat ,"))
    before = path.read_bytes()
    job = set_cell(high, "equipment", "T-1", "weight", "440 lbf")
    assert job.equipment_by_tag["T-1"].weight.text() == "440 lbf"
    assert path.read_bytes() == before.replace(b",22,,420,", b",22,,440,")
    set_cell(high, "equipment", "T-1", "weight", "420")
    assert path.read_bytes() == before


def test_line_ends_and_mark_of_the_field_file_survive(high):
    path = high / "rack.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    before = path.read_bytes()
    set_field(high, "site.elevation", "7100 ft")
    assert path.read_bytes() == before.replace(b"7050 ft", b"7100 ft")
    set_field(high, "site.wind.gust_factor", "0.9")
    assert path.read_bytes().count(b"\n") == path.read_bytes().count(b"\r\n") == before.count(b"\n") + 1
    assert load(high).site.wind.gust_factor.magnitude == 0.9


@pytest.mark.parametrize(
    "changes",
    [
        {"site.wind.speed": "12"},
        {"site.wind.speed": ""},
        {"site.wind.sped": "12 mph"},
        {"site.wind": "12 mph"},
        {"site.wind.speed.x": "12 mph"},
        {"frame.rails.0.height": "2 ft"},
        {"frame.rails.99.height": "2 ft"},
        {"frame.rails.x.height": "2 ft"},
        {"frame.bays.4": ""},
        {"frame.bays.3": ""},
        {"": "x"},
        {"a b": "x"},
        {"job.title": "a\nb"},
        {"job.title": "a\x00b"},
        {"job.title": "\ud800"},
        {"job.title": "x" * 9999},
        {("equipment", "T-1", "weight"): "=1"},
        {("equipment", "T-1", "weight"): "640 kgf"},
        {("equipment", "T-1", "tag"): "T-9"},
        {("equipment", "T-9", "weight"): "1"},
        {("equipment", "T-1", "wait"): "1"},
        {("equip", "T-1", "weight"): "1"},
        {("circuits", "F-1", "from"): "LP-1"},
        {"job.title": "good", "site.wind.speed": "bad"},
        {"job.title": "good", ("equipment", "T-1", "weight"): "bad"},
    ],
    ids=str,
)
def test_what_would_not_load_is_not_written(high, changes):
    before = {p.name: p.read_bytes() for p in high.iterdir()}
    with pytest.raises(InputError):
        save(high, changes)
    assert {p.name: p.read_bytes() for p in high.iterdir()} == before


@pytest.mark.parametrize(
    "text", ["a: b # c", "'q' \"d\"", r"\n $x$ <b> [a] {b} *c &d !e |f >g %h @i `j", "- x", "yes", "~", "1e3", "é漢🙂"]
)
def test_any_text_comes_back_as_written(high, text):
    assert set_field(high, "job.title", text).job.title == text
    assert load(high).job.title == text
    assert set_field(high, "job.title", "plain").job.title == "plain"
    cell = f"x {text}"
    assert set_cell(high, "equipment", "T-1", "description", cell).equipment_by_tag["T-1"].description == cell
    assert load(high).equipment_by_tag["T-1"].description == cell


def test_blank_fields_are_filled_and_emptied(high):
    before = (high / "rack.yaml").read_bytes()
    assert set_field(high, "job.checked", "B. Sample").job.checked == "B. Sample"
    assert b"# blank until somebody has" in (high / "rack.yaml").read_bytes()
    assert set_field(high, "job.checked", "").job.checked == ""
    assert (high / "rack.yaml").read_bytes().replace(b" ", b"") == before.replace(b" ", b"")


def test_keys_levels_and_items_are_added(high):
    path = high / "rack.yaml"
    lines = path.read_text().splitlines()
    job = set_field(high, "site.seismic.period", "0.3 s")
    assert job.site.seismic.period.magnitude == 0.3
    job = set_field(high, "site.seismic.stiffness.along", "12 kip/in")
    job = set_field(high, "site.seismic.stiffness.across", "6 kip/in")
    assert job.site.seismic.stiffness.across.magnitude == 6
    assert len(set_field(high, "frame.bays.4", "6 ft").frame.bays) == 4
    total = {f"shop.measured_weight.{k}": v for k, v in (
        ("total", "5 kip"), ("x", "12 ft"), ("y", "1 in"), ("z", "5 ft"), ("date", "2026-05-20"), ("scale", "crane scale"),
    )}  # fmt: skip
    assert save(high, total).shop.measured_weight.total.text() == "5 kip"
    after = path.read_text().splitlines()
    comments = [line.strip() for line in lines if line.strip().startswith("#")]
    assert [line.strip() for line in after if line.strip().startswith("#")] == comments


def test_a_file_changed_meanwhile_is_not_overwritten(high, monkeypatch):
    module = sys.modules["rackbook.job.save"]
    parse = module.parse

    def slow(files):
        (high / "rack.yaml").write_text((high / "rack.yaml").read_text() + "# by hand\n")
        return parse(files)

    monkeypatch.setattr(module, "parse", slow)
    with pytest.raises(InputError, match="changed by somebody else"):
        set_field(high, "site.wind.speed", "120 mph")
    assert (high / "rack.yaml").read_text().endswith("# by hand\n")
    assert "115 mph" in (high / "rack.yaml").read_text()


def test_a_link_stays_a_link(high, tmp_path):
    real = tmp_path / "real.yaml"
    (high / "rack.yaml").rename(real)
    (high / "rack.yaml").symlink_to(real)
    set_field(high, "site.wind.speed", "120 mph")
    assert (high / "rack.yaml").is_symlink()
    assert "120 mph" in real.read_text()


KILLED = """
import os, sys
from rackbook.job import set_field
stage, number, folder = sys.argv[1], int(sys.argv[2]), sys.argv[3]
real = getattr(os, stage)
calls = 0
def stopping(*args, **kwargs):
    global calls
    calls += 1
    if calls == number:
        os._exit(9)
    return real(*args, **kwargs)
setattr(os, stage, stopping)
set_field(folder, "site.wind.speed", "120 mph")
os._exit(0)
"""


@pytest.mark.parametrize(
    ("stage", "number", "saved"),
    [
        ("fdopen", 1, False),  # a temporary file for the previous version is made, but empty
        ("fsync", 1, False),  # it is written, not synced
        ("replace", 1, False),  # it is complete, not yet in place
        ("fdopen", 2, False),  # the previous version is kept; the new one is begun
        ("fsync", 2, False),
        ("replace", 2, False),  # the new version is complete, not yet in place
        ("fsync", 3, True),  # the new version is in place; the folder is not synced
        ("replace", 3, True),  # never reached
    ],
)
def test_a_process_killed_while_saving_loses_nothing(high, stage, number, saved):
    path = high / "rack.yaml"
    before = path.read_bytes()
    run = subprocess.run([sys.executable, "-c", KILLED, stage, str(number), str(high)], timeout=60, check=False)
    assert run.returncode == (0 if (stage, number) == ("replace", 3) else 9)
    after = path.read_bytes()
    assert after == (before.replace(b"115 mph", b"120 mph") if saved else before)
    load(high)
    previous = high / "rack.yaml.previous"
    assert not previous.exists() or previous.read_bytes() == before
    assert set_field(high, "site.wind.speed", "125 mph").site.wind.speed.text() == "125 mph"


def test_a_folder_that_cannot_be_written_is_an_input_error(high, monkeypatch):
    module = sys.modules["rackbook.job.save"]

    def full(*_args, **_more):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(module.os, "fsync", full)
    before = {p.name: p.read_bytes() for p in high.iterdir()}
    with pytest.raises(InputError, match="No space left on device"):
        set_field(high, "site.wind.speed", "120 mph")
    assert {p.name: p.read_bytes() for p in high.iterdir()} == before


def test_new_copies_a_demo_job(tmp_path):
    folder = new(tmp_path / "deep" / "job", "heron_quay")
    assert load(folder).job.number == "HQ-0717"
    (tmp_path / "empty").mkdir()
    assert load(new(tmp_path / "empty")).job.number == "QS-2204"


def test_new_copies_the_notebooks_beside(tmp_path, monkeypatch):
    module = sys.modules["rackbook.job.begin"]
    (tmp_path / "notebooks").mkdir()
    (tmp_path / "notebooks" / "wind.ipynb").write_text("{}")
    (tmp_path / "notebooks" / "other.txt").write_text("")
    real = module.shipped
    monkeypatch.setattr(module, "shipped", lambda *parts: tmp_path / "notebooks" if parts == ("notebooks",) else real(*parts))
    folder = new(tmp_path / "job")
    assert sorted(p.name for p in folder.iterdir()) == ["circuits.csv", "equipment.csv", "rack.yaml", "wind.ipynb"]


def test_shipped_files_are_found_in_a_checkout_and_when_installed(tmp_path, monkeypatch):
    module = sys.modules["rackbook.shipped"]
    assert module.shipped("data", "jobs").is_dir()
    (tmp_path / "_shipped" / "data").mkdir(parents=True)
    monkeypatch.setattr(module, "_PACKAGE", tmp_path)
    assert module.shipped("data", "tables") == tmp_path / "_shipped" / "data" / "tables"
    for parts in ((), ("elsewhere",), ("data", "..", "x"), ("data", "/etc")):
        with pytest.raises(ValueError):  # noqa: PT011
            module.shipped(*parts)


def test_new_refuses(tmp_path):
    folder = new(tmp_path / "job")
    (tmp_path / "file").write_text("x")
    before = sorted(p.name for p in tmp_path.rglob("*"))
    for where, demo in (
        (folder, "heron_quay"), (tmp_path / "file", "heron_quay"), (tmp_path / "file" / "x", "heron_quay"),
        (tmp_path / "other", "heron_quey"), (tmp_path / "other", "../jobs/heron_quay"), ("a\0b", "heron_quay"),
    ):  # fmt: skip
        with pytest.raises(InputError):
            new(where, demo)
    assert sorted(p.name for p in tmp_path.rglob("*")) == before

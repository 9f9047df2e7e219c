"""The commands as a user types them: what they print, how they end, and that nobody meets a traceback."""

import csv
import io
import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from rackbook import cli
from rackbook.book import compute
from rackbook.job import load, set_field
from rackbook.shipped import shipped


@pytest.fixture
def job(tmp_path):
    folder = tmp_path / "job"
    shutil.copytree(shipped("data", "jobs", "quartz_saddle"), folder)
    return folder


def typed(capsys, monkeypatch, *words):
    """Run a command in this process; return exit code, output and error text."""
    monkeypatch.setattr(sys, "argv", ["rackbook", *map(str, words)])
    with pytest.raises(SystemExit) as end:
        cli.main()
    said = capsys.readouterr()
    return end.value.code or 0, said.out, said.err


def test_new_makes_a_folder_that_checks(tmp_path, capsys, monkeypatch):
    code, out, _ = typed(capsys, monkeypatch, "new", tmp_path / "mine", "--demo", "heron_quay")
    assert code == 0
    assert "rack.yaml" in out
    assert {p.name for p in (tmp_path / "mine").iterdir()} >= {
        "rack.yaml",
        "equipment.csv",
        "circuits.csv",
        "1_job_and_site.ipynb",
    }
    code, out, _ = typed(capsys, monkeypatch, "check", tmp_path / "mine")
    assert "DRAFT until a licensed engineer seals it" in out
    assert code in (0, 1)


def test_new_refuses_a_folder_in_use_and_an_unknown_demo(job, tmp_path, capsys, monkeypatch):
    code, _, err = typed(capsys, monkeypatch, "new", job)
    assert code == 2
    assert "not empty" in err
    code, _, err = typed(capsys, monkeypatch, "new", tmp_path / "x", "--demo", "heron_key")
    assert code == 2
    assert "Did you mean 'heron_quay'?" in err
    assert not (tmp_path / "x").exists()


def test_check_exit_code_follows_the_checks(job, capsys, monkeypatch):
    code, out, _ = typed(capsys, monkeypatch, "check", job)
    words = {line for line in ("OPEN", "NOT OK") if line in out}
    assert code == (1 if words else 0)
    text = (job / "circuits.csv").read_text()
    (job / "circuits.csv").write_text(
        text.replace(",220,copper,THWN-2,,1,none,75,yes,,,C-6", ",9000,copper,THWN-2,6,1,none,75,yes,,,C-6")
    )
    assert text != (job / "circuits.csv").read_text()
    code, out, _ = typed(capsys, monkeypatch, "check", job)
    assert code == 1
    assert "NOT OK" in out
    assert "M-1B" in out


def test_json_has_every_result_with_value_unit_and_clause(job, capsys, monkeypatch):
    _, out, _ = typed(capsys, monkeypatch, "check", job, "--json")
    told = json.loads(out)
    assert told["status"] == "DRAFT"
    assert told["inputs"]["site.wind.speed"]["value"] == 115
    assert len(told["results"]) > 500
    for path, entry in {**told["inputs"], **told["results"]}.items():
        assert {"value", "unit", "clause", "text"} <= entry.keys(), path
        assert entry["clause"], path
    for check in told["checks"]:
        assert check["word"] in ("OK", "NOT OK", "OPEN")
        assert check["clause"]


@pytest.mark.parametrize(
    ("file", "old", "new", "said"),
    [
        ("rack.yaml", "115 mph", "115", "rack.yaml:34"),
        ("rack.yaml", "115 mph", "12 bananas", "bananas"),
        ("rack.yaml", "exposure: C", "exposure: Q", "B, C"),
        ("rack.yaml", "speed:", "sped:", "speed"),
        ("equipment.csv", "DP-1,panelboard", "DS-1,panelboard", "DS-1"),
        ("circuits.csv", "F-1,utility", "F-1,nowhere", "nowhere"),
        ("rack.yaml", "HSS6X6X1/4", "HSS6X6X1/9", "HSS6X6"),
    ],
)
@pytest.mark.parametrize("command", ["check", "bind", "open"])
def test_a_refused_job_is_a_plain_message(job, capsys, monkeypatch, command, file, old, new, said):
    text = (job / file).read_text()
    assert old in text
    (job / file).write_text(text.replace(old, new, 1))
    code, out, err = typed(capsys, monkeypatch, command, job)
    assert code == 2
    assert file in err
    assert said in err
    assert "Traceback" not in out + err


@pytest.mark.parametrize(
    "words", [("check", "no-such-folder"), ("bind", "no-such-folder"), ("open", "no-such-folder"), ("chek",), ("check",)]
)
def test_wrong_words_end_with_two_and_no_traceback(capsys, monkeypatch, tmp_path, words):
    monkeypatch.chdir(tmp_path)
    code, out, err = typed(capsys, monkeypatch, *words)
    assert code == 2
    assert err.strip()
    assert "Traceback" not in out + err


def test_hostile_words_reach_the_screen_as_they_stand(job, capsys, monkeypatch):
    text = (job / "rack.yaml").read_text()
    (job / "rack.yaml").write_text(
        text.replace("title: Upper station electrical rack", "title: 'Rack [bold red]x[/] $(id) {{ 1 }}'")
    )
    _, out, err = typed(capsys, monkeypatch, "check", job)
    assert "[bold red]x[/]" in out
    assert "Traceback" not in out + err


def test_as_a_program():
    done = subprocess.run([sys.executable, "-m", "rackbook.cli", "--version"], capture_output=True, text=True, check=True)
    assert done.stdout.startswith("rackbook ")


def test_a_failing_cell_stops_the_bind_and_names_it(job, capsys, monkeypatch):
    import nbformat

    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell("x = 1"), nbformat.v4.new_code_cell("1 / 0")])
    notebook.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3", "language": "python"}
    nbformat.write(notebook, job / "own.ipynb")
    code, out, err = typed(capsys, monkeypatch, "bind", job)
    assert code == 2
    assert "own.ipynb, cell 2: ZeroDivisionError: division by zero" in " ".join(err.split())
    assert "Traceback" not in out + err
    assert not list(Path(job).rglob("*.pdf"))


def test_a_failing_check_is_told_what_would_make_it_pass(job, capsys, monkeypatch):
    set_field(job, "frame.base_plate.thickness", "3/4 in")
    before = (job / "rack.yaml").read_bytes()
    code, out, _ = typed(capsys, monkeypatch, "seek", job, "base plate thickness", "frame.base_plate.thickness")
    assert code == 0
    assert "passes with frame.base_plate.thickness = 0.9" in out
    assert (job / "rack.yaml").read_bytes() == before
    code, _, err = typed(capsys, monkeypatch, "seek", job, "Bass plate", "frame.base_plate.thickness")
    assert code == 2
    assert "no check that begins with 'Bass plate'" in err


def test_the_lightest_rail_is_found_and_told(job, capsys, monkeypatch):
    code, out, _ = typed(capsys, monkeypatch, "lightest", job, "rail", "channels")
    assert code == 0
    assert out.startswith("Lightest rail of channels that passes: ")
    code, _, err = typed(capsys, monkeypatch, "lightest", job, "rail", "tubes")
    assert code == 2
    assert "Families: " in err


def test_reactions_of_every_base_and_combination_as_a_table(job, capsys, monkeypatch):
    code, out, _ = typed(capsys, monkeypatch, "reactions", job, "--set", "strength")
    assert code == 0
    head, *rows = csv.reader(io.StringIO(out))
    sets = compute(load(job)).results["frame"].sets["strength"]
    assert len(rows) == 4 * len(sets)
    assert all(len(row) == len(head) for row in rows)
    code, _, err = typed(capsys, monkeypatch, "reactions", job, "--set", "strenght")
    assert code == 2
    assert "allowable_overstrength" in err

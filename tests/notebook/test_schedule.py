"""A schedule is changed cell by cell; rows come and go in the file."""

import csv

import pytest

from rackbook.job import load


def rows(site, name):
    with (site.folder / name).open(encoding="utf-8", newline="") as file:
        return {row["tag"]: row for row in csv.DictReader(file)}


def test_a_cell_is_saved_and_everything_follows(site):
    view, sheet = site.workbook.schedule("equipment"), site.workbook.sheet("weights")
    before = sheet.content
    view.choice.value = "T-1"
    assert view.form.fields["weight"].typed == "420"
    view.form.fields["weight"].input.value = "640"
    assert rows(site, "equipment.csv")["T-1"]["weight [lbf]"] == "640"
    assert sheet.content != before
    assert "| 640 |" in view.table.content
    view.form.fields["weight"].input.value = "650 lbf"
    assert load(site.folder).equipment_by_tag["T-1"].weight.m_as("lbf") == 650
    assert view.form.fields["weight"].typed == "650"


def test_a_refused_cell_leaves_the_file(site):
    view = site.workbook.schedule("equipment")
    view.choice.value = "LP-1"
    before = site.text("equipment.csv")
    for text in ("heavy", "-3", "190 kg", "=1+1", "x" * 300):
        box = view.form.fields["weight"]
        box.input.value = text
        assert box.refused, text
        assert site.text("equipment.csv") == before
    view.choice.value = "T-1"
    assert not view.form.fields["weight"].refused
    assert view.form.fields["weight"].typed == "420"
    view.choice.value = "LP-1"
    assert view.form.fields["weight"].typed == "190"


def test_two_cells_good_only_together(site):
    view = site.workbook.schedule("circuits")
    view.choice.value = "B-1"
    load_box = view.form.fields["load"]
    load_box.input.value = ""
    assert load_box.refused
    view.form.fields["kva"].input.value = "50"
    row = rows(site, "circuits.csv")["B-1"]
    assert (row["load [A]"], row["kva [kVA]"]) == ("", "50")
    assert not load_box.refused


def test_what_a_raceway_shares_is_saved_for_all_its_circuits(site):
    view = site.workbook.schedule("circuits")
    view.choice.value = "M-2A"
    view.form.fields["raceway_kind"].input.value = "EMT"
    found = rows(site, "circuits.csv")
    assert {found[tag]["raceway_kind"] for tag in ("M-2A", "M-3A")} == {"EMT"}
    assert found["M-2B"]["raceway_kind"] == "RMC"
    assert "M-3A" in view.form.said.value


def test_rows_added_outside_appear(site):
    view = site.workbook.schedule("circuits")
    view.choice.value = "B-11"
    text = site.text("circuits.csv")
    last = text.rstrip().splitlines()[-1]
    more = last.replace("B-11", "B-12").replace("C-17", "C-18")
    (site.folder / "circuits.csv").write_text(f"{text.rstrip()}\n{more}\n")
    site.workbook.reload()
    assert "B-12" in [tag for _, tag in view.choice.options]
    assert view.choice.value == "B-11"
    (site.folder / "circuits.csv").write_text(text.rstrip().removesuffix(last))
    site.workbook.reload()
    assert "B-11" not in [tag for _, tag in view.choice.options]
    assert view.choice.value in rows(site, "circuits.csv")


@pytest.mark.parametrize("name", ["equipment", "circuits"])
def test_the_table_shows_every_cell_that_is_filled(site, name):
    view = site.workbook.schedule(name)
    shown = view.table.content.replace("\\", "")
    for row in rows(site, f"{name}.csv").values():
        for text in row.values():
            assert text in shown


def test_a_broken_schedule_says_so_and_is_followed_again(site):
    view = site.workbook.schedule("equipment")
    good = view.table.content
    site.edit("T-1,transformer", 'T-1,"transformer', "equipment.csv")
    site.workbook.reload()
    assert "Not up to date" in view.table.content
    assert "equipment.csv" in view.form.said.value
    site.edit('T-1,"transformer', "T-1,transformer", "equipment.csv")
    site.workbook.reload()
    assert view.table.content == good

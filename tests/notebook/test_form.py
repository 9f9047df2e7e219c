"""A form writes the file, or refuses in one line and leaves everything as it was."""

import re

import pytest

from rackbook.job import load


def type_in(form, path, text):
    """Enter a text as the browser does on Enter or on leaving the field."""
    form.fields[path].input.value = text
    return form.fields[path]


def test_a_change_is_in_the_file_and_on_the_sheet(site):
    form, sheet = site.workbook.form("site.wind"), site.workbook.sheet("wind")
    before, words = sheet.content, site.text()
    box = type_in(form, "site.wind.speed", "130 mph")
    assert site.text() == words.replace("115 mph", "130 mph", 1)
    assert load(site.folder).site.wind.speed.m_as("mph") == 130
    assert sheet.content != before
    assert r"130\ \mathrm{mph}" in sheet.content
    assert not box.refused
    assert "saved" in box.hint.value


@pytest.mark.parametrize(("text", "said"), [
    ("12 bananas", "is not a unit"),
    ("12 lbf", "measures"),
    ("12", "has no unit"),
    ("1000 mph", "out of range"),
    ("", "missing or blank"),
    ("<img src=x onerror=alert(1)>", "is not a number"),
    ("1\u202e15 mph", "U\\+202E"),
    ("9" * 5000 + " mph", "out of range"),
])  # fmt: skip
def test_a_refusal_is_one_message_and_touches_nothing(site, text, said):
    form, sheet, checks = site.workbook.form("site.wind"), site.workbook.sheet("wind"), site.workbook.checks()

    def all_of_it():
        files = {path: path.read_bytes() for path in site.folder.iterdir()}
        return files, sheet.content, checks.content, site.workbook.book

    before = all_of_it()
    box = type_in(form, "site.wind.speed", text)
    assert all_of_it() == before
    assert box.refused
    assert box.message.value.count("Not saved") == 1
    assert len(box.message.value) < 700
    assert "<img" not in box.message.value
    assert "115 mph" in box.message.value
    assert box.message.layout.display is None
    assert re.search(said, box.message.value)
    assert box.typed == text.strip()


def test_the_right_text_takes_the_message_away(site):
    form = site.workbook.form("site.wind")
    box = type_in(form, "site.wind.speed", "12 bananas")
    type_in(form, "site.wind.speed", "115 mph")
    assert (box.refused, box.message.value, box.message.layout.display) == (False, "", "none")
    type_in(form, "site.wind.speed", "oops")
    type_in(form, "site.wind.speed", "120 mph")
    assert not box.refused
    assert "120 mph" in site.text()


def test_a_wrong_entry_stays_when_another_field_is_saved(site):
    form = site.workbook.form("site.wind")
    wrong = type_in(form, "site.wind.speed", "12 bananas")
    type_in(form, "site.wind.exposure", "B")
    assert wrong.refused
    assert wrong.typed == "12 bananas"
    assert load(site.folder).site.wind.exposure == "B"
    assert "bananas" not in site.text()


def test_entries_that_are_good_only_together_are_saved_together(site):
    form = site.workbook.form("frame")
    rail = type_in(form, "frame.rails.5.height", "9.5 ft")  # the posts end at 9 ft
    assert rail.refused
    assert "above the posts" in rail.message.value
    type_in(form, "frame.height", "10 ft")
    job = load(site.folder)
    assert (job.frame.height.m_as("ft"), job.frame.rails[4].height.m_as("ft")) == (10, 9.5)
    assert not any(box.refused for box in form.fields.values())


def test_a_group_that_is_not_there_is_added_as_a_whole(site):
    form = site.workbook.form("site.wind")
    draft = form.drafts["site.wind.topography"]
    given = {"feature": "ridge", "height": "60 ft", "half_length": "150 ft", "distance": "20 ft"}
    for name, text in given.items():
        draft.fields[f"site.wind.topography.{name}"].input.value = text
    before = site.text()
    draft.fields["site.wind.topography.side"].input.value = "upwind"
    draft.fields["site.wind.topography.height"].input.value = "60"
    draft.add()
    assert draft.fields["site.wind.topography.height"].refused
    assert site.text() == before
    draft.fields["site.wind.topography.height"].input.value = "60 ft"
    draft.add()
    assert load(site.folder).site.wind.topography.height.m_as("ft") == 60
    assert form.fields["site.wind.topography.height"].typed == "60 ft"
    assert form.drafts == {}


def test_an_item_is_added_to_a_list(site):
    form = site.workbook.form("frame")
    type_in(form, "frame.bays.4", "8 ft")
    assert len(load(site.folder).frame.bays) == 4
    assert form.fields["frame.bays.5"].typed == ""
    draft = form.drafts["frame.rails.10"]
    draft.fields["frame.rails.10.height"].input.value = "6 ft"
    draft.fields["frame.rails.10.face"].input.value = "back"
    draft.add()
    assert load(site.folder).frame.rails[9].height.m_as("ft") == 6
    assert "frame.rails.10.height" in form.fields


def test_an_edit_outside_is_read_before_a_change_is_saved(site):
    wind, air = site.workbook.form("site.wind"), site.workbook.form("site.ambient")
    sheet = site.workbook.sheet("criteria")
    site.edit("32 degC", "41 degC")
    type_in(wind, "site.wind.speed", "130 mph")
    assert "41 degC" in site.text()
    assert "130 mph" in site.text()
    assert air.fields["site.ambient.temperature"].typed == "41 degC"
    assert "41 °C" in sheet.content.replace("\xa0", " ")
    assert "changed outside" in wind.said.value


def test_an_edit_outside_of_the_same_field_is_not_overwritten(site):
    form = site.workbook.form("site.wind")
    site.edit("115 mph", "150 mph")
    box = type_in(form, "site.wind.speed", "130 mph")
    assert "150 mph" in site.text()
    assert box.refused
    assert "150 mph" in box.message.value
    assert box.typed == "150 mph"
    assert site.workbook.value("site.wind.speed").m_as("mph") == 150
    type_in(form, "site.wind.speed", "130 mph")
    assert "130 mph" in site.text()


def test_reading_again_follows_the_files(site):
    form, sheet = site.workbook.form("site.wind"), site.workbook.sheet("criteria")
    site.edit("115 mph", "150 mph")
    site.workbook.reload()
    assert form.fields["site.wind.speed"].typed == "150 mph"
    assert "150 mph" in sheet.content.replace("\xa0", " ")
    assert "read again" in form.said.value


def test_a_broken_file_is_mended_in_the_form(site):
    form, sheet = site.workbook.form("site.wind"), site.workbook.sheet("wind")
    good = sheet.content
    site.edit("115 mph", "115 bananas")
    site.workbook.reload()
    assert form.fields["site.wind.speed"].typed == "115 bananas"
    assert "Not up to date" in sheet.content
    assert sheet.content.endswith(good)
    type_in(form, "site.wind.speed", "115 mph")
    assert sheet.content == good


def test_a_form_says_what_the_words_of_the_job_are(site):
    site.edit("Quartz Saddle Ropeway", "A & B <script>alert(1)</script> $x$")
    site.workbook.reload()
    box = site.workbook.form("job").fields["job.client"]
    assert box.typed == "A & B <script>alert(1)</script> $x$"
    type_in(site.workbook.form("job"), "job.client", "<b>" * 100)
    assert "<b>" not in box.message.value

"""What is shown follows the job, and says so when it cannot."""

import pytest

from rackbook.notebook import live, open_job
from rackbook.notebook.live import on_screen
from rackbook.trace import InputError, LookupFailed, RackbookError, Source, formula


@formula(Source("derivation", "twice"), V_2="mph")
def twice(V):
    """Return twice the speed."""
    V_2 = 2 * V
    return V_2


def test_only_what_changed_is_shown_again(site, monkeypatch):
    sent = []
    monkeypatch.setattr(live, "get_ipython", lambda: object())
    workbook = site.workbook
    shown = [workbook.sheet("wind"), workbook.sheet("weights"), workbook.elevation("front"), workbook.checks("wind")]
    for part in shown:
        part.on_screen = True
        for handle in part.handles:
            handle.update = lambda data, part=part, **_: sent.append((part, data))
    workbook.form("site.wind").fields["site.wind.speed"].input.value = "130 mph"
    assert {id(part) for part, _ in sent} == {id(shown[0])}
    assert len(sent) < len(shown[0].handles)  # the heading stays as it is
    assert all(data["text/markdown"] in shown[0].content for _, data in sent)
    sent.clear()
    workbook.form("frame").fields["frame.height"].input.value = "9.5 ft"
    assert shown[2] in [part for part, _ in sent]


def test_a_job_that_cannot_be_computed_keeps_the_last_results_under_a_banner(site, monkeypatch):
    sheet, picture = site.workbook.sheet("wind"), site.workbook.elevation("front")
    good, drawn = sheet.content, picture.content

    def fails(job):
        raise LookupFailed("the table of <b>x</b> has no row for this.")

    with monkeypatch.context() as patch:
        patch.setattr("rackbook.notebook.desk.compute", fails)
        site.workbook.form("site.wind").fields["site.wind.speed"].input.value = "130 mph"
        assert "130 mph" in site.text()  # the entry itself is good
        assert sheet.content.startswith("> **Not up to date.** the table of \\<b\\>x\\<\\/b\\> has no row")
        assert sheet.content.endswith(good)
        assert picture.now.mime == "text/markdown"
        with pytest.raises(LookupFailed):
            site.workbook.sheet("wind")
        again = open_job(site.folder)  # still opens, so that its forms can mend it
        assert again.form("site.wind").fields["site.wind.speed"].typed == "130 mph"
        with pytest.raises(LookupFailed):
            again.checks()
        patch.setattr("rackbook.notebook.desk.compute", lambda job: 1 / 0)
        site.workbook.reload()
        assert "ZeroDivisionError" in sheet.content
    site.workbook.form("site.wind").fields["site.wind.speed"].input.value = "115 mph"
    assert (sheet.content, picture.content) == (good, drawn)


def test_a_folder_without_a_job_is_one_plain_error(tmp_path):
    with pytest.raises(InputError, match=r"rack\.yaml"):
        open_job(tmp_path)


def test_own_sheet_quotes_the_book_and_follows(site):
    shown = site.workbook.own(lambda value: twice(V=value("site.wind.speed")), "Own", "Twice.")
    assert r"230.0\ \mathrm{mph}" in shown.content
    site.workbook.form("site.wind").fields["site.wind.speed"].input.value = "130 mph"
    assert r"260.0\ \mathrm{mph}" in shown.content
    quoted = site.workbook.own(lambda value: (value("wind.front.V"),), "Own, quoted")
    assert "Wind loads sheet" in quoted.content.replace("\\", "")


def test_own_sheet_that_fails_later_says_so(site):
    def by_hand(value):
        if value("site.wind.speed").m_as("mph") > 120:
            raise ValueError("too fast for this line")
        return (twice(V=value("site.wind.speed")),)

    shown = site.workbook.own(by_hand, "Own")
    site.workbook.form("site.wind").fields["site.wind.speed"].input.value = "130 mph"
    assert "too fast for this line" in shown.content
    with pytest.raises(LookupFailed, match=r"Did you mean 'site\.wind\.speed'"):
        site.workbook.own(lambda value: (value("site.wind.sped"),), "Own")


def test_checks_are_counted_and_grouped(coast):
    shown = coast.workbook.checks()
    book = coast.workbook.book
    assert f"{len(book.checks)} checks: " in shown.content
    failing = [c for _, c in book.checks if c.word == "NOT OK"]
    assert f"{len(failing)} NOT OK" in shown.content
    assert shown.content.count("**NOT OK**") == len(failing)
    some = coast.workbook.checks("raceways")
    assert "### Conductors" not in some.content


def test_trace_and_touches(site):
    trace = site.workbook.trace("wind.front.V")
    assert "site.wind.speed" in trace.content
    touched = site.workbook.touches("site.wind.speed")
    rows = touched.content.replace("\\", "")
    assert "wind.front.V" in rows
    assert "weights.W " not in rows
    before = touched.content
    site.workbook.form("site.wind").fields["site.wind.speed"].input.value = "130 mph"
    assert touched.content != before


@pytest.mark.parametrize("ask", [
    lambda w: w.sheet("wnd"), lambda w: w.elevation("top"), lambda w: w.trace("wind.fron.V"), lambda w: w.checks("wnd"),
    lambda w: w.touches("site.wind.sped"), lambda w: w.schedule("equpment"), lambda w: w.form("site.wnd"),
    lambda w: w.value("x"), lambda w: w.sheets("wind", "wnd"), lambda w: w.drawing("bse plan"),
    lambda w: w.drawing("pier", "D + W front"), lambda w: w.drawing("deformed across", "D + W frnt"),
    lambda w: w.drawing("moments along", "9.9.9-9"),
])  # fmt: skip
def test_what_is_not_there_is_named(site, ask):
    with pytest.raises(RackbookError) as error:
        ask(site.workbook)
    assert len(str(error.value)) < 400


def test_a_drawing_follows_what_it_shows_and_nothing_else(site, monkeypatch):
    made = []
    workbook = site.workbook
    foot, shape = workbook.drawing("pier"), workbook.drawing("deformed across", "D + W front")
    assert "2.5 ft" in foot.content
    assert shape.now.words == "Deformed shape, drift across the rack: D + W front"
    for live_ in (foot, shape):
        monkeypatch.setattr(live_, "render", lambda book, live_=live_, old=live_.render: made.append(live_) or old(book))
    workbook.form("job").fields["job.title"].input.value = "Another title"
    assert made == []
    workbook.form("site.wind").fields["site.wind.speed"].input.value = "130 mph"
    assert shape in made
    workbook.form("piers").fields["piers.embedment"].input.value = "11 ft"
    assert foot in made
    assert "11 ft" in foot.content


def test_sheets_that_a_job_does_not_have_are_left_out(site, coast):
    shown = site.workbook.sheets("snow", "ice")
    assert shown.content.startswith("## Ice loads")
    assert coast.workbook.sheets("snow", "ice").content == ""
    joints = coast.workbook.sheets("connections", "rail_welds", "clips", "splices")
    titles = [line for line in joints.content.splitlines() if line.startswith("## ")]
    assert titles == ["## Connections", "## Rail clips", "## Rail splices"]
    assert "\n".join(part.content for part in joints.now.sections()) == joints.content


def test_sections_are_the_whole():
    whole = live.Shown("text/markdown", "## A\n\nfirst\n\n### B\n\nsecond\n\n### C\n\nthird\n", "words")
    for many in (0, 1, 2, 3, 5):
        texts = [section.content for section in whole.sections(many)]
        assert len(texts) == (many or 3)
        assert "\n".join(filter(None, texts)) == whole.content


def test_own_words_are_never_math_on_a_screen():
    assert on_screen(r"a \$5, b \$6") == (
        r'a <span class="mathjax_ignore">\$</span>5, b <span class="mathjax_ignore">\$</span>6'
    )
    assert on_screen(r"\\\(x\\\)") == r'<span class="mathjax_ignore">\\</span>\(x<span class="mathjax_ignore">\\</span>\)'
    math = "$a = \\$5$ and\n\n$$\\begin{aligned} q &= 1 \\\\ &= 2 \\end{aligned}$$\n\n```text\n\\$ \\\\\n```\n"
    assert on_screen(math) == math


def test_a_change_reaches_the_displays_that_rest_on_it_and_no_other(site):
    workbook = site.workbook
    shown = {key: workbook.sheet(key) for key in ("wind", "seismic", "conductors")}
    before = {key: display.content for key, display in shown.items()}
    workbook.form("site").fields["site.wind.speed"].input.value = "130 mph"
    assert r"130\ \mathrm{mph}" in shown["wind"].content
    assert [key for key, display in shown.items() if display.content != before[key]] == ["wind"]


def test_advice_is_given_in_a_cell_and_nothing_is_written(site):
    before = site.text()
    said = site.workbook.lightest("rail", "channels")._repr_markdown_()
    assert said.startswith("Lightest rail of channels that passes")
    passes = site.workbook.seek("Base plate thickness, bearing side", "frame.base_plate.length")._repr_markdown_()
    assert "as it is" in passes
    assert site.text() == before

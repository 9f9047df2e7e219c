"""In a real browser: an entry is typed into the form, and the sheet and the check on the screen follow."""

import re
import time

import pytest

from rackbook.book import compute
from rackbook.job import load

#: Milliseconds a busy machine may take for what takes a second or two.
PATIENCE = 120_000
MARKDOWN = ".jp-OutputArea-output.jp-RenderedMarkdown"


@pytest.fixture
def page(browser, lab):
    page = browser.new_page(viewport={"width": 1440, "height": 1000})
    page.set_default_timeout(PATIENCE)
    page.outside = []
    local = (lab.address, "data:", "blob:", "ws:")
    page.on("request", lambda request: None if request.url.startswith(local) else page.outside.append(request.url))
    page.goto(lab.notebook("2_weights_and_loads.ipynb"))
    page.wait_for_selector(".jp-Notebook .jp-Cell")
    page.wait_for_selector("text=/Python 3 .* Idle/")  # the kernel is there
    page.click('.lm-MenuBar-itemLabel:text-is("Run")')
    page.click('[data-command="runmenu:run-all"]')
    page.wait_for_function(
        f"() => [...document.querySelectorAll('{MARKDOWN}')].some(e => e.textContent.includes('Independent check'))"
    )
    yield page
    page.close()


def output(page, title):
    """Return the output of a cell that starts with a heading."""
    return page.locator(".jp-OutputArea").filter(has=page.locator("h2", has_text=re.compile(f"^{title}")))


def shows(page, title, text):
    page.wait_for_function(
        "([title, text]) => [...document.querySelectorAll('.jp-OutputArea')].some("
        "e => e.querySelector('h2')?.textContent.startsWith(title) && e.textContent.includes(text))",
        arg=[title, text],
    )


def number(value):
    return value.text().split(" ")[0]


def test_sheet_and_check_follow_the_form(page, lab, tmp_path):
    before = compute(load(lab.folder)).values
    shows(page, "Wind loads", number(before["wind.front.forces.DP-1"]))
    shows(page, "Independent check", number(before["wind.front.V"]))
    assert output(page, "Wind loads").locator("mjx-container").count() > 10
    speed = page.get_by_label("Basic wind speed")
    speed.scroll_into_view_if_needed()
    assert speed.input_value() == "115 mph"

    speed.fill("130 mph")
    speed.press("Enter")
    page.wait_for_function("() => document.body.textContent.includes('saved · 3 s gust')")
    text = (lab.folder / "rack.yaml").read_text(encoding="utf-8")
    assert "speed: 130 mph" in text
    after = compute(load(lab.folder)).values
    assert number(after["wind.front.V"]) != number(before["wind.front.V"])
    shows(page, "Wind loads", number(after["wind.front.forces.DP-1"]))
    shows(page, "Independent check", number(after["wind.front.V"]))
    page.screenshot(path=tmp_path / "saved.png")

    speed.fill("12 bananas")
    speed.press("Tab")
    message = page.get_by_role("alert")
    message.wait_for()
    assert "Not saved: 'bananas' is not a unit." in message.inner_text()
    assert "130 mph" in message.inner_text()
    assert (lab.folder / "rack.yaml").read_text(encoding="utf-8") == text
    shows(page, "Independent check", number(after["wind.front.V"]))
    page.screenshot(path=tmp_path / "refused.png")

    exposure = page.get_by_label("Exposure")  # where Tab led
    assert exposure.evaluate("e => e === document.activeElement")
    cells = page.locator(".jp-Cell").count()
    exposure.press("b")  # a key that adds a cell anywhere else
    until = time.monotonic() + PATIENCE / 1000
    while load(lab.folder).site.wind.exposure != "B" and time.monotonic() < until:
        page.wait_for_timeout(100)
    final = compute(load(lab.folder)).values
    assert final["wind.front.V"].magnitude < after["wind.front.V"].magnitude
    shows(page, "Independent check", number(final["wind.front.V"]))
    assert speed.input_value() == "12 bananas"
    assert "bananas" not in (lab.folder / "rack.yaml").read_text(encoding="utf-8")

    speed.fill("130 mph")
    speed.press("Enter")
    message.wait_for(state="detached")
    assert page.locator(".jp-Cell").count() == cells
    assert page.outside == []
    assert page.locator(".jp-Dialog, .Toastify__toast").count() == 0

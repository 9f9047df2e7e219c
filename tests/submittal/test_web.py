# ruff: noqa: E501
"""The web page in a browser with the network off."""

import re
from itertools import pairwise

import pytest

from rackbook.submittal import DRAFT, bind_notebooks


@pytest.fixture(scope="session")
def page(browser, printed, tmp_path_factory):
    file = tmp_path_factory.mktemp("web") / "submittal.html"
    file.write_bytes(printed.html)
    context = browser.new_context(offline=True, viewport={"width": 1100, "height": 800})
    opened = context.new_page()
    opened.asked, opened.said = [], []
    opened.on("request", lambda request: opened.asked.append(request.url))
    opened.on("console", lambda message: opened.said.append(message.text))
    opened.on("pageerror", lambda error: opened.said.append(str(error)))
    opened.goto(file.as_uri())
    yield opened
    context.close()


def test_the_file_names_nothing_to_load(printed):
    text = printed.html.decode()
    assert not re.findall(r"""(?:src|srcset|href|data|action)\s*=\s*["']?(?!data:|#)[^"'\s>]*//""", text)
    assert not re.search(r"@import|url\(|<script|<link|<iframe|<object", text)


def test_it_opens_offline_and_asks_for_nothing(page):
    assert [url for url in page.asked if not url.startswith(("file:", "data:"))] == []
    assert page.said == []
    assert page.evaluate("[...document.images].every(i => i.complete && i.naturalWidth > 0)")
    assert page.evaluate("document.images.length") == 1


def test_equations_are_mathml_with_size(page):
    sizes = page.evaluate("[...document.querySelectorAll('math[display=block]')].map(m => m.getBoundingClientRect().height)")
    assert len(sizes) == 5
    assert min(sizes) > 10
    assert page.evaluate("document.querySelectorAll('math mtext').length") > 10


def test_the_clause_stands_beside_its_equation(page):
    left, right = page.evaluate(
        "[...document.querySelector('.line:has(.clause)').children].filter(c => !c.matches('.name')).map(c => c.getBoundingClientRect().x)"
    )
    assert right > left + 300


def test_headings_tables_and_pictures_speak(page):
    levels = page.evaluate("[...document.querySelectorAll('h1,h2,h3,h4,h5,h6')].map(h => +h.tagName[1])")
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    assert page.evaluate("[...document.querySelectorAll('th')].every(t => t.scope === 'col')")
    assert page.evaluate("[...document.querySelectorAll('table')].every(t => t.tHead)")
    assert page.evaluate("[...document.images].map(i => i.alt)") == ["Front elevation of the rack"]
    assert page.evaluate("document.documentElement.lang") == "en-US"
    assert page.evaluate("!!document.querySelector('main') && !!document.querySelector('nav[aria-label]')")


def test_contents_lead_to_their_headings(page):
    links = page.evaluate(
        "[...document.querySelectorAll('nav a')].map(a => [a.textContent, document.getElementById(a.hash.slice(1))?.textContent])"
    )
    assert len(links) > 8
    assert all(name == target for name, target in links)
    assert page.evaluate(
        "new Set([...document.querySelectorAll('[id]')].map(e => e.id)).size === document.querySelectorAll('[id]').length"
    )


def test_the_notice_is_seen_first_and_stays(page):
    assert page.inner_text(".draft >> nth=0") == DRAFT
    page.evaluate("window.scrollTo(0, 1500)")
    assert page.evaluate("document.querySelector('.draft').getBoundingClientRect().top") == 0


@pytest.mark.parametrize("width", [1100, 390])
def test_what_is_wide_scrolls_and_the_page_does_not(browser, sample, folder, tmp_path, width):
    heads = "|".join(f"col{n}" for n in range(8))
    table = f"|{heads}|\n|{'---|' * 8}\n|{'|'.join(['unbreakablewordhere'] * 8)}|\n"
    long = r"$$x = " + r" \cdot ".join(rf"{n}.5\ \mathrm{{lbf}}" for n in range(14)) + "$$"
    sheet = sample.said(f"# {'W' * 300}\n\n{'A' * 300}\n\n{table}\n\n{long}\n")
    printed = bind_notebooks([sample.notebook(sheet)], sample.matter(title="T" * 300), folder)
    file = tmp_path / "wide.html"
    file.write_bytes(printed.html)
    opened = browser.new_page(viewport={"width": width, "height": 800})
    opened.goto(file.as_uri())
    assert opened.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    over = opened.evaluate("[...document.querySelectorAll('.scroll')].filter(s => s.scrollWidth > s.clientWidth + 1).length")
    assert over >= (2 if width < 500 else 1)
    assert opened.evaluate(
        "[...document.querySelectorAll('.scroll')].every(s => s.tabIndex === 0 && s.getAttribute('aria-label'))"
    )
    opened.close()


def test_print_from_the_browser_holds_every_word(page):
    import io

    from pypdf import PdfReader

    text = " ".join(" ".join(p.extract_text() for p in PdfReader(io.BytesIO(page.pdf())).pages).split())
    for words in ("Velocity pressure", "ACI 318-19 17.6.1", "NOT OK", "Panel PNL-1 moved", DRAFT):
        assert words in text


def test_math_in_a_cell_stays_in_its_cell(browser, sample, folder, tmp_path):
    many = r"$\left\{ 14.00,\ 14.00,\ 20.00,\ 14.00,\ 14.00,\ 20.00,\ 14.00,\ 14.00,\ 20.00 \right\}\ \mathrm{in}$"
    sheet = sample.said(
        f"# Given\n\n| Given | Value | Source |\n|---|---|---|\n| $d$ | {many} | {'column of the items and more words ' * 6} |\n"
    )
    file = tmp_path / "cell.html"
    file.write_bytes(bind_notebooks([sample.notebook(sheet)], sample.matter(), folder).html)
    opened = browser.new_page(viewport={"width": 900, "height": 800})
    opened.goto(file.as_uri())
    inside = "[...document.querySelectorAll('td math')].map(m => m.closest('td').getBoundingClientRect().right - m.getBoundingClientRect().right)"
    assert min(opened.evaluate(inside)) >= 0
    opened.close()

"""The web page: one file that asks for nothing, with MathML and its pictures inside."""

from __future__ import annotations

from html import escape
from importlib.resources import files

from ..trace.source import LEGEND
from ..trace.text import visible
from .matter import DRAFT, Matter
from .pandoc import write
from .story import Story

_STRIP = (("Job", "job"), ("Place", "place"), ("Client", "client"), ("Revision", "revision"), ("Date", "date"),
          ("Prepared", "prepared"), ("Checked", "checked"))  # fmt: skip


def set_html(story: Story, matter: Matter, *, bound: bool) -> bytes:
    """Return the page as bytes.

    Args:
        story: The content.
        matter: Title and strip.
        bound: Whether a contents list goes in front.
    """
    body = write(story.web, "html5-smart", "--mathml", "--syntax-highlighting=none")
    style = (files(__package__) / "page.css").read_text("utf-8")
    title = escape(visible(matter.title))
    rows = [(label, escape(visible(getattr(matter, key)))) for label, key in _STRIP if getattr(matter, key)]
    strip = "".join(f"<div><dt>{label}</dt><dd>{value}</dd></div>" for label, value in rows)
    contents = _contents(story) if bound else ""
    page = f"""<!DOCTYPE html>
<html lang="en-US">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'">
<title>{title}</title>
<style>
{style}</style>
</head>
<body>
<p class="draft" role="note">{DRAFT}</p>
<header>
<h1>{title}</h1>
<dl class="strip">{strip}</dl>
</header>
{contents}
<main>
{body}
</main>
<p class="legend" role="note">{LEGEND}</p>
<p class="draft" role="note">{DRAFT}</p>
</body>
</html>
"""
    return page.replace("<th>", '<th scope="col">').replace("<th style=", '<th scope="col" style=').encode()


def _contents(story: Story) -> str:
    items = "\n".join(
        f'<li class="level-{level}"><a href="#{identifier}">{escape(name)}</a></li>'
        for level, name, identifier in story.contents
        if level <= 2
    )
    return f'<nav aria-label="Contents">\n<h2>Contents</h2>\n<ul>\n{items}\n</ul>\n</nav>'

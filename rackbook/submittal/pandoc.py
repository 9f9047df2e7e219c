"""The one door to pandoc: many pieces in one process, and one document out again."""

from __future__ import annotations

import json
import subprocess
from importlib.resources import as_file, files
from typing import Any

import pypandoc

from ..trace.errors import SheetError

# What Jupyter shows is what is read: no citations, no typographic quotes, lists and headings without a blank line.
MARKDOWN = (
    "markdown-citations-smart-example_lists-fancy_lists-definition_lists-subscript-superscript-inline_notes-yaml_metadata_block"
    "-pandoc_title_block-raw_attribute-implicit_figures-simple_tables-multiline_tables-line_blocks"
    "-blank_before_header-blank_before_blockquote+lists_without_preceding_blankline+tex_math_double_backslash+autolink_bare_uris"
)

Node = dict[str, Any]


def read(texts: list[tuple[str, str]]) -> list[list[Node]]:
    """Return the blocks of each ``(text, kind)``; kind is ``markdown`` or ``html``. Each text is read on its own."""
    if not texts:
        return []
    formats = {"markdown": MARKDOWN, "html": "html"}
    sent = json.dumps([{"text": text, "format": formats[kind]} for text, kind in texts])
    with as_file(files(__package__) / "read.lua") as script:
        answer = _run(["lua", str(script)], sent.encode())
    return [document["blocks"] for document in json.loads(answer)]


def write(blocks: list[Node], to: str, *options: str) -> str:
    """Return blocks written as ``typst`` or ``html5``."""
    document = {"pandoc-api-version": _api(), "meta": {}, "blocks": blocks}
    return _run(["-f", "json", "-t", to, "--wrap=none", *options], json.dumps(document).encode()).decode()


def _run(arguments: list[str], sent: bytes) -> bytes:
    done = subprocess.run([pypandoc.get_pandoc_path(), *arguments], input=sent, capture_output=True, check=False)
    if done.returncode:
        raise SheetError(f"The document could not be converted: {done.stderr.decode('utf-8', 'replace').strip()[:400]}")
    return done.stdout


_API: list[int] = []


def _api() -> list[int]:
    """Return the version of the document form this pandoc speaks, asked once."""
    if not _API:
        _API.extend(json.loads(_run(["-f", "markdown", "-t", "json"], b""))["pandoc-api-version"])
    return _API

"""An executed notebook as a list of pieces in reading order: words, equations, pictures, tables; no code."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator
from dataclasses import dataclass

from nbformat import NotebookNode

from ..trace.derive import FOOTNOTE
from ..trace.errors import SheetError

HIDE_CELL = {"remove-cell", "remove_cell", "hide-cell"}
HIDE_OUTPUT = {"remove-output", "remove_output", "hide-output"}
PICTURES = {"image/svg+xml": "svg", "image/png": "png", "image/jpeg": "jpg"}


@dataclass(frozen=True)
class Piece:
    """One thing to print. ``kind``: markdown, html, math, picture or output; ``where`` names notebook and cell."""

    kind: str
    text: str = ""
    where: str = ""
    data: bytes = b""
    suffix: str = ""
    alt: str = ""
    caption: str = ""


def pieces(notebook: NotebookNode, name: str) -> list[Piece]:
    """Return what a notebook prints.

    Raises:
        SheetError: A cell ended in an error, or was never run.
    """
    found: list[Piece] = []
    for number, cell in enumerate(notebook.cells, start=1):
        where = f"{name}, cell {number}"
        tags = set(cell.get("metadata", {}).get("tags", ()))
        if tags & HIDE_CELL:
            continue
        if cell.cell_type == "markdown":
            found.append(Piece("markdown", cell.source, where))
            found.extend(_attached(cell, where))
        elif cell.cell_type == "code":
            if cell.source.strip() and cell.get("execution_count") is None and not cell.outputs:
                raise SheetError(f"{where}: the cell has not been run. Run the notebook from top to bottom, then print it.")
            found.extend(piece for piece in _outputs(cell, where) if not tags & HIDE_OUTPUT)
    return found


def _attached(cell: NotebookNode, where: str) -> Iterator[Piece]:
    """Yield the pictures a markdown cell carries with it, to be found by name."""
    for name, bundle in cell.get("attachments", {}).items():
        for mime, suffix in PICTURES.items():
            if mime in bundle:
                yield Piece("attachment", f"attachment:{name}", where, _bytes(mime, bundle[mime]), suffix)
                break


def _outputs(cell: NotebookNode, where: str) -> Iterator[Piece]:
    """Yield one piece an output, the richest form that can be printed."""
    for output in cell.outputs:
        if output.output_type == "error":
            raise SheetError(
                f"{where}: the cell ended in {output.ename}: {_first_line(output.evalue)}. "
                "Nothing is printed from a notebook with an error; correct it and run it again."
            )
        if output.output_type == "stream":
            if output.name == "stdout" and output.text.strip():
                yield Piece("output", _plain_stream(output.text), where)
            continue
        piece = _richest(output, where)
        if piece:
            yield piece


def without_legend(text: str) -> str:
    """Return a sheet as print has it: the legend of the dagger stands at the foot of every page."""
    return text.removesuffix(f"{FOOTNOTE}\n")


def _richest(output: NotebookNode, where: str) -> Piece | None:
    data, about = output.data, output.get("metadata", {})
    if "text/markdown" in data:
        return Piece("markdown", without_legend(_joined(data["text/markdown"])), where)
    if "text/latex" in data:
        return Piece("math", _joined(data["text/latex"]), where)
    for mime, suffix in PICTURES.items():
        if mime in data:
            note = {**about, **(about.get(mime) if isinstance(about.get(mime), dict) else {})}
            content = _bytes(mime, data[mime])
            return Piece(
                "picture",
                "",
                where,
                content,
                suffix,
                str(note.get("alt") or _svg_title(content, suffix)),
                str(note.get("caption", "")),
            )
    if "application/vnd.jupyter.widget-view+json" in data:
        return None  # a widget is a way in, not a result: its values live in the job's files
    if "text/html" in data:
        return Piece("html", _joined(data["text/html"]), where)
    if "text/plain" in data:
        return Piece("output", _joined(data["text/plain"]), where)
    return None


def _joined(text: str | list[str]) -> str:
    return text if isinstance(text, str) else "".join(text)


def _bytes(mime: str, data: str | list[str] | bytes) -> bytes:
    if isinstance(data, bytes):
        return data
    text = _joined(data)
    return text.encode() if mime == "image/svg+xml" else base64.b64decode(text)


def _svg_title(content: bytes, suffix: str) -> str:
    title = re.search(rb"<title[^>]*>\s*([^<]+?)\s*</title>", content) if suffix == "svg" else None
    return title.group(1).decode("utf-8", "replace") if title else ""


def _first_line(text: str) -> str:
    lines = str(text).strip().splitlines()
    return lines[0] if lines else "no message"


def _plain_stream(text: str) -> str:
    """Return a stream as a terminal would have left it: no colour codes, a rewritten line shown once."""
    without = re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", text)
    return "\n".join(line.rsplit("\r", 1)[-1] for line in without.rstrip("\n").split("\n"))

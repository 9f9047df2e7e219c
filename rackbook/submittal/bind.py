"""Executed notebooks of a job to one PDF and one web page of the same content."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from nbformat import NotebookNode

from .cells import Piece, pieces
from .matter import Matter, Printed, back, criteria, results
from .paper import set_pdf
from .story import Story
from .web import set_html

#: A place for notes that holds none: said once at the end, not in every section.
_NO_NOTES = re.compile(r"#+ Engineer's notes\s+None at this revision\.?")


def bind_notebooks(
    notebooks: Sequence[NotebookNode], matter: Matter, folder: str | Path, names: Sequence[str] = (), *, bound: bool = True
) -> Printed:
    """Return notebooks bound into one document.

    Args:
        notebooks: Executed notebooks, in printing order.
        matter: What stands around the sheets.
        folder: Job folder: where pictures named in the sheets and the files to attach are.
        names: A name for each notebook, for messages; otherwise its number.
        bound: Whether cover, contents and front and back matter are printed; without, only the sheets under the title strip.

    Raises:
        SheetError: A cell ended in an error or was not run, or something cannot be printed whole. The message names the place.
    """
    folder = Path(folder)
    story = Story(folder)
    for text, where in ((criteria(matter), "design criteria"), (results(matter), "results")) if bound else ():
        if text:
            story.add([Piece("markdown", text, where)])
            story.new_page()
    quiet: list[str] = []
    for number, notebook in enumerate(notebooks):
        name = names[number] if number < len(names) else f"notebook {number + 1}"
        found = pieces(notebook, name)
        said = [piece for piece in found if not (piece.kind == "markdown" and _NO_NOTES.fullmatch(piece.text.strip()))]
        said = [piece for piece in said if piece.text.strip() != matter.criteria.strip()]  # it stands in front
        story.add(said if bound else found)
        if len(said) < len(found):
            quiet.append(story.section or name)
    if bound:
        story.add([Piece("markdown", text, "back matter") for text in back(matter, quiet)])
    pdf, pages = set_pdf(story, matter, folder, bound=bound)
    return Printed(pdf, set_html(story, matter, bound=bound), pages)

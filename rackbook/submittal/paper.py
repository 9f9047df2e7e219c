"""The PDF: one call of the typesetter on files held in memory, then every character measured."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from importlib.resources import files
from pathlib import Path
from typing import Any

import typst

from ..trace.errors import SheetError
from ..trace.source import LEGEND
from .frame import measure
from .glyphs import printable
from .matter import DRAFT, Matter
from .pandoc import write
from .story import Story

_MIMES = {".yaml": "application/yaml", ".csv": "text/csv", ".ipynb": "application/json", ".json": "application/json"}
STANDARDS = ["a-3a", "ua-1"]


def set_pdf(story: Story, matter: Matter, folder: Path, *, bound: bool) -> tuple[bytes, int]:
    """Return the PDF and its number of pages.

    Args:
        story: The content.
        matter: Title strip, cover and names of the files to attach.
        folder: Job folder, where those files are; one that is not there is left out.
        bound: Whether a cover and a contents list go in front.

    Raises:
        SheetError: Something does not fit the page, or cannot be set; the message names sheet and line.
    """
    attached = {name: (folder / name).read_bytes() for name in matter.attached if (folder / name).is_file()}
    strip = ("title", "job", "place", "client", "revision", "date", "prepared", "checked")
    about: dict[str, Any] = {key: printable(" ".join(str(getattr(matter, key)).split())) for key in strip}
    about |= {
        "bound": bound,
        "draft": DRAFT,
        "legend": LEGEND,
        "attached": [
            {
                "name": name,
                "path": f"attached-{n}",
                "mime": _MIMES.get(Path(name).suffix, "text/plain"),
                "description": "Input of this issue",
            }
            for n, name in enumerate(attached)
        ],
    }
    body = write(story.paper, "typst-smart")
    sources: dict[str, bytes] = {
        "main.typ": b'#import "sheet.typ": *\n#show: issue.with(json("about.json"))\n' + body.encode(),
        "sheet.typ": (files(__package__) / "sheet.typ").read_bytes(),
        "about.json": json.dumps(about, ensure_ascii=False, sort_keys=True).encode(),
        **{f"attached-{n}": data for n, data in enumerate(attached.values())},
        **story.pictures,
    }
    try:
        pdf = typst.compile(  # type: ignore[call-overload]  # files in memory are not in its stubs
            sources, format="pdf", ignore_system_fonts=True, pdf_standards=STANDARDS, timestamp=_moment(matter.date)
        )
    except typst.TypstError as error:
        raise SheetError(_explained(error)) from None
    return pdf, measure(pdf)


def _moment(date: str) -> int:
    """Return the issue's date as seconds since 1970, so that the file carries its own date and not the clock's."""
    try:
        return int(datetime.fromisoformat(date).replace(tzinfo=UTC).timestamp())
    except ValueError:
        return 0


def _explained(error: typst.TypstError) -> str:
    """Return one plain sentence for what the typesetter said."""
    said = str(getattr(error, "message", error))
    if "does not fit|" in said:
        _, kind, where, what = said.split("does not fit|", 1)[1].join(["|", ""]).rstrip('"').split("|", 3)
        if kind == "page":
            return f"{where}: {what}."
        advice = "Break the formula into two lines." if kind == "equation" else "Give it fewer columns or shorter words."
        return f"{where}: this {kind} does not fit the page even in the smallest type: {what[:200]}. {advice}"
    if "could not be displayed" in said:
        return f"The print has no letter for a character: {said}. Use another character."
    return f"The sheets could not be set: {said[:400]}"

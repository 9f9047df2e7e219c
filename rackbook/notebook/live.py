"""What is shown and stays true: a display that follows the job."""

from __future__ import annotations

import re
import uuid
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from IPython.core.getipython import get_ipython
from IPython.display import DisplayHandle

from rackbook.book import Book
from rackbook.trace import RackbookError
from rackbook.trace.grids import svg_address
from rackbook.trace.text import plain

from .desk import Desk, first_problem

MARKDOWN, SVG = "text/markdown", "image/svg+xml"
#: Math and listings, to be left alone, and the escaped signs outside them that a browser would take for the start of math.
_SIGNS = re.compile(r"```.*?```|(?<!\\)(\$\$?)(?!\$).*?(?<!\\)\1|(?P<sign>\\[\\$])", re.DOTALL)


@dataclass(frozen=True)
class Shown:
    """One content: its type, its text, and the words that stand for it where it cannot be seen."""

    mime: str
    content: str
    words: str

    def bundle(self) -> tuple[dict[str, str], dict[str, Any]]:
        """Return data and metadata as Jupyter takes them."""
        about = {self.mime: {"alt": self.words, "caption": self.words}} if self.mime == SVG else {}
        content = on_screen(self.content) if self.mime == MARKDOWN else self.content
        return {self.mime: content, "text/plain": self.words}, about

    def sections(self, many: int = 0) -> list[Shown]:
        """Return the content heading by heading, so that a browser sets a long sheet bit by bit and only what changed.

        ``many`` is the number of sections wanted: missing ones are blank, the last holds all that are too many.
        """
        texts = [self.content]
        if self.mime == MARKDOWN and "```" not in self.content:
            texts = re.split(r"\n(?=###? )", self.content)
        if many:
            texts = [*texts[: many - 1], "\n".join(texts[many - 1 :])]
            texts += [""] * (many - len(texts))
        return [Shown(self.mime, text, self.words) for text in texts]

    def under(self, error: RackbookError) -> Shown:
        """Return the same content under a banner that says why it is not up to date."""
        banner = (
            f"> **Not up to date.** {plain(first_problem(error))}\n>\n> Below is what could be computed last. Correct the entry"
            " or the file; this follows by itself."
        )
        old = f"![{plain(self.words)}]({svg_address(self.content)})" if self.mime == SVG else self.content
        return Shown(MARKDOWN, f"{banner}\n\n{old}", self.words)


def on_screen(markdown: str) -> str:
    r"""Return markdown in which a dollar sign or backslash of the engineer's own words is never math on a screen.

    Markdown's escapes are gone when the math of a page is looked for, so these signs are marked as words.

    >>> on_screen(r"costs \$5, $x$")
    'costs <span class="mathjax_ignore">\\$</span>5, $x$'
    """
    return _SIGNS.sub(
        lambda m: f'<span class="mathjax_ignore">{m["sign"]}</span>' if m["sign"] else m[0],
        markdown,
    )


class Live:
    """A display of something in the book, updated in place wherever it is shown; a sheet takes one output a section.

    Args:
        desk: The job.
        render: Gives the content for a book.
        rests_on: Gives a text that changes whenever the content may; saves rendering what takes time.

    Raises:
        RackbookError: There is no good book, or the content cannot be made of it.

    """

    def __init__(self, desk: Desk, render: Callable[[Book], Shown], rests_on: Callable[[Book], str] | None = None) -> None:
        self.desk, self.render, self.rests_on = desk, render, rests_on
        self.on_screen = False
        if desk.book is None:
            raise desk.trouble or RackbookError("the job has not been computed.")
        self.good = render(desk.book)
        self.now = self.good
        self.handles = [DisplayHandle(f"rackbook-{uuid.uuid4().hex}") for _ in self.good.sections()]
        self.basis = rests_on(desk.book) if rests_on else ""

    @property
    def content(self) -> str:
        """The text shown now."""
        return self.now.content

    def refresh(self) -> bool:
        """Follow the desk; return whether the content changed (and was sent to the screen)."""
        fresh = self._fresh()
        if fresh == self.now:
            return False
        old, self.now = self.now, fresh
        if self.on_screen and get_ipython() is not None:
            many = len(self.handles)
            for handle, before, section in zip(self.handles, old.sections(many), fresh.sections(many), strict=True):
                if section != before:
                    data, about = section.bundle()
                    handle.update(data, metadata=about, raw=True)
        return True

    def _fresh(self) -> Shown:
        book = self.desk.book
        if book is None:
            return self.good.under(self.desk.trouble or RackbookError("the job has not been computed."))
        try:
            basis = self.rests_on(book) if self.rests_on else ""
            if not basis or basis != self.basis:
                self.good, self.basis = self.render(book), basis
        except RackbookError as e:
            return self.good.under(e)
        except Exception as e:  # an engineer's own cell may raise anything; the old content must not look new
            return self.good.under(RackbookError(f"this could not be made: {type(e).__name__}: {e}"))
        return self.good

    def _ipython_display_(self) -> None:
        self.on_screen = True
        for handle, section in zip(self.handles, self.now.sections(len(self.handles)), strict=True):
            data, about = section.bundle()
            handle.display(data, metadata=about, raw=True)

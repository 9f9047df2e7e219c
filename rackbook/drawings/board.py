"""A drawing of one fixed size: its title, its trade scale, and words that are measured before they are written.

Places and sizes are inches of paper, from the lower left corner. The print shows a drawing in its own size, so that a scale
rule laid on the paper reads true.
"""

from __future__ import annotations

import functools
import io
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from rackbook.trace import Value
from rackbook.trace.text import visible

INK, GREY, PALE = "black", "0.45", "0.95"
#: Width of every drawing and the most one may stand high, inches of paper.
WIDTH, TALLEST = 6.5, 7.5
#: Sizes of words [pt]: title, dimensions and tags, notes, the smallest that still reads in print.
TITLE, SIZE, NOTE, SMALL = 8.5, 7.0, 6.5, 6.0
#: Room that words keep from one another, and from the edge of the paper.
CLEAR, EDGE = 0.02, 0.03
#: Steps of the title block: to the title, from the title to the first note, from note to note.
_FIRST, _SECOND, _NEXT = 0.14, 0.17, 0.14
#: Letters that go below the line, and how much of a line's height lies there.
_DEEP, _FOOT = frozenset("gjpqyQ,;()[]{}|/\\@$_"), 0.2
_STYLE: dict[Any, Any] = {
    "svg.hashsalt": "rackbook",
    "svg.fonttype": "path",
    "font.family": "DejaVu Sans",
    "hatch.linewidth": 0.4,
}


class Scale(NamedTuple):
    """A trade scale: inches of paper to a foot, and how it is written."""

    inches: float
    words: str


#: From large to small; the last ones are for racks longer than any that fits a truck.
SCALES = (
    *(Scale(s, f"{w} in. = 1 ft") for s, w in (
        (6, "6"), (3, "3"), (1.5, "1-1/2"), (1, "1"), (3 / 4, "3/4"), (1 / 2, "1/2"), (3 / 8, "3/8"), (1 / 4, "1/4"),
        (3 / 16, "3/16"), (1 / 8, "1/8"), (3 / 32, "3/32"), (1 / 16, "1/16"),
    )),
    *(Scale(1 / n, f"1 in. = {n} ft") for n in (20, 30, 40, 50, 60, 80, 100, 150, 200, 300, 400, 500)),
)  # fmt: skip


def trade_scale(most: float) -> Scale:
    """Return the largest trade scale that takes no more than ``most`` inches of paper to a foot.

    >>> trade_scale(0.204).words
    '3/16 in. = 1 ft'
    """
    return next((s for s in SCALES if s.inches <= most * (1 + 1e-9)), SCALES[-1])


def shop(length: float) -> str:
    """Return a length in inches as a shop writes it: in sixteenths where it is one, else to a hundredth.

    >>> shop(1.25), shop(10.5), shop(7.071), shop(3)
    ('1-1/4 in.', '10-1/2 in.', '7.07 in.', '3 in.')
    """
    sixteenths = length * 16
    if abs(sixteenths - round(sixteenths)) > 1e-6:
        return f"{length:.2f} in."
    whole, part = divmod(round(sixteenths), 16)
    below = 16
    while part and part % 2 == 0:
        part, below = part // 2, below // 2
    fraction = f"{part}/{below}" if part else ""
    return f"{whole}-{fraction} in." if whole and fraction else f"{fraction or whole} in."


def inches(value: Value) -> str:
    """Return a length as a shop writes it, in the unit it was given in.

    >>> from rackbook.trace import assume
    >>> inches(assume(1.25, "in", "")), inches(assume(0.3, "in", "")), inches(assume(2.5, "ft", ""))
    ('1-1/4 in.', '0.3 in.', '2.5 ft')
    """
    length = value.m_as("in")
    return shop(length) if value.unit == "in" and abs(length * 16 - round(length * 16)) < 1e-6 else value.text()


@dataclass(frozen=True)
class Extent:
    """A rectangle of paper."""

    left: float
    bottom: float
    right: float
    top: float

    def meets(self, other: Extent, clear: float = CLEAR) -> bool:
        """Say whether two come nearer than ``clear``."""
        return (
            self.left < other.right + clear
            and other.left < self.right + clear
            and self.bottom < other.top + clear
            and other.bottom < self.top + clear
        )


@functools.lru_cache(maxsize=4096)
def measured(words: str, size: float = SIZE, weight: str = "normal") -> tuple[float, float]:
    """Return width and height of written words."""
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import text_to_path

    font = FontProperties(family="DejaVu Sans", size=size, weight=weight)
    wide = text_to_path.get_text_width_height_descent(words, font, ismath=False)[0]
    return wide / 72, text_to_path.get_text_width_height_descent("lp", font, ismath=False)[1] / 72


@functools.cache
def _letters() -> Any:
    from matplotlib.font_manager import FontProperties, findfont, get_font

    return get_font(findfont(FontProperties(family="DejaVu Sans"))).get_char_index


def written(words: object, most: int = 200) -> str:
    r"""Return words as they can be drawn: visible ones, cut with a mark when too long, a square for a letter not in the font.

    >>> written("T-1\u202e"), written("P" * 20, 5)
    ('T-1', 'PPPP…')
    """
    seen = visible(words)
    seen = seen if len(seen) <= most else seen[: most - 1] + "…"
    return seen if seen.isascii() else "".join(c if _letters()(ord(c)) else "□" for c in seen)


def wrapped(words: str, width: float, size: float = NOTE) -> list[str]:
    """Return words in lines no wider than ``width``; a word wider than that is broken."""
    lines: list[str] = []
    for part in (part for word in words.split() for part in _broken(word, width, size)):
        longer = f"{lines[-1]} {part}" if lines else part
        if lines and measured(longer, size)[0] <= width:
            lines[-1] = longer
        else:
            lines.append(part)
    return lines


def _broken(word: str, width: float, size: float) -> list[str]:
    parts = [word]
    while measured(parts[-1], size)[0] > width and len(parts[-1]) > 1:
        last = parts.pop()
        most = next(n for n in range(len(last), 0, -1) if n == 1 or measured(last[:n], size)[0] <= width)
        parts += [last[:most], last[most:]]
    return parts


def head(notes: Iterable[str]) -> float:
    """Return the height of a title block with these notes."""
    lines = sum(len(wrapped(note, WIDTH - 0.3)) for note in notes)
    return _FIRST + _SECOND + _NEXT * max(lines - 1, 0) + 0.12


class Board:
    """The paper of one drawing, with the room its words already take."""

    def __init__(self, height: float) -> None:
        from matplotlib.figure import Figure

        self.height = height
        self.figure = Figure(figsize=(WIDTH, height))
        self.axes = self.figure.add_axes((0, 0, 1, 1))
        self.axes.set(xlim=(0, WIDTH), ylim=(0, height))
        self.axes.axis("off")
        self.taken: list[Extent] = []

    def write(
        self,
        x: float,
        y: float,
        words: str,
        *,
        size: float = SIZE,
        ha: str = "center",
        va: str = "center",
        turned: bool = False,
        behind: bool = False,
        **how: Any,
    ) -> None:
        """Write words at a place; ``turned`` upwards; ``behind`` puts white behind them."""
        self.taken.append(extent(x, y, words, size, ha, va, turned, how.get("weight", "normal")))
        white = {"bbox": {"fc": "white", "ec": "none", "pad": 0.6}} if behind else {}
        how = {"fontsize": size, "ha": ha, "va": va, "zorder": 6, "parse_math": False, "color": INK, **white, **how}
        self.axes.text(x, y, words, rotation=90 if turned else 0, rotation_mode="default", **how)

    def free(self, of: Extent) -> bool:
        """Say whether a rectangle is on the paper and clear of all words."""
        inside = of.left >= EDGE and of.bottom >= EDGE and of.right <= WIDTH - EDGE and of.top <= self.height - EDGE
        return inside and not any(of.meets(other) for other in self.taken)

    def title(self, title: str, notes: Sequence[str] = ()) -> None:
        """Write the title and the notes below it, at the top of the paper."""
        y = self.height - _FIRST
        self.write(WIDTH / 2, y, title, size=TITLE, weight="bold")
        y -= _SECOND
        for note in notes:
            for line in wrapped(note, WIDTH - 0.3):
                self.write(WIDTH / 2, y, line, size=NOTE)
                y -= _NEXT

    def svg(self) -> str:
        """Return the drawing as SVG text: the same drawing gives the same bytes."""
        out = io.StringIO()
        self.figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
        return out.getvalue()


def extent(
    x: float, y: float, words: str, size: float, ha: str, va: str, turned: bool = False, weight: str = "normal"
) -> Extent:
    """Return the room that words take."""
    wide, high = measured(words, size, weight)
    # words without letters that go below the line leave the foot of their line free
    free = 0.0 if _DEEP & set(words) else high * _FOOT
    wide, high = (high, wide) if turned else (wide, high)
    left = x - wide * {"left": 0.0, "center": 0.5, "right": 1.0}[ha]
    bottom = y - high * {"bottom": 0.0, "center": 0.5, "top": 1.0}[va]
    right, top = left + wide, bottom + high
    return Extent(left, bottom, right - free, top) if turned else Extent(left, bottom + free, right, top)


def drawing(height: float, draw: Callable[[Board], None]) -> str:
    """Return what ``draw`` puts on paper of that height, as SVG text."""
    import matplotlib as mpl

    with mpl.rc_context(_STYLE):
        board = Board(height)
        draw(board)
        return board.svg()


def nothing(title: str, why: str) -> str:
    """Return a drawing that says why there is nothing to draw."""
    return drawing(head([why]) + 0.1, lambda board: board.title(title, [why]))

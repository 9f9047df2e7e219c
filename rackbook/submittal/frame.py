"""The proof that no line is clipped: every character of the finished PDF is found and measured.

A character outside the ruled frame, or set on top of another one, stops the print. What is measured is the file itself, so
nothing the typesetter did can be missed.
"""

from __future__ import annotations

import ctypes
from collections import defaultdict

import pypdfium2 as pdfium
import pypdfium2.raw as raw

from ..trace.errors import SheetError

INSET = 0.45 * 72  # the frame stands this far inside the paper, points; sheet.typ draws it there
WIDTH, HEIGHT = 612.0, 792.0
#: Characters that stand around or over others by their nature: radicals, brackets, accents, bars.
_AROUND = set("√∛∜()[]{}|‖⎛⎜⎝⎞⎟⎠⎡⎢⎣⎤⎥⎦⎧⎨⎩⎪⎫⎬⎭∑∏∫¯˙˜ˆ^_→⃗̅̇̂̃…'′,.")
#: Neighbours in one word or symbol may reach under each other: the tail of a Q, the hook of an f, the index of a letter.
#: Letters of formulas count double in a PDF's text, so this is two of them.
_NEIGHBOURS = 4
#: Two characters overprint when this share of the smaller lies under the other.
_SHARE = 0.35


def measure(pdf: bytes) -> int:
    """Return the number of pages of a PDF in which every character stands free inside the frame.

    Raises:
        SheetError: A character is outside, or overprints another; the message names page and text.
    """
    document = pdfium.PdfDocument(pdf)
    try:
        for number in range(len(document)):
            _measure_page(document[number], number + 1)
        return len(document)
    finally:
        document.close()


def _measure_page(page: pdfium.PdfPage, number: int) -> None:
    text = page.get_textpage()
    try:
        boxes = _boxes(text.raw)
        words = text.get_text_range
        for index, _, left, bottom, right, top in boxes:
            if left < INSET or right > WIDTH - INSET or bottom < INSET or top > HEIGHT - INSET:
                raise SheetError(f"Page {number}: text runs off the page near {_near(words, index)!r}. Shorten it or break it.")
        if pair := _overprinted(boxes):
            raise SheetError(
                f"Page {number}: text is printed over other text near {_near(words, pair[0])!r} and {_near(words, pair[1])!r}. "
                "Shorten one of them."
            )
    finally:
        text.close()


Box = tuple[int, str, float, float, float, float]


def _boxes(text: object) -> list[Box]:
    """Return (index, character, left, bottom, right, top) of every visible character, points from the lower left."""
    left, right, bottom, top = (ctypes.c_double() for _ in range(4))
    refs = [ctypes.byref(x) for x in (left, right, bottom, top)]
    found: list[Box] = []
    last: tuple[int, tuple[float, ...]] = (-2, ())
    for index in range(raw.FPDFText_CountChars(text)):
        code = raw.FPDFText_GetUnicode(text, index)
        if code <= 32 or code in (0xA0, 0x200B):
            continue
        if raw.FPDFText_GetCharBox(text, index, *refs) and right.value > left.value:
            box = (left.value, bottom.value, right.value, top.value)
            if last != (index - 1, box):  # letters joined in one glyph share its box
                found.append((index, chr(code), *box))
            last = (index, box)
    return found


def _overprinted(boxes: list[Box]) -> tuple[int, int] | None:
    """Return the indices of two characters set over each other, or None."""
    cells: dict[tuple[int, int], list[Box]] = defaultdict(list)
    for box in boxes:
        index, char, left, bottom, right, top = box
        if char in _AROUND:
            continue
        columns, rows = range(int(left // 24), int(right // 24) + 1), range(int(bottom // 24), int(top // 24) + 1)
        near = [(x, y) for x in columns for y in rows]
        for cell in near:
            for other in cells[cell]:
                apart = other[2] > right - 0.3 or other[4] < left + 0.3 or other[3] > top - 0.3 or other[5] < bottom + 0.3
                if not apart and index - other[0] > _NEIGHBOURS and _shared(box, other) > _SHARE:
                    return other[0], index
        for cell in near:
            cells[cell].append(box)
    return None


def _shared(one: Box, other: Box) -> float:
    """Return the share of the smaller of two boxes that lies under the other."""
    across = min(one[4], other[4]) - max(one[2], other[2])
    along = min(one[5], other[5]) - max(one[3], other[3])
    smaller = min((b[4] - b[2]) * (b[5] - b[3]) for b in (one, other))
    return across * along / smaller if smaller > 0 else 0.0


def _near(words: object, index: int) -> str:
    start = max(0, index - 15)
    return " ".join(words(start, 40).split())  # type: ignore[operator]

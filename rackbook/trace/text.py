"""The engineer's own words, made safe to stand in a sheet.

A tag, a title or a note may hold any character: a dollar sign, a pipe, an angle bracket, three hundred letters without a
space. ``plain`` writes such a text so that the sheet shows exactly it: never math, never markup, never a second table cell.
"""

from __future__ import annotations

import re
import unicodedata

from .figures import set_figures

# Markdown lets a backslash stand before any of these, and before nothing else.
_MARKS = re.compile(r"([!-/:-@\[-`{-~])")
#: Units a sheet writes after numbers; a number and its unit stay on one line, and so do the parts of a unit.
_UNITS = (
    r"in\.[²³⁴⁶]?|(?:ft|mm|m)[²³⁴⁶]?|lbf|lbm|lb|kips?|psf|psi|ksi|ksf|plf|klf|pcf|mph|k?N|[kM]Pa|k?A|k?V|kVA|k?W|hp|k?ft|k?cmil|mil|µm|"
    r"°[CF]|Ω|Hz|s|%"
)
_NUMBER_UNIT = re.compile(rf"(?<=\d) (?=(?:{_UNITS})(?![\w']))")
_PER = re.compile(rf"(?<![\w.])((?:(?:{_UNITS})·)*(?:{_UNITS}))/(?=(?:{_UNITS})(?![\w']))")
_TWO_STOPS = re.compile(r"(?<=[A-Za-z])\.\.(?=[\s*)]|$)")
# Characters no engine may be asked to draw: U+FFFE and U+FFFF of every plane and the noncharacters of the Arabic block.
_NEVER = re.compile("[\ufdd0-\ufdef]|[" + "".join(chr(p << 16 | 0xFFFE) + chr(p << 16 | 0xFFFF) for p in range(17)) + "]")


def visible(text: object) -> str:
    r"""Return what a reader sees of a text: one line, single spaces, no control and no direction-changing characters.

    Runs of white space become one space, invisible format characters go (they can hide or reorder what is read), and what
    is not a character at all becomes U+FFFD.

    >>> visible("  two\n lines\u202e ")
    'two lines'
    """
    kept = []
    for char in _NEVER.sub("\ufffd", str(text)):
        kind = unicodedata.category(char)
        if char.isspace() or kind in ("Zs", "Zl", "Zp"):
            kept.append(" ")
        elif kind == "Cs":
            kept.append("\ufffd")
        elif kind not in ("Cc", "Cf"):
            kept.append(char)
    return " ".join("".join(kept).split())


def plain(text: object) -> str:
    r"""Return markdown that shows ``visible(text)`` and nothing else, in a paragraph, a heading or a table cell.

    >>> plain("P-101 | 480 V, $5 #1 <b>")
    'P\\-101 \\| 480 V\\, \\$5 \\#1 \\<b\\>'
    """
    return _MARKS.sub(r"\\\1", visible(text))


def spaced(word: str) -> str:
    """Return a word of the program (``open_frame``) as the words it stands for; any other as it is."""
    return word.replace("_", " ") if re.fullmatch(r"[a-z]+(?:_[a-z]+)+", word) else word


def said(text: object) -> str:
    r"""Return markdown of a sheet's own words: as ``plain``, with figures and units as print sets them.

    A true minus, raised powers of ten, no break between a number and its unit, one full stop after "in.".

    >>> said("N = -5 kip at 3 in..")
    'N \\= −5\xa0kip at 3\xa0in\\.'
    """
    words = _TWO_STOPS.sub(".", set_figures(visible(text)))
    words = _NUMBER_UNIT.sub("\xa0", words).replace(" †", "\xa0†")
    return _MARKS.sub(r"\\\1", _PER.sub("\\1/\u2060", words))

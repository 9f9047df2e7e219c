r"""Where a calculation line is broken: by its rendered width, at its operators.

The width of LaTeX math is estimated in em from the advance widths of the math font, fractions by their wider
part, scripts at script size. The print measures again and refuses what still does not fit.
"""

from __future__ import annotations

import re

#: Width of a line of a sheet, in em of the text size.
LINE = 34.0
_TOKEN = re.compile(r"\\[A-Za-z]+|\\.|[{}^_&]|\s+|.")
_WIDE = {
    r"\cdot": 0.72, r"\times": 1.22, "=": 1.33, "+": 1.22, "-": 1.22, r"\ ": 0.25, r"\,": 0.17, r"\quad": 1.0, r"\max": 1.9,
    r"\min": 1.9, r"\sum": 1.6, r"\exp": 1.7, r"\ln": 1.0, r"\sin": 1.4, r"\cos": 1.5, r"\tan": 1.5, r"\log": 1.4, "/": 0.5,
    r"\arctan": 2.9, r"\arcsin": 2.8, r"\arccos": 2.9, r"\lceil": 0.45, r"\rceil": 0.45, ",": 0.45, ".": 0.28, "(": 0.4,
    ")": 0.4, "'": 0.28, r"\circ": 0.5, r"\ldots": 1.3, r"\%": 0.83, r"\{": 0.5, r"\}": 0.5,
}  # fmt: skip
_UPRIGHT = (r"\mathrm", r"\text", r"\operatorname")


def width(tex: str) -> float:
    """Return the estimated width of LaTeX math in em."""
    tokens = [t for t in _TOKEN.findall(tex) if not t.isspace()]
    total, i = 0.0, 0
    while i < len(tokens):
        w, i = _one(tokens, i, 1.0)
        total += w
    return total


def _group(tokens: list[str], i: int, scale: float) -> tuple[float, int]:
    if i >= len(tokens) or tokens[i] != "{":
        return _one(tokens, i, scale) if i < len(tokens) else (0.0, i)
    total, i = 0.0, i + 1
    while i < len(tokens) and tokens[i] != "}":
        w, i = _one(tokens, i, scale)
        total += w
    return total, i + 1


def _one(tokens: list[str], i: int, scale: float) -> tuple[float, int]:
    token = tokens[i]
    if token == "{":
        return _group(tokens, i, scale)
    if token == r"\frac":
        above, i = _group(tokens, i + 1, scale)
        below, i = _group(tokens, i, scale)
        return max(above, below) + 0.25, i
    if token == r"\sqrt":
        w, i = _group(tokens, i + 1, scale)
        return w + 0.9 * scale, i
    if token in ("^", "_"):
        return _group(tokens, i + 1, scale * 0.7)
    if token in _UPRIGHT:
        return _group(tokens, i + 1, scale)
    if token in (r"\left", r"\right", "&", "}"):
        return 0.0, i + 1
    return _WIDE.get(token, 0.5 if len(token) == 1 and (token.isdigit() or token.isspace()) else 0.58) * scale, i + 1


def _pieces(tex: str) -> list[str]:
    """Split at the operators that stand in no bracket, each piece led by its operator."""
    depth, pieces, start = 0, [], 0
    for m in re.finditer(r"\\left\b|\\right\b|\\begin|\\end|[{}]| (\\cdot|\+|-) ", tex):
        token = m[0]
        if token in (r"\left", "{"):
            depth += 1
        elif token in (r"\right", "}"):
            depth -= 1
        elif m[1] and depth == 0 and m.start() > start:
            pieces.append(tex[start : m.start()].strip())
            start = m.start()
    pieces.append(tex[start:].strip())
    return pieces


def rows(tex: str, room: float) -> list[str]:
    """Return the rows of a side of an equation, none wider than ``room`` em where operators allow it."""
    if width(tex) <= room:
        return [tex]
    out = [""]
    for piece in _pieces(tex):
        if out[-1] and width(f"{out[-1]} {piece}") > room:
            out.append(piece)
        else:
            out[-1] = f"{out[-1]} {piece}".strip()
    return out


def equation(left: str, sides: list[str], line: float = LINE) -> str:
    """Return ``left = side = side ...`` as display LaTeX, on one row if it fits, else a row a side or more."""
    whole = f"{left} = " + " = ".join(sides)
    if width(whole) <= line:
        return rf"$${whole}$$"
    room = line - width(left) - 1.5
    out = []
    for n, side in enumerate(sides):
        first, *more = rows(side, room)
        out.append((left if n == 0 else "") + rf" &= {first}")
        out.extend(rf" &\quad {row}" for row in more)
    body = " \\\\\n".join(out)
    return f"$$\\begin{{aligned}}\n{body}\n\\end{{aligned}}$$"

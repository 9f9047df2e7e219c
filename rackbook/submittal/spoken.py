"""A formula in words: what a screen reader says for an equation, how a message names one, and how a screen breaks one."""

from __future__ import annotations

import re

from ..trace.layout import equation, width
from ..trace.layout import rows as broken

_WORDS = {
    "cdot": " times ", "times": " times ", "left": "", "right": "", "displaystyle": "", "quad": " ", "qquad": " ",
    "leq": " at most ", "le": " at most ", "geq": " at least ", "ge": " at least ",
    "neq": " not equal to ", "pm": " plus or minus ",
    "lt": " below ", "gt": " above ", "approx": " about ", "rightarrow": " gives ", "to": " to ", "infty": "infinity",
    "mathrm": "", "text": "", "textbf": "", "mathbf": "", "operatorname": "", "big": "", "Big": "", "bigl": "", "bigr": "",
    "deg": " degrees", "circ": " degrees", "div": " divided by ", "prime": " prime", "ldots": "...", "max": "max", "min": "min",
}  # fmt: skip
_TOKEN = re.compile(r"\\([a-zA-Z]+)\*?|\\(.)|(\{)|(\})|([_^])|([^\\{}_^]+)", re.S)
_ENVIRONMENT = re.compile(r"\\(?:begin|end)\s*\{[a-zA-Z]*\*?\}(?:\{[lcr| ]*\}|\[[^\]]*\])?")
_POWERS = {"2": " squared", "3": " cubed"}


def rows(tex: str) -> list[str]:
    r"""Return the lines of an aligned equation, each as TeX without its alignment marks.

    >>> rows(r"\begin{aligned} a &= b \\[10pt] &= 2 \end{aligned}")
    ['a = b', '= 2']
    """
    body = re.sub(r"\\\\(?:\[[^\]]*\])?", "\n", _ENVIRONMENT.sub(" ", tex).replace("\n", " "))
    lines = (" ".join(re.sub(r"(?<!\\)&", "", line).split()) for line in _one_line_groups(body).split("\n"))
    return [line for line in lines if line]


def _one_line_groups(body: str) -> str:
    """Keep only the line breaks that stand outside every brace."""
    depth, kept = 0, []
    for index, char in enumerate(body):
        if char in "{}" and body[index - 1 : index] != "\\":
            depth += 1 if char == "{" else -1
        kept.append(" " if char == "\n" and depth > 0 else char)
    return "".join(kept)


def spoken(tex: str) -> str:
    r"""Return one line of TeX in words.

    >>> spoken(r"q_{z} = 0.00256\ \mathrm{psf} \cdot \left( V \right) ^{ 2 } + \frac{a}{b} - \sqrt{c}")
    'q sub z = 0.00256 psf times (V) squared + (a) over (b) - square root of (c)'
    """
    tokens = [m.groups() for m in _TOKEN.finditer(_ENVIRONMENT.sub(" ", tex))]
    text, _ = _say(tokens, 0, once=False)
    text = re.sub(r"\s+", " ", text)
    return re.sub(r"\(\s+", "(", re.sub(r"\s+([),])", r"\1", text)).strip()


def _say(tokens: list[tuple[str, ...]], at: int, *, once: bool) -> tuple[str, int]:
    """Return the words from a token on, to the end of its group (or of one token), and the next index."""
    said: list[str] = []
    while at < len(tokens):
        command, escaped, opened, closed, script, letters = tokens[at]
        at += 1
        if closed:
            break
        if opened:
            words, at = _say(tokens, at, once=False)
            said.append(words)
        elif command in ("frac", "dfrac", "tfrac"):
            top, at = _say(tokens, _skip(tokens, at), once=True)
            bottom, at = _say(tokens, _skip(tokens, at), once=True)
            said.append(f"({top.strip()}) over ({bottom.strip()})")
        elif command == "sqrt":
            inner, at = _say(tokens, _skip(tokens, at), once=True)
            said.append(f"square root of ({inner.strip()})")
        elif command:
            said.append(_WORDS.get(command, command))
        elif escaped:
            said.append(" " if escaped in ",;:! \\" else escaped)
        elif script:
            inner, at = _say(tokens, _skip(tokens, at), once=True)
            inner = inner.strip()
            said.append(f" sub {inner} " if script == "_" else f"{_POWERS.get(inner, f' to the power {inner}')} ")
        elif letters:
            if once and letters.strip() and len(letters.lstrip()) > 1:
                # a bare argument is one character: give the rest back
                said.append(letters.lstrip()[0])
                tokens[at - 1] = ("", "", "", "", "", letters.lstrip()[1:])
                at -= 1
            else:
                said.append(letters.replace("&", "").replace("~", " "))
        if once:
            break
    return "".join(said), at


def _skip(tokens: list[tuple[str, ...]], at: int) -> int:
    """Return the index of the next token that is not white space."""
    while at < len(tokens) and tokens[at][5] and not tokens[at][5].strip():
        at += 1
    return at


_UPRIGHT = re.compile(r"\\mathrm\s*\{((?:[^{}]|\{[^{}]*\})*)\}")
#: Parts of one unit, each alone upright, joined by a slash or a dot.
_PART = r"\\(?:mathrm|text)\{[A-Za-z.]+\}|\\Omega(?![A-Za-z])"
_UNIT = re.compile(rf"(?:{_PART})(?: ?(?:/|\\cdot) ?(?:{_PART}))+")
_JOINS = ((" ", ""), (r"\cdot", "·"), (r"\Omega", "Ω"))
#: Subscripts of two or three letters (x of item i, nominal of u) that are no Greek letters in these standards.
_LETTERS = re.compile(r"_\{\s*\\(xi|nu|pi|eta|chi)\s*\}")
#: A tangent that is itself given, ``tan_alpha``: one word, not three letters.
_OF_ANGLE = re.compile(r"(?<![\\A-Za-z])(sin|cos|tan)(?=_)")
_THOUSANDS = re.compile(r"(?<![\d.,])\d{1,3}(?:(?:,|\{,\})\d{3})+(?:\.\d+)?(?![\d,])")


def whole(tex: str) -> str:
    r"""Return TeX whose units, word-long indices and thousands are whole words: set closer, read aloud as one.

    >>> whole(r"4\ \mathrm{kip \cdot ft} + 28,745\ \mathrm{in^2} + r_{max}")
    '4\\ \\mathrm{\\text{kip} \\cdot \\text{ft}} + \\text{28,745}\\ \\mathrm{\\text{in}^2} + r_{\\text{max}}'
    >>> whole(r"0.25\ \Omega/\mathrm{kft} \cdot 5{,}616\ \mathrm{lbf} \cdot \mathrm{ft}")
    '0.25\\ \\text{Ω/kft} \\cdot \\text{5,616}\\ \\text{lbf·ft}'
    >>> whole(r"V_{\xi}^{2} + R_{\mu}")
    'V_{\\text{xi}}^{2} + R_{\\mu}'
    """

    def words(found: re.Match[str]) -> str:
        return r"\mathrm{" + re.sub(r"(?<![\\A-Za-z])[A-Za-z]{2,}", lambda m: rf"\text{{{m[0]}}}", found[1]) + "}"

    tex = _UPRIGHT.sub(words, _UNIT.sub(_as_one, tex))
    tex = _THOUSANDS.sub(lambda m: rf"\text{{{m[0].replace('{,}', ',')}}}", tex)
    tex = _OF_ANGLE.sub(r"\\\1", _LETTERS.sub(r"_{\\text{\1}}", tex))
    return re.sub(r"_\{\s*([A-Za-z]{3,})\s*\}", r"_{\\text{\1}}", tex)


def _as_one(unit: re.Match[str]) -> str:
    """Return a unit of several parts as one word, so that no space opens beside its slash or dot."""
    inside = re.sub(r"\\(?:mathrm|text)\{([^{}]*)\}", r"\1", unit[0])
    for mark, sign in _JOINS:
        inside = inside.replace(mark, sign)
    return rf"\text{{{inside}}}"


def for_screen(tex: str, line: float = 46.0) -> str:
    r"""Return an equation broken for a screen of ``line`` em: first at its signs of equality, then at operators.

    >>> for_screen(r"a = b = c", 2.0)
    '\\begin{aligned}\na &= b \\\\\n &= c\n\\end{aligned}'
    """
    if "\\begin" not in tex:
        if width(tex) <= line or len(sides := _at_equals(tex)) < 2:
            return tex
        return equation(sides[0], sides[1:], line).removeprefix("$$").removesuffix("$$")
    body = _ENVIRONMENT.sub(" ", tex)
    if r"\begin{aligned}" not in tex or tex.count(r"\begin") > 1 or all(width(row) <= line for row in rows(tex)):
        return tex
    set_rows = []
    for row in re.split(r"\\\\(?:\[[^\]]*\])?", body):
        left, mark, right = row.partition("&")
        first, *more = broken(right.strip(), max(line - width(left), line / 2)) if mark else [""]
        set_rows.append(f"{left.strip()} &{first}" if mark else row.strip())
        set_rows += [rf" &\quad {part}" for part in more]
    return "\\begin{aligned}\n" + " \\\\\n".join(set_rows) + "\n\\end{aligned}"


def _at_equals(tex: str) -> list[str]:
    """Split at the signs of equality that stand in no group and no bracket."""
    depth, parts, start = 0, [], 0
    for found in re.finditer(r"\\left\b|\\right\b|[{}]|=", tex):
        if found[0] == "=" and depth == 0:
            parts.append(tex[start : found.start()].strip())
            start = found.end()
        elif found[0] != "=":
            depth += 1 if found[0] in ("{", r"\left") else -1
    return [*parts, tex[start:].strip()]

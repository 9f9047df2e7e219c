r"""Fractions kept as they are bracketed on the way to the typesetter.

The converter writes a fraction of two short parts as ``a / b``, and a fraction of fractions as ``a / b / c``: another number.
An empty group before each fraction makes every fraction of fractions a call ``frac(a, b / c)``. A fraction that carries a
script is put in brackets, or the script would go to its denominator.
"""

from __future__ import annotations

import re

_FRACTION = re.compile(r"\\[dtc]?frac(?![A-Za-z])\s*")
_SCRIPT = re.compile(r"\s*(?:\\limits\s*)?[\^_']")


def fractions(tex: str) -> str:
    r"""Return TeX whose every fraction stays one thing.

    >>> fractions(r"\frac{S_{DS}}{\frac{R}{I_e}}")
    '{}\\frac{S_{DS}}{{}\\frac{R}{I_e}}'
    >>> fractions(r"{\frac{a}{b}}^{2}")
    '\\left( {{}\\frac{a}{b}} \\right)^{2}'
    """
    out, at = "", 0
    while found := _FRACTION.search(tex, at):
        start = found.start()
        above = _argument(tex, found.end())
        below = _argument(tex, above)
        parts = "".join(f"{{{fractions(_bare(tex[a:b]))}}}" for a, b in ((found.end(), above), (above, below)))
        before, end, whole = tex[at:start], below, rf"{{}}\frac{parts}"
        while before.rstrip().endswith("{") and (closed := re.match(r"\s*\}", tex[end:])) and not _is_argument(before.rstrip()):
            before, end, whole = before.rstrip()[:-1], end + closed.end(), f"{{{whole}}}"
        out += before + (rf"\left( {whole} \right)" if _SCRIPT.match(tex, end) else whole)
        at = end
    return out + tex[at:]


def _is_argument(before: str) -> bool:
    """Whether the brace at the end opens an argument (of a command, a script) and not a mere group."""
    return bool(re.search(r"(?:\\[A-Za-z]+\s*|[\^_]\s*|\]\s*|\}\s*)\{$", before))


def _argument(tex: str, at: int) -> int:
    """Return where the argument that begins at a place ends: a group, a command, or one character."""
    while at < len(tex) and tex[at].isspace():
        at += 1
    if not tex.startswith("{", at):
        command = re.compile(r"\\[A-Za-z]+|\\?.", re.S).match(tex, at)
        return command.end() if command else at
    depth = 0
    for index in range(at, len(tex)):
        if tex[index] in "{}" and not tex[:index].endswith("\\"):
            depth += 1 if tex[index] == "{" else -1
            if depth == 0:
                return index + 1
    return len(tex)


def _bare(argument: str) -> str:
    """Return an argument without the braces and the white space around it."""
    argument = argument.strip()
    return argument[1:-1] if argument.startswith("{") and argument.endswith("}") else argument

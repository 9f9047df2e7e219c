"""How a number is written: one rule for sheets, traces, tables and errors.

A number someone gave or a table prints is written as it stands, up to six figures. A number that was worked out is
written to four significant figures, but no digit before the decimal point is ever rounded away.
The unrounded number is what the next step uses.
"""

from __future__ import annotations

import math
import re

import numpy as np

GIVEN, COMPUTED = 6, 4
#: An array of up to so many numbers is written out; of a longer one how many there are, and from what to what.
SHOWN = 6
_POWER = re.compile(r"(?<![\w.])(?<!\w-)(\d[\d,]*(?:\.\d+)?)e(-\d+|9|[1-9]\d)(?!\w)")
_MINUS = re.compile(r"(?<![\w.)\]’'-])-(?= ?\.?\d)")
_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def figures(number, *, computed: bool) -> str:
    """Return ``number`` as text: ``28.74``, ``12,345``, ``3.620e-5``; arrays as ``{1; 2}`` or ``9 values, 1 to 4``."""
    if isinstance(number, np.ndarray) and number.ndim:
        if number.size <= SHOWN:
            return "{" + "; ".join(figures(x, computed=computed) for x in number.ravel()) + "}"
        low, high = (figures(x, computed=computed) for x in (number.min(), number.max()))
        return f"{number.size} values, {f'{low} to {high}' if low != high else f'all {low}'}"
    x = float(number)
    if not math.isfinite(x):
        return str(x).replace("inf", "∞")
    if x == 0:
        return "0"
    digits = COMPUTED if computed else GIVEN
    power = math.floor(math.log10(abs(x)))
    if power < -4 or power >= 9:
        mantissa, exponent = f"{x:.{digits - 1}e}".split("e")
        return f"{mantissa if computed else _strip(mantissa)}e{int(exponent)}"
    text = f"{x:,.{max(0, digits - 1 - power)}f}"
    # 9.99996 rounds up to 10.0000: one figure too many
    if computed and "." in text and sum(c.isdigit() for c in text.lstrip("-0.,")) > max(digits, power + 1):
        text = f"{x:,.{max(0, digits - 2 - power)}f}"
    return text if computed else _strip(text)


def _strip(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text


def four(number: float) -> float:
    """Return a number rounded to four figures: converted to SI, it has no more than what it was converted from."""
    return float(f"{number:.{COMPUTED}g}")


def set_figures(text: str) -> str:
    r"""Return the figures in a text with the signs of print: a true minus, powers of ten raised, no break within.

    >>> set_figures("-1.988e-5 to 1-1/2, P-3")
    '−1.988\xa0×\xa010⁻⁵ to 1-1/2, P-3'
    """
    text = _POWER.sub(lambda m: f"{m[1]}\xa0×\xa010{m[2].translate(_RAISED)}", text)
    return _MINUS.sub("−", text)


def figures_latex(number, *, computed: bool) -> str:
    r"""Return the same writing as LaTeX: ``12{,}345`` and ``3.620 \times 10^{-5}``."""
    if isinstance(number, np.ndarray) and number.ndim:
        if number.size > SHOWN:
            return rf"\text{{{set_figures(figures(number, computed=computed))}}}"
        inside = r" ;\ ".join(figures_latex(x, computed=computed) for x in number.ravel())
        return rf"\left\{{ {inside} \right\}}"
    mantissa, _, exponent = figures(number, computed=computed).partition("e")
    mantissa = mantissa.replace(",", "{,}").replace("∞", r"\infty")
    return rf"{mantissa} \times 10^{{{exponent}}}" if exponent else mantissa

"""How a number is written: one rule for sheets, traces, tables and errors.

A number someone gave or a table prints is written as it stands, up to six figures. A number that was worked out is
written to four significant figures, but no digit before the decimal point is ever rounded away.
The unrounded number is what the next step uses.
"""

from __future__ import annotations

import math

import numpy as np

GIVEN, COMPUTED = 6, 4
#: Entries of an array that are written out.
SHOWN = 3


def figures(number, *, computed: bool) -> str:
    """Return ``number`` as text: ``28.74``, ``12,345``, ``3.620e-5``; arrays as ``{a; b; ... n values}``."""
    if isinstance(number, np.ndarray) and number.ndim:
        flat = number.ravel()
        shown = "; ".join(figures(x, computed=computed) for x in flat[:SHOWN])
        return f"{{{shown}}}" if flat.size <= SHOWN else f"{{{shown}; … {flat.size} values}}"
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


def figures_latex(number, *, computed: bool) -> str:
    r"""Return the same writing as LaTeX: ``12{,}345`` and ``3.620 \times 10^{-5}``."""
    if isinstance(number, np.ndarray) and number.ndim:
        shown = [figures_latex(x, computed=computed) for x in number.ravel()[:SHOWN]]
        if number.size > SHOWN:
            shown.append(rf"\ldots\ {number.size}\ \text{{values}}")
        inside = r" ,\ ".join(shown)
        return rf"\left\{{ {inside} \right\}}"
    mantissa, _, exponent = figures(number, computed=computed).partition("e")
    mantissa = mantissa.replace(",", "{,}").replace("∞", r"\infty")
    return rf"{mantissa} \times 10^{{{exponent}}}" if exponent else mantissa

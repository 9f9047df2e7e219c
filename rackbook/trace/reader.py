r"""Reading set lines back: what a line of LaTeX says, worked out as a reader would.

A line is only ever set after its setting has been read back and gives what the formula gives. The reader knows the
subset that sheets are written in: sums, ``\cdot``, ``\frac``, powers, roots, brackets, functions, numbers.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from . import maths
from .errors import SheetError

_TOKEN = re.compile(r"\\[A-Za-z]+|\\.|\d+(?:\{,\}\d{3})*(?:\.\d+)?|[^\s]")
_FUNCTIONS = {
    r"\exp": maths.exp, r"\ln": maths.log, r"\sin": maths.sin, r"\cos": maths.cos, r"\tan": maths.tan, r"\sum": maths.sum,
    r"\arcsin": maths.asin, r"\arccos": maths.acos, r"\arctan": maths.atan, r"\max": maths.max, r"\min": maths.min,
    r"\operatorname{abs}": maths.abs, r"\log_{10}": maths.log10,
}  # fmt: skip


def tokens(tex: str) -> tuple[str, ...]:
    """Return LaTeX math as commands, numbers and signs, without white space."""
    return tuple(_TOKEN.findall(tex))


class Reader:
    """One reading of one side of an equation.

    Args:
        tex: The LaTeX of the side.
        symbols: What each symbol (as set) stands for.

    """

    def __init__(self, tex: str, symbols: Mapping[str, Any]) -> None:
        self.tokens, self.at = tokens(tex), 0
        self.numbers: list[float] = []
        names = [(tokens(name), value) for name, value in symbols.items()]
        names += [(tokens(name), function) for name, function in _FUNCTIONS.items()]
        self.names = sorted(((n, v) for n, v in names if n), key=lambda item: -len(item[0]))

    def value(self) -> Any:
        """Return what the side says.

        Raises:
            SheetError: It is not written in the sheets' subset of LaTeX.

        """
        result = self.sum()
        if self.at < len(self.tokens):
            raise self.unread()
        return result

    def unread(self) -> SheetError:
        """Return the error for what stands at the reader's place."""
        return SheetError(f"'{' '.join(self.tokens[self.at : self.at + 8])}' cannot be read back.")

    def ahead(self, *wanted: str) -> bool:
        """Whether these tokens come next."""
        return self.tokens[self.at : self.at + len(wanted)] == wanted

    def take(self, *wanted: str) -> bool:
        """Take these tokens if they come next."""
        found = self.ahead(*wanted)
        self.at += len(wanted) * found
        return found

    def need(self, *wanted: str) -> None:
        """Take these tokens; anything else is an error."""
        if not self.take(*wanted):
            raise self.unread()

    def sum(self) -> Any:
        """Read terms between plus and minus signs."""
        result = -self.product() if self.take("-") else self.product()
        while self.ahead("+") or self.ahead("-"):
            result = result + self.product() if self.take("+") else self.take("-") and result - self.product()
        return result

    def product(self) -> Any:
        """Read factors between dots."""
        result = self.power()
        while self.take(r"\cdot"):
            result = result * self.power()
        return result

    def power(self) -> Any:
        """Read one factor and its exponent."""
        base = self.factor()
        return base ** self.exponent() if self.take("^") else base

    def exponent(self) -> Any:
        """Read the script after a caret."""
        return self.group() if self.ahead("{") else self.power()

    def group(self) -> Any:
        """Read what stands in braces."""
        self.need("{")
        result = self.sum()
        self.need("}")
        return result

    def bracket(self) -> list[Any]:
        """Read what stands in brackets, parts between commas."""
        self.need(r"\left", "(")
        parts = [self.sum()]
        while self.take(","):
            self.take("\\ ")
            parts.append(self.sum())
        self.need(r"\right", ")")
        return parts

    def factor(self) -> Any:
        """Read a number, a symbol, a fraction, a root, a function or a bracket."""
        for name, meaning in self.names:
            if self.take(*name):
                return meaning(*self.bracket()) if callable(meaning) else meaning
        if self.take(r"\pi"):
            return maths.pi
        if self.take(r"\frac"):
            above = self.group()
            return above / self.group()
        if self.take(r"\sqrt"):
            return maths.sqrt(self.group())
        if self.take(r"\left", r"\lceil"):
            whole = maths.ceil(self.sum())
            self.need(r"\right", r"\rceil")
            return whole
        if self.take(r"\left", "|"):
            inside = maths.abs(self.sum())
            self.need(r"\right", "|")
            return inside
        if self.ahead(r"\left", "("):
            parts = self.bracket()
            if len(parts) == 1:
                return parts[0]
        elif self.at < len(self.tokens) and self.tokens[self.at][0].isdigit():
            return self.number()
        raise self.unread()

    def number(self) -> Any:
        r"""Read a number, ``\times 10^{n}`` included."""
        digits = self.tokens[self.at].replace("{,}", "")
        self.at += 1
        if self.take(r"\times", "10", "^", "{"):
            sign = "-" if self.take("-") else ""
            digits += f"e{sign}{self.tokens[self.at]}"
            self.at += 1
            self.need("}")
        self.numbers.append(float(digits))
        return float(digits)

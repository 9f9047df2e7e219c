"""Reading printed lines back as intervals: every printed number stands for all numbers that print so.

A line is true if the numbers it shows can give the result it shows. Units are worked out by pint, apart from the
book's own units.
"""

import functools
import re
from fractions import Fraction

import numpy as np
import pint

from rackbook.trace.reader import Reader, tokens

PINT = pint.UnitRegistry()
PINT.define("plf = pound_force / foot")
PINT.define("psf = pound_force / foot ** 2")
PINT.define("ksf = kip / foot ** 2")
PINT.define("klf = kip / foot")
PINT.define("pcf = pound_force / foot ** 3")
PINT.define("kft = 1000 * foot")
PINT.define("lbm = pound")
PINT.define("kcmil = 1000 * circular_mil")
#: As printed, and as pint calls it, where that differs.
NAMES = {r"\Omega": "ohm", "in.": "inch", r"\%": "percent", "mil": "thou", r"\mum": "um", "hp(746W)": "(746*W)", "Ω": "ohm"}


@functools.cache
def unit_of(name: str) -> tuple[float, dict]:
    """Return scale to base units and dimension; degrees of temperature count as steps of their scale."""
    name = {"degC": "delta_degC", "degF": "delta_degF", "pct": "percent", "hp_motor": "746*W"}.get(name, name)
    one = PINT.Quantity(1.0, name or "dimensionless").to_base_units()
    powers = {k: Fraction(v).limit_denominator(100) for k, v in one.dimensionality.items() if v}
    return float(one.m), powers


class Span:
    """An interval of base-unit numbers with a dimension; ends may be arrays."""

    def __init__(self, low, high, powers=None):
        self.low, self.high = np.minimum(low, high), np.maximum(low, high)
        self.powers = {k: v for k, v in (powers or {}).items() if v}

    @staticmethod
    def of(x):
        return x if isinstance(x, Span) else Span(x, x)

    @property
    def middle(self):
        return (self.low + self.high) / 2

    def _sum(self, other, sign):
        o = Span.of(other)
        zero = np.all(o.low == 0) and np.all(o.high == 0)
        own_zero = np.all(self.low == 0) and np.all(self.high == 0)
        assert zero or own_zero or o.powers == self.powers, f"{self.powers} and {o.powers} are added"
        ends = (o.low, o.high) if sign > 0 else (-o.high, -o.low)
        return Span(self.low + ends[0], self.high + ends[1], o.powers if own_zero else self.powers)

    def __add__(self, other):
        return self._sum(other, 1)

    def __sub__(self, other):
        return self._sum(other, -1)

    def __neg__(self):
        return Span(-self.low, -self.high, self.powers)

    def __mul__(self, other):
        o = Span.of(other)
        ends = [a * b for a in (self.low, self.high) for b in (o.low, o.high)]
        powers = {k: self.powers.get(k, 0) + o.powers.get(k, 0) for k in {*self.powers, *o.powers}}
        return Span(functools.reduce(np.minimum, ends), functools.reduce(np.maximum, ends), powers)

    def __truediv__(self, other):
        o = Span.of(other)
        assert np.all(o.low * o.high > 0), "division by what may be zero"
        return self * Span(1 / o.low, 1 / o.high, {k: -v for k, v in o.powers.items()})

    __radd__ = __add__
    __rmul__ = __mul__

    def __rsub__(self, other):
        return Span.of(other) - self

    def __rtruediv__(self, other):
        return Span.of(other) / self

    def __pow__(self, power):
        p = Span.of(power)
        assert not p.powers, "an exponent has a dimension"
        fixed = np.all(p.low == p.high)
        assert fixed or not self.powers, "a quantity is raised to a power that is not fixed"
        exact = Fraction(float(np.max(p.low))).limit_denominator(100) if self.powers else 0
        if np.all(self.low > 0):
            ends = [a**b for a in (self.low, self.high) for b in (p.low, p.high)]
        else:
            assert fixed, "a base that may be negative needs a fixed exponent"
            assert np.all(self.low >= 0) or np.all(p.low == np.round(p.low)), "a root of what may be negative"
            ends = [self.low**p.low, self.high**p.low, np.where(self.low * self.high < 0, 0.0, self.high**p.low)]
        low, high = functools.reduce(np.minimum, ends), functools.reduce(np.maximum, ends)
        return Span(low, high, {k: v * exact for k, v in self.powers.items()})

    def __rpow__(self, base):
        return Span.of(base) ** self

    def apply_function(self, name):
        """Return a function of the interval; the book's own functions hand over to this."""
        if name == "abs":
            spans_zero = self.low * self.high < 0
            ends = np.abs(self.low), np.abs(self.high)
            return Span(np.where(spans_zero, 0.0, np.minimum(*ends)), np.maximum(*ends), self.powers)
        if name == "sqrt":
            return self ** Span.of(0.5)
        assert not self.powers, f"{name} of a quantity with a dimension"
        if name in ("sin", "cos"):
            half = (self.high - self.low) / 2
            middle = {"sin": np.sin, "cos": np.cos}[name](self.middle)
            return Span(middle - half, middle + half)

        def within(function):
            return lambda x: function(np.clip(x, -1, 1))

        rising = {"exp": np.exp, "log": np.log, "log10": np.log10, "atan": np.arctan, "tan": np.tan, "asin": within(np.arcsin),
                  "acos": within(np.arccos), "ceil": lambda x: np.ceil(x - 1e-9)}[name]  # fmt: skip
        return Span(rising(self.low), rising(self.high))

    def meets(self, other, slack=1e-9):
        """Whether two intervals of one dimension have a number in common."""
        room = slack * np.maximum(np.abs(self.high), np.abs(other.low))
        zero = np.all(other.low == 0) and np.all(other.high == 0)
        return (zero or self.powers == other.powers) and bool(
            np.all(self.low <= other.high + room) and np.all(other.low <= self.high + room)
        )

    def __repr__(self):
        return f"[{self.low}, {self.high}] {self.powers}"


def _extreme(pick):
    def function(*parts):
        spans = [Span.of(p) for p in parts]
        powers = next((s.powers for s in spans if np.any(s.low != 0) or np.any(s.high != 0)), {})
        return Span(functools.reduce(pick, [s.low for s in spans]), functools.reduce(pick, [s.high for s in spans]), powers)

    return function


def _total(x):
    return Span(np.sum(x.low), np.sum(x.high), x.powers)


class Printed(Reader):
    """Reads one printed side; ``exact`` are the literals of the formula, which are not rounded."""

    def __init__(self, tex, symbols=None, exact=(), strip_unit=False):
        functions = {r"\max": _extreme(np.maximum), r"\min": _extreme(np.minimum), r"\sum": _total}
        super().__init__(tex, {**(symbols or {}), **functions})
        self.exact, self.strip_unit = set(exact), strip_unit

    def factor(self):
        if self.take(r"\left", r"\{"):
            parts = [self.signed()]
            while self.take(";", "\\ "):
                parts.append(self.signed())
            self.need(r"\right", r"\}")
            ends = [np.array([getattr(p, end) for p in parts]) for end in ("low", "high")]
            return self.measured(Span(*ends))
        return super().factor()

    def signed(self):
        return -self.bare() if self.take("-") else self.bare()

    def bare(self):
        text = self.tokens[self.at]
        number = super().number()
        digits = text.replace("{,}", "")
        if digits in self.exact:
            return Span(number, number)
        exponent = round(np.log10(abs(number) / float(digits))) if number else 0
        last = -len(digits.partition(".")[2])
        figures = len(digits.replace(".", "").lstrip("0"))
        if figures < 4 and number:  # only numbers that were given are written short, and those to six figures
            last = int(np.floor(np.log10(abs(float(digits))))) - 5
        half = 0.5 * 10.0 ** (last + exponent) if number else 0.0
        return Span(number - half, number + half)

    def number(self):
        return self.measured(self.bare())

    def measured(self, span):
        name = self.unit()
        if self.strip_unit:
            return span
        scale, powers = unit_of(name)
        return Span(span.low * scale, span.high * scale, powers)

    def unit(self):
        """Take a unit, if one follows, and return pint's name for it."""
        if self.take("{", "}", "^", "{", r"\circ", "}"):
            return "deg"
        start = self.at
        if self.take(r"\text", "{", "/"):  # so many per unit
            close = self.tokens.index("}", self.at)
            word = "".join(self.tokens[self.at : close])
            self.at = close + 1
            return f"1/{ {'°C': 'delta_degC', '°F': 'delta_degF'}.get(word, NAMES.get(word, word)) }"
        if not self.take("\\ "):
            return ""
        if self.take("{", "}", "^", "{", r"\circ", "}", r"\mathrm", "{"):
            scale = self.tokens[self.at]
            self.at += 1
            self.need("}")
            return f"deg{scale}"
        out = ""
        while True:
            if self.take(r"\mu"):
                out += "u"
            if self.take(r"\mathrm", "{") or self.take(r"\text", "{"):
                close = self.tokens.index("}", self.at)
                word = "".join(t.removeprefix("\\") if t == r"\_" else t for t in self.tokens[self.at : close])
                out += NAMES.get(word, word)
                self.at = close + 1
            elif self.at < len(self.tokens) and self.tokens[self.at] in NAMES:
                out += NAMES[self.tokens[self.at]]
                self.at += 1
            elif not out:
                self.at = start
                return ""
            if self.take("^", "{"):
                close = self.tokens.index("}", self.at)
                out += "**" + "".join(self.tokens[self.at : close])
                self.at = close + 1
            if self.take("/"):
                out += "/"
            elif any(self.ahead(r"\cdot", follows) for follows in (r"\mathrm", r"\text", r"\Omega")):
                self.at += 1
                out += "*"
            else:
                return out


def flat(equation):
    """Return an equation on one row, whatever rows it was set on."""
    text = equation.strip().strip("$").replace(r"\begin{aligned}", "").replace(r"\end{aligned}", "")
    return re.sub(r"\s+", " ", text.replace("\\\\\n", " ").replace(r"&\quad", "").replace("&", "")).strip()


def sides(equation):
    """Return the sides of an equation."""
    return [side.strip() for side in flat(equation).split(" = ")]


__all__ = ["Printed", "Span", "flat", "sides", "tokens", "unit_of"]

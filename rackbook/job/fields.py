"""What a field of the job may hold: measures, words, counts and texts, each with the sentence that refuses the rest.

Each annotation reads one :class:`Text` (the word as written, with its place) and raises ``ValueError`` with a message
that says what was asked, what is allowed and what to do; the place is added by whoever reports the problem.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, model_validator
from pydantic_core import CoreSchema, core_schema

from rackbook.trace import Source, UnitError, Value
from rackbook.trace.errors import nearest
from rackbook.trace.units import Unit, dimension_name, unit

from .text import Text, refused_character, shown

_NUMBER = r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_FRACTION = r"(?:[0-9]{1,4}[- ])?[0-9]{1,3}/[1-9][0-9]{0,2}"
_MEASURE = re.compile(rf"({_FRACTION}|{_NUMBER})\s*((?![0-9.,])\S.*)?")
#: Units are short products of names, so that no text of a job is ever worked out as an expression.
_UNIT = re.compile(r"[A-Za-zµμ°%Ω]{1,20}\.?(?:(?:\*\*|\^)[2-4])?(?:[*/·][A-Za-zµμ°Ω]{1,20}(?:(?:\*\*|\^)[2-4])?){0,2}")
_HINTS = {
    "lb": " Bare lb is refused: write lbf for a weight (a force).",
    "lbs": " Bare lbs is refused: write lbf for a weight (a force).",
    "lbm": " lbm is a mass: write lbf for a weight (a force).",
    "kg": " kg is a mass: write kgf or kN for a weight (a force).",
    "C": " C is the coulomb: write degC.",
    "F": " F is the farad: write degF.",
    "g": " g is the gram here: write the multiple of gravity as a bare number.",
}


class Record(BaseModel):
    """A level of keys or a row of columns: frozen, only known names; a blank one counts as left out."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)

    @classmethod
    def names(cls) -> list[str]:
        """Return the names of keys or columns as they are written in the file."""
        return [info.alias or name for name, info in cls.model_fields.items()]

    @model_validator(mode="before")
    @classmethod
    def _filled(cls, written: Any) -> Any:
        if not isinstance(written, dict):
            return written
        known = cls.names()  # an unknown name is kept even when blank, so that it is refused
        return {name: value for name, value in written.items() if value != "" or name not in known}


class Field:
    """A field read by its ``read`` method; the base of all annotations below."""

    def read(self, text: Text) -> Any:
        """Return what the text stands for, or raise ValueError with the sentence that refuses it."""
        raise NotImplementedError

    def _checked(self, text: object) -> Any:
        if not isinstance(text, Text):
            raise ValueError("one value is asked here, not a list or a level of keys. Write it on the key's own line.")
        bad = refused_character(text)
        if bad:
            raise ValueError(f"the text holds {bad}, which no field may hold. Remove it.")
        return self.read(text)

    def __get_pydantic_core_schema__(self, _: Any, __: Callable[..., CoreSchema]) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._checked)


def number(written: str) -> float:
    """Return the number a text stands for: ``12``, ``1.5e3``, ``3/4``, ``7-1/2``; ValueError for all else.

    >>> number("7-1/2"), number("-.5")
    (7.5, -0.5)
    """
    if re.fullmatch(_FRACTION, written):
        whole, _, part = written.replace("-", " ").rpartition(" ")
        above, below = part.split("/")
        return float(whole or 0) + int(above) / int(below)
    if not re.fullmatch(_NUMBER, written):
        raise ValueError(f"{shown(written)} is not a number. Write digits with a point, such as 1200 or 7.5.")
    return float(written)


def read_unit(written: str, like: str, only: tuple[str, ...] = ()) -> Unit:
    """Return the unit of that name, which measures what ``like`` measures (and is one of ``only``, if any).

    Raises:
        ValueError: Not a unit, or one of another dimension; the message says what is allowed.

    """
    asked = unit(like)
    try:
        found = unit(written.removesuffix(".")) if _UNIT.fullmatch(written) else None
    except UnitError:
        found = None
    if found is not None and found.dimension == asked.dimension and (written in only if only else found.name != "%"):
        return found
    if found is None:
        what = f"{shown(written)} is not a unit.{nearest(written, only or (like,))}"
    elif found.dimension != asked.dimension:
        what = f"{shown(written)} measures {dimension_name(found)}, but {dimension_name(asked)} is asked."
    else:
        what = f"the unit {shown(written)} is not used here."
    allowed = ", ".join(only) if only else f"{like} or another unit of {dimension_name(asked)}"
    raise ValueError(f"{what} Allowed: {allowed}.{_HINTS.get(written, '')}")


@dataclass(frozen=True)
class Measure(Field):
    """A quantity: a number and its unit, kept as written. ``unit`` is the example and the unit of the limits.

    In rack.yaml the unit stands behind the number (``115 mph``), in a schedule in the head (``weight [lbf]``).
    The result is a Value whose source is the place.
    """

    unit: str
    symbol: str = ""
    gt: float = -math.inf
    ge: float = -math.inf
    lt: float = math.inf
    le: float = math.inf
    only: tuple[str, ...] = ()

    def read(self, text: Text) -> Value:
        """Return the Value; ValueError for no number, no or a wrong unit, or a number out of range."""
        found = _MEASURE.fullmatch(text)
        if not found:
            want = f"a number{'' if text.unit is not None else f' with its unit, such as 12 {self.unit}'.rstrip()}"
            raise ValueError(f"{shown(text)} is not {want}. Write digits with a point, no commas.")
        digits, written = found.groups()
        if text.unit is not None and written:
            raise ValueError(
                f"{shown(text)} is more than a number. The unit stands in the head of the column"
                f" ({text.unit or 'this column has none'}); write digits with a point, no commas."
            )
        written = text.unit if text.unit is not None else (written or "")
        if written and not self.unit:
            hint = _HINTS.get(written, "")
            raise ValueError(f"{shown(text)} has a unit, but a bare number is asked. Remove {shown(written)}.{hint}")
        if self.unit and not written:
            raise ValueError(f"{shown(text)} has no unit. Write it behind the number, such as {digits} {self.unit}.")
        of = read_unit(written, self.unit, self.only) if written else unit("")
        value = Value(number(digits), of, text.source, self.symbol)
        self._range(value, text)
        return value

    def _range(self, value: Value, text: Text) -> None:
        measure = value.m_as(self.unit) if self.unit else value.magnitude
        near = 1e-9 * abs(measure)
        if not math.isfinite(measure) or not (self.gt < measure < self.lt and self.ge - near <= measure <= self.le + near):
            with_unit = f"{text} {text.unit}" if text.unit else text
            raise ValueError(f"{shown(with_unit)} is out of range. Allowed: {self.allowed}. Check digits and unit.")

    @property
    def allowed(self) -> str:
        """The range in words."""
        parts = [
            f"{word} {limit:g}"
            for word, limit in (("above", self.gt), ("from", self.ge), ("below", self.lt), ("to", self.le))
            if math.isfinite(limit)
        ]
        return f"{' '.join(parts)} {self.unit}".strip()

    def assumed(self, magnitude: float, why: str) -> Value:
        """Return the value a blank field stands for; its source says that it was assumed and why."""
        return Value(magnitude, self.unit, Source("assumption", why), self.symbol)


@dataclass(frozen=True)
class Count(Field):
    """A whole number out of a few."""

    allowed: tuple[int, ...]

    def read(self, text: Text) -> int:
        """Return the number; ValueError names the allowed ones."""
        if not re.fullmatch(r"[0-9]{1,4}", text) or int(text) not in self.allowed:
            raise ValueError(f"{shown(text)} is not allowed. Allowed: {', '.join(map(str, self.allowed))}.")
        return int(text)


class OneOf(Field):
    """A word out of a list, spelled exactly so."""

    def __init__(self, *words: str) -> None:
        self.words = words

    def read(self, text: Text) -> Text:
        """Return the word; ValueError names the nearest and all allowed ones."""
        if text not in self.words:
            near = nearest(text[:60], self.words)
            raise ValueError(f"{shown(text)} is not allowed.{near} Allowed: {', '.join(self.words)}.")
        return text


class Flag(Field):
    """Yes or no."""

    def read(self, text: Text) -> bool:
        """Return the truth; ValueError for any other word."""
        if text.casefold() not in ("yes", "no", "true", "false"):
            raise ValueError(f"{shown(text)} is not allowed. Allowed: yes, no.")
        return text.casefold() in ("yes", "true")


@dataclass(frozen=True)
class Words(Field):
    """A line of free text, carried on character by character; markup in it is text and nothing else."""

    most: int = 200
    like: str = ""
    why: str = ""

    def read(self, text: Text) -> Text:
        """Return the text; ValueError when it is too long, not of the asked form, or a spreadsheet formula."""
        if len(text) > self.most:
            raise ValueError(f"the text has {len(text)} characters. Allowed: {self.most}. Shorten it.")
        if text.unit is not None and re.match(r"[=@]|[+-](?![0-9. ])", text):
            raise ValueError(f"{shown(text)} would run as a formula in a spreadsheet. Start the cell with a letter or a digit.")
        if self.like and not re.fullmatch(self.like, text):
            raise ValueError(f"{shown(text)} is not allowed. {self.why}")
        return text


class Day(Field):
    """A calendar date."""

    def read(self, text: Text) -> Text:
        """Return the date as written; ValueError when there is no such day."""
        try:
            if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
                raise ValueError
            date.fromisoformat(text)
        except ValueError:
            raise ValueError(f"{shown(text)} is not a date. Write year-month-day, such as 2026-03-31.") from None
        return text


class Share(Field):
    """The part of a load that runs continuously: yes (100 %), no (0 %) or a percentage."""

    def read(self, text: Text) -> Value:
        """Return the share in percent; ValueError for all else."""
        words = {"yes": 100.0, "no": 0.0}
        digits = text.removesuffix("percent").removesuffix("%").strip()
        if text not in words and not re.fullmatch(r"[0-9]{1,3}(\.[0-9]+)?", digits):
            raise ValueError(f"{shown(text)} is not allowed. Allowed: yes, no, or a percentage from 0 to 100.")
        share = words[text] if text in words else float(digits)
        if share > 100:
            raise ValueError(f"{shown(text)} is more than the whole. Allowed: yes, no, or from 0 to 100 percent.")
        return Value(share, "%", text.source, "continuous")


TAG = Words(
    24,
    r"[^\W_]([\w./ -]*\w)?",
    "A tag is letters and digits, with - . / _ or blanks between them, 24 characters at most.",
)

#: Texts of a line or less.
Title = Annotated[Text, Words(120)]
Line = Annotated[Text, Words(400)]
Name = Annotated[Text, Words(60)]

"""The one unit registry of the book, and units as the fast path needs them.

A unit is parsed by pint once; afterwards it is a scale to base units and a tuple of exponents, so that
a formula call costs a few multiplications and no parsing.
"""

from __future__ import annotations

import functools
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import pint

from .errors import UnitError, nearest

registry: pint.UnitRegistry = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
for _line in (
    "psf = pound_force / foot ** 2",
    "ksf = 1000 * psf",
    "plf = pound_force / foot",
    "klf = 1000 * plf",
    "pcf = pound_force / foot ** 3",
    "kft = 1000 * foot",
    "lbm = pound",
    "kcmil = 1000 * circular_mil",
    "pct = 0.01 = %",
    "hp_motor = 746 * watt",
):
    registry.define(_line)
pint.set_application_registry(registry)
Quantity = registry.Quantity

#: Base dimensions in the order of the exponent tuples.
BASES = ("[length]", "[mass]", "[time]", "[current]", "[temperature]", "[substance]", "[luminosity]")
NONE = (Fraction(0),) * len(BASES)

#: How a sheet writes a unit, where pint's own short form is not what the trade writes.
WRITTEN = {
    "": "", "pct": "%", "%": "%", "degC": "°C", "degF": "°F", "delta_degC": "°C", "delta_degF": "°F",
    "deg": "°", "ohm": "Ω", "ohm/kft": "Ω/kft", "in": "in.", "inch": "in.", "um": "µm", "hp_motor": "hp (746 W)",
    "thou": "mil",
}  # fmt: skip
#: Other spellings of a unit's name, each read as the one on the right.
SPELLED = {
    "°C": "degC", "°F": "degF", "degree_Celsius": "degC", "degree_Fahrenheit": "degF", "Ω": "ohm", "Ω/kft": "ohm/kft",
    "µm": "um", "percent": "%", "°": "deg", "degree": "deg", "kelvin": "K", "dimensionless": "", "1": "",
}  # fmt: skip
_MIL = re.compile(r"\bmil\b")  # to pint an angle of gunners, to the trade a thickness
_RAISED = str.maketrans({"²": "**2", "³": "**3", "⁴": "**4", "⁶": "**6", "·": "*", "^": "**"})
_NAME = re.compile(r"[^\W\d](?:[\w*/(). %-]|\*\*)*|%|1/[\w*/(). -]+")
#: The SI unit set beside a US customary one when the job asks for it.
SI_BESIDE = {
    "psf": "kPa", "ksf": "kPa", "psi": "MPa", "ksi": "MPa", "lbf": "N", "kip": "kN", "plf": "N/m", "lbf/ft": "N/m",
    "klf": "kN/m", "pcf": "kN/m**3", "ft": "m", "in": "mm", "inch": "mm", "ft**2": "m**2", "in**2": "mm**2",
    "in**3": "mm**3", "in**4": "mm**4", "mph": "m/s", "lbf*ft": "N*m", "kip*ft": "kN*m", "kip/in": "kN/m",
    "degF": "degC", "cmil": "mm**2", "kcmil": "mm**2", "ohm/kft": "ohm/km", "hp": "kW",
}  # fmt: skip


@dataclass(frozen=True, eq=False)
class Unit:
    """A unit by name: ``base = (magnitude + offset) * scale``; compared by identity, one object a name."""

    name: str
    scale: float
    offset: float
    dimension: tuple[Fraction, ...]
    absolute: bool

    @property
    def pint(self) -> pint.Unit:
        """The same unit of the registry."""
        return registry.Unit(self.name)

    @property
    def written(self) -> str:
        """The unit as text on a sheet."""
        return WRITTEN[self.name] if self.name in WRITTEN else _written(self.name)

    def __str__(self) -> str:
        return self.name

    def __reduce__(self) -> Any:
        """Pickle by name, so that a copy is the same object."""
        return _restored, (self.name,)


def _written(name: str) -> str:
    text = re.sub(r"[A-Za-z_]+", lambda m: WRITTEN.get(m[0], m[0]), name)
    for power, raised in (("**2", "²"), ("**3", "³"), ("**4", "⁴"), ("**6", "⁶"), ("**0.5", "^½")):
        text = text.replace(power, raised)
    return text.replace("*", "·")


#: The measure of a value that is a word (a size, a class, a mark): no unit, no arithmetic.
WORD = Unit("word", 1.0, 0.0, NONE, False)


def _restored(name: str) -> Unit:
    return WORD if name == WORD.name else unit(name)


@functools.cache
def unit(name: str) -> Unit:
    """Return the unit of that name.

    Raises:
        UnitError: The registry has no such unit; the nearest spelling is named.

    """
    if name == "":
        return Unit("", 1.0, 0.0, NONE, False)
    plain = str(name).strip().translate(_RAISED)
    plain = SPELLED.get(plain, _MIL.sub("thou", plain))
    if plain != name:
        return unit(plain)
    try:
        if not _NAME.fullmatch(name):
            raise ValueError(name)
        parsed = registry.Unit(name)
        zero, one, two = (float(Quantity(x, parsed).to_base_units().m) for x in (0.0, 1.0, 2.0))
    except Exception as e:  # pint's tokenizer raises errors without a common family on hostile text
        raise UnitError(
            f"'{name}' is not a unit the book knows.{nearest(name, COMMON)} Common units: {', '.join(COMMON)}."
        ) from e
    if abs(two - one - (one - zero)) > 1e-9 * abs(one):
        raise UnitError(f"'{name}' is a logarithmic unit; give the quantity itself.")
    scale = clean(one - zero)
    powers: dict[str, Any] = dict(parsed.dimensionality)
    dimension = tuple(Fraction(float(powers.pop(base, 0))).limit_denominator(1000) for base in BASES)
    if powers:
        raise UnitError(f"'{name}' has a dimension the book does not use ({', '.join(powers)}).")
    return Unit(name, scale, clean(zero / scale), dimension, bool(zero))


def clean(x: float) -> float:
    """Return a factor without the noise of the last digit that chained definitions leave: 0.3048 and not 0.30479999."""
    near = float(f"{x:.14g}")
    return near if abs(near - x) <= 1e-15 * abs(x) else x


#: Named in messages and offered as nearest spellings.
COMMON = (
    "ft", "in", "mm", "m", "ft**2", "in**2", "mph", "psf", "ksf", "psi", "ksi", "lbf", "kip", "plf", "pcf", "lbf*ft",
    "kip*ft", "kip/in", "lbm", "degC", "degF", "V", "A", "kA", "kVA", "kW", "hp", "ohm", "ohm/kft", "cmil", "kcmil",
    "s", "pct", "um",
)  # fmt: skip


def dimension_name(of: Unit) -> str:
    """Return a plain name of a unit's dimension, for messages."""
    if "delta_" in of.name:
        return "temperature difference"
    for name, example in (
        ("length", "ft"), ("area", "ft**2"), ("volume", "ft**3"), ("speed", "mph"), ("pressure", "psf"), ("force", "lbf"),
        ("force per length", "plf"), ("moment", "lbf*ft"), ("mass", "lbm"), ("temperature", "degC"), ("voltage", "V"),
        ("current", "A"), ("power", "kW"), ("resistance", "ohm"), ("resistance per length", "ohm/kft"), ("time", "s"),
        ("a pure number", ""), ("force per volume", "pcf"), ("length to the fourth power", "in**4"),
    ):  # fmt: skip
        if unit(example).dimension == of.dimension:
            return name
    return str(of.pint.dimensionality)


@functools.cache
def _convertible(have: Unit, want: Unit) -> None:
    if have.dimension != want.dimension or (have.absolute != want.absolute and "delta_" in have.name + want.name):
        raise UnitError(
            f"{have.name or 'a pure number'} ({dimension_name(have)}) cannot be given in {want.name or 'pure numbers'} "
            f"({dimension_name(want)})."
        )


def convert(magnitude, have: Unit, want: Unit):
    """Return ``magnitude`` of unit ``have`` in unit ``want``; floats and arrays alike.

    Raises:
        UnitError: The dimensions differ.

    """
    if have is want:
        return magnitude
    _convertible(have, want)
    base = (magnitude + have.offset) * have.scale if have.offset else magnitude * have.scale
    return base / want.scale - want.offset if want.offset else base / want.scale

"""Sections: a shape with its published properties, and what a clause needs of it beyond them."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rackbook.structure.frame.sections import open_torsion_constant
from rackbook.tables import section as table_of
from rackbook.tables import table
from rackbook.trace import LookupFailed, Source, Value, formula
from rackbook.trace.errors import nearest
from rackbook.trace.maths import pi, sqrt

from ..steel import E, clause

#: Families by the table that holds them; a round tube given by its dimensions counts as a pipe.
FAMILIES = ("hss", "pipes", "channels", "angles", "wide_flanges", "strut")
#: Families whose walls close on themselves.
CLOSED = ("hss", "pipes")
_RING = Source("derivation", "hollow circle of the design wall")


@dataclass(frozen=True, eq=False)
class Section:
    """A shape: designation, family, and its properties by the heads of the family's table."""

    name: str
    family: str
    properties: Mapping[str, Value]

    def __getitem__(self, name: str) -> Value:
        """Return a property.

        Raises:
            LookupFailed: The shape has no such property.

        """
        try:
            return self.properties[name]
        except KeyError:
            raise LookupFailed(
                f"{self.name} ({self.family}) has no property '{name}'.{nearest(name, self.properties)} "
                f"Properties: {', '.join(self.properties)}."
            ) from None

    @property
    def closed(self) -> bool:
        """Whether the walls close on themselves."""
        return self.family in CLOSED

    @property
    def equal_legs(self) -> bool:
        """Whether an angle has two legs of one size."""
        return self.family == "angles" and self["b"].m_as("in") == self["d"].m_as("in")


@functools.cache
def _published(name: str) -> Section:
    of = table_of(name)
    found = {column: of.cell(name, column, column) for column in of.names[len(of.keys) :]}
    if of.name == "strut":
        more = table("strut_torsion")
        found |= {column: more.cell(name, column, column) for column in more.names[len(more.keys) :]}
        found["J"] = open_torsion_constant(A=found["A"], t=found["t"])
    return Section(name, of.name, found)


def as_section(shape: Any) -> Section:
    """Return a shape of the section tables by its designation, or one given by family and properties.

    Args:
        shape: A designation (``"C6X8.2"``), a :class:`Section`, or a mapping with the key ``family`` and the properties
            by the heads of the family's table.

    Raises:
        LookupFailed: No table holds the designation, or there is no such family.

    """
    if isinstance(shape, Section):
        return shape
    if isinstance(shape, Mapping):
        family = str(shape.get("family"))
        if family not in FAMILIES:
            raise LookupFailed(
                f"'{family}' is no family of shapes.{nearest(family, FAMILIES)} Families: {', '.join(FAMILIES)}."
            )
        properties = {n: v for n, v in shape.items() if isinstance(v, Value)}
        if family == "pipes" and "A" not in properties:
            return round_tube(properties["OD"], properties["t_des"])
        return Section(str(shape.get("name", "the given shape")), family, properties)
    return _published(str(getattr(shape, "magnitude", shape)))


# --- round tubes -------------------------------------------------------------------------------------------------------


@formula(_RING, A="in**2")
def ring_area(OD, t_des):
    """Return the area of a round tube."""
    A = pi * (OD - t_des) * t_des
    return A


@formula(_RING, I="in**4")
def ring_inertia(OD, t_des):
    """Return the moment of inertia of a round tube."""
    I = pi / 64 * (OD**4 - (OD - 2 * t_des) ** 4)
    return I


@formula(_RING, S="in**3")
def ring_modulus(I, OD):
    """Return the elastic section modulus of a round tube."""
    S = 2 * I / OD
    return S


@formula(_RING, Z="in**3")
def ring_plastic_modulus(OD, t_des):
    """Return the plastic section modulus of a round tube."""
    Z = (OD**3 - (OD - 2 * t_des) ** 3) / 6
    return Z


@formula(_RING, r="in")
def radius_of_gyration(I, A):
    """Return the radius of gyration."""
    r = sqrt(I / A)
    return r


def round_tube(OD: Value, t_des: Value) -> Section:
    """Return a round tube of given outside diameter and design wall (0.93 of the nominal one for A500)."""
    A, I = ring_area(OD=OD, t_des=t_des), ring_inertia(OD=OD, t_des=t_des)
    made = {"OD": OD, "t_des": t_des, "A": A, "I": I, "S": ring_modulus(I=I, OD=OD)}
    made |= {"Z": ring_plastic_modulus(OD=OD, t_des=t_des), "r": radius_of_gyration(I=I, A=A)}
    return Section(f"{OD.magnitude:g} x {t_des.magnitude:g} round tube", "pipes", made)


# --- widths of walls, and their limits ---------------------------------------------------------------------------------


@formula(clause("B4.1b(d)", "read"), b="in")
def flat_width(B, t_des):
    """Return the flat width of a tube's wall."""
    b = B - 3 * t_des
    return b


@formula(clause("B4.1b(b)", "read"), h="in")
def clear_web(d, k):
    """Return the clear depth of a rolled web between its fillets."""
    h = d - 2 * k
    return h


@formula(clause("B4.1a(a)", "read"), b="in")
def half_flange(b_f):
    """Return the half width of an I-shape's flange."""
    b = b_f / 2
    return b


@formula(clause("B4.1", "read"), lamb="")
def width_ratio(b, t):
    """Return the width-to-thickness ratio."""
    lamb = b / t
    return lamb


@formula(clause("Tables B4.1a and B4.1b", "read"), lamb_r="")
def root_limit(c_r, E, F_y):
    """Return the limiting width-to-thickness ratio."""
    lamb_r = c_r * sqrt(E / F_y)
    return lamb_r


@formula(clause("Tables B4.1a and B4.1b", "read"), lamb_r="")
def round_limit(c_r, E, F_y):
    """Return the limiting ratio of diameter to thickness."""
    lamb_r = c_r * E / F_y
    return lamb_r


def limit(element: str, column: str, F_y: Value, symbol: str = "") -> Value:
    """Return a limit of Tables B4.1a and B4.1b.

    Args:
        element: Row of the table ``slenderness_limits``.
        column: ``"lambda_p"`` or ``"lambda_r"``.
        F_y: Yield stress.
        symbol: Symbol of the result.

    Raises:
        LookupFailed: The table has no such element or no such limit for it.

    """
    of = table("slenderness_limits")
    c_r = of.cell(element, column, "c_" + column[-1])
    made = round_limit if of.cell(element, "basis").magnitude == "E/F_y" else root_limit
    return made(c_r=c_r, E=E, F_y=F_y).named(symbol or column.replace("lambda", "lamb"))


def web_depth(of: Section) -> Value:
    """Return the clear depth of a channel's or wide flange's web."""
    return clear_web(d=of["d"], k=of["k_des" if of.family == "wide_flanges" else "k"])


def flange_width(of: Section) -> Value:
    """Return the projecting width of a flange: the whole of a channel's, half of a wide flange's."""
    return half_flange(b_f=of["b_f"]) if of.family == "wide_flanges" else of["b_f"]


def ratio(width: Value, thickness: Value, symbol: str = "lamb") -> Value:
    """Return a width-to-thickness ratio under a symbol."""
    return width_ratio(b=width, t=thickness).named(symbol)


def leg_ratio(of: Section) -> Value:
    """Return the width-to-thickness ratio of an angle's longer leg."""
    return ratio(of["b"], of["t"], "lamb_b")

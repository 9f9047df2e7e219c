"""Conductor sizes in order, and the published columns as arrays over all sizes, for choosing among them."""

from __future__ import annotations

import functools

import numpy as np

from ..tables import table
from ..trace import LookupFailed, Source, Value, word
from ..trace.errors import nearest

MATERIALS = {"copper": "cu", "aluminum": "al"}
#: Smallest size of general wiring, 310.5.
SMALLEST = {"copper": "14", "aluminum": "12"}
_LISTED = Source("table", "NFPA 70", "2023", "Table 310.16, sizes in their order", "read")


@functools.cache
def sizes() -> tuple[str, ...]:
    """Return the sizes of general wiring from 14 AWG up, as the ampacity table spells them."""
    listed = tuple(row["size"] for row in table("ampacity").rows)
    return listed[listed.index(SMALLEST["copper"]) :]


@functools.cache
def _place() -> dict[str, int]:
    return {size: i for i, size in enumerate(sizes())}


def key(size: object) -> str:
    """Return a size as the tables spell it: ``12``, ``"12 AWG"``, ``"500 kcmil"`` or a Value of either.

    Raises:
        LookupFailed: No table lists it.

    """
    place = _place()
    if type(size) is str and size in place:
        return size
    if isinstance(size, Value):
        if size.is_word and size.magnitude in place:
            return size.magnitude
        size = size.magnitude if size.is_word or not size.unit else size.m_as("kcmil")
    text = f"{size:g}" if isinstance(size, (int, float)) else str(size)
    text = text.replace("AWG", "").replace("kcmil", "").strip()
    if text not in _place():
        raise LookupFailed(
            f"'{size}' is not a conductor size of Table 310.16.{nearest(text, sizes())} Listed: {', '.join(sizes())} "
            "(AWG to 4/0, kcmil from 250). Choose one of these."
        )
    return text


def order(size: object) -> int:
    """Return the place of a size in the order of the table, 0 for the smallest."""
    return _place()[key(size)]


def metal(material: object) -> str:
    """Return the letters of a conductor material in the heads of the tables.

    Raises:
        LookupFailed: The material is not copper or aluminum.

    """
    name = str(material.magnitude) if isinstance(material, Value) else str(material)
    if name not in MATERIALS:
        raise LookupFailed(
            f"'{name}' is not a conductor material of Table 310.16.{nearest(name, MATERIALS)} Listed: copper, aluminum."
        )
    return MATERIALS[name]


@functools.cache
def listed(size: str) -> Value:
    """Return a size of the table as a word on trial."""
    return word(size, _LISTED, "trial")


def size_value(size: object) -> Value:
    """Return a size as a word Value: the one given, or one made of its text."""
    if isinstance(size, Value) and size.is_word and size.magnitude in _place():
        return size
    source = getattr(size, "source", None)
    return word(key(size), source, "size") if isinstance(source, Source) else listed(key(size))


@functools.cache
def ampacities(material: str, temperature: int) -> np.ndarray:
    """Return a column of Table 310.16 over all sizes [A]; nan where nothing is printed."""
    return _over_sizes(table("ampacity").array(f"{metal(material)}_{temperature}C"))


@functools.cache
def impedances(material: str, conduit: str) -> tuple[np.ndarray, np.ndarray]:
    """Return resistance and reactance of Table 9 over all sizes [ohm/kft]; nan for sizes it leaves out."""
    of = table("conductor_impedance")
    rows = [
        (of.cell((s, material, conduit), "R").magnitude, of.cell((s, material, conduit), "X_L").magnitude)
        if of.has((s, material, conduit), "R")
        else (np.nan, np.nan)
        for s in sizes()
    ]
    r, x = np.array(rows, float).T
    return r, x


@functools.cache
def areas() -> np.ndarray:
    """Return the conductor areas of Table 8 over all sizes [cmil]."""
    return np.array([table("conductor_properties").cell((s, "stranded"), "area").magnitude for s in sizes()], float)


@functools.cache
def small_limits(material: str) -> np.ndarray:
    """Return the largest device of 240.4(D) over all sizes [A]; infinite where the rule sets none."""
    of = table("small_conductors")
    return np.array([_limit(of, material, s) for s in sizes()], float)


def _limit(of, material: str, size: str) -> float:
    return of.cell((material, size), "max_OCPD").magnitude if of.has((material, size), "max_OCPD") else np.inf


def _over_sizes(column: np.ndarray) -> np.ndarray:
    return column[-len(sizes()) :]

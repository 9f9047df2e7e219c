"""Durability of the piers' concrete: the requirements of its exposure classes (ACI 318-19, 19.3)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.tables import table
from rackbook.trace import Check, Value, check, largest, smallest

from ..concrete import aci

GIVE_EXPOSURE = "Give piers.exposure: the classes of freezing, sulfate, water and corrosion of ACI 318-19, Table 19.3.1.1."
NAME = "Concrete strength for durability"


@dataclass(frozen=True)
class Durability:
    """What the exposure classes ask for.

    Attributes:
        classes: The classes in words.
        f_c_min: Least strength.
        w_cm: Largest ratio of water to cementitious materials; None where no class limits it.
        air: Air content of fresh concrete with 3/4 in. aggregate; None where there is no freezing.

    """

    classes: str
    f_c_min: Value
    w_cm: Value | None
    air: Value | None


def durability(exposure: Any) -> Durability:
    """Return what exposure classes ask for.

    Args:
        exposure: ``piers.exposure`` of a job: ``freezing``, ``sulfate``, ``water``, ``corrosion``.

    """
    of = table("concrete_exposure")
    names = [str(getattr(exposure, name)) for name in ("freezing", "sulfate", "water", "corrosion")]
    strengths = {name: of.cell(name, "f_c_min", "f_c_min") for name in names}
    ratios = {name: of.cell(name, "w_cm", "w_cm") for name in names if of.has(name, "w_cm")}
    frozen = names[0]
    air = of.cell(frozen, "air", "air") if of.has(frozen, "air") else None
    w_cm = None
    if ratios:
        w_cm = smallest("w_cm", ratios) if len(ratios) > 1 else next(iter(ratios.values()))
    return Durability(", ".join(names), largest("f_c_min", strengths), w_cm, air)


def durability_check(piers: Any) -> tuple[Check, Durability | None]:
    """Return the strength of the concrete against that of its exposure, and the requirements; open without the classes."""
    source = aci("Table 19.3.2.1")
    if getattr(piers, "exposure", None) is None:
        return check(NAME, piers.concrete, None, source, remedy=GIVE_EXPOSURE), None
    of = durability(piers.exposure)
    remedy = f"Concrete of {of.f_c_min.text()} or more (piers.concrete)."
    return check(f"{NAME} ({of.classes})", of.f_c_min, piers.concrete, source, remedy=remedy), of

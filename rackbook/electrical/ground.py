"""The equipment grounding conductor: Table 250.122, and its increase with the phase conductors."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..tables import table
from ..trace import LookupFailed, Source, Value, formula, pick
from .clauses import clause, edition_of
from .factors import text
from .sizes import SMALLEST, areas, key, listed, order, size_value, sizes


@formula(Source("clause", "NFPA 70", "2023", "250.122(B) (same in 2020)", "read"), A_g="cmil")
def proportional_area(A_tab, A_i, A_r):
    """Return the least area of the equipment ground: increased as the phase conductors are, by circular mils."""
    A_g = A_tab * A_i / A_r
    return A_g


@formula(Source("clause", "NFPA 70", "2023", "Table 250.102(C)(1) Note 1 (same in 2020)", "read"), A_b="cmil")
def eighth_of_area(A):
    """Return the least area of a bonding jumper beside conductors larger than its table lists."""
    A_b = 0.125 * A
    return A_b


@dataclass(frozen=True, eq=False)
class Ground:
    """Equipment grounding conductor of one raceway.

    Attributes:
        size: The least size.
        size_table: The size of Table 250.122 by the rating of the device.
        A_g: The least area where the phase conductors are larger than needed, else None.
        bonding: Size of the supply-side bonding jumper beside transformer secondary conductors, else None.

    """

    size: Value
    size_table: Value
    A_g: Value | None
    bonding: Value | None = None


def area(size: object, symbol: str = "A") -> Value:
    """Return the circular mils of a size, Chapter 9 Table 8."""
    return table("conductor_properties").cell((key(size), "stranded"), "area", symbol, by={"size": size_value(size)})


def equipment_ground(
    I_r: Value, material: object, required: object = None, installed: object = None, edition: str = "2023"
) -> Ground:
    """Return the equipment ground for a circuit; in parallel raceways each holds the full size, 250.122(F)(1)(b).

    Args:
        I_r: Rating of the overcurrent device [A].
        material: "copper" or "aluminum".
        required: Least phase size by ampacity, correction and adjustment for ambient and count included: an
            increase for those does not count (310.15(B) and (C) are excepted in 250.122(B) since 2020).
        installed: Phase size installed; larger than ``required`` for any other reason, the ground grows with it.
        edition: Edition of NFPA 70.

    Raises:
        LookupFailed: The rating is past Table 250.122, or no listed size is large enough.

    """
    edition = edition_of(text(edition))
    metal = text(material)
    of_table = table("equipment_ground").at_least(I_r, metal, "size_tab")
    if required is None or installed is None:
        return Ground(of_table, of_table, None)
    have, size, A_g = order(installed), of_table, None
    if have > order(required):
        A_g = proportional_area(A_tab=area(of_table, "A_tab"), A_i=area(installed, "A_i"), A_r=area(required, "A_r"))
        size = size_of_area(A_g, metal, clause("ground increased", edition))
    if order(size) > have:
        size = pick(
            "size_g",
            {"circuit conductors": size_value(installed), "table and increase": size},
            "circuit conductors",
            "the ground need not be larger than the circuit conductors",
            None,
            clause("ground", edition),
        )
    return Ground(size, of_table, A_g)


def supply_side_bonding(size: object, material: object = "copper", edition: str = "2023") -> Value:
    """Return the supply-side bonding jumper beside ungrounded conductors of ``size``, Table 250.102(C)(1).

    Of parallel sets each raceway is judged by the conductors in it, 250.102(C)(2).
    """
    metal, A = text(material), area(size)
    of = table("supply_side_bonding")
    if A.magnitude <= max(of.array("to")[[row["material"] == metal for row in of.rows]]):
        return of.step(A, metal, "size_b", at=(metal,))
    return size_of_area(eighth_of_area(A=A), metal, clause("bonding", edition_of(text(edition))))


def with_bonding(ground: Ground, size: object, material: object, edition: str = "2023") -> Ground:
    """Return the ground of transformer secondary conductors: it is also their supply-side bonding jumper, 250.30(A)(2)."""
    jumper = supply_side_bonding(size, material, edition)
    larger = "supply-side bonding jumper" if order(jumper) > order(ground.size) else "equipment ground"
    both: dict[str, Value | None] = {"equipment ground": ground.size, "supply-side bonding jumper": jumper}
    because = "before the first device of the secondary the jumper holds, behind it the ground; the larger serves both"
    return Ground(
        pick("size_g", both, larger, because, None, clause("bonding", edition)), ground.size_table, ground.A_g, jumper
    )


def size_of_area(A: Value, material: object = "copper", source: Source | None = None) -> Value:
    """Return the smallest size whose area is not below ``A``, proved against the next smaller one.

    Raises:
        LookupFailed: No listed size is so large.

    """
    wanted = A.m_as("cmil")
    at = max(int(np.searchsorted(areas(), wanted * (1 - 1e-12))), order(SMALLEST[str(material)]))
    if at >= len(sizes()):
        raise LookupFailed(
            f"Chapter 9 Table 8 ends at {areas()[-1]:g} cmil; {wanted:,.0f} cmil are needed. Use parallel sets, or shorten "
            "the run."
        )
    chosen, below = sizes()[at], sizes()[at - 1] if at else ""
    because = f"the first with {wanted:,.0f} cmil or more" + (f"; {below} has {areas()[at - 1]:,.0f}" if below else "")
    candidates: dict[str, Value | None] = {below: listed(below)} if below else {}
    return pick("size", {**candidates, chosen: listed(chosen)}, chosen, because, {A.symbol or "A": A}, source)

"""Tables of the wind, for the wind sheet and for wind on ice: factors by group, forces by part, cases of a panel."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from rackbook.loads.blocks import side_by_side
from rackbook.trace import Grid, Step, Value, governing
from rackbook.trace.columns import entries, entry

from .faces import total_area
from .force import base_shear, mean_pressure
from .groups import Group
from .rack import Direction, Wind
from .solid import SolidSign

FACING = {"front": "on the front", "back": "on the back", "left": "on the left end", "right": "on the right end"}
FIGURES = {
    "open frame": "open frame, 29.4-2", "solid panel": "solid sign, 29.3-1", "solid end": "solid sign, 29.3-1",
    "loose parts": "as open frame, 29.4-2",
}  # fmt: skip
SHORT = {
    "on the front": "front", "on the back": "back", "on front or back": "front or back", "on the left end": "left end",
    "on the right end": "right end", "on either end": "end",
}  # fmt: skip
FACTORS = (
    "Solid and gross area are those of the solidity epsilon; A is the area seen of all parts, F the force on them. Solid "
    "sign: F = q K_d G C_f times the gross area, shared by the areas seen, p = F/A. Open frame: p = q K_d G C_f, or the "
    "minimum, with q at the height of each part; C_f, q and p are those of the part with the largest force. 7-16 has K_d "
    "within q."
)
PARTS = (
    "F = p A with the p of the group; z is the height at which F acts. '+' marks what a part shows around the panel. "
    "What is not seen from a side has no force from there."
)


def alike(result: Wind, same: Callable[[Direction], Any] | None = None) -> dict[str, Direction]:
    """Return the directions under their words; the two of an axis as one where they come to the same."""
    same = same or (lambda d: [d.V.m_as("lbf"), d.M.m_as("lbf*ft"), d.T.m_as("lbf*ft")])
    found: dict[str, Direction] = {}
    for a, b in ((result.front, result.back), (result.left, result.right)):
        if np.allclose(same(a), same(b), rtol=1e-9, atol=1e-6):
            found["on front or back" if a.name == "front" else "on either end"] = a
        else:
            found.update({FACING[a.name]: a, FACING[b.name]: b})
    return found


def of_part(of: Value, place: int, tag: str) -> Value:
    """Return the number of one part; what is one for all as it is."""
    return entry(of, place, tag) if isinstance(of.magnitude, np.ndarray) else of


def largest_part(group: Group) -> tuple[int, str]:
    """Return place and tag of the part with the largest force."""
    place = int(np.argmax(group.F.magnitude))
    return place, group.tags[place]


def factors(result: Wind, title: str = "Factors of every group of parts") -> Grid:
    """Return what the force of each group is made of, direction by direction."""
    heads = ("Wind", "Parts", "Figure", "Solid [ft**2]", "Gross [ft**2]", "epsilon []", "C_f []", "q [psf]", "p [psf]",
             "A [ft**2]", "F [lbf]")  # fmt: skip
    rows: list[tuple[Value | str, ...]] = []
    for said, direction in alike(result).items():
        for group in direction.groups:
            if group.F.magnitude.max(initial=0.0) <= 0:
                continue
            place, tag = largest_part(group)
            C_f, q = of_part(group.C_f, place, tag), of_part(group.q, place, tag)
            areas = (group.solid or "as above", group.gross or "as above")
            F = group.sign.F if group.figure == "solid panel" and group.sign is not None else total_force(group)
            A = total_area(A=group.A)
            p = mean_pressure(F=entry(group.F, place, tag), A_f=entry(group.A, place, tag))
            rows.append((said, group.name, FIGURES[group.figure], *areas, group.epsilon, C_f, q, p, A, F))
    return Grid(title, heads, tuple(rows))


def total_force(group: Group) -> Value:
    """Return the force on all parts of a group."""
    return base_shear(F=group.F)


def cases(sign: SolidSign) -> Grid:
    """Return the cases of a panel, each with its own coefficient, force and torsion, and whether the minimum governs."""
    rows = tuple(
        (name, _without_openings(case.C_f), case.C_f, case.F_calc, *((sign.F_min,) if sign.F_min is not None else ()), case.F,
         "minimum" if governing(case.F).startswith("29.7") else "Eq. 29.3-1", _arm(case.T), case.T or "")
        for name, case in sign.cases.items()
    )  # fmt: skip
    least = ("Minimum, 29.7 [lbf]",) if sign.F_min is not None else ()
    heads = ("Case", "C_f0 []", "C_f []", "F by Eq. 29.3-1 [lbf]", *least, "F [lbf]", "Governing", "e [ft]", "Torsion [lbf*ft]")
    return Grid("Cases of the panel", heads, rows)


def _without_openings(C_f: Value) -> Value | str:
    """Return the coefficient before the factor for openings."""
    return C_f.origin.given.get("C_f0", "") if isinstance(C_f.origin, Step) else ""


def _arm(T: Value | None) -> Value | str:
    """Return how far off the center the force of a case acts."""
    return T.origin.given.get("e", "") if T is not None and isinstance(T.origin, Step) else ""


def forces(result: Wind) -> Grid:
    """Return the force on every part that is seen from each side, with area and height in the governing direction."""
    distinct = alike(result, lambda d: [d.forces[tag].m_as("lbf") for tag in sorted(d.forces)])
    most = next((said for said, d in distinct.items() if d is result.governing), next(iter(distinct)))
    order = [most, *(said for said in distinct if said != most)]
    lines: dict[str, dict[str, tuple[Value, ...]]] = {}
    for said in order:
        for group in distinct[said].groups:
            columns = (entries(v, group.tags) for v in (group.A, group.z, group.F))
            for A, z, F, tag in zip(*(c.values() for c in columns), group.tags, strict=True):
                label = f"{tag} +" if group.name.endswith("around the panel") else tag
                if A.magnitude > 0:
                    lines.setdefault(label, {})[said] = (A, z, F) if said == most else (F,)
    full = (f"A {SHORT[most]} [ft**2]", "z [ft]", f"F {SHORT[most]} [lbf]")
    heads = ("Part", *full, *(f"F {SHORT[said]} [lbf]" for said in order[1:]))
    rows: list[tuple[Value | str, ...]] = [
        (
            label.replace(" ", "\N{NO-BREAK SPACE}"),
            *(cell for said in order for cell in cells.get(said, ("",) * (3 if said == most else 1))),
        )
        for label, cells in lines.items()
    ]
    return side_by_side("Forces on the parts", heads, rows)


def attachments(result: Wind) -> Grid:
    """Return the force on the whole face of every piece of equipment."""
    tags = [t for t, k in zip(result.parts.tags, result.parts.kinds, strict=True) if k == "equipment"]
    each = alike(result, lambda d: [d.fastening[tag].m_as("lbf") for tag in tags])
    heads = ("Item", *(f"F {SHORT[said]} [lbf]" for said in each))
    rows: list[tuple[Value | str, ...]] = [(tag, *(d.fastening[tag] for d in each.values())) for tag in tags]
    return side_by_side("Force on the whole face of each piece", heads, rows, 3 if len(each) < 3 else 2)


def carried(result: Wind, title: str) -> Grid:
    """Return the force on the whole rack from each side."""
    heads = ("Wind", "V_w [lbf]", "M [lbf*ft]", "z_F [ft]", "Torsion [lbf*ft]")
    return Grid(title, heads, tuple((said, d.V, d.M, d.z_F, d.T) for said, d in alike(result).items()))

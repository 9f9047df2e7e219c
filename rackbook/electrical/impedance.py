"""Impedance of conductors: Chapter 9 Table 8 with temperature, Table 9 by conduit."""

from __future__ import annotations

from ..tables import table
from ..trace import LookupFailed, Source, Value, formula, given
from ..trace.errors import nearest
from ..trace.maths import acos, cos, sin
from .sizes import key, metal, size_value

IMPEDANCE = Source("clause", "NFPA 70", "2023", "Chapter 9 Table 9 Note 2: R cos + X sin (same in 2020)", "memory")
NOTE_2 = Source("clause", "NFPA 70", "2023", "Chapter 9 Table 8 Note 2 (same in 2020)", "read")
ALPHA = {
    "copper": given(0.00323, "1/delta_degC", NOTE_2, "alpha"),
    "aluminum": given(0.00330, "1/delta_degC", NOTE_2, "alpha"),
}
WALLS = ("PVC", "aluminum", "steel")
T_TABLE = given(75, "degC", NOTE_2, "T_1")
#: Which column of Table 9 a raceway is read in.
CONDUITS = {"EMT": "steel", "IMC": "steel", "RMC": "steel", "LFMC": "steel", "PVC40": "PVC", "PVC80": "PVC"}


@formula(NOTE_2, R_2="ohm/kft")
def resistance_at(R_1, alpha, T_2, T_1):
    """Return a resistance at another conductor temperature."""
    R_2 = R_1 * (1 + alpha * (T_2 - T_1))
    return R_2


@formula(IMPEDANCE, theta="deg", Z_e="ohm/kft")
def effective_impedance(R, X_L, PF):
    """Return the effective impedance to neutral at a power factor."""
    theta = acos(PF)
    Z_e = R * cos(theta) + X_L * sin(theta)
    return Z_e


def impedance(size: object, material: object, conduit: object, column: str = "R") -> Value:
    """Return a cell of Chapter 9 Table 9: column ``R``, ``X_L`` or ``Z_e`` [ohm/kft, to neutral].

    Args:
        size: AWG or kcmil.
        material: "copper" or "aluminum".
        conduit: "PVC", "aluminum" or "steel", or a kind of raceway, which leads to one of them.
        column: The column.

    Raises:
        LookupFailed: Table 9 leaves the size out, or the conduit is unknown.

    """
    name, of = key(size), table("conductor_impedance")
    metal(material)
    wall = CONDUITS.get(str(conduit), str(conduit))
    try:
        return of.cell((name, str(material), wall), column, column, by={"size": size_value(size)})
    except LookupFailed:
        if wall not in WALLS:
            near = nearest(conduit, CONDUITS)
            allowed = ", ".join((*WALLS, *CONDUITS))
            raise LookupFailed(f"'{conduit}' is not a conduit of Table 9.{near} Allowed: {allowed}.") from None
        has = [r["size"] for r in of.rows if r["material"] == str(material) and r["conduit"] == wall]
        raise LookupFailed(
            f"Table 9 prints no {column} for {name} {material} in {wall} conduit. Sizes: {', '.join(has)}. "
            "Choose one of these, or work the drop by resistance alone (Table 8)."
        ) from None


def dc_resistance(size: object, material: object, T_2: Value | None = None, stranding: str = "stranded") -> Value:
    """Return the resistance of Chapter 9 Table 8 [ohm/kft], at 75 degC or corrected to ``T_2`` by its Note 2."""
    column = f"R_{metal(material)}"
    R = table("conductor_properties").cell((key(size), str(stranding)), column, "R", by={"size": size_value(size)})
    return R if T_2 is None else resistance_at(R_1=R, alpha=ALPHA[str(material)], T_2=T_2, T_1=T_TABLE)

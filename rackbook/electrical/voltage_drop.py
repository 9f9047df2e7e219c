"""Voltage drop: by resistance, by circular mils, by impedance at a power factor, and exactly; limits are recommended ones."""

from __future__ import annotations

from dataclasses import dataclass

from ..trace import LookupFailed, Source, Value, formula, given
from ..trace.errors import nearest
from ..trace.maths import acos, cos, sin, sqrt
from .factors import whole
from .ground import area, size_of_area
from .impedance import IMPEDANCE, dc_resistance, impedance

TABLE_8 = Source("derivation", "two conductors, or three phases, of the resistance of NFPA 70 Chapter 9 Table 8")
MILS = Source("derivation", "circular-mil method: resistance K of one circular mil foot")
PRINTED_Z = Source("clause", "NFPA 70", "2023", "Chapter 9 Table 9, effective impedance at 0.85 power factor", "read")
EXACT = Source("clause", "IEEE Std 141", "1993", "exact voltage-drop formula, power factor at the load", "memory")

#: Resistance of one circular mil foot at 75 degC, as the trade rounds it.
K = {
    "copper": given(12.9, "ohm*cmil/ft", Source("common practice", "K of copper at 75 °C"), "K"),
    "aluminum": given(21.2, "ohm*cmil/ft", Source("common practice", "K of aluminum at 75 °C"), "K"),
}
DEFAULT_PF = given(
    0.85, "", Source("assumption", "power factor left blank: 0.85, on which Table 9 bases its effective impedance"), "PF"
)


@formula(TABLE_8, V_d="V")
def drop_dc_single(I_n, R, L):
    """Return the drop of a two-wire circuit by resistance alone; L is one way."""
    V_d = 2 * I_n * R * L
    return V_d


@formula(TABLE_8, V_d="V")
def drop_dc_three(I_n, R, L):
    """Return the line-to-line drop of a three-phase circuit by resistance alone; L is one way."""
    V_d = sqrt(3) * I_n * R * L
    return V_d


@formula(MILS, V_d="V")
def drop_mils_single(K, I_n, L, A):
    """Return the drop of a two-wire circuit by the circular-mil method."""
    V_d = 2 * K * I_n * L / A
    return V_d


@formula(MILS, V_d="V")
def drop_mils_three(K, I_n, L, A):
    """Return the line-to-line drop of a three-phase circuit by the circular-mil method."""
    V_d = sqrt(3) * K * I_n * L / A
    return V_d


@formula(MILS, A_min="cmil")
def mils_single(K, I_n, L, V_d):
    """Return the circular mils a two-wire circuit needs for a drop."""
    A_min = 2 * K * I_n * L / V_d
    return A_min


@formula(MILS, A_min="cmil")
def mils_three(K, I_n, L, V_d):
    """Return the circular mils a three-phase circuit needs for a line-to-line drop."""
    A_min = sqrt(3) * K * I_n * L / V_d
    return A_min


@formula(IMPEDANCE, theta="deg", V_n="V")
def drop_to_neutral(I_n, R, X_L, PF, L):
    """Return the line-to-neutral drop of one conductor at a power factor."""
    theta = acos(PF)
    V_n = I_n * (R * cos(theta) + X_L * sin(theta)) * L
    return V_n


@formula(IMPEDANCE, theta="deg", V_d="V")
def drop_single(I_n, R, X_L, PF, L):
    """Return the drop of a two-wire circuit at a power factor: twice that of one conductor."""
    theta = acos(PF)
    V_d = 2 * I_n * (R * cos(theta) + X_L * sin(theta)) * L
    return V_d


@formula(IMPEDANCE, theta="deg", V_d="V")
def drop_three(I_n, R, X_L, PF, L):
    """Return the line-to-line drop of a three-phase circuit at a power factor."""
    theta = acos(PF)
    V_d = sqrt(3) * I_n * (R * cos(theta) + X_L * sin(theta)) * L
    return V_d


@formula(PRINTED_Z, V_d="V")
def drop_printed_single(I_n, Z_e, L):
    """Return the drop of a two-wire circuit by the printed effective impedance."""
    V_d = 2 * I_n * Z_e * L
    return V_d


@formula(PRINTED_Z, V_d="V")
def drop_printed_three(I_n, Z_e, L):
    """Return the line-to-line drop of a three-phase circuit by the printed effective impedance."""
    V_d = sqrt(3) * I_n * Z_e * L
    return V_d


@formula(EXACT, theta="deg", E_R="V", E_X="V", E_s="V", V_d="V")
def drop_exact_three(I_n, R, X_L, PF, L, V):
    """Return the line-to-line drop of a three-phase circuit with the angle between its ends; V is that of the source."""
    theta = acos(PF)
    E_R = I_n * R * L
    E_X = I_n * X_L * L
    E_s = V / sqrt(3)
    V_d = sqrt(3) * (E_s + E_R * cos(theta) + E_X * sin(theta) - sqrt(E_s**2 - (E_X * cos(theta) - E_R * sin(theta)) ** 2))
    return V_d


@formula(EXACT, theta="deg", E_R="V", E_X="V", V_d="V")
def drop_exact_single(I_n, R, X_L, PF, L, V):
    """Return the drop of a two-wire circuit with the angle between its ends; V is that of the source."""
    theta = acos(PF)
    E_R = 2 * I_n * R * L
    E_X = 2 * I_n * X_L * L
    V_d = V + E_R * cos(theta) + E_X * sin(theta) - sqrt(V**2 - (E_X * cos(theta) - E_R * sin(theta)) ** 2)
    return V_d


@formula(Source("derivation", "drop as a share of the circuit's voltage"), p_d="pct")
def drop_percent(V_d, V):
    """Return the drop in percent of the circuit's voltage."""
    p_d = V_d / V
    return p_d


@formula(Source("derivation", "drop allowed by a limit in percent"), V_d="V")
def allowed_drop(p_max, V):
    """Return the drop a limit allows."""
    V_d = p_max * V
    return V_d


@formula(Source("derivation", "drops along the path to the source, each in percent of its own voltage"), p_tot="pct")
def accumulated_drop(p_up, p_d):
    """Return the drop from the source to the end of a circuit."""
    p_tot = p_up + p_d
    return p_tot


@dataclass(frozen=True, eq=False)
class Drop:
    """Voltage drop of one circuit: V_d [V], p_d [%], and the R and X_L [ohm/kft] it rests on (None where not used)."""

    V_d: Value
    p_d: Value
    R: Value | None = None
    X_L: Value | None = None


def drop(
    I_n: Value,
    L: Value,
    V: Value,
    size: object,
    phases: int | Value = 3,
    material: object = "copper",
    conduit: object = "steel",
    PF: Value | None = None,
    method: str = "impedance",
    T_2: Value | None = None,
    stranding: str = "stranded",
) -> Drop:
    """Return the voltage drop of a run: line to line for three phases, of both conductors for one.

    Args:
        I_n: Current in one set [A].
        L: Length one way [ft].
        V: Voltage of the circuit [V].
        size: AWG or kcmil.
        material: "copper" or "aluminum".
        conduit: "steel", "PVC", "aluminum", or a kind of raceway.
        phases: 1 or 3.
        PF: Power factor of the load; 0.85 if left out.
        method: "impedance" (R cos + X sin), "printed" (Z_e of Table 9), "resistance" (Table 8), "exact" (IEEE 141) or
            "circular mils" (K).
        T_2: Conductor temperature for "resistance" [degC].
        stranding: "stranded" or "solid" for "resistance".

    Raises:
        LookupFailed: A table does not hold the size, or the method is unknown.

    """
    three = whole(phases) == 3
    PF = PF if PF is not None else DEFAULT_PF
    R = X_L = None
    name = str(method)
    if name in ("impedance", "exact"):
        R, X_L = impedance(size, material, conduit, "R"), impedance(size, material, conduit, "X_L")
        if name == "exact":
            V_d = (drop_exact_three if three else drop_exact_single)(I_n=I_n, R=R, X_L=X_L, PF=PF, L=L, V=V)
        else:
            V_d = (drop_three if three else drop_single)(I_n=I_n, R=R, X_L=X_L, PF=PF, L=L)
    elif name == "printed":
        Z_e = impedance(size, material, conduit, "Z_e")
        V_d = (drop_printed_three if three else drop_printed_single)(I_n=I_n, Z_e=Z_e, L=L)
    elif name == "resistance":
        R = dc_resistance(size, material, T_2, stranding)
        V_d = (drop_dc_three if three else drop_dc_single)(I_n=I_n, R=R, L=L)
    elif name == "circular mils":
        V_d = (drop_mils_three if three else drop_mils_single)(K=K[str(material)], I_n=I_n, L=L, A=area(size))
    else:
        methods = ("impedance", "printed", "resistance", "exact", "circular mils")
        raise LookupFailed(
            f"'{method}' is not a method for voltage drop.{nearest(method, methods)} Allowed: {', '.join(methods)}."
        )
    return Drop(V_d, drop_percent(V_d=V_d, V=V), R, X_L)


@dataclass(frozen=True, eq=False)
class DropSize:
    """Smallest size for a drop: V_max [V] allowed, A_min [cmil] needed, the size, and V_d [V] with it."""

    V_max: Value
    A_min: Value
    size: Value
    V_d: Value


def smallest_size_for_drop(
    I_n: Value, L: Value, V: Value, p_max: Value, phases: int | Value = 3, material: object = "copper"
) -> DropSize:
    """Return the smallest size that keeps a drop by the circular-mil method.

    Raises:
        LookupFailed: No listed size is large enough.

    """
    three = whole(phases) == 3
    k = K[str(material)]
    V_max = allowed_drop(p_max=p_max, V=V)
    A_min = (mils_three if three else mils_single)(K=k, I_n=I_n, L=L, V_d=V_max)
    size = size_of_area(A_min, material)
    V_d = (drop_mils_three if three else drop_mils_single)(K=k, I_n=I_n, L=L, A=area(size))
    return DropSize(V_max, A_min, size, V_d)


def longest_run(
    I_n: Value,
    V: Value,
    p_max: Value,
    size: object,
    phases: int | Value = 3,
    material: object = "copper",
    conduit: object = "steel",
    PF: Value | None = None,
) -> Value:
    """Return the longest one-way run of a size within a limit, by impedance: the drop formula solved for L [ft]."""
    three = whole(phases) == 3
    known = {
        "I_n": I_n,
        "R": impedance(size, material, conduit, "R"),
        "X_L": impedance(size, material, conduit, "X_L"),
        "PF": PF if PF is not None else DEFAULT_PF,
        "V_d": allowed_drop(p_max=p_max, V=V),
    }
    return (drop_three if three else drop_single).solve("L", unit="ft", **known)

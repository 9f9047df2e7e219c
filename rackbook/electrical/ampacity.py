"""Ampacity: Table 310.16 corrected for ambient, adjusted for the count, capped by the terminals."""

from __future__ import annotations

from dataclasses import dataclass

from ..tables import table
from ..trace import InputError, LookupFailed, Value, formula, given, pick, smallest
from .clauses import clause, edition_of
from .factors import (
    T_BASE,
    ambient_factor,
    ambient_factor_equation,
    ambient_temperature,
    count_factor,
    insulation_temperature,
    source,
    terminal_temperature,
    text,
)
from .sizes import key, metal, order, size_value

TEN_FEET = given(10, "ft", source("310.14(A)(2) Exception"), "L_10")


@formula(source("310.14(A)(2) Exception"), L_t="ft")
def tenth_of_run(L):
    """Return ten percent of the length of a circuit."""
    L_t = 0.1 * L
    return L_t


@formula(source("310.15(B) and (C)"), I_c="A")
def corrected_ampacity(I_tab, k_T, k_n):
    """Return the ampacity of the insulation's own column, corrected for ambient and adjusted for the count."""
    I_c = I_tab * k_T * k_n
    return I_c


@formula(source("310.10(G)"), I_p="A")
def parallel_ampacity(I_u, n):
    """Return the ampacity of n equal conductors in parallel."""
    I_p = I_u * n
    return I_p


def table_ampacity(size: object, material: object, T: Value, symbol: str = "I_tab") -> Value:
    """Return the ampacity of Table 310.16 in the column of temperature ``T``.

    Raises:
        LookupFailed: The table does not list the size in that material.

    """
    column = f"{metal(material)}_{round(T.m_as('degC'))}C"
    name, of = key(size), table("ampacity")
    try:
        return of.cell(name, column, symbol, by={"size": size_value(size), "T": T})
    except LookupFailed:
        if column not in of.names:
            raise
        first = next(r["size"] for r in of.rows if r[column])
        raise LookupFailed(
            f"Table 310.16 prints no ampacity for {name} {text(material)} at {T.text()}: that column begins at {first}. "
            f"Use {first} or larger."
        ) from None


@dataclass(frozen=True, eq=False)
class Ampacity:
    """Ampacity of one conductor, and of all parallel sets, with everything it came from.

    Attributes:
        T_c, T_t: Temperature rating of the insulation, and of the column that caps.
        k_T, k_n: Correction for ambient, adjustment for the count.
        I_tab, I_t: Table 310.16 in the column of the insulation, and of the terminals.
        I_c: Corrected and adjusted; I_u: usable, the smaller of I_c and I_t; I_p, I_pt: I_u and I_t of all sets.

    """

    T_c: Value
    T_t: Value
    k_T: Value
    k_n: Value
    I_tab: Value
    I_t: Value
    I_c: Value
    I_u: Value
    I_p: Value
    I_pt: Value


def worked(
    size: object, material: object, T_c: Value, T_t: Value, k_T: Value, k_n: Value, n: Value | None, edition: str
) -> Ampacity:
    """Return the ampacity of ``size`` from factors already at hand; ``n`` parallel sets, None for one."""
    I_tab = table_ampacity(size, material, T_c)
    low = T_t if T_t.m_as("degC") < T_c.m_as("degC") else T_c
    I_t = table_ampacity(size, material, low, "I_t")
    I_c = corrected_ampacity(I_tab=I_tab, k_T=k_T, k_n=k_n)
    I_u = smallest("I_u", {"corrected and adjusted": I_c, "terminals": I_t}, clause("terminal cap", edition))
    I_p = parallel_ampacity(I_u=I_u, n=n) if n is not None else I_u
    I_pt = parallel_ampacity(I_u=I_t, n=n) if n is not None else I_t
    return Ampacity(T_c, T_t, k_T, k_n, I_tab, I_t, I_c, I_u, I_p, I_pt)


def ampacity(
    size: object,
    material: object,
    insulation: object,
    T_a: Value,
    n_c: Value,
    terminal: Value,
    I_r: Value | None = None,
    marked_75: bool = True,
    roof_height: Value | None = None,
    nipple: bool = False,
    wireway: bool = False,
    sets: Value | None = None,
    place: str = "wet",
    equation: bool = False,
    edition: str = "2023",
) -> Ampacity:
    """Return the ampacity of a conductor as it is installed.

    Args:
        size: AWG or kcmil, ``"4/0"``.
        material: ``"copper"`` or ``"aluminum"``.
        insulation: Type as the tables name it, ``"XHHW-2"``.
        T_a: Ambient temperature [degC].
        n_c: Current-carrying conductors in the raceway, spares included, equipment grounds not.
        terminal: Temperature of the terminals [degC]; with ``I_r`` and ``marked_75`` see :func:`terminal_temperature`.
        I_r: Rating of the circuit [A]; None takes ``terminal`` as the column.
        marked_75: Whether the equipment is identified for 75 degC conductors.
        roof_height: Height above a roof [in].
        nipple: Whether the raceway is at most 24 in. long.
        wireway: Whether it is a metal wireway; see :func:`count_factor`.
        sets: Number of parallel sets.
        place: "wet" or "dry".
        equation: Whether the ambient factor is worked by Equation 310.15(B)(1) and not read from the table.
        edition: Edition of NFPA 70.

    Raises:
        LookupFailed: A table does not hold what is asked.
        InputError: Conductors smaller than 1/0 AWG are in parallel.

    """
    edition = edition_of(text(edition))
    T_c = insulation_temperature(insulation, text(place))
    T_e = ambient_temperature(T_a, roof_height, insulation, edition)
    k_T = ambient_factor_equation(T_c=T_c, T_e=T_e, T_b=T_BASE) if equation else ambient_factor(T_e, T_c)
    k_n = count_factor(n_c, nipple, wireway)
    T_t = terminal if I_r is None else terminal_temperature(I_r, terminal, marked_75)
    n = None if sets is None or sets.magnitude == 1 else sets
    if n is not None:
        check_parallel(size, n)
    return worked(size, material, T_c, T_t, k_T, k_n, n, edition)


def check_parallel(size: object, n: Value) -> None:
    """Refuse parallel sets that are no whole number, or of conductors below 1/0 AWG, 310.10(G)."""
    if n.magnitude < 1 or n.magnitude != round(n.magnitude):
        raise InputError(f"{n.magnitude:g} parallel sets cannot be. Give a whole number from 1.", field="sets")
    if n.magnitude > 1 and order(size) < order("1/0"):
        raise InputError(
            f"{key(size)} AWG may not run in {n.magnitude:g} parallel sets: 310.10(G) allows parallel conductors from "
            "1/0 AWG up. Use one set, or 1/0 AWG and larger.",
            field="sets",
        )


def section_ampacity(I_low: Value, I_high: Value, L_low: Value, L_run: Value, edition: str = "2023") -> Value:
    """Return the ampacity of a run one part of which has the lower ampacity, 310.14(A)(2).

    The lower one holds for the whole run, unless the part is no longer than 10 ft and 10 percent of the run.

    Args:
        I_low: Ampacity of the part [A].
        I_high: Ampacity of the rest [A].
        L_low: Length of the part [ft].
        L_run: Length of the circuit at the higher ampacity [ft].
        edition: Edition of NFPA 70.

    """
    limit = smallest("L_max", {"10 ft": TEN_FEET, "10 % of the run": tenth_of_run(L=L_run)})
    short = L_low.m_as("ft") <= limit.m_as("ft") * (1 + 1e-12)
    return pick(
        "I_u",
        {"lower part": I_low, "rest of the run": I_high},
        "rest of the run" if short else "lower part",
        f"the part is {L_low.text()} long, the limit is {limit.text()}",
        {"L_low": L_low, "L_max": limit},
        clause("lower ampacity", edition_of(text(edition))),
    )

"""What an ampacity is corrected and adjusted by: insulation, ambient, roof, count, terminals."""

from __future__ import annotations

from ..tables import table
from ..trace import LookupFailed, Source, Value, formula, given, word
from ..trace.maths import sqrt, sum
from .clauses import edition_of


def source(locator: str, how: str = "read") -> Source:
    """Return a clause that both editions number alike."""
    return Source("clause", "NFPA 70", "2023", f"{locator} (same in 2020)", how)


#: Ambient temperature on which Table 310.16 is based.
T_BASE = given(30, "degC", Source("table", "NFPA 70", "2023", "Table 310.16 heading (same in 2020)", "read"), "T_b")
NO_ADJUSTMENT = {
    "nipple": given(100, "pct", source("310.15(C)(1)(b), raceway of at most 24 in.", "memory"), "k_n"),
    "wireway": given(100, "pct", source("376.22(B), not more than 30 current-carrying conductors"), "k_n"),
}


@formula(
    Source("clause", "NFPA 70", "2023", "Equation 310.15(B)(1) (same in 2020)", "read"),
    k_T="",
)
def ambient_factor_equation(T_c, T_e, T_b):
    """Return the correction factor for an ambient temperature other than the table's."""
    k_T = sqrt((T_c - T_e) / (T_c - T_b))
    return k_T


@formula(source("310.15(B)(2)"), T_e="degC")
def rooftop_temperature(T_a, dT):
    """Return the ambient temperature with the adder for raceways in sunlight close to a roof."""
    T_e = T_a + dT
    return T_e


@formula(source("310.15(C)(1), (E) and (F)"), n_c="")
def current_carrying(n_p, n_N, n_s):
    """Return the count of current-carrying conductors: phases, counted neutrals and spares; grounds are not counted."""
    n_c = n_p + n_N + n_s
    return n_c


@formula(source("310.15(C)(1)"), n_c="")
def current_carrying_together(n):
    """Return the count of current-carrying conductors of all circuits in a raceway."""
    n_c = sum(n)
    return n_c


def insulation_temperature(insulation: object, place: str = "wet") -> Value:
    """Return the temperature rating of a conductor type in a dry or wet place, Table 310.4(1).

    Raceways outdoors count as wet inside (300.9). A type without wet rating is refused there.

    Raises:
        LookupFailed: The type is not listed, or has no rating for the place.

    """
    of, name = table("insulation"), text(insulation)
    if not of.has(name):
        of.cell(name, "T_dry")  # raises with the nearest spelling
    if not of.has(name, f"T_{place}"):
        wet = ", ".join(r["type"] for r in of.rows if r["T_wet"])
        raise LookupFailed(
            f"Type {name} has no rating for {place} places (Table 310.4(1)), and raceways outdoors are wet inside (300.9). "
            f"Types for wet places: {wet}. Order one of these, or conductors marked with both types."
        )
    return of.cell(name, f"T_{place}", "T_c", by=_by("type", insulation))


def ambient_temperature(T_a: Value, roof_height: Value | None = None, insulation: object = "", edition: str = "2023") -> Value:
    """Return the ambient temperature to correct for: with the rooftop adder by edition and height, 310.15(B)(2).

    Args:
        T_a: Ambient temperature [degC].
        roof_height: Height of the raceway above the roof [in]; None where it is not on a roof.
        insulation: Type of the conductors; XHHW-2 is excepted.
        edition: Edition of NFPA 70.

    """
    if roof_height is None or text(insulation) == "XHHW-2":
        return T_a
    adder = table("rooftop_adder").step(roof_height, "adder", "dT", at=(edition_of(text(edition)),))
    return rooftop_temperature(T_a=T_a, dT=adder) if adder.magnitude else T_a


def ambient_factor(T_e: Value, T_c: Value) -> Value:
    """Return the correction factor of Table 310.15(B)(1)(1) for an ambient ``T_e`` and a conductor rated ``T_c``.

    Raises:
        LookupFailed: The ambient is past the table, or past what a conductor of that rating may be used in.

    """
    column = f"{T_c.m_as('degC'):g}C"
    of = table("ambient_factors")
    try:
        return of.step(T_e, column, "k_T", by={"T_c": T_c})
    except LookupFailed:
        numbers = of.column(column) if column in of.names else ()
        top = max((t for t, k in zip(of.array("to"), numbers, strict=True) if k is not None), default=None)
        if top is None:
            raise
        raise LookupFailed(
            f"The ambient factors end at {top:g} degC for conductors rated {T_c.text()}; asked: {T_e.text()}. "
            "Use conductors of a higher rating, or keep the run out of that heat."
        ) from None


def count_factor(n_c: Value, nipple: bool = False, wireway: bool = False) -> Value:
    """Return the adjustment factor of Table 310.15(C)(1) for a count of current-carrying conductors.

    Args:
        n_c: The count, spares included, equipment grounds not.
        nipple: A raceway of at most 24 in.: not adjusted.
        wireway: A metal wireway: adjusted only past 30 conductors at a cross section, then for all of them (376.22(B)).

    """
    if nipple:
        return NO_ADJUSTMENT["nipple"]
    if wireway and n_c.magnitude <= 30:
        return NO_ADJUSTMENT["wireway"]
    return table("count_adjustment").step(n_c, "factor", "k_n")


def wires(phases: int | Value, V: Value, neutral: str = "none") -> tuple[int, int, int]:
    """Return phase conductors, neutrals, and those of the neutrals that are counted (310.15(E)).

    A single-phase circuit at a line-to-neutral voltage (to 150 V, 277 V, 347 V) with a neutral is a two-wire
    circuit: its neutral carries the load current and is always counted.
    """
    if whole(phases) == 3:
        return 3, int(neutral != "none"), int(neutral == "counted")
    if neutral != "none" and (V.m_as("V") <= 150 or round(V.m_as("V")) in (265, 277, 346, 347)):
        return 1, 1, 1
    return 2, int(neutral != "none"), int(neutral == "counted")


def terminal_temperature(I_r: Value, terminal: Value, marked_75: bool = False) -> Value:
    """Return the temperature whose column caps the ampacity, 110.14(C)(1).

    Args:
        I_r: Rating of the circuit [A]: to 100 A the 60 degC column holds unless the equipment is marked 75 degC.
        terminal: Temperature marked on the terminals [degC]. A lug marked 90 degC does not raise the column: the
            equipment itself would have to be identified for it.
        marked_75: Whether equipment at both ends is listed and identified for 75 degC conductors.

    """
    case = "over_100A" if I_r.m_as("A") > 100 else "to_100A_marked" if marked_75 else "to_100A"
    column = table("termination_temperature").cell(case, "T", "T_t", by={"I_r": I_r})
    if terminal.m_as("degC") < column.magnitude:
        return terminal
    return column


def whole(n: int | Value) -> int:
    """Return a number of phases or of conductors as a plain integer."""
    return int(n.magnitude if isinstance(n, Value) else n)


def text(name: object) -> str:
    """Return a word or number as the tables spell it."""
    if isinstance(name, Value):
        return str(name.magnitude) if name.is_word else f"{name.magnitude:g}"
    return str(name)


def _by(name: str, given_word: object) -> dict[str, Value]:
    """Return a word as a Value under the key's name, where it knows its source."""
    if isinstance(given_word, Value):
        return {name: given_word}
    source = getattr(given_word, "source", None)
    return {name: word(str(given_word), source, name)} if isinstance(source, Source) else {}

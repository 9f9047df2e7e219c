"""Steel: its moduli, the clause a formula stands in, and what is available of a nominal strength."""

from __future__ import annotations

from typing import Any

from rackbook.structure.frame.sections import E_STEEL as E
from rackbook.structure.frame.sections import G_STEEL as G
from rackbook.tables import table
from rackbook.trace import Formula, InputError, Source, Value, formula, given

__all__ = ["EDITIONS", "METHODS", "ONE", "E", "G", "available", "clause", "edition_of", "one_of"]

EDITIONS = ("22", "16")
#: How the trade writes what both editions say in the same words and under the same numbers.
BOTH = "16 and 22"
METHODS = ("LRFD", "ASD")


def clause(locator: str, how: str = "read", edition: str = BOTH) -> Source:
    """Return a clause or an equation of AISC 360."""
    return Source("clause", "AISC 360", edition, locator, how)


#: What a sum of ratios is held against.
ONE = given(1.0, "", clause("H1.1"), "R_max")
_LRFD, _ASD = clause("B3.1"), clause("B3.2")


@formula(_LRFD, R_c="kip")
def design_force(phi, R_n):
    """Return the design strength."""
    R_c = phi * R_n
    return R_c


@formula(_ASD, R_c="kip")
def allowable_force(R_n, Omega):
    """Return the allowable strength."""
    R_c = R_n / Omega
    return R_c


@formula(_LRFD, M_c="kip*in")
def design_moment(phi, M_n):
    """Return the design strength in bending or twisting."""
    M_c = phi * M_n
    return M_c


@formula(_ASD, M_c="kip*in")
def allowable_moment(M_n, Omega):
    """Return the allowable strength in bending or twisting."""
    M_c = M_n / Omega
    return M_c


_BY_UNIT: dict[str, tuple[Formula, Formula, str]] = {
    "kip": (design_force, allowable_force, "R_n"),
    "kip*in": (design_moment, allowable_moment, "M_n"),
}


def available(nominal: Value, state: Any, method: Any, symbol: str = "") -> Value:
    """Return the available strength: phi R_n for LRFD, R_n / Omega for ASD.

    Args:
        nominal: Nominal strength [kip or kip*in].
        state: Row of the table of resistance factors.
        method: ``"LRFD"`` or ``"ASD"``.
        symbol: Symbol of the result.

    Raises:
        LookupFailed: The table has no such limit state.
        InputError: There is no such method.

    """
    design, allowable, name = _BY_UNIT[nominal.unit]
    factors = table("resistance_factors")
    if one_of("design method", method, METHODS) == "LRFD":
        found = design(**{"phi": factors.cell(str(state), "phi", "phi"), name: nominal})
    else:
        found = allowable(**{name: nominal, "Omega": factors.cell(str(state), "Omega", "Omega")})
    return found.named(symbol) if symbol else found


def one_of(what: str, word: Any, allowed: tuple[str, ...]) -> str:
    """Return a word that must be one of a few.

    Raises:
        InputError: It is not.

    """
    text = str(getattr(word, "magnitude", word))
    if text not in allowed:
        raise InputError(f"'{text}' is not a {what}. Allowed: {', '.join(allowed)}.")
    return text


def edition_of(code: Any) -> str:
    """Return the edition of ``"AISC 360-22"``: ``"22"`` or ``"16"``.

    Raises:
        InputError: The book has no other editions.

    """
    said = getattr(code, "magnitude", code)
    said = f"{said:g}" if isinstance(said, float) else str(said)
    return one_of("edition of AISC 360", said.removeprefix("AISC 360-"), EDITIONS)

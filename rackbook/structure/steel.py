"""What every part of the structure takes from the steel specification: moduli, clauses, and what is available of a strength."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import Any

from rackbook.tables import table
from rackbook.trace import Formula, InputError, Source, Value, formula, given

METHODS = ("LRFD", "ASD")
#: How the trade writes what both editions say in the same words and under the same numbers.
BOTH = "16 and 22"


def clause(locator: str, how: str = "memory", edition: str = BOTH) -> Source:
    """Return a clause of AISC 360; the equations keep their numbers in both editions, the sections of J3 do not."""
    return Source("clause", "AISC 360", edition, locator, how)


E = given(29000.0, "ksi", clause("Symbols: modulus of elasticity"), "E")
G = given(11200.0, "ksi", clause("Symbols: shear modulus"), "G")
_LRFD, _ASD = clause("B3.1, Eq. B3-1"), clause("B3.2, Eq. B3-2")


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
    """Return the design strength."""
    M_c = phi * M_n
    return M_c


@formula(_ASD, M_c="kip*in")
def allowable_moment(M_n, Omega):
    """Return the allowable strength."""
    M_c = M_n / Omega
    return M_c


@formula(_LRFD, r_c="kip/in")
def design_line(phi, r_n):
    """Return the design strength of a unit of length."""
    r_c = phi * r_n
    return r_c


@formula(_ASD, r_c="kip/in")
def allowable_line(r_n, Omega):
    """Return the allowable strength of a unit of length."""
    r_c = r_n / Omega
    return r_c


#: By the dimension of the nominal strength: the formulas of the two methods, and the name of the nominal strength in them.
_KINDS: dict[str, tuple[Formula, Formula, str]] = {
    "kip": (design_force, allowable_force, "R_n"),
    "kip*in": (design_moment, allowable_moment, "M_n"),
    "kip/in": (design_line, allowable_line, "r_n"),
}


@dataclass(frozen=True)
class Factors:
    """Resistance factor phi of LRFD and safety factor Omega of ASD of one limit state."""

    phi: Value
    Omega: Value


@functools.cache
def factors(state: str) -> Factors:
    """Return phi and Omega of a row of the table ``resistance_factors``, with the row's own clause as their source.

    Raises:
        LookupFailed: The table has no such limit state.

    """
    of = table("resistance_factors")
    phi, Omega, where = of.cell(state, "phi"), of.cell(state, "Omega"), str(of.cell(state, "clause").magnitude)
    source = clause(where, phi.source.how, "22" if where.startswith("J3") else BOTH)
    return stated(float(phi.magnitude), float(Omega.magnitude), source)


def stated(phi: float, Omega: float, source: Source) -> Factors:
    """Return phi and Omega of a limit state that the table does not list."""
    return Factors(given(phi, "", source, "phi"), given(Omega, "", source, "Omega"))


def available(R_n: Value, state: str | Factors, method: Any, symbol: str = "") -> Value:
    """Return the available strength: ``phi R_n`` for LRFD, ``R_n / Omega`` for ASD.

    Args:
        R_n: Nominal strength, in kip, kip in. or kip/in.
        state: Row of the table ``resistance_factors``, or the two factors themselves.
        method: ``"LRFD"`` or ``"ASD"``.
        symbol: Symbol of the result.

    Raises:
        InputError: The method is another one.
        LookupFailed: There is no such limit state.

    """
    method = one_of("design method", method, METHODS)
    of = factors(state) if isinstance(state, str) else state
    lrfd, asd, name = _KINDS[R_n.unit]
    found = lrfd(**{"phi": of.phi, name: R_n}) if method == "LRFD" else asd(**{name: R_n, "Omega": of.Omega})
    return found.named(symbol) if symbol else found


@formula(clause("Table D3.1, case 2", "read"), U="")
def shear_lag(x_bar, l):
    """Return the shear lag factor of a part held by some of its legs or flanges over the length of the connection."""
    U = 1 - x_bar / l
    return U


@formula(clause("Eq. D3-1", "read"), A_e="in**2")
def effective_net_area(A_n, U):
    """Return the effective net area."""
    A_e = A_n * U
    return A_e


def one_of(what: str, word: Any, allowed: tuple[str, ...]) -> str:
    """Return a word that must be one of a few.

    Raises:
        InputError: It is not.

    """
    text = str(getattr(word, "magnitude", word))
    if text not in allowed:
        raise InputError(f"'{text}' is not a {what}. Allowed: {', '.join(allowed)}.")
    return text

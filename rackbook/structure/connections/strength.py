"""Nominal to available strength: phi R_n of LRFD or R_n / Omega of ASD, for each kind of quantity a connection resists."""

from __future__ import annotations

import functools
from dataclasses import dataclass

from rackbook.tables import table
from rackbook.trace import DomainError, Formula, Source, Value, formula, given
from rackbook.trace.check import Check, check, utilization

METHODS = ("LRFD", "ASD")
BOTH = "16 and 22"


def clause(locator: str, how: str = "memory", edition: str = BOTH) -> Source:
    """Return a clause of AISC 360; the equations keep their numbers in both editions, the sections of J3 do not."""
    return Source("clause", "AISC 360", edition, locator, how)


def manual(locator: str, how: str = "memory") -> Source:
    """Return a place in the AISC Steel Construction Manual."""
    return Source("clause", "AISC Steel Construction Manual", "", locator, how)


_LRFD, _ASD = clause("B3.1, Eq. B3-1"), clause("B3.2, Eq. B3-2")


@formula(_LRFD, R_c="kip")
def force_lrfd(phi, R_n):
    """Return the design strength."""
    R_c = phi * R_n
    return R_c


@formula(_ASD, R_c="kip")
def force_asd(R_n, Omega):
    """Return the allowable strength."""
    R_c = R_n / Omega
    return R_c


@formula(_LRFD, M_c="kip*in")
def moment_lrfd(phi, M_n):
    """Return the design strength."""
    M_c = phi * M_n
    return M_c


@formula(_ASD, M_c="kip*in")
def moment_asd(M_n, Omega):
    """Return the allowable strength."""
    M_c = M_n / Omega
    return M_c


@formula(_LRFD, r_c="kip/in")
def line_lrfd(phi, r_n):
    """Return the design strength of a unit of length."""
    r_c = phi * r_n
    return r_c


@formula(_ASD, r_c="kip/in")
def line_asd(r_n, Omega):
    """Return the allowable strength of a unit of length."""
    r_c = r_n / Omega
    return r_c


#: By the dimension of the nominal strength: the formulas of the two methods, and the name of the nominal strength in them.
_KINDS: dict[str, tuple[Formula, Formula, str]] = {
    "kip": (force_lrfd, force_asd, "R_n"),
    "kip*in": (moment_lrfd, moment_asd, "M_n"),
    "kip/in": (line_lrfd, line_asd, "r_n"),
}


@dataclass(frozen=True)
class Factors:
    """Resistance factor phi of LRFD and safety factor Omega of ASD of one limit state."""

    phi: Value
    Omega: Value


@functools.cache
def factors(state: str) -> Factors:
    """Return phi and Omega of a row of the table ``resistance_factors``.

    Raises:
        LookupFailed: The table has no such limit state.

    """
    of = table("resistance_factors")
    return Factors(of.cell(state, "phi", "phi"), of.cell(state, "Omega", "Omega"))


def stated(phi: float, Omega: float, source: Source) -> Factors:
    """Return phi and Omega of a limit state that the table does not list."""
    return Factors(given(phi, "", source, "phi"), given(Omega, "", source, "Omega"))


#: Limit states outside the table of resistance factors.
PJP_TENSION = stated(0.80, 1.88, clause("Table J2.5, partial-joint-penetration groove weld, tension across it", "read"))
WALL = stated(1.00, 1.50, clause("Tables K3.2 and K4.2, plastification of the chord wall"))
ROUND_WALL = stated(0.90, 1.67, clause("Table K2.1, plastification of a round HSS"))


def available(R_n: Value, state: str | Factors, method: str, symbol: str = "") -> Value:
    """Return the available strength: ``phi R_n`` for LRFD, ``R_n / Omega`` for ASD.

    Args:
        R_n: Nominal strength, in kip, kip in. or kip/in.
        state: Row of the table ``resistance_factors``, or the two factors themselves.
        method: ``"LRFD"`` or ``"ASD"``.
        symbol: Symbol of the result.

    Raises:
        DomainError: The method is another one.
        LookupFailed: There is no such limit state.

    """
    if method not in METHODS:
        raise DomainError(f"'{method}' is no design method of AISC 360; use {' or '.join(METHODS)}.")
    of = factors(state) if isinstance(state, str) else state
    lrfd, asd, name = _KINDS[R_n.unit]
    found = lrfd(**{"phi": of.phi, name: R_n}) if method == "LRFD" else asd(**{name: R_n, "Omega": of.Omega})
    return found.named(symbol) if symbol else found


@dataclass(frozen=True, eq=False)
class State:
    """One limit state of a connection: what acts, what is available, and what to change where it does not suffice.

    Demand and capacity are numbers, or arrays with one entry for each combination and place.
    """

    name: str
    demand: Value
    capacity: Value
    source: Source
    remedy: str

    @functools.cached_property
    def ratio(self) -> Value:
        """Return demand over capacity."""
        return utilization(D=self.demand, C=self.capacity)

    def check(self, where: str) -> Check:
        """Return the check of one place, named with it."""
        return check(f"{self.name}, {where}", self.demand, self.capacity, self.source, remedy=self.remedy)

"""Sets of load combinations as factor arrays over the unit load cases, every factor traceable."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.seismic import Direction, orthogonal
from rackbook.loads.words import plain_word
from rackbook.trace import DomainError, Formula, Source, Step, Value, given, largest
from rackbook.trace.columns import column

from .factors import dead_factor, notional_factor, overstrength_factor, seismic_factor, signed_factor
from .rows import Row, rows_of_set, signed
from .variants import Term, Variant, known, variants

_SENSE = Source("derivation", "sense of the load")
_SENSES = {s: given(s, "", _SENSE, "s") for s in (1.0, -1.0)}
_FULL = given(1.0, "", Source("assumption", "the accidental torsion acts in full with either direction"), "p")
#: Name, method of the table, and whether the seismic rows are those with overstrength.
SETS = {
    "strength": ("LRFD", False),
    "strength_overstrength": ("LRFD", True),
    "allowable": ("ASD", False),
    "allowable_overstrength": ("ASD", True),
}


@dataclass(frozen=True)
class Site:
    """What the factors rest on beside the clause.

    Attributes:
        S_DS, rho: As the seismic loads have them.
        f_mh: Factor on Q_E with overstrength: Omega_0, not below rho.
        vertical: Whole vertical load of each gravity case.
        ways: Pairs of shares of the two seismic directions.

    """

    S_DS: Value | None
    rho: Value | None
    f_mh: Value | None
    vertical: Mapping[str, Value]
    ways: tuple[Direction, ...]

    def share(self, term: Term) -> Value:
        """Return the share of the direction a seismic term acts in; the accidental torsion acts in full."""
        way = self.ways[term.way]
        return {"Q along": way.along, "Q across": way.across}.get(term.case, _FULL)

    def load(self, case: str) -> Value:
        """Return the whole vertical load of a gravity case; one number serves all places of L.

        Raises:
            DomainError: It is not given.

        """
        found = self.vertical.get(case, self.vertical.get(case.split()[0]))
        if found is None:
            have = ", ".join(self.vertical) or "none"
            raise DomainError(f"Notional loads follow the gravity loads: give the vertical load of '{case}' (given: {have}).")
        return found

    def needed(self, name: str) -> Value:
        """Return S_DS, rho or f_mh.

        Raises:
            DomainError: It is not given.

        """
        found = getattr(self, name)
        if found is None:
            raise DomainError(
                f"The seismic combinations need {'Omega_0' if name == 'f_mh' else name}; give it, or leave the cases Q out."
            )
        return found


@dataclass(frozen=True, eq=False)
class Combination:
    """The operation behind a factor vector: the factors of one combination lined up over all unit cases."""

    name: str
    source: Source
    cases: tuple[str, ...]

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Line up other factors of the same cases."""
        return Value(np.array([given[c].m_as("") if c in given else 0.0 for c in self.cases]), "", Step(self, given), "c")


@dataclass(frozen=True, eq=False)
class CombinationSet:
    """Load combinations of one set.

    Attributes:
        name: ``strength``, ``strength_overstrength``, ``allowable`` or ``allowable_overstrength``; each is complete,
            and the two with overstrength differ from the others in their seismic rows only.
        method: ``LRFD`` or ``ASD``.
        labels: ``"2.3.1-4: 1.2 D + 1.0 W front + 1.0 L 2"``, each once.
        clauses: ``"2.3.1-4"``.
        kinds: ``gravity``, ``wind``, ``ice`` or ``seismic``.
        cases: Names of the unit load cases, the columns of ``factors``.
        factors: Factors, shape (combinations, cases).
        rows: The rows of the standard the set is made of, those that expand to nothing too.
        row: Index into ``rows`` of each combination.
        variants: The terms of each combination.
        site: What the factors rest on beside the clause.

    """

    name: str
    method: str
    labels: tuple[str, ...]
    clauses: tuple[str, ...]
    kinds: tuple[str, ...]
    cases: tuple[str, ...]
    factors: np.ndarray
    rows: tuple[Row, ...]
    row: tuple[int, ...]
    variants: tuple[Variant, ...]
    site: Site

    def __len__(self) -> int:
        return len(self.labels)

    def value(self, k: int) -> Value:
        """Return the factors of combination k over all cases as one array Value ``c`` with its clause."""
        factors = {t.case: self.factor(k, t.case) for t in self.variants[k]}
        return Combination(self.labels[k], self.rows[self.row[k]].source, self.cases).evaluate(factors)

    def factor(self, k: int, case: str) -> Value:
        """Return the factor of combination k on one case, with all it rests on.

        Raises:
            DomainError: The case is not in that combination.

        """
        for term in self.variants[k]:
            if term.case == case:
                return _factor(self.rows[self.row[k]], term, self.variants[k], self.site)
        raise DomainError(f"'{case}' is not in combination {self.labels[k]}.")

    def count(self, row: int) -> int:
        """Return how many combinations a row of the standard expands to."""
        return self.row.count(row)


def combinations(
    edition: Any,
    cases: tuple[str, ...],
    S_DS: Value | None = None,
    rho: Value | None = None,
    Omega_0: Value | None = None,
    category: Any = "D",
    vertical: Mapping[str, Value] | None = None,
) -> dict[str, CombinationSet]:
    """Return the four sets of load combinations over the unit cases of a rack.

    Args:
        edition: ASCE/SEI 7-16 or 7-22.
        cases: Unit load cases that exist: ``D``, ``L 1``, ``S``, ``W front``, ``Q along``, ``N across`` and so on.
        S_DS: Design acceleration, for the vertical effect (with cases ``Q`` only, as the next two).
        rho: Redundancy factor.
        Omega_0: Overstrength factor of the system.
        category: Seismic design category: from C on 100 % of one direction act with 30 % of the other.
        vertical: Whole vertical load of ``D``, ``L`` (one load), ``S``, ``L_r`` and ``D_i``, which the notional loads
            follow (with cases ``N`` only).

    Raises:
        DomainError: A case is not known, or what a case needs is not given.

    """
    named, cases = plain_word(edition).removeprefix("ASCE/SEI "), known(tuple(cases))
    f_mh = Omega_0
    if rho is not None and Omega_0 is not None and any(c.startswith("Q ") for c in cases):
        f_mh = largest("f_mh", {"Omega_0": Omega_0, "rho": rho})
    site = Site(_pure(S_DS), _pure(rho), _pure(f_mh), dict(vertical or {}), orthogonal(category))
    of_set = {name: rows_of_set(named, *which) for name, which in SETS.items()}
    return {name: _set(name, SETS[name][0], rows, cases, site) for name, rows in of_set.items()}


def _pure(value: Value | None) -> Value | None:
    """Return a value as a pure number, whatever the unit it was given in."""
    return value if value is None or value.unit == "" else value.to("")


def _set(name: str, method: str, rows: tuple[Row, ...], cases: tuple[str, ...], site: Site) -> CombinationSet:
    column_of = {case: i for i, case in enumerate(cases)}
    found = [(n, v) for n, row in enumerate(rows) for v in variants(row, cases, site.ways)]
    factors = np.zeros((len(found), len(cases)))
    for k, (n, v) in enumerate(found):
        for term in v:
            factors[k, column_of[term.case]] = _number(rows[n], term, v, site)
    factors.flags.writeable = False
    labels = tuple(_label(rows[n], v, factors[k], column_of) for k, (n, v) in enumerate(found))
    return CombinationSet(
        name, method, labels, tuple(rows[n].clause for n, _ in found), tuple(rows[n].kind for n, _ in found), cases, factors,
        rows, tuple(n for n, _ in found), tuple(v for _, v in found), site,
    )  # fmt: skip


def _label(row: Row, variant: Variant, factors: np.ndarray, column_of: dict[str, int]) -> str:
    said = "".join(signed(factors[column_of[t.case]], t.case) for t in variant)
    return f"{row.clause}: {said.removeprefix(' + ')}"


def _gravity(variant: Variant) -> tuple[Term, ...]:
    return tuple(t for t in variant if t.load in ("D", "L", "L_r", "S", "D_i"))


def _made_of(row: Row, term: Term, variant: Variant, site: Site) -> tuple[Formula, dict[str, Value]] | None:
    """Return the formula of one factor and what it is given; None where it is the printed number itself."""
    sense = _SENSES[term.sense]
    if term.load == "N":
        of = _gravity(variant)
        gamma = column("gamma", {t.case: row.factors[t.load] for t in of}, "")
        Y = column("Y", {t.case: site.load(t.case) for t in of}, "lbf")
        return notional_factor, {"s": sense, "gamma": gamma, "Y": Y, "W_D": site.load("D").to("lbf")}
    factor = row.factors[term.load]
    if term.load == "D" and "E_v" in row.factors:
        return dead_factor, {"gamma_D": factor, "gamma_v": row.factors["E_v"], "S_DS": site.needed("S_DS")}
    if term.load == "E_h":
        return seismic_factor, {"s": sense, "gamma_E": factor, "rho": site.needed("rho"), "p": site.share(term)}
    if term.load == "E_mh":
        return overstrength_factor, {"s": sense, "gamma_E": factor, "f_mh": site.needed("f_mh"), "p": site.share(term)}
    return None if term.sense > 0 else (signed_factor, {"s": sense, "gamma": factor})


def _number(row: Row, term: Term, variant: Variant, site: Site) -> float:
    """Return one factor as a plain number, without the trace of :func:`_factor`."""
    made = _made_of(row, term, variant, site)
    if made is None:
        return float(row.factors[term.load].magnitude)
    formula, given = made
    return float(formula(**{n: v.magnitude for n, v in given.items()}))


def _factor(row: Row, term: Term, variant: Variant, site: Site) -> Value:
    """Return one factor with its trace."""
    made = _made_of(row, term, variant, site)
    if made is None:
        return row.factors[term.load]
    formula, given = made
    return formula(**given)

"""Seismic design category and importance factor."""

from __future__ import annotations

from typing import Any

from rackbook.tables import table
from rackbook.trace import DomainError, Source, Value, given, pick, word

from ..words import as_word, plain_word

NEAR_FAULT = given(0.75, "", Source("clause", "ASCE/SEI 7", "16 and 22", "11.6", "read"), "S_1_limit")
_SEVERE = Source("clause", "ASCE/SEI 7", "16 and 22", "11.6, the more severe category governs", "read")


def importance(risk_category: Any) -> Value:
    """Return the importance factor I_e of a risk category.

    Raises:
        LookupFailed: There is no such risk category.

    """
    return table("importance_factors").cell(as_word(risk_category, "risk_category"), "I_e", "I_e")


def design_category(S_DS: Value, S_D1: Value, risk_category: Any, S_1: Value | None = None) -> Value:
    """Return the seismic design category: the more severe of both tables, and of the rule for S_1 of 0.75 or more.

    Args:
        S_DS: Design acceleration at short periods.
        S_D1: Design acceleration at one second.
        risk_category: I to IV.
        S_1: Mapped acceleration at one second, where known.

    Raises:
        DomainError: There is no such risk category.
        LookupFailed: An acceleration is negative.

    """
    risk = plain_word(risk_category)
    if risk not in ("I", "II", "III", "IV"):
        raise DomainError(f"'{risk}' is no risk category; allowed: I, II, III, IV.")
    by = {"risk_category": as_word(risk_category, "risk_category")}
    t = table("seismic_design_category")
    candidates: dict[str, Value | None] = {
        "Table 11.6-1": t.step(S_DS, risk, "SDC", at=("S_DS",), by=by),
        "Table 11.6-2": t.step(S_D1, risk, "SDC", at=("S_D1",), by=by),
    }
    if S_1 is not None and S_1.magnitude >= NEAR_FAULT.magnitude:
        candidates["S_1 of 0.75 or more"] = word("F" if risk == "IV" else "E", NEAR_FAULT.source, "SDC")
        by = {**by, "S_1": S_1}
    worst = max(candidates, key=lambda name: candidates[name].magnitude)  # type: ignore[union-attr] # letters rise with severity
    return pick("SDC", candidates, worst, "the more severe category governs", by, _SEVERE)

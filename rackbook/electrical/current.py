"""The current a conductor is sized for: continuous loads, motors by table, transformers by rating."""

from __future__ import annotations

from ..tables import table
from ..trace import LookupFailed, Source, Value, formula
from ..trace.maths import sqrt
from .factors import whole


@formula(Source("clause", "NFPA 70", "2023", "215.2(A)(1), 210.19(A)(1) (same in 2020)", "read"), I_min="A")
def continuous_minimum(I_b, p_c):
    """Return the noncontinuous load plus 125 percent of the continuous load; p_c is the continuous share."""
    I_min = I_b * (1 + 0.25 * p_c)
    return I_min


@formula(Source("clause", "NFPA 70", "2023", "430.22 (same in 2020)", "read"), I_min="A")
def motor_minimum(I_FLC):
    """Return the least ampacity of the conductors of one motor in continuous duty."""
    I_min = 1.25 * I_FLC
    return I_min


@formula(Source("clause", "NFPA 70", "2023", "430.24 (same in 2020)", "memory"), I_min="A")
def motor_feeder_minimum(I_1, I_m, I_n, I_c):
    """Return the least ampacity for several motors and other loads.

    ``I_1`` is the full-load current of the largest motor, ``I_m`` the sum of the other motors', ``I_n`` the
    noncontinuous and ``I_c`` the continuous other load.
    """
    I_min = 1.25 * I_1 + I_m + I_n + 1.25 * I_c
    return I_min


@formula(Source("derivation", "rated current of a three-phase load or transformer"), I="A")
def three_phase_current(S, V):
    """Return the line current of an apparent power at a line-to-line voltage."""
    I = S / (sqrt(3) * V)
    return I


@formula(Source("derivation", "rated current of a single-phase load or transformer"), I="A")
def single_phase_current(S, V):
    """Return the current of an apparent power at a voltage."""
    I = S / V
    return I


@formula(Source("derivation", "equal share of parallel sets"), I_n="A")
def share_of_set(I_b, n):
    """Return the current in one of n parallel sets."""
    I_n = I_b / n
    return I_n


def apparent_current(S: Value, V: Value, phases: int | Value) -> Value:
    """Return the current of an apparent power ``S`` at voltage ``V`` (line to line for three phases).

    >>> from rackbook.trace import assume
    >>> apparent_current(assume(45, "kVA", "nameplate"), assume(480, "V", "nameplate"), 3).text()
    '54.13 A'
    """
    return three_phase_current(S=S, V=V) if whole(phases) == 3 else single_phase_current(S=S, V=V)


def motor_current(P: Value, V: Value, phases: int | Value) -> Value:
    """Return the full-load current of a motor by Table 430.250 (three-phase) or 430.248 (single-phase), 430.6(A)(1).

    Args:
        P: Rated power [hp].
        V: System voltage [V]; it leads to the rated motor voltage that heads the column.
        phases: 1 or 3.

    Raises:
        LookupFailed: The power, or the voltage for that power, is not listed.

    """
    of = table("motor_current_three_phase" if whole(phases) == 3 else "motor_current_single_phase")
    try:
        rated = table("motor_voltage").step(V, "rated", "V_rated")
    except LookupFailed as e:
        raise LookupFailed(f"No motor table has a column for {V.text()}: {e}") from None
    column = f"{rated.magnitude:g}V"
    if column not in of.names:
        columns = ", ".join(n for n in of.names if n.endswith("V"))
        raise LookupFailed(f"{of.head.locator} has no column for {V.text()} motors. Columns: {columns}.")
    hp = P.m_as("hp")
    if not of.has(hp, column):
        powers = [(k, r["hp"]) for k, r in zip(of.column("hp"), of.rows, strict=True) if r[column]]
        up = next((name for k, name in powers if k > hp), None)
        advice = f"The next listed is {up} hp" if up else "Nothing larger is listed"
        raise LookupFailed(
            f"{of.head.locator} lists no {P.text()} motor at {rated.magnitude:g} V. Listed: "
            f"{', '.join(name for _, name in powers)} hp. {advice}; enter a listed rating, or the nameplate current as load."
        )
    return of.cell(hp, column, "I_FLC", by={"hp": P.to("hp"), "V_rated": rated})

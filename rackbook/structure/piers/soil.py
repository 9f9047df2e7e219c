"""The soil of a job: presumptive values of IBC Table 1806.2 or those of a report, and what may be counted on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.loads.words import as_word
from rackbook.tables import table
from rackbook.trace import Source, Value, formula, given

TITLE = "IBC 2018 to 2024"


def ibc(locator: str, how: str = "memory") -> Source:
    """Return a clause of the building code."""
    return Source("clause", TITLE, "", locator, how)


#: The least depth of a footing below undisturbed ground.
LEAST_DEPTH = given(12, "in", ibc("1809.4", "read"), "d_min")
POLE_CONDITION = (
    "Doubled lateral pressure (1806.3.4): only for isolated poles, such as those of flagpoles or signs, or poles of buildings "
    "that 1/2 in. of motion at the ground surface under short-term lateral loads does not harm. The job says so "
    "(site.soil.doubled); a rack tied to rigid conduit or to other structures may not qualify. Wind, ice and earthquake only."
)
NOT_DOUBLED = (
    "site.soil.doubled is not followed: 1806.3.4 doubles the tabulated values only, and these are of a report, whose author "
    "says whether they may be raised."
)
HELD_NOT_DOUBLED = (
    "site.soil.doubled is not followed: 1806.3.4 is for poles that move at the ground surface, and these are held there."
)
NO_INCREASE = "Allowable pressures are not raised by one third (IBC 1806.1): the combinations are the basic ones of ASCE/SEI 7."
#: What frost in frost-susceptible soil does to a shaft.
HEAVE = (
    "Frost: adfreeze uplift on the shaft is not counted; in frost-susceptible soil sleeve the shaft or backfill it with "
    "non-susceptible material over the frost depth."
)


@formula(ibc("1806.3.4"), S="psf/ft")
def doubled(S_tab):
    """Return the lateral bearing pressure a foot of depth, doubled for isolated poles under short-term loads."""
    S = 2 * S_tab
    return S


@dataclass(frozen=True)
class Ground:
    """What the soil carries, allowable values.

    Attributes:
        q_a: Vertical bearing pressure.
        S: Lateral bearing pressure a foot of depth, under sustained loads.
        S_short: The same under wind, ice and earthquake: doubled where the job asks for it and the code allows it.
        mu, c, f_s: Friction, cohesion and skin friction in uplift; None where not given.
        frost: Depth of frost.
        discount: Depth of soil that is not counted on laterally.
        gamma_s: Unit weight of the soil; None where not given.
        constrained: Whether a rigid floor or pavement holds the piers at grade.
        water: Depth of the highest ground water below grade; None where not given.
        group: Share of the lateral resistance that a line of close piers has; None where not given.
        reported: Whether the values are those of a report.
        notes: What the values rest on, in words.

    """

    q_a: Value
    S: Value
    S_short: Value
    mu: Value | None
    c: Value | None
    f_s: Value | None
    frost: Value
    discount: Value
    gamma_s: Value | None
    constrained: bool
    water: Value | None
    group: Value | None
    reported: bool
    notes: tuple[str, ...]


def ground(soil: Any) -> Ground:
    """Return the soil's allowable values.

    Args:
        soil: ``site.soil`` of a job: a class of Table 1806.2 or a report.

    Raises:
        LookupFailed: The table has no such class.

    """
    notes = [NO_INCREASE]
    report = soil.report
    if report is not None:
        q_a, S, mu, c, f_s = report.bearing, report.lateral, report.friction, report.cohesion, report.skin
        S_short = S
        notes.append(f"Soil values of: {report.title}.")
        if soil.doubled:
            notes.append(NOT_DOUBLED)
    else:
        of, row = table("soil"), as_word(soil.class_, "class")
        q_a, S = of.cell(row, "vertical", "q_a"), of.cell(row, "lateral", "S_tab")
        mu = of.cell(row, "friction", "mu") if of.has(row, "friction") else None
        c = of.cell(row, "cohesion", "c") if of.has(row, "cohesion") else None
        f_s = None
        pole = soil.doubled and not soil.constrained
        S_short = doubled(S_tab=S) if pole else S
        notes.append(
            f"Presumptive values for {of.cell(row, 'material').text()} by IBC Table 1806.2, read in the editions of 2012 to "
            "2021: confirm in the adopted edition; the building official may ask for a report."
        )
        if soil.doubled:
            notes.append(POLE_CONDITION if pole else HELD_NOT_DOUBLED)
    deep, frost = soil.discount, soil.frost
    if deep.magnitude > 0:
        notes.append(f"The top {deep.text()} of soil is not counted on laterally.")
    if frost.m_as("ft") > deep.m_as("ft"):
        notes.append(
            f"Soil within the frost depth of {frost.text()} is counted on laterally: where it is loose after thawing, give "
            "site.soil.discount."
        )
    notes.append("Bearing pressures are net of the soil displaced, where its unit weight is given.")
    if frost.magnitude > 0:
        notes.append(HEAVE)
    return Ground(
        q_a, S, S_short, mu, c, f_s, frost, deep, soil.unit_weight, bool(soil.constrained), soil.water, soil.group,
        report is not None, tuple(notes),
    )  # fmt: skip

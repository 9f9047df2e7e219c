"""One row of the ratios worked again in Values, for the member it governs: what the sheet shows in full."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.trace import Formula, Source, Step, Value, given, largest, pick

from .angles import about_major, about_minor, principal
from .combined import (
    SPLIT,
    interaction,
    open_normal,
    open_shear,
    resultant_moment,
    resultant_shear,
    shear_ratio,
    sum_of_stresses,
    torsion_ratio,
    tube_together,
)
from .strength import Strength
from .torsion import whole_twist

INTERACTION, SHEAR, TORSION = "axial force and bending", "shear", "bending with torsion"
_NOT_BOTH = given(0.0, "kip*in", Source("derivation", "the resultant acts about x"), "M_ry")


@dataclass(frozen=True)
class Governing:
    """What governs one check of one member.

    Attributes:
        kind: The check: one of the words of this module.
        ratio: Demand over strength.
        combination: Label of the combination.
        station: Where along the member: ``"station 3 of 9"``.
        at: Index of combination and station in the arrays of actions.

    """

    kind: str
    ratio: Value
    combination: str
    station: str
    at: tuple[int, int]


@dataclass(frozen=True, eq=False)
class Row:
    """One row of actions: a member under a combination at a station, each action a Value when asked for.

    Attributes:
        frame: The frame, for its ``action``.
        set_name: Set of combinations.
        strength: Strengths of the member.
        member, combination, station: Indices into the frame and its arrays of actions.
        twisted: Station of the twisting moment that counts.

    """

    frame: Any
    set_name: str
    strength: Strength
    member: int
    combination: int
    station: int
    twisted: int

    def action(self, component: str, station: int | None = None) -> Value:
        """Return one action."""
        at = self.station if station is None else station
        found = self.frame.action(self.set_name, component, self.member, self.combination, at)
        assert isinstance(found, Value)
        return found

    def normal(self) -> dict[str, Value]:
        """Return axial force and moments with their available strengths, as the formulas of Chapter H take them."""
        s, P = self.strength, self.action("P")
        M_x, M_y = self.action("M_x"), self.action("M_y")
        if s.section.family == "pipes":
            M_x, M_y = resultant_moment(M_rx=M_x, M_ry=M_y), _NOT_BOTH
        elif s.section.family == "angles":
            turned = {"M_x": M_x, "M_y": M_y, "alpha": principal(s.section).alpha}
            M_x, M_y = about_major(**turned), about_minor(**turned)
        P_c = s.P_c if P.magnitude >= 0 else s.P_ct
        return {"P_r": P, "P_c": P_c, "M_rx": M_x, "M_cx": s.M_cx, "M_ry": M_y, "M_cy": s.M_cy}

    def twist(self) -> Value:
        """Return the twisting moment about the shear center, at the station where it counts."""
        T, s = self.action("T", self.twisted), self.strength
        if s.section.closed:
            return T
        shears = {f"V_r{a}": self.action(f"V_{a}", self.twisted) for a in "yx"}
        return whole_twist(T=T, **shears, e_y=s.e_y, e_x=s.e_x)


def interaction_ratio(row: Row) -> Value:
    """Return the ratio of axial force and bending: H1, or H2 for angles and strut."""
    normal = row.normal()
    if row.strength.section.family in ("angles", "strut"):
        axes = {"M_rx": "M_rw", "M_cx": "M_cw", "M_ry": "M_rz", "M_cy": "M_cz"}
        return sum_of_stresses(**{axes.get(n, n): v for n, v in normal.items()})
    return interaction(**normal)


def shear_of(row: Row) -> Value:
    """Return the ratio of shear: the larger of both directions, of open sections with that of torsion."""
    s = row.strength
    V_y, V_x = row.action("V_y"), row.action("V_x")
    if s.section.family == "pipes":
        return shear_ratio(V_r=resultant_shear(V_ry=V_y, V_rx=V_x), V_c=s.V_cy)
    if s.section.closed:
        made = {"along the depth": shear_ratio(V_r=V_y, V_c=s.V_cy), "along the width": shear_ratio(V_r=V_x, V_c=s.V_cx)}
        return largest("R", made)
    T = {"T_r": row.twist(), "T_c": s.T_c}
    made = {
        "along the depth": open_shear(V_r=V_y, V_c=s.V_cy, **T),
        "along the width": open_shear(V_r=V_x, V_c=s.V_cx, **T),
    }
    return largest("R", made)


def torsion_of(row: Row) -> Value:
    """Return the ratio with twisting: Eq. H3-6 of a tube, the sum of normal stresses of an open section."""
    s, T = row.strength, row.twist()
    if s.T_cw is not None:
        return open_normal(**row.normal(), T_r=T, T_cw=s.T_cw)
    share = torsion_ratio(T_r=T, T_c=s.T_c)
    words = f"T_r/T_c above {SPLIT}: Eq. H3-6"
    made = tube_together(**row.normal(), R_v=shear_of(row), T_r=T, T_c=s.T_c)
    return pick("R", {words: made}, words, "H3.2", {"T_r/T_c": share})


def formula_of(ratio: Value) -> Formula:
    """Return the formula behind a ratio; of a choice, that of the candidate chosen."""
    assert isinstance(ratio.origin, Step)
    made = ratio.origin.operation
    if isinstance(made, Formula):
        return made
    return formula_of(ratio.origin.given[made.chosen])  # type: ignore[attr-defined] # ratios are formulas or choices among them


RATIOS = {INTERACTION: interaction_ratio, SHEAR: shear_of, TORSION: torsion_of}

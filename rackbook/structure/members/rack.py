"""The members of a job: every ratio of every member at once, the governing ones in Values, and the checks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.trace import Check, Value, largest

from ..steel import one_of
from .checks import brace_checks, cantilever_check, part_checks
from .edition import edition_of
from .lengths import Lengths
from .ratios import Ratios, capacities, ratios
from .strength import Strength, strength
from .worked import INTERACTION, RATIOS, SHEAR, TORSION, Governing, Row

#: Set of combinations by design method.
SETS = {"LRFD": "strength", "ASD": "allowable"}
PARTS = ("post", "rail", "tie", "brace")
#: Effective slenderness in compression that E2 prefers not to be exceeded.
PREFERRED = 200.0


@dataclass(frozen=True)
class MemberResult:
    """One member: its strengths, what governs each check, and the largest ratio.

    Attributes:
        mark, part, shape: As in the frame.
        case: Place of its strengths in ``Members.strengths``; members of one shape, steel and length share them.
        checks: What governs by check: axial force and bending, shear, and with torsion where it counts.
        utilization: The largest ratio.
        governs: The check it belongs to.

    """

    mark: str
    part: str
    shape: str
    case: int
    checks: dict[str, Governing]
    utilization: Value
    governs: Governing


@dataclass(frozen=True, eq=False)
class Members:
    """Strength of all members of a rack.

    Attributes:
        method, edition: Design method and edition of AISC 360.
        set_name: Set of combinations.
        combinations: Number of combinations.
        strengths: The different strengths.
        by_mark: Every member.
        governing: The governing member of each part, by part.
        checks: One of each kind for each part, and the rules of its clauses.
        notes: Assumptions and cautions, in words.
        arrays: All ratios, (combinations, stations).

    """

    method: str
    edition: str
    set_name: str
    combinations: int
    strengths: tuple[Strength, ...]
    by_mark: dict[str, MemberResult]
    governing: dict[str, MemberResult]
    checks: tuple[Check, ...]
    notes: tuple[str, ...]
    arrays: Ratios

    @property
    def utilization(self) -> dict[str, Value]:
        """The largest ratio of every member by its mark."""
        return {mark: m.utilization for mark, m in self.by_mark.items()}


def members(job: Any, frame: Any) -> Members:
    """Return the strength checks of all members of a job's frame.

    Args:
        job: The job.
        frame: Its frame, with second-order actions.

    Raises:
        LookupFailed: A shape is in no section table.
        DomainError: A wall is more slender than AISC 360 covers.

    """
    method, edition = one_of("design method", job.codes.method, tuple(SETS)), edition_of(job.codes.steel)
    name = SETS[method]
    strengths, of_member = strengths_of(frame.members, method, edition)
    actions = frame.actions(name)
    found = ratios(actions, capacities(strengths, of_member, actions.member))
    by_mark = {m.mark: _member(frame, name, n, of_member[n], strengths, found) for n, m in enumerate(frame.members)}
    most = {
        part: max(own, key=lambda m: float(m.utilization.magnitude))
        for part in PARTS
        if (own := [m for m in by_mark.values() if m.part == part])
    }
    checks = part_checks(by_mark)
    by_member = [strengths[n] for n in of_member]
    checks += cantilever_check(job, frame, name, by_member, actions)
    of_braces, said = brace_checks(job, frame, name, by_member, actions)
    notes = (*_notes(method, edition, strengths), *said)
    return Members(
        method,
        edition,
        name,
        len(frame.sets[name].labels),
        tuple(strengths),
        by_mark,
        most,
        (*checks, *of_braces),
        notes,
        found,
    )


def strengths_of(of: Iterable[Any], method: str, edition: str) -> tuple[list[Strength], list[int]]:
    """Return the different strengths of members, and which of them each member has.

    Args:
        of: Members of a frame.
        method: ``"LRFD"`` or ``"ASD"``.
        edition: ``"22"`` or ``"16"``.

    """
    lengths, made, places = Lengths(), {}, []
    strengths: list[Strength] = []
    for m in of:
        L_cx, L_cy = lengths.effective(m.K_x, m.L_x), lengths.effective(m.K_y, m.L_y)
        ends = "one leg" if m.part == "brace" else "concentric"
        numbers = [round(v.m_as("in"), 9) for v in (L_cx, L_cy, m.L_b, m.L)]
        key = (str(m.shape), ends, m.F_y.m_as("ksi"), m.C_b.magnitude, *numbers)
        if key not in made:
            made[key] = len(strengths)
            strengths.append(strength(m.shape, m.F_y, L_cx, L_cy, m.L_b, m.L, m.C_b, method, edition, ends))
        places.append(made[key])
    return strengths, places


def worst(of: Ratios, stations: tuple[int, ...]) -> dict[str, tuple[int, int]]:
    """Return combination and station of the largest ratio of each check among some stations.

    The check with torsion is left out where it applies nowhere.
    """
    at = list(stations)
    found = {}
    for kind, array in ((INTERACTION, of.interaction), (SHEAR, of.shear), (TORSION, of.torsion)):
        own = array[:, at]
        k, s = np.unravel_index(int(np.argmax(own)), own.shape)
        if kind != TORSION or own[k, s] > 0:
            found[kind] = int(k), at[int(s)]
    return found


def _member(frame: Any, name: str, n: int, case: int, strengths: list[Strength], found: Ratios) -> MemberResult:
    m, labels = frame.members[n], frame.sets[name].labels
    checks = {}
    for kind, (k, at) in worst(found, m.stations).items():
        row = Row(frame, name, strengths[case], n, k, at, int(found.twist_at[k, at]))
        place = m.stations.index(at) + 1
        checks[kind] = Governing(kind, RATIOS[kind](row), labels[k], f"station {place} of {len(m.stations)}", (k, at))
    used = largest("R", {kind: c.ratio for kind, c in checks.items()})
    governs = max(checks.values(), key=lambda c: float(c.ratio.magnitude))
    return MemberResult(m.mark, m.part, str(m.shape), case, checks, used, governs)


_OPEN = (
    "Open sections: forces act on the middle of the section's width, beside its shear center, which adds to the torsion "
    "in the worse direction. All of the torsion is resisted by St. Venant shear in one check, and by the largest bimoment that "
    "any ends and any distribution of the loads give in the other (warping); the two do not share it."
)
_STRUT = (
    "Strut by its published properties, for a plain channel of Grade 33: yielding at first yield, the manufacturers' 25 ksi "
    "beside it, buckling by AISI S100. Slots reduce the strength; the manufacturer's published loads govern."
)
_ANGLE = (
    "Angles: moments are turned to the principal axes and all ratios are summed (H2). Braces are assumed held at both ends by "
    "the same leg with at least two bolts or a weld (E5)."
)


def _notes(method: str, edition: str, strengths: list[Strength]) -> list[str]:
    families = {s.section.family for s in strengths}
    notes = [f"AISC 360-{edition}, {method}. Actions are those of the second order; effective lengths are the frame's."]
    notes += [_OPEN] if families & {"channels", "wide_flanges", "strut", "angles"} else []
    notes += [_STRUT] if "strut" in families else []
    notes += [_ANGLE] if "angles" in families else []
    slender = sorted({s.section.name for s in strengths if s.compression.slenderness.magnitude > PREFERRED})
    if slender:
        notes.append(f"The effective slenderness of {', '.join(slender)} is above 200, which E2 prefers not to be exceeded.")
    return notes

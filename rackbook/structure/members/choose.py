"""The lightest section of a family with which a part passes: estimated with the present actions, then worked again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Any

import numpy as np

from rackbook import loads
from rackbook.structure.frame import Frame, frame
from rackbook.structure.frame.sections import USUAL, steel
from rackbook.structure.trial import changed, sound
from rackbook.tables import section, table
from rackbook.trace import DomainError, LookupFailed, RackbookError, Value
from rackbook.trace.errors import nearest

from .checks import PLURAL
from .edition import edition_of
from .rack import SETS, Members, members, strengths_of
from .ratios import capacities, ratios
from .section import FAMILIES

#: Parts that have one shape for all of their members, and the field that names it.
FIELDS = {"post": "frame.post", "rail": "frame.rail"}
#: Checks of the frame that a part answers for; all others count only where they pass now.
OWN = {"post": ("Drift", "Second-order sway"), "rail": ("Deflection",)}
#: Candidates whose estimate is up to this ratio are worked again: the actions follow the stiffness.
NEAR = 1.15
#: Candidates worked again at most.
MOST = 12


def again(job: Any) -> tuple[Frame, Members]:
    """Return the frame of a job and the strength of its members, worked from the loads on.

    Raises:
        RackbookError: A table, clause or formula cannot serve what the job asks.

    """
    of = loads.acting(job)
    solved = frame(job, of.weights, of.wind, of.seismic, of.snow, of.ice)
    return solved, members(job, solved)


@dataclass(frozen=True)
class Trial:
    """One candidate.

    Attributes:
        shape: Designation.
        weight: Weight a foot.
        estimate: Largest ratio of the part with the present actions.
        ratio: The same with the frame worked again; None where it was not.
        passes: Whether the part passes, and all checks of the frame but those that fail now for other reasons.
        why: What does not pass, or why the book refuses the section; empty otherwise.

    """

    shape: str
    weight: Value
    estimate: float
    ratio: Value | None
    passes: bool
    why: str = ""


@dataclass(frozen=True)
class Lightest:
    """The lightest section that passes.

    Attributes:
        part, family: What was asked.
        shape: Designation; None where no section of the family passes.
        before: Shape of the part now.
        tried: The candidates that were worked again, in order of weight.
        notes: What was taken for granted.

    """

    part: str
    family: str
    shape: str | None
    before: str
    tried: tuple[Trial, ...]
    notes: tuple[str, ...]

    def __str__(self) -> str:
        if self.shape is None:
            said = f"No {self.part} of {self.family} passes; the rack has {self.before}."
        else:
            found = self.tried[-1]
            used = f" (ratio {found.ratio.text()})" if found.ratio is not None else ""
            said = f"Lightest {self.part} of {self.family} that passes: {self.shape}, {found.weight.text()}{used}."
            said += " The rack has it." if self.shape == self.before else f" The rack has {self.before}."
        failed = [f"{t.shape}: {t.why}" for t in self.tried if not t.passes]
        return "\n".join([said, *(f"Tried {line}" for line in failed), *self.notes])


def lightest(job: Any, part: str, family: str, work: Callable[[Any], tuple[Any, Members]] = again) -> Lightest:
    """Return the lightest section of a family with which all members of a part pass.

    The candidates are ranked by weight. Their ratios are estimated with the present actions; those that may pass are worked
    again, their own weight, stiffness and wind area included, until one passes together with the checks of the frame.

    Args:
        job: The job.
        part: ``"post"`` or ``"rail"``.
        family: Table of the sections: ``"hss"``, ``"pipes"``, ``"channels"``, ``"angles"``, ``"wide_flanges"`` or ``"strut"``.
        work: Function of a job that works frame and members again.

    Raises:
        LookupFailed: There is no such family.
        DomainError: The part does not have one shape for all of its members.

    """
    if part not in FIELDS:
        raise DomainError(f"'{part}' has no one shape for all of its members. Parts: {', '.join(FIELDS)}.")
    if family not in FAMILIES:
        raise LookupFailed(f"'{family}' is no family of shapes.{nearest(family, FAMILIES)} Families: {', '.join(FAMILIES)}.")
    solved, _ = work(job)
    before = str(getattr(job.frame, part))
    excused = _excused(solved, part)
    tried: list[Trial] = []
    for weight, shape, estimate in sorted(_estimates(job, solved, part, family), key=lambda c: (c[0].m_as("plf"), c[2])):
        if estimate > NEAR or len(tried) == MOST:
            continue
        tried.append(_tried(_with_shape(job, part, shape, family), part, shape, weight, estimate, work, excused))
        if tried[-1].passes:
            break
    found = tried[-1].shape if tried and tried[-1].passes else None
    return Lightest(part, family, found, before, tuple(tried), _notes(part, family, excused))


def _excused(solved: Any, part: str) -> frozenset[str]:
    """Return the checks of the frame that fail now and that the part does not answer for, by their first words."""
    failing = {_kind(c.name) for c in solved.checks if c.word == "NOT OK"}
    return frozenset(kind for kind in failing if not kind.startswith(OWN[part]))


def _kind(name: str) -> str:
    return name.partition(",")[0]


def _notes(part: str, family: str, excused: frozenset[str]) -> tuple[str, ...]:
    steel_of = f"Steel: {USUAL[family]}, unless the job names another for {part}s of the family it has now."
    return (
        "Only strength of the members and the checks of the frame are judged; connections, base plates and anchors are not.",
        steel_of,
        *(f"Fails now and is not counted: {kind}." for kind in sorted(excused)),
    )


def _with_shape(job: Any, part: str, shape: str, family: str) -> Any:
    """Return the job with another section for a part; a steel that was named for another family is left out."""
    named = job.frame.materials
    new = changed(job, FIELDS[part], shape)
    if named is not None and getattr(named, part) is not None and _family(str(getattr(job.frame, part))) != family:
        new = changed(new, f"frame.materials.{part}", None)
    return new


def _family(shape: str) -> str:
    return section(shape).name


def _estimates(job: Any, solved: Any, part: str, family: str) -> list[tuple[Value, str, float]]:
    """Return weight, designation and estimated ratio of every section of a family, with the present actions of the part."""
    method, edition = str(job.codes.method), edition_of(job.codes.steel)
    own = [m for m in solved.members if m.part == part]
    actions = _of_members(solved.actions(SETS[method]), own)
    F_y = own[0].F_y if _family(str(getattr(job.frame, part))) == family else steel(USUAL[family])[0]
    of = table(family)
    found = []
    for row in of.rows:
        shape = str(row[of.keys[0]])
        others = [replace(m, shape=shape, family=family, F_y=F_y) for m in own]
        try:
            strengths, places = strengths_of(others, method, edition)
            used = ratios(actions, capacities(strengths, places, actions.member)).largest
        except RackbookError:
            continue  # a wall more slender than the clauses cover: no candidate
        found.append((of.cell(shape, "weight", "w_s"), shape, float(used.max())))
    return found


def _of_members(actions: Any, own: list[Any]) -> Any:
    """Return the actions at the stations of some members, numbered anew."""
    at = [s for m in own for s in m.stations]
    arrays = {name: getattr(actions, name)[:, at] for name in ("P", "V_y", "V_x", "T", "M_x", "M_y")}
    return SimpleNamespace(**arrays, member=np.repeat(np.arange(len(own)), [len(m.stations) for m in own]))


def _tried(
    job: Any,
    part: str,
    shape: str,
    weight: Value,
    estimate: float,
    work: Callable[[Any], tuple[Any, Members]],
    excused: frozenset[str],
) -> Trial:
    try:
        solved, made = work(sound(job))
    except RackbookError as e:
        return Trial(shape, weight, estimate, None, False, str(e))
    used = made.governing[part].utilization
    failing = [c.name for c in made.checks if c.word == "NOT OK" and not _of_another_part(c.name, part)]
    failing += [c.name for c in solved.checks if c.word == "NOT OK" and _kind(c.name) not in excused]
    return Trial(shape, weight, estimate, used, not failing, "; ".join(failing))


def _of_another_part(name: str, part: str) -> bool:
    return any(name.startswith(f"{plural}:") for other, plural in PLURAL.items() if other != part)

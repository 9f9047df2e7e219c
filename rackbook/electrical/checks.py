"""What a circuit's conductors are judged by, each check with the clause of the job's edition."""

from __future__ import annotations

from typing import Any

from ..trace import Check, Source, Value, check, given
from .ampacity import Ampacity
from .choose import Task
from .clauses import clause
from .ground import Ground, area
from .overcurrent import transformer_device

LARGER = "Take a larger size, or more sets."
PARALLEL = given(
    105600,
    "cmil",
    Source("clause", "NFPA 70", "2023", "310.10(G): 1/0 AWG, its area of Table 8 (same in 2020)", "read"),
    "A_1",
)
MARK = "Types marked with both, such as THHN/THWN-2, are ordered by the wet-rated type."
ADVICE = "Recommended, not mandatory: a larger size lowers it."


def is_branch(c: Any) -> bool:
    """Return whether the rules of branch circuits hold, and not those of feeders."""
    return c.kind in ("branch", "motor")


def ampacity_checks(c: Any, t: Task, a: Ampacity, size: Value, over: str, limit: Value | None) -> list[Check]:
    """Return the checks of load, ampacity and device.

    Args:
        c: The circuit of the job.
        t: Its task.
        a: Ampacity of the size taken.
        size: The size taken.
        over: Rule that limits the device: by name, as in the clauses.
        limit: The largest device, None for motors.

    """
    tag, kind, e = c.tag, "branch" if is_branch(c) else "feeder", t.edition
    if limit is None:
        out = [check(f"{tag}: 125 % of motor current", t.I_min, a.I_p, clause("motor conductor", e), remedy=LARGER)]
    else:
        name = f"{tag}: 125 % continuous, at terminals"
        smaller = "Take larger conductors or a smaller device."
        out = [
            check(name, t.I_min, a.I_pt, clause(f"{kind} continuous", e), remedy=LARGER),
            check(f"{tag}: load, corrected ampacity", t.I_b, a.I_p, clause(f"{kind} load", e), remedy=LARGER),
            check(f"{tag}: device protects conductors", t.I_r, limit, clause(over, e), remedy=smaller),
            check(f"{tag}: device carries load", t.I_min, t.I_r, clause(f"{kind} device", e), remedy="Take a larger device."),
        ]
    if c.kind == "transformer":
        both = t.I_r.magnitude > transformer_device(t.I_b, e).magnitude
        source = clause("transformer device", e, "primary and secondary protected" if both else "primary alone protected")
        most = transformer_device(t.I_b, e, both)
        out.append(check(f"{tag}: device protects transformer", t.I_r, most, source, remedy="Take a smaller device."))
    if t.n is not None:
        remedy = "Take 1/0 AWG or larger, or one set."
        out.append(check(f"{tag}: parallel from 1/0 AWG", PARALLEL, area(size), clause("parallel", e), remedy=remedy))
    return out


def wet_check(c: Any, t: Task) -> Check:
    """Return the open check of a conductor type without wet rating, where raceways are wet inside."""
    return Check(f"{c.tag}: conductor type in a wet place", t.T_c, None, clause("wet place", t.edition), remedy=MARK)


def ground_check(c: Any, ground: Ground, taken: Value, edition: str) -> Check:
    """Return the check of an equipment ground given in the schedule."""
    remedy = f"Take {ground.size.magnitude} or larger."
    return check(f"{c.tag}: equipment ground", area(ground.size), area(taken), clause("ground", edition), remedy=remedy)


def drop_limits(edition: str) -> dict[str, Value]:
    """Return the recommended limits of voltage drop: of a branch circuit, a feeder, and both together [%]."""
    together = clause("branch drop", edition, "recommended, feeders and branch circuit together")
    return {
        "branch": given(3, "pct", clause("branch drop", edition, "recommended"), "p_max"),
        "feeder": given(3, "pct", clause("feeder drop", edition, "recommended"), "p_max"),
        "together": given(5, "pct", together, "p_max"),
    }


def drop_checks(c: Any, p_d: Value, p_tot: Value, limits: dict[str, Value]) -> list[Check]:
    """Return the checks of the drop: against the job's own limit or the recommended one, and from the source."""
    if c.drop_limit is not None:
        own = c.drop_limit
        out = [check(f"{c.tag}: drop, limit of the job", p_d, own, own.source, remedy=LARGER)]
    else:
        limit = limits["branch" if is_branch(c) else "feeder"]
        out = [check(f"{c.tag}: drop, recommended", p_d, limit, limit.source, remedy=ADVICE)]
    if is_branch(c) and p_tot is not p_d:
        both = limits["together"]
        out.append(check(f"{c.tag}: drop from source, recommended", p_tot, both, both.source, remedy=ADVICE))
    return out

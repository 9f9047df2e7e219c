"""What the schedule does not tell and these calculations do not work: each an open check, never a pass."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import Any

from ..trace import Check
from .clauses import clause
from .overcurrent import transformer_device

SERVICE = (
    "Designed as a feeder with its device at the supply end. Confirm; where these are service conductors, design them by "
    "Article 230 and ground and bond them by 250.24 and 250.102(C)."
)
SECONDARY = "Confirm the place of the first device and the length to it by 240.21(C)(2) to (6)."
BOTH_SIDES = "Provide a secondary device of at most 125 % of the rated secondary current (450.3(B))."
MOTORS = "Select them with the data of the motor and of the starter's manufacturer."


def open_checks(
    circuits: Iterable[Any], done: Mapping[str, Any], kinds: Mapping[str, str], fed: Collection[str], edition: str
) -> list[Check]:
    """Return the open checks of a job's circuits.

    Args:
        circuits: As in the schedule.
        done: Their conductors by tag.
        kinds: Kind of each piece of equipment by tag.
        fed: Places at the end of a circuit.
        edition: Edition of NFPA 70.

    """
    out, motors = [], []
    for c in circuits:
        tag, place, of = str(c.tag), str(c.from_), done[str(c.tag)]
        if c.kind == "motor" and c.ocpd is None:
            motors.append(of)
        if c.kind == "feeder" and place not in kinds and place not in fed:
            out.append(Check(f"{tag}: service conductors", of.I_r, None, clause("service", edition), remedy=SERVICE))
        if kinds.get(place) == "transformer":
            name = f"{tag}: length of secondary conductors"
            out.append(Check(name, c.length, None, clause("secondary", edition), remedy=SECONDARY))
        if c.kind == "transformer" and of.I_r.magnitude > transformer_device(of.I_b, edition).magnitude:
            source = clause("transformer device", edition, "primary and secondary protected")
            out.append(Check(f"{tag}: secondary device", of.I_r, None, source, remedy=BOTH_SIDES))
    if motors:
        most = max(motors, key=lambda m: m.I_b.m_as("A"))
        tags = ", ".join(m.tag for m in motors)
        source = clause("motor protection", edition)
        out.append(Check("Motors: device and overload protection", most.I_b, None, source, remedy=f"{MOTORS} For {tags}."))
    return out

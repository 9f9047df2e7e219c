"""Displacements in service: drift of the post tops under wind, deflection of the rails under weight, against limits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.trace import Check, Value


@dataclass(frozen=True)
class Service:
    """Displacements in service that govern, and their checks."""

    drift: dict[str, Value]
    deflections: dict[str, Value]
    checks: tuple[Check, ...]


def service(job: Any, analysis: Any, sways: Any) -> Service:
    """Return the displacements in service."""
    return Service({}, {}, ())

"""The load combinations of one job: its edition, its seismic factors, and the unit cases its frame has."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rackbook.loads.seismic import Seismic
from rackbook.loads.weights import Weights
from rackbook.trace import Check, Source, Value, check, given

from .sets import CombinationSet, combinations

L_R = given(20.0, "psf", Source("table", "ASCE/SEI 7", "16 and 22", "Table 4.3-1, ordinary flat roofs", "memory"), "L_o")
TORNADO = (
    "ASCE/SEI 7-22 asks for tornado loads W_T in place of W on structures of Risk Category III and IV in the tornado-prone "
    "region (Chapter 32). They are not worked out here."
)
ROOF_REMEDY = "The canopy's roof live load is not a load case here: find whether the snow, or none, is the larger, and add it."


@dataclass(frozen=True, eq=False)
class Combinations:
    """Load combinations of a job.

    Attributes:
        edition: ``"7-16"`` or ``"7-22"``.
        cases: Unit load cases that exist, in the order of the factors.
        sets: The four sets by name; see :class:`CombinationSet`.
        vertical: Whole vertical load of each gravity case, which notional loads follow.
        checks, notes: What the combinations leave open.

    """

    edition: str
    cases: tuple[str, ...]
    sets: dict[str, CombinationSet]
    vertical: dict[str, Value]
    checks: tuple[Check, ...]
    notes: tuple[str, ...]


def combinations_for(
    job: Any,
    seismic: Seismic,
    cases: tuple[str, ...],
    weights: Weights,
    vertical: Mapping[str, Value] | None = None,
) -> Combinations:
    """Return the load combinations of a job over the unit cases of its frame.

    Args:
        job: The job.
        seismic: Its seismic loads: S_DS, rho, Omega_0, category.
        cases: Names of the unit cases the frame has.
        weights: Its weights.
        vertical: Whole vertical load of the cases ``S``, ``L_r`` and ``D_i`` there are.

    Raises:
        DomainError: A case is not known, or a load is missing that notional loads follow.

    """
    loads = {"D": weights.W, "L": job.allowances.maintenance, **(vertical or {})}
    sets = combinations(
        seismic.edition, cases, seismic.ground.S_DS, seismic.rho, seismic.system.Omega_0, seismic.category, loads
    )
    checks, notes = [], []
    if job.frame.canopy is not None and "L_r" not in cases:
        source = Source("clause", "ASCE/SEI 7", seismic.edition[2:], "4.8 and 2.3.1", "memory")
        checks.append(check("Roof live load on the canopy", L_R, None, source, remedy=ROOF_REMEDY))
    if seismic.edition == "7-22" and str(seismic.risk_category.magnitude) in ("III", "IV"):
        notes.append(TORNADO)
    return Combinations(seismic.edition, tuple(cases), sets, loads, tuple(checks), tuple(notes))

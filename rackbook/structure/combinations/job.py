"""The load combinations of one job: its edition, its seismic factors, and the unit cases its frame has."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rackbook.loads.seismic import Seismic
from rackbook.loads.weights import Weights, canopy_area
from rackbook.trace import Check, Source, Value, check, formula, given, largest

from .rows import rows
from .sets import CombinationSet, combinations

L_R = given(20.0, "psf", Source("table", "ASCE/SEI 7", "16 and 7-22", "Table 4.3-1, ordinary flat roofs", "memory"), "L_o")
TORNADO = Source("clause", "ASCE/SEI 7", "22", "32.1.1, Risk Category III and IV in the tornado-prone region", "memory")
TORNADO_REMEDY = "Confirm that the site is outside the tornado-prone region, or design for W_T in place of W (Chapter 32)."
ROOF_REMEDY = "The snow does not cover the canopy's roof live load, which is not a load case here; add its effects."


@formula(Source("derivation", "a roof load of the same place with other factors"), r="")
def factor_ratio(gamma_Lr, gamma_S):
    """Return by how much the factor on roof live load exceeds that on snow."""
    r = gamma_Lr / gamma_S
    return r


@formula(
    Source("derivation", "roof live load as the snow that has the same effect in the least favorable combination"), S_Lr="lbf"
)
def equivalent_snow(L_o, A_c, r):
    """Return the snow that covers the roof live load in every combination."""
    S_Lr = L_o * A_c * r
    return S_Lr


@dataclass(frozen=True, eq=False)
class Combinations:
    """Load combinations of a job.

    Attributes:
        edition: ``"7-16"`` or ``"7-22"``.
        cases: Unit load cases that exist, in the order of the factors.
        Omega_0: Overstrength factor of the system; the factor on E_mh is not below rho.
        sets: The four sets by name; see :class:`CombinationSet`.
        vertical: Whole vertical load of each gravity case, which notional loads follow.
        checks: What the combinations leave open.

    """

    edition: str
    cases: tuple[str, ...]
    sets: dict[str, CombinationSet]
    Omega_0: Value | None
    vertical: dict[str, Value]
    checks: tuple[Check, ...]


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
    sets = combinations(seismic.edition, cases, seismic.ground.S_DS, seismic.rho, seismic.Omega_0, seismic.category, loads)
    checks = []
    if job.frame.canopy is not None and "L_r" not in cases:
        checks.append(_roof_live(seismic.edition, job.frame.canopy, loads.get("S")))
    if seismic.edition == "7-22" and str(seismic.risk_category.magnitude) in ("III", "IV"):
        checks.append(check("Tornado loads", seismic.risk_category, None, TORNADO, remedy=TORNADO_REMEDY))
    return Combinations(seismic.edition, tuple(cases), sets, seismic.Omega_0, loads, tuple(checks))


def _roof_live(edition: str, canopy: Any, S: Value | None) -> Check:
    """Return the check that snow covers the canopy's roof live load in every combination; open where it does not."""
    ratios = {
        f"{r.clause} {method}": factor_ratio(gamma_Lr=r.factors["L_r"], gamma_S=r.factors["S"])
        for method in ("LRFD", "ASD")
        for r in rows(edition, method)
        if "L_r" in r.factors
    }
    A_c = canopy_area(L_c=canopy.length, W_c=canopy.width)
    need = equivalent_snow(L_o=L_R, A_c=A_c, r=largest("r", ratios))
    covered = S if S is not None and S.m_as("lbf") >= need.m_as("lbf") else None
    source = Source("clause", "ASCE/SEI 7", edition[2:], "4.8 and 2.3.1", "memory")
    return check("Roof live load on the canopy, covered by snow", need, covered, source, remedy=ROOF_REMEDY)

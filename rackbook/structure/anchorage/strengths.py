"""Strengths of a base's rods that do not depend on the combination, and of each pattern of pulled rods."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.trace import Value, formula, given, smallest
from rackbook.trace.maths import min

from ..concrete import aci
from .breakout import ONE, design_tension
from .clauses import PHI_STEEL_SHEAR, PHI_STEEL_TENSION, SEISMIC_TENSION, derived, phi
from .groups import Concrete, Group, blowouts, concrete, group
from .plan import Whole
from .pullout import Blowout, Pullout, pullout
from .reinforcement import TiesInShear, ties_in_shear
from .rods import Rod, rod
from .shear import BARE, NO_ECCENTRICITY, SUPPLEMENTARY, Pryout, ShearBreakout, design_shear, pryout, shear_breakout

AT_EDGE, CLOSE_TIES = list(SUPPLEMENTARY)[1:3]
#: Least cover of a tie below the pier's top.
TOP_COVER = given(1.5, "in", aci("20.5.1.3: No. 5 and smaller, exposed to weather"), "c_top")


@formula(aci("R17.5.2.1: reinforcement near enough to the rods in shear"), z_t="in")
def tie_depth(c_a1, c_a2):
    """Return the depth below the top within which a tie holds rods in shear."""
    z_t = min(0.5 * c_a1, 0.3 * c_a2)
    return z_t


@dataclass(eq=False)
class Strengths:
    """Strengths of the rods of a base.

    Attributes:
        of: Plan of the base.
        within: The concrete around the rods.
        rod: The rod, with its nominal steel strengths.
        severe: Whether the rack is in seismic design category C or above.
        crossing: What crosses the breakout in shear, in the words of 17.7.2.5.1.
        phi_N_sa, phi_V_sa: Design strength of one rod's steel.
        pull: Pullout of one rod.
        blow: Side-face blowout of the side row (along x) and of the front or back row (along y).
        toward_x, toward_y: Breakout in shear toward the edges along x and along y, without eccentricity.
        whole: All rods as one group.
        pry: Pryout of all rods.
        z_t: Depth within which a tie counts in shear.
        ties: The tie there; None where none is given or none can be so near to the top.
        phi_eq: Factor on the concrete in tension from an earthquake.

    """

    of: Whole
    within: Concrete
    rod: Rod
    severe: bool
    crossing: str
    phi_N_sa: Value
    phi_V_sa: Value
    pull: Pullout
    blow: tuple[Blowout, Blowout]
    toward_x: ShearBreakout
    toward_y: ShearBreakout
    whole: Group
    pry: Pryout
    z_t: Value
    ties: TiesInShear | None
    phi_eq: Value

    def __post_init__(self) -> None:
        self._groups: dict[bytes, Group] = {}

    def group(self, pulled: np.ndarray) -> Group:
        """Return the strengths of a pattern of pulled rods, their tension at their middle."""
        key = np.asarray(pulled, bool).tobytes()
        if key not in self._groups:
            self._groups[key] = group(np.asarray(pulled, bool), self.of, self.within)
        return self._groups[key]

    def toward(self, direction: str, e_V: Value = NO_ECCENTRICITY) -> ShearBreakout:
        """Return the breakout in shear toward an edge along ``x`` or ``y``."""
        known = self.toward_x if direction == "x" else self.toward_y
        if e_V.magnitude == 0:
            return known
        return _toward(self.of, self.within, self.rod, direction, self.crossing, e_V)


def strengths(job: Any, of: Whole, severe: bool) -> Strengths:
    """Return the strengths of the rods of a job's bases.

    Args:
        job: The job, with anchors, base plate and concrete.
        of: Plan of its bases.
        severe: Whether the rack is in seismic design category C or above.

    Raises:
        LookupFailed: The rods' diameter is not tabulated.

    """
    anchors, piers = job.anchors, job.piers
    washer = anchors.washer
    size = {"w_w": washer.width, "t_w": washer.thickness} if washer is not None else {}
    one = rod(anchors.diameter, anchors.grade, anchors.grout, **size)
    within = concrete(job, of, one.A_brg, severe)
    crossing = _crossing(piers.ties)
    whole = group(np.ones(len(of.rods), bool), of, within)
    toward_x, toward_y = (_toward(of, within, one, d, crossing) for d in "xy")
    z_t = smallest(
        "z_t",
        {"toward x": tie_depth(c_a1=of.rods.c_x, c_a2=of.rods.c_y), "toward y": tie_depth(c_a1=of.rods.c_y, c_a2=of.rods.c_x)},
    )
    ties = None
    if piers.ties is not None and z_t.m_as("in") >= TOP_COVER.m_as("in"):
        ties = ties_in_shear(str(piers.ties.size))
    return Strengths(
        of, within, one, severe, crossing,
        design_tension(phi=phi(PHI_STEEL_TENSION), N_n=one.N_sa).named("phi_N_sa"),
        design_shear(phi=phi(PHI_STEEL_SHEAR), V_n=one.V_sa).named("phi_V_sa"),
        pullout(within.f_c_prime, within.A_brg), blowouts(of, within), toward_x, toward_y, whole,
        pryout(within.h_ef, whole.breakout.N_cbg.named("N_cpg")), z_t, ties, phi(SEISMIC_TENSION, "phi_eq"),
    )  # fmt: skip


def _crossing(ties: Any) -> str:
    """Return what crosses the breakout in shear: nothing that counts, ties of No. 4 or larger, or such ties set close."""
    if ties is None or int(str(ties.size).removeprefix("#")) < 4:
        return BARE
    return CLOSE_TIES if ties.spacing.m_as("in") <= 4 else AT_EDGE


def _toward(
    of: Whole, within: Concrete, one: Rod, direction: str, crossing: str, e_V: Value = NO_ECCENTRICITY
) -> ShearBreakout:
    across, sides, s = (of.rods.c_x, of.rods.c_y, of.rods.s_y) if direction == "x" else (of.rods.c_y, of.rods.c_x, of.rods.s_x)
    row = (of.rods.i if direction == "x" else of.rods.j) == 1.0
    between = int(row.sum()) - 1
    return shear_breakout(
        within.f_c_prime, one.d_a, within.h_ef, across, sides, sides, within.h_a,
        given(float(row.sum()), "", derived("rods nearest to the edge"), "n"), s,
        given(float(between), "", derived("gaps between them"), "g") if between > 1 else ONE, e_V, crossing,
    )  # fmt: skip

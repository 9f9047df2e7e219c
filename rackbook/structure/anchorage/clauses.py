"""Where the formulas of base plates and anchors are published, and the constants they take from there."""

from __future__ import annotations

from rackbook.tables import table
from rackbook.trace import Source, Value, assume, given

from ..concrete import aci


def dg1(locator: str, how: str = "memory") -> Source:
    """Return a place in the design guide of column bases."""
    return Source("clause", "AISC Design Guide 1", "ed. 3", locator, how)


def derived(what: str) -> Source:
    """Return a source for what follows from statics or geometry."""
    return Source("derivation", what)


#: Shares of a section's depth or width at which a plate under it bends.
WALL = given(0.95, "", dg1("flat walls: yield line at 0.95 of the outside"), "k_y")
FLANGE = given(0.80, "", dg1("flange tips: yield line at 0.80 of the flange width"), "k_y")
ROUND = given(0.80, "", dg1("round posts: yield line at 0.80 of the diameter"), "k_y")
OPEN = assume(0.80, "", "open shapes that the guide does not treat: yield line at 0.80 both ways", "k_y")

#: Limit of the tensile strength of an anchor in the concrete code.
F_UTA_MOST = given(125.0, "ksi", aci("17.6.1.2: f_uta not above 1.9 f_ya and 125 ksi"), "f_utamax")
PLATE_STEEL = "A36"
BAR_STEEL = "A615 Gr 60"
TOP_WASHER = assume(0.375, "in", "plate washer on the base plate, welded to it: common practice", "t_w")

PHI_STEEL_TENSION = "anchor steel tension, ductile"
PHI_STEEL_SHEAR = "anchor steel shear, ductile"
PHI_CONCRETE = "concrete breakout tension/shear, side-face, no supplementary reinforcement, cast-in"
PHI_PULLOUT = "pullout, pryout (cast-in)"
PHI_REINFORCEMENT = "anchor reinforcement"
PHI_BOLTS = "bolts tension/shear/combined"
BEARING = "concrete bearing"
FLEXURE = "flexure"
SEISMIC_TENSION = "seismic factor on concrete TENSION modes, SDC C-F"


def phi(limit_state: str, symbol: str = "phi") -> Value:
    """Return the resistance factor of a limit state."""
    return table("resistance_factors").cell(limit_state, "phi", symbol)


def safety(limit_state: str, symbol: str = "Omega") -> Value:
    """Return the safety factor of a limit state."""
    return table("resistance_factors").cell(limit_state, "Omega", symbol)

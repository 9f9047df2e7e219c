"""What anchorage and piers both take from the concrete code: its clauses, and the place of the bars in a pier."""

from __future__ import annotations

from rackbook.trace import Source, formula


def aci(locator: str, how: str = "memory") -> Source:
    """Return a clause of ACI 318-19."""
    return Source("clause", "ACI 318", "19", locator, how)


@formula(Source("derivation", "geometry of the cage"), R_s="in")
def cage_radius(b, c_c, d_t, d_b):
    """Return the distance from the middle of the section to the bars: of their circle, or of their rows in a square."""
    R_s = b / 2 - c_c - d_t - d_b / 2
    return R_s

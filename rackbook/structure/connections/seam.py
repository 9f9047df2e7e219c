"""The seam of a clip's plate on the side of a tube, where the tube's corner turns away from the plate.

The plate's outer face lies in the plane of the post's face, so its edge stands beside the corner of radius r = 2 t. At its
inner face the root gap is bridged by a fillet whose leg grows by the gap (AWS D1.1: gaps over 1/16 in. up to 3/16 in.); at
its outer face plate and corner make a flare-bevel groove, filled flush, which counts with the throat of Table J2.2.
"""

from __future__ import annotations

from rackbook.trace import Source, Value, formula, given
from rackbook.trace.maths import max, sqrt

from ..steel import clause

AWS_GAP = Source("clause", "AWS D1.1", "", "fillet weld assembly: root opening over 1/16 in. and up to 3/16 in.", "memory")
GAP_MOST = given(3 / 16, "in", AWS_GAP, "delta_max")
GAP_FREE = given(1 / 16, "in", AWS_GAP, "delta_0")
FLARE = given(5 / 16, "", clause("Table J2.2, flare-bevel groove filled flush, SMAW, FCAW-S or SAW"), "k_e")


@formula(
    Source("derivation", "corner of radius r turns away from the plate's edge, over what lies beyond the flat"), delta="in"
)
def corner_gap(r, t_p):
    """Return the root gap between a tube and the inner face of a plate flush with the tube's face."""
    delta = r - sqrt(r**2 - max(r - t_p, 0) ** 2)
    return delta


@formula(AWS_GAP, w_s="in")
def leg_with_gap(w, delta):
    """Return the leg that a fillet across a gap is made with."""
    w_s = w + delta
    return w_s


@formula(clause("Table J2.2, flare-bevel groove weld filled flush"), t_e="in")
def flare_throat(k_e, r):
    """Return the effective throat of a flare-bevel groove weld."""
    t_e = k_e * r
    return t_e


@formula(Source("derivation", "from the plate's inner face to the middle of the groove's throat"), g="in")
def lines_apart(t_p, t_e):
    """Return the distance of the two welds of a plate as lines."""
    g = max(t_p - t_e / 2, t_p / 2)
    return g


def groove_of(r: Value) -> Value:
    """Return the effective throat of the flare-bevel groove weld at a tube's corner of radius r."""
    return flare_throat(k_e=FLARE, r=r)


def leg_made(w: Value, delta: Value) -> Value:
    """Return the leg the fillet at the inner face is made with: increased by the gap where that is over 1/16 in."""
    return leg_with_gap(w=w, delta=delta) if delta.m_as("in") > GAP_FREE.m_as("in") else w

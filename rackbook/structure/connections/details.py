"""Rules on sizes: hole, spacing, edge distances, legs of welds (AISC 360, J2.2b, J3.3 to J3.6), each a check of its own."""

from __future__ import annotations

from rackbook.trace import Check, Source, Value, check, formula, given, smallest

from ..steel import clause
from .bolts import Bolt
from .clips import Clip, edge_of_rail
from .elements import DAMAGE, net_hole
from .feet import Foot
from .rail_welds import RailWeld
from .seam import AWS_GAP, GAP_MOST
from .sections import FREE_EDGE
from .splices import Splice
from .welds import least_leg, least_length, most_leg

SPACING_MOST = given(12.0, "in", clause("Section J3, maximum spacing and edge distance"), "s_max")
EDGE_MOST = given(6.0, "in", clause("Section J3, maximum spacing and edge distance"), "L_e_max")
SPACING, _EDGE = clause("J3.4 (J3.3 in 360-16)"), clause("J3.5 (J3.4 in 360-16), Table J3.4", "read")
_MOST = clause("J3.6 (J3.5 in 360-16), elements in continuous contact")
_FITS = Source("derivation", "geometry of the plate")


@formula(clause("Section J3, minimum spacing"), s_min="in")
def least_spacing(d_b):
    """Return the minimum distance between centers of holes; three diameters are preferred."""
    s_min = 8 / 3 * d_b
    return s_min


@formula(clause("Section J3, maximum spacing"), s_max="in")
def spacing_by_thickness(t):
    """Return the maximum distance between bolts by the thinner part."""
    s_max = 24 * t
    return s_max


@formula(clause("Section J3, maximum edge distance"), L_e_max="in")
def edge_by_thickness(t):
    """Return the maximum edge distance by the part's thickness."""
    L_e_max = 12 * t
    return L_e_max


@formula(_FITS, l_min="in")
def length_needed(n, s, L_e):
    """Return the length of plate that the bolts and both end distances need."""
    l_min = (n - 1) * s + 2 * L_e
    return l_min


def _bolts(what: str, b: Bolt, L_e: Value, t: Value, spacings: dict[str, tuple[Value, Value]]) -> list[Check]:
    """Return the checks of spacings (each with the thickness of its thinner part) and edge distance."""
    found = []
    for words, (s, thin) in spacings.items():
        least = least_spacing(d_b=b.d_b)
        most = smallest("s_max", {"24 t": spacing_by_thickness(t=thin), "12 in.": SPACING_MOST}, _MOST)
        found.append(check(f"{what}: minimum {words}", least, s, SPACING, remedy="Space the bolts wider."))
        found.append(check(f"{what}: maximum {words}", s, most, _MOST, remedy="Space the bolts closer."))
    most = smallest("L_e_max", {"12 t": edge_by_thickness(t=t), "6 in.": EDGE_MOST}, _MOST)
    found.append(check(f"{what}: minimum edge distance", b.L_e_min, L_e, _EDGE, remedy="Move the bolts away from the edge."))
    found.append(check(f"{what}: maximum edge distance", L_e, most, _MOST, remedy="Move the bolts towards the edge."))
    return found


def _thinner(a: Value, b: Value) -> Value:
    return smallest("t", {"plate": a, "rail": b})


def clip_details(of: Clip) -> tuple[Check, ...]:
    """Return the checks of a clip's sizes."""
    several = of.n.magnitude > 1
    spacings = {"spacing": (of.s, _thinner(of.t, of.rail.t))} if several else {}
    found = _bolts("Clip", of.bolt, of.L_e, of.t, spacings)
    needed = length_needed(n=of.n, s=of.s, L_e=of.L_e)
    found.append(check("Clip: its bolts fit its length", needed, of.l, _FITS, remedy="Use a longer clip, or closer bolts."))
    in_rail = edge_of_rail(d_r=of.rail.d, n=of.n, s=of.s)
    rule = (
        _EDGE if of.rail.family in FREE_EDGE else Source("derivation", "bolts within the depth of the rail, as at a free edge")
    )
    found.append(check("Clip: bolts within the rail", of.bolt.L_e_min, in_rail, rule, remedy="Space the bolts closer."))
    thin = smallest("t", {"clip": of.t, "post": of.wall.t})
    found.append(check("Clip: minimum leg of its weld", least_leg(thin), of.w, clause("J2.2b(a), Table J2.4", "read"),
                       remedy="Use a larger weld."))  # fmt: skip
    found.append(check("Clip: minimum length of its weld", least_length(w=of.w), of.l, clause("J2.2b(c)"),
                       remedy="Use a longer clip."))  # fmt: skip
    if of.gap is not None:
        found.append(check("Clip: gap at the inner face of its plate", of.gap, GAP_MOST, AWS_GAP,
                           remedy="Use a thicker clip, or move it back to the flat of the post."))  # fmt: skip
    return tuple(found)


def splice_details(of: Splice) -> tuple[Check, ...]:
    """Return the checks of a splice's sizes."""
    thin, spacings = _thinner(of.t, of.rail.t), {}
    if of.n_x.magnitude > 1:
        spacings["spacing"] = (of.s, thin)
    if of.n_z.magnitude > 1:
        spacings["gage"] = (of.g, thin)
    found = _bolts("Splice", of.bolt, of.L_e, of.t, spacings)
    in_rail = edge_of_rail(d_r=of.rail.d, n=of.n_z, s=of.g)
    rule = (
        _EDGE if of.rail.family in FREE_EDGE else Source("derivation", "bolts within the depth of the rail, as at a free edge")
    )
    found.append(check("Splice: bolts within the rail", of.bolt.L_e_min, in_rail, rule, remedy="Use a smaller gage."))
    return tuple(found)


def clip_leaves_steel(of: Clip) -> bool:
    """Say whether there is steel around every hole of a clip: without it no strength is worked out."""
    apart = [of.s] if of.n.magnitude > 1 else []
    return _leaves_steel(of.bolt, apart, [of.L_e, edge_of_rail(d_r=of.rail.d, n=of.n, s=of.s)])


def splice_leaves_steel(of: Splice) -> bool:
    """Say whether there is steel around every hole of a splice: without it no strength is worked out."""
    apart = [s for n, s in ((of.n_x, of.s), (of.n_z, of.g)) if n.magnitude > 1]
    return _leaves_steel(of.bolt, apart, [of.L_e, edge_of_rail(d_r=of.rail.d, n=of.n_z, s=of.g)])


def _leaves_steel(b: Bolt, apart: list[Value], edges: list[Value]) -> bool:
    hole = net_hole(d_h=b.d_h, d_x=DAMAGE).m_as("in")
    return all(s.m_as("in") > hole for s in apart) and all(e.m_as("in") > hole / 2 for e in edges)


def rail_weld_details(of: RailWeld) -> tuple[Check, ...]:
    """Return the checks of the sizes of the weld of a rail: its toe counts as an edge, of the thickness there."""
    thin = smallest("t", {"rail's toe": of.t_toe, "post": of.wall.t})
    least, most = clause("J2.2b(a), Table J2.4", "read"), clause("J2.2b(b), the toe as an edge")
    return (
        check("Rail weld: minimum leg", least_leg(thin), of.w, least, remedy="Use a larger weld."),
        check(
            "Rail weld: maximum leg at the toe", of.w, most_leg(of.t_toe), most, remedy="Use a smaller weld, or a heavier rail."
        ),
    )


def foot_details(of: Foot) -> tuple[Check, ...]:
    """Return the checks of the sizes of the weld at a post's foot."""
    thin = smallest("t", {"post": of.t, "base plate": of.t_p})
    source = clause("J2.2b(a), Table J2.4", "read")
    return (check("Post base: minimum leg of the weld", least_leg(thin), of.w, source, remedy="Use a larger weld."),)

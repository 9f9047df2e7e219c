"""How each piece of equipment sits on its rails: which bolts hold it, and with what levers.

The rails are those the frame hangs the item on. Two bolts on its lowest and two on its highest rail count, 0.8 of its width
apart; bolts on rails between are additional. On one rail two bolts hold it in the middle of the rail, and the item's back
bears on the rail's edge: lever 0.9 of half the rail's depth, or of the item's nearer edge where that comes first.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.trace import Check, Source, Value, assume, check, formula, given
from rackbook.trace.maths import abs, min

from ..steel import clause
from .groups import Group, group
from .joint import ONE
from .sections import Rail

PER_RAIL = given(2.0, "", Source("common practice", "two bolts on a rail, one near each side of the item"), "n_x")
ROWS = given(2.0, "", Source("derivation", "rows of bolts: on the lowest and on the highest of its rails"), "n_z")
PATTERN = assume(0.8, "", "bolts at 0.8 of the item's width: common practice, the manufacturer's holes govern", "k_p")
BEARS = assume(0.9, "", "bearing of the item's back acts at 0.9 of the distance to the edge it bears on", "k_c")
#: A lever shorter than this holds nothing that is counted on.
SHORTEST = 0.25
_BACK = Source("derivation", "item on one rail: its back bears on the rail's edge, or on its own edge")
SECOND_RAIL = "Give the item a second rail or a strut, or move it so that its back bears on the rail above and below the bolts."
BRACKETS = "Design the brackets of this item by hand, or add a rail within its height (frame.rails)."
ON_POSTS = "Design its fastening to the posts by hand, or add a rail on its face (frame.rails)."


@formula(Source("derivation", "bolts along the rail"), s_x="in")
def bolt_distance(k_p, w):
    """Return the distance of an item's two bolts on a rail."""
    s_x = k_p * w
    return s_x


@formula(Source("derivation", "lever: lowest to highest rail of the item"), s_z="in")
def rails_apart(z_u, z_l):
    """Return the distance of the outermost rails of an item."""
    s_z = z_u - z_l
    return s_z


@formula(Source("derivation", "item's center above or below the middle of its bolts"), e_z="in")
def off_center(z_i, z_u, z_l):
    """Return the distance of an item's center from the middle of its bolts, upright."""
    e_z = abs(z_i - (z_u + z_l) / 2)
    return e_z


@formula(_BACK, a_c="in")
def bearing_lever(k_c, d_r, h_i, e_z):
    """Return the lever of the bolts against the bearing of the item's back, on the nearer side."""
    a_c = k_c * min(d_r / 2, h_i / 2 - e_z)
    return a_c


@dataclass(frozen=True)
class Seat:
    """One item on its rails.

    Attributes:
        tag: The item.
        rails: Numbers of its rails, from below.
        x: Its center along the rack.
        s_x: Distance of its two bolts on a rail.
        bolts: The group of its bolts.
        e_z: Its center above or below their middle.

    """

    tag: str
    rails: tuple[int, ...]
    x: Value
    s_x: Value
    bolts: Group
    e_z: Value

    @property
    def said(self) -> str:
        """The rails that hold it, in words."""
        return ", ".join(str(n) for n in dict.fromkeys((self.rails[0], self.rails[-1])))


def seats(job: Any, frame: Any, rail: Rail) -> tuple[dict[str, Seat], tuple[Check, ...]]:
    """Return the items that bolts on rails hold by tag, and an open check for every other one."""
    found, still = {}, []
    for item, hung in zip(job.equipment, frame.analysis.hung, strict=True):
        tag = str(item.tag)
        rails = sorted({k for k, _ in hung.rails}, key=lambda k: job.frame.rails[k].height.m_as("in"))
        if not rails or hung.remark:
            still.append(_open(f"Fastening of {tag}: brackets of its own" if rails else f"Fastening of {tag} to the posts",
                               item, BRACKETS if rails else ON_POSTS))  # fmt: skip
            continue
        low, high = (job.frame.rails[k].height for k in (rails[0], rails[-1]))
        s_x, e_z = bolt_distance(k_p=PATTERN, w=item.width), off_center(z_i=item.z, z_u=high, z_l=low)
        if len(rails) > 1:
            bolts = group(n_x=PER_RAIL, n_z=ROWS, s_x=s_x, s_z=rails_apart(z_u=high, z_l=low), L_e=s_x)
        else:
            a_c = bearing_lever(k_c=BEARS, d_r=rail.d, h_i=item.height, e_z=e_z)
            if a_c.m_as("in") < SHORTEST:
                still.append(_open(f"Fastening of {tag}: overturning about its one rail", item, SECOND_RAIL))
                continue
            bolts = group(n_x=PER_RAIL, n_z=ONE, s_x=s_x, s_z=s_x, L_e=a_c)
        found[tag] = Seat(tag, tuple(k + 1 for k in rails), item.x, s_x, bolts, e_z)
    return found, tuple(still)


def _open(name: str, item: Any, remedy: str) -> Check:
    return check(name, item.weight, None, clause("J1"), remedy=remedy)

"""Room for the plate of a rail splice: beside posts and clips along the rail, and on the flat of the rail's wall.

The plate may lie on either side of the wall, so it keeps clear of what stands behind the rail and of the bolts of the
equipment in front of it, and fits between its fillets.
"""

from __future__ import annotations

from rackbook.trace import Check, Source, Value, check, formula, given, smallest
from rackbook.trace.maths import abs, max

from .clips import Clip
from .seats import Seat
from .splices import Splice, plate_depth

_ROOM = Source("derivation", "geometry: plate, post and clip side by side along the rail")
_FLAT = Source("derivation", "geometry: flat of the rail's wall between its fillets or corners")
#: A joint nearer to a post line than this stands on it.
ON_LINE = given(0.01, "in", Source("assumption", "a joint nearer to a post line stands on it"), "a_0")
NO_CLIP = given(0.0, "in", Source("derivation", "no clip there"), "b_c")
MOVE = "Move the joint away from the post (frame.splices), or use a shorter plate: fewer bolts in a row, or closer ones."
WASHER = given(1.5, "", Source("common practice", "room of a washer and a socket, in diameters of the bolt"), "k_w")
APART = "Move the joint (frame.splices) or the item (equipment.csv): a bolt of the item meets the plate of the splice."
LOWER = "Use a smaller gage or edge distance, one row of bolts, or a deeper rail."


@formula(_ROOM, a="in")
def joint_to_post(x_s, x_p, a_0):
    """Return the distance of a joint of the rails from a post line."""
    a = max(abs(x_s - x_p), a_0)
    return a


@formula(Source("derivation", "bolts in the middle of the plate, their edge distance from the post"), b_c="in")
def clip_width(L_ec):
    """Return the width of a clip beside the post."""
    b_c = 2 * L_ec
    return b_c


@formula(_ROOM, a_min="in")
def room_needed(b_p, b_c, n_x, s, L_e):
    """Return the minimum distance of a joint from a post line: half the post, a clip, and the plate on that side."""
    a_min = b_p / 2 + b_c + 2 * L_e + (n_x - 1) * s
    return a_min


@formula(_ROOM, a_min="in")
def room_of_bolt(n_x, s, L_e, k_w, d_b):
    """Return the minimum distance of an equipment bolt from a joint: half the plate, and room for washer and socket."""
    a_min = (n_x - 1) * s + 2 * L_e + k_w * d_b
    return a_min


@formula(_ROOM, a="in")
def joint_to_bolt(x_s, x_i, s_x):
    """Return the distance of a joint of the rails from the nearer bolt of an item."""
    a = abs(abs(x_s - x_i) - s_x / 2)
    return a


@formula(_FLAT, T="in")
def flat_depth(d_r, k):
    """Return the depth of the flat of a wall."""
    T = d_r - 2 * k
    return T


def splice_room(
    of: Splice, clip: Clip | None, b_p: Value, joints: tuple[Value, ...], posts: tuple[Value, ...]
) -> tuple[Check, ...]:
    """Return the checks of the room for the plates of the splices; the joint nearest to a post counts.

    Args:
        of: The splice.
        clip: The clips of the rails; None where there are none.
        b_p: Width of the posts along the rail.
        joints: x of the joints.
        posts: x of the post lines.

    """
    apart = {
        f"joint at {x.text()}, post {n}": joint_to_post(x_s=x, x_p=post, a_0=ON_LINE)
        for x in joints
        for n, post in enumerate(posts, 1)
    }
    near = {name: a for name, a in apart.items() if a.magnitude <= min(v.magnitude for v in apart.values()) * (1 + 1e-9)}
    width = clip_width(L_ec=clip.L_e) if clip is not None else NO_CLIP
    needed = room_needed(b_p=b_p, b_c=width, n_x=of.n_x, s=of.s, L_e=of.L_e)
    found = [check("Splice: plate clear of the post", needed, smallest("a", near), _ROOM, remedy=MOVE)]
    if of.rail.k is not None:
        flat = flat_depth(d_r=of.rail.d, k=of.rail.k)
        depth = plate_depth(n_z=of.n_z, g=of.g, L_e=of.L_e)
        found.append(check("Splice: plate within the flat of the rail", depth, flat, _FLAT, remedy=LOWER))
    return tuple(found)


def splice_bolts(of: Splice, d_b: Value, joints: tuple[Value, ...], held: dict[str, Seat]) -> tuple[Check, ...]:
    """Return the checks of the equipment's bolts beside the splices: every item that meets one, else the nearest.

    Args:
        of: The splice.
        d_b: Diameter of the equipment's bolts.
        joints: x of the joints, the same on every rail.
        held: The items on the rails.

    """
    needed = room_of_bolt(n_x=of.n_x, s=of.s, L_e=of.L_e, k_w=WASHER, d_b=d_b)
    apart = sorted(
        ((joint_to_bolt(x_s=x, x_i=seat.x, s_x=seat.s_x), x, seat.tag) for x in joints for seat in held.values()),
        key=lambda found: found[0].magnitude,
    )
    checks = tuple(
        check(f"Splice at {x.text()} clear of the bolts of {tag}", needed, a, _ROOM, remedy=APART) for a, x, tag in apart
    )
    return tuple(c for c in checks if c.word != "OK") or checks[:1]

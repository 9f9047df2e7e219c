"""On the truck: the rack against highway limits, and standing on the deck; and standing before it is anchored."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rackbook.loads.members import grout
from rackbook.loads.weights import Weights
from rackbook.tables import table
from rackbook.trace import Check, Source, Value, assume, check, formula, largest
from rackbook.trace.maths import abs, max, sqrt

from .legs import Lift
from .modules import Hanging
from .size import overall, top_of_lug

_TIPPING = Source("derivation", "moment about the edge of the cradle or base plates, against that of the weight")
_CARGO = Source("clause", "49 CFR", "", "393.102(a)(1), against breaking strength", "read")
TARE = assume(35000.0, "lbf", "tractor and trailer without load: common practice", "W_t")
TALL = "lay the rack on its back for the road or use a lower deck"


@formula(Source("derivation", "underside of the base plates above grade"), z_0="ft")
def underside(e, t_g):
    """Return the height of the rack's underside above grade: pier projection and grout."""
    z_0 = e + t_g
    return z_0


@formula(Source("derivation", "heights counted from the rack's underside"), h_0="ft")
def above_underside(z, z_0):
    """Return a height above the rack's underside."""
    h_0 = z - z_0
    return h_0


@formula(Source("derivation", "load on the deck"), h_t="ft")
def height_on_deck(h_d, h_0):
    """Return the height of the load above the road."""
    h_t = h_d + h_0
    return h_t


@formula(Source("derivation", "room above the deck"), h_l="ft")
def load_height(H, h_d):
    """Return the height of load that a limit leaves above a deck."""
    h_l = H - h_d
    return h_l


@formula(Source("derivation", "truck and load"), W_g="lbf")
def on_the_road(W_t, W):
    """Return the weight of truck and load."""
    W_g = W_t + W
    return W_g


@formula(_TIPPING, M_o="lbf*ft")
def tipping_moment(a_lat, W, h_c):
    """Return the overturning moment across the rack."""
    M_o = a_lat * W * h_c
    return M_o


@formula(_TIPPING, M_s="lbf*ft")
def standing_moment(W, b_t, y_bar):
    """Return the moment of the weight about the nearer edge of its base: of the cradle, or of the base plates."""
    M_s = W * max(b_t / 2 - abs(y_bar), 0)
    return M_s


@formula(_TIPPING, F_d="lbf")
def tie_down(M_o, M_s, b_t):
    """Return the downward force that ties on the far side must add; zero where weight alone holds."""
    F_d = max(M_o - M_s, 0) / b_t
    return F_d


@formula(_TIPPING, a_0="")
def tipping_acceleration(b, y_bar, h_c):
    """Return the sideways acceleration, in g, at which the rack tips off its own base."""
    a_0 = max(b / 2 - abs(y_bar), 0) / h_c
    return a_0


@formula(Source("derivation", "about the underside of the base plates, where the rack tips, not about grade"), M_w="lbf*ft")
def wind_about_underside(M, V, z_0):
    """Return the moment of the wind about the rack's underside."""
    M_w = M - V * z_0
    return M_w


@formula(Source("derivation", "wind moment grows with the square of the speed"), V_0="mph")
def tipping_wind(V, M_s, M_w):
    """Return the gust at which the rack tips off its own base before it is anchored."""
    V_0 = V * sqrt(M_s / M_w)
    return V_0


@dataclass(frozen=True)
class Envelope:
    """What the road allows without a permit: width, height, trailer length, gross and axle weights, and load on a deck."""

    width: Value
    height: Value
    length: Value
    gross: Value
    single_axle: Value
    tandem_axle: Value
    load_height: Value


def envelope(deck: Value | None = None) -> Envelope:
    """Return the limits of the road, with the height they leave above a deck (a usual flatbed where none is given)."""
    of = table("transport_limits")
    lengths = {name: of.cell(name, "length", symbol) for name, symbol in _LENGTHS.items()}
    deck = deck if deck is not None else of.cell("flatbed_deck", "length", "h_d")
    gross, single, tandem = (of.cell(name, "weight", "W_max") for name in ("gross", "single_axle", "tandem_axle"))
    room = load_height(H=lengths["height"], h_d=deck)
    return Envelope(lengths["width"], lengths["height"], lengths["trailer_length"], gross, single, tandem, room)


_LENGTHS = {"width": "B_max", "height": "H_max", "trailer_length": "L_max"}


@dataclass(frozen=True)
class Tipping:
    """One load on the deck: overturning moment, that of its weight about the nearer edge of the cradle, what ties must add."""

    name: str
    M_o: Value
    M_s: Value
    F_d: Value
    check: Check


@dataclass(frozen=True)
class Alone:
    """One load on its own base plates: their width, the acceleration and the gust (of the whole rack) at which it tips.

    ``M_s`` and ``M_w`` are the moments of its weight and of the design wind about the edge and the underside of its base.
    """

    name: str
    b: Value
    a_0: Value
    M_s: Value | None = None
    M_w: Value | None = None
    V_0: Value | None = None


@dataclass(frozen=True)
class Transport:
    """The rack on the truck and before it is anchored.

    Attributes:
        length, width, height: Overall, with base plates and lugs; the length is that of the longest module.
        ends: Extremes along and across the rack, base plates included.
        W_g: Weight of truck and rack.
        h_c: Height of each load's center of gravity above its underside.
        h_t: Height above the road on the truck's deck.
        tipping: Each load on the deck; empty where the job gives no truck.
        alone: Each load on its own base plates; empty without plates.
        checks: Limits of the road and tipping.

    """

    length: Value
    width: Value
    height: Value
    ends: Mapping[str, Value]
    W_g: Value
    h_c: Mapping[str, Value]
    h_t: Value | None
    tipping: tuple[Tipping, ...]
    alone: tuple[Alone, ...]
    checks: tuple[Check, ...]


def transport(
    job: Any, weights: Weights, loads: tuple[Hanging, ...], wind: Any = None, lifts: tuple[Lift, ...] = ()
) -> Transport:
    """Return the rack on the truck, whose deck and width of tie lines the job gives, and standing alone.

    Args:
        job: The job.
        weights: Its weights.
        loads: What goes on a truck at once: the rack or its modules.
        wind: Its wind, for the gust at which the rack tips before it is anchored.
        lifts: Its lifts; their lugs count in the height.

    """
    limits = table("transport_limits")
    z_0 = underside(e=job.piers.projection, t_g=grout(job))
    length, width, top, ends = overall(job, loads, _lugs(job, lifts))
    height = above_underside(z=top, z_0=z_0)
    heights = {of.name: above_underside(z=of.z_bar, z_0=z_0).named("h_c") for of in loads}
    W_g = on_the_road(W_t=TARE, W=weights.W)
    checks = [
        _within("Width on the road", width, limits.cell("width", "length", "B_max"), "turn or take apart what stands out"),
        _within("Length on a trailer", length, limits.cell("trailer_length", "length", "L_max"), "splice the rack"),
        _within("Weight of truck and rack", W_g, limits.cell("gross", "weight", "W_max"), "split the load"),
    ]
    truck = job.lifting.truck if job.lifting is not None else None
    H_max = limits.cell("height", "length", "H_max")
    h_t = None
    tipping: tuple[Tipping, ...] = ()
    if truck is None:
        give = "give lifting.truck: deck height and the width of the cradle"
        checks.append(check("Height on the truck", height, None, H_max.source, remedy=give))
        checks.append(check("Tipping on the truck's deck", largest("h_c", heights), None, _CARGO, remedy=give))
    else:
        h_t = height_on_deck(h_d=truck.deck, h_0=height)
        checks.append(_within("Height on the truck", h_t, H_max, TALL))
        tipping = tuple(_tipping(truck, of, heights[of.name]) for of in loads)
        checks += [of.check for of in tipping]
    alone = tuple(found for of in loads if (found := _alone(job, of, heights[of.name], z_0, wind if len(loads) == 1 else None)))
    return Transport(length, width, height, ends, W_g, heights, h_t, tipping, alone, tuple(checks))


def _lugs(job: Any, lifts: tuple[Lift, ...]) -> Value | None:
    """Return the top of the highest lug above grade."""
    if not lifts or job.lifting.lug is None:
        return None
    highest = sorted((made.z_p for made in lifts), key=lambda z: z.m_as("ft"))[-1]
    return top_of_lug(z_p=highest, R=job.lifting.lug.radius)


def _tipping(truck: Any, of: Hanging, h_c: Value) -> Tipping:
    M_o = tipping_moment(a_lat=truck.acceleration, W=of.W_0, h_c=h_c)
    M_s = standing_moment(W=of.W_0, b_t=truck.stance, y_bar=of.y_bar)
    F_d = tie_down(M_o=M_o, M_s=M_s, b_t=truck.stance)
    name = "Tipping on the truck's deck" + ("" if of.name == "rack" else f", {of.name}")
    remedy = f"ties on each side must add {F_d.text()} downward, or lay the rack down, or use a wider cradle"
    standing = M_s if M_s.magnitude > 0 else None  # without: the center is beyond the tie lines
    return Tipping(of.name, M_o, M_s, F_d, check(name, M_o, standing, _CARGO, remedy=remedy))


def _within(name: str, demand: Value, limit: Value, remedy: str) -> Check:
    return check(name, demand, limit, limit.source, remedy=f"{remedy}, or ask for a permit")


def _alone(job: Any, of: Hanging, h_c: Value, z_0: Value, wind: Any) -> Alone | None:
    """Return how easily what stands on its own base plates tips; None without plates. Wind: that on the whole rack, or None."""
    plate = job.frame.base_plate
    if plate is None:
        return None
    b = own_base(d=job.frame.depth, B=plate.width)
    a_0 = tipping_acceleration(b=b, y_bar=of.y_bar, h_c=h_c)
    if wind is None:
        return Alone(of.name, b, a_0)
    sides = {"wind on the front": wind.front, "wind on the back": wind.back}
    M_w = largest("M_w", {name: wind_about_underside(M=side.M, V=side.V, z_0=z_0) for name, side in sides.items()})
    M_s = standing_moment(W=of.W_0, b_t=b, y_bar=of.y_bar)
    V_0 = tipping_wind(V=job.site.wind.speed, M_s=M_s, M_w=M_w) if M_w.magnitude > 0 else None
    return Alone(of.name, b, a_0, M_s, M_w, V_0)


@formula(Source("derivation", "rows of posts and their base plates"), b="in")
def own_base(d, B):
    """Return the width the rack stands on by itself."""
    b = d + B
    return b

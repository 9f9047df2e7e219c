"""On the truck: the rack within the limits of the road, and standing on the deck; and standing before it is anchored."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.geometry import Parts, parts, read
from rackbook.loads.members import grout
from rackbook.loads.weights import Weights
from rackbook.tables import table
from rackbook.trace import Check, Source, Value, assume, check, formula, largest
from rackbook.trace.maths import abs, max, sqrt

from .modules import Hanging

_BOX = Source("derivation", "box around all parts of the rack")
_TIPPING = Source("derivation", "moment about the line the rack stands or is tied on, against that of its weight")
_CARGO = Source("clause", "49 CFR", "", "393.102(a)(1), against breaking strength", "read")
TARE = assume(35000.0, "lbf", "tractor and trailer without load: common practice", "W_t")
TALL = "lay the rack on its back for the road or take a lower deck"


@formula(Source("derivation", "underside of the base plates above grade"), z_0="ft")
def underside(e, t_g):
    """Return the height of the rack's underside above grade: pier projection and grout."""
    z_0 = e + t_g
    return z_0


@formula(Source("derivation", "heights counted from the rack's underside"), h="ft")
def above_underside(z, z_0):
    """Return a height above the rack's underside."""
    h = z - z_0
    return h


@formula(Source("derivation", "load on the deck"), h_t="ft")
def height_on_deck(h_d, h):
    """Return the height of the load above the road."""
    h_t = h_d + h
    return h_t


@formula(Source("derivation", "room above the deck"), h_l="ft")
def load_height(H, h_d):
    """Return the height of load that a limit leaves above a deck."""
    h_l = H - h_d
    return h_l


@formula(Source("derivation", "truck and load"), W_g="lbf")
def on_the_road(W_t, W_0):
    """Return the weight of truck and load."""
    W_g = W_t + W_0
    return W_g


@formula(_TIPPING, M_o="lbf*ft")
def tipping_moment(a_lat, W_0, h_c):
    """Return the moment that tips the rack sideways."""
    M_o = a_lat * W_0 * h_c
    return M_o


@formula(_TIPPING, M_s="lbf*ft")
def standing_moment(W_0, b_t, y_bar):
    """Return the moment of the weight about the nearer line of its base."""
    M_s = W_0 * max(b_t / 2 - abs(y_bar), 0)
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
class Transport:
    """The rack on the truck and before it is anchored.

    Attributes:
        length, width, height: Box around the rack; the length is that of the longest module.
        h_c: Height of its center of gravity above its underside.
        h_t: Height above the road on the truck's deck.
        M_o, M_s: Moment that tips it on the deck, and that of its weight about the nearer line.
        F_d: Downward force of the ties on the far side.
        b: Width it stands on by itself.
        a_0, V_0: Sideways acceleration and gust at which it tips by itself; the gust where the wind is given.
        checks: Limits of the road and tipping.

    """

    length: Value
    width: Value
    height: Value
    h_c: Value
    h_t: Value | None
    M_o: Value | None
    M_s: Value | None
    F_d: Value | None
    b: Value | None
    a_0: Value | None
    V_0: Value | None
    checks: tuple[Check, ...]


def transport(job: Any, weights: Weights, loads: tuple[Hanging, ...], wind: Any = None) -> Transport:
    """Return the rack on the truck, whose deck and width of tie lines the job gives, and standing alone.

    Args:
        job: The job.
        weights: Its weights.
        loads: What goes on a truck at once: the rack or its modules.
        wind: Its wind, for the gust at which the rack tips before it is anchored.

    """
    limits = table("transport_limits")
    z_0 = underside(e=job.piers.projection, t_g=grout(job))
    rack = parts(job)
    width, top = _size(rack, "y", "B"), _size(rack, "z", "z_t")
    height, h_c = above_underside(z=top, z_0=z_0), above_underside(z=weights.z_bar, z_0=z_0).named("h_c")
    length = largest("L", {of.name: _long(of, rack, len(loads) == 1) for of in loads})
    checks = [
        _within("Width on the road", width, limits.cell("width", "length", "B_max"), "turn or take apart what stands out"),
        _within("Length on a trailer", length, limits.cell("trailer_length", "length", "L_max"), "splice the rack"),
        _within("Weight of truck and rack", on_the_road(W_t=TARE, W_0=weights.W), limits.cell("gross", "weight", "W_max"),
                "split the load"),
    ]  # fmt: skip
    truck = job.lifting.truck if job.lifting is not None else None
    H_max = limits.cell("height", "length", "H_max")
    h_t = M_o = M_s = F_d = None
    if truck is None:
        give = "give lifting.truck: deck height and the width between the tie lines"
        checks.append(check("Height on the truck", height, None, H_max.source, remedy=give))
        checks.append(check("Tipping on the truck's deck", h_c, None, _CARGO, remedy=give))
    else:
        h_t = height_on_deck(h_d=truck.deck, h=height)
        checks.append(_within("Height on the truck", h_t, H_max, TALL))
        M_o = tipping_moment(a_lat=truck.acceleration, W_0=weights.W, h_c=h_c)
        M_s = standing_moment(W_0=weights.W, b_t=truck.stance, y_bar=weights.y_bar)
        F_d = tie_down(M_o=M_o, M_s=M_s, b_t=truck.stance)
        remedy = f"ties on each side must add {F_d.text()} downward, or lay the rack down, or widen the tie lines"
        if M_s.magnitude > 0:
            checks.append(check("Tipping on the truck's deck", M_o, M_s, _CARGO, remedy=remedy))
        else:
            checks.append(check("Tipping on the truck's deck", M_o, None, _CARGO, remedy="widen the tie lines past the center"))
    b, a_0, V_0 = _alone(job, weights, h_c, wind)
    return Transport(length, width, height, h_c, h_t, M_o, M_s, F_d, b, a_0, V_0, tuple(checks))


def _within(name: str, demand: Value, limit: Value, remedy: str) -> Check:
    return check(name, demand, limit, limit.source, remedy=f"{remedy}, or ask for a permit")


def _alone(job: Any, weights: Weights, h_c: Value, wind: Any) -> tuple[Value | None, Value | None, Value | None]:
    """Return the width the rack stands on by itself, and the acceleration and gust at which it tips; None without plates."""
    plate = job.frame.base_plate
    if plate is None:
        return None, None, None
    b = own_base(d=job.frame.depth, B=plate.width)
    a_0 = tipping_acceleration(b=b, y_bar=weights.y_bar, h_c=h_c)
    V_0 = None
    if wind is not None:
        M_w = largest("M_w", {"wind on the front": wind.front.M, "wind on the back": wind.back.M})
        M_s = standing_moment(W_0=weights.W, b_t=b, y_bar=weights.y_bar)
        V_0 = tipping_wind(V=job.site.wind.speed, M_s=M_s, M_w=M_w) if M_w.magnitude > 0 else None
    return b, a_0, V_0


@formula(Source("derivation", "rows of posts and their base plates"), b="in")
def own_base(d, B):
    """Return the width the rack stands on by itself."""
    b = d + B
    return b


def _size(rack: Parts, axis: str, symbol: str) -> Value:
    """Return the width of the box around the rack across (y), or the height of its top above grade (z)."""
    size = {"y": "d", "z": "h"}[axis]
    given = {"center": getattr(rack, axis).to("ft"), "size": getattr(rack, size).to("ft")}
    return read("box around the rack", _BOX, "ft", _across if axis == "y" else _top, given, symbol)


def _across(center: np.ndarray, size: np.ndarray) -> float:
    return float(np.max(center + size / 2) - np.min(center - size / 2))


def _top(center: np.ndarray, size: np.ndarray) -> float:
    return float(np.max(center + size / 2))


def _long(of: Hanging, rack: Parts, alone: bool) -> Value:
    """Return the length of what goes on a truck: of the whole rack with all that overhangs, of a module between its cuts."""
    if alone:
        given = {"center": rack.x.to("ft"), "size": rack.w.to("ft")}
        return read("length of the rack", _BOX, "ft", _across, given, "L")
    return module_length(a=of.a, b=of.b)


@formula(Source("derivation", "between the cuts"), L="ft")
def module_length(a, b):
    """Return the length of a module."""
    L = b - a
    return L

"""One lift: the hook over the center of gravity, every leg with its angle and tension, and whether the load hangs well."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace
from typing import Any

from rackbook.loads.members import PLANE, post_lines, post_rows
from rackbook.trace import Check, DomainError, Source, Value, check, given

from .beam import State
from .lug import hole_above_foot
from .modules import Hanging
from .slings import (
    MAX_TILT,
    MIN_ANGLE,
    REFUSED,
    across_part,
    along_part,
    angle_factor,
    between,
    four_legs,
    half_span,
    hoisted,
    horizontal_part,
    leaning_part,
    leg_angle,
    leg_length,
    off_middle,
    pair_share,
    pick_height,
    reach,
    reach_along,
    share,
    tension,
    tilt_across,
    tilt_if_equal,
    two_legs,
)

_STATICS = Source("derivation", "statics: no leg can push")
_HANGS = Source("derivation", "statics: a load hangs stably from above its center of gravity")
#: How near a pick must lie to a post line to count as standing on the post [ft].
NEAR = 1 / 12
NO_CAP = given(0.0, "in", Source("derivation", "no cap plate under the lug"), "t_c")
MOVE = "move the pick points so that the center of gravity lies between them"


@dataclass(frozen=True)
class Leg:
    """One leg: its pick, length, angle, and the largest vertical share, tension, and parts along and across it can get."""

    label: str
    x: Value
    y: Value
    L_s: Value
    theta: Value
    K: Value
    V: Value
    T: Value
    H: Value
    P_y: Value


@dataclass(frozen=True)
class Lift:
    """One lift.

    Attributes:
        of: What hangs on the hook.
        W_I: Its weight with impact.
        picks: Places of the picks along the rack, from the left.
        on_posts: Whether they stand on the tops of posts; otherwise on the top rail.
        in_line: Whether all are in the post plane, in one line along the rack.
        z_p: Height of the picks above grade: of the holes of the lugs.
        legs: Every leg; empty where the picks do not allow the lift.
        T: Largest tension; None without legs.
        phi: Tilt across, of a rack whose picks are in one line; None where the slings hold it level.
        phi_0: Tilt along, were the legs of equal length.
        states: Ways of hanging, for the bending of the rack.
        checks: Picks, stability, angle, tilt.
        notes: Cautions, in words.

    """

    of: Hanging
    W_I: Value
    picks: tuple[Value, ...]
    on_posts: bool
    in_line: bool
    z_p: Value
    legs: tuple[Leg, ...] = ()
    T: Value | None = None
    phi: Value | None = None
    phi_0: Value | None = None
    states: tuple[State, ...] = ()
    checks: tuple[Check, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def said(self) -> str:
        """What starts the name of each of its checks: nothing for a rack lifted whole."""
        return "" if self.of.name == "rack" else f"{self.of.name.capitalize()}: "

    @property
    def worst(self) -> Leg:
        """The leg of the largest tension."""
        return max(self.legs, key=lambda leg: leg.T.magnitude)


def places_needed(job: Any) -> int:
    """Return at how many places along the rack one lift is picked: each place of two rows has a front and a back leg."""
    return 4 if job.lifting.legs == 4 and job.frame.depth.magnitude == 0 else 2


def lift(job: Any, of: Hanging, picks: tuple[Value, ...]) -> Lift:
    """Return one lift of what hangs on the hook.

    Args:
        job: The job; its legs, hook, impact and which legs carry.
        of: What is lifted.
        picks: Places along the rack, as many as ``places_needed`` says.

    Raises:
        DomainError: Two picks stand at one place.

    """
    picks = tuple(x.named(f"x_{n}") for n, x in enumerate(sorted(picks, key=lambda x: x.m_as("ft")), 1))
    for one, other in itertools.pairwise(picks):
        if abs(other.m_as("ft") - one.m_as("ft")) < 1e-6:
            raise DomainError(f"Two pick points stand at {other.text()} ({other.source.citation}). Give each its own place.")
    on_posts, z_p = _height(job, picks)
    line = job.lifting.legs == 2 or job.frame.depth.magnitude == 0
    made = Lift(of, hoisted(W=of.W_0, I_m=job.lifting.impact), picks, on_posts, line, z_p)
    checks = _hanging(job, made)
    allowed = all(c.passes for c in checks[:-1])
    if not allowed or (line and of.z_bar.m_as("ft") > z_p.m_as("ft") - 1e-6):
        return replace(made, checks=tuple(checks), notes=_notes(job, made))
    phi = tilt_across(y_bar=of.y_bar, y_p=PLANE, z_p=z_p, z_bar=of.z_bar) if line else None
    if job.lifting.legs == 2:
        legs, states = _two_legs(job, made, phi)
    else:
        legs, states = _line_legs(job, made, phi) if line else _corner_legs(job, made)
    middle = between(x_1=picks[0], x_2=picks[-1])
    phi_0 = tilt_if_equal(x_bar=of.x_bar, m=middle, h_s=job.lifting.hook, z_p=z_p, z_bar=of.z_bar)
    checks.append(_angle(made, legs))
    if phi is not None:
        remedy = "pick from a beam above the rack or add ballast, or accept the tilt in writing and guide it with tag lines"
        checks.append(check(f"{made.said}Tilt across the rack as it hangs", phi, MAX_TILT, MAX_TILT.source, remedy=remedy))
    T = max((leg.T for leg in legs), key=lambda T: T.magnitude)
    notes = _notes(job, made)
    return replace(made, legs=legs, T=T, phi=phi, phi_0=phi_0, states=states, checks=tuple(checks), notes=notes)


def _hanging(job: Any, made: Lift) -> list[Check]:
    """Return whether the center of gravity lies between the picks, along and across, and, last, below them."""
    of, picks = made.of, made.picks
    inner = len(picks) == 4 and job.lifting.carrying == "all"  # then two legs are needed on either side
    ends = (picks[1], picks[2]) if inner else (picks[0], picks[-1])
    checks = [_between(f"{made.said}Center of gravity between the picks, along", of.x_bar, *ends)]
    if not made.in_line:
        rows = (y for _, y in post_rows(job))
        checks.append(_between(f"{made.said}Center of gravity between the picks, across", of.y_bar, *rows))
    remedy = "pick at the tops of the posts, or from a frame above the rack"
    checks.append(check(f"{made.said}Center of gravity below the picks", of.z_bar, made.z_p, _HANGS, remedy=remedy))
    return checks


def _height(job: Any, picks: tuple[Value, ...]) -> tuple[bool, Value]:
    """Return whether the picks stand on posts, and the height at which the slings pull: the holes of the lugs.

    The lugs stand on the tops of the posts or on the top rail; without a lug the height is that of its seat.
    """
    lines, lug = [x.m_as("ft") for x in post_lines(job)], job.lifting.lug
    on_posts = all(any(abs(x.m_as("ft") - line) <= NEAR for line in lines) for x in picks)
    z_s = job.frame.height if on_posts else top_rail(job)
    if lug is None:
        return on_posts, z_s.named("z_p")
    t_c = lug.cap if on_posts and lug.cap is not None else NO_CAP
    return on_posts, pick_height(z_s=z_s, t_c=t_c, e_h=hole_above_foot(lug))


def top_rail(job: Any) -> Value:
    """Return the height of the top rail."""
    return max((rail.height for rail in job.frame.rails), key=lambda z: z.m_as("ft"))


def _between(name: str, c: Value, p: Value, o: Value) -> Check:
    m = between(x_1=p, x_2=o)
    return check(name, off_middle(x_bar=c, m=m), half_span(x_1=p, x_2=o), _STATICS, remedy=MOVE)


def _angle(made: Lift, legs: tuple[Leg, ...]) -> Check:
    least = min((leg.theta for leg in legs), key=lambda theta: theta.magnitude)
    limit = REFUSED if least.m_as("deg") < REFUSED.m_as("deg") else MIN_ANGLE
    remedy = "raise the hook (longer slings), set the picks closer, or use a spreader beam"
    return check(f"{made.said}Minimum sling angle, required / provided", limit, least, limit.source, remedy=remedy)


def _leg(label: str, x: Value, y: Value, L_s: Value, theta: Value, V: Value, T: Value, H: Value, P_y: Value) -> Leg:
    return Leg(label, x, y, L_s, theta, angle_factor(theta=theta), V, T, H, P_y)


def _two_legs(job: Any, made: Lift, phi: Value | None) -> tuple[tuple[Leg, ...], tuple[State, ...]]:
    x_bar, h_s = made.of.x_bar, job.lifting.hook
    a_1, a_2 = (reach_along(x_bar=x_bar, x_p=x) for x in made.picks)
    pair = two_legs(made.W_I, h_s, a_1, a_2)
    sides = ((pair.L_1, pair.theta_1, pair.V_1, pair.T_1), (pair.L_2, pair.theta_2, pair.V_2, pair.T_2))
    legs = tuple(
        _leg(f"leg {n} at {x.text()}", x, PLANE, L, theta, V, T, pair.H, _leaning(V, phi))
        for n, (x, (L, theta, V, T)) in enumerate(zip(made.picks, sides, strict=True), 1)
    )
    return legs, (((0, 1, 1.0),),)


def _leaning(V: Value, phi: Value | None) -> Value:
    assert phi is not None  # picks in one line always hang at some tilt
    return leaning_part(V=V, phi=phi)


def _corner_legs(job: Any, made: Lift) -> tuple[tuple[Leg, ...], tuple[State, ...]]:
    of, h_s, carrying = made.of, job.lifting.hook, str(job.lifting.carrying)
    rows = dict(post_rows(job))
    legs: list[Leg] = []
    for x, x_o in (made.picks, made.picks[::-1]):
        s_x = share(c=of.x_bar, p=x, o=x_o).named("s_x")
        for row, back in (("front", "back"), ("back", "front")):
            y = rows[row]
            s_y = share(c=of.y_bar, p=y, o=rows[back]).named("s_y")
            L = leg_length(a=reach(x_bar=of.x_bar, x_p=x, y_bar=of.y_bar, y_p=y), h_s=h_s)
            theta = leg_angle(h_s=h_s, L_s=L)
            V, T = four_legs(made.W_I, s_x, s_y, theta, carrying)
            H, P_y = along_part(V=V, x_bar=of.x_bar, x_p=x, h_s=h_s), across_part(V=V, y_bar=of.y_bar, y_p=y, h_s=h_s)
            legs.append(_leg(f"leg {len(legs) + 1} at {x.text()} {row}", x, y, L, theta, V, T, H, P_y))
    return tuple(legs), (((0, 1, 1.0),),)


def _line_legs(job: Any, made: Lift, phi: Value | None) -> tuple[tuple[Leg, ...], tuple[State, ...]]:
    """Return four legs in one line: nested pairs sharing alike, or each leg with the pick that loads it most."""
    of, h_s, picks = made.of, job.lifting.hook, made.picks
    places, middle = range(len(picks)), of.x_bar.m_as("ft")
    all_carry = job.lifting.carrying == "all"
    n = given(2.0 if all_carry else 1.0, "", Source("derivation", "pairs of legs that carry at once"), "n")
    states: tuple[State, ...] = (((0, 3, 0.5), (1, 2, 0.5)),)
    if not all_carry:
        states = tuple(((i, j, 1.0),) for i in places for j in places if picks[i].m_as("ft") < middle < picks[j].m_as("ft"))
    legs: list[Leg] = []
    for i, x in enumerate(picks):
        left = x.m_as("ft") < middle
        partner = picks[3 - i] if all_carry else picks[-1 if left else 0]
        L = leg_length(a=reach_along(x_bar=of.x_bar, x_p=x), h_s=h_s)
        theta = leg_angle(h_s=h_s, L_s=L)
        V = pair_share(W_I=made.W_I, s_x=share(c=of.x_bar, p=x, o=partner).named("s_x"), n=n)
        T = tension(V=V, theta=theta)
        H = horizontal_part(T=T, theta=theta)
        legs.append(_leg(f"leg {i + 1} at {x.text()}", x, PLANE, L, theta, V, T, H, _leaning(V, phi)))
    return tuple(legs), states


def _notes(job: Any, made: Lift) -> tuple[str, ...]:
    notes = []
    if not made.on_posts:
        notes.append(f"{made.said}A pick point is off the posts: all lugs stand on the top rail.")
    if job.lifting.legs == 4 and job.lifting.carrying == "all":
        notes.append(
            f"{made.said}All four legs are counted as carrying: that needs legs of adjusted length and a load reading on each."
        )
    return tuple(notes)

"""The frame as a result: what governs, what is checked, and every combination on request."""

from __future__ import annotations

from dataclasses import dataclass

from rackbook.loads.seismic import BaseShear
from rackbook.trace import Check, Value

from ..combinations import Combinations, CombinationSet
from .analysis import Analysis
from .arrays import Actions, Base, Clips, Reactions, Splices
from .combined import Superposed
from .members import FrameMember
from .second_order import Sway
from .service import Moved, Shaken
from .turning import Turning


@dataclass(frozen=True)
class Governing:
    """The largest of one component among members of a part, or among the bases: where, under what, and the number."""

    where: str
    combination: str
    value: Value


@dataclass(frozen=True, eq=False)
class Frame:
    """The frame of a rack, solved for its unit cases.

    Attributes:
        governing: Largest actions by part (``post``, ``rail``, ``brace``, ``tie``) and reactions (``base``), by component, in
            the set the steel is designed by.
        sways: Sway of the rack ``along`` and ``across``.
        drift: Largest drift in service ``along`` and ``across``.
        shaken: Largest drift under earthquake ``along`` and ``across``; no limit.
        deflections: Largest deflection of a rail in service ``down`` and ``sideways``.
        checks: Amplifier of the sway, drift, deflections, stiffness of frame and foundations.
        turning: Rotational stiffness the foundations must have; None for pinned bases, or where drift is over its limit.
        notes: Remarks, in words.
        results: Arrays and Values of all combinations; see the methods.
        shears: Seismic base shear ``along`` and ``across``, with the period it was worked out with.

    """

    governing: dict[str, dict[str, Governing]]
    sways: dict[str, Sway]
    drift: dict[str, Moved]
    shaken: dict[str, Shaken]
    deflections: dict[str, Moved]
    checks: tuple[Check, ...]
    notes: tuple[str, ...]
    results: Superposed
    shears: dict[str, BaseShear]
    turning: Turning | None = None

    @property
    def cases(self) -> tuple[str, ...]:
        """Names of the unit cases."""
        return self.results.analysis.cases

    @property
    def method(self) -> str:
        """``LRFD`` or ``ASD``: what the steel is designed by."""
        return self.results.method

    @property
    def combinations(self) -> Combinations:
        """The load combinations of the job."""
        return self.results.combined

    @property
    def sets(self) -> dict[str, CombinationSet]:
        """The sets of load combinations by name."""
        return self.results.sets

    @property
    def members(self) -> tuple[FrameMember, ...]:
        """Members in order: posts, rails bay by bay, ties, braces."""
        return self.results.members

    @property
    def bases(self) -> tuple[Base, ...]:
        """Bases of the posts."""
        return self.results.bases

    @property
    def analysis(self) -> Analysis:
        """The solved unit cases."""
        return self.results.analysis

    def actions(self, set_name: str) -> Actions:
        """Return the second-order actions in all members under all combinations of a set."""
        return self.results.actions(set_name)

    def reactions(self, set_name: str) -> Reactions:
        """Return what the frame exerts on the foundation under all combinations of a set."""
        return self.results.reactions(set_name)

    def clips(self, set_name: str) -> Clips:
        """Return what the rails exert on the posts under all combinations of a set."""
        return self.results.clips(set_name)

    def splices(self, set_name: str) -> Splices:
        """Return the actions in the rails at their splices under all combinations of a set."""
        return self.results.splices(set_name)

    def action(self, set_name: str, component: str, member: int, combination: int, station: int) -> Value:
        """Return one action as a Value: factors times unit cases, amplified.

        Args:
            set_name: The set.
            component: ``P``, ``V_y``, ``V_x``, ``T``, ``M_x`` or ``M_y``.
            member: Index into ``members``.
            combination: Index into the set.
            station: Index into the arrays of actions.

        """
        return self.results.action(set_name, component, member, combination, station)

    def reaction(self, set_name: str, component: str, base: int, combination: int) -> Value:
        """Return one reaction as a Value; component as in :class:`Reactions`."""
        return self.results.reaction(set_name, component, base, combination)

    def clip(self, set_name: str, component: str, clip: int, combination: int) -> Value:
        """Return one force of a rail on its post as a Value; component as in :class:`Clips`."""
        return self.results.clip(set_name, component, clip, combination)

    def splice(self, set_name: str, component: str, splice: int, combination: int) -> Value:
        """Return one action in a rail at a splice as a Value; component as in :class:`Splices`."""
        places = self.analysis.solved.places
        station = places.splices[splice]
        return self.action(set_name, component, int(places.member[station]), combination, station)

"""By hand beside the analysis: posts as cantilevers on their tributary width, and the portal method along the rack."""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np

from rackbook.loads.geometry import read
from rackbook.trace import Source, Step, Value, formula, given
from rackbook.trace.maths import abs, sum

from ..steel import E as E_STEEL
from .analysis import SOURCE, Task
from .combined import Superposed
from .second_order import ALPHA
from .sections import section_of
from .superpose import take

_LEVER = Source("derivation", "lever rule: a force between two posts goes to each by its nearness")
_STATICS = Source("derivation", "statics of a cantilever post")
_PORTAL = Source("derivation", "portal method: equal shears, posts bent to a point of no moment halfway to the lowest rail")


@formula(Source("derivation", "underside of the base plates above grade"), z_0="in")
def height_of_base(z_pier, t_g):
    """Return the height of the underside of the base plates."""
    z_0 = z_pier + t_g
    return z_0


@formula(_STATICS, M="kip*in")
def cantilever_moment(F, s, z, z_0):
    """Return the moment at the base of a post from its share s of the forces."""
    M = sum(F * s * (z - z_0))
    return M


@formula(_STATICS, Delta="in")
def cantilever_drift(F, s, z, z_0, L, E, I):
    """Return the displacement of the top of a post from its share s of the forces."""
    Delta = sum(F * s * (z - z_0) ** 2 * (3 * L - z + z_0)) / (6 * E * I)
    return Delta


@formula(_STATICS, M="kip*in")
def shared_moment(F, z, z_0, n):
    """Return the moment at the base of each of n cantilever posts that share the forces equally."""
    M = sum(F * (z - z_0)) / n
    return M


@formula(_PORTAL, M="kip*in")
def portal_moment(F, z_1, z_0, n):
    """Return the moment at the base of each of n posts between base and lowest rail."""
    M = sum(F) / n * (z_1 - z_0) / 2
    return M


@formula(Source("derivation", "absolute value"), M="kip*in")
def size_moment(M_i):
    """Return the absolute value of a moment."""
    M = abs(M_i)
    return M


@formula(Source("derivation", "absolute value"), Delta="in")
def size_displacement(Delta_i):
    """Return the absolute value of a displacement."""
    Delta = abs(Delta_i)
    return Delta


@dataclass(frozen=True)
class Beside:
    """One number of the analysis with the bounds an estimate by hand gives for it.

    Attributes:
        what: The number.
        analysis: Its value by the analysis.
        low, high: The bounds; None for no bound below.
        remark: How the bounds were found.

    """

    what: str
    analysis: Value
    low: Value | None
    high: Value
    remark: str

    @property
    def result(self) -> str:
        """Whether the analysis lies between the bounds."""
        number = self.analysis.magnitude
        above = self.low is None or number >= self.low.m_as(self.analysis.unit)
        return "within" if above and number <= self.high.m_as(self.analysis.unit) else "OUTSIDE"


def estimates(results: Superposed) -> tuple[Beside, ...]:
    """Return the numbers of the unit cases of wind that can be estimated by hand, beside those of the analysis."""
    analysis = results.analysis
    given_, built, of = analysis.given, analysis.solved.built, analysis.task.layout
    z_0 = height_of_base(z_pier=given_["z_pier"], t_g=given_["t_g"])
    n = given(float(len(built.posts)), "", Source("derivation", "number of posts"), "n")
    found = []
    if len(of.rows) == 1:
        found += _across(results, z_0, n)
    F, z = given_["F W left"], given_["z W left"]
    lowest = float(np.min(given_["z_rail"].m_as("in")))
    z_1 = read("height of the lowest rail", _STATICS, "ft", _lowest, {"z_rail": given_["z_rail"]}, "z_1")
    alone = shared_moment(F=F, z=z, z_0=z_0, n=n)
    case = analysis.cases.index("W left")
    moments = analysis.results["reaction moments"]
    post = int(np.argmax(np.abs(moments.magnitude[1, :, case])))
    M = size_moment(M_i=take(moments, (1, post, case), f"M_y at {built.post_marks[post]} in case W left", "M_i"))
    where = f"Moment at the base of {built.post_marks[post]}, W left"
    if of.moment and lowest > z_0.m_as("in"):
        low = portal_moment(F=F, z_1=z_1, z_0=z_0, n=n)
        found.append(Beside(where, M, low, alone, "portal method with rigid rails; all posts alike as cantilevers"))
    else:
        found.append(Beside(where, M, None, alone, "all posts alike as cantilevers"))
    return tuple(found)


def _across(results: Superposed, z_0: Value, n: Value) -> list[Beside]:
    """Return moment and drift of the post that wind on the front loads most, in a single row."""
    analysis = results.analysis
    given_, built = analysis.given, analysis.solved.built
    case, marks = analysis.cases.index("W front"), built.post_marks
    moments, moved = analysis.results["reaction moments"], analysis.results["displacements"]
    post = int(np.argmax(np.abs(moments.magnitude[0, :, case])))
    words = f"share of the forces that go to {marks[post]}"
    places = {"u": given_["u W front"], "x_post": given_["x_post"]}
    s = read(words, _LEVER, "", functools.partial(_hat, post), places, "s")
    F, z = given_["F W front"], given_["z W front"]
    by_hand = cantilever_moment(F=F, s=s, z=z, z_0=z_0)
    top = results.sways["across"].L
    I = section_of(analysis.task.layout.sections[analysis.task.layout.post]).I_x
    drift = cantilever_drift(F=F, s=s, z=z, z_0=z_0, L=top, E=E_STEEL, I=I)
    M = size_moment(M_i=take(moments, (0, post, case), f"M_x at {marks[post]} in case W front", "M_i"))
    place = (1, int(built.tops[post]), case)
    Delta = size_displacement(
        Delta_i=take(moved, place, f"displacement of the top of {marks[post]} in case W front", "Delta_i")
    )
    alike = shared_moment(F=F, z=z, z_0=z_0, n=n)
    tributary = "cantilever on its tributary width, lever rule"
    return [
        Beside(f"Moment at the base of {marks[post]}, W front", M, alike, by_hand, f"equal shares; {tributary}"),
        Beside(f"Displacement of the top of {marks[post]}, W front", Delta, None, drift, tributary),
    ]


def _hat(post: int, u: np.ndarray, x_post: np.ndarray) -> np.ndarray:
    return np.interp(u, np.atleast_1d(x_post), np.eye(len(np.atleast_1d(x_post)))[post])


def _lowest(z_rail: np.ndarray) -> float:
    return float(np.min(z_rail))


@dataclass(frozen=True, eq=False)
class Second:
    """The operation behind a moment at a base by geometric stiffness: the combination solved with its axial forces."""

    name: str
    task: Task
    place: tuple[int, int]
    alpha: float
    source: Source = SOURCE

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Solve the combination again with the geometric stiffness of its axial forces."""
        numbers = {n: v.magnitude for n, v in given.items() if n != "c"}
        solved = self.task(**numbers)
        second = self.task.second(solved, given["c"].magnitude * self.alpha)
        found = abs(float(second.reactions[(*self.place, 0)])) / self.alpha
        return Value(found, "kip*in", Step(self, given), "M_P")


def by_geometric_stiffness(results: Superposed, name: str, component: str, base: int, k: int) -> Value:
    """Return a moment at a base by second-order analysis with geometric stiffness, to compare the amplified one with.

    The axial forces are those of the first order. An absolute value.

    Args:
        results: The frame.
        name: Set of combinations.
        component: ``M_x`` or ``M_y``.
        base: The base.
        k: The combination.

    Raises:
        DomainError: The frame buckles under the combination.

    """
    alpha = ALPHA[results.sets[name].method].magnitude
    place = (3 + ("M_x", "M_y").index(component), base)
    operation = Second("second order by geometric stiffness", results.analysis.task, place, alpha)
    return operation.evaluate({**results.analysis.given, "c": results.factors(name, k)})

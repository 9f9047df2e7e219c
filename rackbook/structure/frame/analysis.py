"""The analysis as an operation on Values: what it rests on is lined up, and it can be worked again on other numbers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.seismic import Seismic
from rackbook.loads.seismic.effects import ACCIDENTAL, accidental_twisting
from rackbook.loads.weights import Weights
from rackbook.loads.wind import Wind
from rackbook.loads.wind.rack import torsion_sum
from rackbook.trace import DomainError, Source, Step, Value, given, largest
from rackbook.trace.columns import column

from .attach import Hung, attached, hang, spreads
from .cases import Loaded, Loads, live_places, unit_loads
from .layout import Layout, geometry, layout
from .nodes import build
from .solve import Solved, solve

#: Share of the gravity loads that acts sideways as a notional load.
NOTIONAL = given(0.002, "", Source("clause", "AISC 360", "16 and 22", "Eq. C2-1", "memory"), "n_N")
SOURCE = Source("derivation", "frame in space, linear, by PyNiteFEA's stiffness matrix; see the sheet of the frame")
BUCKLES = "Under this combination the frame buckles: take stiffer posts, or brace it."
#: What the arrays of results hold, by name: unit, and how they are taken off a solution.
RESULTS = {
    "forces": ("kip", lambda s: s.actions[:3]),
    "moments": ("kip*in", lambda s: s.actions[3:]),
    "reaction forces": ("kip", lambda s: s.reactions[:3]),
    "reaction moments": ("kip*in", lambda s: s.reactions[3:]),
    "joint forces": ("kip", lambda s: s.joints[:3]),
    "joint moments": ("kip*in", lambda s: s.joints[3:]),
    "displacements": ("in", lambda s: s.displacements.reshape(-1, 6, s.displacements.shape[-1])[:, :3].transpose(1, 0, 2)),
    "load forces": ("kip", lambda s: s.balance[0, :3]),
    "load moments": ("kip*in", lambda s: s.balance[0, 3:]),
    "ground forces": ("kip", lambda s: s.balance[1, :3]),
    "ground moments": ("kip*in", lambda s: s.balance[1, 3:]),
}


def remedies(of: Layout) -> dict[int, str]:
    """Return what to change where the frame can move along the rack (0), across it (1) or otherwise (2)."""
    ways = [] if of.fixed else ["fix the bases (frame.base: fixed)"]
    moment = [] if of.moment else ["let the rail ends pass moments (frame.rail_ends: moment)"]
    along = [*ways, *moment, "place braces from post to post or rail (frame.braces, from and to)"]
    ties = "tie the two rows by members that pass moments (frame.ties, frame.rail_ends: moment)"
    across = [*ways, *([ties] if len(of.rows) > 1 else [])] or ["take two rows of posts (frame.depth)"]
    other = [*ways, *moment] or ["hold what hangs loose there"]
    sentences = [", or ".join(said) for said in (along, across, other)]
    return {n: f"{said[0].upper()}{said[1:]}." for n, said in enumerate(sentences)}


@dataclass(frozen=True, eq=False)
class Task:
    """A frame and its loads in words; called with the numbers it gives the solution."""

    layout: Layout
    loaded: Loaded

    def __call__(self, **m: Any) -> Solved:
        """Solve the frame for numbers by name, each in its own unit (see ``layout.geometry`` and ``cases.unit_loads``)."""
        hung = self.hung(m)
        built = build(self.layout, m, attached(hung))
        loads = unit_loads(built, spreads(self.layout, built, hung), self.loaded, self.layout.faces, m)
        return solve(built, loads, remedies(self.layout))

    def second(self, solved: Solved, factors: np.ndarray) -> Solved:
        """Return a combination of the unit cases solved with the geometric stiffness of its first-order axial forces."""
        loads = solved.loads
        one = Loads(*(part @ factors[:, None] for part in (loads.nodes, loads.uniform, loads.slope, loads.total)))
        axial = (solved.ends[:, 0] - solved.ends[:, 6]) / 2 @ factors
        return solve(solved.built, one, dict.fromkeys(range(3), BUCKLES), axial)

    def hung(self, m: dict[str, Any]) -> tuple[Hung, ...]:
        """Return where the equipment hangs."""
        return hang(self.layout, m)


@dataclass(frozen=True, eq=False)
class Unit:
    """The operation behind an array of results of the unit cases."""

    name: str
    task: Task
    shape: tuple[int, ...]
    source: Source = SOURCE

    def evaluate(self, given: dict[str, Value]) -> Value:
        """Solve the frame again on other numbers.

        Raises:
            DomainError: The model has other nodes then, so that places in its results are no longer the same.

        """
        of, take = RESULTS[self.name]
        found = take(self.task(**{n: v.magnitude for n, v in given.items()}))
        if found.shape != self.shape:
            raise DomainError("With these numbers the frame has other nodes: work the whole job out again.")
        return Value(found, of, Step(self, given), self.name.replace(" ", "_"))


@dataclass(frozen=True, eq=False)
class Analysis:
    """The solution of the unit cases with the Values it rests on.

    Attributes:
        task: Frame and loads in words.
        given: The Values the solution rests on, by name.
        solved: The solution.
        results: The arrays of results as Values, by the names of ``RESULTS``.
        hung: Where the equipment hangs.

    """

    task: Task
    given: dict[str, Value]
    solved: Solved
    results: dict[str, Value]
    hung: tuple[Hung, ...]

    @property
    def cases(self) -> tuple[str, ...]:
        """Names of the unit cases."""
        return self.task.loaded.cases


def analyze(job: Any, weights: Weights, wind: Wind, seismic: Seismic, snow: Any = None, ice: Any = None) -> Analysis:
    """Return the unit cases of a job's frame, solved.

    Raises:
        DomainError: The frame is a mechanism, or a brace ends nowhere.
        LookupFailed: A shape is in no section table.

    """
    of = layout(job)
    rests_on = geometry(job, of, wind.parts)
    loaded = _loads(job, weights, wind, seismic, snow, ice, rests_on)
    task = Task(of, loaded)
    numbers = {n: v.magnitude for n, v in rests_on.items()}
    solved = task(**numbers)
    results = {}
    for name, (unit, take) in RESULTS.items():
        found = np.ascontiguousarray(take(solved))
        results[name] = Value(found, unit, Step(Unit(name, task, found.shape), rests_on), name.replace(" ", "_"))
    return Analysis(task, rests_on, solved, results, task.hung(numbers))


def _loads(job: Any, weights: Weights, wind: Wind, seismic: Seismic, snow: Any, ice: Any, into: dict[str, Value]) -> Loaded:
    """Add the Values of the loads to those the solution rests on, and return the loads in words."""
    parts = weights.parts
    into |= {"w": weights.w, "x": weights.x, "y": weights.y, "z": weights.z, "W": weights.W.to("lbf")}
    if any(p.area is not None for p in parts):
        zero = Value(0.0, "ft**2", Source("derivation", "parts without a coated surface"), "a")
        into["a"] = column("a", {p.label: p.area if p.area is not None else zero for p in parts}, "ft**2")
    cases = ["D"]
    maintenance = getattr(job.allowances, "maintenance", None)
    if maintenance is not None and maintenance.magnitude > 0:
        into["P"] = maintenance.to("lbf")
        cases += live_places(len(job.frame.bays), len(job.frame.rails))
    if snow is not None:
        into["S"], into["z_canopy"] = snow.S.to("lbf"), job.frame.canopy.height.to("ft")
        cases.append("S")
    winds: dict[str, tuple[str, ...]] = {}
    cases += _wind("W", wind.directions, into, winds)
    if ice is not None:
        cases += _ice(ice, into, winds)
    into["Q_along"], into["Q_across"] = seismic.along.F_x.to("lbf"), seismic.across.F_x.to("lbf")
    into["M_ta"] = accidental_twisting(V=seismic.across.V, p_a=ACCIDENTAL, B_x=weights.length).to("lbf*ft")
    into["n_N"] = NOTIONAL
    cases += ["Q along", "Q across", "Q twist", "N along", "N across"]
    iced = tuple(ice.labels) if ice is not None else ()
    return Loaded(tuple(cases), weights.labels, tuple(p.group for p in parts), winds, iced)


def _wind(letter: str, directions: Any, into: dict[str, Value], winds: dict[str, tuple[str, ...]]) -> list[str]:
    """Add the forces of four directions, and the torsion of solid faces (Case B) as a case of its own."""
    cases = []
    for name, d in directions.items():
        case = f"{letter} {name}"
        into |= {f"F {case}": d.F.to("lbf"), f"u {case}": d.u.to("ft"), f"z {case}": d.z.to("ft")}
        winds[case] = d.tags
        cases.append(case)
    signs = {}
    for name in ("front", "back"):
        panels = directions[name].panels
        if panels:
            signs[name] = panels[0].T if len(panels) == 1 else torsion_sum(T_1=panels[0].T, T_2=panels[1].T)
    if signs:
        into["T_W" if letter == "W" else "T_W_i"] = largest("T_s", signs).to("lbf*ft")
        cases.append(f"{letter} twist")
    return cases


def _ice(ice: Any, into: dict[str, Value], winds: dict[str, tuple[str, ...]]) -> list[str]:
    """Add the weight of ice and the wind on it."""
    into |= {"w_i": ice.w.to("lbf"), "x_i": ice.x.to("ft"), "y_i": ice.y.to("in"), "z_i": ice.z.to("ft")}
    return ["D_i", *_wind("W_i", ice.directions, into, winds)]

"""Unit load cases of the frame: the forces of every case on every part, and what the nodes and elements get of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from .attach import ALL_RAILS, POST_TOPS, Spread
from .built import Built

#: Wind from each face: axis of the force and its sense along that axis.
BLOWS = {"front": (1, -1.0), "back": (1, 1.0), "left": (0, 1.0), "right": (0, -1.0)}


@dataclass(frozen=True)
class Loaded:
    """The loads in words.

    Attributes:
        cases: Names of the unit cases in order.
        labels: Labels of the weights, in the order of their columns.
        groups: Group of each of these (``frame``, ``hardware``, ``zinc``, ``canopy``, ``services``, ``equipment``).
        winds: Tags of the parts in each wind case.
        iced: Labels of the parts the ice weighs on.

    """

    cases: tuple[str, ...]
    labels: tuple[str, ...]
    groups: tuple[str, ...]
    winds: dict[str, tuple[str, ...]]
    iced: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class Loads:
    """Loads of all unit cases.

    Attributes:
        nodes: Forces and moments on the nodes (6 n, cases).
        uniform: Loads along the elements in the axes of the rack [kip/in], (e, 3, cases).
        slope: What these grow by from the first end of an element to its second, about its middle [kip/in2], (e, 3, cases).
        total: Sum of all forces and of their moments about the origin, from the parts themselves, (6, cases).

    """

    nodes: np.ndarray
    uniform: np.ndarray
    slope: np.ndarray
    total: np.ndarray


class Gathering:
    """Forces of all cases as they come in, by the spread that carries them."""

    def __init__(self, built: Built, spreads: dict[str, Spread], of: Loaded, m: dict[str, Any]) -> None:
        self.built, self.spreads, self.of = built, spreads, of
        self.count = len(of.cases)
        self.force: dict[str, np.ndarray] = {}
        self.moment: dict[str, np.ndarray] = {}
        self.total = np.zeros((6, self.count))
        self.shares = self._shared(m)
        self.F = np.zeros((6 * len(built.model.xyz), self.count))
        self.w, self.slope = (np.zeros((len(built.model.i), 3, self.count)) for _ in range(2))

    def _shared(self, m: dict[str, Any]) -> dict[str, list[tuple[str, float]]]:
        """Return the members and plates that carry hardware (by weight) and zinc (by surface), with their shares."""
        frame = [n for n, g in enumerate(self.of.groups) if g == "frame"]
        found = {}
        for name, by in (("hardware", m["w"]), ("zinc", m.get("a"))):
            if by is None:
                continue
            amount = np.array([by[n] for n in frame])
            if amount.sum() > 0:
                found[name] = [(self.key(self.of.labels[n]), a) for n, a in zip(frame, amount / amount.sum(), strict=True)]
        return found

    def key(self, label: str) -> str:
        """Return the spread that carries a part: its own, the post tops for a canopy, all rails for the rest."""
        if label in self.spreads:
            return label
        return POST_TOPS if label.startswith("canopy") else ALL_RAILS

    def add(self, case: str, labels: tuple[str, ...], force: np.ndarray, at: np.ndarray) -> None:
        """Add forces (n, 3) [kip] on parts at their points of action (n, 3) [in] to a case."""
        c = self.of.cases.index(case)
        moment = np.cross(at, force)
        for n, label in enumerate(labels):
            spread = self.spreads.get(label)
            if spread is not None and spread.by_halves:
                moment[n] = np.cross(spread.center(self.built), force[n])
        self.total[:3, c] += force.sum(axis=0)
        self.total[3:, c] += moment.sum(axis=0)
        for label, f, m in zip(labels, force, moment, strict=True):
            if label in self.shares and label not in self.spreads:
                rest = m.copy()
                for key, share in self.shares[label]:
                    center = self.spreads[key].center(self.built)
                    part = np.cross(center, share * f)
                    self._put(key, c, share * f, part)
                    rest -= part
                self._put(ALL_RAILS, c, np.zeros(3), rest)
            else:
                self._put(self.key(label), c, f, m)

    def _put(self, key: str, c: int, force: np.ndarray, moment: np.ndarray) -> None:
        if key not in self.force:
            self.force[key], self.moment[key] = np.zeros((3, self.count)), np.zeros((3, self.count))
        self.force[key][:, c] += force
        self.moment[key][:, c] += moment

    def twist(self, case: str, M: float) -> None:
        """Add a twisting moment [kip in] as a load across along the rails that grows evenly from their middle."""
        c, e, model = self.of.cases.index(case), self.spreads[ALL_RAILS].elements, self.built.model
        long, run = model.lengths[e], model.xyz[model.j[e], 0] - model.xyz[model.i[e], 0]
        middle = (model.xyz[model.i[e]] + model.xyz[model.j[e]]) / 2
        arm = middle[:, 0] - long @ middle[:, 0] / long.sum()
        grows = M / (long @ arm**2 + long @ run**2 / 12)  # kip/in of rail, for each inch from the middle
        self.w[e, 1, c] += grows * arm
        self.slope[e, 1, c] += grows * run / long
        pull = grows * arm * long
        self.total[1, c] += pull.sum()
        self.total[3:, c] += np.cross(middle, np.outer(pull, (0.0, 1.0, 0.0))).sum(axis=0)
        self.total[5, c] += grows * (long @ run**2) / 12

    def at_node(self, case: str, node: int, force: np.ndarray) -> None:
        """Add a force at a node."""
        c = self.of.cases.index(case)
        self.F[6 * node : 6 * node + 3, c] += force
        self.total[:3, c] += force
        self.total[3:, c] += np.cross(self.built.model.xyz[node], force)

    def loads(self) -> Loads:
        """Return the loads of all cases."""
        for key, force in self.force.items():
            self.spreads[key].put(self.built, force, self.moment[key], self.F, self.w)
        small = np.abs(self.total) < 1e-12 * np.abs(self.total).max()
        return Loads(self.F, self.w, self.slope, np.where(small, 0.0, self.total))


def live_places(bays: int, rails: int) -> list[str]:
    """Return the cases of the maintenance load: the middle of every bay, then every rail at every post line."""
    middles = [f"L {n}" for n in range(1, bays + 1)]
    return middles + [at_post(r, p) for r in range(1, rails + 1) for p in range(1, bays + 2)]


def at_post(rail: int, line: int) -> str:
    """Return the case of the maintenance load on a rail at a post line, both counted from 1: ``L 502``."""
    return f"L {100 * rail + line}"


def at_posts(case: str) -> bool:
    """Return whether a case is the maintenance load at a post."""
    letter, _, number = case.partition(" ")
    return letter == "L" and int(number) > 100


def top_rail(built: Built, faces: tuple[str, ...]) -> int:
    """Return the rail a person leans on: the highest of the front, or of all without one there."""
    front = [n for n, f in enumerate(faces) if f == "front"] or list(range(len(faces)))
    return max(front, key=lambda n: built.model.xyz[built.rails[n][0], 2])


def unit_loads(built: Built, spreads: dict[str, Spread], of: Loaded, faces: tuple[str, ...], m: dict[str, Any]) -> Loads:
    """Return the loads of all unit cases.

    Args:
        built: The model.
        spreads: How each part reaches it.
        of: The loads in words.
        faces: Face of every rail.
        m: Numbers by name: weights and forces in lbf, x and z in ft, y in in., moments in lbf ft.

    """
    g = Gathering(built, spreads, of, m)
    at = np.stack([m["x"] * 12, m["y"], m["z"] * 12], axis=1)
    w = m["w"] * (m["W"] / m["w"].sum()) / 1000
    down, along, across = np.array([0.0, 0.0, -1.0]), np.array([1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0])
    g.add("D", of.labels, np.outer(w, down), at)
    if "P" in m:
        rail = top_rail(built, faces)
        x = built.model.xyz[list(built.crossings[rail]), 0]
        for n, middle in enumerate((x[1:] + x[:-1]) / 2, 1):
            g.at_node(f"L {n}", built.node_on(built.rails[rail], 0, middle), m["P"] / 1000 * down)
        for r, nodes in enumerate(built.crossings, 1):
            for p, node in enumerate(nodes, 1):
                g.at_node(at_post(r, p), node, m["P"] / 1000 * down)
    for case, tags in of.winds.items():
        axis, sense = BLOWS[case.split()[-1]]
        F, u, z = (np.atleast_1d(m[f"{s} {case}"]) for s in "Fuz")
        place = np.zeros((len(F), 3))
        place[:, 1 - axis], place[:, 2] = u * 12, z * 12
        force = np.zeros((len(F), 3))
        force[:, axis] = sense * F / 1000
        g.add(case, tags, force, place)
    for case, name in (("W twist", "T_W"), ("Q twist", "M_ta"), ("W_i twist", "T_W_i")):
        if case in of.cases:
            g.twist(case, m[name] * 12 / 1000)
    for case, name, way in (("Q along", "Q_along", along), ("Q across", "Q_across", across)):
        if case in of.cases:
            g.add(case, of.labels, np.outer(m[name] / 1000, way), at)
    g.add("N along", of.labels, np.outer(m["n_N"] * w, along), at)
    g.add("N across", of.labels, np.outer(m["n_N"] * w, across), at)
    if "S" in of.cases:
        _canopy(g, "S", m["S"] / 1000, m)
    if "D_i" in of.cases:
        place = np.stack([m["x_i"] * 12, m["y_i"], m["z_i"] * 12], axis=1)
        g.add("D_i", of.iced, np.outer(m["w_i"] / 1000, down), place)
    return g.loads()


def _canopy(g: Gathering, case: str, weight: float, m: dict[str, Any]) -> None:
    """Add a load on the canopy, over the middle of the rack."""
    middle = (np.atleast_1d(m["x_post"]).min() + np.atleast_1d(m["x_post"]).max()) / 2
    at = np.array([[middle * 12, 0.0, float(m["z_canopy"]) * 12]])
    g.add(case, ("canopy",), np.array([[0.0, 0.0, -weight]]), at)

"""The unit cases solved once: displacements, forces in every member, at every joint and at every base.

The frame library assembles the stiffness matrix of the first order; it is factored once for all cases.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from .built import Built
from .cases import Loads
from .factor import factor
from .library import library_stiffness
from .stiffness import DOF, Model, condense, geometric, sloping, uniform

#: Forces inside a member are found at least this often along it [in].
SPACING = 24.0
#: Components of forces in members, at bases and at clips, in the order of the arrays.
ACTIONS = ("P", "V_y", "V_x", "T", "M_x", "M_y")
REACTIONS = ("P", "V_x", "V_y", "M_x", "M_y", "T")
JOINTS = ("F_x", "F_y", "F_z", "M_x", "M_y", "M_z")


@dataclass(frozen=True, eq=False)
class Stations:
    """Places along the members where forces are found: element and distance from its first end [in]."""

    element: np.ndarray
    s: np.ndarray
    member: np.ndarray
    of_member: tuple[tuple[int, ...], ...]
    splices: tuple[int, ...]


def stations(built: Built) -> Stations:
    """Return both ends of every element of every member, and places between where an element is long."""
    element: list[int] = []
    s: list[float] = []
    of_member = []
    last_of: dict[int, int] = {}
    for piece in built.pieces:
        start = len(s)
        for e in piece.elements:
            long = float(built.model.lengths[e])
            count = 1 if piece.part == "brace" else max(1, int(np.ceil(long / SPACING - 1e-9)))
            s.extend(np.linspace(0.0, long, count + 1))
            element.extend([e] * (count + 1))
            last_of[e] = len(s) - 1
        of_member.append(tuple(range(start, len(s))))
    member = np.repeat(np.arange(len(of_member)), [len(m) for m in of_member])
    return Stations(np.array(element), np.array(s), member, tuple(of_member), tuple(last_of[e] for _, e in built.splices))


@dataclass(frozen=True, eq=False)
class Solved:
    """Results of all unit cases; arrays end with the cases. Forces in kip, moments in kip in., lengths in in.

    Attributes:
        built: The model.
        loads: What was put on it.
        places: Stations along the members.
        displacements: Of all nodes (6 n, cases).
        ends: Forces of the nodes on both ends of every element, local axes (e, 12, cases).
        actions: In members, ``ACTIONS`` (6, stations, cases).
        reactions: Of the frame on the foundation, ``REACTIONS`` (6, bases, cases).
        joints: Of the rails on the posts, ``JOINTS`` (6, joints, cases).
        residual: Largest force left over at a node, by case: equilibrium of the solution.

    """

    built: Built
    loads: Loads
    places: Stations
    displacements: np.ndarray
    ends: np.ndarray
    actions: np.ndarray
    reactions: np.ndarray
    joints: np.ndarray
    residual: np.ndarray

    @property
    def balance(self) -> np.ndarray:
        """Loads, and reactions on the foundation, summed with their moments about the origin, (2, 6, cases)."""
        at = self.built.model.xyz[self.built.bases]
        P, V_x, V_y, M_x, M_y, T = self.reactions
        force = np.stack([V_x, V_y, -P])
        moment = np.stack([M_x, M_y, T]) + np.stack([
            at[:, 1, None] * -P - at[:, 2, None] * V_y,
            at[:, 2, None] * V_x - at[:, 0, None] * -P,
            at[:, 0, None] * V_y - at[:, 1, None] * V_x,
        ])  # fmt: skip
        return np.stack([self.loads.total, np.concatenate([force.sum(axis=1), moment.sum(axis=1)])])


def solve(built: Built, loads: Loads, remedies: Mapping[int, str], axial: np.ndarray | None = None) -> Solved:
    """Return the results of all load cases.

    Args:
        built: The model.
        loads: The loads.
        remedies: What to change where the frame can move along (0), across (1) or otherwise (2).
        axial: Axial force in every element, compression above zero: geometric stiffness for a second-order solution of
            a single case. None for the first order.

    Raises:
        DomainError: The frame is a mechanism, or buckles under the axial forces.

    """
    model = built.model
    w, slope = (np.einsum("ekl,elc->ekc", model.axes, of) for of in (loads.uniform, loads.slope))
    u, ends = respond(model, loads.nodes, w, axial, _words(built, remedies), slope)
    held = model.held.ravel()
    at_nodes = model.to_nodes(ends)
    left = np.where(held[:, None], 0.0, at_nodes - loads.nodes)
    on_ground = loads.nodes - at_nodes
    places = stations(built)
    return Solved(
        built, loads, places, u, ends, _inside(built, places, ends, w, slope), _reactions(built, on_ground),
        _joints(built, ends, w), np.abs(left).max(axis=0, initial=0.0),
    )  # fmt: skip


def respond(
    model: Model,
    nodes: np.ndarray,
    w: np.ndarray,
    axial: np.ndarray | None = None,
    words: Any = None,
    slope: np.ndarray | None = None,
) -> tuple[np.ndarray, np.ndarray]:
    """Return displacements of the nodes (6 n, cases) and forces of the nodes on the elements, local axes (e, 12, cases).

    Args:
        model: The model.
        nodes: Forces on the nodes (6 n, cases).
        w: Uniform loads on the elements in their own axes (e, 3, cases).
        axial: Axial force in every element, compression above zero, for its geometric stiffness; None for the first order.
        words: Says where a node is, which way it moves and what to change, should the frame be a mechanism.
        slope: What w grows by along each element, about its middle, (e, 3, cases); None for nothing.

    Raises:
        DomainError: The frame can move without resistance.

    """
    whole = model.local if axial is None else model.local + geometric(axial, model.lengths)
    of_loads = uniform(w, model.lengths)
    if slope is not None:
        of_loads += sloping(slope, model.lengths)
    local, fixed = condense(whole, model.released, of_loads)
    assert fixed is not None
    matrix = library_stiffness(model) if axial is None else model.assembled(local)
    u = factor(model, matrix, words).solve(nodes + model.to_nodes(fixed))
    ends = local @ model.to_local(u) - fixed
    ends[model.released] = 0.0  # nothing passes a release; what the solution has there is rounding
    return u, ends


def _inside(built: Built, at: Stations, ends: np.ndarray, w: np.ndarray, slope: np.ndarray) -> np.ndarray:
    """Return the actions at the stations: compression, sagging (top or outer side pressed) above zero."""
    f, s = ends[at.element], at.s[:, None]
    w, g, L = w[at.element], slope[at.element], built.model.lengths[at.element][:, None]
    # load from the first end to the station, and its moment about the station
    load = [w[:, n] * s + g[:, n] * (s**2 - L * s) / 2 for n in range(3)]
    turn = [w[:, n] * s**2 / 2 + g[:, n] * (s**3 / 6 - L * s**2 / 4) for n in range(3)]
    P = f[:, 0] + load[0]
    V_y, V_x = -f[:, 1] - load[1], -f[:, 2] - load[2]
    M_x = -f[:, 5] + f[:, 1] * s + turn[1]
    M_y = -f[:, 4] - f[:, 2] * s - turn[2]
    actions = np.stack([P, V_y, V_x, -f[:, 3], M_x, M_y])
    first, last = at.s == 0.0, at.s == built.model.lengths[at.element]
    released = built.model.released[at.element]
    for row, turns in ((3, 3), (4, 5), (5, 4)):
        actions[row, first & released[:, turns] | last & released[:, turns + 6]] = 0.0
    return actions


def _reactions(built: Built, on_ground: np.ndarray) -> np.ndarray:
    """Return what the frame exerts on the foundation at every base."""
    F = on_ground.reshape(-1, DOF, on_ground.shape[-1])[built.bases]
    return np.stack([-F[:, 2], F[:, 0], F[:, 1], F[:, 3], F[:, 4], F[:, 5]])


def _joints(built: Built, ends: np.ndarray, w: np.ndarray) -> np.ndarray:
    """Return what every rail exerts on its post, in the axes of the rack; F_y away from the post where a link is."""
    model, out = built.model, np.zeros((6, len(built.joints), ends.shape[-1]))
    for n, joint in enumerate(built.joints):
        e = joint.element
        f = ends[e]
        if joint.end == 2:
            reach = built.face
            force = -f[:3]
            twist = np.where(model.released[e, [3, 9]].any(), 0.0, -f[3])
            moment = np.stack([twist, -f[4] - f[2] * reach, -f[5] + f[1] * reach])
        else:
            force, moment = -f[6 * joint.end : 6 * joint.end + 3], -f[6 * joint.end + 3 : 6 * joint.end + 6]
        turned = model.axes[e].T
        force, moment = turned @ force, turned @ moment
        if joint.end == 2:
            force[1] *= np.sign(model.axes[e][0, 1])
        out[:3, n], out[3:, n] = force, moment
    return out


def _words(built: Built, remedies: Mapping[int, str]) -> Any:
    """Return the function that says where a node is, which way it moves, and what to change."""

    def said(node: int, way: int) -> str:
        xyz = built.model.xyz[node]
        if way < 3:
            direction = ("along the rack", "across the rack", "up and down")[way]
            near = "at the post tops" if xyz[2] > 0.5 * built.model.xyz[built.tops, 2].max() else "near the post feet"
        else:
            direction = f"turning about {('the line along the rack', 'the line across it', 'the vertical')[way - 3]}"
            near = f"at x = {xyz[0] / 12:.3g} ft, {xyz[2] / 12:.3g} ft up"
        return f"{direction} {near}. {remedies[min(way, 2)]}"

    return said

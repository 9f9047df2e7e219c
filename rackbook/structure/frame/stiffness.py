"""Direct stiffness method in three dimensions: straight members of constant section, all of them at once in arrays.

Units are kip and inch. Directions 1, 2, 3 of a member: along it, in the direction of its section's depth, and 1 x 2 (the
section's x axis). Moments are components of r x F in the axes used, so M_x = y F_z - z F_y.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

#: Degrees of freedom of a node, and of a member.
DOF, ENDS = 6, 12


@dataclass(frozen=True, eq=False)
class Model:
    """Nodes, elements and supports.

    Attributes:
        xyz: Nodes [in], (n, 3).
        i, j: Nodes at the two ends of every element, (e,).
        depth: Direction of the section's depth, square to the element, (e, 3).
        section: Row of ``sections`` of every element, (e,).
        sections: A [in2], I about the section's x axis, I about its y axis, J [in4], (s, 4).
        released: Which of the twelve end displacements (local) transmit no force, (e, 12).
        held: Which displacements of the nodes are held by the ground, (n, 6).
        E, G: Moduli [ksi].

    """

    xyz: np.ndarray
    i: np.ndarray
    j: np.ndarray
    depth: np.ndarray
    section: np.ndarray
    sections: np.ndarray
    released: np.ndarray
    held: np.ndarray
    E: float
    G: float

    @cached_property
    def lengths(self) -> np.ndarray:
        """Lengths of the elements [in]."""
        return np.linalg.norm(self.xyz[self.j] - self.xyz[self.i], axis=1)

    @cached_property
    def axes(self) -> np.ndarray:
        """Local axes of every element, rows 1, 2, 3, (e, 3, 3)."""
        first = (self.xyz[self.j] - self.xyz[self.i]) / self.lengths[:, None]
        second = self.depth - np.einsum("ek,ek->e", self.depth, first)[:, None] * first
        second = second / np.linalg.norm(second, axis=1)[:, None]
        return np.stack([first, second, np.cross(first, second)], axis=1)

    @cached_property
    def dofs(self) -> np.ndarray:
        """Numbers of the displacements at both ends of every element, (e, 12)."""
        six = np.arange(DOF)
        return np.concatenate([DOF * self.i[:, None] + six, DOF * self.j[:, None] + six], axis=1)

    @cached_property
    def free(self) -> np.ndarray:
        """Numbers of the displacements that are not held."""
        return np.flatnonzero(~self.held.ravel())

    @cached_property
    def local(self) -> np.ndarray:
        """Local stiffness of every element, releases not yet in it, (e, 12, 12)."""
        A, I_x, I_y, J = self.sections[self.section].T
        return elastic(A, I_x, I_y, J, self.lengths, self.E, self.G)

    @cached_property
    def condensed(self) -> np.ndarray:
        """Local stiffness of every element with its releases, (e, 12, 12)."""
        return condense(self.local, self.released)[0]

    def turned(self, local: np.ndarray) -> np.ndarray:
        """Return local element matrices (e, 12, 12) in the axes of the rack."""
        blocks = local.reshape(-1, 4, 3, 4, 3)
        return np.einsum("eki,eakbl,elj->eaibj", self.axes, blocks, self.axes, optimize=True).reshape(-1, ENDS, ENDS)

    def assembled(self, local: np.ndarray) -> Any:
        """Return the stiffness matrix of all nodes from local element matrices, as a sparse matrix."""
        from scipy.sparse import coo_matrix

        size = DOF * len(self.xyz)
        rows = np.broadcast_to(self.dofs[:, :, None], (len(self.i), ENDS, ENDS))
        columns = np.broadcast_to(self.dofs[:, None, :], rows.shape)
        values = self.turned(local)
        keep = values != 0.0
        return coo_matrix((values[keep], (rows[keep], columns[keep])), shape=(size, size)).tocsc()

    def to_local(self, of_nodes: np.ndarray) -> np.ndarray:
        """Return what the nodes have (6 n, cases) at the ends of every element, in local axes, (e, 12, cases)."""
        ends = of_nodes[self.dofs]
        parts = ends.reshape(len(self.i), 4, 3, -1)
        return np.einsum("ekl,ealc->eakc", self.axes, parts, optimize=True).reshape(len(self.i), ENDS, -1)

    def to_nodes(self, local: np.ndarray) -> np.ndarray:
        """Return the sum at the nodes (6 n, cases) of what stands at the ends of the elements, (e, 12, cases)."""
        parts = local.reshape(len(self.i), 4, 3, -1)
        ends = np.einsum("ekl,eakc->ealc", self.axes, parts, optimize=True).reshape(len(self.i) * ENDS, -1)
        out = np.zeros((DOF * len(self.xyz), local.shape[-1]))
        np.add.at(out, self.dofs.ravel(), ends)
        return out


def elastic(A, I_x, I_y, J, L, E: float, G: float) -> np.ndarray:
    """Return local stiffness matrices, (e, 12, 12): axial, bending about both axes, torsion; no shear flexibility."""
    k = np.zeros((len(L), ENDS, ENDS))

    def put(a: int, b: int, value: np.ndarray) -> None:
        k[:, a, b] = value
        k[:, b, a] = value

    for n, stiff in ((0, E * A / L), (3, G * J / L)):
        put(n, n, stiff)
        put(n + 6, n + 6, stiff)
        put(n, n + 6, -stiff)
    # displacement along 2 turns about 3; displacement along 3 turns about 2 the other way
    for u, r, I, s in ((1, 5, I_x, 1.0), (2, 4, I_y, -1.0)):
        EI = E * I
        for a, b, value in (
            (u, u, 12 * EI / L**3), (u + 6, u + 6, 12 * EI / L**3), (u, u + 6, -12 * EI / L**3),
            (u, r, s * 6 * EI / L**2), (u, r + 6, s * 6 * EI / L**2),
            (u + 6, r, -s * 6 * EI / L**2), (u + 6, r + 6, -s * 6 * EI / L**2),
            (r, r, 4 * EI / L), (r + 6, r + 6, 4 * EI / L), (r, r + 6, 2 * EI / L),
        ):  # fmt: skip
            put(a, b, value)
    return k


def geometric(P: np.ndarray, L: np.ndarray) -> np.ndarray:
    """Return local geometric stiffness matrices for axial forces P (compression above zero), (e, 12, 12)."""
    k = np.zeros((len(L), ENDS, ENDS))
    N = -P

    def put(a: int, b: int, value: np.ndarray) -> None:
        k[:, a, b] = value
        k[:, b, a] = value

    for u, r, s in ((1, 5, 1.0), (2, 4, -1.0)):
        for a, b, value in (
            (u, u, 1.2 * N / L), (u + 6, u + 6, 1.2 * N / L), (u, u + 6, -1.2 * N / L),
            (u, r, s * N / 10), (u, r + 6, s * N / 10), (u + 6, r, -s * N / 10), (u + 6, r + 6, -s * N / 10),
            (r, r, 2 * N * L / 15), (r + 6, r + 6, 2 * N * L / 15), (r, r + 6, -N * L / 30),
        ):  # fmt: skip
            put(a, b, value)
    return k


def uniform(w: np.ndarray, L: np.ndarray) -> np.ndarray:
    """Return the forces on the nodes that stand for uniform loads w (e, 3, cases) in local axes, (e, 12, cases)."""
    L = L[:, None]
    p = np.zeros((len(L), ENDS, w.shape[-1]))
    for n in range(3):
        p[:, n] = p[:, n + 6] = w[:, n] * L / 2
    for n, r, s in ((1, 5, 1.0), (2, 4, -1.0)):
        p[:, r], p[:, r + 6] = s * w[:, n] * L**2 / 12, -s * w[:, n] * L**2 / 12
    return p


def sloping(g: np.ndarray, L: np.ndarray) -> np.ndarray:
    """Return the forces on the nodes that stand for loads g (s - L / 2), s from the first end, as ``uniform`` does."""
    L = L[:, None]
    p = np.zeros((len(L), ENDS, g.shape[-1]))
    p[:, 0], p[:, 6] = -g[:, 0] * L**2 / 12, g[:, 0] * L**2 / 12
    for n, r, s in ((1, 5, 1.0), (2, 4, -1.0)):
        p[:, n], p[:, n + 6] = -g[:, n] * L**2 / 10, g[:, n] * L**2 / 10
        p[:, r] = p[:, r + 6] = -s * g[:, n] * L**3 / 120
    return p


def condense(k: np.ndarray, released: np.ndarray, p: np.ndarray | None = None) -> tuple[np.ndarray, np.ndarray | None]:
    """Return stiffness and end loads with the released displacements condensed out of them."""
    k = k.copy()
    p = None if p is None else p.copy()
    patterns, of = np.unique(released, axis=0, return_inverse=True)
    of = of.reshape(-1)
    for n, pattern in enumerate(patterns):
        if not pattern.any():
            continue
        which, out, stay = np.flatnonzero(of == n), np.flatnonzero(pattern), np.flatnonzero(~pattern)
        part = k[which]
        solved = np.linalg.solve(part[:, out][:, :, out], part[:, out][:, :, stay])
        fresh = np.zeros_like(part)
        fresh[np.ix_(np.arange(len(which)), stay, stay)] = part[:, stay][:, :, stay] - part[:, stay][:, :, out] @ solved
        k[which] = fresh
        if p is not None:
            loads = p[which]
            loads[:, stay] -= np.swapaxes(solved, 1, 2) @ loads[:, out]
            loads[:, out] = 0.0
            p[which] = loads
    return k, p

"""The stiffness matrix factored once; a frame that can move freely is refused in plain words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.trace import DomainError

from .stiffness import DOF, Model

#: Smallest eigenvalue of the stiffness matrix scaled to a diagonal of ones below which the frame counts as able to move.
#: Rounding leaves some 1e-16 of a free motion; sound racks, long ones with stiff links and short elements, keep 1e-9.
LEAST = 1e-12
TURNS = 4


@dataclass(frozen=True, eq=False)
class Factored:
    """A factored stiffness matrix of the free displacements."""

    model: Model
    matrix: Any
    scale: np.ndarray
    lu: Any

    def solve(self, loads: np.ndarray) -> np.ndarray:
        """Return displacements (6 n, cases) under forces on the nodes (6 n, cases)."""
        free = self.model.free
        out = np.zeros(loads.shape)
        out[free] = self.scale[:, None] * self.lu.solve(np.ascontiguousarray(self.scale[:, None] * loads[free]))
        return out


def factor(model: Model, matrix: Any, words: Any = None) -> Factored:
    """Factor a stiffness matrix.

    Args:
        model: The model.
        matrix: Stiffness matrix of all nodes, sparse.
        words: Function of a node and a displacement (0 to 5) that says where and which way, and what to change; None for
            plain models.

    Raises:
        DomainError: The frame can move without resistance; the message says where and which way.

    """
    from scipy.sparse import diags, identity
    from scipy.sparse.linalg import splu

    free = model.free
    part = matrix[free][:, free].tocsc()
    diagonal = part.diagonal()
    scale = 1.0 / np.sqrt(np.where(diagonal > 0, diagonal, 1.0))
    scaled = (diags(scale) @ part @ diags(scale)).tocsc()
    how = {"permc_spec": "MMD_AT_PLUS_A", "diag_pivot_thresh": 0.0, "options": {"SymmetricMode": True}}
    try:
        lu = splu(scaled, **how)
        least, shape = _softest(scaled, lu)
        if lu.U.diagonal().min() <= 0:  # a pivot below zero: beyond its critical load
            least = 0.0
    except RuntimeError:  # exactly singular: the factor of a slightly stiffer frame shows which way it moves
        lu = splu((scaled + 1e-10 * identity(len(free))).tocsc(), **how)
        least, shape = 0.0, _softest(scaled, lu)[1]
    if not least > LEAST:
        raise DomainError(_moves(model, scale * shape, words))
    return Factored(model, matrix, scale, lu)


def _softest(scaled: Any, lu: Any) -> tuple[float, np.ndarray]:
    """Return the smallest eigenvalue of the scaled matrix and its shape, by inverse iteration."""
    x = np.cos(np.arange(scaled.shape[0]) * 0.7) + 1.1
    for _ in range(TURNS):
        x = lu.solve(x / np.linalg.norm(x))
        if not np.all(np.isfinite(x)):
            raise RuntimeError("the factor is singular")
    x = x / np.linalg.norm(x)
    return float(x @ (scaled @ x)), x


def _moves(model: Model, shape: np.ndarray, words: Any) -> str:
    """Return in words which way the frame moves."""
    of_nodes = np.zeros(model.held.size)
    of_nodes[model.free] = shape
    by_node = of_nodes.reshape(-1, DOF)
    size = float(np.ptp(model.xyz, axis=0).max()) or 1.0
    weight = np.array([1.0, 1.0, 1.0, size / 10, size / 10, size / 10])  # a turn alone counts where nothing else moves
    node, way = np.unravel_index(int(np.argmax(np.abs(by_node * weight))), by_node.shape)
    said = words(int(node), int(way)) if words is not None else f"at node {node}, displacement {way}."
    return f"The frame is a mechanism: it can move without resistance {said}"

"""The model of a rack with the places that loads and results need."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .stiffness import Model


@dataclass(frozen=True, eq=False)
class Piece:
    """One member of the model: mark, part, place of its section, elements in order, and what it is the how-manieth of."""

    mark: str
    part: str
    section: int
    elements: tuple[int, ...]
    of: tuple[int, ...]


@dataclass(frozen=True)
class Joint:
    """Where a rail meets a post: the element whose force is read, and where on it.

    ``end`` is 0 or 1 for the first or second end of an element of the rail itself, and 2 for the post's face on a link.
    """

    label: str
    element: int
    end: int


@dataclass(frozen=True, eq=False)
class Built:
    """The model with the places loads and results need.

    Attributes:
        model: Nodes, elements, supports.
        pieces: Members: posts, rails bay by bay, ties, braces.
        posts: Nodes of every post from below, in the order of the posts.
        rails: Nodes of every rail from the left.
        crossings: Nodes of every rail at the post lines.
        joints: Every joint of rail and post.
        splices: Label, and element whose second end is the splice.
        face: Distance of the posts' faces from their middle [in].

    """

    model: Model
    pieces: tuple[Piece, ...]
    posts: tuple[tuple[int, ...], ...]
    rails: tuple[tuple[int, ...], ...]
    crossings: tuple[tuple[int, ...], ...]
    joints: tuple[Joint, ...]
    splices: tuple[tuple[str, int], ...]
    face: float

    @property
    def bases(self) -> np.ndarray:
        """Node under every post."""
        return np.array([p[0] for p in self.posts])

    @property
    def post_marks(self) -> tuple[str, ...]:
        """Marks of the posts."""
        return tuple(p.mark for p in self.pieces if p.part == "post")

    @property
    def tops(self) -> np.ndarray:
        """Node at the top of every post."""
        return np.array([p[-1] for p in self.posts])

    def node_on(self, nodes: tuple[int, ...], axis: int, place: float) -> int:
        """Return the nearest of some nodes to a place along an axis."""
        return nodes[int(np.argmin(np.abs(self.model.xyz[list(nodes), axis] - place)))]

"""Where every part of the rack hangs on the frame, and how a force on it reaches the nodes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from .built import Built
from .layout import Layout
from .nodes import row_of

#: Principal moments of the attachment points below this share of the largest count as none: the points lie in one line.
LINE = 1e-4
#: What carries the parts that all rails, or the tops of the posts, share; no tag or mark reads like this.
ALL_RAILS, POST_TOPS = "\0all rails", "\0post tops"


@dataclass(frozen=True)
class Hung:
    """Where a piece of equipment hangs: places on rails, or on posts.

    Attributes:
        tag: The item.
        rails: Rail number and place along it [in].
        posts: Numbers of posts, where there is no rail to hang on.
        low, high: Heights the item spans [in].
        remark: What is unusual about it; empty otherwise.

    """

    tag: str
    rails: tuple[tuple[int, float], ...]
    posts: tuple[int, ...]
    low: float
    high: float
    remark: str


def hang(of: Layout, m: dict[str, Any]) -> tuple[Hung, ...]:
    """Return where every piece of equipment hangs.

    On the rails of its face within its own height; else on the nearest one above and below; without a rail on that face, on
    those in the post plane; without these, on the posts. Two places a rail, at the item's sides, kept on the rack.
    """
    if not of.items:
        return ()
    x_post, z_rail = np.atleast_1d(m["x_post"]) * 12, np.atleast_1d(m["z_rail"]) * 12
    faces = np.array(of.faces)
    found = []
    for n, (tag, face) in enumerate(of.items):
        x, z, w, h = (float(m[f"{a}_part"][n]) * 12 for a in ("x", "z", "w", "h"))
        sides = sorted({float(min(max(s, x_post[0]), x_post[-1])) for s in (x - w / 2, x + w / 2)})
        rails = np.flatnonzero(faces == face)
        remark = ""
        if not len(rails):
            rails = np.flatnonzero(faces == "center")
        if not len(rails):
            posts = _posts(of, x_post, face, x - w / 2, x + w / 2)
            found.append(Hung(tag, (), posts, z - h / 2, z + h / 2, f"{tag}: no rail on its face; it stands on the posts."))
            continue
        on = rails[np.abs(z_rail[rails] - z) <= h / 2 + 1e-6]
        if not len(on):
            on = _nearest(rails, z_rail, z)
            which = " and ".join(f"rail {k + 1}" for k in on)
            remark = f"{tag}: no rail within its height; it hangs on {which}, on brackets of its own."
        found.append(Hung(tag, tuple((int(k), s) for k in on for s in sides), (), z - h / 2, z + h / 2, remark))
    return tuple(found)


def _nearest(rails: np.ndarray, z_rail: np.ndarray, z: float) -> np.ndarray:
    """Return the nearest rail above and the nearest below, or the one there is."""
    below, above = rails[z_rail[rails] <= z], rails[z_rail[rails] > z]
    low = below[np.argmax(z_rail[below])] if len(below) else None
    high = above[np.argmin(z_rail[above])] if len(above) else None
    return np.array([k for k in (low, high) if k is not None])


def _posts(of: Layout, x_post: np.ndarray, face: str, left: float, right: float) -> tuple[int, ...]:
    """Return the posts between two places along the rack, or the ones on either side of them."""
    lines = np.flatnonzero((x_post >= left) & (x_post <= right))
    if not len(lines):
        n = int(np.clip(np.searchsorted(x_post, left), 1, len(x_post) - 1))
        lines = np.array([n - 1, n])
    row, rows = max(row_of(of, face), 0), len(of.rows)
    return tuple(int(k) * rows + row for k in lines)


def attached(hung: tuple[Hung, ...]) -> dict[int, list[float]]:
    """Return the places along each rail where equipment hangs."""
    found: dict[int, list[float]] = {}
    for item in hung:
        for rail, x in item.rails:
            found.setdefault(rail, []).append(x)
    return found


@dataclass(frozen=True, eq=False)
class Spread:
    """How the force on a part reaches the frame.

    Attributes:
        nodes: Nodes it is spread on.
        share: Share of each node, 1 in all.
        elements: Elements that carry the force evenly along themselves; empty for a part that hangs on nodes.
        rigid: Whether the part is stiff, so that moments go into the nodes as pairs of forces as far as their places
            allow; otherwise as couples, by share.
        by_halves: Whether forces act where the nodes put them, wherever they are said to: braces.

    """

    nodes: np.ndarray
    share: np.ndarray
    elements: np.ndarray
    rigid: bool = True
    by_halves: bool = False

    def center(self, built: Built) -> np.ndarray:
        """Return where the spread itself puts the resultant."""
        model = built.model
        if not len(self.elements):
            return self.share @ model.xyz[self.nodes]
        long = model.lengths[self.elements]
        return long @ (model.xyz[model.i[self.elements]] + model.xyz[model.j[self.elements]]) / (2 * long.sum())

    def put(self, built: Built, force: np.ndarray, moment: np.ndarray, F: np.ndarray, w: np.ndarray) -> None:
        """Add forces (3, cases) and their moments about the origin (3, cases) to node forces and uniform loads.

        Args:
            built: The model.
            force: Sum of the forces in every case [kip].
            moment: Sum of their moments about the origin [kip in].
            F: Forces on the nodes (6 n, cases), added to.
            w: Uniform loads on the elements in the axes of the rack (e, 3, cases), added to.

        """
        model = built.model
        at = model.xyz[self.nodes]
        middle = self.share @ at
        if len(self.elements):
            w[self.elements] += force / model.lengths[self.elements].sum()
            couple, force = moment - cross(self.center(built), force), np.zeros_like(force)
        else:
            couple = moment - cross(middle, force)
        if not (force.any() or np.abs(couple).max(initial=0.0) > 1e-12):
            return
        forces, couples = self._nodes(at - middle, force, couple)
        for k in range(3):
            np.add.at(F, 6 * self.nodes + k, forces[:, k])
            np.add.at(F, 6 * self.nodes + 3 + k, couples[:, k])

    def _nodes(self, arm: np.ndarray, force: np.ndarray, couple: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Return forces and couples on the nodes, (n, 3, cases), of least sum of squares by share."""
        forces = self.share[:, None, None] * force
        if self.rigid and len(self.nodes) > 1:
            inertia = np.einsum("n,nk,nk->", self.share, arm, arm) * np.eye(3) - np.einsum("n,nk,nl->kl", self.share, arm, arm)
            values, axes = np.linalg.eigh(inertia)
            resists = values > LINE * values.max(initial=0.0)
            inverse = (axes[:, resists] / values[resists]) @ axes[:, resists].T
            turn = inverse @ couple
            pairs = np.cross(turn.T[None], arm[:, None]).transpose(0, 2, 1)
            forces = forces + self.share[:, None, None] * pairs
            couple = couple - inertia @ turn
        return forces, self.share[:, None, None] * couple


def cross(at: np.ndarray, force: np.ndarray) -> np.ndarray:
    """Return the moments about the origin of forces (3, cases) at a place."""
    x, y, z = at
    return np.stack([y * force[2] - z * force[1], z * force[0] - x * force[2], x * force[1] - y * force[0]])


def spreads(of: Layout, built: Built, hung: tuple[Hung, ...]) -> dict[str, Spread]:
    """Return how each part reaches the frame, by its tag or mark; ``ALL_RAILS`` and ``POST_TOPS`` for what is shared."""
    nothing = np.zeros(0, int)
    found: dict[str, Spread] = {}
    by_rail: dict[int, list[int]] = {}
    for piece in built.pieces:
        elements = np.array(piece.elements)
        if piece.part == "rail":
            by_rail.setdefault(piece.of[0], []).extend(piece.elements)
        elif piece.part == "brace":
            ends = np.array([built.model.i[elements[0]], built.model.j[elements[-1]]])
            found[piece.mark] = Spread(ends, np.array([0.5, 0.5]), nothing, by_halves=True)
        else:
            found[piece.mark] = _along(built, elements)
    for n, elements_ in by_rail.items():
        found[f"rail {n + 1}"] = _along(built, np.array(elements_))
    for mark, base in zip(built.post_marks, built.bases, strict=True):
        found[mark.replace("post", "base plate", 1)] = Spread(np.array([base]), np.ones(1), nothing)
    everything = _along(built, np.concatenate([np.array(e) for e in by_rail.values()]))
    found[ALL_RAILS] = Spread(everything.nodes, everything.share, everything.elements, rigid=False)
    tops = built.tops
    found[POST_TOPS] = Spread(tops, np.full(len(tops), 1 / len(tops)), nothing)
    for item in hung:
        if item.posts:
            nodes = np.unique([n for p in item.posts for n in _on_post(built, p, item)])
        else:
            nodes = np.unique([built.node_on(built.rails[k], 0, x) for k, x in item.rails])
        if item.tag in found:  # an item tagged like a member
            found[f"{item.tag} (frame)"] = found[item.tag]
        found[item.tag] = Spread(nodes, np.full(len(nodes), 1 / len(nodes)), nothing)
    return found


def _on_post(built: Built, post: int, item: Hung) -> list[int]:
    """Return the nodes of a post within an item's height, or the nearest one above its base."""
    nodes = built.posts[post][1:]
    within = [n for n in nodes if item.low <= built.model.xyz[n, 2] <= item.high]
    return within or [built.node_on(nodes, 2, (item.low + item.high) / 2)]


def _along(built: Built, elements: np.ndarray) -> Spread:
    """Return a spread evenly along elements, its nodes by the length that belongs to each."""
    model = built.model
    nodes, place = np.unique(np.concatenate([model.i[elements], model.j[elements]]), return_inverse=True)
    share = np.bincount(place.reshape(-1), np.tile(model.lengths[elements], 2))
    return Spread(nodes, share / share.sum(), elements)

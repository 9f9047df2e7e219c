"""Nodes and elements of the frame, from plain numbers."""

from __future__ import annotations

import bisect
from collections.abc import Iterable
from itertools import pairwise
from typing import Any

import numpy as np

from rackbook.trace import DomainError

from .built import Built, Joint, Piece
from .layout import Layout
from .stiffness import Model

#: Places along a rail, and along a post, that become one node [in]. What hangs there keeps its own place in the statics.
NEAR_RAIL, NEAR_POST = 1.0, 0.5
#: How near a brace's end must be to a post line or a rail [in]; the job's own rule.
NEAR_BRACE = 1.0
UP, ACROSS = np.array([0.0, 0.0, 1.0]), np.array([0.0, 1.0, 0.0])
#: Local displacements that transmit nothing: bending at the first end, at the second, and what a clip lets go.
PIN_I, PIN_J, CLIP = (4, 5), (10, 11), (9, 10)


class Places:
    """Places on a line, none nearer than ``near`` to the next; the first to come keeps its place."""

    def __init__(self, near: float) -> None:
        self.near, self.at = near, list[float]()

    def add(self, places: Iterable[float]) -> None:
        """Add places that no other stands near."""
        for x in places:
            n = bisect.bisect_left(self.at, x)
            if not any(0 <= k < len(self.at) and abs(self.at[k] - x) <= self.near for k in (n - 1, n)):
                self.at.insert(n, float(x))

    def find(self, x: float) -> int:
        """Return the index of the place nearest to x."""
        return int(np.argmin(np.abs(np.array(self.at) - x)))


def row_of(of: Layout, face: str) -> int:
    """Return the row of posts a face belongs to; -1 between two rows."""
    if len(of.rows) == 1:
        return 0
    return of.rows.index(face) if face in of.rows else -1


def build(of: Layout, m: dict[str, Any], attached: dict[int, list[float]]) -> Built:
    """Return the model of a frame.

    Args:
        of: The frame in words.
        m: Numbers by name, in the units of ``layout.geometry``.
        attached: Places along each rail [in] where equipment hangs on it.

    Raises:
        DomainError: A brace or a rail has nothing to end on.

    """
    maker = _Maker(of, m)
    maker.posts()
    maker.rails(attached)
    maker.ties()
    maker.braces()
    return maker.built()


class _Maker:
    """Nodes and elements while they are being made; lengths in inches."""

    def __init__(self, of: Layout, m: dict[str, Any]) -> None:
        self.of, self.m = of, m
        self.xyz: list[tuple[float, float, float]] = []
        self.elements: list[tuple[int, int, np.ndarray, int, tuple[int, ...]]] = []
        self.pieces: list[Piece] = []
        self.joints: list[Joint] = []
        self.x, self.y = np.atleast_1d(m["x_post"]) * 12, np.atleast_1d(m["y_row"])
        self.z_rail, self.y_rail = np.atleast_1d(m["z_rail"]) * 12, np.atleast_1d(m["y_rail"])
        self.z_tie = np.atleast_1d(m["z_tie"]) * 12 if of.ties else np.zeros(0)
        self.x_splice = np.atleast_1d(m["x_splice"]) * 12 if "x_splice" in m else np.zeros(0)
        self.ends = self._brace_ends()
        self.post_of: dict[tuple[int, int], list[int]] = {}
        self.rail_of: list[list[int]] = []
        self.crossing_of: list[list[int]] = []
        self.splices: list[tuple[str, int]] = []

    def node(self, x: float, y: float, z: float) -> int:
        self.xyz.append((x, y, z))
        return len(self.xyz) - 1

    def element(self, i: int, j: int, depth: np.ndarray, section: int, released: tuple[int, ...] = ()) -> int:
        self.elements.append((i, j, depth, section, released))
        return len(self.elements) - 1

    def _brace_ends(self) -> list[tuple[int, float, float, int]]:
        """Return brace, x, z and post line (or -1) of both ends of every placed brace."""
        placed = [n for n, b in enumerate(self.of.braces) if b.placed]
        found = []
        for k, n in enumerate(placed):
            for end in ("from", "to"):
                x, z = np.atleast_1d(self.m[f"x_{end}"])[k] * 12, np.atleast_1d(self.m[f"z_{end}"])[k] * 12
                line = int(np.argmin(np.abs(self.x - x)))
                found.append((n, float(x), float(z), line if abs(self.x[line] - x) <= NEAR_BRACE else -1))
        return found

    def _brace_row(self, n: int) -> int:
        return row_of(self.of, self.of.braces[n].row or "front")

    def posts(self) -> None:
        """Make the posts with a node at the base, at their rails, ties and braces, and at the top."""
        base, top = float(self.m["z_pier"] + self.m["t_g"]), float(self.m["z_top"] * 12)
        rows = [row_of(self.of, face) for face in self.of.faces]
        for n, x in enumerate(self.x):
            for r, y in enumerate(self.y):
                z = Places(NEAR_POST)
                z.add((base, top))
                z.add(zr for zr, row in zip(self.z_rail, rows, strict=True) if row == r and base < zr < top)
                z.add(self.z_tie)
                z.add(e[2] for e in self.ends if e[3] == n and self._brace_row(e[0]) == r and base < e[2] < top)
                nodes = [self.node(x, y, at) for at in z.at]
                made = [self.element(i, j, ACROSS, self.of.post) for i, j in pairwise(nodes)]
                self.post_of[n, r] = nodes
                self.pieces.append(Piece(f"post {n + 1} {self.of.rows[r]}".strip(), "post", self.of.post, tuple(made), (n, r)))

    def _post_node(self, line: int, row: int, z: float) -> int:
        nodes = self.post_of[line, row]
        return min(nodes, key=lambda n: abs(self.xyz[n][2] - z))

    def rails(self, attached: dict[int, list[float]]) -> None:
        """Make the rails: over the posts, tied to them by links; between posts or ties in their own plane."""
        depth = ACROSS if self.of.flat_rails else UP
        for n, face in enumerate(self.of.faces):
            places = Places(NEAR_RAIL)
            for more in (self.x, self.x_splice, [e[1] for e in self.ends if self._rail_of(e) == n],
                         (self.x[1:] + self.x[:-1]) / 2, attached.get(n, ())):  # fmt: skip
                places.add(more)
            lines = [places.find(x) for x in self.x]
            y, z, row = float(self.y_rail[n]), float(self.z_rail[n]), row_of(self.of, face)
            own = face == "center"  # in the plane of what it hangs on: no link, cut at every post
            if own and row < 0 and not any(abs(z - tie) <= NEAR_BRACE for tie in self.z_tie):
                raise DomainError(
                    f"Rail {n + 1} runs between two rows of posts with nothing to hang on. Put it on the front or the back, or "
                    f"give a tie at its height, {z / 12:.3g} ft (frame.ties)."
                )
            nodes = []
            for k, x in enumerate(places.at):
                if own and row == 0 and k in lines:
                    nodes.append(self._post_node(lines.index(k), 0, z))
                else:
                    nodes.append(self.node(x, y, z))
            self.rail_of.append(nodes)
            self.crossing_of.append([nodes[k] for k in lines])
            spliced = {places.find(x): s for s, x in enumerate(self.x_splice, 1)}
            self._rail_pieces(n, nodes, lines, spliced, depth, own)
            if not own:
                self._links(n, row)

    def _rail_pieces(
        self, n: int, nodes: list[int], lines: list[int], spliced: dict[int, int], depth: np.ndarray, own: bool
    ) -> None:
        """Make the elements of a rail bay by bay; ``spliced`` has the number of the splice by its node's place."""
        pinned = own and not self.of.moment
        for bay, (a, b) in enumerate(pairwise(lines)):
            made = []
            for k in range(a, b):
                released = (*(PIN_I if pinned and k == a else ()), *(PIN_J if pinned and k == b - 1 else ()))
                made.append(self.element(nodes[k], nodes[k + 1], depth, self.of.rail, released))
                if k + 1 in spliced:
                    self.splices.append((f"rail {n + 1} at splice {spliced[k + 1]}", made[-1]))
            self.pieces.append(Piece(f"rail {n + 1} bay {bay + 1}", "rail", self.of.rail, tuple(made), (n, bay)))
            if own:
                at = f"rail {n + 1} at post"
                last = len(lines) - 2
                self.joints.append(Joint(f"{at} {bay + 1}{', right' if bay else ''}", made[0], 0))
                self.joints.append(Joint(f"{at} {bay + 2}{', left' if bay < last else ''}", made[-1], 1))

    def _links(self, n: int, row: int) -> None:
        released = () if self.of.moment else CLIP
        for line, node in enumerate(self.crossing_of[n]):
            post = self._post_node(line, row, self.xyz[node][2])
            link = self.element(post, node, UP, len(self.of.sections), released)
            self.joints.append(Joint(f"rail {n + 1} at post {line + 1}", link, 2))

    def _rail_of(self, end: tuple[int, float, float, int]) -> int:
        """Return the rail a brace's end is on; -1 for one that ends on a post.

        Raises:
            DomainError: It is on neither.

        """
        n, x, z, line = end
        if line >= 0:
            return -1
        near = [k for k, at in enumerate(self.z_rail) if abs(at - z) <= NEAR_BRACE]
        first = self.of.braces[n].row or "front"
        near.sort(key=lambda k: (self.of.faces[k] != first, self.of.faces[k] == "center"))
        if not near or not 0 <= x <= self.x[-1]:
            heights = ", ".join(f"{h / 12:g}" for h in sorted(set(self.z_rail)))
            raise DomainError(
                f"Brace {n + 1} ends nowhere: at x = {x / 12:.3g} ft, {z / 12:.3g} ft up, is neither a post nor a rail "
                f"(heights {heights} ft). Move its end onto one (frame.braces)."
            )
        return near[0]

    def ties(self) -> None:
        """Make the ties from row to row, in two halves where a rail between the rows hangs on one."""
        for n, section in enumerate(self.of.ties):
            z = float(self.z_tie[n])
            hung = [k for k, f in enumerate(self.of.faces) if f == "center" and abs(self.z_rail[k] - z) <= NEAR_BRACE]
            for line in range(len(self.x)):
                ends = [self._post_node(line, row_of(self.of, face), z) for face in ("back", "front")]
                nodes = [ends[0], *(self.crossing_of[k][line] for k in hung[:1]), ends[1]]
                made = []
                for k, (i, j) in enumerate(pairwise(nodes)):
                    released = (
                        (*(PIN_I if k == 0 else ()), *(PIN_J if k == len(nodes) - 2 else ())) if not self.of.moment else ()
                    )
                    made.append(self.element(i, j, UP, section, released))
                self.pieces.append(Piece(f"tie {n + 1} at post {line + 1}", "tie", section, tuple(made), (n, line)))

    def braces(self) -> None:
        """Make the braces whose ends are given."""
        for n, a, b in zip((e[0] for e in self.ends[::2]), self.ends[::2], self.ends[1::2], strict=True):
            i, j = self._brace_node(a), self._brace_node(b)
            if i == j:
                raise DomainError(f"Both ends of brace {n + 1} are at the same place. Move one of them (frame.braces).")
            section = self.of.braces[n].section
            along = np.subtract(self.xyz[j], self.xyz[i])
            depth = UP if abs(along[2]) < 0.9 * np.linalg.norm(along) else ACROSS
            made = self.element(i, j, depth, section, (*PIN_I, *PIN_J))
            self.pieces.append(Piece(f"brace {n + 1}", "brace", section, (made,), (n,)))

    def _brace_node(self, end: tuple[int, float, float, int]) -> int:
        n, x, z, line = end
        if line >= 0:
            return self._post_node(line, self._brace_row(n), z)
        nodes = self.rail_of[self._rail_of(end)]
        return min(nodes, key=lambda k: abs(self.xyz[k][0] - x))

    def built(self) -> Built:
        """Return the model."""
        m, count = self.m, len(self.elements)
        sections = np.stack([np.atleast_1d(m[name]) for name in ("A", "I_x", "I_y", "J")], axis=1)
        link = np.array([[m["A_link"], m["I_link"], m["I_link"], m["I_link"]]])
        released = np.zeros((count, 12), bool)
        for n, e in enumerate(self.elements):
            released[n, list(e[4])] = True
        held = np.zeros((len(self.xyz), 6), bool)
        for nodes in self.post_of.values():
            held[nodes[0]] = True if self.of.fixed else (True, True, True, False, False, True)
        i, j, depth, section, _ = zip(*self.elements, strict=True)
        all_sections = np.concatenate([sections, link])
        section = np.array(section)
        braces = [e for p in self.pieces if p.part == "brace" for e in p.elements]
        if braces:  # pinned at both ends: a brace carries force along itself alone
            start = len(all_sections)
            axial = all_sections[section[braces]] * (1, 1, 1, 0)
            all_sections, section[braces] = np.concatenate([all_sections, axial]), start + np.arange(len(braces))
        model = Model(
            np.array(self.xyz), np.array(i), np.array(j), np.array(depth), section, all_sections, released, held,
            float(m["E"]), float(m["G"]),
        )  # fmt: skip
        return Built(
            model, tuple(self.pieces), tuple(map(tuple, self.post_of.values())), tuple(map(tuple, self.rail_of)),
            tuple(map(tuple, self.crossing_of)), tuple(self.joints), tuple(self.splices),
            float(m["D_post"]) / 2,
        )  # fmt: skip

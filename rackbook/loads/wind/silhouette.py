"""What the wind sees: rectangles on the elevation, each spot owned by the first part the wind meets.

The area is exact arithmetic on the grid of all edges, worked in strips so that effort grows with the number of parts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

#: Edges in a strip: wide enough that few strips cut a part, narrow enough that a strip's grid stays small.
STRIP = 192
#: Two faces this close [ft] touch: no wind comes between them.
TOUCHING = 1.0 / 12.0


@dataclass(frozen=True, eq=False)
class Seen:
    """What is seen of each part outside (row 0) and inside (row 1) a rectangle: area and centroid, shape (2, n)."""

    area: np.ndarray
    u: np.ndarray
    v: np.ndarray


def seen(low: np.ndarray, high: np.ndarray, order: np.ndarray, window: Any) -> Seen:
    """Return what is seen of rectangles that cover one another.

    Args:
        low: Low corners (u, v), shape (n, 2).
        high: High corners, shape (n, 2).
        order: Indices from the first the wind meets to the last.
        window: u from, u to, v from, v to of the rectangle that is told apart.

    """
    low, high, window = np.round(low, 9), np.round(high, 9), np.round(window, 9)  # edges that meet are one edge
    n = len(low)
    sums = np.zeros((3, 2 * n))
    edges = np.unique(np.concatenate([low[:, 0], high[:, 0], window[:2]]))
    back_to_front = order[::-1]
    for start in range(0, len(edges) - 1, STRIP):
        u = edges[start : start + STRIP + 1]
        here = back_to_front[(low[back_to_front, 0] < u[-1]) & (high[back_to_front, 0] > u[0])]
        if len(here):
            sums += _strip(low[here], high[here], here, u, window, n)
    area, first, second = sums.reshape(3, 2, n)
    middle = (low + high) / 2
    with np.errstate(invalid="ignore", divide="ignore"):
        at_u = np.where(area > 0, first / area, middle[:, 0])
        at_v = np.where(area > 0, second / area, middle[:, 1])
    return Seen(area, at_u, at_v)


def _strip(low: np.ndarray, high: np.ndarray, labels: np.ndarray, u: np.ndarray, window: Any, n: int) -> np.ndarray:
    v = np.unique(np.concatenate([low[:, 1], high[:, 1], window[2:]]))
    owner = np.full((len(u) - 1, len(v) - 1), -1)
    i0, i1 = np.searchsorted(u, low[:, 0]), np.searchsorted(u, high[:, 0])
    j0, j1 = np.searchsorted(v, low[:, 1]), np.searchsorted(v, high[:, 1])
    corners = zip(labels.tolist(), i0.tolist(), i1.tolist(), j0.tolist(), j1.tolist(), strict=True)
    for label, a, b, c, d in corners:
        owner[a:b, c:d] = label
    mid_u, mid_v = (u[1:] + u[:-1]) / 2, (v[1:] + v[:-1]) / 2
    inside = np.outer((mid_u > window[0]) & (mid_u < window[1]), (mid_v > window[2]) & (mid_v < window[3]))
    area = np.outer(np.diff(u), np.diff(v))
    i, j = np.nonzero(owner >= 0)
    label = owner[i, j] + n * inside[i, j]
    area = area[i, j]
    return np.stack([np.bincount(label, w, 2 * n) for w in (area, area * mid_u[i], area * mid_v[j])])


def end_faces(boxes: np.ndarray, windward: int) -> np.ndarray:
    """Return the area of each part's end face that no touching neighbor covers; nothing else is taken as shielded.

    Args:
        boxes: Low and high corners, shape (n, 3, 2).
        windward: -1 for wind toward +x, which meets the low ends first; 1 for wind toward -x.

    """
    size = boxes[:, :, 1] - boxes[:, :, 0]
    own = size[:, 1] * size[:, 2]
    face = boxes[:, 0, 0] if windward < 0 else -boxes[:, 0, 1]
    back = boxes[:, 0, 1] if windward < 0 else -boxes[:, 0, 0]
    by_back = np.argsort(back, kind="stable")
    first = np.searchsorted(back[by_back], face - TOUCHING)
    last = np.searchsorted(back[by_back], face + TOUCHING, side="right")
    counts = last - first
    part = np.repeat(np.arange(len(face)), counts)
    neighbor = by_back[np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts) + np.repeat(first, counts)]
    keep = back[neighbor] - size[neighbor, 0] < face[part] - 1e-9  # a neighbor that begins before the face, so upwind
    part, neighbor = part[keep], neighbor[keep]
    low = np.maximum(boxes[part, 1:, 0], boxes[neighbor, 1:, 0])
    high = np.minimum(boxes[part, 1:, 1], boxes[neighbor, 1:, 1])
    overlap = np.prod(np.clip(high - low, 0, None), axis=1)
    covered = np.bincount(part, overlap, len(own)) if len(part) else np.zeros(len(own))
    return np.clip(own - covered, 0, None)

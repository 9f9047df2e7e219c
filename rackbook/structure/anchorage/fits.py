"""Whether a base can be as the job has it; what cannot is one error at its place in the job's file."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from rackbook.loads.outlines import Outline
from rackbook.trace import InputError, Value

if TYPE_CHECKING:
    from .plan import Plate, Rods

#: Tables whose shapes leave no room for a rod within their outline.
CLOSED = ("hss", "pipes")


def problem(at: Value, message: str) -> InputError:
    """Return the error for one quantity of the job, at its place in the file."""
    source = at.root.source
    field, _, line = source.locator.rpartition(", line ")
    number = int(line) if line.isdigit() else None
    return InputError(message, file=source.title, line=number, field=field or at.symbol)


def plate_fits(plate: Plate, post: Outline, piers: Any) -> None:
    """Refuse a plate that reaches over its pier, or is smaller than its post."""
    n, b, d = (v.m_as("in") for v in (plate.N, plate.B, piers.diameter))
    round_pier = piers.shape == "round"
    reach = float(np.hypot(n, b)) if round_pier else max(n, b)
    if reach > d * (1 + 1e-9):
        raise problem(
            plate.N if n >= b else plate.B,
            f"the base plate reaches over the pier: it is {reach:.2f} in. {'over its corners' if round_pier else 'wide'}, the "
            f"{piers.shape} pier {d:g} in. Use a smaller plate or a wider pier (piers.diameter).",
        )
    for at, own in ((plate.N, post.width), (plate.B, post.depth)):
        if at.m_as("in") < own.m_as("in"):
            raise problem(at, f"the base plate is smaller than the post {post.shape} that stands on it. Make it larger.")


def rods_in_concrete(anchors: Any, piers: Any, c_x: Value, c_y: Value) -> None:
    """Refuse rods outside the concrete, or nearer to its edge than the cover."""
    along, across = c_x.m_as("in"), c_y.m_as("in")
    wider = anchors.spacing_x.m_as("in") >= anchors.spacing_y.m_as("in")
    at = anchors.spacing_x if along < across or (along == across and wider) else anchors.spacing_y
    c, cover = min(along, across), piers.cover.m_as("in")
    clear = c - anchors.diameter.m_as("in") / 2
    pier = f"the {piers.diameter.text()} {piers.shape} pier"
    if clear <= 0:
        where = f"{c:.2f} in. inside" if c > 0 else f"{-c:.2f} in. outside"
        raise problem(
            at,
            f"an anchor lies outside the concrete: the outer rods' centers are {where} the edge of {pier}. Set the rods closer "
            "or widen piers.diameter.",
        )
    if clear < cover * (1 - 1e-9):
        raise problem(
            at,
            f"an anchor is too near to the edge of {pier}: it has {clear:.2f} in. of concrete beside it, less than the cover "
            f"of {cover:g} in. (piers.cover; ACI 318-19, 17.9.2). Set the rods closer or widen piers.diameter.",
        )


def rods_in_plate(anchors: Any, plate: Plate) -> None:
    """Refuse rods outside the plate."""
    half = anchors.diameter.m_as("in") / 2
    for at, s, size in ((anchors.spacing_x, anchors.spacing_x, plate.N), (anchors.spacing_y, anchors.spacing_y, plate.B)):
        if s.m_as("in") / 2 + half >= size.m_as("in") / 2:
            raise problem(
                at,
                f"an anchor lies outside the base plate, which is {size.text()} that way. Set the rods closer or use a larger "
                "plate (frame.base_plate).",
            )


def rods_beside_post(anchors: Any, post: Outline, rods: Rods) -> None:
    """Refuse rods under a tube or pipe."""
    clear = beside_post(post, rods.x.m_as("in"), rods.y.m_as("in"))
    if clear.min() <= anchors.diameter.m_as("in") / 2:
        wide, deep = post.width.m_as("in"), post.depth.m_as("in")
        raise problem(
            anchors.spacing_x
            if anchors.spacing_x.m_as("in") - wide <= anchors.spacing_y.m_as("in") - deep
            else anchors.spacing_y,
            f"an anchor stands under the post {post.shape} ({wide:g} in. by {deep:g} in.). Set the rods further apart.",
        )


def beside_post(post: Outline, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Return how far the centers of rods at x and y [in] lie outside a post [in]; negative within it."""
    wide, deep = post.width.m_as("in") / 2, post.depth.m_as("in") / 2
    if post.family == "pipes":
        return np.hypot(x, y) - wide
    out_x, out_y = np.abs(x) - wide, np.abs(y) - deep
    outside = np.hypot(np.maximum(out_x, 0), np.maximum(out_y, 0))
    return np.where((out_x > 0) | (out_y > 0), outside, np.maximum(out_x, out_y))

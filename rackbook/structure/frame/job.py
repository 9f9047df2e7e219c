"""The frame of a job: unit cases, combinations, sway, members, service checks."""

from __future__ import annotations

from typing import Any

import numpy as np

from rackbook.loads.members import post_lines, post_rows
from rackbook.loads.seismic import Seismic
from rackbook.loads.weights import Weights
from rackbook.loads.wind import Wind
from rackbook.trace import Source, formula

from ..combinations import combinations_for
from .analysis import Analysis, analyze
from .members import frame_members
from .result import Base, Frame, _Parts
from .second_order import R_M, Sway, story_strength
from .service import service
from .superpose import take


@formula(Source("derivation", "geometry: top of the posts over the underside of their plates"), L="in")
def story_height(z_top, z_pier, t_g):
    """Return the height of the posts from the underside of their plates."""
    L = z_top - z_pier - t_g
    return L


@formula(Source("derivation", "either sense"), Delta_H="in")
def sway_of_top(s, Delta):
    """Return the displacement of a post top as a length."""
    Delta_H = s * Delta
    return Delta_H


def frame(job: Any, weights: Weights, wind: Wind, seismic: Seismic, snow: Any = None, ice: Any = None) -> Frame:
    """Return the frame of a job's rack, solved for its unit load cases, over all load combinations.

    Args:
        job: The job.
        weights: Its weights.
        wind: Its wind loads.
        seismic: Its seismic loads.
        snow: Snow on its canopy, where there is some.
        ice: Ice and wind on it, where the job gives ice.

    Raises:
        DomainError: The frame is a mechanism, or a brace ends nowhere.
        LookupFailed: A shape or a steel is in no table.

    """
    analysis = analyze(job, weights, wind, seismic, snow, ice)
    vertical = {case: load for case, load in (("S", snow and snow.S), ("D_i", ice and ice.D_i)) if load}
    combined = combinations_for(job, seismic, analysis.cases, weights, vertical)
    sways = {direction: _sway(analysis, direction) for direction in ("along", "across")}
    places = analysis.solved.places
    members = frame_members(job, analysis.solved.built.pieces, places.of_member, sways)
    rows = post_rows(job)
    bases = tuple(Base(f"post {n} {word}".strip(), x, y) for n, x in enumerate(post_lines(job), 1) for word, y in rows)
    parts = _Parts(analysis, members, bases)
    used = service(job, analysis, sways)
    notes = tuple(h.remark for h in analysis.hung if h.remark)
    return Frame(
        combined.sets, sways, used.drift, used.deflections, (*used.checks, *combined.checks), (*notes, *combined.notes), parts
    )


def _sway(analysis: Analysis, direction: str) -> Sway:
    """Return how the rack sways under the notional case of a direction."""
    case, axis = analysis.cases.index(f"N {direction}"), ("along", "across").index(direction)
    given, tops = analysis.given, analysis.solved.built.tops
    moved = analysis.solved.displacements.reshape(-1, 6, len(analysis.cases))[tops, axis, case]
    post = int(np.argmax(np.abs(moved)))
    words = f"displacement {direction} of the top of post {post + 1} in case N {direction}"
    Delta_H = take(analysis.results["displacements"], (axis, int(tops[post]), case), words, "Delta_H")
    H = take(analysis.results["load forces"], (axis, case), f"sum of case N {direction}", "H")
    L = story_height(z_top=given["z_top"], z_pier=given["z_pier"], t_g=given["t_g"])
    return Sway(direction, H, Delta_H, L, story_strength(R_M=R_M, H=H, L=L, Delta_H=Delta_H))


__all__ = ["frame", "story_height"]

"""The frame of a job: unit cases, combinations, sway, members, service checks."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from rackbook.loads.members import post_lines, post_rows
from rackbook.loads.seismic import Seismic
from rackbook.loads.weights import Weights
from rackbook.loads.wind import Wind
from rackbook.trace import Check, Source, check, formula

from ..combinations import combinations_for
from .analysis import NOTIONAL, Analysis, analyze
from .arrays import Base
from .combined import Superposed
from .frequency import stiff_enough
from .members import frame_members
from .result import Frame, Governing
from .second_order import LIMIT, LIMIT_SOURCE, R_M, SET_OF, Sway, story_strength
from .service import service
from .solve import ACTIONS, REACTIONS
from .superpose import take
from .turning import turning


@formula(Source("derivation", "geometry: top of the posts over the underside of their plates"), L="in")
def story_height(z_top, z_pier, t_g):
    """Return the height of the posts from the underside of their plates."""
    L = z_top - z_pier - t_g
    return L


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
    members = frame_members(job, analysis.solved.built.pieces, analysis.solved.places.of_member, sways)
    lines, rows = post_lines(job), post_rows(job)
    bases = tuple(Base(f"post {n} {word}".strip(), x, y) for n, x in enumerate(lines, 1) for word, y in rows)
    method = str(job.codes.method)
    results = Superposed(analysis, combined, method, sways, members, bases)
    used = service(job, analysis, sways, seismic)
    by = SET_OF[method]
    turned = turning(analysis, used.drift, sways)
    piers = (weights.W, turned.k_theta, turned.n) if turned is not None else None
    checks = [_amplifier(results, by), *used.checks, *stiff_enough(job, sways, NOTIONAL, seismic, piers)]
    checks += [turned.check] if turned is not None else []
    return Frame(
        governing=dict(_governing(results, by)),
        sways=sways,
        drift=used.drift,
        shaken=used.shaken,
        deflections=used.deflections,
        checks=tuple(checks),
        notes=(*(h.remark for h in analysis.hung if h.remark), *_unplaced(job)),
        results=results,
        shears={name: getattr(seismic, name).shear for name in sways},
        turning=turned,
    )


def _sway(analysis: Analysis, direction: str) -> Sway:
    """Return how the rack sways under the notional case of a direction."""
    case, axis = analysis.cases.index(f"N {direction}"), ("along", "across").index(direction)
    given, built = analysis.given, analysis.solved.built
    moved = analysis.results["displacements"].magnitude[axis, built.tops, case]
    post = int(np.argmax(moved))
    words = f"displacement {direction} of the top of {built.post_marks[post]} in case N {direction}"
    Delta_H = take(analysis.results["displacements"], (axis, int(built.tops[post]), case), words, "Delta_H")
    H = take(analysis.results["load forces"], (axis, case), f"sum of case N {direction}", "H")
    L = story_height(z_top=given["z_top"], z_pier=given["z_pier"], t_g=given["t_g"])
    return Sway(direction, H, Delta_H, L, story_strength(R_M=R_M, H=H, L=L, Delta_H=Delta_H))


def _amplifier(results: Superposed, by: str) -> Check:
    """Return the check of the largest amplifier of the sway."""
    B = results.amplified(by)
    direction, each = max((("along", B.B_2a), ("across", B.B_2t)), key=lambda pair: float(pair[1].max()))
    k = int(np.argmax(each))
    return check(
        f"Second-order sway {direction} the rack, {results.sets[by].labels[k]}", results.B_2(by, direction, k), LIMIT,
        LIMIT_SOURCE, remedy="Stiffen the rack that way: stiffer posts, moment connections, or braces.",
    )  # fmt: skip


def _unplaced(job: Any) -> Iterator[str]:
    """Yield a remark on every brace whose ends are not given."""
    for n, brace in enumerate(job.frame.braces, 1):
        if brace.from_ is None:
            yield f"brace {n}: its ends are not given; it is weight on the rails and braces nothing."


def _governing(results: Superposed, by: str) -> Iterator[tuple[str, dict[str, Governing]]]:
    """Yield the largest actions of each part, and the largest reactions, in one set."""
    a, r, labels = results.actions(by), results.reactions(by), results.sets[by].labels
    for part in ("post", "rail", "brace", "tie"):
        at = np.array([s for m in results.members if m.part == part for s in m.stations], int)
        if not len(at):
            continue
        found = {}
        for component in ACTIONS if part != "brace" else ("P",):
            k, n = _largest(getattr(a, component)[:, at])
            station = int(at[n])
            member = int(a.member[station])
            value = results.action(by, component, member, k, station)
            found[component] = Governing(results.members[member].mark, labels[k], value)
        yield part, found
    base = {}
    for component in REACTIONS:
        k, n = _largest(getattr(r, component))
        base[component] = Governing(results.bases[n].label, labels[k], results.reaction(by, component, n, k))
    k, n = divmod(int(np.argmin(r.P)), r.P.shape[1])
    base["P_min"] = Governing(results.bases[n].label, labels[k], results.reaction(by, "P", n, k))
    yield "base", base


def _largest(of: np.ndarray) -> tuple[int, int]:
    """Return the combination and the place of the largest number, either sign."""
    return divmod(int(np.argmax(np.abs(of))), of.shape[1])

"""Wind on a whole rack: four directions, every part with its force and point of action."""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.geometry import Parts, parts, read
from rackbook.loads.words import as_word
from rackbook.trace import Check, Source, Value, check, formula, given, largest, word
from rackbook.trace.columns import entry
from rackbook.trace.maths import abs

from .conditions import Conditions
from .faces import DIRECTIONS, Loose, face, loose
from .force import G_RIGID, action_height, base_shear, overturning, twist
from .groups import Group, face_groups, loose_group, openness
from .pressure import BOTH, clause, directionality, edition_word, exposure_constants, ground_elevation
from .solid import SolidSign

_ALL = Source("derivation", "all groups of parts, in the order of the parts")
FREQUENCY = given(1.0, "Hz", clause(BOTH, "26.2, rigid: frequency of 1 Hz or more"), "n_min")
OPEN_FRAME = word("open_frame", Source("derivation", "openings of 30 % or more"), "structure")
SOLID_SIGN = word("solid_sign", Source("derivation", "openings below 30 %"), "structure")
PLANE = given(0.0, "ft", Source("derivation", "the post plane"), "u_0")


@formula(Source("derivation", "frequency of a period"), n_1="Hz")
def frequency(T):
    """Return the natural frequency."""
    n_1 = 1 / T
    return n_1


@formula(clause(BOTH, "Figure 29.3-1, with the parts' own eccentricity"), T="lbf*ft")
def whole_torsion(T_e, T_s):
    """Return the torsion on the whole rack, own eccentricity and panel on the same side."""
    T = abs(T_e) + T_s
    return T


@formula(Source("derivation", "sum of two panels"), T_s="lbf*ft")
def torsion_sum(T_1, T_2):
    """Return the torsion of two panels, both on the same side."""
    T_s = T_1 + T_2
    return T_s


class ByTag(Mapping[str, Value]):
    """Entries of columns by tag, each taken out when it is first asked for and the same one ever after."""

    def __init__(self, places: dict[str, tuple[Value, int]]) -> None:
        self._places, self._made = places, dict[str, Value]()

    def __getitem__(self, tag: str) -> Value:
        if tag not in self._made:
            column, place = self._places[tag]
            self._made[tag] = entry(column, place, tag)
        return self._made[tag]

    def __iter__(self) -> Iterator[str]:
        return iter(self._places)

    def __len__(self) -> int:
        return len(self._places)


@dataclass(frozen=True)
class Direction:
    """Wind from one side, at strength level.

    Attributes:
        name: ``front``, ``back`` (wind on that face), ``left`` or ``right`` (wind on that end).
        along: Whether the wind blows along the rack.
        groups: The parts by figure, with pressures and areas.
        tags: Every part once.
        F, u, z: Force on each part [lbf] and its point of action: u is x for wind across, y for wind along [ft].
        forces: The same forces by tag.
        fastening: Force on the whole face of each piece of equipment by tag, for its own fastening.
        V, M, T: Total force, overturning moment about the ground line, torsion about the vertical axis through the
            middle of the rack (across) or the post plane (along).
        z_F: Height of the resultant.

    """

    name: str
    along: bool
    groups: tuple[Group, ...]
    tags: tuple[str, ...]
    F: Value
    u: Value
    z: Value
    forces: Mapping[str, Value]
    fastening: Mapping[str, Value]
    V: Value
    M: Value
    T: Value
    z_F: Value

    @property
    def panels(self) -> tuple[SolidSign, ...]:
        """The faces that count as solid signs."""
        return tuple(g.sign for g in self.groups if g.sign is not None)

    @property
    def openness(self) -> str:
        """``open`` or ``solid``: what the first face counts as."""
        return "solid" if self.panels else "open"

    @property
    def epsilon(self) -> Value:
        """Solidity of the first face's outline."""
        return self.groups[0].epsilon


@dataclass(frozen=True)
class Wind:
    """Wind on the rack; see :class:`Direction`. ``across`` and ``along`` are the forces that govern the two axes."""

    edition: Value
    conditions: Conditions
    parts: Parts
    front: Direction
    back: Direction
    left: Direction
    right: Direction
    across: Value
    along: Value
    checks: tuple[Check, ...]

    @property
    def directions(self) -> dict[str, Direction]:
        """The four directions by name."""
        return {name: getattr(self, name) for name in DIRECTIONS}

    @property
    def governing(self) -> Direction:
        """The direction of the largest overturning moment; the first one where two differ by rounding alone."""
        return max(self.directions.values(), key=lambda d: float(f"{d.M.m_as('lbf*ft'):.9g}"))


def _joined(**arrays: np.ndarray) -> np.ndarray:
    return np.concatenate([np.atleast_1d(a) for a in arrays.values()])


def _summed(index: np.ndarray, n: int, **F: np.ndarray) -> np.ndarray:
    return np.bincount(index, _joined(**F), n)


def _at(index: np.ndarray, n: int, **columns: np.ndarray) -> np.ndarray:
    """Return where the force on each part acts: ``F_1``, ``F_2`` are the groups' forces, the others their places."""
    F = _joined(**{name: v for name, v in columns.items() if name[0] == "F"})
    x = _joined(**{name: v for name, v in columns.items() if name[0] != "F"})
    total, plain = np.bincount(index, F, n), np.bincount(index, x, n) / np.bincount(index, minlength=n)
    return np.where(total > 0, np.bincount(index, F * x, n) / np.where(total > 0, total, 1.0), plain)


def conditions(job: Any) -> Conditions:
    """Return what the site and the code say about the wind, the same for every part."""
    wind_, edition = job.site.wind, edition_word(as_word(job.codes.loads, "edition"))
    exposure = as_word(wind_.exposure, "exposure")
    return Conditions(
        edition=edition,
        exposure=exposure,
        V=wind_.speed,
        K_e=ground_elevation(job.site.elevation),
        K_d=directionality(edition, OPEN_FRAME),
        K_d_sign=directionality(edition, SOLID_SIGN),
        G=wind_.gust_factor if wind_.gust_factor is not None else G_RIGID,
        constants=exposure_constants(edition, exposure),
        topography=wind_.topography,
    )


def direction_loads(
    job: Any, rack: Parts, at: Conditions, name: str, bare: Parts | None = None, grown: Callable[[Loose], Loose] | None = None
) -> Direction:
    """Return the wind from one side on the boxes of a rack.

    With ice, ``rack`` are the grown boxes, ``bare`` those without ice, and ``grown`` gives what is no box its size with ice.
    """
    along = name in ("left", "right")
    rows: tuple[int | None, ...] = (None,)
    if not along:  # windward row first; canopy edges stand in neither row of two
        rows = (DIRECTIONS[name], -DIRECTIONS[name]) if (rack.rows != 0).any() else (0,)
    groups: list[Group] = []
    rest: Loose | None = None
    for n, row in enumerate(rows):
        seen = face(rack, name, row)
        tags, round_ = tuple(rack.tags[i] for i in seen.places), rack.round[seen.places]
        if n == 0:
            rest = loose(job, bare or rack, name, seen, openness(seen, along)[2])
            rest = grown(rest) if grown is not None and rest is not None else rest
        filling = rest.only(inside=True) if n == 0 and rest is not None else None
        groups.extend(face_groups(at, seen, tags, round_, along, filling))
    if rest is not None and groups[0].figure == "solid panel":
        rest = rest.only(inside=False)  # what stands in its openings is a part of the sign
    if rest is not None:
        groups.append(loose_group(at, rest, groups[0]))
    return totals(rack, name, along, tuple(groups))


def totals(rack: Parts, name: str, along: bool, groups: tuple[Group, ...]) -> Direction:
    """Return the wind on groups of parts summed: by part, and for the whole rack."""
    places: dict[str, int] = {}
    index = np.array([places.setdefault(tag, len(places)) for g in groups for tag in g.tags], int)
    tags, n = tuple(places), len(places)
    own_of = {s: {f"{s}_{i}": getattr(g, s) for i, g in enumerate(groups, 1)} for s in "Fuz"}
    F = read("force by part", _ALL, "lbf", functools.partial(_summed, index, n), own_of["F"], "F")
    at = functools.partial(_at, index, n)
    u, z = (read("point of action", _ALL, "ft", at, {**own_of["F"], **own_of[s]}, s) for s in ("u", "z"))
    V, M = base_shear(F=F), overturning(F=F, z=z)
    T = twist(F=F, u=u, u_0=PLANE if along else rack.middle)
    signs = [g.sign.T for g in groups if g.sign is not None]
    if signs:
        T = whole_torsion(T_e=T, T_s=signs[0] if len(signs) == 1 else torsion_sum(T_1=signs[0], T_2=signs[1]))
    own: dict[str, tuple[Value, int]] = {}
    equipment = {tag for tag, kind in zip(rack.tags, rack.kinds, strict=True) if kind == "equipment"}
    for g in groups:
        if g.F_own is not None:
            own.update({tag: (g.F_own, i) for i, tag in enumerate(g.tags) if tag in equipment})
    return Direction(
        name,
        along,
        groups,
        tags,
        F,
        u,
        z,
        ByTag({t: (F, i) for i, t in enumerate(tags)}),
        ByTag(own),
        V,
        M,
        T,
        action_height(M=M, V_w=V),
    )


def wind(job: Any) -> Wind:
    """Return the wind loads of a job's rack by ASCE/SEI 7-16 or 7-22, as the job says.

    Every row of posts is taken as a frame of its own: within a row each spot counts once, for the part the wind meets
    first; one row never shields the other, nor one part the next along the rack unless they touch.

    Raises:
        DomainError: The edition is another one.
        LookupFailed: A shape, exposure or coefficient is in no table.

    """
    rack, at = parts(job), conditions(job)
    made = {name: direction_loads(job, rack, at, name) for name in DIRECTIONS}
    return Wind(
        edition=at.edition,
        conditions=at,
        parts=rack,
        **made,
        across=largest("V_w", {"front": made["front"].V, "back": made["back"].V}),
        along=largest("V_w", {"left": made["left"].V, "right": made["right"].V}),
        checks=_checks(job, at, rack),
    )


def _checks(job: Any, at: Conditions, rack: Parts) -> tuple[Check, ...]:
    found = []
    period = job.site.seismic.period
    if job.site.wind.gust_factor is None and period is not None:
        found.append(
            check(
                "Rigid structure for G = 0.85",
                FREQUENCY,
                frequency(T=period),
                clause(BOTH, "26.11.1 and 26.2"),
                remedy="Give a gust factor of 26.11.5 for a flexible rack.",
            )
        )
    if job.frame.canopy is not None:
        top = at.q(job.frame.canopy.height, at.K_d).named("q_h")
        found.append(
            check(
                "Wind pressure on the canopy's roof",
                top,
                None,
                clause(BOTH, "27.3.2, open buildings"),
                remedy="Pressure up and down on the roof is not worked out here; only its edges are. Add it.",
            )
        )
    return tuple(found)

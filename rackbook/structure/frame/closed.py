"""Small frames of plain numbers through the same solution, for what handbooks have closed forms of.

Members are taken as stiff along themselves, as the closed forms are.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.loads.geometry import read
from rackbook.trace import Source, Value

from ..steel import E as E_STEEL
from ..steel import G as G_STEEL
from .solve import respond
from .stiffness import DOF, Model

#: Area of the members [in2], and torsion constant and inertia out of the plane [in4], none of which bends in the plane.
STIFF, OUT = 1e5, 10.0
#: Elements of a member with axial load: the cubic shape comes within 0.01 % of the exact one.
PIECES = 8
UP = np.array([0.0, 0.0, 1.0])
_SOURCE = Source("derivation", "direct stiffness of a plane frame, the same solution as the rack's")


@dataclass(frozen=True)
class Cantilever:
    """Fixed at the foot, loaded at the top: moment at the foot, displacement and turn at the top."""

    M: Value
    delta: Value
    theta: Value


@dataclass(frozen=True)
class Portal:
    """Portal of one bay: moments at corner and base, thrust and vertical reaction at the right base, sway at the top."""

    M_corner: Value
    M_base: Value
    thrust: Value
    V: Value
    sway: Value


@dataclass(frozen=True)
class TwoBay:
    """Two bays, a load in the middle of each: moments of the beam over the posts and at midspan, and at the bases."""

    M_ext: Value
    M_int: Value
    M_mid: Value
    M_base_ext: Value
    M_base_int: Value
    V_base_int: Value


def cantilever(P: Value, L: Value, I: Value, N: Value | None = None) -> Cantilever:
    """Return a cantilever post under a side load P at its top, with the second order of an axial load N on it."""
    given = {"P": P.to("kip"), "L": L.to("in"), "I": I.to("in**4"), "E": E_STEEL}
    if N is not None:
        given["N"] = N.to("kip")

    def work(P: float, L: float, I: float, E: float, N: float = 0.0) -> dict[str, float]:
        xyz = np.array([(0.0, 0.0, L * n / PIECES) for n in range(PIECES + 1)])
        model = _plane(xyz, [(n, n + 1, 0) for n in range(PIECES)], (I,), {0: True}, E)
        F = np.zeros((DOF * len(xyz), 1))
        F[-6], F[-4] = P, -N
        u, ends = respond(model, F, np.zeros((PIECES, 3, 1)), np.full(PIECES, N) if N else None)
        return {"M": abs(ends[0, 5, 0]), "delta": u[-6, 0], "theta": u[-2, 0]}

    return Cantilever(**_read(work, given, {"M": "kip*in", "delta": "in", "theta": ""}))


def portal(I_c: Value, I_b: Value, h: Value, L: Value, base: str, H: Value | None = None, w: Value | None = None) -> Portal:
    """Return a rigid portal with ``fixed`` or ``pinned`` bases under a side load H at its beam, or a load w along it."""
    given = {"I_c": I_c.to("in**4"), "I_b": I_b.to("in**4"), "h": h.to("in"), "L": L.to("in"), "E": E_STEEL}
    given |= {"H": H.to("kip")} if H is not None else {}
    given |= {"w": w.to("kip/in")} if w is not None else {}

    def work(I_c: float, I_b: float, h: float, L: float, E: float, H: float = 0.0, w: float = 0.0) -> dict[str, float]:
        xyz = np.array([(0, 0, 0), (0, 0, h), (L, 0, h), (L, 0, 0)], float)
        model = _plane(xyz, [(0, 1, 0), (1, 2, 1), (3, 2, 0)], (I_c, I_b), {0: base == "fixed", 3: base == "fixed"}, E)
        F = np.zeros((DOF * 4, 1))
        F[6] = H
        loads = np.zeros((3, 3, 1))
        loads[1, 1] = -w
        u, ends = respond(model, F, loads)
        foot = ends[2, :, 0]
        return {
            "M_corner": abs(ends[2, 11, 0]), "M_base": abs(foot[5]), "thrust": abs(foot[1]), "V": abs(foot[0]), "sway": u[6, 0]
        }  # fmt: skip

    units = {"M_corner": "kip*in", "M_base": "kip*in", "thrust": "kip", "V": "kip", "sway": "in"}
    return Portal(**_read(work, given, units))


def two_bay(I_c: Value, I_b: Value, h: Value, L: Value, P: Value) -> TwoBay:
    """Return a rigid frame of two equal bays with fixed bases under a load P in the middle of each."""
    given = {"I_c": I_c.to("in**4"), "I_b": I_b.to("in**4"), "h": h.to("in"), "L": L.to("in"), "P": P.to("kip"), "E": E_STEEL}

    def work(I_c: float, I_b: float, h: float, L: float, P: float, E: float) -> dict[str, float]:
        tops = [(x, 0.0, h) for x in (0, L / 2, L, 3 * L / 2, 2 * L)]
        xyz = np.array([*tops, (0, 0, 0), (L, 0, 0), (2 * L, 0, 0)], float)
        beams = [(n, n + 1, 1) for n in range(4)]
        model = _plane(xyz, [*beams, (5, 0, 0), (6, 2, 0), (7, 4, 0)], (I_c, I_b), {5: True, 6: True, 7: True}, E)
        F = np.zeros((DOF * len(xyz), 1))
        F[DOF * 1 + 2] = F[DOF * 3 + 2] = -P
        _, ends = respond(model, F, np.zeros((7, 3, 1)))
        M = np.abs(ends[:, :, 0])
        return {
            "M_ext": M[0, 5], "M_int": M[1, 11], "M_mid": M[0, 11], "M_base_ext": M[4, 5], "M_base_int": M[5, 5],
            "V_base_int": M[5, 0],
        }  # fmt: skip

    units = dict.fromkeys(("M_ext", "M_int", "M_mid", "M_base_ext", "M_base_int"), "kip*in") | {"V_base_int": "kip"}
    return TwoBay(**_read(work, given, units))


def _plane(
    xyz: np.ndarray, elements: list[tuple[int, int, int]], I: tuple[float, ...], held: dict[int, bool], E: float
) -> Model:
    """Return a frame in the plane of x and z: elements with their section, bases fixed (True) or pinned."""
    i, j, section = (np.array(column) for column in zip(*elements, strict=True))
    ground = np.zeros((len(xyz), DOF), bool)
    ground[:, [1, 3, 5]] = True
    for node, fixed in held.items():
        ground[node] = [True, True, True, True, fixed, True]
    upright = np.isclose(xyz[i, 0], xyz[j, 0])
    depth = np.where(upright[:, None], np.array([1.0, 0.0, 0.0]), UP)
    sections = np.array([(STIFF, inertia, OUT, OUT) for inertia in I])
    return Model(xyz, i, j, depth, section, sections, np.zeros((len(i), 12), bool), ground, E, G_STEEL.magnitude)


def _read(work: Callable[..., dict[str, float]], given: dict[str, Value], units: dict[str, str]) -> dict[str, Any]:
    """Return every number of a small frame as a Value that can be worked again."""
    found = work(**{n: v.magnitude for n, v in given.items()})

    def one(name: str) -> Callable[..., float]:
        return lambda **m: work(**m)[name]

    return {n: read(f"plane frame, {n}", _SOURCE, unit, one(n), given, n, float(found[n])) for n, unit in units.items()}

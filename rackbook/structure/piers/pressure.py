"""Pressure under a rigid rectangular footing on soil that takes no tension, inside and past the kern, both axes together.

In shares of the footing the pressure is a plane, p = a - b xi - c eta, falling from the corner most loaded and zero beyond
its own edge. Its three numbers follow from the force and the two moments; the part in contact is found by working
them again on the part found before, which is Newton's way through a convex problem.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rackbook.loads.geometry import read
from rackbook.trace import DomainError, Source, Value, formula
from rackbook.trace.maths import abs

RIGID = Source("derivation", "rigid footing on soil without tension")
_PARTS = Source("derivation", "rigid footing lifted off about both axes: plane of pressure in equilibrium with N, M_x and M_y")
_GAUSS = np.polynomial.legendre.leggauss(3)


@formula(RIGID, e="ft")
def eccentricity(M, N):
    """Return the eccentricity of the load, without its sense."""
    e = abs(M) / N
    return e


@formula(RIGID, k="")
def kern_share(e_x, e_y, L, B):
    """Return how far the load is out toward the edge of the kern; up to 1 the whole footing bears."""
    k = 6 * e_x / L + 6 * e_y / B
    return k


@formula(RIGID, q_max="psf")
def full_contact(N, L, B, k):
    """Return the largest pressure where the whole footing bears."""
    q_max = N / (L * B) * (1 + k)
    return q_max


@formula(RIGID, q_min="psf")
def least_pressure(N, L, B, k):
    """Return the least pressure where the whole footing bears."""
    q_min = N / (L * B) * (1 - k)
    return q_min


@formula(RIGID, q_max="psf")
def lifted_one_way(N, e, L, B):
    """Return the largest pressure of a footing lifted off at one side, eccentricity along L only."""
    q_max = 2 * N / (3 * B * (L / 2 - e))
    return q_max


@formula(_PARTS, q_max="psf")
def lifted_two_ways(kappa, N, L, B):
    """Return the largest pressure of a footing lifted off at a corner, kappa times the mean one."""
    q_max = kappa * N / (L * B)
    return q_max


@dataclass(frozen=True)
class Bearing:
    """Largest pressure under a footing: eccentricities, share of the kern, pressure, and the least one in full contact."""

    e_x: Value
    e_y: Value
    k: Value
    q_max: Value
    q_min: Value | None


def bearing(N: Value, M_x: Value, M_y: Value, L: Value, B: Value) -> Bearing:
    """Return the pressure under a footing of length L along x and width B along y.

    Args:
        N: Load at its middle, down.
        M_x: Moment about x: eccentricity across, along B. Either sense.
        M_y: Moment about y: eccentricity along L. Either sense.
        L: Length along x.
        B: Width along y.

    Raises:
        DomainError: The load does not press, or lies off the footing.

    """
    if N.magnitude <= 0:
        raise DomainError(f"N = {N.text()} does not press on the soil: the footing is lifted. Enlarge it.")
    e_x, e_y = (eccentricity(M=M, N=N).named(name) for M, name in ((M_y, "e_x"), (M_x, "e_y")))
    for e, side, name in ((e_x, L, "long"), (e_y, B, "wide")):
        if e.m_as("ft") >= side.m_as("ft") / 2:
            raise DomainError(f"{e.symbol} = {e.text()} lies off the footing, which is {side.text()} {name}: it turns over.")
    k = kern_share(e_x=e_x, e_y=e_y, L=L, B=B)
    if k.magnitude <= 1:
        return Bearing(e_x, e_y, k, full_contact(N=N, L=L, B=B, k=k), least_pressure(N=N, L=L, B=B, k=k))
    if e_y.magnitude == 0:
        return Bearing(e_x, e_y, k, lifted_one_way(N=N, e=e_x, L=L, B=B), None)
    if e_x.magnitude == 0:
        return Bearing(e_x, e_y, k, lifted_one_way(N=N, e=e_y, L=B, B=L), None)
    given = {n: v.to("ft") for n, v in (("e_x", e_x), ("e_y", e_y), ("L", L), ("B", B))}
    kappa = read("largest pressure in shares of the mean", _PARTS, "", _factor, given, "kappa")
    return Bearing(e_x, e_y, k, lifted_two_ways(kappa=kappa, N=N, L=L, B=B), None)


def _factor(e_x, e_y, L, B):
    return float(factors(np.array([e_x / L]), np.array([e_y / B]))[0])


def factors(u: np.ndarray, v: np.ndarray) -> np.ndarray:
    """Return the largest pressure in shares of the mean one; infinite where the load lies off the footing or on its edge.

    Args:
        u: Eccentricities along the length in shares of it, either sense.
        v: Eccentricities along the width in shares of it; same shape.

    """
    u, v = np.abs(u), np.abs(v)
    out = np.where(np.maximum(u, v) < 0.5, 1 + 6 * u + 6 * v, np.inf)
    past = np.isfinite(out) & (u + v > 1 / 6)
    if np.any(past):
        out[past] = planes(u[past], v[past])[:, 0]
    return out


def planes(u: np.ndarray, v: np.ndarray) -> np.ndarray:
    """Return a, b and c of each plane of pressure, in shares of the mean pressure; eccentricities from 0 to below 1/2."""
    wanted = np.stack([np.ones_like(u), 0.5 - u, 0.5 - v], axis=1)
    plane = np.stack([1 + 6 * u + 6 * v, 12 * u, 12 * v], axis=1)
    moving = np.arange(len(plane))
    for _ in range(60):
        old = plane[moving]
        new = np.linalg.solve(_equations(old), wanted[moving, :, None])[:, :, 0]
        new[:, 1:] = np.maximum(new[:, 1:], 0.0)
        plane[moving] = new
        moving = moving[np.max(np.abs(new - old) / new[:, :1], axis=1) > 1e-11]
        if not moving.size:
            break
    return plane


def _equations(plane: np.ndarray) -> np.ndarray:
    """Return the equations of equilibrium of planes, taken over the part in contact under each."""
    i = _moments(plane)
    rows = ((0, 0), (1, 0), (0, 1))
    return np.stack([np.stack([i[m, n], -i[m + 1, n], -i[m, n + 1]], axis=1) for m, n in rows], axis=1)


def _moments(plane: np.ndarray) -> dict[tuple[int, int], np.ndarray]:
    """Return the moments of the part in contact, exactly: Gauss points on the two stretches where its edge is straight."""
    a, b, c = (plane[:, n, None] for n in range(3))
    s, t = np.maximum(b / a, 1e-12), np.maximum(c / a, 1e-12)
    far = np.minimum(1.0, 1 / t)
    bend = np.clip((1 - s) / t, 0.0, far)
    points, weights = _GAUSS
    out = {}
    stretches = []
    for start, end in ((0.0 * far, bend), (bend, far)):
        eta = start + (end - start) * (points + 1) / 2
        stretches.append((eta, np.minimum(1.0, np.maximum(0.0, 1 - t * eta) / s), (end - start) * weights / 2))
    for i, j in ((0, 0), (1, 0), (0, 1), (2, 0), (1, 1), (0, 2)):
        out[i, j] = sum(np.sum(w * xi ** (i + 1) / (i + 1) * eta**j, axis=1) for eta, xi, w in stretches)
    return out

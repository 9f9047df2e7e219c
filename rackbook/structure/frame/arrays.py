"""Results of a set of combinations as arrays."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rackbook.trace import Value


@dataclass(frozen=True, eq=False)
class Actions:
    """Second-order actions in the members, (combinations, stations); kip and kip in., P in compression above zero.

    M_x bends the section about its x axis (depth works), V_y goes with it; M_y and V_x the other way; T is torsion.
    """

    P: np.ndarray
    V_y: np.ndarray
    V_x: np.ndarray
    T: np.ndarray
    M_x: np.ndarray
    M_y: np.ndarray
    member: np.ndarray


@dataclass(frozen=True, eq=False)
class Reactions:
    """What the frame exerts on the foundation at the underside of each base plate, (combinations, bases); kip, kip in.

    P is down, V_x along the rack to the right, V_y across it to the front. Moments are components of r x F: a force along
    V_x above the base gives M_y above zero, a force V_y gives M_x below zero.
    """

    P: np.ndarray
    V_x: np.ndarray
    V_y: np.ndarray
    M_x: np.ndarray
    M_y: np.ndarray
    T: np.ndarray


@dataclass(frozen=True, eq=False)
class Clips:
    """What each rail exerts on its post at every crossing, at the post's face, (combinations, clips); kip, kip in.

    F_x to the right, F_y away from the post (it pulls the rail off), F_z up. A rail in the posts' own plane has a clip on
    either side of a post; there F_y is to the front.
    """

    labels: tuple[str, ...]
    F_x: np.ndarray
    F_y: np.ndarray
    F_z: np.ndarray
    M_x: np.ndarray
    M_y: np.ndarray
    M_z: np.ndarray


@dataclass(frozen=True, eq=False)
class Splices:
    """Second-order actions in each rail at each splice, (combinations, splices); signs as :class:`Actions`."""

    labels: tuple[str, ...]
    P: np.ndarray
    V_y: np.ndarray
    V_x: np.ndarray
    T: np.ndarray
    M_x: np.ndarray
    M_y: np.ndarray


@dataclass(frozen=True)
class Base:
    """The foot of a post: ``post 1`` or ``post 1 front``, and where it stands."""

    label: str
    x: Value
    y: Value


@dataclass(frozen=True, eq=False)
class Amplified:
    """Amplifiers of one set: B_2 along and across by combination, B_1 by combination and member about both axes."""

    B_2a: np.ndarray
    B_2t: np.ndarray
    B_1x: np.ndarray
    B_1y: np.ndarray

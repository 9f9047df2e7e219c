"""How stiff the frame is for its mass, with piers that turn in the soil, against what wind and earthquake loads assume.

With loads of n_N times the weights, Rayleigh's quotient gives T^2 = 4 pi^2 sum(w u^2) / (g n_N sum(w u)). No weight moves
more than the post that moves most, so its displacement Delta_H gives a period that the fixed-base one does not exceed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rackbook.loads.seismic import Seismic
from rackbook.loads.weights.steel import G_N
from rackbook.loads.wind.rack import FREQUENCY, frequency
from rackbook.trace import Check, Source, Value, check, formula
from rackbook.trace.maths import pi, sqrt

from .second_order import Sway

_RIGID = Source("clause", "ASCE/SEI 7", "16 and 22", "26.11.1 and 26.2", "memory")
_PERIOD = Source("clause", "ASCE/SEI 7", "16 and 22", "15.4.4", "memory")
#: The bound of the base shear that no period changes.
PLATEAU = "Eq. 12.8-2"


@formula(Source("derivation", "Rayleigh's quotient with the largest displacement for every weight, fixed bases"), T="s")
def longest_period(Delta_H, n_N, g):
    """Return a period that the fixed-base period of the rack does not exceed."""
    T = 2 * pi * sqrt(Delta_H / (n_N * g))
    return T


@formula(Source("derivation", "lateral stiffness of the frame with fixed bases, at the tops of the posts"), k_f="kip/in")
def frame_stiffness(H, Delta_H):
    """Return the lateral stiffness of the frame."""
    k_f = H / Delta_H
    return k_f


@formula(
    Source("derivation", "Dunkerley: frame on fixed bases, and rigid rack of weight W at height L on turning piers"), T="s"
)
def rocking_period(T_f, W, L, k_theta, n, g):
    """Return a period of the rack on n piers that turn, from its fixed-base period."""
    T = sqrt(T_f**2 + 4 * pi**2 * W * L**2 / (n * k_theta * g))
    return T


def stiff_enough(
    job: Any, sways: Mapping[str, Sway], n_N: Value, seismic: Seismic, piers: tuple[Value, Value, Value] | None = None
) -> Iterator[Check]:
    """Yield the checks of what the wind and earthquake loads assume of the frame.

    Args:
        job: The job.
        sways: Sway of the rack under n_N times its weights, along and across.
        n_N: That share.
        seismic: Its seismic loads, with the periods they were worked out with.
        piers: Weight of the rack, rotational stiffness its piers must have, and number of piers; None where they do not
            turn with the posts, or where no stiffness would do.

    """
    longest = {name: longest_period(Delta_H=sway.Delta_H, n_N=n_N, g=G_N) for name, sway in sways.items()}
    name, T = max(longest.items(), key=lambda item: float(item[1].magnitude))
    if job.site.wind.gust_factor is None and job.site.seismic.period is None:
        words, remedy = "", "Stiffen the rack, or give a gust factor of 26.11.5 for a flexible one (site.wind.gust_factor)."
        if piers is not None:
            W, k_theta, n = piers
            T = rocking_period(T_f=T, W=W, L=sways[name].L, k_theta=k_theta, n=n, g=G_N)
            words = ", piers of the required stiffness"
        yield check(f"Rigid structure for G = 0.85, {name} the rack{words}", FREQUENCY, frequency(T=T), _RIGID, remedy=remedy)
    for name, T in longest.items():
        used = getattr(seismic, name).shear
        if used.T is not None and used.governs != PLATEAU:
            remedy = "Leave site.seismic.period and .stiffness out, or give those of this frame: a longer period reduces loads."
            yield check(f"Period used for the earthquake {name} the rack", used.T, T, _PERIOD, remedy=remedy)

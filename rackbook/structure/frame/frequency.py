"""How stiff the frame is for its mass: the longest period it can have, against what wind and earthquake took it for.

With loads of n_N times the weights, Rayleigh's quotient gives T^2 = 4 pi^2 sum(w u^2) / (g n_N sum(w u)). No weight moves
more than the post that moves most, so its displacement Delta_H gives a period that the true one does not exceed.
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


@formula(Source("derivation", "Rayleigh's quotient with the largest displacement for every weight"), T="s")
def longest_period(Delta_H, n_N, g):
    """Return a period that the rack's does not exceed."""
    T = 2 * pi * sqrt(Delta_H / (n_N * g))
    return T


def stiff_enough(job: Any, sways: Mapping[str, Sway], n_N: Value, seismic: Seismic) -> Iterator[Check]:
    """Yield the checks of what wind and earthquake took the frame for.

    Args:
        job: The job.
        sways: Sway of the rack under n_N times its weights, along and across.
        n_N: That share.
        seismic: Its seismic loads, with the periods they were worked out with.

    """
    longest = {name: longest_period(Delta_H=sway.Delta_H, n_N=n_N, g=G_N) for name, sway in sways.items()}
    name, T = max(longest.items(), key=lambda item: float(item[1].magnitude))
    if job.site.wind.gust_factor is None and job.site.seismic.period is None:
        remedy = "Stiffen the rack, or give a gust factor of 26.11.5 for a flexible one (site.wind.gust_factor)."
        yield check(f"Rigid structure for G = 0.85, {name} the rack", FREQUENCY, frequency(T=T), _RIGID, remedy=remedy)
    for name, T in longest.items():
        taken = getattr(seismic, name).shear.T
        if taken is not None:
            remedy = "Leave site.seismic.period and .stiffness out, or give those of this frame: a longer period eases loads."
            yield check(f"Period taken for the earthquake {name} the rack", taken, T, _PERIOD, remedy=remedy)

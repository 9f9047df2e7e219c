"""All loads on a rack, each worked with what it rests on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from .ice import Ice, ice
from .seismic import Seismic, seismic
from .snow import Snow, snow
from .weights import Weights, weights
from .wind import Wind, wind


@dataclass(frozen=True)
class Acting:
    """The loads on a rack; snow and ice where the job asks for them."""

    weights: Weights
    wind: Wind
    snow: Snow | None
    ice: Ice | None
    seismic: Seismic


def acting(job: Any) -> Acting:
    """Return all loads on a job's rack.

    Raises:
        RackbookError: A table or a clause cannot serve what the job asks.

    """
    weight, fallen = weights(job), snow(job)
    return Acting(weight, wind(job), fallen, ice(job, weight), seismic(job, weight, fallen.p_f if fallen else None))

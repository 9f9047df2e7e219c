"""Ground water at the piers: below their bases, or with buoyant weight where it stands higher."""

from __future__ import annotations

from rackbook.trace import Check, Source, Value, check, formula, given
from rackbook.trace.maths import max

from .size import Pier
from .soil import Ground, ibc

GAMMA_W = given(62.4, "pcf", Source("common practice", "unit weight of fresh water"), "gamma_w")
GIVE_WATER = (
    "Give site.soil.water: the highest ground water below grade, or the depth to which the borings met none. Above the bases "
    "of the foundations it takes buoyancy off their weight and lowers the lateral resistance."
)
NAME = "Ground water below the"


@formula(Source("derivation", "weight of the pier less that of the water it displaces below ground water"), W_b="kip")
def buoyant_weight(W_p, gamma_w, A_p, D, z_w):
    """Return the weight of a pier that stands in ground water, against uplift."""
    W_b = W_p - gamma_w * A_p * max(0, D - z_w)
    return W_b


def uplift_weight(pier: Pier, ground: Ground) -> Value:
    """Return the weight of a pier that holds against uplift: buoyant where ground water stands above its base."""
    if ground.water is None or ground.water.m_as("ft") >= pier.D.m_as("ft"):
        return pier.W_p
    return buoyant_weight(W_p=pier.W_p, gamma_w=GAMMA_W, A_p=pier.A_p, D=pier.D, z_w=ground.water)


def water_checks(what: str, ground: Ground, D: Value) -> tuple[Check, ...]:
    """Return the depth of foundations against ground water; what its presence asks for stays open where nothing gives it.

    Args:
        what: ``piers`` or ``footings``.
        ground: The soil.
        D: Depth of their bases below grade.

    """
    name, source = f"{NAME} {what}", ibc("1803.5.4")
    if ground.water is None:
        return (check(name, D, None, source, remedy=GIVE_WATER),)
    if ground.water.m_as("ft") >= D.m_as("ft"):
        return (check(name, D, ground.water, source),)
    if what == "piers" and ground.reported:  # the report's values are for the ground as it is; the weight is buoyant
        return ()
    remedy = (
        "Presumptive values do not tell what soil under water carries: give site.soil.report."
        if what == "piers"
        else "Buoyancy of footings is not worked: set them above the water, or use drilled piers."
    )
    return (check(f"Soil under ground water at the {what}", D, None, source, remedy=remedy),)

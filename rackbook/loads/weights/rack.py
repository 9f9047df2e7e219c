"""Weights of a job: the take-off summed, its center of gravity, and the measured weight in its place where there is one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rackbook.trace import Check, Source, Value, check, given, pick
from rackbook.trace.columns import column

from ..members import PLANE, rack_length
from .takeoff import GROUPS, Part, parts
from .total import (
    above_grade,
    cg_across,
    cg_coordinate,
    cg_height,
    difference,
    eccentricity,
    eccentricity_across,
    offset,
    share_of,
    total,
)

_SHOP = Source("common practice", "shop weighing against the take-off")
TOLERANCE = given(5.0, "pct", _SHOP, "p_tol")
TOLERANCE_CENTER = given(3.0, "in", _SHOP, "dx_tol")
ESTIMATE, MEASURED = "take-off", "measured in the shop"
REMEDY = "look for a part left out or counted twice, or weigh again, before the measured weight is relied on"


@dataclass(frozen=True)
class Weights:
    """Weights of a rack.

    Attributes:
        parts: Every line of the take-off.
        w, x, y, z: Columns of all parts (lbf, ft, in., ft), in the order of ``parts``.
        groups: Sum of each group of parts.
        estimate: Total of the take-off, with its center ``x_e``, ``y_e``, ``z_e``.
        measured: The weight measured in the shop, or None.
        W: The weight that is used on, with its center ``x_bar``, ``y_bar``, ``z_bar`` (ft, in., ft above grade).
        e_x, e_y: Eccentricity of W along the rack (from its middle) and across it (from the post plane).
        length: Length between the outer post lines.
        checks: Measured weight and center against the take-off.
        items: The parts that are equipment, by tag.

    """

    parts: tuple[Part, ...]
    w: Value
    x: Value
    y: Value
    z: Value
    groups: dict[str, Value]
    estimate: Value
    x_e: Value
    y_e: Value
    z_e: Value
    measured: Value | None
    W: Value
    x_bar: Value
    y_bar: Value
    z_bar: Value
    e_x: Value
    e_y: Value
    length: Value
    checks: tuple[Check, ...]
    items: dict[str, Part]

    @property
    def labels(self) -> tuple[str, ...]:
        """Labels of the parts, in the order of the columns."""
        return tuple(p.label for p in self.parts)


def weights(job: Any) -> Weights:
    """Return the weights of a job.

    Raises:
        LookupFailed: A shape of the frame is in no section table.
        DomainError: Lengths or weights do not make a rack (such as no weight at all).

    """
    found = parts(job)
    w, x, y, z = (
        column(a, {p.label: getattr(p, a) for p in found}, u) for a, u in (("w", "lbf"), ("x", "ft"), ("y", "in"), ("z", "ft"))
    )
    groups = {}
    for group in GROUPS:
        lines = {p.label: p.w for p in found if p.group == group}
        if len(lines) > 1:
            groups[group] = total(w=column("w", lines, "lbf")).named(f"W_{group}")
        elif lines:
            groups[group] = next(iter(lines.values()))
    shop = job.shop.measured_weight
    W_sum = total(w=w)
    centers = cg_coordinate(w=w, x=x, W=W_sum), cg_across(w=w, y=y, W=W_sum), cg_height(w=w, z=z, W=W_sum)
    if shop is None:
        checks: tuple[Check, ...] = ()
        measured, adopted = None, (W_sum, *centers)
        W_e, x_e, y_e, z_e = adopted
    else:
        W_e = W_sum.named("W_e")
        x_e, y_e, z_e = (v.named(s) for v, s in zip(centers, ("x_e", "y_e", "z_e"), strict=True))
        measured = shop.total
        z_m = above_grade(z_m=shop.z, e=job.piers.projection)
        pairs = {"W": (W_e, measured), "x_bar": (x_e, shop.x), "y_bar": (y_e, shop.y), "z_bar": (z_e, z_m)}
        because = f"weighed on {shop.date}, {shop.scale}"
        adopted = tuple(pick(s, {ESTIMATE: e, MEASURED: m}, MEASURED, because) for s, (e, m) in pairs.items())  # type: ignore[assignment]
        checks = _against(pairs)
    W, x_bar, y_bar, z_bar = adopted
    length = rack_length(job)
    return Weights(
        found, w, x, y, z, groups, W_e, x_e, y_e, z_e, measured, W, x_bar, y_bar, z_bar,
        eccentricity(x_bar=x_bar, L=length), eccentricity_across(y_bar=y_bar, y_0=PLANE), length, checks,
        {p.label: p for p in found if p.group == "equipment"},
    )  # fmt: skip


def _against(pairs: dict[str, tuple[Value, Value]]) -> tuple[Check, ...]:
    """Return the checks of a measured weight and center against those of the take-off."""
    estimate, measured = pairs["W"]
    checks = [
        check(
            "Measured weight against the take-off",
            difference(W_m=measured, W_e=estimate),
            share_of(p=TOLERANCE, W=estimate).named("dW_tol"),
            _SHOP,
            remedy=REMEDY,
        )
    ]
    for symbol, words in (("x_bar", "along the rack"), ("y_bar", "across the rack"), ("z_bar", "in height")):
        estimate, measured = pairs[symbol]
        moved = offset(x_m=measured, x_e=estimate)
        checks.append(check(f"Measured center of gravity {words}", moved, TOLERANCE_CENTER, _SHOP, remedy=REMEDY))
    return tuple(checks)

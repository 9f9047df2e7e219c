"""Cross sections of steel shapes as figures: an outline and its holes, inches, the shape's depth upright, about its middle.

Corners are drawn square but for tubes; fillets are left out.
"""

from __future__ import annotations

import functools
import math

from rackbook.tables import section

Ring = list[tuple[float, float]]
#: Sides a circle is drawn with, and a quarter of it.
ROUND, QUARTER = 48, 6


@functools.cache
def figure(shape: str) -> tuple[Ring, ...]:
    """Return the rings of a shape of the section tables: the outline, then its hole if it has one.

    Raises:
        LookupFailed: No table holds the shape.

    """
    table = section(shape)

    def of(name: str) -> float:
        return table.cell(shape, name).m_as("in")

    if table.name == "hss":
        H, B, t = of("H"), of("B"), of("t_des")
        return _rounded(B, H, 2 * t), _rounded(B - 2 * t, H - 2 * t, t)[::-1]
    if table.name == "pipes":
        return _circle(of("OD") / 2), _circle(of("OD") / 2 - of("t_des"))[::-1]
    if table.name == "wide_flanges":
        return (_wide_flange(of("d"), of("b_f"), of("t_w"), of("t_f")),)
    if table.name == "channels":
        return (_channel(of("d"), of("b_f"), of("t_w"), of("t_f")),)
    if table.name == "angles":
        return (_angle(of("b"), of("d"), of("t")),)
    t = of("t")  # strut: a channel of one thickness, lips left out
    return (_channel(of("d"), of("b"), t, t),)


def _rounded(wide: float, high: float, r: float) -> Ring:
    r = min(r, wide / 2, high / 2)
    found = []
    for n, (sx, sy) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        for k in range(QUARTER + 1):
            a = math.pi / 2 * (n + k / QUARTER)
            found.append((sx * (wide / 2 - r) + r * math.cos(a), sy * (high / 2 - r) + r * math.sin(a)))
    return found


def _circle(r: float) -> Ring:
    return [(r * math.cos(2 * math.pi * n / ROUND), r * math.sin(2 * math.pi * n / ROUND)) for n in range(ROUND)]


def _wide_flange(d: float, b: float, t_w: float, t_f: float) -> Ring:
    x, w, y, f = b / 2, t_w / 2, d / 2, d / 2 - t_f
    return [(-x, -y), (x, -y), (x, -f), (w, -f), (w, f), (x, f), (x, y), (-x, y), (-x, f), (-w, f), (-w, -f), (-x, -f)]


def _channel(d: float, b: float, t_w: float, t_f: float) -> Ring:
    x, y = b / 2, d / 2
    return [(-x, -y), (x, -y), (x, -y + t_f), (-x + t_w, -y + t_f), (-x + t_w, y - t_f), (x, y - t_f), (x, y), (-x, y)]


def _angle(tall: float, wide: float, t: float) -> Ring:
    x, y = wide / 2, tall / 2
    return [(-x, -y), (x, -y), (x, -y + t), (-x + t, -y + t), (-x + t, y), (-x, y)]

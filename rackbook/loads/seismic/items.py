"""Chapter 13 forces of all equipment at once: coefficients by row, forces as columns, and the governing item by itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rackbook.tables import table
from rackbook.trace import Value, largest
from rackbook.trace.columns import column, entries

from ..weights import Weights
from .component import (
    ROW_OF_KIND,
    SHARE_LIMIT,
    ComponentForce,
    amplification,
    component_force_716,
    component_force_722,
    ductility,
    weight_share,
)

CHAPTER_13 = "component, Chapter 13"
TOGETHER = "rack and item together, Chapter 15; its fasteners for F_p"


@dataclass(frozen=True)
class Item:
    """Force on one piece of equipment: Values, the words of its route, and what F_p is made of.

    ``factors`` are a_p, R_p (7-16) or C_AR, R_po (7-22), then I_p and z.
    """

    tag: str
    row: str
    title: str
    W_p: Value
    share: Value
    F_p: Value
    F_v: Value
    F_anchor: Value
    route: str
    factors: tuple[Value, ...]


@dataclass(frozen=True)
class Items:
    """Forces on the equipment.

    Attributes:
        by_tag: Every item.
        columns: The same as columns, in the order of ``by_tag``; None without equipment.
        governing: Tag of the item with the largest F_p; empty without equipment.
        in_full: The governing item's force worked by itself.
        F_p: The largest F_p, by tag; None without equipment.
        share_limit: Weight share from which item and rack are analyzed together.

    """

    by_tag: dict[str, Item]
    columns: ComponentForce | None
    governing: str
    in_full: ComponentForce | None
    F_p: Value | None
    share_limit: Value


_COEFFICIENTS = {"7-16": ("a_p", "R_p", "Omega_0"), "7-22": ("C_AR_above", "R_po", "Omega_0p")}


def item_forces(
    job: Any,
    edition: str,
    weights: Weights,
    S_DS: Value,
    h: Value,
    W: Value,
    T: Value | None,
    R: Value,
    I_e: Value,
    Omega_0: Value,
) -> Items:
    """Return the forces on all equipment of a job.

    All equipment hangs on the rack, above grade: z is the center of the item, h the height of the rack.

    Args:
        job: The job.
        edition: ``"7-16"`` or ``"7-22"``.
        weights: Weights of the job.
        S_DS: Design acceleration at short periods.
        h: Height of the rack.
        W: Effective seismic weight of the rack with its equipment.
        T: The shorter period of the rack, where both are known (7-22).
        R: Response modification of the rack (7-22: ductility of the supporting structure).
        I_e: Importance factor of the rack.
        Omega_0: Overstrength of the rack.

    Raises:
        LookupFailed: An item names a row that Table 13.6-1 of the edition does not have.

    """
    limit = SHARE_LIMIT[edition]
    equipment = job.equipment
    if not equipment:
        return Items({}, None, "", None, None, limit)
    tags = tuple(str(i.tag) for i in equipment)
    rows = [_row(i) for i in equipment]
    cells = {row: _cells(edition, row) for row in dict.fromkeys(rows)}
    given = {
        "W_p": {t: i.weight for t, i in zip(tags, equipment, strict=True)},
        "I_p": {t: i.importance for t, i in zip(tags, equipment, strict=True)},
        "z": {t: i.z for t, i in zip(tags, equipment, strict=True)},
    }
    for n, name in enumerate(_COEFFICIENTS[edition]):
        given[name] = {t: cells[row][n] for t, row in zip(tags, rows, strict=True)}
    units = {"W_p": "lbf", "z": "ft"}
    lined = {name: column(_symbol(name), values, units.get(name, "")) for name, values in given.items()}
    R_mu = ductility(R, I_e, Omega_0) if edition == "7-22" else None
    together = _force(edition, lined, S_DS, h, T, R_mu)
    share = weight_share(W_p=lined["W_p"], W=W)
    worst = tags[int(np.argmax(together.F_p.magnitude))]
    one = {name: values[worst].named(_symbol(name)) for name, values in given.items()}
    columns = {a: entries(getattr(together, a), tags) for a in ("F_p", "F_v", "F_anchor")}
    shares = entries(share, tags)
    titles = {row: str(table("components").cell((edition, row), "title").magnitude) for row in cells}
    by_tag = {
        t: Item(
            t, row, titles[row], i.weight, shares[t], columns["F_p"][t], columns["F_v"][t], columns["F_anchor"][t],
            TOGETHER if shares[t].magnitude >= limit.magnitude else CHAPTER_13,
            tuple(given[name][t] for name in (*_COEFFICIENTS[edition][:2], "I_p", "z")),
        )
        for t, i, row in zip(tags, equipment, rows, strict=True)
    }  # fmt: skip
    in_full = _force(edition, one, S_DS, h, T, R_mu)
    return Items(by_tag, together, worst, in_full, largest("F_p", {t: by_tag[t].F_p for t in tags}), limit)


def _symbol(name: str) -> str:
    return "C_AR" if name == "C_AR_above" else name


def _row(item: Any) -> str:
    """Return the item's row of Table 13.6-1: the one it names, or that of its kind."""
    return str(item.seismic_row) if item.seismic_row else ROW_OF_KIND[str(item.kind)]


def _cells(edition: str, row: str) -> tuple[Value, ...]:
    return tuple(table("components").cell((edition, row), name, _symbol(name)) for name in _COEFFICIENTS[edition])


def _force(edition: str, v: dict[str, Value], S_DS: Value, h: Value, T: Value | None, R_mu: Value | None) -> ComponentForce:
    if edition == "7-16":
        return component_force_716(v["a_p"], v["R_p"], v["I_p"], S_DS, v["W_p"], v["z"], h, v["Omega_0"])
    assert R_mu is not None
    H_f = amplification(v["z"], h, T)
    return component_force_722(v["C_AR_above"], v["R_po"], v["I_p"], S_DS, v["W_p"], H_f, R_mu, v["Omega_0p"])

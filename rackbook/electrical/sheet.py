"""The conductor and raceway sheets: what governs in full, all circuits and raceways in tables, the checks."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..trace import Check, Source, Value, word
from ..trace.sheet import Grid, Heading, Part, Remark, Sheet
from .circuits import Conductor, Conductors
from .clauses import TITLE
from .conduits import Raceway, Raceways

_SCHEDULE = Source("input", "circuits.csv")
CABLE_HEADS = (
    "Circuit", "Kind", "Load [A]", "125 % [A]", "Device [A]", "Sets", "Size", "Type", "Ground", "Count", "Usable [A]",
    "Drop [pct]", "From source [pct]",
)  # fmt: skip
FACTOR_HEADS = (
    "Circuit",
    "Size",
    "Table [A]",
    "Ambient [degC]",
    "k_T",
    "k_n [pct]",
    "Corrected [A]",
    "Terminals [degC]",
    "Terminals [A]",
    "Governs",
)
RACEWAY_HEADS = (
    "Raceway",
    "Kind",
    "Trade size",
    "Holds",
    "Conductors",
    "Area [in**2]",
    "Allowed [in**2]",
    "Fill [pct]",
    "Limit [pct]",
    "Jam ratio",
    "Jam",
)
RECOMMENDED = (
    "Voltage drop: 3 % for a feeder or a branch circuit and 5 % together are recommended in informational notes, not "
    "required. A limit that the job itself sets governs the size. Drops along the path are added in percent of each "
    "circuit's own voltage; the regulation of a transformer is not in the sum."
)
BASIS = (
    "Continuous loads are judged twice, apart: 125 % of them against the uncorrected ampacity in the column of the "
    "terminals, and the load itself against the corrected and adjusted ampacity. Terminals cap the ampacity; correction "
    "starts from the column of the insulation. Raceways outdoors count as wet inside. Each circuit brings its own equipment "
    "ground. The adopted local code and the authority having jurisdiction stand above this sheet."
)


def sheets(of: Conductors, tubes: Raceways | None = None) -> list[Sheet]:
    """Return the sheet of the conductors and, where they are given, that of the raceways."""
    out = [_conductor_sheet(of)] if of.circuits else []
    if tubes is not None and tubes.raceways:
        out.append(_raceway_sheet(tubes, of))
    return out


def governing_circuit(of: Conductors) -> tuple[Conductor, Check] | None:
    """Return the circuit whose conductors are used most, and the check that says so; open and failing ones come first.

    Recommended limits do not govern, nor does a device that passes: many circuits meet its standard rating in full.
    """
    pairs = ((c, k) for c in of.circuits.values() for k in c.checks if "recommended" not in k.name)
    return max((p for p in pairs if not p[1].passes or "device" not in p[1].name), key=lambda p: _used(p[1]), default=None)


def governing_raceway(of: Raceways) -> tuple[Raceway, Check]:
    """Return the raceway that is filled most, against its own limit."""
    return max(((r, k) for r in of.raceways.values() for k in r.checks), key=lambda pair: _used(pair[1]))


def _used(c: Check) -> float:
    if c.ratio is None:
        return float("inf")
    return c.ratio.magnitude


def _conductor_sheet(of: Conductors) -> Sheet:
    found = governing_circuit(of)
    assert found is not None
    c, k = found
    why = (
        f"{k.name}: {_against(k)} is the largest share of all circuits, devices at their rating aside. "
        f"Size {c.size.text()}: {c.because}."
    )
    reasons = tuple((x.tag, x.size, x.because) for x in of.circuits.values())
    parts: list[Part] = [
        Remark(BASIS),
        Heading(f"Circuit {c.tag}, the one used most"),
        Remark(why),
        *(c.I_min, c.I_r, c.size, c.ampacity.I_p, c.ampacity.I_pt, c.ground.size, c.drop.p_d, c.p_tot),
        Heading("Cable schedule"),
        Grid("All circuits", CABLE_HEADS, tuple(_cable_row(x) for x in of.circuits.values())),
        Grid("Ampacity of each circuit", FACTOR_HEADS, tuple(_factor_row(x) for x in of.circuits.values())),
        Grid("Why no smaller size", ("Circuit", "Size", "Reason"), reasons),
        Remark(RECOMMENDED),
        *(Remark(text) for text in dict.fromkeys(t for x in of.circuits.values() for t in x.cautions)),
        Heading("Checks"),
        *of.checks,
    ]
    purpose = f"Size the conductors of every circuit, {TITLE}-{of.edition}."
    return Sheet("conductors", "Conductors", purpose, tuple(parts))


def _against(k: Check) -> str:
    return f"{k.demand.text()} against {k.capacity.text() if k.capacity else 'what is not known'}"


def _cable_row(c: Conductor) -> tuple[Any, ...]:
    return (
        c.tag, c.kind, c.I_b, c.I_min, c.I_r, c.n, c.size, f"{c.material} {c.insulation}", c.ground_size, c.n_c, c.ampacity.I_p,
        c.drop.p_d, c.p_tot,
    )  # fmt: skip


def _factor_row(c: Conductor) -> tuple[Any, ...]:
    a = c.ampacity
    governs = "terminals" if a.I_t.magnitude < a.I_c.magnitude else "corrected"
    return (c.tag, c.size, a.I_tab, c.T_e, a.k_T, a.k_n, a.I_c, a.T_t, a.I_t, governs)


def _raceway_sheet(of: Raceways, wired: Conductors) -> Sheet:
    r, k = governing_raceway(of)
    parts: list[Part] = [
        Heading(f"Raceway {r.tag}, the one filled most"),
        Remark(f"{r.holds} in {r.kind}: {_against(k)} is the largest share of all raceways."),
        *(v for v in (r.fill.trade_size, r.fill.p_f, r.fill.j) if v is not None),
        Heading("Raceway schedule"),
        Grid("All raceways", RACEWAY_HEADS, tuple(_raceway_row(x) for x in of.raceways.values())),
        Remark("Parallel sets lie in as many raceways alike, one set in each."),
        *_jam_remarks(of),
        Heading("Checks"),
        *of.checks,
    ]
    purpose = f"Choose and check the raceways, {TITLE}-{of.edition}, Chapter 9."
    sized = {id(size): "Conductors" for c in wired.circuits.values() for size in (c.size, c.ground_size)}
    return Sheet("raceways", "Raceway fill", purpose, tuple(parts), elsewhere=sized)


def _jam_remarks(of: Raceways) -> Iterator[Remark]:
    for r in of.raceways.values():
        yield from (Remark(text) for text in r.cautions)


def _raceway_row(r: Raceway) -> tuple[Any, ...]:
    f = r.fill
    kind = r.kind + (" nipple" if r.nipple else "") + (f", {r.alike} alike" if r.alike > 1 else "")
    j: Value | str = f.j if f.j is not None else word("–", _SCHEDULE)
    return (r.tag, kind, f.trade_size, r.holds, f.n, f.A_c, f.A_max, f.p_f, f.p_max, j, f.jam)

"""The conductor and raceway sheets: what governs in full, all circuits and raceways in tables, the checks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from ..trace import Check, Source, Step, word
from ..trace.sheet import Grid, Heading, Part, Remark, Sheet
from .circuits import Conductor, Conductors
from .clauses import TITLE
from .conduits import Raceway, Raceways

_SCHEDULE = Source("input", "circuits.csv")
NOTHING = word("–", _SCHEDULE)
CABLE_HEADS = (
    "Circuit", "From, to", "Load [A]", "125 % [A]", "Device [A]", "Max. [A]", "Size", "Type", "Ground", "Raceway",
)  # fmt: skip
AMPACITY_HEADS = (
    "Circuit", "Size", "n_c", "k_T", "k_n [pct]", "I_tab [A]", "I_c [A]", "T_t [degC]", "I_t [A]", "I_p [A]",
    "Next smaller fails",
)  # fmt: skip
DROP_HEADS = (
    "Circuit", "Length [ft]", "I_n [A]", "PF", "R [ohm/kft]", "X_L [ohm/kft]", "Drop [V]", "Drop [pct]", "Limit [pct]",
    "From source [pct]",
)  # fmt: skip
FEEDER_HEADS = (
    "Feeder", "Feeds", "Largest motor [A]", "Other motors [A]", "Noncontinuous [A]", "Continuous [A]", "By 430.24 [A]",
    "By its load [A]",
)  # fmt: skip
RACEWAY_HEADS = (
    "Raceway", "Kind", "Trade size", "Holds", "n", "Area [in**2]", "Allowed [in**2]", "Fill [pct]", "Limit [pct]", "Jam ratio",
)  # fmt: skip
RECOMMENDED = (
    "3 % for a feeder or a branch circuit and 5 % together are recommended in informational notes, not required; a limit of "
    "the job governs the size. From source: percents of each circuit's own voltage added along the path, without the "
    "regulation of a transformer."
)
BASIS = (
    "Two checks of a continuous load: 125 % of it against the uncorrected ampacity in the column of the terminals, and the "
    "load itself against the corrected and adjusted ampacity of the insulation's column. Raceways outdoors count as wet inside."
)
FEEDERS = (
    "By 430.24: 125 % of the largest motor, the other motors, and all other load with 125 % of its continuous part, without "
    "demand factors; single-phase circuits as if all were on one phase, an upper bound. By its load: the engineer's own "
    "entries of the feeder; below what it feeds, an open check."
)
HOLDS = (
    "Holds: number in parentheses, size, G for equipment grounds. Parallel sets: one set in each of as many raceways. Jam "
    "ratio: where three conductors of a size are the largest."
)
CABLE = (
    "Device: as scheduled, or the next standard rating. Max.: the largest device permitted, by 240.4; for motors without a "
    "scheduled device by 430.52, for grounding only. Ground: one in each raceway. Sizes in AWG, from 250 in kcmil."
)
AMPACITY = (
    "n_c: current-carrying conductors in the raceway. I_tab: Table 310.16, column of the insulation, one conductor; I_c: "
    "corrected for ambient and adjusted for number; then the temperature of the terminals and the same table there; "
    "I_p: the smaller, all sets together. Last column: the rule the next smaller size does not meet."
)


def sheets(of: Conductors, tubes: Raceways | None = None) -> list[Sheet]:
    """Return the sheet of the conductors and, where they are given, that of the raceways."""
    out = [_conductor_sheet(of)] if of.circuits else []
    if tubes is not None and tubes.raceways:
        out.append(_raceway_sheet(tubes, of))
    return out


def governing_circuit(of: Conductors) -> tuple[Conductor, Check] | None:
    """Return the circuit of the largest utilization, and the check that says so; open and failing ones come first.

    Recommended limits do not govern, nor does a device that passes: many circuits meet its standard rating in full.
    """
    pairs = ((c, k) for c in of.circuits.values() for k in c.checks if "recommended" not in k.name)
    return max((p for p in pairs if not p[1].passes or "device" not in p[1].name), key=lambda p: _used(p[1]), default=None)


def governing_raceway(of: Raceways) -> tuple[Raceway, Check]:
    """Return the raceway of the largest fill against its own limit."""
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
        f"{k.name}: {_against(k)} is the largest utilization, devices within their ratings aside. "
        f"Size {c.size.text()}: {c.because}."
    )
    circuits = tuple(of.circuits.values())
    steep, told = governing_drop(of)
    parts: list[Part] = [
        Remark(BASIS),
        Heading(f"Circuit {c.tag}, governing"),
        Remark(why),
        *(c.I_min, c.I_r, c.ampacity.I_p),
        # where the terminals govern, both are one number
        *((c.ampacity.I_pt,) if c.ampacity.I_pt.base != c.ampacity.I_p.base else ()),
        c.ground.size,
        Heading(f"Voltage drop of {steep.tag}, the largest against its limit"),
        Remark(f"{told.name}: {_against(told)}."),
        steep.drop.p_d,
        Heading("All circuits"),
        Grid("Cable schedule", CABLE_HEADS, tuple(map(_cable_row, circuits))),
        Remark(CABLE),
        Grid("Ampacity", AMPACITY_HEADS, tuple(map(_ampacity_row, circuits))),
        Remark(AMPACITY),
        Grid("Voltage drop", DROP_HEADS, tuple(map(_drop_row, circuits))),
        Remark(RECOMMENDED),
        *_feeder_parts(of),
        *_notes(t for x in circuits for t in x.cautions),
        Heading("Checks"),
        *(k for k in of.checks if k.word != "OPEN"),
        *_open_parts(of),
    ]
    purpose = f"Conductors, devices, equipment grounds and voltage drop of every circuit by {TITLE}-{of.edition}."
    # what the tables list is not derived again on the way to a sum or a check
    listed = {id(x.drop.p_d.root): "Conductors, voltage drop" for x in circuits if x is not steep}
    listed |= {id(x.ampacity.I_p.root): "Conductors, ampacity" for x in circuits if x is not c}
    scheduled = [x.size for x in circuits] + [x.I_max for x in circuits if x is not c and x.I_max is not None]
    listed |= {id(v.root): "Conductors, cable schedule" for v in scheduled}
    return Sheet("conductors", "Conductors", purpose, tuple(parts), elsewhere=listed)


def governing_drop(of: Conductors) -> tuple[Conductor, Check]:
    """Return the circuit whose own drop is the largest share of its limit, and that check."""
    pairs = ((c, k) for c in of.circuits.values() for k in c.checks if k.demand is c.drop.p_d)
    return max(pairs, key=lambda pair: _used(pair[1]))


def _open_parts(of: Conductors) -> list[Part]:
    """Return the open checks in a table of their own, with what is to be confirmed."""
    left = [k for k in of.checks if k.word == "OPEN"]
    return [Heading("Open checks"), *left] if left else []


def _against(k: Check) -> str:
    return f"{k.demand.text()} against {k.capacity.text() if k.capacity else 'what is not known'}"


def _cable_row(c: Conductor) -> tuple[Any, ...]:
    made = f"{'Cu' if c.material == 'copper' else 'Al'} {c.insulation}"
    device, most = (NOTHING, c.I_r) if c.no_device else (c.I_r, c.I_max if c.I_max is not None else NOTHING)
    size = c.size if c.n.magnitude == 1 else f"{c.n.text()} × {c.size.text()}"
    return (c.tag, c.run, c.I_b, c.I_min, device, most, size, made, c.ground_size, c.raceway or "–")


def _ampacity_row(c: Conductor) -> tuple[Any, ...]:
    a = c.ampacity
    return (c.tag, c.size, c.n_c, a.k_T, a.k_n, a.I_tab, a.I_c, a.T_t, a.I_t, a.I_p, c.briefly)


def _drop_row(c: Conductor) -> tuple[Any, ...]:
    assert isinstance(c.drop.V_d.origin, Step)
    by = c.drop.V_d.origin.given
    limit = next((k.capacity for k in c.checks if "drop" in k.name and k.capacity is not None), NOTHING)
    return (c.tag, by["L"], by["I_n"], by["PF"], by["R"], by["X_L"], c.drop.V_d, c.drop.p_d, limit, c.p_tot)


def _feeder_parts(of: Conductors) -> Iterator[Part]:
    """Yield the table of what feeders feed."""
    if not of.feeders:
        return
    rows = tuple((t, ", ".join(f.tags), f.I_1, f.I_m, f.I_n, f.I_c, f.I_f, f.I_min) for t, f in of.feeders.items())
    yield Grid("Feeders, and what they feed", FEEDER_HEADS, rows)
    yield Remark(FEEDERS)


def _notes(cautions: Iterable[str]) -> Iterator[Remark]:
    """Yield each caution once, with the tags of all it holds for in front."""
    tags: dict[str, dict[str, None]] = {}
    for caution in cautions:
        tag, _, text = caution.partition(": ")
        tags.setdefault(text, {})[tag] = None
    for text, of in tags.items():
        yield Remark(f"{', '.join(of)}: {text}")


def _raceway_sheet(of: Raceways, wired: Conductors) -> Sheet:
    r, k = governing_raceway(of)
    parts: list[Part] = [
        Heading(f"Raceway {r.tag}, governing"),
        Remark(f"{r.holds} in {r.kind}: {_against(k)} is the largest fill of all raceways against its limit."),
        *(v for v in (r.fill.trade_size, r.fill.p_f, r.fill.j) if v is not None),
        Heading("All raceways"),
        Grid("Raceway schedule", RACEWAY_HEADS, tuple(_raceway_row(x) for x in of.raceways.values())),
        Remark(HOLDS),
        *_jams(of),
        Heading("Checks"),
        *of.checks,
    ]
    purpose = f"Trade size and fill of every raceway by {TITLE}-{of.edition}, Chapter 9."
    listed = {id(x.fill.A_c.root): "Raceway fill, raceway schedule" for x in of.raceways.values() if x is not r}
    return Sheet("raceways", "Raceway fill", purpose, tuple(parts), elsewhere=listed)


def _jams(of: Raceways) -> Iterator[Remark]:
    """Yield a remark on each raceway whose ratio lies in the jam zone: a warning, not a check."""
    yield from (Remark(text) for r in of.raceways.values() for text in r.cautions)


def _raceway_row(r: Raceway) -> tuple[Any, ...]:
    f = r.fill
    kind = (f"{r.alike} × " if r.alike > 1 else "") + r.kind + (" nipple" if r.nipple else "")
    return (r.tag, kind, f.trade_size, r.holds, f.n, f.A_c, f.A_max, f.p_f, f.p_max, f.j if f.j is not None else NOTHING)

"""Racks made of circuits alone, for the tests of conductors and raceways."""

from types import SimpleNamespace as N

import pytest

from rackbook.trace import Source, given

TYPED = Source("input", "circuits.csv")


def v(number, of="", symbol=""):
    return given(number, of, TYPED, symbol)


def circuit(tag="C-1", **changed):
    """A circuit with everything said, as the job hands it over; numbers in the units of the schedule's heads."""
    row = {
        "from_": "DP-1", "to": f"load of {tag}", "to_kind": "field", "kind": "branch", "voltage": 480, "phases": 3, "load": 30,
        "hp": None, "kva": None, "continuous": 0, "power_factor": 0.9, "length": 100, "material": "copper",
        "insulation": "XHHW-2", "size": None, "sets": 1, "neutral": "none", "terminal": 75, "marked_75": True, "ocpd": None,
        "ground": None, "raceway": None, "raceway_kind": "RMC", "trade_size": None, "nipple": False, "ambient": None,
        "roof_height": None, "drop_limit": None, **changed,
    }  # fmt: skip
    units = {
        "voltage": "V", "load": "A", "hp": "hp", "kva": "kVA", "continuous": "pct", "power_factor": "", "length": "ft",
        "terminal": "degC", "ocpd": "A", "ambient": "degC", "roof_height": "in", "drop_limit": "pct",
    }  # fmt: skip
    for name, of in units.items():
        if row[name] is not None:
            row[name] = v(row[name], of)
    for name in ("size", "ground", "trade_size"):
        if row[name] is not None:
            row[name] = Word(row[name])
    return N(tag=tag, **row)


class Word(str):
    """A word that knows its source, as those of a job do."""

    source = TYPED


def job(*circuits, edition="2023", ambient=30, equipment=()):
    return N(
        codes=N(electrical=f"NFPA 70-{edition}"),
        site=N(ambient=N(temperature=v(ambient, "degC", "T_a"))),
        equipment=tuple(N(tag=tag, kind=kind) for tag, kind in equipment),
        circuits=tuple(circuits),
    )


@pytest.fixture(scope="session")
def rack():
    return N(circuit=circuit, job=job, v=v)

"""The demo jobs, as shipped: all checks that can be made, what is open, and growth that is linear in the number of circuits."""

import cProfile
import pstats

import pytest

from rackbook.electrical import conductors, raceways, sheets
from rackbook.job import load
from rackbook.shipped import shipped

JOBS = sorted(p.name for p in shipped("data", "jobs").iterdir() if p.is_dir())


@pytest.mark.parametrize("name", JOBS)
def test_demo_job_passes_and_prints(name):
    job = load(shipped("data", "jobs", name))
    done = conductors(job)
    tubes = raceways(job, done)
    assert list(done.circuits) == [c.tag for c in job.circuits]
    assert all(c.passes for c in (*done.checks, *tubes.checks) if c not in done.still_open)
    # what the schedule cannot tell is open, never a pass
    assert [c.name for c in done.still_open] == [
        "F-1: service conductors",
        "F-3: length of secondary conductors",
        "Motors: device and overload protection",
    ]
    assert {c.word for c in done.still_open} == {"OPEN"}
    assert [r.tag for r in tubes.raceways.values() if r.fill.jam == "jam zone"] == []
    for sheet in sheets(done, tubes):
        assert sheet.markdown().count("$$") % 2 == 0


def test_work_grows_with_the_number_of_circuits_and_not_faster(rack):
    """Function calls are counted, so that a busy machine does not matter."""

    def calls(n):
        rows = [rack.circuit(f"C-{i}", load=10 + i % 90, length=50 + i % 200, raceway=f"R-{i // 2}") for i in range(n)]
        job = rack.job(*rows)
        profile = cProfile.Profile()
        profile.runcall(lambda: raceways(job, conductors(job)))
        return pstats.Stats(profile).total_calls

    calls(50)  # tables are read once
    assert calls(800) < 4 * calls(200) * 1.1

"""The demo jobs are credible racks: things fit, weigh what such things weigh, and show every variant once."""

import cProfile
import itertools
import pstats
import re

import pytest

from rackbook.job import demos, load
from rackbook.job.folder import parse, read_files
from rackbook.shipped import shipped
from rackbook.tables import table
from rackbook.trace import Source, Value


@pytest.fixture(params=demos())
def job(request):
    return load(shipped("data", "jobs", request.param))


def box(item):
    w, h = item.width.m_as("ft") / 2, item.height.m_as("ft") / 2
    return item.x.m_as("ft") - w, item.x.m_as("ft") + w, item.z.m_as("ft") - h, item.z.m_as("ft") + h


def test_there_are_two_of_both_editions():
    jobs = [load(shipped("data", "jobs", name)) for name in demos()]
    assert {(str(j.codes.loads), str(j.codes.electrical)) for j in jobs} == {
        ("ASCE/SEI 7-22", "NFPA 70-2023"),
        ("ASCE/SEI 7-16", "NFPA 70-2020"),
    }


def test_frame_has_three_bays_and_twenty_feet(job):
    assert len(job.frame.bays) == 3
    assert sum(bay.m_as("ft") for bay in job.frame.bays) >= 20


def test_nothing_overlaps_on_its_face(job):
    for face in ("front", "back"):
        items = [item for item in job.equipment if item.face == face]
        for i, one in enumerate(items):
            for other in items[i + 1 :]:
                a, b = box(one), box(other)
                apart = a[1] <= b[0] + 1e-9 or b[1] <= a[0] + 1e-9 or a[3] <= b[2] + 1e-9 or b[3] <= a[2] + 1e-9
                assert apart, (one.tag, other.tag)


def test_everything_fits_between_posts_and_hangs_on_rails(job):
    half_post = float(table("hss").cell(job.frame.post, "B").m_as("ft")) / 2
    lines = [0.0]
    for bay in job.frame.bays:
        lines.append(lines[-1] + bay.m_as("ft"))
    top = job.frame.height.m_as("ft")
    for item in job.equipment:
        left, right, low, high = box(item)
        assert any(a + half_post <= left and right <= b - half_post for a, b in itertools.pairwise(lines)), item.tag
        assert low >= 0.5, item.tag
        assert high <= top + 0.5, item.tag
        rails = [r for r in job.frame.rails if r.face == item.face and low <= r.height.m_as("ft") <= high]
        assert len(rails) >= (2 if item.height.m_as("ft") > 2.5 else 1), item.tag


def test_weights_are_those_of_such_things(job):
    kva = job.equipment_by_tag["T-1"].kva.magnitude
    row = next(r for r in table("transformer_weights").rows if r["phases"] == "3" and float(r["kVA"]) == kva)
    assert float(row["low"]) <= job.equipment_by_tag["T-1"].weight.m_as("lbf") <= float(row["high"])
    for item in job.equipment:
        assert item.weight_source.startswith("estimate"), "a demo has no datasheet to cite"
        volume = item.width.m_as("ft") * item.height.m_as("ft") * item.depth.m_as("ft")
        assert 5 <= item.weight.m_as("lbf") / volume <= 80, item.tag


def test_every_variant_is_shown(job):
    kinds = {str(item.kind) for item in job.equipment}
    assert kinds >= {"transformer", "panelboard", "disconnect", "motor starter", "wireway", "lighting"}
    assert {str(item.face) for item in job.equipment} == {"front", "back"}
    assert len(job.equipment) >= 10
    assert len(job.circuits) >= 12
    assert any(c.from_ == "utility" for c in job.circuits)
    assert any(c.kind == "transformer" for c in job.circuits)
    assert any(c.kind == "feeder" and c.from_ == "T-1" for c in job.circuits)
    assert any(c.material == "aluminum" for c in job.circuits)
    assert any(c.sets > 1 for c in job.circuits)
    assert any(c.nipple for c in job.circuits)
    raceways = [c.raceway for c in job.circuits]
    assert len(raceways) > len(set(raceways))


def test_every_piece_that_uses_power_is_fed(job):
    passive = ("wireway", "other")
    fed = {str(c.to) for c in job.circuits}
    assert {str(e.tag) for e in job.equipment if e.kind not in passive} <= fed


def test_panelboards_feed_less_than_they_are_rated(job):
    for item in job.equipment:
        if item.kind == "panelboard":
            into = [c for c in job.circuits if c.to == item.tag]
            assert all(c.load.m_as("A") <= item.rating.m_as("A") for c in into)


def test_values_keep_unit_and_name_file_line_and_field():
    job = load(shipped("data", "jobs", "quartz_saddle"))
    speed = job.site.wind.speed
    lines = shipped("data", "jobs", "quartz_saddle", "rack.yaml").read_text().splitlines()
    line = next(i for i, text in enumerate(lines, 1) if text.strip().startswith("speed:"))
    assert (speed.magnitude, speed.unit, speed.symbol) == (115, "mph", "V")
    assert speed.origin == Source("input", "rack.yaml", "", f"site.wind.speed, line {line}")
    weight = job.equipment_by_tag["T-1"].weight
    assert (weight.magnitude, weight.unit) == (420, "lbf")
    assert weight.origin == Source("input", "equipment.csv", "", "row 3 (T-1), weight [lbf], line 4")
    assert job.site.wind.exposure.source.locator.startswith("site.wind.exposure, line")
    assert job.frame.rails[1].height.origin.locator.startswith("frame.rails.2.height, line")


def test_every_quantity_of_the_model_is_a_value(job):
    def walk(record):
        for name in type(record).model_fields:
            value = getattr(record, name)
            for part in value if isinstance(value, tuple) else (value,):
                if hasattr(type(part), "model_fields"):
                    yield from walk(part)
                else:
                    yield name, part

    found = list(walk(job))
    assert sum(isinstance(v, Value) for _, v in found) > 200
    for name, value in found:
        assert value is None or isinstance(value, Value | str | bool | int), name
        if type(value) is int:
            assert name in ("phases", "sets", "bolts", "rows", "count", "legs", "top")
        if isinstance(value, Value):
            assert value.origin.kind in ("input", "assumption")


def test_a_job_is_frozen(job):
    with pytest.raises(ValueError, match="frozen"):
        job.site.wind.speed = None


def test_work_grows_with_the_rows_and_no_faster():
    """Function calls are counted, so that a busy machine does not matter."""
    files = read_files(shipped("data", "jobs", "heron_quay"))
    head, *rows = files["circuits.csv"].decode().splitlines()

    def calls(times: int) -> int:
        many = [re.sub(r"^[^,]+", rf"\g<0>x{n}", row) for n in range(times) for row in rows]
        profile = cProfile.Profile()
        profile.runcall(parse, {**files, "circuits.csv": "\n".join([head, *many]).encode()})
        return pstats.Stats(profile).total_calls  # type: ignore[attr-defined]

    one, twenty, forty = calls(1), calls(20), calls(40)
    assert (forty - one) / (twenty - one) < 1.1 * 39 / 19

"""Design help: the input value from which a check passes, and the lightest section that passes."""

import math

import pytest

from rackbook.job import load
from rackbook.shipped import shipped
from rackbook.structure.members import again, lightest
from rackbook.structure.seek import seek
from rackbook.structure.trial import changed, field, limits, sound
from rackbook.tables import table
from rackbook.trace import DomainError, InputError, LookupFailed, SolveError, Source, check, given

HERE = Source("input", "test")
ASKED = Source("clause", "made up", "1", "2.3")


@pytest.fixture(scope="module")
def job():
    return load(shipped("data", "jobs", "quartz_saddle"))


def value(number, unit=""):
    return given(float(number), unit, HERE)


# --- one field of the job changed in memory ----------------------------------------------------------------------------


def test_only_the_changed_field_is_another(job):
    was = job.frame.bays[1]
    new = changed(job, "frame.bays.2", 10)
    assert new.frame.bays[1].text() == "10 ft"
    assert new.frame.bays[1].symbol == was.symbol
    assert "on trial, in place of 8 ft" in new.frame.bays[1].source.title
    assert job.frame.bays[1] is was
    assert new.frame.bays[0] is job.frame.bays[0]
    assert new.site is job.site
    assert new.equipment is job.equipment
    assert type(new) is type(job)
    assert type(new.frame) is type(job.frame)


def test_rows_go_by_tag_and_nothing_worked_before_stays(job):
    item = job.equipment[0]
    assert job.equipment_by_tag[item.tag] is item  # worked once, and kept by the job
    new = changed(job, f"equipment.{item.tag}.weight", value(1234, "lbf"))
    assert new.equipment_by_tag[item.tag].weight.magnitude == 1234
    assert job.equipment_by_tag[item.tag] is item
    assert field(new, f"equipment.{item.tag}.weight").text() == "1,234 lbf"


def test_fields_whose_key_is_a_word_of_python_stay():
    heron = load(shipped("data", "jobs", "heron_quay"))
    brace, soil = heron.frame.braces[0], heron.site.soil
    new = changed(heron, "frame.braces.1.length", value(3.6, "ft"))
    assert new.frame.braces[0].from_ is brace.from_
    assert new.frame.braces[0].length.magnitude == 3.6
    assert new.frame.braces[1] is heron.frame.braces[1]
    assert soil is not None
    new = changed(heron, "site.soil.frost", value(20, "in"))
    assert (new.site.soil.class_, new.site.soil.report) == (soil.class_, soil.report)
    assert sound(new) is new


def test_words_and_blanks(job):
    new = changed(changed(job, "frame.post", "HSS6X6X1/2"), "connections", None)
    assert str(new.frame.post) == "HSS6X6X1/2"
    assert new.frame.post.place == job.frame.post.place
    assert new.connections is None


@pytest.mark.parametrize(
    ("path", "message"),
    [
        ("frame.bay.1", "Did you mean 'bays'"),
        ("frame.bays.9", r"no field .frame\.bays\.9."),
        ("frame.height.x", "below a single value"),
        ("", "no field ''"),
    ],
)
def test_a_field_that_is_not_there(job, path, message):
    with pytest.raises(LookupFailed, match=message):
        changed(job, path, 1.0)
    with pytest.raises(LookupFailed):
        field(job, path)


def test_a_number_out_of_range_is_refused_as_in_the_file(job):
    assert limits(job, "frame.bays.1") == (0, 40)
    assert limits(job, "site.wind.speed") == (60, 300)
    assert limits(job, "frame.post") == (-math.inf, math.inf)
    with pytest.raises(SolveError, match="above 0 to 40 ft"):
        changed(job, "frame.bays.1", 41)
    with pytest.raises(SolveError, match="from 60 to 300 mph"):
        changed(job, "site.wind.speed", value(500, "mph"))
    assert changed(job, "frame.bays.1", value(120, "in")).frame.bays[0].m_as("ft") == 10


def test_the_rules_between_fields_hold_on_trial_too(job):
    assert sound(job) is job
    with pytest.raises(InputError, match=r"frame.rails.5.height.*lies above the posts, which end at 8 ft"):
        sound(changed(job, "frame.height", 8.0))
    item = job.equipment[0]
    with pytest.raises(InputError, match=rf"{item.tag}, x: the center lies beyond the rack"):
        sound(changed(job, f"equipment.{item.tag}.x", 90.0))
    with pytest.raises(InputError, match=r"frame\.post"):
        sound(changed(job, "frame.post", "C6X8.2"))


# --- seeking -----------------------------------------------------------------------------------------------------------


def against(path, power, capacity):
    """A check whose ratio is that of the input's power to a capacity."""

    def work(job):
        x = field(job, path).magnitude
        return check("made-up strength", value(x**power), value(capacity), ASKED, remedy="Change something else.")

    return work


@pytest.mark.parametrize(
    ("path", "power", "capacity", "limit"),
    [
        ("site.wind.speed", 2, 100.0**2, 100.0),  # 115 mph now: less wind passes
        ("allowances.conduit", 3, 15.5**3, 15.5),
        ("piers.embedment", -1, 1 / 11.0, 11.0),  # deeper passes
        ("piers.diameter", -2, 1 / 2.9**2, 2.9),
    ],
)
def test_the_value_found_passes_and_lies_at_the_limit(job, path, power, capacity, limit):
    found = seek(job, path, against(path, power, capacity))
    assert not found.before.passes
    assert found.check.passes
    assert found.value.magnitude == pytest.approx(limit, rel=0.011)
    assert (found.value.magnitude - limit) * power <= 1e-9 * limit
    assert found.was is field(job, path)
    assert f"{path} = {found.value.text()} in place of {found.was.text()}" in str(found)
    assert len(found.tried) < 40


def test_a_check_that_passes_is_left_alone(job):
    found = seek(job, "frame.bays.1", against("frame.bays.1", 1, 100.0))
    assert found.value is found.was
    assert not found.tried
    assert "as it is" in str(found)


def test_no_value_helps(job):
    with pytest.raises(SolveError, match=r"no value of frame.bays.1 makes it pass between 7 and 9 ft.*Change something else"):
        seek(job, "frame.bays.1", against("frame.bays.1", 1, 0.5), low=7, high=9)
    with pytest.raises(SolveError, match=r"smallest ratio is 14\.000, at 7 ft"):
        seek(job, "frame.bays.1", against("frame.bays.1", 1, 0.5), low=7, high=9)


def test_a_value_the_book_refuses_does_not_pass(job):
    def work(j):
        x = field(j, "allowances.conduit").magnitude
        if x < 13:
            raise DomainError("too little to be true.")
        return check("made-up strength", value(x), value(5.0), ASKED)

    with pytest.raises(SolveError, match=r"the book refuses the job: too little to be true"):
        seek(job, "allowances.conduit", work)
    with pytest.raises(SolveError, match=r"refuses the job.*the center lies beyond the rack"):
        seek(job, "frame.bays.1", against("frame.bays.1", 1, 5.0))


def test_what_is_not_sought(job):
    with pytest.raises(SolveError, match="no quantity"):
        seek(job, "frame.post", against("frame.height", 1, 1.0))
    opened = lambda _: check("open one", value(1), None, ASKED, remedy="Give the soil.")  # noqa: E731
    with pytest.raises(SolveError, match=r"open one is open: Give the soil"):
        seek(job, "frame.height", opened)


def test_from_zero(job):
    def work(j):
        x = field(j, "frame.depth").magnitude
        return check("made-up stability", value(2.0), value(0.5 + x), ASKED)

    assert field(job, "frame.depth").magnitude == 0
    found = seek(job, "frame.depth", work)
    assert found.value.magnitude == pytest.approx(1.5, rel=0.01)


def test_a_whole_job_worked_again(job):
    """The conduit with which the rails are a little less used: the frame is solved again for every value."""
    _, members = again(job)
    mark = members.governing["rail"].mark
    most = 0.99 * members.utilization[mark].magnitude

    def work(j):
        return check("rails", again(j)[1].utilization[mark], value(most), ASKED)

    found = seek(job, "allowances.conduit", work)
    assert found.value.magnitude < found.was.magnitude
    assert found.check.passes
    assert found.check.ratio.magnitude == pytest.approx(1, abs=0.02)


# --- the lightest section ----------------------------------------------------------------------------------------------


def test_the_lightest_rail_passes_and_the_next_lighter_ones_do_not(job):
    found = lightest(job, "rail", "channels")
    of = table("channels")
    assert found.shape is not None
    assert found.tried[-1].shape == found.shape
    assert found.tried[-1].passes
    weights = [t.weight.m_as("plf") for t in found.tried]
    assert weights == sorted(weights)
    assert not any(t.passes for t in found.tried[:-1])
    assert all(t.why for t in found.tried[:-1])
    _, members = again(changed(job, "frame.rail", found.shape))
    assert members.governing["rail"].utilization.magnitude == pytest.approx(found.tried[-1].ratio.magnitude)
    assert members.governing["rail"].utilization.magnitude <= 1
    lighter = [str(row["shape"]) for row in of.rows if of.cell(row["shape"], "weight").magnitude < weights[0]]
    for shape in lighter[-1:]:  # what the estimate ruled out does not pass either
        _, members = again(changed(job, "frame.rail", shape))
        assert members.governing["rail"].utilization.magnitude > 1


def test_another_family_takes_its_own_steel(job):
    found = lightest(job, "rail", "hss")
    assert found.before == str(job.frame.rail)
    assert any("A500" in note for note in found.notes)
    assert found.shape is not None
    assert found.shape.startswith("HSS")


def test_what_cannot_be_chosen(job):
    with pytest.raises(DomainError, match="Parts: post, rail"):
        lightest(job, "brace", "angles")
    with pytest.raises(LookupFailed, match="no family of shapes"):
        lightest(job, "rail", "tees")

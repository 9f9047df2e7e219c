"""Each way to get a job folder wrong is one problem, with file, line, field and what to do."""

import pytest

from rackbook.job import FolderError, load
from rackbook.trace import InputError
from rackbook.trace.units import unit as unit_named

#: (file, old text, new text, field in the message, words of the message)
SPECTRAL = "spectral: {S_DS: 1.10, S_D1: 0.62, S_1: 0.48, site_class: C}"

ONE_BY_ONE = [
    # keys
    ("rack.yaml", "  place: Q", "  plcae: Q", "job.plcae", "Did you mean 'place'"),
    ("rack.yaml", "    exposure: C", "", "site.wind.exposure", "missing or blank"),
    ("rack.yaml", "    exposure: C ", "    exposure: ", "site.wind.exposure", "missing or blank"),
    ("rack.yaml", "exposure: C", "exposure: C\n    exposure: D", "site.wind.exposure", "stands twice"),
    ("rack.yaml", "display:", "displya:", "displya", "Did you mean 'display'"),
    ("rack.yaml", "    exposure: C", "    exposure: E", "site.wind.exposure", "Allowed: B, C, D"),
    ("rack.yaml", "risk_category: III", "risk_category: 3", "site.risk_category", "Allowed: I, II, III, IV"),
    ("rack.yaml", "  height: 9 ft ", "  height: [9 ft] ", "frame.height", "one value is asked"),
    ("rack.yaml", "bays: [8 ft, 8 ft, 8 ft]", "bays: 24 ft", "frame.bays", "a list is asked"),
    ("rack.yaml", "bays: [8 ft, 8 ft, 8 ft]", "bays: []", "frame.bays", "too few"),
    ("rack.yaml", "base_plate: {length: 14 in, width: 14 in, thickness: 1 in}", "base_plate: 14 in", "frame.base_plate",
     "a level of keys"),
    ("rack.yaml", "date: 2026-03-31", "date: 2026-02-31", "job.date", "is not a date"),
    ("rack.yaml", "date: 2026-03-31", "date: 31/03/2026", "job.date", "year-month-day"),
    ("rack.yaml", "units: US ", "units: SI ", "display.units", "US, US+SI"),
    # units
    ("rack.yaml", "speed: 115 mph", "speed: 12", "site.wind.speed", "'12' has no unit"),
    ("rack.yaml", "speed: 115 mph", "speed: 115 psf", "site.wind.speed", "speed is asked"),
    ("rack.yaml", "speed: 115 mph", "speed: 115 mphx", "site.wind.speed", "is not a unit"),
    ("rack.yaml", "speed: 115 mph", "speed: fast", "site.wind.speed", "a number with its unit, such as 12 mph"),
    ("rack.yaml", "speed: 115 mph", "speed: 1,15 mph", "site.wind.speed", "no commas"),
    ("rack.yaml", "temperature: 32 degC", "temperature: 32 C", "site.ambient.temperature", "write degC"),
    ("rack.yaml", "temperature: 32 degC", "temperature: 32 F", "site.ambient.temperature", "write degF"),
    ("rack.yaml", "S_DS: 1.10,", "S_DS: 1.10 g,", "site.seismic.spectral.S_DS", "a bare number is asked"),
    ("rack.yaml", "hardware: 8 %", "hardware: 8", "allowances.hardware", "has no unit"),
    ("rack.yaml", "hardware: 8 %", "hardware: 8 lb", "allowances.hardware", "Allowed: %"),
    ("rack.yaml", "speed: 115 mph", "speed: 115 mph**1000000000", "site.wind.speed", "is not a unit"),
    ("rack.yaml", "speed: 115 mph", "speed: 115 __import__('os')", "site.wind.speed", "is not a unit"),
    # ranges
    ("rack.yaml", "speed: 115 mph", "speed: 1150 mph", "site.wind.speed", "from 60 to 300 mph"),
    ("rack.yaml", "speed: 115 mph", "speed: -115 mph", "site.wind.speed", "out of range"),
    ("rack.yaml", "speed: 115 mph", "speed: nan mph", "site.wind.speed", "is not a number"),
    ("rack.yaml", "speed: 115 mph", "speed: inf mph", "site.wind.speed", "is not a number"),
    ("rack.yaml", "speed: 115 mph", "speed: .inf", "site.wind.speed", "is not a number"),
    ("rack.yaml", "speed: 115 mph", "speed: 1e999 mph", "site.wind.speed", "out of range"),
    ("rack.yaml", "elevation: 7050 ft", "elevation: 7050 mi", "site.elevation", "from -300 to 15000 ft"),
    # what must hold between fields
    ("rack.yaml", "{height: 8.5 ft, face: front}", "{height: 9.5 ft, face: front}", "frame.rails.5.height", "above the posts"),
    ("rack.yaml", SPECTRAL, "mapped: {S_S: 1, S_1: 0.4, site_class: D, measured: no}",
     "site.seismic.mapped", "hazard service"),
    ("rack.yaml", "    T_L: 8 s", "    mapped: {S_S: 1, S_1: 0.4, site_class: D, measured: no}\n    T_L: 8 s",
     "site.seismic.mapped", "exactly one"),
    ("rack.yaml", "    " + SPECTRAL, "", "site.seismic", "neither"),
    ("rack.yaml", "post: HSS6X6X1/4", "post: HSS6X6X1/7", "frame.post", "HSS6X6X1/4"),
    ("rack.yaml", "post: HSS6X6X1/4", "post: hss6x6x1/4", "frame.post", "Nearest: HSS6X6X1/4"),
    ("rack.yaml", "rail: C6X8.2", "rail: C6X8.3", "frame.rail", "C6X8.2"),
    ("rack.yaml", "ordinary_moment_frame_unlimited ", "ordinary_moment_frame_unlimitd ", "site.seismic.system",
     "ordinary_moment_frame_unlimited"),
    # YAML itself
    ("rack.yaml", "  number: QS-2204", "\tnumber: QS-2204", "", "tab"),
    ("rack.yaml", "  number: QS-2204", "  number: [QS-2204", "", "cannot be read"),
    ("rack.yaml", "  number: QS-2204", "  number: &a QS-2204", "job.number", "anchors and aliases"),
    ("rack.yaml", "  number: QS-2204", "  number: *a", "job.number", "anchors and aliases"),
    ("rack.yaml", "  number: QS-2204", "  number: !!python/object/apply:os.system [echo]", "job.number", "tags"),
    ("rack.yaml", "  number: QS-2204", "  number: !include x", "job.number", "tags"),
    ("rack.yaml", "  number: QS-2204", "  <<: {a: b}\n  number: QS-2204", "job", "is not a key"),
    ("rack.yaml", "  number: QS-2204", "  number: QS: 2204", "", "stands in quotes"),
    ("rack.yaml", "  number: QS-2204", "  number: " + "[" * 5000, "", None),
    ("rack.yaml", "\ncodes:", "\n---\ncodes:", "", "second document"),
    # texts
    ("rack.yaml", "title: Upper station electrical rack", 'title: "Up\\u0007per"', "job.title", "U+0007"),
    ("rack.yaml", "title: Upper station electrical rack", 'title: "a\\nb"', "job.title", "a line break"),
    ("rack.yaml", "title: Upper station electrical rack", 'title: "\\uD800"', "job.title", None),
    ("rack.yaml", "title: Upper", "title: Up\x07per", "", "U+0007"),
    ("rack.yaml", "title: Upper", "title: Up\u202eper", "", "U+202E"),
    ("rack.yaml", "title: Upper", "title: " + "x" * 5000, "job.title", "Shorten it"),
    ("rack.yaml", "title: Upper", "title: Up\ud800per", "", "is not UTF-8"),
    # heads of a schedule
    ("equipment.csv", "weight [lbf]", "weight [lb]", "head 11", "write lbf"),
    ("equipment.csv", "weight [lbf]", "weight", "head 11", "has no unit"),
    ("equipment.csv", "weight [lbf]", "weight [ft]", "head 11", "force is asked"),
    ("equipment.csv", "weight [lbf]", "weight [kg]", "head 11", "write kgf or kN"),
    ("equipment.csv", "weight [lbf]", "wieght [lbf]", "head 11", "Did you mean 'weight'"),
    ("equipment.csv", ",weight [lbf]", ",x [ft]", "head 11", "stands twice"),
    ("equipment.csv", "tag,kind", "tag [ft],kind", "head 1", "no unit"),
    ("equipment.csv", "tag,kind", "tag,[kind]", "head 2", "is not a head"),
    ("equipment.csv", "kva [kVA]", "kva [kW]", "head 19", "Allowed: kVA"),
    # cells
    ("equipment.csv", "22,,420,", "22,,,", "row 3 (T-1), weight", "missing or blank"),
    ("equipment.csv", "22,,420,", "22,,420 lbf,", "row 3 (T-1), weight [lbf]", "stands in the head"),
    ("equipment.csv", "22,,420,", "22,,nan,", "row 3 (T-1), weight [lbf]", "is not a number"),
    ("equipment.csv", "22,,420,", "22,,1e6,", "row 3 (T-1), weight [lbf]", "above 0 to 20000 lbf"),
    ("equipment.csv", "22,,420,", "22,,-420,", "row 3 (T-1), weight [lbf]", "out of range"),
    ("equipment.csv", "22,,420,", "22,,=SUM(A1),", "row 3 (T-1), weight [lbf]", "is not a number"),
    ("equipment.csv", '"Dry transformer', '"=cmd()', "row 3 (T-1), description", "formula"),
    ("equipment.csv", '"Dry transformer', '"@cmd', "row 3 (T-1), description", "formula"),
    ("equipment.csv", '"Dry transformer', '"-cmd', "row 3 (T-1), description", "formula"),
    ("equipment.csv", '"Dry transformer', '"' + "x" * 9000, "row 3 (T-1), description", "Shorten it"),
    ("equipment.csv", '"Dry transformer', '"Dry\ttransformer', "", "a tab"),
    ("equipment.csv", '"Dry transformer', '"Dry\ntransformer', "row 3 (T-1), description", "a line break"),
    ("equipment.csv", '"Dry transformer', '"Dry" transformer', "", "quotes"),
    ("equipment.csv", "LP-1,panelboard", "LP-1,panel", "row 4 (LP-1), kind", "Did you mean 'panelboard'"),
    ("equipment.csv", "DS-2,disconnect", "ds-1,disconnect", "row 5 (ds-1), tag", "already on line 2"),
    ("equipment.csv", "DS-3,disconnect", "utility,disconnect", "row 14 (utility), tag", "name of the supply"),
    ("equipment.csv", "DS-3,disconnect", ",disconnect", "row 14, tag", "missing or blank"),
    ("equipment.csv", "DS-3,disconnect", "<b>,disconnect", "row 14 (<b>), tag", "A tag is"),
    ("equipment.csv", ",,45,4.5,208", ",,,4.5,208", "row 3 (T-1), kva", "a transformer needs it"),
    ("equipment.csv", "flat,panelboard,1.5", "flat,panelboard,1.2", "row 12 (EN-1), importance", "Allowed: 1.0, 1.5"),
    ("equipment.csv", "flat,panelboard,1.5", "flat,panel,1.5", "row 12 (EN-1), seismic_row", "component row"),
    ("equipment.csv", "front,14.25,5.5", "front,12.5,5.5", "row 5 (DS-2), x", "fills part of the place of LP-1"),
    ("equipment.csv", "front,14.25,5.5", "front,30,5.5", "row 5 (DS-2), x", "24 ft long"),
    ("equipment.csv", "front,14.25,5.5", "front,14.25,9.5", "row 5 (DS-2), z", "above the posts"),
    ("equipment.csv", "front,14.25,5.5", "front,14.25,0.5", "row 5 (DS-2), z", "below grade"),
    ("equipment.csv", "estimate, common practice range 370", "guess 370", "row 3 (T-1), weight_source", "Start with datasheet"),
    ("equipment.csv", "EN-1,enclosure,", "EN-1,", "row 12 (EN-1)", "20 cells under 21 heads"),
    ("equipment.csv", "EN-1,enclosure,", "EN-1,enclosure,x,y,", "row 12 (EN-1)", "23 cells under 21 heads"),
    # circuits
    ("circuits.csv", "F-3,T-1,LP-1", "F-3,T-2,LP-1", "row 4 (F-3), from", "T-1"),
    ("circuits.csv", "F-3,T-1,LP-1", "F-3,T-1,LP-9", "row 4 (F-3), to", "is nowhere"),
    ("circuits.csv", "MS-1,M-101,field", "MS-1,M-101,rack", "row 6 (M-1B), to", "to_kind = field"),
    ("circuits.csv", "B-1,DP-1,DS-2,rack", "B-1,DP-1,DS-2,field", "row 11 (B-1), to", "Write rack"),
    ("circuits.csv", "F-1,utility,DS-1", "F-1,LP-1,DS-1", "row 1 (F-1), from", "by itself"),
    ("circuits.csv", "motor,480,3,,60,,yes,0.85,18", "motor,480,3,,,,yes,0.85,18", "row 5 (M-1A), hp",
     "exactly one of hp or load"),
    ("circuits.csv", "motor,480,3,,60,,yes,0.85,18", "motor,480,3,,61,,yes,0.85,18", "row 5 (M-1A), hp [hp]",
     "no row of the motor tables"),
    ("circuits.csv", "motor,480,3,,60,,yes,0.85,18", "motor,480,3,9,60,,yes,0.85,18", "row 5 (M-1A), hp [hp]",
     "given: load, hp"),
    ("circuits.csv", "3,62,,,yes,1,14", "3,62,,,perhaps,1,14", "row 11 (B-1), continuous", "yes, no, or a percentage"),
    ("circuits.csv", "3,62,,,yes,1,14", "3,62,,,120 %,1,14", "row 11 (B-1), continuous", "more than the whole"),
    ("circuits.csv", "3,62,,,yes,1,14", "3,62,,,yes,1.2,14", "row 11 (B-1), power_factor", "out of range"),
    ("circuits.csv", "3,copper,THWN-2,500", "3,silver,THWN-2,500", "row 2 (F-2), material", "copper, aluminum"),
    ("circuits.csv", "3,copper,THWN-2,500", "3,copper,THWN-3,500", "row 2 (F-2), insulation", "THWN-2"),
    ("circuits.csv", "3,copper,THWN-2,500", "3,copper,THWN-2,505", "row 2 (F-2), size", "500"),
    ("circuits.csv", "12,copper,THWN-2,,1,counted,75", "12,copper,THWN-2,,1,counted,70", "row 4 (F-3), terminal [degC]",
     "60, 75, 90"),
    ("circuits.csv", "C-8,RMC", "C-8,EMT", "row 10 (M-3B), raceway_kind", "share the raceway C-8"),
    ("circuits.csv", "75,yes,400,,C-1,", "75,yes,400,,C-2,", "row 2 (F-2), raceway_kind", "share the raceway"),
    ("circuits.csv", "C-2,RMC,", "C-2,,", "row 2 (F-2), raceway_kind", "blank"),
    ("circuits.csv", "C-2,RMC,,", "C-2,RMC,7,", "row 2 (F-2), trade_size", "trade size of RMC"),
    ("circuits.csv", "aluminum,XHHW-2,,2", "aluminum,XHHW-2,,0", "row 1 (F-1), sets", "Allowed: 1, 2"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "old", "new", "field", "words"),
    ONE_BY_ONE,
    ids=lambda text: str(text)[:40],
)
def test_one_problem_is_one_located_line(broken, high, name, old, new, field, words):
    before = (high / name).read_bytes().decode()
    problems = broken(name, old, new)
    about = [p for p in problems if (words or "") in str(p)]
    assert about, "\n".join(map(str, problems))
    problem = about[0]
    assert type(problem) is InputError
    assert problem.file == name
    assert problem.line is not None
    assert abs(problem.line - (before[: before.index(old)].count("\n") + 1)) <= 3 or problem.line == 1
    assert "\n" not in str(problem)
    assert len(str(problem)) < 900
    assert str(problem).startswith(f"{name}:{problem.line}: {problem.field}")
    if field:
        assert problem.field.startswith(field)


def test_problems_do_not_drag_others_along(broken):
    """A wrong head is one problem, not one for each row; a wrong row does not make its circuits lead nowhere."""
    assert len(broken("equipment.csv", "weight [lbf]", "weight [lb]")) == 1


def test_a_wrong_row_is_one_problem(broken):
    assert len(broken("equipment.csv", "22,,420,", "22,,heavy,")) == 1


def test_all_problems_of_all_files_are_listed(high):
    for name, old, new in (
        ("rack.yaml", "115 mph", "115"),
        ("rack.yaml", "7050 ft", "7050 lbf"),
        ("equipment.csv", "22,,420,", "22,,heavy,"),
        ("circuits.csv", ",60 %,0.88,180,", ",60 %,88,180,"),
    ):
        path = high / name
        path.write_text(path.read_text().replace(old, new, 1))
    with pytest.raises(InputError) as caught:
        load(high)
    assert [(p.file, p.field) for p in caught.value.problems] == [
        ("circuits.csv", "row 1 (F-1), power_factor"),
        ("equipment.csv", "row 3 (T-1), weight [lbf]"),
        ("rack.yaml", "site.elevation"),
        ("rack.yaml", "site.wind.speed"),
    ]
    assert len(str(caught.value).splitlines()) == 4


@pytest.mark.parametrize("name", ["rack.yaml", "equipment.csv", "circuits.csv"])
@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\n\n",
        b"\xff\xfe",
        "tag".encode("utf-16"),
        b"\x00" * 50,
        b"\xef\xbb\xbf",
        b"a",
        b"- a\n",
        b"tag\n",
        b"x" * 3_000_000,
    ],
    ids=["empty", "blank", "ff", "utf-16", "nul", "mark", "letter", "list", "head", "huge"],
)
def test_files_that_are_no_such_file(high, name, content):
    (high / name).write_bytes(content)
    with pytest.raises(FolderError) as caught:
        load(high)
    assert any(p.file == name for p in caught.value.problems)


def test_files_that_are_not_there(high, tmp_path):
    (high / "circuits.csv").unlink()
    (high / "equipment.csv").unlink()
    (high / "equipment.csv").mkdir()
    with pytest.raises(FolderError, match=r"circuits.csv: the file cannot be read") as caught:
        load(high)
    assert len(caught.value.problems) == 2
    for nowhere in (tmp_path / "nowhere", "a\0b", ""):
        with pytest.raises(FolderError):
            load(nowhere)


def test_a_bomb_of_aliases_is_refused_where_it_starts(high):
    bomb = "a: &a [x,x,x,x,x,x,x,x,x]\n" + "".join(
        f"{b}: &{b} [{','.join(['*' + a] * 9)}]\n" for a, b in zip("abcdefgh", "bcdefghi", strict=True)
    )
    (high / "rack.yaml").write_text(bomb)
    with pytest.raises(FolderError, match=r"rack.yaml:1: a: anchors and aliases"):
        load(high)


@pytest.mark.parametrize("content", ["? " * 40_000, "- " * 40_000, "{" * 90_000, "[" * 90_000, "a: " * 30_000, "[[a]: b]: c"])
def test_deep_nesting_is_refused_where_it_starts(high, content):
    (high / "rack.yaml").write_text(content)
    with pytest.raises(FolderError, match=r"rack.yaml:1: "):
        load(high)


@pytest.mark.parametrize("content", ["a,b\n" * 400_000, ",".join("ab" * 50_000), '"' + "a" * 1_900_000, "a\n" * 900_000])
def test_endless_tables_are_refused(high, content):
    (high / "circuits.csv").write_text(content)
    with pytest.raises(FolderError, match=r"circuits.csv:\d+: "):
        load(high)


def test_mapped_motion_is_for_the_earlier_edition(broken):
    [problem] = broken("rack.yaml", "loads: ASCE/SEI 7-16", "loads: ASCE/SEI 7-22", demo="coast")
    assert problem.field == "site.seismic.mapped"
    assert "hazard service" in problem.message


HOSTILE = [
    r"\input{/etc/passwd} $x_1^2$ {\bf b} 100 % & # ~",
    "<script>alert('x')</script> <b>&amp;</b>",
    "*bold* _it_ `code` [link](file:///x) # head | cell",
    '#import "x": * #eval("1") @label <label> $a$',
    '\'; DROP TABLE jobs; -- "quoted"',
    "Überwurf Ω ° µ 漢字 عربى 🙂",
    "{{ template }} ${shell} $(cmd) %n %s",
    "null",
    "no",
    "1e5",
]


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_is_text(high, text):
    """Markup is carried on as written: escaping is the printer's matter."""
    rack, schedule = high / "rack.yaml", high / "equipment.csv"
    quoted = text.replace("'", "''")
    rack.write_text(rack.read_text().replace("title: Upper station electrical rack", f"title: '{quoted}'"))
    doubled = text.replace('"', '""')
    schedule.write_text(schedule.read_text().replace('"Dry transformer 45 kVA,', f'"x {doubled}'))
    job = load(high)
    assert job.job.title == text
    assert job.equipment_by_tag["T-1"].description.startswith(f"x {text}")


@pytest.mark.parametrize(
    ("old", "new", "unit", "magnitude"),
    [
        ("speed: 115 mph", "speed: 51.4 m/s", "m/s", 51.4),
        ("speed: 115 mph", "speed: 115mph", "mph", 115),
        ("speed: 115 mph", "speed: '185 km/h'", "km/h", 185),
        ("elevation: 7050 ft", "elevation: 2.15 km", "km", 2.15),
        ("elevation: 7050 ft", "elevation: -5 ft", "ft", -5),
        ("temperature: 32 degC", "temperature: 90 degF", "degF", 90),
        ("temperature: 32 degC", "temperature: 32 °C", "°C", 32),
        ("projection: 6 in", "projection: 5-1/2 in.", "in", 5.5),
        ("projection: 6 in", "projection: 3/4 ft", "ft", 0.75),
        ("hardware: 8 %", "hardware: 8 percent", "percent", 8),
    ],
)
def test_any_unit_of_the_dimension_is_kept_as_written(high, old, new, unit, magnitude):
    path = high / "rack.yaml"
    path.write_text(path.read_text().replace(old, new))
    job = load(high)
    name = new.split(":")[0]
    where = {
        "speed": job.site.wind.speed, "elevation": job.site.elevation, "temperature": job.site.ambient.temperature,
        "projection": job.piers.projection, "hardware": job.allowances.hardware,
    }  # fmt: skip
    assert (where[name].measure, where[name].magnitude) == (unit_named(unit), pytest.approx(magnitude))


def test_a_schedule_in_other_units(high):
    path = high / "equipment.csv"
    path.write_text(
        path.read_text()
        .replace("weight [lbf]", "weight [kgf]")
        .replace("kva [kVA]", "kva [VA]")
        .replace(",45,4.5", ",45000,4.5")
    )
    job = load(high)
    assert job.equipment_by_tag["T-1"].weight.m_as("lbf") == pytest.approx(420 * 2.2046226, rel=1e-6)
    assert job.equipment_by_tag["T-1"].kva.m_as("kVA") == 45


def test_what_spreadsheets_do_to_a_file_is_borne(high):
    """A byte order mark, other line ends, blank rows and columns at the end, quotes around everything."""
    path = high / "equipment.csv"
    lines = path.read_text().splitlines()
    blank = "," * (lines[0].count(","))
    path.write_bytes(("\ufeff" + "\r\n".join([line + ",," for line in lines] + [blank + ",,", ""])).encode())
    job = load(high)
    assert len(job.equipment) == len(lines) - 1
    assert job.equipment_by_tag["T-1"].weight.origin.locator == "row 3 (T-1), weight [lbf], line 4"

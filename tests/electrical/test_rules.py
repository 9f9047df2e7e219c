"""Rules a job is judged by: one test a rule, the traps among them by name."""

import pytest

from rackbook.electrical import conductors, raceways, sheets
from rackbook.electrical.clauses import clause, edition_of
from rackbook.trace import DomainError, RackbookError, governing, touched


def one(rack, edition="2023", ambient=30, equipment=(), **changed):
    return conductors(rack.job(rack.circuit(**changed), edition=edition, ambient=ambient, equipment=equipment)).circuits["C-1"]


def found(done, words):
    return next(c for c in done.checks if words in c.name)


def test_continuous_load_and_derating_are_two_separate_checks(rack):
    """4/0 at 45 degC carries 160 A continuous: 200 A against 230 A, and 160 A against 226.2 A; never 200 against 226.2 A."""
    done = one(rack, ambient=45, load=160, continuous=100, size="4/0", ocpd=200)
    first, second = found(done, "at terminals"), found(done, "corrected ampacity")
    assert (first.demand.magnitude, first.capacity.magnitude) == (200, 230)
    assert (second.demand.magnitude, second.capacity.magnitude) == (160, pytest.approx(226.2))


def test_terminals_cap_and_are_no_starting_point(rack):
    done = one(rack, ambient=45, load=40, size="6", marked_75=False)
    assert done.ampacity.I_c.magnitude == pytest.approx(75 * 0.87)
    assert done.ampacity.I_u.magnitude == 55
    assert governing(done.ampacity.I_u) == "terminals"


def test_to_100_amperes_the_60_degree_column_unless_marked(rack):
    assert one(rack, load=52, marked_75=False).size.magnitude == "6"
    assert one(rack, load=50, marked_75=True).size.magnitude == "8"
    assert one(rack, load=101, marked_75=False).ampacity.T_t.magnitude == 75


def test_a_lug_marked_90_does_not_raise_the_column(rack):
    assert one(rack, load=150, terminal=90).ampacity.T_t.magnitude == 75


def test_small_conductors_keep_their_largest_device(rack):
    assert one(rack, load=16, ocpd=20).size.magnitude == "12"
    assert one(rack, load=25, ocpd=30).size.magnitude == "10"
    assert one(rack, load=10, ocpd=20, material="aluminum").size.magnitude == "10"


def test_rounding_up_is_refused_to_transformer_secondaries(rack):
    asked = {"load": 100, "from_": "T-1", "ocpd": 125, "voltage": 208, "kind": "feeder"}
    assert one(rack, **asked).size.magnitude == "2"  # 115 A, next standard 125 A
    secondary = one(rack, equipment=[("T-1", "transformer")], **asked)
    assert secondary.size.magnitude == "1"  # must carry the 125 A itself
    assert found(secondary, "device protects").source.locator == "240.21(C)"


def test_over_800_amperes_the_whole_rating_is_carried(rack):
    done = one(rack, load=900, kind="feeder", ocpd=1000, sets=3)
    assert done.size.magnitude == "400"
    assert done.because.startswith("350 is too small")


def test_parallel_conductors_begin_at_one_ought(rack):
    done = one(rack, load=100, sets=2)
    assert done.size.magnitude == "1/0"
    assert done.rule == "parallel"
    assert not found(one(rack, load=100, sets=2, size="2"), "parallel").passes


def test_motor_conductors_are_125_percent_after_correction(rack):
    done = one(rack, kind="motor", load=None, hp=60)
    assert done.I_b.magnitude == 77
    assert done.I_min.magnitude == 96.25
    assert done.size.magnitude == "3"
    assert not [c for c in done.checks if "device" in c.name]
    assert one(rack, kind="motor", load=None, hp=10).size.magnitude == "14"  # 240.4(D) does not bind motor circuits


def test_transformer_circuit_takes_the_rated_current(rack):
    done = one(rack, kind="transformer", load=None, kva=45)
    assert done.I_b.magnitude == pytest.approx(54.127, abs=0.001)
    assert done.I_r.magnitude == 60


def test_circuits_in_one_raceway_count_together_and_grounds_do_not(rack):
    rows = [rack.circuit(f"C-{i}", raceway="R-1", neutral="counted") for i in range(3)]
    done = conductors(rack.job(*rows))
    assert {c.n_c.magnitude for c in done.circuits.values()} == {12}
    assert {c.ampacity.k_n.magnitude for c in done.circuits.values()} == {50}
    tube = raceways(rack.job(*rows), done).raceways["R-1"]
    assert tube.fill.n.magnitude == 15  # 12 and three grounds


def test_nipples_are_not_adjusted_and_may_be_filled_to_60_percent(rack):
    rows = [rack.circuit(f"C-{i}", raceway="R-1", nipple=True) for i in range(3)]
    done = conductors(rack.job(*rows))
    assert done.circuits["C-0"].ampacity.k_n.magnitude == 100
    assert raceways(rack.job(*rows), done).raceways["R-1"].fill.p_max.magnitude == 60


def test_parallel_sets_lie_one_in_each_raceway(rack):
    done = one(rack, load=400, kind="feeder", sets=2, neutral="not counted")
    assert done.n_c.magnitude == 3
    job = rack.job(rack.circuit(load=400, kind="feeder", sets=2, neutral="not counted"))
    tube = raceways(job).raceways["C-1"]
    assert (tube.alike, tube.fill.n.magnitude) == (2, 5)
    assert done.ground.size.magnitude == "3"  # full size in each, 250.122(F)


def test_ground_grows_with_conductors_enlarged_for_drop(rack):
    near, far = one(rack, load=80, ocpd=100, length=10), one(rack, load=80, ocpd=100, length=900, drop_limit=2)
    assert near.ground.size.magnitude == "8"
    assert far.ground.A_g.magnitude == pytest.approx(16510 * area(far.size) / area(far.required))
    assert area(far.ground.size) >= far.ground.A_g.magnitude


def test_ground_does_not_grow_with_conductors_enlarged_for_heat(rack):
    for edition in ("2020", "2023"):
        hot = one(rack, edition=edition, ambient=60, load=80, ocpd=100)
        assert area(hot.size) > area(one(rack, load=80, ocpd=100).size)
        assert hot.ground.size.magnitude == "8"


def test_ground_is_never_larger_than_its_circuit(rack):
    assert one(rack, kind="motor", load=None, hp=10).ground.size.magnitude == "14"


def area(size):
    from rackbook.electrical.ground import area as mils

    return mils(size).magnitude


def test_drop_accumulates_along_the_path_to_the_source(rack):
    rows = [
        rack.circuit("F-1", from_="utility", to="DP-1", to_kind="rack", kind="feeder", load=200, length=400),
        rack.circuit("F-2", from_="DP-1", to="LP-1", to_kind="rack", kind="feeder", load=100, length=200),
        rack.circuit("B-1", from_="LP-1", load=20, length=300),
    ]
    done = conductors(rack.job(*rows)).circuits
    sums = [done[t].drop.p_d.magnitude for t in ("F-1", "F-2", "B-1")]
    assert done["F-1"].p_tot.magnitude == sums[0]
    assert done["B-1"].p_tot.magnitude == pytest.approx(sum(sums))
    total = found(done["B-1"], "from source")
    assert total.capacity.magnitude == 5
    assert "recommended" in total.source.locator
    long_way = conductors(rack.job(*reversed(rows))).circuits
    assert long_way["B-1"].p_tot.magnitude == done["B-1"].p_tot.magnitude


def test_a_recommended_drop_does_not_choose_the_size_but_a_limit_of_the_job_does(rack):
    free, bound = one(rack, load=30, length=900), one(rack, load=30, length=900, drop_limit=3)
    assert not found(free, "recommended").passes
    assert "not mandatory" in found(free, "recommended").remedy
    assert found(bound, "limit of the job").passes
    assert bound.rule == "drop"


def test_rooftop_by_edition_and_type(rack):
    def ambient(edition, kind):
        return one(rack, edition=edition, ambient=40, roof_height=0.8, insulation=kind).T_e.magnitude

    assert ambient("2020", "THWN-2") == 73
    assert ambient("2023", "THWN-2") == 40
    assert ambient("2020", "XHHW-2") == 40


def test_clauses_follow_the_edition(rack):
    assert clause("branch drop", "2020").locator == "210.19(A) Informational Note 3"
    assert clause("branch drop", "2023").locator == "210.19 Informational Note"
    for edition in ("2020", "2023"):
        assert found(one(rack, edition=edition), "at terminals").source.edition == edition
    with pytest.raises(DomainError, match="2026 edition renumbers"):
        edition_of("NFPA 70-2026")


def test_a_type_without_wet_rating_is_open_and_never_passes(rack):
    done = one(rack, insulation="THHN")
    wet = found(done, "wet place")
    assert wet.word == "OPEN"
    assert not wet.passes
    assert done.ampacity.T_c.magnitude == 90
    assert "no rating for wet places" in done.cautions[0]


@pytest.mark.parametrize(
    ("changed", "ambient", "words"),
    [
        ({"insulation": "RHW", "load": 20}, 71, "The ambient factors end at 70 degC for conductors rated 75"),
        ({"insulation": "THXX"}, 30, "no row with type 'THXX'. Rows: THHN"),
        ({"size": "13"}, 30, "'13' is not a conductor size of Table 310.16"),
        ({"size": "900"}, 30, "Table 9 prints no R for 900 copper in steel conduit"),
        ({"size": "14", "material": "aluminum"}, 30, "begins at 12"),
        ({"material": "silver"}, 30, "Listed: copper, aluminum"),
        ({"kind": "motor", "load": None, "hp": 35}, 30, "The next listed is 40 hp"),
        ({"kind": "motor", "load": None, "hp": 35, "phases": 1, "voltage": 240}, 30, "Nothing larger is listed"),
        ({"load": 3000}, 30, "Use more parallel sets"),
        ({"load": 5500, "sets": 1, "continuous": 100}, 30, "standard_ratings"),
        ({"raceway_kind": "EMT", "trade_size": "5"}, 30, "EMT is not made in trade size 5"),
        ({"ocpd": 7000, "size": "500"}, 30, "7000 is above it"),
    ],
)
def test_bad_input_is_one_error_that_says_what_the_table_holds(rack, changed, ambient, words):
    job = rack.job(rack.circuit(**changed), ambient=ambient)
    with pytest.raises(RackbookError) as caught:
        raceways(job, conductors(job))
    assert words in str(caught.value)
    assert "C-1" in str(caught.value)


def test_circuits_that_share_a_raceway_must_agree(rack):
    rows = [rack.circuit("C-1", raceway="R-1", sets=2, load=300), rack.circuit("C-2", raceway="R-1")]
    with pytest.raises(RackbookError, match="share the raceway R-1 but not its sets"):
        conductors(rack.job(*rows))


def test_a_ring_of_circuits_is_refused(rack):
    rows = [rack.circuit("A", from_="X", to="Y", to_kind="rack"), rack.circuit("B", from_="Y", to="X", to_kind="rack")]
    with pytest.raises(RackbookError, match="fed, in the end, by itself"):
        conductors(rack.job(*rows))


def test_a_load_touches_size_ground_and_drop(rack):
    row = rack.circuit(load=80, continuous=100)
    done = conductors(rack.job(row)).circuits["C-1"]
    paths = {"size": done.size, "ampacity": done.ampacity.I_u, "ground": done.ground.size, "drop": done.drop.p_d}
    assert touched(row.load, paths) == list(paths)


def test_every_circuit_in_a_raceway_is_touched_by_its_load(rack):
    rows = [rack.circuit(f"C-{i}", raceway="R-1", load=14.5 + i / 9, continuous=100) for i in range(3)]
    tube = raceways(rack.job(*rows)).raceways["R-1"]
    for row in rows:
        assert touched(row.load, {"fill": tube.fill.p_f}) == ["fill"]


def test_every_value_of_a_result_traces_to_sources(rack):
    job = rack.job(rack.circuit(load=80, continuous=100, drop_limit=2, length=500))
    done = conductors(job)
    for c in (*done.checks, *raceways(job, done).checks):
        for leaf in (*c.demand.inputs(), *(c.capacity.inputs() if c.capacity else ())):
            assert leaf.source.title


def test_given_raceway_is_checked_and_jamming_is_warned_of(rack):
    job = rack.job(rack.circuit(size="500", load=300, kind="feeder", raceway_kind="EMT", trade_size="2-1/2"))
    tube = raceways(job).raceways["C-1"]
    assert tube.fill.jam == "jam zone"
    assert tube.cautions == ("C-1: jam ratio 2.896, inside 2.8 to 3.2: pull with care or select another size.",)
    tight = raceways(rack.job(rack.circuit(size="500", load=300, kind="feeder", trade_size="2"))).raceways["C-1"]
    assert not tight.checks[0].passes


def test_sheets_show_the_governing_circuit_and_every_circuit(rack):
    rows = [rack.circuit(f"C-{i}", load=10 + 7 * i, raceway=f"R-{i // 2}", insulation="THWN-2") for i in range(5)]
    job = rack.job(*rows)
    done = conductors(job)
    made = sheets(done, raceways(job, done))
    assert [s.key for s in made] == ["conductors", "raceways"]
    text = made[0].markdown()
    assert "governing" in text
    for tag in done.circuits:
        assert tag.replace("-", "\\-") in text
    assert "recommended in informational notes" in text
    assert len(made[0].checks) == len(done.checks)
    assert "Raceway schedule" in made[1].markdown()


def test_the_drop_worked_in_full_is_the_largest_against_its_limit(rack):
    """The governing ampacity and the governing drop are of two circuits: each is derived where it governs, and once."""
    rows = [rack.circuit("C-1", load=48, length=10, raceway="R-1"), rack.circuit("C-2", load=12, length=400, raceway="R-2")]
    done = conductors(rack.job(*rows))
    shares = {t: c.drop.p_d.m_as("pct") / 3 for t, c in done.circuits.items()}
    assert max(shares, key=shares.get) == "C-2"
    text = sheets(done)[0].markdown().replace("\\", "")
    assert "Voltage drop of C-2, the largest against its limit" in text
    assert text.count("**Drop in percent of the circuit's voltage**") == 1


def test_secondary_conductors_take_the_larger_of_ground_and_supply_side_bonding_jumper(rack):
    """500 kcmil from a transformer behind a 350 A device: 3 AWG by Table 250.122, 1/0 by Table 250.102(C)(1)."""
    asked = {"load": 350, "from_": "T-1", "ocpd": 350, "voltage": 208, "kind": "feeder", "size": "500"}
    feeder, secondary = one(rack, **asked), one(rack, equipment=[("T-1", "transformer")], **asked)
    assert feeder.ground.size.magnitude == "3"
    assert feeder.ground.bonding is None
    assert secondary.ground.size_table.magnitude == "3"
    assert secondary.ground_size.magnitude == "1/0"
    assert governing(secondary.ground.size) == "supply-side bonding jumper"
    assert "250.30(A)(2)" in secondary.cautions[0]


def test_transformer_primary_device_is_judged_and_250_percent_asks_for_a_secondary_device(rack):
    asked = {"kind": "transformer", "load": None, "kva": 45}
    alone = found(one(rack, **asked, ocpd=70), "protects transformer")  # 1.25 x 54.13 = 67.66, next standard 70
    assert (alone.capacity.magnitude, alone.passes) == (70, True)
    both = one(rack, **asked, ocpd=125, size="1")
    check = found(both, "protects transformer")  # 2.5 x 54.13 = 135.3, not rounded up
    assert check.capacity.magnitude == pytest.approx(135.3, abs=0.05)
    assert check.passes
    wired = conductors(rack.job(rack.circuit(**asked, ocpd=125, size="1")))
    assert [(c.name, c.word) for c in wired.still_open] == [("C-1: secondary device", "OPEN")]
    assert conductors(rack.job(rack.circuit(**asked, ocpd=70))).still_open == ()
    assert not found(one(rack, **asked, ocpd=150, size="1/0"), "protects transformer").passes


def test_a_feeder_is_set_against_what_it_feeds(rack):
    """1.25 x 77 + 34 + 40 + 1.25 x 20 = 195.25 A by 430.24; the schedule's 150 A, half of it continuous, gives 168.75 A."""
    rows = [
        rack.circuit("F-1", from_="utility", to="DS-1", to_kind="rack", kind="feeder", load=150, continuous=50),
        rack.circuit("F-2", from_="DS-1", to="DP-1", to_kind="rack", kind="feeder", load=150, continuous=50),
        rack.circuit("M-1", kind="motor", load=None, hp=60, to="MS-1", to_kind="rack"),
        rack.circuit("M-1B", kind="motor", load=None, hp=60, from_="MS-1"),
        rack.circuit("M-2", kind="motor", load=None, hp=25),
        rack.circuit("B-1", load=40),
        rack.circuit("F-3", kind="feeder", load=20, continuous=100),
    ]
    job = rack.job(*rows)
    done = conductors(job)
    assert list(done.feeders) == ["F-1", "F-2"]
    assert [(c.name, c.word) for c in done.of_feeders] == [
        ("F-1: connected load by 430.24", "OPEN"),
        ("F-1: device by 430.62", "OK"),
        ("F-2: connected load by 430.24", "OPEN"),
        ("F-2: device by 430.62", "OK"),
    ]
    # 250 % of 77 A is 192.5 A, so a 200 A breaker; with it 34 + 40 + 1.25 x 20
    assert done.of_feeders[1].capacity.m_as("A") == pytest.approx(200 + 34 + 40 + 25)
    fed = done.feeders["F-1"]
    assert fed.tags == ("M-1", "M-2", "B-1", "F-3")
    assert fed.I_f.m_as("A") == pytest.approx(1.25 * 77 + 34 + 40 + 1.25 * 20)
    assert fed.I_min.m_as("A") == pytest.approx(168.75)
    assert fed.exceeds
    assert touched(rows[5].load, {"feeder": fed.I_f}) == ["feeder"]


def test_a_feeder_whose_load_covers_what_it_feeds_passes_and_its_device_may_be_too_large(rack):
    """1.25 x 14 + 10 = 27.5 A are fed; a device of 70 A is more than 35 + 10 by 430.62(A) and than the 50 A of 8 AWG."""
    rows = [
        rack.circuit("F-1", from_="DP-0", kind="feeder", to="DP-1", to_kind="rack", load=27.5, ocpd=70, size="8"),
        rack.circuit("M-1", kind="motor", load=None, hp=10),
        rack.circuit("B-1", load=10, phases=1, voltage=277),
    ]
    done = conductors(rack.job(*rows, equipment=[("DP-0", "panelboard")]))
    load, device = done.of_feeders
    assert (load.ratio.magnitude, load.word) == (pytest.approx(1.0), "OK")
    assert (device.capacity.m_as("A"), device.word) == (50, "NOT OK")
    assert [c.name for c in done.still_open] == ["Motors: device and overload protection"]


def test_conductors_from_outside_the_job_and_of_a_transformers_secondary_are_open(rack):
    rows = [
        rack.circuit("F-1", kind="feeder", from_="utility", to="T-1"),
        rack.circuit("F-2", kind="feeder", from_="T-1", to="LP-1", voltage=208),
    ]
    done = conductors(rack.job(*rows, equipment=[("T-1", "transformer"), ("LP-1", "panelboard")]))
    assert [c.name for c in done.still_open] == ["F-1: service conductors", "F-2: length of secondary conductors"]
    assert all(c.word == "OPEN" and c.remedy for c in done.still_open)


def test_notes_that_hold_for_many_circuits_are_printed_once(rack):
    rows = [rack.circuit(f"M-{i}", kind="motor", load=None, hp=10) for i in range(4)]
    text = sheets(conductors(rack.job(*rows)))[0].markdown()
    assert text.count(r"no device is given\. The maximum") == 1
    assert r"M\-0\, M\-1\, M\-2\, M\-3\: no device is given" in text


def test_the_next_smaller_size_fails_by_numbers(rack):
    done = one(rack, kind="motor", load=None, hp=60)
    assert done.because.startswith("4 is too small: 125 % of the motor current exceeds its ampacity, 96.25 A against 85")
    assert done.briefly == "4: 125 % motor"
    assert one(rack, size="1").briefly == "given"

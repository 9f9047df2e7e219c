"""What holds for every run, conductor and count."""

import itertools

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from rackbook.electrical import circuits, conductors, raceways
from rackbook.electrical.ampacity import ampacity, corrected_ampacity
from rackbook.electrical.annex_c import count_equal
from rackbook.electrical.choose import judge, least_sizes
from rackbook.electrical.factors import T_BASE, ambient_factor, ambient_factor_equation, count_factor
from rackbook.electrical.overcurrent import device_limit, device_limits
from rackbook.electrical.raceway import fill_of, trade_sizes
from rackbook.electrical.sizes import ampacities, areas, impedances, order, sizes, small_limits
from rackbook.electrical.voltage_drop import drop, drop_three
from rackbook.tables import table
from rackbook.trace import InputError

RELAXED = settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow])
TABLE_9 = [s for s in sizes() if table("conductor_impedance").has((s, "copper", "steel"), "R")]
MATERIAL = st.sampled_from(["copper", "aluminum"])


@RELAXED
@given(
    length=st.floats(1, 5000),
    more=st.floats(0, 5000),
    current=st.floats(0.1, 800),
    size=st.sampled_from(TABLE_9),
    pf=st.floats(0.3, 1),
)
def test_a_longer_run_never_drops_less(rack, length, more, current, size, pf):
    def volts(feet):
        return drop(rack.v(current, "A"), rack.v(feet, "ft"), rack.v(480, "V"), size, PF=rack.v(pf)).V_d.magnitude

    assert volts(length + more) >= volts(length) >= 0


@RELAXED
@given(
    material=MATERIAL, kind=st.sampled_from(["THWN-2", "XHHW-2", "XHHW", "RHW"]), ambient=st.integers(-20, 70),
    count=st.integers(1, 60), terminal=st.sampled_from([60, 75]),
)  # fmt: skip
def test_a_bigger_conductor_never_carries_less(rack, material, kind, ambient, count, terminal):
    carried = [
        ampacity(s, material, kind, rack.v(ambient, "degC"), rack.v(count), rack.v(terminal, "degC")).I_u.magnitude
        for s in sizes()[order("12") :]
    ]
    assert carried == sorted(carried)


@RELAXED
@given(ambient=st.integers(-10, 90), rating=st.sampled_from([60, 75, 90]))
def test_the_printed_ambient_factor_is_the_equation_at_the_top_of_its_band(rack, ambient, rating):
    top = {60: 55, 75: 70, 90: 85}[rating]
    assume(ambient <= top)
    printed = ambient_factor(rack.v(ambient, "degC"), rack.v(rating, "degC")).magnitude
    band = max(10, -(-ambient // 5) * 5)
    at_top = ambient_factor_equation(T_c=rack.v(rating, "degC"), T_e=rack.v(band, "degC"), T_b=T_BASE).magnitude
    assert printed == pytest.approx(at_top, abs=0.005)
    here = ambient_factor_equation(T_c=rack.v(rating, "degC"), T_e=rack.v(ambient, "degC"), T_b=T_BASE).magnitude
    assert printed <= here + 0.005  # the table is never bolder than the equation


@RELAXED
@given(count=st.integers(1, 80))
def test_one_more_conductor_never_raises_the_factor(rack, count):
    assert count_factor(rack.v(count + 1)).magnitude <= count_factor(rack.v(count)).magnitude


CIRCUIT = st.fixed_dictionaries(
    {
        "load": st.floats(1, 380),
        "continuous": st.sampled_from([0, 50, 100]),
        "length": st.floats(1, 900),
        "material": MATERIAL,
        "insulation": st.sampled_from(["THWN-2", "XHHW-2", "RHW"]),
        "marked_75": st.booleans(),
        "neutral": st.sampled_from(["none", "counted", "not counted"]),
        "sets": st.sampled_from([1, 1, 1, 2, 3]),
        "drop_limit": st.sampled_from([None, None, 2.0, 3.0]),
        "kind": st.sampled_from(["branch", "feeder", "motor"]),
    }
)


@RELAXED
@given(wanted=CIRCUIT, edition=st.sampled_from(["2023", "2020"]), ambient=st.integers(0, 54))
def test_the_chosen_size_meets_every_rule_and_the_next_smaller_does_not(rack, wanted, edition, ambient):
    """The checks are worked with Values one by one; the choice was made over all sizes at once."""
    try:
        done = conductors(rack.job(rack.circuit(**wanted), edition=edition, ambient=ambient)).circuits["C-1"]
    except InputError as e:
        assert "Use more parallel sets" in str(e)  # noqa: PT017 - the only refusal allowed here
        return
    mandatory = [c for c in done.checks if "recommended" not in c.name]
    assert mandatory
    assert all(c.passes for c in mandatory)
    below = [s for s in sizes()[: order(done.size)] if s in TABLE_9 and (wanted["material"] == "copper" or s != "14")]
    if not below:
        return
    smaller = rack.circuit(**{**wanted, "size": below[-1], "ocpd": done.I_r.m_as("A")})
    again = conductors(rack.job(smaller, edition=edition, ambient=ambient)).circuits["C-1"]
    failing = [c for c in again.checks if not c.passes and "recommended" not in c.name and "ground" not in c.name]
    assert failing, f"{below[-1]} would do where {done.size.magnitude} was chosen"


@RELAXED
@given(wanted=st.lists(CIRCUIT, min_size=2, max_size=5), order_of=st.randoms(use_true_random=False))
def test_the_order_of_circuits_changes_nothing(rack, wanted, order_of):
    rows = [rack.circuit(f"C-{i}", raceway="R-1", **{**w, "sets": 1, "load": w["load"] / 6}) for i, w in enumerate(wanted)]
    mixed = rows[:]
    order_of.shuffle(mixed)
    try:
        first, second = conductors(rack.job(*rows)), conductors(rack.job(*mixed))
    except InputError:
        return
    for tag, c in first.circuits.items():
        other = second.circuits[tag]
        assert (c.size.magnitude, c.ground.size.magnitude, c.I_r.magnitude) == (
            other.size.magnitude, other.ground.size.magnitude, other.I_r.magnitude,
        )  # fmt: skip
        assert c.n_c.magnitude == other.n_c.magnitude
    try:
        one, two = (raceways(rack.job(*r), of).raceways["R-1"].fill for r, of in ((rows, first), (mixed, second)))
    except LookupError:
        return
    assert one.trade_size.magnitude == two.trade_size.magnitude
    assert one.A_c.magnitude == pytest.approx(two.A_c.magnitude, rel=1e-12)


@RELAXED
@given(
    held=st.lists(st.tuples(st.integers(1, 4), st.sampled_from(sizes()[:15])), min_size=1, max_size=4),
    kind=st.sampled_from(["EMT", "IMC", "RMC", "PVC40", "PVC80", "LFMC"]),
)
def test_the_chosen_raceway_is_the_smallest_that_holds_its_conductors(rack, held, kind):
    parts = [(rack.v(n), s, "XHHW-2") for n, s in held]
    try:
        made = fill_of(parts, kind)
    except LookupError as e:
        assert "ends at trade size" in str(e)  # noqa: PT017
        return
    assert made.A_c.magnitude <= made.A_max.magnitude * (1 + 1e-9)
    assert made.A_c.magnitude == pytest.approx(fill_of(parts[::-1], kind).A_c.magnitude)
    at = trade_sizes(kind).index(made.trade_size.magnitude)
    if at > (1 if kind == "LFMC" else 0):
        smaller = fill_of(parts, kind, trade_sizes(kind)[at - 1])
        assert smaller.A_c.magnitude > smaller.A_max.magnitude


@RELAXED
@given(
    size=st.sampled_from(sizes()[:20]), kind=st.sampled_from(["EMT", "IMC", "RMC", "PVC40", "PVC80"]), place=st.integers(0, 8)
)
def test_a_larger_raceway_never_holds_fewer(size, kind, place):
    names = trade_sizes(kind)
    small, large = names[place % (len(names) - 1)], names[place % (len(names) - 1) + 1]
    assert count_equal(size, "THHN", kind, large).magnitude >= count_equal(size, "THHN", kind, small).magnitude


def test_all_sizes_at_once_are_each_size_alone(rack):
    """The choice runs the same formulas over arrays; here they are held against single Values."""
    I_p = corrected_ampacity(I_tab=ampacities("copper", 90), k_T=0.87, k_n=0.8)
    limits = device_limits(np.array(I_p), small_limits("copper"), "2023", True)
    R, X_L = impedances("copper", "steel")
    for i, size in enumerate(sizes()):
        alone = device_limit(rack.v(float(I_p[i]), "A"), size, "copper")
        assert alone.magnitude == pytest.approx(limits[i])
        if not np.isnan(R[i]):
            d = drop(rack.v(50, "A"), rack.v(200, "ft"), rack.v(480, "V"), size, PF=rack.v(0.85))
            all_at_once = drop_three.function(I_n=50, R=R[i], X_L=X_L[i], PF=0.85, L=0.2)
            assert d.V_d.magnitude == pytest.approx(all_at_once)


def test_columns_rise_with_size():
    for material, temperature in itertools.product(("copper", "aluminum"), (60, 75, 90)):
        column = ampacities(material, temperature)
        assert np.all(np.diff(column[~np.isnan(column)]) > 0)
    assert np.all(np.diff(areas()) > 0)


def test_a_million_cases_are_one_call(rack):
    n = 1_000_000
    rng = np.random.default_rng(7)
    tab, k_T, k_n = rng.uniform(15, 600, n), rng.uniform(0.3, 1.2, n), rng.choice([100.0, 80.0, 70.0, 50.0], n)
    swept = corrected_ampacity(I_tab=rack.v(tab, "A"), k_T=rack.v(k_T), k_n=rack.v(k_n, "pct"))
    assert np.allclose(swept.magnitude, tab * k_T * k_n / 100)
    volts = drop_three(
        I_n=swept, R=rack.v(0.1, "ohm/kft"), X_L=rack.v(0.05, "ohm/kft"), PF=rack.v(0.9), L=rack.v(rng.uniform(1, 500, n), "ft")
    )
    assert volts.magnitude.shape == (n,)
    assert volts.magnitude.min() >= 0


def test_judge_and_least_sizes_agree(rack):
    task = circuits._Work(rack.job(rack.circuit()))._task(
        rack.circuit(load=80, drop_limit=1.0, length=600), "copper", "XHHW-2"
    )[0]
    meets = judge(task)
    required, size, rule = least_sizes(task)
    every = np.logical_and.reduce(list(meets.values()))
    assert sizes()[int(every.argmax())] == size
    assert rule == "drop"
    assert order(required) < order(size)

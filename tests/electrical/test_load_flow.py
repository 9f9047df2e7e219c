"""Voltage drop against an independent load flow (pandapower) on radial networks.

The load flow takes constant power and finds the currents; the book takes those currents with the power factor at the
load end. With the exact formula both must agree; the estimate (R cos + X sin) within the difference it is known for.
"""

import math
import warnings

import pytest

from rackbook.electrical.voltage_drop import accumulated_drop, drop_exact_three, drop_percent, drop_three
from rackbook.trace import Source, given

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # the library's own imports
    import pandapower as pp

SOURCE = Source("assumption", "load flow")
#: name, ohm to neutral per 1000 ft (R, X) and length [ft] of each section in a chain, load [kW], power factor
NETWORKS = [
    ("4/0 in steel", [(0.063, 0.051, 200)], 107, 0.85),
    ("500 in steel, long", [(0.029, 0.048, 600)], 200, 0.80),
    ("12 in PVC, unity", [(2.0, 0.054, 150)], 12, 1.0),
    ("feeder and branch", [(0.063, 0.051, 300), (0.31, 0.060, 120)], 40, 0.9),
    ("three sections", [(0.029, 0.048, 400), (0.12, 0.055, 200), (0.78, 0.065, 90)], 18, 0.82),
]


def load_flow(sections, power, factor):
    """Return sending and receiving voltage [V] and current [A] of each section of a 480 V chain with a load at its end."""
    net = pp.create_empty_network(f_hz=60)
    bus = pp.create_bus(net, vn_kv=0.48)
    pp.create_ext_grid(net, bus)
    for r, x, feet in sections:
        nxt = pp.create_bus(net, vn_kv=0.48)
        pp.create_line_from_parameters(
            net,
            bus,
            nxt,
            length_km=feet * 0.0003048,
            r_ohm_per_km=r / 0.3048,
            x_ohm_per_km=x / 0.3048,
            c_nf_per_km=0,
            max_i_ka=9,
        )
        bus = nxt
    pp.create_load(net, bus, p_mw=power / 1e3, q_mvar=power / 1e3 * math.tan(math.acos(factor)))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        pp.runpp(net, tolerance_mva=1e-12, numba=False)
    volts = net.res_bus.vm_pu * 480
    ends = net.res_line.p_to_mw / (net.res_line.p_to_mw**2 + net.res_line.q_to_mvar**2) ** 0.5
    return [
        (volts.iloc[n], volts.iloc[n + 1], net.res_line.i_ka.iloc[n] * 1000, min(1.0, abs(ends.iloc[n])))
        for n in range(len(sections))
    ]


def sheet_values(section, current, factor):
    r, x, feet = section
    return {
        "I_n": given(current, "A", SOURCE), "R": given(r, "ohm/kft", SOURCE), "X_L": given(x, "ohm/kft", SOURCE),
        "PF": given(factor, "", SOURCE), "L": given(feet, "ft", SOURCE),
    }  # fmt: skip


@pytest.mark.parametrize(("sections", "power", "factor"), [n[1:] for n in NETWORKS], ids=[n[0] for n in NETWORKS])
def test_drop_of_each_section_agrees_with_the_load_flow(sections, power, factor):
    total = given(0.0, "pct", SOURCE)
    flow = load_flow(sections, power, factor)
    for section, (sending, receiving, current, at_end) in zip(sections, flow, strict=True):
        values = sheet_values(section, current, at_end)
        exact = drop_exact_three(**values, V=given(sending, "V", SOURCE))
        assert exact.m_as("V") == pytest.approx(sending - receiving, rel=1e-6)
        estimate = drop_three(**values)
        assert estimate.m_as("V") == pytest.approx(sending - receiving, rel=0.01)
        total = accumulated_drop(p_up=total, p_d=drop_percent(V_d=exact, V=given(480, "V", SOURCE)))
    assert total.m_as("pct") == pytest.approx((480 - flow[-1][1]) / 4.8, rel=1e-6)

"""Formulas on scalars and on a million cases, and the setting of their lines."""

import warnings

import numpy as np

from rackbook.electrical.ampacity import corrected_ampacity
from rackbook.electrical.factors import ambient_factor_equation
from rackbook.loads.wind.force import design_force_722
from rackbook.loads.wind.pressure import velocity_pressure_722
from rackbook.trace import Source, Value, given
from rackbook.trace.setting import CONFIG, operand_latex, templates, value_latex
from rackbook.trace.units import Quantity

from .timing import Row, side_by_side

HERE = Source("input", "benchmark")
CASES = 1_000_000
#: One velocity pressure, in the units the clause is printed for.
WIND = {"c_q": (0.00256, "psf/mph**2"), "K_z": (0.85, ""), "K_zt": (1.0, ""), "K_e": (0.98, ""), "V": (115.0, "mph")}


def _values(numbers: dict) -> dict[str, Value]:
    return {n: given(x, of, HERE, n) for n, (x, of) in numbers.items()}


def scalar_call() -> Row:
    """One formula call against the same product in bare pint."""
    values, quantities = _values(WIND), {n: Quantity(x, of) for n, (x, of) in WIND.items()}
    bare = velocity_pressure_722.function
    assert abs(velocity_pressure_722(**values).magnitude - bare(**quantities).to("psf").m) < 1e-9
    ours, other = side_by_side(lambda: velocity_pressure_722(**values), lambda: bare(**quantities).to("psf"), (2000, 200))
    return Row("q_z on scalars", ours, other, "the same product in pint", "> 3")


def setting() -> Row:
    """One line from its template against the setter run anew."""
    values = _values(WIND)
    result = velocity_pressure_722(**values)
    line = velocity_pressure_722.lines[0]
    template = templates(velocity_pressure_722)[0]

    def ours() -> str:
        shown = {n: operand_latex(v) for n, v in values.items()}
        return f"{template.left} = {template.symbols} = {template.fill(shown)} = {value_latex(result)}"

    numbers = {n: v.quantity for n, v in values.items()} | {"q_z": result.quantity}

    def other() -> str:
        from handcalcs.handcalcs import latex

        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return latex(line.text, dict(numbers), "", CONFIG, None, None)

    ours_time, other_time = side_by_side(ours, other, (500, 5))
    return Row("a line set", ours_time, other_time, "handcalcs for each line", "> 200")


def million() -> list[Row]:
    """A million cases through formulas against the same arithmetic written by hand in numpy."""
    draw = np.random.default_rng(7)
    K_z, V, A_f = draw.uniform(0.7, 1.3, CASES), draw.uniform(90, 180, CASES), draw.uniform(1, 60, CASES)
    I_tab, k_T, T_e = draw.uniform(20, 400, CASES), draw.uniform(0.5, 1.1, CASES), draw.uniform(20, 60, CASES)
    wind = _values(WIND | {"K_z": (K_z, ""), "V": (V, "mph")})
    force = _values({"K_d": (0.85, ""), "G": (0.85, ""), "C_f": (1.45, ""), "A_f": (A_f, "ft**2")})
    amps = _values({"I_tab": (I_tab, "A"), "k_T": (k_T, ""), "k_n": (80.0, "pct")})
    hot = _values({"T_c": (75.0, "degC"), "T_e": (T_e, "degC"), "T_b": (30.0, "degC")})

    def wind_by_hand():
        return 0.00256 * K_z * 1.0 * 0.98 * V**2 * 0.85 * 0.85 * 1.45 * A_f

    pairs = [
        ("q_z and F", lambda: design_force_722(q_z=velocity_pressure_722(**wind), **force), wind_by_hand),
        ("corrected ampacity", lambda: corrected_ampacity(**amps), lambda: I_tab * k_T * 80.0 / 100),
        ("ambient factor", lambda: ambient_factor_equation(**hot), lambda: np.sqrt((75.0 - T_e) / (75.0 - 30.0))),
    ]
    rows = []
    for what, ours, other in pairs:
        assert np.allclose(ours().magnitude, other(), rtol=1e-12)
        rows.append(Row(f"{what}, {CASES:,} cases", *side_by_side(ours, other, rounds=15), "numpy by hand", "> 0.77"))
    return rows

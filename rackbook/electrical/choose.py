"""The smallest conductor that meets every rule: all sizes judged at once, then proved against the next smaller one."""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np

from ..trace import InputError, Value, pick
from .ampacity import corrected_ampacity, parallel_ampacity, table_ampacity, worked
from .overcurrent import device_limit, device_limits
from .sizes import ampacities, impedances, listed, order, sizes, small_limits
from .voltage_drop import drop, drop_single, drop_three

SLACK = 1e-9
_FROM_ONE_OUGHT = np.arange(len(sizes())) >= order("1/0")
RULES = {
    "printed": "the tables print no values for it",
    "continuous": "125 % of the continuous load exceeds its uncorrected ampacity at the terminals",
    "load": "the load exceeds its corrected and adjusted ampacity",
    "motor": "125 % of the motor current exceeds its ampacity",
    "device": "the overcurrent device would not protect it",
    "parallel": "parallel conductors begin at 1/0 AWG",
    "drop": "the voltage drop exceeds the limit of the job",
}


#: The same for a column of a table.
BRIEFLY = {
    "": "smallest made", "continuous": "125 % load", "load": "load", "motor": "125 % motor", "device": "device",
    "parallel": "parallel", "drop": "drop",
}  # fmt: skip


@dataclass(frozen=True, eq=False)
class Task:
    """What the conductors of one circuit must do, and where they lie.

    Attributes:
        tag: For messages.
        I_b, I_min, I_r: Load, load with 125 percent of its continuous part, device rating [A].
        motor: Whether 430.22 holds: I_min against the usable ampacity, no rule for the device.
        material: "copper" or "aluminum".
        T_c, T_t, k_T, k_n: Ratings [degC] and factors.
        n: Parallel sets, None for one.
        round_up: Whether 240.4(B) holds.
        L, V, phases, PF, conduit, I_n: For the drop; I_n is the current of one set.
        p_max: Limit of the drop the job itself sets [%], else None.
        edition: Edition of NFPA 70.

    """

    tag: str
    I_b: Value
    I_min: Value
    I_r: Value
    motor: bool
    material: str
    T_c: Value
    T_t: Value
    k_T: Value
    k_n: Value
    n: Value | None
    round_up: bool
    L: Value
    V: Value
    phases: int
    PF: Value
    conduit: str
    I_n: Value
    p_max: Value | None
    edition: str


@dataclass(frozen=True, eq=False)
class Chosen:
    """The smallest size by all rules; the smallest without the drop; and the rule the next smaller one fails."""

    size: Value
    required: str
    rule: str
    because: str


@functools.lru_cache(maxsize=4096)
def _carried(material: str, column: int, cap: int, k_T: float, k_n: float, n: float, round_up: bool, edition: str):
    """Return, over all sizes, the ampacity at the terminals, the usable one, and the largest device, of n sets [A]."""
    I_t = ampacities(material, cap)
    I_c = corrected_ampacity.function(ampacities(material, column), k_T, k_n)
    I_p = np.minimum(I_c, I_t) * n
    return n * I_t, I_p, device_limits(I_p, small_limits(material), edition, round_up)


@functools.lru_cache(maxsize=4096)
def _dropped(material: str, conduit: str, PF: float, phases: int) -> np.ndarray:
    """Return the drop over all sizes of one ampere over one thousand feet [V]; nan where Table 9 has no row."""
    R, X_L = impedances(material, conduit)
    return (drop_three if phases == 3 else drop_single).function(I_n=1.0, R=R, X_L=X_L, PF=PF, L=1.0)


def judge(task: Task) -> dict[str, np.ndarray]:
    """Return, for each rule, which sizes meet it; the formulas are those of the sheet, run over all sizes."""
    n = task.n.magnitude if task.n is not None else 1
    column, cap = round(task.T_c.m_as("degC")), round(task.T_t.m_as("degC"))
    I_t, I_p, limits = _carried(
        task.material, column, min(column, cap), task.k_T.base, task.k_n.base, n, task.round_up, task.edition
    )
    unit_drop = _dropped(task.material, task.conduit, task.PF.base, task.phases)
    meets = {"printed": ~np.isnan(unit_drop + I_p)}
    I_min = task.I_min.m_as("A") * (1 - SLACK)
    if task.motor:
        meets["motor"] = I_p >= I_min
    else:
        meets["continuous"] = I_t >= I_min
        meets["load"] = I_p >= task.I_b.m_as("A") * (1 - SLACK)
        meets["device"] = limits >= task.I_r.m_as("A") * (1 - SLACK)
    if n > 1:
        meets["parallel"] = _FROM_ONE_OUGHT
    if task.p_max is not None:
        V_max = task.p_max.base * task.V.m_as("V") * (1 + SLACK)
        meets["drop"] = unit_drop * (task.I_n.m_as("A") * task.L.m_as("kft")) <= V_max
    return meets


def least_sizes(task: Task) -> tuple[str, str, str]:
    """Return the smallest size by ampacity alone, the smallest by every rule, and the rule the size below fails.

    Raises:
        InputError: No listed size meets every rule.

    """
    meets = judge(task)
    every = meets["printed"].copy()
    for rule, ok in meets.items():
        if rule != "drop":
            every &= ok
    by_ampacity = int(every.argmax())
    if "drop" in meets:
        every &= meets["drop"]
    at = int(every.argmax())
    if not every[at]:
        raise InputError(_nothing_serves(task, meets), file="circuits.csv", field=f"{task.tag}, sets")
    rule = next((r for r, ok in meets.items() if not ok[at - 1]), "") if at else ""
    return sizes()[by_ampacity], sizes()[at], "" if rule == "printed" else rule


def _nothing_serves(task: Task, meets: dict[str, np.ndarray]) -> str:
    last = int(np.flatnonzero(meets["printed"])[-1])
    failing = "; ".join(RULES[rule] for rule, ok in meets.items() if not ok[last])
    return (
        f"no size up to {sizes()[last]} kcmil serves {task.I_b.text()} in {task.n.magnitude if task.n else 1:g} set(s) of "
        f"{task.material}: {failing}. Use more parallel sets, fewer conductors in the raceway, or a shorter run."
    )


def choose(task: Task) -> Chosen:
    """Return the smallest size that meets every rule, with the proof that the next smaller one does not.

    Raises:
        InputError: No listed size does.

    """
    required, size, rule = least_sizes(task)
    if not rule:
        because = "the smallest size listed meets every rule"
        return Chosen(pick("size", {size: listed(size)}, size, because, {"I_b": task.I_b}), required, "", because)
    below = sizes()[order(size) - 1]
    proof = _proof(task, rule, below)
    demand, *given_by = proof.values()
    because = f"{below} is too small: {RULES[rule]}" + "".join(f", {demand.text()} against {v.text()}" for v in given_by)
    chosen = pick("size", {below: listed(below), size: listed(size)}, size, because, proof)
    return Chosen(chosen, required, rule, because)


def _proof(task: Task, rule: str, below: str) -> dict[str, Value]:
    """Return the demand that decided and what the next smaller size gives, both with all they rest on."""
    if rule == "drop":
        V_d = drop(task.I_n, task.L, task.V, below, task.phases, task.material, task.conduit, task.PF)
        return {"p_max": task.p_max, f"p_d of {below}": V_d.p_d}  # type: ignore[dict-item]
    if rule == "parallel":
        return {"n": task.n}  # type: ignore[dict-item]
    if rule == "continuous":
        I_t = table_ampacity(below, task.material, min(task.T_t, task.T_c, key=lambda T: T.m_as("degC")), "I_t")
        return {"I_min": task.I_min, f"I_t of {below}": I_t if task.n is None else parallel_ampacity(I_u=I_t, n=task.n)}
    a = worked(below, task.material, task.T_c, task.T_t, task.k_T, task.k_n, task.n, task.edition)
    if rule == "motor":
        return {"I_min": task.I_min, f"I_u of {below}": a.I_p}
    if rule == "load":
        return {"I_b": task.I_b, f"I_u of {below}": a.I_p}
    limit = device_limit(a.I_p, below, task.material, task.edition, task.round_up)
    return {"I_r": task.I_r, f"I_max of {below}": limit}

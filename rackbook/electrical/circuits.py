"""The conductors of all circuits of a job: size, sets, device, ground, drop, each with its checks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ..tables import table
from ..trace import Check, InputError, LookupFailed, Source, Value, given, word
from .ampacity import Ampacity, worked
from .checks import ampacity_checks, drop_checks, drop_limits, ground_check, wet_check
from .choose import BRIEFLY, Task, choose, least_sizes
from .clauses import edition_of
from .current import apparent_current, continuous_minimum, motor_current, motor_minimum, share_of_set
from .factors import ambient_factor, ambient_temperature, count_factor, insulation_temperature, terminal_temperature, wires
from .feeders import Connected, connected, feeder_checks
from .ground import Ground, equipment_ground, with_bonding
from .impedance import CONDUITS
from .overcurrent import device_limit, motor_device, standard_rating
from .paths import accumulate, count_together, raceway_tag, sharing
from .sizes import key, metal, order, sizes
from .undecided import open_checks
from .voltage_drop import DEFAULT_PF, Drop, drop

MOTOR_DEVICE = (
    "no device is given. The maximum inverse-time breaker of 430.52 is used for the size of the equipment ground only."
)
SECONDARY = "from a transformer. Its ground also serves as supply-side bonding jumper (250.30(A)(2))."
RECEPTACLE = "assumed to feed more than one receptacle for portable loads: its device is not rounded up (240.4(B)(1))."
ONE_SET = given(1, "", Source("input", "circuits.csv", "", "sets"), "n")


@dataclass(frozen=True, eq=False)
class Conductor:
    """The conductors of one circuit.

    Attributes:
        tag, kind, material, insulation: As in the schedule.
        run, raceway: In words: "DP-1 to MS-1"; the tag of the raceway.
        I_b, I_min, I_r: Load, least ampacity at the terminals (for a motor: at all), rating of the device [A].
        I_max: The largest device its conductors allow [A]; None for a motor, whose conductors do not limit it.
        no_device: Whether I_r is only the maximum of 430.52, for the ground: a motor without a device in the schedule.
        n_c: Current-carrying conductors in the raceway.
        T_e: Ambient temperature to correct for [degC].
        ampacity: Of the size taken.
        size, required: Word of the size taken; text of the least by ampacity alone.
        chosen: Whether the size was chosen here (and not given).
        n: Parallel sets; phases, neutrals: conductors of one set.
        ground: Equipment ground by rule; ground_size: the one taken.
        drop, p_tot: Drop of the circuit, and from the source to its end [%].
        rule: Name of the rule the next smaller size fails, because: in words, briefly: for a table.
        checks: All checks. cautions: Words.

    """

    tag: str
    kind: str
    material: str
    insulation: str
    run: str
    raceway: str
    I_b: Value
    I_min: Value
    I_r: Value
    I_max: Value | None
    no_device: bool
    n_c: Value
    T_e: Value
    ampacity: Ampacity
    size: Value
    required: str
    chosen: bool
    n: Value
    phases: int
    neutrals: int
    ground: Ground
    ground_size: Value
    drop: Drop
    p_tot: Value
    rule: str
    because: str
    briefly: str
    checks: tuple[Check, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Conductors:
    """Result: circuits by tag in the order of the schedule, the edition they were designed to, and what feeders feed.

    Attributes:
        edition: Of NFPA 70.
        circuits: Conductors by tag.
        feeders: What each feeder feeds, by tag.
        of_feeders: Checks of the feeders against what they feed.
        still_open: Open checks of what the schedule does not tell.

    """

    edition: str
    circuits: dict[str, Conductor]
    feeders: dict[str, Connected]
    of_feeders: tuple[Check, ...]
    still_open: tuple[Check, ...]

    @property
    def checks(self) -> tuple[Check, ...]:
        """The checks of all circuits in the order of the schedule, then those of feeders, then what is open."""
        return (*(c for of in self.circuits.values() for c in of.checks), *self.of_feeders, *self.still_open)


def conductors(job: Any) -> Conductors:
    """Return the conductors of every circuit of a job.

    Raises:
        RackbookError: An edition is not held, a table does not hold what is asked, or no size serves.

    """
    work = _Work(job)
    own = [work.circuit(c) for c in job.circuits]
    totals = accumulate(job.circuits, {c.tag: f["drop"].p_d for c, f in zip(job.circuits, own, strict=True)})
    done = {}
    for c, fields in zip(job.circuits, own, strict=True):
        p_tot = totals[c.tag]
        fields["checks"] = (*fields["checks"], *drop_checks(c, fields["drop"].p_d, p_tot, work.limits))
        done[str(c.tag)] = Conductor(**fields, p_tot=p_tot)
    feeders = connected(job.circuits, done)
    still_open = open_checks(job.circuits, done, work.kinds, work.fed, work.edition)
    return Conductors(work.edition, done, feeders, tuple(feeder_checks(feeders, done, work.edition)), tuple(still_open))


class _Work:
    """What circuits of one job share, read once: ambient and count factors, ratings, limits."""

    def __init__(self, job: Any) -> None:
        self.edition = edition_of(job.codes.electrical)
        self.T_a = job.site.ambient.temperature
        self.kinds = {str(e.tag): str(e.kind) for e in job.equipment}
        self.counts = {tag: count_together(group) for tag, group in sharing(job.circuits).items()}
        self.limits = drop_limits(self.edition)
        self.fed = {str(c.to) for c in job.circuits}
        self.memo: dict[Any, Any] = {}

    def once(self, name: Any, make: Any, *args: Any) -> Any:
        """Return what ``make`` gives for the same values again; values are told apart by identity."""
        found = self.memo.get(name)
        if found is None:
            found = self.memo[name] = (make(*args), args)  # the arguments are kept, so that no identity is used twice
        return found[0]

    def circuit(self, c: Any) -> dict[str, Any]:
        """Return the fields of a circuit's result that do not need the other circuits."""
        try:
            return self._circuit(c)
        except LookupFailed as e:
            raise LookupFailed(f"Circuit {c.tag}: {e}") from None

    def _circuit(self, c: Any) -> dict[str, Any]:
        material, insulation, e = str(c.material), str(c.insulation), self.edition
        metal(material)
        task, T_e, n_c, over, dry = self._task(c, material, insulation)
        size, required, rule, because = _size(c, task)
        a = worked(size, material, task.T_c, task.T_t, task.k_T, task.k_n, task.n, e)
        ground = equipment_ground(task.I_r, material, required, size, e)
        if over == "secondary":
            ground = with_bonding(ground, size, material, e)
        ground_size = ground.size if c.ground is None else word(key(c.ground), c.ground.source, "size_g")
        limit = None if task.motor else device_limit(a.I_p, size, material, e, task.round_up)
        checks = ampacity_checks(c, task, a, size, over, limit)
        cautions = []
        if dry:
            checks.append(wet_check(c, task))
            cautions.append(f"{c.tag}: type {insulation} has no rating for wet places; raceways outdoors are wet inside.")
        if c.ground is not None:
            checks.append(ground_check(c, ground, ground_size, e))
        if task.motor and c.ocpd is None:
            cautions.append(f"{c.tag}: {MOTOR_DEVICE}")
        if over == "secondary":
            cautions.append(f"{c.tag}: {SECONDARY}")
        if over == "portable loads":
            cautions.append(f"{c.tag}: {RECEPTACLE}")
        if c.power_factor is None:
            cautions.append(f"{c.tag}: no power factor is given; 0.85 is assumed for the drop.")
        phases, neutrals, _ = wires(c.phases, c.voltage, c.neutral)
        return {
            "tag": str(c.tag),
            "kind": str(c.kind),
            "material": material,
            "insulation": insulation,
            "run": f"{c.from_} to {c.to}",
            "raceway": raceway_tag(c),
            "I_b": task.I_b,
            "I_min": task.I_min,
            "I_r": task.I_r,
            "I_max": limit,
            "no_device": task.motor and c.ocpd is None,
            "n_c": n_c,
            "T_e": T_e,
            "ampacity": a,
            "size": size,
            "required": required,
            "chosen": c.size is None,
            "n": task.n if task.n is not None else ONE_SET,
            "phases": phases,
            "neutrals": neutrals,
            "ground": ground,
            "ground_size": ground_size,
            "drop": drop(task.I_n, task.L, task.V, size, task.phases, material, task.conduit, task.PF),
            "rule": rule,
            "because": because,
            "briefly": _briefly(c, size, rule),
            "cautions": tuple(cautions),
            "checks": checks,
        }

    def _task(self, c: Any, material: str, insulation: str) -> tuple[Task, Value, Value, str, bool]:
        """Return what the conductors must do, ambient and count, the rule for the device, and whether the type is dry."""
        motor, e = c.kind == "motor", self.edition
        if c.load is not None:
            I_b = c.load
        elif c.hp is not None:
            I_b = motor_current(c.hp, c.voltage, c.phases)
        else:
            I_b = apparent_current(c.kva, c.voltage, c.phases)
        I_min = motor_minimum(I_FLC=I_b) if motor else continuous_minimum(I_b=I_b, p_c=c.continuous)
        I_r = c.ocpd
        if I_r is None:
            I_r = motor_device(I_b, c.phases, e) if motor else standard_rating(I_min, e)
        dry = not self.once(("wet", insulation), table("insulation").has, insulation, "T_wet")
        T_c = self.once(insulation, insulation_temperature, insulation, "dry" if dry else "wet")
        T_a = c.ambient if c.ambient is not None else self.T_a
        T_e = T_a if c.roof_height is None else ambient_temperature(T_a, c.roof_height, insulation, e)
        k_T = self.once((id(T_e), id(T_c)), ambient_factor, T_e, T_c)
        n_c = self.counts.get(raceway_tag(c)) or count_together([c])
        k_n = self.once((id(n_c), bool(c.nipple)), count_factor, n_c, bool(c.nipple))
        n = given(c.sets, "", Source("input", "circuits.csv", "", f"{c.tag}, sets"), "n") if c.sets > 1 else None
        ends = self.kinds.get(str(c.from_)), self.kinds.get(str(c.to))
        over = "secondary" if ends[0] == "transformer" else "portable loads" if ends[1] == "receptacle" else ""
        task = Task(
            tag=str(c.tag),
            I_b=I_b,
            I_min=I_min,
            I_r=I_r,
            motor=motor,
            material=material,
            T_c=T_c,
            T_t=terminal_temperature(I_min if motor else I_r, c.terminal, c.marked_75),
            k_T=k_T,
            k_n=k_n,
            n=n,
            round_up=not over,
            L=c.length,
            V=c.voltage,
            phases=c.phases,
            PF=c.power_factor if c.power_factor is not None else DEFAULT_PF,
            conduit=CONDUITS.get(str(c.raceway_kind), "steel"),
            I_n=share_of_set(I_b=I_b, n=n) if n is not None else I_b,
            p_max=c.drop_limit,
            edition=e,
        )
        return task, T_e, n_c, over or "not over the ampacity", dry


def _briefly(c: Any, size: Value, rule: str) -> str:
    """Return which size below fails, and by which rule, for a table."""
    if c.size is not None:
        return "given"
    return BRIEFLY[rule] if not rule else f"{sizes()[order(size) - 1]}: {BRIEFLY[rule]}"


def _size(c: Any, task: Task) -> tuple[Value, str, str, str]:
    """Return the size taken, the least by ampacity, and the rule that governs, by name and in words."""
    if c.size is None:
        chosen = choose(task)
        return chosen.size, chosen.required, chosen.rule, chosen.because
    size = word(key(c.size), c.size.source, "size")
    try:
        required, least, rule = least_sizes(task)
    except InputError:  # nothing serves: the checks say so, the size given is all there is
        return size, size.magnitude, "", "given in the schedule"
    if order(required) > order(size):
        required = size.magnitude
    return size, required, rule, f"given in the schedule; the smallest by all rules is {least}"

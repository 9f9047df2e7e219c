"""The sheets of the frame: model, loads and equilibrium, second order, service, what governs; reactions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np

from rackbook.trace import DomainError, Grid, Heading, Remark, Sheet, Step, Value

from ..combinations import sheets as combination_sheets
from . import words
from .cases import at_posts
from .estimate import by_geometric_stiffness, estimates
from .frequency import PLATEAU, frame_stiffness
from .result import Frame
from .second_order import SET_OF
from .shown import shown, taken_apart
from .solve import REACTIONS
from .superpose import imbalance, take
from .tables import extremes
from .turning import Turning

TITLE, REACTIONS_TITLE = "Frame analysis", "Reactions on the foundations"
#: What is below this share of the largest reaction is rounding of the solution; of its own component, printed as 0.
ROUNDING, SMALL = 1e-9, 1e-6
Rows = list[tuple[Value | str, ...]]


def sheets(result: Frame) -> list[Sheet]:
    """Return the sheets of load combinations, frame and reactions."""
    parts = [*_model(result), *_unit_cases(result), *_second(result), *_service(result), *_hand(result), *_governing(result)]
    purpose = "Finds the forces in all members and joints, the reactions and the displacements, for every load combination."
    # the solution is one step, told in words: what it rests on is on the sheets of the loads
    solved = {id(v.root): TITLE for v in result.analysis.results.values()}
    frame = Sheet("frame", TITLE, purpose, tuple(parts), elsewhere={**_loads(result), **solved})
    purpose = "Lists the reactions on the foundations: for every base the governing combinations."
    reactions = Sheet("reactions", REACTIONS_TITLE, purpose, tuple(_reactions(result)), elsewhere=solved)
    return [*combination_sheets(result.combinations), frame, reactions]


def _loads(r: Frame) -> dict[int, str]:
    """Return the forces of wind on the faces, whose derivation is that of the governing face on the Wind loads sheet."""
    of = {"W ": "Wind loads", "W_i ": "Ice loads"}
    given = r.analysis.given.items()
    return {id(v.root): title for n, v in given for case, title in of.items() if n[2:].startswith(case) and n[0] in "Fuz"}


def _model(r: Frame) -> list[Any]:
    solved, of, given = r.analysis.solved, r.analysis.task.layout, r.analysis.given
    more = "tie and brace" if of.ties and of.braces else "tie" if of.ties else "brace" if of.braces else "end"
    lie = "their depth lies across" if of.flat_rails else "their depth stands upright"
    nodes, elements = len(solved.built.model.xyz), len(solved.built.model.i)
    rows: Rows = []
    for part in ("post", "rail", "tie", "brace"):
        for shape in dict.fromkeys(m.shape for m in r.members if m.part == part):
            m = next(m for m in r.members if m.part == part and m.shape == shape)
            rows.append((part, shape, m.material, m.section.A, m.section.I_x, m.section.I_y, m.section.J))
    braces = words.BRACES if any(b.placed for b in of.braces) else ""
    return [
        Heading("Model"),
        Remark(words.AXES),
        Remark(words.MODEL.format(nodes=nodes, elements=elements, more=more, lie=lie)),
        Remark(f"{words.BASES[of.fixed]} {words.RAILS[of.moment]} {braces}".rstrip()),
        Grid("Sections", ("Part", "Shape", "Steel", "A [in**2]", "I_x [in**4]", "I_y [in**4]", "J [in**4]"), tuple(rows)),
        given["E"],
        given["G"],
        Remark(words.LOADS),
        *(Remark(note) for note in r.notes),
    ]


def _unit_cases(r: Frame) -> list[Any]:
    results = r.analysis.results
    rows: Rows = []
    for n, case in enumerate(r.cases):
        if at_posts(case):
            continue
        sums = [
            take(results[f"load {kind}"], (axis, n), f"sum of the loads of case {case}", symbol)
            for kind, symbol in (("forces", "F"), ("moments", "M"))
            for axis in range(3)
        ]
        rows.append((case, *sums, imbalance(results, n)))
    heads = ("Case", "F_x [kip]", "F_y [kip]", "F_z [kip]", "M_x [kip*in]", "M_y [kip*in]", "M_z [kip*in]", "Residual []")
    return [
        Heading("Unit load cases"),
        Remark(words.CASES),
        Grid("Loads of the unit cases", heads, tuple(rows)),
    ]


def _second(r: Frame) -> list[Any]:
    name = SET_OF[r.method]
    rows: Rows = []
    for component in ("M_x", "M_y"):
        of = r.governing["base"][component]
        base, k = [b.label for b in r.bases].index(of.where), r.sets[name].labels.index(of.combination)
        try:
            exact: Value | str = by_geometric_stiffness(r.results, name, component, base, k)
        except DomainError:
            exact = "the frame buckles"
        rows.append((f"{component} at {of.where}", of.value, exact, of.combination))
    heads = ("Moment", "With B_2 [kip*in]", "Geometric stiffness [kip*in]", "Combination")
    soft = min(r.sways, key=lambda way: r.sways[way].P_e_story.m_as("kip"))
    plateau = all(shear.governs == PLATEAU for shear in r.shears.values())
    said = words.SECOND.format(
        input=words.GIVEN_STIFFNESS if any(shear.T is not None for shear in r.shears.values()) else "",
        by="the plateau of the spectrum" if plateau else "the period on the seismic sheet",
    )
    return [
        Heading("Second order"),
        Remark(said),
        _sway(r, soft),
        r.sways[soft].P_e_story,
        _factor(r, soft),
        r.checks[0],
        Grid("Reactions with B_2 beside the absolute value of a solution with geometric stiffness", heads, tuple(rows)),
    ]


def _factor(r: Frame, way: str) -> Value:
    """Return the effective length factor of the posts for sway one way; across the rack they bend about x."""
    post = next(m for m in r.members if m.part == "post")
    return post.K_x if way == "across" else post.K_y


def _sway(r: Frame, soft: str) -> Grid:
    """Return the sway both ways, that of the stiffer way quoted and that of the other derived below."""
    below = ("below", "below")  # a cell would stand for its derivation
    rows = tuple(
        (
            way, s.H, s.Delta_H, frame_stiffness(H=s.H, Delta_H=s.Delta_H),
            *(below if way == soft else (s.P_e_story, _factor(r, way))),
        )
        for way, s in r.sways.items()
    )  # fmt: skip
    heads = ("Sway", "H [kip]", "Delta_H [in]", "k_f [kip/in]", "P_e_story [kip]", "K of posts []")
    quoted = tuple(v for way, s in r.sways.items() if way != soft for v in (s.P_e_story, _factor(r, way)))
    return Grid("Sway of the rack under the notional cases", heads, rows, quoted=quoted)


def _service(r: Frame) -> list[Any]:
    limits = {"posts": r.drift["across"].limit} | {f"{of.where}, {way}": of.limit for way, of in r.deflections.items()}
    rows: Rows = [(what, (of := _made_of(v))["L"], of["n"], v, str(of["n"].origin)) for what, v in limits.items()]
    heads = ("Of", "L [in]", "n []", "L / n [in]", "Source of n")
    allowed = Grid("Limits in service", heads, tuple(rows), quoted=tuple(limits.values()))
    parts: list[Any] = [Heading("Displacements in service"), Remark(words.SERVICE), allowed]
    if r.turning is not None:
        parts += [Remark(words.TURNING), *_turning(r, r.turning)]
    return [*parts, *r.checks[1:], *_shaken(r)]


def _turning(r: Frame, of: Turning) -> list[Any]:
    """Return the rotational stiffness that governs in full, that of the other direction as a row."""
    most = max(of.by, key=lambda way: float(of.by[way].magnitude))
    other = {way: k for way, k in of.by.items() if way != most}
    rows = tuple((way, r.drift[way].value, (made := _made_of(k))["M_0"], made["theta_a"], k) for way, k in other.items())
    heads = ("Drift", "Delta_2 [in]", "M_0 [kip*in]", "theta_a []", "k_theta [kip*in]")
    quoted = tuple(v for way, k in other.items() for v in (k, r.drift[way].value))
    return [Grid("Rotational stiffness of a foundation, the direction that does not govern", heads, rows, quoted), of.k_theta]


def _shaken(r: Frame) -> list[Any]:
    """Return the drift under earthquake: both ways as a table, the larger in full."""
    most = max(r.shaken.values(), key=lambda of: of.value.m_as("in"))
    rows = tuple(
        (way, of.where, of.cases, *(("below", "below") if of is most else (of.elastic, of.value)))
        for way, of in r.shaken.items()
    )
    quoted = tuple(of.value for of in r.shaken.values() if of is not most)
    heads = ("Drift", "Where", "Cases", "delta_xe [in]", "delta_x [in]")
    table = Grid("Drift under the design earthquake", heads, rows, quoted=quoted)
    return [Heading("Drift under earthquake"), Remark(words.SHAKEN), table, most.value]


def _hand(r: Frame) -> list[Any]:
    found = estimates(r.results)
    rows = tuple((b.what, b.analysis, b.low or "–", b.high, b.result, b.remark) for b in found)
    return [
        Heading("Independent check by hand"),
        Remark(words.HAND),
        found[0].high,
        Grid("Estimates", ("Number", "Analysis", "Lower bound", "Upper bound", "Result", "Bounds"), rows),
    ]


def _governing(r: Frame) -> list[Any]:
    name = SET_OF[r.method]
    heads = ("Part", "Action", "Where", "Value", "Combination")
    rows: Rows = [
        (part, component, of.where, of.value, of.combination)
        for part, by in r.governing.items()
        if part != "base"
        for component, of in by.items()
        if of.value.magnitude
    ]
    full = r.governing["post"]["M_x"]
    by = _made_of(full.value)
    P_r = _made_of(by["B_1"])["P_r"] if "B_1" in by else by["M"]
    columns = {"P_r": P_r, "M_rx": full.value} if taken_apart(P_r) is not None and "B_1" in by else {"M_rx": full.value}
    parts = shown(f"Actions in {full.where}", columns)
    return [
        Heading("Governing actions"),
        Remark(words.MADE.format(name=name, method=r.method)),
        Grid("Largest actions in the members", heads, tuple(rows)),
        Remark(f"In full: M_x in {full.where} under {full.combination}."),
        replace(parts, quoted=(P_r, by["M"])),
        full.value,
    ]


def _made_of(value: Value) -> dict[str, Value]:
    """Return what a value was worked out from."""
    assert isinstance(value.origin, Step)
    return value.origin.given


def _reactions(r: Frame) -> list[Any]:
    parts: list[Any] = [Remark(words.SIGNS)]
    used: dict[tuple[str, int], str] = {}
    at: dict[int, list[np.ndarray]] = {base: [] for base in range(len(r.bases))}
    heads = ("Base", "Governs", "No.", "P [kip]", "V_x [kip]", "V_y [kip]", "M_x [kip*ft]", "M_y [kip*ft]", "T [kip*ft]")
    for name, (letter, title) in words.SETS.items():
        rows: Rows = []
        for e in extremes(r, name):
            if name.endswith("overstrength") and (r.sets[name].kinds[e.combination] != "seismic" or _same(r, name)):
                continue  # the set without overstrength has it already
            number = used.setdefault((name, e.combination), f"{letter}{e.combination + 1}")
            values = [r.reaction(name, c, e.base, e.combination) for c in REACTIONS]
            rows.append((r.bases[e.base].label, e.what, number, *values))
            at[e.base].append(r.sets[name].factors[e.combination])
        if rows:
            parts.append(Grid(title, heads, tuple(rows)))
    times = {key: t for key in used if (t := _raised(r, *key, used)) is not None}
    listed: Rows = [
        (number, r.sets[name].labels[k], *(r.results.B_2(name, way, k) for way in ("along", "across")))
        for (name, k), number in sorted(used.items(), key=_by_set)
        if (name, k) not in times
    ]
    if times:
        parts.insert(1, Remark(words.OVERSTRENGTH.format(times=f"{next(iter(times.values())):.4g}")))
    named = Grid("Combinations named above", ("No.", "Combination", "B_2 along []", "B_2 across []"), tuple(listed))
    return [*parts, named, *_unit_reactions(r, {base: np.any(np.array(c) != 0, axis=0) for base, c in at.items()})]


def _raised(r: Frame, name: str, k: int, used: Mapping[tuple[str, int], str]) -> float | None:
    """Return by how much a combination with overstrength multiplies Q of the listed one of its number; None if not so."""
    plain = name.removesuffix("_overstrength")
    if plain == name or (plain, k) not in used:
        return None
    shaken = np.array([case.startswith("Q ") for case in r.cases])
    over, basic = r.sets[name].factors[k], r.sets[plain].factors[k]
    if not (np.array_equal(over[~shaken], basic[~shaken]) and basic[shaken].any()):
        return None
    most = int(np.argmax(np.abs(basic * shaken)))
    ratio = float(over[most] / basic[most])
    return ratio if np.allclose(over[shaken], ratio * basic[shaken]) else None


def _unit_reactions(r: Frame, cases: Mapping[int, np.ndarray]) -> list[Any]:
    """Return the reactions of some unit cases at every base; components that are nothing everywhere are left out."""
    solved, kept = r.analysis.solved.reactions, []
    for n, component in enumerate(REACTIONS):
        alike = solved[:3] if n < 3 else solved[3:]
        nothing = ROUNDING * np.abs(alike).max()
        most = np.abs(solved[n]).max()
        if most > nothing:
            kept.append((n, component, max(nothing, SMALL * most)))
    rows: Rows = []
    for base, at in enumerate(r.bases):
        for k in np.flatnonzero(cases[base]).tolist():
            case = r.cases[k]
            cells = [
                "0" if abs(solved[n, base, k]) <= nothing else take(
                    r.analysis.results["reaction forces" if n < 3 else "reaction moments"], (n % 3, base, k),
                    f"reaction {component} at {at.label} in case {case}", component,
                )
                for n, component, nothing in kept
            ]  # fmt: skip
            rows.append((at.label, case, *cells))
    heads = ("Base", "Case", *(f"{component} [{'kip' if n < 3 else 'kip*ft'}]" for n, component, _ in kept))
    return [Heading("Unit cases"), Remark(words.ADDED), Grid("Reactions of the unit cases", heads, tuple(rows))]


def _by_set(item: tuple[tuple[str, int], str]) -> tuple[int, int]:
    (name, k), _ = item
    return list(words.SETS).index(name), k


def _same(r: Frame, name: str) -> bool:
    """Return whether a set with overstrength asks for nothing beyond the plain one."""
    return bool(np.array_equal(r.sets[name].factors, r.sets[name.removesuffix("_overstrength")].factors))

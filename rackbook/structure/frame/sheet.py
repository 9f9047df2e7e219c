"""The sheets of the frame: model, loads and equilibrium, second order, service, what governs; reactions."""

from __future__ import annotations

from typing import Any

import numpy as np

from rackbook.trace import DomainError, Grid, Heading, Remark, Sheet, Step, Value
from rackbook.trace.columns import entry, lined_up

from ..combinations import sheets as combination_sheets
from . import words
from .cases import at_posts
from .estimate import by_geometric_stiffness, estimates
from .frequency import PLATEAU, frame_stiffness
from .result import Frame
from .second_order import SET_OF
from .solve import REACTIONS
from .superpose import imbalance, product, take
from .tables import extremes

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
    rails: Rows = [
        (f"rail {n}", face, z, y)
        for n, (face, z, y) in enumerate(zip(of.faces, lined_up(given["z_rail"]), lined_up(given["y_rail"]), strict=True), 1)
    ]
    posts: Rows = [(b.label, b.x, b.y) for b in r.bases]
    braces = [Remark(words.BRACES)] if any(b.placed for b in of.braces) else []
    return [
        Heading("Model"),
        Remark(words.AXES),
        Remark(words.MODEL.format(nodes=nodes, elements=elements, more=more, lie=lie)),
        Remark(f"{words.BASES[of.fixed]} {words.RAILS[of.moment]}"),
        *braces,
        Grid("Sections", ("Part", "Shape", "Steel", "A [in**2]", "I_x [in**4]", "I_y [in**4]", "J [in**4]"), tuple(rows)),
        Grid("Posts", ("Post", "x [ft]", "y [in]"), tuple(posts)),
        Grid("Rails", ("Rail", "Face", "z [ft]", "y [in]"), tuple(rails)),
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
        *([Remark(words.LIVE)] if any(case.startswith("L ") for case in r.cases) else []),
        Remark(words.BALANCE),
        Grid("Loads of the unit cases", heads, tuple(rows)),
    ]


def _second(r: Frame) -> list[Any]:
    name = SET_OF[r.method]
    post = next(m for m in r.members if m.part == "post")
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
    return [
        Heading("Second order"),
        Remark(words.SECOND),
        r.sways["along"].P_e_story,
        r.sways["across"].P_e_story,
        r.checks[0],
        Remark(words.LENGTHS),
        post.K_x,
        post.K_y,
        Grid("Reactions with B_2 beside a solution with geometric stiffness (absolute value)", heads, tuple(rows)),
    ]


def _service(r: Frame) -> list[Any]:
    limits = (r.drift["across"].limit, r.deflections["down"].limit, r.deflections["sideways"].limit)
    parts: list[Any] = [Heading("Displacements in service"), Remark(words.SERVICE), *limits]
    if r.turning is not None:
        parts += [Remark(words.TURNING), r.turning.k_theta]
    parts += [*r.checks[1:], Heading("Stiffness and drift under earthquake"), *_stiffness(r), Remark(words.SHAKEN)]
    for direction, moved in r.shaken.items():
        parts += [Remark(f"{direction.capitalize()} the rack, {moved.where}, {moved.cases}:"), moved.value]
    return parts


def _stiffness(r: Frame) -> list[Any]:
    """Return the lateral stiffness of the frame both ways, and what the base shear rests on instead."""
    given = any(shear.T is not None for shear in r.shears.values())
    plateau = all(shear.governs == PLATEAU for shear in r.shears.values())
    by = "the plateau of the spectrum, which no period changes" if plateau else "the period on the seismic sheet"
    said = words.STIFFNESS.format(input=words.GIVEN_STIFFNESS if given else "", by=by)
    return [Remark(said), *(frame_stiffness(H=sway.H, Delta_H=sway.Delta_H) for sway in r.sways.values())]


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
    M = _made_of(full.value)["M"]
    c, Y = _made_of(M)["c"], _made_of(M)["Y"]
    used = [(case, entry(c, n, case), entry(Y, n, case)) for n, case in enumerate(r.cases) if c.magnitude[n]]
    terms: Rows = [(case, factor, unit, product(c=factor, Y=unit)) for case, factor, unit in used]
    return [
        Heading("Governing actions"),
        Remark(words.USES.format(name=name, method=r.method)),
        Grid("Largest actions in the members", heads, tuple(rows)),
        Remark(words.MADE),
        Remark(f"In full: M_x in {full.where} under {full.combination}."),
        Grid("Factors times unit cases", ("Case", "c []", "M_xi [kip*in]", "c M_xi [kip*in]"), tuple(terms)),
        full.value,
    ]


def _made_of(value: Value) -> dict[str, Value]:
    """Return what a value was worked out from."""
    assert isinstance(value.origin, Step)
    return value.origin.given


def _reactions(r: Frame) -> list[Any]:
    parts: list[Any] = [Remark(words.SIGNS)]
    used: dict[tuple[str, int], str] = {}
    heads = ("Base", "Governs", "No.", "P [kip]", "V_x [kip]", "V_y [kip]", "M_x [kip*ft]", "M_y [kip*ft]", "T [kip*ft]")
    for name, (letter, title) in words.SETS.items():
        rows: Rows = []
        for e in extremes(r, name):
            if name.endswith("overstrength") and (r.sets[name].kinds[e.combination] != "seismic" or _same(r, name)):
                continue  # the set without overstrength has it already
            number = used.setdefault((name, e.combination), f"{letter}{e.combination + 1}")
            values = [r.reaction(name, c, e.base, e.combination) for c in REACTIONS]
            rows.append((r.bases[e.base].label, e.what, number, *values))
        if rows:
            parts.append(Grid(title, heads, tuple(rows)))
    listed: Rows = [
        (number, r.sets[name].labels[k], *(r.results.B_2(name, way, k) for way in ("along", "across")))
        for (name, k), number in sorted(used.items(), key=_by_set)
    ]
    if any(name.endswith("overstrength") for name, _ in used):
        parts.insert(1, Remark(words.WITH_OVERSTRENGTH))
    named = Grid("Combinations named above", ("No.", "Combination", "B_2 along []", "B_2 across []"), tuple(listed))
    shown = np.any([r.sets[name].factors[k] != 0 for name, k in used], axis=0)
    return [*parts, named, *_unit_reactions(r, [n for n, case in enumerate(r.cases) if shown[n] or not at_posts(case)])]


def _unit_reactions(r: Frame, cases: list[int]) -> list[Any]:
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
        for k in cases:
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

"""The sheet of the members: the governing member of each part in full, every member in a table."""

from __future__ import annotations

from rackbook.loads.blocks import side_by_side
from rackbook.trace import Grid, Heading, Remark, Sheet, Step, Value
from rackbook.trace.choice import Choice
from rackbook.trace.sheet import LITTLE, matters

from ..frame import of_frame, shown
from .checks import PLURAL
from .combined import open_shear
from .rack import MemberResult, Members
from .strength import Strength
from .worked import INTERACTION, SHEAR, TORSION, formula_of

TITLE = "Strength of the members"
PURPOSE = "Finds the strength and the utilization of every post, rail, tie and brace under every combination."
_AXES = "Each action is over the strength of its own kind, in absolute values; x is the axis about which the depth works."
#: A term that makes less than this of the ratio has its strength from the table; the others have theirs set out.
SMALL = 0.10
#: Strength that each action stands over in the ratios of Chapters G and H.
_OVER = {
    "P_r": ("P_c",), "M_rx": ("M_cx",), "M_ry": ("M_cy",), "M_rw": ("M_cw",), "M_rz": ("M_cz",), "V_r": ("V_c",),
    "T_r": ("T_c", "T_cw"),
}  # fmt: skip


def sheets(result: Members) -> list[Sheet]:
    """Return the sheet of the members."""
    parts: list = [*(Remark(note) for note in result.notes), Remark(_AXES), *_summary(result), *_strengths(result)]
    most = max(float(m.utilization.magnitude) for m in result.governing.values())
    for part, m in result.governing.items():
        if matters(float(m.utilization.magnitude), most):
            parts += _in_full(part, m)
    parts += [Heading("Checks"), *result.checks, *_all_members(result)]
    return [Sheet("members", TITLE, PURPOSE, tuple(parts))]


def _summary(result: Members) -> list:
    rows = tuple(
        (PLURAL[part], m.mark, m.shape, m.utilization, m.governs.kind, m.governs.combination, m.governs.station)
        for part, m in result.governing.items()
    )
    heads = ("Part", "Governing", "Shape", "Ratio []", "By", "Combination", "At")
    return [
        Heading("What governs"),
        Remark(
            f"{result.combinations} combinations at every station of {len(result.by_mark)} members. Parts with a "
            "utilization below a quarter or below half of the largest are in the tables only."
        ),
        Grid("Governing member of each part", heads, rows),
    ]


def _in_full(part: str, m: MemberResult) -> list:
    """Return the governing member of a part: what its actions are made of, and its ratio with all it rests on."""
    title = f"Actions in {m.mark}"
    actions = {v.symbol: v for v in of_frame(m.governs.ratio)}
    twisted = [n for n in actions if n[0] in "VT"] if "M_rx" in actions else []
    apart = [Remark(f"{' and '.join(twisted)} at the station of the largest torsion.")] if twisted else []
    return [
        Heading(f"{PLURAL[part]}: {m.mark}, {m.shape}"),
        Remark(f"By {m.governs.kind}, {m.governs.station}, under {m.governs.combination}."),
        *([shown(title, actions)] if actions else []),
        *apart,
        m.governs.ratio,
        *_shear_too(m),
    ]


def _shear_too(m: MemberResult) -> list:
    """Return the shear of an open section in full where it matters: its terms of shear and of torsion."""
    shear = m.checks[SHEAR]
    idle = not matters(float(shear.ratio.magnitude), float(m.utilization.magnitude))
    if shear is m.governs or idle or formula_of(shear.ratio) is not open_shear:
        return []
    actions = {v.symbol: v for v in of_frame(shear.ratio)}
    return [
        Remark(f"Shear with torsion, {shear.station}, under {shear.combination}."),
        *([shown(f"Shear and torsion in {m.mark}", actions)] if actions else []),
        shear.ratio,
    ]


def _terms(ratio: Value) -> list[tuple[float, Value]]:
    """Return what each term of a ratio makes, with its strength; of a choice those of what was chosen."""
    made = ratio.origin
    if not isinstance(made, Step):
        return []
    if isinstance(made.operation, Choice):
        chosen = made.given.get(made.operation.chosen)
        return _terms(chosen) if chosen is not None else []
    found = []
    for action, strengths in _OVER.items():
        for strength in strengths:
            if action in made.given and strength in made.given:
                demand, capacity = made.given[action], made.given[strength]
                found.append((abs(demand.m_as(capacity.unit)) / capacity.magnitude, capacity))
    return found


def _small(result: Members) -> tuple[Value, ...]:
    """Return the strengths that no governing ratio rests on much; that of a post in compression is always set out."""
    small: dict[int, Value] = {}
    large = {id(result.strengths[m.case].P_c.root) for part, m in result.governing.items() if part == "post"}
    for m in result.governing.values():
        terms = _terms(m.governs.ratio)
        idle = float(m.utilization.magnitude) < LITTLE
        for share, strength in terms:
            if idle or share < SMALL * sum(s for s, _ in terms):
                small[id(strength.root)] = strength
            else:
                large.add(id(strength.root))
    return tuple(v for n, v in small.items() if n not in large)


def _strengths(result: Members) -> list:
    rows = tuple(_strength_row(s) for s in result.strengths)
    heads = ("Shape", "L_c/r []", "P_c [kip]", "P_ct [kip]", "M_cx [kip*in]", "M_cy [kip*in]", "V_cy [kip]", "V_cx [kip]",
             "T_c [kip*in]", "Warping [kip*in]")  # fmt: skip
    return [
        Grid("Available strengths, one row a shape, steel and length", heads, rows, quoted=_small(result)),
        Remark("P_ct is in tension; T_c of an open section is by St. Venant shear, Warping the torsion its warping stress "
               "allows. Below, the strength of a term under 10 % of its ratio is from this table; that of a post in "
               "compression is calculated."),
    ]  # fmt: skip


def _all_members(result: Members) -> list:
    rows = tuple(_member_row(m) for m in result.by_mark.values())
    heads = ("Member", "Axial, bending []", "Shear []", "With torsion []", "By")
    title = "Ratios of all members, each the largest of its check; shear of open sections with torsion; clause of the largest"
    return [Heading("All members"), side_by_side(title, heads, rows)]


def _strength_row(s: Strength) -> tuple[Value | str, ...]:
    warping = s.T_cw if s.T_cw is not None else "–"
    return (s.section.name, s.compression.slenderness, s.P_c, s.P_ct, s.M_cx, s.M_cy, s.V_cy, s.V_cx, s.T_c, warping)


def _member_row(m: MemberResult) -> tuple[Value | str, ...]:
    ratios = [m.checks[kind].ratio if kind in m.checks else "–" for kind in (INTERACTION, SHEAR, TORSION)]
    return (m.mark, *ratios, m.governs.combination.partition(":")[0])

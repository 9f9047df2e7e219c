"""The sheet of the members: the governing member of each part in full, every member in a table."""

from __future__ import annotations

from rackbook.trace import Grid, Heading, Remark, Sheet, Value

from .checks import PLURAL
from .rack import MemberResult, Members
from .strength import Strength
from .worked import INTERACTION, SHEAR, TORSION

TITLE = "Strength of the members"
PURPOSE = "Finds what every post, rail, tie and brace takes, and how much of it is used under every combination."
_AXES = (
    "Signs are not told apart: the size of each action stands over the strength of its own kind. x is the axis the depth "
    "works about, y the other one; of angles w and z."
)


def sheets(result: Members) -> list[Sheet]:
    """Return the sheet of the members."""
    parts: list = [*(Remark(note) for note in result.notes), Remark(_AXES), *_summary(result)]
    for part, m in result.governing.items():
        parts += _in_full(part, m)
    parts += [Heading("Checks"), *result.checks, *_tables(result)]
    return [Sheet("members", TITLE, PURPOSE, tuple(parts))]


def _summary(result: Members) -> list:
    rows = tuple(
        (PLURAL[part], m.mark, m.shape, m.utilization, m.governs.kind, m.governs.combination, m.governs.station)
        for part, m in result.governing.items()
    )
    heads = ("Part", "Most used", "Shape", "Ratio []", "By", "Combination", "At")
    return [
        Heading("What governs"),
        Remark(f"{result.combinations} combinations at every station of {len(result.by_mark)} members."),
        Grid("Most used member of each part", heads, rows),
    ]


def _in_full(part: str, m: MemberResult) -> list:
    """Return the governing member of a part: its ratio with all it rests on."""
    return [
        Heading(f"{PLURAL[part]}: {m.mark}, {m.shape}"),
        Remark(f"By {m.governs.kind}, {m.governs.station}, under {m.governs.combination}."),
        m.governs.ratio,
    ]


def _tables(result: Members) -> list:
    strengths = tuple(_strength_row(s) for s in result.strengths)
    heads = ("Shape", "L_c/r []", "P_c [kip]", "P_ct [kip]", "M_cx [kip*in]", "M_cy [kip*in]", "V_cy [kip]", "V_cx [kip]",
             "T_c [kip*in]", "Warping [kip*in]")  # fmt: skip
    rows = tuple(_member_row(m) for m in result.by_mark.values())
    kinds = ("Member", "Shape", "Axial, bending []", "Shear []", "With twisting []", "Largest []", "Combination")
    return [
        Heading("Available strengths"),
        Grid("Available strengths, one row a shape, steel and length", heads, strengths),
        Remark("P_ct is in tension; T_c of an open section is by St. Venant shear, and Warping the twisting moment its warping "
               "stress allows."),
        Heading("All members"),
        Grid("Ratios of all members, each the largest of its check", kinds, rows),
    ]  # fmt: skip


def _strength_row(s: Strength) -> tuple[Value | str, ...]:
    warping = s.T_cw if s.T_cw is not None else "–"
    return (s.section.name, s.compression.slenderness, s.P_c, s.P_ct, s.M_cx, s.M_cy, s.V_cy, s.V_cx, s.T_c, warping)


def _member_row(m: MemberResult) -> tuple[Value | str, ...]:
    ratios = [m.checks[kind].ratio if kind in m.checks else "–" for kind in (INTERACTION, SHEAR, TORSION)]
    return (m.mark, m.shape, *ratios, m.utilization, m.governs.combination.partition(":")[0])

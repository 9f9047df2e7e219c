"""A calculation sheet, derived from the graph: in order of evaluation, with the topic's own headings and remarks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from .check import Check
from .columns import of_column
from .derive import IN_FULL, Derivation
from .graph import in_order
from .grids import Grid, checks_table, svg_address
from .prose import prose
from .text import said
from .value import Step, Value

#: A run of more checks than this is not tabulated whole on its sheet; so many of the most used are.
TABULATED, MOST_USED = 14, 8
#: What is used less than this share of the most used one, or less than this of its capacity, is tabulated and not derived.
HALF, LITTLE = 0.5, 0.25


@dataclass(frozen=True)
class Heading:
    """A heading inside a sheet."""

    text: str


@dataclass(frozen=True)
class Remark:
    """A paragraph in the topic's own words; printed as it stands."""

    text: str


@dataclass(frozen=True)
class Picture:
    """A drawing as SVG text with the words that stand for it."""

    svg: str
    caption: str


Part = Heading | Remark | Grid | Picture | Check | Value


@dataclass(frozen=True)
class Sheet:
    """One calculation sheet.

    Args:
        key: Short name, also the start of its values' paths: ``"wind"``.
        title: Title as printed.
        purpose: What the sheet finds, in a line.
        parts: Headings, remarks, values (shown with all they rest on), checks, grids, pictures; in printing order.
        elsewhere: Title of the sheet that derives a value, by the identity of its root; such a value is quoted, not derived.
        si: Whether SI stands beside US customary results.

    """

    key: str
    title: str
    purpose: str
    parts: tuple[Part, ...]
    elsewhere: Mapping[int, str] = field(default_factory=dict, repr=False)
    si: bool = False

    @property
    def checks(self) -> tuple[Check, ...]:
        """The checks of the sheet in printing order."""
        return tuple(p for p in self.parts if isinstance(p, Check))

    def values(self) -> list[Value]:
        """Return every value the sheet rests on, inputs before what uses them."""
        tops: list[Value] = []
        for part in self.parts:
            if isinstance(part, Value):
                tops.append(part)
            elif isinstance(part, Check):
                tops.extend(v for v in (part.demand, part.capacity, part.ratio) if v is not None)
            elif isinstance(part, Grid):
                tops.extend(c for row in part.rows for c in row if isinstance(c, Value))
        return in_order(tops)

    def printed(self) -> list[Value]:
        """Return the values a reader finds on the sheet: worked out line by line, or as cells of its tables.

        What stands behind a quoted value, behind a cell, or behind a check that is tabulated only is not among them.
        """
        cells: list[Value] = []
        stack: list[Value] = []
        for part in _runs(self.parts):
            if isinstance(part, list):
                stack += [v for c in set_out(part) for v in (c.demand, c.capacity) if v is not None]
            elif isinstance(part, Value):
                stack.append(part)
            elif isinstance(part, Grid):
                cells += [c for row in part.rows for c in row if isinstance(c, Value)]
                cells += part.quoted
        columns = [whole for cell in cells if (whole := of_column(cell)) is not None]
        found = {id(v): v for v in (*cells, *columns)}
        quoted, tops = {id(v.root) for v in found.values()} | self.elsewhere.keys(), {id(v) for v in stack}
        while stack:
            value = stack.pop()
            if id(value) not in found and (id(value) in tops or id(value.root) not in quoted):
                found[id(value)] = value
                stack += value.origin.given.values() if isinstance(value.origin, Step) else ()
        return list(found.values())

    def markdown(self, level: int = 2) -> str:
        """Return the sheet as markdown with LaTeX math; ``level`` is that of its own heading.

        In a run of more than ``IN_FULL`` checks only the one used most is derived; of more than ``TABULATED`` only those not
        OK and those used most are tabulated, the others counted: the check summary has them all.

        Raises:
            SheetError: A formula on the sheet cannot be set truthfully.

        """
        out = Derivation(self.elsewhere, self.si)
        out.text(f"{'#' * level} {said(self.title)}")
        out.text(prose(self.purpose))
        for part in _runs(self.parts):
            if isinstance(part, list):
                for c in set_out(part):
                    for v in (c.demand, c.capacity):
                        if v is not None:
                            out.value(v)
                out.text(checks_table(_telling(part)))
                out.text(_tally(part))
            elif isinstance(part, Heading):
                out.text(f"{'#' * (level + 1)} {said(part.text)}")
            elif isinstance(part, Remark):
                out.text(prose(part.text))
            elif isinstance(part, Grid):
                out.table(part)
            elif isinstance(part, Picture):
                out.text(f"![{said(part.caption)}]({svg_address(part.svg)})")
            elif isinstance(part, Value):
                out.value(part)
        return out.markdown()

    def _repr_markdown_(self) -> str:
        return self.markdown()


def set_out(run: Sequence[Check]) -> list[Check]:
    """Return the checks of a run that its sheet derives.

    Of a short run these are what matters (see ``matters``) and what is open; of a run of more than ``IN_FULL`` the one used
    most.
    """
    used = [float(c.ratio.magnitude) if c.ratio is not None else None for c in run]
    most = max((u for u in used if u is not None), default=0.0)
    if len(run) > IN_FULL:
        return [c for c, u in zip(run, used, strict=True) if u == most][:1]
    return [c for c, u in zip(run, used, strict=True) if u is None or matters(u, most)]


def matters(ratio: float, most: float) -> bool:
    """Return whether something of this ratio is derived beside that of the largest ratio.

    It is the one used most, or used at least ``HALF`` as much and not below ``LITTLE`` of its capacity.
    """
    return ratio >= most or ratio >= max(HALF * most, LITTLE)


def _telling(run: list[Check]) -> list[Check]:
    """Return the checks of a long run that say most: all that are not OK, and the most used; in their own order."""
    if len(run) <= TABULATED:
        return run
    most = sorted((c for c in run if c.word == "OK"), key=lambda c: -float(c.ratio.magnitude))[:MOST_USED]  # type: ignore[union-attr]
    return [c for c in run if c.word != "OK" or c in most]


def _tally(run: list[Check]) -> str:
    left = len(run) - len(_telling(run))
    return f"{left} more checks are OK at ratios not above these; see the check summary." if left else ""


def _runs(parts: tuple[Part, ...]) -> list[Part | list[Check]]:
    """Return the parts with neighboring checks gathered in lists."""
    out: list[Part | list[Check]] = []
    for part in parts:
        if not isinstance(part, Check):
            out.append(part)
        elif out and isinstance(out[-1], list):
            out[-1].append(part)
        else:
            out.append([part])
    return out

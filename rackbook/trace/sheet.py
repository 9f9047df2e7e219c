"""A calculation sheet, derived from the graph: in order of evaluation, with the topic's own headings and remarks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from .check import Check
from .choice import RULES, Choice
from .errors import SheetError, UnitError
from .figures import figures
from .formula import Formula
from .graph import in_order
from .layout import equation
from .setting import operand_latex, symbol, templates, value_latex
from .text import plain
from .units import unit
from .value import Source, Step, Value

#: A formula used more often than this in one part is shown once in full; the other uses are tabulated.
IN_FULL = 3


@dataclass(frozen=True)
class Heading:
    """A heading inside a sheet."""

    text: str


@dataclass(frozen=True)
class Remark:
    """A paragraph in the topic's own words; printed as it stands."""

    text: str


@dataclass(frozen=True)
class Grid:
    """A table of Values: heads carry the units, every cell is converted to its head's unit.

    Args:
        title: What the table lists.
        heads: Column heads such as ``"F [lbf]"``.
        rows: Values or words, one sequence a row.

    """

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Value | str, ...], ...]


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
        elsewhere: Title of the sheet that derives a value, by the value's identity; such a value is quoted here, not derived.
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

    def markdown(self, level: int = 2) -> str:
        """Return the sheet as markdown with LaTeX math; ``level`` is that of its own heading.

        Raises:
            SheetError: A formula on the sheet cannot be set truthfully.

        """
        blocks = [f"{'#' * level} {plain(self.title)}", plain(self.purpose)]
        shown: set[int] = set()
        parts = list(self.parts)
        while parts:
            part = parts.pop(0)
            if isinstance(part, Check):
                run = [part]
                while parts and isinstance(parts[0], Check):
                    run.append(parts.pop(0))
                for c in run:
                    for v in (c.demand, c.capacity):
                        blocks.extend(self._derivation(v, shown) if v is not None else ())
                blocks.append(checks_table(run))
            elif isinstance(part, Heading):
                blocks.append(f"{'#' * (level + 1)} {plain(part.text)}")
            elif isinstance(part, Remark):
                blocks.append(plain(part.text))
            elif isinstance(part, Grid):
                blocks.append(grid_table(part))
            elif isinstance(part, Picture):
                blocks.append(f"![{plain(part.caption)}]({svg_address(part.svg)})")
            else:
                blocks.extend(self._derivation(part, shown))
        return "\n\n".join(b for b in blocks if b) + "\n"

    def _repr_markdown_(self) -> str:
        return self.markdown()

    def _derivation(self, top: Value, shown: set[int]) -> Iterator[str]:
        """Yield what is needed to follow ``top``: what is given, then each line once, inputs first."""
        todo, stop = [], {i for i in self.elsewhere if i != id(top)} | shown
        for value in _in_order_until(top, stop):
            if id(value) not in shown:
                shown.add(id(value))
                todo.append(value)
        leaves = [v for v in todo if not v.computed or id(v) in self.elsewhere]
        if leaves:
            yield self._given_table(leaves)
        uses: dict[Formula, list[Value]] = {}
        for value in todo:
            if isinstance(value.origin, Step) and id(value) not in self.elsewhere:
                operation = value.origin.operation
                if isinstance(operation, Formula):
                    uses.setdefault(operation, []).append(value)
        for value in todo:
            if not isinstance(value.origin, Step) or id(value) in self.elsewhere:
                continue
            operation = value.origin.operation
            if isinstance(operation, Formula):
                same = uses[operation]
                if len(same) <= IN_FULL or value is same[0]:
                    yield self._formula(value, operation, value.origin)
                    if len(same) > IN_FULL:
                        yield _uses_table(operation, same[1:])
            elif isinstance(operation, Choice):
                yield self._choice(value, operation, value.origin)
            else:
                line = equation(symbol(value.symbol), [value_latex(value, self.si)])
                yield f"*{plain(_cited(operation.source))}*\n\n{line}"

    def _given_table(self, leaves: list[Value]) -> str:
        rows = []
        for v in leaves:
            said = f"sheet {self.elsewhere[id(v)]}" if id(v) in self.elsewhere else str(v.origin)
            rows.append((f"${symbol(v.symbol)}$" if v.symbol else "", f"${value_latex(v, self.si)}$", plain(said)))
        return table_text(("Given", "Value", "Source"), rows, "llw")

    def _formula(self, value: Value, formula: Formula, step: Step) -> str:
        shown = {
            n: operand_latex(v, formula.stated_unit(n) if formula.stated is not None else None)
            for n, v in step.given.items()
        }
        lines = []
        for template, (line, result) in zip(templates(formula), formula.steps(step.given), strict=True):
            last = line is formula.lines[-1]
            right = value_latex(value if last else result, self.si)
            left = symbol(value.symbol) if last and value.symbol else template.left
            sides = [template.symbols, template.fill(shown), right]
            lines.append(equation(left, [s for n, s in enumerate(sides) if n == 0 or s != sides[n - 1]]))
            shown[line.target] = operand_latex(result, line.unit if formula.stated is not None else None)
        units = ""
        if formula.stated is not None:
            named = ", ".join(
                f"{n} in {formula.stated_unit(n).written}" for n in formula.arguments if formula.stated_unit(n).name
            )
            units = f" (written for {named})" if named else ""
        return f"**{plain(formula.title)}**, {plain(_cited(formula.source) + units)}\n\n" + "\n\n".join(lines)

    def _choice(self, value: Value, choice: Choice, step: Step) -> str:
        candidates = {n: step.given[n] for n in choice.labels if n in step.given}
        others = [n for n in choice.labels if n != choice.chosen]
        if choice.name in RULES and len(candidates) > 1:
            function = r"\max" if choice.name == "largest" else r"\min"
            inside = r" ,\ ".join(value_latex(v) for v in candidates.values())
            sides = [rf"{function} \left( {inside} \right)", value_latex(value, self.si)]
            over = "; ".join(f"{n}: {candidates[n].text()}" for n in others)
            words = f"Governs: {choice.chosen}. Passed over: {over}." if choice.chosen else f"{RULES[choice.name]}, by case."
        else:
            sides = [value_latex(value, self.si)]
            over = "; ".join(f"{n}: {candidates[n].text()}" if n in candidates else n for n in others)
            because = step.note.get("because", choice.source.title)
            words = f"Taken: {choice.chosen} ({because})." + (f" Passed over: {over}." if over else "")
        cited = _cited(choice.source) if choice.source.kind != "derivation" else ""
        return "\n\n".join(
            filter(
                None,
                (
                    f"*{plain(words)}*" + (f" {plain(cited)}" if cited else ""),
                    equation(symbol(value.symbol or "value"), sides),
                ),
            )
        )


def _cited(source: Source) -> str:
    return str(source)


def _in_order_until(top: Value, stop: set[int]) -> list[Value]:
    """Return what ``top`` rests on, inputs first, not looking behind the values in ``stop``."""
    done: dict[int, Value] = {}
    stack = [(top, False)]
    while stack:
        value, ready = stack.pop()
        if id(value) in done:
            continue
        if ready or not isinstance(value.origin, Step) or id(value) in stop:
            done[id(value)] = value
            continue
        stack.append((value, True))
        stack.extend((v, False) for v in reversed(value.origin.given.values()))
    return list(done.values())


def _uses_table(formula: Formula, values: list[Value]) -> str:
    """Return the further uses of a formula as a table: its arguments and results, one use a row."""
    first = values[0].origin.given  # type: ignore[union-attr]
    columns = [n for n in formula.arguments if not first[n].is_word]
    of = {n: first[n].unit for n in columns}
    heads = [f"${symbol(n)}$" + (f" [{unit(of[n]).written}]" if of[n] else "") for n in columns]
    heads.append(f"${symbol(formula.result)}$" + (f" [{formula.unit.written}]" if formula.unit.name else ""))
    rows = []
    for v in values:
        given = v.origin.given  # type: ignore[union-attr]
        cells = [figures(given[n].m_as(of[n]), computed=given[n].computed) for n in columns]
        rows.append((*cells, figures(v.m_as(formula.unit.name), computed=True)))
    return f"The same line for {len(values)} more:\n\n" + table_text(heads, rows, "r" * len(heads))


def checks_table(checks: list[Check]) -> str:
    """Return checks as a markdown table: demand, capacity, ratio, limit, clause, word."""
    rows = []
    for c in checks:
        capacity = c.capacity.text() if c.capacity is not None else "not known yet"
        ratio = c.ratio.text() if c.ratio is not None else "–"
        clause = "; ".join(filter(None, (_cited(c.source), c.remedy if c.word != "OK" else "")))
        rows.append(
            (
                plain(c.name),
                plain(c.demand.text()),
                plain(capacity),
                ratio,
                f"{c.limit:g}",
                plain(clause),
                f"**{c.word}**",
            )
        )
    return table_text(("Check", "Demand", "Capacity", "Ratio", "Limit", "Clause", "Result"), rows, "wrrrrwl")


def grid_table(grid: Grid) -> str:
    """Return a grid as markdown, its title above.

    Raises:
        UnitError: A cell's dimension is not that of its head.
        SheetError: A row has more or fewer cells than there are heads.

    """
    units = [h[h.rfind("[") + 1 : -1] if h.endswith("]") else None for h in grid.heads]
    rows, numeric = [], [True] * len(grid.heads)
    for row in grid.rows:
        if len(row) != len(grid.heads):
            raise SheetError(f"Table '{grid.title}': a row has {len(row)} cells under {len(grid.heads)} heads.")
        cells = []
        for n, cell in enumerate(row):
            if not isinstance(cell, Value) or cell.is_word:
                numeric[n] = numeric[n] and not str(cell if isinstance(cell, str) else cell.magnitude)
                cells.append(plain(cell.magnitude if isinstance(cell, Value) else cell))
                continue
            try:
                of = units[n]
                cells.append(figures(cell.m_as(of), computed=cell.computed) if of is not None else plain(cell.text()))
            except UnitError as e:
                raise UnitError(f"Table '{grid.title}', column '{grid.heads[n]}': {e}") from None
        rows.append(cells)
    heads = [
        plain(h if u is None else f"{h[: h.rfind('[')]}[{unit(u).written}]" if u else h[: h.rfind("[")])
        for h, u in zip(grid.heads, units, strict=True)
    ]
    return f"**{plain(grid.title)}**\n\n" + table_text(heads, rows, "".join("r" if x else "w" for x in numeric))


def table_text(heads, rows, columns: str) -> str:
    """Return a markdown pipe table.

    Args:
        heads: Heads, already markdown.
        rows: Cells, already markdown.
        columns: A letter a column: ``l`` left, ``r`` right, ``w`` left and wide (wraps).

    """
    longest = [max([len(str(h)), *(len(str(r[n])) for r in rows)], default=3) for n, h in enumerate(heads)]
    # the dashes carry the columns' shares of the width where the print has to wrap
    shares = [max(4, min(n, 40 if c == "w" else 16)) for n, c in zip(longest, columns, strict=True)]
    rule = ["-" * (s - 1) + (":" if c == "r" else "-") for s, c in zip(shares, columns, strict=True)]
    lines = ["| " + " | ".join(heads) + " |", "|" + "|".join(rule) + "|"]
    return "\n".join([*lines, *("| " + " | ".join(str(c) for c in row) + " |" for row in rows)])


def svg_address(svg: str) -> str:
    """Return an SVG drawing as a data address, so that a sheet is one text."""
    import base64

    return "data:image/svg+xml;base64," + base64.b64encode(svg.encode()).decode()

"""The derivation of a value as a reader follows it: what is given, then each line once, inputs first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from .choice import RULES, Choice
from .columns import Column, Entry, alone, of_column
from .formula import Formula
from .grids import Grid, grid_table, table_text, uses_table
from .layout import equation
from .prose import Place, place, prose
from .setting import symbol, templates, value_latex
from .source import LEGEND, MARK
from .terms import numbers_side
from .text import said, spaced
from .value import Step, Value

#: A formula used more often than this in one part is shown once in full; the other uses are tabulated.
IN_FULL = 3
#: Heads of the tables that grow as long as nothing else stands between their rows.
GIVEN, READ = ("Given", "Value", "Source"), ("From table", "Value", "Table")
WORKED = ("Calculated", "Value", "How")  # by what is no line of a sheet: the frame, the rectangles of an elevation
#: The last line of a sheet on which something is marked; in the bound print the foot of every page has it instead.
FOOTNOTE = f"*{LEGEND}*"


@dataclass
class Derivation:
    """A sheet being written: its blocks, and what it has shown already."""

    elsewhere: Mapping[int, str]
    si: bool
    blocks: list[str | tuple[tuple[str, ...], list[tuple[str, ...]]]] = field(default_factory=list)
    shown: set[int] = field(default_factory=set)
    said: set[object] = field(default_factory=set)
    kept: list[Value] = field(default_factory=list)
    stands: dict[int, Value] = field(default_factory=dict)
    tabulated: dict[int, str] = field(default_factory=dict)
    from_table: dict[int, str] = field(default_factory=dict)
    set_out: set[object] = field(default_factory=set)
    row_read: str = ""

    def text(self, block: str) -> None:
        """Add a block of markdown."""
        if block:
            self.blocks.append(block)

    def markdown(self) -> str:
        """Return all blocks as one text."""
        text = "\n\n".join(b if isinstance(b, str) else table_text(b[0], b[1], "llw") for b in self.blocks)
        return f"{text}\n\n{FOOTNOTE}\n" if MARK in text else f"{text}\n"

    def table(self, grid: Grid) -> None:
        """Add a table of values; a column whose items it lists is not derived again below it."""
        self.text(grid_table(grid))
        for cell in (c for row in grid.rows for c in row if isinstance(c, Value)):
            if (whole := of_column(cell)) is not None:
                self.tabulated.setdefault(id(whole.root), grid.title)
                self.kept.append(whole)
        for value in grid.quoted:
            self.from_table.setdefault(id(value.root), grid.title)
            self.kept.append(value)

    def value(self, top: Value) -> None:
        """Add what is needed to follow ``top`` and is not on the sheet yet."""
        todo = self._todo(top)
        names = self._names(todo)
        on_trial = _on_trial(todo)
        for v in todo:
            if (
                self._quoted(v) and not self._a_column(v) and id(v) not in on_trial
            ):  # the line that takes a column shows its numbers
                self._row(GIVEN, v, self._whence(v), names.get(id(v), ()))
        early = self._read_first(todo)
        for v in early:
            self._row(_heads(v), v, place(v), names.get(id(v), ()))
        at_once = {id(v) for v in early}
        uses: dict[Formula, list[Value]] = {}
        lines: list[tuple[Value, str, str]] = []
        for v in todo:
            if self._quoted(v) or not isinstance(v.origin, Step) or id(v) in at_once:
                continue
            operation = v.origin.operation
            text = again = ""
            if isinstance(operation, Formula):
                text, again = self._formula(v, operation, v.origin)
            elif isinstance(operation, Choice):
                text = self._choice(v, operation, v.origin)
            # the same line with the same numbers says nothing new
            if text and text in self.said:
                continue
            self.said.add(text)
            if isinstance(operation, Formula):
                uses.setdefault(operation, []).append(v)
            lines.append((v, text, again))
        for v, text, again in lines:
            if not text:
                self._row(_heads(v), v, place(v), names.get(id(v), ()))
                continue
            made_by = v.origin.operation if isinstance(v.origin, Step) else None
            same = uses[made_by] if isinstance(made_by, Formula) else [v]
            if len(same) <= IN_FULL or v is same[0]:
                self.text(again if again and made_by in self.set_out else text)
                self.set_out.add(made_by)
                if isinstance(made_by, Formula) and len(same) > IN_FULL:
                    self.text(uses_table(made_by, same[1:]))

    def _read_first(self, todo: list[Value]) -> list[Value]:
        """Return what is read by no number that a line has to work out first: one table above them, cells of a row together."""
        waiting: set[int] = set()
        early = []
        for v in todo:
            if self._quoted(v) or not isinstance(v.origin, Step):
                continue
            waits = any(id(self.stands.get(id(g), g)) in waiting for g in v.origin.given.values())
            if waits or isinstance(v.origin.operation, (Formula, Choice)):
                waiting.add(id(v))
            else:
                early.append(v)
        order = {row: n for n, row in enumerate(dict.fromkeys(place(v).row for v in early))}
        return sorted(early, key=lambda v: order[place(v).row])

    def _todo(self, top: Value) -> list[Value]:
        """Return what ``top`` rests on and the sheet has not shown, inputs first; entries of columns as worked alone."""
        done: dict[int, Value | None] = {}
        stack = [(top, top, False)]
        while stack:
            asked, value, ready = stack.pop()
            if id(asked) in done:
                continue
            if id(asked) in self.shown and asked is not top:
                done[id(asked)] = None
                continue
            if not ready:
                listed = asked is not top and (id(asked.root) in self.elsewhere or self._listed(asked))
                value = self.stands[id(asked)] = asked if listed else alone(asked)
            if ready or not isinstance(value.origin, Step) or self._quoted(value, asked is top):
                done[id(asked)] = value
                continue
            stack.append((asked, value, True))
            stack.extend((v, v, False) for v in reversed(value.origin.given.values()))
        todo = [v for v in done.values() if v is not None and id(v) not in self.shown]
        self.shown.update(done, map(id, todo))
        self.kept.append(top)
        self.kept.extend(todo)  # an identity stays taken as long as the sheet is written
        return todo

    def _names(self, values: list[Value]) -> dict[int, tuple[str, ...]]:
        """Return under which arguments' names each value enters the formulas among ``values``."""
        names: dict[int, dict[str, None]] = {}
        for v in values:
            if isinstance(v.origin, Step) and isinstance(v.origin.operation, Formula):
                for n, g in v.origin.given.items():
                    names.setdefault(id(self.stands.get(id(g), g)), {})[n] = None
        return {i: tuple(n) for i, n in names.items()}

    def _quoted(self, value: Value, is_top: bool = False) -> bool:
        """Say whether a value is quoted with its origin and not derived here."""
        if not isinstance(value.origin, Step):
            return True
        if isinstance(value.origin.operation, (Column, Entry)):
            return True
        return not is_top and (id(value.root) in self.elsewhere or bool(self._listed(value)))

    def _listed(self, value: Value) -> str:
        """Return the title of the table above that a value is taken from or that lists its column; otherwise nothing."""
        if title := self.from_table.get(id(value.root)):
            return title
        whole = of_column(value)
        return self.tabulated.get(id(value.root if whole is None else whole.root), "")

    def _a_column(self, value: Value) -> bool:
        """Say whether a value is a column that is lined up here, or that a table above or on another sheet lists."""
        made = isinstance(value.origin, Step) and isinstance(value.origin.operation, Column)
        listed = id(value.root) in self.tabulated or id(value.root) in self.elsewhere
        return made or (listed and isinstance(value.magnitude, np.ndarray))

    def _whence(self, value: Value) -> Place:
        if id(value.root) in self.elsewhere and id(value.root) not in self.from_table:
            # what a table prints is that table's, whichever sheet shows it first
            return place(value) if value.as_given else Place(f"sheet {self.elsewhere[id(value.root)]}")
        title = self._listed(value)
        return Place(f"table above: {title}") if title else place(value)

    def _row(self, heads: tuple[str, ...], value: Value, whence: Place, names: tuple[str, ...]) -> None:
        called = dict.fromkeys(n for n in (value.symbol, *names) if n)
        name = ", ".join(spaced(n) if value.is_word and spaced(n) != n else f"${symbol(n)}$" for n in called)
        # a list is set as words, which may be broken between its numbers
        shown = said(value.text()) if np.ndim(value.magnitude) else f"${value_latex(value, self.si)}$"
        row = (name, shown, prose(whence))
        if row in self.said:
            return
        self.said.add(row)
        if self.blocks and not isinstance(self.blocks[-1], str) and self.blocks[-1][0] is heads:
            if whence.read and whence.row == self.row_read:
                row = (*row[:2], prose(whence._replace(row="same row")))
            self.blocks[-1][1].append(row)
        else:
            self.blocks.append((heads, [row]))
        self.row_read = whence.row

    def _formula(self, value: Value, formula: Formula, step: Step) -> tuple[str, str]:
        """Return a use of a formula in full, and in short for where its symbols and its clause stand above already."""
        known, bare = dict(step.given), formula.stated is not None
        stated = {n: formula.stated_unit(n) if bare else None for n in formula.arguments}
        lines, short = [], []
        for template, (line, result) in zip(templates(formula), formula.steps(step.given), strict=True):
            last = line is formula.lines[-1]
            right = value_latex(value if last else result, self.si)
            left = symbol(value.symbol) if last and value.symbol else template.left
            numbers = numbers_side(template, {n: known[n] for n in line.names}, stated)
            lines.append(equation(left, [template.symbols, *([numbers] if numbers not in ("", right) else []), right]))
            short.append(equation(left, [numbers, right] if numbers not in ("", right) else [right]))
            known[line.target], stated[line.target] = result, line.unit if bare else None
        units = ""
        if bare:
            named = ", ".join(
                f"{n} in {formula.stated_unit(n).written}" for n in formula.arguments if formula.stated_unit(n).name
            )
            units = f" (written for {named})" if named else ""
        title = f"**{said(formula.title[:1].upper() + formula.title[1:])}**"
        source = formula.source
        cited = f"{str(source).removesuffix(source.mark).rstrip()}{units} {source.mark}".rstrip()
        return (
            "\n\n".join((f"{title}, {prose(cited)}", *lines)),
            "\n\n".join((f"{title}, as above", *short)),
        )

    def _choice(self, value: Value, choice: Choice, step: Step) -> str:
        sides = [value_latex(value, self.si)]
        if choice.name in RULES and choice.differing(step.given):
            function = r"\max" if choice.name == "largest" else r"\min"
            inside = r" ,\ ".join(value_latex(step.given[n]) for n in choice.labels)
            sides.insert(0, rf"{function} \left( {inside} \right)")
        cited = str(choice.source) if choice.source.kind != "derivation" else ""
        words = choice.told(step.given)
        told = " ".join(filter(None, (words and f"*{prose(words)}*", prose(cited))))
        return "\n\n".join(filter(None, (told, equation(symbol(value.symbol or "value"), sides))))


def _heads(value: Value) -> tuple[str, ...]:
    return READ if place(value).read else WORKED


def _on_trial(values: list[Value]) -> set[int]:
    """Return the words that only stand for choice: the sentence of the choice names them."""
    found: set[int] = set()
    for v in values:
        if isinstance(v.origin, Step) and isinstance(v.origin.operation, Choice):
            by_name = {n: v.origin.given[n] for n in v.origin.operation.labels if n in v.origin.given}
            found |= {id(word) for n, word in by_name.items() if word.is_word and word.text() == n}
    return found

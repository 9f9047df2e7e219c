r"""Setting of formula lines as hand calculations: the only module that knows handcalcs.

handcalcs rebuilds its grammar at every call, so each line is set once with place holders for its numbers and
the template is refilled afterwards. A line it would set otherwise than it runs is refused by name, line and reason.
"""

from __future__ import annotations

import ast
import functools
import hashlib
import importlib.metadata
import json
import math
import random
import re
import warnings
from collections import Counter
from dataclasses import dataclass

import numpy as np

from .body import Line
from .errors import SheetError
from .figures import figures_latex, four
from .formula import Formula
from .kept import kept
from .reader import Reader
from .text import spaced, visible
from .units import SI_BESIDE, WRITTEN, Unit, unit
from .value import Value

#: handcalcs' own settings, complete, so that its defaults may change without changing a sheet.
CONFIG = {
    "decimal_separator": ".", "latex_block_start": "$$", "latex_block_end": "$$", "math_environment_start": "aligned",
    "math_environment_end": "aligned", "line_break": r"\\", "use_scientific_notation": False, "display_precision": 3,
    "underscore_subscripts": True, "greek_exclusions": [], "param_columns": 1, "preferred_string_formatter": "~L",
    "custom_symbols": {}, "custom_brackets": {},
}  # fmt: skip
#: First of the private-use characters that stand for the numbers of a template.
FIRST = 0xE000
_HOLDER = re.compile("[\ue000-\uf8ff]")
#: Times a line is worked out on drawn numbers and compared with its setting read back.
PROOFS = 8
_TIDY = (
    (re.compile(r"\\operatorname\{(max|min)\}"), r"\\\1"),
    (re.compile(r"([A-Za-z])_\{bar\}"), r"\\bar{\1}"),
    (re.compile(r"\\Sigma \\left"), r"\\sum \\left"),
    (re.compile(r"\\left\( ([\d.]+) \\right\) \^"), r"\1 ^"),
    # of a nominal strength, reduced: one quantity and no product
    (re.compile(r"\\(phi|Omega)_\{([A-Z])_\{([^{}]*)\}\}"), r"\\\1 \2_{\3}"),
    (re.compile(r"_\{([^{}]*)_\{([^{}]*)\}\}"), r"_{\1,\2}"),
    (re.compile(r"([A-Za-z])_\{([A-Za-z]+)'\}"), r"\1'_{\2}"),
    # x of item i, and no Greek letter
    (re.compile(r"_\{\\(xi|nu)\}"), r"_{\1}"),
)
_ABS = re.compile(r"\\operatorname\{abs\} ?\\left\(")
#: Brackets that handcalcs puts round every power; a lone symbol needs none, a number with a unit does.
_LONE = re.compile(r"\\left\( ((?:\\?[A-Za-z]+)(?:_\{[^{}']*\})?) \\right\) \^")


class _Holder:
    """Stands for a number while handcalcs sets a line."""

    def __init__(self, sign: str) -> None:
        self.sign = sign

    def __format__(self, spec: str) -> str:
        return self.sign

    def __str__(self) -> str:
        return self.sign

    __repr__ = _repr_latex_ = __str__


@dataclass(frozen=True)
class Template:
    """A line as set: its left side, its symbols, and its numbers with place holders for ``names`` in order."""

    target: str
    left: str
    symbols: str
    numbers: str
    names: tuple[str, ...]

    def fill(self, shown: dict[str, str]) -> str:
        """Return the numbers' side with the numbers as ``shown``."""
        return _HOLDER.sub(lambda m: shown[self.names[ord(m[0]) - FIRST]], self.numbers)


def _typeset(source: str, names: tuple[str, ...]) -> str:
    """Return what handcalcs makes of a line; a kept answer is proven like a fresh one."""
    return kept(_store(), _by_handcalcs, json.dumps([source, names]))


@functools.cache
def _store() -> str:
    settings = hashlib.sha256(json.dumps(CONFIG).encode()).hexdigest()
    return f"lines-{importlib.metadata.version('handcalcs')}-{settings[:12]}.sqlite"


def _by_handcalcs(asked: str) -> str:
    source, names = json.loads(asked)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # handcalcs' own use of older names of its parser
        from handcalcs.handcalcs import latex

        return latex(source, {n: _Holder(chr(FIRST + i)) for i, n in enumerate(names)}, "", CONFIG, None, None)


def set_line(where: str, line: Line) -> Template:
    """Return the template of one line.

    Raises:
        SheetError: handcalcs would set the line otherwise than it runs.

    """
    names = (*line.names, line.target)
    tree = ast.parse(line.text.partition(" = ")[2], mode="eval").body
    # handcalcs loses a line that is one negated term: its sign is set here
    negated = tree.operand if isinstance(tree, ast.UnaryOp) else None
    out = " ".join(_typeset(f"{line.target} = {ast.unparse(negated)}" if negated else line.text, names).split())
    body = out.removeprefix(r"$$ \begin{aligned}").removesuffix(r"\end{aligned} $$").strip().removesuffix(r"\\").strip()
    # short lines stand on one row, long ones on three; no expression holds an equals sign of its own
    sides = [side.strip() for side in re.split(r"(?:\\\\)?\s*&?=", body)]
    if len(sides) != 4:
        raise SheetError(f"{where}: '{line.text}' is set without its formula or its numbers; write it in other terms.")
    left, symbols, numbers, _ = sides
    if negated:
        inside = isinstance(negated, (ast.BinOp, ast.UnaryOp)) and not isinstance(negated.op, ast.Pow)
        symbols, numbers = (rf"- \left( {x} \right)" if inside else f"- {x}" for x in (symbols, numbers))
    template = Template(line.target, _tidy(left), _tidy(_LONE.sub(r"\1 ^", symbols)), _tidy(numbers), names)
    _prove(where, line, template)
    return template


def _tidy(tex: str) -> str:
    for pattern, better in _TIDY:
        tex = pattern.sub(better, tex)
    while opened := _ABS.search(tex):
        end = closed(tex, opened.end())
        inside = tex[opened.end() : end].removesuffix(")").rstrip().removesuffix(r"\right")
        tex = rf"{tex[: opened.start()]}\left|{inside}\right|{tex[end:]}"
    return tex.strip()


def closed(tex: str, at: int) -> int:
    """Return the index after the bracket that closes what was opened just before ``at``."""
    depth = 1
    for m in re.compile(r"\\left\b|\\right\s*(?:\\.|.)").finditer(tex, at):
        depth += 1 if m[0] == r"\left" else -1
        if depth == 0:
            return m.end()
    return len(tex)


def _prove(where: str, line: Line, template: Template) -> None:
    """Refuse a template that, read back, says anything but what the line computes."""
    tree = ast.parse(line.text.partition(" = ")[2], mode="eval")
    called = {id(n.func) for n in ast.walk(tree) if isinstance(n, ast.Call)}
    used = Counter(n.id for n in ast.walk(tree) if isinstance(n, ast.Name) and id(n) not in called and n.id != "pi")
    seen = Counter(template.names[ord(c) - FIRST] for c in _HOLDER.findall(template.numbers))
    if used != seen:
        odd = next(iter((used - seen) + (seen - used)))
        raise SheetError(
            f"{where}: in '{line.text}' the operand '{odd}' would not be set as it is used; name it on a line of its own."
        )
    signs = {name: symbol(name) for name in template.names}
    if len(set(signs.values())) < len(signs):
        same = [n for n in signs if list(signs.values()).count(signs[n]) > 1]
        raise SheetError(f"{where}: in '{line.text}' {' and '.join(same)} would be set as one symbol; rename one.")
    draw, proofs = random.Random(1), 0
    for _ in range(400):
        names = {n: math.exp(draw.uniform(-3, 3)) for n in line.names}
        try:
            runs = line.run(names)
        except (ArithmeticError, ValueError, TypeError):  # outside the domain of a root or a logarithm
            continue
        if isinstance(runs, complex):
            continue
        for side, atoms in (
            (template.symbols, {signs[n]: x for n, x in names.items()}),
            (template.numbers, {chr(FIRST + i): names[n] for i, n in enumerate(line.names)}),
        ):
            reader = Reader(side, atoms)
            try:
                reads = reader.value()
            except SheetError as e:
                raise SheetError(f"{where}: '{line.text}' is set in a way that says something else: {e}") from None
            if not abs(reads - runs) <= 1e-9 * abs(runs) + 1e-12:
                raise SheetError(f"{where}: '{line.text}' would be set as another formula; write it in other terms.")
            literals = Counter(float(n.value) for n in ast.walk(tree) if isinstance(n, ast.Constant))  # type: ignore[arg-type]
            if lost := literals - Counter(reader.numbers):
                raise SheetError(
                    f"{where}: in '{line.text}' the number {next(iter(lost))} would be set rounded; make it an argument."
                )
        proofs += 1
        if proofs == PROOFS:
            return
    raise SheetError(f"{where}: '{line.text}' could not be proven: no numbers were found for which it can be worked out.")


@functools.cache
def templates(formula: Formula) -> tuple[Template, ...]:
    """Return the templates of all lines of a formula, set once."""
    return tuple(set_line(f"Formula {formula.name}, line {i}", line) for i, line in enumerate(formula.lines, 1))


@functools.cache
def symbol(name: str) -> str:
    """Return a symbol as LaTeX: ``K_zt`` gives ``K_{zt}``, ``f_c_prime`` gives ``f'_{c}``."""
    if not name.isidentifier():
        return rf"\text{{{_words(name)}}}"
    body = " ".join(_typeset(f"{name} = 1", (name,)).split())
    return _tidy(body.removeprefix(r"$$ \begin{aligned}").partition("&=")[0])


@functools.cache
def unit_latex(of: Unit) -> str:
    """Return a unit as LaTeX, upright: ``psf/mph^{2}``."""
    if not of.name:
        return ""
    special = {"pct": r"\%", "%": r"\%", "deg": r"{}^{\circ}",
               "degC": r"{}^{\circ}\mathrm{C}", "delta_degC": r"{}^{\circ}\mathrm{C}",
               "degF": r"{}^{\circ}\mathrm{F}", "delta_degF": r"{}^{\circ}\mathrm{F}", "um": r"\mu\mathrm{m}"}  # fmt: skip
    if of.name in special:
        return special[of.name]
    parts = re.split(r"(\*\*|[*/])", of.name.replace(" ", ""))
    out, i = "", 0
    while i < len(parts):
        part = parts[i]
        if part == "**":
            out += f"^{{{parts[i + 1]}}}"
            i += 1
        elif part in "*/":
            out += r" \cdot " if part == "*" else "/"
        else:
            written = _escaped(WRITTEN.get(part, part))
            # a full stop inside \mathrm is set as punctuation, apart from its word
            out += r"\Omega" if part == "ohm" else rf"\text{{{written}}}" if "." in written else rf"\mathrm{{{written}}}"
        i += 1
    return out


def number_latex(magnitude, of: Unit, *, computed: bool, bare: bool = False) -> str:
    """Return a number with its unit as LaTeX; ``bare`` leaves the unit out."""
    text = figures_latex(magnitude, computed=computed)
    mark = "" if bare else unit_latex(of)
    if not mark:
        return text
    if of.written.startswith("1/"):
        return rf"{text}\text{{{_escaped(of.written[1:])}}}"
    return rf"{text}{mark}" if of.name == "deg" else rf"{text}\ {mark}"


def value_latex(value: Value, si: bool = False) -> str:
    """Return a value as LaTeX, SI beside on request."""
    if value.is_word:
        return rf"\text{{{_words(spaced(value.magnitude))}}}"
    out = number_latex(value.magnitude, value.measure, computed=not value.as_given)
    # a row of numbers is shown once: beside another it would leave no room for where it comes from
    of_si = SI_BESIDE.get(value.measure.name) if si and not np.ndim(value.magnitude) else None
    return rf"{out}\ \left( {number_latex(four(value.m_as(of_si)), unit(of_si), computed=True)} \right)" if of_si else out


_ESCAPES = {
    "\\": r"\textbackslash{}", "^": r"\textasciicircum{}", "~": r"\textasciitilde{}", "|": r"\textbar{}",
    "`": r"\textquoteleft{}",
    **{c: "\\" + c for c in "#$%&_{}"},
}  # fmt: skip


def _escaped(text: str) -> str:
    return "".join(_ESCAPES.get(c, c) for c in text)


def _words(text: str) -> str:
    r"""Return text safe inside ``\text{}``, in a table cell too."""
    return _escaped(visible(text))


def operand_latex(value: Value, stated: Unit | None = None) -> str:
    """Return a value as it stands among the numbers of a formula; negative numbers in brackets."""
    if stated is not None:
        text = number_latex(value.m_as(stated.name), stated, computed=not value.as_given, bare=True)
    else:
        text = number_latex(value.magnitude, value.measure, computed=not value.as_given)
    return rf"\left( {text} \right)" if text.startswith("-") else text

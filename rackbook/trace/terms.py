r"""The numbers' side of a line that takes arrays: sums term by term, and nothing where a row of numbers would tell nothing.

A sum of up to ``SHOWN`` terms that are not zero is written out; a longer one stands in its symbols, and what it sums in the
table that lists it. No array is ever cut off after its first entries.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

import numpy as np

from .figures import SHOWN
from .layout import LINE, rows, width
from .reader import Reader
from .setting import FIRST, Template, closed, operand_latex
from .units import Unit
from .value import Value

_SUM = r"\sum \left("
#: Terms this far below the largest are rounding noise of the arithmetic.
NOISE = 1e-9


def numbers_side(template: Template, given: Mapping[str, Value], stated: Mapping[str, Unit | None]) -> str:
    """Return the numbers of a line, or nothing where they would be a long row or do not fit.

    Args:
        template: The line as set.
        given: Value of each name of the line.
        stated: Unit in which a bare number is shown, of the names of an empirical formula.

    """
    used = [n for n in template.names if n in given]
    if not any(np.ndim(given[n].magnitude) for n in used):
        return template.fill({n: operand_latex(given[n], stated.get(n)) for n in used})
    whole = {n: operand_latex(given[n], stated.get(n)) for n in used}
    for side in (_written_out(template, given, stated), template.numbers):
        left = {template.names[ord(c) - FIRST] for c in side if 0xE000 <= ord(c) <= 0xF8FF}
        if any(np.size(given[n].magnitude) > SHOWN for n in left):
            continue
        filled = Template(template.target, "", "", side, template.names).fill(whole)
        if all(width(row) <= LINE for row in rows(filled, LINE - width(template.left) - 1.5)):
            return "" if filled in ("0", "- 0") else filled
    return ""


def _written_out(template: Template, given: Mapping[str, Value], stated: Mapping[str, Unit | None]) -> str:
    """Return the numbers' side with each sum of few terms as those terms."""
    side, start = template.numbers, 0
    while (start := side.find(_SUM, start)) >= 0:
        end = closed(side, start + len(_SUM))
        inside = side[start + len(_SUM) : end].removesuffix(r"\right)").strip()
        terms = _terms(inside, template, given, stated) if r"\sum" not in inside else None
        if terms is None:
            start = end
            continue
        before, after = side[:start], side[end:]
        alone = (not before.strip() or before.rstrip().endswith("{")) and (not after.strip() or after.lstrip().startswith("}"))
        if before.strip() == "-" and not after.strip():
            return "- " + " - ".join(terms)
        total = " + ".join(terms)
        side = before + (total if alone else rf"\left( {total} \right)") + after
        start = len(before) + len(total)
    return side


def _terms(inside: str, template: Template, given: Mapping[str, Value], stated: Mapping[str, Unit | None]) -> list[str] | None:
    """Return the terms of a sum that are not zero, with their numbers; None where they are too many."""
    names = [template.names[ord(c) - FIRST] for c in dict.fromkeys(inside) if 0xE000 <= ord(c) <= 0xF8FF]
    atoms = {chr(FIRST + template.names.index(n)): _bare(given[n], stated.get(n)) for n in names}
    sizes = np.abs(np.asarray(Reader(inside, atoms).value()))
    if not sizes.ndim:
        return None
    places = np.flatnonzero(sizes > NOISE * sizes.max())
    if len(places) > SHOWN:
        return None
    flat = _flat(inside)
    signed = flat.startswith("-") or " + " in flat or " - " in flat
    out = []
    for n in places.tolist():
        shown = {name: operand_latex(_entry(given[name], n), stated.get(name)) for name in names}
        term = Template("", "", "", inside, template.names).fill(shown)
        out.append(rf"\left( {term} \right)" if signed else term)
    return out or ["0"]


def _flat(tex: str) -> str:
    """Return what of LaTeX stands in no bracket and no group."""
    depth, out = 0, ""
    for m in re.finditer(r"\\left\b|\\right\b|[{}]|.", tex):
        if m[0] in (r"\left", "{"):
            depth += 1
        elif m[0] in (r"\right", "}"):
            depth -= 1
        elif not depth:
            out += m[0]
    return out


def _bare(value: Value, stated: Unit | None) -> object:
    return value.m_as(stated.name) if stated is not None else value.base


def _entry(value: Value, n: int) -> Value:
    """Return one number of an array as it is written; a single number as it is."""
    if not np.ndim(value.magnitude):
        return value
    return Value(float(np.ravel(value.magnitude)[n]), value.measure, value.origin, value.symbol)

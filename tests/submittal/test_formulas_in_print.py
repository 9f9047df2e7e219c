"""Every formula of the library says in the PDF what it computes: set as the print sets it, read back from the typesetter."""

import importlib
import json
import math
import pkgutil
import random
import sys
import unicodedata
from pathlib import Path

import pytest
import typst

import rackbook
from rackbook.submittal.cells import Piece
from rackbook.submittal.pandoc import write
from rackbook.submittal.story import Story
from rackbook.trace import FORMULAS
from rackbook.trace.setting import templates

sys.path.insert(0, str(Path(__file__).parent))  # typeset.py stands beside the tests

from typeset import Reading, Unread, sides, word

for _module in pkgutil.walk_packages(rackbook.__path__, "rackbook."):
    if not _module.name.endswith("__main__"):
        importlib.import_module(_module.name)

#: Formulas the reader cannot read, with the reason. None.
UNREADABLE: dict[str, str] = {}
#: Greek letters of a subscript that are meant: the angle alpha, the ductility factor of ASCE/SEI 7.
GREEK_BELOW = {"tan_alpha", "R_mu", "k_theta"}
#: Reads the equation where the print would set it.
CATCH = '#let calculation(where: "", alts: (), name: none, note: none, eq) = [#eq <set>]\n'
DRAWS = 6


def set_in_print(equations: list[str], folder) -> list:
    """Return the content trees of equations after the way every equation goes to the PDF."""
    story = Story(folder)
    story.add([Piece("math", tex) for tex in equations])
    source = CATCH + write(story.paper, "typst-smart")
    return json.loads(typst.query({"main.typ": source.encode()}, "<set>", field="body"))


def seen_as(name: str) -> str:
    """Return the name of a formula's symbol as the letters it is printed with."""
    first, *below = name.split("_")
    out = greek(first)
    if len(below) > 1 and below[1] != "prime" and first != "phi":
        below = [f"{below[0]},", *below[1:]]
    for part in below:
        out += {"prime": "'", "bar": "bar"}.get(part, greek(part) if name in GREEK_BELOW else part)
    return out


def greek(name: str) -> str:
    """Return a Greek letter for its name; lambda, a word of the language, is named lamb."""
    letter = {"lamb": "LAMDA"}.get(name, name.upper())
    for case, form in (("SMALL", name.islower()), ("CAPITAL", name.istitle())):
        if form and len(name) > 1:
            try:
                return unicodedata.lookup(f"GREEK {case} LETTER {letter}")
            except KeyError:
                break
    return name


@pytest.fixture(scope="module")
def library(tmp_path_factory):
    """Return ``(key, line, drawn numbers, result, symbols' tree, numbers' tree)`` of every line of every formula."""
    lines = []
    for key in sorted(FORMULAS):
        f = FORMULAS[key]
        for line, template in zip(f.lines, templates(f), strict=True):
            chance, drawn = random.Random(key), []
            for _ in range(600):
                names = {n: round(math.exp(chance.uniform(-3, 3)), 9) for n in line.names}
                try:
                    result = line.run(names)
                except (ArithmeticError, ValueError, TypeError):
                    continue
                if not isinstance(result, complex):
                    drawn.append((names, result))
                if len(drawn) == DRAWS:
                    break
            lines.append((key, line, template, drawn))
    equations = []
    for _, _, template, drawn in lines:
        equations.append(f"{template.left} = {template.symbols}")
        equations.append(
            f"{template.left} = {template.fill({n: f'{x:.9f}' for n, x in drawn[0][0].items()})}" if drawn else "0 = 0"
        )
    trees = set_in_print(equations, tmp_path_factory.mktemp("print"))
    assert len(trees) == len(equations) > 1000
    return [(*each, *trees[2 * n : 2 * n + 2]) for n, each in enumerate(lines)]


def test_every_formula_is_printed_as_it_is_computed(library):
    wrong = []
    for key, line, _, drawn, by_symbols, by_numbers in library:
        try:
            assert drawn, "no numbers were found for which it can be worked out"
            target, symbols = sides(by_symbols)
            printed = "".join(map(word, target))  # a reduced strength is set as the factor and the strength
            assert printed == seen_as(line.target), f"the result is printed as {printed}"
            for names, result in drawn:
                known = {seen_as(n): x for n, x in names.items()}
                assert len(known) == len(names), "two symbols are printed alike"
                assert Reading(symbols, known).value() == pytest.approx(result, rel=1e-9, abs=1e-12), "symbols"
            names, result = drawn[0]
            assert Reading(sides(by_numbers)[1], {}).value() == pytest.approx(result, rel=1e-6, abs=1e-9), "numbers"
        except (AssertionError, Unread, ValueError, ArithmeticError) as e:
            if key not in UNREADABLE:
                wrong.append(f"{key}: {line.text}: {e}")
    assert not wrong, "\n".join(wrong)
    assert not UNREADABLE


@pytest.mark.parametrize(
    ("tex", "gives"),
    [
        (r"\frac{8}{\frac{4}{2}}", 4),
        (r"\frac{\frac{8}{4}}{2}", 1),
        (r"\frac{\frac{\frac{16}{4}}{\frac{8}{4}}}{2}", 1),
        (r"\frac{1}{\frac{\frac{1}{2}}{\frac{1}{4}}}", 0.5),
        (r"\frac{12}{\frac{6}{\frac{4}{2}}}", 4),
        (r"2 \cdot \frac{8}{\frac{4}{2}} + 1", 9),
        (r"\left( \frac{8}{\frac{4}{2}} \right) ^{ 2 }", 16),
        (r"{\frac{4}{2}}^{2}", 4),
        (r"\frac{4}{2} ^ 2", 4),
        (r"2^{\frac{8}{\frac{4}{2}}}", 16),
        (r"\max \left( 1 ,\ \frac{8}{\frac{4}{2}} \right)", 4),
        (r"\sqrt{\frac{8}{\frac{4}{8}}}", 4),
        (r"\left| \frac{- 8}{\frac{4}{2}} \right|", 4),
        (r"\dfrac{8}{\tfrac{4}{2}}", 4),
    ],
)
def test_fractions_of_fractions_keep_their_brackets(tex, gives, tmp_path):
    (tree,) = set_in_print([f"x = {tex}"], tmp_path)
    assert Reading(sides(tree)[1], {}).value() == pytest.approx(gives)


def test_letters_below_are_no_greek_letters_unless_they_are_meant(tmp_path):
    trees = set_in_print([r"V_{\xi} = P_{\nu}", r"R_{\mu} = x_{max}"], tmp_path)
    assert [[word(part) for (part,) in sides(tree)] for tree in trees] == [["Vxi", "Pnu"], ["Rμ", "xmax"]]


def test_the_reader_can_say_no():
    plain = {"func": "symbol", "text": "a"}
    with pytest.raises(Unread, match="stands for nothing"):
        Reading([plain], {}).value()
    with pytest.raises(Unread, match="left over"):
        Reading([plain, plain], {"a": 2.0}).value()

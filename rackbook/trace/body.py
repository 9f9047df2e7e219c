"""Reading a formula's body: checked one-line assignments, and the function that runs exactly them.

What could run otherwise than it is set is refused here, by name, line and reason.
"""

from __future__ import annotations

import ast
import inspect
import re
import textwrap
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from . import maths
from .errors import SheetError, nearest
from .units import Unit, unit

#: What a body may be made of; everything else would run, and be set wrongly or not at all.
ALLOWED = (
    ast.BinOp, ast.Add, ast.Sub, ast.Mult, ast.Div, ast.Pow, ast.UnaryOp, ast.USub, ast.Call, ast.Name, ast.Load, ast.Constant,
)  # fmt: skip
#: The only names a body knows beside its arguments and earlier lines.
CONSTANTS = {"pi": maths.pi, **maths.FUNCTIONS}


@dataclass(frozen=True)
class Line:
    """One assignment of a body: its target, its text, its compiled right-hand side and its unit."""

    target: str
    text: str
    code: Any
    unit: Unit
    names: tuple[str, ...]

    def run(self, names: dict[str, Any]) -> Any:
        """Return the right-hand side with these numbers, units or symbols for its names."""
        return eval(self.code, {"__builtins__": {}, **CONSTANTS, **names})  # checked expression, nothing else in reach


def read_body(function: Callable, units: dict[str, str]) -> tuple[Callable, tuple[Line, ...]]:
    """Return a function that runs nothing but the checked body, and the lines of the body.

    The function is made anew so that ``sqrt`` in it is the book's own, whatever that name means where it was written.

    Raises:
        SheetError: The body could not be set truthfully.

    """
    where = f"Formula {function.__name__}"
    try:
        texts, first = inspect.getsourcelines(function)
    except (OSError, TypeError):
        raise SheetError(f"{where}: its text cannot be read; write it in a file or a notebook cell.") from None
    source = textwrap.dedent("".join(texts))
    try:
        node = ast.parse(source).body[0]
    except SyntaxError:
        node = None
    if not isinstance(node, ast.FunctionDef):
        raise SheetError(f"{where}: write it as a plain 'def' function.")
    arguments = _arguments(where, node)
    has_doc = isinstance(node.body[0], ast.Expr) and isinstance(node.body[0].value, ast.Constant)
    steps = node.body[1 if has_doc else 0 :]
    last = steps.pop() if steps else None
    if not (isinstance(last, ast.Return) and isinstance(last.value, ast.Name)) or not steps:
        raise SheetError(f"{where}: end the body with 'return <name>' after at least one 'name = expression'.")
    lines = _lines(where, source, steps, arguments, units)
    if last.value.id != lines[-1].target:
        raise SheetError(f"{where}: 'return {last.value.id}' must return the last line's '{lines[-1].target}'.")
    used = {n for line in lines for n in line.names} | {last.value.id}
    unused = [n for n in (*arguments, *(li.target for li in lines)) if n not in used]
    unused += sorted(set(units) - {li.target for li in lines})
    if unused:
        raise SheetError(f"{where}: '{unused[0]}' is not used in the body.")
    return _rebuilt(function, node, first), tuple(lines)


def _arguments(where: str, node: ast.FunctionDef) -> list[str]:
    a = node.args
    if a.posonlyargs or a.kwonlyargs or a.vararg or a.kwarg or a.defaults:
        raise SheetError(f"{where}: take plain arguments only, without defaults: a hidden number would have no source.")
    names = [arg.arg for arg in a.args]
    for name in names:
        if name in CONSTANTS:
            raise SheetError(f"{where}: the argument '{name}' has the name of a function or constant; use another symbol.")
        _check_symbol(where, name)
    return names


def _check_symbol(at: str, name: str) -> None:
    if name != name.strip("_"):
        raise SheetError(f"{at}: '{name}' would be set without its outer underscore; use another symbol.")


def _lines(where: str, source: str, steps: list[ast.stmt], arguments: list[str], units: dict[str, str]) -> list[Line]:
    known, lines = set(arguments), []
    for step in steps:
        at = f"{where}, line {step.lineno}: '{ast.unparse(step)}'"
        if not (isinstance(step, ast.Assign) and len(step.targets) == 1 and isinstance(step.targets[0], ast.Name)):
            raise SheetError(f"{at} is not a plain 'name = expression'; only such lines can be set as a calculation.")
        target = step.targets[0].id
        if target in known or target in CONSTANTS:
            raise SheetError(f"{at} gives '{target}' a second meaning; use another symbol.")
        _check_symbol(at, target)
        names = _check(step.value, known, at)
        if target not in units:
            raise SheetError(f"{at} has no unit; declare {target}='...' in @formula (use '' for a pure number).")
        # the author's own brackets decide what is one fraction, so the text is kept, not the tree
        text = re.sub(r"#[^\n]*|\\\n", " ", ast.get_source_segment(source, step.value) or "")
        code = compile(ast.Expression(step.value), f"<{where}>", "eval")
        lines.append(Line(target, f"{target} = {' '.join(text.split())}", code, unit(units[target]), names))
        known.add(target)
    return lines


def _check(expression: ast.expr, known: set[str], at: str) -> tuple[str, ...]:
    """Return the names an expression uses, each once."""
    called = {id(n.func) for n in ast.walk(expression) if isinstance(n, ast.Call)}
    names = []
    for node in ast.walk(expression):
        if not isinstance(node, ALLOWED):
            raise SheetError(
                f"{at}: {type(node).__name__} runs in Python but cannot be set truthfully on a sheet. Put it on a line of its "
                "own, choose between two formulas in plain Python, or pass the result in as an argument."
            )
        if isinstance(node, ast.Call):
            named = isinstance(node.func, ast.Name) and node.func.id in maths.FUNCTIONS
            if not named or node.keywords or not node.args:
                raise SheetError(f"{at}: a body may call only {', '.join(maths.FUNCTIONS)}, without keywords.")
            if len(node.args) > 1 and node.func.id not in ("max", "min"):  # type: ignore[attr-defined]
                raise SheetError(f"{at}: {node.func.id}() takes one quantity.")  # type: ignore[attr-defined]
        elif isinstance(node, ast.Constant):
            if isinstance(node.value, bool) or not isinstance(node.value, (int, float)):
                raise SheetError(f"{at}: {node.value!r} is not a number.")
        elif isinstance(node, ast.Name) and id(node) not in called:
            if node.id not in known and node.id != "pi":
                raise SheetError(f"{at}: '{node.id}' is neither an argument nor an earlier line.{nearest(node.id, known)}")
            if node.id != "pi":
                names.append(node.id)
    return tuple(dict.fromkeys(names))


def _rebuilt(function: Callable, node: ast.FunctionDef, first: int) -> Callable:
    bare = ast.FunctionDef(node.name, node.args, node.body, [], None)
    for arg in bare.args.args:
        arg.annotation = None
    module = ast.Module([ast.copy_location(bare, node)], [])
    ast.fix_missing_locations(ast.increment_lineno(module, first - 1))
    names: dict[str, Any] = {"__builtins__": {}, **CONSTANTS}
    exec(compile(module, function.__code__.co_filename, "exec"), names)
    return names[node.name]

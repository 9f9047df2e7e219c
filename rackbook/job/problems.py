"""All that is wrong with a job folder, in one error of one line a problem."""

from __future__ import annotations

import typing
from collections.abc import Iterable, Sequence

from pydantic import ValidationError

from rackbook.trace import InputError
from rackbook.trace.errors import nearest

from .fields import Record
from .text import Place, Text, shown
from .yamlfile import Items, Mapping


class FolderError(InputError):
    """Every problem found in a job folder; ``problems`` holds one InputError for each, the text one line for each."""

    def __init__(self, problems: Iterable[InputError]) -> None:
        self.problems: tuple[InputError, ...] = tuple(sorted(problems, key=lambda p: (p.file, p.line or 10**9)))
        first = self.problems[0]
        super().__init__(first.message, file=first.file, line=first.line, field=first.field)
        self.args = ("\n".join(str(problem) for problem in self.problems),)


Loc = Sequence[int | str]


def problems_of(error: ValidationError, model: type[Record], root: Mapping | dict[str, Text], place: Place) -> list[InputError]:
    """Return one located problem for each of a model's complaints about ``root`` (whose own place is ``place``)."""
    return [_problem(entry, model, root, place) for entry in error.errors(include_url=False)]


def _problem(entry: typing.Any, model: type[Record], root: Mapping | dict[str, Text], place: Place) -> InputError:
    loc: Loc = entry["loc"]
    kind = entry["type"]
    if kind in ("missing", "extra_forbidden"):
        parent = _record_at(model, loc[:-1])
        names = parent.names() if parent else []
        name = str(loc[-1])
        where = place_of(root, loc, place)
        if kind == "missing":
            return where.problem(f"'{name}' is missing or blank, and has no default. {_asked(parent, name)}")
        return where.problem(f"unknown name {shown(name)}.{nearest(name, names)} Allowed here: {', '.join(names)}.")
    where = place_of(root, loc, place)
    if kind == "value_error":
        return where.problem(str(entry["ctx"]["error"]))
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        record = _record_at(model, loc)
        return where.problem(f"a level of keys is asked here: {', '.join(record.names() if record else [])}.")
    if kind in ("tuple_type", "list_type"):
        return where.problem("a list is asked here. Write [first, second], or one '- item' a line.")
    if kind in ("too_short", "too_long"):
        return where.problem("the list has too few or too many items. " + str(entry["msg"]) + ".")
    return where.problem(f"not allowed: {entry['msg']}.")


def _asked(parent: type[Record] | None, name: str) -> str:
    """Return the sentence that tells what to write for a missing name."""
    for key, info in parent.model_fields.items() if parent else ():
        if (info.alias or key) == name:
            inner = _record_in(info.annotation)
            if inner:
                return f"Write '{name}:' with {', '.join(inner.names())}."
            for mark in info.metadata:
                if hasattr(mark, "unit"):
                    return f"Write a number{f' with its unit ({mark.unit})' if mark.unit else ''}, {mark.allowed}."
                if hasattr(mark, "words"):
                    return f"Write one of: {', '.join(mark.words)}."
    return "Write it."


def _record_in(annotation: typing.Any) -> type[Record] | None:
    """Return the record an annotation is of, through optional and tuple, or None."""
    if isinstance(annotation, type) and issubclass(annotation, Record):
        return annotation
    return next(filter(None, (_record_in(part) for part in typing.get_args(annotation))), None)


def _record_at(model: type[Record], loc: Loc) -> type[Record] | None:
    current: type[Record] | None = model
    for name in loc:
        if isinstance(name, int) or current is None:
            continue
        info = next((i for key, i in current.model_fields.items() if (i.alias or key) == name), None)
        current = _record_in(info.annotation) if info else None
    return current


def place_of(root: Mapping | dict[str, Text], loc: Loc, place: Place) -> Place:
    """Return the place of what stands at ``loc``; for what is not there, that of its nearest parent, named in full."""
    node: object = root
    found = place
    for number, name in enumerate(loc):
        if isinstance(node, Items) and isinstance(name, int) and name < len(node):
            node = node[name]
        elif isinstance(node, dict) and name in node:
            keys_at = getattr(node, "keys_at", None)
            node = node[name]
            if keys_at and number == len(loc) - 1 and not isinstance(node, Text):
                return keys_at[str(name)]
        else:
            rest = ".".join(str(part) for part in loc[number:])
            field = f"{found.field}{'.' if isinstance(root, Mapping) else ', '}{rest}" if found.field else rest
            return Place(found.file, field, found.line, found.start, found.end)
        found = node.place  # type: ignore[attr-defined]
    return found

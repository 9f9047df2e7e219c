"""Read rack.yaml into a tree of words that know their places.

The parser's events are used as they come, so a word stays what the engineer wrote (``1.10`` keeps its zero, ``no``
is not a truth value), and whatever can make a small file large or strange - anchors, aliases, tags, merged keys,
deep nesting - is refused where it stands.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from rackbook.trace import InputError

from .text import Place, Text, shown

#: Levels and lines; far above any rack.
DEEPEST, LONGEST = 8, 2000


class Mapping(dict):
    """Keys and values of one level, with its place; ``indent`` is the column of its keys, None in ``{...}``."""

    place: Place
    indent: int | None = None
    keys_at: dict[str, Place]


class Items(list):
    """A list of one level, with its place; ``indent`` is the column of its dashes, None in ``[...]``."""

    place: Place
    indent: int | None = None


Node = Mapping | Items | Text


def read_yaml(file: str, text: str) -> Mapping:
    """Return the tree of a YAML text.

    Raises:
        InputError: Not YAML, not one document of ``key: value`` lines, or a construct that is refused.

    """
    if text.count("\n") > LONGEST:
        raise InputError(f"the file has more than {LONGEST} lines. A rack's has far fewer.", file=file, line=LONGEST)
    events = YAML(pure=True).parse(text)
    try:
        return _document(_Reader(file, text, events))
    except InputError:
        raise
    except MarkedYAMLError as e:
        mark = e.problem_mark or e.context_mark
        line = mark.line + 1 if mark else None
        what = " ".join(str(e.problem or e.context or "not YAML").split())
        hint = " Indent with blanks, never with tabs." if "\\t" in what or "tab" in what else ""
        raise InputError(
            f"the line cannot be read ({what}). Allowed: `key: value` lines, indented alike within a level; a text"
            f" with ':' or '#' in it stands in quotes.{hint}",
            file=file,
            line=line,
        ) from e
    except YAMLError as e:  # the reader's own: characters no YAML text may hold
        raise InputError(
            f"the file holds a character that is not allowed ({shown(' '.join(str(e).split()), 90)}). Remove it.",
            file=file,
            line=1,
        ) from e
    except (ValueError, OverflowError, IndexError, AssertionError, AttributeError, TypeError, NotImplementedError) as e:
        raise InputError(  # odd escapes and directives reach builtins inside the parser
            f"the file cannot be read as YAML ({shown(e, 90)}). Allowed: `key: value` lines.", file=file, line=1
        ) from e


class _Reader:
    def __init__(self, file: str, text: str, events: Iterator[Event]) -> None:
        self.file, self.text, self.events = file, text, events

    def place(self, event: Event, path: tuple[str, ...]) -> Place:
        start, end = event.start_mark, event.end_mark
        return Place(self.file, ".".join(path), start.line + 1, start.index, end.index)


def _document(reader: _Reader) -> Mapping:
    root: Node | None = None
    for event in reader.events:
        if isinstance(event, DocumentStartEvent):
            if root is not None:
                raise reader.place(event, ()).problem("a second document ('---') starts here. Keep one document.")
            root = _node(reader, next(reader.events), (), None)
    if isinstance(root, Mapping) and root:
        return root
    place = root.place if isinstance(root, Items) else Place(reader.file, "", 1)
    raise place.problem("the file holds no `key: value` lines. Start from a demo job and keep its top keys.")


def _node(reader: _Reader, event: Event, path: tuple[str, ...], key: Place | None) -> Node:
    place = reader.place(event, path)
    anchor = getattr(event, "anchor", None)
    if isinstance(event, AliasEvent) or anchor:
        raise place.problem(f"anchors and aliases ('&{anchor}', '*{anchor}') are refused. Write each value out.")
    if getattr(event, "tag", None):
        raise place.problem("YAML tags ('!...') are refused. Write the value alone.")
    if len(path) > DEEPEST:
        raise place.problem(f"nested deeper than {DEEPEST} levels. No field of the job lies that deep.")
    if isinstance(event, ScalarEvent):
        return _scalar(reader, event, place, key)
    if isinstance(event, SequenceStartEvent):
        return _items(reader, event, place, path)
    if isinstance(event, MappingStartEvent):
        return _mapping(reader, event, place, path)
    raise place.problem("this construct is refused. Write `key: value`.")


def _scalar(reader: _Reader, event: ScalarEvent, place: Place, key: Place | None) -> Text:
    if event.style in ("|", ">"):  # the line break that ends a block is layout, not text
        return Text(event.value.rstrip("\n"), place)
    if key is not None and place.start == place.end and not event.value:
        # A blank value has no place of its own: it belongs right behind its key's colon.
        colon = re.compile(r"\s*:").match(reader.text, key.end)
        at = colon.end() if colon else key.end
        return Text("", replace(place, line=key.line, start=at, end=at))
    return Text(event.value, place)


def _items(reader: _Reader, event: SequenceStartEvent, place: Place, path: tuple[str, ...]) -> Items:
    items = Items()
    items.indent = None if event.flow_style else event.start_mark.column
    for entry in reader.events:
        if isinstance(entry, SequenceEndEvent):
            items.place = replace(place, end=entry.end_mark.index)
            break
        items.append(_node(reader, entry, (*path, str(len(items) + 1)), None))
    return items


def _mapping(reader: _Reader, event: MappingStartEvent, place: Place, path: tuple[str, ...]) -> Mapping:
    mapping = Mapping()
    mapping.indent = None if event.flow_style else event.start_mark.column
    mapping.keys_at = {}
    for entry in reader.events:
        if isinstance(entry, MappingEndEvent):
            mapping.place = replace(place, end=entry.end_mark.index)
            break
        if not isinstance(entry, ScalarEvent | AliasEvent):  # refused here: a key may not hold levels of its own
            raise reader.place(entry, path).problem("a list or a level stands where a key is asked. Write `key: value`.")
        key = _node(reader, entry, path, None)
        if not isinstance(key, Text) or not re.fullmatch(r"[A-Za-z_][A-Za-z0-9_]{0,39}", key):
            raise key.place.problem(f"{shown(key)} is not a key. A key is one short word of letters and '_'.")
        at = replace(key.place, field=".".join((*path, key)))
        if key in mapping:
            raise at.problem(f"the key stands twice (first on line {mapping.keys_at[key].line}). Keep one of them.")
        mapping.keys_at[str(key)] = at
        mapping[str(key)] = _node(reader, next(reader.events), (*path, str(key)), at)
    return mapping

"""Change fields of a job folder: tried on the whole job first, written without losing a byte of the rest.

A change replaces the characters of one value (or adds one key) in the text as it stands, so comments, order, quotes
and line ends of everything else survive. A file is replaced in one step by a complete, synced new one; the version
before is kept as ``<name>.previous``. Whoever is stopped at any moment finds either the old or the new file.
"""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import tempfile
from collections.abc import Mapping as Changes
from pathlib import Path

from rackbook.trace import InputError
from rackbook.trace.errors import nearest

from .csvfile import read_schedule
from .folder import CIRCUITS, EQUIPMENT, RACK, Job, decode, parse, read_files
from .text import Place, Text, refused_character, shown
from .yamlfile import Items, Mapping, Node, read_yaml

SCHEDULES = {"equipment": EQUIPMENT, "circuits": CIRCUITS}
Target = str | tuple[str, str, str]


def set_field(folder: str | Path, field: str, text: str) -> Job:
    """Write one field of rack.yaml, ``set_field(folder, "site.wind.speed", "120 mph")``, and return the changed job.

    Raises:
        InputError: The job would not load with the change; nothing was written.

    """
    return save(folder, {field: text})


def set_cell(folder: str | Path, schedule: str, tag: str, column: str, text: str) -> Job:
    """Write one cell, ``set_cell(folder, "equipment", "T-1", "weight", "640 lbf")``, and return the changed job.

    The unit may be given when it is that of the column's head.

    Raises:
        InputError: The job would not load with the change; nothing was written.

    """
    return save(folder, {(schedule, tag, column): text})


def save(folder: str | Path, changes: Changes[Target, str]) -> Job:
    """Write several changes that are good together: dotted paths of rack.yaml, or (schedule, tag, column), to text.

    A text of ``""`` makes a field blank. Items of a list count from 1; the next number adds one.

    Raises:
        InputError: The job would not load with the changes, a file was changed by somebody else meanwhile, or a file
            cannot be written; a file that was not written is untouched.

    """
    before = read_files(folder)
    after = dict(before)
    for target, text in changes.items():
        if isinstance(target, str):
            after[RACK] = _edit(RACK, after[RACK], target, text)
        else:
            name = SCHEDULES.get(target[0])
            if name is None:
                raise InputError(f"{shown(target[0])} is no schedule. Allowed: {', '.join(SCHEDULES)}.", file=RACK)
            after[name] = _edit(name, after[name], target[1:], text)
    job = parse(after)
    if read_files(folder) != before:
        raise InputError("a file of the folder was changed by somebody else meanwhile. Load the job and try again.", file=RACK)
    for name, content in after.items():
        if content != before[name]:
            replace_file(Path(folder) / name, content)
    return job


def _edit(name: str, content: bytes, target: str | tuple[str, ...], text: str) -> bytes:
    bad = refused_character(text)
    if bad:
        raise InputError(f"the new text holds {bad}, which no field may hold.", file=name, field=shown(target, 80))
    whole = decode(name, content)
    body = whole.removeprefix("\ufeff")
    mark = whole[: len(whole) - len(body)]
    new = _in_yaml(body, target, text) if isinstance(target, str) else _in_csv(name, body, target[0], target[1], text)
    return (mark + new).encode("utf-8")


# --- rack.yaml ---------------------------------------------------------------------------------------------------------


def _in_yaml(body: str, field: str, text: str) -> str:
    node: Node = read_yaml(RACK, body)
    names = field.split(".")
    for number, name in enumerate(names):
        found = _child(node, name)
        if isinstance(node, Items) and text == "" and number == len(names) - 1:
            raise node.place.problem("an item of a list cannot be blank. Give it a value, or take it out in the file.")
        if found is None or (found == "" and number < len(names) - 1):
            return _add(body, node, found, names[number:], text)
        node = found
    if not isinstance(node, Text):
        raise node.place.problem("this is a level of keys, not a field. Name the field in it, such as site.wind.speed.")
    return _spliced(body, node.place, _written(text))


def _child(node: Node, name: str) -> Node | None:
    """Return what stands under a name, None for what may be added, and refuse what can be neither."""
    if isinstance(node, Mapping):
        if not re.fullmatch(r"[A-Za-z_][A-Za-z0-9_]{0,39}", name):
            raise node.place.problem(f"{shown(name)} is not a key. Keys here: {', '.join(node)}.")
        return node.get(name)
    if isinstance(node, Items):
        if not re.fullmatch(r"[1-9][0-9]{0,3}", name) or int(name) > len(node) + 1:
            raise node.place.problem(f"{shown(name)} is not an item. Items count from 1 to {len(node)}; the next adds one.")
        return node[int(name) - 1] if int(name) <= len(node) else None
    raise node.place.problem(f"this is one value; {shown(name)} cannot stand below it.")


def _add(body: str, parent: Node, blank: Node | None, names: list[str], text: str) -> str:
    """Return the text with a new key or item; levels that do not exist are written as ``{key: value}``."""
    value = _written(text)
    for name in reversed(names[1:]):
        value = f"[{value}]" if name == "1" else f"{{{name}: {value}}}"
    if blank is not None:  # a key without a value: the level goes behind its colon
        return _spliced(body, blank.place, value)
    entry = value if isinstance(parent, Items) else f"{names[0]}: {value}"
    if parent.indent is None:  # type: ignore[union-attr]
        at = parent.place.end - 1
        return f"{body[:at].rstrip()}{', ' if parent else ''}{entry}{body[at:]}"
    newline = "\r\n" if "\r\n" in body else "\n"
    lead = "- " if isinstance(parent, Items) else ""
    end = re.compile(r"[^\r\n]*").match(body, max(_last(parent) - 1, 0))
    at = end.end() if end else len(body)
    return f"{body[:at]}{newline}{' ' * parent.indent}{lead}{entry}{body[at:]}"  # type: ignore[operator, union-attr]


def _last(node: Node) -> int:
    """Return where the last value under a node ends (a block's own end lies behind the comments after it)."""
    if isinstance(node, Text) or node.indent is None:
        return node.place.end
    return max(_last(child) for child in (node.values() if isinstance(node, Mapping) else node))


def _written(text: str) -> str:
    """Return a text as a YAML value: bare where that is safe, else in single quotes."""
    if text == "" or re.fullmatch(r"-?[A-Za-z0-9+.][A-Za-z0-9 ._/%°²+()-]*(?<! )", text):
        return text
    return "'" + text.replace("'", "''") + "'"


def _spliced(body: str, place: Place, value: str) -> str:
    """Return the text with the characters at a place replaced, a blank kept between a key's colon and its value."""
    old = body[place.start : place.end]
    lead = " " if value and body[place.start - 1 : place.start] == ":" else ""
    tail = old[len(old.rstrip("\r\n")) :] if old[:1] in "|>" and old else ""
    return f"{body[: place.start]}{lead}{value}{tail}{body[place.end :]}"


# --- schedules ---------------------------------------------------------------------------------------------------------


def _in_csv(name: str, body: str, tag: str, column: str, text: str) -> str:
    schedule = read_schedule(name, body)
    if schedule.problems:
        raise schedule.problems[0]
    row = next((row for row in schedule.rows if row.get("tag") == tag), None)
    if row is None:
        tags = [row["tag"] for row in schedule.rows if "tag" in row]
        raise InputError(
            f"there is no row {shown(tag)}.{nearest(tag[:60], tags)} Rows: {', '.join(tags)[:400]}.", file=name, line=1
        )
    cell = row.get(column)
    if cell is None:
        known = list(schedule.heads)
        raise row["tag"].place.problem(
            f"there is no column {shown(column)}.{nearest(column, known)} Columns: {', '.join(known)}."
        )
    number, _, unit = text.strip().rpartition(" ")
    value = number.strip() if unit and unit == cell.unit else text
    if any(mark in value for mark in ',"'):
        value = '"' + value.replace('"', '""') + '"'
    return body[: cell.place.start] + value + body[cell.place.end :]


# --- writing -----------------------------------------------------------------------------------------------------------


def replace_file(path: Path, content: bytes) -> None:
    """Put new content in a file's place in one step; the content before is kept as ``<name>.previous``.

    Raises:
        InputError: The folder cannot be written; the file is untouched.

    """
    path = Path(os.path.realpath(path))
    try:
        _swap(path.with_name(f"{path.name}.previous"), path.read_bytes(), like=path)
        _swap(path, content, like=path)
        _sync_folder(path.parent)
    except OSError as e:
        raise InputError(f"the file cannot be written ({e.strerror}). It is as it was.", file=path.name) from e


def _swap(path: Path, content: bytes, like: Path) -> None:
    """Write a complete temporary file beside ``path``, then rename it over it."""
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".saving", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        shutil.copymode(like, name)
        os.replace(name, path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(name)
        raise


def _sync_folder(folder: Path) -> None:
    """Make the renames last through a power failure, where the system can."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)

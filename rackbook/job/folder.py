"""A job folder read as a whole: every file, every problem, one Job."""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable, Iterator
from collections.abc import Mapping as Files
from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError

from rackbook.trace import InputError
from rackbook.trace.errors import nearest

from .csvfile import Schedule, read_schedule
from .fields import Field, Measure, Record, read_unit
from .problems import FolderError, problems_of
from .rack import RackFile
from .rack_rules import rack_problems
from .schedule_rules import circuit_problems, duplicate_problems, equipment_problems
from .schedules import Circuit, Equipment
from .text import Place, Text, refused_character, shown
from .yamlfile import read_yaml

RACK, EQUIPMENT, CIRCUITS = FILES = ("rack.yaml", "equipment.csv", "circuits.csv")
#: Bytes; far above any rack, far below what would hold up a reader.
LARGEST = {RACK: 100_000, EQUIPMENT: 2_000_000, CIRCUITS: 2_000_000}

#: Problems listed for the fields of one file; each may ask for nearest spellings, which take time.
MOST = 300

R = TypeVar("R", bound=Record)


class Job(RackFile):
    """A rack as its folder describes it; frozen, every quantity a Value whose source is the file and line.

    The attribute path of a field is its dotted path in rack.yaml (``job.site.wind.speed``); the schedules are
    ``equipment`` and ``circuits`` in the order of their rows.
    """

    equipment: tuple[Equipment, ...]
    circuits: tuple[Circuit, ...]

    @functools.cached_property
    def equipment_by_tag(self) -> dict[str, Equipment]:
        """The pieces of equipment by tag."""
        return {item.tag: item for item in self.equipment}

    @functools.cached_property
    def circuits_by_tag(self) -> dict[str, Circuit]:
        """The circuits by tag."""
        return {circuit.tag: circuit for circuit in self.circuits}


def load(folder: str | Path) -> Job:
    """Return the job in a folder.

    Raises:
        FolderError: One line for each problem found in rack.yaml, equipment.csv and circuits.csv, each with file,
            line, field, what was asked, what is allowed and what to do. It is an InputError.

    """
    return parse(read_files(folder))


def read_files(folder: str | Path) -> dict[str, bytes]:
    """Return the bytes of the three files of a job folder.

    Raises:
        FolderError: A file is missing, cannot be read or is far too large.

    """
    problems, files = [], {}
    for name in FILES:
        path = Path(folder) / name
        try:
            if path.stat().st_size > LARGEST[name]:
                problems.append(
                    InputError(f"the file is larger than {LARGEST[name]} bytes. A rack's is far smaller.", file=name)
                )
            else:
                files[name] = path.read_bytes()
        except (OSError, ValueError) as e:
            why = getattr(e, "strerror", None) or "not a path"
            problems.append(
                InputError(f"the file cannot be read ({why}) in {shown(folder, 200)}. Start from a demo job.", file=name)
            )
    if problems:
        raise FolderError(problems)
    return files


def parse(files: Files[str, bytes]) -> Job:
    """Return the job in the bytes of its three files; FolderError lists all problems of all files."""
    problems: list[InputError] = []
    rack = _rack(files[RACK], problems)
    equipment = _schedule(EQUIPMENT, files[EQUIPMENT], Equipment, problems)
    circuits = _schedule(CIRCUITS, files[CIRCUITS], Circuit, problems)
    if equipment is not None:
        problems += _some(EQUIPMENT, equipment_problems(equipment.pairs, rack))
        known = {item.tag: item for item, _ in equipment.pairs} if equipment.whole else None
    else:
        known = None
    if circuits is not None:
        problems += _some(CIRCUITS, circuit_problems(circuits.pairs, known))
    if problems or rack is None or equipment is None or circuits is None:
        raise FolderError(problems)
    return Job.model_construct(
        **{name: getattr(rack, name) for name in RackFile.model_fields},
        equipment=tuple(item for item, _ in equipment.pairs),
        circuits=tuple(item for item, _ in circuits.pairs),
    )


def _some(name: str, found: Iterable[InputError]) -> Iterator[InputError]:
    """Yield the first problems of many, and say when there are more."""
    for number, problem in enumerate(found):
        if number == MOST:
            yield InputError(f"more than {MOST} problems. Mend these first, then load again.", file=name)
            return
        yield problem


def decode(name: str, content: bytes) -> str:
    """Return the text of a file; a byte order mark stays in front of it.

    Raises:
        InputError: Not UTF-8, or a control character; the line is named.

    """
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as e:
        line = content.count(b"\n", 0, e.start) + 1
        raise InputError(
            f"the byte {content[e.start]:#04x} is not UTF-8. Save the file as UTF-8 (in a spreadsheet: 'CSV UTF-8').",
            file=name,
            line=line,
        ) from None
    return text


def _clean(name: str, content: bytes) -> str:
    """Return the text without a byte order mark, refused when any line holds a control character."""
    text = decode(name, content).removeprefix("\ufeff")
    if not text.isascii() or not text.replace("\r\n", "").replace("\n", "").isprintable():
        for number, line in enumerate(re.split("\r\n|\n|\r", text), start=1):
            bad = refused_character(line)
            if bad and not (bad == "a tab" and name == RACK):  # a tab in YAML has a better message there
                raise InputError(f"the line holds {bad}, which no field may hold. Remove it.", file=name, line=number)
    return text


def _rack(content: bytes, problems: list[InputError]) -> RackFile | None:
    try:
        tree = read_yaml(RACK, _clean(RACK, content))
    except InputError as e:
        problems.append(e)
        return None
    try:
        rack = RackFile.model_validate(tree)
    except ValidationError as e:
        problems += problems_of(e, RackFile, tree, Place(RACK, "", 1))
        return None
    problems += rack_problems(rack, tree)
    return rack


class _Rows:
    """The rows of a schedule that could be read; ``whole`` when these are all."""

    def __init__(self, pairs: list[Any], whole: bool) -> None:
        self.pairs, self.whole = pairs, whole


def _schedule(name: str, content: bytes, model: type[R], problems: list[InputError]) -> _Rows | None:
    try:
        schedule = read_schedule(name, _clean(name, content))
    except InputError as e:
        problems.append(e)
        return None
    before = len(problems)
    problems += schedule.problems
    sound = _sound_heads(schedule, model, problems)
    if not schedule.rows and len(problems) == before:
        problems.append(InputError("there are heads, but no rows. Write a row for each item.", file=name, line=1))
    problems += duplicate_problems(schedule.rows)
    pairs = []
    for row in schedule.rows:
        place = next(iter(row.values())).place
        place = Place(name, place.field.rpartition(", ")[0], place.line)
        try:
            pairs.append((model.model_validate({k: v for k, v in row.items() if k in sound}), row))
        except ValidationError as e:
            found = problems_of(e, model, row, place)
            kept = [p for p, entry in zip(found, e.errors(), strict=True) if entry["loc"][0] in sound]
            problems += kept
    # Rows are compared with each other and with the rack even when others failed; only ends need all of them.
    return _Rows(pairs, whole=len(problems) == before)


def _sound_heads(schedule: Schedule, model: type[Record], problems: list[InputError]) -> set[str]:
    """Return the columns whose heads are right; for each wrong or missing head one problem is listed."""
    names = model.names()
    sound = set()
    for name, head in schedule.heads.items():
        info = next((i for key, i in model.model_fields.items() if (i.alias or key) == name), None)
        if info is None:
            hint = nearest(name, [n for n in names if n not in schedule.heads])
            problems.append(head.place.problem(f"unknown column {shown(name)}.{hint} Allowed: {', '.join(names)}."))
            continue
        wrong = _wrong_unit(head, _measure(info))
        if wrong:
            problems.append(head.place.problem(f"{shown(head)}: {wrong}"))
        else:
            sound.add(name)
    for key, info in model.model_fields.items():
        name = info.alias or key
        if name in schedule.heads:
            continue
        sound.add(name)
        if info.is_required():
            sound.discard(name)
            measure = _measure(info)
            asked = f"{name} [{measure.unit}]" if measure and measure.unit else name
            problems.append(
                Place(schedule.file, "heads", 1).problem(f"the column '{asked}' is missing. Add it to the first line.")
            )
    return sound


def _measure(info: Any) -> Measure | None:
    """Return the measure a model's field is annotated with, through ``| None``."""
    marks = [
        *info.metadata,
        *(m for part in getattr(info.annotation, "__args__", ()) for m in getattr(part, "__metadata__", ())),
    ]
    return next((mark for mark in marks if isinstance(mark, Field) and isinstance(mark, Measure)), None)


def _wrong_unit(head: Text, measure: Measure | None) -> str:
    """Return what is wrong with the unit in a head, or an empty text."""
    if measure is None or not measure.unit:
        return f"the column has no unit. Remove [{head.unit}]." if head.unit else ""
    if not head.unit:
        return f"the head has no unit. Write it in brackets, such as [{measure.unit}]."
    try:
        read_unit(head.unit, measure.unit, measure.only)
    except ValueError as e:
        return str(e)
    return ""

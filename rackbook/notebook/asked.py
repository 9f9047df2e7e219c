"""What a form asks, read from the job's own model: one entry for each field, nested as the file is."""

from __future__ import annotations

import typing
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from pydantic.fields import FieldInfo

from rackbook.job import Circuit, Equipment, catalog
from rackbook.job.fields import Count, Day, Field, Flag, Measure, OneOf, Record, Share, Words
from rackbook.job.rack import RackFile
from rackbook.job.yamlfile import Items, Mapping, Node
from rackbook.trace import LookupFailed
from rackbook.trace.errors import nearest

from .labels import label

ROWS: dict[str, type[Record]] = {"equipment": Equipment, "circuits": Circuit}


@dataclass(frozen=True)
class Asked:
    """One field.

    Args:
        path: Dotted path in rack.yaml, or column of a schedule.
        text: What the file holds; blank where nothing is given.
        label: Its name in plain words.
        help: What may be written.
        words: The words to choose from, where only these are allowed.
        near: Spellings to suggest, where the tables list them.

    """

    path: str
    text: str
    label: str
    help: str
    words: tuple[str, ...] = ()
    near: tuple[str, ...] = ()


@dataclass(frozen=True)
class Group:
    """Fields under one heading; a group that is not in the file yet is added as a whole."""

    path: str
    label: str
    note: str
    parts: tuple[Asked | Group, ...] = field(default=())
    given: bool = True
    in_row: bool = False

    def fields(self) -> Iterator[Asked]:
        """Yield the fields in order, through all levels that are in the file."""
        for part in self.parts:
            if isinstance(part, Asked):
                yield part
            elif part.given:
                yield from part.fields()

    @property
    def shape(self) -> tuple:
        """What is asked without the texts: a form is built anew only when this changes."""
        return (
            self.path,
            self.given,
            *(p.shape if isinstance(p, Group) else (p.path, p.words, p.near) for p in self.parts),
        )


def asked(path: str, tree: Mapping) -> Group:
    """Return what is asked at a dotted path of rack.yaml; a single field comes as a group of one.

    Raises:
        LookupFailed: There is no such path; those beside it are named.

    """
    model: typing.Any = RackFile
    info: FieldInfo | None = None
    node: Node | None = tree
    for n, name in enumerate(path.split(".")):
        inner = _item(model)
        if inner is not None and name.isdigit() and isinstance(node, Items) and 0 < int(name) <= len(node):
            model, info, node = inner, info if inner is _mark(info) else None, node[int(name) - 1]
            continue
        record = _record(model)
        fields = _fields(record) if record else {}
        if name not in fields:
            known = list(fields)
            above = ".".join(path.split(".")[:n])
            raise LookupFailed(
                f"rack.yaml has no '{path}'.{nearest(name, known)} "
                + (f"Below '{above}': {', '.join(known)}." if above else f"It has: {', '.join(known)}.")
            )
        info = fields[name]
        model = info.annotation if _record(info.annotation) or _item(info.annotation) else _mark(info)
        node = node.get(name) if isinstance(node, Mapping) else None
    found = _asked(path, model, node, tree, info is not None and not info.is_required())
    if isinstance(found, Asked):
        return Group(path, *label(path), (found,))
    return found


def asked_row(schedule: str, cells: dict[str, str], units: dict[str, str]) -> Group:
    """Return what is asked for one row of a schedule: its cells by column, the units of the heads by column."""
    parts = []
    for name, info in ROWS[schedule].model_fields.items():
        column = info.alias or name
        if column == "tag" or column not in cells:
            continue
        of = f" [{units[column]}]" if units.get(column) else ""
        words, note = label(column)
        mark = _mark(info)
        near = () if mark is None else _near_column(column, cells)
        parts.append(Asked(column, cells[column], words + of, _help(mark, note), _words(mark, not info.is_required()), near))
    return Group(schedule, "", "", tuple(parts))


def _asked(path: str, model: typing.Any, node: Node | None, tree: Mapping, optional: bool = False) -> Asked | Group:
    words, note = label(path)
    record, item = _record(model), _item(model)
    if record is not None:
        given = isinstance(node, Mapping)
        parts = []
        for name, info in _fields(record).items():
            below = info.annotation if _record(info.annotation) or _item(info.annotation) else _mark(info)
            child = node.get(name) if isinstance(node, Mapping) else None
            parts.append(_asked(f"{path}.{name}", below, child, tree, not info.is_required()))
        return Group(path, words, note, tuple(parts), given, in_row=path.rpartition(".")[2].isdigit())
    if item is not None:
        items = list(node) if isinstance(node, Items) else []
        # one more than there are: the place to add an item
        parts = [_asked(f"{path}.{n}", item, child, tree) for n, child in enumerate([*items, None], 1)]
        last = parts[-1]
        if isinstance(last, Asked):
            parts[-1] = replace(last, help=f"fill in to add one; {last.help}")
        return Group(path, words, note, tuple(parts))
    text = node if isinstance(node, str) else ""
    return Asked(path, str(text), words, _help(model, note), _words(model, optional), _near_path(path, tree))


def _fields(record: type[Record]) -> dict[str, FieldInfo]:
    """Return the fields of a record by the names they are written with: ``class``, ``from``."""
    return {info.alias or name: info for name, info in record.model_fields.items()}


def _record(model: typing.Any) -> type[Record] | None:
    """Return the record a model is, through ``| None``; None for a list of records."""
    if isinstance(model, type) and issubclass(model, Record):
        return model
    if _item(model) is not None:
        return None
    return next((r for r in typing.get_args(model) if isinstance(r, type) and issubclass(r, Record)), None)


def _item(model: typing.Any) -> typing.Any:
    """Return what a list holds: a record or a field; None where the model is no list."""
    if typing.get_origin(model) is tuple:
        held = typing.get_args(model)[0]
        return held if isinstance(held, type) else next(m for m in held.__metadata__ if isinstance(m, Field))
    return None


def _mark(info: FieldInfo | None) -> Field | None:
    """Return the field annotation of a model's attribute, through ``| None``."""
    if info is None:
        return None
    inside = (m for part in typing.get_args(info.annotation) for m in getattr(part, "__metadata__", ()))
    return next((m for m in (*info.metadata, *inside) if isinstance(m, Field)), None)


def _help(mark: Field | None, note: str) -> str:
    allowed = ""
    if isinstance(mark, Measure):
        allowed = mark.allowed + ("" if mark.unit else ", no unit")
    elif isinstance(mark, Share):
        allowed = "yes, no, or a percentage"
    elif isinstance(mark, Day):
        allowed = "year-month-day"
    elif isinstance(mark, Words) and mark.most > 60:
        allowed = f"up to {mark.most} characters"
    return "; ".join(filter(None, (note, allowed)))


def _words(mark: Field | None, optional: bool) -> tuple[str, ...]:
    words: Iterable[str] = ()
    if isinstance(mark, OneOf):
        words = mark.words
    elif isinstance(mark, Flag):
        words = ("yes", "no")
    elif isinstance(mark, Count):
        words = map(str, mark.allowed)
    words = tuple(words)
    return ("", *words) if words and optional else words


def _near_path(path: str, tree: Mapping) -> tuple[str, ...]:
    name = path.rpartition(".")[2]
    if path in ("frame.post", "frame.rail"):
        return catalog.shapes(name)
    if path.startswith(("frame.braces.", "frame.ties.")) and name == "shape":
        return catalog.shapes("brace" if path.startswith("frame.braces.") else "rail")
    if path.startswith("frame.materials."):
        return catalog.names("materials", "material")
    if path == "connections.bolt.grade":
        return catalog.names("bolt_stress", "fastener")
    if path in ("piers.bars.size", "piers.ties.size"):
        return catalog.bar_sizes()
    if path == "site.seismic.system":
        codes = tree.get("codes")
        edition = str(codes.get("loads", "") if isinstance(codes, Mapping) else "").removeprefix("ASCE/SEI ")
        return catalog.names("seismic_systems", "system", edition)
    return ()


def _near_column(column: str, cells: dict[str, str]) -> tuple[str, ...]:
    if column == "insulation":
        return catalog.names("insulation", "type")
    if column in ("size", "ground"):
        return catalog.names("ampacity", "size")
    if column == "trade_size" and cells.get("raceway_kind"):
        return catalog.trade_sizes(cells["raceway_kind"])
    if column == "seismic_row":
        return catalog.names("components", "component")
    return ()

"""What must hold between the fields of the schedules: circuits lead somewhere, boxes do not share a place."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from rackbook.trace import InputError

from . import catalog
from .catalog import listed
from .fields import number
from .rack import RackFile
from .schedules import Circuit, Equipment
from .text import Place, Text, shown

Cells = dict[str, Text]
UTILITY = "utility"


def duplicate_problems(rows: Iterable[Cells]) -> Iterator[InputError]:
    """Yield one problem for each tag that stands twice, whether the rows are sound otherwise or not."""
    seen: dict[str, Text] = {}
    for row in rows:
        tag = row.get("tag", Text(""))
        if tag == "":
            continue
        first = seen.setdefault(tag.casefold(), tag)
        if first is not tag:
            yield tag.place.problem(f"the tag {shown(tag)} stands already on line {first.place.line}. Give each its own tag.")


_NEEDED = {
    "transformer": ("kva", "impedance", "voltage", "secondary_voltage", "phases"),
    "panelboard": ("voltage", "phases", "rating"),
    "disconnect": ("voltage", "phases", "rating"),
    "motor starter": ("voltage", "phases"),
}


def equipment_problems(pairs: list[tuple[Equipment, Cells]], rack: RackFile | None) -> Iterator[InputError]:
    """Yield what is wrong within and between pieces of equipment, and against the frame when it is known."""
    for item, row in pairs:
        if item.tag.casefold() == UTILITY:
            yield item.tag.place.problem("'utility' is the name of the supply. Give the equipment another tag.")
        for name in _NEEDED.get(item.kind, ()):
            if getattr(item, name) is None:
                yield _cell(row, name).problem(f"'{name}' is blank, but a {item.kind} needs it. Take it from the nameplate.")
        if item.importance.magnitude not in (1, 1.5):
            yield _cell(row, "importance").problem(f"{shown(row['importance'])} is not allowed. Allowed: 1.0, 1.5.")
        if item.seismic_row:
            yield from listed(item.seismic_row, catalog.names("components", "component"), "a component row")
        x, z, half = item.x.m_as("ft"), item.z.m_as("ft"), item.height.m_as("ft") / 2
        if z - half < -1e-6:
            yield _cell(row, "z").problem(f"the item reaches {half - z:.2f} ft below grade (z is its center). Raise z.")
        if rack:
            length, top = sum(bay.m_as("ft") for bay in rack.frame.bays), rack.frame.height.m_as("ft")
            if x > length:
                yield _cell(row, "x").problem(
                    f"the center lies beyond the rack, which is {length:g} ft long. Move it or add a bay."
                )
            if z > top:
                yield _cell(row, "z").problem(f"the center lies above the posts, which end at {top:g} ft. Lower it.")
    yield from _overlaps(pairs)


def _overlaps(pairs: list[tuple[Equipment, Cells]]) -> Iterator[InputError]:
    """Yield pairs of boxes that fill the same place; swept from left to right, so the work grows with neighbours."""
    boxes = sorted(((_box(item), item, row) for item, row in pairs), key=lambda box: box[0][0])
    open_boxes: list[tuple[tuple[float, ...], Equipment]] = []
    for box, item, row in boxes:
        open_boxes = [entry for entry in open_boxes if entry[0][1] > box[0] + 1e-3]
        for other, neighbour in open_boxes:
            apart = any(box[i] >= other[i + 1] - 1e-3 or other[i] >= box[i + 1] - 1e-3 for i in (0, 2, 4))
            if item.face == neighbour.face and not apart:
                yield _cell(row, "x").problem(
                    f"{item.tag} fills part of the place of {neighbour.tag} on the {item.face}. Move one."
                )
        open_boxes.append((box, item))


def _box(item: Equipment) -> tuple[float, float, float, float, float, float]:
    """Return left, right, bottom, top (ft) and back, front (ft, off the rail's face)."""
    x, z, w, h = item.x.m_as("ft"), item.z.m_as("ft"), item.width.m_as("ft") / 2, item.height.m_as("ft") / 2
    off, deep = item.offset.m_as("ft"), item.depth.m_as("ft")
    return x - w, x + w, z - h, z + h, off, off + deep


def circuit_problems(pairs: list[tuple[Circuit, Cells]], equipment: dict[str, Equipment] | None) -> Iterator[InputError]:
    """Yield what is wrong within and between circuits; ends are checked when the equipment is known."""
    for circuit, row in pairs:
        yield from _load_problems(circuit, row)
        if circuit.terminal.m_as("degC") not in (60, 75, 90):
            yield _cell(row, "terminal").problem(f"{shown(row['terminal'])} is not allowed. Allowed: 60, 75, 90 degC.")
        if circuit.phases == 3 and circuit.voltage.m_as("V") < 200:
            yield _cell(row, "voltage").problem("a three-phase circuit is named by its line-to-line voltage, such as 208.")
        yield from listed(circuit.insulation, catalog.names("insulation", "type"), "a conductor type")
        yield from listed(circuit.size, catalog.names("ampacity", "size"), "a conductor size")
        yield from listed(circuit.ground, catalog.names("ampacity", "size"), "a conductor size")
        if circuit.raceway_kind:
            sizes = catalog.trade_sizes(circuit.raceway_kind)
            yield from listed(circuit.trade_size, sizes, f"a trade size of {circuit.raceway_kind}")
        elif circuit.trade_size:
            yield _cell(row, "raceway_kind").problem("'raceway_kind' is blank, but a trade size is given. Write the kind.")
        if circuit.raceway and not circuit.raceway_kind:
            yield _cell(row, "raceway_kind").problem(
                f"'raceway_kind' is blank, but the circuit runs in {circuit.raceway}. Write it."
            )
        if equipment is not None:
            yield from _end_problems(circuit, row, equipment)
    yield from _raceway_problems(pairs)
    yield from _loop_problems(pairs)


#: What may state the load of a kind of circuit.
_LOADS = {"motor": ("hp", "load"), "transformer": ("kva",), "feeder": ("load", "kva"), "branch": ("load", "kva")}


def _load_problems(circuit: Circuit, row: Cells) -> Iterator[InputError]:
    if circuit.hp is not None:
        powers = catalog.names(f"motor_current_{'three' if circuit.phases == 3 else 'single'}_phase", "hp")
        if all(abs(number(power) - circuit.hp.magnitude) > 1e-6 for power in powers):
            yield row["hp"].place.problem(
                f"{shown(row['hp'])} hp is no row of the motor tables. Allowed: {', '.join(powers)}; or leave it blank and"
                " give the load in A."
            )
    given = [name for name in ("load", "hp", "kva") if getattr(circuit, name) is not None]
    allowed = _LOADS[circuit.kind]
    if len(given) != 1 or given[0] not in allowed:
        yield _cell(row, given[-1] if given else allowed[0]).problem(
            f"a {circuit.kind} circuit has exactly one of {' or '.join(allowed)}; given: {', '.join(given) or 'none'}."
            " Fill one, leave the others blank."
        )


def _end_problems(circuit: Circuit, row: Cells, equipment: dict[str, Equipment]) -> Iterator[InputError]:
    for name, end in (("from", circuit.from_), ("to", circuit.to)):
        field = name == "to" and circuit.to_kind == "field"
        if field and end in equipment:
            yield row[name].place.problem(f"{shown(end)} is equipment of the rack, but to_kind says field. Write rack.")
        elif not field and end not in equipment and not (name == "from" and end == UTILITY):
            near = catalog.near(end, (*equipment, *((UTILITY,) if name == "from" else ())))
            also = "or 'utility'" if name == "from" else "or, with to_kind = field, anything off the rack"
            hint = f" Nearest: {', '.join(near)}." if near else ""
            yield row[name].place.problem(f"{shown(end)} is nowhere.{hint} Allowed: a tag of equipment.csv {also}.")
    target = equipment.get(circuit.to)
    if circuit.kind == "transformer" and target is not None and target.kind != "transformer":
        yield row["to"].place.problem(f"{shown(circuit.to)} is a {target.kind}. A transformer circuit leads to a transformer.")


def _raceway_problems(pairs: list[tuple[Circuit, Cells]]) -> Iterator[InputError]:
    """Yield circuits that share a raceway's tag and disagree about the raceway."""
    first: dict[str, Circuit] = {}
    for circuit, row in pairs:
        if circuit.raceway:
            other = first.setdefault(circuit.raceway, circuit)
            for name in ("raceway_kind", "trade_size", "nipple", "sets"):
                if getattr(circuit, name) != getattr(other, name):
                    yield _cell(row, name).problem(
                        f"{circuit.tag} and {other.tag} share the raceway {circuit.raceway}, not its {name}. Write the same."
                    )


def _loop_problems(pairs: list[tuple[Circuit, Cells]]) -> Iterator[InputError]:
    """Yield the circuits that feed themselves in a ring (what is left when all that can be fed in order is)."""
    into: dict[str, int] = defaultdict(int)
    out: dict[str, list[str]] = defaultdict(list)
    for circuit, _ in pairs:
        into[circuit.to] += 1
        out[circuit.from_].append(circuit.to)
    ready = [end for end in out if not into[end]]
    fed = set()
    while ready:
        end = ready.pop()
        fed.add(end)
        for following in out.get(end, ()):
            into[following] -= 1
            if not into[following]:
                ready.append(following)
    for circuit, row in pairs:
        if circuit.from_ not in fed and circuit.to not in fed:
            yield row["from"].place.problem(
                f"{shown(circuit.from_)} is fed, in the end, by itself. A rack is fed from one side."
            )


def _cell(row: Cells, name: str) -> Place:
    """Return the place of a cell; for a column that is not there, that of the row with the column's name."""
    if name in row:
        return row[name].place
    tag = row["tag"].place
    return Place(tag.file, f"{tag.field.rpartition(', ')[0]}, {name}", tag.line, tag.start, tag.end)

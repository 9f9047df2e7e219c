"""The order of the calculations, and what they come to."""

from __future__ import annotations

import contextlib
import dataclasses
import gc
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import Any

from rackbook import electrical, loads, structure
from rackbook.job import Job
from rackbook.trace import Check, LookupFailed, Sheet, Value, in_order, touched
from rackbook.trace.errors import nearest

from .criteria import criteria_sheet
from .load_path import load_path_sheet
from .paths import named_values

#: What makes the sheets of each topic, in printing order; a topic the job does not ask for has no result and no sheet.
_SHEETS: dict[str, Callable[[Any], list[Sheet]]] = {
    "weights": loads.weights.sheets,
    "wind": loads.wind.sheets,
    "snow": loads.snow.sheets,
    "ice": loads.ice.sheets,
    "seismic": loads.seismic.sheets,
    "frame": structure.frame.sheets,
    "members": structure.members.sheets,
    "connections": structure.connections.sheets,
    "anchorage": structure.anchorage.sheets,
    "piers": structure.piers.sheets,
    "lifting": structure.lifting.sheets,
}


@dataclass(frozen=True, eq=False)
class Book:
    """A computed job.

    Args:
        job: The job as loaded.
        results: Result of each topic by its name, in order of computation.
    """

    job: Job
    results: MappingProxyType[str, Any]

    @cached_property
    def sheets(self) -> tuple[Sheet, ...]:
        """All sheets in printing order; a value that an earlier sheet prints is quoted on a later one."""
        made: list[Sheet] = []
        elsewhere: dict[int, str] = {}
        si = self.job.display.units == "US+SI"
        for sheet in (criteria_sheet(self.job, self.results), *self._topic_sheets()):
            sheet = dataclasses.replace(sheet, elsewhere={**elsewhere, **sheet.elsewhere}, si=si)
            made.append(sheet)
            for value in sheet.printed():
                if value.computed:
                    elsewhere.setdefault(id(value.root), sheet.title)
        return tuple(made)

    @cached_property
    def derived_on(self) -> dict[int, str]:
        """Title of the first sheet that prints each value, by the identity of its root: what another sheet quotes."""
        return {id(v.root): sheet.title for sheet in reversed(self.sheets) for v in sheet.printed() if v.computed}

    def _topic_sheets(self):
        made: list[Sheet] = []
        for topic, sheets in _SHEETS.items():
            if topic in self.results:
                made.extend(sheets(self.results[topic]))
        yield from made
        yield load_path_sheet(made)
        yield from electrical.sheets(self.results["conductors"], self.results["raceways"])

    def sheet(self, key: str) -> Sheet:
        """Return the sheet of that key.

        Raises:
            LookupFailed: There is none; those that exist are named.
        """
        for sheet in self.sheets:
            if sheet.key == key:
                return sheet
        keys = [s.key for s in self.sheets]
        raise LookupFailed(f"There is no sheet '{key}'.{nearest(key, keys)} Sheets: {', '.join(keys)}.")

    @cached_property
    def checks(self) -> tuple[tuple[str, Check], ...]:
        """Every check with the title of its sheet, in printing order, each once."""
        seen: set[int] = set()
        out = []
        for sheet in self.sheets:
            for c in sheet.checks:
                if id(c) not in seen:
                    seen.add(id(c))
                    out.append((sheet.title, c))
        return tuple(out)

    @cached_property
    def inputs(self) -> dict[str, Value]:
        """Every quantity of the job by its path."""
        return dict(named_values(self.job))

    @cached_property
    def values(self) -> dict[str, Value]:
        """Every result by its path."""
        return dict(named_values(dict(self.results)))

    def touches(self, path: str) -> list[str]:
        """Return the paths of all results that rest on an input, e.g. ``"site.wind.speed"``.

        Raises:
            LookupFailed: The job has no such quantity.
        """
        if path not in self.inputs:
            raise LookupFailed(f"The job has no quantity '{path}'.{nearest(path, self.inputs)}")
        return touched(self.inputs[path], self.values)

    @cached_property
    def from_memory(self) -> tuple[str, ...]:
        """The published sources the results rest on that were recalled, not read: to be confirmed before sealing."""
        found: dict[str, None] = {}
        for value in in_order(self.values.values()):
            if value.source.how == "memory":
                found.setdefault(value.source.citation, None)
        return tuple(found)


def compute(job: Job) -> Book:
    """Return everything the book can say about a job.

    Raises:
        RackbookError: A table, clause or formula cannot serve what the job asks; the message says which and what to do.
    """
    with _collection_held():
        return Book(job, MappingProxyType(_results(job)))


def _results(job: Job) -> dict[str, Any]:
    on = loads.acting(job)
    frame = structure.frame.frame(job, on.weights, on.wind, on.seismic, on.snow, on.ice)
    connections = structure.connections.connections(job, frame, on.wind, on.seismic)
    hung = structure.hanging.strengths(connections)
    conductors = electrical.conductors(job)
    return {
        "weights": on.weights,
        "wind": on.wind,
        **({"snow": on.snow} if on.snow else {}),
        **({"ice": on.ice} if on.ice else {}),
        "seismic": on.seismic,
        "frame": frame,
        "members": structure.members.members(job, frame),
        "connections": connections,
        "anchorage": structure.anchorage.anchorage(job, frame, on.seismic.category),
        "piers": structure.piers.piers(job, frame, on.seismic),
        "lifting": structure.lifting.lifting(job, on.weights, frame, on.wind, hung),
        "conductors": conductors,
        "raceways": electrical.raceways(job, conductors),
    }


@contextlib.contextmanager
def _collection_held() -> Iterator[None]:
    """Hold the garbage collector: a large job makes very many live Values and no rings, which it would only read again."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()

"""The job folder on the desk: the files as last read, the job in them, what it comes to, and why it does not."""

from __future__ import annotations

from collections.abc import Callable
from collections.abc import Mapping as Changes
from pathlib import Path
from typing import Any

from rackbook.book import Book, compute
from rackbook.job import RACK, FolderError, Job, save
from rackbook.job.csvfile import Schedule, read_schedule
from rackbook.job.folder import decode, parse, read_files
from rackbook.job.save import SCHEDULES, Target
from rackbook.job.text import Text, shown
from rackbook.job.yamlfile import Items, Mapping, Node, read_yaml
from rackbook.trace import InputError, RackbookError


class Desk:
    """A job folder that is worked on.

    ``job`` and ``book`` are what the files came to when they were last read; ``book`` is None and ``trouble`` says why
    in one plain message while the files or the calculation fail. ``readings`` counts how often they were read.
    """

    def __init__(self, folder: str | Path) -> None:
        self.folder = Path(folder)
        self.files: dict[str, bytes] = {}
        self.job: Job | None = None
        self.book: Book | None = None
        self.trouble: RackbookError | None = None
        self.readings = 0
        self._parsed: dict[str, tuple[bytes, Mapping | Schedule]] = {}
        self.read()

    def read(self) -> None:
        """Read the files and compute; a failure is kept in ``trouble``, not raised."""
        self.book, self.trouble = None, None
        self.readings += 1
        try:
            self.files = read_files(self.folder)
            self.job = parse(self.files)
            self.book = compute(self.job)
        except RackbookError as e:
            self.trouble = e
        except Exception as e:  # whatever it is, old results must not stand there as if they were new
            self.trouble = RackbookError(f"the calculation stopped: {type(e).__name__}: {e}")

    @property
    def changed_outside(self) -> bool:
        """Whether the files are not what they were when they were last read."""
        try:
            return read_files(self.folder) != self.files
        except InputError:
            return True

    def change(self, changes: Changes[Target, str]) -> str:
        """Save changes that are good together and compute; an edit made outside is read first, never overwritten.

        Returns:
            What else there is to say, or an empty text.

        Raises:
            InputError: The job would not load with the changes, or a field of them was changed outside meanwhile;
                nothing was written.

        """
        outside = self.changed_outside
        if outside:
            known = {target: self.text(target) for target in changes}
            self.read()
            for target, text in known.items():
                if self.text(target) != text:
                    now = shown(self.text(target), 60)
                    raise InputError(f"the file was changed outside meanwhile and says {now} here. Look, then type again.")
        save(self.folder, changes)
        self.read()
        return "The files had been changed outside; they were read first." if outside else ""

    @property
    def tree(self) -> Mapping:
        """rack.yaml as written.

        Raises:
            InputError: It cannot be read.

        """
        return self._once(RACK, read_yaml)

    def rows(self, schedule: str) -> Schedule:
        """Return a schedule as written.

        Raises:
            InputError: It cannot be read.

        """
        return self._once(SCHEDULES[schedule], read_schedule)

    def _once(self, name: str, parse: Callable[[str, str], Any]) -> Any:
        """Return a file as parsed; all forms share one parse of the same bytes."""
        content = self.files[name]
        if self._parsed.get(name, (b"", None))[0] is not content:
            self._parsed[name] = content, parse(name, decode(name, content).removeprefix("\ufeff"))
        return self._parsed[name][1]

    def text(self, target: Target) -> str:
        """Return what the files hold at a place; blank where nothing is given or the file cannot be read."""
        try:
            if not isinstance(target, str):
                schedule, tag, column = target
                return str(next((r.get(column, "") for r in self.rows(schedule).rows if r.get("tag") == tag), ""))
            node: Node | None = self.tree
        except (InputError, KeyError):
            return ""
        for name in target.split("."):
            if isinstance(node, Items):
                node = node[int(name) - 1] if name.isdigit() and 0 < int(name) <= len(node) else None
            else:
                node = node.get(name) if isinstance(node, Mapping) else None
        return str(node) if isinstance(node, Text) else ""


def first_problem(error: RackbookError, field: str = "") -> str:
    """Return one plain message: the problem of ``field`` if there is one, else the first; and how many more there are."""
    here = problem_of(error, field) if field else None
    said = here.message if here else str(_problems(error)[0])
    more = len(_problems(error)) - 1
    return said + (f" ({more} more to mend.)" if more else "")


def problem_of(error: RackbookError, field: str) -> InputError | None:
    """Return the problem of a dotted path or of a column among those of an error."""
    for problem in _problems(error):
        if isinstance(problem, InputError) and (
            problem.field == field or problem.field.rpartition(", ")[2].partition(" [")[0] == field
        ):
            return problem
    return None


def _problems(error: RackbookError) -> tuple[RackbookError, ...]:
    return error.problems if isinstance(error, FolderError) else (error,)

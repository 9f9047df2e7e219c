"""An open job: forms that change its files, and sheets, drawings and lists that follow at once."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from rackbook.book import Book
from rackbook.book.advice import lightest, seek
from rackbook.job.save import Target
from rackbook.trace import LookupFailed, RackbookError, Sheet, Value
from rackbook.trace.text import plain

from .asked import asked
from .desk import Desk, first_problem
from .form import Form
from .live import MARKDOWN, SVG, Live, Shown
from .own import Own, own_sheet
from .plain_errors import speak_plainly
from .schedule import ScheduleView
from .told import Said, checks_text, find, touches_text, trace_text

#: Sheets that a job has only where it asks for them.
OPTIONAL = ("snow", "ice", "rail_welds", "clips", "splices", "feet", "equipment_fastening", "anchors")
FACES = {"front": "Front elevation", "back": "Back elevation", "end": "End elevation"}


def open_job(folder: str | Path = ".") -> Workbook:
    """Open the job in a folder; a job that cannot be computed opens all the same, so that its forms can mend it.

    Raises:
        FolderError: The folder holds no job that can be loaded; every problem is named.

    """
    speak_plainly()
    desk = Desk(folder)
    if desk.job is None:
        raise desk.trouble or RackbookError("the job cannot be loaded.")
    return Workbook(desk)


class Workbook:
    """A job on the desk with everything shown of it. Each method gives something that shows itself in a cell."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._forms: dict[str, Form] = {}
        self._schedules: dict[str, ScheduleView] = {}
        self._lives: dict[str, Live] = {}

    def _repr_markdown_(self) -> str:
        job = self.desk.job
        assert job is not None
        head = job.job
        said = f"**{plain(head.number)} {plain(head.title)}**, {plain(head.place)}."
        said += f" Revision {plain(head.revision)}, {plain(head.date)}."
        return said + (f"\n\n> {plain(first_problem(self.desk.trouble))}" if self.desk.trouble else "")

    @property
    def book(self) -> Book:
        """The computed job.

        Raises:
            RackbookError: The job cannot be loaded or computed as it stands.

        """
        if self.desk.book is None:
            raise self.desk.trouble or RackbookError("the job has not been computed.")
        return self.desk.book

    # --- ways in -------------------------------------------------------------------------------------------------

    def form(self, path: str) -> Form:
        """Return a form of all fields at a dotted path of rack.yaml: ``"job"``, ``"site.wind"``, ``"frame"``.

        Raises:
            LookupFailed: rack.yaml has no such path.

        """
        if path not in self._forms:
            self._forms[path] = Form(self.desk, self.change, self.reload, lambda: asked(path, self.desk.tree))
        return self._forms[path]

    def schedule(self, name: str) -> ScheduleView:
        """Return ``"equipment"`` or ``"circuits"`` as a form of one row at a time, and as tables.

        Raises:
            LookupFailed: There is no such schedule.

        """
        if name not in self._schedules:
            self._schedules[name] = ScheduleView(self.desk, name, self.change, self.reload)
        return self._schedules[name]

    def change(self, changes: Mapping[Target, str]) -> str:
        """Save changes that are good together and have everything shown follow; return what else there is to say.

        Raises:
            InputError: The job refuses them; nothing was written.

        """
        readings = self.desk.readings
        try:
            return self.desk.change(changes)
        finally:
            if self.desk.readings != readings:  # a refused change may have found the files changed outside
                self._follow()

    def reload(self) -> None:
        """Read the files again and have everything shown follow."""
        self.desk.read()
        self._follow()
        said = first_problem(self.desk.trouble) if self.desk.trouble else "Files read again."
        for form in (*self._forms.values(), *(s.form for s in self._schedules.values())):
            form.say(said)

    def _follow(self) -> None:
        ways_in: list[Form | ScheduleView] = [*self._forms.values(), *self._schedules.values()]
        for way in ways_in:
            way.refresh()
        for shown in self._lives.values():
            shown.refresh()

    # --- ways out ------------------------------------------------------------------------------------------------

    def sheet(self, key: str) -> Live:
        """Return a calculation sheet, such as ``"wind"``.

        Raises:
            LookupFailed: There is no such sheet; those that exist are named.

        """
        return self._live(f"sheet {key}", lambda book: _said(book.sheet(key)))

    def sheets(self, *keys: str) -> Live:
        """Return several sheets one after the other: those of them that the job has, such as ``"snow"`` or ``"clips"``.

        Raises:
            LookupFailed: A job never has such a sheet; those that exist are named.

        """

        def render(book: Book) -> Shown:
            have = {sheet.key for sheet in book.sheets}
            found = [book.sheet(key) for key in keys if key in have or key not in OPTIONAL]
            titles = ", ".join(sheet.title for sheet in found)
            return Shown(MARKDOWN, "\n".join(sheet.markdown() for sheet in found), f"Sheets: {titles or 'none in this job'}")

        return self._live(f"sheets {keys}", render)

    def elevation(self, face: str = "front") -> Live:
        """Return an elevation of the rack: ``"front"``, ``"back"`` or ``"end"``.

        Raises:
            LookupFailed: There is no such elevation.

        """
        from rackbook.drawings import elevation

        if face not in FACES:
            raise LookupFailed(f"There is no elevation '{face}'. Elevations: {', '.join(FACES)}.")
        # pictures come last and only when what is drawn changed: they take longer than all sheets together
        return self._live(
            f"~elevation {face}",
            lambda book: Shown(SVG, elevation(book.job, face), FACES[face]),  # type: ignore[arg-type]
            lambda book: repr(
                [getattr(book.job, key) for key in ("frame", "piers", "anchors", "equipment", "allowances", "shop")]
            ),
        )

    def drawing(self, name: str, combination: str = "") -> Live:
        """Return a structural drawing: ``"deformed across"``, ``"moments along"``, ``"utilization"``, ``"base plan"``, ...

        Args:
            name: Which drawing.
            combination: For deformed shapes factors times unit cases, such as ``"D + 0.6 W front"``; for moments the label
                of a combination or its beginning. Blank: the one that governs.

        Raises:
            LookupFailed: There is no such drawing or combination; what there is is named.

        """
        from rackbook.drawings import drawing_of

        of = drawing_of(name, combination)
        caption = of.title + (f": {combination}" if combination else "")
        return self._live(
            f"~drawing {name} {combination}", lambda book: Shown(SVG, of.make(book, combination), caption), of.rests_on
        )

    def checks(self, *keys: str) -> Live:
        """Return the checks of all sheets, or of those named, sheet by sheet."""
        return self._live(f"checks {keys}", lambda book: Shown(MARKDOWN, checks_text(book, keys), "Checks"))

    def trace(self, path: str) -> Live:
        """Return a result or an input with all it rests on, down to the sources: ``"wind.q_h"``.

        Raises:
            LookupFailed: The book has no such value.

        """
        return self._live(f"trace {path}", lambda book: Shown(MARKDOWN, trace_text(path, find(book, path)), f"Trace of {path}"))

    def touches(self, path: str) -> Live:
        """Return every result that rests on an input of the job: ``"site.wind.speed"``.

        Raises:
            LookupFailed: The job has no such quantity.

        """
        return self._live(f"touches {path}", lambda book: Shown(MARKDOWN, touches_text(book, path), f"What rests on {path}"))

    def seek(self, check: str, path: str) -> Said:
        """Return the value of an input with which a check passes: ``("Base plate thickness", "frame.base_plate.thickness")``.

        Nothing is written, and it does not follow: run the cell again.

        Raises:
            LookupFailed: There is no such check or no such input.
            SolveError: No value in the allowed range makes the check pass.

        """
        return Said(str(seek(self.book.job, check, path)))

    def lightest(self, part: str, family: str) -> Said:
        """Return the lightest section of a family that passes, for ``"post"`` or ``"rail"``; as for :meth:`seek`.

        Raises:
            LookupFailed: There is no such family.

        """
        return Said(str(lightest(self.book.job, part, family)))

    def own(self, function: Own, title: str, purpose: str = "") -> Live:
        """Return the engineer's own sheet; ``function`` takes the look-up of values by path and gives the sheet's parts.

        Results that are looked up are quoted, not derived again.

        Raises:
            LookupFailed: The book has no value of a path that is looked up.

        """
        name = f"own {function.__name__} {title}"
        return self._live(name, lambda book: _said(own_sheet(book, function, title, purpose)), again=True)

    def value(self, path: str) -> Value:
        """Return a result or an input by its path.

        Raises:
            LookupFailed: The book has no such value; the nearest is named.

        """
        return find(self.book, path)

    def _live(
        self,
        name: str,
        render: Callable[[Book], Shown],
        rests_on: Callable[[Book], str] | None = None,
        again: bool = False,
    ) -> Live:
        _ = self.book
        if again or name not in self._lives:
            self._lives[name] = Live(self.desk, render, rests_on)
            self._lives = dict(sorted(self._lives.items(), key=lambda item: item[0].startswith("~")))
        return self._lives[name]


def _said(sheet: Sheet) -> Shown:
    return Shown(MARKDOWN, sheet.markdown(), f"Sheet: {sheet.title}")

"""A form of fields: a change is tried on the whole job, saved, and everything shown follows; or it is refused in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from html import escape

import ipywidgets as widgets
from IPython.core.getipython import get_ipython
from IPython.display import display

from rackbook.job.save import Target
from rackbook.job.text import shown
from rackbook.trace import RackbookError

from .asked import Asked, Group
from .desk import Desk, first_problem, problem_of
from .field import LABEL, FieldBox, quiet

Change = Callable[[dict[Target, str]], str]
#: JupyterLab takes keys in a list or on a button for its own commands ("b" adds a cell, "x" cuts one); in a form it must
#: not. What has the focus says so itself; the output is not on the page yet when this runs, so it waits for it.
_KEYS = """
const own = (tries) => {
  const area = element.closest(".jp-OutputArea");
  if (area) area.addEventListener("focusin", (e) => e.target.setAttribute("data-lm-suppress-shortcuts", "true"));
  else if (tries) setTimeout(own, 200, tries - 1);
};
own(100);
"""


def show(widget: widgets.Widget) -> None:
    """Show a form in the cell, with the keyboard its own."""
    display(widget)
    if get_ipython() is not None:
        display({"application/javascript": _KEYS}, raw=True)


class Form:
    """The fields of one place in the job.

    Args:
        desk: The job.
        change: Saves changes, computes and refreshes what is shown; raises InputError where the job refuses them, and
            returns what else there is to say.
        reload: Reads the files again.
        ask: Gives what is asked now.
        target: Gives where a field of that path is saved.

    """

    def __init__(
        self,
        desk: Desk,
        change: Change,
        reload: Callable[[], None],
        ask: Callable[[], Group],
        target: Callable[[str], Target] = lambda path: path,
    ) -> None:
        self.desk, self.change, self.ask, self.target = desk, change, ask, target
        self.fields: dict[str, FieldBox] = {}
        self.drafts: dict[str, Draft] = {}
        self.group = ask()
        self.said = widgets.HTML()
        again = widgets.Button(
            description="Read files again",
            tooltip="After rack.yaml, equipment.csv or circuits.csv was changed outside",
            layout={"width": "11em"},
        )
        again.on_click(lambda _: reload())
        self.body = widgets.VBox()
        foot = widgets.HBox([again, self.said], layout={"margin": "0.6em 0 0 0", "align_items": "center"})
        self.widget = widgets.VBox([self.body, foot], layout={"padding": "0.3em 0"})
        self._build()

    def _ipython_display_(self) -> None:
        show(self.widget)

    # --- building ------------------------------------------------------------------------------------------------

    def _build(self) -> None:
        self.fields, self.drafts = {}, {}
        self.body.children = list(self._parts(self.group))

    def _parts(self, group: Group, depth: int = 0) -> Iterator[widgets.Widget]:
        """Yield heading and fields of a group; headings go in with depth, the inputs stay in one column."""
        if group.label and (depth or len(group.parts) > 1):
            note = f" <span style='opacity:.75'>{escape(group.note)}</span>" if group.note else ""
            yield widgets.HTML(f"<b>{escape(group.label)}</b>{note}", layout={"margin": f"0.4em 0 0 {1.2 * depth}em"})
        for part in group.parts:
            if isinstance(part, Asked):
                yield self._field(part).box
            elif not part.given:
                draft = self.drafts[part.path] = Draft(self, part)
                yield draft.widget
            elif part.in_row:
                yield self._row(part)
            else:
                yield from self._parts(part, depth + 1)

    def _row(self, group: Group) -> widgets.Widget:
        """Return the fields of a list's item side by side, what is wrong with any below them."""
        boxes = [self._field(part, group.label, 8 if n else LABEL) for n, part in enumerate(group.fields())]
        line = widgets.HBox([box.line for box in boxes])
        return widgets.VBox([line, *(box.message for box in boxes)])

    def _field(self, part: Asked, lead: str = "", label: float = LABEL) -> FieldBox:
        box = self.fields[part.path] = FieldBox(part, self._typed, lead, label)
        return box

    # --- changing ------------------------------------------------------------------------------------------------

    def _typed(self, box: FieldBox) -> None:
        """Try a new text; entries refused before are tried again with it, as some are good only together."""
        self.said.value = ""
        for other in self.fields.values():
            other.settle()
        path = box.asked.path
        if box.typed == box.asked.text:
            box.clear()
            return
        waiting = {p: other.typed for p, other in self.fields.items() if other.refused or p == path}
        try:
            if not (len(waiting) > 1 and self._saves(waiting)):
                self._saved([path], self.change({self.target(path): box.typed}))
        except RackbookError as e:
            kept = self.desk.text(self.target(path))
            box.refuse(f"Not saved: {first_problem(e, path)}", f"The file keeps {shown(kept, 60)}." if kept else "")

    def _saves(self, waiting: dict[str, str]) -> bool:
        try:
            note = self.change({self.target(path): text for path, text in waiting.items()})
        except RackbookError:
            return False
        self._saved(list(waiting), note)
        return True

    def _saved(self, paths: list[str], note: str) -> None:
        for path in paths:
            if path in self.fields:  # the form may have been built anew
                self.fields[path].saved()
        self.say(note)

    # --- following -----------------------------------------------------------------------------------------------

    def refresh(self, anew: bool = False) -> None:
        """Show what the files hold now; unless ``anew``, a refused entry is left for the engineer to correct."""
        try:
            group = self.ask()
        except RackbookError as e:
            self.say(first_problem(e))
            return
        if group.shape != self.group.shape:
            self.group = group
            self._build()
            return
        self.group = group
        for part in group.fields():
            self.fields[part.path].follow(part, anew)

    def say(self, text: str) -> None:
        """Say something quietly at the foot of the form."""
        self.said.value = quiet(text) if text else ""


class Draft:
    """A group that is not in the file: filled in as a whole, then added."""

    def __init__(self, form: Form, group: Group) -> None:
        self.form, self.group = form, group
        self.fields = {part.path: FieldBox(part, lambda box: box.clear()) for part in _all(group)}
        add = widgets.Button(description="Add", layout={"width": "6em"})
        add.on_click(lambda _: self.add())
        self.message = widgets.HTML()
        inside = widgets.VBox([*(box.box for box in self.fields.values()), widgets.HBox([add, self.message])])
        title = f"{group.label}: " + ("add one" if group.in_row else "not given")
        self.widget = widgets.Accordion(
            [inside], titles=[title], selected_index=None, layout={"width": "64em", "max_width": "100%", "margin": "0.3em 0"}
        )

    def add(self) -> None:
        """Save all that is filled in, together."""
        filled = {path: box.typed for path, box in self.fields.items() if box.typed}
        if not filled:
            self.message.value = quiet("Fill it in first.")
            return
        try:
            self.form.change({self.form.target(path): text for path, text in filled.items()})
        except RackbookError as e:
            self.message.value = ""
            wrong = next((p for p in self.fields if problem_of(e, p)), None)
            said = f"Not added: {first_problem(e, wrong or '')}"
            if wrong:
                self.fields[wrong].refuse(said)
            else:
                self.message.value = f"<div role='alert'>{escape(said)}</div>"


def _all(group: Group) -> Iterator[Asked]:
    for part in group.parts:
        if isinstance(part, Asked):
            yield part
        else:
            yield from _all(part)

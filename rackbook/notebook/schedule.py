"""A schedule to look at and to change cell by cell; rows are added and removed in a spreadsheet."""

from __future__ import annotations

from collections.abc import Callable

import ipywidgets as widgets
from IPython.display import display

from rackbook.job.csvfile import Schedule
from rackbook.job.save import SCHEDULES, Target
from rackbook.trace import LookupFailed, RackbookError
from rackbook.trace.grids import table_text
from rackbook.trace.text import plain

from .asked import Group, asked_row
from .desk import Desk, first_problem
from .field import INPUT, LABEL, quiet
from .form import Form, show
from .live import MARKDOWN, Live, Shown

#: Columns side by side in one table; each set starts with the tag and fits a printed page.
SETS = {
    "equipment": (
        ("Place, size and weight", ("kind", "face", "x", "z", "width", "height", "depth", "offset", "weight", "weight_source")),
        ("What it is", ("description", "voltage", "phases", "rating", "kva", "impedance", "secondary_voltage")),
        ("For wind and earthquake", ("section", "seismic_row", "importance")),
    ),
    "circuits": (
        ("From, to and load", ("from", "to", "to_kind", "kind", "voltage", "phases", "load", "hp", "kva")),
        ("Use", ("continuous", "power_factor", "length", "drop_limit")),
        ("Conductors", ("material", "insulation", "size", "sets", "neutral", "terminal", "marked_75", "ocpd", "ground")),
        ("Raceways", ("raceway", "raceway_kind", "trade_size", "nipple", "ambient", "roof_height")),
    ),
}  # fmt: skip
TITLES = {"equipment": "Equipment", "circuits": "Circuits"}
#: Columns all circuits in one raceway agree in.
SHARED = ("raceway_kind", "trade_size", "nipple")


class ScheduleView:
    """One schedule: a row chosen by its tag as a form, and the whole as tables.

    Raises:
        LookupFailed: There is no such schedule.

    """

    def __init__(self, desk: Desk, name: str, change: Callable[[dict[Target, str]], str], reload: Callable[[], None]) -> None:
        if name not in SETS:
            raise LookupFailed(f"There is no schedule '{name}'. Schedules: {', '.join(SETS)}.")
        self.desk, self.name, self._change = desk, name, change
        self.choice = widgets.Dropdown(
            options=self._rows(),
            description="Row to change",
            style={"description_width": f"{LABEL}em"},
            layout={"width": f"{LABEL + 2 * INPUT}em", "max_width": "100%"},
        )
        self.form: Form = Form(desk, self.change, reload, self._asked, lambda column: (name, self.choice.value, column))
        self.choice.observe(lambda _: self.form.refresh(anew=True), "value")
        said = f"Rows are added and removed in {SCHEDULES[name]}, with a spreadsheet; then read the files again."
        where = widgets.HTML(quiet(said))
        self.table = Live(desk, lambda _: Shown(MARKDOWN, schedule_text(name, desk.rows(name)), f"{TITLES[name]} schedule"))
        self.widget = widgets.VBox([self.choice, self.form.widget, where])

    def _ipython_display_(self) -> None:
        show(self.widget)
        display(self.table)

    def _rows(self) -> list[tuple[str, str]]:
        rows = self.desk.rows(self.name).rows
        about = ("description",) if self.name == "equipment" else ("from", "to")
        return [(f"{r['tag']} · {' to '.join(r.get(c, '') for c in about)}", str(r["tag"])) for r in rows if r.get("tag")]

    def _asked(self) -> Group:
        schedule = self.desk.rows(self.name)
        row = next((r for r in schedule.rows if r["tag"] == self.choice.value), None)
        if row is None:
            raise LookupFailed(f"{SCHEDULES[self.name]} has no row '{self.choice.value}' any more.")
        units = {column: head.unit or "" for column, head in schedule.heads.items()}
        return asked_row(self.name, {column: str(cell) for column, cell in row.items()}, units)

    def change(self, changes: dict[Target, str]) -> str:
        """Save cells; what a raceway's circuits agree in is saved for all of them."""
        also: dict[Target, str] = {}
        for target, text in changes.items():
            tag, column = target[1], target[2]
            if column in SHARED:
                rows = self.desk.rows(self.name).rows
                raceway = next((r["raceway"] for r in rows if r["tag"] == tag), "")
                for row in rows:
                    if raceway and row["raceway"] == raceway and row["tag"] != tag:
                        also[self.name, str(row["tag"]), column] = text
        said = self._change({**changes, **also})
        others = ", ".join(dict.fromkeys(target[1] for target in also))
        return " ".join(filter(None, (said, f"Also saved for {others}, in the same raceway." if others else "")))

    def refresh(self) -> None:
        """Follow the files."""
        self.table.refresh()
        try:
            rows = self._rows()
        except RackbookError as e:
            self.form.say(first_problem(e))
            return
        if rows != list(self.choice.options):
            tag = self.choice.value
            self.choice.options = rows
            if tag in (value for _, value in rows):
                self.choice.value = tag
        self.form.refresh()


def schedule_text(name: str, schedule: Schedule) -> str:
    """Return a schedule as markdown tables; columns that are blank in all rows are left out."""
    blocks = [f"## {TITLES[name]} schedule", f"The engineer's entries, {plain(SCHEDULES[name])}."]
    for title, columns in SETS[name]:
        used = [c for c in columns if c in schedule.heads and any(row[c] for row in schedule.rows)]
        if not used:
            continue
        kinds = "".join("r" if _numbers(schedule, c) else "w" for c in used)
        heads = [plain(schedule.heads[c].replace("_", " ")) for c in ("tag", *used)]
        rows = [[plain(row[c]) for c in ("tag", *used)] for row in schedule.rows]
        blocks += [f"**{title}**", table_text(heads, rows, "l" + kinds)]
    return "\n\n".join(blocks) + "\n"


def _numbers(schedule: Schedule, column: str) -> bool:
    return all(not row[column] or row[column][0] in "+-.0123456789" for row in schedule.rows)

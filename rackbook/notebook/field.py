"""One field of a form: label, input, what may be written, and what is wrong with what was."""

from __future__ import annotations

from collections.abc import Callable
from html import escape

import ipywidgets as widgets

from .asked import Asked

#: Longer texts get the whole width.
LONG = 34
LABEL, INPUT, WIDE = 15, 17, 43


def quiet(text: str) -> str:
    """Return a text as the forms say small things."""
    return f"<span role='status' style='opacity:.75'>{escape(text)}</span>"


class FieldBox:
    """The widgets of one field.

    Args:
        asked: What is asked.
        on_change: Called with the box when the engineer has typed (Enter, or leaving the field) or chosen.
        lead: Words before the label, where the field stands in the row of a list's item; such a field is narrow.
        label: Width of the label, em.

    """

    def __init__(self, asked: Asked, on_change: Callable[[FieldBox], None], lead: str = "", label: float = LABEL) -> None:
        self.asked, self.on_change, self.in_row = asked, on_change, bool(lead)
        self.refused = False
        self._following = False
        self.input = _input(asked, f"{lead}, {asked.label}" if lead else asked.label, self.in_row, label)
        self.input.observe(self._changed, "value")
        self.hint = widgets.HTML()
        self.message = widgets.HTML(layout={"display": "none", "margin": f"0 0 0.3em {LABEL + 0.6}em"})
        wide = not lead and _wide(asked)
        self.line = self.input if lead else widgets.HBox([self.input, *(() if wide else (self.hint,))])
        self.box = widgets.VBox([self.line, self.message])
        self.settle()

    @property
    def typed(self) -> str:
        """The text in the field, without blanks around it."""
        return (self.input.value or "").strip()

    def _changed(self, _: dict) -> None:
        if not self._following:
            self.on_change(self)

    def follow(self, asked: Asked, anew: bool = False) -> None:
        """Show what the file holds where that changed (or ``anew``); else what is typed stays, right or wrong."""
        moved = anew or asked.text != self.asked.text
        self.asked = asked
        if moved:
            self._show(asked.text)
            self.clear()
            if anew:
                self.settle()

    def _show(self, text: str) -> None:
        self._following = True
        try:
            if isinstance(self.input, widgets.Dropdown) and text not in (value for _, value in self.input.options):
                self.input.options = [(text, text), *self.input.options]
            self.input.value = text
        finally:
            self._following = False

    def refuse(self, why: str, kept: str = "") -> None:
        """Say under the field, in one message, why the entry was not taken."""
        self.refused = True
        kept = f" <span style='opacity:.75'>{escape(kept)}</span>" if kept else ""
        self.message.value = (
            "<div role='alert' style='line-height:1.35;max-width:46em;border-left:3px solid #b34700;padding-left:.5em'>"
            f"{escape(why)}{kept}</div>"
        )
        self.message.layout.display = None

    def clear(self) -> None:
        """Forget what was wrong."""
        self.refused = False
        if self.message.value:
            self.message.value = ""
            self.message.layout.display = "none"

    def saved(self) -> None:
        """Say quietly that the entry is in the file."""
        self.clear()
        self.hint.value = quiet(f"saved · {self.asked.help}" if self.asked.help else "saved")

    def settle(self) -> None:
        """Show the plain hint again."""
        self.hint.value = quiet(self.asked.help)


def _wide(asked: Asked) -> bool:
    return len(asked.text) > LONG or "characters" in asked.help


def _input(asked: Asked, label: str, in_row: bool, space: float) -> widgets.Widget:
    style = {"description_width": f"{space}em"}
    width = WIDE if _wide(asked) and not in_row else INPUT if not in_row else 9
    common = {
        "description": label,
        "tooltip": asked.help or asked.label,
        "style": style,
        "layout": {"width": f"{space + width}em", "max_width": "100%"},
    }
    if asked.words:
        words = asked.words if asked.text in asked.words else (asked.text, *asked.words)
        return widgets.Dropdown(options=[(w or "(not given)", w) for w in words], value=asked.text, **common)
    if asked.near:
        return widgets.Combobox(
            options=list(asked.near), value=asked.text, ensure_option=False, continuous_update=False, **common
        )
    return widgets.Text(value=asked.text, continuous_update=False, **common)

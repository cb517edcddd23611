"""A screen of labelled fields, one under the other: its keys, and where they go."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from textual import events
from textual.binding import Binding, BindingType
from textual.widget import Widget

from store.units import UnitSystem
from tui.base.board_screen import BoardScreen
from tui.widgets.choice import PASSED_ON, Choice
from tui.widgets.form_row import FormLine, FormRow

FORM_KEYS: list[BindingType] = [
    Binding("tab", "next_field", "Next", key_display="Tab", id="form.next",
            priority=True, tooltip="Go to the next field; Down and Enter do the same"),
    Binding("shift+tab", "field_before", "Before", key_display="Shift+Tab",
            id="form.before", priority=True,
            tooltip="Go to the field before; Up does the same"),
    Binding("down", "next_field", "Next", show=False, id="form.down",
            tooltip="Go to the next field"),
    Binding("up", "field_before", "Before", show=False, id="form.up",
            tooltip="Go to the field before"),
    Binding("f1", "app.help", "Help", key_display="F1", id="form.help",
            tooltip="Show every key of this screen and what it does"),
]  # fmt: skip
"""For every form, after its own keys."""


@dataclass(frozen=True)
class FormTyped:
    """The texts of a form by field, and the units they were typed in."""

    units: UnitSystem
    texts: Mapping[str, str]


class FormScreen(BoardScreen):
    """Letters are for the fields alone: while none has the focus, they do nothing."""

    AUTO_FOCUS = ""

    @property
    def rows(self) -> dict[str, FormRow]:
        """The fields by key, in their order."""
        return {row.key: row for row in self.query(FormRow)}

    @property
    def texts(self) -> dict[str, str]:
        return {key: row.text for key, row in self.rows.items()}

    def retype(self, texts: Mapping[str, str]) -> None:
        """Put texts into the fields of those keys, where there are such fields."""
        rows = self.rows
        for key, text in texts.items():
            editor = rows[key].editor if key in rows else None
            if isinstance(editor, FormLine) or (editor and text in editor.words):
                editor.value = text

    def takes(self, event: events.Key) -> bool:
        """Whether a key may be acted on; a letter for no field brings the focus back to one."""
        if not event.is_printable or event.character == PASSED_ON:
            return True
        if isinstance(self.focused, FormLine | Choice):
            return True
        if self.focused is None and (first := self._shown_fields[:1]):
            self.set_focus(first[0])
        return False

    @property
    def _shown_fields(self) -> list[Widget]:
        return [row.editor for row in self.query(FormRow) if row.display]

    def action_next_field(self) -> None:
        self.focus_next()

    def action_field_before(self) -> None:
        self.focus_previous()

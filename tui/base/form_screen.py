"""A screen of labelled fields, one under the other: its keys, and where they go."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from textual import events
from textual.binding import Binding, BindingType

from store.units import UnitSystem
from tui.base.board_screen import BoardScreen
from tui.widgets.choice import PASSED_ON, Choice
from tui.widgets.form_row import FormLine, FormRow

FORM_KEYS: list[BindingType] = [
    Binding("tab", "next_field", "Next", key_display="Tab", id="form.next",
            priority=True, tooltip="Go to the next field; Down and Enter do the same"),
    Binding("shift+tab", "field_before", "Before", key_display="Shift+Tab",
            show=False,
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

    def keep_focus(self) -> None:
        """Where no field has the focus, or one that is hidden, give it to the one before."""
        rows = list(self.query(FormRow))
        at = next((i for i, row in enumerate(rows) if row.editor is self.focused), 0)
        here = rows[at] if rows else None
        if here is None or (self.focused is not None and here.display):
            return
        shown = [row for row in (*reversed(rows[: at + 1]), *rows) if row.display]
        if shown:
            self.set_focus(shown[0].editor)

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
        focused = self.focused
        if not event.is_printable or event.character == PASSED_ON:
            return True
        if isinstance(focused, FormLine | Choice):
            return True
        self.keep_focus()
        return False

    def action_next_field(self) -> None:
        self.focus_next()

    def action_field_before(self) -> None:
        self.focus_previous()

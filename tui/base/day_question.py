"""Asks for the day that a chart or the timeline is to go to."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from store.errors import BadValue
from store.typed import day_among
from tui.base.key_line import KeyLine
from tui.base.open_screens import close

ASKED = "Day to go to, as yesterday, oct 14 or 2026-05-09; Enter alone goes to today"


class DayQuestion(ModalScreen[date]):
    """Answers with a day from the first to the last that are shown; nothing typed is today."""

    CSS_PATH = "day_question.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "stay", "Stay", key_display="Esc", id="day.stay",
                tooltip="Leave the cursor where it is"),
    ]  # fmt: skip

    def __init__(self, today: date, first: date, last: date, near: date | None = None) -> None:
        super().__init__()
        self._today, self._near = today, near
        self._first, self._last = first, last

    def compose(self) -> ComposeResult:
        with Vertical():
            yield Static(ASKED)
            yield Input(placeholder=self._today.isoformat(), compact=True)
            yield Static(id="wrong", markup=False)
        yield KeyLine()

    @on(Input.Submitted)
    def _typed(self, message: Input.Submitted) -> None:
        text = message.value.strip()
        try:
            close(self, day_among(text, self._today, self._first, self._last, self._near))
        except BadValue as error:
            self.query_one("#wrong", Static).update(f"{error}.")

    def action_stay(self) -> None:
        close(self)

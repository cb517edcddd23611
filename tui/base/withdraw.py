"""Asks before an entry of the log is withdrawn, and why."""

from __future__ import annotations

from typing import ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.screen import ModalScreen
from textual.widgets import Button, Input, Static

from tui.base.keys import UNDO_KEY, key_of
from tui.base.open_screens import close


class WithdrawScreen(ModalScreen[str | None]):
    """Gives the reason, which may be empty, or None when the entry is kept."""

    CSS_PATH = "withdraw.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "keep", "Keep it", key_display="Esc", id="withdraw.keep",
                tooltip="Leave the log as it is"),
    ]  # fmt: skip

    def __init__(self, entry: Text, with_it: int) -> None:
        super().__init__()
        self._entry = entry
        self._with_it = with_it

    def compose(self) -> ComposeResult:
        with Vertical(id="withdraw"):
            yield Static("Withdraw this entry?", classes="title")
            yield Static(self._entry, markup=False, id="withdrawn")
            if self._with_it:
                count = "1 entry" if self._with_it == 1 else f"{self._with_it} entries"
                yield Static(f"The work logged on it, {count}, is withdrawn with it.")
            yield Static(f"The levels are worked out anew without it; {UNDO_KEY} takes this back.")
            yield Input(placeholder="Why? (may be left empty)", id="reason")
            with Horizontal(id="answers"):
                yield Button("Enter: withdraw", compact=True, id="yes")
                yield Button(f"{key_of(self.BINDINGS, 'keep')}: keep it", compact=True, id="no")

    @on(Button.Pressed, "#yes")
    @on(Input.Submitted)
    def _withdraw(self) -> None:
        close(self, self.query_one("#reason", Input).value.strip())

    @on(Button.Pressed, "#no")
    def action_keep(self) -> None:
        close(self)

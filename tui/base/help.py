"""Every key that works on the screen below, with what it does."""

from __future__ import annotations

from typing import ClassVar

from rich.table import Table
from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen, Screen
from textual.widgets import Static

from tui.base.key_line import KeyLine
from tui.base.open_screens import close


class HelpScreen(ModalScreen[None]):
    """The keys of a screen, read from its own bindings, so that help cannot lag behind."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,question_mark,q,enter", "close", "Close", key_display="Esc"),
    ]

    def __init__(self, about: Screen[object]) -> None:
        super().__init__()
        self._about = about

    def compose(self) -> ComposeResult:
        with VerticalScroll(id="help"):
            yield Static("Keys on this screen", classes="title")
            yield Static(self._keys())
            yield Static(
                "\nThe mouse works too: click a row, a key in the footer, or a column heading."
            )
        yield KeyLine()

    def action_close(self) -> None:
        close(self)

    def _keys(self) -> Table:
        """The keys that explain themselves first, then the plain moves."""
        table = Table.grid(padding=(0, 2))
        bindings = {
            (active.binding.action, active.binding.description): active.binding
            for active in self._about.active_bindings.values()
            if active.binding.description
        }
        for binding in sorted(bindings.values(), key=lambda binding: not binding.tooltip):
            table.add_row(
                Text(self.app.get_key_display(binding), "bold" if binding.tooltip else "dim"),
                Text(binding.description),
                Text(binding.tooltip),
            )
        return table

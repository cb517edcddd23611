"""The keys that work on the screen below, and what the words on the screens mean."""

from __future__ import annotations

from typing import ClassVar

from rich.table import Table
from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen, Screen
from textual.widgets import Static

from tui.base.glossary import GLOSSARY
from tui.base.key_line import KeyLine
from tui.base.keys import APP_KEYS
from tui.base.open_screens import close
from tui.key_table import bind


class HelpScreen(ModalScreen[None]):
    """The keys of a screen, read from its own bindings, so that help cannot lag behind."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter", "close", "Close", key_display="Esc"),
        *(
            bind(one, "close", "Close", show=False, id=f"help.{one}", tooltip="Close the help")
            for one in ("help", "quit")
        ),
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
            yield Static("\nWords", classes="title")
            yield Static(_words())
        yield KeyLine()

    def action_close(self) -> None:
        close(self)

    def _keys(self) -> Table:
        """The screen's own keys first, then those that work everywhere.

        A key without a tooltip is the framework's own way to scroll; it explains itself.
        """
        table = Table.grid(padding=(0, 2))
        bindings = {
            (active.binding.action, active.binding.description): active.binding
            for active in self._about.active_bindings.values()
            if active.binding.tooltip and active.binding.id
        }
        everywhere = {one.id for one in APP_KEYS if isinstance(one, Binding)}
        for binding in sorted(bindings.values(), key=lambda one: one.id in everywhere):
            table.add_row(
                Text(self.app.get_key_display(binding), "bold"),
                Text(binding.description),
                Text(binding.tooltip),
            )
        return table


def _words() -> Table:
    table = Table.grid(padding=(0, 2))
    for word, meaning in GLOSSARY:
        table.add_row(Text(word, "bold"), Text(meaning))
    return table

"""What every screen over the board shares: its way to the app, and being told of news."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, cast

from textual.binding import Binding, BindingType
from textual.screen import Screen

from store.model.board import Board

if TYPE_CHECKING:
    from tui.app import BrimbookApp


class BoardScreen(Screen[None]):
    """A screen that shows a board; `show` is called whenever there is a new one."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "escape,backspace", "back", "Back", key_display="Esc", id="screen.back",
            tooltip="Go back to the screen before",
        ),
    ]  # fmt: skip

    @property
    def brimbook(self) -> BrimbookApp:
        return cast("BrimbookApp", self.app)

    def on_mount(self) -> None:
        if self.brimbook.board is not None:
            self.show(self.brimbook.board)

    def show(self, board: Board) -> None:
        """Show the board; called on mounting and after every change."""

    def show_working(self) -> None:
        """Say that a new board is being worked out; the old one stays up meanwhile."""

    def action_back(self) -> None:
        self.app.pop_screen()

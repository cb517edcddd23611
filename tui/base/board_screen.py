"""What every screen over the board shares: its way to the app, and being told of news."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING, ClassVar, cast

from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.widgets import Input

from store.model.board import Board
from tui.base.day_question import DayQuestion
from tui.base.doors import DOORS
from tui.base.open_screens import close, is_open
from tui.widgets.choice import Choice

if TYPE_CHECKING:
    from tui.app import BrimbookApp

WIDE = 110
"""From this many characters on a screen has the class `-wide`, else `-narrow`."""

BACK = Binding(
    "escape,backspace", "back", "Back", key_display="Esc", id="screen.back",
    tooltip="Go back to the screen before",
)  # fmt: skip
BACK_KEY = BACK.key_display


class BoardScreen(Screen[None]):
    """A screen that shows a board; `show` is called whenever there is a new one."""

    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (WIDE, "-wide")]  # noqa: RUF012 - as in Textual
    BINDINGS: ClassVar[list[BindingType]] = [BACK]

    @property
    def brimbook(self) -> BrimbookApp:
        return cast("BrimbookApp", self.app)

    def on_descendant_focus(self) -> None:
        self.when_drawn(self.keep_typing_free)

    def keep_typing_free(self) -> None:
        """Have what is told to the person stand at the far end from where they type."""
        focused = self.focused
        low = focused is not None and focused.region.y >= self.size.height // 2
        self.set_class(low and isinstance(focused, Input | Choice), "-typing-low")

    from_the_log: ClassVar[bool] = False
    """Whether the log alone, before any model has run, is enough to begin with."""

    def on_mount(self) -> None:
        if self.brimbook.board is not None:
            self.show_when_ready(self.brimbook.board)

    def show_when_ready(self, board: Board) -> None:
        """Show the board, unless this screen needs the model and it has not run yet."""
        if board.worked_out or self.from_the_log:
            self.show(board)

    def show(self, board: Board) -> None:
        """Show the board; called on mounting and after every change."""

    def show_working(self) -> None:
        """Say that a new board is being worked out; the old one stays up meanwhile."""

    def turn_to(self, *about: str) -> None:
        """Turn to what somebody asked for who comes back here, as when it is opened on it."""

    def when_drawn(self, work: Callable[[], object]) -> None:
        """Do some work once the screen is drawn again, unless it was left by then."""
        self.call_after_refresh(lambda: work() if is_open(self) else None)

    @property
    def station_id(self) -> str | None:
        """The station at the cursor; None without one."""
        return None

    @property
    def wide(self) -> bool:
        return self.app.size.width >= WIDE

    def action_open(self, name: str) -> None:
        """Open the screen behind a door, on the station at the cursor."""
        door, here = DOORS[name], self.station_id
        if not door.takes_station:
            self.brimbook.open_screen(name)
        elif here is not None:
            self.brimbook.open_screen(name, here)
        elif not door.needs_station:
            self.brimbook.open_screen(name)

    def ask_day(
        self, first: date, last: date, go: Callable[[date], object], near: date | None = None
    ) -> None:
        """Ask for a day from the first to the last shown, and go there unless they stay.

        `near` is where they are, for a day without its year.
        """

        def answered(day: date | None) -> None:
            if day is not None:
                go(day)

        board = self.brimbook.board
        if board is not None:
            self.app.push_screen(DayQuestion(board.snapshot.today, first, last, near), answered)

    def action_back(self) -> None:
        close(self)

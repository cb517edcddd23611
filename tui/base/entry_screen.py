"""A screen on which something is entered: it is saved, or given up when that was asked."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable

from tui.base.board_screen import BoardScreen
from tui.base.leave_question import Leave, LeaveQuestion
from tui.base.open_screens import close, is_open


class EntryScreen(BoardScreen):
    """Nothing entered is dropped unasked, and nothing is saved twice."""

    @abstractmethod
    def unsaved(self) -> str | None:
        """What would be lost by leaving, or None."""

    @abstractmethod
    async def saved(self) -> bool:
        """Save all that is entered; True when it is on disk, or there is nothing to save."""

    async def action_save(self) -> None:
        if is_open(self) and await self.saved():
            close(self)

    def action_back(self) -> None:
        self.leave(lambda: close(self))

    def leave(self, go: Callable[[], object]) -> None:
        """Go at once when nothing is entered, else ask first."""
        entered = self.unsaved()
        if entered is None:
            go()
            return

        async def answered(answer: Leave | None) -> None:
            if answer is Leave.DISCARD or (answer is Leave.SAVE and await self.saved()):
                go()

        self.app.push_screen(LeaveQuestion(entered), answered)

"""Asks what to do with something entered that is not saved yet, before its screen is left."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable
from enum import StrEnum
from typing import ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from tui.base.board_screen import BoardScreen
from tui.base.key_line import KeyLine
from tui.base.keys import key_of
from tui.base.open_screens import close, is_open
from tui.key_table import bind


class Leave(StrEnum):
    SAVE = "save"
    DISCARD = "discard"
    STAY = "stay"


class LeaveQuestion(ModalScreen[Leave]):
    """Answers with a `Leave`."""

    CSS_PATH = "leave_question.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        bind("save", "answer('save')", "Save it", id="leave.save", tooltip="Save what is entered"),
        bind("take_out", "answer('discard')", "Discard it", id="leave.discard",
             tooltip="Leave without saving"),
        Binding("escape", "answer('stay')", "Keep going", key_display="Esc", id="leave.stay",
                tooltip="Go on entering"),
    ]  # fmt: skip

    def __init__(self, entered: str) -> None:
        super().__init__()
        self._entered = entered

    def compose(self) -> ComposeResult:
        with Vertical():
            yield Static("Not saved yet", classes="title")
            yield Static(Text(self._entered))
            save, discard, stay = (key_of(self.BINDINGS, "answer", one.value) for one in Leave)
            yield Static(f"\n{save} saves it, {discard} discards it, {stay} keeps going.")
        yield KeyLine()

    def action_answer(self, answer: str) -> None:
        close(self, Leave(answer))


class EntryScreen(BoardScreen):
    """Nothing entered is dropped unasked, and nothing is saved twice."""

    _saves = False

    @abstractmethod
    def unsaved(self) -> str | None:
        """What would be lost by leaving, or None."""

    @abstractmethod
    async def saved(self) -> bool:
        """Save all that is entered; True when it is on disk, or there is nothing to save."""

    async def _saved_once(self) -> bool:
        """Save, unless that is under way already or the screen was left."""
        if self._saves or not is_open(self):
            return False
        self._saves = True
        try:
            return await self.saved()
        finally:
            self._saves = False

    async def action_save(self) -> None:
        if await self._saved_once():
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
            if answer is Leave.DISCARD or (answer is Leave.SAVE and await self._saved_once()):
                go()

        self.app.push_screen(LeaveQuestion(entered), answered)

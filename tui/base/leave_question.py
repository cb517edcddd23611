"""Asks what to do with something entered that is not saved yet, before its screen is left."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Mapping
from enum import StrEnum
from typing import Any, ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from store.errors import BadValue
from store.plain_text import plain_sentence
from store.unsaved import Unsaved
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
    """Nothing entered is dropped unasked, and nothing is saved twice.

    What is typed is kept on disk until it is saved or dropped, for a screen that has a
    `where`; the screen calls `offer_unsaved` once, when it can take something up.
    """

    where: ClassVar[str] = ""
    """The name this screen's unsaved entries are kept under; the one of its route."""

    one_for_each: ClassVar[bool] = True
    """Whether what waits is offered only where the screen is opened on the same thing."""

    _saves = False
    _settled = False
    """Whether all of it was saved or dropped, so that nothing is unsaved any more."""

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
            self._settled = await self.saved()
        finally:
            self._saves = False
        if self._settled and self.where:
            await self.brimbook.unsaved_work.keep()
        return self._settled

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
            if answer is Leave.DISCARD:
                self._settled = True
                go()
            elif answer is Leave.SAVE and await self._saved_once():
                go()

        self.app.push_screen(LeaveQuestion(entered), answered)

    @property
    def about(self) -> str:
        """The ids this screen was opened on, with blanks between; empty where on nothing."""
        return ""

    def typed(self) -> Mapping[str, Any] | None:
        """What is entered and not saved, as plain data; None where that is nothing."""
        return None

    def typed_title(self) -> str:
        """What it is, for a person who is asked about it later."""
        return self.where

    def unsaved_now(self) -> Unsaved | None:
        typed = None if self._settled or not self.where else self.typed()
        if typed is None:
            return None
        return Unsaved(self.where, self.about, plain_sentence(self.typed_title()), typed)

    def take_up(self, typed: Mapping[str, Any]) -> None:
        """Show again what `typed` gave.

        Raises:
            BadValue: it is of another shape, or about something no longer there.
        """
        raise BadValue(f"its screen takes up none of {', '.join(typed)}")

    def offer_unsaved(self) -> None:
        """Take up what was chosen for this screen, or ask about what waits for it."""
        work = self.brimbook.unsaved_work
        chosen, work.chosen = work.chosen, None
        waits = work.waiting_for(self.where, self.about if self.one_for_each else None)
        if chosen is not None and chosen.where == self.where:
            self._take_up(chosen)
        elif waits is not None:
            work.offer(waits, lambda: self._take_up(waits))

    def _take_up(self, one: Unsaved) -> None:
        """Show it; where that cannot be it goes on waiting, and the person is told."""
        try:
            self.take_up(one.typed)
        except BadValue as error:
            self.brimbook.say_wrong(BadValue(f"{one.title} cannot be taken up: {error}."))
        else:
            self.brimbook.unsaved_work.drop(one)

"""Offers what was typed before Brimbook last ended: take it up, drop it, or leave it for later."""

from __future__ import annotations

from enum import StrEnum
from typing import ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from store.plain_text import plain_sentence
from tui.base.key_line import KeyLine
from tui.base.keys import key_of
from tui.base.open_screens import close
from tui.key_table import bind


class Offer(StrEnum):
    TAKE_UP = "take up"
    DROP = "drop"
    LATER = "later"


class UnsavedQuestion(ModalScreen[Offer]):
    """Answers with an `Offer`."""

    CSS_PATH = "leave_question.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        bind("yes", "answer('take up')", "Take it up", id="unsaved.take_up",
             tooltip="Go on with what was typed; it is not saved by that"),
        bind("take_out", "answer('drop')", "Drop it", id="unsaved.drop",
             tooltip="Throw away what was typed"),
        Binding("escape", "answer('later')", "Later", key_display="Esc", id="unsaved.later",
                tooltip="Keep it, and be asked again when its screen is opened"),
    ]  # fmt: skip

    def __init__(self, title: str, others: int = 0) -> None:
        """`others` is how much else waits, to be offered where its screen is opened."""
        super().__init__()
        self._title = title
        self._others = others

    def compose(self) -> ComposeResult:
        take_up, drop, later = (key_of(self.BINDINGS, "answer", one.value) for one in Offer)
        with Vertical():
            yield Static("Typed before, not saved", classes="title")
            yield Static(Text(plain_sentence(self._title)))
            if self._others:
                more = "1 more waits" if self._others == 1 else f"{self._others} more wait"
                yield Static(f"{more} until the screen is opened.")
            yield Static(f"\n{take_up} takes it up, {drop} drops it, {later} leaves it for later.")
        yield KeyLine()

    def action_answer(self, answer: str) -> None:
        close(self, Offer(answer))

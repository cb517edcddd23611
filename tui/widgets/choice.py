"""A field with a few possible words, chosen by the arrow keys or by a first letter."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from rich.text import Text
from textual import events
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widget import Widget

from tui.key_table import key

PASSED_ON = key("help")
"""The one printable key that is not swallowed: it asks for help."""


class Choice(Widget, can_focus=True):
    """Shows the chosen word between arrows; `value` is always one of the words."""

    DEFAULT_CSS = """
    Choice { height: 1; width: 22; background: $boost; }
    Choice:focus { background: $primary 40%; text-style: bold; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "right,space", "turn(1)", "Next choice", key_display="→", show=False, id="choice.next",
            tooltip="Take the next word; a letter takes the next word that starts with it",
        ),
        Binding(
            "left", "turn(-1)", "Choice before", key_display="←", show=False, id="choice.before",
            tooltip="Take the word before",
        ),
        Binding(
            "enter", "submit", "Next field", show=False, id="choice.submit",
            tooltip="Keep the word and go to the next field",
        ),
    ]  # fmt: skip

    class Changed(Message):
        """Another word was chosen."""

        def __init__(self, choice: Choice) -> None:
            super().__init__()
            self.choice = choice

        @property
        def control(self) -> Choice:
            return self.choice

    class Submitted(Changed):
        """Enter was pressed on the choice."""

    def __init__(self, words: Sequence[str], value: str) -> None:
        super().__init__()
        self.words = tuple(words)
        self._value = value

    @property
    def value(self) -> str:
        return self._value

    @value.setter
    def value(self, word: str) -> None:
        if word != self._value:
            self._value = word
            self.refresh()
            self.post_message(self.Changed(self))

    def offer(self, words: Sequence[str]) -> None:
        """Offer other words, the first of them chosen."""
        self.words = tuple(words)
        self.value = self.words[0]

    def render(self) -> Text:
        return Text(f"◂ {self._value} ▸", no_wrap=True, overflow="ellipsis")

    def check_consume_key(self, key: str, character: str | None) -> bool:  # noqa: ARG002
        return character is not None and character.isprintable() and character != PASSED_ON

    def on_key(self, event: events.Key) -> None:
        """A printable key never reaches the screen's single-letter keys."""
        letter = event.character
        if letter is None or not self.check_consume_key(event.key, letter) or letter == " ":
            return
        event.stop()
        event.prevent_default()
        here = self.words.index(self._value) + 1
        for word in (*self.words[here:], *self.words[:here]):
            if word.casefold().startswith(letter.casefold()):
                self.value = word
                return

    def on_click(self) -> None:
        self.action_turn(1)

    def action_turn(self, step: int) -> None:
        self.value = self.words[(self.words.index(self._value) + step) % len(self.words)]

    def action_submit(self) -> None:
        self.post_message(self.Submitted(self))

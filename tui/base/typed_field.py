"""One line to type a number or a text into, with room for the sentence when it is wrong."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.widgets import Input, Static

from store.typed import amount_typed
from store.units import Quantity, Units

if TYPE_CHECKING:
    from tui.base.field_screen import FieldScreen

NUMBER = r"[0-9.,]*"
AMOUNT = r"([0-9.,][0-9.,A-Za-z'\"/\u00b2 ]*)?"
"""A number, and the unit behind it where it is not the one that is shown."""
DATE = r"[0-9A-Za-z/ -]*"


def typed_volume_l(text: str, units: Units) -> float | None:
    """The litres that a text says, as 40, 40 gal or 150 L; None where nothing is typed.

    Raises:
        BadValue: as `amount_typed`.
    """
    return amount_typed(text, Quantity.VOLUME, units) if text else None


@dataclass(frozen=True)
class FieldTyped:
    """What a field was open for, and the text in it."""

    asking: str
    text: str


class TypedLine(Input, inherit_bindings=False):
    """An input that takes what it can and hands every other key on to its screen.

    It has the keys of an input alone: Up and Down, which would scroll it, are the screen's.
    """

    BINDINGS: ClassVar[list[BindingType]] = Input.BINDINGS
    through = ""
    """Characters that are never typed here but belong to the screen."""

    def check_consume_key(self, key: str, character: str | None) -> bool:
        taken = super().check_consume_key(key, character) and str(character) not in self.through
        return taken and self.field_screen.field.asking is not None

    @property
    def field_screen(self) -> FieldScreen:
        return cast("FieldScreen", self.screen)

    async def on_key(self, event: events.Key) -> None:
        if not self.check_consume_key(event.key, event.character):
            event.stop()
            event.prevent_default()
            await self.field_screen.press(event.key)

    async def action_submit(self) -> None:
        await self.field_screen.entered()

    def on_paste(self, event: events.Paste) -> None:
        """Many lines become one; nothing of them is dropped."""
        event.stop()
        event.prevent_default()
        self.replace(" ".join(event.text.splitlines()), *sorted(self.selection))


class TypedField(Vertical):
    """Closed until `ask`; `asking` names what is asked for."""

    DEFAULT_CSS = """
    TypedField { height: auto; padding: 0 1; }
    TypedField Horizontal { height: 1; }
    TypedField .label { width: auto; max-width: 60%; padding-right: 1; text-style: bold; }
    TypedField TypedLine { width: 1fr; height: 1; border: none; padding: 0; background: $boost; }
    TypedField .said { height: auto; max-height: 3; }
    """

    def __init__(self, *, id: str) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id)
        self.asking: str | None = None
        self.label = self.said = ""
        self._first = ""

    def compose(self) -> ComposeResult:
        with Horizontal():
            yield Static(markup=False, classes="label")
            yield TypedLine(compact=True)
        yield Static(markup=False, classes="said")

    def on_mount(self) -> None:
        self.close()

    @property
    def line(self) -> TypedLine:
        return self.query_one(TypedLine)

    @property
    def text(self) -> str:
        return self.line.value.strip()

    @property
    def typed(self) -> FieldTyped | None:
        """What stands in the open field, unless that is what it was opened with."""
        if self.asking is None or self.line.value == self._first:
            return None
        return FieldTyped(self.asking, self.line.value)

    def ask_again(self, typed: FieldTyped, asks: Mapping[str, Callable[[], object]]) -> None:
        """Open for what was typed before, by what `asks` for it, with that text in it.

        What nothing asks for is open already, or is dropped.
        """
        if typed.asking in asks:
            asks[typed.asking]()
        if self.asking == typed.asking:
            self.line.value = typed.text
            self.line.cursor_position = len(typed.text)

    def ask(
        self, what: str, label: str, value: str = "", *, only: str | None = None, through: str = ""
    ) -> None:
        """Open for typing; `only` is a pattern of the characters that are taken.

        A number there is typed over; a text is gone on with.
        """
        self.asking = what
        self.label = label
        self.query_one(".label", Static).update(label)
        self.say("")
        line = self.line
        line.restrict = only
        line.through = through
        line.value = self._first = value
        line.select_on_focus = only is not None
        line.cursor_position = len(value)
        self.query_one(Horizontal).display = True
        self.screen.set_focus(line)

    def say(self, sentence: str) -> None:
        self.said = sentence
        said = self.query_one(".said", Static)
        said.update(sentence)
        said.display = bool(sentence)

    def close(self) -> None:
        self.asking = None
        self.query_one(Horizontal).display = False
        if self.screen.focused is self.line:
            self.screen.set_focus(None)
        self.say("")

"""One line of a form: label, field, and the sentence that belongs to it."""

from __future__ import annotations

from typing import ClassVar

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.suggester import Suggester
from textual.widgets import Input, Static

from tui.widgets.choice import Choice

WRONG = "! "


class FormLine(Input):
    """A line to type into; what was typed stays when it is focused, many pasted lines join."""

    def __init__(
        self, value: str = "", placeholder: str = "", suggester: Suggester | None = None
    ) -> None:
        super().__init__(
            value, placeholder, suggester=suggester, compact=True, select_on_focus=False
        )

    def on_paste(self, event: events.Paste) -> None:
        event.prevent_default()
        event.stop()
        self.replace(" ".join(event.text.splitlines()), *sorted(self.selection))


def say(where: Static, said: Text | str) -> None:
    """Show other words; the same ones again would have the whole form laid out anew."""
    if where.content != said:
        where.update(said)


class FormRow(Horizontal):
    """A labelled `FormLine` or `Choice`; what is said beside it is shown as text."""

    DEFAULT_CSS = """
    FormRow { height: auto; width: 1fr; }
    FormRow > .label { width: 22; height: 1; text-wrap: nowrap; text-overflow: ellipsis; }
    FormRow > FormLine { width: 22; }
    FormRow > .said { width: 1fr; height: auto; padding: 0 0 0 1; color: $text-muted; }
    FormRow > .said.wrong { color: $text-error; text-style: bold; }
    """

    def __init__(self, key: str, label: str, editor: FormLine | Choice) -> None:
        super().__init__(id=f"row-{key}")
        self.key = key
        self.editor = editor
        self._label = label

    def compose(self) -> ComposeResult:
        yield Static(self._label, classes="label", markup=False)
        yield self.editor
        yield Static("", classes="said", markup=False)

    @property
    def text(self) -> str:
        return self.editor.value

    def say(self, sentence: str, *, wrong: bool = False) -> None:
        """Show a sentence beside the field; a wrong one is marked by a sign as well."""
        said = self.query_one(".said", Static)
        said.set_class(wrong, "wrong")
        say(said, WRONG + sentence if wrong else sentence)


class FormRows(VerticalScroll, can_focus=False, inherit_bindings=False):
    """The rows of a form; it scrolls by page, and the arrows are left to the fields."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("pageup", "page_up", "Page up", show=False, id="form.page_up",
                tooltip="Scroll the form up"),
        Binding("pagedown", "page_down", "Page down", show=False, id="form.page_down",
                tooltip="Scroll the form down"),
    ]  # fmt: skip

"""A screen for entering things: one field for typing, single keys for the rest."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from textual import events, on
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.timer import Timer
from textual.widgets import Input

from store.errors import BadValue
from store.plain_data import from_plain, to_plain
from tui.base.leave_question import EntryScreen
from tui.base.open_screens import close, is_open
from tui.base.table import KeyedTable
from tui.base.typed_field import FieldTyped, TypedField
from tui.key_table import bind

PAUSE_S = 0.6
"""How long a person who types may stop before a sentence says what is wrong so far."""


class FieldScreen(EntryScreen):
    """Keys count in the order they are pressed, and nothing entered is dropped unasked.

    Keys that come in one burst would otherwise overtake the opening and closing of
    the field: `i`, `6`, Enter must never be taken for the single key `6`.
    """

    AUTO_FOCUS = ""

    _pause: Timer | None = None
    _problem = ""
    """What was said last of what is typed, before Enter was pressed."""

    @property
    def field(self) -> TypedField:
        return self.query_one(TypedField)

    def on_resize(self) -> None:
        self.when_drawn(self.redraw)

    async def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        if self.field.asking is None:
            await self.press(event.key)
        else:
            self.field.line.post_message(events.Key(event.key, event.character))

    async def press(self, key: str) -> None:
        """Do what the key is bound to now; nothing once the screen was left."""
        active = self.active_bindings.get(key) if is_open(self) else None
        if active is not None and active.enabled:
            await self.app.run_action(active.binding.action, active.node)

    @on(Input.Changed)
    def _check_soon(self) -> None:
        """Say what is wrong once the typing pauses: half a word is no mistake."""
        if self._pause is not None:
            self._pause.stop()
        self._pause = self.set_timer(PAUSE_S, self.say_problem)

    def say_problem(self) -> None:
        """Say under the field what cannot be taken of it, or take that back."""
        field = self.field
        if field.asking is None:
            return
        problem = ""
        try:
            if field.text:
                self.check(field.asking, field.text)
        except BadValue as error:
            problem = str(error)
        if problem or field.said == self._problem:
            field.say(problem)
        self._problem = problem

    def check(self, asking: str, text: str) -> None:
        """Read what is typed as it would be taken, and change nothing.

        Raises:
            BadValue: it cannot be taken.
        """

    @abstractmethod
    def redraw(self) -> None:
        """Draw everything anew, as after a change of size."""

    @abstractmethod
    async def entered(self) -> None:
        """Enter was pressed in the field."""

    @abstractmethod
    def taken(self) -> bool:
        """Take what stands in the field, if it is open; False when it cannot be taken."""

    def action_back(self) -> None:
        """Close the field, keeping a note but not a number; leave the screen if none is open."""
        if self.field.asking == "note":
            self.taken()
        elif self.field.asking is not None:
            self.field.close()
            self.redraw()
        else:
            super().action_back()

    def action_quit_brimbook(self) -> None:
        self.leave(self.app.exit)

    def action_scroll_room(self, pages: int) -> None:
        """Scroll the part of the screen that may not fit."""
        room = self.query_one("#scrolled", VerticalScroll)
        room.scroll_relative(y=pages * max(room.size.height - 1, 1), animate=False)


@dataclass(frozen=True)
class LineTyped:
    """What stands in the field about the line `at`, one of the lines `of` something."""

    of: str
    at: str
    field: FieldTyped


class TableFieldScreen(FieldScreen):
    """What is typed counts or is dropped when the field closes; nothing waits to be saved."""

    BINDINGS: ClassVar[list[BindingType]] = [
        bind("undo", "take_back", "Undo", show=False, id="field.undo",
             tooltip="Take back what was saved last; press again to go further back"),
        bind("redo", "put_back", "Redo", show=False, id="field.redo",
             tooltip="Put back what was undone last"),
    ]  # fmt: skip

    def typed(self) -> Mapping[str, Any] | None:
        field = self.field.typed
        if field is None:
            return None
        typed: Mapping[str, Any] = to_plain(LineTyped(self.shown_of, self._table.here or "", field))
        return typed

    def typed_title(self) -> str:
        return f"{self.field.label}: {self.field.text}"

    def take_up(self, typed: Mapping[str, Any]) -> None:
        kept = from_plain(LineTyped, typed)
        self.show_again(kept.of)
        if kept.at not in self._table.rows:
            raise BadValue("its line is no longer there")
        self._table.move_cursor(row=self._table.get_row_index(kept.at))
        self.field.ask_again(kept.field, self.asks)

    @property
    def shown_of(self) -> str:
        """Of what the lines are, where the screen shows one thing after the other."""
        return ""

    def show_again(self, of: str) -> None:
        """Show the lines of that.

        Raises:
            BadValue: it is not there any more.
        """

    @property
    def asks(self) -> Mapping[str, Callable[[], object]]:
        """By what is asked for, what opens the field for the line at the cursor."""
        return {}

    @property
    @abstractmethod
    def _table(self) -> KeyedTable[Any]:
        """Where the keys go while the field is closed."""

    def _close_field(self) -> None:
        self.field.close()
        self.set_focus(self._table)
        if self.where:
            self.call_later(self.brimbook.unsaved_work.keep)

    def action_back(self) -> None:
        """Close the field, dropping what is typed; leave the screen if none is open."""
        if self.field.asking is None:
            close(self)
        else:
            self._close_field()

    async def entered(self) -> None:
        self.taken()

    async def saved(self) -> bool:
        return True

    async def action_take_back(self) -> None:
        await self.brimbook.action_undo()

    async def action_put_back(self) -> None:
        await self.brimbook.action_redo()

    def unsaved(self) -> str | None:
        return None

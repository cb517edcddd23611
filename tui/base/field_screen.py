"""A screen for entering things: one field for typing, single keys for the rest."""

from __future__ import annotations

from abc import abstractmethod
from typing import ClassVar

from rich.text import Text
from textual import events
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import DataTable

from tui.base.leave_question import EntryScreen
from tui.base.open_screens import close, is_open
from tui.base.typed_field import TypedField
from tui.key_table import bind


class FieldScreen(EntryScreen):
    """Keys count in the order they are pressed, and nothing entered is dropped unasked.

    Keys that come in one burst would otherwise overtake the opening and closing of
    the field: `i`, `6`, Enter must never be taken for the single key `6`.
    """

    AUTO_FOCUS = ""

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


class TableFieldScreen(FieldScreen):
    """What is typed counts or is dropped when the field closes; nothing waits to be saved."""

    BINDINGS: ClassVar[list[BindingType]] = [
        bind("undo", "take_back", "Undo", show=False, id="field.undo",
             tooltip="Take back what was saved last; press again to go further back"),
        bind("redo", "put_back", "Redo", show=False, id="field.redo",
             tooltip="Put back what was undone last"),
    ]  # fmt: skip

    @property
    @abstractmethod
    def _table(self) -> DataTable[Text]:
        """Where the keys go while the field is closed."""

    def _close_field(self) -> None:
        self.field.close()
        self.set_focus(self._table)

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

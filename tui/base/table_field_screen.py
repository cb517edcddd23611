"""Shared by screens that show a table and open one field over it now and then."""

from __future__ import annotations

from abc import abstractmethod

from rich.text import Text
from textual.widgets import DataTable

from tui.base.field_screen import FieldScreen
from tui.base.open_screens import close


class TableFieldScreen(FieldScreen):
    """What is typed counts or is dropped when the field closes; nothing waits to be saved."""

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

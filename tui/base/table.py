"""A table whose rows have keys, described by its columns."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from rich.text import Text
from textual import events
from textual.widgets import DataTable

T = TypeVar("T")
SCROLLBAR = 1
"""Cells that a table leaves to its scrollbar."""


@dataclass(frozen=True)
class Column(Generic[T]):
    heading: str
    width: int
    cell: Callable[[T], Text]


def cut(text: str, width: int, style: str = "") -> Text:
    """A text on one line of `width` cells, with an ellipsis where it is longer."""
    line = Text(text, style, no_wrap=True, end="")
    line.truncate(width, overflow="ellipsis")
    return line


class KeyedTable(DataTable[Text], Generic[T]):
    """Shows a line a row; when it is filled anew, the cursor stays on the row of its key."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(
            cursor_type="row", cell_padding=0, cursor_foreground_priority="renderable", id=id
        )
        self._described: Sequence[Column[T]] = ()

    @property
    def here(self) -> str | None:
        """The key of the row at the cursor; None where there are no rows."""
        if not self.row_count:
            return None
        return self.coordinate_to_cell_key(self.cursor_coordinate).row_key.value

    def on_click(self, event: events.Click) -> None:
        """A click on a row or column that was drawn and is gone by now is for nobody."""
        row, column = (event.style.meta.get(name, 0) for name in ("row", "column"))
        if row >= max(self.row_count, 1) or column >= len(self.columns):
            event.stop()
            event.prevent_default()

    def fill(
        self, columns: Sequence[Column[T]], lines: Mapping[str, T], at: str | None = None
    ) -> None:
        """Show `lines` by key, with the cursor on the row `at` or where it was."""
        here = at or self.here
        self._described = columns
        self.clear(columns=True)
        for number, column in enumerate(columns):
            self.add_column(column.heading, width=column.width, key=str(number))
        for key, line in lines.items():
            cells = [column.cell(line) for column in columns]
            self.add_row(*cells, key=key, height=max(cell.plain.count("\n") for cell in cells) + 1)
        if here is not None and here in self.rows:
            self.move_cursor(row=self.get_row_index(here))

    def show_line(self, key: str, line: T) -> None:
        """Show one line anew in its row."""
        for number, column in enumerate(self._described):
            self.update_cell(key, str(number), column.cell(line))

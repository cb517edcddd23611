"""A list of any number of lines, of which only those in view are drawn."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from rich.text import Text
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

Draw = Callable[[int, int], Text]
"""The line of a number, counted from 0, in so many cells."""


class LineList(ScrollView, can_focus=True, inherit_bindings=False):
    """One line has the cursor; `count` lines are drawn by a function as they come in view."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {"line-list--cursor"}
    DEFAULT_CSS = """
    LineList {
        height: 1fr;
        overflow-x: hidden;
        & > .line-list--cursor {
            background: $block-cursor-blurred-background;
            color: $block-cursor-blurred-foreground;
        }
        &:focus > .line-list--cursor {
            background: $block-cursor-background;
            color: $block-cursor-foreground;
            text-style: $block-cursor-text-style;
        }
    }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "move(-1)", "Above", show=False, id="lines.up",
                tooltip="Move to the line above"),
        Binding("down", "move(1)", "Below", show=False, id="lines.down",
                tooltip="Move to the line below"),
        Binding("pageup", "move_pages(-1)", "Page up", show=False, id="lines.page_up",
                tooltip="Move up a page"),
        Binding("pagedown", "move_pages(1)", "Page down", show=False, id="lines.page_down",
                tooltip="Move down a page"),
        Binding("home", "first", "First", show=False, id="lines.first",
                tooltip="Move to the first line"),
        Binding("end", "last", "Last", show=False, id="lines.last",
                tooltip="Move to the last line"),
    ]  # fmt: skip

    class Moved(Message):
        """The cursor stands on another line, or there are other lines."""

    class Chosen(Message):
        """A line was clicked on that had the cursor already."""

    def __init__(self, draw: Draw, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own
        super().__init__(id=id)
        self._draw = draw
        self._count = 0
        self._cursor = 0

    @property
    def cursor(self) -> int | None:
        """The line of the cursor; None where there are no lines."""
        return self._cursor if self._count else None

    def load(self, count: int, at: int = 0) -> None:
        """Show so many lines, the cursor on the line `at` or the nearest there is."""
        self._count = count
        self.virtual_size = Size(self.scrollable_content_region.width, count)
        self._move_to(at, again=True)

    def _move_to(self, line: int, *, again: bool = False) -> None:
        line = max(0, min(line, self._count - 1))
        if again or line != self._cursor:
            self._cursor = line
            self.scroll_to_region(Region(0, line, 1, 1), animate=False, force=True)
            self.refresh()
            self.post_message(self.Moved())

    def action_move(self, lines: int) -> None:
        self._move_to(self._cursor + lines)

    def action_move_pages(self, pages: int) -> None:
        self._move_to(self._cursor + pages * max(1, self.scrollable_content_region.height))

    def action_first(self) -> None:
        self._move_to(0)

    def action_last(self) -> None:
        self._move_to(self._count - 1)

    def on_resize(self) -> None:
        self.virtual_size = Size(self.scrollable_content_region.width, self._count)
        self.scroll_to_region(Region(0, self._cursor, 1, 1), animate=False, force=True)

    def on_click(self, event: events.Click) -> None:
        offset = event.get_content_offset(self)
        line = -1 if offset is None else offset.y + self.scroll_offset.y
        if not 0 <= line < self._count:
            return
        if line == self._cursor:
            self.post_message(self.Chosen())
        self._move_to(line)

    def render_line(self, y: int) -> Strip:
        width, line = self.scrollable_content_region.width, y + self.scroll_offset.y
        if line >= self._count:
            return Strip.blank(width, self.rich_style)
        strip = Strip(self._draw(line, width).render(self.app.console))
        style = self.rich_style
        if line == self._cursor:
            style += self.get_component_rich_style("line-list--cursor")
        return strip.adjust_cell_length(width).apply_style(style)

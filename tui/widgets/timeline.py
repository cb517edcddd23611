"""A season of many stations: one row each, days or weeks across, a cursor to ask with."""

from __future__ import annotations

from datetime import date, timedelta
from typing import ClassVar

from rich.cells import cell_len
from rich.segment import Segment
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from tui.key_table import bind
from tui.widgets import timeline_look
from tui.widgets.axis import Axis, axis_key, moved_by_months
from tui.widgets.cells import fit, one_line
from tui.widgets.inked import Inks
from tui.widgets.timeline_data import Row, TimelineData, Window
from tui.widgets.timeline_painting import HEADER_ABOVE_LANES, lanes_of, paint_header, paint_row

COLUMN_TEXTS = {1: "1 day", 2: "2 days", 7: "1 week"}
ZOOMS = tuple(COLUMN_TEXTS)
"""Days per column."""
NARROWEST_NAMES, WIDEST_NAMES = 16, 18
"""Cells of the names column with its cursor sign and its edge."""
EDGE = "│"
CURSOR_SIGN = "▸"
MARGIN = 3
"""Columns kept in view on both sides of the cursor."""


class Timeline(ScrollView, can_focus=True, inherit_bindings=False):
    """Shows `TimelineData` with a frozen header and a frozen column of names."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "move_rows(-1)", "Row above", show=False, id="timeline.up",
                tooltip="Move to the station above"),
        Binding("down", "move_rows(1)", "Row below", show=False, id="timeline.down",
                tooltip="Move to the station below"),
        Binding("left", "move_columns(-1)", "Earlier", show=False, id="timeline.left",
                tooltip="Move a column back"),
        Binding("right", "move_columns(1)", "Later", show=False, id="timeline.right",
                tooltip="Move a column on"),
        axis_key("month_before", "move_months(-1)", "timeline", "Move a month back"),
        axis_key("month_after", "move_months(1)", "timeline", "Move a month on"),
        Binding("pageup", "move_pages(-1)", "Page up", show=False, id="timeline.page_up",
                tooltip="Move up a page of stations"),
        Binding("pagedown", "move_pages(1)", "Page down", show=False, id="timeline.page_down",
                tooltip="Move down a page of stations"),
        Binding("home", "first_day", "First day", show=False, id="timeline.first_day",
                tooltip="Move to the first day of the timeline"),
        Binding("end", "last_day", "Last day", show=False, id="timeline.last_day",
                tooltip="Move to the last day of the timeline"),
        axis_key("nearer", "zoom(-1)", "timeline", "Fewer days a column"),
        axis_key("farther", "zoom(1)", "timeline", "More days a column"),
        bind("next", "to_window(1)", "Next window", show=False,
             id="timeline.next_window", tooltip="Move on to the next window of the season"),
        bind("before", "to_window(-1)", "Window before", show=False,
             id="timeline.window_before", tooltip="Move back to the window before"),
        Binding("enter", "select", "Open", id="timeline.select",
                tooltip="Open the station at the cursor"),
    ]  # fmt: skip

    COMPONENT_CLASSES: ClassVar[set[str]] = timeline_look.CLASSES
    DEFAULT_CSS = timeline_look.CSS

    class CursorMoved(Message):
        """The cursor stands elsewhere.

        Its column runs from `day` to `last_day`, which are the same at the nearest zoom.
        """

        def __init__(self, timeline: Timeline, row_key: str, day: date, last_day: date) -> None:
            super().__init__()
            self.timeline = timeline
            self.row_key = row_key
            self.day = day
            self.last_day = last_day

        @property
        def control(self) -> Timeline:
            return self.timeline

    class Selected(Message):
        """Somebody asked to open the row and day at the cursor."""

        def __init__(self, timeline: Timeline, row_key: str, day: date) -> None:
            super().__init__()
            self.timeline = timeline
            self.row_key = row_key
            self.day = day

        @property
        def control(self) -> Timeline:
            return self.timeline

    def __init__(
        self,
        data: TimelineData | None = None,
        *,
        days_per_column: int = ZOOMS[0],
        id: str | None = None,  # noqa: A002 - the name Textual gives it
    ) -> None:
        super().__init__(id=id)
        self._data = data
        self._days_per_column = days_per_column
        self._axis = data.axis(days_per_column) if data else Axis(date.min, date.min)
        self._cursor_row = 0
        self._cursor_day = self._axis.clamp(data.today) if data else date.min
        self._names_width = 0
        self._header_rows = 0
        self._strips: dict[int, Strip] = {}
        self._names: dict[tuple[int, bool], Strip] = {}
        self._header: tuple[tuple[int, int], list[Strip]] | None = None
        self._inks = Inks(self, "timeline")

    @property
    def data(self) -> TimelineData | None:
        return self._data

    @property
    def days_per_column(self) -> int:
        return self._days_per_column

    @property
    def cursor_day(self) -> date:
        return self._cursor_day

    @property
    def cursor_key(self) -> str | None:
        """Key of the row at the cursor; None while there are no rows."""
        row = self._row()
        return row.key if row else None

    def on_mount(self) -> None:
        self._lay_out()
        self._report()

    def on_resize(self) -> None:
        self._scroll_to_cursor(centre=True)

    def load(self, data: TimelineData) -> None:
        """Show other data; the cursor keeps its row and day where they still exist."""
        key, day = self.cursor_key, self._cursor_day if self._data else data.today
        self._data = data
        self._axis = data.axis(self._days_per_column)
        kept = min(self._cursor_row, max(0, len(data.rows) - 1))
        self._cursor_row = data.index_of_key.get(key, kept) if key is not None else 0
        self._cursor_day = self._axis.clamp(day)
        self._lay_out()
        self._report()

    def move_to(self, row: int, day: date) -> None:
        """Put the cursor on a row, counted from 0, and a day, or on the nearest there are."""
        if self._data is None or not self._data.rows:
            return
        row = min(max(row, 0), len(self._data.rows) - 1)
        day = self._axis.clamp(day)
        if (row, day) == (self._cursor_row, self._cursor_day):
            return
        before = self._cursor_row
        self._cursor_row, self._cursor_day = row, day
        offset = self.scroll_offset
        self._scroll_to_cursor()
        if self.scroll_offset == offset:
            self._refresh_row(before)
            self._refresh_row(row)
            header = Region(0, 1, self.size.width, 1)
            if self._data.rows[before].windows is not self._data.rows[row].windows:
                self._header = None
                header = Region(0, 0, self.size.width, self._header_rows)
            self.refresh(header)
        self._report()

    def move_to_key(self, row_key: str, day: date | None = None) -> None:
        """As `move_to`, by the key of a row; an unknown key does nothing."""
        if self._data is not None and row_key in self._data.index_of_key:
            self.move_to(self._data.index_of_key[row_key], day or self._cursor_day)

    def action_move_rows(self, rows: int) -> None:
        self.move_to(self._cursor_row + rows, self._cursor_day)

    def action_move_columns(self, columns: int) -> None:
        days = timedelta(days=columns * self._days_per_column)
        if self._data is not None:
            self.move_to(self._cursor_row, self._cursor_day + days)

    def action_move_months(self, months: int) -> None:
        if self._data is not None:
            self.move_to(self._cursor_row, moved_by_months(self._cursor_day, months))

    def action_move_pages(self, pages: int) -> None:
        self.action_move_rows(pages * max(1, self.size.height - self._header_rows - 1))

    def action_first_day(self) -> None:
        self.move_to(self._cursor_row, self._axis.first_day)

    def action_last_day(self) -> None:
        self.move_to(self._cursor_row, self._axis.last_day)

    def move_to_day(self, day: date) -> None:
        """Put the cursor of the same row on `day`, or on the nearest day there is."""
        self.move_to(self._cursor_row, self._axis.clamp(day))

    def action_to_window(self, steps: int) -> None:
        """To the first day of the next window, or of the one before."""
        starts = sorted({self._axis.clamp(window.first) for window in self._windows})
        beyond = [day for day in starts if (day > self._cursor_day) == (steps > 0)]
        others = [day for day in beyond if day != self._cursor_day]
        if others:
            self.move_to(self._cursor_row, others[0] if steps > 0 else others[-1])

    def action_zoom(self, steps: int) -> None:
        index = ZOOMS.index(self._days_per_column) + steps
        zoom = ZOOMS[min(len(ZOOMS) - 1, max(0, index))]
        if zoom != self._days_per_column and self._data is not None:
            self._days_per_column = zoom
            self._axis = self._data.axis(zoom)
            self._lay_out()
            self._report()

    def action_select(self) -> None:
        row = self._row()
        if row is not None:
            self.post_message(self.Selected(self, row.key, self._cursor_day))

    def on_click(self, event: events.Click) -> None:
        offset = event.get_content_offset(self)
        if self._data is None or offset is None or offset.y < self._header_rows:
            return
        row = offset.y - self._header_rows + self.scroll_offset.y
        column = offset.x - self._names_width + self.scroll_offset.x
        if row < len(self._data.rows) and column < self._axis.columns:
            on_name = offset.x < self._names_width
            self.move_to(row, self._cursor_day if on_name else self._axis.first(column))

    @property
    def _windows(self) -> tuple[Window, ...]:
        row = self._row()
        return row.windows if row else ()

    def _row(self) -> Row | None:
        rows = self._data.rows if self._data else ()
        return rows[self._cursor_row] if rows else None

    def _report(self) -> None:
        row = self._row()
        if self._data is None or row is None:
            return
        column = self._axis.column(self._cursor_day)
        first, last = self._axis.first(column), self._axis.last(column)
        self.post_message(self.CursorMoved(self, row.key, first, last))

    def _lay_out(self) -> None:
        """Sizes that follow from data and zoom; forgets everything painted."""
        self._forget()
        if self._data is None:
            return
        longest = max((cell_len(one_line(row.name)) for row in self._data.rows), default=0)
        self._names_width = min(WIDEST_NAMES, max(NARROWEST_NAMES, longest + 2))
        seasons = {id(row.windows): row.windows for row in self._data.rows}.values()
        lanes = max((len(lanes_of(windows, self._axis)) for windows in seasons), default=0)
        self._header_rows = HEADER_ABOVE_LANES + lanes
        self.virtual_size = Size(
            self._names_width + self._axis.columns, self._header_rows + len(self._data.rows)
        )
        self._scroll_to_cursor(centre=True)
        self.refresh()

    def _scroll_to_cursor(self, *, centre: bool = False) -> None:
        width = max(1, self.size.width - self._names_width)
        height = max(1, self.size.height - self._header_rows)
        column = self._axis.column(self._cursor_day)
        x, y = self.scroll_offset
        margin = width // 2 if centre else min(MARGIN, (width - 1) // 2)
        x = min(max(x, column + margin + 1 - width), column - margin)
        y = min(max(y, self._cursor_row + 1 - height), self._cursor_row)
        self.scroll_to(max(0, x), max(0, y), animate=False)

    def _refresh_row(self, row: int) -> None:
        y = self._header_rows + row - self.scroll_offset.y
        if y >= self._header_rows:
            self.refresh(Region(0, y, self.size.width, 1))

    def _forget(self) -> None:
        self._strips.clear()
        self._names.clear()
        self._header = None
        self._inks.clear()

    def notify_style_update(self) -> None:
        super().notify_style_update()
        self._forget()

    def render_line(self, y: int) -> Strip:
        width = self.size.width
        row = y - self._header_rows + self.scroll_offset.y
        if self._data is None or (y >= self._header_rows and row >= len(self._data.rows)):
            return Strip.blank(width, self.rich_style)
        left = self.scroll_offset.x
        right = min(self._axis.columns, left + width - self._names_width)
        if right <= left:
            return Strip.blank(width, self.rich_style)
        at_cursor = self._axis.column(self._cursor_day) - left
        if y < self._header_rows:
            strip = self._header_strips(self._data, left, right - left)[y]
            names = self._corner(y, left)
            marked = y == 1
        else:
            strip = self._row_strip(self._data, row).crop(left, right)
            marked = row == self._cursor_row
            names = self._name_strip(self._data.rows[row], row, marked)
        if marked:
            strip = self._inks.with_cursor(strip, at_cursor)
        return Strip.join((names, strip)).extend_cell_length(width, self.rich_style)

    def _row_strip(self, data: TimelineData, row: int) -> Strip:
        if row not in self._strips:
            self._strips[row] = self._inks.strip(paint_row(data, self._axis, data.rows[row]), 0)
        return self._strips[row]

    def _header_strips(self, data: TimelineData, left: int, width: int) -> list[Strip]:
        if self._header is None or self._header[0] != (left, width):
            canvas = paint_header(data, self._windows, self._axis, left, width)
            strips = [self._inks.strip(canvas, y) for y in range(canvas.height)]
            blank = Strip.blank(width, self.rich_style)
            strips += [blank] * (self._header_rows - len(strips))
            self._header = (left, width), strips
        return self._header[1]

    def _name_strip(self, row: Row, index: int, at_cursor: bool) -> Strip:
        if (index, at_cursor) not in self._names:
            sign = CURSOR_SIGN if at_cursor else " "
            text = sign + fit(row.name, self._names_width - 2) + EDGE
            style = self._inks.style("name-cursor" if at_cursor else "name")
            self._names[index, at_cursor] = Strip([Segment(text, style)], self._names_width)
        return self._names[index, at_cursor]

    def _corner(self, y: int, left: int) -> Strip:
        """Left of the header: the year at the edge of the view, and what a column is."""
        texts = (
            str(self._axis.first(left).year),
            f"{COLUMN_TEXTS[self._days_per_column]} a column",
        )
        text = fit(texts[y] if y < len(texts) else "", self._names_width)
        return Strip([Segment(text, self._inks.style("header"))], self._names_width)

"""The level of one tank over days: band, median, readings, marks and outlook."""

from __future__ import annotations

from datetime import date, timedelta
from typing import ClassVar

from rich.segment import Segment
from textual import events
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from tui.widgets import chart_look
from tui.widgets.axis import Axis, moved_by_months
from tui.widgets.cells import fit
from tui.widgets.chart_data import ChartData, describe
from tui.widgets.chart_painting import FOOT_ROWS, gutter_width, paint_chart
from tui.widgets.inked import Inks

ZOOMS = (1, 2, 3, 4, 5, 7)
"""Days per column, from the nearest view to the farthest."""
CURSOR = "┃"
THROUGH = " ┆│╌"
"""Glyphs of the plot that the cursor's upright may replace."""
MARGIN = 3
"""Columns kept in view on both sides of the cursor."""


class LevelChart(Widget):
    """Shows `ChartData`; the first row says what stands at the cursor's day.

    Where that is told `apart`, `Pointed` has it for whoever shows it, and there is no such row.
    """

    class Pointed(Message):
        """The cursor stands on another day, or on other data."""

        def __init__(self, told: str) -> None:
            super().__init__()
            self.told = told

    COMPONENT_CLASSES: ClassVar[set[str]] = chart_look.CLASSES
    DEFAULT_CSS = chart_look.CSS

    def __init__(
        self,
        data: ChartData | None = None,
        *,
        apart: bool = False,
        id: str | None = None,  # noqa: A002 - the name Textual gives it
    ) -> None:
        super().__init__(id=id)
        self._data = data
        self._head_rows = 0 if apart else 1
        self._days_per_column: int | None = None
        self._start = 0
        self._cursor_day = data.axis(1).clamp(data.today) if data else date.min
        self._asked_day = data.today if data else date.min
        """Where the cursor stands, or would on a chart that reaches so far."""
        self._strips: list[Strip] = []
        self._inks = Inks(self, "level-chart", grounds=("band",))

    @property
    def data(self) -> ChartData | None:
        return self._data

    @property
    def cursor_day(self) -> date:
        return self._cursor_day

    @property
    def days_per_column(self) -> int:
        """As chosen with the keys, or the nearest zoom that shows every day."""
        if self._days_per_column is not None or self._data is None:
            return self._days_per_column or ZOOMS[0]
        fitting = (
            zoom for zoom in ZOOMS if self._data.axis(zoom).columns <= self._plot_width(self._data)
        )
        return next(fitting, ZOOMS[-1])

    def load(self, data: ChartData, *, cursor_day: date | None = None) -> None:
        """Show other data; the cursor keeps its day where it can, else stands on today."""
        self._asked_day = cursor_day or (self._asked_day if self._data else data.today)
        self._data = data
        self._cursor_day = data.axis(1).clamp(self._asked_day)
        self._show_cursor(repaint=True)

    def move_to(self, day: date) -> None:
        """Put the cursor on `day`, or on the nearest day there is."""
        if self._data is None:
            return
        self._asked_day = day = self._data.axis(1).clamp(day)
        if day != self._cursor_day:
            self._cursor_day = day
            self._show_cursor()

    def move_days(self, days: int) -> None:
        if self._data is not None:
            self.move_to(self._cursor_day + timedelta(days=days))

    def move_months(self, months: int) -> None:
        if self._data is not None:
            self.move_to(moved_by_months(self._cursor_day, months))

    def zoom(self, steps: int) -> None:
        index = ZOOMS.index(self.days_per_column) + steps
        self._days_per_column = ZOOMS[min(len(ZOOMS) - 1, max(0, index))]
        self._show_cursor(repaint=True, centre=True)

    def _plot_width(self, data: ChartData) -> int:
        return max(1, self.size.width - gutter_width(data))

    def _axis(self, data: ChartData) -> Axis:
        return data.axis(self.days_per_column)

    def _show_cursor(self, *, repaint: bool = False, centre: bool = False) -> None:
        """Slide the view so that the cursor is in it, painting anew when it slid."""
        if self._data is None:
            return
        axis, width = self._axis(self._data), self._plot_width(self._data)
        column = axis.column(self._cursor_day)
        margin = width // 2 if centre else min(MARGIN, (width - 1) // 2)
        start = min(max(self._start, column + margin + 1 - width), column - margin)
        start = max(0, min(start, axis.columns - width))
        if repaint or start != self._start:
            self._start = start
            self._strips = []
        if not self._head_rows:
            self.post_message(self.Pointed(describe(self._data, self._cursor_day)))
        self.refresh()

    def on_resize(self) -> None:
        self._show_cursor(repaint=True)

    def on_click(self, event: events.Click) -> None:
        offset = event.get_content_offset(self)
        if self._data is None or offset is None:
            return
        axis = self._axis(self._data)
        column = self._start + offset.x - gutter_width(self._data)
        if self._start <= column < axis.columns:
            self.move_to(axis.first(column))

    def notify_style_update(self) -> None:
        super().notify_style_update()
        self._inks.clear()
        self._strips = []

    def render_line(self, y: int) -> Strip:
        width, height = self.size
        if self._data is None or y >= height:
            return Strip.blank(width, self.rich_style)
        if y < self._head_rows:
            line = fit(describe(self._data, self._cursor_day), width)
            return Strip([Segment(line, self._inks.style("readout"))], width)
        if len(self._strips) != height - self._head_rows:
            self._strips = self._painted(self._data)
        strip = self._strips[y - self._head_rows]
        axis = self._axis(self._data)
        x = gutter_width(self._data) + axis.column(self._cursor_day) - self._start
        in_plot = y < height - FOOT_ROWS
        return self._inks.with_cursor(strip, x, CURSOR, THROUGH if in_plot else "")

    def _painted(self, data: ChartData) -> list[Strip]:
        width, height = self.size
        canvas = paint_chart(
            data,
            self._axis(data),
            self._start,
            width,
            height - self._head_rows,
            shaded=self._inks.without_grounds,
        )
        return [self._inks.strip(canvas, y) for y in range(canvas.height)]

"""Paints the rows and the header of a timeline on canvases; knows no colours."""

from __future__ import annotations

from collections import defaultdict
from datetime import timedelta

from rich.cells import cell_len

from tui.widgets.axis import WEEK, Axis, month_line
from tui.widgets.canvas import UNDERLINED, Canvas
from tui.widgets.cells import one_cell
from tui.widgets.timeline_data import (
    LEVEL_GLYPHS,
    MARK_KINDS,
    SPAN_GLYPHS,
    SPAN_KINDS,
    UNSURE_GLYPH,
    UNSURE_SPREAD,
    Mark,
    Row,
    Span,
    TimelineData,
    Window,
    level_glyph,
    rank,
)

TODAY_ABOVE, TODAY, MONTH, MORE = "▼", "│", "┊", "+"
HEADER_ABOVE_LANES = 2
"""The months and the dates."""


def paint_row(data: TimelineData, axis: Axis, row: Row) -> Canvas:
    """All columns of `row`, one line high.

    Inks: level, span-KIND, mark-KIND, underlined-mark-KIND, today, month. A cell with several
    marks shows the most important one underlined, with a plus sign in a free cell
    beside it where there is one.
    """
    canvas = Canvas(axis.columns, 1)
    _paint_levels(canvas, axis, row)
    for span in sorted(row.spans, key=lambda span: -rank(span.kind, SPAN_KINDS)):
        _paint_span(canvas, axis, span)
    for column, _ in axis.month_starts(0, axis.columns):
        canvas.put_on_blank(column, 0, MONTH, "month")
    for window in row.windows:
        if window.shaded:
            _shade(canvas, axis, window)
    if data.first_day <= data.today <= data.last_day:
        column = axis.column(data.today)
        if canvas.glyph(column, 0) in (" ", MONTH, UNSURE_GLYPH, *LEVEL_GLYPHS):
            canvas.put(column, 0, TODAY, "today")
        canvas.fill_ground(column, 0, "today")
    _paint_marks(canvas, axis, row)
    return canvas


def _paint_levels(canvas: Canvas, axis: Axis, row: Row) -> None:
    """How full the tank is in the middle of each column; every other one unsure where it is."""
    if row.level_on is None:
        return
    for column in range(axis.columns):
        first, last = axis.first(column), axis.last(column)
        level = row.level_on(first + (last - first) / 2)
        if level is None:
            continue
        share, spread = level
        if spread > UNSURE_SPREAD and column % 2:
            canvas.put(column, 0, UNSURE_GLYPH, "level")
        else:
            canvas.put(column, 0, level_glyph(share), "level")


def _shade(canvas: Canvas, axis: Axis, window: Window) -> None:
    first, last = axis.column(window.first), axis.column(window.last)
    for column in range(max(0, first), min(axis.columns - 1, last) + 1):
        canvas.fill_ground(column, 0, "shaded")


def _paint_span(canvas: Canvas, axis: Axis, span: Span) -> None:
    kind = SPAN_KINDS[rank(span.kind, SPAN_KINDS)]
    first, last = axis.column(span.first), axis.column(span.last)
    for column in range(max(0, first), min(axis.columns - 1, last) + 1):
        canvas.put(column, 0, SPAN_GLYPHS[kind], f"span-{kind}")


def _paint_marks(canvas: Canvas, axis: Axis, row: Row) -> None:
    by_column: dict[int, list[Mark]] = defaultdict(list)
    for mark in row.marks:
        if axis.first_day <= mark.day <= axis.last_day:
            by_column[axis.column(mark.day)].append(mark)
    taken = set(by_column)
    for column, marks in sorted(by_column.items()):
        shown = min(marks, key=lambda mark: rank(mark.kind, MARK_KINDS))
        ink = f"mark-{MARK_KINDS[rank(shown.kind, MARK_KINDS)]}"
        if len(marks) > 1:
            ink = UNDERLINED + ink
            beside = next((x for x in (column + 1, column - 1) if x not in taken), None)
            if beside is not None and 0 <= beside < axis.columns:
                canvas.put(beside, 0, MORE, ink.removeprefix(UNDERLINED))
                taken.add(beside)
        canvas.put(column, 0, one_cell(shown.glyph), ink)


def lanes_of(windows: tuple[Window, ...], axis: Axis) -> list[list[Window]]:
    """Windows shared out to rows, so that no column of a row belongs to two of them.

    A short name may stand out beyond the days of its window.
    """
    lanes: list[list[Window]] = []
    for window in sorted(windows, key=lambda window: (window.first, window.last)):
        lane = next(
            (lane for lane in lanes if _end(lane[-1], axis) < axis.column(window.first)), None
        )
        if lane is None:
            lanes.append([window])
        else:
            lane.append(window)
    return lanes


def _end(window: Window, axis: Axis) -> int:
    """The last column that a window or its short name takes."""
    return max(axis.column(window.last), axis.column(window.first) + cell_len(window.short) - 1)


def paint_header(
    data: TimelineData, windows: tuple[Window, ...], axis: Axis, start: int, width: int
) -> Canvas:
    """Months, dates and windows over the columns [start, start + width).

    Inks: header, today, window. Month and window names move with the view, so that
    they can be read as long as there is room for them; a part of a name is a riddle.
    """
    lanes = lanes_of(windows, axis)
    canvas = Canvas(width, HEADER_ABOVE_LANES + len(lanes))
    canvas.write(0, 0, month_line(axis, start, width), "header")
    _paint_dates(canvas, data, axis, start)
    for number, lane in enumerate(lanes):
        for window in lane:
            _paint_window(canvas, HEADER_ABOVE_LANES + number, window, axis, start)
    return canvas


def _paint_dates(canvas: Canvas, data: TimelineData, axis: Axis, start: int) -> None:
    """Day of the month every week, or every fourth week where a column is a week."""
    weeks = {1: 1, WEEK: 4}.get(axis.days_per_column, 2)
    stop = min(start + canvas.width, axis.columns)
    if stop > start:
        first, last = axis.first(start), axis.last(stop - 1)
        day = first + timedelta(days=-first.weekday() % WEEK)
        while day <= last:
            if day.toordinal() // WEEK % weeks == 0:
                canvas.write(axis.column(day) - start, 1, str(day.day), "header")
            day += timedelta(days=WEEK)
    if data.first_day <= data.today <= data.last_day:
        canvas.put(axis.column(data.today) - start, 1, TODAY_ABOVE, "today")


def _paint_window(canvas: Canvas, y: int, window: Window, axis: Axis, start: int) -> None:
    first, last = axis.column(window.first) - start, axis.column(window.last) - start
    left, right = max(first, 0), min(last, canvas.width - 1)
    if left > right:
        return
    width = right - left + 1
    for x in range(left, right + 1):
        canvas.put(x, y, "─", "window")
    canvas.put(first, y, "├", "window")
    canvas.put(last, y, "┤", "window")
    inner = left + (left == first)
    inside = width - (left == first) - (right == last)
    places = (
        (window.label, inner, inside),
        (window.short, inner, inside),
        (window.short, inner, left + width - inner),
        (window.short, left, min(_end(window, axis) - start, canvas.width - 1) - left + 1),
    )
    text, x = next(((text, x) for text, x, room in places if cell_len(text) <= room), ("", inner))
    canvas.write(x, y, text, "window")

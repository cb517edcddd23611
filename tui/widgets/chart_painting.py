"""Paints a level chart on a canvas: band, thresholds, events, median, readings, labels."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import timedelta
from itertools import pairwise
from math import floor, log10

from rich.cells import cell_len

from tui.widgets.axis import Axis, month_line
from tui.widgets.braille import DOTS_ACROSS, DOTS_DOWN, braille_cells, line_dots
from tui.widgets.canvas import INVERSE, Canvas
from tui.widgets.cells import EIGHTHS_UP, crop, one_cell
from tui.widgets.chart_data import ChartData

READING, DOUBTED, DASH, EVENT, TODAY, SHADE = "●", "?", "╌", "┆", "│", "░"
NOT_TO_BE_COVERED = frozenset({"median", "future", "reading"})
"""Inks that no label is written over."""
TODAY_WORD = "today"
FOOT_ROWS = 2
"""The row of marks and the row of months below the plot."""
EIGHTHS = 8

Cell = tuple[int, int]


def gutter_width(data: ChartData) -> int:
    """Cells left of the plot: the widest axis label and the axis line."""
    return max(cell_len(data.axis_format.format(end)) for end in (data.at_rim, data.at_bottom)) + 1


def paint_chart(
    data: ChartData, axis: Axis, start: int, width: int, height: int, *, shaded: bool = False
) -> Canvas:
    """Columns of `axis` from `start` on, in `width` x `height` cells with axes and labels.

    Inks are median, future, band, band-inverse, threshold, event, today, reading, label
    and axis; the one ground is band. `shaded` draws the band with shade glyphs, for
    terminals without background colours.
    """
    canvas = Canvas(width, height)
    plot = _Plot(data, axis, start, canvas, gutter_width(data), max(1, height - FOOT_ROWS))
    coverage = plot.band(shaded)
    plot.thresholds()
    plot.events()
    plot.median()
    plot.readings()
    if not shaded:
        plot.keep_band_behind(coverage)
    plot.labels()
    plot.axes()
    return canvas


def axis_ticks(data: ChartData, rows: int) -> list[float]:
    """Round values at most every second row, from the bottom of the axis to the rim.

    On a logarithmic axis 1, 2 and 5 of each power of ten, or the powers alone.
    """
    if data.is_log:
        return _log_ticks(data, rows)
    span = abs(data.at_bottom - data.at_rim)
    rough = span / max(1, rows // 2)
    power = 10.0 ** floor(log10(rough))
    step = next(power * nice for nice in (1, 2, 5, 10) if power * nice >= rough * 0.999)
    low, high = sorted((data.at_rim, data.at_bottom))
    first = -(-low // step)
    return [
        (first + number) * step
        for number in range(int(span / step) + 2)
        if (first + number) * step <= high
    ]


def _log_ticks(data: ChartData, rows: int) -> list[float]:
    low, high = sorted((data.at_rim, data.at_bottom))
    powers = range(floor(log10(low)), floor(log10(high)) + 1)
    for parts in ((1, 2, 5), (1, 3), (1,)):
        ticks = [part * 10.0**power for power in powers for part in parts]
        ticks = [tick for tick in ticks if low * 0.999 <= tick <= high * 1.001]
        if len(ticks) <= max(2, rows // 2):
            break
    return ticks


def _step_down(share: float, steps: int) -> int:
    """Which of `steps` equal steps, counted from the rim, holds `share`; rounding aside."""
    return min(steps - 1, int((1.0 - share) * steps + 1e-9))


class _Plot:
    def __init__(
        self, data: ChartData, axis: Axis, start: int, canvas: Canvas, left: int, rows: int
    ) -> None:
        self.data, self.axis, self.start = data, axis, start
        self.canvas, self.left, self.rows = canvas, left, rows
        self.columns = range(start, min(axis.columns, start + canvas.width - left))
        self.today_x = self.x(axis.column(data.today))

    def x(self, column: int) -> int:
        return self.left + column - self.start

    def row(self, share: float) -> int:
        return _step_down(share, self.rows)

    def visible(self, column: int) -> bool:
        return column in self.columns

    def days(self, column: int) -> range:
        """Indices into the data of the days in `column`."""
        first = (self.axis.first(column) - self.data.first_day).days
        return range(first, (self.axis.last(column) - self.data.first_day).days + 1)

    def band(self, shaded: bool) -> dict[Cell, int]:
        """Paint the band; returns how many eighths of each cell it covers."""
        coverage: dict[Cell, int] = {}
        for column in self.columns:
            bands = [band for day in self.days(column) if (band := self.data.band(day))]
            if bands:
                low = round(min(low for low, _ in bands) * self.rows * EIGHTHS)
                high = round(max(high for _, high in bands) * self.rows * EIGHTHS)
                for row in range(self.rows):
                    bottom = (self.rows - 1 - row) * EIGHTHS
                    covered = min(high, bottom + EIGHTHS) - max(low, bottom)
                    if covered > 0:
                        coverage[self.x(column), row] = covered
                        self._band_cell(self.x(column), row, low - bottom, high - bottom, shaded)
        return coverage

    def _band_cell(self, x: int, row: int, low: int, high: int, shaded: bool) -> None:
        """One cell of the band, whose edges lie `low` and `high` eighths above its foot."""
        if shaded:
            if min(high, EIGHTHS) - max(low, 0) >= EIGHTHS // 2 or (low > 0 and high < EIGHTHS):
                self.canvas.put(x, row, SHADE, "band")
        elif low <= 0 and high < EIGHTHS:
            self.canvas.put(x, row, EIGHTHS_UP[high], "band")
        elif low > 0 and high >= EIGHTHS:
            self.canvas.put(x, row, EIGHTHS_UP[low], "band" + INVERSE)
        else:
            self.canvas.fill_ground(x, row, "band")

    def keep_band_behind(self, coverage: dict[Cell, int]) -> None:
        """Give the band back to mostly covered cells whose edge was painted over."""
        for (x, row), covered in coverage.items():
            if covered >= EIGHTHS // 2 and self.canvas.glyph(x, row) not in EIGHTHS_UP:
                self.canvas.fill_ground(x, row, "band")

    def thresholds(self) -> None:
        for threshold in self.data.thresholds:
            share = self.data.share(threshold.value)
            if share is not None:
                for column in self.columns:
                    self.canvas.put(self.x(column), self.row(share), DASH, "threshold")

    def events(self) -> None:
        for column in {self.axis.column(mark.day) for mark in self.data.marks}:
            if self.visible(column):
                self._upright(self.x(column), EVENT, "event")
        if self.visible(self.axis.column(self.data.today)):
            self._upright(self.today_x, TODAY, "today")

    def _upright(self, x: int, glyph: str, ink: str) -> None:
        for row in range(self.rows):
            self.canvas.put(x, row, glyph, ink)

    def median(self) -> None:
        for (x, row), glyph in braille_cells(self._median_dots()).items():
            self.canvas.put(
                self.left + x, row, glyph, "future" if self.left + x > self.today_x else "median"
            )

    def _median_dots(self) -> Iterator[Cell]:
        """Dots of the median in view, counted from the plot's left; the outlook is dotted."""
        if not self.columns:
            return
        step = self.axis.days_per_column
        view = self.axis.origin + timedelta(days=self.start * step)
        offset = (view - self.data.first_day).days
        today = (self.data.today - self.data.first_day).days
        right = len(self.columns) * DOTS_ACROSS
        before: Cell | None = None
        begin = max(0, offset - 1)
        for index in range(
            begin, min(len(self.data.values), offset + len(self.columns) * step + 1)
        ):
            share = self.data.share(self.data.values[index])
            if share is None:
                before = None
                continue
            dot = (
                (index - offset) * DOTS_ACROSS // step,
                _step_down(share, self.rows * DOTS_DOWN),
            )
            for x, y in line_dots(*(before or dot), *dot):
                if 0 <= x < right and (index <= today or x % DOTS_ACROSS == 0):
                    yield x, y
            before = dot

    def readings(self) -> None:
        for reading in self.data.readings:
            share, column = self.data.share(reading.value), self.axis.column(reading.day)
            if share is not None and self.visible(column):
                glyph = DOUBTED if reading.doubt else READING
                self.canvas.put(self.x(column), self.row(share), glyph, "reading")

    def labels(self) -> None:
        room = len(self.columns)
        for threshold in self.data.thresholds:
            share = self.data.share(threshold.value)
            if share is not None:
                label = crop(threshold.label, room)
                right, row = self.left + room - cell_len(label), self.row(share)
                self._label(label, "label", (right, self.left), (row, row + 1, row - 1))
        if self.visible(self.axis.column(self.data.today)):
            beside = (self.today_x + 1, self.today_x - len(TODAY_WORD))
            self._label(TODAY_WORD, "today", beside, range(self.rows))
        self._mark_row()

    def _label(self, label: str, ink: str, across: Iterable[int], rows: Iterable[int]) -> None:
        """Write a label at the first of these places where it covers no level; else nowhere."""
        for row in rows:
            for x in across:
                if self.left <= x and 0 <= row < self.rows and self._is_free(x, row, label):
                    self.canvas.write(x, row, label, ink)
                    return

    def _is_free(self, x: int, row: int, label: str) -> bool:
        cells = range(x, x + cell_len(label))
        return cells.stop <= self.left + len(self.columns) and not any(
            self.canvas.ink(cell, row) in NOT_TO_BE_COVERED for cell in cells
        )

    def _mark_row(self) -> None:
        """Glyphs of marks below their days, with labels where there is room for all of one.

        Several marks in one column are shown as their number.
        """
        by_column: dict[int, list[tuple[str, str]]] = defaultdict(list)
        for mark in self.data.marks:
            if self.visible(column := self.axis.column(mark.day)):
                by_column[column].append((mark.glyph, mark.label))
        columns = sorted(by_column)
        for column, following in pairwise([*columns, self.columns.stop]):
            marks = by_column[column]
            several = len(marks) > 1
            glyph = str(min(9, len(marks))) if several else one_cell(marks[0][0])
            self.canvas.put(self.x(column), self.rows, glyph, "event")
            label = ", ".join(label for _, label in marks)
            room = following - column - 3
            if room >= cell_len(label):
                self.canvas.write(self.x(column) + 2, self.rows, label, "label")

    def axes(self) -> None:
        for row in range(self.rows):
            self.canvas.put(self.left - 1, row, "│", "axis")
        for tick in axis_ticks(self.data, self.rows):
            share = self.data.share(tick)
            label = self.data.axis_format.format(tick).rjust(self.left - 1)
            if share is not None and self.canvas.write(0, self.row(share), label, "axis"):
                self.canvas.put(self.left - 1, self.row(share), "┤", "axis")
        months = month_line(self.axis, self.start, len(self.columns))
        self.canvas.write(self.left, self.rows + 1, months, "axis")

"""Days laid out in columns of one day or more, their line of months, and keys to move along."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from dateutil.relativedelta import relativedelta
from rich.cells import cell_len
from textual.binding import Binding

from tui.key_table import bind, spare

WEEK = 7


@dataclass(frozen=True)
class Axis:
    """`first_day` to `last_day` in columns of `days_per_column`; weeks start on Monday."""

    first_day: date
    last_day: date
    days_per_column: int = 1

    @cached_property
    def origin(self) -> date:
        """First day of column 0; may lie before `first_day` where columns are weeks."""
        back = self.first_day.weekday() if self.days_per_column == WEEK else 0
        return self.first_day - timedelta(days=back)

    @cached_property
    def columns(self) -> int:
        return self.column(self.last_day) + 1

    def column(self, day: date) -> int:
        """Column of `day`; outside 0 to `columns` - 1 when the day is outside the axis."""
        return (day - self.origin).days // self.days_per_column

    def first(self, column: int) -> date:
        """First day of `column`, not before the axis begins."""
        return max(self.first_day, self.origin + timedelta(days=column * self.days_per_column))

    def last(self, column: int) -> date:
        """Last day of `column`, not after the axis ends."""
        end = self.origin + timedelta(days=(column + 1) * self.days_per_column - 1)
        return min(self.last_day, end)

    def clamp(self, day: date) -> date:
        return min(max(day, self.first_day), self.last_day)

    def month_starts(self, start: int, stop: int) -> Iterator[tuple[int, date]]:
        """(column, first of the month) for the months that begin in columns [start, stop)."""
        month = self.first(start).replace(day=1)
        while (column := self.column(month)) < stop:
            if column >= start and month >= self.first_day:
                yield column, month
            month += relativedelta(months=1)


def moved_by_months(day: date, months: int) -> date:
    """The same day of another month, or that month's last day."""
    return day + relativedelta(months=months)


def month_line(axis: Axis, start: int, width: int) -> str:
    """Month names over columns [start, start + width), `width` cells wide.

    The month already running at the left edge keeps its name there for as long as
    there is room; the first name and every January carry the year where it fits.
    """
    stop = min(start + width, axis.columns)
    if stop <= start:
        return " " * width
    starts = [(column - start, month) for column, month in axis.month_starts(start, stop)]
    if not starts or starts[0][0] > 0:
        starts.insert(0, (0, axis.first(start)))
    line = ""
    for index, (column, month) in enumerate(starts):
        following = starts[index + 1][0] if index + 1 < len(starts) else width
        room = following - column - (following < width)
        long = index == 0 or month.month == 1
        label = next((text for text in _month_names(month, long) if cell_len(text) <= room), "")
        line += label.ljust(following - column)
    return line[:width]


def _month_names(month: date, long: bool) -> tuple[str, ...]:
    short = MONTHS[month.month - 1]
    return (f"{short} {month.year}", short) if long else (short,)


MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def day_text(day: date) -> str:
    """`Sat 24 Oct 2026`, the same in every locale."""
    return f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"


_KEYS = {
    "month_before": ("shift+left", "earlier", "Month before"),
    "month_after": ("shift+right", "later", "Month after"),
    "nearer": (spare("="), "nearer", "Nearer"),
    "farther": ("", "farther", "Farther"),
}


def axis_key(name: str, action: str, of: str, tooltip: str) -> Binding:
    """The binding of one of these keys; its id is `name` after `of`."""
    second, meaning, label = _KEYS[name]
    return bind(
        meaning, action, label, show=False, id=f"{of}.{name}", tooltip=tooltip, second=second
    )

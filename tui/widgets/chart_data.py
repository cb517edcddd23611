"""What a level chart shows: numbers in display units and texts, nothing to look up."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from math import isfinite, log

from tui.widgets.axis import Axis, day_text
from tui.widgets.cells import one_line


@dataclass(frozen=True)
class ChartReading:
    """A reading; `doubt` says why it may be wrong, empty where it is believed."""

    day: date
    value: float
    doubt: str = ""


@dataclass(frozen=True)
class ChartMark:
    """Something that happened on a day: a chore or a contamination; `glyph` is one cell."""

    day: date
    glyph: str
    label: str


@dataclass(frozen=True)
class Threshold:
    value: float
    label: str


@dataclass(frozen=True)
class ChartData:
    """Daily levels from `first_day` on, one value a day, None where not known.

    `at_rim` and `at_bottom` are the values at the top and the bottom of the axis: 0 and
    30 for inches below the rim, 100 and 0 for percent. `low` and `high` are the two
    edges of the band, empty or as long as `values`, in either order. Days after `today`
    are drawn as outlook. `is_log` makes the axis logarithmic, for values above 0; what is
    below its lower end lies on it. Raises ValueError when lengths differ, the axis has no
    extent, or a logarithmic one reaches 0.
    """

    first_day: date
    values: tuple[float | None, ...]
    today: date
    at_rim: float
    at_bottom: float
    y_label: str
    low: tuple[float | None, ...] = ()
    high: tuple[float | None, ...] = ()
    readings: tuple[ChartReading, ...] = ()
    marks: tuple[ChartMark, ...] = ()
    thresholds: tuple[Threshold, ...] = ()
    axis_format: str = "{:.0f}"
    value_format: str = "{:.1f}"
    is_log: bool = False

    def __post_init__(self) -> None:
        if not self.values:
            raise ValueError("A level chart needs at least one day.")
        if len(self.low) != len(self.high) or len(self.low) not in (0, len(self.values)):
            raise ValueError("The band of a level chart needs two edges for every day, or none.")
        if self.at_rim == self.at_bottom:
            raise ValueError("The axis of a level chart needs two different ends.")
        if self.is_log and min(self.at_rim, self.at_bottom) <= 0.0:
            raise ValueError("A logarithmic axis of a level chart needs ends above 0.")

    @property
    def last_day(self) -> date:
        return self.first_day + timedelta(days=len(self.values) - 1)

    def axis(self, days_per_column: int) -> Axis:
        return Axis(self.first_day, self.last_day, days_per_column)

    def share(self, value: float | None) -> float | None:
        """Height of `value` on the axis, 1 at the rim and 0 at the bottom, clipped."""
        if value is None or not isfinite(value):
            return None
        rim, bottom = self.at_rim, self.at_bottom
        if self.is_log:
            value = log(max(value, min(rim, bottom)))
            rim, bottom = log(rim), log(bottom)
        share = (bottom - value) / (bottom - rim)
        return min(1.0, max(0.0, share))

    def band(self, index: int) -> tuple[float, float] | None:
        """Lower and upper edge of the band as shares of the axis on day `index`."""
        if not self.low:
            return None
        first, second = self.share(self.low[index]), self.share(self.high[index])
        if first is None or second is None:
            return None
        return min(first, second), max(first, second)


def describe(data: ChartData, day: date) -> str:
    """One line on `day`: date, level, band, readings and marks of that day."""
    index = (day - data.first_day).days
    parts = [day_text(day) + (" (outlook)" if day > data.today else "")]
    if 0 <= index < len(data.values) and data.share(data.values[index]) is not None:
        level = data.value_format.format(data.values[index])
        parts.append(f"{level} {data.y_label}")
        if data.band(index) is not None:
            ends = sorted(
                value for value in (data.low[index], data.high[index]) if value is not None
            )
            parts.append(" to ".join(data.value_format.format(end) for end in ends))
    else:
        parts.append("level not known")
    parts += [
        f"read {data.value_format.format(reading.value)}"
        + (f", doubted: {reading.doubt}" if reading.doubt else "")
        for reading in data.readings
        if reading.day == day
    ]
    parts += [f"{mark.glyph} {mark.label}" for mark in data.marks if mark.day == day]
    return one_line("  ".join(parts))

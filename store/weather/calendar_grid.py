"""A record laid out by year and calendar day, to find the same day of other years."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from store.weather.days import BoolArray, FloatArray

IntArray = NDArray[np.int64]

SLOTS = 366
FEB_28, FEB_29 = 58, 59
"""Calendar days are numbered from 0 as in a leap year."""


def calendar_days(first_day: date, days: int) -> tuple[IntArray, IntArray]:
    """Year and calendar day (0 to 365, 29 February is 59) of consecutive days."""
    stamps = np.datetime64(first_day, "D") + np.arange(days)
    years = stamps.astype("datetime64[Y]").astype(np.int64) + 1970
    in_year = (stamps - stamps.astype("datetime64[Y]").astype("datetime64[D]")).astype(np.int64)
    return years, in_year + (~_is_leap(years) & (in_year >= FEB_29))


@dataclass(frozen=True)
class CalendarGrid:
    """Values by year and calendar day, shape (years, 366), NaN where unknown.

    A year without a 29 February lends its 28 February for it.
    """

    first_year: int
    values: FloatArray

    @property
    def years(self) -> int:
        return len(self.values)

    def at(self, years: IntArray, slots: IntArray) -> FloatArray:
        """Values of calendar days, NaN in years the record does not reach."""
        rows = years - self.first_year
        inside = (rows >= 0) & (rows < self.years)
        return np.where(inside, self.values[np.where(inside, rows, 0), slots], np.nan)


def calendar_grid(first_day: date, values: FloatArray) -> CalendarGrid:
    """Lay consecutive days out by year and calendar day."""
    years, slots = calendar_days(first_day, len(values))
    first_year = int(years[0])
    grid = np.full((int(years[-1]) - first_year + 1, SLOTS), np.nan)
    grid[years - first_year, slots] = values
    no_leap_day = ~_is_leap(first_year + np.arange(len(grid)))
    grid[no_leap_day, FEB_29] = grid[no_leap_day, FEB_28]
    return CalendarGrid(first_year, grid)


def _is_leap(years: IntArray) -> BoolArray:
    leap: BoolArray = (years % 4 == 0) & ((years % 100 != 0) | (years % 400 == 0))
    return leap

"""Every past year's weather as one possible course of the days to come."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

import numpy as np

from store.errors import BadValue
from store.weather.calendar_grid import FEB_28, FEB_29, calendar_days
from store.weather.days import DailyWeather
from store.weather.members import WeatherMembers

MOST_FILLED = 0.10
"""A year lends its weather only if at most this share of its days was filled."""


class WeatherYears(NamedTuple):
    """`members` has one column for each of `years`, the years the span begins in."""

    years: tuple[int, ...]
    members: WeatherMembers


def weather_years(
    weather: DailyWeather, first_day: date, days: int, *, most_filled: float = MOST_FILLED
) -> WeatherYears:
    """The same calendar span out of each past year of a gap-filled record.

    Day for day by the calendar: a past 29 February is left out where the span has
    none, and where the span has one a past year without it repeats 28 February. A
    year counts if all its days lie in the record and before `first_day`, rain and
    temperatures are known on each, and at most `most_filled` of them were filled.
    With no such year the arrays have no columns.

    Raises:
        BadValue: fewer than one day.
    """
    if days < 1:
        raise BadValue(f"A span of {days} days has no weather; ask for at least one day.")
    span_years, slots = calendar_days(first_day, days)
    past_years, past_slots = calendar_days(weather.first_day, weather.days)
    first_past = int(past_years[0])
    index = np.full((int(past_years[-1]) - first_past + 1, 366), -1)
    index[past_years - first_past, past_slots] = np.arange(weather.days)
    no_leap_day = index[:, FEB_29] < 0
    index[no_leap_day, FEB_29] = index[no_leap_day, FEB_28]
    bad = np.isnan(weather.rain_mm) | np.isnan(weather.tmin_c) | np.isnan(weather.tmax_c)
    before = (first_day - weather.first_day).days
    years: list[int] = []
    columns: list[np.ndarray[tuple[int, ...], np.dtype[np.int64]]] = []
    for year in range(first_past, first_day.year):
        rows = span_years - first_day.year + year - first_past
        if rows[-1] >= len(index):
            break
        at = index[rows, slots]
        if at.min() < 0 or at.max() >= before or bad[at].any():
            continue
        if weather.filled[at].mean() <= most_filled:
            years.append(year)
            columns.append(at)
    chosen = np.array(columns, dtype=np.int64).reshape(len(columns), days).T
    members = WeatherMembers(
        weather.rain_mm[chosen], weather.tmin_c[chosen], weather.tmax_c[chosen]
    )
    return WeatherYears(tuple(years), members)

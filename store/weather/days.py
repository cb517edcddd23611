"""Daily weather as arrays: one value a civil day, NaN where nothing is known."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from store.weather.elements import FIELDS

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True)
class DailyWeather:
    """Consecutive days from `first_day`; every array has shape (days,).

    `rain_mm` is rain and melted snow. `filled` is true where a value the model
    needs (rain or a temperature) was taken from other years.
    """

    first_day: date
    rain_mm: FloatArray
    tmin_c: FloatArray
    tmax_c: FloatArray
    humidity_pct: FloatArray
    dewpoint_c: FloatArray
    wind_m_s: FloatArray
    sun_mj_m2: FloatArray
    filled: BoolArray

    @property
    def days(self) -> int:
        return len(self.rain_mm)

    @property
    def last_day(self) -> date:
        return self.first_day + timedelta(days=self.days - 1)


def true_runs(wanted: BoolArray) -> Iterator[slice]:
    """Slices of consecutive true days, of shape (days,)."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], wanted, [False])).astype(np.int8)))
    for start, stop in zip(edges[::2], edges[1::2], strict=True):
        yield slice(int(start), int(stop))


def empty_weather(first_day: date, days: int) -> DailyWeather:
    """`days` days of which nothing is known."""
    unknown = {name: np.full(days, np.nan) for name in FIELDS}
    return DailyWeather(first_day=first_day, filled=np.zeros(days, dtype=bool), **unknown)

"""The invented weather of the demo: what fell, and what the record knows of it."""

from __future__ import annotations

from datetime import date

import numpy as np

from store.weather.climate import climate_from_normals
from store.weather.days import DailyWeather, FloatArray, empty_weather
from store.weather.gaps import cut
from store.weather.generator import generate

FIRST_DAY = date(2010, 1, 1)
LAST_DAY = date(2025, 10, 12)
"""The day the demo is meant to be looked at, which the record does not reach."""

LATITUDE_DEG = 42.0
ELEVATION_M = 340.0
RECORD_NAME = "Lower barn"
SEED = 214
"""Picked so that the autumn of 2025 begins dry."""

NO_RECORD = (
    (date(2024, 2, 9), date(2024, 2, 11)),
    (date(2025, 7, 19), date(2025, 7, 27)),
    (date(2025, 9, 3), date(2025, 9, 3)),
)
"""First and last days of the stretches on which the record is silent."""
NO_RAIN_RECORD = (date(2025, 8, 11), date(2025, 8, 12))
"""Days of which it has temperatures alone."""

# A humid temperate year, January first; invented, like no station.
RAIN_MM = (70, 64, 80, 86, 92, 96, 94, 92, 84, 88, 84, 78)
WET_DAYS = (11, 10, 11, 11, 12, 11, 10, 9, 8, 9, 11, 12)
TMIN_C = (-9.5, -9.0, -4.5, 1.0, 7.0, 12.0, 14.5, 14.0, 10.0, 4.0, -0.5, -6.5)
TMAX_C = (0.5, 2.0, 7.5, 14.5, 20.5, 25.0, 27.5, 26.5, 22.5, 15.5, 8.5, 2.5)


def true_weather() -> DailyWeather:
    """Every day from `FIRST_DAY` to `LAST_DAY`, to the tenth of a mm and of a degree."""
    days = (LAST_DAY - FIRST_DAY).days + 1
    climate = climate_from_normals(RAIN_MM, WET_DAYS, TMIN_C, TMAX_C)
    members = generate(climate, FIRST_DAY, days, 1, np.random.default_rng(SEED))
    weather = empty_weather(FIRST_DAY, days)
    for kept, made in (
        (weather.rain_mm, members.rain_mm),
        (weather.tmin_c, members.tmin_c),
        (weather.tmax_c, members.tmax_c),
    ):
        kept[:] = np.round(made[:, 0], 1) + 0.0
    return weather


def recorded(weather: DailyWeather, first_day: date, last_day: date) -> DailyWeather:
    """The days of one weather file: what fell, less what the record missed."""
    known = cut(weather, first_day, last_day)
    for first, last in NO_RECORD:
        for values in (known.rain_mm, known.tmin_c, known.tmax_c):
            _forget(known, values, first, last)
    _forget(known, known.rain_mm, *NO_RAIN_RECORD)
    return known


def _forget(known: DailyWeather, values: FloatArray, first: date, last: date) -> None:
    days = known.first_day.toordinal() + np.arange(known.days)
    values[(days >= first.toordinal()) & (days <= last.toordinal())] = np.nan


def gauge_mm(weather: DailyWeather, day: date, rng: np.random.Generator) -> float:
    """What a hand-kept gauge on another hill showed, in hundredths of an inch."""
    there = weather.rain_mm[(day - weather.first_day).days] * rng.uniform(0.75, 1.2)
    return round(round(float(there) / 0.254) * 0.254, 3)

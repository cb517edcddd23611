"""The weather a tract had, may have had and may have: one course of it, or many.

Where a record knows a day all courses agree. Its gaps are filled from other years.
Without a record of a whole year the monthly normals, typed in, invent weather like
them for all that is not known; then no course is better than another, and only the
band means something.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np

from store.model.snapshot import TractWeather
from store.weather.climate import MonthlyClimate
from store.weather.days import BoolArray, DailyWeather, empty_weather
from store.weather.fit import fit_climate
from store.weather.gaps import cut, fill_gaps, gap_members
from store.weather.generator import generate
from store.weather.members import WeatherMembers, with_forecast
from store.weather.years import weather_years

SEED = 20_260_401
"""Fixed, so that the same logbook and day give the same numbers on every run."""
FEWEST_YEARS = 10
INVENTED_MEMBERS = 40


def unknown_days(weather: TractWeather, first_day: date, last_day: date) -> BoolArray:
    """Days whose rain or temperature the record does not know, shape (days,)."""
    known = cut(weather.weather, first_day, last_day)
    return np.isnan(known.rain_mm) | np.isnan(known.tmin_c) | np.isnan(known.tmax_c)


def known_weather(weather: TractWeather, first_day: date, last_day: date) -> DailyWeather:
    """A span of weather without gaps.

    Raises:
        BadValue: the record knows no rain or no temperature at all.
    """
    if weather.normals is None:
        return fill_gaps(weather.weather, first_day, last_day)
    days = (last_day - first_day).days + 1
    rain_mm, tmin_c, tmax_c = past_members(weather, first_day, last_day, 1)
    span = empty_weather(first_day, days)
    return replace(
        span,
        rain_mm=rain_mm[:, 0],
        tmin_c=tmin_c[:, 0],
        tmax_c=tmax_c[:, 0],
        filled=unknown_days(weather, first_day, last_day),
    )


def past_members(
    weather: TractWeather, first_day: date, last_day: date, members: int
) -> WeatherMembers:
    """A span of weather in which every member has its own gaps, shape (days, members)."""
    if weather.normals is None:
        return gap_members(weather.weather, first_day, last_day, members, SEED)
    days = (last_day - first_day).days + 1
    # Each span has random numbers of its own, or spans in a row would repeat each other.
    seed = SEED + first_day.toordinal()
    invented = _invented(weather.normals, first_day, days, members, seed)
    return with_forecast(invented, first_day, weather.weather)


def coming_members(weather: TractWeather, first_day: date, days: int) -> tuple[WeatherMembers, str]:
    """Courses the weather may take from `first_day` on, and in words where they are from.

    Each past year of a record of ten years or more is one; a shorter record lends
    its statistics, and typed-in normals theirs. A forecast replaces the days it knows.
    """
    courses, basis = _coming(weather, first_day, days)
    if weather.forecast is None or weather.forecast.last_day < first_day:
        return courses, basis
    return (
        with_forecast(courses, first_day, weather.forecast),
        f"{basis}, after the forecast to {weather.forecast.last_day}",
    )


def _coming(weather: TractWeather, first_day: date, days: int) -> tuple[WeatherMembers, str]:
    if weather.normals is not None:
        courses = _invented(weather.normals, first_day, days, INVENTED_MEMBERS)
        return courses, f"{INVENTED_MEMBERS} courses invented from the monthly normals"
    record = weather.weather
    whole = fill_gaps(record, record.first_day, record.last_day)
    years = weather_years(whole, first_day, days)
    if len(years.years) >= FEWEST_YEARS:
        return years.members, f"{len(years.years)} weather years"
    courses = _invented(fit_climate(record), first_day, days, INVENTED_MEMBERS)
    return courses, (
        f"{INVENTED_MEMBERS} courses invented like the {record.days} days of record "
        f"(fewer than {FEWEST_YEARS} whole years)"
    )


def _invented(
    climate: MonthlyClimate, first_day: date, days: int, members: int, seed: int = SEED
) -> WeatherMembers:
    return generate(climate, first_day, days, members, np.random.default_rng(seed))

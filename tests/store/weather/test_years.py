"""Past years as possible courses of the days to come, and a forecast laid over them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from store.errors import BadValue
from store.weather.days import DailyWeather, empty_weather
from store.weather.members import WeatherMembers, following_forecast, with_known_days
from store.weather.years import weather_years


def numbered(first_day: date, last_day: date) -> DailyWeather:
    """Rain that says its own date: month times 100 plus day; the high says the year."""
    days = [first_day + timedelta(days=n) for n in range((last_day - first_day).days + 1)]
    rain = np.array([day.month * 100.0 + day.day for day in days])
    year = np.array([float(day.year) for day in days])
    empty = empty_weather(first_day, len(days))
    return replace(empty, rain_mm=rain, tmin_c=year - 1.0, tmax_c=year)


RECORD = numbered(date(2019, 3, 10), date(2025, 6, 30))


def test_each_past_year_is_a_member() -> None:
    years, members = weather_years(RECORD, date(2025, 7, 1), 92)
    assert years == (2019, 2020, 2021, 2022, 2023, 2024)
    assert members.rain_mm.shape == (92, 6)
    assert (members.rain_mm == members.rain_mm[:, :1]).all()
    assert members.rain_mm[[0, 91], 0].tolist() == [701.0, 930.0]
    assert members.tmax_c[0].tolist() == [float(year) for year in years]


def test_span_over_new_year_ends_before_today() -> None:
    years, members = weather_years(RECORD, date(2025, 7, 1), 365)
    assert years == (2019, 2020, 2021, 2022, 2023, 2024)
    assert members.tmax_c[-1].tolist() == [float(year + 1) for year in years]
    assert weather_years(RECORD, date(2025, 7, 1), 366).years == years[:-1]


def test_span_without_leap_day_skips_it() -> None:
    years, members = weather_years(RECORD, date(2025, 2, 27), 4)
    assert 2024 in years
    assert members.rain_mm[:, years.index(2024)].tolist() == [227.0, 228.0, 301.0, 302.0]


def test_span_with_leap_day_repeats_the_day_before() -> None:
    years, members = weather_years(RECORD, date(2024, 2, 27), 4)
    assert years == (2020, 2021, 2022, 2023)
    assert members.rain_mm[:, 0].tolist() == [227.0, 228.0, 229.0, 301.0]
    assert members.rain_mm[:, 1].tolist() == [227.0, 228.0, 228.0, 301.0]


def test_years_with_too_little_real_data_are_left_out() -> None:
    start = (date(2021, 7, 1) - RECORD.first_day).days
    filled = RECORD.filled.copy()
    filled[start : start + 4] = True
    record = replace(RECORD, filled=filled)
    assert 2021 in weather_years(record, date(2025, 7, 1), 40).years
    filled[start + 4] = True
    assert 2021 not in weather_years(record, date(2025, 7, 1), 40).years
    assert 2021 in weather_years(record, date(2025, 7, 1), 40, most_filled=0.2).years
    unknown = replace(RECORD, rain_mm=RECORD.rain_mm.copy())
    unknown.rain_mm[start] = np.nan
    assert 2021 not in weather_years(unknown, date(2025, 7, 1), 40).years


def test_no_past_year() -> None:
    years, members = weather_years(RECORD, date(2019, 4, 1), 30)
    assert years == ()
    assert members.rain_mm.shape == (30, 0)
    with pytest.raises(BadValue, match="at least one day"):
        weather_years(RECORD, date(2025, 7, 1), 0)


def flat(days: int) -> WeatherMembers:
    return WeatherMembers(np.ones((days, 2)), np.full((days, 2), 5.0), np.full((days, 2), 15.0))


def test_forecast_replaces_the_first_days_of_every_member() -> None:
    nan = np.nan
    forecast = replace(
        empty_weather(date(2025, 6, 29), 5),
        rain_mm=np.array([9.0, 9.0, 3.0, nan, 0.0]),
        tmin_c=np.array([0.0, 0.0, 20.0, nan, 7.0]),
        tmax_c=np.array([9.0, 9.0, nan, 2.0, 8.0]),
    )
    before = flat(4)
    members = with_known_days(before, date(2025, 7, 1), forecast)
    for member in range(2):
        assert members.rain_mm[:, member].tolist() == [3.0, 1.0, 0.0, 1.0]
        assert members.tmin_c[:, member].tolist() == [20.0, 2.0, 7.0, 5.0]
        assert members.tmax_c[:, member].tolist() == [20.0, 2.0, 8.0, 15.0]
    assert (before.rain_mm == 1.0).all()


@pytest.mark.parametrize("first_day", [date(2025, 5, 1), date(2025, 8, 1)])
def test_forecast_of_other_days_changes_nothing(first_day: date) -> None:
    forecast = replace(empty_weather(first_day, 5), rain_mm=np.full(5, 9.0))
    members = with_known_days(flat(4), date(2025, 7, 1), forecast)
    assert (members.rain_mm == 1.0).all()


def test_a_past_year_may_not_reach_into_the_span() -> None:
    """Looking back: the record goes on after the first day, which must not be used."""
    assert weather_years(RECORD, date(2023, 7, 1), 366).years == (2019, 2020, 2021, 2022)
    assert weather_years(RECORD, date(2023, 7, 1), 367).years == (2019, 2020, 2021)


def test_fewer_members_follow_a_forecast_day_by_day() -> None:
    days, count = 14, 200
    forecast = replace(empty_weather(date(2025, 7, 1), days), rain_mm=np.full(days, 9.0))
    own = WeatherMembers(*(np.full((days, count), value) for value in (1.0, 5.0, 15.0)))
    follows = following_forecast(own, date(2025, 7, 1), forecast).rain_mm == 9.0
    share = follows.mean(axis=1)
    assert share[:10] == pytest.approx(0.95 * (1.0 - np.arange(10) / 10.0), abs=0.01)
    assert (share[10:] == 0.0).all()
    assert (follows[1:] <= follows[:-1]).all()

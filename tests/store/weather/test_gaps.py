"""Gaps are filled from other years, marked, and what is known stays."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.errors import BadValue
from store.weather.calendar_grid import calendar_days
from store.weather.days import DailyWeather, empty_weather
from store.weather.gaps import fill_gaps, gap_count, gap_members

FOUR_YEARS = (date(2021, 1, 1), date(2024, 12, 31))


def made_up(first_day: date, last_day: date, seed: int = 5) -> DailyWeather:
    rng = np.random.default_rng(seed)
    days = (last_day - first_day).days + 1
    season = -np.cos(2 * np.pi * (calendar_days(first_day, days)[1] + 10) / 366)
    low = 5 + 12 * season + rng.normal(0, 3, days)
    rain = np.where(rng.random(days) < 0.3, rng.gamma(0.8, 9.0, days), 0.0)
    return replace(
        empty_weather(first_day, days), rain_mm=rain, tmin_c=low, tmax_c=low + rng.gamma(6, 2, days)
    )


def without(weather: DailyWeather, first: date, last: date, *names: str) -> DailyWeather:
    gap = slice((first - weather.first_day).days, (last - weather.first_day).days + 1)
    arrays = {name: getattr(weather, name).copy() for name in names}
    for array in arrays.values():
        array[gap] = np.nan
    return replace(weather, **arrays)


def at(weather: DailyWeather, day: date) -> int:
    return (day - weather.first_day).days


def test_calendar_days() -> None:
    years, slots = calendar_days(date(2023, 12, 31), 62)
    assert (years[0], slots[0], years[1], slots[1]) == (2023, 365, 2024, 0)
    assert slots[60] == 59  # 29 February 2024
    assert calendar_days(date(2023, 3, 1), 1)[1][0] == 60


def test_a_run_of_rain_comes_whole_from_the_nearest_year() -> None:
    record = made_up(*FOUR_YEARS)
    first, last = date(2023, 5, 10), date(2023, 6, 20)
    gappy = without(record, first, last, "rain_mm", "tmin_c", "tmax_c")
    filled = fill_gaps(gappy, *FOUR_YEARS)
    gap = slice(at(record, first), at(record, last) + 1)
    donor = slice(at(record, date(2022, 5, 10)), at(record, date(2022, 6, 20)) + 1)
    np.testing.assert_array_equal(filled.rain_mm[gap], record.rain_mm[donor])
    others = [record.tmin_c[at(record, date(year, 5, 10))] for year in (2021, 2022, 2024)]
    assert filled.tmin_c[gap.start] == pytest.approx(np.mean(others))
    assert filled.filled.sum() == gap.stop - gap.start
    assert filled.filled[gap].all()


def test_a_year_with_its_own_gap_does_not_lend() -> None:
    record = made_up(*FOUR_YEARS)
    gappy = without(record, date(2023, 5, 10), date(2023, 5, 20), "rain_mm")
    gappy = without(gappy, date(2022, 5, 20), date(2022, 5, 25), "rain_mm")
    filled = fill_gaps(gappy, *FOUR_YEARS)
    start, donor = at(record, date(2023, 5, 10)), at(record, date(2024, 5, 10))
    np.testing.assert_array_equal(
        filled.rain_mm[start : start + 11], record.rain_mm[donor : donor + 11]
    )


def test_leap_day_lends_and_borrows() -> None:
    record = made_up(*FOUR_YEARS)
    leap_day = date(2024, 2, 29)
    filled = fill_gaps(without(record, leap_day, leap_day, "rain_mm"), *FOUR_YEARS)
    assert filled.rain_mm[at(record, leap_day)] == record.rain_mm[at(record, date(2023, 2, 28))]


def test_extends_and_crops() -> None:
    record = made_up(*FOUR_YEARS)
    later = fill_gaps(record, date(2024, 12, 1), date(2026, 3, 1))
    assert (later.first_day, later.last_day) == (date(2024, 12, 1), date(2026, 3, 1))
    assert not later.filled[:31].any()
    assert later.filled[31:].all()
    one_day = fill_gaps(record, date(2022, 7, 4), date(2022, 7, 4))
    assert one_day.rain_mm[0] == record.rain_mm[at(record, date(2022, 7, 4))]


def test_a_short_record_goes_round_without_drizzle() -> None:
    """Forty spring days fill a year: the same amounts, never smeared."""
    record = made_up(date(2025, 3, 1), date(2025, 4, 9))
    filled = fill_gaps(record, date(2025, 1, 1), date(2025, 12, 31))
    assert set(filled.rain_mm) == set(record.rain_mm)
    wet_share = (filled.rain_mm > 0).mean()
    assert wet_share == pytest.approx((record.rain_mm > 0).mean(), abs=0.05)
    assert record.tmin_c.min() <= filled.tmin_c.min()
    assert filled.tmax_c.max() <= record.tmax_c.max()


@pytest.mark.parametrize(
    ("names", "what"),
    [(("rain_mm",), "rain"), (("tmin_c",), "lowest"), (("tmax_c",), "highest temperature")],
)
def test_nothing_known_at_all(names: tuple[str, ...], what: str) -> None:
    record = without(made_up(*FOUR_YEARS), *FOUR_YEARS, *names)
    with pytest.raises(BadValue, match=f"knows no {what}"):
        fill_gaps(record, *FOUR_YEARS)
    with pytest.raises(BadValue, match=f"knows no {what}"):
        gap_members(record, *FOUR_YEARS, members=2, seed=1)


def test_span_backwards() -> None:
    with pytest.raises(BadValue, match="ends before it begins"):
        fill_gaps(made_up(*FOUR_YEARS), date(2022, 1, 2), date(2022, 1, 1))


def test_gap_count() -> None:
    record = without(made_up(*FOUR_YEARS), date(2024, 12, 30), date(2024, 12, 31), "rain_mm")
    count = gap_count(record, date(2024, 12, 25), date(2025, 1, 3))
    assert (count.days, count.without_rain, count.without_temperature, count.filled) == (
        10,
        5,
        3,
        0,
    )
    filled = fill_gaps(record, date(2024, 12, 25), date(2025, 1, 3))
    assert gap_count(filled, filled.first_day, filled.last_day).filled == 5


@st.composite
def holed(draw: st.DrawFn) -> tuple[DailyWeather, date, date]:
    first_day = date(2019, 1, 1) + timedelta(days=draw(st.integers(0, 800)))
    record = made_up(first_day, first_day + timedelta(days=draw(st.integers(5, 900))))
    for name in ("rain_mm", "tmin_c", "tmax_c"):
        array = getattr(record, name)
        for start, length in draw(
            st.lists(st.tuples(st.integers(0, 900), st.integers(1, 400)), max_size=3)
        ):
            array[start : start + length] = np.nan
        if np.isnan(array).all():
            array[0] = {"rain_mm": 1.0, "tmin_c": -2.0, "tmax_c": 35.0}[name]
    record.tmax_c[record.tmin_c > record.tmax_c] = 40.0
    start = first_day + timedelta(days=draw(st.integers(-400, 900)))
    return record, start, start + timedelta(days=draw(st.integers(0, 500)))


@given(holed())
def test_nothing_stays_unknown_and_known_days_stay(case: tuple[DailyWeather, date, date]) -> None:
    record, first_day, last_day = case
    filled = fill_gaps(record, first_day, last_day)
    members = gap_members(record, first_day, last_day, members=3, seed=1)
    assert not (filled.tmin_c > filled.tmax_c).any()
    assert not (members.tmin_c > members.tmax_c).any()
    start = (record.first_day - first_day).days
    for name in ("rain_mm", "tmin_c", "tmax_c"):
        values, ensemble = getattr(filled, name), getattr(members, name)
        assert not np.isnan(values).any()
        assert ensemble.shape == (filled.days, 3)
        assert not np.isnan(ensemble).any()
        for number in range(filled.days):
            own = number - start
            known = 0 <= own < record.days and not np.isnan(getattr(record, name)[own])
            if known:
                assert values[number] == getattr(record, name)[own]
                assert (ensemble[number] == getattr(record, name)[own]).all()
            else:
                assert filled.filled[number]
    assert set(filled.rain_mm) <= set(record.rain_mm)


def test_members_agree_on_known_days_and_take_different_years() -> None:
    record = made_up(*FOUR_YEARS)
    first, last = date(2022, 5, 10), date(2022, 6, 20)
    gappy = without(record, first, last, "rain_mm", "tmin_c", "tmax_c")
    members = gap_members(gappy, *FOUR_YEARS, members=3, seed=4)
    gap = slice(at(record, first), at(record, last) + 1)
    years = set()
    for member in range(3):
        for year in (2021, 2023, 2024):
            start = at(record, date(year, 5, 10))
            lent = slice(start, start + gap.stop - gap.start)
            if np.array_equal(members.rain_mm[gap, member], record.rain_mm[lent]):
                np.testing.assert_array_equal(members.tmin_c[gap, member], record.tmin_c[lent])
                years.add(year)
    assert years == {2021, 2023, 2024}
    np.testing.assert_array_equal(members.rain_mm[: gap.start, 0], record.rain_mm[: gap.start])
    again = gap_members(gappy, *FOUR_YEARS, members=3, seed=4)
    np.testing.assert_array_equal(again.rain_mm, members.rain_mm)


def test_members_of_a_short_record_differ() -> None:
    record = made_up(date(2025, 3, 1), date(2025, 4, 9))
    members = gap_members(record, date(2025, 3, 1), date(2025, 6, 30), members=8, seed=2)
    assert len({tuple(column) for column in members.rain_mm.T}) > 4
    assert (members.rain_mm[40:].sum(axis=0) > 0.0).all()


def test_no_members() -> None:
    with pytest.raises(BadValue, match="at least one"):
        gap_members(made_up(*FOUR_YEARS), *FOUR_YEARS, members=0, seed=1)
